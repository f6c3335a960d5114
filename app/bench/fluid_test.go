package bench

import (
	"net/url"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func viscosityOf(t *testing.T, query string) (*form, *result) {
	t.Helper()
	return formOf(t, fluidTool, viscosityPanel, query)
}

// TestViscosity holds the screen against the worked example of ASTM D341: 32 mm²/s
// at 40 °C and 5.4 at 100 °C make 8.5 at 80 °C. Its index of 104 is that of
// D2270's equations.
func TestViscosity(t *testing.T) {
	f, r := viscosityOf(t, "fluid=own&v1=32&v2=5.4&at=80&at-unit=°C")
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.True(t, strings.HasPrefix(r.word, "8.5"), r.word)
	assert.Equal(t, "at 176 °F", r.value)
	html := app.HTMLString(filled(t, fluidTool, "fluid=own&v1=32&v2=5.4&at=80&at-unit=°C"))
	for _, want := range []string{"Viscosity index", "<title>Viscosity against temperature</title>", "curve__dot", "SAE 710838", "ASTM D341", "cald"} {
		has(t, html, want)
	}
	// The order of the two figures does not matter.
	_, turned := viscosityOf(t, "fluid=own&v1=5.4&t1=100+C&v2=32&t2=40+C&at=80&at-unit=°C")
	require.NotNil(t, turned)
	assert.Equal(t, r.word, turned.word)
}

func TestViscosityBeyondTheLimits(t *testing.T) {
	for query, want := range map[string]string{
		"at=250":             "Thinner than the limit that guards against internal leakage",
		"at=-20":             "A gear pump may not fill",
		"at=180":             "Neither too thin nor too thick",
		"at=-20&fluid=older": "a real fluid is thicker",
		"at=250&fluid=older": "outside the two temperatures of the data sheet",
	} {
		f, r := viscosityOf(t, query)
		require.Empty(t, f.problems, query)
		require.NotNil(t, r, query)
		assert.Contains(t, strings.Join(r.because, " "), want, query)
		assert.NotEqual(t, "good", r.call, "a limit that is not this unit's own passes nothing")
	}
}

func TestViscosityAsksForWhatIsMissing(t *testing.T) {
	f, r := viscosityOf(t, "fluid=own&v1=32")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["v2"])
	f, r = viscosityOf(t, "fluid=own&v1=5&v2=32&at=100")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["v2"], "it thickens as it warms")
	f, _ = viscosityOf(t, "fluid=own&v1=32&t1=500&v2=5")
	assert.NotEmpty(t, f.problems["t1"])
	f, _ = viscosityOf(t, "fluid=own&v1=32&v2=5&density=700")
	assert.NotEmpty(t, f.problems["density"])
	f, r = viscosityOf(t, "fluid=own&v1=32&v2=5.4")
	require.Empty(t, f.problems)
	assert.Contains(t, r.word, "Viscosity index")
	f, r = viscosityOf(t, "fluid=own&v1=3&v2=1.2")
	require.Empty(t, f.problems)
	assert.Equal(t, "Too thin for a viscosity index", r.word)
}

// TestCurveIsThereUntouched: a class needs nothing typed.
func TestCurveIsThereUntouched(t *testing.T) {
	html := app.HTMLString(filled(t, fluidTool, ""))
	has(t, html, "curve__line")
	assert.NotContains(t, html, "curve__dot")
}

func balanceOf(t *testing.T, query string) (*form, *result) {
	t.Helper()
	return formOf(t, fluidHeatTool, balancePanel, query)
}

// TestBalance: Bhandari, Design of Machine Elements, example 11.1, has a clutch
// of 235.619 N·m that turns 18.5055 kW into heat when it slips at 750 rpm,
// which is 24.8 hp.
func TestBalance(t *testing.T) {
	f, r := balanceOf(t, "source=slip&torque=235.619+Nm&slip=750")
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.Equal(t, "25 hp", r.word)

	// At stall all of the engine's power becomes heat.
	f, r = balanceOf(t, "source=converter&power=200&engine=2000&turbine=0&ratio=1.75")
	require.Empty(t, f.problems)
	assert.Equal(t, "200 hp", r.word)

	const cooler = "tin=200&tout=150&caught=1&time=20"
	f, r = balanceOf(t, cooler)
	require.Empty(t, f.problems)
	assert.Contains(t, r.value, "carried away")
	_, r = balanceOf(t, cooler+"&source=converter&power=200&engine=2000&turbine=0&ratio=1.75")
	assert.Equal(t, "It warms up", r.word)
	_, r = balanceOf(t, cooler+"&source=converter&power=5&engine=2000&turbine=1900&ratio=1")
	assert.Equal(t, "The cooler keeps up", r.word)
	assert.NotEqual(t, "good", r.call)
}

func TestBalanceBlamesTheRightField(t *testing.T) {
	for query, key := range map[string]string{
		"tin=200":                                                       "tout",
		"tin=150&tout=200&caught=1&time=20":                             "tout",
		"tin=200&tout=150&caught=1&time=0":                              "time",
		"tin=200&tout=150&caught=90&time=1":                             "caught",
		"source=slip&torque=100":                                        "slip",
		"source=converter&power=100&engine=2000&turbine=2100&ratio=1":   "turbine",
		"source=converter&power=100&engine=2000&turbine=1900&ratio=1.5": "ratio",
		"source=converter&power=100&engine=0&turbine=0&ratio=1":         "engine",
	} {
		f, r := balanceOf(t, query)
		assert.Nil(t, r, query)
		assert.NotEmpty(t, f.problems[key], "%s: %v", query, f.problems)
	}
}

// TestWarming: OpenStax, College Physics, example 14.1, gives the form: energy
// over power. Here 1 kW warms by hand-worked capacity: nothing but 10 kg of
// aluminium at 897 J/(kg·K) and no fluid or iron, so 80 K take 717.6 s.
func TestWarming(t *testing.T) {
	f, r := formOf(t, fluidHeatTool, warmingPanel, "stays=1+kW&from=20+C&to=100+C&fill=0&light=10+kg&heavy=0")
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.Equal(t, "12 min", r.word)

	f, r = formOf(t, fluidHeatTool, warmingPanel, "stays=10&from=150")
	require.Empty(t, f.problems)
	assert.Contains(t, r.value, "to 250 °F", "the sheet's figure for seals")
	f, r = formOf(t, fluidHeatTool, warmingPanel, "stays=0&from=150")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["stays"])
	f, r = formOf(t, fluidHeatTool, warmingPanel, "stays=10&from=270")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["to"])
}

// TestHistory: the widely copied fluid life chart has 100 000 miles at 175 °F,
// 50 000 at 195 and 6 250 at 255.
func TestHistory(t *testing.T) {
	history := func(lines string, more ...string) (*form, *result) {
		return formOf(t, fluidHeatTool, historyPanel, "history="+url.QueryEscape(lines)+strings.Join(more, ""))
	}
	f, r := history("25000 at 195\n3125 mi @ 255 F")
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.Equal(t, "100 % used", r.word)
	has(t, app.HTMLString(filled(t, fluidHeatTool, "history="+url.QueryEscape("25000 at 195\n3125 mi @ 255 F"))), "lifebar__used")

	f, r = history("20 h at 175", "&speed=50")
	require.Empty(t, f.problems)
	assert.Equal(t, "1 % used", r.word)
	// In hours the speed matters only against the chart's miles.
	f, r = history("100 at 195\n12.5 at 255", "&span=h&lifehours=400")
	require.Empty(t, f.problems)
	assert.Equal(t, "100 % used", r.word)
	f, r = history("2000 at 175", "&span=h&speed=25")
	require.Empty(t, f.problems)
	assert.Equal(t, "50 % used", r.word, "2 000 h at 25 mph are half of the chart's 100 000 mi")
	has(t, app.HTMLString(app.Div().Body(r.body...)), "2000 h")
	f, r = history("10 h at 175", "&speed=0")
	assert.Nil(t, r)
	assert.NotEmpty(t, f.problems["speed"])
	for _, wrong := range []string{"500", "500 at", "x at 175", "500 at 900", "500 at 175\nand more"} {
		f, r = history(wrong)
		assert.Nil(t, r, wrong)
		assert.True(t, strings.HasPrefix(f.problems["history"], "Line "), "%s: %s", wrong, f.problems["history"])
	}
	f, _ = history(strings.Repeat("1 at 175\n", mostSpells+1))
	assert.NotEmpty(t, f.problems["history"])
	f, _ = history("500 at 175", "&life=0")
	assert.NotEmpty(t, f.problems["life"])
}
