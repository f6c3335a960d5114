package fluid

import (
	"math"

	"provingbench/knowledge/quantity"
)

// ValidViscosity is the range that the viscosity and temperature law was
// published for: 0.21 to 20 000 000 mm²/s (ASTM D341, its charts).
var ValidViscosity = [2]quantity.Kinematic{0.21e-6, 20}

// ValidFluid is the range of temperatures over which a Fluid answers: from
// arctic cold to a fluid that is failing. The law is published for a liquid
// between its cloud point and its boiling point; under about −20 °C a fluid that
// is thickened with polymer or that clouds is thicker than the law says.
var ValidFluid = [2]quantity.Temperature{quantity.FromCelsius(-40), quantity.FromCelsius(150)}

// ValidDensity is the range of densities at 15 °C that the law of expansion
// for lubricating oils was published for (API MPMS 11.1, table 54D).
var ValidDensity = [2]quantity.Density{800, 1164}

// minApart is how far apart, in kelvin, two samples must lie. Under it the
// errors of the two viscosities rule the slope (common practice: a data sheet
// gives 40 °C and 100 °C).
const minApart = 20

// SheetTemperatures are those at which a data sheet gives the viscosity,
// 40 °C and 100 °C.
var SheetTemperatures = [2]quantity.Temperature{quantity.FromCelsius(40), quantity.FromCelsius(100)}

// ColdDoubt is the temperature under which a real fluid is thicker than the law
// of two samples says, because polymer and wax in it thicken: about −20 °C (common
// practice).
var ColdDoubt = quantity.FromCelsius(-20)

// baseDensity is the temperature at which a density is stated: 15 °C.
var baseDensity = quantity.FromCelsius(15)

// A Sample is a viscosity at a temperature, as a data sheet or a laboratory
// gives it.
type Sample struct {
	At        quantity.Temperature
	Viscosity quantity.Kinematic
}

// A Fluid is a liquid whose viscosity and density are known at any temperature.
// Make one with New or take one of Classes; the zero Fluid answers errors only.
type Fluid struct {
	samples [2]Sample
	density quantity.Density // at 15 °C
	a, b    float64          // lg lg Z = a − b lg T
}

// New returns the fluid that has these two viscosities and this density at
// 15 °C.
//
//	lg lg Z = A − B·lg T   with Z = ν + 0.7 + exp(−1.47 − 1.84 ν − 0.51 ν²), ν in mm²/s, T in kelvin
//
// Over about 2 mm²/s the exponential is nothing and the law is the short form
// lg lg (ν + 0.7) = A − B·lg T. The viscosities must lie in ValidViscosity, the
// temperatures in ValidFluid and 20 K or more apart, the density in
// ValidDensity. The colder sample must be the thicker one.
// Errors: *quantity.RangeError naming the argument.
// Source: ASTM D341, equations 1 and 2; checked in viscosity_test.go.
func New(first, second Sample, density quantity.Density) (Fluid, error) {
	f := Fluid{samples: [2]Sample{first, second}, density: density}
	for i, name := range [2]string{"first", "second"} {
		s := f.samples[i]
		if err := quantity.Within("fluid", name+" temperature", s.At.Value(), ValidFluid[0].Value(), ValidFluid[1].Value(), quantity.Celsius); err != nil {
			return Fluid{}, err
		}
		if err := quantity.Within("fluid", name+" viscosity", s.Viscosity.Value(), ValidViscosity[0].Value(), ValidViscosity[1].Value(), quantity.SquareMillimetrePerSecond); err != nil {
			return Fluid{}, err
		}
	}
	if err := quantity.Within("fluid", "density at 15 °C", density.Value(), ValidDensity[0].Value(), ValidDensity[1].Value(), quantity.KilogramPerCubicMetre); err != nil {
		return Fluid{}, err
	}
	if first.At > second.At {
		f.samples[0], f.samples[1] = second, first
	}
	cold, hot := f.samples[0], f.samples[1]
	if hot.At-cold.At < minApart {
		// The second is what was typed last: it is the one to move.
		least, most := first.At+minApart, ValidFluid[1]
		if first.At > second.At {
			least, most = ValidFluid[0], first.At-minApart
		}
		return Fluid{}, quantity.Within("fluid", "second temperature", second.At.Value(), least.Value(), most.Value(), quantity.Celsius)
	}
	if hot.Viscosity >= cold.Viscosity {
		least, most := ValidViscosity[0], first.Viscosity
		if first.At > second.At {
			least, most = first.Viscosity, ValidViscosity[1]
		}
		return Fluid{}, &quantity.RangeError{Package: "fluid", Name: "second viscosity", Value: second.Viscosity.Value(),
			Min: least.Value(), Max: most.Value(), Unit: quantity.SquareMillimetrePerSecond}
	}
	yc, yh := lglg(reduced(cold.Viscosity)), lglg(reduced(hot.Viscosity))
	xc, xh := math.Log10(float64(cold.At)), math.Log10(float64(hot.At))
	f.b = (yc - yh) / (xh - xc)
	f.a = yc + f.b*xc
	return f, nil
}

// Samples returns the two viscosities that the fluid was made of, the colder
// first.
func (f Fluid) Samples() [2]Sample { return f.samples }

// Kinematic returns the kinematic viscosity at t.
//
//	lg lg Z = A − B·lg T, solved for ν as in New
//
// t must lie in ValidFluid. Outside the two samples it is an extrapolation;
// under about −20 °C the fluid is thicker than this.
// Errors: *quantity.RangeError naming the argument; a viscosity that leaves
// ValidViscosity is one.
// Source: ASTM D341, equations 1 to 3; checked in viscosity_test.go.
func (f Fluid) Kinematic(t quantity.Temperature) (quantity.Kinematic, error) {
	if err := f.within(t); err != nil {
		return 0, err
	}
	z := math.Pow(10, math.Pow(10, f.a-f.b*math.Log10(float64(t))))
	v := kinematic(z)
	if err := quantity.Within("fluid", "viscosity", v.Value(), ValidViscosity[0].Value(), ValidViscosity[1].Value(), quantity.SquareMillimetrePerSecond); err != nil {
		return 0, err
	}
	return v, nil
}

// Density returns the density at t and at no pressure.
//
//	ρ = ρ₁₅ · exp(−α Δt − 0.8 α² Δt²)   with α = 0.6278 / ρ₁₅ per kelvin, Δt = t − 15 °C
//
// t must lie in ValidFluid.
// Errors: *quantity.RangeError naming the argument.
// Source: API MPMS chapter 11.1 (ASTM D1250), lubricating oils, table 54D; checked in viscosity_test.go.
func (f Fluid) Density(t quantity.Temperature) (quantity.Density, error) {
	if err := f.within(t); err != nil {
		return 0, err
	}
	x := 0.6278 / float64(f.density) * float64(t-baseDensity)
	return f.density * quantity.Density(math.Exp(-x*(1+0.8*x))), nil
}

// Dynamic returns the dynamic viscosity at t.
//
//	η = ν · ρ
//
// t must lie in ValidFluid.
// Errors: *quantity.RangeError naming the argument.
// Source: ASTM D445, the definition of kinematic viscosity; Kinematic and Density; checked in viscosity_test.go.
func (f Fluid) Dynamic(t quantity.Temperature) (quantity.Dynamic, error) {
	v, err := f.Kinematic(t)
	if err != nil {
		return 0, err
	}
	rho, err := f.Density(t)
	return quantity.Dynamic(float64(v) * float64(rho)), err
}

// Crossing returns the temperature at which the fluid has the viscosity v. Over
// it the fluid is thinner.
//
//	lg T = (A − lg lg Z) / B
//
// v must lie in ValidViscosity. ok is false when the fluid has v nowhere in
// ValidFluid.
// Errors: *quantity.RangeError naming the argument.
// Source: ASTM D341, equations 1 and 2; checked in viscosity_test.go.
func (f Fluid) Crossing(v quantity.Kinematic) (t quantity.Temperature, ok bool, err error) {
	if err := f.within(baseDensity); err != nil {
		return 0, false, err
	}
	if err := quantity.Within("fluid", "viscosity", v.Value(), ValidViscosity[0].Value(), ValidViscosity[1].Value(), quantity.SquareMillimetrePerSecond); err != nil {
		return 0, false, err
	}
	t = quantity.Temperature(math.Pow(10, (f.a-lglg(reduced(v)))/f.b))
	const rounding = 1e-6 // kelvin: a sample at an end of the range must come back
	if !(t >= ValidFluid[0]-rounding && t <= ValidFluid[1]+rounding) {
		return 0, false, nil
	}
	return min(max(t, ValidFluid[0]), ValidFluid[1]), true, nil
}

func (f Fluid) within(t quantity.Temperature) error {
	if f.density == 0 {
		return quantity.Within("fluid", "density at 15 °C", f.density.Value(), ValidDensity[0].Value(), ValidDensity[1].Value(), quantity.KilogramPerCubicMetre)
	}
	return quantity.Within("fluid", "temperature", t.Value(), ValidFluid[0].Value(), ValidFluid[1].Value(), quantity.Celsius)
}

func lglg(z float64) float64 { return math.Log10(math.Log10(z)) }

// reduced returns Z of a viscosity (D341, equation 2).
func reduced(v quantity.Kinematic) float64 {
	x := quantity.SquareMillimetrePerSecond.From(float64(v))
	return x + 0.7 + math.Exp(-1.47-1.84*x-0.51*x*x)
}

// kinematic returns the viscosity of a Z. The standard prints a polynomial for
// it (equation 3), which is good to a few parts in ten thousand; from there two
// steps of Newton's method give what equation 2 gives back exactly.
func kinematic(z float64) quantity.Kinematic {
	y := z - 0.7
	if y < 8 { // over it the exponential is less than 1e-14
		x := y
		y -= math.Exp(-0.7487 - 3.295*x + 0.6119*x*x - 0.3193*x*x*x)
		for range 3 {
			e := math.Exp(-1.47 - 1.84*y - 0.51*y*y)
			y -= (y + 0.7 + e - z) / (1 - (1.84+1.02*y)*e)
		}
	}
	return quantity.Kinematic(quantity.SquareMillimetrePerSecond.SI(y))
}
