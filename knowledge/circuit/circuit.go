// Package circuit turns what a meter shows on the electrical side of the unit
// into what it means: volts of the governor pressure sensor into pressure, pulse
// width into current through the governor coil, a voltage drop into the
// resistance of a feed or a ground, and volts of the fluid temperature sensor
// into its ohms.
//
// The governor pressure sensor measures absolute pressure. Its zero moves with
// height and weather, which the package takes out by the standard atmosphere or
// by a barometer. Only one point of its curve is published; the slope is from
// memory, and two readings of the sensor at hand replace it.
//
// It assumes steady states, and copper wire of an even temperature. It leaves
// out how a coil's inductance changes with the position of its valve.
//
// Sources: U.S. Standard Atmosphere, 1976; Smithsonian Meteorological Tables for
// the altimeter setting; ASTM B258 and IEC 60028 for copper wire; M. H. Rashid,
// Power Electronics, for the chopped current; JCGM 100:2008 (GUM) for the
// uncertainty.
package circuit

import (
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// The names of the inputs. An error says one of them, so that a form can show it
// beside its field.
const (
	Height       = "height above the sea"
	Setting      = "barometer of the weather report"
	Barometer    = "barometer at the place"
	AirPressure  = "pressure of the air"
	Signal       = "sensor signal"
	Supply       = "sensor supply"
	OwnZero      = "signal without governor pressure"
	FirstSignal  = "first signal"
	SecondSignal = "second signal"
	FirstGauge   = "first gauge pressure"
	SecondGauge  = "second gauge pressure"
	GaugeReading = "gauge pressure"
	CoilSupply   = "voltage of the feed"
	CoilOhms     = "coil resistance"
	Inductance   = "coil inductance"
	PulseRate    = "pulse frequency"
	Duty         = "duty"
	FallVoltage  = "voltage while the driver is off"
	MeanCurrent  = "average current"
	WireGauge    = "wire gauge"
	WireArea     = "wire section"
	WireLength   = "wire length"
	WireWarmth   = "wire temperature"
	PathDrop     = "voltage drop"
	PathCurrent  = "current"
	DividerVolts = "volts at the computer"
	DividerFeed  = "supply of the divider"
	PullUpOhms   = "pull-up resistor"
	KnownOhms    = "known resistance"
)

func within(name string, v, min, max quantity.Value, unit quantity.Unit) error {
	return quantity.Within("circuit", name, v, min, max, unit)
}

func volts(name string, v, min, max float64) error {
	return within(name, quantity.Voltage(v).Value(), quantity.Voltage(min).Value(), quantity.Voltage(max).Value(), quantity.Volt)
}

// number checks an input that has no kind of its own.
func number(name string, x, min, max float64) error {
	return within(name, quantity.Ratio(x).Value(), quantity.Ratio(min).Value(), quantity.Ratio(max).Value(), quantity.Number)
}

// A Contribution is one part of an uncertainty, in SI units of the result.
type Contribution struct {
	Name     string
	Standard float64
}

// total adds the parts of an uncertainty in quadrature.
func total(parts []Contribution) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Standard * p.Standard
	}
	return math.Sqrt(sum)
}

// standard is a reading's standard uncertainty; without a meter it is that of an
// ordinary one.
func standard(r quantity.Reading, meter *conformity.Accuracy) float64 {
	if meter != nil {
		return meter.Standard(r)
	}
	return conformity.Default(r).Standard(r)
}

// rectangular is the standard uncertainty of what is off by at most limit.
func rectangular(limit float64) float64 { return limit / math.Sqrt(3) }
