package bench

import (
	"fmt"
	"html"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/spring"
)

// The picture of a spring, one unit a CSS pixel at the usual size: the spring at
// each length that is known, one under the other, to one scale.
const (
	springWidth = 358
	springLeft  = 6
	springRoom  = 330 // for the longest
	springRow   = 74
	springCoil  = 32 // height of the coils
	springTop   = 6
)

// springPicture draws the spring free, as a new one stands, in its place and
// solid. The table above it has the numbers.
func springPicture(f *form) app.UI {
	if len(f.problems) > 0 || !f.touched() {
		return app.Text("")
	}
	m := measuredSpring(f)
	out, err := m.Judge()
	if err != nil {
		return app.Text("")
	}
	type row struct {
		name string
		l    quantity.Length
		look string
	}
	rows := []row{}
	longest := out.Spring.Free
	add := func(name string, l quantity.Length, look string) {
		if l > 0 {
			rows = append(rows, row{name, l, look})
			longest = max(longest, l)
		}
	}
	add("new, free", m.NewFree, "new")
	add("free", out.Spring.Free, "")
	add("at rest", m.Installed, "")
	add("at full travel", m.Shortest, "")
	add("coils touch", out.Solid, "solid")
	var b strings.Builder
	var said []string
	coils := int(min(30, max(2, out.Spring.Turns)))
	for i, x := range rows {
		y := springTop + springRow*i
		w := springRoom * float64(x.l/longest)
		fmt.Fprintf(&b, `<path class="spring__wire" data-look="%s" d="M%d %dV%d`, x.look, springLeft, y+springCoil, y)
		for c := range coils {
			fmt.Fprintf(&b, "L%.1f %dL%.1f %d", springLeft+w*(float64(c)+0.5)/float64(coils), y+springCoil, springLeft+w*float64(c+1)/float64(coils), y)
		}
		fmt.Fprintf(&b, `V%d"/>`, y+springCoil)
		words := x.name + ", " + f.say(x.l.Value(), quantity.Inch, 3)
		fmt.Fprintf(&b, `<text class="spring__words" x="%d" y="%d">%s</text>`, springLeft, y+springCoil+22, html.EscapeString(words))
		said = append(said, words)
	}
	return app.Raw(fmt.Sprintf(`<svg class="spring" viewBox="0 0 %d %d" role="img" aria-label="%s"><title>The spring at its lengths</title><desc>%s</desc>%s</svg>`,
		springWidth, springTop+springRow*len(rows), html.EscapeString("The spring at its lengths: "+strings.Join(said, "; ")), "To one scale; the coils are a scheme.", b.String()))
}

// The chart of an accumulator, one unit a CSS pixel at the usual size: pressure
// on the clutch over time, with the spring that is in it and with the other.
const (
	cushionWidth  = 358
	cushionLeft   = 8
	cushionRight  = 346
	cushionTop    = 24
	cushionBottom = 200
	cushionSteps  = 20
)

// accumulatorPicture draws how the pressure rises while the piston moves and
// jumps to line pressure after it.
func accumulatorPicture(f *form) app.UI {
	if len(f.problems) > 0 || !f.touched() {
		return app.Text("")
	}
	s, err := swapped(f)
	if err != nil {
		return app.Text("")
	}
	longest := max(s.strokeWas.Time, s.strokeOther.Time)
	if !(longest > 0) || !(s.was.Supply > 0) {
		return app.Text("")
	}
	supply := float64(s.was.Supply)
	x := func(t quantity.Duration) float64 {
		return cushionLeft + (cushionRight-cushionLeft)*float64(t/longest)/1.15
	}
	y := func(p float64) float64 { return cushionBottom - (cushionBottom-cushionTop)*min(1, p/supply) }
	var b strings.Builder
	fmt.Fprintf(&b, `<path class="cushion__axis" d="M%d %dV%dH%d"/><path class="cushion__line" d="M%d %dH%d"/>`,
		cushionLeft, cushionTop-8, cushionBottom, cushionRight, cushionLeft, cushionTop, cushionRight)
	text := func(x float64, y int, anchor, words string) {
		fmt.Fprintf(&b, `<text class="cushion__words" x="%.1f" y="%d" text-anchor="%s">%s</text>`, x, y, anchor, html.EscapeString(words))
	}
	for _, one := range []struct {
		a    spring.Accumulator
		s    spring.Stroke
		look string
	}{{s.was, s.strokeWas, "was"}, {s.other, s.strokeOther, "other"}} {
		if one.s.Travel == 0 {
			continue
		}
		fmt.Fprintf(&b, `<path class="cushion__curve" data-look="%s" d="M%d %d`, one.look, cushionLeft, cushionBottom)
		for i := range cushionSteps + 1 {
			part := one.a
			part.Stroke = max(one.s.Travel*quantity.Length(i)/cushionSteps, 1e-5)
			if at, err := part.Shift(); err == nil {
				fmt.Fprintf(&b, "L%.1f %.1f", x(at.Time), y(float64(at.End)))
			}
		}
		if one.s.Full(one.a) {
			fmt.Fprintf(&b, "V%d", cushionTop)
		}
		fmt.Fprintf(&b, `H%d"/>`, cushionRight)
	}
	text(cushionLeft+6, cushionTop-6, "start", "line pressure "+f.say(s.was.Supply.Value(), quantity.PSI, 3))
	text(cushionRight, cushionBottom+20, "end", "time, to "+f.say(longest.Value(), quantity.Second, 2))
	text(cushionLeft, cushionBottom+44, "start", "solid line: the other spring")
	text(cushionLeft, cushionBottom+64, "start", "dashed: the one that is in it")
	return app.Raw(fmt.Sprintf(`<svg class="cushion" viewBox="0 0 %d %d" role="img" aria-label="Pressure on the clutch over time, with both springs"><title>Pressure on the clutch over time</title><desc>The table above says the same in numbers.</desc>%s</svg>`,
		cushionWidth, cushionBottom+76, b.String()))
}
