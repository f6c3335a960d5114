package plan

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"provingbench/knowledge/infer"
)

// instance makes a random case: some faults, alone and in pairs; checks over
// three levels, some of which prove a fault and some of which only tell several
// apart; flawless or not. Every fault has a check that can prove it.
func instance(seed uint64, faults, checks int) (*Problem, State) {
	r := rand.New(rand.NewPCG(seed, 1))
	between := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	p := &Problem{Levels: []Level{{}, {Open: between(2, 15), Close: between(2, 15)}, {Open: between(10, 60), Close: between(10, 60)}}}
	s := State{}
	for f := range faults {
		s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: []int{f}, Weight: between(0.05, 1)})
	}
	for range r.IntN(3) {
		a, b := r.IntN(faults), r.IntN(faults)
		if a != b {
			s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: []int{min(a, b), max(a, b)}, Weight: between(0.02, 0.3)})
		}
	}
	flawless := r.IntN(2) == 0
	strength := func() float64 {
		if flawless {
			return 1
		}
		return []float64{0.98, 0.8, 0.55}[r.IntN(3)]
	}
	leak := func() float64 {
		if flawless {
			return 0
		}
		return []float64{0, 0.02, 0.1}[r.IntN(3)]
	}
	for c := range checks {
		level := r.IntN(3)
		ch := Check{ID: fmt.Sprint(c), Minutes: between(1, 30), Levels: []int{level}, Stage: max(0, level-1)}
		if c < faults {
			st := 1.0
			if !flawless {
				st = 0.98
			}
			ch.Observations = []Observation{{Outcomes: []Outcome{
				{Sign: infer.Sign{Causes: []infer.Cause{{Fault: c, Strength: st}}}, Proves: []int{c}}, {}}}}
		} else {
			for range 1 + r.IntN(2) {
				var o Observation
				for range 1 + r.IntN(2) {
					sign := infer.Sign{Leak: leak()}
					for f := range faults {
						if r.IntN(2) == 0 {
							sign.Causes = append(sign.Causes, infer.Cause{Fault: f, Strength: strength()})
						}
					}
					o.Outcomes = append(o.Outcomes, Outcome{Sign: sign})
				}
				o.Outcomes = append(o.Outcomes, Outcome{})
				ch.Observations = append(ch.Observations, o)
			}
		}
		p.Checks = append(p.Checks, ch)
	}
	return p, s
}

func TestTry(t *testing.T) {
	worst, sum, n := 0.0, 0.0, 0
	for seed := range uint64(60) {
		p, s := instance(seed, 4, 6)
		best, _, err := Optimum(p, s, 1e6)
		if err != nil {
			t.Fatal(err)
		}
		got := p.Expected(p.Next, s)
		r := got / best
		if r > 1.02 || r < 1-1e-9 {
			fmt.Println(seed, best, got, r)
		}
		worst = max(worst, r)
		sum += r
		n++
	}
	fmt.Println("mean", sum/float64(n), "worst", worst)
}
