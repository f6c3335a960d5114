package clutch

import (
	"math"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Use is what a truck is for.
type Use string

// The uses.
const (
	Everyday    Use = "everyday"
	Towing      Use = "towing" // a heavy working truck
	Competition Use = "competition"
)

// Uses lists the uses, the mildest first.
var Uses = []Use{Everyday, Towing, Competition}

// Margin is how many times the engine's torque an element should hold: for hot
// fluid, worn lining, long slips and shocks. Typical, invented for the demo;
// 1 for an unknown use.
func (u Use) Margin() quantity.Ratio {
	switch u {
	case Everyday:
		return 1.2
	case Towing:
		return 1.4
	case Competition:
		return 1.6
	}
	return 1
}

// Setting is how line pressure is set up.
type Setting string

// The settings.
const (
	Stock    Setting = "stock"
	Ranging  Setting = "ranging"  // raised, still falling with the throttle
	Constant Setting = "constant" // raised, the same at every throttle
)

// Settings lists the settings.
var Settings = []Setting{Stock, Ranging, Constant}

// What the trade does with raised line pressure in forward ranges. No source
// prints it.
var (
	fromPractice = unit.Provenance{Kind: unit.CommonPractice, Note: "What the trade does with raised builds; no source prints it."}
	psi          = quantity.PSI.Step(1)

	RangingLeast    = quantity.Pressure(110 * psi) // throttle closed
	RangingLocked   = quantity.Pressure(200 * psi) // full throttle, converter clutch locked: shafts are the limit from about here
	RangingUnlocked = quantity.Pressure(170 * psi) // full throttle, unlocked: the same
	ConstantMost    = quantity.Pressure(220 * psi) // constant, tolerable in a heavy working truck
	BeyondSense     = quantity.Pressure(275 * psi) // and up to 300: no use, no build
)

// FromPractice is where the figures of the trade come from.
func FromPractice() unit.Provenance { return fromPractice }

// Sense is what the trade thinks of a line pressure.
type Sense string

// What it thinks.
const (
	Low         Sense = "low"          // under what raised builds have: stock, or too little
	Usual       Sense = "usual"        // where raised builds range
	ShaftsLimit Sense = "shafts-limit" // from here shafts, not clutches, set the limit
	Tolerable   Sense = "tolerable"    // shafts set the limit, and a heavy working truck bears it
	Excessive   Sense = "excessive"    // over all that is tolerated
	Beyond      Sense = "beyond-sense" // a fault, not a setting
	NoSense     Sense = ""             // no pressure
)

// Judge says what the trade thinks of a full-throttle line pressure in a forward
// range of a raised build. locked says that the converter clutch is on.
//
// Errors: none; what is negative or no number makes NoSense.
// Source: common practice, no source prints it; checked in practice_test.go.
func Judge(p quantity.Pressure, locked bool, s Setting, u Use) Sense {
	limit := RangingUnlocked
	if locked {
		limit = RangingLocked
	}
	switch {
	case !(p >= 0) || math.IsInf(float64(p), 0):
		return NoSense
	case p >= BeyondSense:
		return Beyond
	case p > ConstantMost:
		return Excessive
	case p < RangingLeast:
		return Low
	case p <= limit:
		return Usual
	case s == Constant && u == Towing:
		return Tolerable
	}
	return ShaftsLimit
}

// A Request is what a plan is made for.
type Request struct {
	Build   Build
	Engine  quantity.Torque // greatest, at the flywheel
	Stall   quantity.Ratio  // of the converter, torque at stall
	Use     Use
	Margin  quantity.Ratio // 0 for that of the use
	Setting Setting
	// StockIdle and StockFull are the ends of a stock unit's line pressure, from
	// the unit sheet, and StockLocked the full-throttle end with the converter
	// clutch on; 0 where the sheet has none.
	StockIdle, StockFull, StockLocked quantity.Pressure
}

// A State is the plan for the converter clutch off, or on.
type State struct {
	Locked  bool
	Needed  quantity.Pressure // at which nothing slips, with the margin
	Needs   Link              // the element that needs it
	Useful  quantity.Pressure // above it a shaft goes first
	Breaks  Link              // that shaft
	High    quantity.Pressure // full throttle, of the plan; 0 where none is known
	Weakest Link              // at High
	Sense   Sense             // of High
	// Safety is the engine torque that Weakest bears over that of the engine; 0
	// without High.
	Safety quantity.Ratio
	Enough bool // High is Needed or more
	Sound  bool // the shaft bears the engine with the margin
	// TradeLimit is where the trade sees shafts set the limit, and Agrees says that
	// Useful is within a quarter of it.
	TradeLimit quantity.Pressure
	Agrees     bool
}

// A Plan is line pressure for a truck.
type Plan struct {
	Margin           quantity.Ratio
	Low              quantity.Pressure // throttle closed; 0 where none is known
	LowHolds         quantity.Torque   // engine torque that Low holds, unlocked
	Unlocked, Locked State
}

// Make works out a plan: how much pressure the engine needs, how much is of use,
// and what the trade would set.
//
//	Needed = p of Build.Needed at engine · margin
//	Useful = p of Build.Crossing
//
// A stock unit has the ends of its sheet. A ranging one goes from RangingLeast to
// what is needed, no less than RangingLeast and no more than where the trade sees
// the shafts' limit, and with the converter clutch locked no less than without. A constant one has what both states need, within
// RangingLeast and ConstantMost. A plan that does not reach what is needed
// says so in Enough: it does not raise the pressure further.
// Engine must be 1 N·m to 10 kN·m, Stall 1 to 5, Margin 1 to 5.
// Errors: *quantity.RangeError naming the argument; those of Build's methods.
// Source: Build.Needed and Build.Crossing, and common practice; checked in plan_test.go.
func (r Request) Make() (Plan, error) {
	plan := Plan{Margin: r.Margin}
	if r.Margin == 0 {
		plan.Margin = r.Use.Margin()
	}
	err := first([]error{
		within("engine torque", r.Engine.Value(), quantity.Torque(1).Value(), quantity.Torque(10e3).Value(), quantity.FootPound),
		ratioIn("converter torque ratio", r.Stall, 1, 5),
		ratioIn("margin", plan.Margin, 1, 5),
		pressureIn(r.StockIdle), pressureIn(r.StockFull), pressureIn(r.StockLocked),
	})
	if err != nil {
		return Plan{}, err
	}
	states := []*State{&plan.Unlocked, &plan.Locked}
	drives := [][]Drive{Unlocked(r.Stall), Locked}
	plan.Locked.Locked = true
	plan.Unlocked.TradeLimit, plan.Locked.TradeLimit = RangingUnlocked, RangingLocked
	for i, s := range states {
		if s.Needed, s.Needs, err = r.Build.Needed(r.Engine*quantity.Torque(plan.Margin), drives[i]); err != nil {
			return Plan{}, err
		}
		if s.Useful, s.Breaks, err = r.Build.Crossing(drives[i]); err != nil {
			return Plan{}, err
		}
		s.Sound = s.Breaks.Engine >= r.Engine*quantity.Torque(plan.Margin)
		s.Agrees = math.Abs(float64(s.Useful-s.TradeLimit)) <= 0.25*float64(s.TradeLimit)
	}
	u, l := &plan.Unlocked, &plan.Locked
	switch r.Setting {
	case Ranging:
		plan.Low = RangingLeast
		u.High = min(max(u.Needed, RangingLeast), RangingUnlocked)
		l.High = min(max(l.Needed, u.High), RangingLocked) // locking never lowers line pressure
	case Constant:
		plan.Low = min(max(u.Needed, l.Needed, RangingLeast), ConstantMost)
		u.High, l.High = plan.Low, plan.Low
	default:
		plan.Low, u.High, l.High = r.StockIdle, r.StockFull, r.StockLocked
	}
	for i, s := range states {
		if s.High == 0 {
			continue
		}
		if s.Weakest, err = r.Build.Weakest(s.High, drives[i]); err != nil {
			return Plan{}, err
		}
		s.Safety = quantity.Ratio(s.Weakest.Engine / r.Engine)
		s.Enough = s.High >= s.Needed
		s.Sense = Judge(s.High, s.Locked, r.Setting, r.Use)
	}
	if plan.Low > 0 {
		low, err := r.Build.Weakest(plan.Low, drives[0])
		if err != nil {
			return Plan{}, err
		}
		plan.LowHolds = low.Engine
	}
	return plan, nil
}

// ScrewReach is how far the regulator's adjusting nut is turned for a correction
// and no more. A greater change is made by another spring. Typical, invented for
// the demo.
const ScrewReach quantity.Turns = 6

// A Turn is what to do to the regulator.
type Turn struct {
	Turns quantity.Turns // never negative
	In    bool           // in raises, out lowers
	Reach bool           // the adjusting nut can do it
}

// Regulator returns how far the regulator's nut has to be turned to bring line
// pressure from one value to another, and which way. perTurn is the change for
// one turn, from the unit sheet. A gauge has the last word.
//
//	n = |p_to − p_from| / p_turn
//
// from and to must be 0 to 5 MPa, perTurn 1 to 100 kPa.
// Errors: *quantity.RangeError naming the argument.
// Source: proportion; that in raises is the unit sheet's; checked in practice_test.go.
func Regulator(from, to, perTurn quantity.Pressure) (Turn, error) {
	if err := first([]error{
		pressureIn(from), pressureIn(to),
		within("change for one turn", perTurn.Value(), quantity.Pressure(1e3).Value(), quantity.Pressure(100e3).Value(), quantity.PSI),
	}); err != nil {
		return Turn{}, err
	}
	n := quantity.Turns(math.Abs(float64(to-from)) / float64(perTurn))
	return Turn{Turns: n, In: to > from, Reach: n <= ScrewReach}, nil
}
