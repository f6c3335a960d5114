// Package clutch says how much torque a clutch, a band or a shaft carries, how
// much each of them has to carry in a gear, and therefore at which line pressure
// an element slips and above which pressure it no longer is the clutch but the
// shaft that lets go first.
//
// A disc clutch is pressed by a piston, a band is pulled by a servo, and both
// hold by friction. What they must hold follows from the gear train of package
// unit by virtual work. A plan takes an engine, a converter and a use and gives
// the line pressure that is needed and the one that is of no more help.
//
// The dimensions of this class of unit are not published. Those in Typical are
// invented for the demo or from memory, and each can be replaced by a
// measurement; what is worked out from them shows the way, not the last pound
// per square inch.
//
// Left out: the pressure that the spin adds behind a rotating piston, shocks of
// shifts and driveline, heat, grooves in the lining, stress at splines, oil
// grooves and shoulders of a shaft, fatigue, losses in gears and pump, and the
// strength of one-way clutches, gears, drums and case.
//
// Sources: V. B. Bhandari, Design of Machine Elements, chapters 11 and 12;
// R. S. Khurmi and J. K. Gupta, Theory of Machines; R. C. Hibbeler, Mechanics of
// Materials, chapter 5; R. Willis, Principles of Mechanism.
package clutch

import (
	"errors"
	"math"

	"provingbench/knowledge/quantity"
)

// Law says how the pressure spreads over a lining.
type Law string

// The laws. A lining that has run in wears evenly, and carries less than it did
// when it was new.
const (
	Wear     Law = "wear"     // uniform wear: run in; the zero Law means this one
	Pressure Law = "pressure" // uniform pressure: new
)

// ErrSprung means that a spring puts the clutch on, so that no pressure makes it
// hold more.
var ErrSprung = errors.New("clutch: a spring applies it, pressure is of no help")

// A Disc is a disc clutch.
type Disc struct {
	PistonOuter, PistonInner quantity.Length // diameters of the ring that pressure acts on
	Spring                   quantity.Force  // of the return springs when applied; of the apply spring where Sprung
	Lever                    quantity.Ratio  // force on the plates over that of the piston, where a lever spring stands between
	Faces                    quantity.Count  // friction faces: two for each friction plate between steels
	Outer, Inner             quantity.Length // diameters of the lining
	Friction                 quantity.Ratio  // coefficient of friction
	Sprung                   bool            // the spring applies the clutch
}

func within(name string, v, least, most quantity.Value, u quantity.Unit) error {
	return quantity.Within("clutch", name, v, least, most, u)
}

func lengthIn(name string, l, least, most quantity.Length) error {
	return within(name, l.Value(), least.Value(), most.Value(), quantity.Inch)
}

func ratioIn(name string, r, least, most quantity.Ratio) error {
	return within(name, r.Value(), least.Value(), most.Value(), quantity.Number)
}

func forceIn(name string, f quantity.Force) error {
	return within(name, f.Value(), quantity.Force(0).Value(), quantity.Force(100e3).Value(), quantity.PoundForce)
}

func pressureIn(p quantity.Pressure) error {
	return within("line pressure", p.Value(), quantity.Pressure(0).Value(), mostPressure.Value(), quantity.PSI)
}

func torqueIn(t quantity.Torque) error {
	return within("torque", t.Value(), quantity.Torque(0).Value(), mostTorque.Value(), quantity.FootPound)
}

// What is believed of an input. Wide on purpose: no transmission of a road
// vehicle comes near the upper ends.
const (
	mostPressure quantity.Pressure = 5e6
	mostTorque   quantity.Torque   = 1e9
	leastLength  quantity.Length   = 1e-3
	mostLength   quantity.Length   = 1
	mostShaft    quantity.Length   = 0.2
	thinnest                       = 0.999 // inner over outer diameter of the thinnest ring
)

// Check reports the first dimension that cannot be.
//
// Errors: *quantity.RangeError naming the dimension.
func (d Disc) Check() error {
	errs := []error{
		lengthIn("outer lining diameter", d.Outer, leastLength, mostLength),
		lengthIn("inner lining diameter", d.Inner, 0, d.Outer*thinnest),
		within("number of friction faces", d.Faces.Value(), quantity.Count(1).Value(), quantity.Count(100).Value(), quantity.Each),
		ratioIn("coefficient of friction", d.Friction, 0.01, 1),
		forceIn("spring force", d.Spring),
	}
	if !d.Sprung {
		errs = append(errs,
			lengthIn("outer piston diameter", d.PistonOuter, leastLength, mostLength),
			lengthIn("inner piston diameter", d.PistonInner, 0, d.PistonOuter*thinnest),
			ratioIn("lever ratio", d.Lever, 0.1, 20))
	}
	return first(errs)
}

func first(errs []error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func ring(outer, inner quantity.Length) float64 {
	return math.Pi / 4 * float64(outer*outer-inner*inner)
}

// Clamp returns the force that presses the plates together.
//
//	F = i · (p · π/4 · (D² − d²) − F_spring)
//
// i is the lever ratio, D and d the piston's diameters. Where the springs are
// stronger than the piston, nothing presses and F is 0. Where a spring applies
// the clutch, F is that of the spring.
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument.
// Source: pressure on an area, as in Esposito, Fluid Power; checked in clutch_test.go.
func (d Disc) Clamp(p quantity.Pressure) (quantity.Force, error) {
	if err := first([]error{d.Check(), pressureIn(p)}); err != nil {
		return 0, err
	}
	if d.Sprung {
		return d.Spring, nil
	}
	return quantity.Force(math.Max(0, float64(d.Lever)*(float64(p)*ring(d.PistonOuter, d.PistonInner)-float64(d.Spring)))), nil
}

// radius is the radius at which friction acts.
func (d Disc) radius(law Law) float64 {
	outer, inner := float64(d.Outer), float64(d.Inner)
	if law == Pressure {
		// (D³ − d³) / (3 (D² − d²)) with D − d taken out, so that thin rings keep their digits.
		return (outer*outer + outer*inner + inner*inner) / (3 * (outer + inner))
	}
	return (outer + inner) / 4
}

// Torque returns what the clutch carries when its plates are pressed by clamp.
//
//	T = μ · F · z · (D + d) / 4                        uniform wear
//	T = μ · F · z · (D³ − d³) / (3 · (D² − d²))        uniform pressure
//
// z is the number of faces, D and d the lining's diameters.
// clamp must be 0 to 100 MN.
// Errors: *quantity.RangeError naming the argument.
// Source: Bhandari, Design of Machine Elements, 11.3 and 11.4; checked against
// its examples 11.1 to 11.9 and Khurmi and Gupta in clutch_test.go.
func (d Disc) Torque(clamp quantity.Force, law Law) (quantity.Torque, error) {
	if err := first([]error{d.Check(), within("clamp force", clamp.Value(), quantity.Force(0).Value(), quantity.Force(100e6).Value(), quantity.PoundForce)}); err != nil {
		return 0, err
	}
	return quantity.Torque(float64(d.Friction) * float64(clamp) * float64(d.Faces) * d.radius(law)), nil
}

// Holds returns the torque at which the clutch slips at a pressure.
//
//	T of Torque with F of Clamp
//
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument.
// Source: Clamp and Torque; checked in clutch_test.go.
func (d Disc) Holds(p quantity.Pressure, law Law) (quantity.Torque, error) {
	clamp, err := d.Clamp(p)
	if err != nil {
		return 0, err
	}
	return d.Torque(clamp, law)
}

// SlipPressure returns the pressure below which the clutch slips under a torque.
//
//	p = (T / (μ · z · R · i) + F_spring) / (π/4 · (D² − d²))
//
// R is the radius at which friction acts, (D + d)/4 of the lining for uniform wear.
// t must be 0 to 1 GN·m.
// Errors: *quantity.RangeError naming the argument; ErrSprung where a spring
// applies the clutch.
// Source: Holds solved for p; checked in clutch_test.go.
func (d Disc) SlipPressure(t quantity.Torque, law Law) (quantity.Pressure, error) {
	if err := first([]error{d.Check(), torqueIn(t)}); err != nil {
		return 0, err
	}
	if d.Sprung {
		return 0, ErrSprung
	}
	clamp := float64(t) / (float64(d.Friction) * float64(d.Faces) * d.radius(law))
	return quantity.Pressure((clamp/float64(d.Lever) + float64(d.Spring)) / ring(d.PistonOuter, d.PistonInner)), nil
}
