package bench

import (
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
)

// fluidHeatTool weighs the heat that goes into the fluid against what the cooler
// carries away, and adds up what heat did to the fluid.
var fluidHeatTool = &tool{
	name:     "fluid-heat",
	title:    "Fluid's heat and life",
	what:     "Does the cooler keep up, how fast does the pan warm, and how much of the fluid's life is used?",
	lead:     "Heat is what ends a transmission. Weigh what goes in against what the cooler takes out before you blame either.",
	cautions: []string{"hot-fluid"},
	panels:   []*panel{balancePanel, warmingPanel, historyPanel},
	example:  "tin=210&tout=170&caught=1&time=15&source=converter&power=60&engine=2200&turbine=1700&ratio=1.2&stays=12&from=180&history=20000+at+175%0A5000+at+215%0A300+at+255",
	metric:   "history=32000+at+80%0A8000+at+102%0A500+at+124",
}

// What puts the heat in.
const (
	sourceNone      = "none"
	sourceSlip      = "slip"
	sourceConverter = "converter"
)

const (
	coolerFlow   = "cooler-flow"      // the sheet's least flow
	coolerCheck  = "cooler-flow-test" // where it is measured
	overhaulFill = "overhaul-fill"    // the sheet's fill of a dry unit
)

func sourceIs(source string) func(*form) bool {
	return func(f *form) bool { return f.text("source") == source }
}

var (
	volumes   = []quantity.Unit{quantity.Quart, quantity.Litre, quantity.Pint}
	durations = []quantity.Unit{quantity.Second, quantity.Minute}
	weights   = []quantity.Unit{quantity.PoundForce, quantity.KilogramForce}
)

var balancePanel = &panel{
	id:    "balance",
	empty: "Type the cooler's two temperatures and its flow, or what puts heat in, or both.",
	inputs: []input{
		{key: "tin", label: "Fluid to the cooler", hint: "A probe strapped to the line reads a few degrees low; strap both the same way.", kind: quantity.KindTemperature, units: degrees},
		{key: "tout", label: "Fluid back from the cooler", kind: quantity.KindTemperature, units: degrees},
		{key: "caught", label: "Caught from the return line", kind: quantity.KindVolume, units: volumes},
		{key: "time", label: "Time that it was caught", kind: quantity.KindDuration, units: durations},
		{key: "source", label: "What puts heat in?", standard: sourceNone, compact: true, options: pickOf(
			part.Option{Value: sourceNone, Label: "Not asked"},
			part.Option{Value: sourceSlip, Label: "A clutch or band that slips"},
			part.Option{Value: sourceConverter, Label: "An unlocked converter"},
		)},
		{key: "torque", label: "Torque through it", kind: quantity.KindTorque, units: torques, want: "Type the torque that it carries while it slips.", when: sourceIs(sourceSlip)},
		{key: "slip", label: "Slip", hint: "The difference of the speeds of its two sides.", kind: quantity.KindRotation, want: "Type the slip.", when: sourceIs(sourceSlip)},
		{key: "power", above: true, label: "Engine power", hint: "What it makes at that moment, not what it could.", kind: quantity.KindPower, units: powers, want: "Type the engine's power.", when: sourceIs(sourceConverter)},
		{key: "engine", label: "Engine speed", kind: quantity.KindRotation, want: "Type the engine's speed.", when: sourceIs(sourceConverter)},
		{key: "turbine", label: "Turbine speed", hint: "In third gear it is the output shaft's speed. At stall it is zero.", kind: quantity.KindRotation, want: "Type the turbine's speed.", when: sourceIs(sourceConverter)},
		{key: "ratio", label: "Torque ratio of the converter", hint: "How many times the engine's torque comes out. It falls from its greatest at stall to one at cruise.", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Number}, standard: "1", when: sourceIs(sourceConverter)},
	},
	check: func(f *form) {
		cooler := 0
		for _, key := range []string{"tin", "tout", "caught", "time"} {
			if f.text(key) != "" {
				cooler++
			}
		}
		if cooler > 0 && cooler < 4 {
			for key, want := range map[string]string{"tin": "Type the temperature of the line to the cooler.", "tout": "Type the temperature of the line back.",
				"caught": "Type how much you caught from the return line.", "time": "Type how long you caught it."} {
				if f.text(key) == "" {
					f.problem(key, want)
				}
			}
		}
		if cooler == 0 && f.text("source") == sourceNone {
			f.problem("tin", "Type the cooler's figures, or choose what puts heat in.")
		}
		if t, ok := number[quantity.Duration](f, "time"); ok && t <= 0 {
			f.problem("time", "That takes some seconds.")
		}
		if v, ok := number[quantity.Rotation](f, "engine"); ok && v <= 0 {
			f.problem("engine", "The engine has to turn.")
		}
	},
	work: workBalance,
}

// heatFluid is the fluid that heat is worked out with: the classes differ in
// viscosity, not in what warms them.
func heatFluid() fluid.Fluid { return fluid.Classes()[0].Fluid }

func workBalance(f *form) *result {
	r := &result{call: "none"}
	var rows []fact
	var out, in quantity.Power
	cooler := f.text("tin") != ""
	if cooler {
		caught, _ := number[quantity.Volume](f, "caught")
		time, _ := number[quantity.Duration](f, "time")
		tin, _ := number[quantity.Temperature](f, "tin")
		tout, _ := number[quantity.Temperature](f, "tout")
		flow := quantity.Flow(float64(caught) / float64(time))
		var err error
		if out, err = heatFluid().Carried(tin, tout, flow); err != nil {
			return f.blame(err, "tin", blamed{"cold temperature", "tout"}, blamed{"flow", "caught"})
		}
		rows = append(rows, fact{"Cooler flow", f.say(flow.Value(), quantity.GallonPerMinute, 3)}, fact{"The cooler carries away", f.power(out)})
		r.word, r.value = f.power(out), "carried away by the cooler"
	}
	source := f.text("source")
	if source != sourceNone {
		var err error
		if source == sourceSlip {
			torque, _ := number[quantity.Torque](f, "torque")
			slip, _ := number[quantity.Rotation](f, "slip")
			in, err = fluid.Slip(torque, slip)
		} else {
			power, _ := number[quantity.Power](f, "power")
			engine, _ := number[quantity.Rotation](f, "engine")
			turbine, _ := number[quantity.Rotation](f, "turbine")
			in, err = fluid.Converter(power, quantity.Ratio(turbine/engine), or(f, "ratio", quantity.Ratio(1)))
		}
		if err != nil {
			return f.blame(err, map[string]string{sourceSlip: "torque", sourceConverter: "power"}[source],
				blamed{"slip speed", "slip"}, blamed{"speed ratio", "turbine"}, blamed{"torque ratio", "ratio"})
		}
		rows = append(rows, fact{"Heat put in", f.power(in)})
		if !cooler {
			r.word, r.value = f.power(in), "put into the fluid"
		}
	}
	if cooler && source != sourceNone {
		net := in - out
		if net > 0 {
			r.call, r.word, r.value = "unsure", "It warms up", f.power(net)+" more goes in than the cooler carries away"
		} else {
			r.word, r.value = "The cooler keeps up", f.power(-net)+" to spare"
		}
	}
	r.because = []string{"Worked out with a usual density and the specific heat of petroleum oils, which is 1 to 4 per cent low for engine oil. What the pan and the case give off to the air is left out."}
	r.body = []app.UI{facts("", rows...)}
	if limits := f.sheet().Limits(coolerFlow); cooler && len(limits) > 0 {
		r.body = append(r.body, app.H3().Text("What the sheet asks of the flow"), f.figures(limits),
			app.P().Body(app.A().Href(route.Check(coolerCheck).Href()).Text("The check of the cooler's flow")))
	}
	r.line = "Heat: " + r.word + ", " + r.value + "."
	return r
}

func (f *form) power(p quantity.Power) string {
	return f.say(p.Value(), quantity.Horsepower, 2)
}

var warmingPanel = &panel{
	id:      "warming",
	heading: "How fast it warms",
	intro:   "As if fluid and metal warmed together. The clutch or converter that makes the heat is far hotter than the pan.",
	empty:   "Type how much heat stays in, and from where.",
	inputs: []input{
		{key: "stays", above: true, label: "Heat that stays in", hint: "What is put in, less what the cooler carries away.", kind: quantity.KindPower, units: powers, want: "Type the heat that stays in."},
		{key: "from", label: "From", kind: quantity.KindTemperature, units: degrees, want: "Type the temperature now."},
		{key: "to", label: "To (may stay empty)", hint: "Left empty: where seals begin to harden, by the sheet.", kind: quantity.KindTemperature, units: degrees},
		{key: "fill", fold: moreWarming, label: "Fluid in the unit", hint: "Left empty: the least of the sheet's fill for a dry unit.", kind: quantity.KindVolume, units: volumes},
		{key: "light", fold: moreWarming, label: "Aluminium that warms with it", tell: metalHint(0), kind: quantity.KindForce, units: weights},
		{key: "heavy", fold: moreWarming, label: "Iron and steel that warm with it", tell: metalHint(1), kind: quantity.KindForce, units: weights},
	},
	work: workWarming,
}

const moreWarming = "More: fluid and metal"

func metalHint(n int) func(*form) string {
	return func(f *form) string {
		return "Its weight. Left empty: " + f.say(weightOf(fluid.Metals()[n]), quantity.PoundForce, 2) + ", typical, invented for the demo."
	}
}

// A mass is typed by its weight.
func weightOf(m fluid.Metal) quantity.Value {
	return quantity.Force(quantity.KilogramForce.SI(m.Mass)).Value()
}

func workWarming(f *form) *result {
	stays, _ := number[quantity.Power](f, "stays")
	from, _ := number[quantity.Temperature](f, "from")
	metals := fluid.Metals()
	for i, key := range []string{"light", "heavy"} {
		if w, ok := number[quantity.Force](f, key); ok {
			metals[i].Mass = quantity.KilogramForce.From(float64(w))
		}
	}
	var notes []string
	to, ok := number[quantity.Temperature](f, "to")
	if !ok {
		for _, b := range heatLimits(f.sheet()).Seals {
			to, ok = b.At, true
		}
		if !ok {
			f.problem("to", "Type the temperature to reach.")
			return nil
		}
	}
	fill, ok := number[quantity.Volume](f, "fill")
	if !ok {
		for _, l := range f.sheet().Limits(overhaulFill) {
			if l.Min != nil {
				fill, ok = quantity.Volume(l.Min.SI), true
				notes = append(notes, "Fluid in the unit: "+f.say(*l.Min, quantity.Quart, 3)+", "+strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))+".")
				break
			}
		}
		if !ok {
			f.problem("fill", "Type how much fluid is in the unit.")
			return nil
		}
	}
	x := heatFluid()
	takes, err := x.Warming(stays, from, to, fill, metals...)
	if err != nil {
		return f.blame(err, "to", blamed{"heat put in", "stays"}, blamed{"first temperature", "from"}, blamed{"volume", "fill"},
			blamed{"mass of " + metals[0].Name, "light"}, blamed{"mass of " + metals[1].Name, "heavy"})
	}
	c, err := x.Capacity((from+to)/2, fill, metals...)
	if err != nil {
		return f.blame(err, "from")
	}
	for i, m := range metals {
		words := "typical, invented for the demo"
		if m.Mass != fluid.Metals()[i].Mass {
			words = "as you typed it"
		}
		notes = append(notes, "Weight of "+m.Name+": "+f.say(weightOf(m), quantity.PoundForce, 2)+", "+words+".")
	}
	const minute = 60
	r := &result{call: "none", word: f.time(takes), value: "from " + f.temperature(from) + " to " + f.temperature(to),
		because: []string{"That is " + f.warmer(float64(stays)/c*minute) + " a minute."},
		body:    []app.UI{app.H3().Text("Taken for granted"), bullets(notes...)},
	}
	r.line = "Warming with " + f.entered("stays") + ": " + r.word + " " + r.value + "."
	return r
}

// time prints a computed time in the unit that suits its size.
func (f *form) time(t quantity.Duration) string {
	u := quantity.Second
	for _, x := range []quantity.Unit{quantity.Minute, quantity.Hour} {
		if x.From(float64(t)) >= 2 {
			u = x
		}
	}
	return quantity.FormatSignificant(t.Value(), u, 2)
}

var historyPanel = &panel{
	id:      "history",
	heading: "Life used",
	intro:   "By the trade's chart, which is folklore: its copies repeat each other, and no test stands behind it. Beside it stands what one reaction would do that agrees with the chart's two ends (Arrhenius). Neither is a promise.",
	empty:   "Type how far or how long it went at which temperature, one line each.",
	inputs: []input{
		{key: "history", label: "How far or how long, at which temperature", tell: func(f *form) string {
			d, t := f.picked("span"), f.picked("warm")
			return "One line each, such as “500 at " + strings.TrimSuffix(quantity.Format(fluid.ChartReference.Value(), t, 0), " "+t.Name) + "” for 500 " + d.Name + " at that many " + t.Name + "."
		}, rows: 5},
		unitPick("span", "Without a unit a line is in", append(slices.Clip(ways), quantity.Hour), nil),
		unitPick("warm", "Temperatures are in", degrees, nil),
		{key: "speed", label: "Average speed, for hours (may stay empty)", tell: func(f *form) string {
			return "Left empty: " + f.say(usualSpeed.Value(), quantity.MilePerHour, 2) + ", invented for the demo."
		}, kind: quantity.KindSpeed, units: speeds},
		{key: "life", above: true, label: "Life of the fluid (may stay empty)", tell: chartHint, kind: quantity.KindDistance, units: ways, when: func(f *form) bool { return !byHours(f) }},
		{key: "lifehours", label: "Life of the fluid in hours (may stay empty)", tell: chartHint, kind: quantity.KindDuration, units: []quantity.Unit{quantity.Hour}, when: byHours},
	},
	work: workHistory,
}

var ways = []quantity.Unit{quantity.Mile, quantity.Kilometre}

// usualSpeed turns hours into a way where nobody typed a speed.
var usualSpeed = quantity.Speed(quantity.MilePerHour.SI(40))

// byHours reports whether a history is kept in hours.
func byHours(f *form) bool { return f.picked("span") == quantity.Hour }

func chartHint(f *form) string {
	hint := "At " + f.temperature(fluid.ChartReference) + ". Left empty: the chart's " + f.far(fluid.ChartLife)
	if byHours(f) {
		hint += " at the average speed"
	}
	return hint + "."
}

// mostSpells is how many lines a history may have.
const mostSpells = 40

func workHistory(f *form) *result {
	if v, ok := f.reading("speed"); ok && v.SI <= 0 {
		f.problem("speed", "Hours at no speed are no way. Type more than nothing.")
		return nil
	}
	var spells []fluid.Spell[quantity.Distance]
	var lines []string
	for _, line := range strings.Split(f.text("history"), "\n") {
		if line = strings.TrimSpace(line); line == "" {
			continue
		}
		s, wrong := spell(f, line)
		switch {
		case wrong != "":
			f.problem("history", "Line "+strconv.Itoa(len(lines)+1)+": "+wrong)
			return nil
		case len(lines) == mostSpells:
			f.problem("history", "That is more lines than fit here.")
			return nil
		}
		lines, spells = append(lines, line), append(spells, s)
	}
	if len(spells) == 0 {
		f.problem("history", "Type a line: how far or how long, at, and the temperature.")
		return nil
	}
	speed := or(f, "speed", usualSpeed)
	life := or(f, "life", fluid.ChartLife)
	said := f.far
	if byHours(f) {
		if h, ok := number[quantity.Duration](f, "lifehours"); ok {
			life = quantity.Distance(float64(h) * float64(speed))
		}
		said = func(d quantity.Distance) string {
			return quantity.FormatSignificant(quantity.Duration(float64(d)/float64(speed)).Value(), quantity.Hour, 2)
		}
	}
	a, err := fluid.Age(spells, life, fluid.ChartReference, fluid.ChartStep, fluid.ChartEnergy)
	if err != nil {
		return f.blame(err, "history", blamed{"life at", map[bool]string{false: "life", true: "lifehours"}[byHours(f)]})
	}
	r := &result{call: "none", word: usedWord(a.Halving.Used), value: "by the trade's rule; " + usedWord(a.Arrhenius.Used) + " by Arrhenius"}
	if max(a.Halving.Used, a.Arrhenius.Used) >= 1 {
		r.call = "unsure"
		r.because = append(r.because, "By one or both the life is over. The fluid itself decides: look at its colour, smell it, and look into the pan.")
	}
	row := func(name string, w fluid.Wear[quantity.Distance]) []fact {
		return []fact{
			{name + ": as much as", said(w.Equivalent) + " at " + f.temperature(fluid.ChartReference)},
			{name + ": left", said(w.Left)},
		}
	}
	r.body = []app.UI{lifeBars(a), facts("", append(row("Rule of thumb (folklore)", a.Halving), row("Arrhenius, fitted to the same chart", a.Arrhenius)...)...)}
	if len(a.Halving.Shares) > 0 && len(a.Arrhenius.Shares) > 0 {
		var rows []fact
		for i, line := range lines {
			rows = append(rows, fact{line, part.Percent(a.Halving.Shares[i]) + "; " + part.Percent(a.Arrhenius.Shares[i]) + " by Arrhenius"})
		}
		r.body = append(r.body, facts("Which line did how much of it", rows...))
	}
	r.line = "Fluid's life: " + r.word + " " + r.value + " (" + strings.Join(lines, "; ") + ")."
	return r
}

func (f *form) far(d quantity.Distance) string { return f.say(d.Value(), quantity.Mile, 2) }

// usedWord is a share of the life that is used.
func usedWord(used float64) string {
	switch {
	case used >= 10:
		return "More than ten lives used"
	case used >= 1.05:
		return quantity.FormatSignificant(quantity.Ratio(used).Value(), quantity.Number, 2) + " lives used"
	}
	return part.Percent(min(used, 1)) + " used"
}

// spell reads one line of a history; wrong is what is to be said about it.
func spell(f *form, line string) (s fluid.Spell[quantity.Distance], wrong string) {
	span, degrees, ok := strings.Cut(strings.ReplaceAll(line, "@", " at "), " at ")
	if !ok {
		return s, "write how far or how long, then “at”, then the temperature."
	}
	t, err := quantity.Parse(quantity.KindTemperature, strings.TrimSpace(degrees), f.picked("warm"))
	if err != nil {
		return s, sentence(err)
	}
	s.At = quantity.Temperature(t.SI)
	span = strings.TrimSpace(span)
	unit := f.picked("span")
	of, err := quantity.Parse(unit.Kind, span, unit)
	for _, other := range []quantity.Unit{quantity.Hour, quantity.Mile} {
		if err == nil {
			break
		}
		if x, errX := quantity.Parse(other.Kind, span, other); other.Kind != unit.Kind && errX == nil {
			of, err = x, nil
		}
	}
	if err != nil {
		return s, sentence(err)
	}
	s.Of = quantity.Distance(of.SI)
	if of.Kind == quantity.KindDuration {
		s.Of = quantity.Distance(of.SI * float64(or(f, "speed", usualSpeed)))
	}
	return s, ""
}

// The bars of the life used are drawn in these steps, one unit a CSS pixel at
// the usual size.
const (
	barWidth = 358
	barFull  = 300 // of a whole life
)

// lifeBars draws what is used by either law against a whole life. The words
// above and the table below say the same.
func lifeBars(a fluid.Ageing[quantity.Distance]) app.UI {
	var b strings.Builder
	for i, w := range []struct {
		name string
		used float64
	}{{"Rule of thumb: ", a.Halving.Used}, {"Arrhenius: ", a.Arrhenius.Used}} {
		y := 8 + 62*i
		fmt.Fprintf(&b, `<text class="lifebar__words" x="1" y="%d">%s</text><rect class="lifebar__whole" x="1" y="%d" width="%d" height="28"/><rect class="lifebar__used" x="1" y="%d" width="%.1f" height="28"/>`,
			y+14, html.EscapeString(w.name+usedWord(w.used)), y+22, barFull, y+22, min(w.used*barFull, barWidth-2))
	}
	fmt.Fprintf(&b, `<path class="lifebar__end" d="M%d 4V128"/><text class="lifebar__words" x="%d" y="146" text-anchor="end">whole life</text>`, barFull+1, barFull+1)
	return app.Raw(`<svg class="lifebar" viewBox="0 0 358 152" role="img" aria-label="Life used by either law, as said above">` + b.String() + `</svg>`)
}
