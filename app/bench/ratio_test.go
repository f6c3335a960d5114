package bench

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const typicalRoad = "engine=1650&speed=60&pace=satellite&tyre=LT235/85R16&axle=3.55"

func TestRatioSaysTheGear(t *testing.T) {
	// 60 mph on 654.7 turns a mile, by 3.55, is 2324 rpm of the shaft; 4th by the
	// published 0.69 is 1604, and 1650 is 3 % more.
	f, r := formOf(t, ratioTool, ratioPanel, typicalRoad)
	require.Empty(t, f.problems)
	assert.Equal(t, "4th", r.word)
	assert.Contains(t, r.value, "0.71")
	assert.NotNil(t, r.body)
	_, r = formOf(t, ratioTool, ratioPanel, typicalRoad+"&ordered=3")
	assert.Equal(t, "bad", r.call)
	assert.Contains(t, r.word, "not 3rd")
	_, r = formOf(t, ratioTool, ratioPanel, typicalRoad+"&ordered=4")
	assert.Equal(t, "good", r.call)
	_, r = formOf(t, ratioTool, ratioPanel, "by=shaft&engine=2400&shaft=2400&ordered=4")
	assert.Contains(t, r.because[2], "overdrive clutch", "maker's handbook: without it 4th drives as 3rd")
	_, r = formOf(t, ratioTool, ratioPanel, "by=shaft&engine=2400&shaft=2000")
	assert.Equal(t, "No gear fits", r.word)
	_, r = formOf(t, ratioTool, ratioPanel, "by=shaft&engine=2250&shaft=1000&ordered=reverse")
	assert.Contains(t, r.word, "Reverse")
}

func TestRatioBlamesTheField(t *testing.T) {
	for query, key := range map[string]string{
		"engine=1650&speed=60&axle=3.55":                 "tyre",
		"engine=1650&speed=60&tyre=LT235/85R16":          "axle",
		"engine=1650&speed=60&tyre=7.50R16&axle=3.55":    "tyre",
		"engine=1650&speed=60&tyre=LT235/85R16&axle=355": "axle",
		"engine=1650&speed=1&tyre=LT235/85R16&axle=3.55": "speed",
		"engine=20&speed=60&tyre=LT235/85R16&axle=3.55":  "engine",
		"engine=1650&speed=60&turns=20&axle=3.55":        "turns",
		"engine=1650&speed=60&rolled=9 m&axle=3.55":      "rolled",
		"by=shaft&engine=1650&shaft=20":                  "shaft",
		typicalRoad + "&range=30":                        "range",
	} {
		f, r := formOf(t, ratioTool, ratioPanel, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

func TestFlareScreen(t *testing.T) {
	_, r := formOf(t, ratioTool, flarePanel, "before=2400&peak=2750&after=1660")
	assert.Equal(t, "Flare of 350 rpm", r.word)
	assert.Equal(t, "unsure", r.call, "no sheet allows or forbids it")
	_, r = formOf(t, ratioTool, flarePanel, "before=2400&peak=2400&after=1900")
	assert.Equal(t, "unsure", r.call)
	_, r = formOf(t, ratioTool, flarePanel, "before=2400&after=1650")
	assert.Contains(t, r.word, "Expected after it: 1650")
	f, r := formOf(t, ratioTool, flarePanel, "before=2400&after=1650&v1=40")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["v2"])
	_, r = formOf(t, ratioTool, lockupPanel, "unlocked=2000&locked=1880")
	assert.Equal(t, "Drop of 120 rpm", r.word)
	_, r = formOf(t, ratioTool, lockupPanel, "unlocked=2000&locked=1998")
	assert.Equal(t, "No drop", r.word)
	_, r = formOf(t, ratioTool, lockupPanel, "unlocked=1900&locked=2000")
	assert.Contains(t, r.word, "rose")
}

func TestRatioPictureIsSaid(t *testing.T) {
	html := app.HTMLString(filled(t, ratioTool, typicalRoad))
	assert.Contains(t, html, `<svg class="ladder"`)
	assert.Contains(t, html, "4th: ")
	assert.Contains(t, html, "None of them")
}

func TestShiftLogScreen(t *testing.T) {
	_, r := formOf(t, shiftLogTool, shiftLogPanel, "log=1-2 light 14%0A2-3 light 24")
	assert.Equal(t, "none", r.call, "no sheet, no verdict")
	_, r = formOf(t, shiftLogTool, shiftLogPanel, "log=1-2 light 14%3B 10 to 20&pace=satellite")
	assert.Equal(t, "good", r.call)
	_, r = formOf(t, shiftLogTool, shiftLogPanel, "log=1-2 light 30%3B 10 to 20")
	assert.Equal(t, "bad", r.call)
	_, r = formOf(t, shiftLogTool, shiftLogPanel, "log=1-2 light 15%0A1-2 full 15")
	assert.Equal(t, "Not in order", r.word)
	assert.Contains(t, r.because[0], "throttle pressure")
	f, r := formOf(t, shiftLogTool, shiftLogPanel, "log=1-9 light 15")
	assert.Nil(t, r)
	assert.Contains(t, f.problems["log"], "Line 1")
	_, r = formOf(t, shiftLogTool, shiftLogPanel, "log=3-4 light 45 1900&tyre=LT235/85R16&axle=3.55")
	assert.Contains(t, app.HTMLString(r.body[0]), "without slip")
}
