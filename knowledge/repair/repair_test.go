package repair

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/catalogue/shipped"
)

func faults(t *testing.T, ids ...string) []*catalogue.Fault {
	t.Helper()
	var out []*catalogue.Fault
	for _, id := range ids {
		f := shipped.Catalogue().Fault(id)
		require.NotNil(t, f, id)
		out = append(out, f)
	}
	return out
}

func names(parts []Part) []string {
	var out []string
	for _, p := range parts {
		out = append(out, p.Name)
	}
	return out
}

// TestEveryFaultGetsAPlan: whatever is proved, there is work, and something that
// shows that it is done.
func TestEveryFaultGetsAPlan(t *testing.T) {
	c := shipped.Catalogue()
	for i := range c.Faults {
		f := &c.Faults[i]
		p := Make(c, []*catalogue.Fault{f})
		assert.NotEmpty(t, p.Tasks, f.ID)
		assert.NotEmpty(t, p.Proof, f.ID)
		for _, text := range f.Repair.Renew {
			assert.Contains(t, names(p.Parts), text, f.ID)
		}
		for _, x := range f.Repair.Together {
			assert.Contains(t, names(p.Parts), x.Part, f.ID)
		}
		for _, x := range p.Parts {
			assert.NotEmpty(t, x.Quantity, x.Name)
		}
	}
}

// TestOrderOfWork holds the plan against a fact of the trade: a unit is put
// together from the inside out, and the settings of a level come after its parts
// (common practice, no source).
func TestOrderOfWork(t *testing.T) {
	c := shipped.Catalogue()
	p := Make(c, faults(t, "throttle-cable-loose", "governor-solenoid-coil-open", "valve-body-warped", "front-clutch-worn"))
	for i := 1; i < len(p.Tasks); i++ {
		a, b := p.Tasks[i-1], p.Tasks[i]
		da, db := c.LevelIndex(a.Level.ID), c.LevelIndex(b.Level.ID)
		assert.GreaterOrEqual(t, da, db, "%s before %s", a.Text, b.Text)
		if da == db {
			assert.LessOrEqual(t, slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind))
		}
	}
	for i := 1; i < len(p.Proof); i++ {
		assert.LessOrEqual(t, c.LevelIndex(p.Proof[i-1].Level), c.LevelIndex(p.Proof[i].Level))
	}
}

// TestSolenoidAndSensorGoTogether is a fact of the trade (common practice, no
// source): who renews the governor solenoid renews its sensor with it. Proved
// both, each is on the list once.
func TestSolenoidAndSensorGoTogether(t *testing.T) {
	p := Make(shipped.Catalogue(), faults(t, "governor-solenoid-coil-open"))
	assert.Contains(t, names(p.Parts), "governor pressure sensor")
	p = Make(shipped.Catalogue(), faults(t, "governor-solenoid-coil-open", "governor-solenoid-coil-shorted"))
	seen := map[string]int{}
	for _, x := range p.Parts {
		seen[x.Key]++
	}
	for key, n := range seen {
		assert.Equal(t, 1, n, key)
	}
	for _, x := range p.Parts {
		if x.Name == "governor pressure solenoid" {
			assert.Len(t, x.For, 2)
		}
	}
}

func TestQuantity(t *testing.T) {
	for name, want := range map[string]string{
		"governor pressure solenoid": "1", "front clutch discs and steels": "1 set", "fluid": "as the fill takes", "filter and fluid": "as the fill takes",
		"piston with rods": "1", "strut and anchor": "1", "front servo piston rings": "1 set", "": "1", "pan gasket": "1",
	} {
		assert.Equal(t, want, quantity(name), name)
	}
}

func TestNothingProvedNothingToDo(t *testing.T) {
	p := Make(shipped.Catalogue(), nil)
	assert.Empty(t, p.Tasks)
	assert.Empty(t, p.Parts)
	assert.Empty(t, p.Proof)
	assert.Empty(t, p.Changes)
}
