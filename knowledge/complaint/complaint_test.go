package complaint

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
)

var index = New(shipped.Catalogue())

// written gives what was understood in the notation of phrases.csv.
func written(u Understanding) string {
	var out []string
	for _, m := range u.Matches {
		s := m.SymptomID
		if m.Absent {
			s = "!" + s
		}
		out = append(out, s+writtenCondition(m.When))
	}
	for _, c := range u.Unclear {
		var ids []string
		for _, k := range c.Candidates {
			ids = append(ids, k.SymptomID)
		}
		out = append(out, "?"+strings.Join(ids, "|"))
	}
	return strings.Join(out, ";")
}

func writtenCondition(c catalogue.Condition) string {
	s := ""
	for _, v := range []string{c.Gear, c.Temperature, c.Throttle} {
		if v != "" {
			s += "@" + v
		}
	}
	return s
}

type phraseCase struct{ words, expects string }

func phraseCases(t testing.TB) []phraseCase {
	f, err := os.Open("../../testdata/complaint/phrases.csv")
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	var out []phraseCase
	for _, row := range rows[1:] {
		out = append(out, phraseCase{row[0], row[1]})
	}
	return out
}

func TestPhrases(t *testing.T) {
	cases := phraseCases(t)
	wrong := 0
	for _, c := range cases {
		if got := written(index.Resolve(c.words)); got != c.expects {
			wrong++
			fmt.Printf("%-55q want %-30s got %s\n", c.words, c.expects, got)
		}
	}
	assert.Less(t, float64(wrong)/float64(len(cases)), 0.03, "%d of %d phrases are misread", wrong, len(cases))
}
