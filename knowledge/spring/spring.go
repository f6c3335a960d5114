// Package spring works out helical compression springs: what one should push
// with, whether the one in hand does, and what another one does to an
// accumulator.
//
// A spring's load decides a pressure, so a spring that is broken, has set or
// was swapped for a stiffer one shows as a pressure that nobody can adjust
// away. The package computes rate, load, solid length and stress from the wire,
// finds the rate from loads, holds a measured spring against itself and against
// the sheet (Measurement), and works out pressure and time of an accumulator's
// stroke (Accumulator).
//
// # What it assumes
//
// Round wire, one diameter and one pitch over the whole spring, loads along the
// axis, no coils touching until all do. Tapered, barrel, nested and variable
// pitch springs are another thing.
//
// # Sources
//
// Shigley, Mechanical Engineering Design, chapter 10; Bhandari, Design of
// Machine Elements, chapter 10; Wahl, Mechanical Springs.
package spring

import (
	"math"

	"provingbench/knowledge/quantity"
)

// Ends says how the ends of a spring are made.
type Ends string

// The ends, as Shigley's table 10-1 has them.
const (
	Plain         Ends = "plain"          // cut off
	PlainGround   Ends = "plain-ground"   // cut off and ground flat
	Squared       Ends = "squared"        // closed: the last coil lies on the one before
	SquaredGround Ends = "squared-ground" // closed and ground flat
)

// AllEnds lists the ends, the commonest first.
var AllEnds = []Ends{SquaredGround, Squared, PlainGround, Plain}

// Words returns how the ends are called in a sentence.
func (e Ends) Words() string {
	switch e {
	case Plain:
		return "open, not ground"
	case PlainGround:
		return "open and ground"
	case Squared:
		return "closed, not ground"
	case SquaredGround:
		return "closed and ground"
	}
	return string(e)
}

// dead returns how many coils of the ends do not give, and how many wire
// diameters the closed spring is longer than its coils.
func (e Ends) dead() (coils, extra float64) {
	switch e {
	case Plain:
		return 0, 1
	case PlainGround:
		return 1, 0
	case Squared:
		return 2, 1
	}
	return 2, 0
}

// A Spring is a helical compression spring of round wire.
type Spring struct {
	Wire    quantity.Length
	Mean    quantity.Length // coil diameter from middle of wire to middle of wire
	Turns   float64         // all that can be counted, ends included
	Ends    Ends            // the zero value stands for SquaredGround
	Free    quantity.Length // unloaded; 0 for not known
	Modulus quantity.Stress // of rigidity
}

// A Material is a wire with its modulus of rigidity.
type Material struct {
	ID, Name string
	Modulus  quantity.Stress
}

// MaterialProvenance says where the moduli come from.
const MaterialProvenance = "Shigley, Mechanical Engineering Design, table 10-5, from memory"

// Materials are the usual spring wires; see MaterialProvenance. One that is not
// known is best taken as the first: the moduli of the steels are within 5 %.
var Materials = []Material{
	{"music", "Music wire, or not known", 81.0e9}, // for 1.6 to 3 mm
	{"hard-drawn", "Hard-drawn wire", 79.3e9},
	{"oil-tempered", "Oil-tempered wire", 77.2e9},
	{"chrome-silicon", "Chrome silicon or chrome vanadium", 77.2e9},
	{"stainless", "Stainless steel", 69.0e9},
}

// MaterialNamed returns the material with this id, and music wire for any other.
func MaterialNamed(id string) Material {
	for _, m := range Materials {
		if m.ID == id {
			return m
		}
	}
	return Materials[0]
}

// The ranges that are believed. A spring index under 3 can't be wound and one
// over 30 does not keep its shape; springs in use have 4 to 12 (Shigley).
const (
	minIndex = 2.5
	maxIndex = 30
	maxTurns = 200
)

var (
	minWire, maxWire       = quantity.Millimetre.Of(0.1), quantity.Millimetre.Of(30)
	maxLength              = quantity.Metre.Of(2)
	minModulus, maxModulus = quantity.Gigapascal.Of(10), quantity.Gigapascal.Of(200)
	maxForce               = quantity.Newton.Of(200e3)
)

func within(name string, v, least, most quantity.Value, unit quantity.Unit) error {
	return quantity.Within("spring", name, v, least, most, unit)
}

func upTo(name string, v, most quantity.Value, unit quantity.Unit) error {
	return within(name, v, quantity.Value{Kind: v.Kind}, most, unit)
}

func (s Spring) check() error {
	if err := within("wire diameter", s.Wire.Value(), minWire, maxWire, quantity.Millimetre); err != nil {
		return err
	}
	if err := within("coil diameter", s.Mean.Value(), (minIndex * s.Wire).Value(), (maxIndex * s.Wire).Value(), quantity.Millimetre); err != nil {
		return err
	}
	dead, _ := s.Ends.dead()
	if err := within("number of turns", quantity.Number.Of(s.Turns), quantity.Number.Of(dead+0.5), quantity.Number.Of(maxTurns), quantity.Number); err != nil {
		return err
	}
	if err := upTo("free length", s.Free.Value(), maxLength, quantity.Millimetre); err != nil {
		return err
	}
	return within("modulus", s.Modulus.Value(), minModulus, maxModulus, quantity.Gigapascal)
}

// Active returns how many of the turns give.
func (s Spring) Active() float64 {
	dead, _ := s.Ends.dead()
	return s.Turns - dead
}

// Index returns the spring index.
//
//	C = D/d
//
// Wire and coil must be believed: 0.1 to 30 mm, and an index of 2.5 to 30.
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, 10-1; checked in spring_test.go.
func (s Spring) Index() (quantity.Ratio, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	return quantity.Ratio(s.Mean / s.Wire), nil
}

// Rate returns the spring's rate.
//
//	k = G d⁴ / (8 D³ N), N the active turns
//
// There must be at least half an active turn; modulus 10 to 200 GPa. The rate
// goes with the fourth power of the wire: 1 % of wire is 4 % of rate.
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, equation 10-9; Bhandari,
// Design of Machine Elements, 10.4; checked in spring_test.go.
func (s Spring) Rate() (quantity.SpringRate, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	d, m := float64(s.Wire), float64(s.Mean)
	return quantity.SpringRate(float64(s.Modulus) * d * d * d * d / (8 * m * m * m * s.Active())), nil
}

// Solid returns the length at which all coils touch.
//
//	open, not ground, and closed, not ground   L = (N_t + 1) d
//	open and ground, and closed and ground     L = N_t d
//
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, table 10-1; checked in
// spring_test.go.
func (s Spring) Solid() (quantity.Length, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	_, extra := s.Ends.dead()
	return quantity.Length(s.Turns+extra) * s.Wire, nil
}

// Pitch returns the distance from coil to coil of the free spring.
//
//	open (L₀ − d)/N   open and ground L₀/(N + 1)
//	closed (L₀ − 3d)/N   closed and ground (L₀ − 2d)/N
//
// Errors: *quantity.RangeError naming the argument; a free length under the
// solid one is one.
// Source: Shigley, Mechanical Engineering Design, table 10-1; checked in
// spring_test.go.
func (s Spring) Pitch() (quantity.Length, error) {
	solid, err := s.Solid()
	if err != nil {
		return 0, err
	}
	if err := within("free length", s.Free.Value(), solid.Value(), maxLength, quantity.Millimetre); err != nil {
		return 0, err
	}
	n := quantity.Length(s.Active())
	switch s.Ends {
	case Plain:
		return (s.Free - s.Wire) / n, nil
	case PlainGround:
		return s.Free / (n + 1), nil
	case Squared:
		return (s.Free - 3*s.Wire) / n, nil
	}
	return (s.Free - 2*s.Wire) / n, nil
}

// LoadAt returns what the spring pushes with when it is pressed to a length.
//
//	F = k (L₀ − L)
//
// The free length must be known, and the length lie between solid and free.
// Errors: *quantity.RangeError naming the argument.
// Source: Hooke's law; a spring maker's page on loads; checked in
// spring_test.go.
func (s Spring) LoadAt(length quantity.Length) (quantity.Force, error) {
	k, err := s.Rate()
	if err != nil {
		return 0, err
	}
	solid, err := s.Solid()
	if err != nil {
		return 0, err
	}
	if err := within("free length", s.Free.Value(), solid.Value(), maxLength, quantity.Millimetre); err != nil {
		return 0, err
	}
	// A hair of rounding must not refuse a spring at its solid length.
	if err := within("length", length.Value(), (solid * (1 - 1e-9)).Value(), s.Free.Value(), quantity.Millimetre); err != nil {
		return 0, err
	}
	return quantity.Force(float64(k) * float64(s.Free-length)), nil
}

// Wahl returns Wahl's factor for the curved wire: stress by direct shear and by
// curvature together.
//
//	K = (4C − 1)/(4C − 4) + 0.615/C
//
// The index must lie in 2.5 to 30.
// Errors: *quantity.RangeError naming the argument.
// Source: Wahl, Mechanical Springs; Bhandari, Design of Machine Elements, 10.4;
// checked in spring_test.go.
func Wahl(index quantity.Ratio) (float64, error) {
	if err := indexed(index); err != nil {
		return 0, err
	}
	c := float64(index)
	return (4*c-1)/(4*c-4) + 0.615/c, nil
}

// Bergstrasser returns Bergsträsser's factor, within 1 % of Wahl's and simpler.
//
//	K = (4C + 2)/(4C − 3)
//
// The index must lie in 2.5 to 30.
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, equation 10-5; checked in
// spring_test.go.
func Bergstrasser(index quantity.Ratio) (float64, error) {
	if err := indexed(index); err != nil {
		return 0, err
	}
	c := float64(index)
	return (4*c + 2) / (4*c - 3), nil
}

func indexed(index quantity.Ratio) error {
	return within("spring index", index.Value(), quantity.Number.Of(minIndex), quantity.Number.Of(maxIndex), quantity.Number)
}

// Shear returns the greatest shear stress in the wire under a load, with a
// curvature factor: Wahl's or Bergsträsser's, or 1 for none.
//
//	τ = K · 8 F D / (π d³)
//
// The load must lie in 0 to 200 kN, the factor in 1 to 2.
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, equation 10-7; checked in
// spring_test.go.
func (s Spring) Shear(load quantity.Force, factor float64) (quantity.Stress, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := upTo("load", load.Value(), maxForce, quantity.Newton); err != nil {
		return 0, err
	}
	if err := within("factor", quantity.Number.Of(factor), quantity.Number.Of(1), quantity.Number.Of(2), quantity.Number); err != nil {
		return 0, err
	}
	d := float64(s.Wire)
	return quantity.Stress(factor * 8 * float64(load) * float64(s.Mean) / (math.Pi * d * d * d)), nil
}

// A Seat says how the ends are held.
type Seat float64

// The seats with Shigley's end-condition constant α (table 10-2).
const (
	FlatFlat  Seat = 0.5   // both ends between flat faces
	FlatPivot Seat = 0.707 // one flat face, one pivot
	PivotBoth Seat = 1     // both on pivots
	FlatFree  Seat = 2     // one flat face, the other end free
)

// Buckles returns the free length over which a steel spring can bow out to the
// side when nothing guides it.
//
//	L₀ = 2.63 D/α
//
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, equation 10-13; checked in
// spring_test.go.
func (s Spring) Buckles(seat Seat) (quantity.Length, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if err := within("end constant", quantity.Number.Of(float64(seat)), quantity.Number.Of(0.5), quantity.Number.Of(2), quantity.Number); err != nil {
		return 0, err
	}
	return 2.63 * s.Mean / quantity.Length(seat), nil
}

// A Load is a load read at a length, each with its standard uncertainty; 0 for
// an exact one.
type Load struct {
	Length                        quantity.Length
	Force                         quantity.Force
	StandardLength, StandardForce float64 // in metre and newton
}

// FromLoads returns the rate of a spring, and its standard uncertainty, from
// two loads at two lengths.
//
//	k = (F₂ − F₁)/(L₁ − L₂), u(k)² = (u(F₁)² + u(F₂)²)/ΔL² + k² (u(L₁)² + u(L₂)²)/ΔL²
//
// The more pressed load must be the greater one. Take one at about a fifth and
// one at about four fifths of the travel: near its ends a spring is not
// straight.
// Errors: *quantity.RangeError naming the argument.
// Source: a spring maker's page on rates; JCGM 100:2008 (GUM), 5.1.2; checked
// in spring_test.go.
func FromLoads(a, b Load) (rate, standard quantity.SpringRate, err error) {
	for _, l := range [2]Load{a, b} {
		if err := upTo("length", l.Length.Value(), maxLength, quantity.Millimetre); err != nil {
			return 0, 0, err
		}
		if err := upTo("load", l.Force.Value(), maxForce, quantity.Newton); err != nil {
			return 0, 0, err
		}
		if err := upTo("uncertainty of a length", quantity.Length(l.StandardLength).Value(), maxLength, quantity.Millimetre); err != nil {
			return 0, 0, err
		}
		if err := upTo("uncertainty of a load", quantity.Force(l.StandardForce).Value(), maxForce, quantity.Newton); err != nil {
			return 0, 0, err
		}
	}
	if a.Length < b.Length {
		a, b = b, a
	}
	// Under a hundredth of a millimetre apart the difference is the ruler's.
	travel := float64(a.Length - b.Length)
	if err := within("second length", b.Length.Value(), quantity.Value{Kind: quantity.KindLength}, (a.Length - 1e-5).Value(), quantity.Millimetre); err != nil {
		return 0, 0, err
	}
	if err := within("load at the shorter length", b.Force.Value(), a.Force.Value(), maxForce, quantity.Newton); err != nil {
		return 0, 0, err
	}
	k := float64(b.Force-a.Force) / travel
	u := math.Hypot(math.Hypot(a.StandardForce, b.StandardForce), k*math.Hypot(a.StandardLength, b.StandardLength)) / travel
	return quantity.SpringRate(k), quantity.SpringRate(u), nil
}
