package bench

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/leak"
)

func leakForm(t *testing.T, query string) (*form, *result) {
	return formOf(t, leakTool, leakPanel, query)
}

func TestLeaksOfAGap(t *testing.T) {
	f, r := leakForm(t, "gap=support-ring&pressure=57")
	require.NotNil(t, r)
	out, err := leaking(f)
	require.NoError(t, err)
	// What costs little cold costs much hot: the fluid is about ten times thinner.
	assert.Less(t, out.cold.idle, out.hot.idle)
	assert.Greater(t, float64(out.hot.flow.Flow/out.cold.flow.Flow), 5.0)
	assert.InDelta(t, 20./7, float64(out.hot.idle/out.hot.drive), 1e-9, "the pump delivers with the engine's speed")
	assert.Contains(t, r.word, "of the pump")
	assert.Equal(t, "none", r.call, "there is no limit, so there is no verdict")
	html := app.HTMLString(filled(t, leakTool, "gap=support-ring&pressure=57"))
	assert.Contains(t, html, "invented for the demo")
	assert.Contains(t, html, `class="leakage"`)

	// All of it typed: nothing is invented any more but the pump.
	_, all := leakForm(t, "gap=body-face&pressure=57&width=1&open=2&length=0.2&pump=20")
	require.NotNil(t, all)
	assert.NotContains(t, app.HTMLString(all.body[2]), "invented")
	assert.Contains(t, all.line, "Warped valve body face, 57 psi")

	_, big := leakForm(t, "gap=hole&pressure=90&diameter=1/4&length=0")
	require.NotNil(t, big)
	assert.Equal(t, "More than the pump delivers", big.word)
	assert.Contains(t, big.because[0], "the gauge will show about")
}

func TestLeaksBlamesTheField(t *testing.T) {
	for query, key := range map[string]string{
		"pressure=57&clearance=900":                      "clearance",
		"pressure=57&off=200":                            "off",
		"pressure=57&hot=500&hot-unit=°C":                "hot",
		"pressure=57&cold=-80&cold-unit=°C":              "cold",
		"pressure=57&pump=90000":                         "pump",
		"pressure=57&delivers=150":                       "delivers",
		"pressure=57&idle=0":                             "idle",
		"pressure=57&drive=0":                            "drive",
		"diameter=2":                                     "pressure",
		"gap=body-face&pressure=57&open=30&open-unit=in": "open",
	} {
		f, r := leakForm(t, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

func downForm(t *testing.T, query string) (*form, *result) {
	return formOf(t, leakDownTool, leakDownPanel, query)
}

func TestLeakDownOnScreen(t *testing.T) {
	const fast = "readings=0 30%0A10 24%0A20 19.5%0A30 15.5%0A40 12.5%0A50 10"
	_, r := downForm(t, fast)
	require.NotNil(t, r)
	assert.Equal(t, "none", r.call)
	assert.Equal(t, "Half is gone in 32 s", r.word, "30 to 10 in 50 s is ln 3, so a half in 50 s · ln 2/ln 3")

	_, r = downForm(t, fast+"&from=30&over=30&most=5")
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call)
	_, r = downForm(t, fast+"&from=30&over=30&most=20")
	require.NotNil(t, r)
	assert.Equal(t, "good", r.call)

	_, r = downForm(t, fast+"&good=0 30%0A60 27.5%0A120 25%0A180 23")
	require.NotNil(t, r)
	assert.Contains(t, app.HTMLString(r.body[0]), "Against the good one")
	assert.Contains(t, app.HTMLString(filled(t, leakDownTool, fast)), `class="leakdown"`)

	for query, key := range map[string]string{
		"readings=0 30":                 "readings",
		"readings=0 30%0A10 psi 20":     "readings",
		"readings=0 30%0A10 x%0A20 3":   "readings",
		"readings=0 30%0A0 20%0A20 3":   "readings",
		fast + "&most=3":                "from",
		fast + "&good=0 30":             "good",
		fast + "&from=30&over=0&most=3": "over",
	} {
		f, r := downForm(t, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

func TestLeakPicturesHaveNoNumberThatIsNone(t *testing.T) {
	for _, g := range leak.Gaps {
		html := app.HTMLString(filled(t, leakTool, "pressure=0&gap="+g.ID))
		assert.NotContains(t, html, "NaN")
	}
}
