package bench

import (
	"net/url"
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

func workHeat(query string) heatOutcome {
	q, err := url.ParseQuery(query)
	if err != nil {
		panic(err)
	}
	return heatFormFrom(q).work(unit.Sheet{Book: sheet.Book()})
}

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
		out := workHeat("at=" + url.QueryEscape(c.at))
		require.True(t, out.Ready, c.at)
		assert.Equal(t, c.band, out.State.Band, c.source)
		assert.NotEmpty(t, bandWord(out.State.Band))
	}
}

func TestHeatRefusesWhatIsNoTemperature(t *testing.T) {
	for _, text := range []string{"OL", "hot", "1e999", "-900", "NaN", strings.Repeat("1", 10000), "4,9,1"} {
		out := workHeat("at=" + url.QueryEscape(text))
		assert.NotEmpty(t, out.Problems["at"], text[:min(len(text), 20)])
		assert.False(t, out.Ready)
	}
	assert.Empty(t, workHeat("").Problems)
}

// TestLife holds the share of life against the chart's own rows (widely copied
// fluid life chart: 100 000 miles at 175 °F, 50 000 at 195 °F, 1 500 at 295 °F).
func TestLife(t *testing.T) {
	assert.InDelta(t, 0.5, workHeat("at=195").Halving, 0.005)
	assert.InDelta(t, 0.015, workHeat("at=295").Halving, 0.0007)
	assert.Equal(t, "50 % as long", lifeWords(0.5))
	assert.Equal(t, "2 times as long", lifeWords(2))
	assert.Equal(t, "100 % as long and 30 % more", lifeWords(1.3))
	assert.Equal(t, "less than a hundredth as long", lifeWords(0.002))
}

func workSensor(query string) sensorOutcome {
	q, err := url.ParseQuery(query)
	if err != nil {
		panic(err)
	}
	return sensorFormFrom(q).work()
}

// TestSensor uses a published thermistor table (laboratory instrument manual,
// thermistor appendix: 19 549 ohm at 10 °C, 9 814 at 25 °C, 3 542 at 50 °C).
func TestSensor(t *testing.T) {
	out := workSensor("ra=19549&ta=10&rb=3542&tb=50&tc=25&sensorunit=°C")
	require.Empty(t, out.Problems)
	assert.Equal(t, fluid.NTC, out.Sensor.Type)
	require.True(t, out.Foretold)
	assert.LessOrEqual(t, float64(out.Estimate.Least), 9814.0)
	assert.GreaterOrEqual(t, float64(out.Estimate.Most), 9814.0)

	for _, c := range []struct{ key, query string }{
		{"ra", "ra=OL&ta=20&rb=900&tb=150"}, {"rb", "ra=1000&ta=70"}, {"ta", "ra=1000&rb=900&tb=150"},
		{"tb", "ra=1000&ta=70&rb=900&tb=999"}, {"tc", "ra=19549&ta=50&rb=3542&tb=122&tc=OL"}, {"ra", "ra=0&ta=70&rb=900&tb=150"},
		{"tc", "ra=19549&ta=50&rb=3542&tb=122&tc=400"},
	} {
		out := workSensor(c.query)
		assert.NotEmpty(t, out.Problems[c.key], c.query)
		assert.False(t, out.Ready, c.query)
	}
}

// TestScale holds the drawing against the sheet: every limit's temperature is
// written at an edge, every band has its words.
func TestScale(t *testing.T) {
	limits := heatLimits(unit.Sheet{Book: sheet.Book()})
	bands := scaleBands(limits)
	for i := 1; i < len(bands); i++ {
		assert.Less(t, float64(bands[i-1].from), float64(bands[i].from), "bands rise")
	}
	html := app.HTMLString(scale(limits, quantity.Temperature(quantity.Fahrenheit.SI(185)), true))
	for _, want := range []string{"30 °F", "50 °F", "170 °F", "200 °F", "250 °F", "259 °F", "normal", "seals harden", "4th withheld", "scale__mark"} {
		has(t, html, want)
	}
	hasNot(t, app.HTMLString(scale(limits, 0, false)), "scale__mark")
	hasNot(t, app.HTMLString(scale(fluid.Limits{}, 0, false)), "NaN")
}

func TestTemperatureScreen(t *testing.T) {
	q, _ := url.ParseQuery("at=195&ra=19549&ta=50&rb=3542&tb=122&tc=77")
	x := &Temperature{Session: newSession()}
	x.read(q)
	html := app.HTMLString(x)
	for _, want := range []string{"Normal", "folklore", "50 % as long", "NTC", "it should read"} {
		has(t, html, want)
	}
	assert.Equal(t, 1, strings.Count(html, "<h1"))
}
