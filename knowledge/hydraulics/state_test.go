package hydraulics_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/fluid"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Every gauge with every fault, from arctic cold to failing fluid, comes to rest
// or says that a shift valve hunts; nothing else.
func TestEveryFaultSettles(t *testing.T) {
	hunts, states := 0, 0
	for i, m := range hydraulics.FaultModels {
		for j, g := range hydraulics.Gauges {
			// A sixth of all combinations, spread over faults and gauges.
			if (i+j)%6 != 0 {
				continue
			}
			for _, celsius := range []float64{-40, 20, 90, 150} {
				for _, build := range []unit.Build{unit.Stock, unit.Raised} {
					g.Gear = ""
					states++
					_, s, err := g.Read(unit.Late, build, quantity.FromCelsius(celsius), hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: 1})
					var hunt *hydraulics.HuntError
					if errors.As(err, &hunt) {
						hunts++
						continue
					}
					require.NoError(t, err, "%s %s, %s/%s at %g °C, %s", m.ID, m.Mode, g.Check, g.Observation, celsius, build)
					for k, p := range s.Pressures {
						assert.False(t, math.IsNaN(float64(p)) || math.IsInf(float64(p), 0), hydraulics.Places[k].ID)
						assert.Less(t, psi.From(float64(p)), 400.0, "%s with %s: over the relief", hydraulics.Places[k].ID, m.ID)
					}
				}
			}
		}
	}
	t.Logf("%d states, of which %d hunt", states, hunts)
	assert.Less(t, hunts, states/100)
}

func TestSteadyRefuses(t *testing.T) {
	good := hydraulics.Gauges[0].At
	good.Version, good.Build, good.Temperature = unit.Mid, unit.Stock, hydraulics.Hot
	for _, c := range []struct {
		change func(s *hydraulics.Setting)
		says   string
	}{
		{func(s *hydraulics.Setting) { s.Throttle = -0.1 }, "throttle"},
		{func(s *hydraulics.Setting) { s.Throttle = quantity.Ratio(math.NaN()) }, "throttle"},
		{func(s *hydraulics.Setting) { s.Engine = quantity.Rotation(quantity.RPM.SI(9000)) }, "engine speed"},
		{func(s *hydraulics.Setting) { s.Road = quantity.Speed(math.Inf(1)) }, "road speed"},
		{func(s *hydraulics.Setting) { s.Temperature = fluid.ValidFluid[1] + 1 }, "fluid temperature"},
		{func(s *hydraulics.Setting) { s.Version = "other" }, `version "other"`},
		{func(s *hydraulics.Setting) { s.Build = "" }, `build ""`},
		{func(s *hydraulics.Setting) { s.Range = "OD" }, `range "OD"`},
		{func(s *hydraulics.Setting) { s.Before = "9" }, `gear "9"`},
	} {
		s := good
		c.change(&s)
		_, err := hydraulics.Steady(s)
		assert.ErrorContains(t, err, c.says)
	}
	for _, f := range []hydraulics.Fault{{ID: "no-such-fault", Severity: 1}, {ID: "pump-worn", Mode: "sideways", Severity: 1}, {ID: "pump-worn", Severity: 1.5}, {ID: "pump-worn", Severity: math.NaN()}} {
		_, err := hydraulics.Steady(good, f)
		assert.Error(t, err, f)
	}
}

// More of a leak never raises the line: identity of a passive net with a pump.
func TestMoreLeakIsLessPressure(t *testing.T) {
	s := hydraulics.Gauges[0].At
	s.Version, s.Build, s.Temperature = unit.Light, unit.Stock, hydraulics.Hot
	for _, id := range []string{"rear-clutch-seals", "rear-servo-leak", "pump-worn", "accumulator-seal-worn", "filter-plugged", "fluid-low"} {
		last := math.Inf(1)
		for x := 0.0; x <= 1; x += 0.125 {
			state, err := hydraulics.Steady(s, hydraulics.Fault{ID: id, Severity: x})
			require.NoError(t, err)
			p, _ := state.Port("line")
			assert.LessOrEqual(t, float64(p), last*(1+1e-9), "%s at %g", id, x)
			last = float64(p)
		}
	}
}

// No current is full pressure and 1 A is none.
// Source: maker's handbook: governor system description; maker's handbook, 2001:
// governor control. The 40 to 55 psi are the sheet's for the relay taken out.
func TestGovernorFollowsCurrent(t *testing.T) {
	s := hydraulics.Setting{Version: unit.Mid, Build: unit.Stock, Range: unit.Drive, Engine: quantity.Rotation(quantity.RPM.SI(700)), Temperature: hydraulics.Hot, CurrentGiven: true}
	last := math.Inf(1)
	for amp := 0.0; amp <= 1; amp += 0.125 {
		s.Current = quantity.Current(amp)
		state, err := hydraulics.Steady(s)
		require.NoError(t, err)
		p, _ := state.Port("governor")
		x := psi.From(float64(p))
		assert.Less(t, x, last, "%g A", amp)
		last = x
		switch amp {
		case 0:
			assert.GreaterOrEqual(t, x, 40.0)
			assert.LessOrEqual(t, x, 55.0)
		case 1:
			assert.Less(t, x, 3.0)
		}
	}
	s.Current = 2
	_, err := hydraulics.Steady(s)
	assert.ErrorContains(t, err, "current")
}

// What leaks hot may hold cold: the catalogue says of these seals that they show
// when hot.
func TestSealsShowWhenHot(t *testing.T) {
	s := hydraulics.Gauges[0].At
	s.Version, s.Build = unit.Light, unit.Stock
	line := func(celsius float64, faults ...hydraulics.Fault) float64 {
		s.Temperature = quantity.FromCelsius(celsius)
		state, err := hydraulics.Steady(s, faults...)
		require.NoError(t, err)
		p, _ := state.Port("line")
		return psi.From(float64(p))
	}
	worn := hydraulics.Fault{ID: "input-shaft-rings-worn", Mode: "shaft", Severity: 0.65}
	const least = 54 // psi, the sheet's
	assert.Greater(t, line(20, worn), 54.0)
	assert.Less(t, line(120, worn), line(20, worn)-1)
	assert.Greater(t, line(120), float64(least), "healthy, hot")
}

// A shift valve that is up stays up under forces that would not have moved it.
func TestShiftValvesHoldOn(t *testing.T) {
	s := hydraulics.Setting{Version: unit.Late, Build: unit.Stock, Range: unit.Drive, Engine: quantity.Rotation(quantity.RPM.SI(1200)), Temperature: hydraulics.Hot}
	shifts := func(before unit.Gear, from, to float64) map[unit.Gear]float64 {
		out := map[unit.Gear]float64{}
		for mph := from; ; mph += math.Copysign(0.5, to-from) {
			s.Before, s.Road = before, quantity.Speed(quantity.MilePerHour.SI(mph))
			state, err := hydraulics.Steady(s)
			require.NoError(t, err)
			if state.Gear != before {
				out[state.Gear] = mph
			}
			before = state.Gear
			if mph == to {
				return out
			}
		}
	}
	up, down := shifts(unit.First, 0, 60), shifts(unit.Third, 60, 0)
	for _, gear := range []unit.Gear{unit.Second, unit.Third} {
		assert.Positive(t, up[gear], "shifts up into %s", gear)
	}
	assert.Less(t, down[unit.Second], up[unit.Third], "3-2 comes at a lower speed than 2-3")
	assert.Less(t, down[unit.First], up[unit.Second], "2-1 comes at a lower speed than 1-2")
	s.Throttle = 0.8
	late := shifts(unit.First, 0, 60)
	assert.Greater(t, late[unit.Second], up[unit.Second], "more throttle, later shift")
	assert.Greater(t, late[unit.Third], up[unit.Third], "more throttle, later shift")
}

func FuzzSteady(f *testing.F) {
	f.Add(0.5, 1500.0, 40.0, 80.0, uint8(3), uint8(10), 0.7, true, false)
	f.Add(1.0, 700.0, 0.0, -40.0, uint8(1), uint8(60), 1.0, false, true)
	f.Add(math.NaN(), math.Inf(1), -1.0, 1e9, uint8(0), uint8(0), math.NaN(), true, true)
	f.Fuzz(func(t *testing.T, throttle, rpm, mph, celsius float64, r, fault uint8, severity float64, fourth, lockup bool) {
		m := hydraulics.FaultModels[int(fault)%len(hydraulics.FaultModels)]
		s, err := hydraulics.Steady(hydraulics.Setting{
			Version: unit.Late, Build: unit.Stock, Range: unit.Ranges[int(r)%len(unit.Ranges)], Throttle: quantity.Ratio(throttle),
			Engine: quantity.Rotation(quantity.RPM.SI(rpm)), Road: quantity.Speed(quantity.MilePerHour.SI(mph)),
			Temperature: quantity.FromCelsius(celsius), Fourth: fourth, Lockup: lockup,
		}, hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: severity})
		if err != nil {
			return
		}
		for i, p := range s.Pressures {
			if math.IsNaN(float64(p)) || math.IsInf(float64(p), 0) {
				t.Errorf("%s is %g", hydraulics.Places[i].ID, float64(p))
			}
		}
		for i, q := range s.Flows {
			if math.IsNaN(float64(q)) || math.IsInf(float64(q), 0) {
				t.Errorf("%s is %g", hydraulics.Links[i].ID, float64(q))
			}
		}
	})
}
