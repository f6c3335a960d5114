package catalogue

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/unit"
)

func small() *Catalogue {
	return &Catalogue{
		Symptoms: []Symptom{{ID: "flare-2-3"}, {ID: "no-reverse"}},
		Faults:   []Fault{{ID: "coil-open", Versions: []unit.Version{unit.Light}}, {ID: "line-low"}},
		Checks: []Check{{ID: "coil-ohms", Observations: []Observation{{ID: "ohms", Outcomes: []Outcome{
			{ID: "open", Verdict: "open", Proves: []string{"coil-open"}},
			{ID: "meets", Verdict: "meets", Normal: true},
		}}}}},
		Cautions: []Caution{{ID: "hot-fluid"}},
		Access:   []AccessLevel{{ID: "wheels"}, {ID: "raised"}},
	}
}

func TestLookups(t *testing.T) {
	c := small()
	assert.Equal(t, 1, c.SymptomIndex("no-reverse"))
	assert.Same(t, &c.Symptoms[1], c.Symptom("no-reverse"))
	assert.Same(t, &c.Faults[0], c.Fault("coil-open"))
	assert.Same(t, &c.Checks[0], c.Check("coil-ohms"))
	assert.Same(t, &c.Cautions[0], c.Caution("hot-fluid"))
	assert.Equal(t, 1, c.LevelIndex("raised"))
	assert.Same(t, &c.Access[1], c.Level("raised"))

	assert.Nil(t, c.Symptom(""))
	assert.Nil(t, c.Fault("coil"))
	assert.Nil(t, c.Check("coil"))
	assert.Nil(t, c.Caution("cold-fluid"))
	assert.Nil(t, c.Level("roof"))

	o := c.Check("coil-ohms").Observation("ohms")
	require.NotNil(t, o)
	assert.Nil(t, c.Check("coil-ohms").Observation("volts"))
	assert.Same(t, &o.Outcomes[1], o.Outcome("meets"))
	assert.Nil(t, o.Outcome("short"))
	assert.Same(t, &o.Outcomes[0], o.Judged("open"))
	assert.Nil(t, o.Judged("short"))
}

func TestVersions(t *testing.T) {
	c := small()
	assert.True(t, c.Fault("coil-open").On(unit.Light))
	assert.False(t, c.Fault("coil-open").On(unit.Late))
	assert.True(t, c.Fault("line-low").On(unit.Late), "without versions all versions have it")
	assert.True(t, c.Check("coil-ohms").On(unit.Mid))
}

func TestProofs(t *testing.T) {
	c := small()
	proofs := c.Proofs("coil-open")
	require.Len(t, proofs, 1)
	assert.Equal(t, "coil-ohms", proofs[0].Check.ID)
	assert.Equal(t, "ohms", proofs[0].Observation.ID)
	assert.Equal(t, "open", proofs[0].Outcome.ID)
	assert.Empty(t, c.Proofs("line-low"))
}

func TestParts(t *testing.T) {
	c := Catalogue{Parts: []Part{{ID: "ring"}, {ID: "piston"}, {ID: "spring"}}}
	f := &Fault{Part: "piston", AlsoIn: []string{"ring", "nowhere"}}
	assert.Equal(t, []*Part{&c.Parts[1], &c.Parts[0]}, c.PartsOf(f))
	assert.Nil(t, c.Part("nowhere"))
	assert.True(t, f.SitsIn("ring"))
	assert.False(t, f.SitsIn("spring"))
	assert.False(t, (&Fault{}).SitsIn(""))
}

func TestScales(t *testing.T) {
	for i, l := range Levels {
		p, ok := l.Probability()
		assert.True(t, ok, l)
		assert.True(t, p > 0 && p < 1, l)
		if i > 0 {
			before, _ := Levels[i-1].Probability()
			assert.Less(t, p, before, "the levels run from certain to impossible")
		}
	}
	for i, f := range Frequencies {
		p, ok := f.Probability()
		assert.True(t, ok, f)
		if i > 0 {
			before, _ := Frequencies[i-1].Probability()
			assert.Less(t, p, before, "the frequencies run from common to rare")
		}
	}
	_, ok := Level("perhaps").Probability()
	assert.False(t, ok)
	_, ok = Frequency("perhaps").Probability()
	assert.False(t, ok)
}

// Getting from level to level is the sum of what is opened or closed on the way.
// Source: the definition, by hand.
func TestWhere(t *testing.T) {
	c := Catalogue{Access: []AccessLevel{{ID: "wheels"}, {ID: "raised", Open: 8, Close: 5}, {ID: "plug", Open: 5, Close: 5}, {ID: "pan", Open: 30, Close: 35}}}
	assert.Equal(t, 43.0, c.Travel("wheels", "pan"))
	assert.Equal(t, 45.0, c.Travel("pan", "wheels"))
	assert.Zero(t, c.Travel("plug", "plug"))

	k := &Check{Level: "raised", Also: []string{"plug"}}
	for here, want := range map[string]string{"wheels": "raised", "raised": "raised", "plug": "plug", "pan": "plug"} {
		assert.Equal(t, want, c.Where(k, here), here)
	}
}
