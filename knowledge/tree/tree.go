// Package tree is the decision tree of each complaint: which check comes first,
// what it may show and how often, and which check comes after that, until a
// fault is proved. It is for somebody without a phone in reach, or who wants to
// see why the checks come in this order.
//
// A tree is what comes of asking the engine (package diagnosis) again and again,
// so that who gives the live engine the same answers walks the same tree. Asking
// takes some seconds for all complaints; it is done once, when the catalogue
// is compiled, and the trees are carried as numbers (shipped.go).
//
// Every tree begins with one reported symptom on a late truck of stock build, on
// its wheels. Branches that few trucks come to are not drawn: there, the live
// engine goes on.
package tree

import (
	"fmt"
	"math"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// The case that a tree begins with.
const (
	Version = unit.Late
	Build   = unit.Stock
	Level   = "wheels"
)

// How far trees are drawn: the package's own convention, so that one fits on
// two printed pages.
const (
	// Least is the probability of coming to a node from which it is drawn.
	Least = 0.02
	// Worth is the probability of coming to a node from which its next check is
	// drawn too.
	Worth = 0.08
	// Depth is the greatest number of checks on one branch.
	Depth = 12
)

// End says why a branch goes no further.
type End int

// The ends.
const (
	GoesOn      End = iota // it does
	Explained              // what is proved explains the complaint
	NothingLeft            // no check is left that could help
	Cut                    // too few trucks come here, or after too many checks
)

// Node is a place in a tree.
type Node struct {
	Percent  int     // of the trucks that come here
	Spent    int     // minutes on the way here
	Proved   []int   // faults proved on the way, by their index in the catalogue
	Suspects []Share // the likeliest that are not proved
	End      End

	// What is done next, when it goes on.
	Check    int    // index in the catalogue
	Level    int    // where it is done
	Minutes  int    // travel included
	Why      string // the engine's reason
	Branches []Branch
}

// Branch is one thing that the check may show.
type Branch struct {
	Outcomes []int // of each observation, by its index; nil for all that are not drawn
	Percent  int   // of the trucks at the check
	Node     *Node
}

// Share is how likely a fault is.
type Share struct {
	Fault   int // index in the catalogue
	Percent int
}

// A node names so many faults at most, and none that is less likely.
const (
	suspects = 3
	named    = 0.05
)

// Start is the case that the tree of a symptom begins with.
func Start(symptom string) diagnosis.Case {
	return diagnosis.Case{Version: Version, Build: Build, Level: Level, Reports: []diagnosis.Report{{Symptom: symptom}}}
}

// Compile asks the engine what it would do about a symptom, and what after
// each answer, and draws the tree of it.
//
// Errors: those of diagnosis.Engine.
// Source: definition; every drawn branch is followed with the live tool in the
// test of package learn, among the screens.
func Compile(e *diagnosis.Engine, symptom string) (*Node, error) {
	start := Start(symptom)
	standing, err := e.Answer(start)
	if err != nil {
		return nil, fmt.Errorf("tree: %s: %w", symptom, err)
	}
	g := grower{e}
	root, err := g.node(start, standing, 1, 0, 0)
	if err != nil {
		return nil, fmt.Errorf("tree: %s: %w", symptom, err)
	}
	return root, nil
}

type grower struct{ engine *diagnosis.Engine }

func (g grower) node(c diagnosis.Case, standing *diagnosis.Answer, share, spent float64, depth int) (*Node, error) {
	n := &Node{Percent: percent(share), Spent: int(math.Round(spent)), Check: -1, Level: -1, End: Cut}
	for _, f := range standing.Proved {
		n.Proved = append(n.Proved, g.engine.Catalogue.FaultIndex(f.ID))
	}
	for _, s := range standing.Ranked {
		if !s.Proved && len(n.Suspects) < suspects && s.Probability >= named {
			n.Suspects = append(n.Suspects, Share{g.engine.Catalogue.FaultIndex(s.Fault.ID), percent(s.Probability)})
		}
	}
	switch {
	case standing.Clash != "":
		return n, nil
	case standing.Done:
		n.End = Explained
		return n, nil
	case depth >= Depth || share < Worth:
		return n, nil
	}
	answer, err := g.engine.Answer(c)
	if err != nil {
		return nil, err
	}
	if len(answer.Next) == 0 {
		n.End = NothingLeft
		return n, nil
	}
	next := answer.Next[0]
	n.End = GoesOn
	n.Check, n.Level = g.engine.Catalogue.CheckIndex(next.Check.ID), g.engine.Catalogue.LevelIndex(next.Level.ID)
	n.Minutes, n.Why = int(math.Round(next.Minutes)), next.Why
	c.Level = next.Level.ID
	return n, g.grow(n, c, next.Check, share, spent+next.Minutes, depth)
}

// grow draws what the next check may show; spent counts it in.
func (g grower) grow(n *Node, c diagnosis.Case, check *catalogue.Check, share, spent float64, depth int) error {
	branches, err := g.engine.Branches(c, check.ID, Least)
	if err != nil {
		return err
	}
	rest := 1.0
	for _, b := range branches {
		if share*b.Probability < Least {
			continue
		}
		rest -= b.Probability
		with := c
		with.Entries = append(append([]diagnosis.Entry(nil), c.Entries...), b.Entries...)
		child, err := g.node(with, b.Standing, share*b.Probability, spent, depth+1)
		if err != nil {
			return err
		}
		n.Branches = append(n.Branches, Branch{g.outcomes(check, b.Entries), percent(b.Probability), child})
	}
	if rest >= 0.005 {
		n.Branches = append(n.Branches, Branch{nil, percent(rest), &Node{
			Percent: percent(share * rest), Spent: int(math.Round(spent)), End: Cut, Check: -1, Level: -1,
		}})
	}
	return nil
}

// outcomes is the index of each observation's outcome; -1 for an observation
// that was made before.
func (g grower) outcomes(k *catalogue.Check, entries []diagnosis.Entry) []int {
	out := make([]int, len(k.Observations))
	for i := range k.Observations {
		out[i] = -1
		for _, n := range entries {
			if n.Observation != k.Observations[i].ID {
				continue
			}
			for m := range k.Observations[i].Outcomes {
				if k.Observations[i].Outcomes[m].ID == n.Outcome {
					out[i] = m
				}
			}
		}
	}
	return out
}

func percent(p float64) int { return int(math.Round(100 * p)) }

// Entries is what a branch of a check means for a case.
func Entries(k *catalogue.Check, outcomes []int) []diagnosis.Entry {
	var entries []diagnosis.Entry
	for i, m := range outcomes {
		if m >= 0 {
			o := &k.Observations[i]
			entries = append(entries, diagnosis.Entry{Check: k.ID, Observation: o.ID, Outcome: o.Outcomes[m].ID})
		}
	}
	return entries
}

// Count is the number of nodes of a tree.
func (n *Node) Count() int {
	count := 1
	for _, b := range n.Branches {
		count += b.Node.Count()
	}
	return count
}
