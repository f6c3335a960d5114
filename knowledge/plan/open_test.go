package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/infer"
)

// opened is a case with the pan off, 30 minutes to open and 35 to close. Fault 0
// has been proved there; fault 1, whose check is there too, may be present as well,
// and so may fault 2, which is looked for on the wheels.
func opened(second, third, minutes float64) (*Problem, State) {
	p, _ := SingleFault([]float64{0, 0, 0}, []float64{5, minutes, 3})
	p.Levels = []Level{{}, {Open: 30, Close: 35}}
	for c, l := range []int{1, 1, 0} {
		p.Checks[c].Levels = []int{l}
	}
	return p, State{Level: 1, Done: []int{0}, Proved: []int{0}, Scenarios: []infer.Scenario{
		{Faults: []int{0}, Weight: 1 - second - third},
		{Faults: []int{0, 1}, Weight: second},
		{Faults: []int{0, 2}, Weight: third},
	}}
}

func TestWhileOpenBeforeClosingUp(t *testing.T) {
	tests := []struct {
		name          string
		second, third float64
		minutes       float64
		saved         float64 // by hand: probability of coming back, times 30 and 35 minutes
		worth         bool
	}{
		{"worth it", 0.2, 0, 10, 0.2 * 65, true},
		{"just worth it", 0.2, 0, 12.9, 0.2 * 65, true},
		{"just too long", 0.2, 0, 13.1, 0, false},
		{"too improbable", 0.05, 0, 10, 0, false},
		// Once closed up, the quick check on the wheels comes first, and only half of
		// the trucks that are not finished then need the pan off.
		{"the other check first", 0.2, 0.2, 10, 0.2 * 65, true},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, s := opened(tt.second, tt.third, tt.minutes)
			list := p.WhileOpen(s)
			if !tt.worth {
				assert.Empty(t, list)
				return
			}
			require.Len(t, list, 1)
			assert.Equal(t, 1, list[0].Check)
			assert.Equal(t, 1, list[0].Level)
			assert.Equal(t, tt.minutes, list[0].Minutes)
			assert.InDelta(t, tt.saved, list[0].Saved, 1e-6)
		})
	}
}

// Two checks wanted on the same return trip share it.
func TestWhileOpenSharesTheTrip(t *testing.T) {
	p, s := opened(0, 0, 10)
	p.Checks = append(p.Checks, flawless(3, 10))
	p.Checks[3].Levels = []int{1}
	s.Scenarios = []infer.Scenario{{Faults: []int{0}, Weight: 0.6}, {Faults: []int{0, 1, 3}, Weight: 0.4}}
	list := p.WhileOpen(s)
	require.Len(t, list, 2)
	for _, g := range list {
		assert.InDelta(t, 0.4*65/2, g.Saved, 1e-6)
	}
	assert.Equal(t, 1, list[0].Check, "equals in the order of the checks")
}

// Where the work goes on at the present level, its first step is not repeated.
func TestWhileOpenLeavesOutTheNextStep(t *testing.T) {
	p, s := opened(0.6, 0.3, 10)
	require.Equal(t, 1, p.Rank(s)[0].Check)
	for _, g := range p.WhileOpen(s) {
		assert.NotEqual(t, 1, g.Check)
	}
}

// A level that cannot be closed again has no return trip to save.
func TestWhileOpenWithoutAWayBack(t *testing.T) {
	p, s := opened(0.2, 0, 10)
	p.Levels[1].Close = 1e9
	assert.Empty(t, p.WhileOpen(s))
}

func BenchmarkWhileOpen(b *testing.B) {
	p, s := workshop(1, 100, 80, 512)
	s.Level = 2
	for b.Loop() {
		p.WhileOpen(s)
	}
}
