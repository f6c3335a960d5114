package session

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

func open(box store.Box) *Session {
	s := New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, box, clock)
	s.Open()
	return s
}

func report(s *Session, symptom, done string) {
	s.Change(done, func(j *store.Job) { j.Case.Report(diagnosis.Report{Symptom: symptom}) })
}

func TestFirstChangeStartsAJobThatComesBack(t *testing.T) {
	box := store.Memory{}
	s := open(box)
	require.Nil(t, s.Job())
	report(s, "no-reverse", "Added")
	require.NotNil(t, s.Job())

	again := open(box)
	require.NotNil(t, again.Job(), "the job at hand is still at hand")
	assert.Equal(t, "no-reverse", again.Case().Reports[0].Symptom)
}

func TestNothingIsReadBeforeOpen(t *testing.T) {
	box := store.Memory{}
	report(open(box), "no-reverse", "")
	s := New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, box, clock)
	assert.Nil(t, s.Job())
	assert.Empty(t, s.Jobs())
}

func TestUndoTakesExactlyTheLastChangeBack(t *testing.T) {
	s := open(store.Memory{})
	report(s, "no-reverse", "Added: no reverse")
	report(s, "slips-third", "Added: slips in third")
	s.Write(func(j *store.Job) { j.Notes = "typed after it" })
	assert.Equal(t, "Added: slips in third", s.Undoable())
	s.Undo()
	require.Len(t, s.Case().Reports, 1)
	assert.Equal(t, "no-reverse", s.Case().Reports[0].Symptom)
	assert.Equal(t, "typed after it", s.Job().Notes, "what was typed meanwhile stays")
	assert.Empty(t, s.Undoable(), "there is one step back, not two")
}

func TestDeletedJobComesBackAsTheOneAtHand(t *testing.T) {
	s := open(store.Memory{})
	report(s, "no-reverse", "")
	id := s.Job().ID
	s.Delete(id)
	require.Nil(t, s.Job())
	s.Undo()
	require.NotNil(t, s.Job())
	assert.Equal(t, id, s.Job().ID)
	assert.Len(t, s.Jobs(), 1)
}

func TestCopyIsAJobOfItsOwn(t *testing.T) {
	s := open(store.Memory{})
	report(s, "no-reverse", "")
	first := s.Job().ID
	s.Copy(first)
	require.NotEqual(t, first, s.Job().ID)
	report(s, "slips-third", "")
	assert.Len(t, s.Case().Reports, 2)
	s.Take(first)
	assert.Len(t, s.Case().Reports, 1, "the first one has not changed")
}

func TestLeaveKeepsTheJob(t *testing.T) {
	s := open(store.Memory{})
	report(s, "no-reverse", "")
	s.Leave()
	assert.Nil(t, s.Job())
	assert.Len(t, s.Jobs(), 1)
	report(s, "slips-third", "")
	assert.Len(t, s.Jobs(), 2, "the next entry starts another one")
}

func TestTruckFollowsTheCheck(t *testing.T) {
	s := open(store.Memory{})
	s.Enter("", diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "ohms", Reading: "4.2"})
	assert.Equal(t, "plug", s.Case().Level)
	assert.Len(t, s.Job().Made, 1)
	// That check can be done with the pan off just as well: the truck stays there.
	s.Change("", func(j *store.Job) { j.Case.Level = "pan" })
	s.Enter("", diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "insulation", Reading: "OL"})
	assert.Equal(t, "pan", s.Case().Level)
	s.Withdraw("Removed", 0)
	require.Len(t, s.Case().Entries, 1)
	assert.Equal(t, "insulation", s.Case().Entries[0].Observation)
	assert.Len(t, s.Job().Made, 1)
}

func TestSheetStaysOpenUntilTheVersionIsSaid(t *testing.T) {
	s := open(store.Memory{})
	report(s, "no-reverse", "")
	assert.Empty(t, s.Sheet().Version)
	s.Change("", func(j *store.Job) { j.Case.Version, j.Settled = unit.Mid, true })
	assert.Equal(t, unit.Mid, s.Sheet().Version)
}

// full is a box that refuses every write, as a browser does over its quota.
type full struct{ store.Memory }

func (full) Set(string, string) error { return errors.New("quota exceeded") }

// blocked is a box that refuses everything, as a browser does in some modes.
type blocked struct{ store.Memory }

func (blocked) Keys() ([]string, error)  { return nil, errors.New("access denied") }
func (blocked) Set(string, string) error { return errors.New("access denied") }

func TestFullStorageIsToldAndTheWorkGoesOn(t *testing.T) {
	s := open(full{store.Memory{}})
	report(s, "no-reverse", "")
	report(s, "slips-third", "")
	assert.Len(t, s.Case().Reports, 2)
	require.Len(t, s.Notices(), 1, "once, not at every change")
	assert.Contains(t, s.Notices()[0].Text, "not saved")
}

func TestBlockedStorageIsToldAndTheWorkGoesOn(t *testing.T) {
	s := open(blocked{store.Memory{}})
	report(s, "no-reverse", "")
	report(s, "slips-third", "")
	assert.Len(t, s.Case().Reports, 2)
	require.Len(t, s.Notices(), 1)
	assert.Contains(t, s.Notices()[0].Text, "blocks storage")
}

func TestAnnouncement(t *testing.T) {
	before := leader{fault: "Fluid low", probability: 0.2}
	after := leader{fault: "Pump worn", probability: 0.5}
	assert.Equal(t, "Added: no reverse. Most likely now: Pump worn, 50 %.", announcement("Added: no reverse", before, after))
	assert.Equal(t, "Removed.", announcement("Removed.", before, before))
	assert.Empty(t, announcement("", before, before), "nothing moved, nothing is said")
	assert.Empty(t, announcement("", before, leader{}), "with the last finding gone there is no leader")
}

func TestEngineThatStopsLeavesThePageAlive(t *testing.T) {
	s := New(&diagnosis.Engine{}, store.Memory{}, clock)
	s.Open()
	_, err := s.Answer()
	assert.Error(t, err)
	assert.NotEmpty(t, s.Judge(diagnosis.Entry{Check: "x"}).Problem)
}

// A reading keeps when and with which meter it was made when it goes into a fitted
// log, and when it comes out of it; a log of a job from before that was kept has
// neither.
func TestFittedReadingsKeepTheirMeter(t *testing.T) {
	drive := diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "41", Unit: "psi", At: "180 F"}
	reverse := diagnosis.Entry{Check: "line-pressure-reverse", Observation: "reverse-idle", Reading: "158 psi"}
	log := &diagnosis.FittedLog{Readings: []diagnosis.Entry{reverse, drive}, Weights: map[string]float64{"pump-worn": 1}}
	now := clock()
	s := New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, store.Memory{}, func() time.Time { return now })
	s.Open()
	s.Set(func(x *store.Settings) { x.Meter = "gauge A" })
	s.Enter("", drive)
	now = now.Add(time.Hour)
	s.Set(func(x *store.Settings) { x.Meter = "gauge B" })
	s.Weigh("Weighed", log)
	want := []store.Made{{At: clock().Add(time.Hour), Meter: "gauge B"}, {At: clock(), Meter: "gauge A"}}
	assert.Equal(t, want, s.Job().FittedMade)
	assert.Equal(t, drive, s.Case().Fitted.Readings[1])
	assert.Empty(t, s.Case().Entries)
	assert.Empty(t, s.Job().Made)

	now = now.Add(time.Hour)
	s.Weigh("Weighed again", log.Clone())
	assert.Equal(t, want, s.Job().FittedMade)
	s.Unweigh("Removed")
	assert.Nil(t, s.Job().FittedMade)
	s.Undo()
	assert.Equal(t, want, s.Job().FittedMade)

	reverse.Reading = "150 psi"
	s.Enter("", reverse)
	assert.Nil(t, s.Case().Fitted)
	assert.Equal(t, []diagnosis.Entry{drive, reverse}, s.Case().Entries)
	assert.Equal(t, []store.Made{want[1], {At: now, Meter: "gauge B"}}, s.Job().Made)

	s.Change("", func(j *store.Job) { j.Case.Entries, j.Made, j.Case.Fitted = nil, nil, log.Clone() })
	s.Enter("", reverse)
	assert.Equal(t, []store.Made{{}, {At: now, Meter: "gauge B"}}, s.Job().Made)
}
