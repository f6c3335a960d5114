package jobs

import (
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"

	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue/shipped"
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

func TestEmptyListSaysHowAJobStarts(t *testing.T) {
	s, _ := mounted(t)
	assert.Contains(t, app.HTMLString(s), "There is no job yet.")
}

func TestLogShowsEntriesWithVerdicts(t *testing.T) {
	s, d := mounted(t)
	s.Session.Change("", func(j *store.Job) {
		j.Name, j.Complaint = "Blue truck", "no reverse"
		j.Case.Report(diagnosis.Report{Symptom: "no-reverse"})
	})
	s.Session.Enter("", diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "ohms", Reading: "OL"})
	d.Consume()
	html := app.HTMLString(s)
	for _, want := range []string{"Blue truck", "The customer said: “no reverse”", "Governor solenoid coil", "Open", "not said which; judged as late version", "OL"} {
		assert.Contains(t, html, want)
	}
}

func TestJobOfAnUnknownCatalogueIsKept(t *testing.T) {
	s, d := mounted(t)
	s.Session.Change("", func(j *store.Job) {
		j.Case.Entries = []diagnosis.Entry{{Check: "of-a-later-catalogue", Observation: "x"}}
	})
	d.Consume()
	assert.Contains(t, app.HTMLString(s), "It is kept as it is.")
	assert.Len(t, s.Session.Case().Entries, 1)
}

func TestOtherJobsCanBeOpened(t *testing.T) {
	s, d := mounted(t)
	s.Session.Change("", func(j *store.Job) { j.Name = "First" })
	first := s.Session.Job().ID
	s.Session.Start()
	d.Consume()
	assert.Contains(t, app.HTMLString(s), "Other jobs")
	s.Session.Take(first)
	d.Consume()
	assert.Equal(t, "First", s.Session.Job().Name)
}
