package figures

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
)

func TestOwnValueJudges(t *testing.T) {
	s := NewGroup(newSession(), "pressure")
	s.Session.Open()
	a, ok := s.Session.Book().Acceptance("line-drive-idle")
	require.True(t, ok)
	entry := diagnosis.Entry{Check: "line-pressure-drive", Observation: "line-idle", Reading: "66"}
	require.Equal(t, conformity.Above, s.Session.Judge(entry).Verdict, "the sheet: 54 to 60 psi")

	d := s.draft(a.ID)
	d.min, d.max, d.source, d.at = "62", "70 psi", "the maker's manual of this truck", "p. 12"
	s.keep(a, d)
	require.Empty(t, d.problems)
	assert.Equal(t, conformity.Meets, s.Session.Judge(entry).Verdict)
	html := app.HTMLString(NewGroup(s.Session, "pressure"))
	assert.Contains(t, html, "62 to 70 psi")
	assert.Contains(t, html, "Your own value, judged by")

	require.NoError(t, s.Session.SetOwn(a.ID, nil))
	assert.Equal(t, conformity.Above, s.Session.Judge(entry).Verdict)
}

func TestOwnValueIsRefusedBesideItsField(t *testing.T) {
	s := NewGroup(newSession(), "pressure")
	s.Session.Open()
	a, _ := s.Session.Book().Acceptance("line-drive-idle")
	for _, c := range []struct{ min, max, source, field string }{
		{"", "", "manual", "min"}, {"60", "50", "manual", "max"}, {"60", "70", " ", "source"}, {"x", "70", "manual", "min"},
		{"60", "1e999", "manual", "max"}, {"60 V", "", "manual", "min"}, {"OL", "", "manual", "min"},
	} {
		d := s.draft(a.ID)
		d.min, d.max, d.source = c.min, c.max, c.source
		s.keep(a, d)
		assert.NotEmpty(t, d.problems[c.field], "%+v", c)
		assert.Empty(t, s.Session.Own())
		assert.Equal(t, c.min, d.min, "what was typed is kept")
	}
}
