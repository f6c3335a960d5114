package bench

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/quantity"
)

// The drawings are as wide as a phone, one unit a CSS pixel at the usual size.
const (
	clampWide  = 358
	clampLeft  = 8
	clampRight = 342
	clampBar   = 26
	clampLine  = 20
)

// clampHatches are the two hatches of the drawings: leaning one way where a
// clutch slips, the other way where a shaft goes first.
func clampHatches(id string) string {
	return `<defs><pattern id="` + id + `-slips" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="clamp__hatch" d="M0 0v8"/></pattern>` +
		`<pattern id="` + id + `-shaft" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path class="clamp__hatch" d="M0 0v8M4 0v8"/></pattern></defs>`
}

// clampSVG wraps a drawing of a height with its words for who does not see it.
func clampSVG(id, title, said string, height float64, inside string) app.UI {
	return app.Raw(fmt.Sprintf(`<svg class="clamp" viewBox="0 0 %d %.0f" role="img" aria-labelledby="%s-title %s-desc"><title id="%s-title">%s</title><desc id="%s-desc">%s</desc>%s%s</svg>`,
		clampWide, height, id, id, id, html.EscapeString(title), id, html.EscapeString(said), clampHatches(id), inside))
}

// pressureAxis is a horizontal scale of line pressure from nothing to most.
type pressureAxis struct {
	form *form
	most quantity.Pressure // at the right end
	step quantity.Pressure // between ticks
}

// axisFor makes an axis on which the pressures lie. What is far beyond all
// others is left to the right of it.
func axisFor(f *form, pressures ...quantity.Pressure) pressureAxis {
	u := f.units().Unit(quantity.PSI)
	top := 0.0
	for _, p := range pressures {
		if x := u.From(float64(p)); x > top && float64(p) < axisBeyond {
			top = x
		}
	}
	top = math.Max(top*1.1, u.From(axisLeast))
	step := math.Pow(10, math.Floor(math.Log10(top/4)))
	for _, k := range []float64{5, 2} {
		if step*k <= top/4 {
			step *= k
			break
		}
	}
	n := math.Ceil(top / step)
	return pressureAxis{f, quantity.Pressure(u.SI(n * step)), quantity.Pressure(u.SI(step))}
}

// An axis is never shorter than axisLeast, and nothing beyond axisBeyond makes it
// longer; in pascal, sizes of a drawing.
const (
	axisLeast  = 1.9e6
	axisBeyond = 4.2e6
)

func (a pressureAxis) x(p quantity.Pressure) float64 {
	return clampLeft + (clampRight-clampLeft)*math.Min(1, float64(p/a.most))
}

func (a pressureAxis) zone(b *strings.Builder, y float64, from, to quantity.Pressure, look, fill string) {
	x0, x1 := a.x(from), a.x(to)
	if x1-x0 < 0.5 {
		return
	}
	fmt.Fprintf(b, `<rect class="clamp__zone clamp__zone--%s" x="%.1f" y="%.0f" width="%.1f" height="%d"/>`, look, x0, y, x1-x0, clampBar)
	if fill != "" {
		fmt.Fprintf(b, `<rect fill="url(#%s)" x="%.1f" y="%.0f" width="%.1f" height="%d"/>`, fill, x0, y, x1-x0, clampBar)
	}
}

// zones draws where an element slips, where it holds and where a shaft goes first.
func (a pressureAxis) zones(b *strings.Builder, id string, y float64, slips, shaft quantity.Pressure) {
	a.zone(b, y, 0, min(slips, shaft), "slips", id+"-slips")
	a.zone(b, y, slips, shaft, "holds", "")
	a.zone(b, y, shaft, a.most, "shaft", id+"-shaft")
}

func (a pressureAxis) ticks(b *strings.Builder, y float64) {
	u := a.form.units().Unit(quantity.PSI)
	last := math.Round(float64(a.most / a.step))
	for i := 0.0; i <= last; i++ {
		x := a.x(a.step * quantity.Pressure(i))
		anchor := "middle"
		switch i {
		case 0:
			anchor = "start"
		case last:
			anchor = "end"
		}
		text, _, _ := strings.Cut(quantity.FormatSignificant((a.step*quantity.Pressure(i)).Value(), u, 3), " ")
		fmt.Fprintf(b, `<path class="clamp__line" d="M%.1f %.0fv6"/><text class="clamp__text" x="%.1f" y="%.0f" text-anchor="%s">%s</text>`, x, y, x, y+22, anchor, html.EscapeString(text))
	}
}

// marks point at pressures from above, each with a number that its words begin
// with. Numbers that would cover each other stand one over the other.
func (a pressureAxis) marks(b *strings.Builder, y float64, pressures ...quantity.Pressure) {
	for i, p := range pressures {
		x, up := a.x(p), 16.0
		for _, other := range pressures[:i] {
			if math.Abs(a.x(other)-x) < 12 {
				up += 15
			}
		}
		fmt.Fprintf(b, `<path class="clamp__mark" d="M%.1f %.0fl-7 -12h14z"/><path class="clamp__line" d="M%.1f %.0fv%d"/><text class="clamp__sign" x="%.1f" y="%.0f" text-anchor="middle">%d</text>`,
			x, y, x, y, clampBar, math.Max(x, 6), y-up, i+1)
	}
}

func clampWords(b *strings.Builder, x, y float64, text string) {
	fmt.Fprintf(b, `<text class="clamp__text" x="%.0f" y="%.0f">%s</text>`, x, y, html.EscapeString(text))
}

// clampPicture is torque needed and held as bars, and on a scale of pressure
// where the element slips and where the shaft is weaker than it.
type clampPicture struct {
	form         *form
	need, holds  quantity.Torque
	held         bool // holds is known
	scale        bool // slips and shaft are known
	slips, shaft quantity.Pressure
	shaftName    string
	line         quantity.Pressure
	lineGiven    bool
}

func (p clampPicture) draw() app.UI {
	var b strings.Builder
	f := p.form
	most := max(p.need, p.holds)
	bar := func(y float64, text string, t quantity.Torque, look, fill string) {
		clampWords(&b, clampLeft, y, text+" "+f.torqueText(t))
		w := 2.0
		if most > 0 {
			w = math.Max(2, (clampRight-clampLeft)*float64(t/most))
		}
		fmt.Fprintf(&b, `<rect class="clamp__zone clamp__zone--%s" x="%d" y="%.0f" width="%.1f" height="%d"/>`, look, clampLeft, y+8, w, clampBar)
		if fill != "" {
			fmt.Fprintf(&b, `<rect fill="url(#%s)" x="%d" y="%.0f" width="%.1f" height="%d"/>`, fill, clampLeft, y+8, w, clampBar)
		}
	}
	said := "Needed: " + f.torqueText(p.need) + "."
	y := 18.0
	bar(y, "Needed:", p.need, "need", "")
	y += 62
	if p.held {
		look, fill := "holds", ""
		if p.holds < p.need {
			look, fill = "slips", "clamp-slips"
		}
		bar(y, "Held:", p.holds, look, fill)
		said += " Held: " + f.torqueText(p.holds) + "."
		y += 62
	}
	if p.scale {
		clampWords(&b, clampLeft, y, "Line pressure, "+f.units().Unit(quantity.PSI).Name)
		y += 66
		a := axisFor(f, p.slips, p.shaft, p.line)
		a.zones(&b, "clamp", y, p.slips, p.shaft)
		lines := []string{"1  Slips below " + f.linePressure(p.slips), "2  The " + p.shaftName + " is weaker above " + f.linePressure(p.shaft)}
		points := []quantity.Pressure{p.slips, p.shaft}
		if p.lineGiven {
			points = append(points, p.line)
			lines = append(lines, "3  Line pressure "+f.linePressure(p.line))
		}
		a.marks(&b, y, points...)
		y += clampBar
		a.ticks(&b, y)
		y += 48
		for _, l := range lines {
			clampWords(&b, clampLeft, y, l)
			y += clampLine
			said += " " + l[3:] + "."
		}
	}
	return clampSVG("clamp", "Torque needed and held, and line pressure", said, y, b.String())
}
