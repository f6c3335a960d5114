package bench

import (
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/leak"
	"provingbench/knowledge/quantity"
)

// The picture of a gap, one unit a CSS pixel at the usual size: the gap cut open
// above, not to scale, and under it the pump at four conditions.
const (
	leakWidth    = 358
	leakTop      = 22
	leakHeight   = 118 // of the walls with the gap between them
	leakLeft     = 84  // of the walls
	leakRight    = 274
	leakBarTop   = 184
	leakBarStep  = 46
	leakBarLeft  = 8
	leakBarWidth = 342
)

// leakPicture draws the gap cut open with its dimensions, and how much of the
// pump each condition takes. The table above it says the same in words.
func leakPicture(f *form) app.UI {
	if len(f.problems) > 0 || !f.touched() {
		return app.Text("")
	}
	out, err := leaking(f)
	if err != nil {
		return app.Text("")
	}
	var b strings.Builder
	text := func(class string, x, y int, anchor, words string) {
		fmt.Fprintf(&b, `<text class="%s" x="%d" y="%d" text-anchor="%s">%s</text>`, class, x, y, anchor, html.EscapeString(words))
	}
	open := 14
	if out.gap.Kind == leak.KindHole {
		open = 30
	}
	middle := leakTop + leakHeight/2
	b.WriteString(`<defs><pattern id="leak-wall" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="leakage__hatch" d="M0 0v8"/></pattern></defs>`)
	for _, y := range []int{leakTop, middle + open/2} {
		fmt.Fprintf(&b, `<rect class="leakage__wall" fill="url(#leak-wall)" x="%d" y="%d" width="%d" height="%d"/>`, leakLeft, y, leakRight-leakLeft, (leakHeight-open)/2)
	}
	fmt.Fprintf(&b, `<path class="leakage__flow" d="M%d %dH%d"/><path class="leakage__tip" d="M%d %dl-14 -8v16z"/>`, leakLeft-30, middle, leakRight+22, leakRight+36, middle)
	text("leakage__words", 4, middle-30, "start", f.entered("pressure"))
	text("leakage__words", leakWidth-4, middle-30, "end", "pan")
	mm := func(l quantity.Length) string { return f.say(l.Value(), quantity.Inch, 3) }
	fmt.Fprintf(&b, `<path class="leakage__measure" d="M%d %dH%dM%d %dv8M%d %dv8"/>`, leakLeft, leakTop+leakHeight+12, leakRight, leakLeft, leakTop+leakHeight+8, leakRight, leakTop+leakHeight+8)
	text("leakage__size", (leakLeft+leakRight)/2, leakTop+leakHeight+30, "middle", "along the flow "+mm(out.gap.Length))
	switch out.gap.Kind {
	case leak.KindHole:
		text("leakage__size", (leakLeft+leakRight)/2, leakTop-6, "middle", "hole of "+mm(out.gap.Across))
	case leak.KindSlot:
		text("leakage__size", (leakLeft+leakRight)/2, leakTop-6, "middle", "gap "+f.say(out.gap.Gap.Value(), quantity.Thou, 3)+", "+mm(out.gap.Across)+" wide")
	default:
		text("leakage__size", (leakLeft+leakRight)/2, leakTop-6, "middle", "clearance "+f.say(out.gap.Gap.Value(), quantity.Thou, 3)+" round "+mm(out.gap.Across))
	}
	said := "What leaks, as a share of the pump."
	for i, x := range []struct {
		name  string
		share quantity.Ratio
	}{{"Hot, idle", out.hot.idle}, {"Hot, driving", out.hot.drive}, {"Cold, idle", out.cold.idle}, {"Cold, driving", out.cold.drive}} {
		y := leakBarTop + leakBarStep*i
		percent := shareOfPump(x.share)
		text("leakage__words", leakBarLeft, y+16, "start", x.name)
		text("leakage__words", leakBarLeft+leakBarWidth, y+16, "end", percent)
		fmt.Fprintf(&b, `<rect class="leakage__used" x="%d" y="%d" width="%.1f" height="14"/><rect class="leakage__pump" x="%d" y="%d" width="%d" height="14"/>`,
			leakBarLeft, y+22, leakBarWidth*min(1, float64(x.share)), leakBarLeft, y+22, leakBarWidth)
		said += " " + x.name + ": " + percent + "."
	}
	return app.Raw(fmt.Sprintf(`<svg class="leakage" viewBox="0 0 %d %d" role="img" aria-label="%s"><title>The gap and the pump</title><desc>%s</desc>%s</svg>`,
		leakWidth, leakBarTop+4*leakBarStep, html.EscapeString(said), html.EscapeString("The gap cut open, not to scale. "+said), b.String()))
}
