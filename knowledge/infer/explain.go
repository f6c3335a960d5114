package infer

import (
	"math"
	"slices"
)

// Shift is how far one finding moved one fault.
type Shift struct {
	Finding int
	Fault   int
	// Bits is the finding's weight of evidence for the fault given all the
	// other findings: the change of its log-odds in bits. +1 doubles the odds.
	Bits float64
	// Without is P(fault | all findings but this one).
	Without float64
}

// Account returns, for each fault in faults, how far each finding moved it:
//
//	bits = log2( odds(fault | all findings) / odds(fault | all findings but this) )
//
// The answer does not depend on the order in which the findings came. A fault
// that is certain either way has no shift and is left out.
// Errors: those of Network.Posterior.
// Source: Good 1950, "Probability and the Weighing of Evidence" (weight of
// evidence); checked against enumeration in network_test.go.
func (p *Posterior) Account(faults []int) ([]Shift, error) {
	var shifts []Shift
	for f := range p.findings {
		others := slices.Delete(slices.Clone(p.findings), f, f+1)
		without, err := p.network.Posterior(others)
		if err != nil {
			return nil, err
		}
		for _, i := range faults {
			bits := math.Log2(odds(p.Marginal[i]) / odds(without.Marginal[i]))
			if math.IsNaN(bits) || math.IsInf(bits, 0) {
				continue
			}
			shifts = append(shifts, Shift{Finding: f, Fault: i, Bits: bits, Without: without.Marginal[i]})
		}
	}
	return shifts, nil
}

func odds(p float64) float64 { return p / (1 - p) }

// Explained returns how probable it is that the proved faults are all there is
// to everything reported: that they produced it and that no fault still
// unproved had a hand in it. If so, repairing what is proved ends the complaint.
// Reports that nothing in the catalogue produced can't be explained by it and
// count neither way:
//
//	A = P(proved faults produce every reported finding, no unproved fault any | findings)
//	U = P(an unproved fault produces some reported finding | findings)
//	explained = A / (A + U)
//
// It is 1 when nothing was reported and 0 when a reported finding has no
// proved cause.
// Errors: those of Network.Posterior.
// Source: the causal reading of the noisy-OR, Pearl 1988, "Probabilistic
// Reasoning in Intelligent Systems", 4.3; checked against enumeration of fault
// sets and of what each fault produced in network_test.go.
func (p *Posterior) Explained() (float64, error) {
	return p.explained(func(f int) bool { return p.findings[f].Reported })
}

// ExplainedFinding returns the same for the single finding with index f.
// Errors: those of Network.Posterior.
// Source: as for Explained, with one finding as all that was reported; checked
// against enumeration in network_test.go.
func (p *Posterior) ExplainedFinding(f int) (float64, error) {
	return p.explained(func(g int) bool { return g == f })
}

func (p *Posterior) explained(which func(f int) bool) (float64, error) {
	w, _ := p.network.weigh(p.findings, p.proved, which)
	c := newChain(w)
	var untouched float64 // P(no unproved fault acts on any of them), but for what the others did
	switch err := c.sweep(); err {
	case nil:
		untouched = math.Exp(c.logEvidence - p.LogEvidence)
	case ErrImpossible:
	default:
		return 0, err
	}
	all, some := untouched, untouched
	for f, finding := range p.findings {
		if finding.Present == nil || !which(f) {
			continue
		}
		silent := 1.0 // probability that no proved fault produces it
		for _, c := range finding.Present.Causes {
			if p.proved[c.Fault] != 0 {
				silent *= 1 - c.Strength
			}
		}
		all *= 1 - silent
		some *= 1 - silent*(1-finding.Present.Leak)
	}
	if all == 0 {
		return 0, nil
	}
	return all / (all + max(0, 1-some)), nil
}

// Scenarios returns at most n sets of faults that could be what is wrong, with
// weights that sum to 1: the posterior in a form that a plan can be tried on.
// The sets are taken at n even steps through the exact posterior, so the same
// findings always give the same sets. Faults that no seen sign depends on are
// left out; they explain nothing.
func (p *Posterior) Scenarios(n int) []Scenario {
	certain := make([]int, 0, 4)
	for i := range p.proved {
		if p.proved[i] != 0 {
			certain = append(certain, i)
		}
	}
	weight := map[string]*Scenario{}
	var out []*Scenario
	var key []byte
	for k := range n {
		faults := append(p.chain.draw((float64(k)+0.5)/float64(n)), certain...)
		slices.Sort(faults)
		faults = slices.Compact(faults)
		key = key[:0]
		for _, i := range faults {
			key = append(key, byte(i), byte(i>>8), byte(i>>16))
		}
		if s, ok := weight[string(key)]; ok {
			s.Weight += 1 / float64(n)
			continue
		}
		s := &Scenario{Faults: faults, Weight: 1 / float64(n)}
		weight[string(key)] = s
		out = append(out, s)
	}
	scenarios := make([]Scenario, len(out))
	for k, s := range out {
		scenarios[k] = *s
	}
	return scenarios
}
