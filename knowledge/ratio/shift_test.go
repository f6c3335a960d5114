package ratio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func TestFlareAgainstPublishedRatios(t *testing.T) {
	// Maker's handbooks of 1998 and 2003: 2.45, 1.45, 1.00, 0.69, each to half a
	// hundredth.
	tests := []struct {
		from, to unit.Gear
		a, b     float64
	}{
		{unit.First, unit.Second, 2.45, 1.45},
		{unit.Second, unit.Third, 1.45, 1.00},
		{unit.Third, unit.Fourth, 1.00, 0.69},
		{unit.Fourth, unit.Third, 0.69, 1.00},
	}
	for _, tt := range tests {
		f, err := Shift{From: tt.from, To: tt.to, Before: turning("3000"), After: turning("2000")}.Flare()
		require.NoError(t, err)
		want := 3000 * tt.b / tt.a
		assert.InDelta(t, want, quantity.RPM.From(float64(f.Expected)), want*(0.005/tt.a+0.005/tt.b), "%s to %s", tt.from, tt.to)
		assert.False(t, f.Seen)
		assert.False(t, f.Flared())
	}
}

func TestFlare(t *testing.T) {
	s := Shift{From: unit.Second, To: unit.Third, Before: turning("2400"), Peak: turning("2750"), After: turning("1660")}
	f, err := s.Flare()
	require.NoError(t, err)
	assert.InDelta(t, 350, quantity.RPM.From(float64(f.Rise)), 1e-9, "by hand: 2750 − 2400")
	assert.InDelta(t, 1650, quantity.RPM.From(float64(f.Expected)), 1e-6, "by hand: 2400 · 1 / (1 + 1/2.2) = 2400 · 2.2/3.2")
	assert.InDelta(t, 10, quantity.RPM.From(float64(f.Left)), 1e-6)
	assert.True(t, f.Flared())
	assert.False(t, f.Slips())
	// Two readings of a dial good to 50 rpm: 50/√3 ⊕ 1/√12 each.
	u := math.Sqrt2 * math.Hypot(50/math.Sqrt(3), 1/math.Sqrt(12))
	assert.InDelta(t, u, quantity.RPM.From(float64(f.RiseStandard)), 1e-6, "GUM 5.1.2 by hand")

	s.Peak = turning("2420")
	f, err = s.Flare()
	require.NoError(t, err)
	assert.False(t, f.Flared(), "20 rpm are within what a dial shows")

	s.After = turning("1900")
	f, err = s.Flare()
	require.NoError(t, err)
	assert.True(t, f.Slips())

	// The truck gained speed: engine speed after the shift is higher by as much.
	s.SpeedBefore, s.SpeedAfter = speed("40"), speed("44")
	f, err = s.Flare()
	require.NoError(t, err)
	assert.InDelta(t, 1815, quantity.RPM.From(float64(f.Expected)), 1e-6, "by hand: 1650 · 1.1")

	// A downshift: it must rise to the lower gear's speed, and no further.
	down := Shift{From: unit.Third, To: unit.Second, Before: turning("2000"), Peak: turning("3300"), After: turning("2910"), Meter: &exact}
	f, err = down.Flare()
	require.NoError(t, err)
	assert.InDelta(t, 3300-2000*3.2/2.2, quantity.RPM.From(float64(f.Rise)), 1e-6)
	assert.True(t, f.Flared())
}

func TestFlareWithoutAnyUncertainty(t *testing.T) {
	none := conformity.Accuracy{}
	bare := func(n float64) quantity.Reading {
		return quantity.Reading{Kind: quantity.KindRotation, SI: float64(rpm(n))}
	}
	f, err := Shift{From: unit.Second, To: unit.Third, Before: bare(2400), Peak: bare(2400), After: bare(1700), Meter: &none}.Flare()
	require.NoError(t, err)
	assert.Zero(t, f.Flares)
	assert.Zero(t, f.Holds)
	f, err = Shift{From: unit.Second, To: unit.Third, Before: bare(2400), Peak: bare(2401), After: bare(1600), Meter: &none}.Flare()
	require.NoError(t, err)
	assert.Equal(t, 1.0, f.Flares)
	assert.Equal(t, 1.0, f.Holds)
}

func TestFlareErrors(t *testing.T) {
	good := Shift{From: unit.First, To: unit.Second, Before: turning("3000"), After: turning("1800")}
	for _, bend := range []func(*Shift){
		func(s *Shift) { s.From = unit.Reverse },
		func(s *Shift) { s.To = unit.First },
		func(s *Shift) { s.To = "" },
		func(s *Shift) { s.Before.SI = math.NaN() },
		func(s *Shift) { s.After = quantity.Reading{} },
		func(s *Shift) { s.Peak = turning("9999") },
		func(s *Shift) { s.SpeedBefore, s.SpeedAfter = speed("0"), speed("30") },
	} {
		s := good
		bend(&s)
		_, err := s.Flare()
		assert.Error(t, err)
	}
	_, err := good.Flare()
	assert.NoError(t, err)
}

func FuzzFlare(f *testing.F) {
	f.Add(3000.0, 3300.0, 1800.0, 20.0, 21.0, uint8(0), uint8(1))
	f.Add(math.NaN(), math.Inf(1), 0.0, 0.0, -3.0, uint8(7), uint8(2))
	gears := append(forward, unit.Reverse, "")
	f.Fuzz(func(t *testing.T, before, peak, after, v1, v2 float64, a, b uint8) {
		read := func(x float64) quantity.Reading {
			return quantity.Reading{Kind: quantity.KindRotation, SI: x, Resolution: 1}
		}
		pace := func(x float64) quantity.Reading {
			return quantity.Reading{Kind: quantity.KindSpeed, SI: x, Resolution: 1}
		}
		got, err := Shift{From: gears[int(a)%len(gears)], To: gears[int(b)%len(gears)],
			Before: read(before), Peak: read(peak), After: read(after), SpeedBefore: pace(v1), SpeedAfter: pace(v2)}.Flare()
		if err != nil {
			return
		}
		for _, x := range []float64{float64(got.Expected), float64(got.Left), float64(got.LeftStandard), float64(got.Rise), float64(got.RiseStandard), got.Flares, got.Holds} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
		}
	})
}
