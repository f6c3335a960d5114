package plan

import (
	"math"
	"math/rand/v2"
	"slices"

	"provingbench/knowledge/infer"
)

// Policy says what to do at a state; ok is false if the work ends there.
type Policy func(State) (check, level int, ok bool)

// Next is the policy of doing what Rank lists first.
func (p *Problem) Next(s State) (check, level int, ok bool) {
	list := p.Rank(s)
	if len(list) == 0 {
		return 0, 0, false
	}
	return list[0].Check, list[0].Level, true
}

// InOrder is the policy of doing the given checks one after the other, each at
// the nearest level where it can be done, until the goal is reached.
func (p *Problem) InOrder(checks ...int) Policy {
	return func(s State) (int, int, bool) {
		for _, c := range checks {
			if slices.Contains(s.Done, c) || slices.Contains(s.Refused, c) {
				continue
			}
			best, at := math.Inf(1), -1
			for _, l := range p.Checks[c].Levels {
				if m := p.Travel(p.level(s), l); m < best {
					best, at = m, l
				}
			}
			if at >= 0 {
				return c, at, true
			}
		}
		return 0, 0, false
	}
}

// Expected returns the minutes that a policy is expected to take from s to the
// goal, or to where the policy ends, by following every answer. Its work grows
// with the number of answers to each check to the power of the number of checks;
// for large problems use Simulated. It is 0 if no scenario is left to finish.
//
//	E(s) = travel + minutes + Σ P(answer) · E(after the answer)
//
// Source: Heckerman, Breese & Rommelse 1995, expected cost of repair; checked
// against the orders costed in published_test.go.
func (p *Problem) Expected(policy Policy, s State) float64 {
	whole := total(s.Scenarios)
	if !(whole > 0) {
		return 0
	}
	return p.expected(policy, s) / whole
}

func (p *Problem) expected(policy Policy, s State) float64 {
	s.Scenarios = p.unfinished(s)
	mass := total(s.Scenarios)
	if !(mass > 0) {
		return 0
	}
	check, level, ok := policy(s)
	if !ok {
		return 0
	}
	sum := mass * (p.Travel(p.level(s), level) + duration(p.Checks[check].Minutes))
	p.answers(check, func(outcomes []int) {
		next := p.After(s, Answer{check, level, outcomes})
		if m := total(next.Scenarios); m > negligible*negligible*mass {
			sum += p.expected(policy, next)
		}
	})
	return sum
}

// Simulated returns the mean minutes of a policy over trucks drawn from the
// scenarios of s, and the standard error of that mean. The same seed gives the
// same trucks and, where policies do the same check, the same answers. runs must
// be at least 2, or both results are 0.
//
// Source: Monte Carlo estimate of Expected; checked against it in plan_test.go.
func (p *Problem) Simulated(policy Policy, s State, runs int, seed uint64) (mean, deviation float64) {
	if runs < 2 || !(total(s.Scenarios) > 0) {
		return 0, 0
	}
	sum, squares := 0.0, 0.0
	for i := range runs {
		m, _ := p.run(policy, s, rand.New(rand.NewPCG(seed, uint64(i))), nil)
		sum += m
		squares += m * m
	}
	n := float64(runs)
	mean = sum / n
	return mean, math.Sqrt(max(0, squares/n-mean*mean) / (n - 1))
}

// run draws a truck and follows the policy on it. It calls each, if not nil, with
// every answer and returns the minutes taken and the faults there were.
func (p *Problem) run(policy Policy, s State, draw *rand.Rand, each func(from State, a Answer)) (float64, []int) {
	truth := pick(s.Scenarios, draw.Float64())
	luck := make([]float64, len(p.Checks))
	for c := range luck {
		luck[c] = draw.Float64()
	}
	only := func(s State) bool {
		s.Scenarios = []infer.Scenario{{Faults: truth, Weight: 1}}
		return p.Goal != Isolate && len(p.unfinished(s)) == 0
	}
	minutes := 0.0
	for !only(s) {
		s.Scenarios = p.unfinished(s)
		if len(s.Scenarios) == 0 {
			break
		}
		check, level, ok := policy(s)
		if !ok {
			break
		}
		minutes += p.Travel(p.level(s), level) + duration(p.Checks[check].Minutes)
		var shown []int
		left := luck[check]
		p.answers(check, func(outcomes []int) {
			q := 1.0
			for i, k := range outcomes {
				q *= p.Checks[check].Observations[i].chance(k, truth)
			}
			if q > 0 && left >= 0 {
				shown = slices.Clone(outcomes)
			}
			left -= q
		})
		a := Answer{check, level, shown}
		if each != nil {
			each(s, a)
		}
		s = p.After(s, a)
	}
	return minutes, truth
}

// pick returns the faults of the scenario at the given part of the summed weights.
func pick(list []infer.Scenario, part float64) []int {
	sets, weights := canonical(list)
	for i, w := range weights {
		if part -= w; part < 0 || i == len(sets)-1 {
			return sets[i]
		}
	}
	return nil
}
