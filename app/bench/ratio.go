package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/ratio"
	"provingbench/knowledge/unit"
)

// ratioTool tells from engine speed and road speed which gear the unit is in,
// what slips, and how far it flares over a shift.
var ratioTool = &tool{
	name:     "ratio",
	title:    "Ratio and slip",
	what:     "Which gear is it really in, what slips, and how far does it flare over a shift?",
	lead:     "Engine speed over output shaft speed is the gear's ratio, or a little more while the converter slips. What tyre and instruments can be off is counted in.",
	cautions: []string{"road-test"},
	panels:   []*panel{ratioPanel, flarePanel, lockupPanel},
	example:  "engine=2350&speed=52&tyre=LT245%2F75R16&axle=3.55&ordered=4&before=2800&peak=3050&after=1900&unlocked=1950&locked=1700",
}

const (
	byRoad   = "road"
	byShaft  = "shaft"
	byDial   = "dial"
	byScan   = "scan"
	bySky    = "satellite"
	anyGear  = "any"
	backward = "reverse"
)

var (
	turnsOf    = []quantity.Unit{quantity.PerMile, quantity.PerKilometre}
	tachometer = pickOf(part.Option{Value: byScan, Label: "Scan tool"}, part.Option{Value: byDial, Label: "Dial"})
)

func onRoad(f *form) bool { return f.text("by") != byShaft }

// truckInputs are the fields of tyre, axle and transfer case; a tool has them
// once.
func truckInputs(when func(*form) bool) []input {
	const more = "More: a measured tyre, the transfer case"
	return []input{
		{key: "tyre", label: "Tyre size", hint: "As on the sidewall of a driven wheel, such as " + ratio.ExampleSize + ".", when: when},
		{key: "axle", label: "Axle ratio", hint: "On the axle's tag or the truck's build sheet.", kind: quantity.KindRatio, when: when},
		{key: "turns", fold: more, label: "Turns by the tyre maker's sheet", hint: "Better than the size alone.", kind: quantity.KindPerDistance, units: turnsOf, when: when},
		{key: "rolled", fold: more, label: "Or the way of one turn", hint: "Chalk the tyre and the floor, roll the loaded truck one turn, measure. Best of all.", kind: quantity.KindLength, units: lengths, when: when},
		{key: "range", fold: more, label: "Transfer case ratio", hint: "One for high range, and for no transfer case.", kind: quantity.KindRatio, standard: "1", when: when},
	}
}

// rollingOf is the tyre of a form, by the best that was typed.
func rollingOf(f *form) (ratio.Rolling, error) {
	if way, ok := number[quantity.Length](f, "rolled"); ok {
		return ratio.FromRollOut(way, 1)
	}
	if n, ok := number[quantity.PerDistance](f, "turns"); ok {
		return ratio.FromTurns(n)
	}
	tyre, err := ratio.ParseTyre(f.text("tyre"))
	if err != nil {
		return ratio.Rolling{}, err
	}
	return tyre.Rolling()
}

var truckBlame = []blamed{
	{ratio.Size, "tyre"}, {ratio.RollWay, "rolled"}, {ratio.Turns, "turns"}, {ratio.Axle, "axle"}, {ratio.Transfer, "range"}, {ratio.Circumference, "tyre"},
}

var ratioPanel = &panel{
	id:    "gear",
	empty: "Type engine speed and road speed of the same moment.",
	inputs: append(append([]input{
		{key: "by", label: "How is the speed known?", compact: true, standard: byRoad, options: pickOf(
			part.Option{Value: byRoad, Label: "Road speed"},
			part.Option{Value: byShaft, Label: "Output shaft, on the scan tool"},
		)},
		{key: "engine", label: "Engine speed", kind: quantity.KindRotation, want: "Type the engine speed."},
		{key: "tach", label: "Read on", compact: true, standard: byScan, options: tachometer},
		{key: "shaft", label: "Output shaft speed", kind: quantity.KindRotation, want: "Type the output shaft's speed.", when: func(f *form) bool { return !onRoad(f) }},
		{key: "speed", label: "Road speed", kind: quantity.KindSpeed, units: speeds, want: "Type the road speed.", when: onRoad},
		{key: "pace", label: "Read on", compact: true, standard: byDial, options: pickOf(
			part.Option{Value: byDial, Label: "Speedometer"},
			part.Option{Value: bySky, Label: "Satellite receiver"},
		), when: onRoad},
	}, truckInputs(onRoad)...), []input{
		{key: "load", label: "What did the engine do?", compact: true, standard: string(ratio.Light), options: pickOf(
			part.Option{Value: string(ratio.Light), Label: "Light foot, steady"},
			part.Option{Value: string(ratio.Pulling), Label: "Pulled"},
			part.Option{Value: string(ratio.Coasting), Label: "Coasted"},
		)},
		{key: "lock", label: "Converter clutch, by the scan tool", compact: true, standard: "unknown", options: pickOf(
			part.Option{Value: "unknown", Label: "Not known"},
			part.Option{Value: string(ratio.Commanded), Label: "Commanded on"},
			part.Option{Value: string(ratio.Released), Label: "Commanded off"},
		)},
		{key: "ordered", label: "Gear that it should be in", compact: true, standard: anyGear, options: func(*form) []part.Option {
			o := []part.Option{{Value: anyGear, Label: "Not known"}}
			for _, g := range []unit.Gear{unit.First, unit.Second, unit.Third, unit.Fourth} {
				o = append(o, part.Option{Value: string(g), Label: ratio.Name(g)})
			}
			return append(o, part.Option{Value: backward, Label: "Reverse"})
		}},
	}...),
	check: func(f *form) {
		if !onRoad(f) {
			return
		}
		if f.text("tyre")+f.text("turns")+f.text("rolled") == "" {
			f.problem("tyre", "Type the tyre's size.")
		}
		if _, ok := f.reading("axle"); !ok {
			f.problem("axle", "Type the axle ratio.")
		}
	},
	work: workRatio,
}

// tachOf is the instrument of a choice.
func tachOf(f *form, key string) *conformity.Accuracy {
	a := ratio.ScanTool
	if f.text(key) == byDial {
		a = ratio.Tachometer
	}
	return &a
}

// measured is the ratio that a form comes to.
func measured(f *form) (m ratio.Measured, tyre ratio.Rolling, err error) {
	r := ratio.Road{EngineMeter: tachOf(f, "tach")}
	r.Engine, _ = f.reading("engine")
	if onRoad(f) {
		if tyre, err = rollingOf(f); err != nil {
			return m, tyre, err
		}
		r.Tyre = tyre
		r.Speed, _ = f.reading("speed")
		r.Axle, _ = number[quantity.Ratio](f, "axle")
		r.Transfer = or(f, "range", quantity.Ratio(1))
		pace := ratio.Speedometer
		if f.text("pace") == bySky {
			pace = ratio.Satellite
		}
		r.SpeedMeter = &pace
	} else {
		r.Shaft, _ = f.reading("shaft")
	}
	m, err = r.Measure()
	return m, tyre, err
}

func workRatio(f *form) *result {
	fallback := "shaft"
	if onRoad(f) {
		fallback = "speed"
	}
	m, tyre, err := measured(f)
	if err != nil {
		return f.blame(err, fallback, append(truckBlame, blamed{ratio.EngineSpeed, "engine"}, blamed{ratio.RoadSpeed, fallback})...)
	}
	load, command, ordered := ratio.Load(f.text("load")), ratio.Command(f.text("lock")), unit.Gear(f.text("ordered"))
	if command == "unknown" {
		command = ratio.NotKnown
	}
	if ordered == backward {
		ordered = unit.Reverse
	}
	out, err := ratio.Identify(m, load, command, ordered == unit.Reverse)
	if err != nil {
		return f.blame(err, "engine")
	}
	best := out.Candidates[0]
	r := &result{call: "none", value: "ratio " + plain(m.Ratio) + " ± " + plain(2*m.Ratio*m.Standard)}
	switch {
	case out.NoneCalled:
		r.call, r.word = "bad", "No gear fits"
		r.because = append(r.because, "Something slips or drags, or one of the figures is wrong: check tyre, axle and both speeds first.")
	case out.Called == "":
		r.call, r.word = "unsure", "Not sure: perhaps "+best.Name
	case ordered == anyGear:
		r.word = capitalised(best.Name)
	case out.Called == ordered:
		r.call, r.word = "good", capitalised(best.Name)+", as ordered"
	default:
		r.call, r.word = "bad", capitalised(best.Name)+", and not "+ratio.Name(ordered)
	}
	if !out.NoneCalled {
		r.because = append(r.because, f.slipText(best, load), clutchSays(best, command, out.Called != ""))
		if ordered != anyGear && best.Gear != ordered {
			r.because = append(r.because, lostText(ordered, best.Gear))
		}
	}
	r.because = append(r.because, out.Notes...)

	var rows []fact
	for _, g := range []unit.Gear{unit.First, unit.Second, unit.Third, unit.Fourth, unit.Reverse} {
		for _, c := range out.Candidates {
			if c.Gear == g {
				rows = append(rows, fact{c.Name + ", " + plain(c.Ratio), part.Percent(c.Probability) + "; " + f.turning(c.Locked) + " without slip"})
			}
		}
	}
	rows = append(rows, fact{"None of them", part.Percent(out.None)})
	var budget []fact
	for _, b := range m.Budget {
		budget = append(budget, fact{b.Name, quantity.FormatSignificant(b.Standard.Value(), quantity.Percent, 2)})
	}
	used := []string{}
	if onRoad(f) {
		n, err := tyre.PerDistance()
		if err != nil {
			return f.blame(err, "tyre")
		}
		used = append(used, "Tyre "+tyre.From+": "+f.say(n.Value(), quantity.PerMile, 4)+", give or take "+quantity.FormatSignificant(tyre.Limit.Value(), quantity.Percent, 2)+".")
	}
	span := ratio.OpenSlip(load)
	used = append(used,
		"Output shaft: "+f.turning(m.Shaft)+".",
		"An open converter is taken to slip "+quantity.FormatSignificant(span.Least.Value(), quantity.Percent, 2)+" to "+quantity.FormatSignificant(span.Most.Value(), quantity.Percent, 2)+" of engine speed at this load, from memory.",
		"Gear ratios by the published ratios of the class; the chances before measuring are estimates.")
	r.body = []app.UI{
		ratioPicture(f, out, load),
		facts("How probable", rows...),
		part.Fold("What it rests on", bullets(used...), facts("Standard uncertainty, of the ratio", budget...)),
	}
	r.line = "Ratio: " + f.entered("engine") + " at " + f.entered(fallback) + ": " + r.value + ". " + r.word + "."
	return r
}

// plain is a bare number.
func plain(x quantity.Ratio) string { return quantity.Format(x.Value(), quantity.Number, 3) }

func capitalised(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// turning is a rotational speed, to whole rpm.
func (f *form) turning(w quantity.Rotation) string {
	return f.units().Format(w.Value(), quantity.RPM, 0)
}

// slipText says how much of engine speed goes into slip in a gear.
func (f *form) slipText(c ratio.Candidate, load ratio.Load) string {
	share := quantity.Format(c.SlipShare.Value(), quantity.Percent, 1) + " ± " + quantity.FormatSignificant((2*c.SlipStandard).Value(), quantity.Percent, 2)
	if c.Slip < 0 {
		return "The engine turns " + f.turning(-c.Slip) + " less than " + c.Name + " without slip: " + share + "."
	}
	return "The engine turns " + f.turning(c.Slip) + " more than " + c.Name + " without slip: " + share + " of its speed."
}

// clutchSays says whether the converter clutch holds, if it is this gear.
func clutchSays(c ratio.Candidate, command ratio.Command, sure bool) string {
	if c.Gear == unit.Reverse {
		return ""
	}
	if !sure {
		return "If it is " + c.Name + ", the converter clutch is on with a probability of " + part.Percent(c.On) + "."
	}
	text := "Whether the converter clutch is on can't be told: the probability is " + part.Percent(c.On) + "."
	switch {
	case c.On >= surely:
		text = "The converter clutch is on."
		if command == ratio.Released {
			text += " The scan tool says off: it drags or sticks."
		}
	case c.On <= 1-surely:
		text = "The converter clutch is not on."
		if command == ratio.Commanded {
			text += " The scan tool says on: it slips, or the order does not get there."
		}
	}
	return text
}

// surely is how sure the screens are before they say something plainly.
const surely = 0.95

// lostText names the element without which one gear drives as another does.
func lostText(ordered, found unit.Gear) string {
	lost, err := ratio.Lost(ordered, found)
	if err != nil || len(lost) == 0 {
		return ""
	}
	var names []string
	for _, id := range lost {
		if e, ok := unit.ElementByID(id); ok {
			names = append(names, lowered(e.Name))
		}
	}
	return "Without the " + strings.Join(names, " or the ") + ", " + ratio.Name(ordered) + " drives as " + ratio.Name(found) + " does. Or the shift was not made."
}

// shifts are the shifts of which a flare is worked out.
var shifts = []struct {
	value    string
	from, to unit.Gear
}{
	{"12", unit.First, unit.Second}, {"23", unit.Second, unit.Third}, {"34", unit.Third, unit.Fourth},
	{"43", unit.Fourth, unit.Third}, {"32", unit.Third, unit.Second}, {"21", unit.Second, unit.First},
}

var flarePanel = &panel{
	id:      "flare",
	heading: "Flare over a shift",
	intro:   "Two or three readings in a row, on one tachometer. In a clean upshift engine speed only falls, by as much as the ratios differ.",
	empty:   "Type engine speed before and after the shift, and the highest in between.",
	inputs: []input{
		{key: "shift", label: "Which shift?", compact: true, standard: shifts[1].value, options: func(*form) []part.Option {
			var o []part.Option
			for _, s := range shifts {
				o = append(o, part.Option{Value: s.value, Label: s.value[:1] + "-" + s.value[1:]})
			}
			return o
		}},
		{key: "before", label: "Engine speed just before", kind: quantity.KindRotation, want: "Type the engine speed before the shift."},
		{key: "peak", label: "Highest in the shift (may stay empty)", kind: quantity.KindRotation},
		{key: "after", label: "Engine speed just after", kind: quantity.KindRotation, want: "Type the engine speed after the shift."},
		{key: "flaretach", label: "Read on", compact: true, standard: byScan, options: tachometer},
		{key: "v1", fold: "More: the truck's speed, if it changed", label: "Road speed with the first", kind: quantity.KindSpeed, units: speeds},
		{key: "v2", fold: "More: the truck's speed, if it changed", label: "Road speed with the last", kind: quantity.KindSpeed, units: speeds},
	},
	check: func(f *form) {
		_, a := f.reading("v1")
		_, b := f.reading("v2")
		switch {
		case a && !b:
			f.problem("v2", "Type both road speeds, or none.")
		case b && !a:
			f.problem("v1", "Type both road speeds, or none.")
		}
	},
	work: workFlare,
}

func workFlare(f *form) *result {
	s := ratio.Shift{Meter: tachOf(f, "flaretach")}
	name := ""
	for _, x := range shifts {
		if x.value == f.text("shift") {
			s.From, s.To, name = x.from, x.to, x.value[:1]+"-"+x.value[1:]
		}
	}
	s.Before, _ = f.reading("before")
	s.Peak, _ = f.reading("peak")
	s.After, _ = f.reading("after")
	s.SpeedBefore, _ = f.reading("v1")
	s.SpeedAfter, _ = f.reading("v2")
	out, err := s.Flare()
	if err != nil {
		return f.blame(err, "before", blamed{ratio.Before, "before"}, blamed{ratio.After, "after"}, blamed{ratio.Peak, "peak"}, blamed{ratio.ShiftSpeed, "v1"})
	}
	r := &result{call: "none", word: "No flare"}
	switch {
	case !out.Seen:
		r.word = "Expected after it: " + f.turning(out.Expected)
	case out.Flared():
		r.call, r.word = "unsure", "Flare of "+f.turning(out.Rise)
		r.because = append(r.because, "Engine speed rose by "+f.turning(out.Rise)+", give or take "+f.turning(2*out.RiseStandard)+". No sheet that is known here says how much is allowed; a clean shift has none.")
	case out.Flares > 1-surely && out.Rise > 0:
		r.call, r.word = "unsure", "Perhaps a small flare"
		r.because = append(r.because, "The rise of "+f.turning(out.Rise)+" is within what the tachometer can be off.")
	}
	if out.Seen {
		r.because = append(r.because, "After a clean shift the engine should turn "+f.turning(out.Expected)+".")
	}
	switch {
	case out.Slips():
		r.call = "unsure"
		r.because = append(r.because, "It turns "+f.turning(out.Left)+" more after the shift: the new gear had not taken hold yet, or it slips.")
	case -out.Left > 2*out.LeftStandard:
		r.because = append(r.because, "It turns "+f.turning(-out.Left)+" less after the shift: the truck lost speed, the converter clutch came on, or the gears are not the ones picked.")
	default:
		r.because = append(r.because, "Engine speed after the shift agrees with that.")
	}
	r.line = name + " shift: " + f.entered("before") + ", " + f.entered("after") + " after"
	if out.Seen {
		r.line += ", highest " + f.entered("peak")
	}
	r.line += ". " + r.word + "."
	return r
}

var lockupPanel = &panel{
	id:      "lockup",
	heading: "Drop when the converter clutch comes on",
	intro:   "Hold one speed and watch the tachometer while the converter clutch comes on. Tyre and speedometer don't matter here.",
	empty:   "Type engine speed before and after.",
	inputs: []input{
		{key: "unlocked", label: "Engine speed before", kind: quantity.KindRotation, want: "Type the engine speed before."},
		{key: "locked", label: "Engine speed after", kind: quantity.KindRotation, want: "Type the engine speed after."},
		{key: "locktach", label: "Read on", compact: true, standard: byScan, options: tachometer},
	},
	work: func(f *form) *result {
		l := ratio.Lockup{Meter: tachOf(f, "locktach")}
		l.Open, _ = f.reading("unlocked")
		l.On, _ = f.reading("locked")
		slip, u, err := l.Drop()
		if err != nil {
			return f.blame(err, "unlocked", blamed{ratio.After, "locked"})
		}
		r := &result{call: "none", word: "Drop of " + f.turning(quantity.Rotation(l.Open.SI-l.On.SI)),
			value: quantity.Format(slip.Value(), quantity.Percent, 1) + " ± " + quantity.FormatSignificant((2*u).Value(), quantity.Percent, 2)}
		switch {
		case slip > 2*u:
			r.because = []string{"So much of engine speed went into slip before, and the converter clutch took it away. If it is all the slip, the speed after fits the gear above without slip."}
		case slip < -2*u:
			r.word = "It rose by " + f.turning(quantity.Rotation(l.On.SI-l.Open.SI))
			r.because = []string{"Engine speed rose: the converter clutch went off, or the gear changed."}
		default:
			r.call, r.word = "unsure", "No drop"
			r.because = []string{"Engine speed did not change by more than the tachometer can be off: the clutch did not come on, or it was on already."}
		}
		r.line = "Lock-up: " + f.entered("unlocked") + " to " + f.entered("locked") + ". " + r.word + ", " + r.value + "."
		return r
	},
}
