package codes

import (
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// has and hasNot keep a failure readable: the pages are long.
func has(t *testing.T, html, want string) {
	t.Helper()
	assert.True(t, strings.Contains(html, want), "missing: %s", want)
}

func hasNot(t *testing.T, html, want string) {
	t.Helper()
	assert.False(t, strings.Contains(html, want), "should not be there: %s", want)
}

func TestListIsReadableAtOnceAndFilters(t *testing.T) {
	l := &List{Session: newSession()}
	html := app.HTMLString(l)
	for _, k := range l.Session.Catalogue().Codes {
		has(t, html, k.Number+": ")
	}
	for query, want := range map[string][]string{
		"p 1757":         {"P1757"},
		"1757":           {"P1757"},
		"142":            {"P1757"},
		"sensor zero":    {"P1762"},
		"Shift Solenoid": {"P0751", "P0753"},
		"no such words":  nil,
	} {
		html := app.HTMLString(&List{Session: l.Session, query: query})
		for _, number := range want {
			has(t, html, number+": ")
		}
		if want == nil {
			has(t, html, "No code of this list fits")
		}
		hasNot(t, html, "P1899: ")
	}
	flash := app.HTMLString(&List{Session: l.Session, query: "45"})
	assert.Greater(t, strings.Count(flash, `class="row__link" href="/codes/`), 5, "one flash, many faults")
}

// The name of the code and its thresholds stand side by side, each with its
// source. Source: maker's handbooks, 1998 and 2006-2007: fault code tests.
func TestThresholdsAreKeptApartByYear(t *testing.T) {
	p := &Code{Session: newSession(), ID: "p1757"}
	html := app.HTMLString(p)
	for _, want := range []string{
		"above 3 psi when 0 psi is asked", "above 6 psi for 5 s", "The sources differ", "1998: fault code tests", "2006-2007: fault code tests",
		"belongs to the maker", "Older number 142", "It is stored: add to the job", `href="/checks/governor-pressure/"`, `href="/faults/governor-solenoid-stuck-open/"`, "Stores it usually",
	} {
		has(t, html, want)
	}
}

// Source: maker's handbook, 2006: code list, against the standard's name.
func TestNameClashIsSaid(t *testing.T) {
	html := app.HTMLString(&Code{Session: newSession(), ID: "p0751"})
	has(t, html, "Overdrive switch pressed")
	has(t, html, "Shift Solenoid A Performance or Stuck Off")
}

func TestOneTapEntersTheCode(t *testing.T) {
	s := newSession()
	p := &Code{Session: s, ID: "p1757"}
	d := app.NewClientTester(p)
	t.Cleanup(d.Close)
	d.Consume()
	require.True(t, s.AddCodes(p.code()))
	d.Consume()
	html := app.HTMLString(p)
	has(t, html, "Entered in this job")
	hasNot(t, html, "It is stored: add to the job")
	has(t, app.HTMLString(&Code{Session: s, ID: "p1763"}), "It is stored: add to the job") // volts out of range come before pressure off target
	require.True(t, s.AddCodes(s.Catalogue().Code("p0748")))
	d.Consume()
	has(t, app.HTMLString(p), "another code of the same family comes first")
}

func TestPointerIsNoFinding(t *testing.T) {
	html := app.HTMLString(&Code{Session: newSession(), ID: "p0700"})
	has(t, html, "points to no fault of the unit")
	hasNot(t, html, "Likely causes")
}
