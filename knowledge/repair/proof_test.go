package repair

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
)

func TestFinalChecksExist(t *testing.T) {
	for _, id := range Final {
		require.NotNil(t, shipped.Catalogue().Check(id), id)
	}
}

func TestNothingIsShownByItself(t *testing.T) {
	c := shipped.Catalogue()
	none := func(string) State { return NotDone }
	no := func(string) bool { return false }
	for i := range c.Faults {
		assert.False(t, Shown(&c.Faults[i], none), c.Faults[i].ID)
	}
	proved := faults(t, "governor-solenoid-coil-open")
	left, checks := Missing(proved, none, no)
	assert.Equal(t, proved, left)
	assert.Equal(t, Final, checks)
}

func TestOneBadCheckSpoilsIt(t *testing.T) {
	f := faults(t, "governor-solenoid-coil-open")[0]
	require.GreaterOrEqual(t, len(f.Repair.Proof), 2)
	seen := map[string]State{f.Repair.Proof[0]: Good}
	state := func(id string) State { return seen[id] }
	assert.True(t, Shown(f, state))
	seen[f.Repair.Proof[1]] = Unclear
	assert.True(t, Shown(f, state), "what is too close to call says nothing")
	seen[f.Repair.Proof[1]] = Bad
	assert.False(t, Shown(f, state))
}

func TestJobEndsWhenAllIsGoodOrWaived(t *testing.T) {
	proved := faults(t, "governor-solenoid-coil-open", "fluid-low")
	waived := map[string]bool{"fluid-low": true, "gear-road-test": true}
	seen := map[string]State{proved[0].Repair.Proof[0]: Good, "fluid-level": Good, "leak-inspection": Good}
	left, checks := Missing(proved, func(id string) State { return seen[id] }, func(id string) bool { return waived[id] })
	assert.Empty(t, left)
	assert.Empty(t, checks)
	seen["leak-inspection"] = Bad
	_, checks = Missing(proved, func(id string) State { return seen[id] }, func(id string) bool { return waived[id] })
	assert.Equal(t, []string{"leak-inspection"}, checks)
}
