package hydraulics_test

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/author"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/unit"
)

// weak is the share of a healthy unit's pressure under which an element is taken
// to slip under load (invented for the test).
const weak = 0.55

// lost lists the gears that a unit with a fault has not, or slips in: a gear that
// the valves do not reach, and one with an element that lacks pressure.
func lost(t *testing.T, f hydraulics.Fault) []unit.Gear {
	t.Helper()
	var out []unit.Gear
	for gear, s := range settings() {
		if gear == unit.Parked || gear == unit.Neutral {
			continue
		}
		healthy, err := hydraulics.Steady(s)
		require.NoError(t, err)
		state, err := hydraulics.Steady(s, f)
		if err != nil {
			continue
		}
		// In the braking rows the same state has to hold against the wheels.
		for _, row := range []unit.Gear{gear, map[unit.Gear]unit.Gear{unit.ManualFirst: unit.BrakingFirst, unit.ManualSecond: unit.BrakingSecond}[gear]} {
			slips := row != "" && state.Gear != gear
			for _, e := range unit.Needs(row) {
				want, ok := healthy.Element(e)
				got, _ := state.Element(e)
				slips = slips || ok && float64(got) < weak*float64(want)
			}
			if slips {
				out = append(out, row)
			}
		}
	}
	return out
}

// The gears that the catalogue's symptoms report as lost, against those that the
// model loses. They part where the catalogue says at least "often" and the model
// has every gear of the symptom, and where the model loses a gear at three quarters
// of its worst and no symptom of the fault names it.
func TestSymptoms(t *testing.T) {
	gears := map[string][]unit.Gear{}
	data, err := author.Load(os.DirFS("../.."))
	require.NoError(t, err)
	for _, s := range data.Catalogue.Symptoms {
		gears[s.ID] = s.Loses
	}
	model, well := map[string][]unit.Gear{}, map[string][]unit.Gear{}
	for _, m := range hydraulics.FaultModels {
		model[m.ID] = append(model[m.ID], lost(t, hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: 1})...)
		well[m.ID] = append(well[m.ID], lost(t, hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: 0.75})...)
	}
	used := make([]bool, len(apart))
	settle := func(key, what string) {
		for i, r := range apart {
			if regexp.MustCompile("^(?:" + r.fault + ") (?:" + r.gear + ")$").MatchString(key) {
				used[i] = true
				return
			}
		}
		t.Errorf("%s: %s", key, what)
	}
	for id := range model {
		f, _ := catalogueFault(id)
		said := map[unit.Gear]bool{}
		for _, l := range f.Symptoms {
			p, _ := l.Level.Probability()
			any := len(gears[l.ID]) == 0
			for _, g := range gears[l.ID] {
				said[g] = true
				any = any || slices.Contains(model[id], g)
			}
			if !any && p >= 0.55 {
				settle(id+" "+l.ID, fmt.Sprintf("the catalogue says %s, the model loses %v", l.Level, model[id]))
			}
		}
		for _, g := range well[id] {
			if !said[g] {
				settle(id+" "+string(g), "the model loses this gear, no symptom of the catalogue says so")
			}
		}
	}
	for i, r := range apart {
		assert.True(t, used[i], "%s %s: they agree after all", r.fault, r.gear)
	}
}

// apart lists where they part, and why.
var apart = []struct{ fault, gear, why string }{
	{"case-connector-corroded|computer-driver-fault|governor-.*|harness-.*|internal-wiring-open|transmission-relay-fault|shift-valve-1-2-stuck", "1|2|manual-1|manual-2|manual-.-braking", "The catalogue says it as a launch in third or as a late shift, which name no gear."},
	{"computer-driver-fault", "3", "The catalogue says it as codes and late shifts."},
	{"kickdown-valve-stuck|throttle-.*", "2|3|manual-2|manual-2-braking", "The catalogue says it as late shifts, which name no gear."},
	{"speed-sensor-faulty", "manual-2|manual-2-braking", "The catalogue speaks of D."},
	{"governor-solenoid-coil-open", "stuck-in-second", "Drivers pull it into 2 to get home."},
	{"accumulator-piston-cracked", "slips-second", "It slips while it shifts; the model is judged at rest."},
	{"overdrive-accumulator-seal-worn", "slips-fourth", "It slips while it shifts; the model is judged at rest."},
	{"shift-valve-2-3-stuck", "manual-2-braking", "Held up, manual 2 gives third, which brakes too; the driver misses second."},
	{"shift-valve-3-4-stuck", "3", "Held up, fourth comes with third; no symptom says that a gear is passed over."},
}
