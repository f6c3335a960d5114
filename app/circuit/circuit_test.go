package circuit

import (
	"math"
	"net/url"
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
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func newSession() *session.Session {
	return session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, func() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) })
}

func at(t *testing.T, query string) *Screen {
	t.Helper()
	q, err := url.ParseQuery(query)
	require.NoError(t, err)
	s := &Screen{Session: newSession()}
	s.read(q)
	return s
}

// has asserts that a page says something, without printing the page when not.
func has(t *testing.T, html, want string) {
	t.Helper()
	assert.True(t, strings.Contains(html, want), "wanted: %s", want)
}

func hasNot(t *testing.T, html, unwanted string) {
	t.Helper()
	assert.False(t, strings.Contains(html, unwanted), "unwanted: %s", unwanted)
}

// The picture has every node of the model once, no two in one place, and every
// passage that leads from one to another; what leads back to the pan and leaks
// stand under it.
func TestPictureHasTheModel(t *testing.T) {
	taken := map[[2]int]string{}
	nodes := map[string]bool{}
	for _, p := range hydraulics.Places {
		s, ok := spots[p.ID]
		require.True(t, ok, "%s has no place", p.ID)
		nodes[p.ID] = true
		for c := range s.wide {
			at := [2]int{s.col + c, s.row}
			assert.Empty(t, taken[at], "%s stands on another", p.ID)
			taken[at] = p.ID
		}
		assert.LessOrEqual(t, s.x()+s.w(), width)
		assert.LessOrEqual(t, s.y()+boxH, height)
	}
	for id := range spots {
		assert.True(t, nodes[id], "%s is no node", id)
	}
	links := map[string]bool{}
	for _, l := range hydraulics.Links {
		links[l.ID] = true
		_, drawn := pipes[l.ID]
		back := hydraulics.Places[l.To].ID == "sump"
		if between := !l.Leak && !back; between {
			assert.True(t, drawn, "%s is not drawn", l.ID)
		} else if back {
			assert.False(t, drawn, "%s leads back to the pan", l.ID)
		}
	}
	for id := range pipes {
		assert.True(t, links[id], "%s is no link", id)
	}
}

// Each pipe begins at the edge of the box that the model's link leads from, ends
// at that of the one it leads to, and runs up, down or across.
func TestPipesJoinTheirBoxes(t *testing.T) {
	on := func(id string, x, y int) bool {
		s := spots[id]
		inX, inY := x >= s.x() && x <= s.x()+s.w(), y >= s.y() && y <= s.y()+boxH
		return inX && (y == s.y() || y == s.y()+boxH) || inY && (x == s.x() || x == s.x()+s.w())
	}
	for _, l := range hydraulics.Links {
		p, ok := pipes[l.ID]
		if !ok {
			continue
		}
		n := len(p.points)
		assert.True(t, on(hydraulics.Places[l.From].ID, p.points[0], p.points[1]), "%s begins elsewhere", l.ID)
		assert.True(t, on(hydraulics.Places[l.To].ID, p.points[n-2], p.points[n-1]), "%s ends elsewhere", l.ID)
		assert.Less(t, 2*p.valve+3, n, l.ID)
		for k := 2; k < n; k += 2 {
			assert.True(t, p.points[k] == p.points[k-2] || p.points[k+1] == p.points[k-1], "%s slants", l.ID)
		}
		for k := 0; k < n; k += 2 {
			assert.True(t, p.points[k] >= 0 && p.points[k] <= width && p.points[k+1] >= 0 && p.points[k+1] <= height, l.ID)
		}
	}
}

// What is drawn are the model's own numbers, in the user's units.
func TestNumbersAreTheModels(t *testing.T) {
	s := at(t, "range=R&throttle=100&speed=0+mph&version=light")
	html := app.HTMLString(s)
	want := s.set
	state, err := hydraulics.Driven(want)
	require.NoError(t, err)
	p, _ := state.Port("rear-servo")
	said := quantity.Format(p.Value(), quantity.PSI, 0)
	has(t, html, "Rear servo apply port: "+said)
	has(t, html, "Line "+pressure(quantity.Preference{}, state.Pressures[lineAt]))
	assert.Equal(t, len(hydraulics.Places), strings.Count(html, `class="circuit__box"`))
	hasNot(t, html, "%!")
	hasNot(t, html, "style=")
	hasNot(t, html, "-0 psi")

	metric := at(t, "range=R&throttle=100&speed=0+mph&version=light")
	metric.Session.Open()
	metric.Session.Set(func(x *store.Settings) { x.Units.System = quantity.Metric })
	has(t, app.HTMLString(metric), "Rear servo apply port: "+quantity.Format(p.Value(), quantity.Kilopascal, 0))
}

func TestFaultStandsBesideHealthy(t *testing.T) {
	html := app.HTMLString(at(t, "range=D&speed=41+mph&fault=front-clutch-seals&severity=100"))
	has(t, html, `data-changed="yes"`)
	has(t, html, "With the fault")
	has(t, html, `class="circuit__drop"`)
	has(t, html, `class="circuit__ghost"`)
	has(t, html, "a gap up to")
	has(t, html, "/faults/front-clutch-seals/")
	healthy := app.HTMLString(at(t, "range=D&speed=41+mph"))
	hasNot(t, healthy, `data-changed="yes"`)
	hasNot(t, healthy, "With the fault")
	both := app.HTMLString(at(t, "range=D&speed=41+mph&fault=front-clutch-seals&picture=beside"))
	assert.Equal(t, 2, strings.Count(both, `class="circuit__drawing"`))
}

// Opened from a fault's page, the circuit is at the test that shows it.
func TestFaultIsShownWhereItTells(t *testing.T) {
	for id, want := range map[string]unit.Range{"rear-servo-leak": unit.ReverseR, "overdrive-piston-seal": unit.Drive} {
		s := at(t, "fault="+id)
		if id == "rear-servo-leak" {
			assert.Contains(t, []unit.Range{unit.ReverseR, unit.ManualOne}, s.set.Range)
		} else {
			assert.Equal(t, want, s.set.Range)
			assert.True(t, s.set.Fourth)
		}
		has(t, app.HTMLString(s), `data-changed="yes"`)
	}
}

// The address has the whole setting, and what is nonsense in one is left.
func TestAddress(t *testing.T) {
	s := at(t, "range=2&throttle=35&speed=30+mph&temperature=40+F&version=mid&build=raised&asks=both&fault=front-servo-leak~out&severity=70&fault=pump-worn&severity=50&picture=large&cell=a%2Fb%3D1+psi")
	again := &Screen{Session: s.Session}
	again.read(s.query())
	assert.Equal(t, s.set, again.set)
	assert.Equal(t, s.faults, again.faults)
	assert.Equal(t, []string{"large", "a/b=1 psi"}, []string{again.size, again.cells[0]})
	assert.Equal(t, unit.ManualTwo, s.set.Range)
	assert.Equal(t, []hydraulics.Fault{{ID: "front-servo-leak", Mode: "out", Severity: 0.7}, {ID: "pump-worn", Severity: 0.5}}, s.faults)

	bad := at(t, "range=X&throttle=400&speed=9999+mph&temperature=hot&version=huge&fault=none&severity=x&picture=y")
	plain := at(t, "")
	assert.Equal(t, plain.set, bad.set)
	assert.Empty(t, bad.faults)
	for _, q := range []string{"speed=-5+mph", "temperature=OL", "throttle=NaN", "fault=pump-worn&severity=NaN", "fault=pump-worn&fault=filter-loose&fault=fluid-low"} {
		assert.NotPanics(t, func() { app.HTMLString(at(t, q)) }, q)
	}
}

func FuzzAddress(f *testing.F) {
	f.Add("range=D&fault=pump-worn&severity=90&speed=41+mph")
	f.Add("cell=line-pressure-drive%2Fline-idle%3D41+psi&cell=x")
	f.Fuzz(func(t *testing.T, query string) {
		q, err := url.ParseQuery(query)
		if err != nil {
			return
		}
		s := &Screen{Session: newSession()}
		s.read(q)
		html := app.HTMLString(s)
		assert.False(t, strings.Contains(html, "NaN"))
	})
}

func TestReadingsThatTheModelHas(t *testing.T) {
	s := at(t, "cell=line-pressure-drive%2Fline-idle%3D41+psi&cell=fluid-level%2Flevel%3D1+psi&cell=line-pressure-reverse%2Freverse-idle%3Dabc")
	f := &fitter{Session: s.Session, Cells: s.cells, Set: s.set}
	l := f.read()
	require.Len(t, l.Cells, 1)
	assert.Equal(t, "line", l.Cells[0].Gauge.Port)
	assert.InDelta(t, 41, quantity.PSI.From(float64(l.Cells[0].Reading)), 1e-9)
	assert.Positive(t, float64(l.Cells[0].Uncertainty))
	require.Len(t, l.left, 2)
	html := app.HTMLString(f)
	has(t, html, "not in the model")
	has(t, html, "Find what explains them")
	f.typed = "4"
	assert.InDelta(t, 4, quantity.PSI.From(float64(f.read().Cells[0].Uncertainty)), 1e-9)
	f.typed = "none"
	f.read()
	assert.NotEmpty(t, f.wrong)
}

// A reading goes into the address and out of it unchanged, with its unit.
func TestCell(t *testing.T) {
	for _, x := range []struct{ reading, unit, want string }{
		{"41", "psi", "41 psi"}, {"41", "", "41 psi"}, {"393 kPa", "psi", "393 kPa"}, {"2.8", "bar", "2.8 bar"},
	} {
		n := entryOf(Cell(diagnosis.Entry{Check: "a", Observation: "b", Reading: x.reading, Unit: x.unit}))
		assert.Equal(t, diagnosis.Entry{Check: "a", Observation: "b", Reading: x.want}, n)
	}
}

// A reading of the job goes into its fitted log as it was noted; one from the address
// was read in fluid of the fit's temperature.
func TestReadingsKeepWhatWasNoted(t *testing.T) {
	s := at(t, "cell=line-pressure-drive%2Fline-idle%3D283+kPa&cell=line-pressure-reverse%2Freverse-idle%3D158+psi&temperature=180+F")
	s.Session.Open()
	noted := diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "283", Unit: "kPa", At: "150 F", Percent: "2"}
	s.Session.Enter("", noted)
	f := &fitter{Session: s.Session, Cells: s.cells, Set: s.set}
	l := f.read()
	assert.Equal(t, []diagnosis.Entry{noted, {Check: "line-pressure-reverse", Observation: "reverse-idle", Reading: "158 psi", At: "180 °F"}}, l.entries)
	assert.InDelta(t, 283, quantity.Kilopascal.From(float64(l.Cells[0].Reading)), 1e-9)
	for _, n := range l.entries {
		assert.Empty(t, s.Session.Judge(n).Problem, n.Observation)
	}
}

// No weight is surer than the ranking takes, which has the same bound for a reason
// of its own.
func TestBoundsOfEvidenceAgree(t *testing.T) {
	assert.InDelta(t, diagnosis.MostWeight, hydraulics.MostEvidence, 1e-15)
	assert.InDelta(t, math.Log(0.98/0.02), hydraulics.MostEvidence, 1e-15)
}

// A fit runs beside the page, is shown, weighed and taken out again; a running one
// can be stopped.
func TestFit(t *testing.T) {
	s := at(t, "cell=line-pressure-drive%2Fline-idle%3D41+psi")
	s.Session.Open()
	f := &fitter{Session: s.Session, Cells: s.cells, Set: s.set}
	page := app.NewClientTester(f)
	defer page.Close()
	page.Consume()
	f.start(f.ctx)
	require.NotNil(t, f.cancel)
	has(t, app.HTMLString(&fitter{Session: f.Session, Cells: f.Cells, Set: f.Set, cancel: f.cancel, done: 40}), "Looking: 40 %")
	f.cancel()
	for f.cancel != nil {
		page.Consume()
	}
	assert.Nil(t, f.fit)
	has(t, app.HTMLString(f), "Stopped")

	f.start(f.ctx)
	for f.cancel != nil {
		page.Consume()
	}
	require.NotNil(t, f.fit)
	html := app.HTMLString(f)
	for _, said := range []string{"Explains them best", "Reading by reading", "Read next, to part the rivals", "Pairs", "See it in the circuit", "Weigh it in the ranking"} {
		has(t, html, said)
	}
	hasNot(t, html, "NaN")

	s.Session.Enter("", diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "41"})
	f.weigh(nil)
	c := s.Session.Case()
	require.NotNil(t, c.Fitted)
	assert.Empty(t, c.Entries, "the log stands in the reading's place")
	assert.Equal(t, "41 psi", c.Fitted.Readings[0].Reading)
	_, err := s.Session.Standing()
	require.NoError(t, err)
	assert.Len(t, pressures(s.Session), 1, "the job's readings are those of its log")
	page.Consume()
	has(t, app.HTMLString(f), "A fitted pressure log is in the job at hand")
	s.Session.Enter("", diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "41"})
	assert.Nil(t, s.Session.Case().Fitted, "entered by itself, it takes the log out")

	f.Set.Temperature++
	f.Update()
	page.Consume()
	has(t, app.HTMLString(f), "Something was changed since")
}
