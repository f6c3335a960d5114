package bench

import (
	"net/url"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/clutch"
	"provingbench/knowledge/unit"
)

func clampOf(t *testing.T, query string) (*form, *result, string) {
	t.Helper()
	f, r := formOf(t, clampTool, clampPanel, query)
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	return f, r, app.HTMLString(app.Div().Body(r.body...))
}

// Ratios of the gears (maker's handbooks of 1998 and 2003): in 2nd the rear
// clutch carries all of the turbine's torque, in R the band 3.20 times as much.
func TestClampSaysWhatIsNeeded(t *testing.T) {
	for query, want := range map[string]string{
		"engine=400&ratio=1":                                          "400 ft-lb",
		"engine=400&ratio=1.5":                                        "600 ft-lb",
		"engine=400&element=rear-band&gear=R&ratio=1":                 "1280 ft-lb",
		"engine=400&element=front-band&gear=2&ratio=1":                "182 ft-lb",
		"engine=400&element=front-clutch&gear=3&ratio=1":              "125 ft-lb",
		"engine=400&element=overdrive-clutch&gear=4&ratio=1":          "125 ft-lb",
		"engine=400&element=converter-clutch&gear=4&converter=locked": "400 ft-lb",
	} {
		_, r, html := clampOf(t, query)
		assert.True(t, strings.Contains(html, "Needed: "+want+"<"), query)
		assert.Equal(t, "none", r.call, "no pressure was typed: %s", query)
		assert.True(t, strings.Contains(html, "weaker above"), query)
	}
}

func TestClampJudgesOnlyMeasuredSizes(t *testing.T) {
	_, r, html := clampOf(t, "engine=200&ratio=1&line=95")
	assert.Equal(t, "none", r.call, "typical sizes give no verdict")
	assert.Equal(t, "It would hold", r.word)
	assert.True(t, strings.Contains(html, "Line pressure 95 psi"))
	_, r, _ = clampOf(t, "engine=900&line=95")
	assert.Equal(t, "unsure", r.call)
	assert.Equal(t, "It would slip", r.word)

	q := url.Values{}
	for _, of := range []clutch.Owner{unit.RearClutch, clutch.Linings} {
		for _, x := range clutch.FiguresOf(of, unit.Late) {
			v := x.Value(false)
			q.Set(sizeKey(clampPrefix, of, x.What), clutchText(x, v.SI))
		}
	}
	q.Set("ratio", "1")
	q.Set("line", "95")
	for engine, want := range map[string]string{"300": "good", "580": "unsure", "900": "bad"} {
		q.Set("engine", engine)
		_, r, html := clampOf(t, q.Encode())
		assert.Equal(t, want, r.call, "%s: %s", engine, r.value)
		assert.True(t, strings.Contains(html, "Your own value"))
	}
}

func clutchText(x clutch.Figure, si float64) string {
	f := newForm(newSession(), clampPanel)
	return f.say(x.Unit.Of(x.Unit.From(si)), x.Unit, 4)
}

func TestClampSaysWhyItCarriesNothing(t *testing.T) {
	_, r, _ := clampOf(t, "engine=400&element=direct-clutch&gear=2")
	assert.Equal(t, "It carries nothing there", r.word)
	assert.Contains(t, r.because[0], "one-way clutch")
	_, r, _ = clampOf(t, "engine=400&element=converter-clutch&gear=3")
	assert.Contains(t, r.because[0], "locked")
	_, r, _ = clampOf(t, "engine=400&element=rear-band&gear=3")
	assert.Contains(t, r.because[0], "not on")
	_, r, html := clampOf(t, "engine=300&element=direct-clutch&gear=R&ratio=1")
	assert.Contains(t, r.because[0], "spring")
	assert.False(t, strings.Contains(html, "Slips below"), "no pressure makes it hold more")
}

func TestClampBlamesTheRightField(t *testing.T) {
	for query, key := range map[string]string{
		"engine=400&ratio=9": "ratio",
		"line=100":           "engine",
		"engine=400&my-rear-clutch-lining-inner=9+in":        "my-rear-clutch-lining-inner",
		"engine=400&my-linings-holding-friction=3":           "my-linings-holding-friction",
		"engine=400&my-input-shaft-diameter=80+in":           "my-input-shaft-diameter",
		"engine=400&my-shafts-yield=1+ksi":                   "my-shafts-yield",
		"engine=400&element=front-band&my-front-band-wrap=9": "my-front-band-wrap",
	} {
		f, r := formOf(t, clampTool, clampPanel, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}
