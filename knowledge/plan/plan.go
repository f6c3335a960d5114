// Package plan answers one question for the technician: which check next, and
// from which access level?
//
// A check costs its own minutes and those of getting to a level where it can be
// done. Levels form a chain (on its wheels, raised, pan off, unit out …): going
// deeper costs the openings on the way, coming back the closings. What a check
// would show is known only as a probability for each set of faults that may be
// present; those sets, with their weights, are the scenarios that package infer
// leaves after everything found so far.
//
// # Method
//
// Without any limit on work the question is a decision problem over information
// states and is solved by [Optimum]. [Problem.Rank] searches the same tree as
// far as a fixed allowance of work goes: a small problem to its end, a large one
// a step or two. Where the search stops, the minutes still to come are estimated
// by the best simple series of proving checks, in falling order of probability
// over cost, with the checks behind one cover taken as a cluster that shares the
// opening. The allowance is counted in operations, not in seconds, so the same
// state gets the same ranking on every machine.
//
// The trade's order of work is a constraint and not a suggestion; see
// [Problem.Rank].
//
// # What is assumed
//
// Given the faults, what one check shows is independent of what another shows,
// and a check done twice shows the same again, so none is done twice. Minutes are
// fixed. Whether everything wrong has been found is seen without cost once all
// of it is proved: the unit is repaired and the complaint is gone. What a repair
// costs, what a wrong part costs, and putting the unit back together at the end
// are left out, because they are the same whichever way the fault is found. So
// are hazards: a check that must come late because it is dangerous needs a later
// stage.
//
// # Sources
//
//   - J. B. Kadane, H. A. Simon, "Optimal strategies for a class of constrained
//     sequential problems", Annals of Statistics 5 (1977): order by probability
//     over cost.
//   - D. Heckerman, J. S. Breese, K. Rommelse, "Decision-theoretic
//     troubleshooting", Communications of the ACM 38 (1995): value of an
//     observation as the saving in the expected cost of the series after it.
//   - T. J. Ottosen, F. V. Jensen, "The cost of troubleshooting cost clusters with
//     inside information", arXiv 1203.3502 (2010): checks behind a cover that has
//     to be opened.
//   - K. R. Pattipati, M. G. Alexandridis, "Application of heuristic search and
//     information theory to sequential fault diagnosis", IEEE Transactions on
//     Systems, Man, and Cybernetics 20 (1990): AND/OR search with information
//     heuristics.
package plan

import (
	"fmt"
	"math"

	"provingbench/knowledge/infer"
)

// BearsOn is the least information, in bits about the set of faults, for a check
// to count as bearing on the case and so to hold back checks of later stages. It
// is what a flawless check for a fault present in one case of five hundred tells:
// a convention of this package, not a published figure.
const BearsOn = 0.02

// Effort is the allowance of work of one ranking where a Problem names none,
// counted in elementary operations. It keeps a ranking of 80 checks over 512
// scenarios within some milliseconds.
const Effort = 4_000_000

// negligible is the probability, or the information in bits, below which nothing
// is gained or expected. It is far above rounding error and far below anything
// that a person would act on.
const negligible = 1e-9

// Goal says when the work is finished.
type Goal int

const (
	// ProveAll is reached when every fault that is present has been proved.
	ProveAll Goal = iota
	// ProveOne is reached with the first fault proved, or when no check is left
	// that could prove one: a series of tests that stops at the first failure.
	ProveOne
	// Isolate is reached when a single set of faults is left, proved or not.
	Isolate
)

// Level is an access level. The first of a chain is where the truck comes in.
type Level struct {
	Open  float64 // minutes from the level before to this one; not used for the first
	Close float64 // minutes back to the level before; not used for the first
}

// Outcome is one thing that an observation can show. It is seen if its sign
// fires and no sign before it did. An outcome that proves faults is never seen
// without all of them.
type Outcome struct {
	Sign   infer.Sign
	Proves []int // faults
}

// Observation is one thing to be looked at. If no outcome's sign fires, the last
// outcome is seen, whose own sign is not used.
type Observation struct {
	Outcomes []Outcome
}

// Check is something that can be done to the truck.
type Check struct {
	ID           string
	Minutes      float64 // once its level is reached
	Levels       []int   // where it can be done
	Stage        int     // place in the trade's order; the preliminary checks have the lowest
	Bears        float64 // bits for it to hold back later stages; the Problem's if zero
	Observations []Observation
}

// Problem is the part of a case that findings don't change.
type Problem struct {
	Levels []Level
	Checks []Check
	Goal   Goal

	Bears  float64 // bits for a check to hold back later stages; BearsOn if zero
	Effort int     // allowance of work of one ranking; the constant Effort if zero
}

// State is what is known and done so far.
type State struct {
	Level     int   // where the truck is
	Done      []int // checks done
	Refused   []int // checks that cannot be done here
	Proved    []int // faults
	Scenarios []infer.Scenario
}

// RangeError reports a figure in a Problem that has no meaning.
type RangeError struct {
	Quantity string
	Value    float64
	Low      float64
	High     float64
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("plan: %s %v is outside %v to %v", e.Quantity, e.Value, e.Low, e.High)
}

// Validate returns a *RangeError for the first figure of p that has no meaning:
// minutes that are negative or not a number, levels outside the chain,
// probabilities outside 0 to 1, an observation without outcomes. Infinite minutes
// are legal and mean that a level or check is out of reach.
//
// Nothing else in this package needs a valid Problem: what has no meaning is never
// suggested.
func (p *Problem) Validate() error {
	minutes := func(what string, v float64) error {
		if !(v >= 0) {
			return &RangeError{what, v, 0, math.Inf(1)}
		}
		return nil
	}
	probability := func(what string, v float64) error {
		if !(v >= 0 && v <= 1) {
			return &RangeError{what, v, 0, 1}
		}
		return nil
	}
	for i, l := range p.Levels {
		if err := minutes(fmt.Sprintf("minutes to open level %d", i), l.Open); err != nil {
			return err
		}
		if err := minutes(fmt.Sprintf("minutes to close level %d", i), l.Close); err != nil {
			return err
		}
	}
	for _, c := range p.Checks {
		if err := minutes("minutes of check "+c.ID, c.Minutes); err != nil {
			return err
		}
		for _, l := range c.Levels {
			if l < 0 || l >= len(p.Levels) {
				return &RangeError{"level of check " + c.ID, float64(l), 0, float64(len(p.Levels) - 1)}
			}
		}
		for _, o := range c.Observations {
			if len(o.Outcomes) == 0 {
				return &RangeError{"outcomes in check " + c.ID, 0, 1, math.Inf(1)}
			}
			for _, out := range o.Outcomes {
				if err := probability("leak in check "+c.ID, out.Sign.Leak); err != nil {
					return err
				}
				for _, cause := range out.Sign.Causes {
					if err := probability("strength in check "+c.ID, cause.Strength); err != nil {
						return err
					}
				}
			}
		}
	}
	return nil
}

// Travel returns the minutes from level a to level b: the sum of the openings on
// the way in, or of the closings on the way out. A level outside the chain is
// infinitely far from every other.
//
// Source: definition; the covers of Ottosen & Jensen 2010 in a chain.
func (p *Problem) Travel(a, b int) float64 {
	if a == b {
		return 0
	}
	if a < 0 || b < 0 || a >= len(p.Levels) || b >= len(p.Levels) {
		return math.Inf(1)
	}
	sum := 0.0
	for i := a + 1; i <= b; i++ {
		sum += duration(p.Levels[i].Open)
	}
	for i := b + 1; i <= a; i++ {
		sum += duration(p.Levels[i].Close)
	}
	return sum
}

// level is where the truck is at s, the nearest level if there is none such.
func (p *Problem) level(s State) int {
	return max(0, min(s.Level, len(p.Levels)-1))
}

func (p *Problem) bears(check int) float64 {
	switch own := p.Checks[check].Bears; {
	case own > 0:
		return own
	case p.Bears > 0:
		return p.Bears
	}
	return BearsOn
}

func (p *Problem) effort() int {
	if p.Effort > 0 {
		return p.Effort
	}
	return Effort
}

// farthest is the most minutes that anything can take and still be within reach:
// about two years.
const farthest = 1e6

// duration takes minutes that mean nothing as out of reach, so that bad data
// cannot make a check look cheap.
func duration(v float64) float64 {
	if !(v >= 0 && v <= farthest) {
		return math.Inf(1)
	}
	return v
}

// chance takes a probability that means nothing as none.
func chance(v float64) float64 {
	switch {
	case !(v > 0):
		return 0
	case v > 1:
		return 1
	}
	return v
}
