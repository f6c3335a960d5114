package fluid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func TestHalvingAgainstTheChart(t *testing.T) {
	// The widely copied chart. It rounds and then halves what it rounded, so
	// rows are compared with the row they were halved from.
	tests := []struct {
		from, to         float64 // °F
		milesFrom, miles float64
		half             float64 // half of the last printed digit
		source           string
	}{
		{175, 195, 100000, 50000, 0.5, "chart"},
		{175, 235, 100000, 12000, 500, "chart; 12 500 printed as 12 000"},
		{175, 255, 100000, 6250, 0.5, "chart, copies that print 6 250"},
		{275, 295, 3000, 1500, 0.5, "chart"},
		{275, 315, 3000, 750, 0.5, "chart"},
		{335, 355, 325, 160, 5, "chart; 162.5 printed as 160"},
		{335, 375, 325, 80, 5, "chart; 81 printed as 80"},
	}
	for _, tt := range tests {
		got, err := Halving(fahrenheit(tt.to), fahrenheit(tt.from), ChartStep)
		require.NoError(t, err)
		assert.InDelta(t, tt.miles, tt.milesFrom*got, tt.half*(1+1e-9), "%v to %v °F: %s", tt.from, tt.to, tt.source)
	}
	// Rows that do not follow the chart's own words must not be reproduced.
	for _, trap := range [][4]float64{{195, 212, 50000, 25000}, {315, 335, 750, 325}} {
		got, err := Halving(fahrenheit(trap[1]), fahrenheit(trap[0]), ChartStep)
		require.NoError(t, err)
		assert.Greater(t, math.Abs(trap[2]*got/trap[3]-1), 0.1, "%v °F", trap[1])
	}
}

// TestAgainstTransformerGuide holds both laws against the one published table
// that prints them side by side: relative ageing rates of transformer
// insulation, IEC 60076-7 (from memory). The rate is one over the life. Its
// second column is exp(15000/(110+273) − 15000/(θ+273)), with 273 for 273.15.
func TestAgainstTransformerGuide(t *testing.T) {
	const energy = 15000 * gasConstant
	tests := []struct {
		hotSpot   float64 // °C
		halved    float64 // 6 °C rule from 98 °C
		arrhenius float64 // from 110 °C
		digit     float64 // last printed digit of arrhenius
	}{
		{80, 0.125, 0.036, 0.001}, {86, 0.25, 0.073, 0.001}, {92, 0.5, 0.145, 0.001}, {98, 1, 0.282, 0.001}, {104, 2, 0.536, 0.001},
		{110, 4, 1.0, 0.1}, {116, 8, 1.83, 0.01}, {122, 16, 3.29, 0.01}, {128, 32, 5.8, 0.1}, {134, 64, 10.1, 0.1}, {140, 128, 17.2, 0.1},
	}
	for _, tt := range tests {
		life, err := Halving(quantity.FromCelsius(tt.hotSpot), quantity.FromCelsius(98), 6)
		require.NoError(t, err)
		assert.InDelta(t, tt.halved, 1/life, 1e-9, "%v °C", tt.hotSpot)
		life, err = Arrhenius(quantity.Temperature(tt.hotSpot+273), 110+273, energy)
		require.NoError(t, err)
		assert.InDelta(t, tt.arrhenius, 1/life, tt.digit/2, "%v °C", tt.hotSpot)
	}
}

func TestChartEnergy(t *testing.T) {
	// Derived: the energy that leads from the chart's 100 000 miles at 175 °F to
	// its 325 miles at 335 °F.
	life, err := Arrhenius(fahrenheit(335), ChartReference, ChartEnergy)
	require.NoError(t, err)
	assert.InDelta(t, 325, 100000*life, 1)
	// A textbook's rule: doubling from 90 to 100 °C means 78.1 kJ/mol.
	life, err = Arrhenius(quantity.FromCelsius(100), quantity.FromCelsius(90), 78.1e3)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, life, 0.0005)
}

func TestLifeIdentities(t *testing.T) {
	for _, c := range []float64{-60, 0, 79, 120, 250} {
		at := quantity.FromCelsius(c)
		one, err := Halving(at, at, ChartStep)
		require.NoError(t, err)
		assert.Equal(t, 1.0, one)
		one, err = Arrhenius(at, at, ChartEnergy)
		require.NoError(t, err)
		assert.Equal(t, 1.0, one)
		there, _ := Arrhenius(at, ChartReference, ChartEnergy)
		back, _ := Arrhenius(ChartReference, at, ChartEnergy)
		assert.InDelta(t, 1, there*back, 1e-9, "there and back")
	}
}

func TestLifeErrors(t *testing.T) {
	_, err := Halving(quantity.FromCelsius(251), ChartReference, ChartStep)
	assert.EqualError(t, err, "fluid: temperature 251 °C is outside -60 °C to 250 °C")
	_, err = Halving(ChartReference, quantity.FromCelsius(-61), ChartStep)
	assert.EqualError(t, err, "fluid: reference temperature -61 °C is outside -60 °C to 250 °C")
	_, err = Halving(ChartReference, ChartReference, 0)
	assert.EqualError(t, err, "fluid: halving step in kelvin 0 is outside 1 to 50")
	_, err = Arrhenius(ChartReference, ChartReference, math.NaN())
	assert.EqualError(t, err, "fluid: activation energy in joule per mole not a number is outside 10000 to 300000")
	_, err = Arrhenius(quantity.Temperature(math.NaN()), ChartReference, ChartEnergy)
	assert.Error(t, err)
}

func FuzzLife(f *testing.F) {
	f.Add(120.0, 80.0, 11.0, 83e3)
	f.Add(math.NaN(), -300.0, 0.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, c, c0, step, energy float64) {
		for _, got := range []func() (float64, error){
			func() (float64, error) { return Halving(quantity.FromCelsius(c), quantity.FromCelsius(c0), step) },
			func() (float64, error) { return Arrhenius(quantity.FromCelsius(c), quantity.FromCelsius(c0), energy) },
		} {
			x, err := got()
			if err != nil {
				var out *quantity.RangeError
				require.ErrorAs(t, err, &out)
				continue
			}
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			require.Greater(t, x, 0.0)
		}
	})
}

func miles(x float64) quantity.Distance { return quantity.Distance(quantity.Mile.SI(x)) }

func TestAgeAgainstTheChart(t *testing.T) {
	// The chart: 100 000 miles at 175 °F, 50 000 at 195, 6 250 at 255.
	a, err := Age([]Spell[quantity.Distance]{{miles(25000), fahrenheit(195)}, {miles(3125), fahrenheit(255)}}, ChartLife, ChartReference, ChartStep, ChartEnergy)
	require.NoError(t, err)
	assert.InDelta(t, float64(miles(100000)), float64(ChartLife), 1e-6)
	assert.InDelta(t, 1, a.Halving.Used, 1e-9, "two halves of a life are one")
	assert.InDelta(t, float64(miles(100000)), float64(a.Halving.Equivalent), 1e-3)
	assert.InDelta(t, 0, float64(a.Halving.Left), 1e-3)
	assert.InDelta(t, 0.5, a.Halving.Shares[0], 1e-9)
	assert.InDelta(t, 0.5, a.Halving.Shares[1], 1e-9)
	// At the reference temperature a mile is a mile, by either law.
	a, err = Age([]Spell[quantity.Distance]{{miles(30000), ChartReference}}, miles(100000), ChartReference, ChartStep, ChartEnergy)
	require.NoError(t, err)
	for _, w := range []Wear[quantity.Distance]{a.Halving, a.Arrhenius} {
		assert.InDelta(t, 0.3, w.Used, 1e-12)
		assert.InDelta(t, float64(miles(70000)), float64(w.Left), 1e-3)
	}
}

func TestAgeAgainstTransformerGuide(t *testing.T) {
	// IEC 60076-7: loss of life is the sum of rate times hours. Its table has the
	// rates 0.282, 1 and 17.2 at 98, 110 and 140 °C, and 1, 4 and 128 by the 6 °C
	// rule from 98 °C.
	const hour = 3600
	spells := []Spell[quantity.Duration]{
		{10 * hour, quantity.Temperature(98 + 273)}, {4 * hour, quantity.Temperature(110 + 273)}, {2 * hour, quantity.Temperature(140 + 273)},
	}
	a, err := Age(spells, 180000*hour, quantity.Temperature(110+273), 6, 15000*gasConstant)
	require.NoError(t, err)
	assert.InDelta(t, 10*0.282+4*1+2*17.2, float64(a.Arrhenius.Equivalent)/hour, 10*0.0005+2*0.05)
	a, err = Age(spells, 180000*hour, quantity.Temperature(98+273), 6, 15000*gasConstant)
	require.NoError(t, err)
	assert.InDelta(t, 10*1+4*4+2*128, float64(a.Halving.Equivalent)/hour, 1e-6)
}

func TestAgeOrderAndErrors(t *testing.T) {
	spells := []Spell[quantity.Duration]{{3600, 350}, {7200, 400}, {0, 300}}
	a, err := Age(spells, 1e6, ChartReference, ChartStep, ChartEnergy)
	require.NoError(t, err)
	b, err := Age([]Spell[quantity.Duration]{spells[1], spells[2], spells[0]}, 1e6, ChartReference, ChartStep, ChartEnergy)
	require.NoError(t, err)
	assert.InDelta(t, a.Arrhenius.Used, b.Arrhenius.Used, 1e-12)
	none, err := Age([]Spell[quantity.Duration]{}, 1e6, ChartReference, ChartStep, ChartEnergy)
	require.NoError(t, err)
	assert.Zero(t, none.Halving.Used)
	assert.Empty(t, none.Halving.Shares)

	_, err = Age(spells, 0, ChartReference, ChartStep, ChartEnergy)
	assert.Error(t, err)
	_, err = Age([]Spell[quantity.Distance]{{1, 350}, {-1, 350}}, 1e6, ChartReference, ChartStep, ChartEnergy)
	assert.ErrorContains(t, err, "fluid: part 2 ")
	_, err = Age([]Spell[quantity.Distance]{{1, 800}}, 1e6, ChartReference, ChartStep, ChartEnergy)
	assert.ErrorContains(t, err, "fluid: part 1's temperature 526.85 °C is outside")
	_, err = Age(spells, 1e6, ChartReference, math.NaN(), ChartEnergy)
	assert.Error(t, err)
}

func FuzzAge(f *testing.F) {
	f.Add(1000.0, 120.0, 500.0, 80.0, 1e6, 80.0, 11.0, 83e3)
	f.Add(1e12, 250.0, 1e12, 250.0, 1.0, -60.0, 1.0, 300e3)
	f.Add(math.NaN(), -300.0, -1.0, math.Inf(1), 0.0, 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, s1, c1, s2, c2, life, c0, step, energy float64) {
		a, err := Age([]Spell[quantity.Duration]{{quantity.Duration(s1), quantity.FromCelsius(c1)}, {quantity.Duration(s2), quantity.FromCelsius(c2)}},
			quantity.Duration(life), quantity.FromCelsius(c0), step, energy)
		if err != nil {
			var out *quantity.RangeError
			require.ErrorAs(t, err, &out)
			return
		}
		for _, w := range []Wear[quantity.Duration]{a.Halving, a.Arrhenius} {
			for _, x := range append([]float64{float64(w.Equivalent), w.Used, float64(w.Left)}, w.Shares...) {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
				require.GreaterOrEqual(t, x, 0.0)
			}
		}
	})
}
