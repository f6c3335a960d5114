package hydraulics_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func idling() hydraulics.Setting {
	return hydraulics.Setting{Version: unit.Late, Build: unit.Stock, Engine: quantity.Rotation(quantity.RPM.SI(1600)), Temperature: hydraulics.Hot}
}

// grips is a clutch or band that holds in proportion to its pressure: 120 N m for
// each bar over its springs (invented for the test).
func grips(p quantity.Pressure) quantity.Torque { return quantity.Torque(p * 1.2e-3) }

func run(t *testing.T, move hydraulics.Move, s hydraulics.Setting, holds *hydraulics.Holds, faults ...hydraulics.Fault) hydraulics.Run {
	t.Helper()
	r, err := hydraulics.Shift(move, s, holds, faults...)
	require.NoError(t, err, "%s %v", move, faults)
	return r
}

func TestHealthyMoves(t *testing.T) {
	for _, move := range hydraulics.Moves {
		hot := run(t, move, idling(), nil)
		// From memory of the trade: an engagement or a shift is felt within a good
		// second and is no knock.
		assert.Greater(t, float64(hot.Full), 0.05, move)
		assert.Less(t, float64(hot.Full), 1.5, move)
		for i, p := range hot.Points[1:] {
			assert.GreaterOrEqual(t, p.Time, hot.Points[i].Time)
			assert.GreaterOrEqual(t, p.Pressure, hot.Points[i].Pressure)
			assert.GreaterOrEqual(t, p.Volume, hot.Points[i].Volume)
		}
		cold := idling()
		cold.Temperature = quantity.FromCelsius(-20)
		assert.Greater(t, run(t, move, cold, nil).Full, hot.Full, "%s: thick fluid is slow", move)
		heavy := idling()
		heavy.Throttle = 0.8
		if move != hydraulics.LockUp { // which goes by the converter's own pressure
			assert.Less(t, run(t, move, heavy, nil).Filled, hot.Filled, "%s: more line is faster", move)
		}
	}
}

func TestHandover(t *testing.T) {
	holds := &hydraulics.Holds{On: grips, Off: grips, Load: 90}
	healthy := run(t, hydraulics.TwoThree, idling(), holds)
	assert.True(t, healthy.Takes)
	assert.False(t, healthy.Flares(), "slips %g s", float64(healthy.Slips))
	assert.False(t, healthy.TiesUp(), "binds %g s", float64(healthy.Binds))

	leaking := run(t, hydraulics.TwoThree, idling(), holds, hydraulics.Fault{ID: "front-clutch-seals", Severity: 0.75})
	assert.True(t, leaking.Flares(), "a leak keeps the clutch weak while the band lets go; slips %g s", float64(leaking.Slips))
	assert.False(t, run(t, hydraulics.TwoThree, idling(), holds, hydraulics.Fault{ID: "front-clutch-seals", Severity: 1}).Takes)

	// A load that the band still holds when the clutch already does.
	light := &hydraulics.Holds{On: grips, Off: func(p quantity.Pressure) quantity.Torque { return grips(p) + 60 }, Load: 30}
	assert.True(t, run(t, hydraulics.TwoThree, idling(), light).TiesUp(), "a band that does not let go")

	// A one-way clutch lets go by itself: no flare, no tie-up.
	oneWay := run(t, hydraulics.OneTwo, idling(), &hydraulics.Holds{On: grips, Load: 90})
	assert.True(t, oneWay.Takes)
	assert.Zero(t, oneWay.Slips)
	assert.Zero(t, oneWay.Binds)
}

// What shows in a shift only, and that the catalogue has the symptom.
func TestShiftFaults(t *testing.T) {
	level := func(fault, symptom string) catalogue.Level {
		f, ok := catalogueFault(fault)
		require.True(t, ok)
		for _, l := range f.Symptoms {
			if l.ID == symptom {
				return l.Level
			}
		}
		return catalogue.Never
	}
	has := func(fault, symptom string) {
		p, _ := level(fault, symptom).Probability()
		assert.Greater(t, p, 0.05, "%s shows in %s", fault, symptom)
	}
	cushion := func(r hydraulics.Run) float64 { return float64(r.Full - r.Filled) }

	soft := run(t, hydraulics.OneTwo, idling(), nil)
	broken := run(t, hydraulics.OneTwo, idling(), nil, hydraulics.Fault{ID: "accumulator-spring-broken", Severity: 1})
	assert.Less(t, cushion(broken), cushion(soft)/4, "the band comes on without a cushion")
	has("accumulator-spring-broken", "harsh-shifts")
	stuck := run(t, hydraulics.OneTwo, idling(), nil, hydraulics.Fault{ID: "shift-control-valve-stuck", Severity: 1})
	assert.Less(t, cushion(stuck), cushion(soft)/4)
	has("shift-control-valve-stuck", "harsh-shifts")

	over := run(t, hydraulics.ThreeFour, idling(), nil)
	assert.Less(t, cushion(run(t, hydraulics.ThreeFour, idling(), nil, hydraulics.Fault{ID: "overdrive-accumulator-spring-broken", Severity: 1})), cushion(over))
	assert.Greater(t, run(t, hydraulics.ThreeFour, idling(), nil, hydraulics.Fault{ID: "overdrive-feed-blocked", Severity: 0.4}).Filled, over.Filled)
	has("overdrive-feed-blocked", "flare-3-4")
	assert.Zero(t, run(t, hydraulics.ThreeFour, idling(), nil, hydraulics.Fault{ID: "overdrive-piston-seal", Severity: 1}).Filled, "it never comes on")
	has("overdrive-piston-seal", "slips-fourth")

	// Through an orifice half as wide, a quarter of the flow: four times as long.
	quick := run(t, hydraulics.LockUp, idling(), nil)
	slow := run(t, hydraulics.LockUp, idling(), nil, hydraulics.Fault{ID: "separator-plate-superseded", Severity: 1})
	assert.InDelta(t, 4, float64(slow.Full/quick.Full), 0.05)
	has("separator-plate-superseded", "late-lockup")

	assert.Greater(t, run(t, hydraulics.IntoDrive, idling(), nil, hydraulics.Fault{ID: "rear-clutch-seals", Severity: 0.8}).Filled, run(t, hydraulics.IntoDrive, idling(), nil).Filled)
	has("rear-clutch-seals", "delayed-engagement")
}

func TestShiftRefuses(t *testing.T) {
	_, err := hydraulics.Shift("4-5", idling(), nil)
	assert.ErrorContains(t, err, "4-5")
	_, err = hydraulics.Shift(hydraulics.TwoThree, idling(), nil, hydraulics.Fault{ID: "shift-valve-2-3-stuck", Mode: "down", Severity: 1})
	var missed *hydraulics.NotReachedError
	assert.ErrorAs(t, err, &missed)
	bad := idling()
	bad.Throttle = 3
	_, err = hydraulics.Shift(hydraulics.OneTwo, bad, nil)
	assert.ErrorContains(t, err, "throttle")
	r, err := hydraulics.Shift(hydraulics.IntoDrive, idling(), nil, hydraulics.Fault{ID: "converter-drive-broken", Severity: 1})
	require.NoError(t, err)
	assert.Zero(t, r.Filled, "without a pump nothing comes on")
}
