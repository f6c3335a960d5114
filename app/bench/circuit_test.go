package bench

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGovernorSensorScreen(t *testing.T) {
	// Good at 5000 ft, low at the sea.
	_, r := formOf(t, governorTool, governorPanel, "zero=0.300&feed=5.00&air=height&height=5000")
	assert.Equal(t, "good", r.call, r.because)
	require.NotNil(t, r.entry)
	assert.Equal(t, zeroObservation, r.entry.Observation)
	_, r = formOf(t, governorTool, governorPanel, "zero=0.300&feed=5.00")
	assert.Equal(t, "bad", r.call)
	_, r = formOf(t, governorTool, governorPanel, "zero=0.50&feed=5.00&signal=1.70&gauge=30")
	assert.Contains(t, r.because[len(r.because)-1], "They agree")
	_, r = formOf(t, governorTool, governorPanel, "zero=0.50&feed=5.00&signal=1.70&gauge=60")
	assert.Contains(t, r.because[len(r.because)-1], "more than both can be off")
	f, r := formOf(t, governorTool, governorPanel, "gauge=30")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["zero"])
	f, r = formOf(t, governorTool, governorPanel, "zero=0.5&air=barometer&barometer=2.9")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["barometer"])
	f, r = formOf(t, governorTool, governorPanel, "zero=12")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["zero"])
	// The check and the observation exist.
	k := newSession().Catalogue().Check(signalCheck)
	require.NotNil(t, k)
	found := false
	for _, o := range k.Observations {
		found = found || o.ID == zeroObservation
	}
	assert.True(t, found)
}

func TestCircuitScreen(t *testing.T) {
	_, r := formOf(t, circuitTool, dropPanel, "drop=0.45&current=3.00&gage=16&length=6")
	assert.Equal(t, "bad", r.call)
	assert.Contains(t, r.because[1], "more resistance than its wire")
	_, r = formOf(t, circuitTool, dropPanel, "drop=0.45&path=feed")
	assert.Equal(t, "none", r.call, "no sheet, no verdict")
	f, _ := formOf(t, circuitTool, dropPanel, "drop=0.45&current=3.00&gage=16")
	assert.NotEmpty(t, f.problems["length"])
	f, _ = formOf(t, circuitTool, dropPanel, "drop=0.45&current=3.00&gage=99&length=6")
	assert.NotEmpty(t, f.problems["gage"])
	f, _ = formOf(t, circuitTool, dropPanel, "drop=0.45&current=0.001 A")
	assert.NotEmpty(t, f.problems["current"])

	// By hand: (12 · 0.37 − 0.7 · 0.63) / 4.
	_, r = formOf(t, circuitTool, pulsePanel, "voltage=12&coil=4&duty=37")
	assert.Equal(t, "1 A on average", r.word)
	f, _ = formOf(t, circuitTool, pulsePanel, "voltage=12&coil=4&duty=37&driver=clamp")
	assert.NotEmpty(t, f.problems["henry"])
	html := app.HTMLString(filled(t, circuitTool, "voltage=12&coil=4&duty=37&henry=8&driver=clamp"))
	assert.Contains(t, html, `<svg class="pulse"`)
	f, _ = formOf(t, circuitTool, pulsePanel, "voltage=12&coil=4&duty=370")
	assert.NotEmpty(t, f.problems["duty"])

	_, r = formOf(t, circuitTool, dividerPanel, "sense=2.5&rail=5&pullup=1000")
	assert.Equal(t, "1000 ohm", r.word)
	assert.Equal(t, "none", r.call)
	_, r = formOf(t, circuitTool, dividerPanel, "sense=4.99&rail=5.00&pullup=1000")
	assert.Equal(t, "Open", r.word)
	_, r = formOf(t, circuitTool, dividerPanel, "sense=2.5&rail=5&known=1000&knownvolts=2.5")
	assert.Equal(t, "1000 ohm", r.word)
	_, r = formOf(t, circuitTool, dividerPanel, "sense=2.5&rail=5&pullup=1000&state=soaked")
	assert.Equal(t, "unsure", r.call, "the sheet's sources disagree on this sensor")
	f, _ = formOf(t, circuitTool, dividerPanel, "sense=2.5&rail=5")
	assert.NotEmpty(t, f.problems["pullup"])
}
