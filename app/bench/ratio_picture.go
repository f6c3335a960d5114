package bench

import (
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/ratio"
)

// The picture of the gears, one unit a CSS pixel at the usual size.
const (
	ladderWide = 358
	ladderLeft = 64 // where engine speed is nothing; the gears' names stand before it
	ladderEnd  = 346
	ladderTop  = 30
	ladderStep = 44
	ladderBar  = 20
)

// ratioPicture draws for each gear the engine speeds that it allows at this
// speed, from no slip to the most that an open converter slips, and across all
// of them the engine speed that was read. Where the line meets a bar, the gear
// fits. The table under it says the same in numbers.
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
	height := ladderTop + ladderStep*len(out.Candidates) + 34
	b.WriteString(`<defs><pattern id="ladder-open" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="ladder__hatch" d="M0 0v8"/></pattern></defs>`)
	left, right := x(out.Engine-spread), x(out.Engine+spread)
	bottom := ladderTop + ladderStep*len(out.Candidates)
	fmt.Fprintf(&b, `<rect class="ladder__doubt" x="%.1f" y="%d" width="%.1f" height="%d"/>`, left, ladderTop-6, max(2, right-left), bottom-ladderTop+6)
	said := "Read: " + f.turning(out.Engine) + "."
	n := 0
	for _, g := range ratioOrder(out) {
		y := ladderTop + ladderStep*n
		n++
		least, most := ends(g)
		fmt.Fprintf(&b, `<text class="ladder__name" x="4" y="%d">%s</text>`, y+16, html.EscapeString(short(g.Name)))
		if least < top {
			fmt.Fprintf(&b, `<rect class="ladder__bar" x="%.1f" y="%d" width="%.1f" height="%d"/><rect fill="url(#ladder-open)" x="%.1f" y="%d" width="%.1f" height="%d"/>`,
				x(least), y, max(2, x(most)-x(least)), ladderBar, x(least), y, max(2, x(most)-x(least)), ladderBar)
			fmt.Fprintf(&b, `<path class="ladder__locked" d="M%.1f %dv%d"/>`, x(g.Locked), y-3, ladderBar+6)
		}
		fmt.Fprintf(&b, `<text class="ladder__words" x="%d" y="%d">%s, fits %s</text>`, ladderLeft, y+ladderBar+17, html.EscapeString(f.turning(g.Locked)), html.EscapeString(part100(g.Probability)))
		said += " " + g.Name + ": " + f.turning(g.Locked) + " without slip, fits " + part100(g.Probability) + "."
	}
	fmt.Fprintf(&b, `<path class="ladder__read" d="M%.1f %dV%d"/><path class="ladder__tip" d="M%.1f %dl-7 -12h14z"/>`, x(out.Engine), ladderTop-6, bottom, x(out.Engine), ladderTop-4)
	anchor := "middle"
	switch {
	case x(out.Engine) < ladderLeft+60:
		anchor = "start"
	case x(out.Engine) > ladderEnd-60:
		anchor = "end"
	}
	fmt.Fprintf(&b, `<text class="ladder__name" x="%.1f" y="%d" text-anchor="%s">%s read</text>`, x(out.Engine), bottom+20, anchor, html.EscapeString(f.turning(out.Engine)))
	return app.Raw(fmt.Sprintf(`<svg class="ladder" viewBox="0 0 %d %d" role="img" aria-labelledby="ladder-title ladder-desc"><title id="ladder-title">Engine speeds that each gear allows at this speed</title><desc id="ladder-desc">%s</desc>%s</svg>`,
		ladderWide, height, html.EscapeString(said), b.String()))
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

func part100(p float64) string {
	return quantity.Format(quantity.Ratio(p).Value(), quantity.Percent, 0)
}
