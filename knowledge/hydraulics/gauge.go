package hydraulics

import (
	"fmt"
	"math"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Reads says what a gauge test makes of the pressures.
type Reads string

// What a gauge test reads.
const (
	OnePort    Reads = "port"       // the pressure at Port
	Difference Reads = "difference" // line less Port
	LockupRise Reads = "rise"       // Port with the converter clutch on less without
	CoolerFlow Reads = "flow"       // what returns from the cooler in 20 s
	Reached    Reads = "reached"    // whether Gear is reached, with pressure at Port if there is one: 1 or 0
)

// A Gauge is a reading of a check of the catalogue, as the model can make it.
type Gauge struct {
	Check, Observation string // ids of the catalogue
	Acceptance         string // id of the unit sheet
	Reads              Reads
	Port               string // id of package unit
	// Gear must be reached for the reading to be made; empty: any.
	Gear unit.Gear
	At   Setting // as the check's steps say; the unit and its fluid come from Read
}

// A NotReachedError reports that a gauge's gear is not reached, so that the
// reading is not made.
type NotReachedError struct{ Wanted, Got unit.Gear }

// Error returns the fault for a log.
func (e *NotReachedError) Error() string {
	return fmt.Sprintf("hydraulics: gear %s is not reached, it is %s", e.Wanted, e.Got)
}

// Sentence returns the fault for a person, in full sentences.
func (e *NotReachedError) Sentence() string {
	return "This reading is made in " + name(e.Wanted) + ", but the unit is in " + name(e.Got) + "."
}

func name(g unit.Gear) string {
	row, _ := unit.RowOf(g)
	return row.Name
}

// justBefore is how far the lever goes without meeting the kickdown valve, and
// half what is taken for half to three-quarter throttle.
const (
	justBefore = 0.95
	half       = 0.6
)

// A test is a Gauge and its setting in the short. Wheels that turn in a gear turn
// at a speed which follows from the engine's; the road speeds here are those of a
// 3.54 axle and a 31 in tire (invented for the demo).
type test struct {
	check, observation, acceptance string
	reads                          Reads
	port                           string
	gear                           unit.Gear
	in                             unit.Range
	throttle, rpm, mph             float64
	before                         unit.Gear
	asked                          asked
}

// asked is what the computer is asked for in a test.
type asked uint8

const (
	byHand asked = iota // nothing; the lever is moved by hand
	fourthAsked
	lockupAsked
	both
	relayOut
)

var tests = [...]test{
	{"line-pressure-manual-1", "line-idle", "line-drive-idle", OnePort, "line", "", unit.ManualOne, 0, 1000, 10, "", byHand},
	{"line-pressure-manual-1", "servo-difference", "rear-servo-difference", Difference, "rear-servo", "", unit.ManualOne, 0, 1000, 10, "", byHand},
	{"line-pressure-manual-2", "line-idle", "line-drive-idle", OnePort, "line", "", unit.ManualTwo, 0, 1000, 18, "", byHand},
	{"line-pressure-manual-2", "line-full", "line-drive-full", OnePort, "line", "", unit.ManualTwo, justBefore, 1000, 18, unit.ManualSecond, byHand},
	{"line-pressure-manual-2", "servo-in-second", "front-servo-in-second", OnePort, "front-servo", "", unit.ManualTwo, 0, 1000, 18, "", byHand},
	{"line-pressure-drive", "third", "", Reached, "", unit.Third, unit.Drive, 0, 1600, 41, "", byHand},
	{"line-pressure-drive", "line-idle", "line-drive-idle", OnePort, "line", "", unit.Drive, 0, 1600, 41, "", byHand},
	{"line-pressure-drive", "servo-difference", "front-servo-difference", Difference, "front-servo", unit.Third, unit.Drive, 0, 1600, 41, "", byHand},
	{"line-pressure-drive", "line-full", "line-drive-full", OnePort, "line", "", unit.Drive, justBefore, 1600, 41, unit.Third, byHand},
	{"line-pressure-drive", "highest", "forward-line-ceiling", OnePort, "line", "", unit.Drive, justBefore, 1600, 41, unit.Third, byHand},
	{"line-pressure-reverse", "reverse-idle", "line-reverse-idle", OnePort, "rear-servo", "", unit.ReverseR, 0, 1600, 0, "", byHand},
	{"line-pressure-reverse", "reverse-full", "line-reverse-full", OnePort, "rear-servo", "", unit.ReverseR, 1, 1600, 0, "", byHand},
	{"line-pressure-reverse", "residual", "rear-servo-residual", OnePort, "rear-servo", "", unit.Drive, 0, 1600, 41, "", byHand},
	{"governor-pressure", "standstill", "governor-standstill", OnePort, "governor", "", unit.Drive, 0, 700, 0, "", byHand},
	{"governor-pressure", "at-speed", "governor-rise", OnePort, "governor", "", unit.Drive, 0, 1200, 30, "", byHand},
	{"governor-relay-out", "pressure", "governor-relay-out", OnePort, "governor", "", unit.Drive, 0, 700, 0, "", relayOut},
	{"overdrive-pressure", "comes", "", Reached, "overdrive-clutch", unit.Fourth, unit.Drive, 0, 1500, 55, unit.Third, fourthAsked},
	{"overdrive-pressure", "closed", "overdrive-clutch-closed", OnePort, "overdrive-clutch", unit.Fourth, unit.Drive, 0, 1500, 55, unit.Third, fourthAsked},
	{"overdrive-pressure", "half", "overdrive-clutch-half", OnePort, "overdrive-clutch", unit.Fourth, unit.Drive, half, 1800, 65, unit.Third, fourthAsked},
	{"overdrive-pressure", "full", "overdrive-clutch-full", OnePort, "overdrive-clutch", unit.Fourth, unit.Drive, justBefore, 2100, 75, unit.Third, fourthAsked},
	{"lockup-line-rise", "rise", "line-rise-lockup", LockupRise, "line", unit.Third, unit.Drive, 0, 1600, 41, unit.Third, lockupAsked},
	{"lockup-line-rise", "third-lockup", "line-third-lockup", OnePort, "line", unit.Third, unit.Drive, justBefore, 1800, 45, unit.Third, lockupAsked},
	{"lockup-line-rise", "highest", "line-maximum", OnePort, "line", "", unit.Drive, justBefore, 2100, 75, unit.Third, both},
	{"cooler-flow-test", "flow", "cooler-flow", CoolerFlow, "", "", unit.NeutralN, 0, 700, 0, "", byHand},
}

// Gauges lists the readings of the pressure tests, in the order of the tests.
var Gauges = gauges()

func gauges() []Gauge {
	out := make([]Gauge, len(tests))
	for i, t := range tests {
		out[i] = Gauge{t.check, t.observation, t.acceptance, t.reads, t.port, t.gear, Setting{
			Range: t.in, Throttle: quantity.Ratio(t.throttle), Before: t.before,
			Engine: quantity.Rotation(quantity.RPM.SI(t.rpm)), Road: quantity.Speed(quantity.MilePerHour.SI(t.mph)),
			Fourth: t.asked == fourthAsked || t.asked == both, Lockup: t.asked == lockupAsked || t.asked == both,
			RelayOut: t.asked == relayOut, ByHand: t.asked == byHand || t.asked == relayOut,
		}}
	}
	return out
}

// comes is the pressure at a port from which on somebody would say that it comes
// (invented for the demo).
const comes = quantity.Pressure(10 * 6894.757)

// Hot is the fluid temperature of the pressure tests when no other is known:
// 175 °F, in the middle of what the trade asks for.
var Hot = quantity.Temperature(quantity.Fahrenheit.SI(175))

// Read returns what the gauge reads on a unit with faults.
//
// The version, the build and the temperature are the unit's; the rest is the
// gauge's own setting. The value is a pressure, or a volume for CoolerFlow.
// Errors: those of Steady; *NotReachedError.
// Source: Steady; checked in sheet_test.go against the unit sheet.
func (g Gauge) Read(version unit.Version, build unit.Build, t quantity.Temperature, faults ...Fault) (quantity.Value, State, error) {
	s := g.At
	s.Version, s.Build, s.Temperature = version, build, t
	c, err := condense(s, faults)
	if err != nil {
		return quantity.Value{}, State{}, err
	}
	b, err := newBody(t)
	if err != nil {
		return quantity.Value{}, State{}, err
	}
	return g.read(b, c, s, nil, nil)
}

// read starts from wakes, if there are any: with the converter clutch as asked for,
// and off.
func (g Gauge) read(b *body, c *condition, s Setting, on, without *wake) (quantity.Value, State, error) {
	state, err := b.state(c, s, nil, on)
	if err != nil {
		return quantity.Value{}, state, err
	}
	v, err := g.of(&state)
	if err != nil || g.Reads != LockupRise {
		return v, state, err
	}
	s.Lockup = false
	off, err := b.state(c, s, state.raw, without)
	if err != nil {
		return v, state, err
	}
	p, _ := off.Port(g.Port)
	v.SI -= float64(p)
	return v, state, nil
}

// of returns what the gauge reads in a state; for LockupRise, the pressure with
// the converter clutch on.
func (g Gauge) of(state *State) (quantity.Value, error) {
	if g.Reads == Reached {
		reached := state.Gear == g.Gear
		if p, ok := state.Port(g.Port); ok {
			reached = reached && p > comes
		}
		return quantity.Count(map[bool]float64{true: 1}[reached]).Value(), nil
	}
	if g.Gear != "" && state.Gear != g.Gear {
		return quantity.Value{}, &NotReachedError{g.Gear, state.Gear}
	}
	if g.Reads == CoolerFlow {
		const caught = 20 // s
		return quantity.Volume(math.Max(0, float64(state.Flows[lCooler])) * caught).Value(), nil
	}
	p, _ := state.Port(g.Port)
	if g.Reads == Difference {
		l, _ := state.Port("line")
		p = l - p
	}
	return p.Value(), nil
}
