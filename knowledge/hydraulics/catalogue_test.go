package hydraulics_test

import (
	"fmt"
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	cat "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	"provingbench/knowledge/unit/shipped"
)

// verdict is what the sheet says of a reading: below or above what every source
// allows, or meets.
func verdict(limits []unit.Limit, g hydraulics.Gauge, v quantity.Value) string {
	below, above, any := true, true, false
	for _, l := range limits {
		if !applies(l.Condition, g) {
			continue
		}
		any = true
		below = below && l.Min != nil && v.SI < l.Min.SI
		above = above && l.Max != nil && v.SI > l.Max.SI
	}
	switch {
	case any && below:
		return "below"
	case any && above:
		return "above"
	}
	return "meets"
}

// shown computes which outcome each fault gives at each gauge, and from which
// severity on: "fault check/observation/outcome".
func shown(t *testing.T, outcomes map[string]string) map[string]float64 {
	t.Helper()
	out := map[string]float64{}
	for _, version := range []unit.Version{unit.Light, unit.Late} {
		sheet := unit.Sheet{Book: shipped.Book(), Version: version, Build: unit.Stock}
		for _, g := range hydraulics.Gauges {
			if version == unit.Light && g.Check != "overdrive-pressure" && g.Check != "lockup-line-rise" {
				continue // the versions differ in the boost only
			}
			limits := sheet.Limits(g.Acceptance)
			for _, m := range hydraulics.FaultModels {
				for _, severity := range []float64{0.5, 0.75, 0.9, 1} {
					v, _, err := g.Read(version, unit.Stock, hydraulics.Hot, hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: severity})
					if err != nil {
						continue
					}
					word := "reached"
					if g.Reads != hydraulics.Reached {
						word = verdict(limits, g, v)
					} else if v.SI == 0 {
						word = "not reached"
					}
					id, ok := outcomes[g.Check+"/"+g.Observation+" "+word]
					if !ok {
						continue
					}
					key := m.ID + " " + id
					if s, ok := out[key]; !ok || severity < s {
						out[key] = severity
					}
				}
			}
		}
	}
	return out
}

// The catalogue's links of the pressure tests against what the model shows. They
// part where the catalogue says at least "sometimes" and no severity of the model
// shows it, and where the model shows it well before its worst and the catalogue says
// nothing.
func TestCatalogue(t *testing.T) {
	said := map[string]catalogue.Level{}
	outcomes := map[string]string{}
	for _, g := range hydraulics.Gauges {
		for _, c := range cat.Catalogue().Checks {
			for _, o := range c.Observations {
				if c.ID != g.Check || o.ID != g.Observation {
					continue
				}
				for _, outcome := range o.Outcomes {
					word := outcome.Verdict
					if g.Reads == hydraulics.Reached {
						word = map[string]string{"no": "not reached", "none": "not reached"}[outcome.ID]
					}
					if outcome.Normal || word == "" {
						continue
					}
					id := c.ID + "/" + o.ID + "/" + outcome.ID
					outcomes[c.ID+"/"+o.ID+" "+word] = id
					for _, l := range outcome.Shows {
						said[l.ID+" "+id] = l.Level
					}
				}
			}
		}
	}
	model := shown(t, outcomes)
	used := make([]bool, len(reviewed))
	settle := func(key, what string) {
		for i, r := range reviewed {
			if regexp.MustCompile("^(?:" + r.fault + ") (?:" + r.outcome + ")$").MatchString(key) {
				used[i] = true
				return
			}
		}
		t.Errorf("%s: %s", key, what)
	}
	for key, level := range said {
		var fault string
		_, err := fmt.Sscan(key, &fault)
		require.NoError(t, err)
		if _, ok := catalogueFault(fault); !ok {
			t.Errorf("no fault %s", fault)
		}
		p, _ := level.Probability()
		if _, ok := model[key]; !ok && p >= 0.25 {
			settle(key, "the catalogue says "+string(level)+", the model does not show it")
		}
	}
	for key, severity := range model {
		if _, ok := said[key]; !ok && severity < 0.9 {
			settle(key, fmt.Sprintf("the model shows it from severity %g on, the catalogue does not say so", severity))
		}
	}
	for i, r := range reviewed {
		assert.True(t, used[i], "%s %s: they agree after all", r.fault, r.outcome)
	}
}

func catalogueFault(id string) (catalogue.Fault, bool) {
	for _, f := range cat.Catalogue().Faults {
		if f.ID == id {
			return f, true
		}
	}
	return catalogue.Fault{}, false
}

// Every model is of a fault that the catalogue has.
func TestModelsAreOfTheCatalogue(t *testing.T) {
	for _, m := range hydraulics.FaultModels {
		_, ok := catalogueFault(m.ID)
		assert.True(t, ok, m.ID)
	}
}

// reviewed lists where model and catalogue part, by patterns of fault and outcome,
// and why each is left so. A row that nothing needs is an error.
var reviewed = []struct{ fault, outcome, why string }{
	// What the model leaves out.
	{"brake-switch-stuck", "lockup-line-rise/.*", "An input of the computer; the model takes the command as given."},
	{"converter-clutch-dragging", "cooler-flow-test/.*", "Inside the converter, for which the model has one orifice."},
	{"converter-clutch-valve-stuck", "cooler-flow-test/.*", "The model feeds the cooler at lock-up by an orifice of its own."},
	{"separator-plate-superseded|shuttle-valve-stuck", ".*", "It changes how fast, not how much at rest."},
	{"switch-valve-worn", "lockup-line-rise/.*", "The model's pump has enough for this leak at road speed, and its leak does not reach the boost."},
	{"overdrive-solenoid-leaking", "overdrive-pressure/(closed|half|full)/low", "The model's 3-4 valve moves or does not: no fourth, not a low one."},
	{"overdrive-accumulator-seal-worn", "overdrive-pressure/comes/none", "The model's worst leak still leaves some pressure."},
	{"regulator-stuck-low", "overdrive-pressure/(closed|half|full)/low", "So low, the 3-4 valve does not move: fourth does not come."},
	{"throttle-cable-tight", "overdrive-pressure/full/high", "At full throttle the lever is at its end already."},
	// What a person would not read, for an observation before it has said so.
	{"converter-drive-broken", "(governor-pressure|line-pressure-drive/third|overdrive-pressure).*", "No pressure at all: the truck does not move."},
	{"governor-.*|shift-valve-1-2-stuck|shift-valve-2-3-stuck|speed-sensor-faulty|transmission-relay-fault|overdrive-switch-fault|regulator-stuck-low|linkage-misadjusted|manual-valve-misaligned|computer-driver-fault|harness-.*|internal-.*", "overdrive-pressure/comes/none|line-pressure-drive/third/no", "Third is missing before fourth is asked for, or the computer does not ask."},
	{"shift-valve-3-4-stuck", "line-pressure-drive/third/no", "Held up, fourth comes with third, and a person counts that as shifted."},
	{"linkage-misadjusted", "line-pressure-.*", "The model sets the manual valve astray; in these tests the shift rod is off and the lever is set into its detent by hand."},
}
