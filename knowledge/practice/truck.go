// Package practice makes up trucks for students to find the faults of, and keeps
// the score.
//
// # How a truck is made up
//
// A seed and a version decide everything. Each fault is there with the probability
// that the catalogue gives it, each symptom and each outcome of a check comes about
// with the probability of its named level, and each of these has a draw of its own,
// taken from the seed and its name. What a check shows is therefore the same
// whenever it is done and whatever was done before it, and the student and the plan
// work on the same truck.
//
// # Where a made-up truck is kinder than a real one
//
//   - It has one to three faults; each shows in the complaint and can be proved.
//   - The complaint holds nothing that has a cause outside the catalogue. Checks do
//     raise false alarms, as often as the catalogue says.
//   - A proof does not fail: who looks at the bad part sees that it is bad. A missed
//     proof would measure luck and not the order of the checks.
//
// What different checks show is drawn independently of each other, as the engine
// assumes it is. Numbers are not made up: a reading is shown as the outcome that it
// would be judged to be.
//
// The same seed gives another truck when the catalogue's levels have been changed.
package practice

import (
	"cmp"
	"errors"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
	"provingbench/knowledge/unit"
)

// The package's own conventions: what makes a complaint that a person would bring
// in and work on.
const (
	MostFaults   = 3
	MostSymptoms = 5
)

// attempts bounds the search for a truck that can be worked on. Only a catalogue
// without one uses them up.
const attempts = 100_000

// ErrNoTruck means that the catalogue has no fault that shows and can be proved.
var ErrNoTruck = errors.New("practice: no truck can be made up from this catalogue")

// Truck is a made-up truck of stock build.
type Truck struct {
	Version   unit.Version
	Seed      uint32
	Faults    []*catalogue.Fault // what is wrong, in the catalogue's order
	Complaint []Symptom          // what the customer says
	known     *catalogue.Catalogue
}

// Symptom is one part of the complaint with the faults that brought it about.
type Symptom struct {
	*catalogue.Symptom
	Words string // as the customer says it
	By    []*catalogue.Fault
}

// New makes up the truck of a seed.
//
// Errors: ErrNoTruck.
func New(c *catalogue.Catalogue, v unit.Version, seed uint32) (*Truck, error) {
	for attempt := range attempts {
		t := &Truck{Version: v, Seed: seed, known: c}
		d := draw(mix(uint64(seed) + 1)).of(string(v)).and(uint64(attempt))
		if t.ail(d) && t.complain(d) && t.provable() {
			return t, nil
		}
	}
	return nil, ErrNoTruck
}

// ail draws the faults and reports whether their number will do.
func (t *Truck) ail(d draw) bool {
	for i := range t.known.Faults {
		f := &t.known.Faults[i]
		if !f.On(t.Version) || f.Excused == unit.Stock {
			continue
		}
		if p, _ := f.Frequency.Probability(); d.of("fault").of(f.ID).happens(p) {
			t.Faults = append(t.Faults, f)
		}
	}
	return len(t.Faults) > 0 && len(t.Faults) <= MostFaults
}

// complain draws what the customer says and reports whether each fault shows in it.
// Of many symptoms the customer names some, so that each fault still shows.
func (t *Truck) complain(d draw) bool {
	d = d.of("symptom")
	var all []Symptom
	for i := range t.known.Symptoms {
		y := Symptom{Symptom: &t.known.Symptoms[i]}
		for _, f := range t.Faults {
			for _, l := range f.Symptoms {
				if p, _ := l.Level.Probability(); l.ID == y.ID && d.of(y.ID).of(f.ID).happens(p) {
					y.By = append(y.By, f)
				}
			}
		}
		if len(y.By) == 0 {
			continue
		}
		y.Words = y.Name
		if n := len(y.Said); n > 0 {
			y.Words = y.Said[uint64(d.of(y.ID).of("words"))%uint64(n)]
		}
		all = append(all, y)
	}
	order.Stable(all, func(a, b Symptom) int { return cmp.Compare(d.of(a.ID), d.of(b.ID)) })
	shown := func(f *catalogue.Fault) bool {
		return slices.ContainsFunc(t.Complaint, func(y Symptom) bool { return slices.Contains(y.By, f) })
	}
	for _, y := range all {
		if slices.ContainsFunc(y.By, func(f *catalogue.Fault) bool { return !shown(f) }) {
			t.Complaint = append(t.Complaint, y)
		}
	}
	for _, y := range all {
		if len(t.Complaint) < MostSymptoms && !slices.ContainsFunc(t.Complaint, func(x Symptom) bool { return x.ID == y.ID }) {
			t.Complaint = append(t.Complaint, y)
		}
	}
	return !slices.ContainsFunc(t.Faults, func(f *catalogue.Fault) bool { return !shown(f) })
}

// provable reports whether each fault has a check that proves it on this truck.
func (t *Truck) provable() bool {
	for _, f := range t.Faults {
		if !slices.ContainsFunc(t.known.Proofs(f.ID), func(p catalogue.Proving) bool {
			return p.Check.On(t.Version) && t.sees(p.Check, p.Observation) == p.Outcome
		}) {
			return false
		}
	}
	return true
}

// Has reports whether a fault is there.
func (t *Truck) Has(fault string) bool {
	return slices.ContainsFunc(t.Faults, func(f *catalogue.Fault) bool { return f.ID == fault })
}

// Case is the truck as it comes in: the complaint, on its wheels.
func (t *Truck) Case() diagnosis.Case {
	c := diagnosis.Case{Version: t.Version, Build: unit.Stock, Level: t.known.Access[0].ID}
	for _, y := range t.Complaint {
		c.Reports = append(c.Reports, diagnosis.Report{Symptom: y.ID})
	}
	return c
}

// Checks lists what can be done to this version, in the catalogue's order.
func (t *Truck) Checks() []*catalogue.Check {
	var list []*catalogue.Check
	for i := range t.known.Checks {
		if k := &t.known.Checks[i]; k.On(t.Version) {
			list = append(list, k)
		}
	}
	return list
}

// sees is what an observation shows on this truck: the first outcome whose draw
// comes out, and else the last.
func (t *Truck) sees(k *catalogue.Check, o *catalogue.Observation) *catalogue.Outcome {
	d := draw(mix(uint64(t.Seed) + 2)).of(string(t.Version)).of(k.ID).of(o.ID)
	last := len(o.Outcomes) - 1
	for i := range o.Outcomes[:last] {
		if out := &o.Outcomes[i]; t.shows(d.of(out.ID), out) {
			return out
		}
	}
	return &o.Outcomes[last]
}

func (t *Truck) shows(d draw, out *catalogue.Outcome) bool {
	if len(out.Proves) > 0 {
		// It is not seen without what it proves, and seen with it.
		return !slices.ContainsFunc(out.Proves, func(id string) bool { return !t.Has(id) })
	}
	if leak, _ := out.Leak.Probability(); d.of("leak").happens(leak) {
		return true
	}
	return slices.ContainsFunc(out.Shows, func(l catalogue.Link) bool {
		p, _ := l.Level.Probability()
		return t.Has(l.ID) && d.of(l.ID).happens(p)
	})
}

// Step is one check as it was done on a truck.
type Step struct {
	Check   *catalogue.Check
	Level   string  // where it was done
	Travel  float64 // minutes to get there
	Minutes float64 // travel and check
	Entries []diagnosis.Entry
	Proves  []*catalogue.Fault // that nothing before it did
}

// Run is what has been done on a truck.
type Run struct {
	Truck   *Truck
	Steps   []Step
	Case    diagnosis.Case // with all that was found
	Minutes float64
}

// Do does checks one after the other, from the complaint on. Those that the
// version does not have, and a second time of the same, are left out.
func (t *Truck) Do(checks ...string) *Run {
	r := &Run{Truck: t, Case: t.Case()}
	for _, id := range checks {
		r.Do(id)
	}
	return r
}

// Done reports whether a check has been done.
func (r *Run) Done(check string) bool {
	return slices.ContainsFunc(r.Steps, func(s Step) bool { return s.Check.ID == check })
}

// Proved lists what has been proved, in the order of the proofs.
func (r *Run) Proved() []*catalogue.Fault {
	var out []*catalogue.Fault
	for _, s := range r.Steps {
		out = append(out, s.Proves...)
	}
	return out
}

// Effort is what a check would cost next: where it would be done, the minutes to
// get there, and those with the check's own.
func (r *Run) Effort(k *catalogue.Check) (level string, travel, minutes float64) {
	c := r.Truck.known
	level = c.Where(k, r.Case.Level)
	travel = c.Travel(r.Case.Level, level)
	return level, travel, travel + k.Minutes
}

// Do does a check, unless it was done before or this version does not have it.
func (r *Run) Do(check string) {
	k := r.Truck.known.Check(check)
	if k == nil || !k.On(r.Truck.Version) || r.Done(check) {
		return
	}
	s := Step{Check: k}
	s.Level, s.Travel, s.Minutes = r.Effort(k)
	proved := r.Proved()
	for i := range k.Observations {
		o := &k.Observations[i]
		out := r.Truck.sees(k, o)
		s.Entries = append(s.Entries, diagnosis.Entry{Check: k.ID, Observation: o.ID, Outcome: out.ID})
		for _, id := range out.Proves {
			f := r.Truck.known.Fault(id)
			if !slices.Contains(proved, f) && !slices.Contains(s.Proves, f) {
				s.Proves = append(s.Proves, f)
			}
		}
	}
	r.Steps = append(r.Steps, s)
	r.Case.Level = s.Level
	r.Case.Entries = append(r.Case.Entries, s.Entries...)
	r.Minutes += s.Minutes
}

// draw is a random number that a seed and names decide: the same names in the same
// order, the same number.
type draw uint64

// of goes on with a name (FNV-1a over its bytes, then mixed).
func (d draw) of(name string) draw {
	h := uint64(d) ^ 14695981039346656037
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * 1099511628211
	}
	return draw(mix(h))
}

func (d draw) and(n uint64) draw { return draw(mix(uint64(d) + n)) }

// happens is true with probability p.
func (d draw) happens(p float64) bool { return float64(d>>11)/(1<<53) < p }

// mix spreads the bits of a number over all of it: the step and the finaliser of
// SplitMix64 (Steele, Lea, Flood, "Fast splittable pseudorandom number generators",
// OOPSLA 2014; constants of Vigna's splitmix64.c).
func mix(z uint64) uint64 {
	z += 0x9e3779b97f4a7c15
	z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9
	z = (z ^ (z >> 27)) * 0x94d049bb133111eb
	return z ^ (z >> 31)
}
