package screens

import (
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	sheet "provingbench/knowledge/unit/shipped"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

func newSession() *session.Session {
	return session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, clock)
}

// worked is a session with a job that has a complaint, an entry of each kind, a
// proved fault and a refused check, so that every part of the screens is drawn.
func worked() *session.Session {
	s := newSession()
	s.Change("", func(j *store.Job) {
		j.Complaint = "no reverse"
		j.Case.Report(diagnosis.Report{Symptom: "no-reverse", Said: "no reverse", Instead: []string{"slips-reverse"}})
		j.Case.Report(diagnosis.Report{Symptom: "binds-on-shift", Absent: true})
		j.Case.Refused = []string{"stall-test"}
	})
	s.Enter("", diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "ohms", Reading: "4.2"})
	proof := s.Catalogue().Proofs("rear-band-loose")[0]
	if proof.Observation.Reading == nil {
		s.Enter("", diagnosis.Entry{Check: proof.Check.ID, Observation: proof.Observation.ID, Outcome: proof.Outcome.ID})
	}
	return s
}

// drawn is every page by the name of its session and by its address.
var drawn = sync.OnceValue(func() map[string]map[route.Address]string {
	out := map[string]map[route.Address]string{}
	for name, s := range map[string]*session.Session{"no job": newSession(), "job": worked()} {
		site := site(s)
		out[name] = map[route.Address]string{}
		for _, a := range append(site.All(), route.Missing()) {
			out[name][a] = app.HTMLString(site.Page(a))
		}
	}
	return out
})

// everyPage hands over every page, once without a job and once with one at hand.
func everyPage(t *testing.T, f func(t *testing.T, a route.Address, html string)) {
	for name, pages := range drawn() {
		for a, html := range pages {
			t.Run(name+" "+string(a), func(t *testing.T) { f(t, a, html) })
		}
	}
}

var (
	ids        = regexp.MustCompile(`\sid="([^"]*)"`)
	references = regexp.MustCompile(`\s(for|aria-describedby|aria-labelledby)="([^"]*)"`)
	control    = regexp.MustCompile(`<(input|select|textarea)\b[^>]*>`)
	controlID  = regexp.MustCompile(`\sid="([^"]*)"`)
	heading    = regexp.MustCompile(`<h1[\s>]`)
	link       = regexp.MustCompile(`\shref="([^"]*)"`)
)

func TestWorkedSessionShowsEveryPartOfFind(t *testing.T) {
	html := drawn()["job"][route.Find()]
	for _, heading := range []string{"Where it stands", "What that explains", "Next check", "Likely causes", "The complaint", "Left out"} {
		assert.Contains(t, html, heading)
	}
}

func TestEveryPageIsSound(t *testing.T) {
	known := map[string]bool{}
	for _, a := range site(newSession()).All() {
		known[string(a)] = true
	}
	everyPage(t, func(t *testing.T, _ route.Address, html string) {
		assert.Len(t, heading.FindAllString(html, -1), 1, "one h1")
		seen := map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(html, -1) {
			assert.False(t, seen[m[1]], "id %q twice", m[1])
			seen[m[1]] = true
		}
		for _, m := range references.FindAllStringSubmatch(html, -1) {
			for _, id := range strings.Fields(m[2]) {
				assert.True(t, seen[id], "%s names %q, which is not there", m[1], id)
			}
		}
		for _, c := range control.FindAllString(html, -1) {
			m := controlID.FindStringSubmatch(c)
			if assert.NotNil(t, m, "no id: %s", c) && !strings.Contains(c, "aria-label=") {
				assert.Contains(t, html, `for="`+m[1]+`"`, "no label: %s", c)
			}
		}
		for _, m := range link.FindAllStringSubmatch(html, -1) {
			path, _, _ := strings.Cut(m[1], "#")
			path, _, _ = strings.Cut(path, "?")
			if path != string(route.Missing()) {
				assert.True(t, known[path], "link to %q, which is no address", m[1])
			}
		}
		assert.NotContains(t, html, ` style="`, "the security policy blocks it")
	})
}

func TestLinksIntoAPageFindTheirPlace(t *testing.T) {
	places := map[string]map[string]bool{}
	for a, html := range drawn()["no job"] {
		there := map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(html, -1) {
			there[m[1]] = true
		}
		places[string(a)] = there
	}
	lost := map[string]bool{}
	everyPage(t, func(_ *testing.T, _ route.Address, html string) {
		for _, m := range link.FindAllStringSubmatch(html, -1) {
			if path, place, ok := strings.Cut(m[1], "#"); ok && places[path] != nil && !places[path][place] {
				lost[m[1]] = true
			}
		}
	})
	assert.Empty(t, lost)
}

func TestFirstDrawnPageShowsNothingSaved(t *testing.T) {
	// The page is prepared without a browser; the first one drawn there must be
	// the same, so nothing may be read before it is mounted.
	box := store.Memory{}
	saved, err := store.Open(box, clock)
	require.NoError(t, err)
	_, err = saved.New()
	require.NoError(t, err)
	empty := site(newSession())
	full := site(session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, box, clock))
	for _, a := range []route.Address{route.Home(), route.Find(), route.Jobs(), route.Checks(), route.Check("fluid-level")} {
		assert.Equal(t, len(app.HTMLString(empty.Page(a))), len(app.HTMLString(full.Page(a))), string(a))
	}
}
