package plan

import (
	"cmp"
	"slices"

	"provingbench/knowledge/order"
)

// End says why a branch of a decision tree goes no further.
type End int

const (
	// GoesOn: it does; there is a check to do.
	GoesOn End = iota
	// Finished: the goal is reached, or it is improbable enough that it is not.
	Finished
	// NothingLeft: no check left could bring the goal nearer.
	NothingLeft
	// Cut: the branch is too improbable or too long to be drawn.
	Cut
)

// Limits bound a decision tree. Those that are zero have the value given.
type Limits struct {
	Probability float64 // of coming to a node, for it to be drawn: 0.01
	Depth       int     // checks on one branch: 12
	Unfinished  float64 // probability below which a branch counts as finished: 0.1

	// Policy is followed in the place of Rank.
	Policy Policy
	// Condition gives the state after some answers in the place of After, so that
	// the scenarios can be drawn afresh from the exact posterior at every node.
	Condition func(answers []Answer) State
}

// Node is a place in a decision tree.
type Node struct {
	Probability float64 // of coming here
	Spent       float64 // minutes on the way here
	Unfinished  float64 // probability, once here, that the goal is not reached
	Proved      []int   // faults proved on the way here
	Faults      []Share // what is wrong, as far as known here, the likeliest first
	End         End

	// What is done next, unless the branch ends.
	Check    int
	Level    int
	Minutes  float64 // travel included
	Branches []Branch
}

// Branch is what a check may show, with the probability of it among trucks that
// are not finished.
type Branch struct {
	Outcomes    []int // one for each observation; nil for all that are too improbable to be drawn
	Probability float64
	Node        *Node
}

// Share is the probability that a fault is present.
type Share struct {
	Fault       int
	Probability float64
}

// Compile returns the decision tree that comes of following the ranking from s:
// at every node the check that Rank lists first there. Branches end where the goal
// is reached and where the limits cut them. A node that is not certain to be
// finished goes on for the trucks that are not; what its branches say is about
// those.
//
// Source: definition; what a tree costs is checked against Expected in
// tree_test.go.
func (p *Problem) Compile(s State, l Limits) *Node {
	if l.Probability <= 0 {
		l.Probability = 0.01
	}
	if l.Depth <= 0 {
		l.Depth = 12
	}
	if l.Unfinished <= 0 {
		l.Unfinished = 0.1
	}
	if l.Policy == nil {
		l.Policy = p.Next
	}
	g := grower{p, l}
	return g.node(s, 1, 0, nil)
}

type grower struct {
	p *Problem
	Limits
}

func (g *grower) node(s State, probability, spent float64, answers []Answer) *Node {
	n := &Node{
		Probability: probability,
		Spent:       spent,
		Unfinished:  g.p.Unfinished(s),
		Proved:      slices.Sorted(slices.Values(s.Proved)),
		Faults:      shares(s),
		Check:       -1,
		Level:       s.Level,
	}
	if n.Unfinished < g.Limits.Unfinished {
		n.End = Finished
		return n
	}
	going := probability * n.Unfinished
	if going < g.Limits.Probability || len(answers) >= g.Depth {
		n.End = Cut
		return n
	}
	check, level, ok := g.Policy(s)
	if !ok {
		n.End = NothingLeft
		return n
	}
	n.Check, n.Level = check, level
	n.Minutes = g.p.Travel(g.p.level(s), level) + duration(g.p.Checks[check].Minutes)
	open := s
	open.Scenarios = g.p.unfinished(s)
	mass := total(open.Scenarios)
	rest := 0.0
	g.p.answers(check, func(outcomes []int) {
		a := Answer{check, level, slices.Clone(outcomes)}
		next := g.p.After(open, a)
		q := total(next.Scenarios) / mass
		switch {
		case q <= negligible:
			return
		case going*q < g.Limits.Probability:
			rest += q
			return
		}
		path := append(slices.Clone(answers), a)
		if g.Condition != nil {
			next = g.Condition(path)
		}
		n.Branches = append(n.Branches, Branch{a.Outcomes, q, g.node(next, going*q, spent+n.Minutes, path)})
	})
	if rest > 0 {
		n.Branches = append(n.Branches, Branch{nil, rest, &Node{
			Probability: going * rest, Spent: spent + n.Minutes, Unfinished: 1, Proved: n.Proved,
			End: Cut, Check: -1, Level: level,
		}})
	}
	return n
}

// shares sums the scenarios of s by fault.
func shares(s State) []Share {
	sets, weights := canonical(s.Scenarios)
	sum := make(map[int]float64)
	for i, set := range sets {
		for _, f := range set {
			sum[f] += weights[i]
		}
	}
	list := make([]Share, 0, len(sum))
	for f, w := range sum {
		list = append(list, Share{f, w})
	}
	order.Stable(list, func(a, b Share) int {
		return cmp.Or(cmp.Compare(digits(b.Probability), digits(a.Probability)), cmp.Compare(a.Fault, b.Fault))
	})
	return list
}
