package diagnosis_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"provingbench/knowledge/catalogue"
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

// times returns the catalogue n times over: every fault and check copied, the
// symptoms shared, so that each symptom has n times as many causes.
func times(c *catalogue.Catalogue, n int) *catalogue.Catalogue {
	big := *c
	big.Faults, big.Checks = nil, nil
	for copied := range n {
		name := func(id string) string {
			if copied == 0 {
				return id
			}
			return fmt.Sprintf("%s-%d", id, copied)
		}
		for _, f := range c.Faults {
			f.ID = name(f.ID)
			big.Faults = append(big.Faults, f)
		}
		for _, k := range c.Checks {
			k.ID = name(k.ID)
			k.Observations = slices.Clone(k.Observations)
			for i := range k.Observations {
				o := &k.Observations[i]
				o.Outcomes = slices.Clone(o.Outcomes)
				for j := range o.Outcomes {
					out := &o.Outcomes[j]
					out.Shows = slices.Clone(out.Shows)
					for m := range out.Shows {
						out.Shows[m].ID = name(out.Shows[m].ID)
					}
					out.Proves = slices.Clone(out.Proves)
					for m := range out.Proves {
						out.Proves[m] = name(out.Proves[m])
					}
				}
			}
			big.Checks = append(big.Checks, k)
		}
	}
	slices.SortFunc(big.Faults, func(a, b catalogue.Fault) int { return strings.Compare(a.ID, b.ID) })
	slices.SortFunc(big.Checks, func(a, b catalogue.Check) int { return strings.Compare(a.ID, b.ID) })
	return &big
}

// sizes are the shipped catalogue and one ten times as large.
func sizes() map[string]*diagnosis.Engine {
	e := engine()
	return map[string]*diagnosis.Engine{"shipped": e, "ten-times": {Catalogue: times(e.Catalogue, 10), Book: e.Book}}
}

// One answer to new ranking and next check.
func BenchmarkAnswer(b *testing.B) {
	for name, e := range sizes() {
		b.Run(name, func(b *testing.B) {
			c := middle()
			for b.Loop() {
				a, err := e.Answer(c)
				if err != nil {
					b.Fatal(err)
				}
				if len(a.Next) == 0 {
					b.Fatal("no next check")
				}
			}
		})
	}
}

// The ranking alone, without what comes next.
func BenchmarkRanking(b *testing.B) {
	for name, e := range sizes() {
		b.Run(name, func(b *testing.B) {
			c := middle()
			for b.Loop() {
				if _, err := e.Rank(c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
