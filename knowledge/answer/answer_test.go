package answer

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/published"
	sheet "provingbench/knowledge/unit/shipped"
	words "provingbench/knowledge/wording/shipped"
)

var index = New(shipped.Catalogue(), sheet.Book(), words.Dictionary(), complaint.New(shipped.Catalogue()), nil)

func first(query string) string {
	a := index.Ask(query, 5)
	if len(a.Hits) == 0 {
		return ""
	}
	return string(a.Hits[0].Kind) + "/" + a.Hits[0].ID
}

// The queries are made up, so this holds the ranking to the authors' ear, not to
// recorded callers.
func TestQueries(t *testing.T) {
	all := published.Table(t, "answer/queries.csv")
	require.GreaterOrEqual(t, len(all), 150)
	for _, row := range all {
		if !assert.Equal(t, row["expects"], first(row["query"]), row["query"]) {
			for _, h := range index.Ask(row["query"], 4).Hits {
				t.Logf("  %.3f %s/%s", h.Score, h.Kind, h.ID)
			}
		}
	}
}

func TestAnyTextIsTaken(t *testing.T) {
	for name, text := range map[string]string{
		"empty":            "",
		"blank":            " \t\n ",
		"marks":            "?!-/…''\"<>&",
		"garbage":          "xqzv wkrtz 8f8f8f",
		"long":             strings.Repeat("governor solenoid ", 600)[:10_000],
		"long, one word":   strings.Repeat("a", 10_000),
		"other letters":    "变速箱 油压 ギア коробка",
		"broken UTF-8":     "gov \xff\xfe sol\xf0",
		"combining":        "ǵov́ sólenoid ohms",
		"marks of control": "pan\x00bolt\u202etorque",
		"emoji":            "🔧 pan bolt torque 🔩",
		"stop words":       "what is the of and",
	} {
		a := index.Ask(text, 8)
		assert.LessOrEqual(t, len(a.Hits), 8, name)
		for _, lost := range a.Lost {
			assert.True(t, utf8.ValidString(lost), name)
		}
	}
	for _, nothing := range []string{"", "  ", "?!", "xqzv wkrtz", "what is the of and"} {
		assert.Empty(t, index.Ask(nothing, 8).Hits, nothing)
	}
	assert.Equal(t, "value/pan-bolts", first("🔧 pan bolt torque 🔩"))
	assert.Equal(t, []string{"xqzv", "wkrtz"}, index.Ask("xqzv wkrtz", 8).Lost)
}
