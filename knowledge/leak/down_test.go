package leak

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// NIST Statistical Reference Datasets, linear regression, Norris.
var (
	norrisX = []float64{0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5, 11.6,
		556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5}
	norrisY = []float64{0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9, 10.8,
		557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2}
)

func TestLineAgainstNorris(t *testing.T) {
	w := make([]float64, len(norrisX))
	for i := range w {
		w[i] = 1
	}
	a, b, ub, chi := line(norrisX, norrisY, w)
	assert.InDelta(t, -0.262323073774029, a, 1e-10, "certified intercept")
	assert.InDelta(t, 1.00211681802045, b, 1e-12, "certified slope")
	assert.InDelta(t, 0.429796848199937e-3, ub*math.Sqrt(chi/34), 1e-13, "certified standard deviation of the slope")
}

// A general library weights the same way.
func TestLineAgainstLibrary(t *testing.T) {
	w := make([]float64, len(norrisX))
	for i, x := range norrisX {
		w[i] = 1 + x/100
	}
	a, b, _, _ := line(norrisX, norrisY, w)
	wantA, wantB := stat.LinearRegression(norrisX, norrisY, w, false)
	assert.InDelta(t, wantA, a, 1e-9)
	assert.InDelta(t, wantB, b, 1e-12)
}

// fall is a chamber that loses its pressure at a rate, read without error.
func fall(start, rate float64, u quantity.Pressure, seconds ...float64) []Point {
	var points []Point
	for _, s := range seconds {
		points = append(points, Point{quantity.Duration(s), quantity.Pressure(start * math.Exp(-rate*s)), u})
	}
	return points
}

func TestLeakDown(t *testing.T) {
	d, err := LeakDown(fall(200e3, 0.01, 0, 0, 10, 20, 30, 60))
	require.NoError(t, err)
	assert.InDelta(t, 0.01, d.Rate, 1e-12, "identity: the rate it was made with")
	assert.InDelta(t, 200e3, float64(d.Start), 1e-6)
	half, ok := d.HalfLife()
	assert.True(t, ok)
	assert.InDelta(t, 69.3147, float64(half), 1e-4, "ln 2 / 0.01")
	assert.False(t, d.Bends)

	// Two thirds gone is 1 − e⁻¹ after one time constant, as in the discharge of
	// a capacitor.
	drop, _, err := d.Drop(100e3, 100)
	require.NoError(t, err)
	assert.InDelta(t, 63.2e3, float64(drop), 0.05e3)

	// The uncertainty by hand: readings at 0, 1, 2 with u(ln p) = 0.1 at each give
	// u(r) = 0.1/√2.
	hand := []Point{{0, 100e3, 10e3}, {1, 50e3, 5e3}, {2, 25e3, 2.5e3}}
	d, err = LeakDown(hand)
	require.NoError(t, err)
	assert.InDelta(t, math.Ln2, d.Rate, 1e-12)
	assert.InDelta(t, 0.1/math.Sqrt2, d.Standard, 1e-12)
	assert.InDelta(t, 0, d.Fit, 1e-9)
}

func TestLeakDownSeesACurve(t *testing.T) {
	// An orifice: the square root of the pressure falls evenly.
	var orifice []Point
	for s := 0.0; s <= 80; s += 10 {
		root := math.Sqrt(200e3) * (1 - s/100)
		orifice = append(orifice, Point{quantity.Duration(s), quantity.Pressure(root * root), 500})
	}
	d, err := LeakDown(orifice)
	require.NoError(t, err)
	assert.True(t, d.Bends)
	assert.Greater(t, d.Fit, 3.0)
	r := d.Judge(&Limit{"mine", 200e3, 30, 150e3, quantity.PSI})
	assert.Equal(t, conformity.None, r.Verdict, r.Reason)
}

func TestLeakDownJudge(t *testing.T) {
	good, err := LeakDown(fall(200e3, 0.001, 500, 0, 10, 20, 30, 40, 60))
	require.NoError(t, err)
	bad, err := LeakDown(fall(200e3, 0.02, 500, 0, 10, 20, 30, 40, 60))
	require.NoError(t, err)
	limit := &Limit{"mine", 200e3, 30, 20e3, quantity.Kilopascal}
	assert.Equal(t, conformity.Meets, good.Judge(limit).Verdict)
	assert.Equal(t, conformity.Above, bad.Judge(limit).Verdict)
	assert.Equal(t, conformity.None, bad.Judge(nil).Verdict)
	assert.Equal(t, conformity.None, bad.Judge(&Limit{}).Verdict)
	assert.Equal(t, conformity.None, Decay{}.Judge(limit).Verdict)

	rising, err := LeakDown(fall(200e3, -0.01, 500, 0, 10, 20, 30))
	require.NoError(t, err)
	assert.Equal(t, conformity.None, rising.Judge(limit).Verdict)
	assert.True(t, rising.Holds())

	level, err := LeakDown(fall(200e3, 0, 500, 0, 10, 20, 30))
	require.NoError(t, err)
	_, ok := level.HalfLife()
	assert.False(t, ok)
	assert.Equal(t, conformity.Meets, level.Judge(limit).Verdict)

	times, u, ok := bad.Against(good)
	assert.True(t, ok)
	assert.InDelta(t, 20, float64(times), 1e-9)
	assert.InDelta(t, 20*math.Hypot(bad.Standard/0.02, good.Standard/0.001), float64(u), 1e-9, "JCGM 100, 5.1.6")
	_, _, ok = bad.Against(level)
	assert.False(t, ok)
}

func TestLeakDownRefuses(t *testing.T) {
	for name, points := range map[string][]Point{
		"too few":  fall(1e5, 0.01, 0, 0, 1),
		"no time":  {{0, 3, 0}, {0, 2, 0}, {1, 1, 0}},
		"gone":     {{0, 3, 0}, {1, 2, 0}, {2, 0, 0}},
		"NaN":      {{0, 3, 0}, {1, quantity.Pressure(math.NaN()), 0}, {2, 1, 0}},
		"u":        {{0, 3, -1}, {1, 2, 0}, {2, 1, 0}},
		"negative": {{-5, 3, 0}, {1, 2, 0}, {2, 1, 0}},
	} {
		d, err := LeakDown(points)
		require.Error(t, err, name)
		assert.Zero(t, d)
		var s interface{ Sentence() string }
		require.ErrorAs(t, err, &s)
		assert.NotEmpty(t, s.Sentence())
	}
}

func FuzzLeakDown(f *testing.F) {
	f.Add(0.0, 10.0, 20.0, 2e5, 1.5e5, 1.1e5, 500.0, 2e5, 30.0, 2e4)
	f.Add(0.0, 1e-300, 2e-300, 1e-300, 1e7, 1.0, 0.0, 1.0, 1.0, 1.0)
	f.Add(math.NaN(), 1.0, 2.0, 1.0, math.Inf(1), 0.0, -1.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, t1, t2, t3, p1, p2, p3, u, from, over, most float64) {
		points := []Point{
			{quantity.Duration(t1), quantity.Pressure(p1), quantity.Pressure(u)},
			{quantity.Duration(t2), quantity.Pressure(p2), quantity.Pressure(u)},
			{quantity.Duration(t3), quantity.Pressure(p3), quantity.Pressure(u)},
		}
		d, err := LeakDown(points)
		half, _ := d.HalfLife()
		drop, su, _ := d.Drop(quantity.Pressure(from), quantity.Duration(over))
		for _, x := range []float64{d.Rate, d.Standard, float64(d.Start), d.Fit, float64(half), float64(drop), float64(su)} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "%+v", d)
		}
		r := d.Judge(&Limit{"mine", quantity.Pressure(from), quantity.Duration(over), quantity.Pressure(most), quantity.PSI})
		require.NotEmpty(t, r.Reason)
		if err != nil {
			require.Equal(t, conformity.None, r.Verdict)
		}
	})
}
