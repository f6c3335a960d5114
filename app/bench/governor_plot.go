package bench

import (
	"cmp"
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/order"
	"provingbench/knowledge/quantity"
)

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
