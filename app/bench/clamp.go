package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/clutch"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// clampTool says what a clutch or band carries in a gear, what it holds, and at
// which line pressure it slips.
var clampTool = &tool{
	name:     "clutch-torque",
	title:    "Clutch and band torque",
	what:     "What must this clutch or band carry, what does it hold, and at which line pressure does it slip?",
	lead:     "More pressure makes a clutch hold more, until the shaft is weaker than the clutch. With typical sizes this shows the way; measure, and it is your unit.",
	cautions: []string{"spring-load"},
	panels:   []*panel{clampPanel},
	example:  "engine=420&ratio=1.8&line=90",
}

// clampGears are the gears in which a clutch or band carries something.
var clampGears = []unit.Gear{unit.First, unit.Second, unit.Third, unit.Fourth, unit.Reverse, unit.BrakingSecond, unit.BrakingFirst}

var clampElements = []clutch.Owner{
	unit.FrontClutch, unit.RearClutch, unit.FrontBand, unit.RearBand,
	unit.OverdriveClutch, unit.DirectClutch, clutch.ConverterClutch,
}

const (
	clampPrefix = "my-"
	clampLocked = "locked"
)

var clampPanel = &panel{
	id:    "clamp",
	empty: "Type the engine's torque to see what the element has to carry.",
	inputs: append([]input{
		{key: "element", label: "Clutch or band", standard: string(unit.RearClutch), compact: true, options: func(*form) []part.Option {
			var o []part.Option
			for _, of := range clampElements {
				o = append(o, part.Option{Value: string(of), Label: clutch.Name(of)})
			}
			return o
		}},
		{key: "gear", label: "Gear", standard: string(unit.Second), compact: true, options: func(*form) []part.Option {
			var o []part.Option
			for _, g := range clampGears {
				o = append(o, part.Option{Value: string(g), Label: strings.ToUpper(gearWords(g)[:1]) + gearWords(g)[1:]})
			}
			return o
		}},
		{key: "engine", label: "Engine torque", hint: "At the flywheel. For engine braking, the torque with which the engine holds the truck back.",
			kind: quantity.KindTorque, units: torques, want: "Type the engine's torque."},
		{key: "converter", label: "Converter", standard: "open", compact: true, options: pickOf(
			part.Option{Value: "open", Label: "Not locked"}, part.Option{Value: clampLocked, Label: "Locked"})},
		{key: "ratio", label: "Torque ratio of the converter", hint: "Most at stall, as its maker says; 1 when the truck has caught up.", kind: quantity.KindRatio,
			standard: stallText, want: "Type the converter's torque ratio; 1 when it has caught up.",
			when: func(f *form) bool { return f.typed["converter"] != clampLocked }},
		{key: "line", label: "Line pressure (may stay empty)", kind: quantity.KindPressure, units: pressures},
		buildInput("sizes", unit.Stock),
		shaftInput("shafts"),
		{key: "lining", label: "Lining", standard: string(clutch.Wear), compact: true, options: pickOf(
			part.Option{Value: string(clutch.Wear), Label: "Run in"}, part.Option{Value: string(clutch.Pressure), Label: "New"})},
	}, sizeInputs(clampPrefix, func(f *form, of clutch.Owner) bool { return isShaft(of) || string(of) == f.typed["element"] })...),
	work: workClamp,
}

var stallText = quantity.Format(clutch.TypicalStall.Value(false), quantity.Number, 2)

func clampDrive(f *form) clutch.Drive {
	d := clutch.Drive{Gear: unit.Gear(f.text("gear")), Ratio: 1, Locked: f.text("converter") == clampLocked}
	if !d.Locked {
		d.Ratio = or(f, "ratio", d.Ratio)
	}
	return d
}

func workClamp(f *form) *result {
	build, err := buildOf(f, clampPrefix, "sizes", "shafts")
	if err != nil {
		return f.blameSize(err, clampPrefix, "engine")
	}
	build.Law = clutch.Law(f.text("lining"))
	of, drive := clutch.Owner(f.text("element")), clampDrive(f)
	engine, _ := number[quantity.Torque](f, "engine")
	demand, found, err := demandOf(build, engine, drive, of)
	if err != nil {
		return f.blame(err, "engine", blamed{"converter torque ratio", "ratio"})
	}
	if !found {
		return &result{call: "none", word: "It carries nothing there", because: []string{idleBecause(of, drive)}}
	}
	shaft, err := build.ShaftLimit([]clutch.Drive{drive})
	if err != nil {
		return f.blame(err, "engine")
	}
	pic := clampPicture{form: f, need: demand.Torque}
	rows := []fact{{"It must carry", f.torqueText(demand.Torque)}}
	r := &result{}
	name := clutch.Name(of)
	line, read := number[quantity.Pressure](f, "line")
	switch {
	case demand.Sprung:
		pic.holds, pic.held = demand.Spring, true
		r.because = append(r.because, "Its spring puts it on, so that line pressure is of no help.")
	case read:
		if pic.holds, err = build.Holds(of, line, drive.Gear); err != nil {
			return f.blame(err, "line")
		}
		pic.held, pic.line, pic.lineGiven = true, line, true
	}
	if pic.held {
		rows = append(rows, fact{"It holds", f.torqueText(pic.holds)})
		if demand.Torque > 0 {
			rows = append(rows, fact{"Safety, held over needed", quantity.FormatSignificant(quantity.Ratio(pic.holds/demand.Torque).Value(), quantity.Number, 3)})
		}
		if disc, ok := build.Discs[of]; ok {
			rows = append(rows, fact{"While it slips it carries about", f.torqueText(pic.holds * quantity.Torque(build.Slipping/disc.Friction))})
		}
	}
	if !demand.Sprung {
		full, _, err := demandOf(build, shaft.Engine, drive, of)
		if err != nil {
			return f.blame(err, "engine")
		}
		pic.scale, pic.slips, pic.shaft, pic.shaftName = true, demand.Slips, full.Slips, lowered(clutch.Name(shaft.Of))
		rows = append(rows,
			fact{"It slips below", f.linePressure(demand.Slips)},
			fact{"The " + pic.shaftName + " is weaker than it above", f.linePressure(full.Slips)})
	}
	rows = append(rows, fact{"Engine torque at which the " + lowered(clutch.Name(shaft.Of)) + " yields", f.torqueText(shaft.Engine)})
	if _, ok := build.Bands[of]; ok {
		if demand.Turning {
			r.because = append(r.because, "The drum drags the servo's end on, so that the band tightens itself.")
		} else {
			r.because = append(r.because, "The drum pulls against the servo, so that the band holds much less than in the other direction.")
		}
	}
	mine := allMine(f, clampPrefix, of, clutch.Linings)
	r.call, r.word = clampCall(pic, demand, mine)
	if pic.held {
		r.value = f.torqueText(pic.holds) + " held, " + f.torqueText(demand.Torque) + " needed"
	} else {
		r.value = f.torqueText(demand.Torque) + " needed in " + gearWords(drive.Gear)
	}
	if engine > shaft.Engine {
		r.because = append(r.because, "This engine is more than the "+lowered(clutch.Name(shaft.Of))+" bears in this gear. No clutch and no pressure mends that.")
	}
	if !mine {
		r.because = append(r.because, "Worked out with typical sizes: it shows the way, and is no verdict on your unit.")
	}
	r.body = []app.UI{
		pic.draw(), facts("", rows...),
		sizesUsed(f, clampPrefix, "sizes", "shafts", of, clutch.Linings, clutch.InputShaft, clutch.IntermediateShaft, clutch.OutputShaft, clutch.Shafts),
		part.Fold("What is left out", bullets(leftOut...)),
	}
	r.line = name + " in " + gearWords(drive.Gear) + ", " + f.entered("engine") + ": " + r.value + ". " + r.word + "."
	return r
}

// leftOut is what the computation does not count.
var leftOut = []string{
	"The pressure that the spin adds behind a rotating piston: a clutch holds somewhat more at speed.",
	"Shocks of shifts and of the driveline, heat, grooves in the lining.",
	"Splines, shoulders and fatigue of shafts: a real shaft fails under less than its yield.",
	"Losses in gears: an element carries a little less.",
	"One-way clutches, gears, drums and case.",
	"Sources of the formulas: Bhandari, Design of Machine Elements; Hibbeler, Mechanics of Materials; Willis, Principles of Mechanism.",
}

// demandOf is what one element meets; found is false where it carries nothing.
func demandOf(b clutch.Build, engine quantity.Torque, d clutch.Drive, of clutch.Owner) (x clutch.Demand, found bool, err error) {
	all, err := b.Demands(engine, d)
	for _, y := range all {
		if y.Of == of {
			x, found = y, true
		}
	}
	return x, found, err
}

// idleBecause says why an element carries nothing.
func idleBecause(of clutch.Owner, d clutch.Drive) string {
	if of == clutch.ConverterClutch {
		return "The converter clutch carries the engine's torque only while it is locked. Pick Locked above."
	}
	f, _ := clutch.FlowIn(d.Gear) // without a flow nothing is backed up
	for _, l := range f.Loads {
		if l.Element == of && l.Backed {
			return "A one-way clutch does the same here while the engine drives, and carries it all. It has to hold alone under engine braking and in R."
		}
	}
	return clutch.Name(of) + " is not on in " + gearWords(d.Gear) + "."
}

// clampCall is the answer in a word. Typical sizes give no verdict.
func clampCall(p clampPicture, d clutch.Demand, mine bool) (call, word string) {
	switch {
	case !p.held:
		return "none", "Slips below " + p.form.linePressure(d.Slips)
	case p.holds < d.Torque && mine:
		return "bad", "It slips"
	case p.holds < d.Torque:
		return "unsure", "It would slip"
	case mine && float64(p.holds) >= float64(d.Torque)*float64(clutch.Everyday.Margin()):
		return "good", "It holds"
	case mine:
		return "unsure", "It holds, barely"
	}
	return "none", "It would hold"
}
