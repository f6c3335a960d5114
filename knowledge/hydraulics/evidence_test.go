package hydraulics_test

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/hydraulics"
)

// slight is a weight that moves odds by less than two to one.
const slight = 0.6931471805599453

// weight is what a fit says of a fault, in either sign.
func weight(fit hydraulics.Fit, id string) float64 {
	return fit.Evidence[id] + fit.Beside[id]
}

// Of two faults that are put in, both are found likelier, each by a sign of its
// own, and neither is excluded; a rival of either is not taken for less likely, and
// what has nothing to do with them is not taken for likelier.
func TestEvidenceOfTwoFaults(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for _, c := range []struct {
		a, b   hydraulics.Fault
		rivals []string // of either, in its circuit
	}{
		{hydraulics.Fault{ID: "rear-servo-leak", Severity: 0.95}, hydraulics.Fault{ID: "overdrive-piston-seal", Severity: 0.8}, []string{"overdrive-check-valve", "overdrive-feed-blocked"}},
		{hydraulics.Fault{ID: "rear-clutch-seals", Severity: 0.85}, hydraulics.Fault{ID: "governor-solenoid-stuck-closed", Severity: 1}, []string{"input-shaft-rings-worn"}},
		{hydraulics.Fault{ID: "front-clutch-seals", Severity: 0.9}, hydraulics.Fault{ID: "overdrive-feed-blocked", Severity: 0.8}, []string{"input-shaft-rings-worn"}},
		{hydraulics.Fault{ID: "filter-plugged", Severity: 0.72}, hydraulics.Fault{ID: "rear-servo-leak", Severity: 0.77}, nil},
	} {
		fit, err := hydraulics.Explain(context.Background(), simulated(t, r, 1.5, c.a, c.b), nil)
		require.NoError(t, err)
		both := []string{c.a.ID, c.b.ID}
		for _, id := range both {
			assert.Greater(t, weight(fit, id), 1.0, "%v: %s", both, id)
			assert.GreaterOrEqual(t, fit.Evidence[id], 0.0, "%v: %s is not excluded", both, id)
		}
		assert.True(t, fit.Evidence[c.a.ID] > 1 && fit.Beside[c.b.ID] > 1 || fit.Evidence[c.b.ID] > 1 && fit.Beside[c.a.ID] > 1, "%v: a sign for each", both)
		for _, id := range c.rivals {
			assert.Greater(t, weight(fit, id), -slight, "%v: %s could be it", both, id)
		}
		for _, id := range []string{"regulator-set-high", "boost-valve-stuck", "accumulator-spring-broken", "throttle-valve-stuck", "speed-sensor-faulty"} {
			if c.b.ID == "governor-solenoid-stuck-closed" && id == "speed-sensor-faulty" {
				continue // the same pressures
			}
			assert.Less(t, weight(fit, id), slight, "%v: %s", both, id)
		}
	}
}

// With one fault put in, whatever a pair with it might explain of the noise: what
// acts in other circuits gets next to nothing, at every gauge that reads well it is
// less likely, and one sign says it all.
func TestEvidenceOfOneFault(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	for _, c := range []struct {
		fault    hydraulics.Fault
		innocent []string
	}{
		{hydraulics.Fault{ID: "rear-clutch-seals", Severity: 0.9}, []string{"governor-solenoid-coil-open", "boost-valve-stuck", "overdrive-piston-seal", "rear-servo-leak", "regulator-set-high", "cooler-restricted", "accumulator-spring-broken"}},
		{hydraulics.Fault{ID: "overdrive-piston-seal", Severity: 0.8}, []string{"governor-solenoid-coil-open", "rear-clutch-seals", "front-clutch-seals", "rear-servo-leak", "pump-worn", "regulator-set-high", "separator-plate-superseded"}},
		{hydraulics.Fault{ID: "regulator-set-high", Severity: 0.6}, []string{"governor-solenoid-coil-open", "rear-clutch-seals", "front-clutch-seals", "rear-servo-leak", "overdrive-piston-seal", "cooler-restricted"}},
		{hydraulics.Fault{ID: "governor-solenoid-stuck-closed", Severity: 1}, []string{"rear-clutch-seals", "front-clutch-seals", "rear-servo-leak", "pump-worn", "regulator-set-high", "fluid-low"}},
	} {
		for range 2 {
			fit, err := hydraulics.Explain(context.Background(), simulated(t, r, 1.5, c.fault), nil)
			require.NoError(t, err)
			assert.Greater(t, fit.Evidence[c.fault.ID], 1.0, c.fault)
			assert.Empty(t, fit.Beside, c.fault)
			for _, id := range c.innocent {
				assert.Less(t, weight(fit, id), slight, "%v: %s", c.fault, id)
			}
		}
	}
	fit, err := hydraulics.Explain(context.Background(), simulated(t, r, 1.5, hydraulics.Fault{ID: "rear-clutch-seals", Severity: 0.9}), nil)
	require.NoError(t, err)
	for _, id := range []string{"governor-solenoid-coil-open", "boost-valve-stuck", "regulator-set-high"} {
		assert.Less(t, fit.Evidence[id], -2.0, "%s would show, whatever else is there", id)
	}
}

// The logs of healthy units accuse nobody, and no evidence is surer than its bound.
func TestEvidenceOfHealthyLogs(t *testing.T) {
	r := rand.New(rand.NewPCG(25, 26))
	for range 4 {
		fit, err := hydraulics.Explain(context.Background(), simulated(t, r, 1.5), nil)
		require.NoError(t, err)
		assert.Empty(t, fit.Best[0].Faults)
		assert.Empty(t, fit.Beside)
		for id, w := range fit.Evidence {
			assert.Less(t, w, slight, id)
			assert.GreaterOrEqual(t, w, -hydraulics.MostEvidence-1e-9, id)
		}
	}
}
