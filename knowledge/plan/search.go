package plan

import (
	"encoding/binary"
	"math"
	"slices"
	"sort"
)

// search looks ahead from a state as far as its allowance goes.
type search struct {
	t     *table
	goal  Goal
	spent int
	memo  map[string]memory
	key   []byte
	depth int
	desks []*desk

	// Scratch of estimate.
	share  []float64
	queue  []queued
	open   [][]int // per level: places in queue still to come
	places [][]int // what open is cut from
	head   []head  // per level: what would be done there next
	when   []float64
	met    []met
}

// memory is the value of an information state, per unit of weight.
type memory struct {
	value float64
	work  int
	exact bool
}

// node is an information state. Weights are not normalised: their sum is the
// probability of coming here, and scenarios that are finished weigh nothing.
type node struct {
	level  int
	done   []uint64
	proved []uint64
	weight []float64
	mass   float64
}

// gain is what a check would tell at a node.
type gain struct {
	bits  float64
	proof float64
}

// act is a check at a level.
type act struct {
	check, level int
	cost         float64 // minutes, travel included
	score        float64
	value        float64 // expected minutes to the end, times the node's mass
}

// desk is the scratch of one depth of the search.
type desk struct {
	gains []gain
	acts  []act
	child node
	class []float64
}

// queued is a prover that a series will come to.
type queued struct {
	prover int
	score  float64 // probability of a proof per minute, times the node's mass
}

// head is the first so many of a queue and their probability of a proof per minute.
type head struct {
	count int
	rate  float64
}

// met is a moment at which a fault may get proved.
type met struct {
	time   float64
	fault  int
	chance float64
}

func newSearch(t *table) *search {
	return &search{
		t:      t,
		goal:   t.p.Goal,
		memo:   make(map[string]memory),
		share:  make([]float64, len(t.faults)),
		open:   make([][]int, len(t.p.Levels)),
		places: make([][]int, len(t.p.Levels)),
		head:   make([]head, len(t.p.Levels)),
		when:   make([]float64, len(t.p.Checks)),
	}
}

// root is the node of a state.
func (x *search) root(s State, level int) *node {
	n := &node{
		level:  level,
		done:   make([]uint64, (len(x.t.p.Checks)+63)/64),
		proved: make([]uint64, (len(x.t.faults)+63)/64),
		weight: slices.Clone(x.t.start),
	}
	for _, list := range [][]int{s.Done, s.Refused} {
		for _, c := range list {
			if c >= 0 && c < len(x.t.p.Checks) {
				n.done[c/64] |= 1 << (c % 64)
			}
		}
	}
	for i, f := range x.t.faults {
		if slices.Contains(s.Proved, f) {
			n.proved[i/64] |= 1 << (i % 64)
		}
	}
	if x.goal == ProveOne && len(s.Proved) > 0 {
		clear(n.weight)
	}
	x.finish(n)
	return n
}

// finish takes the weight off the scenarios that are finished and sums the rest.
func (x *search) finish(n *node) {
	n.mass = 0
	live := 0
	for i, w := range n.weight {
		if w <= 0 {
			continue
		}
		if x.goal == ProveAll && holds(n.proved, x.t.sets[i]) {
			n.weight[i] = 0
			continue
		}
		n.mass += w
		live++
	}
	if x.goal == Isolate && live <= 1 {
		n.mass = 0
	}
}

func holds(set []uint64, faults []int) bool {
	for _, f := range faults {
		if set[f/64]&(1<<(f%64)) == 0 {
			return false
		}
	}
	return true
}

func has(set []uint64, i int) bool { return set[i/64]&(1<<(i%64)) != 0 }

func (x *search) desk() *desk {
	for len(x.desks) <= x.depth {
		x.desks = append(x.desks, &desk{gains: make([]gain, len(x.t.checks))})
	}
	return x.desks[x.depth]
}

// gains finds what each check would tell at n.
func (x *search) gains(n *node, d *desk) {
	for c := range x.t.checks {
		d.gains[c] = gain{}
		e := &x.t.checks[c]
		if len(e.touched) == 0 || has(n.done, c) || !e.within[n.level] {
			continue
		}
		x.spent += 3*len(e.touched) + len(e.results)*(20+2*len(e.entropy))
		d.gains[c] = x.gain(n, e, d)
	}
}

func (x *search) gain(n *node, e *evidence, d *desk) gain {
	d.class = grow(d.class, len(e.entropy))
	class := d.class
	away := 0.0
	for _, s := range e.touched {
		class[e.class[s]] += n.weight[s]
	}
	for _, w := range class[1:] {
		away += w
	}
	class[0] = n.mass - away
	if class[0] < 1e-12*n.mass {
		class[0] = 0
	}
	if away <= 1e-12*n.mass {
		return gain{}
	}
	var g gain
	for k, w := range class {
		g.bits -= w / n.mass * e.entropy[k]
	}
	for i := range e.results {
		r := &e.results[i]
		p := 0.0
		for k, w := range class {
			p += w * r.chance[k]
		}
		p /= n.mass
		g.bits += bits(p)
		if len(r.proves) > 0 && !holds(n.proved, r.proves) {
			g.proof += p
		}
	}
	g.bits = max(0, g.bits)
	return g
}

func grow(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n)
	}
	v = v[:n]
	clear(v)
	return v
}

// ended says whether nothing more can come of the work at n.
func (x *search) ended(n *node, d *desk) bool {
	if !(n.mass > 0) {
		return true
	}
	for _, g := range d.gains {
		if x.goal == Isolate && g.bits > negligible || x.goal != Isolate && g.proof > negligible {
			return false
		}
	}
	return true
}

// stage is the highest stage that the trade's order allows at n: the lowest of
// the checks that bear on the case and need no closing up.
func (x *search) stage(n *node, d *desk) int {
	lowest := math.MaxInt
	for c, g := range d.gains {
		if g.bits < x.t.p.bears(c) {
			continue
		}
		e := &x.t.checks[c]
		deepest := e.levels[len(e.levels)-1]
		if deepest < n.level {
			continue
		}
		for _, l := range e.levels {
			if l >= n.level && !math.IsInf(x.t.travel[n.level][l], 1) {
				lowest = min(lowest, x.t.p.Checks[c].Stage)
				break
			}
		}
	}
	return lowest
}

// acts lists what can be done at n within the trade's order, most promising
// first.
func (x *search) acts(n *node, d *desk) []act {
	limit := x.stage(n, d)
	d.acts = d.acts[:0]
	mostBits, mostProof := 0.0, 0.0
	for c, g := range d.gains {
		if g.bits <= negligible && g.proof <= negligible || x.t.p.Checks[c].Stage > limit {
			continue
		}
		for _, l := range x.t.checks[c].levels {
			cost := x.t.travel[n.level][l] + x.t.p.Checks[c].Minutes
			if math.IsInf(cost, 1) {
				continue
			}
			d.acts = append(d.acts, act{check: c, level: l, cost: cost})
			mostBits = max(mostBits, g.bits/max(cost, leastMinutes))
			mostProof = max(mostProof, g.proof/max(cost, leastMinutes))
		}
	}
	for i := range d.acts {
		a := &d.acts[i]
		g, cost := d.gains[a.check], max(a.cost, leastMinutes)
		if mostBits > 0 {
			a.score += g.bits / cost / mostBits
		}
		if mostProof > 0 && x.goal != Isolate {
			a.score += g.proof / cost / mostProof
		}
	}
	sort.SliceStable(d.acts, func(i, j int) bool { return d.acts[i].score > d.acts[j].score })
	return d.acts
}

// leastMinutes stands in for a cost of nothing where something is divided by it.
const leastMinutes = 0.01

// step makes d.child what n becomes when a shows result r.
func (x *search) step(n *node, a act, r *result, d *desk) *node {
	e := &x.t.checks[a.check]
	ch := &d.child
	ch.level = a.level
	ch.done = append(ch.done[:0], n.done...)
	ch.done[a.check/64] |= 1 << (a.check % 64)
	ch.proved = append(ch.proved[:0], n.proved...)
	if cap(ch.weight) < len(n.weight) {
		ch.weight = make([]float64, len(n.weight))
	}
	ch.weight = ch.weight[:len(n.weight)]
	for i, w := range n.weight {
		ch.weight[i] = w * r.chance[e.class[i]]
	}
	x.spent += 3*len(n.weight) + 50
	if len(r.proves) > 0 {
		for _, f := range r.proves {
			ch.proved[f/64] |= 1 << (f % 64)
		}
		if x.goal == ProveOne {
			clear(ch.weight)
		}
	}
	least := 1e-14 * n.mass
	for i, w := range ch.weight {
		if w < least {
			ch.weight[i] = 0
		}
	}
	x.finish(ch)
	return ch
}

// remember returns the key of an information state: what is left to know and
// what could still be done about it. Checks that can tell nothing any more are
// left out, so that different ways to the same knowledge meet.
func (x *search) remember(n *node, d *desk) string {
	k := x.key[:0]
	k = binary.LittleEndian.AppendUint32(k, uint32(n.level))
	for c := 0; c < len(d.gains); c += 8 {
		var b byte
		for i := 0; i < 8 && c+i < len(d.gains); i++ {
			if g := d.gains[c+i]; g.bits > negligible || g.proof > negligible {
				b |= 1 << i
			}
		}
		k = append(k, b)
	}
	for _, p := range n.proved {
		k = binary.LittleEndian.AppendUint64(k, p)
	}
	for _, w := range n.weight {
		k = binary.LittleEndian.AppendUint32(k, math.Float32bits(float32(w/n.mass)))
	}
	x.key = k
	return string(k)
}

// value returns the expected minutes from n to the end, times n's mass, as far
// as work allows it to be found; exact says that the search came to its end.
func (x *search) value(n *node, work int) (v float64, exact bool) {
	if !(n.mass > 0) {
		return 0, true
	}
	x.depth++
	defer func() { x.depth-- }()
	d := x.desk()
	x.gains(n, d)
	if x.ended(n, d) {
		return 0, true
	}
	key := x.remember(n, d)
	if m, ok := x.memo[key]; ok && (m.exact || m.work >= work) {
		return m.value * n.mass, m.exact
	}
	acts := x.acts(n, d)
	if x.cost(n, acts) > work {
		return x.estimate(n), false
	}
	exact = x.consider(n, d, work)
	v = d.acts[0].value
	x.memo[key] = memory{v / n.mass, work, exact}
	return v, exact
}

// cost is the work of looking one step ahead from n.
func (x *search) cost(n *node, acts []act) int {
	results := 0
	for _, a := range acts {
		results += len(x.t.checks[a.check].results)
	}
	return results * x.unit(n)
}

// unit is about what it costs to look at one result and estimate what comes after
// it. It is counted as spent is: about one for a nanosecond on a machine of
// 2025.
func (x *search) unit(n *node) int {
	if x.goal == Isolate {
		return 200 + 2*len(n.weight) + 50*len(x.t.checks)
	}
	return 200 + 25*len(n.weight) + 200*len(x.t.prover)
}

// consider puts a value on each of d's acts at n and sorts them, the best first.
// It looks one step ahead for all and spends what work is left on the best.
func (x *search) consider(n *node, d *desk, work int) (exact bool) {
	before := x.spent
	usual := x.estimate(n)
	for i := range d.acts {
		d.acts[i].value = x.ahead(n, d.acts[i], d, usual)
	}
	byValue(d.acts)
	step := (x.spent - before) + x.cost(n, d.acts)
	left := work - step
	exact = true
	best := math.Inf(1)
	deep := len(d.acts)
	if k := left / max(1, step); k < deep {
		deep, exact = k, false
	}
	for i := range deep {
		a := &d.acts[i]
		if low := x.low(n, *a); low >= best {
			a.value = max(a.value, low)
			continue
		}
		before = x.spent
		var all bool
		a.value, all = x.deepen(n, *a, d, max(0, left)/(deep-i))
		exact = exact && all
		left -= x.spent - before
		best = min(best, a.value)
	}
	byValue(d.acts)
	return exact
}

func byValue(acts []act) {
	sort.SliceStable(acts, func(i, j int) bool { return acts[i].value < acts[j].value })
}

// ahead is the value of a at n with the estimate after it. For rare results the
// estimate at n, given as the usual, stands in.
func (x *search) ahead(n *node, a act, d *desk, usual float64) float64 {
	sum := a.cost * n.mass
	e := &x.t.checks[a.check]
	for i := range e.results {
		ch := x.step(n, a, &e.results[i], d)
		if ch.mass < rare*n.mass {
			sum += usual * ch.mass / n.mass
			continue
		}
		sum += x.estimate(ch)
	}
	return sum
}

// rare is the probability below which it doesn't pay to estimate what comes after
// a result: what an error there does to the whole is smaller still.
const rare = 1.0 / 128

// deepen is the value of a at n with a search after it. Each result gets work by
// its probability, and what one leaves over goes to the others.
func (x *search) deepen(n *node, a act, d *desk, work int) (v float64, exact bool) {
	v, exact = a.cost*n.mass, true
	rest := n.mass
	e := &x.t.checks[a.check]
	for i := range e.results {
		ch := x.step(n, a, &e.results[i], d)
		if !(ch.mass > 0) {
			continue
		}
		part := int(float64(work) * min(1, ch.mass/rest))
		before := x.spent
		w, all := x.value(ch, part)
		work = max(0, work-(x.spent-before))
		rest = max(rest-ch.mass, negligible*n.mass)
		v += w
		exact = exact && all
	}
	return v, exact
}

// low is a bound that the value of a at n cannot be under. A scenario goes on
// until its faults are proved or nothing is left that could prove them, so that
// each fault that a leaves unproved costs at least the nearest check for it.
func (x *search) low(n *node, a act) float64 {
	sum := a.cost * n.mass
	if x.goal == Isolate {
		return sum
	}
	for s, w := range n.weight {
		if w <= 0 {
			continue
		}
		most, either, near := 0.0, 0.0, math.Inf(1)
		for _, f := range x.t.sets[s] {
			if has(n.proved, f) {
				continue
			}
			now, nearest := 0.0, math.Inf(1)
			for _, pf := range x.t.proofs[s] {
				switch {
				case pf.fault != f || has(n.done, pf.check):
				case pf.check == a.check:
					now = pf.chance
				default:
					for _, l := range x.t.checks[pf.check].levels {
						nearest = min(nearest, x.t.travel[a.level][l]+x.t.p.Checks[pf.check].Minutes)
					}
				}
			}
			either += now
			near = min(near, nearest)
			if !math.IsInf(nearest, 1) {
				most = max(most, (1-now)*nearest)
			}
		}
		if x.goal == ProveOne {
			most = 0
			if !math.IsInf(near, 1) {
				most = max(0, 1-either) * near
			}
		}
		sum += w * most
	}
	return sum
}
