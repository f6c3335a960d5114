package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"provingbench/knowledge/infer"
)

// workshop makes a case of the size and shape of a real one: six access levels,
// one proving check for each fault, most of them behind covers, and other checks
// that tell groups of faults apart; scenarios of one to three faults drawn from
// a posterior in which few faults are likely.
func workshop(seed uint64, faults, checks, scenarios int) (*Problem, State) {
	r := rand.New(rand.NewPCG(seed, 2))
	p := &Problem{Levels: []Level{{}, {8, 5}, {5, 5}, {30, 35}, {35, 40}, {180, 200}}}
	stage := []int{1, 1, 1, 2, 2, 3}
	provers := min(faults, checks*6/10)
	strengths := []float64{0.98, 0.8, 0.55, 0.25}
	for c := range checks {
		ch := Check{ID: fmt.Sprint(c), Minutes: 2 + math.Floor(20*r.Float64())}
		level := []int{0, 0, 1, 1, 2, 3, 3, 4, 4, 4, 5, 5}[r.IntN(12)]
		if c >= provers {
			level = []int{0, 0, 0, 1, 1, 1, 2, 3}[r.IntN(8)]
		}
		ch.Levels, ch.Stage = []int{level}, stage[level]
		if level == 0 && r.IntN(3) == 0 {
			ch.Stage = 0
		}
		sign := func(n int) infer.Sign {
			sg := infer.Sign{Leak: []float64{0.001, 0.02}[r.IntN(2)]}
			for range n {
				sg.Causes = append(sg.Causes, infer.Cause{Fault: r.IntN(faults), Strength: strengths[r.IntN(4)]})
			}
			return sg
		}
		if c < provers {
			var o Observation
			for f := c; f < faults; f += provers {
				o.Outcomes = append(o.Outcomes, Outcome{Sign: infer.Sign{Causes: []infer.Cause{{Fault: f, Strength: 0.98}}}, Proves: []int{f}})
			}
			o.Outcomes = append(o.Outcomes, Outcome{})
			ch.Observations = []Observation{o}
		} else {
			for range 1 + r.IntN(3) {
				var o Observation
				for range 1 + r.IntN(3) {
					o.Outcomes = append(o.Outcomes, Outcome{Sign: sign(3 + r.IntN(10))})
				}
				ch.Observations = append(ch.Observations, Observation{append(o.Outcomes, Outcome{})})
			}
		}
		p.Checks = append(p.Checks, ch)
	}
	chance := make([]float64, faults)
	sum := 0.0
	for f := range chance {
		chance[f] = math.Exp(-4 * r.Float64() * r.Float64() * 2)
		sum += chance[f]
	}
	draw := func() int {
		x := r.Float64() * sum
		for f, q := range chance {
			if x -= q; x < 0 {
				return f
			}
		}
		return faults - 1
	}
	var s State
	for range scenarios {
		set := []int{draw()}
		for r.IntN(4) == 0 && len(set) < 3 {
			set = append(set, draw())
		}
		s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: set, Weight: 1})
	}
	return p, s
}

func BenchmarkRank(b *testing.B) {
	for _, bm := range []struct {
		name                      string
		faults, checks, scenarios int
		stages                    bool
	}{
		{"80 checks, 100 faults", 100, 80, 512, true},
		{"80 checks, 100 faults, no order", 100, 80, 512, false},
		{"800 checks, 1000 faults", 1000, 800, 512, true},
		{"800 checks, 1000 faults, no order", 1000, 800, 512, false},
	} {
		b.Run(bm.name, func(b *testing.B) {
			p, s := workshop(1, bm.faults, bm.checks, bm.scenarios)
			for i := range p.Checks {
				if !bm.stages {
					p.Checks[i].Stage = 0
				}
			}
			for b.Loop() {
				p.Rank(s)
			}
		})
	}
}
