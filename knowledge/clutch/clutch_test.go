package clutch

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

const mm = 1e-3

// disc is a clutch of which only the lining matters.
func disc(outer, inner, friction float64, faces int) Disc {
	return Disc{
		PistonOuter: 0.1, Lever: 1, Faces: quantity.Count(faces),
		Outer: quantity.Length(outer * mm), Inner: quantity.Length(inner * mm), Friction: quantity.Ratio(friction),
	}
}

func TestDiscTorque(t *testing.T) {
	tests := []struct {
		name, source  string
		d             Disc
		clamp         float64
		law           Law
		want, halfway float64
	}{
		{"one face, run in", "Bhandari, Design of Machine Elements, Ex 11.1", disc(200, 100, 0.2, 1), 15707.963, Wear, 235.619, 0.5e-3},
		{"one face, new", "Bhandari, Design of Machine Elements, Ex 11.2", disc(200, 100, 0.2, 1), 23561.945, Pressure, 366.519, 0.5e-3},
		{"nine springs of 800 N, two faces, new: 2.164 times 250 N·m", "Bhandari, Design of Machine Elements, Ex 11.6", disc(250, 175, 0.35, 2), 7200, Pressure, 2.164 * 250, 0.0005 * 250},
		{"the same worn: 2.142 times", "Bhandari, Design of Machine Elements, Ex 11.6", disc(250, 175, 0.35, 2), 7200, Wear, 2.142 * 250, 0.0005 * 250},
		{"five steel and four bronze plates", "Bhandari, Design of Machine Elements, Ex 11.8", disc(150, 75, 0.1, 8), 2650.718801, Wear, 119.282346066, 0.5e-6},
		{"five plates, four faces; the book's π is short", "Khurmi and Gupta, Theory of Machines, multiplate clutch, as reprinted", disc(250, 150, 0.3, 4), 2990, Wear, 358.8, 0.05},
		{"both sides of one plate", "Khurmi and Gupta, Theory of Machines, from memory", disc(300, 200, 0.3, 2), 3142, Wear, 235.65, 0.005},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.d.Torque(quantity.Force(tt.clamp), tt.law)
			require.NoError(t, err, tt.source)
			assert.InDelta(t, tt.want, float64(got), tt.halfway, tt.source)
		})
	}
}

// Bhandari's Ex 11.7 and 11.9 ask how many faces a torque wants: the torque of
// one face, divided into it and rounded up.
func TestFacesWanted(t *testing.T) {
	tests := []struct {
		source        string
		d             Disc
		clamp, torque float64
		faces         float64
	}{
		{"Bhandari, Design of Machine Elements, Ex 11.7", disc(95, 65, 0.2, 1), 306.305284, 10, 5},
		{"Bhandari, Design of Machine Elements, Ex 11.9: 11 discs, 10 faces", disc(100, 57.7, 0.1, 1), 1916.929151, 75, 10},
	}
	for _, tt := range tests {
		one, err := tt.d.Torque(quantity.Force(tt.clamp), Wear)
		require.NoError(t, err, tt.source)
		assert.Equal(t, tt.faces, math.Ceil(tt.torque/float64(one)), tt.source)
	}
}

// Esposito, Fluid Power, Example 8-6: 500 psi on 3.14 in² push 1000 lb against
// 242.55 psi on 3.14 − 0.79 in² at the rod's side.
func TestClampIsPressureOnArea(t *testing.T) {
	bore := quantity.Length(quantity.Inch.SI(math.Sqrt(3.14 * 4 / math.Pi)))
	rod := quantity.Length(quantity.Inch.SI(math.Sqrt(0.79 * 4 / math.Pi)))
	d := disc(200, 100, 0.2, 1)
	d.PistonOuter, d.PistonInner = bore, rod
	back, err := d.Clamp(quantity.Pressure(quantity.PSI.SI(242.55)))
	require.NoError(t, err)
	d.PistonInner, d.Spring = 0, back
	push, err := d.Clamp(quantity.Pressure(quantity.PSI.SI(500)))
	require.NoError(t, err)
	assert.InDelta(t, 1000, quantity.PoundForce.From(float64(push)), 0.05)
}

func TestClamp(t *testing.T) {
	d := disc(140, 110, 0.13, 8)
	d.Spring, d.Lever = 500, 2
	weak, err := d.Clamp(1000)
	require.NoError(t, err)
	assert.Zero(t, weak, "the return spring is stronger")
	d.Sprung = true
	sprung, err := d.Clamp(0)
	require.NoError(t, err)
	assert.EqualValues(t, 500, sprung)
	_, err = d.SlipPressure(10, Wear)
	assert.ErrorIs(t, err, ErrSprung)
}

// Identity: at its slip pressure a clutch holds the torque that was asked of it.
func TestSlipPressureIsWhereItHolds(t *testing.T) {
	d := disc(140, 110, 0.13, 8)
	d.PistonInner, d.Spring, d.Lever = 0.06, 400, 1.7
	for _, law := range []Law{Wear, Pressure} {
		for _, want := range []float64{1, 300, 2500} {
			p, err := d.SlipPressure(quantity.Torque(want), law)
			require.NoError(t, err)
			got, err := d.Holds(p, law)
			require.NoError(t, err)
			assert.InEpsilon(t, want, float64(got), 1e-12)
		}
	}
	// Limit of both laws: a lining without width.
	thin := disc(140, 139.85, 0.13, 8)
	wear, err := thin.Torque(1000, Wear)
	require.NoError(t, err)
	even, err := thin.Torque(1000, Pressure)
	require.NoError(t, err)
	assert.InEpsilon(t, float64(wear), float64(even), 1e-6)
}

func TestDiscRefuses(t *testing.T) {
	good := disc(140, 110, 0.13, 8)
	tests := []struct {
		spoil func(*Disc)
		want  string
	}{
		{func(d *Disc) { d.Outer = 0 }, "outer lining diameter"},
		{func(d *Disc) { d.Inner = d.Outer }, "inner lining diameter"},
		{func(d *Disc) { d.Inner = quantity.Length(math.NaN()) }, "inner lining diameter"},
		{func(d *Disc) { d.Faces = 0 }, "number of friction faces"},
		{func(d *Disc) { d.Friction = 1.3 }, "coefficient of friction"},
		{func(d *Disc) { d.Spring = -1 }, "spring force"},
		{func(d *Disc) { d.PistonOuter = quantity.Length(math.Inf(1)) }, "outer piston diameter"},
		{func(d *Disc) { d.PistonInner = d.PistonOuter }, "inner piston diameter"},
		{func(d *Disc) { d.Lever = 0 }, "lever ratio"},
	}
	for _, tt := range tests {
		d := good
		tt.spoil(&d)
		_, err := d.Holds(500e3, Wear)
		var r *quantity.RangeError
		require.ErrorAs(t, err, &r)
		assert.Equal(t, tt.want, r.Name)
		assert.Equal(t, "clutch", r.Package)
		assert.NotEmpty(t, r.Sentence())
	}
	_, err := good.Holds(-1, Wear)
	assert.EqualError(t, err, "clutch: line pressure -0.000145038 psi is outside 0 psi to 725.189 psi")
	_, err = good.SlipPressure(quantity.Torque(math.NaN()), Wear)
	assert.Error(t, err)
	_, err = good.Torque(-1, Wear)
	assert.Error(t, err)
}
