package clutch

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Band is a flexible band round a drum: one end stands on its anchor, a servo
// piston pulls or pushes the other by way of a lever.
type Band struct {
	Servo    quantity.Length // diameter of the servo piston
	Rod      quantity.Length // diameter of what is missing from its area, such as a rod
	Spring   quantity.Force  // of the return spring when applied
	Lever    quantity.Ratio  // force on the band over that of the servo
	Drum     quantity.Length // diameter
	Wrap     quantity.Turns  // how far the band is wrapped, in turns of the drum
	Friction quantity.Ratio  // coefficient of friction
}

// Check reports the first dimension that cannot be.
//
// Errors: *quantity.RangeError naming the dimension.
func (b Band) Check() error {
	return first([]error{
		lengthIn("servo diameter", b.Servo, leastLength, mostLength),
		lengthIn("rod diameter", b.Rod, 0, b.Servo*thinnest),
		forceIn("spring force", b.Spring),
		ratioIn("lever ratio", b.Lever, 0.1, 20),
		lengthIn("drum diameter", b.Drum, leastLength, mostLength),
		within("wrap", quantity.Turns(b.Wrap).Value(), quantity.Turns(0.01).Value(), quantity.Turns(3).Value(), quantity.Turn),
		ratioIn("coefficient of friction", b.Friction, 0.01, 1),
	})
}

// Tension returns the force with which the servo tightens the band's end.
//
//	F = i · (p · π/4 · (D² − d²) − F_spring)
//
// i is the lever ratio, D the servo's and d the rod's diameter. Where the spring
// is stronger than the piston, F is 0.
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument.
// Source: pressure on an area and the lever rule; checked in band_test.go.
func (b Band) Tension(p quantity.Pressure) (quantity.Force, error) {
	if err := first([]error{b.Check(), pressureIn(p)}); err != nil {
		return 0, err
	}
	return quantity.Force(math.Max(0, float64(b.Lever)*(float64(p)*ring(b.Servo, b.Rod)-float64(b.Spring)))), nil
}

// gain is the torque for each newton of tension at the servo's end.
func (b Band) gain(energised bool) float64 {
	r, wrapped := float64(b.Drum)/2, float64(b.Friction)*2*math.Pi*float64(b.Wrap)
	if energised {
		return r * math.Expm1(wrapped)
	}
	return -r * math.Expm1(-wrapped)
}

// Torque returns what the band holds on its drum when the servo's end is
// tightened by tension.
//
//	T = F · (e^(μθ) − 1) · D/2       energised: the drum drags the servo's end on, which is the slack end
//	T = F · (1 − e^(−μθ)) · D/2      not energised: the drum pulls against the servo, which has the tight end
//
// θ is the wrap in radian.
// tension must be 0 to 100 MN.
// Errors: *quantity.RangeError naming the argument.
// Source: capstan equation (Euler, Eytelwein) as in Bhandari, Design of Machine
// Elements, 12.5; checked against its example 12.10 and others in band_test.go.
func (b Band) Torque(tension quantity.Force, energised bool) (quantity.Torque, error) {
	if err := first([]error{b.Check(), within("band tension", tension.Value(), quantity.Force(0).Value(), quantity.Force(100e6).Value(), quantity.PoundForce)}); err != nil {
		return 0, err
	}
	return quantity.Torque(float64(tension) * b.gain(energised)), nil
}

// Holds returns the torque at which the band slips at a pressure.
//
//	T of Torque with F of Tension
//
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument.
// Source: Tension and Torque; checked in band_test.go.
func (b Band) Holds(p quantity.Pressure, energised bool) (quantity.Torque, error) {
	tension, err := b.Tension(p)
	if err != nil {
		return 0, err
	}
	return b.Torque(tension, energised)
}

// SlipPressure returns the pressure below which the band slips under a torque.
//
//	p = (T / (g · i) + F_spring) / (π/4 · (D² − d²))
//
// g is the torque for each newton of tension, as in Torque.
// t must be 0 to 1 GN·m.
// Errors: *quantity.RangeError naming the argument.
// Source: Holds solved for p; checked in band_test.go.
func (b Band) SlipPressure(t quantity.Torque, energised bool) (quantity.Pressure, error) {
	if err := first([]error{b.Check(), torqueIn(t)}); err != nil {
		return 0, err
	}
	return quantity.Pressure((float64(t)/b.gain(energised)/float64(b.Lever) + float64(b.Spring)) / ring(b.Servo, b.Rod)), nil
}
