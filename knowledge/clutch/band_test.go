package clutch

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// band is a band of which only the wrap matters.
func band(drum, degrees, friction float64) Band {
	return Band{Servo: 0.06, Lever: 1, Drum: quantity.Length(drum * mm), Wrap: quantity.Turns(degrees / 360), Friction: quantity.Ratio(friction)}
}

func TestBandTorque(t *testing.T) {
	tests := []struct {
		name, source  string
		b             Band
		tension       float64
		energised     bool
		want, halfway float64
	}{
		{"240°, the slack end has 5263.797 N", "Bhandari, Design of Machine Elements, Ex 12.10", band(600, 240, 0.25), 5263.797108, true, 2920.860868, 0.5e-3},
		{"240°, the tight end has 15 kN", "Bhandari, Design of Machine Elements, Ex 12.10", band(600, 240, 0.25), 15000, false, 2920.860868, 0.5e-6},
		{"5/8 of the drum, 2500 N at the tight end; the answer is worked with e^(μθ) = 2.67, which is 0.0011 too much and moves it 0.08 N·m", "worked answer of a diploma examination, simple band brake", band(400, 225, 0.25), 2500, false, 312.74, 0.085},
		{"half the drum, 400 N at the tight end", "graduate engineering examination, band brake of 0.5 m", band(500, 180, 0.25), 400, false, 54.4, 0.05},
		{"215°, 168 N at the slack end", "worked exercise, band brake of 120 mm; the angle is rounded", band(120, 215, 0.25), 168, true, 15.676, 0.5e-3},
		{"270°, 11.56 kN at the tight end for 1000 N·m", "graduate engineering examination, band brake of 250 mm; half a unit of 11.56 kN is 0.4 N·m", band(250, 270, 0.25), 11560, false, 1000, 0.45},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.b.Torque(quantity.Force(tt.tension), tt.energised)
			require.NoError(t, err, tt.source)
			assert.InDelta(t, tt.want, float64(got), tt.halfway, tt.source)
		})
	}
}

// Identity: energised is e^(μθ) times as much as not energised.
func TestEnergisedGainsTheWholeRatio(t *testing.T) {
	b := band(160, 300, 0.13)
	with, err := b.Torque(1000, true)
	require.NoError(t, err)
	against, err := b.Torque(1000, false)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Exp(0.13*300*math.Pi/180), float64(with/against), 1e-12)
}

// Lever rule, exact by construction: 2 in² at 100 psi less 40 lbf, four to one.
func TestBandTension(t *testing.T) {
	b := band(160, 300, 0.13)
	b.Servo = quantity.Length(quantity.Inch.SI(math.Sqrt(2 * 4 / math.Pi)))
	b.Spring, b.Lever = quantity.Force(quantity.PoundForce.SI(40)), 4
	f, err := b.Tension(quantity.Pressure(quantity.PSI.SI(100)))
	require.NoError(t, err)
	assert.InDelta(t, 640, quantity.PoundForce.From(float64(f)), 1e-6)
	f, err = b.Tension(quantity.Pressure(quantity.PSI.SI(19)))
	require.NoError(t, err)
	assert.Zero(t, f, "the return spring is stronger")
	for _, energised := range []bool{true, false} {
		p, err := b.SlipPressure(321, energised)
		require.NoError(t, err)
		got, err := b.Holds(p, energised)
		require.NoError(t, err)
		assert.InEpsilon(t, 321, float64(got), 1e-12)
	}
}

func TestBandRefuses(t *testing.T) {
	tests := []struct {
		spoil func(*Band)
		want  string
	}{
		{func(b *Band) { b.Servo = 2 }, "servo diameter"},
		{func(b *Band) { b.Rod = b.Servo }, "rod diameter"},
		{func(b *Band) { b.Spring = quantity.Force(math.NaN()) }, "spring force"},
		{func(b *Band) { b.Lever = -1 }, "lever ratio"},
		{func(b *Band) { b.Drum = 0 }, "drum diameter"},
		{func(b *Band) { b.Wrap = 4 }, "wrap"},
		{func(b *Band) { b.Friction = 0 }, "coefficient of friction"},
	}
	for _, tt := range tests {
		b := band(160, 300, 0.13)
		tt.spoil(&b)
		_, err := b.Holds(500e3, true)
		var r *quantity.RangeError
		require.ErrorAs(t, err, &r)
		assert.Equal(t, tt.want, r.Name)
	}
}
