package quantity

import "strings"

// System says in which country's manuals a unit is at home.
type System string

// The systems of units.
const (
	Customary System = "customary" // US customary
	Metric    System = "metric"
	Common    System = "common" // used in both
)

// A Unit turns what people write into SI and back. Its zero value stands for
// "the kind's default unit" where a function says so.
type Unit struct {
	Kind   Kind
	Name   string // as printed: "psi"; empty for counts and ratios
	Word   string // as read aloud: "pounds per square inch"
	System System
	// Decimals is how many digits after the point a reading in this unit
	// usually has in the trade.
	Decimals int

	factor    float64 // SI units in one of this unit
	zero      float64 // SI value at zero of this unit: not 0 for °C and °F only
	spellings string  // further spellings, parted by blanks, in the form spelled returns
	exact     bool    // upper and lower case matter
}

// SI returns x of this unit in SI units.
//
//	SI = x · factor + zero
//
// Errors: none; what is not finite stays so.
// Source: NIST SP 811, appendix B.8; checked in unit_test.go.
func (u Unit) SI(x float64) float64 { return x*u.factor + u.zero }

// From returns how many of this unit the SI value si is.
//
//	x = (SI − zero) / factor
//
// Errors: none; what is not finite stays so.
// Source: NIST SP 811, appendix B.8; checked in unit_test.go.
func (u Unit) From(si float64) float64 { return (si - u.zero) / u.factor }

// Step returns the SI size of a difference of x of this unit, which for
// temperatures is not what SI returns.
//
//	Δ = x · factor
//
// Errors: none; what is not finite stays so.
// Source: NIST SP 811, appendix B.8; checked in unit_test.go.
func (u Unit) Step(x float64) float64 { return x * u.factor }

// Of returns x of this unit as a Value.
func (u Unit) Of(x float64) Value { return Value{u.Kind, u.SI(x)} }

// Definitions that the customary units rest on, all exact (NIST SP 811, B.8).
const (
	inch       = 0.0254                     // m
	pound      = 0.45359237                 // kg
	gravity    = 9.80665                    // m/s²
	poundForce = pound * gravity            // N
	gallon     = 231 * inch * inch * inch   // m³, US liquid
	mile       = 5280 * 12 * inch           // m
	psi        = poundForce / (inch * inch) // Pa
	// The conventional inch of mercury (NIST SP 811, B.8), rounded there.
	inchMercury = 3386.389                   // Pa
	minute      = 60.0                       // s
	hour        = 3600.0                     // s
	turn        = 2 * 3.14159265358979323846 // rad
	iceCelsius  = 273.15                     // K at 0 °C
	fahrenheit  = 1 / 1.8                    // K in one °F
	zeroF       = 459.67 / 1.8               // K at 0 °F
)

// The units, in the order in which a screen offers them.
var (
	PSI        = Unit{KindPressure, "psi", "pounds per square inch", Customary, 0, psi, 0, "psig lb lbs lb/in2 lbs/in2 lbf/in2 lb/in² pound pounds poundspersquareinch", false}
	Kilopascal = Unit{KindPressure, "kPa", "kilopascals", Metric, 0, 1e3, 0, "kilopascal kilopascals", false}
	Bar        = Unit{KindPressure, "bar", "bar", Metric, 2, 1e5, 0, "bars", false}
	Megapascal = Unit{KindPressure, "MPa", "megapascals", Metric, 3, 1e6, 0, "megapascal megapascals", true}
	Pascal     = Unit{KindPressure, "Pa", "pascals", Metric, 0, 1, 0, "pascal pascals", false}

	InchMercury = Unit{KindPressure, "inHg", "inches of mercury", Customary, 2, inchMercury, 0, "inchofmercury inchesofmercury", false}
	Hectopascal = Unit{KindPressure, "hPa", "hectopascals", Metric, 0, 100, 0, "mbar millibar millibars hectopascal hectopascals", false}

	Fahrenheit = Unit{KindTemperature, "°F", "degrees Fahrenheit", Customary, 0, fahrenheit, zeroF, "f degf degreef degreesf fahrenheit degreesfahrenheit", false}
	Celsius    = Unit{KindTemperature, "°C", "degrees Celsius", Metric, 0, 1, iceCelsius, "c degc degreec degreesc celsius degreescelsius centigrade", false}
	Kelvin     = Unit{KindTemperature, "K", "kelvin", Metric, 0, 1, 0, "kelvin kelvins", true}

	Ohm      = Unit{KindResistance, "ohm", "ohms", Common, 1, 1, 0, "ohms Ω r", false}
	Kilohm   = Unit{KindResistance, "kohm", "kilohms", Common, 2, 1e3, 0, "k kω kohms kilohm kilohms kiloohm kiloohms kr", false}
	Megohm   = Unit{KindResistance, "Mohm", "megohms", Common, 2, 1e6, 0, "M MΩ Mohms Meg meg MEG Megohm megohm megohms megaohm megaohms MR", true}
	Milliohm = Unit{KindResistance, "milliohm", "milliohms", Common, 0, 1e-3, 0, "mΩ milliohms", true}

	Volt      = Unit{KindVoltage, "V", "volts", Common, 2, 1, 0, "volt volts vdc vac", false}
	Millivolt = Unit{KindVoltage, "mV", "millivolts", Common, 0, 1e-3, 0, "millivolt millivolts", true}

	Ampere      = Unit{KindCurrent, "A", "amperes", Common, 2, 1, 0, "amp amps ampere amperes", false}
	Milliampere = Unit{KindCurrent, "mA", "milliamperes", Common, 0, 1e-3, 0, "milliamp milliamps milliampere milliamperes", true}

	Inch       = Unit{KindLength, "in", "inches", Customary, 3, inch, 0, "inch inches \" ″ ” ''", false}
	Millimetre = Unit{KindLength, "mm", "millimetres", Metric, 2, 1e-3, 0, "millimetre millimetres millimeter millimeters", false}
	Thou       = Unit{KindLength, "thou", "thousandths of an inch", Customary, 1, inch / 1000, 0, "thousandth thousandths thousandthsofaninch", false}
	Foot       = Unit{KindLength, "ft", "feet", Customary, 2, 12 * inch, 0, "foot feet '", false}
	Centimetre = Unit{KindLength, "cm", "centimetres", Metric, 1, 1e-2, 0, "centimetre centimetres centimeter centimeters", false}
	Metre      = Unit{KindLength, "m", "metres", Metric, 3, 1, 0, "metre metres meter meters", true}
	Micrometre = Unit{KindLength, "µm", "micrometres", Metric, 0, 1e-6, 0, "μm um micron microns micrometre micrometres micrometer micrometers", true}

	InchPound   = Unit{KindTorque, "in-lb", "inch-pounds", Customary, 0, poundForce * inch, 0, "inlbs inlbf lbin lbsin lbfin inchlb inchlbs inchpound inchpounds poundinch poundinches", false}
	FootPound   = Unit{KindTorque, "ft-lb", "foot-pounds", Customary, 0, poundForce * 12 * inch, 0, "ftlbs ftlbf lbft lbsft lbfft footlb footlbs footpound footpounds poundfoot poundfeet", false}
	NewtonMetre = Unit{KindTorque, "N·m", "newton metres", Metric, 0, 1, 0, "nm newtonmetre newtonmetres newtonmeter newtonmeters", false}

	Second      = Unit{KindDuration, "s", "seconds", Common, 1, 1, 0, "sec secs second seconds", false}
	Minute      = Unit{KindDuration, "min", "minutes", Common, 0, minute, 0, "mins minute minutes", false}
	Hour        = Unit{KindDuration, "h", "hours", Common, 1, hour, 0, "hr hrs hour hours", false}
	Millisecond = Unit{KindDuration, "ms", "milliseconds", Common, 0, 1e-3, 0, "millisecond milliseconds", true}

	PoundForce    = Unit{KindForce, "lbf", "pounds force", Customary, 1, poundForce, 0, "lb lbs pound pounds", false}
	Newton        = Unit{KindForce, "N", "newtons", Metric, 0, 1, 0, "newton newtons", false}
	KilogramForce = Unit{KindForce, "kgf", "kilograms force", Metric, 2, gravity, 0, "kg kp", false}

	MilePerHour      = Unit{KindSpeed, "mph", "miles per hour", Customary, 0, mile / hour, 0, "mi/h mileperhour milesperhour", false}
	KilometrePerHour = Unit{KindSpeed, "km/h", "kilometres per hour", Metric, 0, 1000 / hour, 0, "kmh kph kmph", false}
	MetrePerSecond   = Unit{KindSpeed, "m/s", "metres per second", Metric, 1, 1, 0, "", false}

	RPM             = Unit{KindRotation, "rpm", "revolutions per minute", Common, 0, turn / minute, 0, "r/min rev/min 1/min revs", false}
	RadianPerSecond = Unit{KindRotation, "rad/s", "radians per second", Metric, 1, 1, 0, "", false}

	Quart      = Unit{KindVolume, "qt", "US quarts", Customary, 1, gallon / 4, 0, "qts quart quarts usqt usquart usquarts", false}
	Litre      = Unit{KindVolume, "L", "litres", Metric, 1, 1e-3, 0, "litre litres liter liters ltr", false}
	Pint       = Unit{KindVolume, "pt", "US pints", Customary, 1, gallon / 8, 0, "pts pint pints", false}
	Gallon     = Unit{KindVolume, "gal", "US gallons", Customary, 2, gallon, 0, "gals gallon gallons usgal", false}
	FluidOunce = Unit{KindVolume, "fl oz", "US fluid ounces", Customary, 1, gallon / 128, 0, "oz ounce ounces fluidounce fluidounces", false}
	Millilitre = Unit{KindVolume, "mL", "millilitres", Metric, 0, 1e-6, 0, "ml cc cm3 cm³ millilitre millilitres milliliter milliliters", true}

	GallonPerMinute = Unit{KindFlow, "gal/min", "US gallons per minute", Customary, 2, gallon / minute, 0, "gpm", false}
	LitrePerMinute  = Unit{KindFlow, "L/min", "litres per minute", Metric, 1, 1e-3 / minute, 0, "lpm", false}
	QuartPerMinute  = Unit{KindFlow, "qt/min", "US quarts per minute", Customary, 1, gallon / 4 / minute, 0, "qpm", false}

	Turn = Unit{KindTurns, "turns", "turns", Common, 3, 1, 0, "turn rev revs", false}

	Each = Unit{KindCount, "", "", Common, 0, 1, 0, "pc pcs", false}

	Number  = Unit{KindRatio, "", "", Common, 3, 1, 0, ":1 to1", false}
	Percent = Unit{KindRatio, "%", "per cent", Common, 1, 0.01, 0, "percent pct", false}

	SquareMillimetrePerSecond = Unit{KindKinematic, "mm²/s", "square millimetres per second", Common, 2, 1e-6, 0, "mm2/s cst centistoke centistokes", false}

	MillipascalSecond = Unit{KindDynamic, "mPa·s", "millipascal seconds", Common, 2, 1e-3, 0, "mpas cp centipoise", false}

	KilogramPerCubicMetre = Unit{KindDensity, "kg/m³", "kilograms per cubic metre", Common, 0, 1, 0, "kg/m3 g/l", false}
	GramPerMillilitre     = Unit{KindDensity, "g/mL", "grams per millilitre", Common, 3, 1e3, 0, "g/ml g/cc g/cm3 g/cm³ kg/l", false}

	SquareInch       = Unit{KindArea, "in²", "square inches", Customary, 2, inch * inch, 0, "in2 sqin squareinch squareinches", false}
	SquareCentimetre = Unit{KindArea, "cm²", "square centimetres", Metric, 1, 1e-4, 0, "cm2 sqcm", false}
	SquareMillimetre = Unit{KindArea, "mm²", "square millimetres", Metric, 0, 1e-6, 0, "mm2 sqmm", false}

	PoundPerInch        = Unit{KindSpringRate, "lbf/in", "pounds force per inch", Customary, 1, poundForce / inch, 0, "lb/in lbs/in", false}
	NewtonPerMillimetre = Unit{KindSpringRate, "N/mm", "newtons per millimetre", Metric, 2, 1e3, 0, "", false}

	KiloPSI         = Unit{KindStress, "ksi", "thousand pounds per square inch", Customary, 1, 1000 * psi, 0, "kpsi", false}
	NewtonPerSquare = Unit{KindStress, "N/mm²", "newtons per square millimetre", Metric, 0, 1e6, 0, "n/mm2 mpa", false}
	Gigapascal      = Unit{KindStress, "GPa", "gigapascals", Metric, 1, 1e9, 0, "", false}

	Horsepower = Unit{KindPower, "hp", "horsepower", Customary, 1, 550 * poundForce * 12 * inch, 0, "bhp horsepower", false}
	Kilowatt   = Unit{KindPower, "kW", "kilowatts", Metric, 1, 1e3, 0, "kilowatt kilowatts", false}
	Watt       = Unit{KindPower, "W", "watts", Metric, 0, 1, 0, "watt watts", false}

	Hertz = Unit{KindFrequency, "Hz", "hertz", Common, 0, 1, 0, "hertz", false}

	Mile      = Unit{KindDistance, "mi", "miles", Customary, 0, mile, 0, "mile miles", false}
	Kilometre = Unit{KindDistance, "km", "kilometres", Metric, 0, 1e3, 0, "kilometre kilometres kilometer kilometers", false}
	FootHigh  = Unit{KindDistance, "ft", "feet", Customary, 0, 12 * inch, 0, "foot feet", false}
	MetreHigh = Unit{KindDistance, "m", "metres", Metric, 0, 1, 0, "metre metres meter meters", true}

	PerMile      = Unit{KindPerDistance, "rev/mi", "revolutions per mile", Customary, 0, 1 / mile, 0, "rev/mile revs/mile", false}
	PerKilometre = Unit{KindPerDistance, "rev/km", "revolutions per kilometre", Metric, 0, 1e-3, 0, "revs/km", false}
)

var units = []Unit{
	PSI, Kilopascal, Bar, Megapascal, Pascal, InchMercury, Hectopascal,
	Fahrenheit, Celsius, Kelvin,
	Ohm, Kilohm, Megohm, Milliohm,
	Volt, Millivolt,
	Ampere, Milliampere,
	Inch, Millimetre, Thou, Foot, Centimetre, Metre, Micrometre,
	InchPound, FootPound, NewtonMetre,
	Second, Minute, Hour, Millisecond,
	PoundForce, Newton, KilogramForce,
	MilePerHour, KilometrePerHour, MetrePerSecond,
	RPM, RadianPerSecond,
	Quart, Litre, Pint, Gallon, FluidOunce, Millilitre,
	GallonPerMinute, LitrePerMinute, QuartPerMinute,
	Turn,
	Each,
	Number, Percent,
	SquareMillimetrePerSecond, MillipascalSecond,
	KilogramPerCubicMetre, GramPerMillilitre,
	SquareInch, SquareCentimetre, SquareMillimetre,
	PoundPerInch, NewtonPerMillimetre,
	KiloPSI, NewtonPerSquare, Gigapascal,
	Horsepower, Kilowatt, Watt,
	Hertz,
	Mile, Kilometre, FootHigh, MetreHigh,
	PerMile, PerKilometre,
}

// Units returns the units of a kind, the default first. It returns nil for an
// unknown kind.
func Units(kind Kind) []Unit {
	var of []Unit
	for _, u := range units {
		if u.Kind == kind {
			of = append(of, u)
		}
	}
	return of
}

// Offered returns the units of a kind that an instrument of the trade shows, the
// default first: what a field offers beside what can be typed.
func Offered(kind Kind) []Unit {
	switch kind {
	case KindPressure:
		return []Unit{PSI, Kilopascal, Bar}
	case KindTemperature:
		return []Unit{Fahrenheit, Celsius}
	case KindLength:
		return []Unit{Inch, Millimetre, Thou}
	case KindResistance:
		return []Unit{Ohm, Kilohm, Megohm}
	}
	return Units(kind)
}

// DefaultUnit returns the unit that a reading of this kind has in the trade.
// For an unknown kind it returns the zero Unit.
func DefaultUnit(kind Kind) Unit {
	for _, u := range units {
		if u.Kind == kind {
			return u
		}
	}
	return Unit{}
}

// UnitNamed returns the unit of this kind that is spelled name; ok is false
// when there is none, or when name could be two of them.
func UnitNamed(kind Kind, name string) (u Unit, ok bool) {
	if name == "" {
		u = DefaultUnit(kind)
		return u, u.Kind != "" && u.Name == ""
	}
	return match(kind, spelled(name))
}

// Counterpart returns the unit in which the other system of measures gives the
// same reading: kPa for psi, in for mm. ok is false where both systems share
// their units.
func (u Unit) Counterpart() (c Unit, ok bool) {
	switch u {
	case FootPound:
		return NewtonMetre, true
	case NewtonMetre:
		// Fasteners that carry more than a screw's torque are given in ft-lb.
		return FootPound, true
	case Thou:
		return Millimetre, true
	case Micrometre:
		return Thou, true
	}
	if u.System == Common {
		return Unit{}, false
	}
	for _, c := range units {
		if c.Kind == u.Kind && c.System != Common && c.System != u.System {
			return c, true
		}
	}
	return Unit{}, false
}

// A span is a closed interval in SI units.
type span struct{ min, max float64 }

// plausible holds, per kind, what can be read on a truck, on a bench or in a
// manual of this trade. The limits are wide on purpose and from common
// practice: they catch a slipped digit or a wrong unit, not a bad part.
var plausible = map[Kind]span{
	KindPressure:    {0, 5e6},                            // gauge; five times a line's hardest reverse pressure
	KindTemperature: {iceCelsius - 60, iceCelsius + 300}, // arctic cold to fluid on fire
	KindResistance:  {0, 10e9},                           // an insulation tester's top
	KindVoltage:     {-60, 60},                           // a 12 V or 24 V truck with its spikes, leads either way round
	KindCurrent:     {-2000, 2000},                       // a starter motor, clamp either way round
	KindLength:      {0, 10},                             // a shim to a frame
	KindTorque:      {0, 2000},                           // a screw to a hub nut
	KindDuration:    {0, 20000 * hour},                   // a shift to the life of a working truck
	KindForce:       {0, 100e3},                          // a spring tester to a press
	KindSpeed:       {0, 70},                             // 157 mph
	KindRotation:    {0, 10000 * turn / minute},          // 10 000 rpm
	KindVolume:      {0, 0.1},                            // 100 L
	KindFlow:        {0, 0.2 / minute},                   // 200 L/min
	KindTurns:       {0, 50},                             // an adjusting screw's whole thread
	KindCount:       {0, 1000},                           // balls, discs, screws
	KindRatio:       {-100, 100},                         // gear ratios, fractions, per cent up to 10 000 %
	KindKinematic:   {0, 0.1},                            // 100 000 mm²/s, fluid in arctic cold
	KindDynamic:     {0, 100},                            // the same fluid
	KindDensity:     {500, 2000},                         // lighter than any fuel, heavier than any fluid
	KindArea:        {0, 1},                              // a pin to a case half
	KindSpringRate:  {0, 1e7},                            // a check ball's to a diaphragm's
	KindStress:      {0, 1e12},                           // beyond any metal's modulus
	KindPower:       {-2e6, 2e6},                         // a competition engine, driving or driven
	KindFrequency:   {0, 100e3},                          // any pulse that a meter counts
	KindDistance:    {-500, 3e9},                         // below the sea, to two million miles
	KindPerDistance: {0.1, 2},                            // wheels of 0.16 m to 3 m
}

// Plausible returns the least and the greatest value of a kind that Parse
// believes. Pressure is gauge: below zero is not believed. The limits are
// common practice, wide on purpose: they catch a slipped digit or a wrong unit,
// not a bad part. ok is false for an unknown kind.
func Plausible(kind Kind) (min, max Value, ok bool) {
	s, ok := plausible[kind]
	return Value{kind, s.min}, Value{kind, s.max}, ok
}

// spelled brings a typed unit to the form in which spellings are kept: without
// blanks, points, middle dots, hyphens and multiplication signs, and with one
// sign for each of degree, ohm and micro.
func spelled(typed string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '.', '·', '⋅', '∙', '•', '-', '‐', '‑', '*', '×':
			return -1
		case 'º', '˚':
			return '°'
		case 'Ω': // the ohm sign, kept apart from the Greek letter by Unicode
			return 'Ω'
		}
		return r
	}, strings.NewReplacer("℃", "°C", "℉", "°F").Replace(typed))
}

// match finds the unit of a kind by a spelling as spelled returns it.
func match(kind Kind, spelling string) (Unit, bool) {
	for _, u := range units {
		if u.Kind != kind {
			continue
		}
		same := strings.EqualFold
		if u.exact {
			same = func(a, b string) bool { return a == b }
		}
		if u.Name != "" && same(spelled(u.Name), spelling) {
			return u, true
		}
		for _, s := range strings.Fields(u.spellings) {
			if same(s, spelling) {
				return u, true
			}
		}
	}
	return Unit{}, false
}
