package hydraulics

import (
	"math"

	"provingbench/knowledge/hydraulics/network"
	"provingbench/knowledge/unit"
)

// A Circuit is a group of nodes and links that the trade has a word for.
type Circuit string

// The circuits.
const (
	Supply      Circuit = "supply"
	ForwardC    Circuit = "forward"
	ReverseC    Circuit = "reverse"
	ThrottleC   Circuit = "throttle"
	GovernorC   Circuit = "governor"
	OverdriveC  Circuit = "overdrive"
	ConverterC  Circuit = "converter"
	Lubrication Circuit = "lubrication"
)

// A Place is a node of the model: a passage or a chamber with one pressure.
type Place struct {
	ID, Name string
	Circuit  Circuit
	Element  unit.ElementID // whose chamber it is, or empty
	Port     string         // the port that a gauge on it is screwed into, or empty
}

// The nodes.
const (
	sump = iota
	suction
	line
	drive
	reverse
	low
	second
	third
	frontFeed
	accumulator
	rearClutch
	frontClutch
	servoApply
	servoRelease
	rearServo
	throttle
	governor
	fourthSignal
	lockupSignal
	fourth
	overdriveClutch
	converterFeed
	release
	apply
	coolerIn
	lube
	lubeRear
	places
)

// Places lists the nodes in a fixed order; State.Pressures follows it.
var Places = [places]Place{
	sump:            {"sump", "Pan", Supply, "", ""},
	suction:         {"suction", "Pump inlet", Supply, "", ""},
	line:            {"line", "Line", Supply, "", ""},
	drive:           {"drive", "Forward circuit", ForwardC, "", ""},
	reverse:         {"reverse", "Reverse circuit", ReverseC, "", ""},
	low:             {"low", "Manual 1 circuit", ReverseC, "", ""},
	second:          {"second", "2nd circuit", ForwardC, "", ""},
	third:           {"third", "3rd circuit", ForwardC, "", ""},
	frontFeed:       {"front-feed", "Front clutch feed", ForwardC, "", ""},
	accumulator:     {"accumulator", "Accumulator", ForwardC, "", "line"},
	rearClutch:      {"rear-clutch", "Rear clutch", ForwardC, unit.RearClutch, ""},
	frontClutch:     {"front-clutch", "Front clutch", ForwardC, unit.FrontClutch, ""},
	servoApply:      {"servo-apply", "Front servo, apply side", ForwardC, unit.FrontBand, ""},
	servoRelease:    {"servo-release", "Front servo, release side", ForwardC, "", "front-servo"},
	rearServo:       {"rear-servo", "Rear servo", ReverseC, unit.RearBand, "rear-servo"},
	throttle:        {"throttle", "Throttle pressure", ThrottleC, "", ""},
	governor:        {"governor", "Governor pressure", GovernorC, "", "governor"},
	fourthSignal:    {"fourth-signal", "Signal of the overdrive solenoid", OverdriveC, "", ""},
	lockupSignal:    {"lockup-signal", "Signal of the converter clutch solenoid", ConverterC, "", ""},
	fourth:          {"fourth", "4th circuit", OverdriveC, "", ""},
	overdriveClutch: {"overdrive-clutch", "Overdrive clutch", OverdriveC, unit.OverdriveClutch, "overdrive-clutch"},
	converterFeed:   {"converter-feed", "Converter feed", ConverterC, "", ""},
	release:         {"converter-release", "Converter, release side", ConverterC, "", ""},
	apply:           {"converter-apply", "Converter, apply side", ConverterC, "", ""},
	coolerIn:        {"cooler", "Line to the cooler", Lubrication, "", ""},
	lube:            {"lube", "Lubrication, main gear train", Lubrication, "", ""},
	lubeRear:        {"lube-rear", "Lubrication, overdrive", Lubrication, "", ""},
}

// A Link is an element of the model that joins two nodes.
type Link struct {
	ID, Name string
	From, To int // indices of Places
	Leak     bool
}

// The links.
const (
	lFilter = iota
	lPump
	lDump
	lFeed
	lRelief
	lManualDrive
	lManualReverse
	lManualLow
	lDriveVent
	lReverseVent
	lLowVent
	lAccumulatorDrive
	lAccumulatorReverse
	lAccumulatorLeak
	lRearClutch
	lRearRings
	lRearSeal
	lShift12
	lSecondVent
	lServoApply
	lServoRing
	lServoSeal
	lServoRelease
	lReleaseRing
	lShift23
	lThirdVent
	lFrontThird
	lFrontReverse
	lFrontClutch
	lFrontRings
	lFrontSeal
	lRearServoLow
	lRearServoReverse
	lRearServoSeal
	lThrottleSupply
	lThrottleVent
	lGovernorSupply
	lGovernorVent
	lGovernorBleed
	lFourthFeed
	lFourthVent
	lLockupFeed
	lLockupVent
	lShift34
	lFourthExhaust
	lOverdriveFeed
	lOverdriveSeal
	lOverdriveBleed
	lOverdriveAccumulator
	lRelease
	lConverter
	lConverterOut
	lLockupApply
	lReleaseVent
	lBypass
	lBushing
	lSwitchLeak
	lCooler
	lLube
	lLubeRearFeed
	lLubeRear
	lBodyThird
	lBodyLow
	lBodyThrottle
	lBodyGovernor
	lBodyExhaust
	lBodyServo
	lPlateSecond
	lPlateExhaust
	linksN
)

// Links lists the links in a fixed order; State.Flows follows it.
var Links = [linksN]Link{
	lFilter:               {"filter", "Filter", sump, suction, false},
	lPump:                 {"pump", "Pump", suction, line, false},
	lDump:                 {"regulator-dump", "Regulator, exhaust to the pump inlet", line, suction, false},
	lFeed:                 {"regulator-feed", "Regulator, feed to the converter", line, converterFeed, false},
	lRelief:               {"relief", "Pressure relief", line, sump, false},
	lManualDrive:          {"manual-forward", "Manual valve, forward ranges", line, drive, false},
	lManualReverse:        {"manual-reverse", "Manual valve, R", line, reverse, false},
	lManualLow:            {"manual-low", "Manual valve, 1", drive, low, false},
	lDriveVent:            {"forward-exhaust", "Forward circuit's exhaust", drive, sump, false},
	lReverseVent:          {"reverse-exhaust", "Reverse circuit's exhaust", reverse, sump, false},
	lLowVent:              {"low-exhaust", "Manual 1 circuit's exhaust", low, sump, false},
	lAccumulatorDrive:     {"accumulator-forward", "Accumulator feed, forward", drive, accumulator, false},
	lAccumulatorReverse:   {"accumulator-reverse", "Accumulator feed, R", reverse, accumulator, false},
	lAccumulatorLeak:      {"accumulator-leak", "Accumulator seals", accumulator, sump, true},
	lRearClutch:           {"rear-clutch-feed", "Rear clutch feed", drive, rearClutch, false},
	lRearRings:            {"input-shaft-rings", "Input shaft rings", rearClutch, sump, true},
	lRearSeal:             {"rear-clutch-seals", "Rear clutch piston seals", rearClutch, sump, true},
	lShift12:              {"shift-1-2", "1-2 shift valve", drive, second, false},
	lSecondVent:           {"second-exhaust", "2nd circuit's exhaust", second, sump, false},
	lServoApply:           {"servo-apply-feed", "Front servo apply feed", second, servoApply, false},
	lServoRing:            {"servo-ring", "Front servo ring to the case", servoApply, sump, true},
	lServoSeal:            {"servo-seal", "Front servo, apply side to release side", servoApply, servoRelease, true},
	lServoRelease:         {"servo-release-feed", "Front servo release feed", frontFeed, servoRelease, false},
	lReleaseRing:          {"servo-release-ring", "Front servo, release side to the case", servoRelease, sump, true},
	lShift23:              {"shift-2-3", "2-3 shift valve", second, third, false},
	lThirdVent:            {"third-exhaust", "3rd circuit's exhaust", third, sump, false},
	lFrontThird:           {"front-clutch-ball-third", "Front clutch check ball, 3rd", third, frontFeed, false},
	lFrontReverse:         {"front-clutch-ball-reverse", "Front clutch check ball, R", reverse, frontFeed, false},
	lFrontClutch:          {"front-clutch-feed", "Front clutch feed", frontFeed, frontClutch, false},
	lFrontRings:           {"support-rings", "Pump support rings", frontClutch, sump, true},
	lFrontSeal:            {"front-clutch-seals", "Front clutch piston seals", frontClutch, sump, true},
	lRearServoLow:         {"rear-servo-ball-low", "Rear servo check ball, 1", low, rearServo, false},
	lRearServoReverse:     {"rear-servo-ball-reverse", "Rear servo check ball, R", reverse, rearServo, false},
	lRearServoSeal:        {"rear-servo-seal", "Rear servo seal", rearServo, sump, true},
	lThrottleSupply:       {"throttle-supply", "Throttle valve, supply", line, throttle, false},
	lThrottleVent:         {"throttle-exhaust", "Throttle valve, exhaust", throttle, sump, false},
	lGovernorSupply:       {"governor-supply", "Governor solenoid, supply", drive, governor, false},
	lGovernorVent:         {"governor-exhaust", "Governor solenoid, exhaust", governor, sump, false},
	lGovernorBleed:        {"governor-bleed", "Governor bleed", governor, sump, false},
	lFourthFeed:           {"overdrive-solenoid-feed", "Overdrive solenoid feed", drive, fourthSignal, false},
	lFourthVent:           {"overdrive-solenoid-vent", "Overdrive solenoid vent", fourthSignal, sump, false},
	lLockupFeed:           {"converter-clutch-solenoid-feed", "Converter clutch solenoid feed", drive, lockupSignal, false},
	lLockupVent:           {"converter-clutch-solenoid-vent", "Converter clutch solenoid vent", lockupSignal, sump, false},
	lShift34:              {"shift-3-4", "3-4 shift valve", drive, fourth, false},
	lFourthExhaust:        {"fourth-exhaust", "4th circuit's exhaust", fourth, sump, false},
	lOverdriveFeed:        {"overdrive-feed", "Overdrive clutch feed orifice", fourth, overdriveClutch, false},
	lOverdriveSeal:        {"overdrive-seal", "Overdrive piston seal", overdriveClutch, sump, true},
	lOverdriveBleed:       {"overdrive-bleed", "Overdrive check valve", overdriveClutch, sump, true},
	lOverdriveAccumulator: {"overdrive-accumulator-leak", "Overdrive accumulator seals", fourth, sump, true},
	lRelease:              {"converter-in", "Switch valve to the converter", converterFeed, release, false},
	lConverter:            {"converter", "Converter", release, apply, false},
	lConverterOut:         {"converter-out", "Converter outlet to the cooler", apply, coolerIn, false},
	lLockupApply:          {"lockup-apply", "Converter clutch valve, apply", line, apply, false},
	lReleaseVent:          {"lockup-vent", "Lock-up vent", release, sump, false},
	lBypass:               {"cooler-bypass", "Cooler feed at lock-up", converterFeed, coolerIn, false},
	lBushing:              {"pump-bushing", "Pump bushing", release, sump, true},
	lSwitchLeak:           {"switch-valve-leak", "Switch valve clearance", converterFeed, sump, true},
	lCooler:               {"cooler", "Cooler and drainback valve", coolerIn, lube, false},
	lLube:                 {"lube", "Bearings of the main gear train", lube, sump, false},
	lLubeRearFeed:         {"lube-rear-feed", "Lubrication to the overdrive", lube, lubeRear, false},
	lLubeRear:             {"lube-rear", "Bearings of the overdrive", lubeRear, sump, false},
	lBodyThird:            {"body-forward-third", "Valve body, forward to 3rd", drive, third, true},
	lBodyLow:              {"body-forward-low", "Valve body, forward to rear servo", drive, rearServo, true},
	lBodyThrottle:         {"body-line-throttle", "Valve body, line to throttle", line, throttle, true},
	lBodyGovernor:         {"body-governor", "Valve body, governor to exhaust", governor, sump, true},
	lBodyExhaust:          {"body-forward-exhaust", "Valve body, forward to exhaust", drive, sump, true},
	lBodyServo:            {"body-servo", "Valve body, rear servo to exhaust", rearServo, sump, true},
	lPlateSecond:          {"plate-second-third", "Separator plate, 2nd to front clutch feed", second, frontFeed, true},
	lPlateExhaust:         {"plate-exhaust", "Separator plate, front clutch feed to exhaust", frontFeed, sump, true},
}

// Typical lengths of leaks: width across the flow and way along it.
// Invented for the demo; a leak is set by its gap.
var (
	slotPump  = [2]float64{0.20, 0.010}  // around the gears
	slotRing  = [2]float64{0.157, 0.003} // a ring of 50 mm
	slotSeal  = [2]float64{0.40, 0.002}  // a piston of 130 mm
	slotServo = [2]float64{0.19, 0.003}  // a piston of 60 mm
	slotLand  = [2]float64{0.060, 0.003} // a land of the body along 60 mm of channel
	slotThin  = [2]float64{0.003, 0.004} // the same beside a circuit that only signals
	slotSpool = [2]float64{0.10, 0.006}  // two lands of a spool of 16 mm
	slotDisc  = [2]float64{0.75, 0.025}  // the converter clutch's lining
)

// tight is the laminar resistance of what is shut, Pa s/m³: a drop in a minute.
const tight = 1e15

// drop is a flow that counts as none: a cubic millimetre in a second.
const drop = 1e-9

// A hold is how a valve is stuck, if it is.
type hold int8

const (
	free hold = iota
	down
	up
)

// condition is what a state is computed for: the parameters with the faults in,
// and what the faults stick or cut.
type condition struct {
	v                                 [params]float64
	regulator                         float64 // stuck opening; negative when free
	throttle                          float64 // stuck opening of the throttle valve's supply; negative when free
	governor                          float64 // the same of the governor solenoid
	kickdown, boost                   hold
	shift12, shift23, shift34, lockup hold
	offset                            float64 // what the governor sensor reads too much, Pa
	fullGovernor                      bool    // full current
	noGovernor, noOverdrive, noLockup bool    // no current
	noSpeed                           bool    // the speed signal is lost
	noPump                            bool
	air                               float64 // share of what the pump draws
	lag, leastLever                   float64 // of the throttle lever, in travel: behind the cable, and held out
	ball                              float64 // how far the check balls let back, 0 … 1
	misaligned                        float64 // of the manual valve, 0 … 1
	lostTravel                        float64 // of the throttle valve's spring, 0 … 1
	fourthSeat, lockupSeat            float64 // leaks of the energized solenoids, m
	lost                              lost    // what changes a shift only
}

// body is the network of one state after another.
type body struct {
	c      *condition
	net    network.Network
	solver network.Solver
	rho    float64
	fresh  float64 // viscosity of fresh fluid
	mu     float64
	guess  [places]float64
	cold   [places]float64 // pressures to start from when no others are known
}

// link makes a link pass by Δp = r q + k q².
func (b *body) link(l int, r, k float64) *network.Element {
	e := &b.net.Elements[l]
	e.Kind, e.R, e.K, e.Senses = network.Resistor, r, k, e.Senses[:0]
	return e
}

// hole makes a link an orifice of a diameter, or shut.
func (b *body) hole(l int, d float64, open bool) {
	if !open || d <= 0 {
		b.link(l, tight, 0)
		return
	}
	r, k := network.Orifice(d, b.rho, b.mu)
	b.link(l, r, k)
}

// slot makes a link a gap.
func (b *body) slot(l int, size [2]float64, gap float64) {
	r, k := network.Slot(size[0], gap, size[1], b.rho, b.mu)
	b.link(l, math.Min(tight, r), k)
}

// spool makes a link an orifice that a spool opens; preload and span are
// pressures on an area of one.
func (b *body) spool(l int, d, preload, span float64, senses ...network.Sense) {
	r, k := network.Orifice(d, b.rho, b.mu)
	e := b.link(l, r, k)
	e.Kind, e.Preload, e.Span, e.Senses = network.Spool, preload, span, append(e.Senses, senses...)
}
