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
	Means string
	do    func(c *condition, s float64)
}

// to moves a parameter from its healthy value toward worst, evenly by factor:
// gaps and orifices are felt by their powers.
func to(p param, worst float64) func(*condition, float64) {
	return func(c *condition, s float64) { c.v[p] *= math.Pow(worst/Parameters[p].Value.SI, s) }
}

func all(fs ...func(*condition, float64)) func(*condition, float64) {
	return func(c *condition, s float64) {
		for _, f := range fs {
			f(c, s)
		}
	}
}

const millimetre = 1e-3

// FaultModels lists every fault that the model knows, by catalogue id. Severities
// are invented for the demo: at 1 the fault is as bad as the trade describes it.
var FaultModels = []FaultModel{
	{"accumulator-piston-cracked", "", "a crack up to 4 mm across", to(accumulatorLeak, 4*millimetre)},
	{"accumulator-seal-worn", "", "a leak up to a hole of 2.5 mm", to(accumulatorLeak, 2.5*millimetre)},
	{"accumulator-spring-broken", "", "less of its force, down to none", func(c *condition, s float64) { c.lost.accumulator = s }},
	{"boost-valve-stuck", "off", "held in its place without boost", held(func(c *condition) *hold { return &c.boost }, down)},
	{"boost-valve-stuck", "on", "held in its place with boost", held(func(c *condition) *hold { return &c.boost }, up)},
	{"case-connector-corroded", "governor", "no current", cut(0)},
	{"case-connector-corroded", "overdrive", "no current", cut(1)},
	{"case-connector-corroded", "lockup", "no current", cut(2)},
	{"check-ball-missing", "", "how far the ball's seat lets back", func(c *condition, s float64) { c.ball = math.Max(c.ball, s) }},
	{"computer-driver-fault", "governor", "no current", cut(0)},
	{"computer-driver-fault", "overdrive", "no current", cut(1)},
	{"computer-driver-fault", "lockup", "no current", cut(2)},
	{"computer-driver-fault", "governor-on", "full current", func(c *condition, s float64) { c.fullGovernor = s > 0 }},
	{"converter-clutch-solenoid-coil-open", "", "no current", cut(2)},
	{"converter-clutch-solenoid-coil-shorted", "", "no current", cut(2)},
	{"converter-clutch-solenoid-leaking", "", "a leak when energized, up to its whole vent", func(c *condition, s float64) { c.lockupSeat = s * c.v[solenoidVentD] }},
	{"converter-clutch-valve-stuck", "off", "held off", held(func(c *condition) *hold { return &c.lockup }, down)},
	{"converter-clutch-valve-stuck", "on", "held on", held(func(c *condition) *hold { return &c.lockup }, up)},
	{"converter-drive-broken", "", "the pump stands still", func(c *condition, s float64) { c.noPump = c.noPump || s > 0 }},
	{"cooler-restricted", "", "cooler narrowed to a hole of 1 mm", to(coolerD, 1*millimetre)},
	{"drainback-valve-stuck", "", "valve nearly shut, a hole of 0.8 mm", to(coolerD, 0.8*millimetre)},
	{"filter-loose", "", "air, up to 95 % of what is drawn", aired(0.95)},
	{"filter-plugged", "", "filter narrowed to a hole of 2 mm", to(filterD, 2*millimetre)},
	{"fluid-degraded", "", "viscosity down to 60 %", to(thinning, 0.6)},
	{"fluid-low", "", "air, up to 95 % of what is drawn", aired(0.95)},
	{"fluid-overfull", "", "air, up to 90 % of what is drawn", aired(0.9)},
	{"fluid-water", "", "viscosity down to 70 %", to(thinning, 0.7)},
	{"fluid-wrong", "thick", "viscosity up to double", to(thinning, 2)},
	{"fluid-wrong", "thin", "viscosity down to 60 %", to(thinning, 0.6)},
	{"front-clutch-seals", "", "a gap up to 0.15 mm round the piston", to(frontClutchSeal, 0.15*millimetre)},
	{"front-servo-leak", "across", "a gap up to 0.25 mm between the sides, a broken ring or a crack", to(servoSeal, 0.25*millimetre)},
	{"front-servo-leak", "out", "a gap up to 0.25 mm to the case", to(servoRing, 0.25*millimetre)},
	{"governor-passage-blocked", "blocked", "supply narrowed to a hole of 0.2 mm", to(governorSupplyD, 0.2*millimetre)},
	{"governor-passage-blocked", "leaking", "a leak up to a hole of 3 mm", to(governorBleedD, 3*millimetre)},
	{"governor-sensor-dead", "high", "the computer cuts the current", cut(0)},
	{"governor-sensor-dead", "low", "it reads full pressure, so the computer asks for less", func(c *condition, s float64) { c.offset = s * 100 * psiSI }},
	{"governor-sensor-offset", "reads-low", "up to 30 psi less than there is", func(c *condition, s float64) { c.offset -= 30 * s * psiSI }},
	{"governor-sensor-offset", "reads-high", "up to 30 psi more than there is", func(c *condition, s float64) { c.offset += 30 * s * psiSI }},
	{"governor-solenoid-coil-open", "", "no current", cut(0)},
	{"governor-solenoid-coil-shorted", "", "no current, for the computer shuts it off", cut(0)},
	{"governor-solenoid-stuck-closed", "", "supply held back, at 1 shut", func(c *condition, s float64) { c.governor = 0.15 * (1 - s) }},
	{"governor-solenoid-stuck-open", "", "supply held open, at 1 fully", func(c *condition, s float64) { c.governor = 0.9 + 0.1*s }},
	{"harness-open", "governor", "no current", cut(0)},
	{"harness-open", "overdrive", "no current", cut(1)},
	{"harness-open", "lockup", "no current", cut(2)},
	{"harness-short", "governor-on", "control wire to ground: full current", func(c *condition, s float64) { c.fullGovernor = s > 0 }},
	{"harness-short", "governor-off", "the computer shuts it off", cut(0)},
	{"harness-short", "lockup-off", "the computer shuts it off", cut(2)},
	{"harness-short", "overdrive-off", "the computer shuts it off", cut(1)},
	{"input-shaft-rings-worn", "shaft", "a clearance up to 0.16 mm", to(rearClutchRings, 0.16*millimetre)},
	{"input-shaft-rings-worn", "support", "a clearance up to 0.16 mm", to(frontClutchRings, 0.16*millimetre)},
	{"internal-wiring-open", "governor", "no current", cut(0)},
	{"internal-wiring-open", "overdrive", "no current", cut(1)},
	{"internal-wiring-open", "lockup", "no current", cut(2)},
	{"kickdown-valve-stuck", "back", "does not follow the lever, up to all its travel", func(c *condition, s float64) { c.lostTravel, c.kickdown = s, down }},
	{"kickdown-valve-stuck", "forward", "stays forward, up to half its travel", func(c *condition, s float64) { c.leastLever, c.kickdown = 0.5*s, up }},
	{"linkage-misadjusted", "", "manual valve between its ranges", astray},
	{"manual-valve-misaligned", "", "manual valve between its ranges", astray},
	{"overdrive-accumulator-seal-worn", "", "a leak up to a hole of 3.5 mm", to(overdriveAccumulatorLeak, 3.5*millimetre)},
	{"overdrive-accumulator-spring-broken", "", "less of its force, down to none", func(c *condition, s float64) { c.lost.overdrive = s }},
	{"overdrive-check-valve", "open", "bleeds up to a hole of 4.5 mm", to(overdriveBleedD, 4.5*millimetre)},
	{"overdrive-check-valve", "plugged", "does not bleed and traps air", all(to(overdriveBleedD, 0.02*millimetre), func(c *condition, s float64) { c.lost.trapped = s })},
	{"overdrive-feed-blocked", "", "feed narrowed to a hole of 0.15 mm", to(overdriveFeedD, 0.15*millimetre)},
	{"overdrive-piston-seal", "", "a gap up to 0.12 mm round the piston", to(overdriveSeal, 0.12*millimetre)},
	{"overdrive-solenoid-coil-open", "", "no current", cut(1)},
	{"overdrive-solenoid-coil-shorted", "", "no current", cut(1)},
	{"overdrive-solenoid-leaking", "", "a leak when energized, up to its whole vent", func(c *condition, s float64) { c.fourthSeat = s * c.v[solenoidVentD] }},
	{"overdrive-switch-fault", "", "fourth is never commanded", cut(1)},
	{"pump-bushing-worn", "", "a leak of converter oil up to a hole of 7 mm, and pump gears that run off center by up to 0.2 mm", all(to(bushingD, 7*millimetre), to(pumpGap, 0.2*millimetre))},
	{"pump-worn", "", "a clearance up to 0.3 mm", to(pumpGap, 0.3*millimetre)},
	{"rear-clutch-seals", "", "a gap up to 0.15 mm round the piston", to(rearClutchSeal, 0.15*millimetre)},
	{"rear-servo-leak", "", "a gap up to 0.25 mm round the piston", to(rearServoSeal, 0.25*millimetre)},
	{"regulator-set-high", "", "up to 60 psi too high in D", func(c *condition, s float64) { c.v[regulatorSpring] += 60 * s * psiSI }},
	{"regulator-spring-weak", "", "down to a quarter of its force", func(c *condition, s float64) { c.v[regulatorSpring] *= 1 - 0.75*s }},
	{"regulator-stuck-high", "", "held with its exhaust up to shut", func(c *condition, s float64) { c.regulator = 0.15 * (1 - s) * (1 - s) }},
	{"regulator-stuck-low", "", "held with its exhaust up to wide open", func(c *condition, s float64) { c.regulator = 0.3 + 0.7*s }},
	{"separator-plate-damaged", "across", "a gap up to 0.25 mm between shift circuits", to(plateGap, 0.25*millimetre)},
	{"separator-plate-damaged", "out", "a gap up to 0.15 mm under the body", to(bodyGap, 0.15*millimetre)},
	{"separator-plate-superseded", "", "lock-up vent down to 2 mm", to(lockupVentD, 2*millimetre)},
	{"shift-control-valve-stuck", "", "the 1-2 shift is not softened", func(c *condition, s float64) { c.lost.control = s > 0 }},
	{"shift-valve-1-2-stuck", "down", "held down", held(func(c *condition) *hold { return &c.shift12 }, down)},
	{"shift-valve-1-2-stuck", "up", "held up", held(func(c *condition) *hold { return &c.shift12 }, up)},
	{"shift-valve-2-3-stuck", "down", "held down", held(func(c *condition) *hold { return &c.shift23 }, down)},
	{"shift-valve-2-3-stuck", "up", "held up", held(func(c *condition) *hold { return &c.shift23 }, up)},
	{"shift-valve-3-4-stuck", "down", "held down", held(func(c *condition) *hold { return &c.shift34 }, down)},
	{"shift-valve-3-4-stuck", "up", "held up", held(func(c *condition) *hold { return &c.shift34 }, up)},
	{"shift-valve-3-4-stuck", "part-way", "its passage narrowed to a hole of 0.4 mm", to(overdriveD, 0.4*millimetre)},
	{"shuttle-valve-stuck", "", "front servo's feeds narrowed to a hole of 0.6 mm", to(servoD, 0.6*millimetre)},
	{"speed-sensor-faulty", "", "no speed is seen", func(c *condition, s float64) { c.noSpeed = c.noSpeed || s > 0 }},
	{"switch-valve-worn", "", "a clearance up to 0.4 mm", to(switchLeak, 0.4*millimetre)},
	{"throttle-actuator-fault", "low", "the lever does not follow, at 1 at all", func(c *condition, s float64) { c.lostTravel = math.Max(c.lostTravel, s) }},
	{"throttle-actuator-fault", "high", "the lever stays out, up to half its travel", func(c *condition, s float64) { c.leastLever = math.Max(c.leastLever, 0.5*s) }},
	{"throttle-cable-loose", "", "the lever lags, up to half its travel", func(c *condition, s float64) { c.lag += 0.5 * s }},
	{"throttle-cable-tight", "", "the lever leads, up to half its travel", func(c *condition, s float64) { c.lag -= 0.5 * s }},
	{"throttle-lever-sticking", "", "the lever stays out, up to half its travel", func(c *condition, s float64) { c.leastLever = math.Max(c.leastLever, 0.5*s) }},
	{"throttle-pressure-set-wrong", "low", "up to half of the pressure is missing", func(c *condition, s float64) { c.lostTravel = math.Max(c.lostTravel, 0.5*s) }},
	{"throttle-pressure-set-wrong", "high", "up to a third of the pressure stands at idle", func(c *condition, s float64) { c.leastLever = math.Max(c.leastLever, 0.33*s) }},
	{"throttle-valve-stuck", "low", "held shut", func(c *condition, s float64) { c.throttle = 0.1 * (1 - s) }},
	{"throttle-valve-stuck", "high", "held open, up to all its travel", func(c *condition, s float64) { c.throttle = 0.3 + 0.7*s }},
	{"transmission-relay-fault", "", "no current anywhere", all(cut(0), cut(1), cut(2))},
	{"valve-body-screws-wrong", "", "a gap up to 0.15 mm under the body's lands", to(bodyGap, 0.15*millimetre)},
	{"valve-body-warped", "", "a gap up to 0.2 mm under the body's lands", to(bodyGap, 0.2*millimetre)},
}

var psiSI = quantity.PSI.SI(1)

// cut takes the current from the governor, overdrive or converter clutch
// solenoid. A cut wire knows no degrees.
func cut(which int) func(*condition, float64) {
	return func(c *condition, s float64) {
		if s > 0 {
			*[]*bool{&c.noGovernor, &c.noOverdrive, &c.noLockup}[which] = true
		}
	}
}

func held(valve func(*condition) *hold, at hold) func(*condition, float64) {
	return func(c *condition, s float64) {
		if s > 0 {
			*valve(c) = at
		}
	}
}

func aired(most float64) func(*condition, float64) {
	return func(c *condition, s float64) { c.air = 1 - (1-c.air)*(1-most*s) }
}

func astray(c *condition, s float64) { c.misaligned = math.Max(c.misaligned, s) }

// Graded reports whether more severity makes the fault worse: a cut wire is a cut
// wire.
func (m *FaultModel) Graded() bool {
	var half, whole condition
	for i := range Parameters {
		half.v[i], whole.v[i] = Parameters[i].Value.SI, Parameters[i].Value.SI
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
