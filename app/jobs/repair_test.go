package jobs

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/repair"
	sheet "provingbench/knowledge/unit/shipped"
)

func newSession() *session.Session {
	s := session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, clock)
	s.Open()
	return s
}

// burntCoil is a job on which an open governor coil was proved: an open coil is
// a failed coil whatever the temperature (fact of the trade).
func burntCoil(t *testing.T) *session.Session {
	s := newSession()
	s.Change("", func(j *store.Job) {
		j.Name, j.Complaint = "Grain truck", "starts off in third"
		j.Settled = true
		j.Case.Report(diagnosis.Report{Symptom: "launches-in-third"})
		j.Case.Refused = []string{"stall-test"}
		j.Refusals = map[string]string{"stall-test": "no room"}
	})
	s.Enter("", diagnosis.Entry{Check: "governor-coil-at-part", Observation: "ohms", Reading: "OL"})
	r := recordOf(s)
	require.Len(t, r.proved(), 1)
	require.Equal(t, "governor-solenoid-coil-open", r.proved()[0].ID)
	return s
}

func TestPlanFollowsFromProof(t *testing.T) {
	s := burntCoil(t)
	html := app.HTMLString(&Plan{Session: s})
	for _, want := range []string{"Renew: governor pressure solenoid", "governor pressure sensor", "Goes along:", "Values for the work", "Prove the repair"} {
		assert.Contains(t, html, want)
	}
	assert.Contains(t, app.HTMLString(&Plan{Session: newSession()}), "No job is open")
	empty := newSession()
	empty.Change("", func(*store.Job) {})
	assert.Contains(t, app.HTMLString(&Plan{Session: empty}), "no part is renewed on a guess")
}

// again enters every observation of a check after the repair, as a healthy unit
// shows it or as a faulty one does.
func again(t *testing.T, s *session.Session, id string, healthy bool) {
	k := s.Catalogue().Check(id)
	require.NotNil(t, k, id)
	for _, o := range k.Observations {
		for _, out := range o.Outcomes {
			if out.Normal == healthy {
				s.Prove("", diagnosis.Entry{Check: id, Observation: o.ID, Outcome: out.ID})
				break
			}
		}
	}
}

func TestJobClosesOnlyWithProof(t *testing.T) {
	s := burntCoil(t)
	closable := func() bool {
		return strings.Contains(app.HTMLString(&Proof{Session: s}), "Each proved fault is shown to be gone")
	}
	assert.False(t, closable())
	for _, id := range repair.Final {
		again(t, s, id, true)
	}
	assert.False(t, closable(), "nothing shows yet that the coil is good")
	proof := recordOf(s).plan.Proof[0].ID
	again(t, s, proof, false)
	assert.False(t, closable())
	assert.Equal(t, repair.Bad, recordOf(s).state(proof))
	again(t, s, proof, true)
	assert.True(t, closable(), "the last entry of each observation counts")

	s.Close(true)
	html := app.HTMLString(&Proof{Session: s})
	assert.Contains(t, html, "This job was closed")
	s.Close(false)
	assert.True(t, closable())
}

func TestFaultCanBeLeftOutKnowingly(t *testing.T) {
	s := burntCoil(t)
	for _, id := range repair.Final {
		again(t, s, id, true)
	}
	s.Write(func(j *store.Job) {
		j.Waived = map[string]string{"governor-solenoid-coil-open": "the owner takes it to another shop"}
	})
	faults, checks := recordOf(s).missing()
	assert.Empty(t, faults)
	assert.Empty(t, checks)
	assert.Contains(t, recordOf(s).shopPaper("1", clock()).text(), "the owner takes it to another shop")
	assert.Contains(t, app.HTMLString(&Proof{Session: s}), "Bring it back")
}

func TestSheetsSayWhatWasFound(t *testing.T) {
	s := burntCoil(t)
	s.Write(func(j *store.Job) {
		j.Truck.Odometer, j.Notes = "187 000 mi", "call before noon"
		j.Decided = map[string]string{recordOf(s).plan.Tasks[0].Key: decidedDone}
	})
	again(t, s, recordOf(s).plan.Proof[0].ID, true)
	shop := recordOf(s).shopPaper("abc123", clock()).text()
	for _, want := range []string{"Grain truck", "“starts off in third”", "187 000 mi", "OL", "Open", "from memory", "no room", "Governor solenoid coil open", "call before noon", "version abc123", "Before:", "done"} {
		assert.Contains(t, shop, want)
	}
	customer := recordOf(s).customerPaper().text()
	for _, want := range []string{"starts off in third", "How we know:", "WHAT WAS DONE", "Come back if"} {
		assert.Contains(t, customer, want)
	}
	assert.NotContains(t, customer, "call before noon", "notes are the shop's")
	html := app.HTMLString(&Sheet{Session: s})
	for _, want := range []string{"Print", "Copy as text", "<table"} {
		assert.Contains(t, html, want)
	}
	assert.Contains(t, app.HTMLString(&Sheet{Session: newSession(), Customer: true}), "No job is open")
}

func TestTransferShowsBeforeItTakes(t *testing.T) {
	from := burntCoil(t)
	text, err := from.Export(store.Transfer{Jobs: from.Jobs()})
	require.NoError(t, err)

	to := newSession()
	x := &Transfer{Session: to}
	x.read("grain.json", text)
	html := app.HTMLString(x)
	for _, want := range []string{"In grain.json", "Grain truck", "New.", "Take it in"} {
		assert.Contains(t, html, want)
	}
	assert.Empty(t, to.Jobs(), "nothing is taken before the user says so")
	to.Accept(*x.offer)
	require.Len(t, to.Jobs(), 1)
	assert.Equal(t, "Grain truck", to.Jobs()[0].Name)

	x.read("broken.json", text[:len(text)/2])
	assert.Nil(t, x.offer)
	assert.Contains(t, app.HTMLString(&Transfer{Session: to, problem: x.problem}), "field__problem")
	require.Len(t, to.Jobs(), 1)
}

func TestSquareCode(t *testing.T) {
	code, ok := square("https://example.org/jobs/transfer/#job=" + strings.Repeat("A", 900))
	require.True(t, ok)
	html := app.HTMLString(code)
	assert.Contains(t, html, "square__dark")
	_, ok = square(strings.Repeat("A", maxQR+1))
	assert.False(t, ok)
}

func TestListIsSearchedAndArchived(t *testing.T) {
	s := burntCoil(t)
	first := s.Job().ID
	s.Start()
	list := func(filter string) string { return app.HTMLString(&Screen{Session: s, filter: filter}) }
	assert.Contains(t, list(""), "Grain truck")
	assert.Contains(t, list("gra truck third"), "Grain truck")
	assert.NotContains(t, list("milk"), "Grain truck")
	s.Archive(first, true)
	assert.Contains(t, list(""), "Archive, 1 job")
	s.Undo()
	assert.NotContains(t, list(""), "Archive, 1 job")
}

func TestDamagedRecordsCanBeSaved(t *testing.T) {
	box := store.Memory{"provingbench.job.x": `{"format":2,"name":`}
	s := session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, box, clock)
	s.Open()
	require.Len(t, s.Notices(), 1)
	html := app.HTMLString(&Transfer{Session: s})
	assert.Contains(t, html, "Damaged record 1, 19 characters")
}
