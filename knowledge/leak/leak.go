// Package leak says how much fluid gets past a gap, a hole or a worn ring, and
// what that costs the pump: a leak that a cold unit does not notice can take a
// hot one its pressure.
//
// Every path asks two things of the pressure: friction along its walls, and
// getting in at one end and out at the other. A long narrow gap is all
// friction, and its flow follows the viscosity; a hole in a thin plate is all
// ends, and its flow hardly does. A Result says which of the two it was, and
// whether the flow was smooth.
//
// # What it assumes
//
// Walls that stand still and do not bend, a steady flow of one liquid of one
// temperature without air in it, clean square edges. Where no friction law is
// exact, between smooth and turbulent flow and for holes at small Reynolds
// numbers, the laws of both sides are joined; there the flow is good to about
// a fifth.
//
// # Sources
//
// Friction between plates and in holes: Hagen and Poiseuille, and for turbulent
// flow Blasius. Ends of short paths: Idelchik, Handbook of Hydraulic
// Resistance, diagram 4-15, as printed in the documentation of the Modelica
// Standard Library. Slow flow through thin holes: Sampson 1891 (round) and
// Hasimoto 1958 (slit), from memory.
package leak

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Fluid is what leaks, at the temperature at which it does.
type Fluid struct {
	Dynamic quantity.Dynamic
	Density quantity.Density
}

// A Path is a way that fluid takes from high pressure to low.
type Path interface {
	// Flow returns what gets through at a difference of pressure.
	Flow(drop quantity.Pressure, f Fluid) (Result, error)
}

// A Regime is how the fluid flows.
type Regime string

// The regimes, by the Reynolds number.
const (
	Still        Regime = "still"        // nothing flows
	Laminar      Regime = "laminar"      // in layers, Re under 2000
	Transitional Regime = "transitional" // neither, Re 2000 to 4000
	Turbulent    Regime = "turbulent"    // Re over 4000
)

// The Reynolds numbers, by the hydraulic diameter, at which laminar flow in
// ducts ends and turbulent flow is established (handbooks give 2000 to 2300 for
// the first and about 4000 for the second).
const (
	laminarMost    = 2000
	turbulentLeast = 4000
)

// A Result is the flow through a path and how it came about.
type Result struct {
	Flow     quantity.Flow
	Velocity quantity.Speed // mean, where the path is widest open
	Reynolds float64        // by the hydraulic diameter: twice a gap, or a hole's diameter
	Regime   Regime
	// Friction is the share of the pressure that friction along the path takes,
	// 0 to 1; the rest goes into its two ends. Near 1 the path is a long gap,
	// near 0 it is an orifice.
	Friction float64
	// Between is the pressure over the second path of a Series; 0 elsewhere.
	Between quantity.Pressure
}

// Sentence says how it flows and what rules it, in a full sentence.
func (r Result) Sentence() string {
	var s string
	switch r.Regime {
	case Laminar:
		s = "The flow is laminar"
	case Transitional:
		s = "The flow is neither laminar nor fully turbulent, so the figure is good to about a fifth"
	case Turbulent:
		s = "The flow is turbulent"
	default:
		return "Nothing flows."
	}
	switch {
	case r.Friction >= 0.8:
		return s + "; friction along the gap rules it, so thin hot fluid leaks in proportion more."
	case r.Friction <= 0.2:
		return s + "; the path is so short or wide that it works as an orifice, and hot fluid leaks little more than cold."
	}
	return s + "; friction along the path and its two ends share the pressure."
}

// A Slot is a gap between two flat faces: a warped or scratched valve body, a
// lifted gasket.
type Slot struct {
	Width  quantity.Length // across the flow
	Gap    quantity.Length // between the faces
	Length quantity.Length // along the flow
}

// An Annulus is a round gap: a valve in its bore, a piston past its ring.
type Annulus struct {
	Diameter  quantity.Length // to the middle of the gap; the piston's will do
	Clearance quantity.Length // radial: half of the difference of the diameters
	Length    quantity.Length // along the flow
	// Eccentricity is how far the piston stands off the middle, as a share of
	// the clearance: 0 in the middle, 1 touching.
	Eccentricity quantity.Ratio
}

// A Hole is a drilled passage or bleed with square edges.
type Hole struct {
	Diameter quantity.Length
	Length   quantity.Length // 0 for a hole in a plate that is thin against it
}

// An Orifice is a hole of known discharge coefficient.
type Orifice struct {
	Diameter quantity.Length
	// Discharge is the coefficient that holds at large Reynolds numbers; 0 for
	// SharpEdge.
	Discharge quantity.Ratio
}

// SharpEdge is the discharge coefficient of a sharp-edged hole far from any
// wall, π/(π+2) rounded (Kirchhoff; Rabie, Fluid Power Engineering). It holds
// from a Reynolds number of some thousands up; under it the Orifice's own law
// takes over.
const SharpEdge quantity.Ratio = 0.611

// A Series is a path that ends in another: past a ring and then through a
// drain hole. Longer rows nest.
type Series struct{ First, Then Path }

// The ranges that are believed. They are wide: a ring gap to a textbook's duct,
// air to arctic fluid.
var (
	maxDrop   = quantity.Megapascal.Of(50)
	maxLength = quantity.Metre.Of(10)
	maxGap    = quantity.Millimetre.Of(50)
	minFluid  = Fluid{1e-6, 0.5}
	maxFluid  = Fluid{100, 2000}
)

func within(name string, v, most quantity.Value, unit quantity.Unit) error {
	return quantity.Within("leak", name, v, quantity.Value{Kind: v.Kind}, most, unit)
}

func checked(drop quantity.Pressure, f Fluid) error {
	if err := within("pressure", drop.Value(), maxDrop, quantity.PSI); err != nil {
		return err
	}
	if err := quantity.Within("leak", "viscosity", f.Dynamic.Value(), minFluid.Dynamic.Value(), maxFluid.Dynamic.Value(), quantity.MillipascalSecond); err != nil {
		return err
	}
	return quantity.Within("leak", "density", f.Density.Value(), minFluid.Density.Value(), maxFluid.Density.Value(), quantity.KilogramPerCubicMetre)
}

// Flow returns what gets through the slot.
//
//	Δp = 12 µ v L/h²   laminar, with Q = v w h
//	   + 32 µ v/(π h)   slow flow into and out of a slit
//	   + ζ(L/2h) ρ v²/2   entry and exit
//
// Over Re 2000 the first term becomes f L/(2h) ρ v²/2, f = 0.316/Re^0.25 from
// Re 4000 up and straight between. The width is taken to be large against the
// gap; at a width of ten gaps the walls at its sides take 6 % off.
// The pressure must lie in 0 to 50 MPa, width and length in 0 to 10 m, the gap
// in 0 to 50 mm. A gap of 0 leaks nothing.
// Errors: *quantity.RangeError naming the argument.
// Source: White, Fluid Mechanics, 6.6 (plates); Blasius 1913; Hasimoto 1958;
// Idelchik, diagram 4-15; checked in leak_test.go.
func (s Slot) Flow(drop quantity.Pressure, f Fluid) (Result, error) {
	if err := checked(drop, f); err != nil {
		return Result{}, err
	}
	if err := within("width", s.Width.Value(), maxLength, quantity.Inch); err != nil {
		return Result{}, err
	}
	if err := within("gap", s.Gap.Value(), maxGap, quantity.Thou); err != nil {
		return Result{}, err
	}
	if err := within("length", s.Length.Value(), maxLength, quantity.Inch); err != nil {
		return Result{}, err
	}
	r := slit(drop, s.Gap, s.Length, f)
	r.Flow = quantity.Flow(float64(r.Velocity) * float64(s.Width) * float64(s.Gap))
	return r, nil
}

// strips is how many strips an eccentric annulus is cut into. The sum over
// evenly spaced strips is exact for the cube of the gap from four up; the ends'
// losses need some more.
const strips = 32

// Flow returns what gets through the annulus, strip by strip round it, each a
// slot of its own gap.
//
//	h(θ) = c (1 + ε cos θ), Q = ∫ v(h) h D/2 dθ
//
// Where friction rules and the flow is laminar that is
// Q = π D c³ Δp/(12 µ L) · (1 + 1.5 ε²): a piston that touches its bore leaks
// 2.5 times as much as one in the middle. The clearance is taken to be small
// against the diameter: at a tenth of it the exact law is 0.1 % over this one
// when the diameter is to the middle of the gap, 10 % when it is the piston's.
// The pressure must lie in 0 to 50 MPa, diameter and length in 0 to 10 m, the
// clearance in 0 to 50 mm and to a quarter of the diameter, the eccentricity in
// 0 to 1.
// Errors: *quantity.RangeError naming the argument.
// Source: Rabie, Fluid Power Engineering, and Fox and McDonald, Introduction to
// Fluid Mechanics, 8.2; checked in leak_test.go.
func (a Annulus) Flow(drop quantity.Pressure, f Fluid) (Result, error) {
	if err := checked(drop, f); err != nil {
		return Result{}, err
	}
	if err := within("diameter", a.Diameter.Value(), maxLength, quantity.Inch); err != nil {
		return Result{}, err
	}
	most := quantity.Length(min(float64(a.Diameter)/4, maxGap.SI))
	if err := within("clearance", a.Clearance.Value(), most.Value(), quantity.Thou); err != nil {
		return Result{}, err
	}
	if err := within("length", a.Length.Value(), maxLength, quantity.Inch); err != nil {
		return Result{}, err
	}
	if err := within("eccentricity", a.Eccentricity.Value(), quantity.Number.Of(1), quantity.Percent); err != nil {
		return Result{}, err
	}
	c := float64(a.Clearance)
	widest := slit(drop, quantity.Length(c*(1+float64(a.Eccentricity))), a.Length, f)
	if a.Eccentricity == 0 {
		widest.Flow = quantity.Flow(float64(widest.Velocity) * math.Pi * float64(a.Diameter) * c)
		return widest, nil
	}
	var sum float64
	for i := range strips {
		h := c * (1 + float64(a.Eccentricity)*math.Cos(2*math.Pi*float64(i)/strips))
		sum += float64(slit(drop, quantity.Length(h), a.Length, f).Velocity) * h
	}
	widest.Flow = quantity.Flow(sum / strips * math.Pi * float64(a.Diameter))
	return widest, nil
}

// Flow returns what gets through the hole.
//
//	Δp = 32 µ v L/d²   laminar, with Q = v π d²/4
//	   + 6π µ v/d   slow flow into and out of a thin round hole
//	   + ζ(L/d) ρ v²/2   entry and exit
//
// Over Re 2000 the first term becomes f L/d ρ v²/2 as for a Slot. The pressure
// must lie in 0 to 50 MPa, the diameter in 0 to 50 mm, the length in 0 to 10 m.
// Errors: *quantity.RangeError naming the argument.
// Source: Hagen and Poiseuille; Blasius 1913; Sampson 1891, and Dagan, Weinbaum
// and Pfeffer 1982 for the sum of the first two; Idelchik, diagram 4-15;
// checked in leak_test.go.
func (h Hole) Flow(drop quantity.Pressure, f Fluid) (Result, error) {
	if err := checked(drop, f); err != nil {
		return Result{}, err
	}
	if err := within("diameter", h.Diameter.Value(), maxGap, quantity.Inch); err != nil {
		return Result{}, err
	}
	if err := within("length", h.Length.Value(), maxLength, quantity.Inch); err != nil {
		return Result{}, err
	}
	return round(drop, h.Diameter, h.Length, f, ends(float64(h.Length)/float64(h.Diameter))), nil
}

// Flow returns what gets through the orifice.
//
//	Δp = ρ/2 (Q/(C_d A))² + 24 µ Q/d³
//
// At large Reynolds numbers that is Q = C_d A √(2 Δp/ρ), the coefficient being
// the stated one; at small ones Sampson's exact law for a thin round hole, by
// which the flow goes with the pressure itself. Between, at a Reynolds number
// of 10 to 1000, it is an interpolation good to about a fifth. The pressure must
// lie in 0 to 50 MPa, the diameter in 0 to 50 mm, the coefficient in 0.4 to 1.
// Errors: *quantity.RangeError naming the argument.
// Source: Rabie, Fluid Power Engineering (sharp edges); Sampson 1891; checked
// in leak_test.go.
func (o Orifice) Flow(drop quantity.Pressure, f Fluid) (Result, error) {
	if err := checked(drop, f); err != nil {
		return Result{}, err
	}
	if err := within("diameter", o.Diameter.Value(), maxGap, quantity.Inch); err != nil {
		return Result{}, err
	}
	if o.Discharge == 0 {
		o.Discharge = SharpEdge
	}
	if err := quantity.Within("leak", "discharge coefficient", o.Discharge.Value(), quantity.Number.Of(0.4), quantity.Number.Of(1), quantity.Number); err != nil {
		return Result{}, err
	}
	return round(drop, o.Diameter, 0, f, 1/float64(o.Discharge*o.Discharge)), nil
}

// Flow returns what gets through both paths, one after the other.
//
//	Q₁(Δp − p) = Q₂(p), solved for the pressure p between them
//
// Errors: those of the two paths.
// Source: continuity; checked against the closed form of two orifices in
// leak_test.go.
func (s Series) Flow(drop quantity.Pressure, f Fluid) (Result, error) {
	low, high := quantity.Pressure(0), drop
	var first, then Result
	// Sixty halvings leave less of the pressure than a float64 can tell.
	for range 60 {
		p := (low + high) / 2
		var err error
		if first, err = s.First.Flow(drop-p, f); err != nil {
			return Result{}, err
		}
		if then, err = s.Then.Flow(p, f); err != nil {
			return Result{}, err
		}
		if first.Flow > then.Flow {
			low = p
		} else {
			high = p
		}
	}
	// The narrower path says how it flows.
	r := then
	if first.Reynolds > 0 && drop > 2*low {
		r = first
	}
	r.Flow, r.Between = min(first.Flow, then.Flow), low
	return r, nil
}

// slit returns velocity, Reynolds number and regime between two plates.
func slit(drop quantity.Pressure, gap, length quantity.Length, f Fluid) Result {
	h := float64(gap)
	if h == 0 || drop == 0 {
		return Result{Regime: Still}
	}
	l := float64(length)
	return solve(float64(drop), 2*h, l, 96, 32/(math.Pi*h), ends(l/(2*h)), f)
}

// round is slit for a round hole.
func round(drop quantity.Pressure, diameter, length quantity.Length, f Fluid, zeta float64) Result {
	d := float64(diameter)
	if d == 0 || drop == 0 {
		return Result{Regime: Still}
	}
	r := solve(float64(drop), d, float64(length), 64, 6*math.Pi/d, zeta, f)
	r.Flow = quantity.Flow(float64(r.Velocity) * math.Pi / 4 * d * d)
	return r
}

// ends returns the loss coefficient ζ of a square entry from and exit into the
// wide, for a path of length l in hydraulic diameters. In a thin plate the jet
// stays contracted (2.85, a discharge coefficient of 0.592); from a length of
// about two it fills the path again (1.5).
//
// Source: Idelchik, Handbook of Hydraulic Resistance, diagram 4-15, with
// A₀/A₁ = 0 and the friction taken out, for Re over 1000.
func ends(l float64) float64 {
	if !(l < 2.4) {
		return 1.5
	}
	l7 := math.Pow(l, 7)
	phi := 0.25 + 0.535*l*l7/(0.05+l7)
	return 1.5 + (2.4-l)*math.Pow(10, -phi)
}

// solve finds the mean velocity at which friction and ends together ask for the
// drop. dh is the hydraulic diameter, poise the product of friction factor and
// Reynolds number in laminar flow, slow the ends' share at small Reynolds
// numbers in pascal for each unit of µ v.
func solve(drop, dh, length, poise, slow, zeta float64, f Fluid) Result {
	mu, rho := float64(f.Dynamic), float64(f.Density)
	a := mu * (poise*length/(2*dh*dh) + slow)
	b := rho * zeta / 2
	// The root of a v + b v² = drop, in the form that loses no digits.
	v := 2 * drop / (a + math.Sqrt(a*a+4*b*drop))
	re := func(v float64) float64 { return rho * v * dh / mu }
	if re(v) > laminarMost && length > 0 {
		// Turbulent friction asks for more, so the velocity is lower than that.
		low, high := 0.0, v
		for range 60 {
			v = (low + high) / 2
			if length/dh*factor(re(v), poise)*rho*v*v/2+mu*slow*v+b*v*v < drop {
				low = v
			} else {
				high = v
			}
		}
		v = low
	}
	r := Result{Velocity: quantity.Speed(v), Reynolds: re(v), Regime: Turbulent}
	switch {
	case r.Reynolds < laminarMost:
		r.Regime = Laminar
	case r.Reynolds < turbulentLeast:
		r.Regime = Transitional
	}
	r.Friction = 1 - (mu*slow*v+b*v*v)/drop
	r.Friction = math.Max(0, math.Min(1, r.Friction))
	return r
}

// factor returns Darcy's friction factor of a smooth duct.
func factor(re, poise float64) float64 {
	blasius := func(re float64) float64 { return 0.316 / math.Sqrt(math.Sqrt(re)) }
	switch {
	case re <= laminarMost:
		return poise / re
	case re >= turbulentLeast:
		return blasius(re)
	}
	x := (re - laminarMost) / (turbulentLeast - laminarMost)
	return (1-x)*poise/laminarMost + x*blasius(turbulentLeast)
}
