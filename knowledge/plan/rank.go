package plan

import (
	"cmp"
	"math"
	"slices"
	"sort"
)

// Reason says what stands out in a suggestion.
type Reason int

const (
	// Order: the trade's order puts it before checks of a later stage.
	Order Reason = iota
	// Tells: no other check tells more about the faults for its minutes from here.
	Tells
	// Proves: no other check is likelier, for its minutes from here, to prove something.
	Proves
	// Here: it needs no opening or closing.
	Here
	// Shortest: the whole work is expected to end soonest with it.
	Shortest
)

// Suggestion is a check that could be done next.
type Suggestion struct {
	Check    int
	Level    int
	Travel   float64 // minutes to the level from where the truck is
	Minutes  float64 // travel and the check itself
	Bits     float64 // information it is expected to give about the set of faults
	Proof    float64 // probability that it proves something not yet proved
	Rate     float64 // bits per minute
	Expected float64 // minutes to the end if it is done next, itself included: an estimate
	Saved    float64 // minutes of a return trip expected to be saved; WhileOpen only
	Reasons  []Reason
}

const (
	// shortlist is how many checks, the best by what they tell and prove per
	// minute, are looked ahead from.
	shortlist = 48
	// few is how many are looked ahead from at any rate, and how many are looked
	// further ahead from where there are many scenarios.
	few = 8
	// sample is how many scenarios stand for all in the deeper look-ahead.
	sample = 96
)

// Rank lists what could be done next at s, best first: the check with which the
// work is expected to end soonest. Nothing is listed once the goal is reached, or
// when no check left could bring it nearer.
//
// The trade's order holds: a check is left out as long as one of a lower stage
// bears on the case, tells at least the check's or the Problem's Bears bits about the set of faults,
// unless that one would need closing up from the level the truck is at. Refused
// checks are left out and hold nothing back.
//
// The faults in question are those of the scenarios that are not finished: once a
// fault is proved, the suggestions are for the case that there is another.
// The ranking depends on s alone and not on the order within its lists. Weights
// need not sum to one; those that are not positive and finite are ignored.
//
// Source: Heckerman, Breese & Rommelse 1995 for the value of a step, Ottosen &
// Jensen 2010 for the estimate after it; checked against Optimum in plan_test.go.
func (p *Problem) Rank(s State) []Suggestion {
	sets, weights := canonical(s.Scenarios)
	if len(sets) == 0 || len(p.Levels) == 0 {
		return nil
	}
	level := p.level(s)
	x := newSearch(newTable(p, sets, weights))
	n := x.root(s, level)
	d := x.desk()
	x.gains(n, d)
	if x.ended(n, d) {
		return nil
	}
	all := slices.Clone(x.acts(n, d))
	d.acts = d.acts[:x.afford(n, d.acts)]
	x.look(s, n, d)

	out := make([]Suggestion, 0, len(all))
	listed := make(map[int]bool)
	add := func(a act, expected float64) {
		if listed[a.check] {
			return
		}
		listed[a.check] = true
		g := d.gains[a.check]
		out = append(out, Suggestion{
			Check: a.check, Level: a.level,
			Travel: x.t.travel[level][a.level], Minutes: a.cost,
			Bits: g.bits, Proof: g.proof, Rate: g.bits / max(a.cost, leastMinutes),
			Expected: expected / n.mass,
		})
	}
	for _, a := range d.acts {
		add(a, a.value)
	}
	if len(all) > len(d.acts) {
		rest := x.estimate(n)
		for _, a := range all[len(d.acts):] {
			add(a, a.cost*n.mass+rest)
		}
	}
	x.reasons(n, d, out)
	return out
}

// afford is how many of the acts half of the work pays for looking one step ahead
// from, at least a few and at most a shortlist.
func (x *search) afford(n *node, acts []act) int {
	work := x.t.p.effort() / 2
	for i := range acts {
		work -= x.cost(n, acts[i:i+1])
		if i >= shortlist || i >= few && work < 0 {
			return i
		}
	}
	return len(acts)
}

// look puts values on d's acts and sorts them. Where there are many scenarios, one
// step is taken with all of them and what is gained by looking further is found
// with a sample.
func (x *search) look(s State, n *node, d *desk) {
	work := x.t.p.effort()
	if len(n.weight) <= sample {
		x.consider(n, d, work)
		x.settle(n, d)
		return
	}
	usual := x.estimate(n)
	for i := range d.acts {
		d.acts[i].value = x.ahead(n, d.acts[i], d, usual)
	}
	byValue(d.acts)

	sets, weights := thin(x.t.names(), n.weight, sample)
	y := newSearch(newTable(x.t.p, sets, weights))
	m := y.root(s, n.level)
	e := y.desk()
	y.gains(m, e)
	if !(m.mass > 0) || y.ended(m, e) {
		x.settle(n, d)
		return
	}
	e.acts = append(e.acts[:0], d.acts[:min(len(d.acts), few)]...)
	usual = y.estimate(m)
	near := make(map[act]float64)
	for i := range e.acts {
		a := &e.acts[i]
		a.score, a.value = 0, 0
		near[*a] = y.ahead(m, *a, e, usual)
	}
	y.consider(m, e, max(work/2, work-x.spent-y.spent))
	for _, a := range e.acts {
		far := a.value
		a.value = 0
		for i := range d.acts {
			if b := &d.acts[i]; b.check == a.check && b.level == a.level {
				b.value += (far - near[a]) / m.mass * n.mass
			}
		}
	}
	x.settle(n, d)
}

// thin takes n scenarios at even steps along the summed weights, in the order
// given, and merges those taken more than once.
func thin(sets [][]int, weights []float64, n int) ([][]int, []float64) {
	total := 0.0
	for _, w := range weights {
		total += w
	}
	var some [][]int
	var share []float64
	step := total / float64(n)
	sum, next := 0.0, step/2
	for i, w := range weights {
		sum += w
		taken := 0.0
		for next < sum {
			taken += step
			next += step
		}
		if taken > 0 {
			some, share = append(some, sets[i]), append(share, taken)
		}
	}
	return some, share
}

// settle sorts by value to nine digits, so that rounding error cannot decide
// between equals, and then by the order of the checks.
func (x *search) settle(n *node, d *desk) {
	sort.SliceStable(d.acts, func(i, j int) bool {
		a, b := d.acts[i], d.acts[j]
		return cmp.Or(cmp.Compare(digits(a.value), digits(b.value)), cmp.Compare(a.check, b.check), cmp.Compare(a.cost, b.cost), cmp.Compare(a.level, b.level)) < 0
	})
}

// digits rounds to nine significant digits.
func digits(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) {
		return v
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-8)
	return math.Round(v/unit) * unit
}

func (x *search) reasons(n *node, d *desk, out []Suggestion) {
	tells, proves := 0, 0
	for i, s := range out {
		if s.Rate > out[tells].Rate {
			tells = i
		}
		if s.Proof/max(s.Minutes, leastMinutes) > out[proves].Proof/max(out[proves].Minutes, leastMinutes) {
			proves = i
		}
	}
	latest := math.MinInt
	for c, g := range d.gains {
		if g.bits > negligible || g.proof > negligible {
			latest = max(latest, x.t.p.Checks[c].Stage)
		}
	}
	limit := x.stage(n, d)
	for i := range out {
		s := &out[i]
		if s.Bits >= x.t.p.bears(s.Check) && x.t.p.Checks[s.Check].Stage == limit && limit < latest {
			s.Reasons = append(s.Reasons, Order)
		}
		if i == tells && s.Bits > negligible {
			s.Reasons = append(s.Reasons, Tells)
		}
		if i == proves && s.Proof > negligible {
			s.Reasons = append(s.Reasons, Proves)
		}
		if s.Travel == 0 {
			s.Reasons = append(s.Reasons, Here)
		}
		if i == 0 {
			s.Reasons = append(s.Reasons, Shortest)
		}
	}
}
