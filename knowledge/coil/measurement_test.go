package coil

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func ohms(text string) quantity.Reading { return quantity.MustParse(quantity.KindResistance, text) }

func temperature(text string) quantity.Temperature {
	return quantity.Temperature(quantity.MustParse(quantity.KindTemperature, text).SI)
}

func window(name string, unit quantity.Unit, min, max float64) conformity.Window {
	w := conformity.Window{Name: name, Unit: unit}
	if !math.IsNaN(min) {
		v := unit.Of(min)
		w.Min = &v
	}
	if !math.IsNaN(max) {
		v := unit.Of(max)
		w.Max = &v
	}
	return w
}

var (
	// From memory: the governor pressure solenoid.
	governor = window("governor solenoid", quantity.Ohm, 3, 5)
	// Maker's handbook, 1999: solenoid circuit tests.
	overdrive = window("overdrive solenoid", quantity.Ohm, 26, 40)
	// Common practice: over 1 Mohm from pin to case.
	insulation = window("insulation", quantity.Megohm, 1, math.NaN())
)

// typical is a warm governor coil at the case plug.
func typical() Measurement {
	return Measurement{
		Reading: ohms("4.9"), Leads: ohms("0.3"), Temperature: temperature("180 °F"), Where: Connector,
		Windows: []conformity.Window{governor}, Others: []conformity.Window{overdrive},
		Supplies: []quantity.Voltage{12.6, 14},
	}
}

func TestWarmCoilMeets(t *testing.T) {
	res, err := typical().Judge()
	require.NoError(t, err)
	assert.InDelta(t, 4.6, float64(res.Net), 1e-9, "4.9 − 0.3")
	assert.InDelta(t, 3.70, float64(res.Referred), 0.005, "IEC 60034-1: 4.6 · 255/317.2")
	assert.Equal(t, conformity.Meets, res.Judgement.Verdict, res.Judgement.Reason)
	assert.Equal(t, []Diagnosis{Healthy}, res.Diagnoses)

	// What the meter should show now: 3 and 5 ohm at 82.2 °C, leads in.
	require.Len(t, res.Expected, 1)
	assert.InDelta(t, 3*317.222/255+0.3, float64(*res.Expected[0].Min), 0.0005)
	assert.InDelta(t, 5*317.222/255+0.3, float64(*res.Expected[0].Max), 0.0005)
	assert.Equal(t, "Your meter should show between 4.03 ohm and 6.52 ohm now.", res.Expected[0].String())

	require.Len(t, res.Draws, 2)
	assert.InDelta(t, 12.6/3.698, float64(res.Draws[0].Cold), 0.005, "Ohm's law")
	assert.InDelta(t, 14/(3.698*335/255), float64(res.Draws[1].Hot), 0.005, "Ohm's law at 100 °C")
	assert.Equal(t, "NOTICE: never hold battery voltage on this coil. It draws about 3 A and overheats; its driver pulses it to 1 A on average. Let the truck drive it, or use a current-limited supply as the maker's manual says.", res.HoldWarning)
	assert.True(t, strings.HasPrefix(res.Explanation, "4.6 ohm without the leads at 180 °F is 3.7 ohm at 68 °F."), res.Explanation)
}

func TestPropagation(t *testing.T) {
	// The GUM's law with derivatives taken by finite differences, against the
	// budget's own derivatives.
	m := typical()
	m.Reference = celsius(20)
	m.Spread = 6
	m.Meter = &conformity.Accuracy{Percent: 1, Digits: 2}
	res, err := m.Judge()
	require.NoError(t, err)
	f := func(reading, leads, at float64) float64 { return (reading - leads) * 255 / (235 + at) }
	at := m.Temperature.Celsius()
	const h = 1e-6
	parts := []float64{
		(f(4.9+h, 0.3, at) - f(4.9-h, 0.3, at)) / (2 * h) * (0.049 + 0.2) / math.Sqrt(3),
		(f(4.9, 0.3+h, at) - f(4.9, 0.3-h, at)) / (2 * h) * (0.003 + 0.2) / math.Sqrt(3),
		(f(4.9, 0.3, at+h) - f(4.9, 0.3, at-h)) / (2 * h) * 6 / math.Sqrt(3),
	}
	sum := 0.0
	for i, p := range parts {
		assert.InDelta(t, math.Abs(p), float64(res.Budget[i].Standard), 1e-8, res.Budget[i].Name)
		sum += p * p
	}
	assert.InDelta(t, math.Sqrt(sum), float64(res.Standard), 1e-8)
}

// TestPublishedTemperatureCoefficient holds the winding temperature's part of
// the budget against an open uncertainty calculator's example, turned round:
// 1.000 ohm at 20.0 °C is 1.0312 ohm at 28.0 °C with α = 0.0039, the temperature
// known with a standard uncertainty of 0.025 °C. Referred to 20 °C its part is
// R · α · 0.025 K / (1 + 8 α)². The example's α is uncertain itself, which a
// constant is not, so the other parts are not compared.
func TestPublishedTemperatureCoefficient(t *testing.T) {
	m := Measurement{
		Reading: ohms("1.000"), Leads: ohms("0"), Meter: &conformity.Accuracy{Digits: 1e-9},
		Temperature: celsius(28), Reference: celsius(20), Spread: 0.025 * math.Sqrt(3),
		Windows: []conformity.Window{window("", quantity.Ohm, 0.9, 1.1)},
	}
	res, err := m.Judge()
	require.NoError(t, err)
	assert.InDelta(t, 1/1.03120, float64(res.Referred), 0.0003, "1.03120 for α = 0.0039, here 1/255")
	assert.InDelta(t, 0.0039*0.025/(1.0312*1.0312), float64(res.Standard), 1e-6)
}

func TestJudge(t *testing.T) {
	warm := temperature("180 °F")
	tests := []struct {
		name    string
		change  func(m *Measurement)
		verdict conformity.Verdict
		want    []Diagnosis
		source  string
	}{
		{"field reading of a good coil", func(m *Measurement) {
			m.Reading = ohms("4.2")
			m.Leads = ohms("0")
			m.Temperature = celsius(20)
			m.Soaked = true
		},
			conformity.Meets, []Diagnosis{Healthy}, "owners' forum, one truck: 4.2 ohm, coil was good"},
		{"open, temperature not known", func(m *Measurement) { m.Reading = ohms("OL"); m.Temperature = 0 },
			conformity.Open, []Diagnosis{OpenCircuit}, "an open coil is failed whatever the temperature"},
		{"open with fluid across the break", func(m *Measurement) { m.Reading = ohms("12 kohm") },
			conformity.Open, []Diagnosis{OpenCircuit}, "more than 20 times the greatest allowed"},
		{"short", func(m *Measurement) { m.Reading = ohms("0.3") },
			conformity.Short, []Diagnosis{ShortCircuit}, "nothing is left without the leads"},
		{"short, leads a digit over the reading", func(m *Measurement) { m.Reading = ohms("0.2") },
			conformity.Short, []Diagnosis{ShortCircuit}, "a digit's difference is the meter's"},
		{"some turns shorted", func(m *Measurement) { m.Reading = ohms("2.3") },
			conformity.Below, []Diagnosis{TurnsShorted}, "2.0 at 82 °C is 1.6 at 20 °C"},
		{"corroded", func(m *Measurement) { m.Reading = ohms("14.3") },
			conformity.Above, []Diagnosis{TooHigh}, "14.0 at 82 °C is 11.3 at 20 °C, like no other coil"},
		{"coils mixed up", func(m *Measurement) { m.Reading = ohms("41.0") },
			conformity.Above, []Diagnosis{OtherCoil, TooHigh}, "handbook's 26 to 40 ohm, 33 at 20 °C is 41 at 82 °C"},
		{"coils mixed up the other way", func(m *Measurement) {
			m.Windows, m.Others = []conformity.Window{overdrive}, []conformity.Window{governor}
			m.Reading = ohms("5.3")
		}, conformity.Below, []Diagnosis{OtherCoil, TurnsShorted}, "4.0 ohm at 20 °C"},
		{"hot coil against a cold figure", func(m *Measurement) {
			m.Windows, m.Others = []conformity.Window{overdrive}, nil
			m.Reading = ohms("45.0")
		}, conformity.Meets, []Diagnosis{Healthy}, "handbook-derived: 26 to 40 at 20 °C becomes 32 to 49 at 80 °C"},
		{"to case", func(m *Measurement) { m.Insulation, m.InsulationWindow = ohms("0.8"), insulation },
			conformity.Meets, []Diagnosis{ShortToCase}, "winding good, insulation gone"},
		{"insulation fine", func(m *Measurement) { m.Insulation, m.InsulationWindow = ohms("OL"), insulation },
			conformity.Meets, []Diagnosis{Healthy}, "should read open"},
		{"insulation without a limit", func(m *Measurement) { m.Insulation = ohms("OL") },
			conformity.Meets, []Diagnosis{Undecided}, "no pass without a limit"},
		{"open and to case", func(m *Measurement) {
			m.Reading = ohms("OL")
			m.Insulation, m.InsulationWindow = ohms("20 kohm"), insulation
		}, conformity.Open, []Diagnosis{ShortToCase, OpenCircuit}, "both are reported"},
		{"at a limit", func(m *Measurement) { m.Reading = ohms("6.5") },
			conformity.TooClose, []Diagnosis{Undecided}, "the window's edge is 6.52 now"},
		{"no reading", func(m *Measurement) { m.Reading = quantity.Reading{} },
			conformity.None, []Diagnosis{Undecided}, "no pass without a reading"},
		{"no temperature", func(m *Measurement) { m.Temperature = 0 },
			conformity.None, []Diagnosis{Undecided}, "no pass without a temperature"},
		{"no window", func(m *Measurement) { m.Windows = nil },
			conformity.None, []Diagnosis{Undecided}, "no pass without a limit"},
		{"sources disagree", func(m *Measurement) {
			m.Windows = []conformity.Window{governor, window("second source", quantity.Ohm, 6, 9)}
		}, conformity.Disagree, []Diagnosis{Undecided}, "good for one, low for the other"},
		{"typed without its decimal", func(m *Measurement) { m.Reading = ohms("5"); m.Leads = quantity.Reading{} },
			conformity.TooClose, []Diagnosis{Undecided}, "two digits of a whole ohm each"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := typical()
			m.Temperature = warm
			tt.change(&m)
			res, err := m.Judge()
			require.NoError(t, err)
			assert.Equal(t, tt.verdict, res.Judgement.Verdict, "%s: %s", tt.source, res.Explanation)
			assert.Equal(t, tt.want, res.Diagnoses, tt.source)
			assert.NotEmpty(t, res.Explanation)
			for _, d := range res.Diagnoses {
				assert.True(t, res.Is(d))
			}
			assert.False(t, res.Is("nothing"))
		})
	}
}

func TestTurnsShorted(t *testing.T) {
	// A coil of 4 ohm with a quarter of its turns bridged has 3 ohm: turns and
	// wire go together. The true share must lie in what is reported.
	for _, share := range []float64{0.4, 0.5, 0.6, 0.75} {
		r := 4.0 * (1 - share)
		m := typical()
		m.Temperature, m.Reference, m.Soaked, m.Leads = celsius(20), celsius(20), true, ohms("0")
		m.Reading = quantity.Reading{Kind: quantity.KindResistance, SI: r, Resolution: 0.01}
		res, err := m.Judge()
		require.NoError(t, err)
		require.True(t, res.Is(TurnsShorted), "%v: %s", share, res.Explanation)
		assert.LessOrEqual(t, res.Bridged.Least, share, "identity")
		assert.GreaterOrEqual(t, res.Bridged.Most, share, "identity")
		assert.Greater(t, res.Bridged.Least, 0.0)
	}
	assert.Equal(t, "8 % to 45 %", Share{0.08, 0.45}.String())
}

func TestSeriesResistance(t *testing.T) {
	// 5 ohm, the greatest allowed, with 6 ohm of corrosion in series: at least
	// most of the 6 must be found again.
	m := typical()
	m.Temperature, m.Reference, m.Soaked, m.Leads, m.Reading = celsius(20), celsius(20), true, ohms("0.00"), ohms("11.00")
	res, err := m.Judge()
	require.NoError(t, err)
	require.True(t, res.Is(TooHigh))
	assert.InDelta(t, 6, float64(res.Extra), 0.4)
	assert.LessOrEqual(t, float64(res.Extra), 6.0, "it is the least")
}

func TestUnstatedReferenceCounts(t *testing.T) {
	m := typical()
	open, err := m.Judge()
	require.NoError(t, err)
	m.Reference = celsius(20)
	stated, err := m.Judge()
	require.NoError(t, err)
	assert.Equal(t, stated.Referred, open.Referred, "20 °C either way")
	assert.Greater(t, open.Standard, stated.Standard, "but in doubt")
	assert.Contains(t, strings.Join(open.Notes, " "), "The source states no temperature.")
	assert.NotContains(t, strings.Join(stated.Notes, " "), "The source states no temperature.")
}

func TestNotes(t *testing.T) {
	m := typical()
	m.Leads, m.Soaked, m.Where = quantity.Reading{}, true, Harness
	res, err := m.Judge()
	require.NoError(t, err)
	notes := strings.Join(res.Notes, " ")
	for _, want := range []string{"The leads were not measured.", "temperature around it, give or take 5.4 °F", "Measured through the harness", "from memory"} {
		assert.Contains(t, notes, want)
	}
	m = typical()
	m.Windows = []conformity.Window{overdrive}
	m.Reading = ohms("41")
	m.Meter = &conformity.Accuracy{Percent: 1, Digits: 1}
	res, err = m.Judge()
	require.NoError(t, err)
	assert.Empty(t, res.HoldWarning, "33 ohm draws 0.4 A")
	assert.NotContains(t, strings.Join(res.Notes, " "), "from memory")
}

func TestMeasurementErrors(t *testing.T) {
	tests := []struct {
		name   string
		change func(m *Measurement)
		err    string
	}{
		{"leads over the reading", func(m *Measurement) { m.Leads = ohms("1.9"); m.Reading = ohms("0.4") },
			"coil: lead resistance 1.9 ohm is outside 0 ohm to 0.4 ohm"},
		{"leads broken", func(m *Measurement) { m.Leads = ohms("OL") }, "coil: lead resistance ∞ is outside 0 ohm to 2 ohm"},
		{"leads too much", func(m *Measurement) { m.Leads = ohms("2.1") }, "coil: lead resistance 2.1 ohm is outside 0 ohm to 2 ohm"},
		{"impossible temperature", func(m *Measurement) { m.Temperature = celsius(412) }, "coil: winding temperature 412 °C is outside -60 °C to 250 °C"},
		{"impossible reference", func(m *Measurement) { m.Reference = celsius(-200) }, "coil: reference temperature -200 °C is outside -60 °C to 250 °C"},
		{"impossible service temperature", func(m *Measurement) { m.HotAt = celsius(999) }, "coil: service temperature 999 °C is outside -60 °C to 250 °C"},
		{"negative spread", func(m *Measurement) { m.Spread = -1 }, "coil: spread of the temperature in kelvin -1 is outside 0 to 100"},
		{"not a number", func(m *Measurement) { m.Reading.SI = math.NaN() }, "coil: reading not a number is outside 0 ohm to 10000000000 ohm"},
		{"insulation not a number", func(m *Measurement) { m.Insulation = m.Reading; m.Insulation.SI = math.NaN() },
			"coil: insulation reading not a number is outside 0 ohm to 10000000000 ohm"},
		{"supply", func(m *Measurement) { m.Supplies = []quantity.Voltage{1000} }, "coil: voltage 1000 V is outside -60 V to 60 V"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := typical()
			tt.change(&m)
			_, err := m.Judge()
			assert.EqualError(t, err, tt.err)
			var out *quantity.RangeError
			assert.ErrorAs(t, err, &out)
		})
	}
}

func TestExpectation(t *testing.T) {
	three := quantity.Resistance(3)
	assert.Equal(t, "Your meter should show at least 3 ohm now.", Expectation{Min: &three}.String())
	assert.Equal(t, "Your meter should show at most 3 ohm now.", Expectation{Max: &three}.String())
	assert.Empty(t, Expectation{}.String())
}

func ExampleMeasurement_Judge() {
	least, most := quantity.Ohm.Of(3), quantity.Ohm.Of(5) // from memory
	res, err := Measurement{
		Reading:     quantity.MustParse(quantity.KindResistance, "4.9 ohm"),
		Leads:       quantity.MustParse(quantity.KindResistance, "0.3 ohm"),
		Temperature: quantity.Temperature(quantity.MustParse(quantity.KindTemperature, "180 F").SI),
		Where:       Connector,
		Windows:     []conformity.Window{{Min: &least, Max: &most}},
	}.Judge()
	fmt.Println(err)
	fmt.Println(res.Explanation)
	fmt.Println(res.Expected[0])
	// Output:
	// <nil>
	// 4.6 ohm without the leads at 180 °F is 3.7 ohm at 68 °F. 3.7 ohm is inside 3 ohm to 5 ohm. The reading can be off by 0.34 ohm, and it is good with a probability of more than 99 %.
	// Your meter should show between 4.03 ohm and 6.52 ohm now.
}

func FuzzMeasurement(f *testing.F) {
	f.Add("4.9", "0.3", 82.2, 20.0, 3.0, 5.0, 12.6)
	f.Add("OL", "", 0.0, 0.0, 3.0, 5.0, 12.6)
	f.Add("", "OL", -999.0, math.NaN(), 5.0, 3.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, reading, leads string, at, ref, min, max, supply float64) {
		r, errReading := quantity.Parse(quantity.KindResistance, reading, quantity.Unit{})
		l, _ := quantity.Parse(quantity.KindResistance, leads, quantity.Unit{})
		res, err := Measurement{
			Reading: r, Leads: l, Temperature: celsius(at), Reference: celsius(ref),
			Windows:  []conformity.Window{window("", quantity.Ohm, min, max)},
			Others:   []conformity.Window{overdrive},
			Supplies: []quantity.Voltage{quantity.Voltage(supply)},
		}.Judge()
		if err != nil {
			var out *quantity.RangeError
			require.ErrorAs(t, err, &out)
			return
		}
		require.NotEmpty(t, res.Diagnoses)
		require.NotContains(t, res.Explanation, "NaN")
		for _, x := range []float64{float64(res.Net), float64(res.Referred), float64(res.Standard), float64(res.Extra), res.Bridged.Least, res.Bridged.Most, res.Judgement.Probability} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
		}
		if res.Is(Healthy) {
			require.NoError(t, errReading, "nothing read, nothing healthy")
		}
	})
}
