package diagnosis

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/complaint"
	sheet "provingbench/knowledge/unit/shipped"
)

func TestMentions(t *testing.T) {
	c := shipped.Catalogue()
	for _, row := range []struct{ name, text, want string }{
		{"letter and digits", "it threw P1757 yesterday", "P1757"},
		{"small letter and a space", "p 1757 and p-0748", "P1757 P0748"},
		{"letter O for the zero", "PO748", "P0748"},
		{"digits alone", "1757", "P1757"},
		{"a list of digits alone", "1757, 0748", "P1757 P0748"},
		{"after the word code", "check engine light with code 1757", "P1757"},
		{"a list after the word codes", "codes 1757, 1762 and 0748", "P1757 P1762 P0748"},
		{"a list that begins with a letter", "P1757 and 1762", "P1757 P1762"},
		{"leading zero", "scanner says 0748", "P0748"},
		{"three digits of an old list", "old scan list, code 142", "142"},
		{"flashes of the lamp", "lamp flashes 45", "45"},
		{"not in the catalogue, with its letter", "P0999", "P0999"},
		{"not in the catalogue, digits", "code 0999", ""},
		{"a year", "2003 truck slips in third", ""},
		{"an engine speed that is a number of the list", "flares at 1750 rpm", ""},
		{"an engine speed after a code", "code P1757, idles at 750 rpm", "P1757"},
		{"a mileage", "it has 1757 miles on the rebuild", ""},
		{"a speed", "hunts at 45", ""},
		{"shift", "flares on the 23 shift", ""},
		{"part of a longer number", "serial P17571", ""},
		{"no number", "no reverse", ""},
		{"nothing", "", ""},
	} {
		var got []string
		for _, m := range Mentions(c, row.text) {
			got = append(got, m.Number)
			assert.Equal(t, m.Words, row.text[m.Start:m.End()], row.name)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.name)
	}
	assert.Empty(t, Mentions(c, "P0999")[0].Codes)
}

func FuzzMentions(f *testing.F) {
	f.Add("codes 45, p 1757 and 0748")
	c := shipped.Catalogue()
	f.Fuzz(func(t *testing.T, text string) {
		last := 0
		for _, m := range Mentions(c, text) {
			require.Equal(t, m.Words, text[m.Start:m.End()])
			require.GreaterOrEqual(t, m.Start, last, "they don't overlap")
			require.True(t, utf8.ValidString(m.Words))
			last = m.End()
		}
	})
}

func TestStoredCodesAreOneFindingAnObservation(t *testing.T) {
	c := shipped.Catalogue()
	entries := func(so Case, text string) string {
		var out []string
		for _, n := range StoredCodes(c, so, Mentions(c, text)) {
			out = append(out, n.Check+"/"+n.Observation+"/"+n.Outcome)
		}
		return strings.Join(out, " ")
	}
	assert.Equal(t, "stored-codes/governor/off-target", entries(Case{}, "P1757"))
	assert.Equal(t, "stored-codes/governor/off-target stored-codes/overdrive/circuit", entries(Case{}, "P1757 P0753"))
	// The check lists the circuit before the pressure: a wire that is open makes
	// the pressure wrong, and not the other way round.
	assert.Equal(t, "stored-codes/governor/solenoid-circuit", entries(Case{}, "P1757 P0748"))
	assert.Equal(t, "stored-codes/governor/solenoid-circuit", entries(Case{}, "P0748 P1757"))
	assert.Empty(t, entries(Case{}, "P0700"), "a pointer is no finding")
	assert.Empty(t, entries(Case{}, "code 45"), "one number for several faults is no finding")
	assert.Equal(t, "stored-codes/governor/off-target", entries(Case{}, "code 142"))

	have := Case{Entries: []Entry{{Check: "stored-codes", Observation: "governor", Outcome: "off-target"}}}
	assert.Empty(t, entries(have, "P1756"), "the same finding stands")
	assert.Equal(t, "stored-codes/governor/solenoid-circuit", entries(have, "P0748"))
	none := Case{Entries: []Entry{{Check: "stored-codes", Observation: "governor", Outcome: "none"}}}
	assert.Equal(t, "stored-codes/governor/off-target", entries(none, "P1757"), "a code outweighs an earlier none")
}

func TestCodesAreNoLostWords(t *testing.T) {
	c := shipped.Catalogue()
	text := "0748, xyzzy"
	u := complaint.Understanding{Unmatched: []complaint.Part{{Words: "0748"}, {Words: "xyzzy", Start: 6}}}
	assert.Equal(t, u.Unmatched[1:], Unexplained(u, Mentions(c, text)))
	joined := complaint.Understanding{Unmatched: []complaint.Part{{Words: text}}}
	assert.Equal(t, joined.Unmatched, Unexplained(joined, Mentions(c, text)), "what is left of it is lost still")
}

// A stored P1757 makes the governor solenoid, its coil or its passage lead.
// Source: maker's handbook, 1998: fault code tests, possible causes of this
// code, the solenoid with a high probability.
func TestStoredCodePointsAtTheGovernor(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	so := Case{Version: "late", Build: "stock", Level: "wheels"}
	so.Entries = StoredCodes(e.Catalogue, so, Mentions(e.Catalogue, "P1757"))
	a, err := e.Answer(so)
	require.NoError(t, err)
	assert.Contains(t, a.Ranked[0].Fault.ID, "governor-solenoid")
}

// Words that are nothing but codes with an outcome are entries and no report as
// well; a lamp that is on, a number that is no finding and one that nobody knows
// are reported.
func TestCodesAreNotReportedTwice(t *testing.T) {
	c := shipped.Catalogue()
	index := complaint.New(c)
	for text, want := range map[string]string{
		"P1757":                         "",
		"P0748, P0740":                  "",
		"no reverse, P0740":             "no-reverse",
		"check engine light with P1757": "lamp-codes",
		"P0700":                         "lamp-codes",
		"P0999":                         "lamp-codes",
		"stored codes":                  "lamp-codes",
		"no fourth, check engine light": "no-fourth lamp-codes",
		"od light flashing, P0753":      "lamp-codes",
	} {
		var got []string
		for _, r := range Reports(index.Resolve(text), Mentions(c, text)) {
			got = append(got, r.Symptom)
		}
		assert.Equal(t, want, strings.Join(got, " "), text)
	}
}

// Stored codes alone are a complaint: what explains them ends the work.
func TestCodesAloneAreAComplaint(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	c := Case{Version: "late", Build: "stock", Level: "pan"}
	c.Entries = StoredCodes(e.Catalogue, c, Mentions(e.Catalogue, "P0748"))
	a, err := e.Answer(c)
	require.NoError(t, err)
	assert.Equal(t, "Nothing is proved yet.", a.Conclusion)
	require.Len(t, a.Reports, 1)
	assert.Equal(t, "not explained yet", a.Reports[0].State())
	assert.NotEmpty(t, a.Next)
	assert.False(t, a.Done)

	// Source: ohms that are open settle an open coil, whatever else is known.
	c.Entries = append(c.Entries, Entry{Check: "governor-coil-at-part", Observation: "ohms", Reading: "OL"})
	a, err = e.Answer(c)
	require.NoError(t, err)
	require.Len(t, a.Proved, 1)
	assert.Equal(t, "explained", a.Reports[0].State())
	assert.Equal(t, a.Proved, a.Reports[0].By)
	assert.Equal(t, a.Reports[0].Explained, a.Explained)
	assert.True(t, a.Done, a.Conclusion)

	c.Entries = []Entry{{Check: "fluid-level", Observation: "level", Outcome: "right"}}
	a, err = e.Answer(c)
	require.NoError(t, err)
	assert.Empty(t, a.Reports)
	assert.Contains(t, a.Conclusion, "Say what the customer complains of")
	assert.False(t, a.Done)
}
