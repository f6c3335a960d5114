package diagnosis

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
	sheet "provingbench/knowledge/unit/shipped"
)

// TestBranches holds the branches against the law of total probability: what is
// believed of a fault after each way a check can turn out, weighed by how likely
// that way is, is what was believed before.
func TestBranches(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	for _, x := range []struct{ symptom, check string }{
		{"no-reverse", "linkage-adjustment"}, {"launches-in-third", "unplug-test"}, {"flare-2-3", "fluid-condition"}, {"runs-hot", "cooler-flow-test"},
	} {
		c := Case{Version: "late", Build: "stock", Level: "wheels", Reports: []Report{{Symptom: x.symptom}}}
		before, err := e.Answer(c)
		require.NoError(t, err)
		branches, err := e.Branches(c, x.check, 0)
		require.NoError(t, err)
		require.NotEmpty(t, branches)
		sum := 0.0
		after := map[string]float64{}
		for _, b := range branches {
			sum += b.Probability
			for _, s := range b.Standing.Ranked {
				after[s.Fault.ID] += b.Probability * s.Probability
			}
		}
		assert.InDelta(t, 1, sum, 1e-9, "%s: something is seen", x.check)
		for _, s := range before.Ranked {
			assert.InDelta(t, s.Probability, after[s.Fault.ID], 1e-9, "%s: %s", x.check, s.Fault.ID)
		}
	}
}

func TestBranchesOfNothing(t *testing.T) {
	e := &Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	c := Case{Version: "light", Build: "stock", Level: "wheels", Reports: []Report{{Symptom: "no-reverse"}}}
	none, err := e.Branches(c, "throttle-actuator", 0)
	require.NoError(t, err)
	assert.Empty(t, none, "a light truck has no motor")
	_, err = e.Branches(c, "no-such", 0)
	var input *InputError
	assert.ErrorAs(t, err, &input)
}
