package plan_test

import (
	"fmt"

	"provingbench/knowledge/infer"
	"provingbench/knowledge/plan"
)

// A solenoid is either leaking, which shows with the pan off, or has an open coil,
// which an ohmmeter shows at the case plug, and shows there whether or not the pan
// is on.
func ExampleProblem_Rank() {
	const leaking, open = 0, 1
	proof := func(fault int) []plan.Observation {
		sign := infer.Sign{Causes: []infer.Cause{{Fault: fault, Strength: 1}}}
		return []plan.Observation{{Outcomes: []plan.Outcome{{Sign: sign, Proves: []int{fault}}, {}}}}
	}
	p := &plan.Problem{
		Levels: []plan.Level{{}, {Open: 13, Close: 10}, {Open: 30, Close: 35}},
		Checks: []plan.Check{
			{ID: "solenoid-leak-test", Minutes: 10, Levels: []int{2}, Stage: 2, Observations: proof(leaking)},
			{ID: "coil-at-plug", Minutes: 5, Levels: []int{1}, Stage: 1, Observations: proof(open)},
		},
	}
	s := plan.State{Scenarios: []infer.Scenario{
		{Faults: []int{leaking}, Weight: 0.75},
		{Faults: []int{open}, Weight: 0.25},
	}}
	for {
		list := p.Rank(s)
		if len(list) == 0 {
			break
		}
		next := list[0]
		fmt.Printf("%s: %.0f min to get there and do it, %.0f min expected to the end\n",
			p.Checks[next.Check].ID, next.Minutes, next.Expected)
		normal := len(p.Checks[next.Check].Observations[0].Outcomes) - 1
		s = p.After(s, plan.Answer{Check: next.Check, Level: next.Level, Outcomes: []int{normal}})
	}
	// Output:
	// coil-at-plug: 18 min to get there and do it, 48 min expected to the end
	// solenoid-leak-test: 40 min to get there and do it, 40 min expected to the end
}
