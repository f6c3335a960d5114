package plan

import (
	"provingbench/knowledge/infer"
)

// SingleFault returns the problem of finding the one part that is faulty, where
// part i is so with the given probability and a flawless check of it takes the
// given minutes. All checks are at one level. The best order is that of falling
// probability per minute. The slices must be of equal length.
//
// Source: Kadane & Simon 1977; checked against a published example in
// published_test.go.
func SingleFault(probability, minutes []float64) (*Problem, State) {
	p := &Problem{Levels: []Level{{}}, Goal: ProveAll}
	var s State
	for i, m := range minutes {
		p.Checks = append(p.Checks, flawless(i, m))
		s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: []int{i}, Weight: probability[i]})
	}
	return p, s
}

// Series returns the problem of a series of tests that ends at the first failure,
// where test i fails with the given probability whatever the others do. The best
// order is that of rising minutes per probability of failure. The slices must be
// of equal length, of at most 16.
//
// Source: Kadane & Simon 1977; checked against a published example in
// published_test.go.
func Series(failure, minutes []float64) (*Problem, State) {
	p := &Problem{Levels: []Level{{}}, Goal: ProveOne}
	for i, m := range minutes {
		p.Checks = append(p.Checks, flawless(i, m))
	}
	var s State
	for set := range uint(1) << len(minutes) {
		sc := infer.Scenario{Weight: 1}
		for i, f := range failure {
			if set>>i&1 == 1 {
				sc.Faults = append(sc.Faults, i)
				sc.Weight *= f
			} else {
				sc.Weight *= 1 - f
			}
		}
		s.Scenarios = append(s.Scenarios, sc)
	}
	return p, s
}

func flawless(fault int, minutes float64) Check {
	return Check{
		Minutes: minutes,
		Levels:  []int{0},
		Observations: []Observation{{Outcomes: []Outcome{
			{Sign: infer.Sign{Causes: []infer.Cause{{Fault: fault, Strength: 1}}}, Proves: []int{fault}},
			{},
		}}},
	}
}
