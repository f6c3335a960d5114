package plan

import (
	"slices"

	"provingbench/knowledge/infer"
)

// Answer is what one check showed: the outcome of each of its observations.
type Answer struct {
	Check    int
	Level    int
	Outcomes []int
}

// After returns the state that s becomes when the answer is given. Scenarios are
// weighted by how likely they make it, and those that exclude it go; the weights
// are not brought back to a sum of one, so that their sum over that of s is the
// probability of the answer. An answer that doesn't fit the check leaves no
// scenario.
//
//	weight' = weight · Π P(outcome | faults) over the observations
//
// Source: Bayes' rule; P(outcome | faults) as in package infer.
func (p *Problem) After(s State, a Answer) State {
	next := State{
		Level:   a.Level,
		Done:    append(slices.Clone(s.Done), a.Check),
		Refused: s.Refused,
		Proved:  slices.Clone(s.Proved),
	}
	if a.Check < 0 || a.Check >= len(p.Checks) || len(a.Outcomes) != len(p.Checks[a.Check].Observations) {
		return next
	}
	for i, k := range a.Outcomes {
		o := &p.Checks[a.Check].Observations[i]
		if k < 0 || k >= len(o.Outcomes) {
			return next
		}
		if k < len(o.Outcomes)-1 {
			next.Proved = append(next.Proved, o.Outcomes[k].Proves...)
		}
	}
	slices.Sort(next.Proved)
	next.Proved = slices.Compact(next.Proved)
	for _, sc := range s.Scenarios {
		w := sc.Weight
		for i, k := range a.Outcomes {
			w *= p.Checks[a.Check].Observations[i].chance(k, sc.Faults)
		}
		if w > 0 {
			next.Scenarios = append(next.Scenarios, infer.Scenario{Faults: sc.Faults, Weight: w})
		}
	}
	return next
}

// chance is the probability of outcome k where the given faults are present and
// no others.
//
//	P(k) = T_k · Π (1 - T_j) over j < k,   T = 1 - (1 - leak) · Π (1 - strength)
func (o *Observation) chance(k int, faults []int) float64 {
	p := 1.0
	for j := range k {
		p *= 1 - o.fires(j, faults)
	}
	if k < len(o.Outcomes)-1 {
		p *= o.fires(k, faults)
	}
	return p
}

func (o *Observation) fires(k int, faults []int) float64 {
	out := &o.Outcomes[k]
	if !includes(faults, out.Proves) {
		return 0
	}
	quiet := 1 - chance(out.Sign.Leak)
	for _, cause := range out.Sign.Causes {
		if slices.Contains(faults, cause.Fault) {
			quiet *= 1 - chance(cause.Strength)
		}
	}
	return 1 - quiet
}

// answers calls yield with every combination of outcomes of a check.
func (p *Problem) answers(check int, yield func(outcomes []int)) {
	obs := p.Checks[check].Observations
	at := make([]int, len(obs))
	for _, o := range obs {
		if len(o.Outcomes) == 0 {
			return
		}
	}
	for {
		yield(at)
		i := len(at) - 1
		for ; i >= 0; i-- {
			if at[i]++; at[i] < len(obs[i].Outcomes) {
				break
			}
			at[i] = 0
		}
		if i < 0 {
			return
		}
	}
}

// Unfinished returns the probability that at s the goal is not reached, 0 if there
// are no scenarios.
//
//	P = Σ weight of the scenarios in which it is not / Σ weight
//
// Source: definition.
func (p *Problem) Unfinished(s State) float64 {
	_, weights := canonical(p.unfinished(s))
	if len(weights) == 0 {
		return 0
	}
	return min(1, total(p.unfinished(s))/total(s.Scenarios))
}

// unfinished returns the scenarios of s in which the goal is not reached.
func (p *Problem) unfinished(s State) []infer.Scenario {
	var open []infer.Scenario
	for _, sc := range s.Scenarios {
		if !counts(sc.Weight) {
			continue
		}
		if p.Goal == ProveAll && includes(s.Proved, sc.Faults) || p.Goal == ProveOne && len(s.Proved) > 0 {
			continue
		}
		open = append(open, sc)
	}
	if p.Goal == Isolate {
		if sets, _ := canonical(open); len(sets) <= 1 {
			return nil
		}
	}
	return open
}

func total(list []infer.Scenario) float64 {
	sum := 0.0
	for _, sc := range list {
		if counts(sc.Weight) {
			sum += sc.Weight
		}
	}
	return sum
}
