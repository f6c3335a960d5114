package diagnosis_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/plan"
	"provingbench/knowledge/unit"
)

// The checks of this file are facts of the trade: common practice, no source.

func stock(v unit.Version, level string, reports ...string) diagnosis.Case {
	c := diagnosis.Case{Version: v, Build: unit.Stock, Level: level}
	for _, id := range reports {
		c.Reports = append(c.Reports, diagnosis.Report{Symptom: id})
	}
	return c
}

func probability(a *diagnosis.Answer, fault string) float64 {
	for _, s := range a.Ranked {
		if s.Fault.ID == fault {
			return s.Probability
		}
	}
	return 0
}

func proved(a *diagnosis.Answer) []string {
	var ids []string
	for _, f := range a.Proved {
		ids = append(ids, f.ID)
	}
	return ids
}

// An open coil is a failed coil, whatever the temperature.
func TestOpenCoilIsFailedAtAnyTemperature(t *testing.T) {
	e := engine()
	coils := map[string]string{
		"governor-coil-at-part":         "governor-solenoid-coil-open",
		"overdrive-coil-at-part":        "overdrive-solenoid-coil-open",
		"converter-clutch-coil-at-part": "converter-clutch-solenoid-coil-open",
	}
	for check, fault := range coils {
		for _, at := range []string{"", "-20 F", "70 F", "180 F", "250 F"} {
			for _, reading := range []string{"OL", "ol", "4.2 kohm", "2 Mohm"} {
				t.Run(fmt.Sprint(check, at, reading), func(t *testing.T) {
					c := stock(unit.Late, "pan", "launches-in-third")
					n := diagnosis.Entry{Check: check, Observation: "ohms", Reading: reading, At: at}
					j := e.Judge(&c, &n)
					assert.Equal(t, conformity.Open, j.Verdict, j.Reason)
					c.Entries = []diagnosis.Entry{n}
					a, err := e.Answer(c)
					require.NoError(t, err)
					assert.Equal(t, []string{fault}, proved(a))
				})
			}
		}
	}
}

// With a governor solenoid coil open, being stuck in second or third, launching
// in third, low pressure, slip and rough shifts are what drivers report.
func TestWhatDriversReportWithAnOpenGovernorCoil(t *testing.T) {
	e := engine()
	for _, v := range unit.Versions {
		a, err := e.Answer(stock(v, "wheels", "stuck-in-second", "stuck-in-third", "launches-in-third", "low-pressure", "slips-all", "harsh-shifts"))
		require.NoError(t, err)
		assert.Equal(t, "governor-solenoid-coil-open", a.Ranked[0].Fault.ID, v)
		for _, id := range []string{"stuck-in-second", "stuck-in-third", "launches-in-third"} {
			a, err := e.Answer(stock(v, "wheels", id))
			require.NoError(t, err)
			top := a.Ranked[:8]
			assert.True(t, slices.ContainsFunc(top, func(s diagnosis.Suspect) bool { return s.Fault.ID == "governor-solenoid-coil-open" }), "%s %s", v, id)
		}
	}
}

// Line pressure in a forward range at or above 275 psi is never called good.
// Reverse is its own case.
func TestLinePressureCeiling(t *testing.T) {
	e := engine()
	reverse := 0
	for k := range e.Catalogue.Checks {
		check := &e.Catalogue.Checks[k]
		for n := range check.Observations {
			o := &check.Observations[n]
			if o.Reading == nil || o.Reading.Quantity != "pressure" {
				continue
			}
			for _, v := range unit.Versions {
				for _, b := range []unit.Build{unit.Stock, unit.Raised} {
					c := diagnosis.Case{Version: v, Build: b, Level: "raised"}
					for _, psi := range []string{"275", "276", "290", "300", "350"} {
						j := e.Judge(&c, &diagnosis.Entry{Check: check.ID, Observation: o.ID, Reading: psi})
						if strings.HasPrefix(o.Reading.Acceptance, "line-reverse") {
							reverse++
							continue
						}
						assert.NotEqual(t, conformity.Meets, j.Verdict, "%s/%s %s psi %s %s", check.ID, o.ID, psi, v, b)
					}
				}
			}
		}
	}
	assert.Positive(t, reverse)
	c := stock(unit.Mid, "raised")
	j := e.Judge(&c, &diagnosis.Entry{Check: "line-pressure-reverse", Observation: "reverse-full", Reading: "255 psi"})
	assert.Equal(t, conformity.Meets, j.Verdict, j.Reason)
}

// Ranging line pressure of about 110 to 200 psi is a deliberate raised setting
// when the job says so, and a fault when it says stock.
func TestRaisedLinePressure(t *testing.T) {
	e := engine()
	for _, v := range unit.Versions {
		entries := []diagnosis.Entry{
			{Check: "line-pressure-drive", Observation: "line-idle", Reading: "115 psi"},
			{Check: "line-pressure-drive", Observation: "line-full", Reading: "198 psi"},
		}
		c := stock(v, "raised", "harsh-shifts")
		c.Entries = entries
		a, err := e.Answer(c)
		require.NoError(t, err)
		for _, j := range a.Verdicts {
			assert.Equal(t, conformity.Above, j.Verdict, j.Reason)
		}
		high := probability(a, "regulator-set-high") + probability(a, "regulator-stuck-high")
		assert.Greater(t, high, 0.8, v)

		c.Build = unit.Raised
		a, err = e.Answer(c)
		require.NoError(t, err)
		for _, j := range a.Verdicts {
			assert.Equal(t, conformity.Meets, j.Verdict, j.Reason)
		}
		assert.Zero(t, probability(a, "regulator-set-high"), v)
		assert.Less(t, probability(a, "regulator-stuck-high"), 0.2, v)
	}
}

// An overdrive accumulator seal that lets the piston drop in by its own weight fails.
func TestAccumulatorSealThatDrops(t *testing.T) {
	e := engine()
	c := stock(unit.Late, "bench", "flare-3-4")
	c.Entries = []diagnosis.Entry{{Check: "overdrive-accumulator-seal-drop", Observation: "drop", Outcome: "drops"}}
	a, err := e.Answer(c)
	require.NoError(t, err)
	assert.Equal(t, []string{"overdrive-accumulator-seal-worn"}, proved(a))
}

// A mating surface out by 0.015 in fails and one within 0.001 in passes.
func TestMatingSurface(t *testing.T) {
	e := engine()
	c := stock(unit.Late, "bench", "flare-2-3")
	for reading, want := range map[string]conformity.Verdict{
		"0.015 in": conformity.Above, ".015": conformity.Above, "0.38 mm": conformity.Above,
		"0.001 in": conformity.Meets, "0,001": conformity.Meets,
	} {
		n := diagnosis.Entry{Check: "mating-surface-flatness", Observation: "flatness", Reading: reading}
		j := e.Judge(&c, &n)
		assert.Equal(t, want, j.Verdict, "%s: %s %s", reading, j.Reason, j.Problem)
		c.Entries = []diagnosis.Entry{n}
		a, err := e.Answer(c)
		require.NoError(t, err)
		assert.Equal(t, want == conformity.Above, slices.Contains(proved(a), "valve-body-warped"), reading)
	}
}

// A meter that shows 4.9 with 0.3 in its leads, on a governor coil at 180 °F,
// reads a good coil. The figures are worked by hand: 4.6 ohm at 82.2 °C is
// 4.6 · (235 + 20) / (235 + 82.2) = 3.70 ohm at 20 °C, inside 3 to 5.
func TestGovernorCoilHot(t *testing.T) {
	e := engine()
	c := stock(unit.Late, "plug")
	j := e.Judge(&c, &diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "ohms", Reading: "4.9", Leads: "0.3", At: "180 F"})
	assert.Equal(t, conformity.Meets, j.Verdict, j.Reason)
	assert.Contains(t, j.Reason, "3.7 ohm")
	assert.True(t, j.Provisional, "the window is from memory, and the verdict must say so")
	assert.NotEmpty(t, j.Shows)
}

// Nothing that can't be read gives a verdict or evidence, and what is wrong is
// said in a sentence with the field it is in.
func TestBadReadingsGiveNoVerdict(t *testing.T) {
	e := engine()
	c := stock(unit.Late, "plug", "launches-in-third")
	before, err := e.Answer(c)
	require.NoError(t, err)
	long := strings.Repeat("9", 10000)
	tests := []struct {
		name  string
		entry diagnosis.Entry
		field string
	}{
		{"empty", diagnosis.Entry{Reading: ""}, "reading"},
		{"letters", diagnosis.Entry{Reading: "four"}, "reading"},
		{"too large", diagnosis.Entry{Reading: "1e999"}, "reading"},
		{"negative", diagnosis.Entry{Reading: "-4"}, "reading"},
		{"not a number", diagnosis.Entry{Reading: "NaN"}, "reading"},
		{"infinite", diagnosis.Entry{Reading: "Inf"}, "reading"},
		{"long", diagnosis.Entry{Reading: long}, "reading"},
		{"another quantity", diagnosis.Entry{Reading: "4.9 psi"}, "reading"},
		{"unknown unit", diagnosis.Entry{Reading: "4.9", Unit: "furlong"}, "unit"},
		{"leads in letters", diagnosis.Entry{Reading: "4.9", Leads: "x"}, "leads"},
		{"temperature in letters", diagnosis.Entry{Reading: "4.9", At: "warm"}, "at"},
		{"accuracy negative", diagnosis.Entry{Reading: "4.9", Percent: "-1"}, "percent"},
		{"digits in letters", diagnosis.Entry{Reading: "4.9", Digits: "two"}, "digits"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			n := test.entry
			n.Check, n.Observation = "governor-coil-at-plug", "ohms"
			j := e.Judge(&c, &n)
			assert.Empty(t, j.Verdict)
			assert.Empty(t, j.Outcome)
			assert.Equal(t, test.field, j.Field, j.Problem)
			assert.NotEmpty(t, j.Problem)
			assert.Less(t, len(j.Problem), 300)
			with := c
			with.Entries = []diagnosis.Entry{n}
			after, err := e.Answer(with)
			require.NoError(t, err)
			assert.Equal(t, ranking(before), ranking(after), "what can't be read is no evidence")
		})
	}
	t.Run("open loop where it makes no sense", func(t *testing.T) {
		j := e.Judge(&c, &diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "OL"})
		assert.Empty(t, j.Outcome)
		assert.NotEqual(t, conformity.Meets, j.Verdict)
		assert.NotEmpty(t, j.Problem+j.Reason)
	})
	t.Run("outcome of another check", func(t *testing.T) {
		j := e.Judge(&c, &diagnosis.Entry{Check: "fluid-level", Observation: "level", Outcome: "open"})
		assert.Equal(t, "outcome", j.Field)
	})
	t.Run("check that is not there", func(t *testing.T) {
		j := e.Judge(&c, &diagnosis.Entry{Check: "none", Observation: "x", Outcome: "y"})
		assert.NotEmpty(t, j.Problem)
	})
}

func ranking(a *diagnosis.Answer) map[string]float64 {
	m := map[string]float64{}
	for _, s := range a.Ranked {
		m[s.Fault.ID] = s.Probability
	}
	return m
}

// Level, then condition of the fluid come before linkage and cable, those before stored codes, and all of
// them before gauges and meters, whatever the complaint: what is listed never
// passes over a check of an earlier place that tells something.
func TestPreliminaryChecksComeInTheirOrder(t *testing.T) {
	e := engine()
	place := func(k *catalogue.Check) int {
		if p := slices.Index(catalogue.Preliminaries, k.Preliminary); p >= 0 {
			return p
		}
		return len(catalogue.Preliminaries)
	}
	for _, v := range unit.Versions {
		for k := range e.Catalogue.Symptoms {
			a, err := e.Answer(stock(v, "wheels", e.Catalogue.Symptoms[k].ID))
			require.NoError(t, err)
			earliest := len(catalogue.Preliminaries)
			for _, s := range a.Next {
				if s.Bits >= plan.BearsOn {
					earliest = min(earliest, place(s.Check))
				}
			}
			for _, s := range a.Next {
				assert.LessOrEqual(t, place(s.Check), earliest, "%s %s: %s", v, e.Catalogue.Symptoms[k].ID, s.Check.ID)
			}
		}
	}
	for symptom, first := range map[string]string{
		"slips-all": "fluid-level", "delayed-engagement": "fluid-level", "late-shifts": "fluid-level",
		"harsh-shifts": "fluid-condition", "burnt-fluid": "fluid-condition", "launches-in-third": "stored-codes",
	} {
		a, err := e.Answer(stock(unit.Late, "wheels", symptom))
		require.NoError(t, err)
		assert.Equal(t, first, a.Next[0].Check.ID, symptom)
	}
}
