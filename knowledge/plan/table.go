package plan

import (
	"cmp"
	"math"
	"slices"

	"provingbench/knowledge/infer"
)

// combinations bounds how many joint outcomes of one check are told apart; the
// least likely beyond it are taken as one, which proves only what all of them
// prove.
const combinations = 64

// table holds what every check would show in every scenario. Scenarios that a
// check cannot tell apart, because they hold the same of its faults, share a
// class, so that most work grows with the number of faults a check bears on
// and not with the number of scenarios.
type table struct {
	p      *Problem
	faults []int   // the faults of any scenario, ascending; elsewhere named by their place here
	sets   [][]int // the distinct scenarios
	start  []float64
	checks []evidence
	proofs [][]proof // per scenario
	prover []prover
	travel [][]float64
}

// evidence is what one check would show.
type evidence struct {
	levels  []int  // those there are
	within  []bool // per level: whether the check can be reached from there
	class   []int32
	touched []int32   // the scenarios outside class 0
	entropy []float64 // per class, in bits
	results []result
}

// result is a joint outcome of all observations of one check.
type result struct {
	several bool // the least likely, taken as one
	chance  []float64
	proves  []int
}

// proof is how likely a check proves a fault, in one scenario.
type proof struct {
	check, fault int
	chance       float64
}

// prover is a check that can prove something, and how likely if it is there.
type prover struct {
	check   int
	minutes float64
	levels  []int
	faults  []int
	chance  []float64
	rivals  bool // its being done changes what others, or it elsewhere, could prove
}

// canonical merges equal scenarios and brings them into one order, so that
// nothing depends on the order in which findings were made. Their weights sum
// to one, but for rounding; there are none if no weight is positive.
func canonical(in []infer.Scenario) ([][]int, []float64) {
	type weighted struct {
		faults []int
		weight float64
	}
	list := make([]weighted, 0, len(in))
	total := 0.0
	for _, s := range in {
		if !counts(s.Weight) {
			continue
		}
		f := s.Faults
		if !ascending(f) {
			f = slices.Clone(f)
			slices.Sort(f)
			f = slices.Compact(f)
		}
		list = append(list, weighted{f, s.Weight})
	}
	slices.SortFunc(list, func(a, b weighted) int {
		return cmp.Or(slices.Compare(a.faults, b.faults), cmp.Compare(a.weight, b.weight))
	})
	var sets [][]int
	var weights []float64
	for _, s := range list {
		total += s.weight
		if n := len(sets); n > 0 && slices.Equal(sets[n-1], s.faults) {
			weights[n-1] += s.weight
			continue
		}
		sets = append(sets, s.faults)
		weights = append(weights, s.weight)
	}
	if !(total > 0) {
		return nil, nil
	}
	keepSets, keep := sets[:0], weights[:0]
	for i, w := range weights {
		if w/total > negligible*negligible {
			// Single precision: rounding error left by the order of findings is far
			// below it and so cannot decide between equals.
			keepSets, keep = append(keepSets, sets[i]), append(keep, float64(float32(w/total)))
		}
	}
	return keepSets, keep
}

// counts says whether a weight has a meaning; the upper end keeps sums finite.
func counts(weight float64) bool { return weight > 0 && weight < 1e100 }

func ascending(f []int) bool {
	for i := 1; i < len(f); i++ {
		if f[i] <= f[i-1] {
			return false
		}
	}
	return true
}

func newTable(p *Problem, sets [][]int, weights []float64) *table {
	t := &table{p: p, start: weights}
	t.travel = make([][]float64, len(p.Levels))
	for a := range p.Levels {
		t.travel[a] = make([]float64, len(p.Levels))
		for b := range p.Levels {
			t.travel[a][b] = p.Travel(a, b)
		}
	}
	for _, s := range sets {
		t.faults = append(t.faults, s...)
	}
	slices.Sort(t.faults)
	t.faults = slices.Compact(t.faults)
	where := make(map[int]int, len(t.faults))
	for i, f := range t.faults {
		where[f] = i
	}
	t.sets = make([][]int, len(sets))
	holders := make([][]int32, len(t.faults))
	for s, set := range sets {
		t.sets[s] = make([]int, len(set))
		for i, f := range set {
			t.sets[s][i] = where[f]
			holders[where[f]] = append(holders[where[f]], int32(s))
		}
	}
	t.proofs = make([][]proof, len(sets))
	t.checks = make([]evidence, len(p.Checks))
	b := builder{t: t, where: where, holders: holders, mark: make([]int, len(t.faults)), strength: make([]float64, len(t.faults))}
	for c := range p.Checks {
		b.check(c)
	}
	provers := make([]int, len(t.faults))
	for _, pr := range t.prover {
		for _, f := range pr.faults {
			provers[f]++
		}
	}
	for i := range t.prover {
		pr := &t.prover[i]
		pr.rivals = len(pr.levels) > 1 || slices.ContainsFunc(pr.faults, func(f int) bool { return provers[f] > 1 })
	}
	return t
}

// names returns the scenarios with the faults under their own names again.
func (t *table) names() [][]int {
	sets := make([][]int, len(t.sets))
	for i, set := range t.sets {
		sets[i] = make([]int, len(set))
		for j, f := range set {
			sets[i][j] = t.faults[f]
		}
	}
	return sets
}

// builder fills a table; its fields are the scratch of that.
type builder struct {
	t        *table
	where    map[int]int
	holders  [][]int32
	mark     []int // the last check, plus one, that named the fault
	strength []float64
	slab     []float64
}

// floats cuts n zeros from a larger piece: a table needs thousands of short lists.
func (b *builder) floats(n int) []float64 {
	if len(b.slab) < n {
		b.slab = make([]float64, max(n, 8192))
	}
	cut := b.slab[:n:n]
	b.slab = b.slab[n:]
	return cut
}

func (b *builder) check(c int) {
	t, check := b.t, &b.t.p.Checks[c]
	e := &t.checks[c]
	if math.IsInf(duration(check.Minutes), 1) || slices.ContainsFunc(check.Observations, func(o Observation) bool { return len(o.Outcomes) == 0 }) {
		return // cannot be done, or cannot show anything
	}
	for _, l := range check.Levels {
		if l >= 0 && l < len(t.p.Levels) && !slices.Contains(e.levels, l) {
			e.levels = append(e.levels, l)
		}
	}
	slices.Sort(e.levels)
	e.within = make([]bool, len(t.p.Levels))
	for from := range e.within {
		e.within[from] = slices.ContainsFunc(e.levels, func(l int) bool { return !math.IsInf(t.travel[from][l], 1) })
	}

	var relevant []int
	name := func(f int) {
		if i, ok := b.where[f]; ok && b.mark[i] != c+1 {
			b.mark[i] = c + 1
			relevant = append(relevant, i)
		}
	}
	for _, o := range check.Observations {
		for k, out := range o.Outcomes {
			if k < len(o.Outcomes)-1 {
				for _, cause := range out.Sign.Causes {
					if cause.Strength > 0 {
						name(cause.Fault)
					}
				}
			}
			for _, f := range out.Proves {
				name(f)
			}
		}
	}
	slices.Sort(relevant)

	// Classes grow fault by fault: a class and one more fault make a new class.
	held := [][]int{nil}
	e.class = make([]int32, len(t.sets))
	for _, f := range relevant {
		from := make(map[int32]int32)
		for _, s := range b.holders[f] {
			k := e.class[s]
			next, ok := from[k]
			if !ok {
				next = int32(len(held))
				held = append(held, append(slices.Clone(held[k]), f))
				from[k] = next
			}
			if k == 0 {
				e.touched = append(e.touched, s)
			}
			e.class[s] = next
		}
	}
	slices.Sort(e.touched)

	e.results = []result{{chance: ones(len(held))}}
	likely := make([]float64, len(held))
	for s, k := range e.class {
		likely[k] += t.start[s]
	}
	e.entropy = b.floats(len(held))
	for _, o := range check.Observations {
		b.observe(e, &o, held, likely)
	}
	if slices.ContainsFunc(e.results, func(r result) bool { return r.several }) {
		clear(e.entropy)
		for _, r := range e.results {
			for k, p := range r.chance {
				e.entropy[k] += bits(p)
			}
		}
	}
	if !slices.ContainsFunc(e.results, func(r result) bool { return len(r.proves) > 0 }) {
		return
	}
	pr := prover{check: c, minutes: check.Minutes, levels: e.levels}
	found := make([]float64, len(held))
	for _, f := range relevant {
		clear(found)
		for _, r := range e.results {
			if slices.Contains(r.proves, f) {
				for k, p := range r.chance {
					found[k] += p
				}
			}
		}
		best := slices.Max(found)
		if best <= negligible {
			continue
		}
		pr.faults, pr.chance = append(pr.faults, f), append(pr.chance, best)
		for _, s := range b.holders[f] {
			if q := found[e.class[s]]; q > negligible {
				t.proofs[s] = append(t.proofs[s], proof{c, f, q})
			}
		}
	}
	if len(pr.faults) > 0 {
		t.prover = append(t.prover, pr)
	}
}

// observe crosses the results so far with the outcomes of one more observation.
func (b *builder) observe(e *evidence, o *Observation, held [][]int, likely []float64) {
	n := len(o.Outcomes)
	rest := ones(len(held))
	crossed := make([]result, 0, n*len(e.results))
	for k, out := range o.Outcomes {
		chances := b.floats(len(held))
		proves, all := b.local(out.Proves)
		if k == n-1 {
			copy(chances, rest)
			// A closing outcome that proves would have to be impossible without its
			// faults and certain with them; nothing can be said, so it proves nothing.
			proves, all = nil, true
		} else if all {
			for _, cause := range out.Sign.Causes {
				if i, ok := b.where[cause.Fault]; ok {
					b.strength[i] = 1 - (1-b.strength[i])*(1-chance(cause.Strength))
				}
			}
			for c, h := range held {
				if !includes(h, proves) {
					continue
				}
				quiet := 1 - chance(out.Sign.Leak)
				for _, f := range h {
					quiet *= 1 - b.strength[f]
				}
				chances[c] = rest[c] * (1 - quiet)
				rest[c] *= quiet
			}
			for _, cause := range out.Sign.Causes {
				if i, ok := b.where[cause.Fault]; ok {
					b.strength[i] = 0
				}
			}
		}
		// Given the faults, observations are independent and their entropies add up.
		for c, p := range chances {
			e.entropy[c] += bits(p)
		}
		for _, r := range e.results {
			joint := result{several: r.several, chance: b.floats(len(held)), proves: r.proves}
			possible := false
			for c := range held {
				joint.chance[c] = r.chance[c] * chances[c]
				possible = possible || joint.chance[c] > 0
			}
			if !possible {
				continue
			}
			if len(proves) > 0 {
				joint.proves = slices.Clone(r.proves)
				joint.proves = append(joint.proves, proves...)
				slices.Sort(joint.proves)
				joint.proves = slices.Compact(joint.proves)
			}
			crossed = append(crossed, joint)
		}
	}
	e.results = gather(crossed, likely)
}

// gather takes the least likely results as one where there are too many.
func gather(rs []result, likely []float64) []result {
	if len(rs) <= combinations {
		return rs
	}
	type weighed struct {
		result
		mass float64
	}
	all := make([]weighed, len(rs))
	for i, r := range rs {
		all[i].result = r
		if r.several {
			all[i].mass = -1 // already several in one: stays so
			continue
		}
		for c, p := range r.chance {
			all[i].mass += p * likely[c]
		}
	}
	slices.SortStableFunc(all, func(a, b weighed) int { return cmp.Compare(b.mass, a.mass) })
	for i := range all {
		rs[i] = all[i].result
	}
	rest := result{several: true, chance: make([]float64, len(likely)), proves: rs[combinations-1].proves}
	for _, r := range rs[combinations-1:] {
		for c, p := range r.chance {
			rest.chance[c] += p
		}
		var both []int
		for _, f := range rest.proves {
			if slices.Contains(r.proves, f) {
				both = append(both, f)
			}
		}
		rest.proves = both
	}
	return append(rs[:combinations-1], rest)
}

// local names faults by their place in the table; all is false if one of them is
// in no scenario.
func (b *builder) local(faults []int) (places []int, all bool) {
	for _, f := range faults {
		i, ok := b.where[f]
		if !ok {
			return nil, false
		}
		places = append(places, i)
	}
	return places, true
}

func ones(n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = 1
	}
	return v
}

func includes(set, subset []int) bool {
	for _, f := range subset {
		if !slices.Contains(set, f) {
			return false
		}
	}
	return true
}

// bits is a probability's part of an entropy.
func bits(p float64) float64 {
	if p <= 0 {
		return 0
	}
	return -p * math.Log(p) * math.Log2E
}
