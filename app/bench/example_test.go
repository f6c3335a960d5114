package bench

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
	"provingbench/knowledge/quantity"
)

// examined is a tool with its example in it, for a reader of one system.
func examined(x *tool, s quantity.System) *Tool {
	screen := &Tool{Session: newSession(), tool: x}
	screen.Session.Set(func(set *store.Settings) { set.Units.System = s })
	screen.read(screen.invented())
	return screen
}

var systems = []quantity.Preference{{System: quantity.Customary}, {System: quantity.Metric}}

func TestEveryToolHasAnExample(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		for _, p := range systems {
			screen := examined(x, p.System)
			for _, f := range screen.forms {
				r := f.work()
				assert.Empty(t, f.problems, "%s %s", p.System, f.panel.id)
				if r == nil && f.panel.id == "regulator" || f.panel.id == "fit" {
					continue
				}
				assert.NotNil(t, r, "%s %s", p.System, f.panel.id)
			}
			said := app.HTMLString(screen)
			has(t, said, "An invented example")
			hasNot(t, said, "notes</button>")
			again := &Tool{Session: screen.Session, tool: x}
			again.read(screen.query())
			assert.Equal(t, screen.query(), again.query(), "the address carries it")
		}
		has(t, app.HTMLString(filled(t, x, "")), "Try an invented example")
	})
}

// quoted is what does not speak in the reader's units, and should not: lists of
// units to choose from, the sheet's figures as printed, and notes of sources.
var quoted = regexp.MustCompile(`(?s)<select.*?</select>|<fieldset[^>]*class="choice choice--compact".*?</fieldset>|<ul[^>]*class="values".*?</ul>|<p[^>]*class="source".*?</p>|<summary[^>]*>Where the limits come from.*?</ul>`)

// shared are units that both systems use, and names that hold a number.
var shared = strings.NewReplacer("mm²/s", "", "kg/m³", "", "100 psi gauge", "", "pressure at 30 mph", "")

var tags = regexp.MustCompile(`<[^>]*>`)

// foreign finds numbers in units of one system.
var foreign = map[quantity.System]*regexp.Regexp{
	quantity.Metric:    regexp.MustCompile(`\d\s?(psi|ksi|°F|in|in²|thou|ft|ft-lb|in-lb|lbf|lb|lbf/in|mph|mi|qt|pt|fl oz|gal|gal/min|hp|inHg|rev/mi)\b`),
	quantity.Customary: regexp.MustCompile(`\d\s?(kPa|bar|MPa|GPa|°C|mm|cm|µm|m|N·m|N|N/mm|km/h|km|L|mL|L/min|kW|hPa|rev/km|kg|MPa)\b`),
}

// TestUnitsOfTheReader holds every result, hint and picture of every tool to the
// units that the reader chose.
func TestUnitsOfTheReader(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		for _, p := range systems {
			screen := examined(x, p.System)
			for _, f := range screen.forms {
				r := f.work()
				parts := map[string]string{}
				if r != nil {
					parts["result"] = app.HTMLString(app.Div().Body(screen.result(f, r)...))
					parts["line"] = r.line
				}
				if f.panel.picture != nil {
					parts["picture"] = app.HTMLString(app.Div().Body(f.panel.picture(f, r)))
				}
				parts["fields"] = app.HTMLString(app.Div().Body(f.fields(func(app.Context) {})...))
				parts["empty"] = f.panel.intro + " " + f.panel.empty
				for where, text := range parts {
					text = quoted.ReplaceAllString(text, "|")
					text = shared.Replace(text)
					text = strings.Join(strings.Fields(html.UnescapeString(tags.ReplaceAllString(text, "|"))), " ")
					for _, found := range foreign[p.System].FindAllStringIndex(text, -1) {
						assert.Fail(t, "a unit of the other system", "%s, %s, %s: …%s…", p.System, f.panel.id, where,
							text[max(0, found[0]-60):min(len(text), found[1]+20)])
					}
				}
			}
		}
	})
}

// FuzzQuery takes any address, from those of the examples on.
func FuzzQuery(f *testing.F) {
	for n, x := range tools {
		f.Add(x.example, n)
		f.Add(x.metric, n)
	}
	f.Fuzz(func(t *testing.T, query string, which int) {
		q, err := url.ParseQuery(query)
		if err != nil || len(query) > 1<<12 {
			return
		}
		for key := range q {
			q[key] = q[key][:1]
			if strings.Contains(q.Get(key), "Inf") || strings.Contains(q.Get(key), "NaN") || strings.Contains(q.Get(key), "no value") {
				return // shown as it was typed
			}
		}
		holdsUp(t, tools[(which%len(tools)+len(tools))%len(tools)], q)
	})
}

// TestElementsCanBeFound: the browser finds a field by a selector made of its id,
// in which a point or a blank would mean something else.
func TestElementsCanBeFound(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		ids := map[string]bool{}
		for _, p := range x.panels {
			f := newForm(newSession(), p)
			for n := range f.panel.inputs {
				id := f.id(&f.panel.inputs[n])
				assert.Regexp(t, `^[a-z][a-z0-9-]*$`, id)
				assert.False(t, ids[id], id)
				ids[id] = true
			}
		}
	})
}

func TestExamplesAreQueries(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		for _, text := range []string{x.example, x.metric} {
			q, err := url.ParseQuery(text)
			require.NoError(t, err)
			known := map[string]bool{}
			for _, p := range x.panels {
				for _, i := range newForm(newSession(), p).panel.inputs {
					known[i.key], known[i.key+unitSuffix] = true, true
				}
			}
			for key := range q {
				assert.True(t, known[key], "no input %s", key)
			}
		}
	})
}
