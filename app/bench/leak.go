package bench

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/leak"
	"provingbench/knowledge/quantity"
)

// leakTool says what a gap costs the pump, cold and hot, at idle and driving.
var leakTool = &tool{
	name:     "leaks",
	title:    "Leaks",
	what:     "How much of the pump does this gap, worn ring or hole take, cold and hot, at idle and driving?",
	lead:     "A gap that costs little cold can take a hot unit its pressure at idle. Type the pressure and what you measured; what stays empty is taken as typical.",
	cautions: []string{"hot-fluid"},
	panels:   []*panel{leakPanel},
	example:  "pressure=60&clearance=2",
}

const (
	moreLeak    = "More: fluid, temperatures, pump"
	leakTypical = "Left empty, a typical one is taken, invented for the demo."
)

func leakKind(f *form) leak.Kind {
	g, _ := leak.GapNamed(f.text("gap"))
	return g.Kind
}

func leaksBy(kinds ...leak.Kind) func(*form) bool {
	return func(f *form) bool {
		for _, k := range kinds {
			if leakKind(f) == k {
				return true
			}
		}
		return false
	}
}

var leakPanel = &panel{
	id:    "leak",
	empty: "Type the pressure on the gap.",
	inputs: []input{
		{key: "gap", label: "Where does it leak?", options: whichGap, standard: leak.Gaps[0].ID},
		{key: "pressure", label: "Pressure on it", hint: "Line pressure of the test, as on the gauge. Behind it is taken to be none.", kind: quantity.KindPressure, units: pressures, want: "Type the pressure on the gap."},
		{key: "width", label: "Width of the gap", hint: "Across the flow. " + leakTypical, kind: quantity.KindLength, units: lengths, when: leaksBy(leak.KindSlot)},
		{key: "diameter", label: "Diameter", hint: leakTypical, kind: quantity.KindLength, units: lengths, when: leaksBy(leak.KindAnnulus, leak.KindHole)},
		{key: "open", label: "Gap", hint: "What the feeler goes under. " + leakTypical, kind: quantity.KindLength, units: gaps, when: leaksBy(leak.KindSlot)},
		{key: "clearance", label: "Clearance, on one side", hint: "Half of what bore and piston or ring differ by. " + leakTypical, kind: quantity.KindLength, units: gaps, when: leaksBy(leak.KindAnnulus)},
		{key: "length", label: "Length along the flow", hint: "Width of the ring or land, depth of the hole. " + leakTypical, kind: quantity.KindLength, units: lengths},
		{key: "off", fold: moreLeak, label: "Out of the middle by", hint: "Nothing: in the middle of its bore. All of it: it touches on one side and leaks two and a half times as much.", kind: quantity.KindRatio,
			units: []quantity.Unit{quantity.Percent}, when: leaksBy(leak.KindAnnulus)},
		{key: "fluid", fold: moreLeak, label: "Which fluid?", options: leakFluids, standard: fluid.Classes()[0].ID},
		{key: "cold", fold: moreLeak, label: "Cold is", kind: quantity.KindTemperature, units: degrees},
		{key: "hot", fold: moreLeak, label: "Hot is", kind: quantity.KindTemperature, units: degrees},
		{key: "idle", fold: moreLeak, label: "Idle speed", kind: quantity.KindRotation},
		{key: "drive", fold: moreLeak, label: "Engine speed when driving", kind: quantity.KindRotation},
		{key: "pump", fold: moreLeak, label: "The pump moves in one turn", hint: "Measure gears and body, or leave it empty: " + leak.Provenance + ".", kind: quantity.KindVolume,
			units: []quantity.Unit{quantity.Millilitre, quantity.FluidOunce}},
		{key: "delivers", fold: moreLeak, label: "Share of it that comes out", hint: "A worn pump delivers less. " + leakTypical, kind: quantity.KindRatio, units: []quantity.Unit{quantity.Percent}},
	},
	work:    workLeak,
	picture: func(f *form, _ *result) app.UI { return leakPicture(f) },
}

func whichGap(*form) []part.Option {
	var o []part.Option
	for _, g := range leak.Gaps {
		o = append(o, part.Option{Value: g.ID, Label: g.Name, Hint: g.Note})
	}
	return o
}

func leakFluids(*form) []part.Option {
	var o []part.Option
	for _, c := range fluid.Classes() {
		o = append(o, part.Option{Value: c.ID, Label: c.Name})
	}
	return o
}

// A leakCase is one fluid temperature: what leaks, and its share of the pump at
// both engine speeds.
type leakCase struct {
	at          quantity.Temperature
	flow        leak.Result
	idle, drive quantity.Ratio
	held        quantity.Pressure // what is left at idle when it takes more than there is
}

// A leakOutcome is what the form of a leak comes to.
type leakOutcome struct {
	gap         leak.Gap // with what was typed in the place of what is typical
	typed       bool     // all of its dimensions are the user's
	cold, hot   leakCase
	idle, drive quantity.Rotation
	notes       []string // on the fluid's figures
	// working and speed are the keys of the temperature and of the engine speed
	// that were last worked with, for an error to be put beside them.
	working, speed string
}

// leaking works the form of a leak out.
func leaking(f *form) (out leakOutcome, err error) {
	g, _ := leak.GapNamed(f.text("gap"))
	out.typed = true
	take := func(key string, to *quantity.Length) {
		if v, ok := number[quantity.Length](f, key); ok {
			*to = v
		} else {
			out.typed = false
		}
	}
	switch g.Kind {
	case leak.KindSlot:
		take("width", &g.Across)
		take("open", &g.Gap)
	case leak.KindHole:
		take("diameter", &g.Across)
	default:
		take("diameter", &g.Across)
		take("clearance", &g.Gap)
		g.Off = or(f, "off", g.Off)
	}
	take("length", &g.Length)
	out.gap = g
	out.idle, out.drive = or(f, "idle", leak.TypicalIdle), or(f, "drive", leak.TypicalDrive)
	pump := leak.Pump{Displacement: or(f, "pump", leak.TypicalPump.Displacement), Efficiency: or(f, "delivers", leak.TypicalPump.Efficiency)}
	pressure, _ := number[quantity.Pressure](f, "pressure")
	class := fluid.Classes()[0]
	for _, c := range fluid.Classes() {
		if c.ID == f.text("fluid") {
			class = c
		}
	}
	out.notes = class.Notes
	one := func(at quantity.Temperature) (c leakCase, err error) {
		c.at = at
		var x leak.Fluid
		if x.Dynamic, err = class.Fluid.Dynamic(at); err != nil {
			return c, err
		}
		if x.Density, err = class.Fluid.Density(at); err != nil {
			return c, err
		}
		if c.flow, err = g.Path().Flow(pressure, x); err != nil {
			return c, err
		}
		out.speed = "idle"
		if c.idle, err = pump.Share(c.flow.Flow, out.idle); err != nil {
			return c, err
		}
		out.speed = "drive"
		if c.drive, err = pump.Share(c.flow.Flow, out.drive); err != nil {
			return c, err
		}
		delivery, err := pump.Delivery(out.idle)
		if err == nil {
			c.held, err = leak.Held(g.Path(), x, delivery, pressure)
		}
		return c, err
	}
	out.working = "cold"
	if out.cold, err = one(or(f, "cold", leak.TypicalCold)); err != nil {
		return out, err
	}
	out.working = "hot"
	out.hot, err = one(or(f, "hot", leak.TypicalHot))
	return out, err
}

func workLeak(f *form) *result {
	out, err := leaking(f)
	if err != nil {
		size := "diameter"
		if leakKind(f) == leak.KindSlot {
			size = "width"
		}
		return f.blame(err, "pressure", blamed{"pressure", "pressure"}, blamed{"width", size}, blamed{"diameter", size}, blamed{"clearance", "clearance"}, blamed{"eccentricity", "off"},
			blamed{"gap", "open"}, blamed{"length", "length"}, blamed{"temperature", out.working}, blamed{"viscosity", out.working}, blamed{"engine speed", out.speed},
			blamed{"delivery", out.speed}, blamed{"displacement", "pump"}, blamed{"efficiency", "delivers"})
	}
	r := &result{call: "none", word: shareOfPump(out.hot.idle) + " of the pump", value: "hot, at idle"}
	if out.hot.idle > 1 {
		r.word = "More than the pump delivers"
		r.because = []string{"Hot, at idle, the pump can't hold this pressure against this leak: with nothing else leaking the gauge will show about " +
			f.say(out.hot.held.Value(), f.unit("pressure"), 2) + "."}
	}
	r.because = append(r.because, out.hot.flow.Sentence())
	if out.cold.flow.Flow > 0 {
		r.because = append(r.because, "Hot it leaks "+f.times(float64(out.hot.flow.Flow/out.cold.flow.Flow))+" as much as cold.")
	}
	flow := func(c leakCase) string { return f.say(c.flow.Flow.Value(), quantity.GallonPerMinute, 2) }
	rows := []fact{}
	for _, x := range []struct {
		name string
		leakCase
	}{{"Cold", out.cold}, {"Hot", out.hot}} {
		name := x.name + ", " + f.temperature(x.at)
		rows = append(rows, fact{name, flow(x.leakCase)},
			fact{"of the pump at " + f.say(out.idle.Value(), quantity.RPM, 3), shareOfPump(x.idle)},
			fact{"of the pump at " + f.say(out.drive.Value(), quantity.RPM, 3), shareOfPump(x.drive)})
	}
	r.body = []app.UI{facts("What leaks", rows...), facts("Worked out for", out.taken(f)...)}
	notes := []string{"No source gives how much a gap may leak, so there is no verdict. What counts is the sum of all leaks of a range."}
	if !out.typed || f.text("pump") == "" {
		notes = append(notes, "What you did not type is "+leak.Provenance+".")
	}
	r.body = append(r.body, bullets(append(notes, out.notes...)...))
	r.line = fmt.Sprintf("Leak, %s, %s: %s of the pump hot at idle, %s cold.", out.gap.Name, f.entered("pressure"), shareOfPump(out.hot.idle), shareOfPump(out.cold.idle))
	return r
}

// taken lists the dimensions that the leak was worked out for.
func (out leakOutcome) taken(f *form) []fact {
	mm := func(l quantity.Length) string { return f.say(l.Value(), quantity.Inch, 3) }
	g := out.gap
	switch g.Kind {
	case leak.KindSlot:
		return []fact{{"Width", mm(g.Across)}, {"Gap", f.say(g.Gap.Value(), quantity.Thou, 3)}, {"Length", mm(g.Length)}}
	case leak.KindHole:
		return []fact{{"Diameter", mm(g.Across)}, {"Length", mm(g.Length)}}
	}
	return []fact{{"Diameter", mm(g.Across)}, {"Clearance, on one side", f.say(g.Gap.Value(), quantity.Thou, 3)}, {"Length", mm(g.Length)}, {"Out of the middle by", f.say(g.Off.Value(), quantity.Percent, 3)}}
}

// shareOfPump is a share in words; a leak can take more than there is.
func shareOfPump(s quantity.Ratio) string {
	if s > 1 {
		return "more than all"
	}
	return part.Percent(float64(s))
}

// times is a factor in words.
func (f *form) times(x float64) string {
	return quantity.FormatSignificant(quantity.Ratio(x).Value(), quantity.Number, 2) + " times"
}
