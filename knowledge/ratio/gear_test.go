package ratio

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

var exact = conformity.Accuracy{Fixed: 1e-9}

// at is a road test with a scan tool that shows both speeds.
func at(engine, shaft float64, u quantity.Ratio) Measured {
	return Measured{Engine: rpm(engine), Shaft: rpm(shaft), Ratio: quantity.Ratio(engine / shaft), Standard: u}
}

func candidate(t *testing.T, r Result, g unit.Gear) Candidate {
	t.Helper()
	for _, c := range r.Candidates {
		if c.Gear == g {
			return c
		}
	}
	t.Fatalf("no %s among the candidates", g)
	return Candidate{}
}

func TestSlipAgainstExamples(t *testing.T) {
	tests := []struct {
		name             string
		engine, shaft    float64
		slip, slipDelta  float64
		ofEngine, ofLock float64 // per cent; NaN: not printed
		source           string
	}{
		{"of locked speed", 3000, 2800, 200, 0.5, math.NaN(), 7.1, "worked example of a converter slip calculator page: 2800 rpm locked, 3000 measured: 200 rpm, 7.1 % of the locked speed"},
		{"of engine speed", 3000, 2700, 300, 0.5, 10, math.NaN(), "worked example of a second converter slip page: engine 3000, turbine 2700: 10 % of the engine's speed"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			// 3rd is 1.000, so that the shaft turns as the turbine does.
			res, err := Identify(at(tt.engine, tt.shaft, 0.005), Light, NotKnown, false)
			require.NoError(t, err)
			c := candidate(t, res, unit.Third)
			assert.InDelta(t, tt.slip, quantity.RPM.From(float64(c.Slip)), tt.slipDelta, tt.source)
			if !math.IsNaN(tt.ofEngine) {
				assert.InDelta(t, tt.ofEngine, 100*float64(c.SlipShare), 0.5, tt.source)
			}
			if !math.IsNaN(tt.ofLock) {
				assert.InDelta(t, tt.ofLock, 100*float64(c.Slip/c.Locked), 0.05, tt.source)
			}
			assert.Equal(t, unit.Third, res.Called)
			assert.Equal(t, Released, res.Clutch)
		})
	}
}

func TestPublishedRatiosAreCalled(t *testing.T) {
	// Maker's handbooks of 1998 and 2003 print 2.45, 1.45, 1.00, 0.69 and 2.20.
	for g, i := range map[unit.Gear]float64{unit.First: 2.45, unit.Second: 1.45, unit.Third: 1, unit.Fourth: 0.69} {
		res, err := Identify(at(1500*i, 1500, 0.006), Light, NotKnown, false)
		require.NoError(t, err)
		assert.Equal(t, g, res.Called, "%s at %v", g, i)
		assert.Equal(t, g, res.Candidates[0].Gear)
	}
	res, err := Identify(at(2200, 1000, 0.006), Light, NotKnown, true)
	require.NoError(t, err)
	assert.Equal(t, unit.Reverse, res.Called)
	assert.Equal(t, Released, res.Clutch, "there is no lock-up in reverse")
}

func TestIdentifyAgainstIntegration(t *testing.T) {
	// Brute force: the density of ln i is summed over slip on a fine grid.
	r := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		load := Loads[r.IntN(3)]
		command := []Command{NotKnown, Commanded, Released}[r.IntN(3)]
		u := 0.004 + 0.03*r.Float64()
		m := at(2000, 2000/(0.5+2.5*r.Float64()), quantity.Ratio(u))
		res, err := Identify(m, load, command, false)
		require.NoError(t, err)
		span := OpenSlip(load)
		y := math.Log(float64(m.Ratio))
		weights := map[unit.Gear]float64{}
		sum := noneBefore / math.Log(mostRatio/leastRatio)
		none := sum
		for _, g := range forward {
			i, err := unit.Ratio(g)
			require.NoError(t, err)
			on := chanceOn(g, command)
			normal := func(mean float64) float64 {
				z := (y - mean) / u
				return math.Exp(-z*z/2) / u / math.Sqrt(2*math.Pi)
			}
			const n = 4000
			low, high := -math.Log(1-float64(span.Least)), -math.Log(1-float64(span.Most))
			open := 0.0
			for k := range n {
				open += normal(math.Log(i)+low+(high-low)*(float64(k)+0.5)/n) / n
			}
			weights[g] = 0.9 / 4 * (on*normal(math.Log(i)) + (1-on)*open)
			sum += weights[g]
		}
		assert.InDelta(t, none/sum, res.None, 1e-5)
		total := res.None
		for _, c := range res.Candidates {
			assert.InDelta(t, weights[c.Gear]/sum, c.Probability, 1e-5, c.Gear)
			total += c.Probability
		}
		assert.InDelta(t, 1, total, 1e-9, "identity: probabilities add to one")
	}
}

func TestNothingFits(t *testing.T) {
	// 1.2 lies between 3rd and 2nd and is 17 % over 3rd: no light foot does that.
	res, err := Identify(at(2400, 2000, 0.005), Light, NotKnown, false)
	require.NoError(t, err)
	assert.True(t, res.NoneCalled)
	assert.Empty(t, res.Called)
	// Pulling, it may be 3rd with an open converter.
	res, err = Identify(at(2400, 2000, 0.005), Pulling, NotKnown, false)
	require.NoError(t, err)
	assert.Equal(t, unit.Third, res.Candidates[0].Gear)
	assert.False(t, res.NoneCalled)
	assert.Empty(t, res.Called, "or something slips: an open converter under load excludes little")
	assert.NotEmpty(t, res.Notes)
	// And 1.45 under load is either 2nd on lock-up or 3rd slipping hard.
	res, err = Identify(at(2909, 2000, 0.02), Pulling, NotKnown, false)
	require.NoError(t, err)
	assert.Empty(t, res.Called, "two gears are close")
	// An engine that runs away on a slow road is none either.
	res, err = Identify(at(6000, 300, 0.005), Light, NotKnown, false)
	require.NoError(t, err)
	assert.True(t, res.NoneCalled)
	assert.InDelta(t, 1, res.None, 1e-12)
}

func TestRoughFiguresAreNotCalled(t *testing.T) {
	res, err := Identify(at(2000*1.2, 2000, 0.15), Pulling, NotKnown, false)
	require.NoError(t, err)
	assert.Empty(t, res.Called)
	assert.False(t, res.NoneCalled)
	assert.Contains(t, res.Notes[len(res.Notes)-1], "too rough")
}

func TestClutchIsSeen(t *testing.T) {
	locked, err := Identify(at(1375, 2000, 0.003), Light, Commanded, false)
	require.NoError(t, err)
	assert.Equal(t, unit.Fourth, locked.Called)
	assert.Equal(t, Commanded, locked.Clutch)
	slips, err := Identify(at(1375*1.06, 2000, 0.003), Light, Commanded, false)
	require.NoError(t, err)
	assert.Equal(t, unit.Fourth, slips.Candidates[0].Gear)
	assert.Less(t, slips.Candidates[0].On, 0.05, "commanded on, and yet it slips")
	assert.Empty(t, slips.Called, "the converter's clutch slips, or the gear does")
}

func TestLost(t *testing.T) {
	tests := []struct {
		ordered, found unit.Gear
		want           []unit.ElementID
	}{
		// Maker's handbook, late version: 2nd is 1st plus the front band; losing the
		// overdrive clutch leaves 4th to the overdrive overrunning clutch, 3rd.
		{unit.Second, unit.First, []unit.ElementID{unit.FrontBand}},
		{unit.Fourth, unit.Third, []unit.ElementID{unit.OverdriveClutch}},
		{unit.Third, unit.Third, nil},
	}
	for _, tt := range tests {
		got, err := Lost(tt.ordered, tt.found)
		require.NoError(t, err)
		assert.Equal(t, tt.want, got, "%s as %s", tt.ordered, tt.found)
	}
	_, err := Lost("9", unit.First)
	assert.Error(t, err)
	_, err = Lost(unit.First, "9")
	assert.Error(t, err)
	assert.Equal(t, "9", Name("9"))
}

func TestDrop(t *testing.T) {
	// The second slip example above, seen as a drop at lock-up.
	s, u, err := Lockup{Open: turning("3000"), On: turning("2700"), Meter: &exact}.Drop()
	require.NoError(t, err)
	assert.InDelta(t, 0.10, float64(s), 0.005, "worked example of a converter slip page: 10 %")
	// Both typed to 1 rpm, which is 1/√12 each: by differences.
	step := math.Hypot(1/math.Sqrt(12)/3000, 0.9/math.Sqrt(12)/3000)
	assert.InEpsilon(t, step, float64(u), 1e-6, "GUM 5.1.2 by hand")
	_, _, err = Lockup{Open: turning("3000")}.Drop()
	assert.ErrorContains(t, err, After)
	_, _, err = Lockup{On: turning("3000")}.Drop()
	assert.ErrorContains(t, err, Before)
	_, loose, err := Lockup{Open: turning("3000"), On: turning("2700")}.Drop()
	require.NoError(t, err)
	assert.Greater(t, loose, u)
}

func TestIdentifyErrors(t *testing.T) {
	_, err := Identify(Measured{}, Light, NotKnown, false)
	assert.Error(t, err)
	m := at(2000, 1000, 0)
	_, err = Identify(m, Light, NotKnown, false)
	assert.Error(t, err)
	m = at(2000, 1000, quantity.Ratio(math.NaN()))
	_, err = Identify(m, Light, NotKnown, false)
	assert.Error(t, err)
}

func FuzzIdentify(f *testing.F) {
	f.Add(2000.0, 1000.0, 50.0, 3.55, 0, false)
	f.Add(300.0, 8000.0, 2.0, 1.5, 1, true)
	f.Add(math.Inf(1), math.NaN(), -1.0, 0.0, 2, false)
	f.Fuzz(func(t *testing.T, engine, shaft, road, axle float64, pick int, reverse bool) {
		tyre, err := ParseTyre("LT235/85R16")
		require.NoError(t, err)
		rolling, err := tyre.Rolling()
		require.NoError(t, err)
		r := Road{
			Engine: quantity.Reading{Kind: quantity.KindRotation, SI: engine},
			Speed:  quantity.Reading{Kind: quantity.KindSpeed, SI: road},
			Tyre:   rolling, Axle: quantity.Ratio(axle),
		}
		if pick%2 == 0 {
			r.Shaft = quantity.Reading{Kind: quantity.KindRotation, SI: shaft}
		}
		m, err := r.Measure()
		if err != nil {
			return
		}
		load := Loads[(pick%3+3)%3]
		res, err := Identify(m, load, NotKnown, reverse)
		if err != nil {
			return
		}
		sum := res.None
		for _, c := range res.Candidates {
			for _, x := range []float64{c.Probability, c.On, float64(c.Slip), float64(c.SlipShare), float64(c.SlipStandard)} {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			}
			sum += c.Probability
		}
		require.InDelta(t, 1, sum, 1e-9)
		require.False(t, res.Called != "" && res.NoneCalled)
	})
}

func BenchmarkIdentify(b *testing.B) {
	m := at(2000, 1500, 0.02)
	for b.Loop() {
		if _, err := Identify(m, Light, NotKnown, false); err != nil {
			b.Fatal(err)
		}
	}
}
