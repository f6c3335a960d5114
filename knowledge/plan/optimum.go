package plan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
)

// ErrTooLarge reports a problem that Optimum cannot solve within its limit.
var ErrTooLarge = errors.New("plan: problem is too large to be solved outright")

// Optimum returns the least expected minutes with which any policy within the
// trade's order reaches the goal from s, and a policy that does. It visits every
// information state, each once.
//
//	J(s) = min over checks and levels of travel + minutes + Σ P(answer) · J(after the answer)
//
// The problem may have at most 64 checks and 64 faults in its scenarios, and at
// most limit information states.
// Errors: ErrTooLarge.
// Source: dynamic programming over the AND/OR graph of Pattipati & Alexandridis
// 1990; checked against brute force over all orders in published_test.go.
func Optimum(p *Problem, s State, limit int) (minutes float64, policy Policy, err error) {
	if len(p.Checks) > 64 {
		return 0, nil, fmt.Errorf("%w: %d checks", ErrTooLarge, len(p.Checks))
	}
	o := newOptimum(p, s, limit)
	if len(o.faults) > 64 {
		return 0, nil, fmt.Errorf("%w: %d faults", ErrTooLarge, len(o.faults))
	}
	st, open := o.state(s)
	d, ok := o.solve(st)
	if !ok {
		return 0, nil, fmt.Errorf("%w: more than %d information states", ErrTooLarge, limit)
	}
	return open * d.minutes, func(s State) (int, int, bool) {
		st, _ := o.state(s)
		d, ok := o.solve(st)
		return d.check, d.level, ok && d.level >= 0
	}, nil
}

type optimum struct {
	p      *Problem
	limit  int
	sets   [][]int
	faults []int
	all    [][]joint // per check
	known  map[string]decision
}

// joint is a joint outcome of a check.
type joint struct {
	chance []float64 // per set
	proves uint64
}

type decision struct {
	minutes      float64
	check, level int // level is -1 where the work ends
}

type information struct {
	level  int
	done   uint64
	proved uint64
	any    bool // something has been proved
	weight []float64
}

func (st *information) mass() float64 {
	sum := 0.0
	for _, w := range st.weight {
		sum += w
	}
	return sum
}

func newOptimum(p *Problem, s State, limit int) *optimum {
	o := &optimum{p: p, limit: limit, known: make(map[string]decision)}
	o.sets, _ = canonical(s.Scenarios)
	for _, set := range o.sets {
		o.faults = append(o.faults, set...)
	}
	slices.Sort(o.faults)
	o.faults = slices.Compact(o.faults)
	o.all = make([][]joint, len(o.p.Checks))
	for c := range o.p.Checks {
		o.p.answers(c, func(outcomes []int) {
			j := joint{chance: make([]float64, len(o.sets))}
			possible := false
			for i, set := range o.sets {
				j.chance[i] = 1
				for ob, k := range outcomes {
					j.chance[i] *= o.p.Checks[c].Observations[ob].chance(k, set)
				}
				possible = possible || j.chance[i] > 0
			}
			for ob, k := range outcomes {
				if outs := o.p.Checks[c].Observations[ob].Outcomes; k < len(outs)-1 {
					j.proves |= o.mask(outs[k].Proves)
				}
			}
			if possible {
				o.all[c] = append(o.all[c], j)
			}
		})
	}
	return o
}

func (o *optimum) mask(faults []int) uint64 {
	var m uint64
	for _, f := range faults {
		if i, ok := slices.BinarySearch(o.faults, f); ok {
			m |= 1 << i
		}
	}
	return m
}

func (o *optimum) state(s State) (st *information, open float64) {
	st = &information{level: o.p.level(s), proved: o.mask(s.Proved), any: len(s.Proved) > 0, weight: make([]float64, len(o.sets))}
	for _, list := range [][]int{s.Done, s.Refused} {
		for _, c := range list {
			if c >= 0 && c < len(o.p.Checks) {
				st.done |= 1 << c
			}
		}
	}
	sets, weights := canonical(s.Scenarios)
	for i, set := range sets {
		at, ok := slices.BinarySearchFunc(o.sets, set, slices.Compare[[]int])
		if ok {
			st.weight[at] = weights[i]
		}
	}
	return st, o.settle(st)
}

// settle takes out what is finished, brings the other weights to a sum of one and
// returns what their sum was.
func (o *optimum) settle(st *information) float64 {
	live := 0
	for i, w := range st.weight {
		if o.p.Goal == ProveAll && o.mask(o.sets[i])&^st.proved == 0 || o.p.Goal == ProveOne && st.any || w < 1e-14 {
			st.weight[i] = 0
			continue
		}
		live++
	}
	if o.p.Goal == Isolate && live < 2 {
		clear(st.weight)
	}
	m := st.mass()
	if m > 0 {
		for i := range st.weight {
			st.weight[i] /= m
		}
	}
	return m
}

// after returns what st becomes when check c at a level shows j, and the
// probability that it does and that the work goes on.
func (o *optimum) after(st *information, c, level int, j joint) (*information, float64) {
	next := &information{level: level, done: st.done | 1<<c, proved: st.proved | j.proves, any: st.any || j.proves != 0, weight: make([]float64, len(st.weight))}
	for i, w := range st.weight {
		next.weight[i] = w * j.chance[i]
	}
	return next, o.settle(next)
}

// key names an information state by where the truck is, what is known and what
// could still tell something.
func (o *optimum) key(st *information, useful []int) string {
	var b strings.Builder
	fmt.Fprint(&b, st.level, st.any, st.proved, useful)
	for _, w := range st.weight {
		fmt.Fprintf(&b, " %.9g", w)
	}
	return b.String()
}

// tells is the information in check c about the faults, and the probability of a
// new proof.
func (o *optimum) tells(st *information, c int) (information, proof float64) {
	for _, j := range o.all[c] {
		p := 0.0
		for i, w := range st.weight {
			p += w * j.chance[i]
		}
		for i, w := range st.weight {
			if q := j.chance[i]; w > 0 && q > 0 {
				information += w * q * math.Log2(q/p)
			}
		}
		if j.proves&^st.proved != 0 {
			proof += p
		}
	}
	return information, proof
}

func (o *optimum) solve(st *information) (decision, bool) {
	best := decision{0, 0, -1}
	if !(st.mass() > 0) {
		return best, true
	}
	lowest := math.MaxInt
	var useful []int
	over := true
	for c := range o.p.Checks {
		if st.done>>c&1 == 1 {
			continue
		}
		reachable, ahead := false, false
		for _, l := range o.p.Checks[c].Levels {
			if l >= 0 && l < len(o.p.Levels) && !math.IsInf(o.p.Travel(st.level, l)+duration(o.p.Checks[c].Minutes), 1) {
				reachable = true
				ahead = ahead || l >= st.level
			}
		}
		if !reachable {
			continue
		}
		tells, proof := o.tells(st, c)
		if tells <= negligible && proof <= negligible {
			continue
		}
		useful = append(useful, c)
		over = over && (o.p.Goal == Isolate || proof <= negligible) && (o.p.Goal != Isolate || tells <= negligible)
		if ahead && tells >= o.p.bears(c) {
			lowest = min(lowest, o.p.Checks[c].Stage)
		}
	}
	if over {
		return best, true
	}
	key := o.key(st, useful)
	if d, ok := o.known[key]; ok {
		return d, true
	}
	if len(o.known) >= o.limit {
		return best, false
	}
	best.minutes = math.Inf(1)
	for _, c := range useful {
		if o.p.Checks[c].Stage > lowest {
			continue
		}
		for _, l := range o.p.Checks[c].Levels {
			m := o.p.Travel(st.level, l) + duration(o.p.Checks[c].Minutes)
			for _, j := range o.all[c] {
				if m >= best.minutes {
					break
				}
				next, p := o.after(st, c, l, j)
				d, ok := o.solve(next)
				if !ok {
					return best, false
				}
				m += p * d.minutes
			}
			if m < best.minutes {
				best = decision{m, c, l}
			}
		}
	}
	o.known[key] = best
	return best, true
}
