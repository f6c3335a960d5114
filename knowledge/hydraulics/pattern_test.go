package hydraulics_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/unit"
	"provingbench/knowledge/unit/shipped"
)

// The trade's list of failing patterns and what each points to.
// Source: maker's handbook, 2003: hydraulic pressure tests, for the conditions;
// what they point to is from memory of the trade and agrees with the application
// chart (maker's handbook, late version).
func TestTradePatterns(t *testing.T) {
	const (
		manual1  = "line-pressure-manual-1/line-idle"
		servo1   = "line-pressure-manual-1/servo-difference"
		manual2  = "line-pressure-manual-2/line-idle"
		release2 = "line-pressure-manual-2/servo-in-second"
		third    = "line-pressure-drive/line-idle"
		release3 = "line-pressure-drive/servo-difference"
		reverse  = "line-pressure-reverse/reverse-idle"
		full     = "line-pressure-reverse/reverse-full"
		standing = "governor-pressure/standstill"
		rolling  = "governor-pressure/at-speed"
		fourth   = "overdrive-pressure/closed"
		cooler   = "cooler-flow-test/flow"
	)
	everywhere := map[string]string{manual1: "below", manual2: "below", third: "below", reverse: "below"}
	for _, c := range []struct {
		pattern string
		fault   hydraulics.Fault
		reads   map[string]string
	}{
		{"right in R, low in D, 2 and 1: rear clutch", hydraulics.Fault{ID: "rear-clutch-seals", Severity: 1},
			map[string]string{reverse: "meets", third: "below", manual2: "below", manual1: "below"}},
		{"the same from the rings of the input shaft", hydraulics.Fault{ID: "input-shaft-rings-worn", Mode: "shaft", Severity: 1},
			map[string]string{reverse: "meets", third: "below", manual2: "below", manual1: "below"}},
		{"low in 4th only: overdrive piston seal", hydraulics.Fault{ID: "overdrive-piston-seal", Severity: 0.9},
			map[string]string{fourth: "below", third: "meets", reverse: "meets", manual2: "meets", manual1: "meets"}},
		{"low in 4th only: overdrive check valve", hydraulics.Fault{ID: "overdrive-check-valve", Severity: 0.7},
			map[string]string{fourth: "below", third: "meets", reverse: "meets", manual2: "meets", manual1: "meets"}},
		{"right in 1 and 2, low in D and R: front clutch", hydraulics.Fault{ID: "front-clutch-seals", Severity: 1},
			map[string]string{manual1: "meets", manual2: "meets", third: "below", reverse: "below", release3: "above"}},
		{"right in 2, low in R and 1: rear servo", hydraulics.Fault{ID: "rear-servo-leak", Severity: 1},
			map[string]string{manual2: "meets", reverse: "below", servo1: "above", manual1: "below", third: "meets"}},
		{"front servo pressure shows in 2: servo leak", hydraulics.Fault{ID: "front-servo-leak", Mode: "across", Severity: 1},
			map[string]string{release2: "above"}},
		{"low everywhere: filter", hydraulics.Fault{ID: "filter-plugged", Severity: 1}, everywhere},
		{"low everywhere: low fluid", hydraulics.Fault{ID: "fluid-low", Severity: 1}, everywhere},
		{"low everywhere: stuck regulator", hydraulics.Fault{ID: "regulator-stuck-low", Severity: 0.5}, everywhere},
		{"low everywhere: worn pump", hydraulics.Fault{ID: "pump-worn", Severity: 1}, everywhere},
		{"governor high at idle: governor solenoid", hydraulics.Fault{ID: "governor-solenoid-stuck-open", Severity: 0.5},
			map[string]string{standing: "above", third: "meets"}},
		{"governor high at idle: no current", hydraulics.Fault{ID: "governor-solenoid-coil-open", Severity: 1},
			map[string]string{standing: "above", third: "meets"}},
		{"governor low at all speeds: governor solenoid", hydraulics.Fault{ID: "governor-solenoid-stuck-closed", Severity: 1},
			map[string]string{standing: "meets", rolling: "below"}},
		{"governor low at all speeds: no speed signal", hydraulics.Fault{ID: "speed-sensor-faulty", Severity: 1},
			map[string]string{rolling: "below"}},
		{"lubrication low: cooler or its lines", hydraulics.Fault{ID: "cooler-restricted", Severity: 1},
			map[string]string{cooler: "below", third: "meets"}},
		{"line high: sticking regulator", hydraulics.Fault{ID: "regulator-stuck-high", Severity: 1},
			map[string]string{manual1: "above", manual2: "above", third: "above"}},
		{"line high: throttle valve held open", hydraulics.Fault{ID: "throttle-lever-sticking", Severity: 1},
			map[string]string{manual2: "above", third: "above"}},
		{"rises not with the lever: throttle valve", hydraulics.Fault{ID: "throttle-valve-stuck", Mode: "low", Severity: 1},
			map[string]string{reverse: "meets", full: "below"}},
	} {
		for _, version := range []unit.Version{unit.Light, unit.Late} {
			sheet := unit.Sheet{Book: shipped.Book(), Version: version, Build: unit.Stock}
			for _, g := range hydraulics.Gauges {
				want, ok := c.reads[g.Check+"/"+g.Observation]
				if !ok {
					continue
				}
				v, _, err := g.Read(version, unit.Stock, hydraulics.Hot, c.fault)
				require.NoError(t, err, "%s, %s", c.pattern, g.Observation)
				assert.Equal(t, want, verdict(sheet.Limits(g.Acceptance), g, v), "%s: %s/%s reads %s", c.pattern, g.Check, g.Observation, show(v))
			}
		}
	}
}
