package bench

import (
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func TestHeatBands(t *testing.T) {
	for _, c := range []struct {
		at     string
		band   fluid.Band
		source string
	}{
		{"20", fluid.TooCold, "unit sheet: withheld under 30 °F and under 50 °F"},
		{"40", fluid.MaybeCold, "unit sheet: withheld under 50 °F by one source only"},
		{"120", fluid.Warming, "unit sheet: normal from 170 °F"},
		{"185", fluid.Normal, "unit sheet: normal 170 to 200 °F"},
		{"225", fluid.Warm, "unit sheet: over 200 °F"},
		{"255", fluid.SealDamage, "unit sheet: seals over 250 °F"},
		{"280", fluid.HotStrategy, "unit sheet: 4th given up over 259 °F"},
		{"85 C", fluid.Normal, "85 °C is 185 °F"},
	} {
		_, r := formOf(t, temperatureTool, heatPanel, "at="+url.QueryEscape(c.at))
		require.NotNil(t, r, c.at)
		require.NotEmpty(t, bandWord(c.band))
		assert.Equal(t, bandWord(c.band), r.word, c.source)
	}
}

func TestHeatRefusesWhatIsNoTemperature(t *testing.T) {
	for _, text := range []string{"OL", "hot", "1e999", "-900", "NaN", strings.Repeat("1", 10000), "4,9,1"} {
		f, r := formOf(t, temperatureTool, heatPanel, "at="+url.QueryEscape(text))
		assert.NotEmpty(t, f.problems["at"], text[:min(len(text), 20)])
		assert.Nil(t, r)
	}
	f, _ := formOf(t, temperatureTool, heatPanel, "")
	assert.Empty(t, f.problems)
}

// TestLife holds the share of life against the chart's own rows (widely copied
// fluid life chart: 100 000 miles at 175 °F, 50 000 at 195 °F, 1 500 at 295 °F).
func TestLife(t *testing.T) {
	for at, want := range map[string]string{"195": "50 % as long", "295": "2 % as long"} {
		has(t, app.HTMLString(filled(t, temperatureTool, "at="+at)), want)
	}
	assert.Equal(t, "50 % as long", lifeWords(0.5))
	assert.Equal(t, "2 times as long", lifeWords(2))
	assert.Equal(t, "100 % as long and 30 % more", lifeWords(1.3))
	assert.Equal(t, "less than a hundredth as long", lifeWords(0.002))
}

// TestSensor uses a published thermistor table (laboratory instrument manual,
// thermistor appendix: 19 549 ohm at 10 °C, 9 814 at 25 °C, 3 542 at 50 °C).
func TestSensor(t *testing.T) {
	f, r := formOf(t, temperatureTool, sensorPanel, "ra=19549&ta=10&rb=3542&tb=50&tc=25&ta-unit=°C&tb-unit=°C&tc-unit=°C")
	require.Empty(t, f.problems)
	assert.Equal(t, sensorWord(fluid.NTC), r.word)
	said := regexp.MustCompile(`between (\d+) ohm and (\d+) ohm`).FindStringSubmatch(r.value)
	require.Len(t, said, 3, r.value)
	least, _ := strconv.ParseFloat(said[1], 64)
	most, _ := strconv.ParseFloat(said[2], 64)
	assert.LessOrEqual(t, least, 9814.0)
	assert.GreaterOrEqual(t, most, 9814.0)

	for _, c := range []struct{ key, query string }{
		{"ra", "ra=OL&ta=20&rb=900&tb=150"}, {"rb", "ra=1000&ta=70"}, {"ta", "ra=1000&rb=900&tb=150"},
		{"tb", "ra=1000&ta=70&rb=900&tb=999"}, {"tc", "ra=19549&ta=50&rb=3542&tb=122&tc=OL"}, {"ra", "ra=0&ta=70&rb=900&tb=150"},
		{"tc", "ra=19549&ta=50&rb=3542&tb=122&tc=400"},
	} {
		f, r := formOf(t, temperatureTool, sensorPanel, c.query)
		assert.NotEmpty(t, f.problems[c.key], c.query)
		assert.Nil(t, r, c.query)
	}
}

// TestScale holds the drawing against the sheet: every limit's temperature is
// written at an edge, every band has its words.
func TestScale(t *testing.T) {
	f, _ := formOf(t, temperatureTool, heatPanel, "")
	limits := heatLimits(unit.Sheet{Book: sheet.Book()})
	bands := scaleBands(limits)
	for i := 1; i < len(bands); i++ {
		assert.Less(t, float64(bands[i-1].from), float64(bands[i].from), "bands rise")
	}
	html := app.HTMLString(scale(f, limits, quantity.Temperature(quantity.Fahrenheit.SI(185)), true))
	for _, want := range []string{"30 °F", "50 °F", "170 °F", "200 °F", "250 °F", "259 °F", "normal", "seals harden", "4th withheld", "scale__mark"} {
		has(t, html, want)
	}
	hasNot(t, app.HTMLString(scale(f, limits, 0, false)), "scale__mark")
	hasNot(t, app.HTMLString(scale(f, fluid.Limits{}, 0, false)), "NaN")
}

func TestTemperatureScreen(t *testing.T) {
	html := app.HTMLString(filled(t, temperatureTool, "at=195&ra=19549&ta=50&rb=3542&tb=122&tc=77"))
	for _, want := range []string{"Normal", "folklore", "50 % as long", "NTC", "it should read"} {
		has(t, html, want)
	}
	assert.Equal(t, 1, strings.Count(html, "<h1"))
}
