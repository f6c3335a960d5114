package figures

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/app/store"
	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func newSession() *session.Session {
	engine := &diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
	now := time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)
	return session.New(engine, store.Memory{}, func() time.Time { return now })
}

// shown draws the sheet as it stands at an address with a query.
func shown(s *session.Session, q url.Values) string {
	screen := New(s)
	screen.read(q)
	return app.HTMLString(screen)
}

// has and hasNot keep a failure readable: the page is long.
func has(t *testing.T, html, want string) {
	t.Helper()
	assert.True(t, strings.Contains(unescape(html), want), "missing: %s", want)
}

func hasNot(t *testing.T, html, want string) {
	t.Helper()
	assert.False(t, strings.Contains(unescape(html), want), "should not be there: %s", want)
}

// article returns the HTML of one figure.
func article(t *testing.T, html, id string) string {
	t.Helper()
	at := strings.Index(html, `id="`+id+`"`)
	require.GreaterOrEqual(t, at, 0, "no figure %s", id)
	end := strings.Index(html[at:], "</article>")
	return html[at : at+end]
}

// TestEveryFigureCanBeRead holds the prepared page against the sheet: what a
// reader without the program needs is all there.
func TestEveryFigureCanBeRead(t *testing.T) {
	s := newSession()
	html := app.HTMLString(New(s))
	for _, a := range s.Book().Acceptances {
		one := article(t, html, a.ID)
		for _, l := range a.Limits {
			for _, want := range []string{part.LimitText(s.Units(), l), part.LimitElsewhere(s.Units(), l), part.Provenance(s.Book(), l.Provenance)} {
				has(t, one, want)
			}
		}
		has(t, app.HTMLString(NewGroup(s, a.Group)), `id="`+a.ID+`"`) // the address that checks link to
	}
	assert.Equal(t, 1, strings.Count(html, "<h1"))
	for _, f := range unit.Features {
		has(t, html, f.See)
	}
}

func unescape(html string) string {
	return strings.NewReplacer("&#39;", "'", "&#34;", `"`, "&amp;", "&", "&lt;", "<", "&gt;", ">").Replace(html)
}

func TestVersionsStandSideBySideUntilOneIsPicked(t *testing.T) {
	s := newSession()
	one := article(t, shown(s, nil), "overdrive-clutch-full")
	has(t, one, "Light and mid versions")
	has(t, one, "Late version")

	one = article(t, shown(s, url.Values{queryVersion: {"late"}}), "overdrive-clutch-full")
	hasNot(t, one, "Light and mid versions")
	has(t, one, "155 to 170 psi")
	assert.Nil(t, s.Job(), "looking a figure up starts no job")

	one = article(t, shown(s, url.Values{queryVersion: {"huge"}}), "overdrive-clutch-full")
	has(t, one, "Light and mid versions")
}

func TestTheJobDecidesTheVersion(t *testing.T) {
	s := newSession()
	s.Change("", func(j *store.Job) { j.Settled = true; j.Case.Version = unit.Mid })
	html := shown(s, url.Values{queryVersion: {"late"}})
	hasNot(t, article(t, html, "overdrive-clutch-full"), "155 to 170 psi")
	has(t, html, "made for the late version")
}

func TestDisagreementIsShown(t *testing.T) {
	s := newSession()
	html := app.HTMLString(New(s))
	// Two sources, two torques for the same nut: both stand there, and it is said.
	nut := article(t, html, "front-band-locknut")
	has(t, nut, "25 ft-lb")
	has(t, nut, "30 ft-lb")
	has(t, nut, "The sources disagree")
	// Two thresholds for two purposes are no disagreement.
	sensor := article(t, html, "governor-sensor-high")
	hasNot(t, sensor, "The sources disagree")
	has(t, sensor, "Read when each one holds")
}

func TestFilter(t *testing.T) {
	s := newSession()
	for _, c := range []struct{ filter, in, out string }{
		{"band torque", "front-band-torque", "line-drive-idle"},
		{"BAND  Turns", "front-band-backoff-turns", "pan-bolts"},
		{"governor solenoid", "governor-solenoid-coil", "overdrive-solenoid-coil"},
		{"185 psi", "", "line-drive-idle"},
		{strings.Repeat("x", 10000), "", "line-drive-idle"},
	} {
		html := shown(s, url.Values{queryFilter: {c.filter}})
		if c.in != "" {
			has(t, html, `id="`+c.in+`"`)
		}
		hasNot(t, html, `id="`+c.out+`"`)
	}
}

func TestIdentification(t *testing.T) {
	s := newSession()
	has(t, shown(s, url.Values{querySeen: {"throttle-actuator"}}), "Show the figures of the late version")
	has(t, shown(s, url.Values{querySeen: {"throttle-actuator", "vent-with-spring"}}), "No version shows all of this")
	has(t, shown(s, url.Values{querySeen: {"throttle-cable", "diesel-or-v10", "made-up"}}), "Could be the mid and late versions")
}

func TestPickChangesTheJob(t *testing.T) {
	s := newSession()
	s.Start()
	screen := New(s)
	client := app.NewClientTester(screen)
	defer client.Close()
	s.Change("", func(j *store.Job) { j.Settled = true; j.Case.Version = unit.Light; j.Case.Build = unit.Raised })
	client.Consume()
	assert.Equal(t, unit.Light, screen.sheet().Version)
	assert.Equal(t, unit.Raised, screen.sheet().Build)
}
