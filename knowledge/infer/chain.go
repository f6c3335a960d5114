package infer

import "math"

// chain sums over all fault sets by taking the faults one after another. Its
// state is the set of seen signs that some fault taken so far (or the leak)
// has produced. A sign is opened before its first cause and closed after its
// last, when only states that hold it survive. All terms are positive, so no
// digits are lost however unlikely the findings are.
type chain struct {
	weights
	loose       []int // faults that no seen sign depends on
	steps       []step
	forward     [][]float64 // vector before each step, scaled
	backward    [][]float64 // vector after each step, scaled
	logEvidence float64
}

type stepKind int

const (
	openSign stepKind = iota
	takeFault
	closeSign
)

type step struct {
	kind  stepKind
	fault int
	bit   int     // position of the sign in the state, for openSign (always the highest) and closeSign
	leak  float64 // for openSign
	links []link  // for takeFault
}

type link struct {
	bit      int
	strength float64
}

func newChain(w weights) *chain {
	c := &chain{weights: w}
	o := orderFaults(&w)
	linked := make([]bool, len(w.absent))
	for _, i := range o.faults {
		linked[i] = true
	}
	for i := range w.absent {
		if !linked[i] {
			c.loose = append(c.loose, i)
		}
	}
	left := make([]int, len(w.seen)) // causes of each sign not yet taken
	for j, s := range w.seen {
		left[j] = len(s.Causes)
	}
	var open []int // sign at each bit
	position := func(j int) int {
		for b, k := range open {
			if k == j {
				return b
			}
		}
		return -1
	}
	for _, i := range o.faults {
		for _, e := range o.effects[i] {
			if position(e.sign) < 0 {
				c.steps = append(c.steps, step{kind: openSign, bit: len(open), leak: w.seen[e.sign].Leak})
				open = append(open, e.sign)
			}
		}
		take := step{kind: takeFault, fault: i}
		for _, e := range o.effects[i] {
			take.links = append(take.links, link{bit: position(e.sign), strength: e.strength})
		}
		c.steps = append(c.steps, take)
		for _, e := range o.effects[i] {
			left[e.sign]--
			if left[e.sign] == 0 {
				b := position(e.sign)
				c.steps = append(c.steps, step{kind: closeSign, bit: b})
				open = append(open[:b], open[b+1:]...)
			}
		}
	}
	return c
}

type effect struct {
	sign     int
	strength float64
}

type ordering struct {
	faults  []int      // those with effects, in the order to take them
	effects [][]effect // by fault
	width   int        // signs open at once at the widest place
}

// orderFaults picks the order greedily: next comes the fault that leaves the
// fewest signs open, ties by index so that the order of findings can't matter
// to the result beyond rounding.
func orderFaults(w *weights) ordering {
	o := ordering{effects: make([][]effect, len(w.absent))}
	left := make([]int, len(w.seen))
	for j, s := range w.seen {
		left[j] = len(s.Causes)
		for _, c := range s.Causes {
			o.effects[c.Fault] = append(o.effects[c.Fault], effect{sign: j, strength: c.Strength})
		}
	}
	var waiting []int
	for i, e := range o.effects {
		if len(e) > 0 {
			waiting = append(waiting, i)
		}
	}
	open := make([]bool, len(w.seen))
	width := 0
	for len(waiting) > 0 {
		best, bestOpened, bestClosed := 0, 1<<30, 0
		for k, i := range waiting {
			opened, closed := 0, 0
			for _, e := range o.effects[i] {
				if !open[e.sign] {
					opened++
				}
				if left[e.sign] == 1 {
					closed++
				}
			}
			if opened-closed < bestOpened-bestClosed || opened-closed == bestOpened-bestClosed && opened < bestOpened {
				best, bestOpened, bestClosed = k, opened, closed
			}
		}
		i := waiting[best]
		waiting = append(waiting[:best], waiting[best+1:]...)
		o.faults = append(o.faults, i)
		width += bestOpened
		o.width = max(o.width, width)
		width -= bestClosed
		for _, e := range o.effects[i] {
			open[e.sign] = true
			left[e.sign]--
		}
	}
	return o
}

// sweep runs the chain forwards and backwards.
func (c *chain) sweep() error {
	c.logEvidence = c.log
	for _, i := range c.loose {
		c.logEvidence += math.Log(c.absent[i] + c.present[i])
	}
	v := []float64{1}
	c.forward = make([][]float64, len(c.steps))
	for k := range c.steps {
		c.forward[k] = v
		v = c.advance(&c.steps[k], v)
		c.logEvidence += rescale(v)
	}
	if math.IsInf(c.logEvidence, -1) || math.IsNaN(c.logEvidence) {
		return ErrImpossible
	}
	v = []float64{1}
	c.backward = make([][]float64, len(c.steps))
	for k := len(c.steps) - 1; k >= 0; k-- {
		c.backward[k] = v
		v = c.retreat(&c.steps[k], v)
		rescale(v)
	}
	return nil
}

// rescale divides v by its sum and returns the logarithm of that sum.
func rescale(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	if sum > 0 {
		for s := range v {
			v[s] /= sum
		}
	}
	return math.Log(sum)
}

// advance returns the state's weights after a step from those before it.
func (c *chain) advance(st *step, v []float64) []float64 {
	switch st.kind {
	case openSign:
		out := make([]float64, 2*len(v))
		for s, x := range v {
			out[s] = x * (1 - st.leak)
			out[s|1<<st.bit] = x * st.leak
		}
		return out
	case closeSign:
		out := make([]float64, len(v)/2)
		for s := range out {
			out[s] = v[spread(s, st.bit)|1<<st.bit]
		}
		return out
	}
	out := append([]float64(nil), v...)
	produce(out, st.links)
	a, b := c.absent[st.fault], c.present[st.fault]
	for s := range out {
		out[s] = a*v[s] + b*out[s]
	}
	return out
}

// retreat is advance transposed: the weight of the future from each state
// before a step, given that from each state after it.
func (c *chain) retreat(st *step, v []float64) []float64 {
	switch st.kind {
	case openSign:
		out := make([]float64, len(v)/2)
		for s := range out {
			out[s] = (1-st.leak)*v[s] + st.leak*v[s|1<<st.bit]
		}
		return out
	case closeSign:
		out := make([]float64, 2*len(v))
		for s, x := range v {
			out[spread(s, st.bit)|1<<st.bit] = x
		}
		return out
	}
	out := append([]float64(nil), v...)
	foresee(out, st.links)
	a, b := c.absent[st.fault], c.present[st.fault]
	for s := range out {
		out[s] = a*v[s] + b*out[s]
	}
	return out
}

// produce moves weight along a present fault's links: each sign not yet
// produced becomes so with the link's strength.
func produce(v []float64, links []link) {
	for _, l := range links {
		for s := range v {
			if s&(1<<l.bit) == 0 {
				moved := v[s] * l.strength
				v[s] -= moved
				v[s|1<<l.bit] += moved
			}
		}
	}
}

// foresee is produce transposed.
func foresee(v []float64, links []link) {
	for _, l := range links {
		for s := range v {
			if s&(1<<l.bit) == 0 {
				v[s] += l.strength * (v[s|1<<l.bit] - v[s])
			}
		}
	}
}

// spread opens a zero bit at position b of s.
func spread(s, b int) int {
	low := s & (1<<b - 1)
	return (s-low)<<1 | low
}

// marginals returns P(present) by fault.
func (c *chain) marginals() []float64 {
	m := make([]float64, len(c.absent))
	for _, i := range c.loose {
		m[i] = c.present[i] / (c.absent[i] + c.present[i])
	}
	for k := range c.steps {
		st := &c.steps[k]
		if st.kind != takeFault {
			continue
		}
		future := append([]float64(nil), c.backward[k]...)
		foresee(future, st.links)
		var without, with float64
		for s, x := range c.forward[k] {
			without += x * c.backward[k][s]
			with += x * future[s]
		}
		without *= c.absent[st.fault]
		with *= c.present[st.fault]
		m[st.fault] = with / (without + with)
	}
	return m
}

// draw follows u, a number in [0, 1), through the posterior and returns the
// set of linked faults it lands on. Even steps of u land on sets in proportion
// to their probability.
func (c *chain) draw(u float64) []int {
	var faults []int
	state := 0
	// decide splits u between two weights; it returns true for the second.
	decide := func(first, second float64) bool {
		p := first / (first + second)
		if u < p {
			u /= p
			return false
		}
		u = min((u-p)/(1-p), 1-1e-16)
		return true
	}
	for k := range c.steps {
		st := &c.steps[k]
		after := c.backward[k]
		switch st.kind {
		case openSign:
			if decide((1-st.leak)*after[state], st.leak*after[state|1<<st.bit]) {
				state |= 1 << st.bit
			}
		case closeSign:
			low := state & (1<<st.bit - 1)
			state = low | (state>>(st.bit+1))<<st.bit
		case takeFault:
			b := c.present[st.fault] * ahead(after, state, st.links)
			if !decide(c.absent[st.fault]*after[state], b) {
				continue
			}
			faults = append(faults, st.fault)
			for n, l := range st.links {
				if state&(1<<l.bit) != 0 {
					continue
				}
				rest := st.links[n+1:]
				if decide((1-l.strength)*ahead(after, state, rest), l.strength*ahead(after, state|1<<l.bit, rest)) {
					state |= 1 << l.bit
				}
			}
		}
	}
	return faults
}

// ahead returns the weight of the future from a state through the given links.
func ahead(after []float64, state int, links []link) float64 {
	for n, l := range links {
		if state&(1<<l.bit) == 0 {
			rest := links[n+1:]
			return (1-l.strength)*ahead(after, state, rest) + l.strength*ahead(after, state|1<<l.bit, rest)
		}
	}
	return after[state]
}
