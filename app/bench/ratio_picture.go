package bench

import (
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/ratio"
)

// The picture of the gears, one unit a CSS pixel at the usual size.
const (
	ladderWide = 358
	ladderLeft = 8 // where engine speed is nothing
	ladderEnd  = 350
	ladderTop  = 44
	ladderStep = 58
	ladderText = 16 // from a row's top to its words' line
	ladderBar  = 24 // from a row's top to its track
	ladderHigh = 22 // of the track
)

// ratioPicture draws for each gear the engine speeds that it allows at this
// speed, from no slip to the most that an open converter slips, and on each of
// them the engine speed that was read. Where the dashed line meets a bar, the
// gear fits. The table under it says the same in numbers.
func ratioPicture(f *form, out ratio.Result, load ratio.Load) app.UI {
	span := ratio.OpenSlip(load)
	ends := func(c ratio.Candidate) (least, most quantity.Rotation) {
		least, most = c.Locked/quantity.Rotation(1-span.Least), c.Locked/quantity.Rotation(1-span.Most)
		return min(least, c.Locked), max(most, c.Locked)
	}
	spread := quantity.Rotation(2*out.Standard) * out.Engine
	top := out.Engine + spread
	for _, c := range out.Candidates {
		_, most := ends(c)
		top = max(top, min(most, 2*out.Engine))
	}
	x := func(w quantity.Rotation) float64 {
		return ladderLeft + (ladderEnd-ladderLeft)*min(1, max(0, float64(w/top)))
	}
	var b strings.Builder
	read := x(out.Engine)
	anchor := "middle"
	switch {
	case read < ladderLeft+60:
		anchor = "start"
	case read > ladderEnd-60:
		anchor = "end"
	}
	fmt.Fprintf(&b, `<defs><pattern id="ladder-open" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="ladder__hatch" d="M0 0v8"/></pattern></defs>`+
		`<text class="ladder__name" x="%.1f" y="16" text-anchor="%s">%s read</text><path class="ladder__tip" d="M%.1f 34l-7 -12h14z"/>`,
		read, anchor, html.EscapeString(f.turning(out.Engine)), read)
	said := "Read: " + f.turning(out.Engine) + "."
	for n, g := range ratioOrder(out) {
		y := ladderTop + ladderStep*n
		track := y + ladderBar
		least, most := ends(g)
		words := f.turning(g.Locked) + " without slip, fits " + part.Percent(g.Probability)
		said += " " + g.Name + ": " + words + "."
		fmt.Fprintf(&b, `<text class="ladder__name" x="%d" y="%d">%s<tspan class="ladder__words" dx="8">%s</tspan></text><rect class="ladder__track" x="%d" y="%d" width="%d" height="%d"/>`,
			ladderLeft, y+ladderText, html.EscapeString(short(g.Name)), html.EscapeString(words), ladderLeft, track, ladderEnd-ladderLeft, ladderHigh)
		fmt.Fprintf(&b, `<rect class="ladder__doubt" x="%.1f" y="%d" width="%.1f" height="%d"/>`, x(out.Engine-spread), track, max(2, x(out.Engine+spread)-x(out.Engine-spread)), ladderHigh)
		if least < top {
			wide := max(3, x(most)-x(least))
			fmt.Fprintf(&b, `<rect class="ladder__bar" x="%.1f" y="%d" width="%.1f" height="%d"/><rect fill="url(#ladder-open)" x="%.1f" y="%d" width="%.1f" height="%d"/><path class="ladder__locked" d="M%.1f %dv%d"/>`,
				x(least), track+3, wide, ladderHigh-6, x(least), track+3, wide, ladderHigh-6, x(g.Locked), track, ladderHigh)
		} else {
			// Off the scale.
			fmt.Fprintf(&b, `<path class="ladder__tip" d="M%d %dl-12 -7v14z"/>`, ladderEnd-2, track+ladderHigh/2)
		}
		fmt.Fprintf(&b, `<path class="ladder__read" d="M%.1f %dv%d"/>`, read, track-3, ladderHigh+6)
	}
	return app.Raw(fmt.Sprintf(`<svg class="ladder" viewBox="0 0 %d %d" role="img" aria-labelledby="ladder-title ladder-desc"><title id="ladder-title">Engine speeds that each gear allows at this speed</title><desc id="ladder-desc">%s</desc>%s</svg>`,
		ladderWide, ladderTop+ladderStep*len(out.Candidates), html.EscapeString(said), b.String()))
}

// ratioOrder is the candidates by falling ratio.
func ratioOrder(out ratio.Result) []ratio.Candidate {
	sorted := append([]ratio.Candidate(nil), out.Candidates...)
	for i := range sorted {
		for j := i; j > 0 && sorted[j].Ratio > sorted[j-1].Ratio; j-- {
			sorted[j], sorted[j-1] = sorted[j-1], sorted[j]
		}
	}
	return sorted
}

func short(name string) string {
	if len(name) > 4 {
		return "R"
	}
	return name
}
