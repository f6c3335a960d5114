// Package network solves a network of nodes and hydraulic elements for its
// steady state: the pressure at each node at which as much flows in as out.
//
// The unknowns are the pressures of the nodes and the flows of the elements, and
// Newton's method solves for both at once, with the flows eliminated before the
// system is solved: the loss of an orifice is a smooth function of its flow,
// while its flow has no slope to go by where little flows. No step may carry
// a pressure that a spool senses across the spool's travel, as circuit simulators
// limit the voltage of a junction. A network that does not come to rest is solved
// with spools of a much wider travel first, which is then narrowed step by step
// (continuation), and last in time from no pressure on. One that does not settle
// even so is an error that names the node that is worst off.
//
// Flow is incompressible and quasi-steady. Everything is in SI; heads in metre
// serve as well as pressures, as long as the resistances are made for them.
//
// Sources: Todini and Rossman, "Unified framework for deriving simultaneous
// equation algorithms for water distribution networks", J. Hydraul. Eng. 139
// (2013), for the method, which they call the global gradient algorithm; Nagel,
// SPICE2, University of California ERL-M520 (1975), for the limiting; Kelley and
// Keyes, "Convergence analysis of pseudo-transient continuation", SIAM J. Numer.
// Anal. 35 (1998), for the last resort.
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
	Resistor Kind = iota // Δp = R q + K q |q|, with R over 0
	Power                // Δp = K q |q|^(N−1), the pipe formulas
	Pump                 // delivers Displaced less slip; see Element
	Spool                // a Resistor whose opening a spool sets, with R over 0
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
	Least    float64 // m³/s: less than this counts as no flow
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

// Sentence returns the fault for a person, in full sentences.
func (e *SettleError) Sentence() string {
	return "The flows at " + e.Node + " do not come to balance, so there is no answer for this state."
}

// Balance is how exactly the flows of a solution balance at each node, relative
// to the largest flow.
const Balance = 1e-10

const (
	newtonSteps = 24
	patience    = 12 // steps before they are slowed
	startSteps  = 250
	soft        = 0.02 // of a spool's travel: how gently it meets its stops
	inside      = 0.5  // of a spool's travel: how far one step may carry it into or through it
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
func (e *Element) flow(p []float64, wide float64, ds []float64) (q, dFrom, dTo float64) {
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
	case Pump:
		x, d := opening(e.place(p, wide))
		g := 1 / e.R
		return e.Displaced*x + dp*g, e.Displaced*d/(e.Starts-e.Starves) + g, -g
	case Spool:
		x, dx := opening(e.place(p, wide))
		full, d := resist(dp, e.R, e.K)
		for i, s := range e.Senses {
			ds[i] = full * dx * s.Area / (e.Span * wide)
		}
		return full * x, d * x, -d * x
	}
	q, d := resist(dp, e.R, e.K)
	return q, d, -d
}

type solver struct {
	n       *Network
	row     []int // of each node among the unknowns; −1 when given
	node    []int // of each row
	p       []float64
	f       []float64 // imbalance of each row, positive when too much flows in
	j       []float64 // its derivatives, row by row
	a, step []float64
	largest float64   // flow
	ds      []float64 // slopes of one spool
	q, to   []float64 // flow of each element that goes by its loss, before and after a step
	g       []float64 // its slope
	wide    float64   // how much wider the spools' travel is taken
	law     []float64 // flow of each element that the pressures give
	some    []int     // columns of a pivot's row that are not empty
}

// Solve returns the steady state. It starts at the pressures of start, one for
// each node, or at nil from the mean of the given ones; start is left as it is.
//
//	Σ flow in − Σ flow out + Inflow = 0 at every node that is not Fixed
//
// Every node must be tied to a Fixed one. The flows balance to Balance times
// the largest flow.
// Errors: *SettleError naming the node.
// Source: Todini and Rossman 2013; checked in network_test.go.
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
		s.node = append(s.node, i)
	}
	// Nodes with few neighbours first: then little fills in.
	ends := make([]int, len(n.Nodes))
	for i := range n.Elements {
		ends[n.Elements[i].From]++
		ends[n.Elements[i].To]++
	}
	for i := range s.node {
		for j := i; j > 0 && ends[s.node[j]] < ends[s.node[j-1]]; j-- {
			s.node[j], s.node[j-1] = s.node[j-1], s.node[j]
		}
	}
	for row, i := range s.node {
		s.row[i] = row
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
	k := len(n.Elements)
	s.q, s.to, s.g, s.law = make([]float64, k), make([]float64, k), make([]float64, k), make([]float64, k)
	steps, err := s.run()
	if err != nil {
		return Solution{}, err
	}
	return Solution{Pressure: s.p, Flow: s.law, Iterations: steps}, nil
}

// run tries the network as it is, and then from spools of wider travel on, which
// take what flows more evenly.
func (s *solver) run() (int, error) {
	steps := 0
	for _, wide := range []float64{1, 100, 30, 10, 5, 3, 2, 1.4, 1} {
		s.wide = wide
		n, err := s.newton()
		if steps += n; err != nil || wide == 1 && s.settled() {
			return steps, err
		}
	}
	// Last, as an engine starts: from no pressure, with nodes that hold fluid, in
	// time steps that grow. The slope of such a node is its capacity over the step.
	slope := 1e-300
	for i, p := range s.p {
		slope = math.Max(slope, math.Abs(p))
		if s.row[i] >= 0 {
			s.p[i] = 0
		}
	}
	slope = 100 * s.largest / slope
	s.balance()
	for i := range s.q {
		s.q[i] = s.full(i)
	}
	for range startSteps {
		if err := s.advance(1, slope); err != nil {
			return steps, err
		}
		slope *= 0.92
		steps++
	}
	n, err := s.newton()
	if steps += n; err != nil || s.settled() {
		return steps, err
	}
	worst := 0
	for i := range s.f {
		if !(math.Abs(s.f[i]) <= math.Abs(s.f[worst])) {
			worst = i
		}
	}
	return steps, &SettleError{Node: s.n.Nodes[s.node[worst]].ID, Imbalance: s.f[worst]}
}

// newton goes on until the flows balance or the steps are used up.
func (s *solver) newton() (steps int, err error) {
	s.balance()
	for i := range s.q {
		s.q[i] = s.full(i)
	}
	for ; steps < newtonSteps && !s.settled(); steps++ {
		// What goes round in circles is slowed.
		share := 1.0
		if steps >= patience {
			share = []float64{0.7, 0.4, 0.2}[steps/patience%3]
		}
		if err := s.advance(share, 0); err != nil {
			return steps, err
		}
	}
	return steps, nil
}

// advance takes a share of one step; slope is that of nodes that hold fluid.
func (s *solver) advance(share, slope float64) error {
	s.linear()
	if row := s.solve(slope); row >= 0 {
		return &SettleError{Node: s.n.Nodes[s.node[row]].ID, Singular: true}
	}
	for i := range s.step {
		s.step[i] *= share
	}
	s.clip()
	for i, k := range s.node {
		s.p[k] += s.step[i]
	}
	s.hold()
	s.balance()
	// The straight line runs past what a loss that grows with the square lets
	// through; then the flow of the pressures is the better place to go on from.
	for i := range s.n.Elements {
		e := &s.n.Elements[i]
		s.q[i] += share*(s.to[i]-s.q[i]) + s.g[i]*(s.delta(e.From)-s.delta(e.To))
		if full := s.full(i); math.Abs(s.q[i]) > math.Abs(full) {
			s.q[i] = full
		}
	}
	return nil
}

// full returns the flow that the pressures give an element, a spool's wide open.
func (s *solver) full(i int) float64 {
	e := &s.n.Elements[i]
	if e.Kind != Spool {
		return s.law[i]
	}
	q, _ := resist(s.p[e.From]-s.p[e.To], e.R, e.K)
	return q
}

// delta returns how far the last step moved a node.
func (s *solver) delta(node int) float64 {
	if row := s.row[node]; row >= 0 {
		return s.step[row]
	}
	return 0
}

// place returns where a spool would be under p, in its travel; the same of how
// full a pump's inlet is; nothing of other elements.
func (e *Element) place(p []float64, wide float64) float64 {
	switch e.Kind {
	case Pump:
		return (p[e.From] - e.Starves) / (e.Starts - e.Starves)
	case Spool:
		u := -e.Preload
		for _, sense := range e.Senses {
			u += sense.Area * p[sense.Node]
		}
		return u / (e.Span * wide)
	}
	return 0
}

// clip shortens the step of each pressure that a spool senses, so that it does
// not carry the spool too far: into its travel from outside, or along it.
func (s *solver) clip() {
	for i := range s.n.Elements {
		e := &s.n.Elements[i]
		switch e.Kind {
		case Pump:
			s.bound(e.From, e.place(s.p, s.wide), e.Starts-e.Starves)
		case Spool:
			u := e.place(s.p, s.wide)
			for _, sense := range e.Senses {
				s.bound(sense.Node, u, e.Span*s.wide/sense.Area)
			}
		}
	}
}

// hold keeps every pressure between the least and the greatest of those that are
// given or stand at a pump: nothing else raises or lowers one. With inflows there
// is no such rule.
func (s *solver) hold() {
	least, most := math.Inf(1), math.Inf(-1)
	see := func(node int) { least, most = math.Min(least, s.p[node]), math.Max(most, s.p[node]) }
	for i, n := range s.n.Nodes {
		if n.Inflow != 0 {
			return
		}
		if n.Fixed {
			see(i)
		}
	}
	for i := range s.n.Elements {
		if e := &s.n.Elements[i]; e.Kind == Pump {
			see(e.From)
			see(e.To)
		}
	}
	for i, k := range s.node {
		if p := math.Max(least, math.Min(most, s.p[k])); p != s.p[k] {
			s.step[i] += p - s.p[k]
			s.p[k] = p
		}
	}
}

// bound shortens the step of a node on which a place u depends; span is the
// pressure from 0 to 1 of it.
func (s *solver) bound(node int, u, span float64) {
	row := s.row[node]
	if row < 0 {
		return
	}
	du, far := s.step[row]/span, inside
	switch {
	case u < 0:
		if du < 0 {
			return
		}
		far -= u
	case u > 1:
		if du > 0 {
			return
		}
		far += u - 1
	}
	if math.Abs(du) > far {
		s.step[row] *= far / math.Abs(du)
	}
}

// linear makes f and j of the system in pressures and flows: each loss is taken
// as straight about the flow q, and to is the flow that it then has at p.
func (s *solver) linear() {
	s.begin()
	for i := range s.n.Elements {
		e := &s.n.Elements[i]
		if e.Kind == Pump {
			q, a, b := e.flow(s.p, s.wide, s.ds)
			s.add(e, q, a, b)
			continue
		}
		a := math.Abs(s.q[i])
		power, n := a, 2.0
		least := 1e-6 * e.K * s.largest
		if e.Kind == Power {
			n = e.N
			power = math.Pow(a, n-1)
			least = 1e-6 * e.K * math.Pow(s.largest, n-1)
		}
		slope := math.Max(e.R+n*e.K*power, least)
		s.g[i] = 1 / slope
		s.to[i] = s.q[i] + s.g[i]*(s.p[e.From]-s.p[e.To]-(e.R+e.K*power)*s.q[i])
		if e.Kind != Spool {
			s.add(e, s.to[i], s.g[i], -s.g[i])
			continue
		}
		x, d := opening(e.place(s.p, s.wide))
		for k, sense := range e.Senses {
			s.ds[k] = s.q[i] * d * sense.Area / (e.Span * s.wide)
		}
		s.add(e, x*s.to[i], x*s.g[i], -x*s.g[i])
	}
}

func (s *solver) begin() {
	clear(s.j)
	for i, k := range s.node {
		s.f[i] = s.n.Nodes[k].Inflow
	}
}

// add puts an element's flow and its slopes into f and j.
func (s *solver) add(e *Element, q, a, b float64) {
	m := len(s.node)
	put := func(row, node int, d float64) {
		if c := s.row[node]; c >= 0 {
			s.j[row*m+c] += d
		}
	}
	for end, sign := e.From, -1.0; ; end, sign = e.To, 1 {
		if row := s.row[end]; row >= 0 {
			s.f[row] += sign * q
			put(row, e.From, sign*a)
			put(row, e.To, sign*b)
			if e.Kind == Spool {
				for k, sense := range e.Senses {
					put(row, sense.Node, sign*s.ds[k])
				}
			}
		}
		if sign > 0 {
			return
		}
	}
}

// balance computes f and j at p from the flows that the pressures alone give.
func (s *solver) balance() {
	s.begin()
	s.largest = s.n.Least
	for _, f := range s.f {
		s.largest = max(s.largest, math.Abs(f))
	}
	for i := range s.n.Elements {
		e := &s.n.Elements[i]
		q, a, b := e.flow(s.p, s.wide, s.ds)
		s.law[i] = q
		s.largest = max(s.largest, math.Abs(q))
		s.add(e, q, a, b)
	}
}

func (s *solver) settled() bool {
	for _, f := range s.f {
		if !(math.Abs(f) <= Balance*s.largest) {
			return false
		}
	}
	return true
}

// solve sets step to the solution of (j − slope I) step = −f, by elimination. It returns the row without a pivot, or −1.
func (s *solver) solve(slope float64) int {
	m := len(s.node)
	a, x := s.a, s.step
	copy(a, s.j)
	for i := range m {
		a[i*m+i] -= slope
		x[i] = -s.f[i]
	}
	for k := range m {
		// The diagonal serves unless it is small: a swap would spoil the order in
		// which little fills in.
		pivot, most := k, math.Abs(a[k*m+k])*100
		for i := k + 1; i < m; i++ {
			if v := math.Abs(a[i*m+k]); v > most {
				pivot, most = i, v
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
		s.some = s.some[:0]
		for c := k + 1; c < m; c++ {
			if top[c] != 0 {
				s.some = append(s.some, c)
			}
		}
		for i := k + 1; i < m; i++ {
			row := a[i*m : i*m+m]
			if row[k] == 0 {
				continue
			}
			w := row[k] / top[k]
			for _, c := range s.some {
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
