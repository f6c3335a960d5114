package hydraulics

import (
	"math"
	"slices"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Move is an engagement or a shift: something comes on, and with most something
// else lets go.
type Move string

// The moves.
const (
	IntoDrive   Move = "N-D"
	IntoReverse Move = "N-R"
	OneTwo      Move = "1-2"
	TwoThree    Move = "2-3"
	ThreeFour   Move = "3-4"
	LockUp      Move = "lock-up"
)

// Moves lists the moves.
var Moves = []Move{IntoDrive, IntoReverse, OneTwo, TwoThree, ThreeFour, LockUp}

// moveModel is how a move is made: which links feed it, which leak, and what
// strokes. The first piston is that of the element that comes on.
type moveModel struct {
	move        Move
	gear        unit.Gear // in which it ends
	supply      int       // the node that drives it
	feed, leaks []int     // links
	pistons     []Piston
	accumulator int // index of the piston that cushions it; 0: none
}

// The pistons, invented for the demo. Preloads are of return springs. An empty
// passage is what it and its chamber take before anything moves.
var moveModels = [...]moveModel{
	{IntoDrive, unit.First, line, []int{lManualDrive, lRearClutch}, []int{lRearRings, lRearSeal, lAccumulatorLeak},
		[]Piston{{"rear clutch", 0.0076, 800, 1e5, 0.0015}, {"empty passage", 0.01, 0, 0, 0.01}}, 0},
	{IntoReverse, unit.Reverse, line, []int{lManualReverse, lRearServoReverse}, []int{lRearServoSeal},
		[]Piston{{"rear servo", 0.0030, 400, 1.5e4, 0.010}, {"front clutch", 0.0068, 900, 1e5, 0.0025}, {"empty passage", 0.01, 0, 0, 0.01}}, 0},
	{OneTwo, unit.Second, line, []int{lManualDrive, lShift12, lServoApply}, []int{lServoRing, lServoSeal, lAccumulatorLeak},
		[]Piston{{"front servo", 0.0028, 300, 1e4, 0.008}, {"accumulator", 0.0016, 250, 6e3, 0.020}}, 1},
	{TwoThree, unit.Third, line, []int{lManualDrive, lShift12, lShift23, lFrontThird}, []int{lFrontRings, lFrontSeal, lReleaseRing, lPlateExhaust},
		[]Piston{{"front clutch", 0.0068, 900, 1e5, 0.0025}, {"front servo, release side", 0.0032, 0, 1e4, 0.008}, {"empty passage", 0.01, 0, 0, 0.005}}, 0},
	{ThreeFour, unit.Fourth, line, []int{lManualDrive, lShift34, lOverdriveFeed}, []int{lOverdriveSeal, lOverdriveBleed, lOverdriveAccumulator},
		[]Piston{{"overdrive clutch", 0.011, directSpring, 5e4, 0.0025}, {"overdrive accumulator", 0.0016, 600, 5e3, 0.020}, {"empty passage", 0.01, 0, 0, 0.005}}, 1},
	{LockUp, unit.Third, release, []int{lReleaseVent}, nil,
		[]Piston{{"converter clutch", 0.05, 0, 0, 0.0005}}, 0},
}

const (
	directSpring = 3500   // N, of the direct clutch, against the overdrive piston
	servoArea    = 0.0028 // m², of the front servo's apply side
	servoSpring  = 300    // N
	give         = 1e-12  // m³/Pa, of passages and seals (invented for the demo)
	fillSteps    = 40
)

// lost is what faults take from the pistons: shares of 1.
type lost struct {
	accumulator, overdrive float64 // of the springs
	control                bool    // the 1-2 shift is not cushioned
	trapped                float64 // air in the overdrive piston
}

// Holds says what elements can hold and what they have to. Package clutch
// computes such torques from pressures.
type Holds struct {
	// On is what the element that comes on holds at a pressure of its own, and Off
	// what the one that lets go holds; both take pressure over springs. Off is
	// nil when a one-way clutch lets go, which never binds and never lets slip.
	On, Off func(quantity.Pressure) quantity.Torque
	Load    quantity.Torque
}

// A Run is a move in time.
type Run struct {
	Move   Move
	Points []FillPoint
	On     []quantity.Torque // at each point; nil without Holds
	Off    []quantity.Torque
	// Filled is when the clearance is taken up, Full when the pressure is as good
	// as at rest. They are 0 when it does not come to that.
	Filled, Full quantity.Duration
	Rest         quantity.Pressure // at which it comes to rest
	Takes        bool              // it holds the load in the end
	TakesAt      quantity.Duration
	// Slips is how long neither holds the load; Binds how long each alone would.
	Slips, Binds quantity.Duration
}

// notice is how long slipping or binding must last to be felt as a flare or a
// tie-up: from memory of the trade, about a twentieth of a second.
const notice quantity.Duration = 0.05

// Flares reports whether the engine is felt to run away.
func (r Run) Flares() bool { return r.Slips > notice }

// TiesUp reports whether the truck is felt to be braked.
func (r Run) TiesUp() bool { return r.Binds > notice }

// Shift follows a move in time, with faults in the unit.
//
//	see Filling.Run; supply is the line, as it stands when the move is done
//
// Range, road speed and gear of the setting are the move's own; the rest holds. It
// assumes that the pump keeps the line up meanwhile. With holds nil no torque is
// judged. Slips and Binds are counted from the moment at which the clearance is
// taken up.
// Errors: those of Steady; *NotReachedError when a valve keeps the move from being
// made; *WordError for an unknown move.
// Source: Filling.Run; checked in shift_test.go.
func Shift(move Move, s Setting, holds *Holds, faults ...Fault) (Run, error) {
	k := slices.IndexFunc(moveModels[:], func(m moveModel) bool { return m.move == move })
	if k < 0 {
		return Run{}, &WordError{"move", string(move)}
	}
	m := &moveModels[k]
	s.Range, s.Before, s.Road, s.Fourth, s.Lockup = unit.Drive, "", 0, move == ThreeFour, false
	want := m.gear
	if move == IntoReverse {
		s.Range = unit.ReverseR
	}
	c, err := condense(s, faults)
	if err != nil {
		return Run{}, err
	}
	// The valves are put where the move wants them, unless a fault holds them.
	put := func(h *hold, to bool) {
		if *h != free {
			return
		}
		if *h = down; to {
			*h = up
		}
	}
	put(&c.shift12, want != unit.First)
	put(&c.shift23, want == unit.Third || want == unit.Fourth)
	state, err := c.steady(s, nil)
	if err != nil {
		return Run{}, err
	}
	if state.Gear != want {
		return Run{}, &NotReachedError{want, state.Gear}
	}
	b, err := newBody(s.Temperature)
	if err != nil {
		return Run{}, err
	}
	b.c, b.mu = c, b.fresh*c.v[thinning]
	at := state.Valves
	at.Lockup = move == LockUp
	b.assemble(s, at)
	f := Filling{Supply: state.Pressures[m.supply], Soft: give * (1 + 20*c.lost.trapped)}
	loss := func(l int) Loss {
		e := &b.net.Elements[l]
		return Loss{e.R, e.K}
	}
	for _, l := range m.feed {
		x := loss(l)
		f.Feed.R += x.R
		f.Feed.K += x.K
	}
	for _, l := range m.leaks {
		f.Leaks = append(f.Leaks, loss(l))
	}
	f.Pistons = append(f.Pistons, m.pistons...)
	switch move {
	case OneTwo:
		weaken(&f.Pistons[m.accumulator], c.lost.accumulator)
		if c.lost.control {
			f.Pistons[m.accumulator].Stroke = 0
		}
	case ThreeFour:
		weaken(&f.Pistons[m.accumulator], c.lost.overdrive)
	case TwoThree:
		// The release side must overcome what applied the band.
		f.Pistons[1].Preload = quantity.Force(math.Max(0, float64(state.Pressures[servoApply])*servoArea-servoSpring))
	}
	if !(f.Supply > 0) {
		return Run{Move: move}, nil
	}
	first := f.Pistons[0]
	run := Run{Move: move}
	if run.Points, run.Rest, err = f.Run(fillSteps); err != nil {
		return Run{}, err
	}
	run.Filled, _ = Reaches(run.Points, quantity.Pressure(first.ends()))
	run.Full, _ = Reaches(run.Points, quantity.Pressure(0.95*float64(run.Rest)))
	if holds == nil {
		return run, nil
	}
	over := func(p quantity.Pressure) quantity.Pressure { return max(0, p-quantity.Pressure(first.ends())) }
	left := func(p quantity.Pressure) quantity.Pressure {
		switch move {
		case TwoThree:
			return quantity.Pressure(math.Max(0, (float64(f.Pistons[1].Preload)-float64(p)*float64(f.Pistons[1].Area))/servoArea))
		case ThreeFour:
			return max(0, quantity.Pressure(first.starts())-p)
		}
		return 0
	}
	for i, x := range run.Points {
		on := holds.On(over(x.Pressure))
		off := quantity.Torque(0)
		if holds.Off != nil {
			off = holds.Off(left(x.Pressure))
		}
		run.On, run.Off = append(run.On, on), append(run.Off, off)
		if on >= holds.Load && !run.Takes {
			run.Takes, run.TakesAt = true, x.Time
		}
		if i == 0 || holds.Off == nil {
			continue
		}
		dt := x.Time - run.Points[i-1].Time
		if on+off < holds.Load {
			run.Slips += dt
		}
		if on >= holds.Load && off >= holds.Load {
			run.Binds += dt
		}
	}
	return run, nil
}

// weaken takes a share of a piston's spring.
func weaken(p *Piston, share float64) {
	p.Preload *= quantity.Force(1 - share)
	p.Rate *= quantity.SpringRate(1 - share)
}
