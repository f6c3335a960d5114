package find

import (
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/diagnosis"
	sheet "provingbench/knowledge/unit/shipped"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

func mounted(t *testing.T) (*Screen, app.ClientDispatcher) {
	s := &Screen{Session: session.New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, clock)}
	d := app.NewClientTester(s)
	t.Cleanup(d.Close)
	d.Consume()
	return s, d
}

func TestComplaintComesFirstAndThenStaysBelow(t *testing.T) {
	s, d := mounted(t)
	html := app.HTMLString(s)
	assert.Contains(t, html, "What does the customer say?")
	assert.NotContains(t, html, "Next check")

	s.take([]diagnosis.Report{{Symptom: "no-reverse"}})
	d.Consume()
	html = app.HTMLString(s)
	order := []string{"Where it stands", "Next check", "Likely causes", "The complaint"}
	last := 0
	for _, heading := range order {
		at := indexOf(html, heading)
		require.Greater(t, at, last, heading)
		last = at
	}
}

func indexOf(text, part string) int {
	for i := 0; i+len(part) <= len(text); i++ {
		if text[i:i+len(part)] == part {
			return i
		}
	}
	return -1
}

func TestWordsOfAnotherJobAreFollowed(t *testing.T) {
	s, d := mounted(t)
	s.Session.Write(func(j *store.Job) { j.Complaint = "no reverse" })
	d.Consume()
	_ = app.HTMLString(s)
	assert.Equal(t, "no reverse", s.text)
	s.Session.Start()
	d.Consume()
	assert.Empty(t, s.text)
}

func TestRefusedCheckIsListedAndNotSuggested(t *testing.T) {
	s, d := mounted(t)
	s.take([]diagnosis.Report{{Symptom: "no-reverse"}})
	a, err := s.Session.Answer()
	require.NoError(t, err)
	require.NotEmpty(t, a.Next)
	first := a.Next[0].Check
	s.Session.Change("", func(j *store.Job) { j.Case.Refused = append(j.Case.Refused, first.ID) })
	d.Consume()
	assert.Contains(t, app.HTMLString(s), "Working it out.", "the ranking does not wait for what comes next")
	_, err = s.Session.Answer()
	require.NoError(t, err)
	s.Update()
	d.Consume()
	html := app.HTMLString(&Screen{Session: s.Session})
	assert.Contains(t, html, "Left out, can&#39;t be done here")
	assert.Contains(t, html, first.Name)
	a, _ = s.Session.Answer()
	for _, x := range a.Next {
		assert.NotEqual(t, first.ID, x.Check.ID)
	}
}

func TestProvedFaultShowsItsRepair(t *testing.T) {
	s, d := mounted(t)
	s.take([]diagnosis.Report{{Symptom: "no-reverse"}})
	proof := s.Session.Catalogue().Proofs("front-band-loose")[0]
	s.Session.Enter("", diagnosis.Entry{Check: proof.Check.ID, Observation: proof.Observation.ID, Outcome: proof.Outcome.ID})
	d.Consume()
	html := app.HTMLString(s)
	assert.Contains(t, html, "Proved")
	assert.Contains(t, html, "The repair")
}

func TestUnknownCaseIsToldAndKept(t *testing.T) {
	s, d := mounted(t)
	s.Session.Change("", func(j *store.Job) { j.Case.Reports = []diagnosis.Report{{Symptom: "of-a-later-catalogue"}} })
	d.Consume()
	assert.Contains(t, app.HTMLString(s), "can&#39;t be worked out")
	assert.Len(t, s.Session.Case().Reports, 1)
}

func TestListIsByNameUntilSearched(t *testing.T) {
	s, _ := mounted(t)
	all := s.listed()
	require.Len(t, all, len(s.Session.Catalogue().Symptoms))
	for i := 1; i < len(all); i++ {
		assert.Less(t, all[i-1].symptom.Name, all[i].symptom.Name)
	}
	s.filter = "drops into neutral"
	some := s.listed()
	require.NotEmpty(t, some)
	assert.LessOrEqual(t, len(some), found)
	assert.Equal(t, "flare-2-3", some[0].symptom.ID, "a phrase of the catalogue leads to its symptom")
	s.filter = "zzzz"
	assert.Empty(t, s.listed())
}

func TestGearsOnlyWhereTheyTell(t *testing.T) {
	c := &catalogue.Catalogue{Faults: []catalogue.Fault{
		{Symptoms: []catalogue.Link{{ID: "binds", When: catalogue.Condition{Gear: "2-3"}}, {ID: "whines"}}},
		{Symptoms: []catalogue.Link{{ID: "binds", When: catalogue.Condition{Gear: "1-2"}}}},
		{Symptoms: []catalogue.Link{{ID: "binds", When: catalogue.Condition{Gear: "2-3"}}}},
	}}
	assert.Equal(t, []string{"1-2", "2-3"}, gears(c, "binds"))
	assert.Empty(t, gears(c, "whines"))
}

func TestOffersAreWhatNoReportWasMadeOf(t *testing.T) {
	u := complaint.Understanding{Unclear: []complaint.Choice{
		{Words: "makes a noise", Candidates: []complaint.Candidate{{SymptomID: "noise-fourth", Score: 0.46}, {SymptomID: "noise-all-ranges", Score: 0.45}}},
		{Words: "slips", Candidates: []complaint.Candidate{{SymptomID: "slips-all", Score: 0.7}}},
	}}
	reports := []diagnosis.Report{{Symptom: "slips-all", Said: "slips"}}
	got := offers(u, reports)
	require.Len(t, got, 1)
	assert.Equal(t, "makes a noise", got[0].Words)
}

func TestFreshLeavesOutWhatTheCaseHas(t *testing.T) {
	c := diagnosis.Case{Reports: []diagnosis.Report{{Symptom: "a"}}}
	got := fresh(c, []diagnosis.Report{{Symptom: "a"}, {Symptom: "b"}})
	assert.Equal(t, []diagnosis.Report{{Symptom: "b"}}, got)
}

func TestWorthShowing(t *testing.T) {
	list := []diagnosis.Suspect{{Probability: 0.5}, {Probability: 0.01}, {Probability: 0.009}, {Probability: 0.001, Proved: true}}
	assert.Len(t, worthShowing(list), 3)
	assert.Len(t, worthShowing(list[2:3]), 1, "the first is shown whatever it is")
	assert.Empty(t, worthShowing(nil))
}

func TestTruckLineSaysWhatIsAssumed(t *testing.T) {
	k := &catalogue.Catalogue{Access: []catalogue.AccessLevel{{ID: "pan", Name: "Pan off"}}}
	c := diagnosis.Case{Version: "mid", Build: "stock", Level: "pan"}
	assert.Equal(t, "Mid version, stock build. Pan off", truckLine(k, c, true))
	assert.Equal(t, "Which version? Taken as mid version, stock build. Pan off", truckLine(k, c, false))
}
