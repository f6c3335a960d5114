package hydraulics

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"provingbench/knowledge/order"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Cell is one reading of a pressure log: what a gauge showed at a setting.
// Version, build and temperature of its setting are the log's.
type Cell struct {
	Gauge       Gauge
	Reading     quantity.Pressure
	Uncertainty quantity.Pressure // standard uncertainty of the reading
}

// A Log is the pressure readings of one truck.
type Log struct {
	Version     unit.Version
	Build       unit.Build
	Temperature quantity.Temperature
	Cells       []Cell
}

// An Explanation is a set of faults with what the gauges would then show.
type Explanation struct {
	Faults []Fault // none: a healthy unit
	// Alike names other faults that change the model in the same way, so that no
	// gauge tells them apart.
	Alike []Fault
	Model []quantity.Pressure // for each cell of the log; NaN where it does not settle
	// Off is what each reading has over the model, in standard uncertainties of
	// reading and model together.
	Off    []float64
	Misfit float64 // the sum of squares of Off
	Score  float64 // Misfit and what each fault costs; less is better
}

// A Proposal is a further gauge reading, and how well it would part the best
// explanations.
type Proposal struct {
	Gauge Gauge
	Model []quantity.Pressure // for each of Fit.Best, in order; NaN where not read
	Parts float64             // 0: tells nothing; 0.5: parts two equal rivals for sure
}

// A Fit is what explains a log.
type Fit struct {
	Healthy Explanation
	Singles []Explanation // best first, one for each change of the model
	Pairs   []Explanation // best first, those worth looking at
	Best    []Explanation // the best of all, at most six
	Share   []float64     // how far each of Best is believed against the others; they add up to one
	Next    []Proposal    // best first
	// Evidence is, for each catalogue id, the natural logarithm of how much
	// likelier the log is with this fault alone than with a healthy unit, over
	// all its modes and severities. It is held to MostEvidence either way: the
	// model is invented, and no surer than the catalogue's surest outcome.
	Evidence map[string]float64
}

// A CellError says which cell of a log cannot be used.
type CellError struct {
	Cell int // counted from 0
	Err  error
}

// Error returns the fault for a log.
func (e *CellError) Error() string {
	return fmt.Sprintf("hydraulics: reading %d: %v", e.Cell+1, e.Err)
}

// Sentence returns the fault for the person who typed, in full sentences.
func (e *CellError) Sentence() string {
	if x, ok := e.Err.(interface{ Sentence() string }); ok {
		return x.Sentence()
	}
	return "This reading cannot be used."
}

// Unwrap returns what is wrong with the cell.
func (e *CellError) Unwrap() error { return e.Err }

// ErrNoCells reports a log without readings.
var ErrNoCells = errors.New("hydraulics: a log without readings explains nothing")

// How far a healthy unit of the class may be from the model: a share of the
// pressure, about a third of what the unit sheet's windows allow either way (54 to
// 60 psi is 5 %, 230 to 280 psi is 10 %), and as much as a 100 psi gauge is graded.
// Invented for the demo.
const (
	spread = 0.025
	grade  = 1 // psi
)

// perFault is what each fault costs in a Score: twice the logarithm of one in
// fifty, the catalogue's frequency of an occasional fault.
const perFault = 7.8

// unsettled is the Off of a cell for which the model finds no state.
const unsettled = 3

// severities are tried first; the best are refined between them.
var severities = []float64{0.3, 0.45, 0.6, 0.7, 0.8, 0.9, 1}

// roughly is how exactly flows balance in a fit, to the largest flow: enough for a
// hundredth of a psi at every gauge, as fit_test.go holds it to.
const roughly = 1e-7

const (
	refined  = 8  // singles of which the severity is refined
	pairings = 14 // pairs that are computed and not only estimated
	rounds   = 3  // of refining, in steps that halve
	rivals   = 6
)

// MostEvidence is the logarithm of 0.98 to 0.02: the catalogue's "always" against
// its "hardly".
const MostEvidence = 3.8918202981106265

// LeastUncertainty and MostReading bound what a cell may hold.
var (
	LeastUncertainty = quantity.Pressure(quantity.PSI.SI(0.01))
	MostReading      = quantity.Pressure(quantity.PSI.SI(500))
)

type fitter struct {
	log     Log
	ctx     context.Context
	body    *body
	spots   []spot
	cells   []reader
	sigma   []float64
	done    int
	total   int
	tell    func(done, total int)
	healthy Explanation
}

// A spot is a setting at which gauges of the log were read, with the pressures of
// a healthy unit and those found last.
type spot struct {
	set           Setting
	healthy, near wake
	reads         []int // cells that are complete with this spot
	rests         bool  // whether the state being read was found
	p             [places]float64
}

// A reader takes a reading from the spots.
type reader struct {
	reads   Reads
	node    int
	on, off int // indices of the spots; off only for LockupRise
}

// kind is one change of the model, by one fault or by several that are alike.
type kind struct {
	faults []Fault // alike, the first stands for all
	graded bool
	tried  []Explanation // at each severity
	best   int
}

// Explain finds the single faults and the pairs that explain a log best, and what
// to read next.
//
//	misfit = Σ ((reading − model) / σ)²   with σ² = u² + (0.025 · reading + 1 psi)²
//
// Singles are computed at seven severities, and the best between them. Pairs are
// estimated by adding what each fault does to the healthy unit, and the best are
// computed. A model that does not settle counts as three σ off. A reading must
// lie in 0 to MostReading, its uncertainty from LeastUncertainty on. It stops when
// ctx ends. tell, if not nil, is called with how much is done, on the same
// goroutine, so that it may let others run.
// Errors: ErrNoCells; *CellError with *quantity.RangeError or *WordError; those
// of Steady for the healthy unit; ctx.Err().
// Source: weighted least squares, as in JCGM 101 and any text on fitting; checked
// in fit_test.go by finding faults that were put in.
func Explain(ctx context.Context, log Log, tell func(done, total int)) (Fit, error) {
	f := fitter{log: log, ctx: ctx, tell: tell}
	if len(log.Cells) == 0 {
		return Fit{}, ErrNoCells
	}
	for i, c := range log.Cells {
		if err := f.admit(c); err != nil {
			return Fit{}, &CellError{i, err}
		}
	}
	var err error
	if f.body, err = newBody(log.Temperature); err != nil {
		return Fit{}, err
	}
	f.body.net.Balance = roughly
	kinds := f.kinds()
	f.total = refined*2*rounds + pairings*(1+4*rounds)
	for _, k := range kinds {
		f.total += len(k.tried)
	}
	f.total = f.total*len(f.spots) + len(Gauges)*rivals
	if err := f.rest(); err != nil {
		return Fit{}, err
	}
	for i := range kinds {
		k := &kinds[i]
		f.again()
		for j := range k.tried {
			if k.tried[j], err = f.explain([]Fault{k.at(j)}, math.Inf(1)); err != nil {
				return Fit{}, err
			}
			if k.tried[j].Misfit < k.tried[k.best].Misfit {
				k.best = j
			}
		}
	}
	out := Fit{Healthy: f.healthy, Evidence: f.evidence(kinds)}
	by(kinds, func(k kind) float64 { return k.tried[k.best].Misfit })
	for i := range kinds {
		k := &kinds[i]
		e := k.tried[k.best]
		if k.graded && i < refined {
			if e, err = f.refine(e); err != nil {
				return Fit{}, err
			}
		}
		for _, x := range k.faults[1:] {
			x.Severity = e.Faults[0].Severity
			e.Alike = append(e.Alike, x)
		}
		out.Singles = append(out.Singles, e)
	}
	sortByScore(out.Singles)
	if out.Pairs, err = f.pairs(kinds); err != nil {
		return Fit{}, err
	}
	all := append([]Explanation{f.healthy}, out.Singles[:min(rivals, len(out.Singles))]...)
	all = append(all, out.Pairs[:min(rivals, len(out.Pairs))]...)
	sortByScore(all)
	out.Best = all[:min(rivals, len(all))]
	sum := 0.0
	for _, e := range out.Best {
		w := math.Exp((out.Best[0].Score - e.Score) / 2)
		out.Share = append(out.Share, w)
		sum += w
	}
	for i := range out.Share {
		out.Share[i] /= sum
	}
	if out.Next, err = f.next(out); err != nil {
		return Fit{}, err
	}
	if f.tell != nil {
		f.tell(f.total, f.total)
	}
	return out, f.ctx.Err()
}

// by sorts from the least key on.
func by[T any](list []T, key func(T) float64) {
	order.Stable(list, func(a, b T) int { return cmp.Compare(key(a), key(b)) })
}

func sortByScore(e []Explanation) { by(e, func(e Explanation) float64 { return e.Score }) }

func (f *fitter) admit(c Cell) error {
	if portAt(c.Gauge.Port) < 0 {
		return &WordError{"port", c.Gauge.Port}
	}
	switch c.Gauge.Reads {
	case OnePort, Difference, LockupRise:
	default:
		return &WordError{"kind of reading", string(c.Gauge.Reads)}
	}
	least := quantity.Pressure(0)
	if c.Gauge.Reads != OnePort {
		least = -MostReading
	}
	if err := quantity.Within("hydraulics", "pressure", c.Reading.Value(), least.Value(), MostReading.Value(), quantity.PSI); err != nil {
		return err
	}
	if err := quantity.Within("hydraulics", "uncertainty", c.Uncertainty.Value(), LeastUncertainty.Value(), MostReading.Value(), quantity.PSI); err != nil {
		return err
	}
	f.sigma = append(f.sigma, sigma(float64(c.Reading), float64(c.Uncertainty)))
	x := reader{reads: c.Gauge.Reads, node: portAt(c.Gauge.Port)}
	s := f.setting(c.Gauge)
	if _, err := condense(s, nil); err != nil {
		return err
	}
	x.on = f.spot(s)
	if x.reads == LockupRise {
		s.Lockup = false
		x.off = f.spot(s)
	}
	last := &f.spots[max(x.on, x.off)]
	last.reads = append(last.reads, len(f.cells))
	f.cells = append(f.cells, x)
	return nil
}

// spot returns the index of a setting among the spots.
func (f *fitter) spot(s Setting) int {
	for i := range f.spots {
		if f.spots[i].set == s {
			return i
		}
	}
	f.spots = append(f.spots, spot{set: s})
	return len(f.spots) - 1
}

// portAt is the node on which a port is, or −1.
func portAt(id string) int {
	return slices.IndexFunc(Places[:], func(p Place) bool { return p.Port == id && id != "" })
}

// sigma is the standard uncertainty of a reading and of the model of it.
func sigma(reading, u float64) float64 {
	return math.Hypot(u, spread*math.Abs(reading)+grade*psi)
}

func (f *fitter) setting(g Gauge) Setting {
	s := g.At
	s.Version, s.Build, s.Temperature = f.log.Version, f.log.Build, f.log.Temperature
	return s
}

// condition is the log's unit with faults.
func (f *fitter) condition(faults []Fault) *condition {
	c, err := condense(f.setting(f.log.Cells[0].Gauge), faults)
	if err != nil {
		panic(err) // the settings are checked and the faults are our own
	}
	return c
}

// kinds lists the changes of the model, with faults that are alike together.
func (f *fitter) kinds() []kind {
	var out []kind
	same := map[condition]int{*f.condition(nil): -1}
	for _, m := range FaultModels {
		whole := Fault{m.ID, m.Mode, 1}
		c := *f.condition([]Fault{whole})
		c.lost = lost{} // which no gauge at rest shows
		if i, ok := same[c]; ok {
			if i >= 0 {
				out[i].faults = append(out[i].faults, whole)
			}
			continue
		}
		same[c] = len(out)
		n := 1
		graded := m.Graded()
		if graded {
			n = len(severities)
		}
		out = append(out, kind{faults: []Fault{whole}, graded: graded, tried: make([]Explanation, n)})
	}
	return out
}

// at returns the fault at the severity of a try.
func (k *kind) at(try int) Fault {
	x := k.faults[0]
	if k.graded {
		x.Severity = severities[try]
	}
	return x
}

// step counts one more thing done.
func (f *fitter) step() error {
	f.done++
	if f.tell != nil {
		f.tell(min(f.done, f.total), f.total)
	}
	return f.ctx.Err()
}

// rest computes the healthy unit, from which all else starts.
func (f *fitter) rest() error {
	c := f.condition(nil)
	for i := range f.spots {
		x := &f.spots[i]
		_, solved, err := f.body.rest(c, x.set, nil, &x.healthy)
		if err != nil {
			cell := slices.IndexFunc(f.cells, func(r reader) bool { return r.on == i || r.reads == LockupRise && r.off == i })
			return &CellError{cell, err}
		}
		copy(x.p[:], solved.Pressure)
		x.rests = true
	}
	f.healthy = f.judge(nil)
	f.again()
	return nil
}

// again starts from the healthy unit's pressures once more.
func (f *fitter) again() {
	for i := range f.spots {
		f.spots[i].near = f.spots[i].healthy
	}
}

// explain computes what the gauges show with the faults. It starts from the
// pressures found last, and gives up, without Off, when the misfit is over most.
// Its errors are those of step.
func (f *fitter) explain(faults []Fault, most float64) (Explanation, error) {
	c := f.condition(faults)
	misfit := 0.0
	for i := range f.spots {
		x := &f.spots[i]
		_, solved, err := f.body.rest(c, x.set, nil, &x.near)
		if x.rests = err == nil; x.rests {
			copy(x.p[:], solved.Pressure)
		}
		if err := f.step(); err != nil {
			return Explanation{}, err
		}
		for _, k := range x.reads {
			off := f.off(k)
			misfit += off * off
		}
		if misfit > most {
			return Explanation{Misfit: misfit}, nil
		}
	}
	return f.judge(faults), nil
}

// off is by how many standard uncertainties a cell's reading is over what was
// computed last.
func (f *fitter) off(cell int) float64 {
	p := f.read(f.cells[cell])
	if math.IsNaN(p) {
		return unsettled
	}
	return (float64(f.log.Cells[cell].Reading) - p) / f.sigma[cell]
}

// read returns what a cell's gauge shows, whatever the gear: a log says what was
// shown. It is NaN where the model finds no state.
func (f *fitter) read(x reader) float64 {
	at := &f.spots[x.on]
	p := at.p[x.node]
	switch {
	case !at.rests || x.reads == LockupRise && !f.spots[x.off].rests:
		return math.NaN()
	case x.reads == Difference:
		return at.p[gaugedLine] - p
	case x.reads == LockupRise:
		return p - f.spots[x.off].p[x.node]
	}
	return p
}

// gaugedLine is where line pressure is read.
var gaugedLine = portAt("line")

// judge holds what was computed last against the log.
func (f *fitter) judge(faults []Fault) Explanation {
	n := len(f.cells)
	e := Explanation{Faults: faults, Model: make([]quantity.Pressure, n), Off: make([]float64, n)}
	for i, x := range f.cells {
		off := f.off(i)
		e.Model[i], e.Off[i] = quantity.Pressure(f.read(x)), off
		e.Misfit += off * off
	}
	e.Score = e.Misfit + perFault*float64(len(faults))
	return e
}

// refine looks for better severities about those of e, in steps that halve.
func (f *fitter) refine(e Explanation) (Explanation, error) {
	step := 0.05
	f.again()
	for range rounds {
		for i := range e.Faults {
			m, _ := ModelOf(e.Faults[i].ID, e.Faults[i].Mode)
			if !m.Graded() {
				continue
			}
			for _, d := range []float64{-step, step} {
				faults := slices.Clone(e.Faults)
				faults[i].Severity = math.Max(0.05, math.Min(1, faults[i].Severity+d))
				if faults[i].Severity == e.Faults[i].Severity {
					continue
				}
				better, err := f.explain(faults, e.Misfit)
				if err != nil {
					return e, err
				}
				if better.Misfit < e.Misfit {
					e = better
				}
			}
		}
		step /= 2
	}
	return e, nil
}

// pairs computes the pairs that promise most.
func (f *fitter) pairs(kinds []kind) ([]Explanation, error) {
	type pair struct {
		a, b, i, j int
		misfit     float64
	}
	var found []pair
	for a := range kinds {
		for b := range a {
			best := pair{misfit: math.Inf(1)}
			for i := range kinds[a].tried {
				for j := range kinds[b].tried {
					x, y := &kinds[a].tried[i], &kinds[b].tried[j]
					sum := 0.0
					for k := range x.Off {
						// What each takes off the healthy unit's misfit adds up.
						off := x.Off[k] + y.Off[k] - f.healthy.Off[k]
						sum += off * off
					}
					if sum < best.misfit {
						best = pair{a, b, i, j, sum}
					}
				}
			}
			found = append(found, best)
		}
	}
	by(found, func(p pair) float64 { return p.misfit })
	var out []Explanation
	for _, p := range found[:min(pairings, len(found))] {
		f.again()
		e, err := f.explain([]Fault{kinds[p.a].at(p.i), kinds[p.b].at(p.j)}, math.Inf(1))
		if err != nil {
			return nil, err
		}
		if e, err = f.refine(e); err != nil {
			return nil, err
		}
		out = append(out, e)
	}
	sortByScore(out)
	return out, nil
}

// evidence is how much likelier the log is with each fault than without.
func (f *fitter) evidence(kinds []kind) map[string]float64 {
	modes, sum := map[string]float64{}, map[string]float64{}
	for _, m := range FaultModels {
		modes[m.ID]++
	}
	least := f.healthy.Misfit
	for _, k := range kinds {
		least = math.Min(least, k.tried[k.best].Misfit)
	}
	healthy := math.Exp((least - f.healthy.Misfit) / 2)
	shown := map[string]float64{}
	for _, k := range kinds {
		mean := 0.0
		for _, e := range k.tried {
			mean += math.Exp((least-e.Misfit)/2) / float64(len(k.tried))
		}
		for _, x := range k.faults {
			sum[x.ID] += mean
			shown[x.ID]++
		}
	}
	out := map[string]float64{}
	for id, n := range modes {
		// A mode that changes no pressure leaves the log as likely as it was.
		all := (sum[id] + (n-shown[id])*healthy) / n
		const slip = 1e-9 // no log is impossible
		out[id] = math.Max(-MostEvidence, math.Min(MostEvidence, math.Log((all+slip)/(healthy+slip))))
	}
	return out
}

// next judges the gauges that the log does not have yet.
func (f *fitter) next(fit Fit) ([]Proposal, error) {
	var out []Proposal
	for _, g := range Gauges {
		if g.Reads == CoolerFlow || g.Reads == Reached || slices.ContainsFunc(f.log.Cells, func(c Cell) bool {
			return c.Gauge.Port == g.Port && c.Gauge.Reads == g.Reads && c.Gauge.At == g.At
		}) || slices.ContainsFunc(out, func(p Proposal) bool { return p.Gauge.Port == g.Port && p.Gauge.Reads == g.Reads && p.Gauge.At == g.At }) {
			continue
		}
		p := Proposal{Gauge: g}
		for _, e := range fit.Best {
			v, _, err := g.read(f.condition(e.Faults), f.setting(g), nil)
			if err != nil {
				v.SI = math.NaN()
			}
			p.Model = append(p.Model, quantity.Pressure(v.SI))
			if err := f.step(); err != nil {
				return nil, err
			}
		}
		for a := range p.Model {
			for b := range a {
				x, y := float64(p.Model[a]), float64(p.Model[b])
				apart := 1.0 // a reading that one of them does not allow
				switch {
				case math.IsNaN(x) && math.IsNaN(y):
					apart = 0
				case !math.IsNaN(x) && !math.IsNaN(y):
					d := (x - y) / sigma((x+y)/2, grade*psi)
					apart = 1 - math.Exp(-d*d/8) // of two normal distributions, Bhattacharyya
				}
				p.Parts += 2 * fit.Share[a] * fit.Share[b] * apart
			}
		}
		out = append(out, p)
	}
	by(out, func(p Proposal) float64 { return -p.Parts })
	return out, nil
}
