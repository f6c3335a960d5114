package hydraulics

import (
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Parameter is one dimension or setting of the model.
type Parameter struct {
	ID    string
	Value quantity.Value
	From  unit.ProvenanceKind
	Note  string
}

type param uint8

// The parameters. A d is a diameter, a gap the height of a leak's slot.
const (
	displacement param = iota
	pumpGap
	filterD
	inletStarts
	inletStarves
	regulatorSpring
	regulatorSpan
	regulatorThrottle
	shareLockup
	shareFourth
	shareReverse
	boostThrottle
	dumpD
	feedD
	reliefSet
	throttleFull
	throttleD
	throttleSpan
	manualD
	accumulatorD
	accumulatorLeak
	rearClutchD
	rearClutchRings
	rearClutchSeal
	secondD
	servoD
	servoSeal
	servoRing
	thirdD
	frontClutchD
	frontClutchRings
	frontClutchSeal
	rearServoD
	rearServoSeal
	governorSupplyD
	governorVentD
	governorBleedD
	governorSlope
	solenoidFeedD
	solenoidVentD
	solenoidSeatD
	overdriveD
	overdriveFeedD
	overdriveSeal
	overdriveBleedD
	overdriveAccumulatorLeak
	releaseD
	converterD
	converterOutD
	lockupApplyD
	lockupVentD
	lockupSeal
	bypassD
	coolerD
	drainback
	lubeD
	lubeRearD
	bushingD
	switchLeak
	bodyGap
	plateGap
	exhaustD
	shift12
	shift12Throttle
	shift12Hold
	shift23
	shift23Throttle
	shift23Hold
	kickdown12
	kickdown23
	signalShift
	signalHold
	thinning
	params
)

func mm(id string, x float64) Parameter { return row(id, quantity.Length(x*1e-3).Value()) }
func psi(id string, x float64) Parameter {
	return row(id, quantity.PSI.Of(x))
}
func ratio(id string, x float64) Parameter { return row(id, quantity.Ratio(x).Value()) }
func row(id string, v quantity.Value) Parameter {
	return Parameter{ID: id, Value: v, From: unit.Demo}
}

// from states where a figure comes from, when it is not merely invented.
func (p Parameter) from(kind unit.ProvenanceKind, note string) Parameter {
	p.From, p.Note = kind, note
	return p
}

// Parameters are the dimensions of a healthy light or mid unit in its stock
// build: typical of the class and nobody's drawing. Where nothing else is said
// they are invented for the demo, and chosen together so that the healthy model
// gives the unit sheet's pressures.
var Parameters = [params]Parameter{
	displacement:    row("pump displacement per turn", quantity.Volume(33e-6).Value()),
	pumpGap:         mm("pump clearance, as one slot", 0.06),
	filterD:         mm("filter, as one orifice", 10),
	inletStarts:     psi("inlet pressure at which the pump begins to starve", -3),
	inletStarves:    psi("inlet pressure at which the pump draws nothing", -9),
	regulatorSpring: psi("regulator spring, as line pressure in a forward range", 51.4),
	regulatorSpan:   psi("regulator, from shut to open", 8),
	regulatorThrottle: ratio("regulator, throttle plug area", 0.428).
		from(unit.Memory, "Derived from line pressure at idle and at full throttle of the unit sheet."),
	shareLockup: ratio("regulator area left at lock-up", 0.862).
		from(unit.Memory, "Derived from the rise of 8 to 10 psi that a parts maker's instruction sheet prints."),
	shareFourth: ratio("regulator area left in fourth", 0.712).
		from(unit.Memory, "Derived from the overdrive clutch pressures of the unit sheet."),
	shareReverse: ratio("regulator area left in R", 0.360).
		from(unit.Memory, "Derived from the pressures in R of the unit sheet, which are from memory."),
	boostThrottle: ratio("throttle plug area at lock-up and in fourth, to the area without", 1),
	dumpD:         mm("regulator, exhaust to the pump inlet", 12),
	feedD:         mm("regulator, feed to the converter", 6),
	reliefSet:     psi("pressure relief", 320),
	throttleFull: psi("throttle pressure at full throttle", 88).
		from(unit.Memory, "No figure was found for throttle pressure itself."),
	throttleD:        mm("throttle valve, opening", 2),
	throttleSpan:     psi("throttle valve, from shut to open", 1.5),
	manualD:          mm("manual valve, passage", 7),
	accumulatorD:     mm("accumulator, feed", 3),
	accumulatorLeak:  mm("accumulator, leak past its seals, as one orifice", 0.05),
	rearClutchD:      mm("rear clutch, feed", 6),
	rearClutchRings:  mm("input shaft rings, clearance", 0.035),
	rearClutchSeal:   mm("rear clutch piston seals, gap", 0.005),
	secondD:          mm("1-2 shift valve, passage", 7),
	servoD:           mm("front servo, feed of either side", 3),
	servoSeal:        mm("front servo, gap between its sides", 0.010),
	servoRing:        mm("front servo, gap to the case", 0.008),
	thirdD:           mm("2-3 shift valve, passage", 6),
	frontClutchD:     mm("front clutch, feed", 5.5),
	frontClutchRings: mm("pump support rings, clearance", 0.035),
	frontClutchSeal:  mm("front clutch piston seals, gap", 0.005),
	rearServoD:       mm("rear servo, feed", 4),
	rearServoSeal:    mm("rear servo seal, gap", 0.005),
	governorSupplyD:  mm("governor solenoid, supply", 1.2),
	governorVentD:    mm("governor solenoid, vent", 1.5),
	governorBleedD: mm("governor circuit, bleed", 0.78).
		from(unit.Memory, "Chosen so that without current the pressure is the sheet's 40 to 55 psi."),
	governorSlope: row("governor pressure for a road speed of 1 mph", quantity.PSI.Of(1)).
		from(unit.Published, "Maker's handbook, 2003: hydraulic pressure tests."),
	solenoidFeedD:            mm("overdrive and converter clutch solenoid, feed orifice", 0.8),
	solenoidVentD:            mm("overdrive and converter clutch solenoid, vent", 1.6),
	solenoidSeatD:            mm("solenoid's leak when energized", 0.1),
	overdriveD:               mm("3-4 shift valve, passage", 5),
	overdriveFeedD:           mm("overdrive clutch, feed orifice", 2.5),
	overdriveSeal:            mm("overdrive piston seal, gap", 0.005),
	overdriveBleedD:          mm("overdrive check valve, bleed", 0.3),
	overdriveAccumulatorLeak: mm("overdrive accumulator, leak past its seals, as one orifice", 0.05),
	releaseD:                 mm("switch valve, feed to the converter", 4.5),
	converterD:               mm("converter, as one orifice", 5),
	converterOutD:            mm("converter outlet, as one orifice", 4),
	lockupApplyD:             mm("converter clutch valve, feed", 4),
	lockupVentD:              mm("separator plate, lock-up vent", 4),
	lockupSeal:               mm("converter clutch, gap of the applied lining", 0.08),
	bypassD:                  mm("cooler feed at lock-up", 3),
	coolerD:                  mm("cooler and lines, as one orifice", 4),
	drainback:                psi("cooler drainback valve, opening", 2).from(unit.Published, "Maker's handbook, 1998: cooler and fluid."),
	lubeD:                    mm("lubrication of the main gear train, as one orifice", 2.8),
	lubeRearD:                mm("lubrication of the overdrive, as one orifice", 2.2),
	bushingD:                 mm("pump bushing, leak of converter oil as one orifice", 0.5),
	switchLeak:               mm("switch valve, clearance", 0.02),
	bodyGap: mm("valve body, gap under its lands", 0.004).
		from(unit.Memory, "About a tenth of what is commonly taken as the most out of flat, 0.002 in."),
	plateGap:        mm("separator plate, gap at the shift circuits", 0.004),
	exhaustD:        mm("exhaust of a circuit that is off", 5),
	shift12:         psi("1-2 shift valve, spring as governor pressure", 9),
	shift12Throttle: ratio("1-2 shift valve, throttle area", 0.28),
	shift12Hold:     psi("1-2 shift valve, hysteresis", 4),
	shift23:         psi("2-3 shift valve, spring as governor pressure", 19),
	shift23Throttle: ratio("2-3 shift valve, throttle area", 0.34),
	shift23Hold:     psi("2-3 shift valve, hysteresis", 9),
	kickdown12:      psi("1-2 shift valve, what kickdown adds", 8),
	kickdown23:      psi("2-3 shift valve, what kickdown adds", 12),
	signalShift:     psi("3-4 and converter clutch valve, springs as signal pressure", 28),
	signalHold:      psi("3-4 and converter clutch valve, hysteresis", 16),
	thinning:        ratio("viscosity against that of fresh fluid", 1),
}

// differ holds what a version or a build has different.
func differ(v *[params]float64, version unit.Version, build unit.Build) {
	if version == unit.Late {
		v[boostThrottle] = 1.65
	}
	if build == unit.Raised {
		v[regulatorSpring] = quantity.PSI.SI(110)
		v[boostThrottle] = 1
	}
}
