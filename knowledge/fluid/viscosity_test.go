package fluid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func mm2(v float64) quantity.Kinematic {
	return quantity.Kinematic(quantity.SquareMillimetrePerSecond.SI(v))
}

func at(celsius, v float64) Sample { return Sample{quantity.FromCelsius(celsius), mm2(v)} }

func TestKinematicPublished(t *testing.T) {
	tests := []struct {
		source     string
		a, b       Sample
		at         float64 // °C
		want, half float64
	}{
		// The example takes T = t + 273, so a tenth of a millimetre squared is all it can print.
		{"worked example of ASTM D341 (32 mm²/s at 40 °C, 5.4 at 100 °C)", at(40, 32), at(100, 5.4), 80, 8.5, 0.05},
	}
	for _, tt := range tests {
		f, err := New(tt.a, tt.b, TypicalDensity)
		require.NoError(t, err, tt.source)
		got, err := f.Kinematic(quantity.FromCelsius(tt.at))
		require.NoError(t, err, tt.source)
		assert.InDelta(t, tt.want, float64(got)*1e6, tt.half, tt.source)
		reversed, err := New(tt.b, tt.a, TypicalDensity)
		require.NoError(t, err)
		assert.Equal(t, f, reversed, "the order of the samples must not matter")
	}
}

func TestSamplesComeBack(t *testing.T) {
	// Identity: a fluid has the viscosities that it was made of, thin ones too.
	for _, s := range [][2]Sample{{at(40, 29.6), at(100, 6)}, {at(40, 1.1), at(100, 0.45)}, {at(-40, 9000), at(150, 0.22)}, {at(20, 2.5), at(60, 1.4)}} {
		f, err := New(s[0], s[1], TypicalDensity)
		require.NoError(t, err)
		for _, x := range s {
			got, err := f.Kinematic(x.At)
			require.NoError(t, err)
			assert.InEpsilon(t, float64(x.Viscosity), float64(got), 1e-9)
			back, ok, err := f.Crossing(x.Viscosity)
			require.NoError(t, err)
			require.True(t, ok)
			assert.InDelta(t, float64(x.At), float64(back), 1e-6)
		}
	}
}

func TestFluidErrors(t *testing.T) {
	good := [2]Sample{at(40, 29.6), at(100, 6)}
	tests := []struct {
		name    string
		a, b    Sample
		density quantity.Density
		err     string
	}{
		{"too thin", at(40, 0.2), good[1], 855, "fluid: first viscosity 0.2 mm²/s is outside 0.21 mm²/s to 20000000 mm²/s"},
		{"not a number", good[0], at(100, math.NaN()), 855, "fluid: second viscosity not a number is outside 0.21 mm²/s to 20000000 mm²/s"},
		{"too hot", good[0], at(151, 4), 855, "fluid: second temperature 151 °C is outside -40 °C to 150 °C"},
		{"too close", good[0], at(50, 20), 855, "fluid: second temperature 50 °C is outside 60 °C to 150 °C"},
		{"too close below", good[1], at(90, 7), 855, "fluid: second temperature 90 °C is outside -40 °C to 80 °C"},
		{"thickens when hot", good[0], at(100, 30), 855, "fluid: second viscosity 30 mm²/s is outside 0.21 mm²/s to 29.6 mm²/s"},
		{"thins when cold", good[1], at(40, 5), 855, "fluid: second viscosity 5 mm²/s is outside 6 mm²/s to 20000000 mm²/s"},
		{"light", good[0], good[1], 700, "fluid: density at 15 °C 700 kg/m³ is outside 800 kg/m³ to 1164 kg/m³"},
	}
	for _, tt := range tests {
		_, err := New(tt.a, tt.b, tt.density)
		assert.EqualError(t, err, tt.err, tt.name)
	}
	_, err := Fluid{}.Kinematic(300)
	assert.Error(t, err)
	_, err = Fluid{}.Density(300)
	assert.Error(t, err)
	_, _, err = Fluid{}.Crossing(mm2(5))
	assert.Error(t, err)
	f, err := New(good[0], good[1], 855)
	require.NoError(t, err)
	_, err = f.Dynamic(quantity.FromCelsius(151))
	assert.EqualError(t, err, "fluid: temperature 151 °C is outside -40 °C to 150 °C")
}

func TestClasses(t *testing.T) {
	for _, c := range Classes() {
		assert.NotEmpty(t, c.Notes, c.ID)
		d, err := c.Fluid.Dynamic(quantity.FromCelsius(80))
		require.NoError(t, err)
		assert.Greater(t, float64(d), 0.0)
	}
}
