package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/infer"
)

// Ten observations have 1024 joint outcomes. Taking the least likely as one loses
// information but no probability.
func TestManyObservations(t *testing.T) {
	const n = 10
	p := &Problem{Levels: []Level{{}}, Checks: []Check{{Minutes: 1, Levels: []int{0}}}}
	var s State
	for f := range n {
		p.Checks[0].Observations = append(p.Checks[0].Observations, Observation{Outcomes: []Outcome{
			{Sign: infer.Sign{Leak: 0.1, Causes: []infer.Cause{{Fault: f, Strength: 0.8}}}}, {}}})
		s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: []int{f}, Weight: 1 + float64(f)})
	}
	p.Checks = append(p.Checks, flawless(0, 5))
	sets, weights := canonical(s.Scenarios)
	e := newTable(p, sets, weights).checks[0]
	require.Len(t, e.results, combinations)
	for class := range e.entropy {
		sum, entropy := 0.0, 0.0
		for _, r := range e.results {
			sum += r.chance[class]
			entropy += bits(r.chance[class])
		}
		assert.InDelta(t, 1, sum, 1e-9)
		assert.InDelta(t, entropy, e.entropy[class], 1e-9)
	}
	o := newOptimum(p, s, 0)
	st, _ := o.state(s)
	exact, _ := o.tells(st, 0)
	for _, g := range p.Rank(s) {
		if g.Check == 0 {
			assert.LessOrEqual(t, g.Bits, exact+1e-6)
			assert.GreaterOrEqual(t, g.Bits, 0.8*exact)
		}
	}
}

func TestCanonical(t *testing.T) {
	sets, weights := canonical([]infer.Scenario{
		{Faults: []int{3, 1}, Weight: 1},
		{Faults: []int{2}, Weight: 2},
		{Faults: []int{1, 3, 1}, Weight: 1},
		{Weight: 4},
	})
	assert.Equal(t, [][]int{nil, {1, 3}, {2}}, sets)
	assert.Equal(t, []float64{0.5, 0.25, 0.25}, weights)
}
