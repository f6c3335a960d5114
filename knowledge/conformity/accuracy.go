package conformity

import (
	"math"

	"provingbench/knowledge/quantity"
)

// Accuracy is how far an instrument can be off, as its maker states it. The
// parts add up.
type Accuracy struct {
	// Percent is a share of the reading. It means nothing for temperatures,
	// whose zero is arbitrary: give Fixed there.
	Percent float64
	// Digits counts steps of the display's last digit.
	Digits float64
	// Fixed is in SI units, for temperatures in kelvin: a gauge's share of its
	// full scale, a probe's degrees.
	Fixed float64
	// Source says where the numbers come from, in words for the screen.
	Source string
}

// Limit returns the most by which r can be off, in SI units.
//
//	a = percent/100 · |reading| + digits · step + fixed
//
// The step is r.Resolution, the worth of the last digit typed. A reading that
// is an open loop has no limit: 0.
// Errors: none; a negative or missing part counts as 0.
// Source: makers' accuracy statements of the form ±(% + digits); checked against testdata/conformity/meters.csv.
func (a Accuracy) Limit(r quantity.Reading) float64 {
	if r.OpenLoop {
		return 0
	}
	limit := positive(a.Digits)*positive(r.Resolution) + positive(a.Fixed)
	if r.Kind != quantity.KindTemperature {
		limit += positive(a.Percent) / 100 * math.Abs(r.SI)
	}
	return limit
}

// Standard returns the standard uncertainty of r, in SI units.
//
//	u² = (a/√3)² + (step/√12)²
//
// Any error up to Limit is taken to be equally likely (GUM 4.3.7). The second
// part, what the eye or the display rounds off, counts only when the accuracy
// has no Digits, because those contain it (GUM F.2.2.1).
// Errors: none.
// Source: JCGM 100:2008 (GUM), 4.3.7 and F.2.2.1; checked in accuracy_test.go.
func (a Accuracy) Standard(r quantity.Reading) float64 {
	if r.OpenLoop {
		return 0
	}
	u := a.Limit(r) / math.Sqrt(3)
	if a.Digits > 0 {
		return u
	}
	return math.Hypot(u, positive(r.Resolution)/math.Sqrt(12))
}

func positive(x float64) float64 {
	if x > 0 && !math.IsInf(x, 0) {
		return x
	}
	return 0
}

// Gauge returns the accuracy of a pressure gauge: a share of its full scale.
//
// Errors: none; what is not positive counts as 0.
// Source: ASME B40.100 states gauge grades as per cent of span (from memory); checked in accuracy_test.go.
func Gauge(fullScale quantity.Pressure, percentOfScale float64) Accuracy {
	return Accuracy{Fixed: positive(float64(fullScale)) * positive(percentOfScale) / 100, Source: "stated for this gauge"}
}

// Default returns an accuracy for a reading when the user states none. None of
// them is a measurement of anybody's meter: they are what ordinary workshop
// instruments state, from memory, and Source says so.
//
// Pressures up to 100 psi are taken to be read on the 100 psi gauge and higher
// ones on the 300 psi gauge, as handbooks ask, each good to 1 % of full scale.
func Default(r quantity.Reading) Accuracy {
	const memory = ", from memory: use what your instrument's manual states"
	low, high := quantity.PSI.SI(100), quantity.PSI.SI(300)
	switch r.Kind {
	case quantity.KindPressure:
		if r.SI <= low {
			a := Gauge(quantity.Pressure(low), 1)
			a.Source = "a 100 psi gauge good to 1 % of full scale" + memory
			return a
		}
		a := Gauge(quantity.Pressure(high), 1)
		a.Source = "a 300 psi gauge good to 1 % of full scale" + memory
		return a
	case quantity.KindTemperature:
		return Accuracy{Fixed: 3, Source: "a contact probe or scan tool good to 3 °C (5 °F)" + memory}
	case quantity.KindResistance:
		return Accuracy{Percent: 1, Digits: 2, Source: "a hand-held meter good to 1 % + 2 digits" + memory}
	case quantity.KindVoltage:
		return Accuracy{Percent: 1, Digits: 2, Source: "a hand-held meter good to 1 % + 2 digits" + memory}
	case quantity.KindCurrent:
		return Accuracy{Percent: 1.5, Digits: 3, Source: "a hand-held meter good to 1.5 % + 3 digits" + memory}
	case quantity.KindLength:
		return Accuracy{Fixed: 0.02e-3, Source: "a calliper or indicator good to 0.02 mm" + memory}
	case quantity.KindTorque:
		if r.SI <= 10 {
			return Accuracy{Percent: 6, Source: "a wrench good to 6 % up to 10 N·m (ISO 6789)" + memory}
		}
		return Accuracy{Percent: 4, Source: "a wrench good to 4 % (ISO 6789)" + memory}
	case quantity.KindDuration:
		return Accuracy{Fixed: 0.5, Source: "a hand on a stop watch, half a second" + memory}
	case quantity.KindForce:
		return Accuracy{Percent: 2, Source: "a spring tester good to 2 %" + memory}
	case quantity.KindSpeed:
		return Accuracy{Percent: 3, Source: "a speedometer good to 3 %" + memory}
	case quantity.KindRotation:
		return Accuracy{Percent: 1, Source: "a tachometer good to 1 %" + memory}
	case quantity.KindVolume:
		return Accuracy{Percent: 2, Source: "a workshop measure good to 2 %" + memory}
	case quantity.KindFlow:
		return Accuracy{Percent: 5, Source: "a measure and a watch, 5 % together" + memory}
	case quantity.KindTurns:
		return Accuracy{Fixed: 1.0 / 16, Source: "a sixteenth of a turn by eye" + memory}
	case quantity.KindRatio:
		return Accuracy{Percent: 1, Source: "two tachometers' worth, 1 %" + memory}
	}
	return Accuracy{Source: "counted, so exact"}
}
