package complaint

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/published"
)

var index = New(shipped.Catalogue())

// written gives what was understood in the notation of phrases.csv.
func written(u Understanding) string {
	var out []string
	for _, m := range u.Matches {
		out = append(out, writtenMatch(m))
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

func writtenMatch(m Match) string {
	s := m.SymptomID
	if m.Absent {
		s = "!" + s
	}
	for _, v := range []string{m.When.Gear, m.When.Temperature, m.When.Throttle} {
		if v != "" {
			s += "@" + v
		}
	}
	return s
}

// The phrases are made up, so this holds the matching to the authors' ear, not
// to recorded customers.
func TestPhrases(t *testing.T) {
	all := published.Table(t, "complaint/phrases.csv")
	require.GreaterOrEqual(t, len(all), 120)
	right, silent := 0, 0
	for _, row := range all {
		words, expects := row["words"], row["expects"]
		u := index.Resolve(words)
		got := written(u)
		if got == expects {
			right++
			continue
		}
		t.Logf("%q: expected %s, understood %s", words, expects, got)
		for _, m := range u.Matches {
			if !strings.Contains(";"+expects, ";"+strings.SplitN(writtenMatch(m), "@", 2)[0]) {
				silent++
				break
			}
		}
	}
	n := float64(len(all))
	t.Logf("%d of %d phrases are read right; %d of the others name a symptom that was not meant without asking", right, len(all), silent)
	assert.Greater(t, float64(right)/n, 0.95, "phrases read right")
	assert.Less(t, float64(silent)/n, 0.02, "wrong symptoms taken without asking")
}

func TestEveryIDNameAndPhrase(t *testing.T) {
	c := shipped.Catalogue()
	for i := range c.Symptoms {
		s := &c.Symptoms[i]
		for _, text := range append([]string{s.ID, s.Name}, s.Said...) {
			u := index.Resolve(text)
			if assert.Len(t, u.Matches, 1, text) {
				assert.Equal(t, s.ID, u.Matches[0].SymptomID, text)
				assert.False(t, u.Matches[0].Absent, text)
				assert.InDelta(t, 1, u.Matches[0].Score, 1e-9, text)
			}
			assert.Empty(t, u.Unclear, text)
		}
	}
}

func TestSeveralIDs(t *testing.T) {
	u := index.Resolve("no-fourth, flare-2-3; runs-hot")
	assert.Equal(t, "no-fourth;flare-2-3;runs-hot", written(u))
}

func TestWordsAndParts(t *testing.T) {
	text := "My truck: flares two-three when hot, and the radio squawks badly."
	u := index.Resolve(text)
	require.Len(t, u.Matches, 1)
	m := u.Matches[0]
	assert.Equal(t, catalogue.Condition{Temperature: "hot"}, m.When)
	assert.Equal(t, "flares two-three", m.Words)
	assert.Equal(t, m.Words, text[m.Start:m.Start+len(m.Words)])
	var parts []string
	for _, p := range u.Unmatched {
		parts = append(parts, p.Words)
		assert.Equal(t, p.Words, text[p.Start:p.Start+len(p.Words)])
	}
	assert.Contains(t, strings.Join(parts, "|"), "radio", "what was not understood is handed back")
}

func TestUnclearIsAsked(t *testing.T) {
	u := index.Resolve("it flares")
	assert.Empty(t, u.Matches)
	require.Len(t, u.Unclear, 1)
	assert.GreaterOrEqual(t, len(u.Unclear[0].Candidates), 3)
	for i := 1; i < len(u.Unclear[0].Candidates); i++ {
		assert.GreaterOrEqual(t, u.Unclear[0].Candidates[i-1].Score, u.Unclear[0].Candidates[i].Score)
	}
}

func TestOrderOfComplaintsDoesNotMatter(t *testing.T) {
	a := index.Resolve("no reverse. slips in third. leaks")
	b := index.Resolve("leaks. slips in third. no reverse")
	ids := func(u Understanding) (out []string) {
		for _, m := range u.Matches {
			out = append(out, m.SymptomID)
		}
		return out
	}
	assert.ElementsMatch(t, ids(a), ids(b))
	assert.Len(t, ids(a), 3)
}

func TestAnyText(t *testing.T) {
	for _, text := range []string{
		"", " ", ".", "no", "not not not", "3", "3-4-5-6", "1-2-3-4", "after", "between", "from", "\xff\xfe no reverse", "’’’", "٣ جير",
		"no no reverse or or or third", "fine", "hot cold hot cold", "R", "d n p r 1 2 3", strings.Repeat("no reverse or third ", 200), "p07", "二速でスリップ",
	} {
		assert.NotPanics(t, func() { index.Resolve(text); index.Suggest(text, 5) }, text)
	}
	assert.Equal(t, Understanding{}, index.Resolve(""))
	assert.Contains(t, written(index.Resolve("\xff\xfe no reverse")), "no-reverse")
}

func FuzzResolve(f *testing.F) {
	for _, row := range published.Table(f, "complaint/phrases.csv") {
		f.Add(row["words"])
	}
	f.Fuzz(func(t *testing.T, text string) {
		u := index.Resolve(text)
		valid := strings.ToValidUTF8(text, " ")
		for _, m := range u.Matches {
			require.NotNil(t, index.catalogue.Symptom(m.SymptomID))
			require.True(t, m.Score > 0 && m.Score <= 1)
			require.Equal(t, m.Words, valid[m.Start:m.Start+len(m.Words)])
			require.True(t, utf8.ValidString(m.Words))
		}
		for _, c := range u.Unclear {
			require.NotEmpty(t, c.Candidates)
		}
		for _, s := range index.Suggest(text, 3) {
			require.NotNil(t, index.catalogue.Symptom(s.SymptomID))
		}
	})
}

// A saying with two notions would be read as either.
func TestEachSayingHasOneNotion(t *testing.T) {
	first := map[string]string{}
	for _, row := range sayings {
		for _, s := range row.said {
			other, twice := first[s]
			assert.False(t, twice, "%q is said for %q and %q", s, row.notion, other)
			assert.Equal(t, plain(s), s, "a saying is written as it is folded")
			first[s] = row.notion
		}
	}
}

func TestSuggest(t *testing.T) {
	for _, c := range []struct{ typed, want string }{
		{"flar", "flare-1-2"},
		{"flares tw", "flare-2-3"},
		{"no rev", "no-reverse"},
		{"won't ba", "no-reverse"},
		{"hunts on", "hunts-highway"},
		{"shud", "shudder"},
		{"slips in th", "slips-third"},
		{"no ov", "no-fourth"},
		{"runs h", "runs-hot"},
		{"shudering", "shudder"}, // begins no phrase, and is understood all the same
	} {
		got := index.Suggest(c.typed, 5)
		var ids []string
		for _, s := range got {
			ids = append(ids, s.SymptomID)
		}
		if assert.NotEmpty(t, ids, c.typed) {
			assert.Equal(t, c.want, ids[0], c.typed)
		}
		assert.LessOrEqual(t, len(ids), 5)
	}
	assert.Empty(t, index.Suggest("", 5))
	assert.Empty(t, index.Suggest("  ", 5))
	assert.Empty(t, index.Suggest("qqqq", 5))
}

// longText is ten thousand characters of complaints.
func longText(t testing.TB) string {
	var b strings.Builder
	for b.Len() < 10000 {
		for _, row := range published.Table(t, "complaint/phrases.csv") {
			b.WriteString(row["words"])
			b.WriteByte(' ')
		}
	}
	return b.String()[:10000]
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		New(shipped.Catalogue())
	}
}

func BenchmarkResolveSentence(b *testing.B) {
	for b.Loop() {
		index.Resolve("flares two-three when hot, and it hunts on the highway")
	}
}

func BenchmarkResolveLong(b *testing.B) {
	long := longText(b)
	for b.Loop() {
		index.Resolve(long)
	}
}

func BenchmarkSuggest(b *testing.B) {
	for b.Loop() {
		index.Suggest("slips in th", 5)
	}
}
