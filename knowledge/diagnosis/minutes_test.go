package diagnosis_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/plan"
	"provingbench/knowledge/unit"
)

// truck is drawn from the catalogue itself: faults by their frequency, symptoms
// and outcomes by the named levels.
type truck struct {
	e      *diagnosis.Engine
	r      *rand.Rand
	faults []string
	c      diagnosis.Case
}

func draw(e *diagnosis.Engine, seed uint64) *truck {
	r := rand.New(rand.NewPCG(seed, 2))
	for {
		x := &truck{e: e, r: r, c: diagnosis.Case{Version: unit.Late, Build: unit.Stock, Level: "wheels"}}
		for range 1 + r.IntN(3) {
			x.faults = append(x.faults, x.fault())
		}
		slices.Sort(x.faults)
		x.faults = slices.Compact(x.faults)
		for k := range e.Catalogue.Symptoms {
			s := &e.Catalogue.Symptoms[k]
			leak, _ := s.Leak.Probability()
			silent := 1 - leak/10 // a customer who reports everything would hide what matters
			for _, id := range x.faults {
				for _, l := range e.Catalogue.Fault(id).Symptoms {
					if l.ID == s.ID {
						p, _ := l.Level.Probability()
						silent *= 1 - p
					}
				}
			}
			if r.Float64() > silent {
				x.c.Reports = append(x.c.Reports, diagnosis.Report{Symptom: s.ID})
			}
		}
		if x.reported() {
			return x
		}
	}
}

// fault draws one fault in proportion to its frequency.
func (x *truck) fault() string {
	total := 0.0
	weigh := func(f *catalogue.Fault) float64 {
		if !f.On(x.c.Version) {
			return 0
		}
		p, _ := f.Frequency.Probability()
		return p
	}
	for k := range x.e.Catalogue.Faults {
		total += weigh(&x.e.Catalogue.Faults[k])
	}
	u := x.r.Float64() * total
	for k := range x.e.Catalogue.Faults {
		if u -= weigh(&x.e.Catalogue.Faults[k]); u < 0 {
			return x.e.Catalogue.Faults[k].ID
		}
	}
	return x.e.Catalogue.Faults[0].ID
}

// reported says whether every fault shows in some reported symptom, so that
// there is a reason to look for it.
func (x *truck) reported() bool {
	for _, id := range x.faults {
		if !slices.ContainsFunc(x.e.Catalogue.Fault(id).Symptoms, func(l catalogue.Link) bool {
			return slices.ContainsFunc(x.c.Reports, func(r diagnosis.Report) bool { return r.Symptom == l.ID })
		}) {
			return false
		}
	}
	return len(x.c.Reports) > 0
}

// do draws what a check shows and enters it.
func (x *truck) do(check *catalogue.Check) {
	for k := range check.Observations {
		o := &check.Observations[k]
		seen := len(o.Outcomes) - 1
		for n := range o.Outcomes[:seen] {
			out := &o.Outcomes[n]
			leak, _ := out.Leak.Probability()
			if len(out.Proves) > 0 {
				leak = 0
			}
			silent := 1 - leak
			for _, l := range out.Shows {
				if slices.Contains(x.faults, l.ID) {
					p, _ := l.Level.Probability()
					silent *= 1 - p
				}
			}
			if x.proves(out) {
				silent = 0
			}
			if x.r.Float64() > silent {
				seen = n
				break
			}
		}
		x.c.Entries = append(x.c.Entries, diagnosis.Entry{Check: check.ID, Observation: o.ID, Outcome: o.Outcomes[seen].ID})
	}
}

// proves says whether an outcome settles what is wrong with this truck. The part
// in hand is then seen to be bad: a proof that is missed would measure luck, not
// the order of the checks.
func (x *truck) proves(out *catalogue.Outcome) bool {
	return len(out.Proves) > 0 && !slices.ContainsFunc(out.Proves, func(id string) bool { return !slices.Contains(x.faults, id) })
}

func (x *truck) found(proved []*catalogue.Fault) bool {
	for _, id := range x.faults {
		if !slices.ContainsFunc(proved, func(f *catalogue.Fault) bool { return f.ID == id }) {
			return false
		}
	}
	return true
}

// byPlan follows the engine until every fault is proved.
func (x *truck) byPlan(b *testing.B) (minutes float64, ok bool) {
	for range 100 {
		a, err := x.e.Answer(x.c)
		if err != nil {
			b.Fatal(err)
		}
		if x.found(a.Proved) {
			return minutes, true
		}
		if len(a.Next) == 0 {
			return minutes, false
		}
		minutes += a.Next[0].Minutes
		x.c.Level = a.Next[0].Level.ID
		x.do(a.Next[0].Check)
	}
	return minutes, false
}

// byOrder goes through the checks that bear on the complaint in the trade's
// fixed order: preliminaries, then from the outside in, short ones first.
func (x *truck) byOrder(b *testing.B) (minutes float64, ok bool) {
	bears := map[string]bool{}
	for k := range x.e.Catalogue.Faults {
		f := &x.e.Catalogue.Faults[k]
		for _, l := range f.Symptoms {
			if slices.ContainsFunc(x.c.Reports, func(r diagnosis.Report) bool { return r.Symptom == l.ID }) {
				bears[f.ID] = true
			}
		}
	}
	var checks []*catalogue.Check
	for k := range x.e.Catalogue.Checks {
		check := &x.e.Catalogue.Checks[k]
		tells := slices.ContainsFunc(check.Observations, func(o catalogue.Observation) bool {
			return slices.ContainsFunc(o.Outcomes, func(out catalogue.Outcome) bool {
				return slices.ContainsFunc(out.Shows, func(l catalogue.Link) bool { return bears[l.ID] })
			})
		})
		if tells && check.On(x.c.Version) {
			checks = append(checks, check)
		}
	}
	place := func(k *catalogue.Check) int {
		if k.Preliminary != "" {
			return -1
		}
		return x.e.Catalogue.LevelIndex(k.Level)
	}
	slices.SortStableFunc(checks, func(p, q *catalogue.Check) int {
		return cmp.Or(cmp.Compare(place(p), place(q)), cmp.Compare(p.Minutes, q.Minutes))
	})
	road := &plan.Problem{}
	for _, l := range x.e.Catalogue.Access {
		road.Levels = append(road.Levels, plan.Level{Open: l.Open, Close: l.Close})
	}
	at := 0
	for _, check := range checks {
		level := x.e.Catalogue.LevelIndex(check.Level)
		minutes += road.Travel(at, level) + check.Minutes
		at = level
		x.do(check)
		a, err := x.e.Rank(diagnosis.Case{Version: x.c.Version, Build: x.c.Build, Level: "wheels", Entries: x.c.Entries})
		if err != nil {
			b.Fatal(err)
		}
		if x.found(a.Proved) {
			return minutes, true
		}
	}
	return minutes, false
}

// Minutes to prove every fault of trucks drawn from the catalogue: by the plan,
// and by the trade's fixed order on the same trucks.
func BenchmarkMinutes(b *testing.B) {
	e := engine()
	const trucks = 24
	for b.Loop() {
		var planned, ordered float64
		missed := [2]int{}
		for seed := range uint64(trucks) {
			m, ok := draw(e, seed).byPlan(b)
			planned += m
			if !ok {
				missed[0]++
			}
			m, ok = draw(e, seed).byOrder(b)
			ordered += m
			if !ok {
				missed[1]++
			}
		}
		b.ReportMetric(planned/trucks, "min/plan")
		b.ReportMetric(ordered/trucks, "min/order")
		b.ReportMetric(planned/ordered, "ratio")
		b.ReportMetric(float64(missed[0]), "missed/plan")
		b.ReportMetric(float64(missed[1]), "missed/order")
	}
}
