package fluid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func table(t *testing.T, name string) map[float64]published.Row {
	t.Helper()
	rows := map[float64]published.Row{}
	for _, r := range published.Table(t, name) {
		rows[r.Number(t, "temperature_C")] = r
	}
	return rows
}

// exact is a point that is known as well as its table prints it.
func exact(ohms, celsius float64) Point {
	return Point{
		Reading:     quantity.Reading{Kind: quantity.KindResistance, SI: ohms, Resolution: ohms * 1e-3},
		Meter:       &conformity.Accuracy{Digits: 0.5},
		Temperature: quantity.FromCelsius(celsius),
		Spread:      0.01,
	}
}

func TestPublishedSensors(t *testing.T) {
	tests := []struct {
		name       string
		file       string
		scale      float64 // of the table's column
		column     string
		low, high  float64 // °C of the two readings
		want       SensorType
		least, top float64 // °C: rows that the estimate must cover
	}{
		{"open 10 kohm table", "thermistor/open-table.csv", 1, "resistance_ohm", 25, 85, NTC, -25, 125},
		{"laboratory thermistor", "thermistor/laboratory.csv", 1, "resistance_ohm", 25, 50, NTC, 0, 50},
		{"transaxle fluid sensor", "thermistor/fluid-sensor-a.csv", 1, "resistance_ohm", 20, 100, NTC, -40, 120},
		{"sensor maker's material 1", "thermistor/material-1.csv", 2000, "ratio", 25, 85, NTC, -40, 125},
		{"silicon 1000 ohm", "thermistor/silicon.csv", 1, "resistance_ohm", 20, 90, Silicon, -55, 125},
		{"platinum 100 ohm", "platinum/pt100.csv", 1, "resistance_ohm", math.NaN(), 100, Neither, 0, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rows := table(t, tt.file)
			ohms := func(c float64) float64 { return tt.scale * rows[c].Number(t, tt.column) }
			var a, b Point
			if math.IsNaN(tt.low) {
				a, b = exact(100, 0), exact(ohms(tt.high), tt.high) // 100 ohm at 0 °C by definition
			} else {
				a, b = exact(ohms(tt.low), tt.low), exact(ohms(tt.high), tt.high)
			}
			s, err := Identify(a, b)
			require.NoError(t, err)
			require.Equal(t, tt.want, s.Type, s.Reason)
			assert.GreaterOrEqual(t, s.Sure, 0.95)

			reversed, err := Identify(b, a)
			require.NoError(t, err)
			assert.Equal(t, s.Type, reversed.Type, "the order of the readings must not matter")
			assert.InEpsilon(t, s.Beta, reversed.Beta, 1e-9)

			for c, row := range rows {
				if c < tt.least || c > tt.top || tt.want == Neither {
					continue
				}
				e, ok, err := s.At(quantity.FromCelsius(c))
				require.NoError(t, err)
				require.True(t, ok)
				// Half of the last of two digits, the coarsest print, is 2.5 %; the
				// tables of three digits and more are held to half a per cent.
				slack := 0.005
				if tt.file == "thermistor/fluid-sensor-a.csv" {
					slack = 0.025
				}
				got := ohms(c)
				covered := got >= float64(e.Least)*(1-slack) && got <= float64(e.Most)*(1+slack)
				if row["use"] == "trap" {
					assert.False(t, covered, "a misprint at %v °C was let through: %v in %v to %v", c, got, e.Least, e.Most)
					continue
				}
				assert.True(t, covered, "%v °C: %v is not in %v to %v", c, got, e.Least, e.Most)
				assert.Equal(t, c < tt.low || c > tt.high, e.Outside)
			}
		})
	}
}

func TestBetaAgainstGuide(t *testing.T) {
	// The sensor maker's guide prints B beside its table of four-digit ratios,
	// whose rounding is worth about 1 K.
	rows := table(t, "thermistor/material-1.csv")
	for _, tt := range []struct{ low, high, want float64 }{{0, 50, 3892}, {25, 50, 3937}, {25, 85, 3977}, {25, 100, 3992}} {
		s, err := Identify(exact(2000*rows[tt.low].Number(t, "ratio"), tt.low), exact(2000*rows[tt.high].Number(t, "ratio"), tt.high))
		require.NoError(t, err)
		assert.InDelta(t, tt.want, s.Beta, 1, "B %v/%v", tt.low, tt.high)
	}
	// A data sheet: 10 kohm at 25 °C with B25/85 = 3984 K has 1066.1 ohm at 85 °C.
	s, err := Identify(exact(10000, 25), exact(1066.1, 85))
	require.NoError(t, err)
	assert.InDelta(t, 3984, s.Beta, 0.5)
	// The open table's own figure.
	s, err = Identify(exact(10000, 25), exact(1072, 85))
	require.NoError(t, err)
	assert.InDelta(t, 3974, s.Beta, 0.5)
}

func TestSiliconSlopeAgainstDataSheet(t *testing.T) {
	// 0.79 % per K at 25 °C, printed with two digits; the other maker prints
	// 7.88e-3, for the same quadratic term, at 25 °C.
	s, err := Identify(exact(815, 0), exact(1696, 100))
	require.NoError(t, err)
	assert.Equal(t, Silicon, s.Type)
	assert.InDelta(t, 0.0079, s.Slope/1e6, 0.00005)
	r := func(c float64) float64 { return 1970 * (1 + 7.88e-3*(c-25) + 1.937e-5*(c-25)*(c-25)) }
	s, err = Identify(exact(r(-10), -10), exact(r(95), 95))
	require.NoError(t, err)
	assert.InDelta(t, 7880, s.Slope, 0.01, "the other maker's formula, solved back")
	e, ok, err := s.At(quantity.FromCelsius(25))
	require.NoError(t, err)
	require.True(t, ok)
	assert.InDelta(t, 1970, float64(e.Resistance), 0.01)
}

func TestFluidSensorC(t *testing.T) {
	// A sensor in the middle of the limits at 10 and 110 °C must lie in the
	// limits at 40, 60 and 80 °C; the page's figures at -30 °C are a tenth of what
	// the others lead to and must not be covered.
	rows := table(t, "thermistor/fluid-sensor-c.csv")
	mid := func(c float64) float64 {
		return (rows[c].Number(t, "least_ohm") + rows[c].Number(t, "greatest_ohm")) / 2
	}
	s, err := Identify(exact(mid(10), 10), exact(mid(110), 110))
	require.NoError(t, err)
	require.Equal(t, NTC, s.Type)
	for c, row := range rows {
		e, ok, err := s.At(quantity.FromCelsius(c))
		require.NoError(t, err)
		require.True(t, ok)
		overlaps := float64(e.Least) <= row.Number(t, "greatest_ohm") && float64(e.Most) >= row.Number(t, "least_ohm")
		assert.Equal(t, row["use"] == "truth", overlaps, "%v °C: %v to %v", c, e.Least, e.Most)
	}
	// Read as a sensor of its own, the misprinted row makes no thermistor.
	s, err = Identify(exact(mid(-30), -30), exact(3500, 25))
	require.NoError(t, err)
	assert.Equal(t, Neither, s.Type)
}

func TestIdentifyInTheShop(t *testing.T) {
	at := func(text, degrees string) Point {
		return Point{
			Reading:     quantity.MustParse(quantity.KindResistance, text),
			Temperature: quantity.Temperature(quantity.MustParse(quantity.KindTemperature, degrees).SI),
		}
	}
	tests := []struct {
		name string
		a, b Point
		want SensorType
		says string
	}{
		{"thermistor of 2 kohm", at("2.00 kohm", "70 F"), at("420", "150 F"), NTC, "thermistor"},
		{"silicon of 1 kohm", at("962", "68 F"), at("1490", "176 F"), Silicon, "silicon"},
		{"silicon with a broken thermometer", func() Point { p := at("962", "68 F"); p.Spread = 30; return p }(), at("1490", "176 F"), Undecided, "Take one reading"},
		{"same temperature", at("962", "68 F"), at("1000", "75 F"), Undecided, "Take one reading"},
		{"a fixed resistor", at("1000", "68 F"), at("1001", "176 F"), Neither, "hardly change"},
		{"a metal", at("1078", "68 F"), at("1309", "176 F"), Neither, "as a metal's do"},
		{"rises too steeply", at("500", "68 F"), at("2500", "176 F"), Neither, "rise too steeply"},
		{"falls too little", at("1000", "68 F"), at("700", "176 F"), Neither, "fall too little"},
		{"falls too steeply", at("100 kohm", "68 F"), at("300", "176 F"), Neither, "fall too steeply"},
		{"meter too coarse", at("1k", "68 F"), at("1k", "176 F"), Undecided, "do not tell"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s, err := Identify(tt.a, tt.b)
			require.NoError(t, err)
			assert.Equal(t, tt.want, s.Type, "%s B %.0f ± %.0f, slope %.0f ± %.0f", s.Reason, s.Beta, s.BetaStandard, s.Slope, s.SlopeStandard)
			assert.Contains(t, s.Reason, tt.says)
			_, ok, err := s.At(quantity.FromCelsius(40))
			require.NoError(t, err)
			assert.Equal(t, tt.want == NTC || tt.want == Silicon, ok)
		})
	}
}

func TestIdentifyErrors(t *testing.T) {
	good := exact(1000, 25)
	tests := []struct {
		name string
		p    Point
		err  string
	}{
		{"open", Point{Reading: quantity.MustParse(quantity.KindResistance, "OL"), Temperature: quantity.FromCelsius(80)}, "fluid: second reading ∞ is outside 0.1 ohm to 10000000 ohm"},
		{"short", exact(0, 80), "fluid: second reading 0 ohm is outside 0.1 ohm to 10000000 ohm"},
		{"not a number", exact(math.NaN(), 80), "fluid: second reading not a number is outside 0.1 ohm to 10000000 ohm"},
		{"too hot", exact(1000, 126), "fluid: second temperature 126 °C is outside -55 °C to 125 °C"},
		{"no temperature", Point{Reading: good.Reading}, "fluid: second temperature -273.15 °C is outside -55 °C to 125 °C"},
		{"negative spread", Point{Reading: good.Reading, Temperature: quantity.FromCelsius(80), Spread: -1}, "fluid: second temperature's spread in kelvin -1 is outside 0 to 50"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := Identify(good, tt.p)
			assert.EqualError(t, err, tt.err)
			var out *quantity.RangeError
			assert.ErrorAs(t, err, &out)
		})
	}
	s, err := Identify(exact(815, 0), exact(1696, 100))
	require.NoError(t, err)
	_, _, err = s.At(quantity.FromCelsius(200))
	assert.EqualError(t, err, "fluid: temperature 200 °C is outside -55 °C to 125 °C")
	for _, edge := range []float64{-55, 125} {
		_, ok, err := s.At(quantity.FromCelsius(edge))
		require.NoError(t, err)
		assert.True(t, ok)
	}
}

func FuzzIdentify(f *testing.F) {
	f.Add("1000", 20.0, "1490", 80.0, 50.0)
	f.Add("OL", math.NaN(), "0", -300.0, math.Inf(1))
	f.Add("2 kohm", 20.0, "0.1", 21.0, 125.0)
	f.Fuzz(func(t *testing.T, a string, ca float64, b string, cb, at float64) {
		ra, errA := quantity.Parse(quantity.KindResistance, a, quantity.Unit{})
		rb, errB := quantity.Parse(quantity.KindResistance, b, quantity.Unit{})
		s, err := Identify(Point{Reading: ra, Temperature: quantity.FromCelsius(ca)}, Point{Reading: rb, Temperature: quantity.FromCelsius(cb)})
		if err != nil {
			var out *quantity.RangeError
			require.ErrorAs(t, err, &out)
			return
		}
		require.NoError(t, errA, "nothing read, nothing told")
		require.NoError(t, errB)
		require.NotEmpty(t, s.Reason)
		e, ok, err := s.At(quantity.FromCelsius(at))
		if err != nil || !ok {
			return
		}
		for _, x := range []quantity.Resistance{e.Resistance, e.Least, e.Most} {
			require.False(t, math.IsNaN(float64(x)) || math.IsInf(float64(x), 0))
		}
		require.True(t, e.Least <= e.Resistance && e.Resistance <= e.Most)
	})
}
