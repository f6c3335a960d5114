package answer

import (
	"testing"

	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/published"
	sheet "provingbench/knowledge/unit/shipped"
	words "provingbench/knowledge/wording/shipped"
)

// One key after the other, as a query is typed.
func BenchmarkKeystroke(b *testing.B) {
	queries := published.Table(b, "answer/queries.csv")
	var typed []string
	for _, q := range queries {
		for i := range q["query"] {
			typed = append(typed, q["query"][:i+1])
		}
	}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		index.Ask(typed[i%len(typed)], 8)
	}
}

func BenchmarkTypingErrors(b *testing.B) {
	for b.Loop() {
		index.Ask("governwr solinoyd resisttance convorter clotch", 8)
	}
}

func BenchmarkNew(b *testing.B) {
	symptoms := complaint.New(shipped.Catalogue())
	b.ReportAllocs()
	for b.Loop() {
		New(shipped.Catalogue(), sheet.Book(), words.Dictionary(), symptoms, nil)
	}
}

func BenchmarkAbout(b *testing.B) {
	hit := index.Ask("rear band turns", 1).Hits[0]
	for b.Loop() {
		index.About(hit, open(), "")
	}
}
