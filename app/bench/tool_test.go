package bench

import (
	"math"
	"math/rand/v2"
	"net/url"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// everyTool runs a test for each calculator.
func everyTool(t *testing.T, f func(t *testing.T, x *tool)) {
	for _, x := range tools {
		t.Run(x.name, func(t *testing.T) { f(t, x) })
	}
}

func TestToolsAreSound(t *testing.T) {
	c := newSession().Catalogue()
	everyTool(t, func(t *testing.T, x *tool) {
		assert.NotEmpty(t, x.title)
		assert.True(t, strings.HasSuffix(x.what, ".") || strings.HasSuffix(x.what, "?"), x.what)
		for _, id := range x.cautions {
			assert.NotNil(t, c.Caution(id), id)
		}
		ids, keys := map[string]bool{}, map[string]bool{}
		for n, p := range x.panels {
			assert.Equal(t, n > 0, p.heading != "", "every panel but the first has a heading")
			assert.NotEmpty(t, p.empty)
			assert.False(t, ids[p.id], p.id)
			ids[p.id] = true
			for _, i := range p.inputs {
				assert.False(t, keys[i.key], "key %s twice", i.key)
				keys[i.key] = true
				assert.NotEmpty(t, i.label, i.key)
				for _, u := range i.units {
					assert.Equal(t, i.kind, u.Kind, i.key)
				}
			}
		}
	})
}

// TestUntouchedToolHasThePlainAddress: nothing is typed, nothing is in the
// address, nothing is wrong.
func TestUntouchedToolHasThePlainAddress(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		screen := filled(t, x, "")
		for _, f := range screen.forms {
			assert.Nil(t, f.work())
			assert.Empty(t, f.problems)
		}
		assert.Empty(t, screen.query())
		assert.NotContains(t, app.HTMLString(screen), "No result")
	})
}

// nonsense is what people and their pockets type.
var nonsense = []string{"", "abc", "1e999", "-4", "NaN", "4,9,1", "OL", "12 furlong", "0", "1", "4.9", "-0", "1e-300", "99999999", "½", "<b>4</b>", "1 2 3\n4 5 6", "x y\n1", strings.Repeat("9", 10000)}

// TestNonsenseGivesNoNumbers types nonsense everywhere, alone and together: no
// panic, nothing that is not a number on the screen, and what was typed is kept.
func TestNonsenseGivesNoNumbers(t *testing.T) {
	everyTool(t, func(t *testing.T, x *tool) {
		random := rand.New(rand.NewPCG(1, 2))
		for range 60 {
			q := url.Values{}
			for _, p := range x.panels {
				for _, i := range p.inputs {
					q.Set(i.key, nonsense[random.IntN(len(nonsense))])
				}
			}
			holdsUp(t, x, q)
		}
	})
}

// holdsUp reports what no input may bring about.
func holdsUp(t *testing.T, x *tool, q url.Values) {
	screen := filled(t, x, q.Encode())
	html := app.HTMLString(screen)
	for _, word := range []string{"NaN", "Inf", quantity.NoValue} {
		for _, typed := range q {
			html = strings.ReplaceAll(html, typed[0], "")
		}
		require.NotContains(t, html, word, q.Encode())
	}
	for _, f := range screen.forms {
		for _, i := range f.panel.inputs {
			if i.options == nil && q.Has(i.key) {
				require.Equal(t, q.Get(i.key), f.typed[i.key])
			}
		}
		for key, sentence := range f.problems {
			require.True(t, strings.HasSuffix(sentence, ".") || strings.HasSuffix(sentence, "?"), "%s: %q", key, sentence)
		}
		for _, r := range f.readings {
			require.False(t, math.IsNaN(r.SI) || math.IsInf(r.SI, 0))
		}
	}
}

// FuzzTools types anything into every field of every tool.
func FuzzTools(f *testing.F) {
	for _, n := range nonsense {
		f.Add(n, "1", 0)
	}
	f.Fuzz(func(t *testing.T, odd, even string, which int) {
		x := tools[(which%len(tools)+len(tools))%len(tools)]
		q := url.Values{}
		n := 0
		for _, p := range x.panels {
			for _, i := range p.inputs {
				q.Set(i.key, []string{odd, even}[n%2])
				n++
			}
		}
		holdsUp(t, x, q)
	})
}

// TestAddressCarriesTheForm: a link opens as it was sent, whatever the units of
// who opens it.
func TestAddressCarriesTheForm(t *testing.T) {
	screen := filled(t, coilTool, "coil=overdrive-solenoid&ohms=4,9&leads=0.3&at=82&at-unit=°C&state=soaked&where=part&percent=0.8")
	again := filled(t, coilTool, screen.query().Encode())
	for n := range screen.forms {
		assert.Equal(t, screen.forms[n].typed, again.forms[n].typed)
	}
	assert.Equal(t, "°F", filled(t, coilTool, "at=82").query().Get("at-unit"), "a unit by habit is said")
	odd := filled(t, coilTool, "coil=x&state=x&where=x&at-unit=x&case-unit=V")
	assert.Equal(t, filled(t, coilTool, "").forms[0].typed, odd.forms[0].typed)
}
