package hydraulics

import (
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Parameter is one dimension or setting of the model.
type Parameter struct {
	ID   string
	Kind quantity.Kind
	SI   float64
	From unit.ProvenanceKind
	Note string
}

// Value returns the parameter's figure.
func (p Parameter) Value() quantity.Value { return quantity.Value{Kind: p.Kind, SI: p.SI} }

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

// Units of the table below, in SI. They are constants, so that the table needs no
// code to make: package quantity's own, exact by definition (NIST SP 811, B.8).
const (
	mm  = 1e-3
	psi = 4.4482216152605 / (0.0254 * 0.0254)
)

const (
	length   = quantity.KindLength
	pressure = quantity.KindPressure
	ratio    = quantity.KindRatio
)

// Parameters are the dimensions of a healthy light or mid unit in its stock
// build: typical of the class and nobody's drawing. Where nothing else is said
// they are invented for the demo, and chosen together so that the healthy model
// gives the unit sheet's pressures.
var Parameters = [params]Parameter{
	displacement:             {"pump displacement per turn", quantity.KindVolume, 33e-6, unit.Demo, ""},
	pumpGap:                  {"pump clearance, as one slot", length, 0.06 * mm, unit.Demo, ""},
	filterD:                  {"filter, as one orifice", length, 10 * mm, unit.Demo, ""},
	inletStarts:              {"inlet pressure at which the pump begins to starve", pressure, -3 * psi, unit.Demo, ""},
	inletStarves:             {"inlet pressure at which the pump draws nothing", pressure, -9 * psi, unit.Demo, ""},
	regulatorSpring:          {"regulator spring, as line pressure in a forward range", pressure, 51.4 * psi, unit.Demo, ""},
	regulatorSpan:            {"regulator, from shut to open", pressure, 8 * psi, unit.Demo, ""},
	regulatorThrottle:        {"regulator, throttle plug area", ratio, 0.428, unit.Memory, "Derived from line pressure at idle and at full throttle of the unit sheet."},
	shareLockup:              {"regulator area left at lock-up", ratio, 0.862, unit.Memory, "Derived from the rise of 8 to 10 psi that a parts maker's instruction sheet prints."},
	shareFourth:              {"regulator area left in fourth", ratio, 0.712, unit.Memory, "Derived from the overdrive clutch pressures of the unit sheet."},
	shareReverse:             {"regulator area left in R", ratio, 0.360, unit.Memory, "Derived from the pressures in R of the unit sheet, which are from memory."},
	boostThrottle:            {"throttle plug area at lock-up and in fourth, to the area without", ratio, 1, unit.Demo, ""},
	dumpD:                    {"regulator, exhaust to the pump inlet", length, 12 * mm, unit.Demo, ""},
	feedD:                    {"regulator, feed to the converter", length, 6 * mm, unit.Demo, ""},
	reliefSet:                {"pressure relief", pressure, 320 * psi, unit.Demo, ""},
	throttleFull:             {"throttle pressure at full throttle", pressure, 88 * psi, unit.Memory, "No figure was found for throttle pressure itself."},
	throttleD:                {"throttle valve, opening", length, 2 * mm, unit.Demo, ""},
	throttleSpan:             {"throttle valve, from shut to open", pressure, 1.5 * psi, unit.Demo, ""},
	manualD:                  {"manual valve, passage", length, 7 * mm, unit.Demo, ""},
	accumulatorD:             {"accumulator, feed", length, 3 * mm, unit.Demo, ""},
	accumulatorLeak:          {"accumulator, leak past its seals, as one orifice", length, 0.05 * mm, unit.Demo, ""},
	rearClutchD:              {"rear clutch, feed", length, 6 * mm, unit.Demo, ""},
	rearClutchRings:          {"input shaft rings, clearance", length, 0.035 * mm, unit.Demo, ""},
	rearClutchSeal:           {"rear clutch piston seals, gap", length, 0.005 * mm, unit.Demo, ""},
	secondD:                  {"1-2 shift valve, passage", length, 7 * mm, unit.Demo, ""},
	servoD:                   {"front servo, feed of either side", length, 3 * mm, unit.Demo, ""},
	servoSeal:                {"front servo, gap between its sides", length, 0.010 * mm, unit.Demo, ""},
	servoRing:                {"front servo, gap to the case", length, 0.008 * mm, unit.Demo, ""},
	thirdD:                   {"2-3 shift valve, passage", length, 6 * mm, unit.Demo, ""},
	frontClutchD:             {"front clutch, feed", length, 5.5 * mm, unit.Demo, ""},
	frontClutchRings:         {"pump support rings, clearance", length, 0.035 * mm, unit.Demo, ""},
	frontClutchSeal:          {"front clutch piston seals, gap", length, 0.005 * mm, unit.Demo, ""},
	rearServoD:               {"rear servo, feed", length, 4 * mm, unit.Demo, ""},
	rearServoSeal:            {"rear servo seal, gap", length, 0.005 * mm, unit.Demo, ""},
	governorSupplyD:          {"governor solenoid, supply", length, 1.2 * mm, unit.Demo, ""},
	governorVentD:            {"governor solenoid, vent", length, 1.5 * mm, unit.Demo, ""},
	governorBleedD:           {"governor circuit, bleed", length, 0.78 * mm, unit.Memory, "Chosen so that without current the pressure is the sheet's 40 to 55 psi."},
	governorSlope:            {"governor pressure for a road speed of 1 mph", pressure, 1 * psi, unit.Published, "Maker's handbook, 2003: hydraulic pressure tests."},
	solenoidFeedD:            {"overdrive and converter clutch solenoid, feed orifice", length, 0.8 * mm, unit.Demo, ""},
	solenoidVentD:            {"overdrive and converter clutch solenoid, vent", length, 1.6 * mm, unit.Demo, ""},
	solenoidSeatD:            {"solenoid's leak when energized", length, 0.1 * mm, unit.Demo, ""},
	overdriveD:               {"3-4 shift valve, passage", length, 5 * mm, unit.Demo, ""},
	overdriveFeedD:           {"overdrive clutch, feed orifice", length, 2.5 * mm, unit.Demo, ""},
	overdriveSeal:            {"overdrive piston seal, gap", length, 0.005 * mm, unit.Demo, ""},
	overdriveBleedD:          {"overdrive check valve, bleed", length, 0.3 * mm, unit.Demo, ""},
	overdriveAccumulatorLeak: {"overdrive accumulator, leak past its seals, as one orifice", length, 0.05 * mm, unit.Demo, ""},
	releaseD:                 {"switch valve, feed to the converter", length, 4.5 * mm, unit.Demo, ""},
	converterD:               {"converter, as one orifice", length, 5 * mm, unit.Demo, ""},
	converterOutD:            {"converter outlet, as one orifice", length, 4 * mm, unit.Demo, ""},
	lockupApplyD:             {"converter clutch valve, feed", length, 4 * mm, unit.Demo, ""},
	lockupVentD:              {"separator plate, lock-up vent", length, 4 * mm, unit.Demo, ""},
	lockupSeal:               {"converter clutch, gap of the applied lining", length, 0.08 * mm, unit.Demo, ""},
	bypassD:                  {"cooler feed at lock-up", length, 3 * mm, unit.Demo, ""},
	coolerD:                  {"cooler and lines, as one orifice", length, 4 * mm, unit.Demo, ""},
	drainback:                {"cooler drainback valve, opening", pressure, 2 * psi, unit.Published, "Maker's handbook, 1998: cooler and fluid."},
	lubeD:                    {"lubrication of the main gear train, as one orifice", length, 2.8 * mm, unit.Demo, ""},
	lubeRearD:                {"lubrication of the overdrive, as one orifice", length, 2.2 * mm, unit.Demo, ""},
	bushingD:                 {"pump bushing, leak of converter oil as one orifice", length, 0.5 * mm, unit.Demo, ""},
	switchLeak:               {"switch valve, clearance", length, 0.02 * mm, unit.Demo, ""},
	bodyGap:                  {"valve body, gap under its lands", length, 0.004 * mm, unit.Memory, "About a tenth of what is commonly taken as the most out of flat, 0.002 in."},
	plateGap:                 {"separator plate, gap at the shift circuits", length, 0.004 * mm, unit.Demo, ""},
	exhaustD:                 {"exhaust of a circuit that is off", length, 5 * mm, unit.Demo, ""},
	shift12:                  {"1-2 shift valve, spring as governor pressure", pressure, 9 * psi, unit.Demo, ""},
	shift12Throttle:          {"1-2 shift valve, throttle area", ratio, 0.28, unit.Demo, ""},
	shift12Hold:              {"1-2 shift valve, hysteresis", pressure, 4 * psi, unit.Demo, ""},
	shift23:                  {"2-3 shift valve, spring as governor pressure", pressure, 19 * psi, unit.Demo, ""},
	shift23Throttle:          {"2-3 shift valve, throttle area", ratio, 0.34, unit.Demo, ""},
	shift23Hold:              {"2-3 shift valve, hysteresis", pressure, 9 * psi, unit.Demo, ""},
	kickdown12:               {"1-2 shift valve, what kickdown adds", pressure, 8 * psi, unit.Demo, ""},
	kickdown23:               {"2-3 shift valve, what kickdown adds", pressure, 12 * psi, unit.Demo, ""},
	signalShift:              {"3-4 and converter clutch valve, springs as signal pressure", pressure, 28 * psi, unit.Demo, ""},
	signalHold:               {"3-4 and converter clutch valve, hysteresis", pressure, 16 * psi, unit.Demo, ""},
	thinning:                 {"viscosity against that of fresh fluid", ratio, 1, unit.Demo, ""},
}

// differ holds what a version or a build has different.
func differ(v *[params]float64, version unit.Version, build unit.Build) {
	if version == unit.Late {
		v[boostThrottle] = 1.65
	}
	if build == unit.Raised {
		v[regulatorSpring] = 110 * psi
		v[boostThrottle] = 1
	}
}
