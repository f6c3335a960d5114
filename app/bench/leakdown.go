package bench

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/leak"
	"provingbench/knowledge/quantity"
)

// leakDownTool finds how fast a shut-off chamber loses its pressure.
var leakDownTool = &tool{
	name:     "leak-down",
	title:    "Leak-down",
	what:     "How fast does a shut-off piston or passage lose its pressure, and is that too fast?",
	lead:     "Fill the passage, shut it off, and note the pressure every few seconds. The readings together tell more than the first and the last.",
	cautions: []string{"air-pressure"},
	panels:   []*panel{leakDownPanel},
	example:  "readings=0+90%0A10+84%0A20+79%0A30+73%0A60+60&from=90&over=60&most=20&good=0+90%0A60+82%0A120+74",
	metric:   "readings=0+620%0A10+579%0A20+545%0A30+503%0A60+414&good=0+620%0A60+565%0A120+510",
}

const (
	goodLeakDown  = "Compare with one that is good"
	limitLeakDown = "A limit of your own"
)

var leakDownPanel = &panel{
	id:    "down",
	empty: "Type the readings, each on a line of its own: the time, a space, the pressure.",
	inputs: []input{
		unitPick("times", "Times are in", durations, nil),
		unitPick("unit", "Pressures are in", pressures, nil),
		{key: "readings", label: "Readings", hint: "Time, space, pressure; three lines or more. Stop before the pressure is gone.", rows: 7, want: "Type the readings."},
		{key: "good", fold: goodLeakDown, label: "Readings of a good one", hint: "The same passage of a unit that is known to be good, filled in the same way.", rows: 5},
		{key: "from", fold: limitLeakDown, label: "From a pressure of", kind: quantity.KindPressure, units: pressures},
		{key: "over", fold: limitLeakDown, label: "within", kind: quantity.KindDuration, units: durations},
		{key: "most", fold: limitLeakDown, label: "it may lose at most", kind: quantity.KindPressure, units: pressures},
	},
	check: func(f *form) {
		keys := []string{"from", "over", "most"}
		given := 0
		for _, k := range keys {
			if f.text(k) != "" {
				given++
			}
		}
		for _, k := range keys {
			if r, ok := f.reading(k); given > 0 && f.text(k) == "" || ok && !(r.SI > 0) {
				f.problem(k, "A limit has all three: the pressure to begin with, the time, and the loss, each over zero.")
			}
		}
	},
	work:    workLeakDown,
	picture: func(f *form, _ *result) app.UI { return leakDownPicture(f) },
}

// points reads the rows of a leak-down, or notes what is wrong with one.
func (f *form) points(key string) (points []leak.Point) {
	time, pressure := f.picked("times"), f.picked("unit")
	line := 0
	for row := range strings.Lines(f.text(key)) {
		line++
		words := strings.FieldsFunc(row, func(r rune) bool { return strings.ContainsRune(" \t\r\n;:", r) })
		if len(words) == 0 {
			continue
		}
		bad := func(why string) []leak.Point {
			f.problem(key, fmt.Sprintf("Line %d: %s", line, why))
			return nil
		}
		if len(words) != 2 {
			return bad("write a time, a space and a pressure, without units.")
		}
		t, err := quantity.Parse(quantity.KindDuration, words[0], time)
		if err != nil {
			return bad(sentence(err))
		}
		p, err := quantity.Parse(quantity.KindPressure, words[1], pressure)
		if err != nil {
			return bad(sentence(err))
		}
		points = append(points, leak.Point{Time: quantity.Duration(t.SI), Pressure: quantity.Pressure(p.SI),
			Standard: quantity.Pressure(conformity.Default(p).Standard(p))})
	}
	return points
}

// decay fits the readings of a field, or notes what is wrong with them.
func (f *form) decay(key string) (d leak.Decay, ok bool) {
	points := f.points(key)
	if len(f.problems) > 0 {
		return d, false
	}
	d, err := leak.LeakDown(points)
	if err != nil {
		f.problem(key, sentence(err))
		return d, false
	}
	return d, true
}

func workLeakDown(f *form) *result {
	d, ok := f.decay("readings")
	if !ok {
		return nil
	}
	var limit *leak.Limit
	if f.text("most") != "" {
		limit = &leak.Limit{Name: "your own limit", Unit: f.unit("most")}
		limit.From, _ = number[quantity.Pressure](f, "from")
		limit.Over, _ = number[quantity.Duration](f, "over")
		limit.Most, _ = number[quantity.Pressure](f, "most")
	}
	judged := d.Judge(limit)
	r := &result{call: part.Call(judged.Verdict), word: part.VerdictWord(judged.Verdict), because: []string{judged.Reason}}
	half := "No leak can be told"
	if t, ok := d.HalfLife(); ok {
		half = "Half is gone in " + f.lasts(t)
	} else if d.Rate < -2*d.Standard {
		half = "The pressure rises"
	}
	if judged.Verdict == conformity.None {
		r.word = half
	} else {
		r.value = half
	}
	if d.Bends {
		r.because = append(r.because, "Early and late readings tell different rates: the leak changes as the pressure falls, as through a hole, or the air warmed or cooled after filling.")
	}
	if d.Fit > 2 {
		r.because = append(r.because, "The readings lie farther off the curve than the gauge explains. Read again.")
	}
	// Per minute is how the trade says it; the chamber's own pressure falls out.
	minute := func(x float64) string {
		return quantity.FormatSignificant(quantity.Ratio(1-math.Exp(-60*max(0, x))).Value(), quantity.Percent, 2)
	}
	rows := []fact{{"Lost in a minute", minute(d.Rate) + ", between " + minute(d.Rate-2*d.Standard) + " and " + minute(d.Rate+2*d.Standard)},
		{"Pressure at time zero", f.say(d.Start.Value(), f.picked("unit"), 3)}}
	if limit != nil {
		if drop, u, err := d.Drop(limit.From, limit.Over); err == nil {
			rows = append(rows, fact{"Lost from " + f.say(limit.From.Value(), f.unit("most"), 3) + " in " + f.lasts(limit.Over), f.say(drop.Value(), f.unit("most"), 3) + " ± " + f.say((2*u).Value(), f.unit("most"), 2)})
		}
	}
	if f.text("good") != "" {
		good, ok := f.decay("good")
		if !ok {
			return nil
		}
		switch times, u, ok := d.Against(good); {
		case ok:
			rows = append(rows, fact{"Against the good one", f.times(float64(times)) + " as fast, between " + f.times(max(0, float64(times-2*u))) + " and " + f.times(float64(times+2*u))})
		case good.Holds():
			rows = append(rows, fact{"Against the good one", "the good one loses nothing that can be told"})
		}
	}
	r.body = []app.UI{facts("", rows...), bullets("The curve is an exponential, fitted to all readings; plus or minus is 95 %.",
		"The gauge is taken to be "+conformity.Default(quantity.Reading{Kind: quantity.KindPressure, SI: float64(d.Start)}).Source+".",
		"No source gives how much a passage of this unit may lose. A limit is yours, and so is a good one to compare with.")}
	r.line = "Leak-down: " + half + "."
	if limit != nil {
		r.line += " Against my limit: " + strings.ToLower(part.VerdictWord(judged.Verdict)) + "."
	}
	return r
}

// lasts is a time in the unit that suits it.
func (f *form) lasts(t quantity.Duration) string {
	for _, u := range []quantity.Unit{quantity.Hour, quantity.Minute} {
		if float64(t) >= 2*u.SI(1) {
			return quantity.FormatSignificant(t.Value(), u, 2)
		}
	}
	return quantity.FormatSignificant(t.Value(), quantity.Second, 2)
}

// The chart of a leak-down, one unit a CSS pixel at the usual size.
const (
	downWidth  = 358
	downLeft   = 12
	downRight  = 346
	downTop    = 28
	downBottom = 214
	downSteps  = 40
)

// leakDownPicture draws the readings with what the gauge can be off, and the
// curve that was fitted. The table above it says the same in words.
func leakDownPicture(f *form) app.UI {
	if len(f.problems) > 0 || f.text("readings") == "" {
		return app.Text("")
	}
	points := f.points("readings")
	d, err := leak.LeakDown(points)
	if err != nil {
		return app.Text("")
	}
	most, first, last := 0.0, float64(points[0].Time), float64(points[len(points)-1].Time)
	for _, p := range points {
		most = max(most, float64(p.Pressure+2*p.Standard))
	}
	x := func(t float64) float64 { return downLeft + (downRight-downLeft)*(t-first)/(last-first) }
	y := func(p float64) float64 { return downBottom - (downBottom-downTop)*min(1, max(0, p/most)) }
	var b strings.Builder
	fmt.Fprintf(&b, `<path class="leakdown__axis" d="M%d %dV%dH%d"/><path class="leakdown__curve" d="`, downLeft, downTop, downBottom, downRight)
	command := 'M'
	for i := range downSteps + 1 {
		t := first + (last-first)*float64(i)/downSteps
		fmt.Fprintf(&b, "%c%.1f %.1f", command, x(t), y(float64(d.Start)*math.Exp(-d.Rate*t)))
		command = 'L'
	}
	b.WriteString(`"/>`)
	for _, p := range points {
		t := x(float64(p.Time))
		fmt.Fprintf(&b, `<path class="leakdown__bar" d="M%.1f %.1fV%.1f"/><circle class="leakdown__point" cx="%.1f" cy="%.1f" r="5"/>`,
			t, y(float64(p.Pressure-2*p.Standard)), y(float64(p.Pressure+2*p.Standard)), t, y(float64(p.Pressure)))
	}
	text := func(x, y int, anchor, words string) {
		fmt.Fprintf(&b, `<text class="leakdown__words" x="%d" y="%d" text-anchor="%s">%s</text>`, x, y, anchor, html.EscapeString(words))
	}
	text(downLeft, downTop-10, "start", "up to "+f.say(quantity.Pressure(most).Value(), f.picked("unit"), 2))
	text(downLeft, downBottom+20, "start", f.lasts(points[0].Time))
	text(downRight, downBottom+20, "end", f.lasts(points[len(points)-1].Time))
	said := fmt.Sprintf("%d readings and the curve fitted to them.", len(points))
	return app.Raw(fmt.Sprintf(`<svg class="leakdown" viewBox="0 0 %d %d" role="img" aria-label="%s"><title>Pressure over time</title><desc>%s</desc>%s</svg>`,
		downWidth, downBottom+30, said, said, b.String()))
}
