package plan

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

// ratios compares a ranking with the optimum on random instances.
func ratios(t testing.TB, seeds uint64, effort int, make func(seed uint64) (*Problem, State)) (mean, worst, least float64) {
	n := 0.0
	least = math.Inf(1)
	for seed := range seeds {
		p, s := make(seed)
		best, _, err := Optimum(p, s, 1e6)
		require.NoError(t, err)
		require.Positive(t, best)
		p.Effort = effort
		r := p.Expected(p.Next, s) / best
		mean += r
		worst = max(worst, r)
		least = min(least, r)
		n++
	}
	return mean / n, worst, least
}

func small(seed uint64) (*Problem, State) {
	return instance(seed, 4+int(seed%3), 5+int(seed/3%3))
}

// larger instances have the shape of a real case and are about as large as
// Optimum can solve in reasonable time.
func larger(seed uint64) (*Problem, State) {
	return workshop(seed, 5, 8, 8)
}

func TestAgainstOptimum(t *testing.T) {
	for _, tt := range []struct {
		name        string
		seeds       uint64
		effort      int
		make        func(uint64) (*Problem, State)
		mean, worst float64
	}{
		{"small", 60, 0, small, 1.03, 1.10},
		{"small, one step ahead only", 60, 1, small, 1.10, 1.50},
		{"larger", 6, 0, larger, 1.03, 1.10},
	} {
		t.Run(tt.name, func(t *testing.T) {
			mean, worst, least := ratios(t, tt.seeds, tt.effort, tt.make)
			assert.GreaterOrEqual(t, least, 1-1e-6, "nothing is better than the optimum")
			assert.LessOrEqual(t, mean, tt.mean)
			assert.LessOrEqual(t, worst, tt.worst)
		})
	}
}

func BenchmarkAgainstOptimum(b *testing.B) {
	for _, bm := range []struct {
		name   string
		seeds  uint64
		effort int
		make   func(uint64) (*Problem, State)
	}{
		{"small", 300, 0, small},
		{"small, a fiftieth of the effort", 300, Effort / 50, small},
		{"small, one step ahead only", 300, 1, small},
		{"larger", 20, 0, larger},
		{"larger, one step ahead only", 20, 1, larger},
	} {
		b.Run(bm.name, func(b *testing.B) {
			var mean, worst float64
			for b.Loop() {
				mean, worst, _ = ratios(b, bm.seeds, bm.effort, bm.make)
			}
			b.ReportMetric(mean, "mean-ratio")
			b.ReportMetric(worst, "worst-ratio")
		})
	}
}

// The simpler rules that Rank is meant to beat, on cases too large to solve: the
// most information per minute, and the likeliest proof per minute.
func BenchmarkAgainstSimplerRules(b *testing.B) {
	best := func(p *Problem, value func(Suggestion) float64) Policy {
		quick := *p
		quick.Effort = 1
		return func(s State) (int, int, bool) {
			list := quick.Rank(s)
			if len(list) == 0 {
				return 0, 0, false
			}
			g := slices.MaxFunc(list, func(a, b Suggestion) int { return cmp.Compare(value(a), value(b)) })
			return g.Check, g.Level, true
		}
	}
	const cases, trucks = 6, 25
	sum := func(policy func(p *Problem) Policy) float64 {
		total := 0.0
		for seed := range uint64(cases) {
			p, s := workshop(seed, 30, 40, 100)
			m, _ := p.Simulated(policy(p), s, trucks, seed)
			total += m / cases
		}
		return total
	}
	for b.Loop() {
		rank := sum(func(p *Problem) Policy { return p.Next })
		b.ReportMetric(rank, "minutes")
		b.ReportMetric(sum(func(p *Problem) Policy {
			quick := *p
			quick.Effort = 1
			return quick.Next
		})/rank, "one-step/rank")
		b.ReportMetric(sum(func(p *Problem) Policy {
			return best(p, func(g Suggestion) float64 { return g.Rate })
		})/rank, "information/rank")
		b.ReportMetric(sum(func(p *Problem) Policy {
			return best(p, func(g Suggestion) float64 { return g.Proof/g.Minutes + 1e-6*g.Rate })
		})/rank, "proof/rank")
	}
}

func TestSimulatedAgreesWithExpected(t *testing.T) {
	for seed := range uint64(6) {
		p, s := small(seed)
		exact := p.Expected(p.Next, s)
		mean, deviation := p.Simulated(p.Next, s, 400, 9)
		require.Positive(t, deviation)
		assert.InDelta(t, exact, mean, 4*deviation, "seed %d", seed)
	}
}

// The likelihoods of Rank, which takes scenarios by classes, against those of
// Optimum, which takes them one by one.
func TestGainsAgree(t *testing.T) {
	for seed := range uint64(20) {
		p, s := workshop(seed, 12, 16, 30)
		o := newOptimum(p, s, 0)
		st, _ := o.state(s)
		list := p.Rank(s)
		require.NotEmpty(t, list)
		for _, g := range list {
			tells, proof := o.tells(st, g.Check)
			assert.InDelta(t, tells, g.Bits, 1e-6, "seed %d check %d", seed, g.Check)
			assert.InDelta(t, proof, g.Proof, 1e-6, "seed %d check %d", seed, g.Check)
		}
	}
}

// While a check of a lower stage bears on the case and needs no closing up, no
// later one is suggested, whatever was found on the way.
func TestTradeOrderHolds(t *testing.T) {
	held := 0
	for seed := range uint64(30) {
		p, s := workshop(seed, 12, 24, 40)
		p.Effort = 1
		if seed%2 == 1 {
			p.Checks[3].Levels = []int{0, 3} // can be done in two places
			s.Refused = []int{1, 4}
		}
		o := newOptimum(p, s, 0)
		p.run(func(s State) (int, int, bool) {
			list := p.Rank(s)
			st, _ := o.state(s)
			lowest := math.MaxInt
			for c, ch := range p.Checks {
				if slices.Contains(s.Done, c) || slices.Contains(s.Refused, c) || !slices.ContainsFunc(ch.Levels, func(l int) bool { return l >= s.Level }) {
					continue
				}
				if tells, _ := o.tells(st, c); tells >= BearsOn+1e-6 {
					lowest = min(lowest, ch.Stage)
				}
			}
			for _, g := range append(list, p.WhileOpen(s)...) {
				assert.LessOrEqual(t, p.Checks[g.Check].Stage, lowest, "seed %d", seed)
				assert.NotContains(t, s.Refused, g.Check, "refused")
				assert.NotContains(t, s.Done, g.Check, "done")
				assert.Contains(t, p.Checks[g.Check].Levels, g.Level)
			}
			if lowest < 3 && len(list) > 0 {
				held++
			}
			return p.Next(s)
		}, s, rand.New(rand.NewPCG(seed, 5)), nil)
	}
	assert.Greater(t, held, 50, "the property was put to the test")
}

func TestRefusedNeverHolds(t *testing.T) {
	p, s := stages()
	require.Len(t, p.Rank(s), 1)
	assert.Equal(t, 0, p.Rank(s)[0].Check, "the preliminary check comes first, though it tells little")
	assert.Contains(t, p.Rank(s)[0].Reasons, Order)

	s.Refused = []int{0}
	for _, g := range p.Rank(s) {
		assert.NotEqual(t, 0, g.Check)
	}
	require.NotEmpty(t, p.Rank(s))
	assert.Equal(t, 1, p.Rank(s)[0].Check, "then the gauge, before the pan")
	s.Refused = []int{1, 0}
	require.NotEmpty(t, p.Rank(s))
	assert.Equal(t, 2, p.Rank(s)[0].Check)
}

// With the pan off already, a gauge check would need closing up and holds nothing
// back.
func TestClosingUpLiftsTheOrder(t *testing.T) {
	p, s := stages()
	s.Level = 2
	list := p.Rank(s)
	require.Len(t, list, 3)
	assert.Equal(t, 2, list[0].Check)
	assert.NotContains(t, list[0].Reasons, Order)
	assert.Equal(t, []Reason{Tells, Proves, Here, Shortest}, list[0].Reasons)
}

// stages is a case with one check each on the wheels, raised and with the pan off.
func stages() (*Problem, State) {
	p, s := SingleFault([]float64{0.05, 0.15, 0.8}, []float64{10, 10, 2})
	p.Levels = []Level{{}, {Open: 8, Close: 5}, {Open: 30, Close: 35}}
	for i := range p.Checks {
		p.Checks[i].Levels, p.Checks[i].Stage = []int{i}, i
	}
	return p, s
}

// The order in which the findings were made, which shows in the order of the lists
// and in the last digits of the weights, must not show in the ranking.
func TestOrderOfFindingsDoesNotMatter(t *testing.T) {
	for seed := range uint64(10) {
		p, s := workshop(seed, 40, 40, 150)
		s.Done, s.Refused, s.Proved = []int{1, 5, 7}, []int{2, 3}, []int{4, 9}
		want, wantOpen := p.Rank(s), p.WhileOpen(s)
		r := rand.New(rand.NewPCG(seed, 6))
		for range 3 {
			other := State{Level: s.Level, Done: slices.Clone(s.Done), Refused: slices.Clone(s.Refused), Proved: slices.Clone(s.Proved)}
			for _, sc := range s.Scenarios {
				f := slices.Clone(sc.Faults)
				slices.Reverse(f)
				other.Scenarios = append(other.Scenarios, infer.Scenario{Faults: f, Weight: sc.Weight * 0.1 * (1 + 1e-15*r.Float64())})
			}
			r.Shuffle(len(other.Scenarios), func(i, j int) {
				other.Scenarios[i], other.Scenarios[j] = other.Scenarios[j], other.Scenarios[i]
			})
			slices.Reverse(other.Done)
			slices.Reverse(other.Refused)
			slices.Reverse(other.Proved)
			assert.Equal(t, want, p.Rank(other), "seed %d", seed)
			assert.Equal(t, wantOpen, p.WhileOpen(other), "seed %d", seed)
		}
	}
}

func TestNothingToDo(t *testing.T) {
	p, s := stages()
	one := []infer.Scenario{{Faults: []int{2}, Weight: 1}}
	tests := []struct {
		name string
		p    *Problem
		s    State
	}{
		{"no scenarios", p, State{}},
		{"no weight", p, State{Scenarios: []infer.Scenario{{Faults: []int{0}, Weight: 0}}}},
		{"weights without meaning", p, State{Scenarios: []infer.Scenario{{Faults: []int{0}, Weight: math.NaN()}, {Faults: []int{1}, Weight: math.Inf(1)}, {Faults: []int{1}, Weight: -1}}}},
		{"nothing wrong", p, State{Scenarios: []infer.Scenario{{Weight: 1}}}},
		{"all proved", p, State{Proved: []int{2}, Scenarios: one}},
		{"all checks done", p, State{Done: []int{0, 1, 2}, Scenarios: s.Scenarios}},
		{"all checks refused", p, State{Refused: []int{2, 1, 0}, Scenarios: s.Scenarios}},
		{"no check for the fault", p, State{Scenarios: []infer.Scenario{{Faults: []int{77}, Weight: 1}}}},
		{"level out of reach", &Problem{Levels: []Level{{}, {Open: math.Inf(1)}, {Open: 1}}, Checks: p.Checks[2:]}, State{Scenarios: one}},
		{"no levels", &Problem{Checks: p.Checks}, s},
		{"no checks", &Problem{Levels: p.Levels}, s},
		{"level outside the chain", &Problem{Levels: p.Levels[:1], Checks: p.Checks[2:]}, State{Scenarios: one}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Empty(t, tt.p.Rank(tt.s))
			assert.Empty(t, tt.p.WhileOpen(tt.s))
			assert.Zero(t, tt.p.Expected(tt.p.Next, tt.s))
			m, d := tt.p.Simulated(tt.p.Next, tt.s, 10, 1)
			assert.Zero(t, m)
			assert.Zero(t, d)
			j, policy, err := Optimum(tt.p, tt.s, 1000)
			require.NoError(t, err)
			assert.Zero(t, j)
			_, _, ok := policy(tt.s)
			assert.False(t, ok)
			assert.NotEqual(t, GoesOn, tt.p.Compile(tt.s, Limits{}).End)
		})
	}
}

func TestSuggestionFigures(t *testing.T) {
	p, s := stages()
	s.Refused = []int{0}
	g := p.Rank(s)[0]
	assert.Equal(t, 1, g.Level)
	assert.Equal(t, 8.0, g.Travel)
	assert.Equal(t, 18.0, g.Minutes)
	assert.InDelta(t, 0.15, g.Proof, 1e-6)
	// Binary entropy of 0.15: 0.6098 bits.
	assert.InDelta(t, 0.6098, g.Bits, 0.5e-4)
	assert.InDelta(t, 0.6098/18, g.Rate, 0.5e-5)
	// Then the pan: 30 and 2 minutes, unless it was the gauge's fault.
	assert.InDelta(t, 18+0.85*32, g.Expected, 1e-4)
}

func TestValidate(t *testing.T) {
	good := func() *Problem { p, _ := stages(); return p }
	tests := []struct {
		name  string
		spoil func(p *Problem)
		want  string
	}{
		{"minutes", func(p *Problem) { p.Checks[0].ID, p.Checks[0].Minutes = "fluid-level", -1 }, "plan: minutes of check fluid-level -1 is outside 0 to +Inf"},
		{"not a number", func(p *Problem) { p.Levels[1].Open = math.NaN() }, "plan: minutes to open level 1 NaN is outside 0 to +Inf"},
		{"closing", func(p *Problem) { p.Levels[2].Close = -3 }, "plan: minutes to close level 2 -3 is outside 0 to +Inf"},
		{"level", func(p *Problem) { p.Checks[1].Levels = []int{3} }, "plan: level of check  3 is outside 0 to 2"},
		{"strength", func(p *Problem) { p.Checks[1].Observations[0].Outcomes[0].Sign.Causes[0].Strength = 1.5 }, "plan: strength in check  1.5 is outside 0 to 1"},
		{"leak", func(p *Problem) { p.Checks[1].Observations[0].Outcomes[0].Sign.Leak = -0.5 }, "plan: leak in check  -0.5 is outside 0 to 1"},
		{"outcomes", func(p *Problem) { p.Checks[1].Observations[0].Outcomes = nil }, "plan: outcomes in check  0 is outside 1 to +Inf"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := good()
			require.NoError(t, p.Validate())
			tt.spoil(p)
			err := p.Validate()
			var out *RangeError
			require.ErrorAs(t, err, &out)
			assert.EqualError(t, err, tt.want)
		})
	}
}

func TestTravel(t *testing.T) {
	p := &Problem{Levels: []Level{{}, {Open: 8, Close: 5}, {Open: 5, Close: 6}, {Open: 30, Close: 35}}}
	assert.Equal(t, 43.0, p.Travel(0, 3))
	assert.Equal(t, 46.0, p.Travel(3, 0))
	assert.Equal(t, 5.0, p.Travel(1, 2))
	assert.Zero(t, p.Travel(2, 2))
	assert.True(t, math.IsInf(p.Travel(0, 4), 1))
	assert.True(t, math.IsInf(p.Travel(-1, 2), 1))
}

func TestTooLarge(t *testing.T) {
	p, s := workshop(1, 20, 30, 40)
	_, _, err := Optimum(p, s, 100)
	require.ErrorIs(t, err, ErrTooLarge)
	p, s = workshop(1, 20, 65, 40)
	_, _, err = Optimum(p, s, 100)
	require.ErrorIs(t, err, ErrTooLarge)
}

// FuzzRank makes problems of any figures at all: nothing may panic, and what is
// suggested must have a meaning.
func FuzzRank(f *testing.F) {
	f.Add(uint64(1), 3.0, 0.5, 1.0, 0, 1)
	f.Add(uint64(2), math.NaN(), 2.0, -1.0, 7, -3)
	f.Add(uint64(3), math.Inf(1), math.NaN(), math.Inf(1), -1, 99)
	f.Add(uint64(4), 1e308, 1e-320, 1e308, 2, 2)
	f.Fuzz(func(t *testing.T, seed uint64, minutes, strength, weight float64, level, fault int) {
		p, s := instance(seed, 4, 6)
		r := rand.New(rand.NewPCG(seed, 7))
		p.Goal = Goal(r.IntN(3))
		p.Effort = 10_000
		p.Levels[r.IntN(3)] = Level{minutes, minutes}
		p.Levels[r.IntN(3)].Close = minutes
		p.Checks[r.IntN(6)].Minutes = minutes
		p.Checks[r.IntN(6)].Levels = []int{level, 0, level}
		p.Checks[r.IntN(6)].Stage = level
		o := p.Checks[r.IntN(6)].Observations[0].Outcomes
		o[0].Sign.Leak = strength
		o[0].Sign.Causes = append(o[0].Sign.Causes, infer.Cause{Fault: fault, Strength: strength})
		o[len(o)-1].Proves = []int{fault}
		p.Checks[r.IntN(6)].Observations = nil
		p.Checks[r.IntN(6)].Observations = make([]Observation, r.IntN(2))
		s.Scenarios[0].Weight = weight
		s.Scenarios[1].Faults = []int{fault, 2, fault}
		s.Level, s.Done, s.Refused, s.Proved = level, []int{fault}, []int{level}, []int{fault, fault}

		for _, g := range append(p.Rank(s), p.WhileOpen(s)...) {
			for _, v := range []float64{g.Travel, g.Minutes, g.Bits, g.Proof, g.Rate, g.Expected, g.Saved} {
				assert.False(t, math.IsNaN(v) || math.IsInf(v, 0) || v < 0, "%+v", g)
			}
			assert.LessOrEqual(t, g.Proof, 1+1e-6)
			assert.GreaterOrEqual(t, g.Expected, g.Minutes-1e-6)
			require.GreaterOrEqual(t, g.Level, 0)
			require.Less(t, g.Level, len(p.Levels))
			assert.Contains(t, p.Checks[g.Check].Levels, g.Level)
		}
		e := p.Expected(p.Next, s)
		assert.False(t, math.IsNaN(e) || math.IsInf(e, 0) || e < 0, "expected %v", e)
		j, _, err := Optimum(p, s, 1e5)
		require.NoError(t, err)
		assert.False(t, math.IsNaN(j) || math.IsInf(j, 0) || j < 0, "optimum %v", j)
		p.Compile(s, Limits{Depth: 3})
		_ = p.Validate()
	})
}
