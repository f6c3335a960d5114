package infer

import (
	"errors"
	"fmt"
	"math"
)

// ErrImpossible says that no set of faults can produce the findings, not even
// with the leaks: two findings contradict each other.
var ErrImpossible = errors.New("infer: no set of faults can produce these findings")

// A ContradictionError names a fault that one finding proves and another rules out.
type ContradictionError struct {
	Fault              int
	ProvedBy, RuledOut string // ids of the findings
}

func (e *ContradictionError) Error() string {
	return fmt.Sprintf("infer: fault %d is proved by %s and ruled out by %s", e.Fault, e.ProvedBy, e.RuledOut)
}

// A RangeError names a probability that is not between 0 and 1, or a fault
// index outside the network.
type RangeError struct {
	What  string
	Value float64
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("infer: %s %v is outside its range", e.What, e.Value)
}

// Network is the faults of a catalogue, each present or absent independently
// of the others before anything is known.
type Network struct {
	priors []float64
}

// New returns a network of faults with these prior probabilities.
//
// Each must be at least 0 and less than 1.
// Errors: *RangeError naming the first that is not.
func New(priors []float64) (*Network, error) {
	for i, p := range priors {
		if !(p >= 0 && p < 1) {
			return nil, &RangeError{What: fmt.Sprintf("prior of fault %d", i), Value: p}
		}
	}
	return &Network{priors: append([]float64(nil), priors...)}, nil
}

// Posterior is what is known about the faults after some findings.
type Posterior struct {
	// Marginal holds P(fault present | findings), by fault index.
	Marginal []float64
	// LogEvidence is the natural logarithm of the findings' own probability.
	LogEvidence float64
	// Approximate is true when the findings were too entangled for the exact
	// sum and those that the proved faults already produce were set aside.
	Approximate bool

	network  *Network
	findings []Finding
	proved   []int // by fault: 1 + index of the finding that proves it, or 0
	chain    *chain
}

// Posterior returns the exact posterior given the findings, in whatever order.
//
//	P(faults | findings) ∝ Π P(fault) · Π P(finding | faults)
//
// Findings not seen factorise over the faults; findings seen are summed by
// sweep, a chain over the faults that carries the set of seen signs not yet
// accounted for, so its cost is the number of links times two to the number of
// signs open at once.
//
// Errors: *RangeError, *ContradictionError, ErrImpossible.
// Source: Heckerman 1989, "A tractable inference algorithm for diagnosing
// multiple diseases" (the model and its factorisation); checked against
// enumeration of all fault sets in network_test.go.
func (n *Network) Posterior(findings []Finding) (*Posterior, error) {
	proved, err := n.check(findings)
	if err != nil {
		return nil, err
	}
	p := &Posterior{network: n, findings: findings, proved: proved}
	w, approximate := n.weigh(findings, proved, nil)
	p.Approximate = approximate
	p.chain = newChain(w)
	if err := p.chain.sweep(); err != nil {
		return nil, err
	}
	p.Marginal = p.chain.marginals()
	p.LogEvidence = p.chain.logEvidence
	return p, nil
}

// check validates indexes and probabilities and returns which finding proves
// which fault.
func (n *Network) check(findings []Finding) ([]int, error) {
	proved := make([]int, len(n.priors))
	for f := range findings {
		finding := &findings[f]
		signs := finding.Absent
		if finding.Present != nil {
			signs = append(signs[:len(signs):len(signs)], *finding.Present)
		}
		for _, s := range signs {
			if !(s.Leak >= 0 && s.Leak <= 1) {
				return nil, &RangeError{What: "leak in finding " + finding.ID, Value: s.Leak}
			}
			for _, c := range s.Causes {
				if c.Fault < 0 || c.Fault >= len(n.priors) {
					return nil, &RangeError{What: "fault index in finding " + finding.ID, Value: float64(c.Fault)}
				}
				if !(c.Strength >= 0 && c.Strength <= 1) {
					return nil, &RangeError{What: "strength in finding " + finding.ID, Value: c.Strength}
				}
			}
		}
		for _, i := range append(finding.Proves[:len(finding.Proves):len(finding.Proves)], finding.RulesOut...) {
			if i < 0 || i >= len(n.priors) {
				return nil, &RangeError{What: "fault index in finding " + finding.ID, Value: float64(i)}
			}
		}
		for _, i := range finding.Proves {
			if proved[i] == 0 {
				proved[i] = f + 1
			}
		}
	}
	for f := range findings {
		for _, i := range findings[f].RulesOut {
			if proved[i] != 0 {
				return nil, &ContradictionError{Fault: i, ProvedBy: findings[proved[i]-1].ID, RuledOut: findings[f].ID}
			}
		}
	}
	return proved, nil
}

// weights is the findings brought into the chain's form: how much each fault's
// absence and presence weigh, and the signs seen.
type weights struct {
	absent, present []float64
	seen            []Sign  // causes that can still be present; proved causes are folded into the leak
	log             float64 // logarithm of the factors that touch no fault
}

// maxOpen bounds the signs that may be open at once; 2^maxOpen numbers are kept
// for each fault in the chain.
const maxOpen = 16

// weigh folds findings into weights. Where left is not nil, a seen sign for
// which left(f) is true is one that no unproved fault had a hand in: what the
// proved faults and the leak did about it is left out of the weights.
func (n *Network) weigh(findings []Finding, proved []int, left func(f int) bool) (w weights, approximate bool) {
	w.absent = make([]float64, len(n.priors))
	w.present = make([]float64, len(n.priors))
	for i, p := range n.priors {
		w.absent[i], w.present[i] = 1-p, p
		if proved[i] != 0 {
			// Proof replaces the prior: how rare the fault is no longer matters.
			w.absent[i], w.present[i] = 0, 1
		}
	}
	for f := range findings {
		for _, i := range findings[f].RulesOut {
			w.present[i] = 0
		}
		for _, s := range findings[f].Absent {
			w.notSeen(s)
		}
	}
	var seen []Sign
	for f := range findings {
		s := findings[f].Present
		if s == nil {
			continue
		}
		if left == nil || !left(f) {
			seen = append(seen, *s)
			continue
		}
		for _, c := range s.Causes {
			if proved[c.Fault] == 0 {
				w.present[c.Fault] *= 1 - c.Strength
			}
		}
	}
	w.seen = make([]Sign, 0, len(seen))
	for _, s := range seen {
		silent := 1 - s.Leak
		open := Sign{}
		for _, c := range s.Causes {
			switch {
			case c.Strength == 0 || w.present[c.Fault] == 0:
			case w.absent[c.Fault] == 0:
				silent *= 1 - c.Strength
			default:
				open.Causes = append(open.Causes, c)
			}
		}
		open.Leak = 1 - silent
		if len(open.Causes) == 0 {
			w.log += math.Log(open.Leak)
			continue
		}
		w.seen = append(w.seen, open)
	}
	return w, w.thin()
}

// notSeen folds a sign that was looked for and not found.
func (w *weights) notSeen(s Sign) {
	w.log += math.Log(1 - s.Leak)
	for _, c := range s.Causes {
		w.present[c.Fault] *= 1 - c.Strength
	}
}

// thin sets aside the seen signs that say least about the open faults until the
// chain is narrow enough; it reports whether it had to.
func (w *weights) thin() bool {
	thinned := false
	for len(w.seen) > maxOpen && orderFaults(w).width > maxOpen {
		least := 0
		for j := range w.seen {
			if w.seen[j].Leak > w.seen[least].Leak {
				least = j
			}
		}
		w.seen = append(w.seen[:least], w.seen[least+1:]...)
		thinned = true
	}
	return thinned
}
