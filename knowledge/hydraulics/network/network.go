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
	// Balance is how exactly the flows must balance at each node, relative to the
	// largest flow; 0 stands for the constant of that name.
	Balance float64
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
// to the largest flow, when the network does not say.
const Balance = 1e-10

const (
	newtonSteps = 16
	patience    = 12 // steps before they are slowed
	startSteps  = 250
	soft        = 0.02 // of a spool's travel: how gently it meets its stops
	inside      = 0.5  // of a spool's travel: how far one step may carry it into or through it
)

// passes returns the flow of Δp = r q + k q |q|.
func passes(dp, r, k float64) float64 {
	if k == 0 {
		return dp / r
	}
	a := math.Abs(dp)
	root := math.Sqrt(r*r + 4*k*a)
	if root == 0 {
		return 0
	}
	// This is (root−r)/(2k) without its cancellation.
	return 2 * dp / (r + root)
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

// full returns the flow that a pressure difference drives through the element, a
// spool's wide open; of a pump, its slip.
func (e *Element) full(dp float64) float64 {
	switch e.Kind {
	case Power:
		a := math.Abs(dp)
		if a < slack {
			return math.Pow(slack/e.K, 1/e.N) / slack * dp
		}
		return math.Copysign(math.Pow(a/e.K, 1/e.N), dp)
	case Pump:
		return dp / e.R
	}
	return passes(dp, e.R, e.K)
}

// A Solver solves networks one after another. It keeps its memory, and the orders of
// elimination for the ways in which the nodes were joined and sensed lately. The
// zero Solver is ready; it serves one goroutine at a time.
type Solver struct {
	n     *Network
	plans []*plan // the one last used first
	*plan
	p       []float64
	f       []float64 // imbalance of each row, positive when too much flows in
	j       []float64 // its derivatives, row by row
	a, step []float64
	held    bool      // whether the edges' pressures hold the others between them
	largest float64   // flow
	q, to   []float64 // flow of each element that goes by its loss, before and after a step
	g       []float64 // its slope
	wide    float64   // how much wider the spools' travel is taken
	law     []float64 // flow of each element that the pressures give
	most    []float64 // the same of a spool wide open
	some    []int     // columns of a row that are not empty, for the elimination with swaps
}

// plans is how many a solver keeps.
const plans = 8

// A plan is where everything stands in the system of a network, and in which order
// it is eliminated. It hangs on what joins and senses what, and on no number.
type plan struct {
	shape  []joint
	node   []int   // of each row, which stands for an unknown
	row    []int   // of each node; one past the last when its pressure is given
	at     []stamp // of each element
	spools []int   // elements that have a place: spools and pumps
	edges  []int   // nodes that are given or stand at a pump
	order  []pivot
}

// A joint is what the order of elimination depends on.
type joint struct {
	from, to int
	kind     Kind
	senses   int
}

// A stamp is where an element stands in f and j.
type stamp struct {
	from, to       int // rows
	ff, ft, tf, tt int // derivatives of the flow out of From and into To
	senses         []mark
}

// A mark is where a sense stands in j.
type mark struct{ node, row, from, to int }

// A pivot is one step of the elimination: the rows with something in its column,
// and the columns with something in its row, which are the same.
type pivot []int

// Solve returns the steady state. It starts at the pressures of start, one for
// each node, or at nil from the mean of the given ones; start is left as it is.
//
//	Σ flow in − Σ flow out + Inflow = 0 at every node that is not Fixed
//
// Every node must be tied to a Fixed one. The flows balance to Balance times
// the largest flow.
// Errors: *SettleError naming the node.
// Source: Todini and Rossman 2013; checked in network_test.go.
func (n *Network) Solve(start []float64) (Solution, error) { return new(Solver).Solve(n, start) }

// Solve is Network.Solve. The slices of the solution are the solver's own, and hold
// until it solves again.
func (s *Solver) Solve(n *Network, start []float64) (Solution, error) {
	s.n = n
	s.prepare()
	mean, given := 0.0, 0.0
	for i := range n.Nodes {
		if n.Nodes[i].Fixed {
			mean += n.Nodes[i].Pressure
			given++
		}
	}
	if given > 0 {
		mean /= given
	}
	s.held = true
	for i := range n.Nodes {
		node := &n.Nodes[i]
		s.held = s.held && node.Inflow == 0
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
	steps, err := s.run()
	if err != nil {
		return Solution{}, err
	}
	return Solution{Pressure: s.p, Flow: s.law, Iterations: steps}, nil
}

// prepare finds or makes the plan and the memory.
func (s *Solver) prepare() {
	for i, x := range s.plans {
		if x.fits(s.n) {
			copy(s.plans[1:], s.plans[:i])
			s.plans[0], s.plan = x, x
			return
		}
	}
	s.plan = newPlan(s.n)
	s.plans = append([]*plan{s.plan}, s.plans[:min(plans-1, len(s.plans))]...)
	nodes, m, k := len(s.row), len(s.node), len(s.at)
	if len(s.p) == nodes && len(s.f) == m+1 && len(s.q) == k {
		return
	}
	all := make([]float64, nodes+2*(m+1)+2*(m*m+1)+5*k)
	for _, x := range []struct {
		to  *[]float64
		len int
	}{{&s.p, nodes}, {&s.f, m + 1}, {&s.step, m + 1}, {&s.j, m*m + 1}, {&s.a, m*m + 1}, {&s.q, k}, {&s.to, k}, {&s.g, k}, {&s.law, k}, {&s.most, k}} {
		*x.to, all = all[:x.len:x.len], all[x.len:]
	}
}

// fits reports whether the plan is of a network like this one.
func (x *plan) fits(n *Network) bool {
	if len(x.shape) != len(n.Elements) || len(x.row) != len(n.Nodes) {
		return false
	}
	for i := range n.Nodes {
		if n.Nodes[i].Fixed != (x.row[i] == len(x.node)) {
			return false
		}
	}
	for i := range n.Elements {
		e := &n.Elements[i]
		if x.shape[i] != (joint{e.From, e.To, e.Kind, len(e.Senses)}) {
			return false
		}
		for k, m := range x.at[i].senses {
			if m.node != e.Senses[k].Node {
				return false
			}
		}
	}
	return true
}

// newPlan numbers the unknowns so that little fills in: the node with the fewest
// neighbours first, which then are neighbours of each other.
// Source: the minimum degree order of Tinney and Walker, "Direct solutions of
// sparse network equations by optimally ordered triangular factorization", Proc.
// IEEE 55 (1967).
func newPlan(n *Network) *plan {
	nodes, m := len(n.Nodes), 0
	for i := range n.Nodes {
		if !n.Nodes[i].Fixed {
			m++
		}
	}
	x := &plan{row: make([]int, nodes), node: make([]int, 0, m), order: make([]pivot, m)}
	tied := make([]bool, nodes*nodes) // what hangs on what, either way
	tie := func(a, b int) {
		if !n.Nodes[a].Fixed && !n.Nodes[b].Fixed {
			tied[a*nodes+b], tied[b*nodes+a] = true, true
		}
	}
	for i := range n.Elements {
		e := &n.Elements[i]
		tie(e.From, e.To)
		for _, sense := range e.Senses {
			tie(e.From, sense.Node)
			tie(e.To, sense.Node)
		}
	}
	for i := range n.Nodes {
		x.row[i] = m
	}
	var around []int
	for len(x.node) < m {
		best, least := -1, 0
		for i := range n.Nodes {
			if n.Nodes[i].Fixed || x.row[i] < m {
				continue
			}
			count := 0
			for k := range n.Nodes {
				if x.row[k] == m && tied[i*nodes+k] {
					count++
				}
			}
			if best < 0 || count < least {
				best, least = i, count
			}
		}
		x.row[best] = len(x.node)
		x.node = append(x.node, best)
		around = around[:0]
		for k := range n.Nodes {
			if x.row[k] == m && tied[best*nodes+k] {
				around = append(around, k)
			}
		}
		for _, a := range around {
			for _, b := range around {
				tied[a*nodes+b] = true
			}
		}
	}
	for k := range x.order {
		for i := k + 1; i < m; i++ {
			if tied[x.node[k]*nodes+x.node[i]] {
				x.order[k] = append(x.order[k], i)
			}
		}
	}
	x.place(n)
	return x
}

// place notes where the elements stand in f and j. What is given stands one past
// the end, where nobody looks.
func (x *plan) place(n *Network) {
	m := len(x.node)
	cell := func(row, col int) int {
		if row == m || col == m {
			return m * m
		}
		return row*m + col
	}
	x.shape, x.at = make([]joint, len(n.Elements)), make([]stamp, len(n.Elements))
	for i := range n.Nodes {
		if n.Nodes[i].Fixed {
			x.edges = append(x.edges, i)
		}
	}
	for i := range n.Elements {
		e := &n.Elements[i]
		from, to := x.row[e.From], x.row[e.To]
		x.shape[i] = joint{e.From, e.To, e.Kind, len(e.Senses)}
		x.at[i] = stamp{from, to, cell(from, from), cell(from, to), cell(to, from), cell(to, to), nil}
		for _, sense := range e.Senses {
			row := x.row[sense.Node]
			x.at[i].senses = append(x.at[i].senses, mark{sense.Node, row, cell(from, row), cell(to, row)})
		}
		switch e.Kind {
		case Pump:
			x.edges = append(x.edges, e.From, e.To)
			x.spools = append(x.spools, i)
		case Spool:
			x.spools = append(x.spools, i)
		}
	}
}

// run tries the network as it is, and then from spools of wider travel on, which
// take what flows more evenly.
func (s *Solver) run() (int, error) {
	steps := 0
	for _, wide := range [...]float64{1, 5, 1, 100, 30, 10, 5, 3, 2, 1.4, 1} {
		s.wide = wide
		n, err := s.newton()
		if steps += n; err != nil || wide == 1 && s.settled() {
			return steps, err
		}
	}
	// Last, as an engine starts: from no pressure, with nodes that hold fluid, in
	// time steps that grow. The slope of such a node is its capacity over the step.
	slope := 1e-300
	for _, p := range s.p {
		slope = math.Max(slope, math.Abs(p))
	}
	for _, k := range s.node {
		s.p[k] = 0
	}
	slope = 100 * s.largest / slope
	s.balance()
	copy(s.q, s.most)
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
	for i := range s.node {
		if !(math.Abs(s.f[i]) <= math.Abs(s.f[worst])) {
			worst = i
		}
	}
	return steps, &SettleError{Node: s.n.Nodes[s.node[worst]].ID, Imbalance: s.f[worst]}
}

// newton goes on until the flows balance or the steps are used up.
func (s *Solver) newton() (steps int, err error) {
	s.balance()
	copy(s.q, s.most)
	for ; steps < newtonSteps && !s.settled(); steps++ {
		// What goes round in circles is slowed.
		share := 1.0
		if steps >= patience {
			share = [...]float64{0.7, 0.4, 0.2}[steps/patience%3]
		}
		if err := s.advance(share, 0); err != nil {
			return steps, err
		}
	}
	return steps, nil
}

// advance takes a share of one step; slope is that of nodes that hold fluid.
func (s *Solver) advance(share, slope float64) error {
	s.linear()
	if row := s.solve(slope); row >= 0 {
		return &SettleError{Node: s.n.Nodes[s.node[row]].ID, Singular: true}
	}
	if share != 1 {
		for i := range s.node {
			s.step[i] *= share
		}
	}
	s.clip()
	for i, k := range s.node {
		s.p[k] += s.step[i]
	}
	s.hold()
	s.balance()
	// The straight line runs past what a loss that grows with the square lets
	// through; then the flow of the pressures is the better place to go on from.
	for i := range s.q {
		at := &s.at[i]
		q := s.q[i]
		q += share*(s.to[i]-q) + s.g[i]*(s.step[at.from]-s.step[at.to])
		if full := s.most[i]; math.Abs(q) > math.Abs(full) {
			q = full
		}
		s.q[i] = q
	}
	return nil
}

// place returns where a spool would be under p, in its travel; the same of how
// full a pump's inlet is; nothing of other elements.
func (e *Element) place(p []float64, wide float64) float64 {
	switch e.Kind {
	case Pump:
		return (p[e.From] - e.Starves) / (e.Starts - e.Starves)
	case Spool:
		u := -e.Preload
		for i := range e.Senses {
			u += e.Senses[i].Area * p[e.Senses[i].Node]
		}
		return u / (e.Span * wide)
	}
	return 0
}

// clip shortens the step of each pressure that a spool senses, so that it does
// not carry the spool too far: into its travel from outside, or along it.
func (s *Solver) clip() {
	for _, i := range s.spools {
		e := &s.n.Elements[i]
		u := e.place(s.p, s.wide)
		if e.Kind == Pump {
			s.bound(s.at[i].from, u, e.Starts-e.Starves)
			continue
		}
		for k := range e.Senses {
			s.bound(s.at[i].senses[k].row, u, e.Span*s.wide/e.Senses[k].Area)
		}
	}
}

// hold keeps every pressure between the least and the greatest of those that are
// given or stand at a pump: nothing else raises or lowers one. With inflows there
// is no such rule.
func (s *Solver) hold() {
	if !s.held {
		return
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, i := range s.edges {
		least, most = math.Min(least, s.p[i]), math.Max(most, s.p[i])
	}
	for i, k := range s.node {
		p := s.p[k]
		if p < least {
			p = least
		}
		if p > most {
			p = most
		}
		if p != s.p[k] {
			s.step[i] += p - s.p[k]
			s.p[k] = p
		}
	}
}

// bound shortens the step of a row on which a place u depends; span is the
// pressure from 0 to 1 of it.
func (s *Solver) bound(row int, u, span float64) {
	if row == len(s.node) {
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
func (s *Solver) linear() {
	clear(s.j)
	s.begin()
	for i := range s.n.Elements {
		e, at := &s.n.Elements[i], &s.at[i]
		q, dp := s.q[i], s.p[e.From]-s.p[e.To]
		a := math.Abs(q)
		var out, dFrom, dTo float64 // flow, and its slopes to the pressures at both ends
		switch e.Kind {
		case Pump:
			x, d := opening(e.place(s.p, s.wide))
			g := 1 / e.R
			out, dFrom, dTo = e.Displaced*x+dp*g, e.Displaced*d/(e.Starts-e.Starves)+g, -g
		case Power:
			power := math.Pow(a, e.N-1)
			s.g[i] = 1 / math.Max(e.R+e.N*e.K*power, 1e-6*e.K*math.Pow(s.largest, e.N-1))
			s.to[i] = q + s.g[i]*(dp-(e.R+e.K*power)*q)
			out, dFrom, dTo = s.to[i], s.g[i], -s.g[i]
		default:
			loss := e.K * a
			slope := e.R + 2*loss
			if least := 1e-6 * e.K * s.largest; slope < least {
				slope = least
			}
			g := 1 / slope
			out = q + g*(dp-(e.R+loss)*q)
			s.g[i], s.to[i] = g, out
			dFrom, dTo = g, -g
			if e.Kind == Spool {
				x, d := opening(e.place(s.p, s.wide))
				d *= q / (e.Span * s.wide)
				for k := range at.senses {
					m := &at.senses[k]
					s.j[m.from] -= d * e.Senses[k].Area
					s.j[m.to] += d * e.Senses[k].Area
				}
				out *= x
				dFrom, dTo = x*g, -x*g
			}
		}
		s.f[at.from] -= out
		s.f[at.to] += out
		s.j[at.ff] -= dFrom
		s.j[at.ft] -= dTo
		s.j[at.tf] += dFrom
		s.j[at.tt] += dTo
	}
}

func (s *Solver) begin() {
	for i, k := range s.node {
		s.f[i] = s.n.Nodes[k].Inflow
	}
}

// balance computes f at p from the flows that the pressures alone give.
func (s *Solver) balance() {
	s.begin()
	largest := s.n.Least
	for i := range s.node {
		if a := math.Abs(s.f[i]); a > largest {
			largest = a
		}
	}
	for i := range s.n.Elements {
		e, at := &s.n.Elements[i], &s.at[i]
		dp := s.p[e.From] - s.p[e.To]
		var q float64
		if e.Kind == Resistor {
			q = passes(dp, e.R, e.K)
			s.most[i] = q
		} else {
			q = e.full(dp)
			s.most[i] = q
			x, _ := opening(e.place(s.p, s.wide))
			switch e.Kind {
			case Spool:
				q *= x
			case Pump:
				q += e.Displaced * x
			}
		}
		s.law[i] = q
		s.f[at.from] -= q
		s.f[at.to] += q
		if a := math.Abs(q); a > largest {
			largest = a
		}
	}
	s.largest = largest
}

func (s *Solver) settled() bool {
	least := s.n.Balance
	if least == 0 {
		least = Balance
	}
	least *= s.largest
	for _, f := range s.f[:len(s.node)] {
		if !(math.Abs(f) <= least) {
			return false
		}
	}
	return true
}

// solve sets step to the solution of (j − slope I) step = −f. It returns the row
// without a pivot, or −1.
//
// The diagonal serves as the pivot, in the order in which little fills in. Where it
// is small against what stands under it, rows must be swapped, which spoils the
// order.
func (s *Solver) solve(slope float64) int {
	m := len(s.node)
	s.load(slope)
	a, x := s.a, s.step
	for k, ahead := range s.order {
		top := a[k*m : k*m+m]
		d := top[k]
		least := math.Abs(d) * swapAt
		for _, i := range ahead {
			if v := math.Abs(a[i*m+k]); !(v <= least) {
				return s.swapping(slope)
			}
		}
		if d == 0 || d-d != 0 {
			return s.swapping(slope)
		}
		for _, i := range ahead {
			row := a[i*m : i*m+m]
			if row[k] == 0 {
				continue
			}
			w := row[k] / d
			for _, c := range ahead {
				row[c] -= w * top[c]
			}
			x[i] -= w * x[k]
		}
	}
	for k := m - 1; k >= 0; k-- {
		top := a[k*m : k*m+m]
		v := x[k]
		for _, c := range s.order[k] {
			v -= top[c] * x[c]
		}
		x[k] = v / top[k]
	}
	return -1
}

// swapAt is how much larger than the diagonal another pivot must be to be taken.
const swapAt = 100

// load puts the system into a and step.
func (s *Solver) load(slope float64) {
	m := len(s.node)
	copy(s.a, s.j)
	for i := range m {
		s.a[i*m+i] -= slope
		s.step[i] = -s.f[i]
	}
}

// swapping solves with swaps of rows.
func (s *Solver) swapping(slope float64) int {
	m := len(s.node)
	s.load(slope)
	a, x := s.a, s.step
	for k := range m {
		pivot, most := k, math.Abs(a[k*m+k])*swapAt
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
