package spring

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// Bhandari, Design of Machine Elements, example 10.16: a plunger of 40 mm and a
// spring that pushes 100 N at 0.25 N/mm² less what else is on the plunger; its
// load rises by 0.10 N/mm² on the area over 10 mm, a rate of 12.566 N/mm.
func TestPressuresAgainstRelief(t *testing.T) {
	area := math.Pi / 4 * 0.040 * 0.040
	a := Accumulator{
		Piston: quantity.Area(area), Preload: 100, Rate: 4 * math.Pi * 1e3, Stroke: 10e-3,
		BackArea: quantity.Area(area), Back: quantity.Pressure(0.25e6 - 100/area),
		Supply: 1e6, Orifice: 2e-3, Density: 850,
	}
	s, err := a.Shift()
	require.NoError(t, err)
	assert.InDelta(t, 0.25, float64(s.Start)/1e6, 1e-9)
	assert.InDelta(t, 0.35, float64(s.End)/1e6, 1e-9)
	assert.True(t, s.Full(a))
	assert.InDelta(t, area*10e-3, float64(s.Volume), 1e-12)
}

// A tank with straight walls empties by the same law: head ρ g h for the
// difference of pressure, falling evenly with the volume. Inputs and formula are
// those of the book's open companion program.
func TestTimeAgainstTanks(t *testing.T) {
	tests := []struct {
		name                 string
		area, hole, from, to float64 // m², m, m
		want, tol            float64 // s
		source               string
	}{
		{"1.2 m tank, 50 mm hole, from 3 m", math.Pi / 4 * 1.2 * 1.2, 0.050, 3, 0, 750.8, 0.05, "Choudhary and Prakash, Fluid Mechanics, example 6.17: 12 min 31 s"},
		{"4 m tank, 0.5 m hole, 5 m to 2 m", math.Pi / 4 * 16, 0.5, 5, 2, 39.57, 0.05, "Choudhary and Prakash, Fluid Mechanics, example 6.16"},
		{"3.2 m² tank, 10 cm² hole, 5 m to 2.5 m", 3.2, math.Sqrt(10e-4 * 4 / math.Pi), 5, 2.5, 1577.2, 0.5, "Choudhary and Prakash, Fluid Mechanics, example 6.18: 26 min 17 s"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			// The water of the tank as an accumulator: volume in litres is scaled
			// to what is believed of a piston, and the time with it.
			const rho, gravity = 1000, 9.81
			volume := tt.area * (tt.from - tt.to)
			a := Accumulator{
				Piston: 0.01, Stroke: 0.01, Orifice: quantity.Length(tt.hole / 20), Discharge: 0.6, Density: rho,
				Supply: quantity.Pressure(rho * gravity * tt.from), Rate: quantity.SpringRate(rho * gravity * (tt.from - tt.to) * 0.01 / 0.01),
			}
			s, err := a.Shift()
			require.NoError(t, err)
			assert.InDelta(t, tt.want, float64(s.Time)*volume/1e-4/400, tt.tol, tt.source)
		})
	}
}

// The closed form against adding up the strokes of a thousand slices.
func TestTimeAgainstSum(t *testing.T) {
	s, err := Typical.Shift()
	require.NoError(t, err)
	require.True(t, s.Full(Typical))
	const n = 100000
	var sum float64
	cda := 0.611 * math.Pi / 4 * float64(Typical.Orifice*Typical.Orifice)
	for i := range n {
		x := (float64(i) + 0.5) / n
		p := float64(s.Start) + x*float64(s.End-s.Start)
		sum += float64(s.Volume) / n / (cda * math.Sqrt(2*(float64(Typical.Supply)-p)/float64(Typical.Density)))
	}
	assert.InEpsilon(t, sum, float64(s.Time), 1e-6)
}

func TestAnotherSpring(t *testing.T) {
	was, err := Typical.Shift()
	require.NoError(t, err)
	stiff, err := Typical.With(1.5*Typical.Preload, 1.5*Typical.Rate).Shift()
	require.NoError(t, err)
	assert.InEpsilon(t, 1.5*float64(was.Start), float64(stiff.Start), 1e-12, "balance: the pressure goes with the spring")
	assert.Greater(t, stiff.Time, was.Time, "less pressure is left for the orifice, so it fills more slowly")

	// One that the supply can't press down.
	hard := Typical.With(Typical.Preload, 10*Typical.Rate)
	s, err := hard.Shift()
	require.NoError(t, err)
	assert.False(t, s.Full(hard))
	assert.InEpsilon(t, (float64(Typical.Supply)*float64(Typical.Piston)-float64(Typical.Preload))/(10*float64(Typical.Rate)), float64(s.Travel), 1e-9)
	assert.Positive(t, s.Time)

	stuck := Typical.With(1e4, Typical.Rate)
	s, err = stuck.Shift()
	require.NoError(t, err)
	assert.Zero(t, s.Travel)
	assert.Zero(t, s.Time)
	assert.False(t, s.Full(stuck))
}

func TestShiftRefuses(t *testing.T) {
	for name, change := range map[string]func(*Accumulator){
		"piston area":           func(a *Accumulator) { a.Piston = 0 },
		"preload":               func(a *Accumulator) { a.Preload = -1 },
		"rate":                  func(a *Accumulator) { a.Rate = quantity.SpringRate(math.Inf(1)) },
		"stroke":                func(a *Accumulator) { a.Stroke = 0 },
		"back pressure":         func(a *Accumulator) { a.Back = -1 },
		"supply":                func(a *Accumulator) { a.Supply = quantity.Pressure(math.NaN()) },
		"orifice":               func(a *Accumulator) { a.Orifice = 0 },
		"discharge coefficient": func(a *Accumulator) { a.Discharge = 2 },
		"density":               func(a *Accumulator) { a.Density = 0 },
	} {
		a := Typical
		change(&a)
		s, err := a.Shift()
		var e *quantity.RangeError
		require.ErrorAs(t, err, &e, name)
		assert.Equal(t, name, e.Name)
		assert.Zero(t, s)
	}
}

func FuzzShift(f *testing.F) {
	f.Add(700e-6, 120.0, 6e3, 12e-3, 0.0, 0.0, 430e3, 1.8e-3, 0.0, 800.0)
	f.Add(1e-9, 2e5, 0.0, 2.0, 0.1, 5e7, 5e7, 1e-5, 1.0, 500.0)
	f.Add(math.NaN(), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, area, preload, rate, stroke, backArea, back, supply, orifice, cd, rho float64) {
		a := Accumulator{quantity.Area(area), quantity.Force(preload), quantity.SpringRate(rate), quantity.Length(stroke), quantity.Area(backArea),
			quantity.Pressure(back), quantity.Pressure(supply), quantity.Length(orifice), quantity.Ratio(cd), quantity.Density(rho)}
		s, err := a.Shift()
		for _, x := range []float64{float64(s.Start), float64(s.End), float64(s.Travel), float64(s.Time), float64(s.Volume)} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0) || x < 0, "%+v: %+v", a, s)
		}
		if err != nil {
			require.Zero(t, s)
			return
		}
		require.LessOrEqual(t, s.Travel, a.Stroke)
	})
}
