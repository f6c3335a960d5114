package hydraulics_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// The engine speeds of the pressure tests' steps follow from their road speeds.
// Source: rolling without slip, in the trade's own form: rpm = mph · 336 · axle ·
// gear / tire diameter in inches (336 is 63 360 in per mile over 60 min and π).
func TestDrivenEngineSpeed(t *testing.T) {
	for _, x := range []struct {
		mph  float64
		gear unit.Gear
	}{{60, unit.Third}, {41, unit.Third}, {75, unit.Third}} {
		s := hydraulics.Setting{Version: unit.Late, Build: unit.Stock, Range: unit.Drive, Temperature: hydraulics.Hot, Road: quantity.Speed(quantity.MilePerHour.SI(x.mph))}
		state, err := hydraulics.Driven(s)
		require.NoError(t, err)
		require.Equal(t, x.gear, state.Gear)
		assert.InEpsilon(t, x.mph*336.13*3.54/31, quantity.RPM.From(float64(state.Setting.Engine)), 1e-4)
		steady := s
		steady.Engine = state.Setting.Engine
		same, err := hydraulics.Steady(steady)
		require.NoError(t, err)
		for i := range same.Pressures {
			assert.InDelta(t, float64(same.Pressures[i]), float64(state.Pressures[i]), 1, hydraulics.Places[i].ID)
		}
	}
	idle, err := hydraulics.Driven(hydraulics.Setting{Version: unit.Late, Build: unit.Stock, Range: unit.NeutralN, Temperature: hydraulics.Hot, Road: quantity.Speed(quantity.MilePerHour.SI(60))})
	require.NoError(t, err)
	assert.InDelta(t, 700, quantity.RPM.From(float64(idle.Setting.Engine)), 1e-6, "nothing joins engine and wheels in N")
	_, err = hydraulics.Driven(hydraulics.Setting{Version: unit.Late, Build: unit.Stock, Range: "X"})
	require.Error(t, err)
}

func TestGaugeOf(t *testing.T) {
	g, ok := hydraulics.GaugeOf("line-pressure-drive", "line-idle")
	require.True(t, ok)
	assert.Equal(t, "line", g.Port)
	for _, x := range [][2]string{{"cooler-flow-test", "flow"}, {"line-pressure-drive", "third"}, {"no-such", "x"}} {
		_, ok := hydraulics.GaugeOf(x[0], x[1])
		assert.False(t, ok, x)
	}
}
