package practice

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func truck(t *testing.T, v unit.Version, seed uint32) *Truck {
	t.Helper()
	made, err := New(shipped.Catalogue(), v, seed)
	require.NoError(t, err)
	return made
}

func ids(faults []*catalogue.Fault) []string {
	out := []string{}
	for _, f := range faults {
		out = append(out, f.ID)
	}
	return out
}

// First outputs of SplitMix64 for the seed 1234567; source: Rosetta Code,
// "Pseudo-random numbers/Splitmix64", which quotes Vigna's splitmix64.c.
func TestMixIsSplitMix64(t *testing.T) {
	const step = uint64(0x9e3779b97f4a7c15)
	seed := uint64(1234567)
	for i, want := range []uint64{6457827717110365317, 3203168211198807973, 9817491932198370423, 4593380528125082431, 16408922859458223821} {
		assert.Equal(t, want, mix(seed+uint64(i)*step))
	}
}

// Source: binomial distribution; five standard deviations are passed once in
// about two million tries, and the draws are fixed.
func TestDrawsComeOutAsOftenAsTheySay(t *testing.T) {
	const n = 20_000
	for _, level := range catalogue.Levels {
		p, _ := level.Probability()
		hits := 0
		for i := range n {
			if draw(mix(uint64(i))).of("check").of(string(level)).happens(p) {
				hits++
			}
		}
		assert.InDelta(t, p*n, hits, 5*math.Sqrt(n*p*(1-p)), level)
	}
	assert.NotEqual(t, draw(1).of("a").of("b"), draw(1).of("b").of("a"))
	assert.NotEqual(t, draw(1).of("ab"), draw(1).of("a").of("b"))
}

func TestSameSeedSameTruck(t *testing.T) {
	differ := 0
	for seed := range uint32(50) {
		a, b := truck(t, unit.Late, seed), truck(t, unit.Late, seed)
		assert.Equal(t, a, b)
		if !assert.ObjectsAreEqual(ids(a.Faults), ids(truck(t, unit.Late, seed+1).Faults)) {
			differ++
		}
	}
	assert.Greater(t, differ, 40, "seeds side by side make other trucks")
}

// TestSameCheckSameOutcome does all checks in different orders: what each shows
// must not depend on what was done before.
func TestSameCheckSameOutcome(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for seed := range uint32(5) {
		x := truck(t, unit.Mid, seed)
		shown := map[string][]diagnosis.Entry{}
		for _, k := range x.Checks() {
			shown[k.ID] = x.Do(k.ID).Steps[0].Entries
		}
		for range 3 {
			var order []string
			for id := range shown {
				order = append(order, id)
			}
			r.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
			run := x.Do(order...)
			require.Len(t, run.Steps, len(shown))
			for _, s := range run.Steps {
				assert.Equal(t, shown[s.Check.ID], s.Entries, s.Check.ID)
			}
			assert.ElementsMatch(t, ids(x.Faults), ids(run.Proved()), "all checks prove all faults and nothing else")
		}
	}
}

func TestTrucksAreWorthWorkingOn(t *testing.T) {
	for _, v := range unit.Versions {
		for seed := range uint32(200) {
			x := truck(t, v, seed)
			assert.NotEmpty(t, x.Faults)
			assert.LessOrEqual(t, len(x.Faults), MostFaults)
			assert.LessOrEqual(t, len(x.Complaint), MostSymptoms)
			assert.Len(t, x.Case().Reports, len(x.Complaint))
			for _, f := range x.Faults {
				assert.True(t, f.On(v), "%s on %s", f.ID, v)
				assert.NotEmpty(t, x.Remains(without(ids(x.Faults), f.ID)), "%s does not show", f.ID)
			}
			assert.Empty(t, x.Remains(ids(x.Faults)))
			for _, y := range x.Complaint {
				assert.NotEmpty(t, y.By)
				assert.NotEmpty(t, y.Words)
			}
		}
	}
}

func without(list []string, id string) []string {
	var out []string
	for _, x := range list {
		if x != id {
			out = append(out, x)
		}
	}
	return out
}

// Common faults turn up more often than rare ones, or the catalogue's frequencies
// are not what decides.
func TestFrequentFaultsAreFrequent(t *testing.T) {
	c := shipped.Catalogue()
	seen, kinds := map[catalogue.Frequency]int{}, map[catalogue.Frequency]int{}
	for i := range c.Faults {
		kinds[c.Faults[i].Frequency]++
	}
	for seed := range uint32(1000) {
		for _, f := range truck(t, unit.Late, seed).Faults {
			seen[f.Frequency]++
		}
	}
	each := func(f catalogue.Frequency) float64 { return float64(seen[f]) / float64(kinds[f]) }
	assert.Greater(t, each(catalogue.Common), 1.5*each(catalogue.Occasional))
	assert.Greater(t, each(catalogue.Occasional), 1.5*each(catalogue.Uncommon))
}

func TestPlanProvesEverything(t *testing.T) {
	e := &diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	for _, seed := range []uint32{0, 4, 9, 12, 16, 18} {
		p := Follow(e, truck(t, unit.Late, seed))
		for steps := 0; !p.Over; steps++ {
			require.NoError(t, p.Advance())
			require.Less(t, steps, 100)
		}
		score := p.Score(ids(p.Proved()))
		assert.Empty(t, score.Missed, "seed %d", seed)
		assert.Empty(t, score.Wrong, "seed %d", seed)
		assert.Empty(t, score.Guessed, "seed %d", seed)
		assert.Len(t, p.Whys, len(p.Steps))
		again := p.Truck.Do()
		for _, s := range p.Steps {
			again.Do(s.Check.ID)
		}
		assert.Equal(t, again.Minutes, p.Minutes, "who does the same is charged the same")
		require.NoError(t, p.Advance())
		assert.Len(t, p.Steps, len(again.Steps), "it does nothing more once it is over")
	}
}

// small is a catalogue whose minutes can be added up in the head.
func small() *catalogue.Catalogue {
	proof := func(id, level string, minutes float64, fault string) catalogue.Check {
		return catalogue.Check{ID: id, Name: id, Level: level, Minutes: minutes, Observations: []catalogue.Observation{{
			ID: "seen", Outcomes: []catalogue.Outcome{
				{ID: "bad", Leak: catalogue.Never, Shows: []catalogue.Link{{ID: fault, Level: catalogue.Always}}, Proves: []string{fault}},
				{ID: "good", Normal: true},
			},
		}}}
	}
	fault := func(id string) catalogue.Fault {
		return catalogue.Fault{ID: id, Name: id, Frequency: catalogue.Common, Symptoms: []catalogue.Link{{ID: "slips", Level: catalogue.Always}}}
	}
	also := proof("c-look", "wheels", 3, "c")
	also.Also = []string{"pan"}
	late := proof("late-only", "wheels", 1, "a")
	late.Versions = []unit.Version{unit.Late}
	return &catalogue.Catalogue{
		Symptoms: []catalogue.Symptom{{ID: "slips", Name: "Slips"}},
		Faults:   []catalogue.Fault{fault("a"), fault("b"), fault("c")},
		Checks:   []catalogue.Check{proof("a-look", "raised", 4, "a"), proof("b-look", "pan", 10, "b"), also, late},
		Access:   []catalogue.AccessLevel{{ID: "wheels"}, {ID: "raised", Open: 8, Close: 5}, {ID: "pan", Open: 30, Close: 35}},
	}
}

// Minutes added up by hand: to the pan 8 + 30, the check 10; the look at c is done
// where the truck stands, 3; back up to raised 35, the check 4.
func TestMinutes(t *testing.T) {
	x := &Truck{Version: unit.Light, known: small()}
	x.Faults = []*catalogue.Fault{&x.known.Faults[0]}
	run := x.Do("b-look", "c-look", "a-look", "a-look", "late-only", "no-such")
	require.Len(t, run.Steps, 3)
	assert.Equal(t, []float64{48, 3, 39}, []float64{run.Steps[0].Minutes, run.Steps[1].Minutes, run.Steps[2].Minutes})
	assert.Equal(t, []float64{38, 0, 35}, []float64{run.Steps[0].Travel, run.Steps[1].Travel, run.Steps[2].Travel})
	assert.Equal(t, 90.0, run.Minutes)
	assert.Equal(t, "raised", run.Case.Level)
	assert.Equal(t, []string{"a"}, ids(run.Proved()))
	_, travel, minutes := run.Effort(x.known.Check("b-look"))
	assert.Equal(t, []float64{30, 40}, []float64{travel, minutes})
}

func TestScore(t *testing.T) {
	x := &Truck{Version: unit.Late, known: small()}
	x.Faults = []*catalogue.Fault{&x.known.Faults[0], &x.known.Faults[1]}
	x.Complaint = []Symptom{{Symptom: &x.known.Symptoms[0], By: x.Faults}}
	run := x.Do("a-look")
	for _, c := range []struct {
		called                        []string
		found, wrong, missed, guessed []string
		remains                       int
	}{
		{nil, []string{}, []string{}, []string{"a", "b"}, []string{}, 1},
		{[]string{"a"}, []string{"a"}, []string{}, []string{"b"}, []string{}, 1},
		{[]string{"b", "a"}, []string{"a", "b"}, []string{}, []string{}, []string{"b"}, 0},
		{[]string{"c", "a", "a", "no-such"}, []string{"a"}, []string{"c"}, []string{"b"}, []string{"c"}, 1},
	} {
		t.Run(fmt.Sprint(c.called), func(t *testing.T) {
			s := run.Score(c.called)
			assert.Equal(t, [][]string{c.found, c.wrong, c.missed, c.guessed},
				[][]string{ids(s.Found), ids(s.Wrong), ids(s.Missed), ids(s.Guessed)})
			assert.Len(t, x.Remains(c.called), c.remains)
		})
	}
}

func TestExplain(t *testing.T) {
	c := small()
	suspects := func(a, b, third float64) []diagnosis.Suspect {
		return []diagnosis.Suspect{{Fault: &c.Faults[0], Probability: a}, {Fault: &c.Faults[1], Probability: b}, {Fault: &c.Faults[2], Probability: third}}
	}
	before := &diagnosis.Answer{Ranked: suspects(0.5, 0.3, 0.20), Next: []diagnosis.Suggestion{{Check: &c.Checks[0]}, {Check: &c.Checks[1]}}}
	after := &diagnosis.Answer{Ranked: suspects(0.6, 0, 0.21)}
	got := Explain(before, after, "b-look")
	assert.Equal(t, "a-look", got.Plan.Check.ID)
	assert.Equal(t, "b-look", got.Own.Check.ID)
	assert.Equal(t, []Move{{&c.Faults[1], 0.3, 0}, {&c.Faults[0], 0.5, 0.6}}, got.Moved, "one point is not worth a word")
	assert.Nil(t, Explain(before, after, "c-look").Own)
	assert.Nil(t, Explain(after, after, "c-look").Plan)
}

func TestNoTruckFromAnEmptyCatalogue(t *testing.T) {
	_, err := New(&catalogue.Catalogue{Access: small().Access}, unit.Late, 1)
	assert.ErrorIs(t, err, ErrNoTruck)
}
