package checks

import (
	"regexp"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	sheet "provingbench/knowledge/unit/shipped"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

func mounted(t *testing.T, id string) (*Check, app.ClientDispatcher) {
	p := &Check{Session: session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, clock), ID: id}
	d := app.NewClientTester(p)
	t.Cleanup(d.Close)
	d.Consume()
	return p, d
}

func TestReadingIsJudgedEnteredAndRemoved(t *testing.T) {
	p, d := mounted(t, "governor-coil-at-plug")
	o := p.check().Observation("ohms")
	draft := p.draft("ohms")
	draft.entry.Reading = "OL"
	p.enter(o, draft)
	d.Consume()
	require.Len(t, p.Session.Case().Entries, 1)
	html := app.HTMLString(p)
	assert.Contains(t, html, `data-call="bad"`)
	assert.Contains(t, html, "Open")
	assert.Contains(t, html, "How it moves the causes")
	assert.Contains(t, html, "from memory: confirm it")
	assert.Contains(t, html, "Back to Find")

	p.Session.Withdraw("Removed", 0)
	d.Consume()
	assert.NotContains(t, app.HTMLString(p), "How it moves the causes")
}

func TestProblemStandsBesideTheFieldAndNothingIsEntered(t *testing.T) {
	p, d := mounted(t, "governor-coil-at-plug")
	o := p.check().Observation("ohms")
	draft := p.draft("ohms")
	for field, spoil := range map[string]func(){
		"reading": func() { draft.entry.Reading = "3 4" },
		"at":      func() { draft.entry.Reading, draft.at = "4.2", "warm" },
		"leads":   func() { draft.at, draft.entry.Leads = "70", "x" },
		"percent": func() { draft.entry.Leads, draft.entry.Percent = "", "-1" },
	} {
		*draft = *(&Check{Session: p.Session, ID: p.ID}).draft("ohms")
		draft.entry.Reading = "4.2"
		spoil()
		p.enter(o, draft)
		p.Update()
		d.Consume()
		require.Empty(t, p.Session.Case().Entries, field)
		assert.Contains(t, app.HTMLString(p), `id="ohms-`+field+`-problem"`, field)
	}
}

func TestNothingPickedIsAProblem(t *testing.T) {
	p, d := mounted(t, "fluid-condition")
	o := &p.check().Observations[0]
	require.Nil(t, o.Reading)
	p.enter(o, p.draft(o.ID))
	p.Update()
	d.Consume()
	assert.Empty(t, p.Session.Case().Entries)
	assert.Contains(t, app.HTMLString(p), "Pick one of the answers.")
}

func TestCautionsStandBeforeTheirStep(t *testing.T) {
	p, _ := mounted(t, "governor-coil-at-plug")
	html := app.HTMLString(&Check{Session: p.Session, ID: p.ID})
	for _, s := range p.check().Steps {
		for _, id := range s.Cautions {
			w := p.Session.Catalogue().Caution(id)
			assert.Less(t, place(html, app.HTMLString(app.Text(w.Hazard))), place(html, app.HTMLString(app.Text(s.Do))), id)
		}
	}
}

func place(text, part string) int {
	for i := 0; i+len(part) <= len(text); i++ {
		if text[i:i+len(part)] == part {
			return i
		}
	}
	return -1
}

func TestTemperature(t *testing.T) {
	for typed, want := range map[string]string{"180": "180 °F", "82 C": "82 C", "82,5": "82,5 °F", "1/2": "1/2 °F", "180°": "180°"} {
		assert.Equal(t, want, temperature(typed, "°F"))
	}
}

func TestMoves(t *testing.T) {
	a, b, c := &catalogue.Fault{ID: "a"}, &catalogue.Fault{ID: "b"}, &catalogue.Fault{ID: "c"}
	before := &diagnosis.Answer{Ranked: []diagnosis.Suspect{{Fault: a, Probability: 0.6}, {Fault: b, Probability: 0.2}, {Fault: c, Probability: 0.1}}}
	after := &diagnosis.Answer{Ranked: []diagnosis.Suspect{{Fault: c, Probability: 0.9, Proved: true}, {Fault: b, Probability: 0.2}, {Fault: a, Probability: 0.01}}}
	got := Moves(before, after, 1)
	require.Len(t, got, 2, "the leader of then and the leader of now")
	assert.Equal(t, Move{c, 0.1, 0.9, true}, got[0])
	assert.Equal(t, Move{a, 0.6, 0.01, false}, got[1])
	assert.Nil(t, Moves(nil, after, 1))
}

func TestMatches(t *testing.T) {
	k := &catalogue.Check{Name: "Line pressure, R", Purpose: "Tests the rear servo.", Tools: []string{"300 psi gauge"}, Observations: []catalogue.Observation{{Asks: "Line at idle"}}}
	for query, want := range map[string]bool{"": true, "LINE gauge": true, "idle": true, "servo coil": false} {
		assert.Equal(t, want, Matches(k, query), query)
	}
}

func TestEntriesOfOneObservationLatestFirst(t *testing.T) {
	c := diagnosis.Case{Entries: []diagnosis.Entry{{Check: "k", Observation: "o", Reading: "1"}, {Check: "k", Observation: "p"}, {Check: "k", Observation: "o", Reading: "2"}}}
	got := entries(c, "k", "o")
	require.Len(t, got, 2)
	assert.Equal(t, 2, got[0].place)
	assert.Equal(t, "1", got[1].entry.Reading)
}

var screenOnly = regexp.MustCompile(`(?s)<div class="screen-only">.*?usual instrument is assumed\.`)

// What the meter is worth is asked for on the screen; on paper stand the boxes
// for what is read, and for a coil its temperature and the leads.
func TestPaperHasABoxForEachReading(t *testing.T) {
	for check, coil := range map[string][]string{
		"line-pressure-manual-2": nil,
		"governor-coil-at-plug":  {"ohms-at", "ohms-leads"},
	} {
		p, _ := mounted(t, check)
		html := app.HTMLString(p)
		paper := screenOnly.ReplaceAllString(html, "")
		assert.Contains(t, html, `-percent"`, check)
		assert.NotContains(t, paper, `-percent"`, check)
		for _, o := range p.check().Observations {
			if o.Reading != nil {
				assert.Contains(t, paper, `id="`+o.ID+`-reading"`, check)
			}
		}
		for _, id := range coil {
			assert.Contains(t, paper, `id="`+id+`"`, check)
		}
	}
}
