package bench

import (
	"cmp"
	"fmt"
	"html"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/circuit"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
	"provingbench/knowledge/quantity"
)

// pressureLogTool is a page to fill in under the truck: every gauge reading that
// the checks ask for, each judged as it is typed, and what they point to
// together.
var pressureLogTool = &tool{
	name:     "pressure-log",
	title:    "Pressure log",
	what:     "Every gauge reading on one page, each judged as you type it; together they name the circuit.",
	lead:     "Type what the gauges show; leave out what was not read. Each check's page has its steps.",
	cautions: []string{"raised-truck", "rotating-wheels", "gauge-range", "hot-fluid"},
	panels:   []*panel{pressureLogPanel, governorPlotPanel},
	example:  "line-pressure-manual-1.line-idle=57&line-pressure-manual-1.servo-difference=20&line-pressure-drive.line-idle=57&governor-pressure.standstill=16&points=0+2%0A10+9%0A20+19%0A30+28",
	metric:   "points=0+14%0A16+62%0A32+131%0A48+193",
}

var pressureLogPanel = &panel{
	id:    "gauge",
	empty: "Type a pressure to begin.",
	more:  gaugeInputs,
	work:  workPressureLog,
}

// A cell is one gauge reading that a check asks for.
type cell struct {
	check       *catalogue.Check
	observation *catalogue.Observation
}

func (x cell) key() string { return x.check.ID + "." + x.observation.ID }

// entry is the cell as it was typed, for the check that it belongs to.
func (x cell) entry(f *form) diagnosis.Entry {
	return diagnosis.Entry{Check: x.check.ID, Observation: x.observation.ID, Reading: f.text(x.key()), Unit: f.unit(x.key()).Name}
}

// cells lists the gauge readings that the checks ask for, check by check.
func cells(c *catalogue.Catalogue) []cell {
	var out []cell
	for i := range c.Checks {
		k := &c.Checks[i]
		for n := range k.Observations {
			o := &k.Observations[n]
			if o.Reading != nil && quantity.Kind(o.Reading.Quantity) == quantity.KindPressure && o.Reading.Method != "coil" {
				out = append(out, cell{k, o})
			}
		}
	}
	return out
}

func gaugeInputs(c *catalogue.Catalogue) []input {
	var inputs []input
	for _, x := range cells(c) {
		inputs = append(inputs, input{
			key: x.key(), label: x.observation.Asks, kind: quantity.KindPressure, units: pressures, fold: x.check.Name,
			judge: func(f *form) (call, words string) {
				if f.text(x.key()) == "" {
					return "", ""
				}
				v := f.session.Judge(x.entry(f))
				if v.Problem != "" {
					return "none", v.Problem
				}
				words = part.VerdictWord(v.Verdict)
				var limits []string
				for _, l := range v.Limits {
					if text := part.LimitText(f.units(), l); !slices.Contains(limits, text) {
						limits = append(limits, text)
					}
				}
				if len(limits) > 0 {
					words += "; " + strings.Join(limits, " or ")
				}
				return part.Call(v.Verdict), words
			},
		})
	}
	return inputs
}

// pointing is from which probability a fault is named by the readings, and named
// how many: choices of this tool's.
const (
	pointing     = 0.1
	pointingMost = 5
)

func workPressureLog(f *form) *result {
	var entries []diagnosis.Entry
	bad, good, open := 0, 0, 0
	var rows []fact
	for _, x := range cells(f.session.Catalogue()) {
		if f.text(x.key()) == "" {
			continue
		}
		n := x.entry(f)
		v := f.session.Judge(n)
		if v.Problem != "" {
			f.problem(x.key(), v.Problem)
			return nil
		}
		entries = append(entries, n)
		rows = append(rows, fact{x.observation.Asks, v.Value + ": " + part.VerdictWord(v.Verdict)})
		switch part.Call(v.Verdict) {
		case "good":
			good++
		case "bad":
			bad++
		default:
			open++
		}
	}
	r := &result{call: "good", word: "Every reading is good", value: ""}
	switch {
	case bad > 0:
		r.call, r.word = "bad", counted(bad, "reading is", "readings are")+" out of the window"
	case open > 0:
		r.call, r.word = "unsure", counted(open, "reading has", "readings have")+" no verdict"
	}
	r.because = []string{fmt.Sprintf("%d good, %d out of the window, %d without a verdict.", good, bad, open)}
	a, err := f.session.Suppose(entries)
	if err == nil && a.Clash == "" && bad > 0 {
		var items []app.UI
		for _, s := range a.Ranked {
			if s.Probability < pointing || len(items) == pointingMost {
				break
			}
			where := ""
			if p := f.session.Catalogue().Part(s.Fault.Part); p != nil {
				where = ": " + strings.ToLower(p.Name[:1]) + p.Name[1:]
			}
			items = append(items, app.Li().Body(
				app.A().Href(route.Fault(s.Fault.ID).Href()).Text(s.Fault.Name),
				app.Text(", "+part.Percent(s.Probability)+where)))
		}
		if len(items) > 0 {
			r.body = append(r.body, app.H3().Text("Together with the complaint they point to"), app.Ul().Class("list").Body(items...))
		}
	} else if err == nil && a.Clash != "" {
		r.body = append(r.body, app.P().Text("These readings and what was entered before contradict each other. Read the last one again."))
	}
	r.body = append(r.body, part.Fold("All readings", facts("", rows...)))
	r.buttons = []app.UI{&part.Button{Text: "Enter all in the job", Rank: "primary", OnPress: func(app.Context) {
		f.session.EnterAll("Entered: "+counted(len(entries), "gauge reading", "gauge readings"), entries)
	}}}
	r.buttons = append(r.buttons, app.A().Class("button", "button--plain").Href(circuit.Fit(entries).Href()).Text("Fit these readings"))
	return r
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// The acceptance values of governor pressure at standstill and at speed.
const (
	governorStandstill = "governor-standstill"
	governorRise       = "governor-rise"
)

// governorPlotPanel draws governor pressure against road speed.
var governorPlotPanel = &panel{
	id:      "governor",
	heading: "Governor pressure against road speed",
	intro:   "It rises smoothly with speed. The sheet has a figure at standstill and one at speed; between them the band is drawn straight, which is a guide and no limit.",
	empty:   "Type at least two speeds with their pressures.",
	inputs: []input{
		{key: "points", label: "Speed and pressure", hint: "One pair a line, the speed first: 20 18. A number may bear a unit of its own.", rows: 5, want: "Type at least two lines."},
		unitPick("points-speed", "Speeds are in", speeds, nil),
		unitPick("points-pressure", "Pressures are in", pressures, nil),
	},
	work:    workGovernorPlot,
	picture: drawGovernorPlot,
}

// A governorPoint is one line of the plot.
type governorPoint struct {
	speed    quantity.Speed
	pressure quantity.Pressure
}

// governorPoints reads the lines; the error is a sentence that names its line.
func governorPoints(f *form) ([]governorPoint, string) {
	var out []governorPoint
	for n, row := range strings.Split(f.text("points"), "\n") {
		row = strings.TrimSpace(row)
		if row == "" {
			continue
		}
		speed, pressure, ok := splitPair(row)
		if !ok {
			return nil, fmt.Sprintf("Line %d is not a speed and a pressure: %s.", n+1, shortened(row))
		}
		v, err := quantity.Parse(quantity.KindSpeed, speed, f.picked("points-speed"))
		if err != nil {
			return nil, fmt.Sprintf("Line %d: %s", n+1, sentence(err))
		}
		g, err := quantity.Parse(quantity.KindPressure, pressure, f.picked("points-pressure"))
		if err != nil {
			return nil, fmt.Sprintf("Line %d: %s", n+1, sentence(err))
		}
		out = append(out, governorPoint{quantity.Speed(v.SI), quantity.Pressure(g.SI)})
		if len(out) > 60 {
			return nil, "More than 60 lines are not drawn."
		}
	}
	// In whatever order they were read: what is asked is how one goes with the other.
	order.Stable(out, func(a, b governorPoint) int { return cmp.Compare(a.speed, b.speed) })
	return out, ""
}

// splitPair parts a line into two numbers, each with its unit or none.
func splitPair(row string) (first, second string, ok bool) {
	words := strings.Fields(strings.NewReplacer(";", " ", "\t", " ").Replace(row))
	starts := []int{}
	for i, w := range words {
		if w[0] >= '0' && w[0] <= '9' || w[0] == '.' || w[0] == '-' {
			starts = append(starts, i)
		}
	}
	if len(starts) != 2 || starts[0] != 0 {
		return "", "", false
	}
	return strings.Join(words[:starts[1]], " "), strings.Join(words[starts[1]:], " "), true
}

func shortened(s string) string {
	r := []rune(s)
	if len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}

func workGovernorPlot(f *form) *result {
	points, wrong := governorPoints(f)
	switch {
	case wrong != "":
		f.problem("points", wrong)
		return nil
	case len(points) < 2:
		f.problem("points", "Type at least two lines.")
		return nil
	}
	r := &result{call: "none", word: "It does not fall with speed"}
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if b.speed > a.speed && b.pressure < a.pressure {
			r.call, r.word = "bad", "It falls while the speed rises"
			r.because = append(r.because, "From "+f.say(a.speed.Value(), quantity.MilePerHour, 3)+" to "+f.say(b.speed.Value(), quantity.MilePerHour, 3)+
				" the pressure falls from "+f.say(a.pressure.Value(), quantity.PSI, 3)+" to "+f.say(b.pressure.Value(), quantity.PSI, 3)+
				". A governor that is sound rises smoothly: look at its solenoid, its filter and its sensor.")
			break
		}
	}
	var said []string
	for _, p := range points {
		said = append(said, f.say(p.speed.Value(), quantity.MilePerHour, 3)+" "+f.say(p.pressure.Value(), quantity.PSI, 3))
	}
	r.line = "Governor pressure by speed: " + strings.Join(said, ", ") + ". " + r.word + "."
	r.body = append(r.body, app.H3().Text("Held against"), f.figures(f.sheet().Limits(governorStandstill)), f.figures(f.sheet().Limits(governorRise)))
	return r
}

// The plot's size in CSS pixels, and the room for the scales.
const (
	plotWidth  = 340.0
	plotHeight = 240.0
	plotLeft   = 44.0
	plotFoot   = 34.0
	plotTop    = 8.0
	// riseSpeed is the speed that the sheet's figure of the rise is for.
	riseSpeed = 30.0
)

func drawGovernorPlot(f *form, r *result) app.UI {
	points, wrong := governorPoints(f)
	if wrong != "" {
		points = nil
	}
	speed, pressure := f.units().Unit(quantity.MilePerHour), f.units().Unit(quantity.PSI)
	topSpeed, topPressure := quantity.MilePerHour.SI(60), quantity.PSI.SI(70)
	for _, p := range points {
		topSpeed, topPressure = max(topSpeed, float64(p.speed)*1.1), max(topPressure, float64(p.pressure)*1.1)
	}
	x := func(si float64) float64 { return plotLeft + si/topSpeed*(plotWidth-plotLeft-14) }
	y := func(si float64) float64 { return plotHeight - plotFoot - si/topPressure*(plotHeight-plotFoot-12) }
	var b strings.Builder
	// The band between the sheet's two figures.
	low0, high0, ok0 := limitsOf(f, governorStandstill)
	low1, high1, ok1 := limitsOf(f, governorRise)
	if ok0 && ok1 {
		at := quantity.MilePerHour.SI(riseSpeed)
		fmt.Fprintf(&b, `<path class="plot__band" d="M%.1f %.1fL%.1f %.1fL%.1f %.1fL%.1f %.1fz"/>`,
			x(0), y(low0), x(at), y(low1), x(at), y(high1), x(0), y(high0))
	}
	fmt.Fprintf(&b, `<path class="plot__axis" d="M%.1f %.1f L%.1f %.1f H%.1f"/>`, plotLeft, plotTop, plotLeft, plotHeight-plotFoot, plotWidth-4)
	for i := range 4 {
		share := float64(i) / 3
		fmt.Fprintf(&b, `<text class="plot__number" text-anchor="middle" x="%.1f" y="%.1f">%.0f</text>`, x(share*topSpeed), plotHeight-plotFoot+16, speed.From(share*topSpeed))
		fmt.Fprintf(&b, `<text class="plot__number" text-anchor="end" x="%.1f" y="%.1f">%s</text>`, plotLeft-6, y(share*topPressure)+5, scaled(pressure.From(share*topPressure)))
	}
	fmt.Fprintf(&b, `<text class="plot__number" text-anchor="end" x="%.1f" y="%.1f">%s</text><text class="plot__number" x="%.1f" y="16">%s</text>`,
		plotWidth-4, plotHeight-2, html.EscapeString(speed.Name), plotLeft+6, html.EscapeString(pressure.Name))
	var path []string
	for i, p := range points {
		verb := "L"
		if i == 0 {
			verb = "M"
		}
		path = append(path, fmt.Sprintf("%s%.1f %.1f", verb, x(float64(p.speed)), y(float64(p.pressure))))
		fmt.Fprintf(&b, `<circle class="plot__point" cx="%.1f" cy="%.1f" r="5"/>`, x(float64(p.speed)), y(float64(p.pressure)))
	}
	if len(path) > 1 {
		fmt.Fprintf(&b, `<path class="plot__line" d="%s"/>`, strings.Join(path, ""))
	}
	return app.Raw(fmt.Sprintf(`<svg class="plot" viewBox="0 0 %.0f %.0f" role="img" aria-label="Governor pressure against road speed, with the band between the sheet's figures">%s</svg>`, plotWidth, plotHeight, b.String()))
}

// scaled is a number of a scale with a digit after the point where it needs one.
func scaled(x float64) string {
	if x != 0 && x < 10 {
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

// limitsOf are the outermost figures of an acceptance value.
func limitsOf(f *form, id string) (low, high float64, ok bool) {
	for _, l := range f.sheet().Limits(id) {
		if l.Min != nil {
			low = l.Min.SI
		}
		if l.Max != nil {
			high, ok = max(high, l.Max.SI), true
		}
	}
	return low, high, ok
}
