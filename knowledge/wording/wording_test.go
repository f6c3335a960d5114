package wording

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

func texts(words []Word) []string {
	var out []string
	for _, w := range words {
		out = append(out, w.Text)
	}
	return out
}

func TestSplit(t *testing.T) {
	text := "It won't go 2-3, O/D; done."
	words := Split(text)
	assert.Equal(t, []string{"it", "wont", "go", "2", "3", "o", "d", "done"}, texts(words))
	assert.Equal(t, []Pause{Hard, None, None, None, Joined, Soft, Joined, Hard},
		[]Pause{words[0].Before, words[1].Before, words[2].Before, words[3].Before, words[4].Before, words[5].Before, words[6].Before, words[7].Before})
	for _, w := range words {
		assert.Equal(t, w.Text, strings.ToLower(strings.ReplaceAll(text[w.Start:w.End], "'", "")))
	}
	assert.Empty(t, Split(" … ,"))
	assert.NotPanics(t, func() { Split("\xff\xfe ohm \xf0") })
}

func TestStem(t *testing.T) {
	// Porter, "English (Porter2) stemming algorithm", sample vocabulary: consign,
	// consigned, consigning share a stem, and so do knot, knots, knotted.
	assert.Equal(t, []string{"consign", "consign", "consign"}, []string{Stem("consign"), Stem("consigned"), Stem("consigning")})
	assert.Equal(t, Stem("knot"), Stem("knots"))
	assert.True(t, IsStop("the"))
	assert.False(t, IsStop("torque"))
}

func mender() *Mender {
	m := NewMender(func(w string) bool { return w == "slick" })
	for _, w := range []string{"governor", "slips", "accumulator", "the", "oil"} {
		m.Learn(w)
	}
	return m
}

func TestMend(t *testing.T) {
	for _, row := range []struct{ name, typed, want string }{
		{"a letter too few", "goveror", "governor"},
		{"a letter too many", "slipps", "slips"},
		{"two wrong in a long word", "acumullator", "accumulator"},
		{"two letters swapped", "slpis", "slips"},
		{"known", "governor", ""},
		{"means what it says", "slick", ""},
		{"a stop word", "then", ""},
		{"too short", "oi", ""},
		{"too far off", "governess", ""},
		{"another first letter", "ulips", ""},
		{"a number", "1756", ""},
		{"empty", "", ""},
		{"very long", strings.Repeat("slips", 5), ""},
	} {
		got, ok := mender().Mend(row.typed)
		assert.Equal(t, row.want, got, row.name)
		assert.Equal(t, row.want != "", ok, row.name)
	}
}

func TestBegun(t *testing.T) {
	for _, row := range []struct{ name, typed, want string }{
		{"a letter wrong", "accam", "accumulator"},
		{"a letter left out", "acumul", "accumulator"},
		{"two letters swapped", "goevr", "governor"},
		{"too short to tell", "acm", ""},
		{"another word", "slope", ""},
		{"letters of several bytes", "gövèrn", ""},
	} {
		got, _ := mender().Begun(row.typed)
		assert.Equal(t, row.want, got, row.name)
	}
}
