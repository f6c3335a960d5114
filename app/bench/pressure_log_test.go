package bench

import (
	"html"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func logQuery(pairs ...string) string {
	q := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		q.Set(pairs[i], pairs[i+1])
	}
	return q.Encode()
}

// every is a page with nothing typed.
func every(t *testing.T) *form {
	t.Helper()
	f, _ := formOf(t, pressureLogTool, pressureLogPanel, "")
	return f
}

// cellAt is the cell of a key.
func cellAt(t *testing.T, f *form, key string) *cell {
	t.Helper()
	for _, x := range cells(f.session) {
		if x.key() == key {
			return x
		}
	}
	require.Fail(t, "no cell "+key)
	return nil
}

// TestEveryPressureHasOneCell: what a check asks a gauge for can be typed, once.
func TestEveryPressureHasOneCell(t *testing.T) {
	s := newSession()
	found := map[string]int{}
	keys := map[string]bool{}
	for _, x := range cells(s) {
		for _, a := range x.asks {
			found[a.key()]++
		}
		assert.False(t, keys[x.key()], x.key())
		keys[x.key()] = true
		if x.reads == hydraulics.Difference {
			require.NotNil(t, x.line, x.key())
			assert.Equal(t, x.spot, x.line.spot)
			assert.Equal(t, "line", x.line.port.ID)
		}
	}
	asked := 0
	for _, k := range s.Catalogue().Checks {
		for _, o := range k.Observations {
			if o.Reading != nil && quantity.Kind(o.Reading.Quantity) == quantity.KindPressure {
				asked++
				assert.Equal(t, 1, found[k.ID+"."+o.ID], "%s %s", k.ID, o.ID)
			}
		}
	}
	assert.Len(t, found, asked)
	assert.Greater(t, asked, 15)
}

// TestTableIsThePressureTest holds cells against the tests as handbooks print them.
func TestTableIsThePressureTest(t *testing.T) {
	const (
		sister   = "maker's handbooks, sister three-speed unit: hydraulic pressure tests, "
		handbook = "maker's handbook, 2003: hydraulic pressure tests, "
		memory   = "from memory of the trade; port, gauge and speed from the sister unit's handbook, "
	)
	f := every(t)
	lines := gaugeLines(f.session)
	seen := map[string]string{}
	for _, l := range lines {
		heading, throttle := l.spot.words(f)
		for _, x := range l.cells {
			if x != nil {
				seen[portName(x.port)+" | "+heading+" | "+throttle] = x.window(f)
			}
		}
	}
	for _, c := range []struct{ port, row, throttle, window, source string }{
		{"Line", "Manual 1, 1000 rpm", "throttle lever forward", "54 to 60 psi", sister + "test 1; figures from memory, as in test 2"},
		{"Rear servo apply", "Manual 1, 1000 rpm", "throttle lever forward", "at most 3 psi off line", sister + "test 1"},
		{"Line", "Manual 2, 1000 rpm", "throttle lever forward", "54 to 60 psi", sister + "test 2"},
		{"Line", "Manual 2, 1000 rpm", "throttle lever rearward", "90 to 96 or 90 to 95 psi", sister + "test 2; rebuilder's booklet for the late version: drive maximum"},
		{"Line", "D, 3rd, 1600 rpm", "throttle lever forward", "54 to 60 psi", sister + "test 3"},
		{"Front servo", "D, 3rd, 1600 rpm", "throttle lever forward", "at most 3 psi off line", sister + "test 3"},
		{"Rear servo apply", "R, 1600 rpm", "throttle lever forward", "145 to 175 psi", memory + "test 4"},
		{"Rear servo apply", "R, 1600 rpm", "throttle lever rearward", "230 to 280 psi", memory + "test 4"},
		{"Rear servo apply", "D, 1600 rpm, right after R", "throttle lever forward", "at most 3 psi", "a sister front-drive unit's handbook: it must fall to zero; 3 psi is as near as a gauge tells"},
		{"Governor", "D, standing", "brakes on", "at most 3 or at most 5 psi", handbook + "test 5; and 1999: fault code tests"},
		{"Governor", "D, 30 mph", "wheels free", "25 to 35 psi", handbook + "test 5: about 1 psi per mph; the tolerance is from memory"},
		{"Overdrive clutch", "D, 4th", "throttle closed", "76 to 82 psi", handbook + "test 6"},
		{"Line", "D, 3rd", "as lock-up comes on", "a rise of 8 to 10 psi", "parts maker's instruction sheet, switch valve: line rise"},
		{"Line", "D, 3rd", "lock-up on", "120 to 170 psi", "rebuilder's booklet for the late version: 3rd with converter clutch on"},
	} {
		window, ok := seen[c.port+" | "+c.row+" | "+c.throttle]
		assert.True(t, ok, "%s, %s, %s (%s)", c.port, c.row, c.throttle, c.source)
		assert.Equal(t, c.window, window, "%s, %s, %s (%s)", c.port, c.row, c.throttle, c.source)
	}
	// Line and rear servo are read together in manual 1, line and front servo in 3rd.
	assert.Equal(t, cellAt(t, f, "line-pressure-manual-1.line-idle"), cellAt(t, f, "line-pressure-manual-1.rear-servo").line)
	assert.Len(t, lines, 18)
}

// TestTableIsOne: one table, each row headed, each box under its port, and nothing
// to type where no check reads.
func TestTableIsOne(t *testing.T) {
	screen := filled(t, pressureLogTool, "")
	html := html.UnescapeString(app.HTMLString(screen))
	assert.Equal(t, 1, strings.Count(html, "<table"))
	assert.Equal(t, 1, strings.Count(html, "<caption"))
	assert.Equal(t, 1+len(unit.Ports), strings.Count(html, `scope="col"`))
	rows := strings.Count(html, `scope="row"`)
	boxes := strings.Count(html, `inputmode="decimal"`)
	assert.Equal(t, len(gaugeLines(screen.Session)), rows)
	assert.Equal(t, len(cells(screen.Session)), boxes)
	assert.Equal(t, rows*len(unit.Ports)-boxes, strings.Count(html, `gauges__none`))
	// The headings that name a box are there.
	for _, m := range regexp.MustCompile(`aria-labelledby="(gauge-port-[a-z]) (gauge-row-[a-z])"`).FindAllStringSubmatch(html, -1) {
		has(t, html, `id="`+m[1]+`"`)
		has(t, html, `id="`+m[2]+`"`)
		boxes--
	}
	assert.Zero(t, boxes)
	// Its cautions stand before it, with their signal words and hazards in view.
	table := strings.Index(html, "<table")
	for _, id := range pressureLogTool.cautions {
		c := screen.Session.Catalogue().Caution(id)
		at := strings.Index(html, c.Hazard)
		assert.True(t, at > 0 && at < table, id)
		summary := html[strings.LastIndex(html[:at], "<summary"):at]
		has(t, summary, c.Signal)
		assert.Less(t, strings.LastIndex(html[:at], "</summary>"), strings.LastIndex(html[:at], "<summary"), id)
		has(t, html, c.Avoid)
	}
}

// TestCellIsShared: two checks that ask for the same reading have one cell, with
// the limits of both, and what is typed goes to both.
func TestCellIsShared(t *testing.T) {
	gauges := hydraulics.Gauges
	t.Cleanup(func() { hydraulics.Gauges = gauges })
	hydraulics.Gauges = slices.Clone(gauges)
	idle := slices.IndexFunc(gauges, func(g hydraulics.Gauge) bool { return g.Check == "line-pressure-drive" && g.Observation == "line-idle" })
	top := slices.IndexFunc(gauges, func(g hydraulics.Gauge) bool { return g.Observation == "highest" && g.Check == "line-pressure-drive" })
	hydraulics.Gauges[top].At, hydraulics.Gauges[top].Gear = gauges[idle].At, unit.Third

	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery("line-pressure-drive.line-idle", "41"))
	x := cellAt(t, f, "line-pressure-drive.line-idle")
	require.Len(t, x.asks, 2)
	assert.Equal(t, "54 to 60 psi; at most 275 psi", x.window(f))
	j := x.judge(f)
	assert.Equal(t, "bad", j.call)
	assert.Equal(t, "Too low; Good", j.words)
	require.Len(t, j.entries, 2)
	assert.Equal(t, "highest", j.entries[1].Observation)
	assert.Equal(t, "1 good, 1 out of the window, 0 without a verdict.", r.because[0])
}

// TestLogNamesTheRearServo uses the pattern list of the trade (maker's handbook,
// hydraulic pressure tests): line pressure good in manual 1 while the rear servo
// stands far under it is a leak in the rear servo's circuit.
func TestLogNamesTheRearServo(t *testing.T) {
	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery(
		"line-pressure-manual-1.line-idle", "57", "line-pressure-manual-1.rear-servo", "37", "line-pressure-drive.line-idle", "57"))
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.Equal(t, "1 reading is out of the window", r.word)
	html := app.HTMLString(app.Div().Body(r.body...))
	has(t, html, `href="/faults/rear-servo-`)
	has(t, html, "Rear servo apply: rear band circuit")
	has(t, html, "Shown by: Rear servo apply, Manual 1")
	has(t, html, "Line, Manual 1, 1000 rpm")
}

// TestLogNamesTheFrontClutch: right in 1 and 2, low in D and R (the same list).
func TestLogNamesTheFrontClutch(t *testing.T) {
	_, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery(
		"line-pressure-manual-1.line-idle", "57", "line-pressure-manual-2.line-idle", "57",
		"line-pressure-drive.line-idle", "40", "line-pressure-reverse.reverse-idle", "110"))
	require.NotNil(t, r)
	html := app.HTMLString(app.Div().Body(r.body...))
	has(t, html, "Front clutch circuit")
	has(t, html, `href="/faults/front-clutch-`)
}

func TestLogJudgesAsItIsTyped(t *testing.T) {
	html := app.HTMLString(filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "57", "governor-pressure.standstill", "16")))
	has(t, html, `<span>Good</span>`)
	has(t, html, `<span>Too high</span>`)
	has(t, html, "Enter all in the job")
	html = app.HTMLString(filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "393 kPa")))
	has(t, html, `<span>Good</span>`) // a unit that is typed is understood
	html = app.HTMLString(filled(t, pressureLogTool, ""))
	has(t, html, "54 to 60 psi") // before anything is typed
	hasNot(t, html, "gauges__judged")
}

// TestGaugeIsHeldAgainstLine subtracts as the sheet asks: the servo within so much
// of line, both read together.
func TestGaugeIsHeldAgainstLine(t *testing.T) {
	const line, servo = "line-pressure-manual-1.line-idle", "line-pressure-manual-1.rear-servo"
	for _, c := range []struct{ name, line, servo, call, words, reading string }{
		{"together", "57", "56", "good", "Good: 1 psi under", "1"},
		{"far under", "57", "37", "bad", "Too far: 20 psi under", "20"},
		{"a little over, as two gauges are", "57", "58", "good", "Good: 1 psi above", "1"},
		{"far over, which no leak makes", "57", "75", "none", "Above line can't be: hold both gauges on one port", ""},
		{"without line", "", "56", "none", "Line beside it is wanted", ""},
		{"as a difference", "", "-20", "bad", "Too far: 20 psi under", "20"},
		{"to the half", "57.5", "37.0", "bad", "Too far: 20.5 psi under", "20.5"},
		{"to the coarser of the two", "57", "37.4", "bad", "Too far: 20 psi under", "20"},
		// 393 kPa is 57.0 psi (NIST SP 811, 1 psi = 6.894 757 kPa).
		{"each in its own unit", "393 kPa", "37", "bad", "Too far: 20 psi under", "20"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery(line, c.line, servo, c.servo))
			require.NotNil(t, r)
			assert.Empty(t, f.problems)
			j := cellAt(t, f, servo).judge(f)
			assert.Equal(t, c.call, j.call)
			assert.Equal(t, c.words, j.words)
			if c.reading == "" {
				assert.Empty(t, j.entries)
				return
			}
			assert.Equal(t, []diagnosis.Entry{{Check: "line-pressure-manual-1", Observation: "servo-difference", Reading: c.reading, Unit: "psi"}}, j.entries)
		})
	}
}

// TestOlderLinksOpen: a link in which the difference itself was typed means the same.
func TestOlderLinksOpen(t *testing.T) {
	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery("line-pressure-manual-1.servo-difference", "138", "line-pressure-manual-1.servo-difference-unit", "kPa"))
	require.NotNil(t, r)
	assert.Equal(t, "1 reading is out of the window", r.word)
	x := cellAt(t, f, "line-pressure-manual-1.rear-servo")
	assert.Equal(t, []diagnosis.Entry{{Check: "line-pressure-manual-1", Observation: "servo-difference", Reading: "138", Unit: "kPa"}}, x.judge(f).entries)
	for text, want := range map[string]string{"20": "-20", " 20 psi ": "-20 psi", "-2": "+2", "": "", " ": ""} {
		assert.Equal(t, want, fromDifference(text), text)
	}
	// All other keys are those of the observations.
	for _, x := range cells(f.session) {
		if x.reads != hydraulics.Difference {
			assert.Equal(t, x.asks[0].check.ID+"."+x.asks[0].observation.ID, x.key())
		}
	}
}

// TestBadEntryLeavesTheOthers: it is said at its own box, is kept, and the rest is
// judged and can be entered.
func TestBadEntryLeavesTheOthers(t *testing.T) {
	for _, nonsense := range []string{"4,9,1", "OL", "99999999", "-5", "12 furlong"} {
		screen := filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "41", "governor-pressure.standstill", nonsense, "line-pressure-manual-2.line-idle", "57"))
		html := app.HTMLString(screen)
		has(t, html, `id="gauge-governor-pressure-standstill-problem"`)
		assert.Equal(t, 1, strings.Count(html, "field__problem"))
		has(t, html, `<span>Too low</span>`)
		has(t, html, `<span>Good</span>`)
		has(t, html, "1 reading is out of the window")
		has(t, html, "1 entry above could not be read and is left out.")
		has(t, html, "Enter all in the job")
		assert.Equal(t, nonsense, screen.forms[0].typed["governor-pressure.standstill"])
	}
	html := app.HTMLString(filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "x")))
	has(t, html, "No result")
	hasNot(t, html, "Enter all in the job")
}

// TestTableInTheReadersUnits: 54 to 60 psi is 372 to 414 kPa (the same handbook
// prints both).
func TestTableInTheReadersUnits(t *testing.T) {
	screen := filled(t, pressureLogTool, "")
	screen.Session.Set(func(set *store.Settings) { set.Units.System = quantity.Metric })
	screen.read(url.Values{"line-pressure-drive.line-idle": {"393"}, "line-pressure-manual-2.line-idle": {"57"}, "line-pressure-manual-2.line-idle-unit": {"psi"}})
	html := app.HTMLString(screen)
	has(t, html, "372 to 414 kPa")
	has(t, html, "D, 48 km/h")
	has(t, html, "typed in psi")
	assert.Equal(t, 2, strings.Count(html, `<span>Good</span>`))
	q := screen.query()
	assert.Equal(t, "kPa", q.Get("line-pressure-drive.line-idle-unit"), "a link means the same to everybody")
	assert.Equal(t, "psi", q.Get("line-pressure-manual-2.line-idle-unit"))
}

func TestLogEntersAll(t *testing.T) {
	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery("line-pressure-drive.line-idle", "57", "governor-pressure.standstill", "16"))
	require.NotNil(t, r)
	for _, x := range cells(f.session) {
		if f.text(x.key()) != "" {
			j := x.judge(f)
			assert.Empty(t, j.problem)
			assert.NotEmpty(t, j.verdicts[0].Outcome)
		}
	}
	require.Len(t, r.buttons, 2)
	has(t, app.HTMLString(r.buttons[1]), "cell=line-pressure-drive%2Fline-idle%3D57+psi")
}
