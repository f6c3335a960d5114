package diagnosis

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
	sheet "provingbench/knowledge/unit/shipped"
)

var fittedReadings = []Entry{
	{Check: "line-pressure-drive", Observation: "line-idle", Reading: "41", Unit: "psi"},
	{Check: "line-pressure-reverse", Observation: "reverse-idle", Reading: "158", Unit: "psi"},
}

func probabilities(t *testing.T, e *Engine, c Case) map[string]float64 {
	t.Helper()
	a, err := e.Rank(c)
	require.NoError(t, err)
	require.Empty(t, a.Clash)
	out := map[string]float64{}
	for _, s := range a.Ranked {
		out[s.Fault.ID] = s.Probability
	}
	return out
}

func odds(p float64) float64 { return p / (1 - p) }

// A fitted log that speaks of one fault moves its odds by just what it says.
// Source: Bayes' rule in odds: Good 1950, "Probability and the Weighing of
// Evidence": posterior odds = prior odds × likelihood ratio.
func TestFittedLogMovesTheOdds(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	c := Case{Version: "late", Build: "stock", Level: "raised"}
	before := probabilities(t, e, c)
	for _, w := range []float64{-MostWeight, -1, 0.5, 2, MostWeight} {
		c.Fitted = &FittedLog{Readings: fittedReadings, Weights: map[string]float64{"rear-clutch-seals": w}}
		after := probabilities(t, e, c)
		assert.InEpsilon(t, odds(before["rear-clutch-seals"])*math.Exp(w), odds(after["rear-clutch-seals"]), 1e-9, w)
		assert.InDelta(t, before["pump-worn"], after["pump-worn"], 1e-12, "nothing was said of it")
	}
}

// Two faults that explain the same readings are rivals: each is likelier than
// before, both at once are not.
// Source: explaining away, Pearl 1988, "Probabilistic Reasoning in Intelligent
// Systems", 2.2.4; the number is the sum over the four sets of two faults.
func TestFittedLogHasRivals(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	c := Case{Version: "late", Build: "stock", Level: "raised"}
	before := probabilities(t, e, c)
	a, b := before["rear-clutch-seals"], before["input-shaft-rings-worn"]
	c.Fitted = &FittedLog{Readings: fittedReadings, Weights: map[string]float64{"rear-clutch-seals": MostWeight, "input-shaft-rings-worn": MostWeight}}
	after := probabilities(t, e, c)

	alone, none := 0.98, 0.02 // with one of them, and with neither
	both := 1 - (1-alone)*(1-alone)/(1-none)
	total := (1-a)*(1-b)*none + (a*(1-b)+b*(1-a))*alone + a*b*both
	assert.InDelta(t, (a*(1-b)*alone+a*b*both)/total, after["rear-clutch-seals"], 1e-9)
	assert.Less(t, a*b*both/total, 0.1, "hardly both")
}

// Two faults that only together explain the readings each have a sign of their own:
// they are no rivals, and both are likelier at once.
// Source: Bayes' rule in odds, as above; the signs are independent, so that both at
// once have the product.
func TestFittedLogOfTwoFaults(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	c := Case{Version: "late", Build: "stock", Level: "raised"}
	before := probabilities(t, e, c)
	c.Fitted = &FittedLog{Readings: fittedReadings,
		Weights: map[string]float64{"rear-clutch-seals": 3, "pump-worn": -2},
		Beside:  map[string]float64{"governor-solenoid-stuck-closed": 2.5}}
	after := probabilities(t, e, c)
	assert.InEpsilon(t, odds(before["rear-clutch-seals"])*math.Exp(3), odds(after["rear-clutch-seals"]), 1e-9)
	assert.InEpsilon(t, odds(before["governor-solenoid-stuck-closed"])*math.Exp(2.5), odds(after["governor-solenoid-stuck-closed"]), 1e-9)
	assert.InEpsilon(t, odds(before["pump-worn"])*math.Exp(-2), odds(after["pump-worn"]), 1e-9)

	reasons, err := e.Reasons(c, "governor-solenoid-stuck-closed")
	require.NoError(t, err)
	require.Len(t, reasons[0], 1)
	assert.Equal(t, "The pressure log, fitted: the second of two faults", reasons[0][0].Finding)
}

// To enter one reading by itself takes the log out, and its other readings stand
// as entries: none is lost.
func TestFittedReadingsOutliveTheLog(t *testing.T) {
	c := Case{Fitted: &FittedLog{Readings: fittedReadings, Weights: map[string]float64{"pump-worn": 1}}}
	again := fittedReadings[0]
	again.Reading = "45"
	require.True(t, c.Unfit(again))
	assert.Nil(t, c.Fitted)
	assert.Equal(t, fittedReadings[1:], c.Entries)
}

// The same readings never count twice: what is entered last takes the place of
// the other, and a case that has both counts the entries.
func TestFittedLogCountsOnce(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	log := &FittedLog{Readings: fittedReadings, Weights: map[string]float64{"rear-clutch-seals": 3, "pump-worn": -2}}
	other := Entry{Check: "fluid-level", Observation: e.Catalogue.Check("fluid-level").Observations[0].ID}
	c := Case{Version: "late", Build: "stock", Level: "raised", Reports: []Report{{Symptom: "slips-all-forward"}}}
	if e.Catalogue.Symptom("slips-all-forward") == nil {
		c.Reports = []Report{{Symptom: "no-reverse"}}
	}
	c.Entries = []Entry{other, fittedReadings[0]}

	entered := probabilities(t, e, c)
	with := c
	with.Fitted = log
	assert.Equal(t, entered, probabilities(t, e, with), "the entry counts, the log does not")

	assert.Equal(t, []int{0}, with.Fit(log), "the reading goes, the other entry stays")
	assert.Equal(t, []Entry{other}, with.Entries)
	assert.NotEqual(t, entered, probabilities(t, e, with))
	assert.Len(t, c.Entries, 2, "the case it came from is untouched")

	a, err := e.Answer(with)
	require.NoError(t, err)
	for _, s := range a.Next {
		if s.Check.ID == "line-pressure-reverse" {
			assert.Greater(t, len(s.Check.Observations), 1, "only for what was not read")
		}
	}
	reasons, err := e.Reasons(with, "rear-clutch-seals")
	require.NoError(t, err)
	found := false
	for _, r := range reasons[0] {
		found = found || r.Finding == "The pressure log, fitted" && r.Bits > 0
	}
	assert.True(t, found, reasons[0])

	assert.False(t, with.Unfit(other))
	assert.True(t, with.Unfit(fittedReadings[1]))
	assert.Nil(t, with.Fitted)
}

func TestFittedLogIsChecked(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	for field, log := range map[string]*FittedLog{
		"fitted.readings[0]":                {Readings: []Entry{{Check: "no-such"}}},
		"fitted.weights":                    {Weights: map[string]float64{"no-such": 1}},
		"fitted.weights.pump-worn":          {Weights: map[string]float64{"pump-worn": 40}},
		"fitted.beside":                     {Beside: map[string]float64{"no-such": 1}},
		"fitted.beside.pump-worn":           {Beside: map[string]float64{"pump-worn": -1}},
		"fitted.beside.fluid-low":           {Beside: map[string]float64{"fluid-low": math.Inf(1)}},
		"fitted.weights.regulator-set-high": {Weights: map[string]float64{"regulator-set-high": math.NaN()}},
	} {
		_, err := e.Rank(Case{Version: "late", Build: "stock", Level: "raised", Fitted: log})
		var input *InputError
		require.ErrorAs(t, err, &input, field)
		assert.Equal(t, field, input.Field)
	}
	none := FittedLog{Readings: fittedReadings}
	c := Case{Version: "late", Build: "stock", Level: "raised"}
	before := probabilities(t, e, c)
	c.Fitted = &none
	assert.Equal(t, before, probabilities(t, e, c), "a log that says nothing")
}

func TestFittedLogIsKept(t *testing.T) {
	c := Case{Version: "late", Fitted: &FittedLog{Readings: fittedReadings, Weights: map[string]float64{"pump-worn": -1.5}, Beside: map[string]float64{"fluid-low": 1}}}
	b, err := json.Marshal(c)
	require.NoError(t, err)
	var back Case
	require.NoError(t, json.Unmarshal(b, &back))
	assert.Equal(t, c.Fitted, back.Fitted)
	copied := c.Fitted.Clone()
	copied.Weights["pump-worn"] = 0
	assert.Equal(t, -1.5, c.Fitted.Weights["pump-worn"])
	assert.Nil(t, (*FittedLog)(nil).Clone())
}
