package clutch

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Shaft is a round shaft in torsion, at its thinnest place.
type Shaft struct {
	Outer, Bore quantity.Length // diameters; Bore is 0 for a solid shaft
	Yield       quantity.Stress // yield strength of the steel in tension
}

// Check reports the first dimension that cannot be.
//
// Errors: *quantity.RangeError naming the dimension.
func (s Shaft) Check() error {
	return first([]error{
		lengthIn("shaft diameter", s.Outer, leastLength, mostShaft),
		lengthIn("bore diameter", s.Bore, 0, s.Outer*thinnest),
		within("yield strength", s.Yield.Value(), quantity.Stress(50e6).Value(), quantity.Stress(3e9).Value(), quantity.KiloPSI),
	})
}

// modulus is the section modulus in torsion.
func (s Shaft) modulus() float64 {
	d, b := float64(s.Outer), float64(s.Bore)
	return math.Pi / 16 * (d*d*d - b*b*b*b/d)
}

// Stress returns the shear stress at the skin of the shaft under a torque.
//
//	τ = 16 T D / (π (D⁴ − d⁴)),    which is 16 T / (π D³) for a solid shaft
//
// t must be 0 to 1 GN·m.
// Errors: *quantity.RangeError naming the argument.
// Source: Hibbeler, Mechanics of Materials, 5.2; checked in shaft_test.go.
func (s Shaft) Stress(t quantity.Torque) (quantity.Stress, error) {
	if err := first([]error{s.Check(), torqueIn(t)}); err != nil {
		return 0, err
	}
	return quantity.Stress(float64(t) / s.modulus()), nil
}

// Torque returns the torque that brings the skin of the shaft to a shear stress.
//
//	T = τ π (D⁴ − d⁴) / (16 D)
//
// shear must be 0 to 3 GPa.
// Errors: *quantity.RangeError naming the argument.
// Source: Hibbeler, Mechanics of Materials, 5.2; checked in shaft_test.go.
func (s Shaft) Torque(shear quantity.Stress) (quantity.Torque, error) {
	if err := first([]error{s.Check(), within("shear stress", shear.Value(), quantity.Stress(0).Value(), quantity.Stress(3e9).Value(), quantity.KiloPSI)}); err != nil {
		return 0, err
	}
	return quantity.Torque(float64(shear) * s.modulus()), nil
}

// Holds returns the torque at which the skin of the shaft begins to yield.
//
//	T of Torque with τ = σ_y / √3
//
// It is for a steady torque on a smooth shaft: splines, shoulders and shocks
// take from it, and a few hundred thousand repetitions take more.
// Errors: *quantity.RangeError naming the dimension.
// Source: distortion energy (von Mises), as in Shigley, Mechanical Engineering
// Design, 5-5; checked in shaft_test.go.
func (s Shaft) Holds() (quantity.Torque, error) {
	return s.Torque(s.Yield / quantity.Stress(math.Sqrt(3)))
}
