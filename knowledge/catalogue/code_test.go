package catalogue

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestCodeNumber(t *testing.T) {
	for spelling, want := range map[string]string{
		"P1757": "P1757", "p1757": "P1757", "p 1757": "P1757", "P-1757": "P1757", " 1757 ": "P1757", "P 17 57": "P1757",
		"0748": "P0748", "P0748": "P0748", "PO748": "P0748", // the letter O for a zero
		"142": "142", "45": "45",
		"": "", "P": "", "7": "", "P45": "", "045": "", "P17575": "", "17575": "", "P17A7": "", "9748": "", "O748": "", "codes": "",
	} {
		assert.Equal(t, want, CodeNumber(spelling), spelling)
	}
}

func FuzzCodeNumber(f *testing.F) {
	f.Add("P 1757")
	f.Add("142")
	f.Fuzz(func(t *testing.T, spelling string) {
		n := CodeNumber(spelling)
		assert.Equal(t, n, CodeNumber(n), "what it writes it reads")
		assert.LessOrEqual(t, len(n), 5)
	})
}

func TestCodesNumbered(t *testing.T) {
	c := &Catalogue{
		Checks: []Check{{ID: "look", Observations: []Observation{{ID: "a", Outcomes: []Outcome{{ID: "x"}, {ID: "none", Normal: true}}}}}},
		Codes: []Code{
			{ID: "p0001", Number: "P0001", Older: []Older{{Number: "45"}}, Outcome: &OutcomeRef{"look", "a", "x"}},
			{ID: "p1002", Number: "P1002", Older: []Older{{Number: "45"}, {Number: "142"}}},
		},
	}
	ids := func(spelling string) []string {
		var out []string
		for _, k := range c.CodesNumbered(spelling) {
			out = append(out, k.ID)
		}
		return out
	}
	assert.Equal(t, []string{"p0001"}, ids("p 0001"))
	assert.Equal(t, []string{"p1002"}, ids("1002"))
	assert.Equal(t, []string{"p1002"}, ids("142"))
	assert.Equal(t, []string{"p0001", "p1002"}, ids("45"), "the lamp flashes one number for several faults")
	assert.Empty(t, ids("P0009"))
	assert.Empty(t, ids("no reverse"))

	check, o, out := c.OutcomeOf(c.Code("p0001"))
	assert.Equal(t, "look", check.ID)
	assert.Equal(t, "a", o.ID)
	assert.Equal(t, "x", out.ID)
	check, _, out = c.OutcomeOf(c.Code("p1002"))
	assert.Nil(t, check)
	assert.Nil(t, out)
	assert.Equal(t, []*Code{c.Code("p0001")}, c.CodesShowing(OutcomeRef{"look", "a", "x"}))
}
