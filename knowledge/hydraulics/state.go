package hydraulics

import (
	"fmt"
	"math"
	"slices"

	"provingbench/knowledge/fluid"
	"provingbench/knowledge/hydraulics/network"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Setting is what a unit is and what is asked of it.
type Setting struct {
	Version     unit.Version
	Build       unit.Build
	Range       unit.Range
	Throttle    quantity.Ratio // 0 at idle, 1 at full throttle
	Engine      quantity.Rotation
	Road        quantity.Speed // what the speed sensor sees: raised wheels count
	Temperature quantity.Temperature
	Fourth      bool // commanded by the computer
	Lockup      bool // commanded by the computer
	RelayOut    bool // no solenoid has current
	// Current is what flows through the governor solenoid when CurrentGiven says
	// that it is given, and not the computer's to choose: 1 A shuts its supply.
	Current      quantity.Current
	CurrentGiven bool
	// ByHand says that the rods are off and the throttle lever is moved by hand,
	// so that nothing before the lever matters.
	ByHand bool
	// Before is the gear that it was in, for a valve holds on to its place. Empty:
	// it comes from a standstill.
	Before unit.Gear
}

// What a setting may be.
var (
	MostEngine = quantity.Rotation(quantity.RPM.SI(6000))
	MostRoad   = quantity.Speed(quantity.MilePerHour.SI(120))
	// MostCurrent through the governor solenoid takes all pressure away (maker's
	// handbook: governor system description).
	MostCurrent quantity.Current = 1
)

// Valves says where the shift valves stand: false is the lower gear, or off.
type Valves struct{ OneTwo, TwoThree, ThreeFour, Lockup bool }

// A State is the steady state of a setting.
type State struct {
	Setting   Setting
	Valves    Valves
	Gear      unit.Gear // what the valves ask of the elements
	Pressures [places]quantity.Pressure
	Flows     [linksN]quantity.Flow

	raw []float64
}

// A HuntError reports shift valves that find no place to rest.
type HuntError struct{ Valve string }

// Error returns the fault for a log.
func (e *HuntError) Error() string {
	return fmt.Sprintf("hydraulics: the %s finds no place to rest", e.Valve)
}

// Sentence returns the fault for a person, in full sentences.
func (e *HuntError) Sentence() string {
	return "With this fault the " + e.Valve + " finds no place to rest: a real unit would shift back and forth."
}

// A WordError reports a word that the model does not know.
type WordError struct{ What, Word string }

// Error returns the fault for a log.
func (e *WordError) Error() string {
	return fmt.Sprintf("hydraulics: %s %q is not known", e.What, e.Word)
}

// Port returns the pressure at a port of package unit.
func (s *State) Port(id string) (quantity.Pressure, bool) {
	for i := range Places {
		if Places[i].Port == id && id != "" {
			return s.Pressures[i], true
		}
	}
	return 0, false
}

// Node returns the pressure at a node of Places.
func (s *State) Node(id string) (quantity.Pressure, bool) {
	for i := range Places {
		if Places[i].ID == id {
			return s.Pressures[i], true
		}
	}
	return 0, false
}

// Element returns the pressure that puts an element on: in its chamber, and for
// the front band what the apply side has over the release side.
func (s *State) Element(id unit.ElementID) (quantity.Pressure, bool) {
	for i := range Places {
		if Places[i].Element == id && id != "" {
			if i == servoApply {
				return max(0, s.Pressures[i]-s.Pressures[servoRelease]), true
			}
			return s.Pressures[i], true
		}
	}
	return 0, false
}

// Steady returns the steady state of a setting with faults in the unit.
//
//	Σ flow = 0 at each node; each shift valve where its forces hold it
//
// A shift valve that has moved stays until the forces that moved it have fallen
// by its hysteresis, so the state depends on the gear before. Throttle must lie
// in 0 to 1, the speeds between 0 and MostEngine or MostRoad, the temperature in
// fluid.ValidFluid.
// Errors: *quantity.RangeError naming what is out of range, *WordError for an
// unknown version, build, range, gear or fault, *HuntError, *network.SettleError.
// Source: package network for the flows, Parameters for the dimensions; checked
// in sheet_test.go against the unit sheet.
func Steady(s Setting, faults ...Fault) (State, error) {
	c, err := condense(s, faults)
	if err != nil {
		return State{}, err
	}
	return c.steady(s, nil)
}

// condense checks the setting and puts the faults into the parameters.
func condense(s Setting, faults []Fault) (*condition, error) {
	for _, x := range []struct {
		name              string
		value, least, top quantity.Value
		unit              quantity.Unit
	}{
		{"throttle", s.Throttle.Value(), quantity.Ratio(0).Value(), quantity.Ratio(1).Value(), quantity.Unit{}},
		{"engine speed", s.Engine.Value(), quantity.Rotation(0).Value(), MostEngine.Value(), quantity.RPM},
		{"road speed", s.Road.Value(), quantity.Speed(0).Value(), MostRoad.Value(), quantity.MilePerHour},
		{"current", s.Current.Value(), quantity.Current(0).Value(), MostCurrent.Value(), quantity.Unit{}},
		{"fluid temperature", s.Temperature.Value(), fluid.ValidFluid[0].Value(), fluid.ValidFluid[1].Value(), quantity.Celsius},
	} {
		if err := quantity.Within("hydraulics", x.name, x.value, x.least, x.top, x.unit); err != nil {
			return nil, err
		}
	}
	switch s.Version {
	case unit.Light, unit.Mid, unit.Late:
	default:
		return nil, &WordError{"version", string(s.Version)}
	}
	if s.Build != unit.Stock && s.Build != unit.Raised {
		return nil, &WordError{"build", string(s.Build)}
	}
	switch s.Range {
	case unit.Park, unit.ReverseR, unit.NeutralN, unit.Drive, unit.ManualTwo, unit.ManualOne:
	default:
		return nil, &WordError{"range", string(s.Range)}
	}
	c := &condition{regulator: -1, throttle: -1, governor: -1}
	for i := range Parameters {
		c.v[i] = Parameters[i].SI
	}
	differ(&c.v, s.Version, s.Build)
	for _, f := range faults {
		if err := f.apply(c); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// steady finds the state that valves and flows agree on. It may start from the
// pressures of another one.
func (c *condition) steady(s Setting, start []float64) (State, error) {
	b, err := newBody(s.Temperature)
	if err != nil {
		return State{}, err
	}
	return b.state(c, s, start, nil)
}

// state is rest with all that a State tells.
func (b *body) state(c *condition, s Setting, start []float64, w *wake) (State, error) {
	at, solved, err := b.rest(c, s, start, w)
	if err != nil {
		return State{}, err
	}
	out := State{Setting: s, Valves: at, Gear: gear(s.Range, at), raw: slices.Clone(solved.Pressure)}
	for i, p := range solved.Pressure {
		out.Pressures[i] = quantity.Pressure(p)
	}
	for i, q := range solved.Flow {
		out.Flows[i] = quantity.Flow(q)
	}
	return out, nil
}

// A wake is the pressures found last with the valves at each place, and before
// that, to start from.
type wake struct {
	found [1 << 4]uint8 // how many, up to two
	last  [1 << 4][places]float64
	older [1 << 4][places]float64
	// ahead is how much further the next state lies than the last lay from the one
	// before; at 0 it starts from the last.
	ahead float64
}

// start sets p to where the next state may be, and reports whether it is known.
func (w *wake) start(k int, p *[places]float64) bool {
	if w.found[k] == 0 {
		return false
	}
	*p = w.last[k]
	if w.found[k] > 1 && w.ahead != 0 {
		for i := range p {
			p[i] += w.ahead * (p[i] - w.older[k][i])
		}
	}
	return true
}

func (w *wake) keep(k int, p []float64) {
	w.found[k] = min(w.found[k]+1, 2)
	w.older[k] = w.last[k]
	copy(w.last[k][:], p)
}

// index counts the places of the valves.
func (v Valves) index() int {
	i := 0
	for _, up := range [...]bool{v.OneTwo, v.TwoThree, v.ThreeFour, v.Lockup} {
		i *= 2
		if up {
			i++
		}
	}
	return i
}

// before returns where the valves are in the gear that the unit was in.
func before(g unit.Gear) (Valves, error) {
	switch g {
	case "", unit.First, unit.ManualFirst, unit.Neutral, unit.Parked, unit.Reverse:
		return Valves{}, nil
	case unit.Second, unit.ManualSecond:
		return Valves{OneTwo: true}, nil
	case unit.Third:
		return Valves{OneTwo: true, TwoThree: true}, nil
	case unit.Fourth:
		return Valves{true, true, true, false}, nil
	}
	return Valves{}, &WordError{"gear", string(g)}
}

// rest finds where valves and flows come to rest. It starts by the wake, if it has
// one, and leaves there the pressures that it found; where that knows none, from
// start. The solution is the solver's own, until it solves again.
func (b *body) rest(c *condition, s Setting, start []float64, w *wake) (Valves, network.Solution, error) {
	at, err := before(s.Before)
	if err != nil {
		return at, network.Solution{}, err
	}
	b.c, b.mu = c, b.fresh*c.v[thinning]
	if start == nil {
		start = b.cold[:]
	}
	last := at
	for range 12 {
		b.assemble(s, at)
		k := at.index()
		if w != nil && w.start(k, &b.guess) {
			start = b.guess[:]
		}
		solved, err := b.solver.Solve(&b.net, start)
		if err != nil {
			return at, solved, err
		}
		start = solved.Pressure
		if w != nil {
			w.keep(k, start)
		}
		next := c.move(s, at, start)
		if next == at {
			return at, solved, nil
		}
		last, at = at, next
	}
	return at, network.Solution{}, &HuntError{[...]string{"1-2 shift valve", "2-3 shift valve", "3-4 shift valve", "converter clutch valve"}[moving(last, at)]}
}

// newBody makes the network of the unit with fluid at a temperature, still without
// links.
func newBody(t quantity.Temperature) (*body, error) {
	f := fluid.Classes()[0].Fluid
	mu, err := f.Dynamic(t)
	if err != nil {
		return nil, err
	}
	rho, err := f.Density(t)
	if err != nil {
		return nil, err
	}
	b := &body{rho: float64(rho), fresh: float64(mu)}
	b.net.Least = drop
	b.net.Nodes = make([]network.Node, places)
	b.net.Elements = make([]network.Element, linksN)
	for i := range Places {
		b.net.Nodes[i].ID = Places[i].ID
		b.cold[i] = 3e5
	}
	b.cold[suction] = 0
	b.net.Nodes[sump].Fixed = true
	for l := range Links {
		e := &b.net.Elements[l]
		e.ID, e.From, e.To = Links[l].ID, Links[l].From, Links[l].To
	}
	return b, nil
}

func moving(a, b Valves) int {
	switch {
	case a.OneTwo != b.OneTwo:
		return 0
	case a.TwoThree != b.TwoThree:
		return 1
	case a.ThreeFour != b.ThreeFour:
		return 2
	}
	return 3
}

// gear is the chart's row that the valves ask for.
func gear(r unit.Range, v Valves) unit.Gear {
	switch r {
	case unit.Park:
		return unit.Parked
	case unit.ReverseR:
		return unit.Reverse
	case unit.NeutralN:
		return unit.Neutral
	case unit.ManualOne:
		if !v.TwoThree && !v.OneTwo {
			return unit.ManualFirst
		}
	case unit.ManualTwo:
		if v.OneTwo && !v.TwoThree {
			return unit.ManualSecond
		}
	}
	switch {
	case v.TwoThree && v.ThreeFour:
		return unit.Fourth
	case v.TwoThree:
		return unit.Third
	case v.OneTwo:
		return unit.Second
	}
	return unit.First
}

// travel returns where the throttle lever on the case stands.
func (c *condition) travel(s Setting) float64 {
	x := float64(s.Throttle)
	if !s.ByHand {
		x -= c.lag
	}
	return math.Max(c.leastLever, math.Min(1, x))
}

// detent is where the throttle lever meets the kickdown valve.
const detent = 0.97

// move returns where the valves go under the pressures p.
func (c *condition) move(s Setting, at Valves, p []float64) Valves {
	forward := s.Range == unit.Drive || s.Range == unit.ManualTwo || s.Range == unit.ManualOne
	kick := c.kickdown == up || c.kickdown == free && c.travel(s) >= detent
	shift := func(was bool, held hold, spring, area, hysteresis, kicked param, barred bool) bool {
		if held != free {
			return held == up
		}
		if barred {
			return false
		}
		need := c.v[spring] + c.v[area]*p[throttle]
		if kick {
			need += c.v[kicked]
		}
		if was {
			need -= c.v[hysteresis]
		}
		return p[governor] > need
	}
	signal := func(was bool, held hold, node int) bool {
		if held != free {
			return held == up
		}
		need := c.v[signalShift]
		if was {
			need -= c.v[signalHold]
		}
		return p[node] > need
	}
	var next Valves
	next.OneTwo = forward && shift(at.OneTwo, c.shift12, shift12, shift12Throttle, shift12Hold, kickdown12, s.Range == unit.ManualOne)
	next.TwoThree = next.OneTwo && shift(at.TwoThree, c.shift23, shift23, shift23Throttle, shift23Hold, kickdown23, s.Range != unit.Drive)
	next.ThreeFour = next.TwoThree && signal(at.ThreeFour, c.shift34, fourthSignal)
	next.Lockup = signal(at.Lockup, c.lockup, lockupSignal)
	return next
}

// assemble makes the links of a setting with the valves at their places.
func (b *body) assemble(s Setting, at Valves) {
	c, v := b.c, &b.c.v
	r := s.Range
	manual1 := r == unit.ManualOne
	forward := r == unit.Drive || r == unit.ManualTwo || manual1
	rear := r == unit.ReverseR

	engine := float64(s.Engine)
	if c.noPump {
		engine = 0
	}
	b.hole(lFilter, v[filterD], true)
	slip, _ := network.Slot(slotPump[0], v[pumpGap], slotPump[1], b.rho, b.mu)
	pump := &b.net.Elements[lPump]
	pump.Kind, pump.R = network.Pump, slip
	pump.Displaced, pump.Starts, pump.Starves = v[displacement]/(2*math.Pi)*engine*(1-c.air), v[inletStarts], v[inletStarves]

	boosted := 0
	switch {
	case rear || c.boost == down:
	case at.ThreeFour || c.boost == up:
		boosted = 2
	case at.Lockup:
		boosted = 1
	}
	share, plug := 1.0, v[regulatorThrottle]
	if boosted > 0 {
		share = v[[]param{shareLockup, shareFourth}[boosted-1]]
		plug *= v[boostThrottle]
	}
	if rear {
		share = v[shareReverse]
	}
	if c.regulator >= 0 {
		b.hole(lDump, v[dumpD]*math.Sqrt(c.regulator), true)
		b.hole(lFeed, v[feedD]*math.Sqrt(math.Min(1, 2*c.regulator)), true)
	} else {
		land, plug := network.Sense{Node: line, Area: share}, network.Sense{Node: throttle, Area: -plug}
		b.spool(lFeed, v[feedD], v[regulatorSpring], v[regulatorSpan]/2, land, plug)
		b.spool(lDump, v[dumpD], v[regulatorSpring]+v[regulatorSpan]/2, v[regulatorSpan], land, plug)
	}
	b.spool(lRelief, v[dumpD], v[reliefSet], v[regulatorSpan], network.Sense{Node: line, Area: 1})

	// The manual valve, its exhausts, and what stands between.
	passage := v[manualD] * (1 - 0.6*c.misaligned)
	b.hole(lManualDrive, passage, forward)
	b.hole(lManualReverse, passage, rear)
	// Between its ranges it lets a little into the circuit beside, and holds that
	// one's exhaust nearly shut.
	switch {
	case manual1:
		b.hole(lManualLow, 0.7*passage, true)
	default:
		b.hole(lManualLow, 0.4*v[manualD]*c.misaligned, true)
	}
	vent := func(l int, fed bool) {
		d := v[exhaustD] * (1 - 0.95*c.misaligned)
		if fed {
			d = v[exhaustD] * 0.35 * c.misaligned
		}
		b.hole(l, d, true)
	}
	vent(lDriveVent, forward)
	vent(lReverseVent, rear)
	vent(lLowVent, manual1)
	b.hole(lAccumulatorDrive, v[accumulatorD], !rear)
	b.hole(lAccumulatorReverse, v[accumulatorD], rear)
	b.hole(lAccumulatorLeak, v[accumulatorLeak], true)

	b.hole(lRearClutch, v[rearClutchD], true)
	b.slot(lRearRings, slotRing, v[rearClutchRings])
	b.slot(lRearSeal, slotSeal, v[rearClutchSeal])

	b.hole(lShift12, v[secondD], at.OneTwo)
	b.hole(lSecondVent, v[exhaustD], !at.OneTwo)
	b.hole(lServoApply, v[servoD], true)
	b.slot(lServoRing, slotServo, v[servoRing])
	b.slot(lServoSeal, slotServo, v[servoSeal])
	b.hole(lServoRelease, v[servoD], true)
	b.slot(lReleaseRing, slotServo, v[servoRing])

	// A check ball lets the fed circuit in and keeps the other one out. With
	// neither fed, both stand open to their exhausts.
	b.hole(lShift23, v[thirdD], at.TwoThree)
	b.hole(lThirdVent, v[exhaustD], !at.TwoThree)
	ball := func(l int, d float64, open bool) {
		if !open && c.ball > 0 {
			d, open = d*math.Sqrt(c.ball), true
		}
		b.hole(l, d, open)
	}
	ball(lFrontThird, v[thirdD], !rear)
	ball(lFrontReverse, v[thirdD], rear || !at.TwoThree)
	b.hole(lFrontClutch, v[frontClutchD], true)
	b.slot(lFrontRings, slotRing, v[frontClutchRings])
	b.slot(lFrontSeal, slotSeal, v[frontClutchSeal])
	ball(lRearServoLow, v[rearServoD], !rear)
	ball(lRearServoReverse, v[rearServoD], !manual1)
	b.slot(lRearServoSeal, slotServo, v[rearServoSeal])

	// The throttle valve and the governor solenoid each let in below what they
	// hold and out above.
	regulate := func(in, out, node int, dIn, dOut, set float64) {
		b.spool(in, dIn, -set, v[throttleSpan], network.Sense{Node: node, Area: -1})
		b.spool(out, dOut, set, v[throttleSpan], network.Sense{Node: node, Area: 1})
	}
	if c.throttle >= 0 {
		b.hole(lThrottleSupply, v[throttleD]*math.Sqrt(c.throttle), true)
		b.hole(lThrottleVent, v[throttleD]*math.Sqrt(1-c.throttle), true)
	} else {
		regulate(lThrottleSupply, lThrottleVent, throttle, v[throttleD], v[throttleD], v[throttleFull]*c.travel(s)*(1-c.lostTravel))
	}
	stuck := c.governor
	switch {
	case stuck >= 0:
	case s.RelayOut || c.noGovernor:
		stuck = 1
	case c.fullGovernor:
		stuck = 0
	case s.CurrentGiven:
		stuck = 1 - float64(s.Current)/float64(MostCurrent)
	}
	if stuck >= 0 {
		b.hole(lGovernorSupply, v[governorSupplyD]*math.Sqrt(stuck), true)
		b.hole(lGovernorVent, v[governorVentD]*math.Sqrt(1-stuck), true)
	} else {
		set := v[governorSlope] * quantity.MilePerHour.From(float64(s.Road))
		if c.noSpeed {
			set = 0
		}
		regulate(lGovernorSupply, lGovernorVent, governor, v[governorSupplyD], v[governorVentD], math.Max(0, set-c.offset))
	}
	b.hole(lGovernorBleed, v[governorBleedD], true)

	solenoid := func(feed, out int, energized bool) {
		b.hole(feed, v[solenoidFeedD], true)
		d := v[solenoidVentD]
		if energized {
			d = v[solenoidSeatD]
			if out == lFourthVent {
				d = math.Max(d, c.fourthSeat)
			} else {
				d = math.Max(d, c.lockupSeat)
			}
		}
		b.hole(out, d, true)
	}
	solenoid(lFourthFeed, lFourthVent, s.Fourth && !s.RelayOut && !c.noOverdrive)
	solenoid(lLockupFeed, lLockupVent, s.Lockup && !s.RelayOut && !c.noLockup)

	b.hole(lShift34, v[overdriveD], at.ThreeFour)
	b.hole(lFourthExhaust, v[exhaustD], !at.ThreeFour)
	b.hole(lOverdriveFeed, v[overdriveFeedD], true)
	b.slot(lOverdriveSeal, slotSeal, v[overdriveSeal])
	b.hole(lOverdriveBleed, v[overdriveBleedD], true)
	b.hole(lOverdriveAccumulator, v[overdriveAccumulatorLeak], true)

	b.hole(lRelease, v[releaseD], !at.Lockup)
	if at.Lockup {
		b.slot(lConverter, slotDisc, v[lockupSeal])
	} else {
		b.hole(lConverter, v[converterD], true)
	}
	b.hole(lConverterOut, v[converterOutD], !at.Lockup)
	b.hole(lLockupApply, v[lockupApplyD], at.Lockup)
	b.hole(lReleaseVent, v[lockupVentD], at.Lockup)
	b.hole(lBypass, v[bypassD], at.Lockup)
	b.hole(lBushing, v[bushingD], true)
	b.slot(lSwitchLeak, slotSpool, v[switchLeak])
	// The drainback valve opens toward the lubrication, and to nothing else.
	b.spool(lCooler, v[coolerD], v[drainback], v[drainback], network.Sense{Node: coolerIn, Area: 1}, network.Sense{Node: lube, Area: -1})
	b.hole(lLube, v[lubeD], true)
	b.hole(lLubeRearFeed, 2*v[lubeRearD], true)
	b.hole(lLubeRear, v[lubeRearD], true)

	for _, l := range []int{lBodyThird, lBodyLow, lBodyExhaust, lBodyServo} {
		b.slot(l, slotLand, v[bodyGap])
	}
	b.slot(lBodyThrottle, slotThin, v[bodyGap])
	b.slot(lBodyGovernor, slotThin, v[bodyGap])
	b.slot(lPlateSecond, slotLand, v[plateGap])
	b.slot(lPlateExhaust, slotLand, math.Max(v[plateGap], v[bodyGap]))
}
