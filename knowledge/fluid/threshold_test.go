package fluid

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func TestThresholdsArePublishedFigures(t *testing.T) {
	byID := map[string]Threshold{}
	for _, th := range Thresholds() {
		byID[th.ID] = th
		assert.NotEmpty(t, th.Name)
		assert.NotEmpty(t, th.Means)
		assert.NotEmpty(t, th.From)
		assert.NotEqual(t, th.Kinematic == 0, th.Dynamic == 0, "one of the two: %s", th.ID)
	}
	// SAE 710838, abstract: 5.5 cs at 210 °F, 55 000 cp at −40 °F.
	assert.Equal(t, mm2(5.5), byID["used-fluid"].Kinematic)
	assert.InDelta(t, quantity.MillipascalSecond.SI(55000), float64(byID["cold-limit"].Dynamic), 1e-9)
	// 7 500 Saybolt seconds lie between 7 000 and 8 000, which are 1 540 and
	// 1 760 mm²/s in the Hydraulic Institute's table.
	pump := mm(byID["pump-start"].Kinematic)
	assert.Greater(t, pump, 1540.0)
	assert.Less(t, pump, 1760.0)
}

func TestReaches(t *testing.T) {
	heavy, err := New(at(40, 90), at(100, 9), 880)
	require.NoError(t, err)
	fluids := []Fluid{Classes()[0].Fluid, Classes()[1].Fluid, heavy}
	found := 0
	for _, f := range fluids {
		for _, th := range Thresholds() {
			at, ok, err := f.Reaches(th)
			require.NoError(t, err)
			if !ok {
				continue
			}
			found++
			// Identity: at that temperature the fluid has the viscosity asked for.
			if th.Dynamic > 0 {
				v, err := f.Dynamic(at)
				require.NoError(t, err)
				assert.InEpsilon(t, float64(th.Dynamic), float64(v), 1e-6)
			} else {
				v, err := f.Kinematic(at)
				require.NoError(t, err)
				assert.InEpsilon(t, float64(th.Kinematic), float64(v), 1e-6)
			}
		}
	}
	assert.GreaterOrEqual(t, found, 7)
	// A fluid that has just what the paper asks at 210 °F reaches it there.
	just, err := New(at(40, 26), Sample{fahrenheit(210), mm2(5.5)}, TypicalDensity)
	require.NoError(t, err)
	for _, th := range Thresholds() {
		if th.ID == "used-fluid" {
			at, ok, err := just.Reaches(th)
			require.NoError(t, err)
			require.True(t, ok)
			assert.InDelta(t, float64(fahrenheit(210)), float64(at), 1e-6)
		}
	}
	_, _, err = Fluid{}.Reaches(Thresholds()[0])
	assert.Error(t, err)
}
