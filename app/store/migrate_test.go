package store

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// formatOne is a record as the first release of this tool wrote it.
const formatOne = `{"format":1,"id":"a","revision":7,"name":"Hay truck","created":"2029-01-02T03:04:05Z","updated":"2029-01-02T03:04:06Z",
"truck":"1999, gas engine","complaint":"no reverse","notes":"call first","settled":true,
"case":{"version":"late","build":"stock","level":"raised","entries":[{"check":"fluid-level","observation":"level","outcome":"right"}]},
"times":["2029-01-02T03:04:05Z"]}`

func TestFormatOneIsBroughtUp(t *testing.T) {
	box := Memory{jobPrefix + "a": formatOne}
	s, err := Open(box, clock())
	require.NoError(t, err)
	require.Empty(t, s.Notices())
	j := s.Job("a")
	require.NotNil(t, j)
	assert.Equal(t, Format, j.Format)
	assert.Equal(t, Truck{About: "1999, gas engine"}, j.Truck)
	assert.Equal(t, []Made{{At: time.Date(2029, 1, 2, 3, 4, 5, 0, time.UTC)}}, j.Made)
	assert.Equal(t, "call first", j.Notes)
	assert.True(t, j.Settled)
	require.Len(t, j.Case.Entries, 1)
	assert.Equal(t, 7, j.Revision)

	require.NoError(t, s.Save(j))
	again, err := Open(box, clock())
	require.NoError(t, err)
	assert.Equal(t, j, again.Job("a"), "written in the present format, it reads the same")
}

func TestDamagedFormatOneIsDamaged(t *testing.T) {
	for _, record := range []string{`{"format":1,"truck":5}`, `{"format":1,"times":"noon"}`, `{"format":1,"case":[]}`} {
		s, err := Open(Memory{jobPrefix + "a": record}, clock())
		require.NoError(t, err)
		assert.Len(t, s.Notices(), 1, record)
		assert.Empty(t, s.Jobs())
	}
}

func TestCloneSharesNothing(t *testing.T) {
	j, err := decode(formatOne)
	require.NoError(t, err)
	j.Waived = map[string]string{"x": "y"}
	next := j.Clone()
	assert.Equal(t, j, next)
	next.Waived["x"], next.Case.Entries[0].Outcome, next.Made[0].Meter = "z", "low", "new"
	assert.Equal(t, "y", j.Waived["x"])
	assert.Equal(t, "right", j.Case.Entries[0].Outcome)
	assert.Empty(t, j.Made[0].Meter)
}
