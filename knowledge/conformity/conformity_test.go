package conformity

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func TestProbabilityAgainstPublished(t *testing.T) {
	for _, row := range published.Table(t, "conformity/probability.csv") {
		t.Run(row["name"], func(t *testing.T) {
			min, max := math.Inf(-1), math.Inf(1)
			if row["min"] != "" {
				min = row.Number(t, "min")
			}
			if row["max"] != "" {
				max = row.Number(t, "max")
			}
			inside, below, above, err := Probability(row.Number(t, "y"), row.Number(t, "u"), min, max)
			require.NoError(t, err)
			assert.InDelta(t, row.Number(t, "p_inside"), inside, row.Number(t, "half_digit"), row["source"])
			assert.InDelta(t, 1, inside+below+above, 1e-12, "identity")
		})
	}
}

// TestGlobalRiskAgainstPublished integrates the probability of conformity over
// everything that simple acceptance lets through. For a normal process and a
// normal test, what is known after a reading is again normal (JCGM 106:2012,
// clause 6), so the integral is the published false accept risk.
func TestGlobalRiskAgainstPublished(t *testing.T) {
	for _, row := range published.Table(t, "conformity/risk.csv") {
		t.Run(row["name"], func(t *testing.T) {
			s, u, limit := row.Number(t, "process_sd"), row.Number(t, "test_sd"), row.Number(t, "limit")
			sum := s*s + u*u
			const steps = 20000 // even, for Simpson's rule
			h := 2 * limit / steps
			risk := 0.0
			for i := 0; i <= steps; i++ {
				y := -limit + float64(i)*h
				inside, _, _, err := Probability(y*s*s/sum, s*u/math.Sqrt(sum), -limit, limit)
				require.NoError(t, err)
				weight := 2.0
				switch {
				case i == 0 || i == steps:
					weight = 1
				case i%2 == 1:
					weight = 4
				}
				risk += weight * h / 3 * (1 - inside) * math.Exp(-y*y/(2*sum)) / math.Sqrt(2*math.Pi*sum)
			}
			assert.InDelta(t, row.Number(t, "false_accept"), risk, row.Number(t, "half_digit"))
		})
	}
}

func TestProbabilityErrors(t *testing.T) {
	tests := []struct {
		name           string
		y, u, min, max float64
		err            string
	}{
		{name: "no reading", y: math.NaN(), u: 1, min: 0, max: 1, err: "conformity: reading not a number is outside"},
		{name: "infinite", y: math.Inf(1), u: 1, min: 0, max: 1, err: "conformity: reading ∞ is outside"},
		{name: "negative uncertainty", y: 0, u: -1, min: 0, max: 1, err: "conformity: standard uncertainty -1 is outside 0 to"},
		{name: "no uncertainty", y: 0, u: math.NaN(), min: 0, max: 1, err: "conformity: standard uncertainty not a number is outside"},
		{name: "upside down", y: 0, u: 1, min: 2, max: 1, err: "conformity: lower limit 2 is outside -∞ to 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, _, _, err := Probability(tt.y, tt.u, tt.min, tt.max)
			require.Error(t, err)
			assert.Contains(t, err.Error(), tt.err)
			var out *quantity.RangeError
			assert.ErrorAs(t, err, &out)
		})
	}
	inside, _, _, err := Probability(10, 0, 10, 10)
	require.NoError(t, err)
	assert.Equal(t, 1.0, inside, "ten balls are ten balls")
	_, below, _, err := Probability(9, 0, 10, 10)
	require.NoError(t, err)
	assert.Equal(t, 1.0, below)
	_, _, above, err := Probability(11, 0, 10, 10)
	require.NoError(t, err)
	assert.Equal(t, 1.0, above)
}

func val(unit quantity.Unit, x float64) *quantity.Value {
	v := unit.Of(x)
	return &v
}

func window(unit quantity.Unit, min, max float64) Window {
	w := Window{Unit: unit}
	if !math.IsNaN(min) {
		w.Min = val(unit, min)
	}
	if !math.IsNaN(max) {
		w.Max = val(unit, max)
	}
	return w
}

var none = math.NaN()

func TestJudge(t *testing.T) {
	read := quantity.MustParse
	tests := []struct {
		name   string
		r      quantity.Reading
		u      float64
		w      Window
		rule   Rule
		want   Verdict
		inside bool
		source string
	}{
		{"JCGM breakdown voltage is too close to call at 95 %", read(quantity.KindVoltage, "-5.47"), 0.05, window(quantity.Volt, none, -5.40), Probable, TooClose, true, "JCGM 106 example 1: pc = 0.92"},
		{"and passes under simple acceptance", read(quantity.KindVoltage, "-5.47"), 0.05, window(quantity.Volt, none, -5.40), Simple, Meets, true, "ILAC-G8:09/2019, 4.2.1"},
		{"JCGM bursting pressure meets at 95 %", read(quantity.KindPressure, "509.7 kPa"), 8600, window(quantity.Kilopascal, 490, none), Probable, Meets, true, "JCGM 106 example 2: pc = 0.99"},
		{"ILAC: pass with w = 0", read(quantity.KindVoltage, "3.20"), 0.8, window(quantity.Volt, none, 4.00), Simple, Meets, true, "ILAC-G8 example: T 4.00, U 1.60, y 3.20, AL 4.00"},
		{"ILAC: conditional pass with w = U", read(quantity.KindVoltage, "3.20"), 0.8, window(quantity.Volt, none, 4.00), Guarded, TooClose, true, "ILAC-G8 example: AL 2.40"},
		{"ILAC: pass at the acceptance limit", read(quantity.KindVoltage, "2.40"), 0.8, window(quantity.Volt, none, 4.00), Guarded, Meets, true, "ILAC-G8 example: AL 2.40"},
		{"ILAC: conditional fail", read(quantity.KindVoltage, "5.50"), 0.8, window(quantity.Volt, none, 4.00), Guarded, TooClose, false, "ILAC-G8, 4.2.3: between TL and TL + w"},
		{"ILAC: fail above TL + w", read(quantity.KindVoltage, "5.61"), 0.8, window(quantity.Volt, none, 4.00), Guarded, Above, false, "ILAC-G8, 4.2.3"},

		{"a good coil", read(quantity.KindResistance, "4.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{}, Meets, true, "ten u from both limits"},
		{"low", read(quantity.KindResistance, "2.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{}, Below, false, "ten u below"},
		{"high", read(quantity.KindResistance, "6.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{}, Above, false, "ten u above"},
		{"at the limit", read(quantity.KindResistance, "5.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{}, TooClose, true, "p = 0.5"},
		{"short", read(quantity.KindResistance, "0.1"), 0.05, window(quantity.Ohm, 3, 5), Rule{}, Short, false, "under a tenth of the least"},
		{"open", read(quantity.KindResistance, "OL"), 0, window(quantity.Ohm, 3, 5), Rule{}, Open, false, "the meter shows nothing connects"},
		{"insulation should be open", read(quantity.KindResistance, "OL"), 0, window(quantity.Megohm, 1, none), Rule{}, Meets, true, "no upper limit"},
		{"leaking insulation is no short", read(quantity.KindResistance, "50 kohm"), 500, window(quantity.Megohm, 1, none), Rule{}, Below, false, "50 kohm connects nothing"},
		{"insulation gone", read(quantity.KindResistance, "0.4"), 0.1, window(quantity.Megohm, 1, none), Rule{}, Short, false, "under 5 ohm, the handbook's connection"},
		{"count right", read(quantity.KindCount, "10"), 0, window(quantity.Each, 10, 10), Rule{}, Meets, true, "exact"},
		{"count wrong", read(quantity.KindCount, "9"), 0, window(quantity.Each, 10, 10), Rule{}, Below, false, "exact"},
		{"window narrower than the meter", read(quantity.KindPressure, "57 psi"), quantity.PSI.SI(5), window(quantity.PSI, 54, 60), Rule{}, TooClose, true, "never 95 % inside"},
		{"a bare figure is no window", read(quantity.KindVoltage, "5.00"), 0.01, window(quantity.Volt, 5, 5), Rule{}, TooClose, true, "p inside is 0, p below and above are 0.5"},
		{"rule out of range falls back", read(quantity.KindResistance, "4.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{Probability: 7}, Meets, true, "95 %"},

		{"no reading", quantity.Reading{}, 0, window(quantity.Ohm, 3, 5), Rule{}, None, false, "a pass needs a reading"},
		{"no limit", read(quantity.KindResistance, "4.0"), 0.1, Window{}, Rule{}, None, false, "a pass needs a limit"},
		{"OL without a limit", read(quantity.KindResistance, "OL"), 0, Window{}, Rule{}, None, false, "a pass needs a limit"},
		{"another kind", read(quantity.KindResistance, "4.0"), 0.1, window(quantity.PSI, 3, 5), Rule{}, None, false, "nothing to compare"},
		{"upside down", read(quantity.KindResistance, "4.0"), 0.1, window(quantity.Ohm, 5, 3), Rule{}, None, false, "a wrong sheet"},
		{"limit is no number", read(quantity.KindResistance, "4.0"), 0.1, Window{Max: &quantity.Value{Kind: quantity.KindResistance, SI: math.NaN()}}, Rule{}, None, false, "a wrong sheet"},
		{"not a number", quantity.Reading{Kind: quantity.KindResistance, SI: math.NaN()}, 0.1, window(quantity.Ohm, 3, 5), Rule{}, Implausible, false, "unreadable"},
		{"infinite", quantity.Reading{Kind: quantity.KindResistance, SI: math.Inf(1)}, 0.1, window(quantity.Ohm, 3, none), Rule{}, Implausible, false, "an infinite reading is no pass either"},
		{"negative ohms", quantity.Reading{Kind: quantity.KindResistance, SI: -4}, 0.1, window(quantity.Ohm, none, 5), Rule{}, Implausible, false, "out of range is never a pass"},
		{"unknown uncertainty", read(quantity.KindResistance, "4.0"), math.NaN(), window(quantity.Ohm, 3, 5), Rule{}, None, false, "nothing is known about the meter"},
		{"negative uncertainty", read(quantity.KindResistance, "4.0"), -1, window(quantity.Ohm, 3, 5), Simple, None, false, "nothing is known about the meter"},
		{"OL pressure", quantity.Reading{Kind: quantity.KindPressure, OpenLoop: true}, 0, window(quantity.PSI, 3, none), Rule{}, Implausible, false, "a gauge shows no OL"},
		{"kind unknown", quantity.Reading{Kind: "colour", SI: 1}, 0, Window{Max: &quantity.Value{Kind: "colour", SI: 2}}, Rule{}, Implausible, false, "no range is known"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := Judge(tt.r, tt.u, tt.w, tt.rule)
			assert.Equal(t, tt.want, got.Verdict, "%s: %s", tt.source, got.Reason)
			assert.Equal(t, tt.inside, got.Inside)
			assert.NotEmpty(t, got.Reason)
			assert.NotContains(t, got.Reason, "NaN")
			assert.True(t, got.Probability >= 0 && got.Probability <= 1)
		})
	}
}

func TestGuardBands(t *testing.T) {
	r, w := quantity.MustParse(quantity.KindVoltage, "3.20"), window(quantity.Volt, none, 4)
	assert.InDelta(t, 1.645*0.8, Judge(r, 0.8, w, Probable).Guard, 0.0005*0.8, "95 % quantile of the normal distribution, 1.645")
	assert.InDelta(t, 1.6, Judge(r, 0.8, w, Guarded).Guard, 1e-12, "ILAC-G8: w = U = 1.60")
	assert.Zero(t, Judge(r, 0.8, w, Simple).Guard, "ILAC-G8: w = 0")
	assert.InDelta(t, 1.6, Judge(r, 0.8, w, Simple).Expanded, 1e-12)
}

func TestReasons(t *testing.T) {
	read := quantity.MustParse
	assert.Equal(t, "4 ohm is inside 3 ohm to 5 ohm. The reading can be off by 0.2 ohm, and it is good with a probability of more than 99 %.",
		Judge(read(quantity.KindResistance, "4.0"), 0.1, window(quantity.Ohm, 3, 5), Rule{}).Reason)
	assert.Equal(t, "The meter reads OL: nothing connects. Allowed is 3 ohm to 5 ohm.",
		Judge(read(quantity.KindResistance, "OL"), 0, window(quantity.Ohm, 3, 5), Rule{}).Reason)
	assert.Equal(t, "179 °F is just inside 170 °F to 180 °F. The reading can be off by 3.6 °F, so it may be good or bad: the probability of good is 71 %. Measure again with a better meter.",
		Judge(read(quantity.KindTemperature, "179 °F"), 1, window(quantity.Fahrenheit, 170, 180), Rule{}).Reason)
	assert.Equal(t, "57 psi against 54 psi to 60 psi: the window is narrower than this meter can decide. The reading can be off by 10 psi. Use a finer meter.",
		Judge(read(quantity.KindPressure, "57"), quantity.PSI.SI(5), window(quantity.PSI, 54, 60), Rule{}).Reason)
	assert.Equal(t, "72 in-lb against 72 in-lb: the source prints one figure and no tolerance. The reading can be off by 5 in-lb, and within that the two agree. That is as much as can be said.",
		Judge(read(quantity.KindTorque, "72 in-lb"), quantity.InchPound.SI(2.5), window(quantity.InchPound, 72, 72), Rule{}).Reason)
	for w, want := range map[*Window]string{
		{Min: val(quantity.Ohm, 3)}: "at least 3 ohm", {Max: val(quantity.Ohm, 3)}: "at most 3 ohm",
		{}: "no limit", {Min: val(quantity.Volt, 5), Max: val(quantity.Volt, 5)}: "5 V",
	} {
		assert.Equal(t, want, w.String())
	}
}

func TestVerdictWords(t *testing.T) {
	for _, v := range Verdicts {
		assert.NotEmpty(t, v.Words())
		assert.True(t, v.Is(v))
	}
	assert.True(t, Short.Is(Below))
	assert.True(t, Open.Is(Above))
	assert.False(t, Below.Is(Short))
	for _, v := range []Verdict{TooClose, Disagree, Implausible, None} {
		assert.False(t, v.Called())
	}
}

func TestJudgeAll(t *testing.T) {
	psi := func(name string, min, max float64) Window {
		w := window(quantity.PSI, min, max)
		w.Name = name
		return w
	}
	// The two sources of the overdrive clutch at half throttle, in psi.
	handbook, booklet := psi("handbook", 100, 130), psi("booklet", 130, 150)
	u := quantity.PSI.SI(1)
	tests := []struct {
		name    string
		text    string
		windows []Window
		want    Verdict
	}{
		{"inside one, outside the other", "115", []Window{handbook, booklet}, Disagree},
		{"outside both the same way", "80", []Window{handbook, booklet}, Below},
		{"outside both, above", "170", []Window{handbook, booklet}, Above},
		{"at the seam of both", "130", []Window{handbook, booklet}, TooClose},
		{"inside both, close to one limit", "59.5", []Window{psi("a", 54, 62), psi("b", 50, 60.5)}, TooClose},
		{"well inside both", "57", []Window{psi("a", 54, 62), psi("b", 50, 60.5)}, Meets},
		{"above one, below the other", "110", []Window{psi("a", 54, 62), psi("b", 130, 150)}, Disagree},
		{"too close for one, bad for the other", "62", []Window{psi("a", 54, 62), psi("b", 80, 90)}, TooClose},
		{"one window", "57", []Window{psi("a", 54, 62)}, Meets},
		{"a window without limits does not silence the other", "57", []Window{{Name: "empty"}, psi("a", 54, 62)}, Meets},
		{"no windows", "57", nil, None},
		{"only empty windows", "57", []Window{{}, {}}, None},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := JudgeAll(quantity.MustParse(quantity.KindPressure, tt.text), u, tt.windows, nil, Rule{})
			assert.Equal(t, tt.want, got.Verdict, got.Reason)
			assert.Len(t, got.Each, len(tt.windows))
			assert.NotEmpty(t, got.Reason)
			// The order of the sources must not matter.
			reversed := append([]Window(nil), tt.windows...)
			for i, j := 0, len(reversed)-1; i < j; i, j = i+1, j-1 {
				reversed[i], reversed[j] = reversed[j], reversed[i]
			}
			assert.Equal(t, tt.want, JudgeAll(quantity.MustParse(quantity.KindPressure, tt.text), u, reversed, nil, Rule{}).Verdict)
		})
	}
	got := JudgeAll(quantity.MustParse(quantity.KindPressure, "115"), u, []Window{handbook, booklet}, nil, Rule{})
	assert.Equal(t, "The sources disagree about this reading, so nothing is called. handbook (100 psi to 130 psi): good. booklet (130 psi to 150 psi): too low.", got.Reason)
	assert.Equal(t, Meets, got.Each[0].Result.Verdict)
	assert.Equal(t, Below, got.Each[1].Result.Verdict)

	bad := JudgeAll(quantity.Reading{Kind: quantity.KindPressure, SI: math.NaN()}, u, []Window{handbook, booklet}, nil, Rule{})
	assert.Equal(t, Implausible, bad.Verdict)
	assert.Equal(t, None, JudgeAll(quantity.Reading{}, u, []Window{handbook, booklet}, nil, Rule{}).Verdict)
	shorted := JudgeAll(quantity.MustParse(quantity.KindResistance, "0.1"), 0.01, []Window{window(quantity.Ohm, 26, 40), window(quantity.Ohm, 25, 40)}, nil, Rule{})
	assert.Equal(t, Short, shorted.Verdict)
	mixed := JudgeAll(quantity.MustParse(quantity.KindResistance, "2.6"), 0.01, []Window{window(quantity.Ohm, 50, 120), window(quantity.Ohm, 25, 40)}, nil, Rule{})
	assert.Equal(t, Below, mixed.Verdict, "short for one, low for the other")
	opened := JudgeAll(quantity.MustParse(quantity.KindResistance, "OL"), 0, []Window{window(quantity.Ohm, 26, 40), window(quantity.Ohm, 25, 40)}, nil, Rule{})
	assert.Equal(t, Open, opened.Verdict)
}

func TestCeiling(t *testing.T) {
	// A forward range's line pressure is never good at 275 psi or more (common practice).
	ceiling := &Window{Name: "forward ceiling", Max: val(quantity.PSI, 275), Unit: quantity.PSI}
	raised := []Window{window(quantity.PSI, 150, 300)} // a sheet for a raised build
	u := quantity.PSI.SI(2)
	tests := []struct {
		text string
		want Verdict
	}{
		{"200", Meets}, {"271", Meets}, {"274", TooClose}, {"275", Above}, {"290", Above}, {"400", Above}, {"100", Below},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got := JudgeAll(quantity.MustParse(quantity.KindPressure, tt.text), u, raised, ceiling, Rule{})
			assert.Equal(t, tt.want, got.Verdict, got.Reason)
			assert.NotEqual(t, Meets, JudgeAll(quantity.MustParse(quantity.KindPressure, "275"), 0, raised, ceiling, Simple).Verdict, "under no rule")
		})
	}
	assert.Equal(t, "290 psi is at or above 275 psi, which is never good, whatever a sheet says.",
		JudgeAll(quantity.MustParse(quantity.KindPressure, "290"), u, raised, ceiling, Rule{}).Reason)
	assert.Equal(t, Above, JudgeAll(quantity.MustParse(quantity.KindPressure, "290"), u, nil, ceiling, Rule{}).Verdict, "no sheet needed")
	assert.Equal(t, None, JudgeAll(quantity.MustParse(quantity.KindPressure, "200"), u, nil, ceiling, Rule{}).Verdict, "being under it is no pass")
	assert.Equal(t, None, JudgeAll(quantity.Reading{}, u, raised, ceiling, Rule{}).Verdict)
}

func ExampleJudge() {
	reading := quantity.MustParse(quantity.KindPressure, "57 psi")
	least, most := quantity.PSI.Of(54), quantity.PSI.Of(60)
	result := Judge(reading, Default(reading).Standard(reading), Window{Min: &least, Max: &most}, Probable)
	fmt.Println(result.Verdict.Words())
	fmt.Println(result.Reason)
	// Output:
	// good
	// 57 psi is inside 54 psi to 60 psi. The reading can be off by 1.3 psi, and it is good with a probability of more than 99 %.
}

func FuzzJudgeAll(f *testing.F) {
	f.Add("4.9", 0.1, 3.0, 5.0, 4.0, 6.0, 275.0)
	f.Add("OL", 0.0, 3.0, 5.0, math.NaN(), math.Inf(1), 0.0)
	f.Add("", -1.0, 5.0, 3.0, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, text string, u, a, b, c, d, top float64) {
		r, err := quantity.Parse(quantity.KindResistance, text, quantity.Unit{})
		windows := []Window{window(quantity.Ohm, a, b), window(quantity.Ohm, c, d)}
		for _, rule := range []Rule{{}, Simple, Guarded} {
			got := JudgeAll(r, u, windows, &Window{Max: val(quantity.Ohm, top)}, rule)
			require.True(t, got.Probability >= 0 && got.Probability <= 1, "probability %v", got.Probability)
			require.NotEmpty(t, got.Reason)
			require.False(t, strings.Contains(got.Reason, "NaN"))
			if got.Verdict == Meets {
				require.NoError(t, err, "no pass without a reading")
				if !r.OpenLoop {
					require.False(t, r.SI >= top, "no pass at the ceiling")
				}
			}
		}
	})
}
