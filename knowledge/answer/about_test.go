package answer

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
	words "provingbench/knowledge/wording/shipped"
)

func open() unit.Sheet { return unit.Sheet{Book: sheet.Book()} }

func on(v unit.Version) unit.Sheet {
	return unit.Sheet{Book: sheet.Book(), Version: v, Build: unit.Stock}
}

func about(t *testing.T, query string, s unit.Sheet) About {
	t.Helper()
	a := index.Ask(query, 1)
	require.NotEmpty(t, a.Hits, query)
	return index.About(a.Hits[0], s, a.Version)
}

func ids(figures []Figure) []string {
	var out []string
	for _, f := range figures {
		out = append(out, f.Acceptance.ID)
	}
	return out
}

func TestFiguresAreThoseOfTheSheet(t *testing.T) {
	for _, v := range unit.Versions {
		for _, a := range sheet.Book().Acceptances {
			got := index.About(Hit{Kind: Value, ID: a.ID}, on(v), "")
			require.Len(t, got.Figures, 1)
			require.Len(t, got.Figures[0].Columns, 1, a.ID)
			assert.Equal(t, on(v).Limits(a.ID), got.Figures[0].Columns[0].Limits, a.ID)
			assert.False(t, got.AskVersion || got.AskBuild, a.ID)
		}
	}
}

func TestWithoutAVersionAllStandSideBySide(t *testing.T) {
	a := about(t, "rear band turns", open())
	assert.Equal(t, []string{"rear-band-backoff-turns"}, ids(a.Figures))
	require.Len(t, a.Figures[0].Columns, 2)
	assert.Equal(t, []unit.Version{unit.Light}, a.Figures[0].Columns[0].Versions)
	assert.Equal(t, []unit.Version{unit.Mid, unit.Late}, a.Figures[0].Columns[1].Versions)
	assert.True(t, a.AskVersion)
	assert.Subset(t, ids(a.More), []string{"rear-band-torque"})
	assert.NotContains(t, ids(a.More), "pan-bolts", "every repair needs them")
	assert.NotEmpty(t, a.With)
	assert.NotEmpty(t, a.Checks)
}

func TestVersionOfTheQueryGoesBeforeTheSheets(t *testing.T) {
	a := about(t, "rear band turns mid", on(unit.Light))
	require.Len(t, a.Figures[0].Columns, 1)
	assert.Equal(t, []unit.Version{unit.Mid}, a.Figures[0].Columns[0].Versions)
	assert.False(t, a.AskVersion)
	assert.Equal(t, unit.Version(""), index.Ask("light or late rear band turns", 1).Version, "two versions are none")
	assert.Equal(t, Symptom, index.Ask("late shifts", 1).Hits[0].Kind, "a version's name is also a word")
}

func TestOwnValueIsTheAnswer(t *testing.T) {
	v := quantity.PSI.Of(60)
	s, err := open().With("line-drive-idle", unit.OwnLimit{Max: &v, MaxText: "60 psi", Source: "the manual on the shelf"})
	require.NoError(t, err)
	a := about(t, "line pressure drive", s)
	require.Len(t, a.Figures[0].Columns, 1)
	assert.Equal(t, unit.Own, a.Figures[0].Columns[0].Limits[0].Provenance.Kind)
}

func TestBuildIsAskedForWhereFiguresDependOnIt(t *testing.T) {
	assert.True(t, about(t, "line pressure full throttle", open()).AskBuild)
	assert.False(t, about(t, "pan bolt torque", open()).AskBuild)
}

func TestPartShowsItsFiguresAndWhatGoesWithIt(t *testing.T) {
	a := about(t, "gov solenoid", open())
	assert.Contains(t, ids(a.Figures), "governor-solenoid-coil")
	assert.NotContains(t, ids(a.Figures), "pan-bolts")
	assert.NotEmpty(t, a.With)
	assert.NotEmpty(t, a.Ask)
	assert.NotEmpty(t, a.Faults)
}

func TestSymptomAsksTheCallerAndNamesTheCommonest(t *testing.T) {
	a := about(t, "no reverse", open())
	assert.Equal(t, []string{shipped.Catalogue().Symptom("no-reverse").Ask}, a.Ask)
	require.NotEmpty(t, a.Faults)
	for _, f := range a.Faults {
		assert.True(t, slices.ContainsFunc(f.Symptoms, func(l catalogue.Link) bool { return l.ID == "no-reverse" }), f.ID)
	}
}

func TestEveryRecordIsFoundByItsName(t *testing.T) {
	lost := 0
	for _, r := range index.records {
		found := false
		for _, h := range index.Ask(r.name, 5).Hits {
			found = found || h.Kind == r.kind && h.ID == r.id
		}
		if !found {
			lost++
			t.Logf("%s/%s is not among the first five for its name %q", r.kind, r.id, r.name)
		}
		about := index.About(Hit{Kind: r.kind, ID: r.id}, open(), "")
		for _, f := range about.Figures {
			assert.NotNil(t, f.Acceptance)
		}
	}
	assert.LessOrEqual(t, lost, len(index.records)/100)
}

// A word that leads to nothing is a mistake in the list, or the record that it
// stood for has gone.
func TestEveryWordLeadsToARecord(t *testing.T) {
	d := words.Dictionary()
	leads := func(text string) bool {
		return !slices.ContainsFunc(index.reader.terms(text), func(term string) bool {
			id, ok := index.terms[term]
			return !ok || len(index.postings[id]) == 0
		})
	}
	for _, s := range d.Synonyms {
		assert.True(t, leads(s.Means), "%q stands in no record", s.Means)
	}
	for _, w := range d.Wants {
		assert.True(t, slices.Contains(Kinds, Kind(w.Kind)), w.Kind)
	}
	for _, n := range d.Names {
		kind, id, _ := strings.Cut(n.Of, "/")
		assert.True(t, index.record(Kind(kind), id) >= 0, n.Of)
	}
	for _, id := range d.Asked {
		_, ok := sheet.Book().Acceptance(id)
		assert.True(t, ok, id)
	}
}

func TestAnswersComeWhileTyping(t *testing.T) {
	typed, answered := 0, 0
	for _, row := range published.Table(t, "answer/queries.csv") {
		if row["set"] == "A" {
			for n := 4; n < len(row["query"]); n++ {
				typed++
				if len(index.Ask(row["query"][:n], 8).Hits) > 0 {
					answered++
				}
			}
		}
	}
	assert.Greater(t, float64(answered)/float64(typed), 0.95)
}

func TestTheSameQueryHasTheSameAnswer(t *testing.T) {
	again := New(shipped.Catalogue(), sheet.Book(), words.Dictionary(), index.complaint, func() {})
	for _, row := range published.Table(t, "answer/queries.csv") {
		assert.Equal(t, index.Ask(row["query"], 8), again.Ask(row["query"], 8), row["query"])
	}
}

func FuzzAsk(f *testing.F) {
	for _, s := range []string{"gov solenoid ohms", "3-4 accumulator", "P1757", "", "\xff", "ǵ", "1/4 2-3 late"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a := index.Ask(text, 8)
		for i, h := range a.Hits {
			assert.False(t, h.Score != h.Score, "not a number")
			if i > 0 {
				assert.LessOrEqual(t, h.Score, a.Hits[i-1].Score)
			}
			index.About(h, open(), a.Version)
		}
	})
}
