package store

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/diagnosis"
)

func clock() func() time.Time {
	t := time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)
	return func() time.Time {
		t = t.Add(time.Second)
		return t
	}
}

// full is a box that refuses every write, as a browser does over its quota.
type full struct{ Memory }

func (full) Set(string, string) error { return errors.New("quota exceeded") }

// blocked is a box that refuses everything, as a browser does in some modes.
type blocked struct{ Memory }

func (blocked) Keys() ([]string, error) { return nil, errors.New("access denied") }

func TestJobComesBackAfterReopening(t *testing.T) {
	box := Memory{}
	s, err := Open(box, clock())
	require.NoError(t, err)
	require.Nil(t, s.Current())
	j, err := s.New()
	require.NoError(t, err)
	j.Complaint = "flares two-three"
	j.Case.Reports = []diagnosis.Report{{Symptom: "flare-2-3"}}
	require.NoError(t, s.Save(j))

	again, err := Open(box, clock())
	require.NoError(t, err)
	require.NotNil(t, again.Current())
	assert.Equal(t, j, again.Current())
	assert.Empty(t, again.Notices())
}

func TestDamagedRecordIsSetAsideAndTheRestKept(t *testing.T) {
	box := Memory{}
	s, err := Open(box, clock())
	require.NoError(t, err)
	good, err := s.New()
	require.NoError(t, err)
	box[jobPrefix+"broken"] = `{"format":1,"name":`
	box[jobPrefix+"foreign"] = `hello`
	box[jobPrefix+"zero"] = `{}`

	again, err := Open(box, clock())
	require.NoError(t, err)
	require.Len(t, again.Jobs(), 1)
	assert.Equal(t, good.ID, again.Jobs()[0].ID)
	assert.Len(t, again.Notices(), 3)
	assert.Equal(t, `{"format":1,"name":`, box[asidePrefix+"broken"], "the damaged text is kept")
	assert.NotContains(t, box, jobPrefix+"broken")
	assert.Len(t, again.Aside(), 3)
	require.Error(t, again.DropAside(jobPrefix+good.ID), "only what was set aside")
	require.NoError(t, again.DropAside(asidePrefix+"broken"))
	assert.NotContains(t, again.Aside(), asidePrefix+"broken")
	assert.Contains(t, again.Aside(), asidePrefix+"foreign")
}

func TestLaterFormatIsLeftUntouched(t *testing.T) {
	record := `{"format":99,"name":"from the future"}`
	box := Memory{jobPrefix + "x": record}
	s, err := Open(box, clock())
	require.NoError(t, err)
	assert.Empty(t, s.Jobs())
	assert.Equal(t, record, box[jobPrefix+"x"])
	require.Len(t, s.Notices(), 1)
	assert.Contains(t, s.Notices()[0].Text, "later version")
}

func TestFailedWriteKeepsTheOldRecordAndTheTyping(t *testing.T) {
	box := Memory{}
	s, err := Open(box, clock())
	require.NoError(t, err)
	j, err := s.New()
	require.NoError(t, err)
	before := box[jobPrefix+j.ID]
	s.box = full{box}
	j.Notes = "typed just now"
	require.ErrorContains(t, s.Save(j), "quota exceeded")
	assert.Equal(t, before, box[jobPrefix+j.ID])
	assert.Equal(t, "typed just now", s.Current().Notes)
}

func TestBlockedStorageStillWorksUntilThePageCloses(t *testing.T) {
	s, err := Open(blocked{Memory{}}, clock())
	require.Error(t, err)
	require.Len(t, s.Notices(), 1)
	j, err := s.New()
	require.NoError(t, err)
	assert.Same(t, j, s.Current())
}

func TestTwoTabsDoNotOverwriteEachOther(t *testing.T) {
	box := Memory{}
	one, err := Open(box, clock())
	require.NoError(t, err)
	first, err := one.New()
	require.NoError(t, err)
	two, err := Open(box, clock())
	require.NoError(t, err)
	second := two.Current()
	second.Notes = "typed in the second tab"
	require.NoError(t, two.Save(second))

	first.Notes = "typed in the first tab"
	require.ErrorIs(t, one.Save(first), ErrCopied)

	all, err := Open(box, clock())
	require.NoError(t, err)
	var notes []string
	for _, j := range all.Jobs() {
		notes = append(notes, j.Notes)
	}
	assert.ElementsMatch(t, []string{"typed in the first tab", "typed in the second tab"}, notes)
}

func TestRemoveCanBeUndone(t *testing.T) {
	box := Memory{}
	s, err := Open(box, clock())
	require.NoError(t, err)
	j, err := s.New()
	require.NoError(t, err)
	id := j.ID
	removed, err := s.Remove(id)
	require.NoError(t, err)
	assert.Nil(t, s.Current())
	assert.NotContains(t, box, jobPrefix+id)
	require.NoError(t, s.Restore(removed))
	assert.Contains(t, box, jobPrefix+id)
}
