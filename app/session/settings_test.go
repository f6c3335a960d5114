package session

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/store"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func over(box store.Box) *Session {
	return New(&diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}, box, clock)
}

// A value that only another version has a place for is judged by nothing here,
// and is still there when that version comes back.
func TestValuesOfAnotherVersionAreKept(t *testing.T) {
	box := store.Memory{"provingbench.values": `{"of-another-version":{"MinText":"1 psi","Source":"a manual"}}`}
	s := over(box)
	s.Open()
	assert.Empty(t, s.Own())
	most := quantity.PSI.Of(70)
	require.NoError(t, s.SetOwn("line-drive-idle", &unit.OwnLimit{Max: &most, MaxText: "70 psi", Source: "a manual"}))
	assert.Contains(t, s.Own(), "line-drive-idle")
	assert.Contains(t, box["provingbench.values"], "of-another-version")
	assert.Error(t, s.SetOwn("of-another-version", &unit.OwnLimit{Max: &most, Source: "a manual"}))
}

// What was typed about the meter comes back with the next reading, and the first
// entry of a visit does not undo the choices of the last.
func TestMeterIsRememberedBesideTheChoices(t *testing.T) {
	box := store.Memory{}
	over(box).Set(func(x *store.Settings) { x.Gloves = true })
	s := over(box)
	s.Enter("", diagnosis.Entry{Check: "governor-coil-at-plug", Observation: "ohms", Reading: "4.9", At: "180 F", Leads: "0.3", Percent: "0.5"})
	for _, x := range []*Session{s, over(box)} {
		x.Open()
		assert.Equal(t, "0.3", x.Settings().Leads)
		assert.Equal(t, "0.5", x.Settings().Percent)
		assert.True(t, x.Settings().Gloves)
	}
}
