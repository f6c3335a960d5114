// Package quantity gives each measure a type of its own, so that a pressure
// and a temperature cannot be swapped without the compiler noticing.
//
// Inside the program every value is in SI: pascal, kelvin, ohm, volt, ampere,
// metre, newton metre, second, newton. The user's units exist only at the edge:
// Parse reads what a person typed, Format prints what a person reads.
//
// Source of the conversion factors: NIST Special Publication 811 (2008),
// appendix B.8; those built on the inch, the pound and standard gravity are
// exact by definition.
package quantity

// A typed value in SI, one type per measure.
type (
	Pressure    float64 // Pressure is in pascal, gauge unless a name says otherwise.
	Temperature float64 // Temperature is in kelvin.
	Resistance  float64 // Resistance is in ohm.
	Voltage     float64 // Voltage is in volt.
	Current     float64 // Current is in ampere.
	Length      float64 // Length is in metre.
	Torque      float64 // Torque is in newton metre.
	Duration    float64 // Duration is in second.
	Force       float64 // Force is in newton.
)

// Kind names a measure in data files and saved jobs: "pressure", "resistance".
type Kind string

// The kinds a reading or a limit can have.
const (
	KindPressure    Kind = "pressure"    // default unit psi
	KindTemperature Kind = "temperature" // default unit °F
	KindResistance  Kind = "resistance"  // default unit ohm
	KindVoltage     Kind = "voltage"     // default unit V
	KindCurrent     Kind = "current"     // default unit A
	KindLength      Kind = "length"      // default unit in
	KindTorque      Kind = "torque"      // default unit in-lb
	KindDuration    Kind = "duration"    // default unit s
	KindForce       Kind = "force"       // default unit lbf
	KindSpeed       Kind = "speed"       // road speed, default unit mph
	KindRotation    Kind = "rotation"    // rotational speed, default unit rpm
	KindVolume      Kind = "volume"      // default unit qt
	KindFlow        Kind = "flow"        // default unit gal/min
	KindTurns       Kind = "turns"       // turns of an adjusting screw
	KindCount       Kind = "count"       // a number of things
	KindRatio       Kind = "ratio"       // a plain number
)

// A Value is a number of SI units of a kind. Data files, unit sheets and saved
// readings use it where the kind is only known at run time.
type Value struct {
	Kind Kind
	SI   float64
}
