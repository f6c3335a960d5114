package search

import (
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/dom"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

func newDesk() *Desk {
	return New(session.New(&diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}, store.Memory{}, clock))
}

// answers draws what is under the header after typing.
func answers(d *Desk, typed string) string {
	d.Type(typed)
	d.Open()
	return app.HTMLString(&Answers{Desk: d, Here: route.Home()})
}

// first is the HTML of the first answer.
func first(t *testing.T, html string) string {
	t.Helper()
	at := strings.Index(html, "answer--first")
	require.Positive(t, at, html)
	end := strings.Index(html[at:], `class="answer"`)
	if end < 0 {
		end = len(html) - at
	}
	return html[at : at+end]
}

func TestFirstAnswerCanBeReadAloud(t *testing.T) {
	html := first(t, answers(newDesk(), "gov solenoid ohms"))
	for _, said := range []string{"Value", "Governor pressure solenoid coil", "3 to 5 ohm", "Fluid cold", "From memory, confirm", `class="source"`} {
		assert.Contains(t, html, said)
	}
	assert.Less(t, strings.Index(html, "3 to 5 ohm"), strings.Index(html, "What goes with it"), "the answer stands first")
}

func TestVersionsStandSideBySideUntilOneIsKnown(t *testing.T) {
	d := newDesk()
	html := first(t, answers(d, "rear band turns"))
	assert.Contains(t, html, "Light version")
	assert.Contains(t, html, "Mid and late versions")
	assert.Contains(t, html, "Which version is it")

	html = first(t, answers(d, "rear band turns mid"))
	assert.Contains(t, html, "For the mid version")
	assert.Contains(t, html, "3 turns")
	assert.NotContains(t, html, "Light version")
	assert.NotContains(t, html, "Which version is it")

	d.session.Change("", func(j *store.Job) {
		j.Settled, j.Case.Version, j.Case.Build = true, unit.Light, unit.Stock
	})
	html = first(t, answers(d, "rear band turns"))
	assert.Contains(t, html, "For the light version")
	assert.Contains(t, html, "2 turns")
	html = first(t, answers(d, "rear band turns mid"))
	assert.Contains(t, html, "For the mid version", "what is asked for goes before the job")
}

func TestEveryKindHasAnAnswer(t *testing.T) {
	for typed, said := range map[string]string{
		"no reverse":                  "Ask the caller",
		"P1757":                       "Check next",
		"front servo leaking":         "Proved by",
		"gov solenoid":                "What can be wrong, the commonest first",
		"stall test":                  "Loads the clutches",
		"hot fluid danger":            "WARNING",
		"which clutches in third":     "On: Front clutch, Rear clutch",
		"more plates in the clutches": "Modification",
	} {
		assert.Contains(t, first(t, answers(newDesk(), typed)), said, typed)
	}
}

func TestNothingFoundAndWordsNotKnown(t *testing.T) {
	d := newDesk()
	assert.Contains(t, answers(d, "xqzv"), "Nothing found")
	assert.Contains(t, answers(d, "pan bolt xqzv"), "Not known here: “xqzv”")
	assert.NotContains(t, answers(d, "  "), "answers__list")
}

func TestStatusIsSaid(t *testing.T) {
	d := newDesk()
	html := answers(d, "pan bolt torque")
	assert.Contains(t, html, `role="status"`)
	assert.Contains(t, html, "First: Pan bolts.")
	d.Close()
	html = app.HTMLString(&Answers{Desk: d, Here: route.Home()})
	assert.Contains(t, html, `id="search-status"`, "what is described stays on the page")
	assert.NotContains(t, html, "answers__list")
}

func TestAnswersStandOnceOnTheirOwnScreen(t *testing.T) {
	d := newDesk()
	d.Type("pan bolt torque")
	d.Open()
	assert.NotContains(t, app.HTMLString(&Answers{Desk: d, Here: route.Search()}), "answers__list")
	screen := app.HTMLString(&Screen{Desk: d})
	assert.Contains(t, screen, "answers__list")
	assert.NotContains(t, screen, "Asked for most often")
	assert.Contains(t, app.HTMLString(&Box{Desk: newDesk(), Here: route.Search()}), `data-state="open"`)
	assert.Contains(t, app.HTMLString(&Box{Desk: newDesk(), Here: route.Home()}), `data-state="shut"`)
}

func TestScreenReadsWithoutAQuery(t *testing.T) {
	d := newDesk()
	html := app.HTMLString(&Screen{Desk: d})
	for _, id := range d.session.Asked() {
		a, ok := sheet.Book().Acceptance(id)
		require.True(t, ok, id)
		assert.Contains(t, html, `#`+id+`"`)
		assert.Contains(t, html, a.Name)
	}
	assert.Contains(t, html, "published)", "each figure says where it comes from")
}

func TestKeys(t *testing.T) {
	d := newDesk()
	box := &Box{Desk: d, Here: route.Home()}
	tester := app.NewClientTester(box)
	defer tester.Close()
	tester.Consume()
	press := func(k dom.Key) bool {
		act := box.key(k)
		if act != nil {
			act()
			tester.Consume()
		}
		return act != nil
	}
	assert.False(t, press(dom.Key{Name: "/", At: "words", Typing: true}), "a slash in another field is a slash")
	assert.False(t, press(dom.Key{Name: "Escape"}))
	assert.False(t, press(dom.Key{Name: "a"}))
	assert.True(t, press(dom.Key{Name: "/"}))
	assert.True(t, d.open)
	assert.False(t, press(dom.Key{Name: "ArrowDown", At: placeBox, Typing: true}), "there is no answer yet")
	assert.True(t, press(dom.Key{Name: "Escape", At: placeBox, Typing: true}))
	assert.False(t, d.open)
}
