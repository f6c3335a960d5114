package infer

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// enumerate computes the posterior the slow way, by trying every set of faults
// and, for each sign, every way in which its causes can have acted. It shares
// nothing with the chain.
type enumeration struct {
	marginal  []float64
	evidence  float64
	explained float64   // A / (A + U) of Explained
	single    []float64 // the same by finding
}

func enumerate(priors []float64, findings []Finding) enumeration {
	n := len(priors)
	proved := map[int]bool{}
	for _, f := range findings {
		for _, i := range f.Proves {
			proved[i] = true
		}
	}
	e := enumeration{marginal: make([]float64, n), single: make([]float64, len(findings))}
	var as, us float64
	singleA, singleU := make([]float64, len(findings)), make([]float64, len(findings))
	for set := range 1 << n {
		weight := 1.0
		for i, p := range priors {
			in := set>>i&1 == 1
			switch {
			case proved[i] && !in:
				weight = 0
			case proved[i]:
			case in:
				weight *= p
			default:
				weight *= 1 - p
			}
		}
		for _, f := range findings {
			for _, i := range f.RulesOut {
				if set>>i&1 == 1 {
					weight = 0
				}
			}
			for _, s := range f.Absent {
				weight *= act(s, set, proved).silent
			}
		}
		all := weight
		var acted []acts
		for _, f := range findings {
			if f.Present != nil {
				a := act(*f.Present, set, proved)
				all *= 1 - a.silent
				acted = append(acted, a)
			} else {
				acted = append(acted, acts{silent: 0})
			}
		}
		// settle weighs the worlds in which the chosen findings are A or U.
		settle := func(chosen func(k int) bool) (a, u float64) {
			a, clean := weight, weight
			for k, f := range findings {
				switch {
				case f.Present == nil:
				case chosen(k):
					a *= acted[k].proved
					clean *= acted[k].proved + acted[k].leak
				default:
					a *= 1 - acted[k].silent
					clean *= 1 - acted[k].silent
				}
			}
			return a, all - clean
		}
		a, u := settle(func(k int) bool { return findings[k].Reported })
		as, us = as+a, us+u
		for k := range findings {
			a, u := settle(func(j int) bool { return j == k })
			singleA[k], singleU[k] = singleA[k]+a, singleU[k]+u
		}
		e.evidence += all
		for i := range n {
			if set>>i&1 == 1 {
				e.marginal[i] += all
			}
		}
	}
	for i := range e.marginal {
		e.marginal[i] /= e.evidence
	}
	ratio := func(a, u float64) float64 {
		if a == 0 {
			return 0
		}
		return a / (a + u)
	}
	e.explained = ratio(as, us)
	for k := range e.single {
		e.single[k] = ratio(singleA[k], singleU[k])
	}
	return e
}

// acts is who produced a sign: nobody; proved faults and perhaps the leak; the
// leak alone. What is missing to 1 is the worlds in which an unproved fault did.
type acts struct{ silent, proved, leak float64 }

// act sums over every way in which the leak and the present causes of a sign
// can have acted.
func act(s Sign, set int, proved map[int]bool) acts {
	type cause struct {
		strength       float64
		proved, isLeak bool
	}
	causes := []cause{{s.Leak, false, true}}
	for _, c := range s.Causes {
		if set>>c.Fault&1 == 1 {
			causes = append(causes, cause{c.Strength, proved[c.Fault], false})
		}
	}
	var a acts
	for acted := range 1 << len(causes) {
		p, byProved, byOther, byLeak := 1.0, false, false, false
		for k, c := range causes {
			if acted>>k&1 == 0 {
				p *= 1 - c.strength
				continue
			}
			p *= c.strength
			byProved = byProved || c.proved
			byLeak = byLeak || c.isLeak
			byOther = byOther || !c.proved && !c.isLeak
		}
		switch {
		case byOther:
		case byProved:
			a.proved += p
		case byLeak:
			a.leak += p
		default:
			a.silent += p
		}
	}
	return a
}

func randomNetwork(r *rand.Rand) ([]float64, []Finding) {
	n := 1 + r.IntN(8)
	priors := make([]float64, n)
	for i := range priors {
		priors[i] = 0.001 + 0.5*r.Float64()*r.Float64()
	}
	sign := func() Sign {
		s := Sign{Leak: 0.0005 + 0.1*r.Float64()}
		for i := range n {
			if r.IntN(2) == 0 {
				s.Causes = append(s.Causes, Cause{Fault: i, Strength: r.Float64()})
			}
		}
		return s
	}
	findings := make([]Finding, 1+r.IntN(6))
	for k := range findings {
		f := Finding{ID: fmt.Sprint(k)}
		if r.IntN(4) > 0 {
			s := sign()
			f.Present = &s
			f.Reported = r.IntN(2) == 0
		}
		for range r.IntN(3) {
			f.Absent = append(f.Absent, sign())
		}
		findings[k] = f
	}
	order := r.Perm(n)
	for k := range r.IntN(min(n, 3) + 1) {
		f := &findings[r.IntN(len(findings))]
		if r.IntN(3) > 0 {
			f.Proves = append(f.Proves, order[k])
		} else {
			f.RulesOut = append(f.RulesOut, order[k])
		}
	}
	return priors, findings
}

// The reference is enumeration of all fault sets and all ways the causes acted.
func TestPosteriorEqualsEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	for trial := range 400 {
		priors, findings := randomNetwork(r)
		network, err := New(priors)
		require.NoError(t, err)
		want := enumerate(priors, findings)
		got, err := network.Posterior(findings)
		require.NoError(t, err, "trial %d", trial)
		require.False(t, got.Approximate)
		for i := range priors {
			require.InDelta(t, want.marginal[i], got.Marginal[i], 1e-9, "trial %d fault %d", trial, i)
		}
		require.InDelta(t, math.Log(want.evidence), got.LogEvidence, 1e-9, "trial %d", trial)
		explained, err := got.Explained()
		require.NoError(t, err)
		require.InDelta(t, want.explained, explained, 1e-9, "trial %d explained", trial)
		for k := range findings {
			if findings[k].Present == nil {
				continue
			}
			single, err := got.ExplainedFinding(k)
			require.NoError(t, err)
			require.InDelta(t, want.single[k], single, 1e-9, "trial %d finding %d", trial, k)
		}
	}
}

// The reference is the identity that evidence is a set, not a sequence.
func TestOrderOfFindingsDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 100 {
		priors, findings := randomNetwork(r)
		network, err := New(priors)
		require.NoError(t, err)
		want, err := network.Posterior(findings)
		require.NoError(t, err)
		r.Shuffle(len(findings), func(a, b int) { findings[a], findings[b] = findings[b], findings[a] })
		got, err := network.Posterior(findings)
		require.NoError(t, err)
		assert.InDeltaSlice(t, want.Marginal, got.Marginal, 1e-12)
	}
}

// The reference is enumeration without the finding.
func TestAccountEqualsEnumeration(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 17))
	shifts := 0
	for range 100 {
		priors, findings := randomNetwork(r)
		network, err := New(priors)
		require.NoError(t, err)
		got, err := network.Posterior(findings)
		require.NoError(t, err)
		faults := make([]int, len(priors))
		for i := range faults {
			faults[i] = i
		}
		account, err := got.Account(faults)
		require.NoError(t, err)
		all := enumerate(priors, findings)
		for _, s := range account {
			shifts++
			without := enumerate(priors, slices.Delete(slices.Clone(findings), s.Finding, s.Finding+1))
			require.InDelta(t, without.marginal[s.Fault], s.Without, 1e-9)
			want := math.Log2(odds(all.marginal[s.Fault]) / odds(without.marginal[s.Fault]))
			require.InDelta(t, want, s.Bits, 1e-6)
		}
	}
	assert.Greater(t, shifts, 300, "the account must not be empty")
}

// The reference is the exact marginal: sets taken at even steps must show each
// fault as often as the posterior says.
func TestScenariosFollowThePosterior(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 23))
	for range 60 {
		priors, findings := randomNetwork(r)
		network, err := New(priors)
		require.NoError(t, err)
		p, err := network.Posterior(findings)
		require.NoError(t, err)
		scenarios := p.Scenarios(20000)
		share := make([]float64, len(priors))
		total := 0.0
		for _, s := range scenarios {
			total += s.Weight
			assert.True(t, slices.IsSorted(s.Faults))
			for _, i := range s.Faults {
				share[i] += s.Weight
			}
		}
		assert.InDelta(t, 1, total, 1e-9)
		for _, st := range p.chain.steps {
			if st.kind == takeFault {
				assert.InDelta(t, p.Marginal[st.fault], share[st.fault], 0.01)
			}
		}
		assert.Equal(t, scenarios, p.Scenarios(20000), "the same findings give the same sets")
	}
}

// Medical diagnosis by hand: two causes, one sign, Bayes' rule written out.
func TestTwoCausesByHand(t *testing.T) {
	network, err := New([]float64{0.1, 0.2})
	require.NoError(t, err)
	sign := Sign{Leak: 0, Causes: []Cause{{0, 0.5}, {1, 0.8}}}
	p, err := network.Posterior([]Finding{{ID: "s", Present: &sign}})
	require.NoError(t, err)
	// P(s) = .1·.8·.5 + .9·.2·.8 + .1·.2·(1-.5·.2) = .04 + .144 + .018 = .202
	assert.InDelta(t, (0.04+0.018)/0.202, p.Marginal[0], 1e-12)
	assert.InDelta(t, (0.144+0.018)/0.202, p.Marginal[1], 1e-12)
	assert.InDelta(t, math.Log(0.202), p.LogEvidence, 1e-12)
}

func TestBadInput(t *testing.T) {
	for _, priors := range [][]float64{{-0.1}, {1}, {math.NaN()}, {0.5, 2}} {
		_, err := New(priors)
		var r *RangeError
		require.ErrorAs(t, err, &r)
	}
	network, err := New([]float64{0.1, 0.1})
	require.NoError(t, err)
	tests := []struct {
		name     string
		findings []Finding
		want     string
	}{
		{"fault index too high", []Finding{{ID: "a", Present: &Sign{Causes: []Cause{{2, 0.5}}}}}, "infer: fault index in finding a 2 is outside its range"},
		{"strength above one", []Finding{{ID: "a", Absent: []Sign{{Causes: []Cause{{0, 1.5}}}}}}, "infer: strength in finding a 1.5 is outside its range"},
		{"leak not a number", []Finding{{ID: "a", Present: &Sign{Leak: math.NaN()}}}, "infer: leak in finding a NaN is outside its range"},
		{"proved and ruled out", []Finding{{ID: "a", Proves: []int{1}}, {ID: "b", RulesOut: []int{1}}}, "infer: fault 1 is proved by a and ruled out by b"},
		{"sign without a cause", []Finding{{ID: "a", Present: &Sign{}}}, ErrImpossible.Error()},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := network.Posterior(test.findings)
			assert.EqualError(t, err, test.want)
		})
	}
}

// Forty entangled signs must still be answered, and say that they were thinned.
func TestTooEntangled(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	priors := make([]float64, 60)
	for i := range priors {
		priors[i] = 0.05
	}
	network, err := New(priors)
	require.NoError(t, err)
	var findings []Finding
	for k := range 40 {
		s := Sign{Leak: 0.01}
		for i := range priors {
			if r.IntN(2) == 0 {
				s.Causes = append(s.Causes, Cause{i, 0.5})
			}
		}
		findings = append(findings, Finding{ID: fmt.Sprint(k), Present: &s})
	}
	p, err := network.Posterior(findings)
	require.NoError(t, err)
	assert.True(t, p.Approximate)
	for _, m := range p.Marginal {
		assert.False(t, math.IsNaN(m))
		assert.GreaterOrEqual(t, m, 0.0)
		assert.LessOrEqual(t, m, 1.0)
	}
}
