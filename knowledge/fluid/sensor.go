package fluid

import (
	"fmt"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A SensorType is the kind of a temperature sensor.
type SensorType string

// The types. Sources do not say which one this unit has, so it is decided from
// two readings of the sensor at hand, and ohms are never turned into degrees.
const (
	NTC       SensorType = "ntc"       // thermistor: ohms fall steeply with warmth
	Silicon   SensorType = "silicon"   // silicon PTC: ohms rise by about 0.8 % per K
	Neither   SensorType = "neither"   // some other thing, or a faulty sensor
	Undecided SensorType = "undecided" // the two readings do not tell
)

// A Point is one reading of a sensor at a known temperature.
type Point struct {
	Reading     quantity.Reading // ohms
	Meter       *conformity.Accuracy
	Temperature quantity.Temperature
	// Spread is the most by which the sensor's temperature can be off, in
	// kelvin; 0 for PointSpread.
	Spread float64
}

const (
	// PointSpread is how far a sensor can be from the thermometer beside it, in
	// kelvin, when nobody says (common practice: a soaked unit, or a stirred cup).
	PointSpread = 2
	// LeastApart is how far apart two readings must be, in kelvin, to be worth
	// comparing (common practice).
	LeastApart = 10
	// sure is how sure a type must be, as for any other verdict here.
	sure = 0.95

	// curvature of ln R over 1/T, in K²: what the two-point law of a thermistor
	// leaves out is at most this times the product of the distances, in 1/K, to
	// the two points. The sensor table of a transaxle gives 1.6e5, a laboratory
	// thermistor 1.2e5, a sensor maker's guide 1.5e5 (testdata/thermistor); 2e5
	// covers them.
	curvature = 2e5
	// bend is the quadratic term of silicon sensors, per K², referred to 25 °C,
	// and spreadOfBend how far makers differ (two makers' data sheets).
	bend         = 1.937e-5
	spreadOfBend = 2e-6
)

// What counts as which type. B of a thermistor is in kelvin (makers' tables run
// from 3400 to 4000; the range is common practice). The slope of silicon is per
// kelvin at 25 °C: data sheets say 0.0079, and a ratio of resistance at 100 °C
// and 25 °C of 1.676 to 1.716, which is 0.0076 to 0.0081; the rest is room for
// the two readings to be wrong about the same thing.
var (
	thermistorB  = [2]float64{2000, 6000}
	siliconSlope = [2]float64{0.0065, 0.0095}
)

// ValidSensorTemperature is the range for readings and for what is foretold.
// Silicon sensors flatten above it.
var ValidSensorTemperature = [2]quantity.Temperature{quantity.FromCelsius(-55), quantity.FromCelsius(125)}

// A Sensor is what two readings of it show.
type Sensor struct {
	Type SensorType
	// Beta is B of the thermistor law through the two readings, in kelvin, and
	// BetaStandard its standard uncertainty. They are there for every Type.
	Beta, BetaStandard float64
	// Slope is the rise per kelvin at 25 °C of the silicon law through the two
	// readings, in parts per million, and SlopeStandard its standard uncertainty.
	Slope, SlopeStandard float64
	// Sure is the probability of Type, 0 when it is Undecided.
	Sure float64
	// Reason says it in full sentences.
	Reason string

	a, b   [2]float64 // resistance, temperature
	ua, ub [2]float64 // their standard uncertainties
}

// Identify tells from two readings at two known temperatures what kind of
// sensor gave them. It says Undecided unless it is 95 % sure.
//
//	B = ln(R₁/R₂) / (1/T₁ − 1/T₂)                    thermistor
//	R = R₂₅ · (1 + s·(t − 25 °C) + 1.937e-5·(t − 25 °C)²)   silicon, solved for R₂₅ and s
//
// It assumes that the sensor had the temperature that was read beside it.
// Readings must be above 0 and not open, temperatures in ValidSensorTemperature.
// Errors: *quantity.RangeError naming the argument.
// Source: IEC 60539-1 (B value); data sheets of silicon sensors; checked against testdata/thermistor and testdata/platinum.
func Identify(first, second Point) (Sensor, error) {
	s := Sensor{Type: Undecided}
	for i, p := range []Point{first, second} {
		which := [2]string{"first", "second"}[i]
		r, u, err := p.values(which)
		if err != nil {
			return Sensor{}, err
		}
		if i == 0 {
			s.a, s.ua = r, u
		} else {
			s.b, s.ub = r, u
		}
	}
	apart := math.Abs(s.a[1] - s.b[1])
	if apart < LeastApart || apart < 4*math.Hypot(s.ua[1], s.ub[1]) {
		s.Reason = "The two temperatures are too close together, so nothing can be told. Take one reading cold-soaked and one with the unit warm."
		return s, nil
	}
	s.Beta, s.BetaStandard = propagate(s, beta)
	s.Slope, s.SlopeStandard = propagate(s, func(a, b [2]float64) float64 {
		_, slope := silicon(a, b)
		return slope
	})
	s.Slope, s.SlopeStandard = s.Slope*1e6, s.SlopeStandard*1e6

	ntc := inside(s.Beta, s.BetaStandard, thermistorB[0], thermistorB[1])
	ptc := inside(s.Slope, s.SlopeStandard, siliconSlope[0]*1e6, siliconSlope[1]*1e6)
	switch {
	case ntc >= sure:
		s.Type, s.Sure = NTC, ntc
		s.Reason = fmt.Sprintf("Its ohms fall as it warms, with B = %.0f K: a thermistor (NTC).", s.Beta)
	case ptc >= sure:
		s.Type, s.Sure = Silicon, ptc
		s.Reason = fmt.Sprintf("Its ohms rise steadily as it warms, with %.0f parts in a million for each kelvin: a silicon sensor (PTC).", s.Slope)
	case ntc <= 1-sure && ptc <= 1-sure:
		s.Type, s.Sure = Neither, 1-ntc-ptc
		s.Reason = "Its ohms behave like neither a thermistor (NTC) nor a silicon sensor (PTC): " + s.unlike() + " Check both readings, then the wiring, then the sensor."
	default:
		s.Reason = "The two readings do not tell a thermistor (NTC) from a silicon sensor (PTC) or from a faulty one. Take them further apart, or with a better meter."
	}
	return s, nil
}

func (s Sensor) unlike() string {
	switch {
	case s.Slope > siliconSlope[1]*1e6:
		return "they rise too steeply."
	case s.Slope > 2*s.SlopeStandard:
		return "they rise gently, as a metal's do."
	case s.Beta > thermistorB[1]:
		return "they fall too steeply."
	case s.Beta > 2*s.BetaStandard:
		return "they fall too little."
	}
	return "they hardly change."
}

func (p Point) values(which string) (v, u [2]float64, err error) {
	r := p.Reading
	if r.OpenLoop {
		r.SI = math.Inf(1)
	}
	if err := quantity.Within("fluid", which+" reading", quantity.Resistance(r.SI).Value(), quantity.Ohm.Of(0.1), quantity.Megohm.Of(10), quantity.Ohm); err != nil {
		return v, u, err
	}
	if err := quantity.Within("fluid", which+" temperature", p.Temperature.Value(), ValidSensorTemperature[0].Value(), ValidSensorTemperature[1].Value(), quantity.Celsius); err != nil {
		return v, u, err
	}
	number := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	if err := quantity.Within("fluid", which+" temperature's spread in kelvin", number(p.Spread), number(0), number(50), quantity.Number); err != nil {
		return v, u, err
	}
	meter := conformity.Default(r)
	if p.Meter != nil {
		meter = *p.Meter
	}
	spread := p.Spread
	if spread == 0 {
		spread = PointSpread
	}
	v = [2]float64{r.SI, float64(p.Temperature)}
	u = [2]float64{meter.Standard(r), spread / math.Sqrt(3)}
	return v, u, nil
}

func beta(a, b [2]float64) float64 {
	return math.Log(a[0]/b[0]) / (1/a[1] - 1/b[1])
}

// silicon solves R = A·(1 + bend·d²) + B·d, d from 25 °C, and returns R25 = A
// and the slope B/A.
func silicon(a, b [2]float64) (r25, slope float64) {
	da, db := quantity.Temperature(a[1]).Celsius()-25, quantity.Temperature(b[1]).Celsius()-25
	pa, pb := 1+bend*da*da, 1+bend*db*db
	det := pa*db - pb*da
	r25 = (a[0]*db - b[0]*da) / det
	return r25, (pa*b[0] - pb*a[0]) / det / r25
}

// propagate returns f of the two points and its standard uncertainty, by the
// GUM's law with differences over one standard uncertainty (JCGM 100:2008,
// 5.1.3 note 2).
func propagate(s Sensor, f func(a, b [2]float64) float64) (y, u float64) {
	y = f(s.a, s.b)
	sum := 0.0
	for i := range 2 {
		up, down := s.a, s.a
		up[i] += s.ua[i]
		down[i] -= s.ua[i]
		sum += square(half(f(up, s.b), f(down, s.b)))
		up, down = s.b, s.b
		up[i] += s.ub[i]
		down[i] -= s.ub[i]
		sum += square(half(f(s.a, up), f(s.a, down)))
	}
	return y, math.Sqrt(sum)
}

func half(up, down float64) float64 { return (up - down) / 2 }

func square(x float64) float64 { return x * x }

// inside returns the probability of y between least and most, or 0 where y is
// no number because an uncertainty reaches past what a resistance can be.
func inside(y, u, least, most float64) float64 {
	p, _, _, err := conformity.Probability(y, u, least, most)
	if err != nil {
		return 0.5 // nothing is known: neither sure nor excluded
	}
	return p
}

// An Estimate is what a sensor should read.
type Estimate struct {
	Resistance  quantity.Resistance
	Least, Most quantity.Resistance // with about 95 % probability
	// Outside is true when the temperature lies outside the two that were read,
	// where the estimate is far less sure.
	Outside bool
}

// At returns what the sensor should read at a third temperature, if it is sound.
// A reading outside Least to Most shows that one of the three is wrong.
//
// t must lie in ValidSensorTemperature. ok is false when the type is not known.
// Errors: *quantity.RangeError naming the argument.
// Source: the laws in Identify; checked against testdata/thermistor.
func (s Sensor) At(t quantity.Temperature) (e Estimate, ok bool, err error) {
	if err := quantity.Within("fluid", "temperature", t.Value(), ValidSensorTemperature[0].Value(), ValidSensorTemperature[1].Value(), quantity.Celsius); err != nil {
		return Estimate{}, false, err
	}
	var law func(a, b [2]float64) float64
	left := 0.0 // what the law leaves out
	switch s.Type {
	case NTC:
		x := 1 / float64(t)
		law = func(a, b [2]float64) float64 { return a[0] * math.Exp(beta(a, b)*(x-1/a[1])) }
		left = math.Expm1(curvature*math.Abs((x-1/s.a[1])*(x-1/s.b[1]))) * law(s.a, s.b)
	case Silicon:
		d := t.Celsius() - 25
		law = func(a, b [2]float64) float64 {
			r25, slope := silicon(a, b)
			return r25 * (1 + slope*d + bend*d*d)
		}
		r25, _ := silicon(s.a, s.b)
		left = spreadOfBend * r25 * math.Abs((float64(t)-s.a[1])*(float64(t)-s.b[1]))
	default:
		return Estimate{}, false, nil
	}
	r, u := propagate(s, law)
	off := 2*u + left
	if math.IsNaN(off) || math.IsInf(off, 0) {
		return Estimate{}, false, nil
	}
	least, most := math.Min(s.a[1], s.b[1]), math.Max(s.a[1], s.b[1])
	return Estimate{
		Resistance: quantity.Resistance(r),
		Least:      quantity.Resistance(math.Max(0, r-off)),
		Most:       quantity.Resistance(r + off),
		Outside:    float64(t) < least || float64(t) > most,
	}, true, nil
}
