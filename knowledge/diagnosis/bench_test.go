package diagnosis_test

import (
	"testing"

	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	unitshipped "provingbench/knowledge/unit/shipped"
)

func engine() *diagnosis.Engine {
	return &diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: unitshipped.Book()}
}

// A job in its middle: four symptoms, some checks done.
func middle() diagnosis.Case {
	return diagnosis.Case{
		Version: unit.Late, Build: unit.Stock, Level: "raised",
		Reports: []diagnosis.Report{{Symptom: "no-fourth"}, {Symptom: "flare-2-3"}, {Symptom: "runs-hot"}, {Symptom: "hunts-highway"}},
		Entries: []diagnosis.Entry{
			{Check: "fluid-level", Observation: "level", Outcome: "right"},
			{Check: "stored-codes", Observation: "overdrive", Outcome: "circuit"},
			{Check: "line-pressure-drive", Observation: "servo-difference", Reading: "11 psi"},
			{Check: "line-pressure-drive", Observation: "line-idle", Reading: "57"},
		},
	}
}

// One answer to new ranking and next check.
func BenchmarkAnswer(b *testing.B) {
	e := engine()
	c := middle()
	for b.Loop() {
		if _, err := e.Answer(c); err != nil {
			b.Fatal(err)
		}
	}
}
