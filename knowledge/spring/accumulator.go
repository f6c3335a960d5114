package spring

import (
	"math"

	"provingbench/knowledge/quantity"
)

// An Accumulator is a piston that a spring holds up and that a shift has to
// press down, fed through an orifice. While it moves, the clutch or band beside
// it is held at the pressure that the spring asks for; when it has moved, the
// pressure jumps to that of the supply and the shift is over. The same holds
// for a servo that moves its own band.
//
// The model is quasi-static: the piston has no mass, its seals no friction and
// no leak, the clutch itself takes no fluid any more, and the supply keeps its
// pressure.
type Accumulator struct {
	Piston   quantity.Area  // on which the fluid works
	Preload  quantity.Force // of the spring before the piston moves
	Rate     quantity.SpringRate
	Stroke   quantity.Length
	BackArea quantity.Area     // on which a pressure helps the spring; 0 for none
	Back     quantity.Pressure // that pressure
	Supply   quantity.Pressure // before the orifice
	Orifice  quantity.Length   // its diameter
	// Discharge is the coefficient of the orifice; 0 for 0.611, a sharp edge.
	Discharge quantity.Ratio
	Density   quantity.Density
}

// A Stroke is what an accumulator does in a shift.
type Stroke struct {
	// Start and End are the pressures at which the piston begins to move and at
	// which it would reach its end.
	Start, End quantity.Pressure
	// Travel is how far it gets: less than its stroke when the supply can't
	// press the spring down, 0 when it can't move it at all.
	Travel quantity.Length
	Time   quantity.Duration // for that travel
	Volume quantity.Volume   // that it takes in
}

// Full reports whether the piston gets to its end, in the sense that it
// cushions the whole shift.
func (s Stroke) Full(a Accumulator) bool { return s.Travel >= a.Stroke }

var (
	maxArea     = quantity.SquareCentimetre.Of(1000)
	maxRate     = quantity.NewtonPerMillimetre.Of(10e3)
	maxPressure = quantity.Megapascal.Of(50)
	maxOrifice  = quantity.Millimetre.Of(50)
)

// Shift works a stroke out.
//
//	p(x) = (F₀ + k x + p_b A_b)/A
//	t = V/(C_d A_o √(2/ρ)) · 2/(√(p_s − p₀) + √(p_s − p₁))
//
// The second is the integral of A dx/Q over the travel, Q = C_d A_o √(2 (p_s −
// p)/ρ), with the pressure rising evenly from p₀ to p₁: the law by which a tank
// of straight walls empties. The orifice is taken to be turbulent; in cold thick
// fluid a small one passes less and the shift takes longer.
// Piston over 0 and at most 1000 cm²; preload to 200 kN; rate to 10 kN/mm;
// stroke and orifice over 0; pressures to 50 MPa; coefficient 0.4 to 1;
// density 500 to 2000 kg/m³.
// Errors: *quantity.RangeError naming the argument.
// Source: balance of forces, as in Bhandari, Design of Machine Elements,
// example 10.16; emptying of a tank, as in Choudhary and Prakash, Fluid
// Mechanics, examples 6.16 to 6.19; checked in accumulator_test.go.
func (a Accumulator) Shift() (Stroke, error) {
	if a.Discharge == 0 {
		a.Discharge = 0.611
	}
	const little = 1e-9
	for _, x := range []struct {
		name        string
		v           quantity.Value
		least, most quantity.Value
		unit        quantity.Unit
	}{
		{"piston area", a.Piston.Value(), quantity.Area(little).Value(), maxArea, quantity.SquareMillimetre},
		{"preload", a.Preload.Value(), quantity.Force(0).Value(), maxForce, quantity.Newton},
		{"rate", a.Rate.Value(), quantity.SpringRate(0).Value(), maxRate, quantity.NewtonPerMillimetre},
		{"stroke", a.Stroke.Value(), quantity.Length(1e-5).Value(), maxLength, quantity.Millimetre},
		{"back area", a.BackArea.Value(), quantity.Area(0).Value(), maxArea, quantity.SquareMillimetre},
		{"back pressure", a.Back.Value(), quantity.Pressure(0).Value(), maxPressure, quantity.PSI},
		{"supply", a.Supply.Value(), quantity.Pressure(0).Value(), maxPressure, quantity.PSI},
		{"orifice", a.Orifice.Value(), quantity.Length(1e-5).Value(), maxOrifice, quantity.Millimetre},
		{"discharge coefficient", a.Discharge.Value(), quantity.Number.Of(0.4), quantity.Number.Of(1), quantity.Number},
		{"density", a.Density.Value(), quantity.Density(500).Value(), quantity.Density(2000).Value(), quantity.KilogramPerCubicMetre},
	} {
		if err := within(x.name, x.v, x.least, x.most, x.unit); err != nil {
			return Stroke{}, err
		}
	}
	area := float64(a.Piston)
	back := float64(a.Back) * float64(a.BackArea)
	p0 := (float64(a.Preload) + back) / area
	p1 := p0 + float64(a.Rate)*float64(a.Stroke)/area
	s := Stroke{Start: quantity.Pressure(p0), End: quantity.Pressure(p1)}
	if p0 >= float64(a.Supply) {
		return s, nil
	}
	s.Travel = a.Stroke
	if p1 > float64(a.Supply) {
		s.Travel = quantity.Length((float64(a.Supply) - p0) / (p1 - p0) * float64(a.Stroke))
		p1 = float64(a.Supply)
	}
	s.Volume = quantity.Volume(area * float64(s.Travel))
	d := float64(a.Orifice)
	flow := float64(a.Discharge) * math.Pi / 4 * d * d * math.Sqrt(2/float64(a.Density))
	s.Time = quantity.Duration(float64(s.Volume) / flow * 2 / (math.Sqrt(float64(a.Supply)-p0) + math.Sqrt(float64(a.Supply)-p1)))
	return s, nil
}

// With returns the accumulator with another spring in it.
func (a Accumulator) With(preload quantity.Force, rate quantity.SpringRate) Accumulator {
	a.Preload, a.Rate = preload, rate
	return a
}

// Provenance says where Typical comes from: no maker prints such dimensions.
const Provenance = "typical, invented for the demo: replace it by what you measure"

// Typical is an accumulator of this class to start from; see Provenance.
var Typical = Accumulator{
	Piston:  700e-6,
	Preload: 120,
	Rate:    6e3,
	Stroke:  12e-3,
	Supply:  quantity.Pressure(430e3),
	Orifice: 1.8e-3,
	Density: 800,
}
