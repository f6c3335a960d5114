package find

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
)

func TestCodesInTheWordsAreOffered(t *testing.T) {
	s, d := mounted(t)
	html := app.HTMLString(s)
	assert.Contains(t, html, "Stored codes?")
	assert.NotContains(t, html, "Add as stored code")

	s.Session.Write(func(j *store.Job) { j.Complaint = "1757, 0748" })
	d.Consume()
	html = app.HTMLString(s)
	assert.Contains(t, html, "P1757: ")
	assert.Contains(t, html, "Add as stored codes")
	assert.NotContains(t, html, "Not understood", "a code is no lost word")

	s.addCodes(s.Session.Catalogue().CodesNumbered("P1757"))
	d.Consume()
	require.Len(t, s.Session.Case().Entries, 1)
	assert.Equal(t, "stored-codes", s.Session.Case().Entries[0].Check)
	assert.Contains(t, app.HTMLString(s), "Next check")
}

func TestCodesThatAreNoFindingAreSaidSo(t *testing.T) {
	s, d := mounted(t)
	s.Session.Write(func(j *store.Job) { j.Complaint = "codes 45, P0700 and P0999" })
	d.Consume()
	html := app.HTMLString(s)
	assert.Contains(t, html, "stands for several faults")
	assert.Contains(t, html, "points to no fault of the unit by itself")
	assert.Contains(t, html, "is not in the list")
	assert.NotContains(t, html, "Add as stored code")
}
