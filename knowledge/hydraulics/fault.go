package hydraulics

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Fault is a fault of the catalogue, as the model has it.
type Fault struct {
	ID string
	// Mode tells apart what goes by one id in the catalogue: which way a valve
	// sticks, which solenoid a wire leads to. Empty where there is only one.
	Mode string
	// Severity is 0 for as good as new to 1 for as bad as it gets.
	Severity float64
}

// A FaultModel is how a fault of the catalogue changes the model.
type FaultModel struct {
	ID, Mode string
	// Means says in words what Severity 0 to 1 stands for.
	Means      string
	does, also effect
}

// An effect is one change of the model: what, of which parameter, how far at
// severity 1. Effects are data, which cost a download less than functions do.
type effect struct {
	op op
	p  param
	x  float64
}

type op uint8

const (
	doNothing     op = iota
	doToward         // moves p toward x, evenly by factor: gaps and orifices are felt by their powers
	doAdd            // adds x to p
	doWeaken         // takes a share x of p
	doCutGovernor    // no current; a cut wire knows no degrees
	doCutOverdrive
	doCutLockup
	doCutAll
	doFullGovernor
	doNoSpeed
	doNoPump
	doHoldKickdown // x is the hold
	doHoldBoost
	doHold12
	doHold23
	doHold34
	doHoldLockup
	doStickRegulator // x 1: open, 0: shut
	doStickGovernor
	doStickThrottle
	doOffset
	doAir
	doBall
	doAstray
	doLoseTravel
	doLeastLever
	doLag
	doSeatFourth
	doSeatLockup
	doLoseAccumulator
	doLoseOverdrive
	doLoseControl
	doTrap // air
)

// FaultModels lists every fault that the model knows, by catalogue id. Severities
// are invented for the demo: at 1 the fault is as bad as the trade describes it.
var FaultModels = []FaultModel{
	{"accumulator-piston-cracked", "", "a crack up to 4 mm across", effect{doToward, accumulatorLeak, 4 * mm}, effect{}},
	{"accumulator-seal-worn", "", "a leak up to a hole of 2.5 mm", effect{doToward, accumulatorLeak, 2.5 * mm}, effect{}},
	{"accumulator-spring-broken", "", "less of its force, down to none", effect{doLoseAccumulator, 0, 1}, effect{}},
	{"boost-valve-stuck", "off", "held in its place without boost", effect{doHoldBoost, 0, 1}, effect{}},
	{"boost-valve-stuck", "on", "held in its place with boost", effect{doHoldBoost, 0, 2}, effect{}},
	{"case-connector-corroded", "governor", "no current", effect{doCutGovernor, 0, 1}, effect{}},
	{"case-connector-corroded", "overdrive", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"case-connector-corroded", "lockup", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"check-ball-missing", "", "how far the ball's seat lets back", effect{doBall, 0, 1}, effect{}},
	{"computer-driver-fault", "governor", "no current", effect{doCutGovernor, 0, 1}, effect{}},
	{"computer-driver-fault", "overdrive", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"computer-driver-fault", "lockup", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"computer-driver-fault", "governor-on", "full current", effect{doFullGovernor, 0, 1}, effect{}},
	{"converter-clutch-solenoid-coil-open", "", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"converter-clutch-solenoid-coil-shorted", "", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"converter-clutch-solenoid-leaking", "", "a leak when energized, up to its whole vent", effect{doSeatLockup, 0, 1}, effect{}},
	{"converter-clutch-valve-stuck", "off", "held off", effect{doHoldLockup, 0, 1}, effect{}},
	{"converter-clutch-valve-stuck", "on", "held on", effect{doHoldLockup, 0, 2}, effect{}},
	{"converter-drive-broken", "", "the pump stands still", effect{doNoPump, 0, 1}, effect{}},
	{"cooler-restricted", "", "cooler narrowed to a hole of 1 mm", effect{doToward, coolerD, 1 * mm}, effect{}},
	{"drainback-valve-stuck", "", "valve nearly shut, a hole of 0.8 mm", effect{doToward, coolerD, 0.8 * mm}, effect{}},
	{"filter-loose", "", "air, up to 95 % of what is drawn", effect{doAir, 0, 0.95}, effect{}},
	{"filter-plugged", "", "filter narrowed to a hole of 2 mm", effect{doToward, filterD, 2 * mm}, effect{}},
	{"fluid-degraded", "", "viscosity down to 60 %", effect{doToward, thinning, 0.6}, effect{}},
	{"fluid-low", "", "air, up to 95 % of what is drawn", effect{doAir, 0, 0.95}, effect{}},
	{"fluid-overfull", "", "air, up to 90 % of what is drawn", effect{doAir, 0, 0.9}, effect{}},
	{"fluid-water", "", "viscosity down to 70 %", effect{doToward, thinning, 0.7}, effect{}},
	{"fluid-wrong", "thick", "viscosity up to double", effect{doToward, thinning, 2}, effect{}},
	{"fluid-wrong", "thin", "viscosity down to 60 %", effect{doToward, thinning, 0.6}, effect{}},
	{"front-clutch-seals", "", "a gap up to 0.15 mm round the piston", effect{doToward, frontClutchSeal, 0.15 * mm}, effect{}},
	{"front-servo-leak", "across", "a gap up to 0.25 mm between the sides, a broken ring or a crack", effect{doToward, servoSeal, 0.25 * mm}, effect{}},
	{"front-servo-leak", "out", "a gap up to 0.25 mm to the case", effect{doToward, servoRing, 0.25 * mm}, effect{}},
	{"governor-passage-blocked", "blocked", "supply narrowed to a hole of 0.2 mm", effect{doToward, governorSupplyD, 0.2 * mm}, effect{}},
	{"governor-passage-blocked", "leaking", "a leak up to a hole of 3 mm", effect{doToward, governorBleedD, 3 * mm}, effect{}},
	{"governor-sensor-dead", "high", "the computer cuts the current", effect{doCutGovernor, 0, 1}, effect{}},
	{"governor-sensor-dead", "low", "it reads full pressure, so the computer asks for less", effect{doOffset, 0, 100 * psi}, effect{}},
	{"governor-sensor-offset", "reads-low", "up to 30 psi less than there is", effect{doOffset, 0, -30 * psi}, effect{}},
	{"governor-sensor-offset", "reads-high", "up to 30 psi more than there is", effect{doOffset, 0, 30 * psi}, effect{}},
	{"governor-solenoid-coil-open", "", "no current", effect{doCutGovernor, 0, 1}, effect{}},
	{"governor-solenoid-coil-shorted", "", "no current, for the computer shuts it off", effect{doCutGovernor, 0, 1}, effect{}},
	{"governor-solenoid-stuck-closed", "", "supply held back, at 1 shut", effect{doStickGovernor, 0, 0}, effect{}},
	{"governor-solenoid-stuck-open", "", "supply held open, at 1 fully", effect{doStickGovernor, 0, 1}, effect{}},
	{"harness-open", "governor", "no current", effect{doCutGovernor, 0, 1}, effect{}},
	{"harness-open", "overdrive", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"harness-open", "lockup", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"harness-short", "governor-on", "control wire to ground: full current", effect{doFullGovernor, 0, 1}, effect{}},
	{"harness-short", "governor-off", "the computer shuts it off", effect{doCutGovernor, 0, 1}, effect{}},
	{"harness-short", "lockup-off", "the computer shuts it off", effect{doCutLockup, 0, 1}, effect{}},
	{"harness-short", "overdrive-off", "the computer shuts it off", effect{doCutOverdrive, 0, 1}, effect{}},
	{"input-shaft-rings-worn", "shaft", "a clearance up to 0.16 mm", effect{doToward, rearClutchRings, 0.16 * mm}, effect{}},
	{"input-shaft-rings-worn", "support", "a clearance up to 0.16 mm", effect{doToward, frontClutchRings, 0.16 * mm}, effect{}},
	{"internal-wiring-open", "governor", "no current", effect{doCutGovernor, 0, 1}, effect{}},
	{"internal-wiring-open", "overdrive", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"internal-wiring-open", "lockup", "no current", effect{doCutLockup, 0, 1}, effect{}},
	{"kickdown-valve-stuck", "back", "does not follow the lever, up to all its travel", effect{doLoseTravel, 0, 1}, effect{doHoldKickdown, 0, 1}},
	{"kickdown-valve-stuck", "forward", "stays forward, up to half its travel", effect{doLeastLever, 0, 0.5}, effect{doHoldKickdown, 0, 2}},
	{"linkage-misadjusted", "", "manual valve between its ranges", effect{doAstray, 0, 1}, effect{}},
	{"manual-valve-misaligned", "", "manual valve between its ranges", effect{doAstray, 0, 1}, effect{}},
	{"overdrive-accumulator-seal-worn", "", "a leak up to a hole of 3.5 mm", effect{doToward, overdriveAccumulatorLeak, 3.5 * mm}, effect{}},
	{"overdrive-accumulator-spring-broken", "", "less of its force, down to none", effect{doLoseOverdrive, 0, 1}, effect{}},
	{"overdrive-check-valve", "open", "bleeds up to a hole of 4.5 mm", effect{doToward, overdriveBleedD, 4.5 * mm}, effect{}},
	{"overdrive-check-valve", "plugged", "does not bleed and traps air", effect{doToward, overdriveBleedD, 0.02 * mm}, effect{doTrap, 0, 1}},
	{"overdrive-feed-blocked", "", "feed narrowed to a hole of 0.15 mm", effect{doToward, overdriveFeedD, 0.15 * mm}, effect{}},
	{"overdrive-piston-seal", "", "a gap up to 0.12 mm round the piston", effect{doToward, overdriveSeal, 0.12 * mm}, effect{}},
	{"overdrive-solenoid-coil-open", "", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"overdrive-solenoid-coil-shorted", "", "no current", effect{doCutOverdrive, 0, 1}, effect{}},
	{"overdrive-solenoid-leaking", "", "a leak when energized, up to its whole vent", effect{doSeatFourth, 0, 1}, effect{}},
	{"overdrive-switch-fault", "", "fourth is never commanded", effect{doCutOverdrive, 0, 1}, effect{}},
	{"pump-bushing-worn", "", "a leak of converter oil up to a hole of 7 mm, and pump gears that run off center by up to 0.2 mm", effect{doToward, bushingD, 7 * mm}, effect{doToward, pumpGap, 0.2 * mm}},
	{"pump-worn", "", "a clearance up to 0.3 mm", effect{doToward, pumpGap, 0.3 * mm}, effect{}},
	{"rear-clutch-seals", "", "a gap up to 0.15 mm round the piston", effect{doToward, rearClutchSeal, 0.15 * mm}, effect{}},
	{"rear-servo-leak", "", "a gap up to 0.25 mm round the piston", effect{doToward, rearServoSeal, 0.25 * mm}, effect{}},
	{"regulator-set-high", "", "up to 60 psi too high in D", effect{doAdd, regulatorSpring, 60 * psi}, effect{}},
	{"regulator-spring-weak", "", "down to a quarter of its force", effect{doWeaken, regulatorSpring, 0.75}, effect{}},
	{"regulator-stuck-high", "", "held with its exhaust up to shut", effect{doStickRegulator, 0, 0}, effect{}},
	{"regulator-stuck-low", "", "held with its exhaust up to wide open", effect{doStickRegulator, 0, 1}, effect{}},
	{"separator-plate-damaged", "across", "a gap up to 0.25 mm between shift circuits", effect{doToward, plateGap, 0.25 * mm}, effect{}},
	{"separator-plate-damaged", "out", "a gap up to 0.15 mm under the body", effect{doToward, bodyGap, 0.15 * mm}, effect{}},
	{"separator-plate-superseded", "", "lock-up vent down to 2 mm", effect{doToward, lockupVentD, 2 * mm}, effect{}},
	{"shift-control-valve-stuck", "", "the 1-2 shift is not softened", effect{doLoseControl, 0, 1}, effect{}},
	{"shift-valve-1-2-stuck", "down", "held down", effect{doHold12, 0, 1}, effect{}},
	{"shift-valve-1-2-stuck", "up", "held up", effect{doHold12, 0, 2}, effect{}},
	{"shift-valve-2-3-stuck", "down", "held down", effect{doHold23, 0, 1}, effect{}},
	{"shift-valve-2-3-stuck", "up", "held up", effect{doHold23, 0, 2}, effect{}},
	{"shift-valve-3-4-stuck", "down", "held down", effect{doHold34, 0, 1}, effect{}},
	{"shift-valve-3-4-stuck", "up", "held up", effect{doHold34, 0, 2}, effect{}},
	{"shift-valve-3-4-stuck", "part-way", "its passage narrowed to a hole of 0.4 mm", effect{doToward, overdriveD, 0.4 * mm}, effect{}},
	{"shuttle-valve-stuck", "", "front servo's feeds narrowed to a hole of 0.6 mm", effect{doToward, servoD, 0.6 * mm}, effect{}},
	{"speed-sensor-faulty", "", "no speed is seen", effect{doNoSpeed, 0, 1}, effect{}},
	{"switch-valve-worn", "", "a clearance up to 0.4 mm", effect{doToward, switchLeak, 0.4 * mm}, effect{}},
	{"throttle-actuator-fault", "low", "the lever does not follow, at 1 at all", effect{doLoseTravel, 0, 1}, effect{}},
	{"throttle-actuator-fault", "high", "the lever stays out, up to half its travel", effect{doLeastLever, 0, 0.5}, effect{}},
	{"throttle-cable-loose", "", "the lever lags, up to half its travel", effect{doLag, 0, 0.5}, effect{}},
	{"throttle-cable-tight", "", "the lever leads, up to half its travel", effect{doLag, 0, -0.5}, effect{}},
	{"throttle-lever-sticking", "", "the lever stays out, up to half its travel", effect{doLeastLever, 0, 0.5}, effect{}},
	{"throttle-pressure-set-wrong", "low", "up to half of the pressure is missing", effect{doLoseTravel, 0, 0.5}, effect{}},
	{"throttle-pressure-set-wrong", "high", "up to a third of the pressure stands at idle", effect{doLeastLever, 0, 0.33}, effect{}},
	{"throttle-valve-stuck", "low", "held shut", effect{doStickThrottle, 0, 0}, effect{}},
	{"throttle-valve-stuck", "high", "held open, up to all its travel", effect{doStickThrottle, 0, 1}, effect{}},
	{"transmission-relay-fault", "", "no current anywhere", effect{doCutAll, 0, 1}, effect{}},
	{"valve-body-screws-wrong", "", "a gap up to 0.15 mm under the body's lands", effect{doToward, bodyGap, 0.15 * mm}, effect{}},
	{"valve-body-warped", "", "a gap up to 0.2 mm under the body's lands", effect{doToward, bodyGap, 0.2 * mm}, effect{}},
}

// do makes the change at a severity over 0.
func (e effect) do(c *condition, s float64) {
	x := e.x * s
	p := &c.v[e.p]
	switch e.op {
	case doToward:
		*p *= math.Pow(e.x/Parameters[e.p].SI, s)
	case doAdd:
		*p += x
	case doWeaken:
		*p *= 1 - x
	case doCutGovernor:
		c.noGovernor = true
	case doCutOverdrive:
		c.noOverdrive = true
	case doCutLockup:
		c.noLockup = true
	case doCutAll:
		c.noGovernor, c.noOverdrive, c.noLockup = true, true, true
	case doFullGovernor:
		c.fullGovernor = true
	case doNoSpeed:
		c.noSpeed = true
	case doNoPump:
		c.noPump = true
	case doHoldKickdown:
		c.kickdown = hold(e.x)
	case doHoldBoost:
		c.boost = hold(e.x)
	case doHold12:
		c.shift12 = hold(e.x)
	case doHold23:
		c.shift23 = hold(e.x)
	case doHold34:
		c.shift34 = hold(e.x)
	case doHoldLockup:
		c.lockup = hold(e.x)
	case doStickRegulator:
		c.regulator = 0.3 + 0.7*s
		if e.x == 0 {
			c.regulator = 0.15 * (1 - s) * (1 - s)
		}
	case doStickGovernor:
		c.governor = 0.9 + 0.1*s
		if e.x == 0 {
			c.governor = 0.15 * (1 - s)
		}
	case doStickThrottle:
		c.throttle = 0.3 + 0.7*s
		if e.x == 0 {
			c.throttle = 0.1 * (1 - s)
		}
	case doOffset:
		c.offset += x
	case doAir:
		c.air = 1 - (1-c.air)*(1-x)
	case doBall:
		c.ball = math.Max(c.ball, x)
	case doAstray:
		c.misaligned = math.Max(c.misaligned, x)
	case doLoseTravel:
		c.lostTravel = math.Max(c.lostTravel, x)
	case doLeastLever:
		c.leastLever = math.Max(c.leastLever, x)
	case doLag:
		c.lag += x
	case doSeatFourth:
		c.fourthSeat = s * c.v[solenoidVentD]
	case doSeatLockup:
		c.lockupSeat = s * c.v[solenoidVentD]
	case doLoseAccumulator:
		c.lost.accumulator = s
	case doLoseOverdrive:
		c.lost.overdrive = s
	case doLoseControl:
		c.lost.control = true
	case doTrap:
		c.lost.trapped = s
	}
}

// do makes the model's changes at a severity over 0.
func (m *FaultModel) do(c *condition, s float64) {
	m.does.do(c, s)
	m.also.do(c, s)
}

// Graded reports whether more severity makes the fault worse: a cut wire is a cut
// wire.
func (m *FaultModel) Graded() bool {
	var half, whole condition
	for i := range Parameters {
		half.v[i], whole.v[i] = Parameters[i].SI, Parameters[i].SI
	}
	half.governor, whole.governor = -1, -1
	m.do(&half, 0.5)
	m.do(&whole, 1)
	return half != whole
}

// ModelOf returns the model of a fault; an empty mode takes its first.
func ModelOf(id, mode string) (*FaultModel, bool) {
	for i := range FaultModels {
		if m := &FaultModels[i]; m.ID == id && (mode == "" || m.Mode == mode) {
			return m, true
		}
	}
	return nil, false
}

// apply puts the fault into c.
func (f Fault) apply(c *condition) error {
	m, ok := ModelOf(f.ID, f.Mode)
	if !ok {
		word := f.ID
		if f.Mode != "" {
			word += " " + f.Mode
		}
		return &WordError{"fault", word}
	}
	if err := quantity.Within("hydraulics", "severity", quantity.Ratio(f.Severity).Value(), quantity.Ratio(0).Value(), quantity.Ratio(1).Value(), quantity.Unit{}); err != nil {
		return err
	}
	if f.Severity > 0 {
		m.do(c, f.Severity)
	}
	return nil
}
