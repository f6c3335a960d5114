package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/spring"
)

// springTool judges a spring, and says what another one does to a shift.
var springTool = &tool{
	name:     "spring",
	title:    "Spring",
	what:     "Is this spring whole, what does it push with in its place, and what does another accumulator spring do to the shift?",
	lead:     "No spring length of these units is printed anywhere. What tells is a new one beside it, one reading on a spring tester, and what its own wire says.",
	cautions: []string{"spring-load"},
	panels:   []*panel{springPanel, accumulatorPanel},
	example:  "seat=shift-accumulator&wire=0.105&outer=0.95&free=2.60&turns=9.5&load=22&at=2.00&new-free=2.85&new-turns=9.5&other-load=40&other-rate=60",
}

const (
	springPlace = "In its place"
	springNew   = "Beside a new one of the same version"
	springOwn   = "Limits from a manual of yours"
	springMore  = "More: ends and wire"
)

// A springSeat is a spring that a check asks about, and what its outcomes are.
type springSeat struct {
	id, name                          string
	check, observation, broken, short string // in the catalogue; short is for one that has set
}

var springSeats = []springSeat{
	{"shift-accumulator", "Shift accumulator", "accumulator-inspection", "spring", "broken", "broken"},
	{"overdrive-accumulator", "Overdrive accumulator", "overdrive-accumulator-spring-inspection", "spring", "broken", "broken"},
	{"regulator", "Pressure regulator", "regulator-spring-inspection", "spring", "broken", "short"},
}

var springPanel = &panel{
	id:    "spring",
	empty: "Type wire, outside diameter, free length and turns.",
	inputs: []input{
		{key: "seat", label: "Which spring?", compact: true, options: whichSeat, standard: "other"},
		{key: "wire", label: "Wire diameter", hint: "Measure it well: one per cent of wire is four per cent of rate.", kind: quantity.KindLength, units: lengths, want: "Type the wire diameter."},
		{key: "outer", label: "Outside diameter of the coil", kind: quantity.KindLength, units: lengths, want: "Type the outside diameter."},
		{key: "free", label: "Free length", kind: quantity.KindLength, units: lengths, want: "Type the free length."},
		{key: "turns", label: "Turns", hint: "All that can be counted, ends included.", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Number}, want: "Type how many turns it has."},
		{key: "load", label: "It pushes", hint: "On a spring tester, at any length about the middle of its travel.", kind: quantity.KindForce, units: forces},
		{key: "at", label: "pressed to a length of", kind: quantity.KindLength, units: lengths},
		{key: "new-free", fold: springNew, label: "Free length of the new one", kind: quantity.KindLength, units: lengths},
		{key: "new-turns", fold: springNew, label: "Turns of the new one", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Number}},
		{key: "installed", fold: springPlace, label: "Length at rest", kind: quantity.KindLength, units: lengths},
		{key: "shortest", fold: springPlace, label: "Length at full travel", kind: quantity.KindLength, units: lengths},
		{key: "free-least", fold: springOwn, label: "Free length at least", kind: quantity.KindLength, units: lengths},
		{key: "free-most", fold: springOwn, label: "Free length at most", kind: quantity.KindLength, units: lengths},
		{key: "load-least", fold: springOwn, label: "Load at least", hint: "At the length that you pressed it to.", kind: quantity.KindForce, units: forces},
		{key: "load-most", fold: springOwn, label: "Load at most", kind: quantity.KindForce, units: forces},
		{key: "ends", fold: springMore, label: "Its ends are", options: whichEnds, standard: string(spring.SquaredGround)},
		{key: "material", fold: springMore, label: "Its wire is", hint: "The modulus: " + spring.MaterialProvenance + ".", options: whichMaterial, standard: spring.Materials[0].ID},
	},
	check:   checkSpring,
	work:    workSpring,
	picture: func(f *form, _ *result) app.UI { return springPicture(f) },
}

func whichSeat(*form) []part.Option {
	var o []part.Option
	for _, s := range springSeats {
		o = append(o, part.Option{Value: s.id, Label: s.name})
	}
	return append(o, part.Option{Value: "other", Label: "Another"})
}

func whichEnds(*form) []part.Option {
	var o []part.Option
	for _, e := range spring.AllEnds {
		o = append(o, part.Option{Value: string(e), Label: e.Words()})
	}
	return o
}

func whichMaterial(f *form) []part.Option {
	var o []part.Option
	for _, m := range spring.Materials {
		o = append(o, part.Option{Value: m.ID, Label: m.Name, Hint: f.say(m.Modulus.Value(), quantity.Gigapascal, 3)})
	}
	return o
}

func checkSpring(f *form) {
	_, load := f.reading("load")
	_, at := f.reading("at")
	switch {
	case load && !at:
		f.problem("at", "Type the length at which it pushes that.")
	case at && !load:
		f.problem("load", "Type what it pushes at that length.")
	}
	for _, k := range []string{"load-least", "load-most"} {
		if _, limit := f.reading(k); limit && !load {
			f.problem("load", "A limit of the load wants a load to hold against it.")
		}
	}
	for _, k := range []string{"free", "load"} {
		least, okLeast := f.reading(k + "-least")
		most, okMost := f.reading(k + "-most")
		if okLeast && okMost && least.SI > most.SI {
			f.problem(k+"-most", "The greatest allowed is less than the least. Check both.")
		}
	}
}

// windows are the limits that the user typed for a reading.
func (f *form) windows(key string) []conformity.Window {
	w := conformity.Window{Name: "your own value", Unit: f.unit(key + "-least")}
	if r, ok := f.reading(key + "-least"); ok {
		v := r.Value()
		w.Min = &v
	}
	if r, ok := f.reading(key + "-most"); ok {
		v := r.Value()
		w.Max = &v
	}
	if w.Min == nil && w.Max == nil {
		return nil
	}
	return []conformity.Window{w}
}

// measuredSpring is the measurement that a form holds.
func measuredSpring(f *form) spring.Measurement {
	m := spring.Measurement{
		Wire: f.readings["wire"], Outer: f.readings["outer"], Free: f.readings["free"], Turns: f.readings["turns"].SI,
		Ends: spring.Ends(f.text("ends")), Modulus: spring.MaterialNamed(f.text("material")).Modulus,
		Load: f.readings["load"], LoadAt: f.readings["at"], NewTurns: f.readings["new-turns"].SI,
		FreeWindows: f.windows("free"), LoadWindows: f.windows("load"), Units: f.units(),
	}
	m.Installed, _ = number[quantity.Length](f, "installed")
	m.Shortest, _ = number[quantity.Length](f, "shortest")
	m.NewFree, _ = number[quantity.Length](f, "new-free")
	return m
}

func workSpring(f *form) *result {
	m := measuredSpring(f)
	out, err := m.Judge()
	if err != nil {
		return f.blame(err, "wire", blamed{"free length of a new", "new-free"}, blamed{"turns of a new", "new-turns"}, blamed{"length of the load", "at"},
			blamed{"installed", "installed"}, blamed{"shortest", "shortest"}, blamed{"free length", "free"}, blamed{"number of turns", "turns"},
			blamed{"coil diameter", "outer"}, blamed{"outer diameter", "outer"}, blamed{"load", "load"}, blamed{"wire", "wire"})
	}
	r := &result{call: "none", because: out.Reasons}
	bad := false
	for _, d := range out.Diagnoses {
		bad = bad || d != spring.AsMeasured && d != spring.NearClash && d != spring.Bows
	}
	r.word = springWord(out.Diagnoses[0])
	against := out.FreeLength
	for _, j := range []conformity.Result{out.FreeLength, out.LoadTest} {
		// The worse of the two verdicts leads.
		if j.Verdict != conformity.None && (against.Verdict == conformity.None || against.Verdict == conformity.Meets) {
			against = j
		}
	}
	switch {
	case bad:
		r.call = "bad"
	case against.Verdict != conformity.None:
		r.call, r.word = part.Call(against.Verdict), part.VerdictWord(against.Verdict)
	}
	rate := func(k quantity.SpringRate) string { return f.say(k.Value(), quantity.PoundPerInch, 3) }
	force := func(x quantity.Force) string { return f.say(x.Value(), quantity.PoundForce, 3) }
	r.value = rate(out.Rate) + " by its wire"
	rows := []fact{{"Rate by wire, coil and turns", rate(out.Rate) + " ± " + rate(2*out.StandardRate)}}
	if out.Measured > 0 {
		r.value = rate(out.Measured) + " by its load"
		rows = append(rows, fact{"Rate by its load", rate(out.Measured) + " ± " + rate(2*out.StandardMeasured)})
	}
	rows = append(rows, fact{"Solid length", f.say(out.Solid.Value(), quantity.Inch, 3)})
	if out.AtInstalled > 0 {
		rows = append(rows, fact{"Load at rest", force(out.AtInstalled)})
	}
	if out.AtShortest > 0 {
		rows = append(rows, fact{"Load at full travel", force(out.AtShortest)})
	}
	if out.Stress > 0 {
		rows = append(rows, fact{"Greatest stress, by Wahl", f.say(out.Stress.Value(), quantity.KiloPSI, 3)})
	}
	rows = append(rows, fact{"Coil to wire", f.say(out.Index.Value(), quantity.Number, 3)})
	r.body = []app.UI{facts("", rows...)}
	for _, j := range []struct {
		name string
		conformity.Result
		windows []conformity.Window
	}{{"Free length: ", out.FreeLength, m.FreeWindows}, {"Load: ", out.LoadTest, m.LoadWindows}} {
		if len(j.windows) > 0 {
			r.body = append(r.body, app.P().Body(app.B().Text(j.name), app.Text(part.VerdictWord(j.Verdict)+". "+j.Reason)))
		}
	}
	r.body = append(r.body, part.Fold("How this is worked out", bullets("The rate goes with the fourth power of the wire and falls with the cube of the coil and with the turns that give.",
		"Plus or minus is 95 %: the calliper, a quarter of a turn, the modulus.", "Shigley, Mechanical Engineering Design, chapter 10.")))
	r.line = "Spring: " + strings.ToLower(r.word[:1]) + r.word[1:] + ", " + r.value + "."
	springEntry(f, m, out, r)
	return r
}

// springEntry makes what a measurement settles an entry of the job: a spring
// that is broken, or that has set by comparison with a new one. A good one is
// not entered from here, because nobody said that it stands straight.
func springEntry(f *form, m spring.Measurement, out spring.Result, r *result) {
	for _, s := range springSeats {
		if s.id != f.text("seat") {
			continue
		}
		outcome := ""
		switch {
		case out.Is(spring.Broken):
			outcome = s.broken
		case out.Is(spring.Collapsed) && m.NewTurns > 0:
			outcome = s.short
		}
		if outcome != "" {
			r.check = s.check
			r.entry = &diagnosis.Entry{Check: s.check, Observation: s.observation, Outcome: outcome}
		}
	}
}

// springWord is a diagnosis in a word or two.
func springWord(d spring.Diagnosis) string {
	switch d {
	case spring.Broken:
		return "Broken"
	case spring.Collapsed:
		return "Too short"
	case spring.Weak:
		return "Pushes too little"
	case spring.Strong:
		return "Pushes too much"
	case spring.Clashes:
		return "Coils touch"
	case spring.NearClash:
		return "Coils nearly touch"
	case spring.Bows:
		return "Can bow to the side"
	case spring.Loose:
		return "Loose in its place"
	case spring.Other:
		return "Another spring"
	}
	return "Nothing wrong found"
}

const accumulatorMore = "More: piston, stroke, orifice"

var accumulatorPanel = &panel{
	id:      "accumulator",
	heading: "Another accumulator spring",
	intro:   "While an accumulator's piston moves, its spring sets the pressure on the clutch or band, and the orifice the time. A stiffer spring makes the shift firmer and, up to a point, longer.",
	empty:   "Type the load at rest and the rate of the other spring.",
	inputs: []input{
		{key: "other-load", label: "The other spring pushes, at rest", kind: quantity.KindForce, units: forces, want: "Type its load with the piston at rest."},
		{key: "other-rate", label: "and its rate is", kind: quantity.KindSpringRate, units: rates, want: "Type its rate."},
		{key: "own-load", fold: "The spring that is in it", label: "It pushes, at rest", hint: leakTypical, kind: quantity.KindForce, units: forces},
		{key: "own-rate", fold: "The spring that is in it", label: "and its rate is", hint: leakTypical, kind: quantity.KindSpringRate, units: rates},
		{key: "supply", fold: accumulatorMore, label: "Line pressure", hint: leakTypical, kind: quantity.KindPressure, units: pressures},
		{key: "piston", fold: accumulatorMore, label: "Area of the piston", hint: leakTypical, kind: quantity.KindArea, units: areas},
		{key: "stroke", fold: accumulatorMore, label: "Stroke", hint: leakTypical, kind: quantity.KindLength, units: lengths},
		{key: "orifice", fold: accumulatorMore, label: "Diameter of the feed orifice", hint: leakTypical, kind: quantity.KindLength, units: lengths},
		{key: "back", fold: accumulatorMore, label: "Pressure behind the piston", hint: "That helps the spring. Left empty: none.", kind: quantity.KindPressure, units: pressures},
		{key: "back-area", fold: accumulatorMore, label: "on an area of", kind: quantity.KindArea, units: areas},
	},
	work:    workAccumulator,
	picture: func(f *form, _ *result) app.UI { return accumulatorPicture(f) },
}

// A swap is an accumulator with the spring that is in it and with another.
type swap struct {
	was, other             spring.Accumulator
	strokeWas, strokeOther spring.Stroke
}

func swapped(f *form) (s swap, err error) {
	a := spring.Typical
	a.Supply, a.Piston, a.Stroke = or(f, "supply", a.Supply), or(f, "piston", a.Piston), or(f, "stroke", a.Stroke)
	a.Orifice, a.Back, a.BackArea = or(f, "orifice", a.Orifice), or(f, "back", a.Back), or(f, "back-area", a.BackArea)
	s.was = a.With(or(f, "own-load", a.Preload), or(f, "own-rate", a.Rate))
	s.other = a.With(quantity.Force(f.readings["other-load"].SI), quantity.SpringRate(f.readings["other-rate"].SI))
	if s.strokeWas, err = s.was.Shift(); err != nil {
		return s, err
	}
	s.strokeOther, err = s.other.Shift()
	return s, err
}

func workAccumulator(f *form) *result {
	s, err := swapped(f)
	if err != nil {
		load, rate := "other-load", "other-rate"
		if s.strokeWas == (spring.Stroke{}) {
			load, rate = "own-load", "own-rate"
			if f.text(load) == "" && f.text(rate) == "" {
				load, rate = "other-load", "other-rate"
			}
		}
		return f.blame(err, "other-load", blamed{"back pressure", "back"}, blamed{"back area", "back-area"}, blamed{"piston", "piston"}, blamed{"stroke", "stroke"},
			blamed{"supply", "supply"}, blamed{"orifice", "orifice"}, blamed{"preload", load}, blamed{"rate", rate})
	}
	pressure := func(p quantity.Pressure) string { return f.say(p.Value(), quantity.PSI, 3) }
	r := &result{call: "none"}
	r.word = pressure(s.strokeOther.Start) + " to " + pressure(s.strokeOther.End)
	r.value = "on the clutch, in place of " + pressure(s.strokeWas.Start) + " to " + pressure(s.strokeWas.End)
	for _, x := range []struct {
		name string
		spring.Stroke
		a spring.Accumulator
	}{{"The spring that is in it", s.strokeWas, s.was}, {"The other spring", s.strokeOther, s.other}} {
		switch {
		case x.Travel == 0:
			r.because = append(r.because, x.name+" is stronger than the line pressure: the piston never moves, and the shift has no cushion.")
		case !x.Full(x.a):
			r.because = append(r.because, x.name+" stops the piston after "+f.say(x.Travel.Value(), quantity.Inch, 2)+": line pressure can't press it further, so the rest of its stroke is of no use.")
		}
	}
	if a, b := s.strokeWas, s.strokeOther; a.Time > 0 && b.Time > 0 {
		r.because = append(r.because, "The piston travels for "+f.say(b.Time.Value(), quantity.Second, 2)+" in place of "+f.say(a.Time.Value(), quantity.Second, 2)+".")
	}
	columns := func(x spring.Stroke) string {
		if x.Travel == 0 {
			return pressure(x.Start) + " to move; does not move"
		}
		return pressure(x.Start) + " to " + pressure(x.End) + ", " + f.say(x.Time.Value(), quantity.Second, 2) + ", " + f.say(x.Volume.Value(), quantity.FluidOunce, 2)
	}
	r.body = []app.UI{
		facts("Pressure on the clutch, time and fluid taken in", fact{"The spring that is in it", columns(s.strokeWas)}, fact{"The other spring", columns(s.strokeOther)}),
		bullets("A simple model: no friction, no leak, steady line pressure, hot fluid. Cold fluid makes it slower.", "What you did not type is "+spring.Provenance+"."),
	}
	r.line = "Accumulator spring: " + r.word + " " + r.value + "."
	return r
}
