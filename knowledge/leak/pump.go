package leak

import "provingbench/knowledge/quantity"

// A Pump is what feeds the leaks.
type Pump struct {
	Displacement quantity.Volume // for one turn of the engine
	// Efficiency is the share of it that comes out at the pressure and
	// temperature at hand: what the pump loses inside itself is taken off.
	Efficiency quantity.Ratio
}

// maxDisplacement and maxSpeed are what is believed of a pump: ten times a
// truck's, and what an engine turns at most.
var (
	maxDisplacement = quantity.Litre.Of(0.5)
	maxSpeed        = quantity.RPM.Of(10000)
	leastDelivery   = quantity.LitrePerMinute.Of(0.01)
	maxFlow         = quantity.LitrePerMinute.Of(1e6)
)

// Delivery returns what the pump sends out at an engine speed, as long as its
// inlet is not starved and its regulator sends nothing back.
//
//	Q = V · n/2π · η
//
// The displacement must lie in 0 to 0.5 L, the speed in 0 to 10 000 rpm, the
// efficiency in 0 to 1.
// Errors: *quantity.RangeError naming the argument.
// Source: Esposito, Fluid Power, 5.4; checked in pump_test.go.
func (p Pump) Delivery(speed quantity.Rotation) (quantity.Flow, error) {
	if err := within("displacement", p.Displacement.Value(), maxDisplacement, quantity.Millilitre); err != nil {
		return 0, err
	}
	if err := within("efficiency", p.Efficiency.Value(), quantity.Number.Of(1), quantity.Percent); err != nil {
		return 0, err
	}
	if err := within("engine speed", speed.Value(), maxSpeed, quantity.RPM); err != nil {
		return 0, err
	}
	turns := float64(speed) / quantity.RPM.SI(1) / 60
	return quantity.Flow(float64(p.Displacement) * turns * float64(p.Efficiency)), nil
}

// Share returns how much of what the pump delivers at an engine speed a leak
// takes: 0.18 for 18 %. Over 1 the pump can't hold the pressure that the leak
// was worked out at, and the real pressure falls until the two agree.
//
//	share = Q_leak / Delivery
//
// The leak must not be negative, and the pump deliver at least 0.01 L/min.
// Errors: *quantity.RangeError naming the argument.
// Source: continuity; checked in pump_test.go.
func (p Pump) Share(leak quantity.Flow, speed quantity.Rotation) (quantity.Ratio, error) {
	d, err := p.Delivery(speed)
	if err != nil {
		return 0, err
	}
	if err := within("leak", leak.Value(), maxFlow, quantity.LitrePerMinute); err != nil {
		return 0, err
	}
	if err := quantity.Within("leak", "delivery of the pump", d.Value(), leastDelivery, maxFlow, quantity.LitrePerMinute); err != nil {
		return 0, err
	}
	return quantity.Ratio(leak / d), nil
}

// Held returns the pressure at which a path takes a whole delivery: what is left
// on the gauge when the leak is more than the pump sends out. With a ceiling,
// the pressure that the regulator holds, it is never more than that.
//
//	Q(p) = delivery, solved for p
//
// The delivery must lie in 0 to 1 000 000 L/min, the ceiling in 0 to 50 MPa.
// Errors: *quantity.RangeError naming the argument, and those of the path.
// Source: continuity; checked against worked orifice examples in pump_test.go.
func Held(path Path, f Fluid, delivery quantity.Flow, ceiling quantity.Pressure) (quantity.Pressure, error) {
	if err := within("delivery of the pump", delivery.Value(), maxFlow, quantity.LitrePerMinute); err != nil {
		return 0, err
	}
	r, err := path.Flow(ceiling, f)
	if err != nil {
		return 0, err
	}
	if r.Flow <= delivery {
		return ceiling, nil
	}
	low, high := quantity.Pressure(0), ceiling
	// Forty halvings tell a pressure to a part in a million million.
	for range 40 {
		p := (low + high) / 2
		if r, err = path.Flow(p, f); err != nil {
			return 0, err
		}
		if r.Flow > delivery {
			high = p
		} else {
			low = p
		}
	}
	return low, nil
}

// A Kind says which form a gap has.
type Kind string

// The kinds of Gap.
const (
	KindSlot    Kind = "slot"
	KindAnnulus Kind = "annulus"
	KindHole    Kind = "hole"
)

// A Gap is a place where units of this class leak, with dimensions to start
// from.
type Gap struct {
	ID, Name string
	Kind     Kind
	// Across is the width of a slot or the diameter of the others; Gap the gap
	// or the radial clearance, 0 for a hole; Length runs along the flow.
	Across, Gap, Length quantity.Length
	Off                 quantity.Ratio // eccentricity of an annulus
	Note                string
}

// Path returns the way through the gap.
func (g Gap) Path() Path {
	switch g.Kind {
	case KindSlot:
		return Slot{Width: g.Across, Gap: g.Gap, Length: g.Length}
	case KindHole:
		return Hole{Diameter: g.Across, Length: g.Length}
	}
	return Annulus{Diameter: g.Across, Clearance: g.Gap, Length: g.Length, Eccentricity: g.Off}
}

// Provenance says where the typical dimensions, pump and speeds come from: no
// maker prints them.
const Provenance = "typical, invented for the demo: replace them by what you measure"

// Gaps are places where such units leak. Every dimension is invented, of the
// size that a hand in the trade would expect; see Provenance.
var Gaps = []Gap{
	{ID: "support-ring", Name: "Sealing ring on a support or shaft", Kind: KindAnnulus, Across: 50e-3, Gap: 0.04e-3, Length: 2.4e-3, Off: 0.5,
		Note: "A worn ring that no longer touches its bore: the clearance is what is left open all round."},
	{ID: "valve-bore", Name: "Valve in its bore", Kind: KindAnnulus, Across: 16e-3, Gap: 0.03e-3, Length: 6e-3, Off: 1,
		Note: "A valve lies on one side of its bore, so it counts as touching. Half of what a bore gauge and a micrometer differ by is the clearance."},
	{ID: "servo-piston", Name: "Servo or accumulator piston past its ring", Kind: KindAnnulus, Across: 70e-3, Gap: 0.03e-3, Length: 2.5e-3, Off: 1,
		Note: "With a broken ring enter the clearance of the bare piston."},
	{ID: "body-face", Name: "Warped valve body face", Kind: KindSlot, Across: 25e-3, Gap: 0.05e-3, Length: 4e-3,
		Note: "The gap is what a feeler goes under; the length is the land between the two channels."},
	{ID: "bushing", Name: "Worn pump or shaft bushing", Kind: KindAnnulus, Across: 45e-3, Gap: 0.05e-3, Length: 15e-3, Off: 1,
		Note: "Counts where the bushing stands between pressure and the pan."},
	{ID: "hole", Name: "Hole, bleed or missing check ball", Kind: KindHole, Across: 2e-3, Length: 1.5e-3,
		Note: "A drilled hole with square edges. For a missing ball enter the hole of its seat."},
}

// GapNamed returns the gap with this id.
func GapNamed(id string) (g Gap, ok bool) {
	for _, g := range Gaps {
		if g.ID == id {
			return g, true
		}
	}
	return Gap{}, false
}

// A typical pump, two engine speeds and two fluid temperatures to set a leak
// against; see Provenance.
var (
	TypicalPump  = Pump{Displacement: 18e-6, Efficiency: 0.9}
	TypicalIdle  = quantity.Rotation(quantity.RPM.SI(700))
	TypicalDrive = quantity.Rotation(quantity.RPM.SI(2000))
	TypicalCold  = quantity.FromCelsius(20)
	TypicalHot   = quantity.FromCelsius(100)
)
