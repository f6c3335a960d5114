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

	fine bool // the severities are refined
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
	// Evidence is, for each catalogue id, the natural logarithm of how much likelier
	// the log is with this fault than without. Let M be the greatest of the
	// likelihoods L = exp(−misfit/2) that are compared, and L(F) that with the faults
	// F, averaged over the ways and severities of the fault in question; then
	//
	//	for    ln (L(R + fault) + M/48) / (L(R) + M/48)
	//	against ln (B + M/48) / (A + M/48)
	//
	// R is a healthy unit as long as one fault, or none, explains the log. When a
	// pair does, at 10 to 1 against anything simpler, each of the two stands for one
	// sign, with those that would do in its place: R is its partner. Evidence then
	// has the first sign, Beside the second. What is likelier in no role may be
	// less likely: A is the best that explains the log without the fault, B the best
	// with it, healthy, single, pair, or added to what explains it best; each fault
	// but the one in question costs what perFault says.
	//
	// M/48 is what the model does not see, alike for all, which holds each ratio to
	// 49 to 1 either way. Assumptions: gauges and model err independently and
	// normally; each severity that is tried is as likely as another; no more than
	// two faults show at once.
	// Source: Bayes factors, Kass and Raftery, "Bayes factors", J. Am. Stat. Assoc.
	// 90 (1995); checked in evidence_test.go.
	Evidence, Beside map[string]float64
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

// How severities are refined.
const (
	widest    = 0.05
	narrowest = 0.01
	strides   = 4 // of one step in one direction
	refining  = 7 // explanations that are counted for it in the progress, for each fault
)

const (
	refined   = 8  // singles of which the severity is refined
	pairings  = 14 // pairs that are refined and told
	promising = 60 // pairs that are computed of those that are estimated
	swaps     = 2  // times that the best pair's partners are looked for anew
	leaves    = 2  // of misfit for each reading, from which on they are
	promised  = 3  // of these, the best, refined before others are looked for
	bases     = 5  // single faults with each of which every other is tried
	contexts  = 3  // explanations with each of which every fault is tried for the evidence, at most
	rivals    = 6
)

// MostEvidence is the logarithm of 0.98 to 0.02: the catalogue's "always" against
// its "hardly".
const MostEvidence = 3.8918202981106265

// How a log is weighed.
const (
	// blind is how much of the likelihood of what explains a log best anything else
	// has too, because the model may be blind: it holds every ratio to 49 to 1.
	blind = 1. / 48
	// clearly is by how much a pair's score must be less than that of any single fault
	// to be taken for what is wrong: twice the logarithm of 10 to 1, which is strong
	// evidence by Jeffreys, Theory of Probability (1961), appendix B.
	clearly = 4.605170185988092
	// beyond is a misfit over the best from which likelihoods count as nothing.
	beyond = 30
	// promises is how much of a misfit a severity between those tried may take away.
	promises = 100
	// better is by how much a fault must lessen the misfit of what it is added to, or
	// be estimated to, to be looked at closely, and noBetter by how much it may make
	// it worse before it is taken to explain nothing.
	better   = 1
	noBetter = 6
)

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
	order   []int // of computing the spots
	cells   []reader
	sigma   []float64
	done    int
	allowed int // what done may come to by what is being done
	total   int
	tell    func(done, total int)
	healthy Explanation
}

// A spot is a setting at which gauges of the log were read, with the pressures of
// a healthy unit and those found last.
type spot struct {
	set           Setting
	healthy, near wake
	reads         []int // cells that need it
	done          bool  // whether it was computed, in what is being computed
	rests         bool  // whether a state was found then
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
	// refined is the best with a severity between those tried, if it was looked for.
	refined *Explanation
}

// Explain finds the single faults and the pairs that explain a log best, and what
// to read next.
//
//	misfit = Σ ((reading − model) / σ)²   with σ² = u² + (0.025 · reading + 1 psi)²
//
// Singles are computed at seven severities, and the best between them. Pairs are
// estimated by adding what each fault does to the healthy unit, and computed of
// each of the best singles with every other; the best of both are refined. A model that does not settle counts as three σ off. A reading must
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
	tries := 0
	for _, k := range kinds {
		tries += len(k.tried)
	}
	f.total = (tries*(1+bases+contexts)+refined*refining+promising+(promised+pairings)*2*refining)*len(f.spots) + len(Gauges)*rivals
	if err := f.rest(); err != nil {
		return Fit{}, err
	}
	for i := range kinds {
		k := &kinds[i]
		err := f.series(k, 1, func(j int) (err error) {
			k.tried[j], err = f.explain([]Fault{k.at(j)}, math.Inf(1))
			if k.tried[j].Misfit < k.tried[k.best].Misfit {
				k.best = j
			}
			return err
		})
		if err != nil {
			return Fit{}, err
		}
	}
	out, score := Fit{Healthy: f.healthy}, f.healthy.Score // the best of what is simple
	by(kinds, func(k kind) float64 { return k.tried[k.best].Misfit })
	for i := range kinds {
		k := &kinds[i]
		e := k.tried[k.best]
		if k.graded && i < refined {
			if e, err = f.refine(e); err != nil {
				return Fit{}, err
			}
			k.refined = &e
		}
		for _, x := range k.faults[1:] {
			x.Severity = e.Faults[0].Severity
			e.Alike = append(e.Alike, x)
		}
		out.Singles = append(out.Singles, e)
		score = math.Min(score, e.Score)
	}
	if out.Pairs, err = f.pairs(kinds, out.Singles, score); err != nil {
		return Fit{}, err
	}
	sortByScore(out.Singles)
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
	if err := f.weigh(&out, kinds); err != nil {
		return Fit{}, err
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
	for _, i := range x.spots() {
		f.spots[i].reads = append(f.spots[i].reads, len(f.cells))
	}
	f.cells = append(f.cells, x)
	return nil
}

// spots are those that a reading takes.
func (x reader) spots() []int {
	if x.reads == LockupRise {
		return []int{x.on, x.off}
	}
	return []int{x.on}
}

// spot returns the index of a setting among the spots.
func (f *fitter) spot(s Setting) int {
	for i := range f.spots {
		if f.spots[i].set == s {
			return i
		}
	}
	f.order = append(f.order, len(f.spots))
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
	f.done = min(f.done+1, f.allowed)
	return f.pause()
}

// pause lets others run.
func (f *fitter) pause() error {
	if f.tell != nil {
		f.tell(f.done, f.total)
	}
	return f.ctx.Err()
}

// budget sets aside what a number of explanations is counted for, and returns what
// closes it: however many there were, so much is done.
func (f *fitter) budget(explanations int) func() {
	outer, end := f.allowed, f.done+explanations*len(f.spots)
	if outer > 0 {
		end = min(end, outer)
	}
	f.allowed = end
	return func() { f.done, f.allowed = end, outer }
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
		if err := f.pause(); err != nil {
			return err
		}
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

// series goes through the tries of a kind, or every other, with the pressures
// followed from one severity to the next.
func (f *fitter) series(k *kind, every int, do func(try int) error) error {
	f.again()
	was, at := 0.0, 0.0
	for j := 0; j < len(k.tried); j += every {
		next := k.at(j).Severity
		if j > 0 {
			for i := range f.spots {
				f.spots[i].near.ahead = (next - at) / (at - was)
			}
		}
		if err := do(j); err != nil {
			return err
		}
		was, at = at, next
	}
	return nil
}

// explain computes what the gauges show with the faults. It starts from the
// pressures found last, and gives up, with a misfit without end, when it is over most.
// Its errors are those of step.
func (f *fitter) explain(faults []Fault, most float64) (Explanation, error) {
	defer f.budget(1)()
	c := f.condition(faults)
	for i := range f.spots {
		f.spots[i].done = false
	}
	misfit := 0.0
	for _, i := range f.order {
		x := &f.spots[i]
		_, solved, err := f.body.rest(c, x.set, nil, &x.near)
		x.done = true
		if x.rests = err == nil; x.rests {
			copy(x.p[:], solved.Pressure)
		}
		if err := f.step(); err != nil {
			return Explanation{}, err
		}
		for _, k := range x.reads {
			if r := &f.cells[k]; f.spots[r.on].done && (r.reads != LockupRise || f.spots[r.off].done) {
				off := f.off(k)
				misfit += off * off
			}
		}
		if misfit > most {
			return Explanation{Misfit: math.Inf(1)}, nil
		}
	}
	return f.judge(faults), nil
}

// tellingFirst has the spots computed first at which an explanation is off most: there
// a worse one shows soonest.
func (f *fitter) tellingFirst(e *Explanation) {
	by(f.order, func(i int) float64 {
		sum := 0.0
		for _, k := range f.spots[i].reads {
			sum -= e.Off[k] * e.Off[k]
		}
		return sum
	})
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

// refine looks for better severities about those of e, in steps that halve; a step
// that helps is made again.
func (f *fitter) refine(e Explanation) (Explanation, error) {
	defer f.budget(refining * len(e.Faults))()
	if e.fine {
		return e, nil
	}
	f.again()
	f.tellingFirst(&e)
	for step := widest; step > narrowest; step /= 2 {
		for i := range e.Faults {
			m, _ := ModelOf(e.Faults[i].ID, e.Faults[i].Mode)
			if !m.Graded() {
				continue
			}
			for _, d := range [...]float64{-step, step} {
				for range strides {
					faults := slices.Clone(e.Faults)
					faults[i].Severity = math.Max(0.05, math.Min(1, faults[i].Severity+d))
					if faults[i].Severity == e.Faults[i].Severity {
						break
					}
					better, err := f.explain(faults, e.Misfit)
					if err != nil {
						return e, err
					}
					if !(better.Misfit < e.Misfit) {
						break
					}
					e = better
				}
			}
		}
	}
	e.fine = true
	return e, nil
}

// A pair is two of the kinds at a try of each.
type pair struct {
	a, b, i, j int
	misfit     float64
}

// estimate is a guess at the misfit of two explanations at once, by what each does
// to the healthy unit: it adds up, or it multiplies, as where two leaks in turn let
// down what is left; the better of both counts.
func (f *fitter) estimate(x, y *Explanation) float64 {
	adds, multiplies := 0.0, 0.0
	for k, p := range f.healthy.Model {
		off := x.Off[k] + y.Off[k] - f.healthy.Off[k]
		adds += off * off
		if p > grade*psi {
			off = float64(f.log.Cells[k].Reading-x.Model[k]*y.Model[k]/p) / f.sigma[k]
		}
		if off-off != 0 {
			off = unsettled
		}
		multiplies += off * off
	}
	return math.Min(adds, multiplies)
}

// estimated lists the pairs that promise most.
func (f *fitter) estimated(kinds []kind) ([]pair, error) {
	var out []pair
	for a := range kinds {
		for b := range a {
			best := pair{misfit: math.Inf(1)}
			for i := range kinds[a].tried {
				for j := range kinds[b].tried {
					if sum := f.estimate(&kinds[a].tried[i], &kinds[b].tried[j]); sum < best.misfit {
						best = pair{a, b, i, j, sum}
					}
				}
			}
			out = append(out, best)
		}
		if err := f.pause(); err != nil {
			return nil, err
		}
	}
	by(out, func(p pair) float64 { return p.misfit })
	return out, nil
}

// pairs finds the pairs that explain the log best: of those that are estimated to
// do so, and of every fault with each of the best single ones, which shows what
// the estimate misses. singles are what is best of each kind, in the kinds' order,
// and pairs matter that come near the best score of what is simpler.
func (f *fitter) pairs(kinds []kind, singles []Explanation, score float64) ([]Explanation, error) {
	var out []Explanation
	worst := math.Inf(1)
	keep := func(e Explanation) {
		if !(e.Misfit < worst) {
			return
		}
		k := slices.IndexFunc(out, func(x Explanation) bool { return x.isOf(e.Faults[0]) && x.isOf(e.Faults[1]) })
		switch {
		case k < 0:
			out = append(out, e)
		case e.Misfit < out[k].Misfit:
			out[k] = e
		}
		sortByScore(out)
		if len(out) >= pairings {
			out = out[:pairings]
			worst = out[pairings-1].Misfit
		}
	}
	found, err := f.estimated(kinds)
	if err != nil {
		return nil, err
	}
	for _, p := range found[:min(promising, len(found))] {
		f.again()
		e, err := f.explain([]Fault{kinds[p.a].at(p.i), kinds[p.b].at(p.j)}, worst)
		if err != nil {
			return nil, err
		}
		keep(e)
	}
	refine := func(n int) error {
		for i := range out[:min(n, len(out))] {
			e, err := f.refine(out[i])
			if err != nil {
				return err
			}
			out[i] = e
		}
		sortByScore(out)
		return nil
	}
	// beside tries every kind with a fault.
	beside := func(base *Explanation, most float64) error {
		f.tellingFirst(base)
		for i := range kinds {
			if base.isOf(kinds[i].faults[0]) {
				continue
			}
			err := f.series(&kinds[i], 2, func(j int) error {
				e, err := f.explain([]Fault{base.Faults[0], kinds[i].at(j)}, math.Min(worst, most))
				keep(e)
				return err
			})
			if err != nil {
				return err
			}
		}
		return nil
	}
	// What is found already shows soon how little the rest has to offer.
	if err := refine(promised); err != nil {
		return nil, err
	}
	near := math.Min(score-2*perFault, out[0].Misfit) + clearly
	var tried []*Explanation
	for a := range singles {
		base := &singles[a]
		if len(tried) == bases || near < 0 {
			break
		}
		if slices.ContainsFunc(tried, base.like) {
			continue
		}
		tried = append(tried, base)
		if err := beside(base, near); err != nil {
			return nil, err
		}
	}
	if err := refine(len(out)); err != nil {
		return nil, err
	}
	// Where the best still leaves much, one of the two may stand for another.
	for range swaps {
		lead := out[0]
		if lead.Misfit > score-2*perFault || lead.Misfit < leaves*float64(len(lead.Off)) {
			break
		}
		for _, x := range lead.Faults {
			f.again()
			base, err := f.explain([]Fault{x}, math.Inf(1))
			if err != nil {
				return nil, err
			}
			if err := beside(&base, worst); err != nil {
				return nil, err
			}
		}
		if err := refine(len(out)); err != nil {
			return nil, err
		}
		if !(out[0].Misfit < lead.Misfit) {
			break
		}
	}
	return out, nil
}

// like reports whether no reading tells two explanations apart to speak of.
func (e *Explanation) like(x *Explanation) bool {
	for i := range e.Off {
		if math.Abs(e.Off[i]-x.Off[i]) > 1 {
			return false
		}
	}
	return true
}

// weigh computes the evidence; see Fit.Evidence.
func (f *fitter) weigh(fit *Fit, kinds []kind) error {
	lead := &fit.Best[0]
	if len(lead.Faults) == 2 {
		for i := range fit.Best {
			if e := &fit.Best[i]; len(e.Faults) < 2 && e.Score < lead.Score+clearly {
				lead = e
				break
			}
		}
	}
	likelihood := func(e *Explanation) float64 { return math.Exp((fit.Best[0].Misfit - e.Misfit) / 2) }

	// with is the likelihood, for each id, with the faults of an explanation and
	// this one at every way and severity alike.
	with := func(e *Explanation, finely bool) (map[string]float64, error) {
		f.tellingFirst(e)
		tried := make([][]Explanation, len(kinds))
		var promising []int // of the kinds, not refined yet
		for i := range kinds {
			k := &kinds[i]
			switch {
			case len(e.Faults) == 0:
				tried[i] = k.tried
				if k.refined != nil {
					tried[i] = append(slices.Clip(tried[i]), *k.refined)
				}
			case e.isOf(k.faults[0]), f.unseen(k):
				tried[i] = []Explanation{*e} // already there, or as good as not
			default:
				var err error
				if tried[i], err = f.beside(e, k, fit, finely); err != nil {
					return nil, err
				}
				if finely && k.graded && !tried[i][0].fine && least(tried[i]).Misfit < e.Misfit-better {
					promising = append(promising, i)
				}
			}
		}
		by(promising, func(i int) float64 { return least(tried[i]).Misfit })
		for _, i := range promising[:min(rivals, len(promising))] {
			x, err := f.refine(*least(tried[i]))
			if err != nil {
				return nil, err
			}
			tried[i] = append(tried[i], x)
		}
		sum, shown := map[string]float64{}, map[string]float64{}
		for i := range kinds {
			mean := 0.0
			for j := range tried[i] {
				mean += likelihood(&tried[i][j]) / float64(len(tried[i]))
			}
			for _, x := range kinds[i].faults {
				sum[x.ID] += mean
				shown[x.ID]++
			}
		}
		modes := map[string]float64{}
		for _, m := range FaultModels {
			modes[m.ID]++
		}
		for id, n := range modes {
			// A way that changes no pressure leaves the log as likely as it was.
			sum[id] = (sum[id] + (n-shown[id])*likelihood(e)) / n
		}
		return sum, nil
	}
	// ratio is the logarithm of likelihoods, for a log of which the greatest is most.
	ratio := func(x, y, most float64) float64 { return math.Log((x + blind*most) / (y + blind*most)) }
	role := func(rest *Explanation, of map[string]float64) map[string]float64 {
		none := likelihood(rest)
		most, out := none, map[string]float64{}
		for _, x := range of {
			most = math.Max(most, x)
		}
		for id, x := range of {
			out[id] = math.Max(0, ratio(x, none, most))
		}
		return out
	}

	alone, err := with(&f.healthy, true)
	if err != nil {
		return err
	}
	besides := alone // with what leads
	if len(lead.Faults) > 0 {
		if besides, err = with(lead, false); err != nil {
			return err
		}
	}
	if len(lead.Faults) == 2 {
		for i, to := range []*map[string]float64{&fit.Evidence, &fit.Beside} {
			f.again()
			rest, err := f.explain([]Fault{lead.Faults[1-i]}, math.Inf(1))
			if err != nil {
				return err
			}
			of, err := with(&rest, true)
			if err != nil {
				return err
			}
			*to = role(&rest, of)
		}
	} else {
		fit.Evidence = role(&f.healthy, alone)
	}

	// Against a fault speaks what explains the log best without it.
	cost := func(faults int) float64 { return math.Exp(-perFault / 2 * float64(faults)) }
	for id, x := range alone {
		best := math.Max(x, cost(len(lead.Faults))*besides[id])
		without := likelihood(&f.healthy)
		for _, list := range [][]Explanation{fit.Singles, fit.Pairs} {
			for i := range list {
				e := &list[i]
				l, n := likelihood(e), len(e.Faults)
				switch {
				case !e.has(id):
					without = math.Max(without, cost(n)*l)
				case n > 1: // alone, the mean stands for it
					best = math.Max(best, cost(n-1)*l)
				}
			}
		}
		if fit.Evidence[id] == 0 && fit.Beside[id] == 0 {
			fit.Evidence[id] = math.Min(0, ratio(best, without, math.Max(best, without)))
		}
	}
	return nil
}

// beside returns what a kind does beside the faults of e, at every other severity.
// Finely, it leaves out what is estimated to do no good, and pairs that were
// refined come first.
func (f *fitter) beside(e *Explanation, k *kind, fit *Fit, finely bool) (out []Explanation, err error) {
	most := fit.Best[0].Misfit + beyond
	if finely {
		paired := false
		for i := range fit.Pairs {
			if p := &fit.Pairs[i]; p.isOf(k.faults[0]) {
				paired = true
				if p.isOf(e.Faults[0]) {
					out = append(out, *p)
				}
			}
		}
		if !paired && !slices.ContainsFunc(k.tried, func(x Explanation) bool { return f.estimate(e, &x) < e.Misfit-better }) {
			return []Explanation{*e}, nil
		}
		most = math.Min(most+promises, e.Misfit+noBetter)
	}
	err = f.series(k, 2, func(j int) error {
		x, err := f.explain(append(slices.Clone(e.Faults), k.at(j)), most)
		out = append(out, x)
		return err
	})
	return out, err
}

// least is the one of the least misfit.
func least(list []Explanation) *Explanation {
	best := &list[0]
	for i := range list {
		if list[i].Misfit < best.Misfit {
			best = &list[i]
		}
	}
	return best
}

// unseen reports whether a fault, at its worst and alone, changes no reading to
// speak of.
func (f *fitter) unseen(k *kind) bool {
	for i, off := range k.tried[len(k.tried)-1].Off {
		if math.Abs(off-f.healthy.Off[i]) > 0.05 {
			return false
		}
	}
	return true
}

// isOf reports whether a fault is one of the explanation's own.
func (e *Explanation) isOf(f Fault) bool {
	return slices.ContainsFunc(e.Faults, func(x Fault) bool { return x.ID == f.ID && x.Mode == f.Mode })
}

// has reports whether a fault is among those of the explanation, or alike.
func (e *Explanation) has(id string) bool {
	for _, list := range [][]Fault{e.Faults, e.Alike} {
		for _, x := range list {
			if x.ID == id {
				return true
			}
		}
	}
	return false
}

// next judges the gauges that the log does not have yet.
func (f *fitter) next(fit Fit) ([]Proposal, error) {
	var out []Proposal
	f.done, f.allowed = f.total-len(Gauges)*rivals, f.total
	for _, g := range Gauges {
		if g.Reads == CoolerFlow || g.Reads == Reached || slices.ContainsFunc(f.log.Cells, func(c Cell) bool {
			return c.Gauge.Port == g.Port && c.Gauge.Reads == g.Reads && c.Gauge.At == g.At
		}) || slices.ContainsFunc(out, func(p Proposal) bool { return p.Gauge.Port == g.Port && p.Gauge.Reads == g.Reads && p.Gauge.At == g.At }) {
			continue
		}
		p := Proposal{Gauge: g}
		var on, without wake
		for _, e := range fit.Best {
			v, _, err := g.read(f.body, f.condition(e.Faults), f.setting(g), &on, &without)
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
