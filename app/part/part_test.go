package part

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

var examples = map[string][]app.UI{
	"button":  buttonExamples,
	"field":   fieldExamples,
	"choice":  choiceExamples,
	"light":   lightSwitchExamples,
	"caution": cautionExamples,
	"verdict": verdictExamples,
	"value":   valueExamples,
	"notice":  noticeExamples,
	"drawing": drawingExamples,
}

var (
	controls   = regexp.MustCompile(`<(input|select|textarea)\b[^>]*>`)
	attributes = regexp.MustCompile(`([a-z-]+)="([^"]*)"`)
)

func attribute(tag, name string) string {
	for _, m := range attributes.FindAllStringSubmatch(tag, -1) {
		if m[1] == name {
			return m[2]
		}
	}
	return ""
}

func TestExamplesAreLabelled(t *testing.T) {
	for name, list := range examples {
		for i, e := range list {
			t.Run(fmt.Sprintf("%s %d", name, i), func(t *testing.T) {
				html := app.HTMLString(e)
				for _, c := range controls.FindAllString(html, -1) {
					id := attribute(c, "id")
					require.NotEmpty(t, id, c)
					labelled := attribute(c, "aria-label") != "" || strings.Contains(html, `for="`+id+`"`)
					assert.True(t, labelled, "no label: %s", c)
					for _, d := range strings.Fields(attribute(c, "aria-describedby")) {
						assert.Contains(t, html, `id="`+d+`"`, "described by nothing")
					}
				}
			})
		}
	}
}

func TestFieldSaysWhatIsWrong(t *testing.T) {
	html := app.HTMLString(&Field{ID: "ohms", Label: "Ohms", Value: "3 4", Problem: "That looks like more than one number."})
	assert.Contains(t, html, `aria-invalid`)
	assert.Contains(t, html, `aria-describedby="ohms-problem"`)
	assert.Contains(t, html, "That looks like more than one number.")
	assert.Contains(t, html, `value="3 4"`, "what was typed is kept")
	assert.NotContains(t, app.HTMLString(&Field{ID: "ohms", Label: "Ohms"}), "aria-invalid")
}

func TestFieldTakesOpenLoopWithoutLetters(t *testing.T) {
	var got string
	f := &Field{ID: "ohms", Label: "Ohms", Mode: "decimal", Words: []string{"OL"}, OnInput: func(_ app.Context, v string) { got = v }}
	d := app.NewClientTester(f)
	defer d.Close()
	html := app.HTMLString(f)
	assert.Contains(t, html, `inputmode="decimal"`)
	assert.Contains(t, html, "OL")
	f.put(nil, "OL")
	assert.Equal(t, "OL", got)
}

func TestNoticeHasNoTriangle(t *testing.T) {
	// ANSI Z535.4 and Z535.6: the safety alert symbol goes with DANGER, WARNING
	// and CAUTION; NOTICE, which is not about injury, has none.
	for i, want := range []int{1, 1, 1, 0} {
		assert.Equal(t, want, strings.Count(app.HTMLString(cautionExamples[i]), "<svg"), "example %d", i)
	}
}

func TestPercent(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{0, "0 %"}, {0.0004, "under 1 %"}, {0.0099, "under 1 %"}, {0.01, "1 %"}, {0.344, "34 %"}, {0.346, "35 %"}, {0.5, "50 %"},
		{0.99, "99 %"}, {0.9999, "over 99 %"}, {1, "100 %"}, {math.NaN(), "not known"},
	} {
		assert.Equal(t, c.want, Percent(c.p), "%v", c.p)
	}
}

func TestMinutes(t *testing.T) {
	for m, want := range map[float64]string{0.2: "under 1 min", 8: "8 min", 89: "89 min", 120: "2 h", 215: "3 h 35 min"} {
		assert.Equal(t, want, Minutes(m))
	}
}

func TestTimes(t *testing.T) {
	for bits, want := range map[float64]string{
		0: "hardly changes it", 1: "makes it 2 times likelier", -1: "makes it 2 times less likely",
		2.585: "makes it 6 times likelier", 5: "makes it 32 times likelier", 20: "makes it over 1000 times likelier",
	} {
		assert.Equal(t, want, Times(bits))
	}
}

func TestLimitText(t *testing.T) {
	for _, c := range []struct{ min, max, want string }{
		{"54 psi", "60 psi", "54 to 60 psi"},
		{"0.35 V", "650 mV", "0.35 V to 650 mV"},
		{"72 in-lb", "72 in-lb", "72 in-lb"},
		{"", "3 psi", "at most 3 psi"},
		{"10 V", "", "at least 10 V"},
		{"", "", "no limit"},
	} {
		assert.Equal(t, c.want, LimitText(quantity.Preference{}, unit.Limit{MinText: c.min, MaxText: c.max}))
	}
}

func TestLimitElsewhere(t *testing.T) {
	// NIST SP 811, appendix B.8: 1 psi is 6.894 757 kPa, so 54 psi is 372 kPa
	// and 60 psi is 414 kPa to three digits.
	both := unit.Limit{Min: pressure(54), Max: pressure(60), MinText: "54 psi", MaxText: "60 psi"}
	assert.Equal(t, "372 to 414 kPa", LimitElsewhere(quantity.Preference{}, both))
	metric := quantity.Preference{System: quantity.Metric}
	assert.Equal(t, "372 to 414 kPa", LimitText(metric, both))
	assert.Equal(t, "as printed: 54 to 60 psi", LimitElsewhere(metric, both))
	inBar := quantity.Preference{System: quantity.Metric, Own: []string{"bar"}}
	assert.Equal(t, "3.72 to 4.14 bar", LimitText(inBar, both))
	v := quantity.Volt.Of(5)
	assert.Empty(t, LimitElsewhere(quantity.Preference{}, unit.Limit{Min: &v, MinText: "5 V"}), "volts are volts in both systems")
}

func TestConditionWords(t *testing.T) {
	c := unit.Condition{Versions: []unit.Version{unit.Light, unit.Mid}, Builds: []unit.Build{unit.Stock}, Range: "D", Gear: "3", Throttle: "idle", Fluid: "hot", Note: "1600 rpm"}
	assert.Equal(t, "range D, 3rd gear, throttle at idle, fluid hot, 1600 rpm", ConditionWords(c, false))
	assert.Equal(t, "light and mid versions, stock build, range D, 3rd gear, throttle at idle, fluid hot, 1600 rpm", ConditionWords(c, true))
	assert.Equal(t, "range R, throttle at idle", ConditionWords(unit.Condition{Range: "R", Gear: "R", Throttle: "idle"}, true))
	assert.Empty(t, ConditionWords(unit.Condition{}, true))
}

func TestProvenanceIsNeverUpgraded(t *testing.T) {
	b := &unit.Book{Sources: []unit.Source{{ID: "S2", Title: "Handbook, 1990"}}}
	assert.Equal(t, "Published: Handbook, 1990, test 3. Sister unit.", Provenance(b, unit.Provenance{Kind: unit.Published, Source: "S2", At: "test 3", Note: "Sister unit."}))
	for kind, want := range map[unit.ProvenanceKind]string{
		unit.CommonPractice: "Common practice.", unit.Memory: "From memory, confirm in the maker's manual.",
		unit.Demo: "Demo, made up.", unit.Own: "Your own value.", "": "Not said where from.",
	} {
		assert.Equal(t, want, Provenance(b, unit.Provenance{Kind: kind}))
	}
	assert.Equal(t, "From memory, confirm in the maker's manual. One reading agrees.",
		Provenance(b, unit.Provenance{Kind: unit.Memory, Note: "From memory, confirm in the maker's manual. One reading agrees."}), "not said twice")
}

func TestEveryVerdictHasWordAndCall(t *testing.T) {
	for _, v := range conformity.Verdicts {
		assert.NotEmpty(t, VerdictWord(v))
		assert.Contains(t, []string{"good", "bad", "unsure", "none"}, Call(v))
		if !v.Called() {
			assert.NotEqual(t, "good", Call(v), "%s decides nothing", v)
		}
	}
	assert.Equal(t, "good", Call(conformity.Meets))
}
