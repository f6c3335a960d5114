// Package network solves a network of nodes and hydraulic elements for its
// steady state: the pressure at each node at which as much flows in as out.
//
// Pressures are the unknowns. Newton's method is damped by a line search on the
// sum of squared imbalances; where that stalls, the nodes are given a capacity
// and the network is followed in time, in steps that grow as it comes to rest
// (pseudo-transient continuation). A network that does not settle is an error
// that names the node that is worst off.
//
// Flow is incompressible and quasi-steady. Everything is in SI; heads in metre
// serve as well as pressures, as long as the resistances are made for them.
//
// Sources: Todini and Rossman, "Unified framework for deriving simultaneous
// equation algorithms for water distribution networks", J. Hydraul. Eng. 139
// (2013), for the nodal form; Kelley and Keyes, "Convergence analysis of
// pseudo-transient continuation", SIAM J. Numer. Anal. 35 (1998), for the
// safeguard.
package network

import (
	"fmt"
	"math"
)

// A Node is a place with one pressure.
type Node struct {
	ID       string
	Fixed    bool    // the pressure is given, not solved for
	Pressure float64 // Pa, when Fixed
	Inflow   float64 // m³/s, what comes in from outside
}

// A Kind says by which law an element passes flow.
type Kind uint8

// The kinds of element.
const (
	Resistor Kind = iota // Δp = R q + K q |q|
	Power                // Δp = K q |q|^(N−1), the pipe formulas
	Check                // a Resistor from From to To, shut the other way
	Pump                 // delivers Displaced less slip; see Element
	Spool                // a Resistor whose opening a spool sets
)

// A Sense is the area on which a node's pressure pushes a spool open; a negative
// area pushes it shut.
type Sense struct {
	Node int
	Area float64 // m²
}

// An Element joins two nodes. Positive flow goes from From to To.
type Element struct {
	ID       string
	From, To int
	Kind     Kind
	R        float64 // Pa s/m³, the laminar part; of a pump, its slip
	K        float64 // Pa s²/m⁶, the turbulent part
	N        float64 // the exponent of a Power

	// Displaced is what a pump moves, m³/s, with its inlet full. It starves as
	// the pressure at From falls from Starts to Starves.
	Displaced, Starts, Starves float64

	// A spool is open by u = (Σ area · pressure − Preload)/Span, held to 0 … 1.
	Senses  []Sense
	Preload float64 // N
	Span    float64 // N from shut to open
}

// A Network is nodes and the elements between them.
type Network struct {
	Nodes    []Node
	Elements []Element
}

// A Solution is a steady state.
type Solution struct {
	Pressure   []float64 // of each node, Pa
	Flow       []float64 // of each element, m³/s
	Iterations int
}

// A SettleError reports a network whose flows did not come to balance.
type SettleError struct {
	Node      string  // the worst off
	Imbalance float64 // m³/s there
	Singular  bool    // nothing ties the node to a given pressure
}

// Error returns the fault for a log.
func (e *SettleError) Error() string {
	if e.Singular {
		return fmt.Sprintf("network: no element ties node %s to a given pressure", e.Node)
	}
	return fmt.Sprintf("network: the flow at node %s did not settle, %.3g m³/s are out of balance", e.Node, e.Imbalance)
}

// Balance is how exactly the flows of a solution balance at each node, relative
// to the largest flow.
const Balance = 1e-10

const (
	newtonSteps  = 60
	transitSteps = 400
	soft         = 0.02 // of a spool's travel: how gently it meets its stops
)

// resist returns the flow of Δp = r q + k q |q| and its derivative to Δp.
func resist(dp, r, k float64) (q, d float64) {
	a := math.Abs(dp)
	if k == 0 {
		return dp / r, 1 / r
	}
	root := math.Sqrt(r*r + 4*k*a)
	if root == 0 {
		return 0, math.Inf(1)
	}
	// 2a/(r+root) is (root−r)/(2k) without its cancellation.
	return math.Copysign(2*a/(r+root), dp), 1 / root
}

// Opening returns a smooth 0 … 1 of u, and its derivative: a spool that meets its
// stops gently.
func opening(u float64) (x, d float64) {
	a, b := math.Sqrt(u*u+soft*soft), math.Sqrt((u-1)*(u-1)+soft*soft)
	return (a - b + 1) / 2, (u/a - (u-1)/b) / 2
}

// slack is the pressure difference under which a Power is taken as straight, so
// that its slope stays finite at rest.
const slack = 1e-9

// flow returns the element's flow and its derivatives to the pressures at its
// ends; senses, when there are any, get theirs in ds.
func (e *Element) flow(p []float64, ds []float64) (q, dFrom, dTo float64) {
	dp := p[e.From] - p[e.To]
	switch e.Kind {
	case Power:
		a := math.Abs(dp)
		if a < slack {
			g := math.Pow(slack/e.K, 1/e.N) / slack
			return g * dp, g, -g
		}
		q = math.Pow(a/e.K, 1/e.N)
		d := q / (e.N * a)
		return math.Copysign(q, dp), d, -d
	case Check:
		r, k := e.R, e.K
		if dp < 0 {
			r, k = r*shut, k*shut*shut
		}
		q, d := resist(dp, r, k)
		return q, d, -d
	case Pump:
		x, d := opening((p[e.From] - e.Starves) / (e.Starts - e.Starves))
		g := 1 / e.R
		return e.Displaced*x + dp*g, e.Displaced*d/(e.Starts-e.Starves) + g, -g
	case Spool:
		u := -e.Preload
		for _, s := range e.Senses {
			u += s.Area * p[s.Node]
		}
		x, dx := opening(u / e.Span)
		full, d := resist(dp, e.R, e.K)
		for i, s := range e.Senses {
			ds[i] = full * dx * s.Area / e.Span
		}
		return full * x, d * x, -d * x
	}
	q, d := resist(dp, e.R, e.K)
	return q, d, -d
}

// shut is how much tighter a check ball is on its seat than off it.
const shut = 1e4

type solver struct {
	n       *Network
	row     []int // of each node among the unknowns; −1 when given
	node    []int // of each row
	p       []float64
	f       []float64 // imbalance of each row, positive when too much flows in
	j       []float64 // its derivatives, row by row
	a, step []float64
	largest float64
	ds      []float64
}

// Solve returns the steady state. It starts at the pressures of start, one for
// each node, or at nil from the mean of the given ones; start is left as it is.
//
//	Σ flow in − Σ flow out + Inflow = 0 at every node that is not Fixed
//
// Every node must be tied to a Fixed one. The flows balance to Balance times
// the largest flow.
// Errors: *SettleError naming the node.
// Source: Todini and Rossman 2013; Kelley and Keyes 1998; checked in network_test.go.
func (n *Network) Solve(start []float64) (Solution, error) {
	s := solver{n: n, row: make([]int, len(n.Nodes)), p: make([]float64, len(n.Nodes))}
	mean, given := 0.0, 0.0
	for i, node := range n.Nodes {
		if node.Fixed {
			s.row[i] = -1
			mean += node.Pressure
			given++
			continue
		}
		s.row[i] = len(s.node)
		s.node = append(s.node, i)
	}
	if given > 0 {
		mean /= given
	}
	for i, node := range n.Nodes {
		switch {
		case node.Fixed:
			s.p[i] = node.Pressure
		case start != nil:
			s.p[i] = start[i]
		default:
			// Not all alike: where nothing flows, a slope may be without end.
			s.p[i] = mean + 1e-3*float64(i+1)*(1+math.Abs(mean))
		}
	}
	m := len(s.node)
	s.f, s.j = make([]float64, m), make([]float64, m*m)
	s.a, s.step = make([]float64, m*m), make([]float64, m)
	most := 0
	for i := range n.Elements {
		most = max(most, len(n.Elements[i].Senses))
	}
	s.ds = make([]float64, most)
	steps, err := s.run()
	if err != nil {
		return Solution{}, err
	}
	out := Solution{Pressure: s.p, Flow: make([]float64, len(n.Elements)), Iterations: steps}
	for i := range n.Elements {
		out.Flow[i], _, _ = n.Elements[i].flow(s.p, s.ds)
	}
	return out, nil
}

func (s *solver) run() (int, error) {
	norm := s.balance()
	before := make([]float64, len(s.p))
	steps := 0
newton:
	for range newtonSteps {
		if s.settled() {
			return steps, nil
		}
		if row := s.solve(0); row >= 0 {
			return steps, &SettleError{Node: s.n.Nodes[s.node[row]].ID, Singular: true}
		}
		copy(before, s.p)
		for cut := 1.0; ; cut /= 2 {
			if cut < 1e-3 {
				copy(s.p, before)
				s.balance()
				break newton
			}
			for i, k := range s.node {
				s.p[k] = before[k] + cut*s.step[i]
			}
			if now := s.balance(); now < norm*(1-1e-4*cut) || now == 0 {
				norm = now
				break
			}
			if s.settled() {
				return steps + 1, nil
			}
		}
		steps++
	}
	// Time steps: the slope of a node that holds fluid is its capacity over the
	// step. The first is about the mean slope; the steps grow as rest nears.
	first, slope := math.Sqrt(norm), 0.0
	m := len(s.node)
	for i := range m {
		slope += math.Abs(s.j[i*m+i]) / float64(m)
	}
	for range transitSteps {
		if s.settled() {
			return steps, nil
		}
		if row := s.solve(slope * math.Sqrt(norm) / first); row >= 0 {
			return steps, &SettleError{Node: s.n.Nodes[s.node[row]].ID, Singular: true}
		}
		for i, k := range s.node {
			s.p[k] += s.step[i]
		}
		norm = s.balance()
		first = max(first, math.Sqrt(norm))
		steps++
	}
	if s.settled() {
		return steps, nil
	}
	worst := 0
	for i := range s.f {
		if !(math.Abs(s.f[i]) <= math.Abs(s.f[worst])) {
			worst = i
		}
	}
	return steps, &SettleError{Node: s.n.Nodes[s.node[worst]].ID, Imbalance: s.f[worst]}
}

// balance computes f and j at p and returns the sum of squares of f.
func (s *solver) balance() float64 {
	m := len(s.node)
	clear(s.j)
	s.largest = 0
	for i, k := range s.node {
		s.f[i] = s.n.Nodes[k].Inflow
		s.largest = max(s.largest, math.Abs(s.f[i]))
	}
	add := func(row, node int, d float64) {
		if c := s.row[node]; c >= 0 {
			s.j[row*m+c] += d
		}
	}
	for i := range s.n.Elements {
		e := &s.n.Elements[i]
		q, a, b := e.flow(s.p, s.ds)
		s.largest = max(s.largest, math.Abs(q))
		for end, sign := e.From, -1.0; ; end, sign = e.To, 1 {
			if row := s.row[end]; row >= 0 {
				s.f[row] += sign * q
				add(row, e.From, sign*a)
				add(row, e.To, sign*b)
				if e.Kind == Spool {
					for k, sense := range e.Senses {
						add(row, sense.Node, sign*s.ds[k])
					}
				}
			}
			if sign > 0 {
				break
			}
		}
	}
	norm := 0.0
	for _, f := range s.f {
		norm += f * f
	}
	return norm
}

func (s *solver) settled() bool {
	for _, f := range s.f {
		if !(math.Abs(f) <= Balance*s.largest) {
			return false
		}
	}
	return true
}

// solve sets step to the solution of (j − c I) step = −f, by elimination with
// row pivots. It returns the row without a pivot, or −1.
func (s *solver) solve(c float64) int {
	m := len(s.node)
	a, x := s.a, s.step
	copy(a, s.j)
	for i := range m {
		a[i*m+i] -= c
		x[i] = -s.f[i]
	}
	for k := range m {
		pivot := k
		for i := k + 1; i < m; i++ {
			if math.Abs(a[i*m+k]) > math.Abs(a[pivot*m+k]) {
				pivot = i
			}
		}
		if v := a[pivot*m+k]; v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
			return k
		}
		if pivot != k {
			for c := k; c < m; c++ {
				a[k*m+c], a[pivot*m+c] = a[pivot*m+c], a[k*m+c]
			}
			x[k], x[pivot] = x[pivot], x[k]
		}
		top := a[k*m : k*m+m]
		for i := k + 1; i < m; i++ {
			if a[i*m+k] == 0 {
				continue
			}
			row := a[i*m : i*m+m]
			w := row[k] / top[k]
			for c := k + 1; c < m; c++ {
				row[c] -= w * top[c]
			}
			x[i] -= w * x[k]
		}
	}
	for i := m - 1; i >= 0; i-- {
		for c := i + 1; c < m; c++ {
			x[i] -= a[i*m+c] * x[c]
		}
		x[i] /= a[i*m+i]
	}
	return -1
}
