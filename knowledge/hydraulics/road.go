package hydraulics

import (
	"math"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// The truck that Driven rolls: idle and stall speed of its engine, axle ratio and
// tire, invented for the demo.
var (
	idleSpeed  = quantity.Rotation(quantity.RPM.SI(700))
	stallSpeed = quantity.Rotation(quantity.RPM.SI(1900))
	tireRadius = float64(quantity.Length(quantity.Inch.SI(15.5)))
)

const axleRatio = 3.54

// Driven is Steady for a truck on the road: the engine speed of s is not asked
// for but follows from the road speed, the gear that the valves ask for and the
// throttle.
//
//	engine = the greater of road/radius · axle · ratio of the gear
//	         and idle + throttle · (stall − idle)
//
// Errors: those of Steady.
// Source: a wheel rolls without slip; the converter is taken to hold the engine at
// its stall speed or above it at full throttle (invented for the demo); checked in
// road_test.go.
func Driven(s Setting, faults ...Fault) (State, error) {
	c, err := condense(s, faults)
	if err != nil {
		return State{}, err
	}
	free := float64(idleSpeed) + float64(s.Throttle)*float64(stallSpeed-idleSpeed)
	s.Engine = quantity.Rotation(free)
	state, err := c.steady(s, nil)
	if err != nil {
		return state, err
	}
	ratio, err := unit.Ratio(state.Gear)
	if err != nil {
		return state, nil // nothing joins engine and wheels
	}
	engine := quantity.Rotation(math.Min(float64(MostEngine), float64(s.Road)/tireRadius*axleRatio*math.Abs(ratio)))
	if engine <= s.Engine {
		return state, nil
	}
	s.Engine = engine
	return c.steady(s, state.raw)
}

// GaugeOf returns the gauge of a check's reading, when it is one that Explain
// takes.
func GaugeOf(check, observation string) (Gauge, bool) {
	for _, g := range Gauges {
		if g.Check == check && g.Observation == observation && g.Reads != CoolerFlow && g.Reads != Reached {
			return g, true
		}
	}
	return Gauge{}, false
}
