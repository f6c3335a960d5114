// Package quantity gives each measure a type of its own, so that a pressure
// and a temperature cannot be swapped without the compiler noticing.
//
// Inside the program every value is in SI: pascal, kelvin, ohm, volt, ampere,
// metre, newton metre, second, newton, metre per second, radian per second,
// cubic metre, and what is made of these. The user's units exist only at the edge: Parse reads what a
// person typed, Format prints what a person reads.
//
// # What Parse reads
//
// A number, then a unit or nothing; without a unit the field's own unit holds.
//
//	4.9   4,9   .015   0,38         a point or a comma marks the decimals
//	1/4   2-7/8   1 5/16   2½       fractions, with or without a whole part
//	1 200   1,200,000   1,200.5     thousands, where they cannot be anything else
//	180 F   82°C   54 psi   5k ohm  a unit in any usual spelling
//	OL   O.L.   open                a meter's open reading, for resistance only
//
// A comma or a point can both mark decimals and part thousands. Where the
// digits allow one meaning only, that one is taken; a lone point is always a
// decimal point. A lone comma with one to three digits before it and exactly
// three after it, as in 1,200, allows two meanings and is refused: the error
// says which two numbers to type instead. In the same way mohm is refused,
// because it is typed for milliohm and for megohm.
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
	Speed       float64 // Speed is a road speed in metre per second.
	Rotation    float64 // Rotation is a rotational speed in radian per second.
	Volume      float64 // Volume is in cubic metre.
	Flow        float64 // Flow is in cubic metre per second.
	Turns       float64 // Turns counts the turns of an adjusting screw.
	Count       float64 // Count is a number of things; whole when it was typed.
	Ratio       float64 // Ratio is a plain number; a reverse gear's is negative by some conventions.

	Kinematic   float64 // Kinematic is a kinematic viscosity in square metre per second.
	Dynamic     float64 // Dynamic is a dynamic viscosity in pascal second.
	Density     float64 // Density is in kilogram per cubic metre.
	Area        float64 // Area is in square metre.
	SpringRate  float64 // SpringRate is in newton per metre.
	Stress      float64 // Stress, or a modulus of elasticity, is in pascal.
	Power       float64 // Power, or a flow of heat, is in watt.
	Frequency   float64 // Frequency is in hertz.
	Distance    float64 // Distance is a way driven, or a height above the sea, in metre.
	PerDistance float64 // PerDistance is turns of a wheel for a way driven, in turns per metre.
)

// Kind names a measure in data files and saved jobs: "pressure", "resistance".
type Kind string

// The kinds a reading or a limit can have.
const (
	KindPressure    Kind = "pressure"     // default unit psi
	KindTemperature Kind = "temperature"  // default unit °F
	KindResistance  Kind = "resistance"   // default unit ohm
	KindVoltage     Kind = "voltage"      // default unit V
	KindCurrent     Kind = "current"      // default unit A
	KindLength      Kind = "length"       // default unit in
	KindTorque      Kind = "torque"       // default unit in-lb
	KindDuration    Kind = "duration"     // default unit s
	KindForce       Kind = "force"        // default unit lbf
	KindSpeed       Kind = "speed"        // road speed, default unit mph
	KindRotation    Kind = "rotation"     // rotational speed, default unit rpm
	KindVolume      Kind = "volume"       // default unit qt
	KindFlow        Kind = "flow"         // default unit gal/min
	KindTurns       Kind = "turns"        // turns of an adjusting screw
	KindCount       Kind = "count"        // a number of things
	KindRatio       Kind = "ratio"        // a plain number
	KindKinematic   Kind = "kinematic"    // kinematic viscosity, default unit mm²/s
	KindDynamic     Kind = "dynamic"      // dynamic viscosity, default unit mPa·s
	KindDensity     Kind = "density"      // default unit kg/m³
	KindArea        Kind = "area"         // default unit in²
	KindSpringRate  Kind = "spring-rate"  // default unit lbf/in
	KindStress      Kind = "stress"       // or a modulus of elasticity, default unit ksi
	KindPower       Kind = "power"        // or a flow of heat, default unit hp
	KindFrequency   Kind = "frequency"    // default unit Hz
	KindDistance    Kind = "distance"     // a way driven or a height above the sea, default unit mi
	KindPerDistance Kind = "per-distance" // turns of a wheel for a way driven, default unit rev/mi
)

// Kinds lists every kind.
var Kinds = []Kind{
	KindPressure, KindTemperature, KindResistance, KindVoltage, KindCurrent,
	KindLength, KindTorque, KindDuration, KindForce, KindSpeed, KindRotation,
	KindVolume, KindFlow, KindTurns, KindCount, KindRatio,
	KindKinematic, KindDynamic, KindDensity, KindArea, KindSpringRate,
	KindStress, KindPower, KindFrequency, KindDistance, KindPerDistance,
}

// Word returns how the kind is called in a sentence, without an article.
// An unknown kind returns its own text.
func (k Kind) Word() string {
	switch k {
	case KindDuration:
		return "time"
	case KindSpeed:
		return "road speed"
	case KindRotation:
		return "rotational speed"
	case KindTurns:
		return "number of turns"
	case KindCount:
		return "count"
	case KindKinematic:
		return "kinematic viscosity"
	case KindDynamic:
		return "dynamic viscosity"
	case KindSpringRate:
		return "spring rate"
	case KindPerDistance:
		return "turns for a distance"
	}
	return string(k)
}

// BelowZero reports whether readings of the kind go below the zero of a unit
// that people use: degrees of frost, volts with the leads turned round, a height
// under the sea.
func (k Kind) BelowZero() bool {
	switch k {
	case KindTemperature, KindVoltage, KindCurrent, KindDistance, KindPower:
		return true
	}
	return false
}

// A Value is a number of SI units of a kind. Data files, unit sheets and saved
// readings use it where the kind is only known at run time.
type Value struct {
	Kind Kind
	SI   float64
}

// A Reading is a number as it was read off an instrument and typed in.
type Reading struct {
	Kind Kind
	SI   float64 // meaningless when OpenLoop is true
	// Resolution is the worth of one step of the last digit typed, in SI units:
	// 0.1 ohm for "4.9 ohm", 1/16 inch for "1-5/16 in".
	Resolution float64
	// OpenLoop is true when the meter showed OL: more than it can read.
	OpenLoop bool
	Text     string // what was typed, without surrounding spaces
}

// Value returns the number without what surrounds it. It must not be asked of
// a reading whose OpenLoop is true: there is no number.
func (r Reading) Value() Value { return Value{r.Kind, r.SI} }

// Value returns p with its kind.
func (p Pressure) Value() Value { return Value{KindPressure, float64(p)} }

// Value returns t with its kind.
func (t Temperature) Value() Value { return Value{KindTemperature, float64(t)} }

// Value returns r with its kind.
func (r Resistance) Value() Value { return Value{KindResistance, float64(r)} }

// Value returns v with its kind.
func (v Voltage) Value() Value { return Value{KindVoltage, float64(v)} }

// Value returns c with its kind.
func (c Current) Value() Value { return Value{KindCurrent, float64(c)} }

// Value returns l with its kind.
func (l Length) Value() Value { return Value{KindLength, float64(l)} }

// Value returns t with its kind.
func (t Torque) Value() Value { return Value{KindTorque, float64(t)} }

// Value returns d with its kind.
func (d Duration) Value() Value { return Value{KindDuration, float64(d)} }

// Value returns f with its kind.
func (f Force) Value() Value { return Value{KindForce, float64(f)} }

// Value returns s with its kind.
func (s Speed) Value() Value { return Value{KindSpeed, float64(s)} }

// Value returns r with its kind.
func (r Rotation) Value() Value { return Value{KindRotation, float64(r)} }

// Value returns v with its kind.
func (v Volume) Value() Value { return Value{KindVolume, float64(v)} }

// Value returns f with its kind.
func (f Flow) Value() Value { return Value{KindFlow, float64(f)} }

// Value returns t with its kind.
func (t Turns) Value() Value { return Value{KindTurns, float64(t)} }

// Value returns c with its kind.
func (c Count) Value() Value { return Value{KindCount, float64(c)} }

// Value returns r with its kind.
func (r Ratio) Value() Value { return Value{KindRatio, float64(r)} }

// FromCelsius returns the temperature of c degrees Celsius.
//
//	T = t + 273.15 K
//
// Errors: none; what is not finite stays so.
// Source: NIST SP 811, appendix B.8; checked in unit_test.go.
func FromCelsius(c float64) Temperature { return Temperature(Celsius.SI(c)) }

// Celsius returns t in degrees Celsius.
//
//	t = T − 273.15 K
//
// Errors: none; what is not finite stays so.
// Source: NIST SP 811, appendix B.8; checked in unit_test.go.
func (t Temperature) Celsius() float64 { return Celsius.From(float64(t)) }

// Value returns v with its kind.
func (v Kinematic) Value() Value { return Value{KindKinematic, float64(v)} }

// Value returns v with its kind.
func (v Dynamic) Value() Value { return Value{KindDynamic, float64(v)} }

// Value returns d with its kind.
func (d Density) Value() Value { return Value{KindDensity, float64(d)} }

// Value returns a with its kind.
func (a Area) Value() Value { return Value{KindArea, float64(a)} }

// Value returns s with its kind.
func (s SpringRate) Value() Value { return Value{KindSpringRate, float64(s)} }

// Value returns s with its kind.
func (s Stress) Value() Value { return Value{KindStress, float64(s)} }

// Value returns p with its kind.
func (p Power) Value() Value { return Value{KindPower, float64(p)} }

// Value returns f with its kind.
func (f Frequency) Value() Value { return Value{KindFrequency, float64(f)} }

// Value returns d with its kind.
func (d Distance) Value() Value { return Value{KindDistance, float64(d)} }

// Value returns p with its kind.
func (p PerDistance) Value() Value { return Value{KindPerDistance, float64(p)} }
