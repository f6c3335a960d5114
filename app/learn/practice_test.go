package learn

import (
	"net/url"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
	"provingbench/knowledge/unit"
)

// practising is a practice screen without a browser: it thinks when told to.
func practising(t *testing.T, box store.Box, query string) *Practice {
	t.Helper()
	q, err := url.ParseQuery(query)
	require.NoError(t, err)
	p := &Practice{Session: newSession(), Box: box}
	p.log = readPractice(box)
	p.read(q)
	return p
}

// practiceHTML draws the screen as it is now: go-app draws a mounted one once.
func practiceHTML(p *Practice) string {
	now := *p
	now.Compo = app.Compo{}
	return app.HTMLString(&now)
}

func thinkOn(t *testing.T, p *Practice) {
	t.Helper()
	for n := 0; p.work(); n++ {
		require.Less(t, n, 500)
	}
	require.False(t, p.failed)
}

func TestPracticeFromComplaintToDebrief(t *testing.T) {
	box := store.Memory{}
	p := practising(t, box, "seed=16&version=late")
	require.NotNil(t, p.truck)
	html := practiceHTML(p)
	for _, y := range p.truck.Complaint {
		has(t, html, y.Name)
	}
	has(t, html, "Choose a check")
	hasNot(t, html, "Debrief")

	thinkOn(t, p)
	other := p.truck.Checks()[0].ID
	if p.answers[0].Next[0].Check.ID == other {
		other = p.truck.Checks()[1].ID
	}
	p.do(other)
	p.do("no-such-check")
	has(t, practiceHTML(p), "Working out what that was good for")
	thinkOn(t, p)
	has(t, practiceHTML(p), "The plan would have chosen: ")

	p.drive()
	assert.NotEmpty(t, p.remains, "nothing is repaired yet")
	has(t, practiceHTML(p), "It is not well yet")

	for _, f := range p.truck.Faults {
		p.call(f.ID, true)
	}
	p.call("fluid-degraded", true)
	p.call("fluid-degraded", false)
	p.drive()
	thinkOn(t, p)
	html = practiceHTML(p)
	has(t, html, "All found")
	has(t, html, "Called without a proof: ")
	has(t, html, "What the plan did")
	for i := range p.plan.Steps {
		has(t, html, `href="/checks/`+p.plan.Steps[i].Check.ID+`/"`)
	}
	hasNot(t, html, "Choose a check")
	hasNot(t, html, "%!")

	again := practising(t, box, "seed=16&version=late")
	assert.Equal(t, p.done, again.done, "a reload loses nothing")
	thinkOn(t, again)
	assert.Equal(t, len(html), len(practiceHTML(again)), "attributes come in any order")

	again.again()
	assert.Equal(t, kept{Version: unit.Late, Seed: 16}, again.done)
	hasNot(t, practiceHTML(again), "Debrief")
}

func TestPracticeGivingUp(t *testing.T) {
	p := practising(t, store.Memory{}, "seed=4&version=mid")
	p.do("fluid-level")
	for _, f := range p.Session.Catalogue().Faults {
		if !p.truck.Has(f.ID) {
			p.call(f.ID, true)
			break
		}
	}
	p.finish()
	html := practiceHTML(p)
	has(t, html, "Not all found")
	has(t, html, "The plan is at work on the same truck")
	has(t, html, "Called and not there: ")
	has(t, html, "There and not called: ")
}

func TestPracticeSilent(t *testing.T) {
	p := practising(t, store.Memory{}, "seed=16")
	p.done.Silent = true
	p.do("fluid-level")
	assert.False(t, p.work(), "nothing is asked before the end")
	hasNot(t, practiceHTML(p), "The plan would have")
	p.finish()
	thinkOn(t, p)
	has(t, practiceHTML(p), "practice__why")
}

func TestPracticeStart(t *testing.T) {
	box := store.Memory{}
	p := practising(t, box, "")
	has(t, practiceHTML(p), "Make up a truck")
	p.typed = "twelve"
	p.openTyped(unit.Late)
	has(t, practiceHTML(p), "Type a whole number")
	for _, q := range []string{"seed=0", "seed=-4", "seed=x", "seed=99999999999"} {
		has(t, practiceHTML(practising(t, box, q)), "Make up a truck")
	}
	assert.Equal(t, unit.Late, practising(t, box, "seed=3&version=none").truck.Version)

	p = practising(t, box, "seed=7&version=light")
	p.do("fluid-level")
	assert.Empty(t, p.done.Called)
	has(t, practiceHTML(practising(t, box, "")), "Go on with truck 7")
}

func TestPracticeLog(t *testing.T) {
	box := store.Memory{}
	var l practiceLog
	for seed := range uint32(mostTrucks + 5) {
		l.put(box, kept{Version: unit.Late, Seed: seed})
	}
	l.put(box, kept{Version: unit.Late, Seed: 10, Over: true})
	read := readPractice(box)
	assert.Equal(t, l, read)
	assert.Len(t, read.trucks, mostTrucks)
	assert.Equal(t, uint32(10), read.last().Seed)
	assert.True(t, read.find(unit.Late, 10).Over)
	assert.Nil(t, read.find(unit.Mid, 10))
	assert.Nil(t, read.find(unit.Late, 0), "the oldest go")

	box[practiceKey] = "damaged"
	read = readPractice(box)
	assert.Nil(t, read.last())

	// What an older catalogue knew is left out.
	box[practiceKey] = `[{"version":"late","seed":16,"checks":["no-such-check","fluid-level"],"called":["no-such-fault"]}]`
	p := practising(t, box, "seed=16")
	assert.Equal(t, []string{"fluid-level"}, p.done.Checks)
	thinkOn(t, p)
	hasNot(t, practiceHTML(p), "%!")
}
