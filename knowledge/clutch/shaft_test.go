package clutch

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func TestShaftTorque(t *testing.T) {
	tests := []struct {
		name, source        string
		outer, bore, stress float64 // mm, mm, MPa
		want, halfway       float64 // N·m
	}{
		{"solid, radius 100 mm", "Hibbeler, Mechanics of Materials, 10th ed. in SI, Ex 5.1", 200, 0, 75, 118e3, 500},
		{"tube, radii 75 and 100 mm", "Hibbeler, Mechanics of Materials, 10th ed. in SI, Ex 5.1", 200, 150, 75, 80.5e3, 50},
		{"hollow, 40 over 30 mm", "Philpot, MecMovies, M6.4", 40, 30, 50, 429.51453, 0.5e-3},
		{"solid, 122 mm for 300 kW at 100 rpm; half a unit of 122 mm is 0.35 kN·m", "worked example, torsion of a solid shaft", 122, 0, 80, 28.65e3, 350},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := Shaft{quantity.Length(tt.outer * mm), quantity.Length(tt.bore * mm), 500e6}
			got, err := s.Torque(quantity.Stress(tt.stress * 1e6))
			require.NoError(t, err)
			assert.InDelta(t, tt.want, float64(got), tt.halfway, tt.source)
			back, err := s.Stress(got)
			require.NoError(t, err)
			assert.InEpsilon(t, tt.stress*1e6, float64(back), 1e-12, "round trip")
		})
	}
}

func TestShaftStress(t *testing.T) {
	s := Shaft{114 * mm, 102 * mm, 500e6}
	got, err := s.Stress(5000)
	require.NoError(t, err)
	assert.InDelta(t, 47.86e6, float64(got), 0.005e6, "Philpot, MecMovies, M15.1")
}

// Shigley, Mechanical Engineering Design, eq. 5-21: shear yield is 0.577 of the
// yield strength in tension.
func TestShaftYieldsAtTheShearYield(t *testing.T) {
	s := Shaft{30 * mm, 0, 834e6}
	holds, err := s.Holds()
	require.NoError(t, err)
	stress, err := s.Stress(holds)
	require.NoError(t, err)
	assert.InDelta(t, 0.577, float64(stress/s.Yield), 0.0005)
}

func TestShaftRefuses(t *testing.T) {
	for want, s := range map[string]Shaft{
		"shaft diameter": {1, 0, 834e6},
		"bore diameter":  {0.03, 0.03, 834e6},
		"yield strength": {0.03, 0, quantity.Stress(math.NaN())},
	} {
		_, err := s.Holds()
		var r *quantity.RangeError
		require.ErrorAs(t, err, &r)
		assert.Equal(t, want, r.Name)
	}
	_, err := Shaft{0.03, 0, 834e6}.Stress(-1)
	assert.Error(t, err)
	_, err = Shaft{0.03, 0, 834e6}.Torque(quantity.Stress(math.Inf(1)))
	assert.Error(t, err)
}
