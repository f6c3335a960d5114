package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
)

func TestStoredCodeIsEnteredOnceAndLeavesTheTruckWhereItStands(t *testing.T) {
	s := open(store.Memory{})
	s.Change("", func(j *store.Job) { j.Case.Level = "bench" })
	k := s.Catalogue().Code("p1757")
	require.True(t, s.Addable(k))
	require.True(t, s.AddCodes(k))
	require.Len(t, s.Case().Entries, 1)
	assert.Equal(t, "off-target", s.Case().Entries[0].Outcome)
	assert.Len(t, s.Job().Made, 1)
	assert.Equal(t, "bench", s.Case().Level)
	assert.Contains(t, s.Said(), "P1757")

	assert.False(t, s.Addable(s.Catalogue().Code("p1756")), "the same finding")
	assert.False(t, s.AddCodes(k))
	assert.False(t, s.AddCodes(s.Catalogue().Code("p0700")), "a pointer is no finding")
	assert.Len(t, s.Case().Entries, 1)
}
