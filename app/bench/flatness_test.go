package bench

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/flatness"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func flatForm(t *testing.T, query string) (*form, *result) {
	return formOf(t, flatnessTool, flatPanel, query)
}

// flat3 is a grid of three by three whose middle stands up by half a thou.
const flat3 = "dx=2&a1=0&a2=0&a3=0&b1=0&b2=0.5&b3=0&c1=0&c2=0&c3=0&off=0.1"

func TestFlatnessOfAGrid(t *testing.T) {
	f, r := flatForm(t, flat3)
	require.NotNil(t, r, "%v", f.problems)
	assert.Equal(t, "good", r.call)
	assert.Contains(t, r.value, "0.0005 in")
	assert.Contains(t, r.line, "High at B2")
	html := app.HTMLString(filled(t, flatnessTool, flat3))
	assert.Equal(t, 9, strings.Count(html, "<rect"), "a cell for each place")
	assert.Contains(t, html, "B2 ▲")
	assert.Contains(t, html, "A1 ▼")
	assert.Contains(t, html, "confirm it in the maker&#39;s manual")

	// The same readings in another unit, and with a place that has no metal.
	_, metric := flatForm(t, "in=mm&dx=50.8&dx-unit=mm&a1=0&a2=0&a3=0&b1=0&b2=0.0127&b3=0&c1=0&c2=0&c3=0&off=0.1&off-unit=thou")
	require.NotNil(t, metric)
	assert.Equal(t, strings.Fields(r.value)[4], strings.Fields(metric.value)[4])
	_, hole := flatForm(t, strings.Replace(flat3, "&c3=0", "", 1))
	require.NotNil(t, hole)
	assert.Equal(t, "none", hole.call, "eight places are too few to call a face flat")

	_, warped := flatForm(t, strings.Replace(flat3, "b2=0.5", "b2=-4", 1))
	require.NotNil(t, warped)
	assert.Equal(t, "bad", warped.call)
	assert.Contains(t, warped.line, "low at B2")
}

// The entry that goes to the job comes out as the screen says it.
func TestFlatnessEntryMeansTheSameInTheJob(t *testing.T) {
	engine := &diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
	for _, up := range []string{"0.5", "1.9", "4", "12"} {
		f, r := flatForm(t, strings.Replace(flat3, "b2=0.5", "b2="+up, 1))
		require.NotNil(t, r)
		require.NotNil(t, r.entry)
		m, err := measuredFace(f)
		require.NoError(t, err)
		out, err := m.Judge()
		require.NoError(t, err)
		answer, err := engine.Answer(diagnosis.Case{Version: unit.Late, Build: unit.Stock, Level: "bench", Entries: []diagnosis.Entry{*r.entry}})
		require.NoError(t, err)
		require.Len(t, answer.Verdicts, 1)
		assert.Equal(t, out.Judgement.Verdict, answer.Verdicts[0].Verdict, up)
	}
}

func TestFlatnessOfAList(t *testing.T) {
	_, r := flatForm(t, "way=list&across=mm&in=mm&off=0.001&off-unit=mm&places=A+0+0+0%0A0+50+0,01%0A50+0+0%0A50+50+0.01%0A25+25+0.005%0A0+25+0.02%0A25+0+0%0A50+25+0.005%0A25+50+0.01")
	require.NotNil(t, r)
	assert.Equal(t, "good", r.call)
	f, r := flatForm(t, "way=list&places=0+0+0%0A0+50")
	assert.Nil(t, r)
	assert.Contains(t, f.problems["places"], "Row 2: ")
}

func TestFlatnessOfStraightedgeLines(t *testing.T) {
	eight := "way=jack&long=8&wide=5"
	// The corners are high and all the rest lies 6 thou under them: hollow along
	// the sides and the diagonals, straight over the middle.
	for _, e := range flatEdges {
		for _, at := range flatPlaces {
			gap := "0"
			if at == "middle" && e.name != "B" && e.name != "E" {
				gap = "6"
			}
			eight += "&" + strings.ToLower(e.name) + at + "=" + gap
		}
	}
	_, r := flatForm(t, eight)
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call)
	assert.Contains(t, r.value, "by 0.006 in")
	assert.NotContains(t, strings.Join(r.because, " "), "don't agree")
	assert.NotNil(t, r.entry)
	html := app.HTMLString(filled(t, flatnessTool, eight))
	assert.Contains(t, html, "flatmap__line")
	_, odd := flatForm(t, strings.Replace(eight, "emiddle=0", "emiddle=9", 1))
	require.NotNil(t, odd)
	assert.Contains(t, strings.Join(odd.because, " "), "don't agree")

	// One line alone can't call a face flat, but can call it bad.
	_, one := flatForm(t, "way=lines&edges=A+0+0+8+0%0A0+0%0A4+0%0A8+0")
	require.NotNil(t, one)
	assert.Equal(t, "none", one.call)
	assert.Nil(t, one.entry)
	_, hollow := flatForm(t, "way=lines&edges=A+0+0+8+0%0A0+0%0A4+9%0A8+0")
	require.NotNil(t, hollow)
	assert.Equal(t, "bad", hollow.call)
	assert.Contains(t, strings.Join(hollow.because, " "), "at least")
}

func TestFlatnessLeak(t *testing.T) {
	leaky := strings.Replace(flat3, "b2=0.5", "b2=-4", 1) + "&from=b1&to=c2&pressure=57&side=2"
	html := app.HTMLString(filled(t, flatnessTool, leaky))
	assert.Contains(t, html, "Gap from b1 to c2")
	_, r := flatForm(t, leaky)
	require.NotNil(t, r)

	for query, key := range map[string]string{
		flat3 + "&from=Z9&to=A1":                            "from",
		flat3 + "&from=A1":                                  "to",
		flat3 + "&from=A1&to=A1":                            "to",
		flat3 + "&from=A1&to=B2&pressure=57":                "side",
		flat3 + "&from=A1&to=B2&side=2":                     "pressure",
		"dx=0&a1=1":                                         "dx",
		"a1=1":                                              "dx",
		"dx=2&a1=1&a2=2":                                    "a1",
		"dx=2&a1=900&a2=2&b1=90&b2=0&in=in":                 "a1",
		"way=jack&long=8&wide=5&astart=0&amiddle=1":         "aend",
		"way=jack&long=8&wide=5&astart=0&amiddle=-1&aend=0": "amiddle",
		"way=jack&long=8&wide=0&astart=0&amiddle=1&aend=0":  "wide",
		"way=lines&edges=0+0":                               "edges",
	} {
		f, r := flatForm(t, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

// Nothing is called flat that the package does not call flat.
func TestFlatnessCallsNoMoreThanThePackage(t *testing.T) {
	f, r := flatForm(t, flat3)
	m, err := measuredFace(f)
	require.NoError(t, err)
	out, err := m.Judge()
	require.NoError(t, err)
	assert.Equal(t, conformity.Meets, out.Judgement.Verdict)
	assert.Equal(t, "good", r.call)
	assert.Len(t, m.Readings.Points, flatness.EnoughPlaces)
}
