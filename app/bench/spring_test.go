package bench

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func springForm(t *testing.T, query string) (*form, *result) {
	return formOf(t, springTool, springPanel, query)
}

// ten7 is Bhandari, Design of Machine Elements, example 10.7, in millimetres.
const ten7 = "wire=5&wire-unit=mm&outer=45&outer-unit=mm&free=57&free-unit=mm&turns=7&load=298&load-unit=N&at=42&at-unit=mm"

func TestSpringOnScreen(t *testing.T) {
	_, r := springForm(t, ten7)
	require.NotNil(t, r)
	assert.Equal(t, "none", r.call, "nothing is known to hold it against")
	assert.Equal(t, "Nothing wrong found", r.word)
	assert.Nil(t, r.entry)

	_, r = springForm(t, ten7+"&seat=regulator&new-free=57&new-free-unit=mm&new-turns=7")
	require.NotNil(t, r)
	assert.Nil(t, r.entry, "that it stands straight was not measured")

	_, r = springForm(t, ten7+"&seat=regulator&new-free=62&new-free-unit=mm&new-turns=7")
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call)
	assert.Equal(t, "short", r.entry.Outcome)

	_, r = springForm(t, ten7+"&seat=shift-accumulator&new-turns=8")
	require.NotNil(t, r)
	assert.Equal(t, "Broken", r.word)
	assert.Equal(t, "broken", r.entry.Outcome)

	_, r = springForm(t, ten7+"&load-least=200&load-least-unit=N&load-most=250&load-most-unit=N")
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call)
	_, r = springForm(t, ten7+"&free-least=55&free-least-unit=mm&free-most=59&free-most-unit=mm")
	require.NotNil(t, r)
	assert.Equal(t, "good", r.call)
	assert.Contains(t, app.HTMLString(filled(t, springTool, ten7)), `class="spring"`)
}

// A seat names a check, an observation and outcomes that are there.
func TestSpringSeatsAreInTheCatalogue(t *testing.T) {
	c := newSession().Catalogue()
	for _, s := range springSeats {
		k := c.Check(s.check)
		require.NotNil(t, k, s.check)
		found := map[string]bool{}
		for _, o := range k.Observations {
			if o.ID == s.observation {
				for _, x := range o.Outcomes {
					found[x.ID] = true
				}
			}
		}
		for _, outcome := range []string{s.broken, s.short} {
			assert.True(t, found[outcome], "%s/%s/%s", s.check, s.observation, outcome)
		}
	}
}

func TestSpringBlamesTheField(t *testing.T) {
	for query, key := range map[string]string{
		"wire=0.1":                         "outer",
		"wire=0&" + ten7:                   "wire",
		"outer=5&" + ten7:                  "outer",
		"free=20&" + ten7:                  "free",
		"turns=1&" + ten7:                  "turns",
		"at=58&" + ten7:                    "at",
		"at=&" + ten7:                      "at",
		"load=&" + ten7:                    "load",
		ten7 + "&installed=90":             "installed",
		ten7 + "&new-turns=1000":           "new-turns",
		ten7 + "&free-least=3&free-most=2": "free-most",
	} {
		f, r := springForm(t, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

func TestAccumulatorOnScreen(t *testing.T) {
	form := func(query string) (*form, *result) { return formOf(t, springTool, accumulatorPanel, query) }
	f, r := form("other-load=35&other-rate=45")
	require.NotNil(t, r)
	s, err := swapped(f)
	require.NoError(t, err)
	assert.Greater(t, s.strokeOther.Start, s.strokeWas.Start)
	assert.Contains(t, r.value, "in place of")
	assert.Contains(t, app.HTMLString(filled(t, springTool, "other-load=35&other-rate=45")), `class="cushion"`)

	_, r = form("other-load=500&other-rate=45")
	require.NotNil(t, r)
	assert.Contains(t, r.because[0], "never moves")
	_, r = form("other-load=35&other-rate=900")
	require.NotNil(t, r)
	assert.Contains(t, r.because[0], "stops the piston")

	for query, key := range map[string]string{
		"other-load=35":                                       "other-rate",
		"other-load=35&other-rate=45&orifice=0":               "orifice",
		"other-load=35&other-rate=45&stroke=0":                "stroke",
		"other-load=35&other-rate=45&piston=0":                "piston",
		"other-load=99999&other-rate=45&own-load=1":           "other-load",
		"other-load=35&other-rate=45&back=600&back-area=2000": "back-area",
	} {
		f, r := form(query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}
