package hydraulics_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
)

const (
	supply = 4e5    // Pa
	square = 5e12   // Pa s²/m⁶: an orifice of about 4 mm
	soft   = 1e-16  // m³/Pa: nothing gives
	area   = 0.0065 // m²
	stroke = 0.003  // m
)

// filledBy returns when the volume has been taken.
func filledBy(points []hydraulics.FillPoint, v float64) float64 {
	for _, p := range points {
		if float64(p.Volume) >= v*(1-1e-6) {
			return float64(p.Time)
		}
	}
	return math.Inf(1)
}

// A piston against a spring that does not stiffen: the pressure stands, so does
// the flow, and t = A X / √((Ps − p0)/K). An identity, worked by hand.
func TestStrokeAtConstantPressure(t *testing.T) {
	for _, p0 := range []float64{0, 1e5, 3e5} {
		f := hydraulics.Filling{Supply: supply, Feed: hydraulics.Loss{K: square}, Soft: soft,
			Pistons: []hydraulics.Piston{{Area: area, Preload: quantity.Force(p0 * area), Stroke: stroke}}}
		points, rest, err := f.Run(40)
		require.NoError(t, err)
		assert.InEpsilon(t, supply, float64(rest), 1e-9)
		assert.InEpsilon(t, area*stroke/math.Sqrt((supply-p0)/square), filledBy(points, area*stroke), 1e-4, "p0 %g", p0)
	}
}

// A piston against a stiffening spring through an orifice:
//
//	t = (A²/k) 2 √K (√(Ps − p0) − √(Ps − p1))
//
// the integral of A dx / √((Ps − p(x))/K), worked by hand; through a laminar gap
//
//	t = (A²/k) R ln((Ps − p0)/(Ps − p1)).
//
// The error falls with the square of the step, and 40 steps are good to a part in
// a thousand.
func TestStrokeAgainstSpring(t *testing.T) {
	const rate, preload = 2e5, 600.0 // N/m, N
	p0, p1 := preload/area, (preload+rate*stroke)/area
	for _, c := range []struct {
		name string
		feed hydraulics.Loss
		want float64
	}{
		{"orifice", hydraulics.Loss{K: square}, area * area / rate * 2 * math.Sqrt(square) * (math.Sqrt(supply-p0) - math.Sqrt(supply-p1))},
		{"gap", hydraulics.Loss{R: 2e9}, area * area / rate * 2e9 * math.Log((supply-p0)/(supply-p1))},
	} {
		last := math.Inf(1)
		for _, steps := range []int{5, 10, 20, 40, 80} {
			points, _, err := hydraulics.Filling{Supply: supply, Feed: c.feed, Soft: soft,
				Pistons: []hydraulics.Piston{{Area: area, Preload: preload, Rate: rate, Stroke: stroke}}}.Run(steps)
			require.NoError(t, err)
			off := math.Abs(filledBy(points, area*stroke)-c.want) / c.want
			if off > 1e-7 { // under it, what the softness takes shows
				assert.Less(t, off, last/3, "%s, %d steps: half the step, a quarter of the error", c.name, steps)
			}
			last = off
			if steps >= 40 {
				assert.Less(t, off, 1e-3, "%s, %d steps", c.name, steps)
			}
		}
	}
}

// Two pistons on one passage move one after the other or together, as their
// springs say; the whole volume is what both take. The reference goes through the
// same filling in small steps of time (explicit Euler) and knows of no parts.
func TestClutchAndAccumulatorAgainstTimeSteps(t *testing.T) {
	pistons := []hydraulics.Piston{
		{ID: "clutch", Area: area, Preload: 700, Rate: 5e4, Stroke: stroke},
		{ID: "accumulator", Area: 0.002, Preload: 300, Rate: 1e4, Stroke: 0.02},
	}
	f := hydraulics.Filling{Supply: supply, Feed: hydraulics.Loss{R: 1e8, K: square}, Leaks: []hydraulics.Loss{{R: 2e10}}, Soft: 1e-12, Pistons: pistons}
	points, rest, err := f.Run(40)
	require.NoError(t, err)
	flow := func(dp, r, k float64) float64 {
		if dp <= 0 {
			return 0
		}
		return (-r + math.Sqrt(r*r+4*k*dp)) / (2 * k)
	}
	p, now := 0.0, 0.0
	const dt = 2e-7
	want := map[float64]float64{}
	for _, mark := range []float64{1e5, 1.5e5, 2e5, 3e5} {
		for p < mark {
			room := 1e-12
			for _, x := range pistons {
				a, k := float64(x.Area), float64(x.Rate)
				if travel := (p*a - float64(x.Preload)) / k; travel > 0 && travel < float64(x.Stroke) {
					room += a * a / k
				}
			}
			p += dt * (flow(supply-p, 1e8, square) - p/2e10) / room
			now += dt
		}
		want[mark] = now
	}
	for mark, at := range want {
		got, ok := hydraulics.Reaches(points, quantity.Pressure(mark))
		require.True(t, ok)
		assert.InEpsilon(t, at, float64(got), 3e-3, "%g Pa", mark)
	}
	assert.InEpsilon(t, supply, float64(rest), 0.05)
	_, ok := hydraulics.Reaches(points, supply)
	assert.False(t, ok)
}

func TestFillingRefuses(t *testing.T) {
	good := hydraulics.Filling{Supply: supply, Feed: hydraulics.Loss{K: square}, Soft: soft, Pistons: []hydraulics.Piston{{Area: area, Stroke: stroke}}}
	for _, change := range []func(f *hydraulics.Filling){
		func(f *hydraulics.Filling) { f.Supply = 0 },
		func(f *hydraulics.Filling) { f.Supply = quantity.Pressure(math.NaN()) },
		func(f *hydraulics.Filling) { f.Feed = hydraulics.Loss{} },
		func(f *hydraulics.Filling) { f.Soft = 0 },
		func(f *hydraulics.Filling) { f.Pistons = []hydraulics.Piston{{Stroke: 1}} },
	} {
		f := good
		change(&f)
		_, _, err := f.Run(10)
		assert.ErrorIs(t, err, hydraulics.ErrNoFilling)
	}
	_, _, err := good.Run(0)
	assert.ErrorIs(t, err, hydraulics.ErrNoFilling)
}
