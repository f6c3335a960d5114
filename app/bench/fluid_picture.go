package bench

import (
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
)

// The viscosity curve is drawn in these steps, one unit a CSS pixel at the usual
// size: temperature to the right, the logarithm of the viscosity upwards.
const (
	curveWidth  = 358
	curveHeight = 320
	curveLeft   = 54
	curveRight  = 338
	curveTop    = 26
	curveBottom = 276
	curveSteps  = 38

	curveThickest quantity.Kinematic = 0.01 // four decades; what is thicker is left out
)

// curve places temperatures and viscosities in the drawing.
type curve struct{ least, most float64 } // decades of mm²/s

func (c curve) x(t quantity.Temperature) float64 {
	return curveLeft + (curveRight-curveLeft)*float64((t-fluid.ValidFluid[0])/(fluid.ValidFluid[1]-fluid.ValidFluid[0]))
}

func (c curve) y(v quantity.Kinematic) float64 {
	share := (math.Log10(quantity.SquareMillimetrePerSecond.From(float64(v))) - c.least) / (c.most - c.least)
	return curveBottom - (curveBottom-curveTop)*min(max(share, 0), 1)
}

// path is the fluid's line between two temperatures.
func (c curve) path(x fluid.Fluid, from, to quantity.Temperature) string {
	var b strings.Builder
	command := 'M'
	for i := range curveSteps + 1 {
		t := from + (to-from)*quantity.Temperature(i)/curveSteps
		if v, err := x.Kinematic(t); err == nil && v <= curveThickest {
			fmt.Fprintf(&b, "%c%.1f %.1f", command, c.x(t), c.y(v))
			command = 'L'
		}
	}
	return b.String()
}

// viscosityPicture draws how the fluid thins, with the limits hatched and the
// temperature at hand marked. The tables beside it say the same in words.
func viscosityPicture(f *form) app.UI {
	x, _, err := fluidOf(f)
	if err != nil {
		return app.Text("")
	}
	c := curve{least: 0, most: math.Log10(quantity.SquareMillimetrePerSecond.From(float64(curveThickest)))}
	if v, err := x.Kinematic(fluid.ValidFluid[1]); err == nil {
		c.least = min(c.least, math.Floor(math.Log10(quantity.SquareMillimetrePerSecond.From(float64(v)))))
	}
	var b strings.Builder
	text := func(class string, x, y float64, anchor, words string) {
		fmt.Fprintf(&b, `<text class="%s" x="%.1f" y="%.1f" text-anchor="%s">%s</text>`, class, x, y, anchor, html.EscapeString(words))
	}
	said := "How the fluid thins as it warms."

	// The two limits that a curve of kinematic viscosity can show.
	for _, th := range fluid.Thresholds() {
		if th.Dynamic > 0 {
			continue
		}
		y := c.y(th.Kinematic)
		top, height, words := float64(curveTop), y-curveTop, y-8
		if !th.Thick {
			top, height, words = y, curveBottom-y, y+18
		}
		fmt.Fprintf(&b, `<rect fill="url(#curve-beyond)" x="%d" y="%.1f" width="%d" height="%.1f"/><path class="curve__limit" d="M%d %.1fH%d"/>`,
			curveLeft, top, curveRight-curveLeft, height, curveLeft, y, curveRight)
		anchor, edge := "end", float64(curveRight-4)
		if !th.Thick {
			anchor, edge = "start", curveLeft+4
		}
		text("curve__words", edge, words, anchor, th.Name)
		said += " " + th.Name + ": " + reached(f, x, th) + "."
	}

	for decade := c.least; decade < c.most+0.5; decade++ {
		v := quantity.Kinematic(quantity.SquareMillimetrePerSecond.SI(math.Pow(10, decade)))
		fmt.Fprintf(&b, `<path class="curve__grid" d="M%d %.1fH%d"/>`, curveLeft, c.y(v), curveRight)
		text("curve__tick", curveLeft-6, c.y(v)+5, "end", strconv.FormatFloat(math.Pow(10, decade), 'f', -1, 64))
	}
	text("curve__tick", 2, curveTop-10, "start", quantity.SquareMillimetrePerSecond.Name)
	u := f.units().Unit(quantity.Fahrenheit)
	step := 50.0
	if u.From(float64(fluid.ValidFluid[1])) > 200 {
		step = 100
	}
	for n := math.Ceil(u.From(float64(fluid.ValidFluid[0])) / step); n*step <= u.From(float64(fluid.ValidFluid[1])); n++ {
		at := c.x(quantity.Temperature(u.SI(n * step)))
		fmt.Fprintf(&b, `<path class="curve__grid" d="M%.1f %dV%d"/>`, at, curveTop, curveBottom)
		text("curve__tick", at, curveBottom+20, "middle", fmt.Sprintf("%g", n*step+0)) // not "-0"
	}
	text("curve__tick", curveRight, curveBottom+38, "end", u.Name)

	s := x.Samples()
	fmt.Fprintf(&b, `<rect class="curve__frame" x="%d" y="%d" width="%d" height="%d"/><path class="curve__beyond" d="%s"/><path class="curve__line" d="%s"/><path class="curve__beyond" d="%s"/>`,
		curveLeft, curveTop, curveRight-curveLeft, curveBottom-curveTop,
		c.path(x, fluid.ValidFluid[0], s[0].At), c.path(x, s[0].At, s[1].At), c.path(x, s[1].At, fluid.ValidFluid[1]))
	for _, p := range s {
		fmt.Fprintf(&b, `<rect class="curve__sample" x="%.1f" y="%.1f" width="9" height="9"/>`, c.x(p.At)-4.5, c.y(p.Viscosity)-4.5)
	}
	if at, ok := number[quantity.Temperature](f, "at"); ok {
		if v, err := x.Kinematic(at); err == nil {
			px, py := c.x(at), c.y(v)
			fmt.Fprintf(&b, `<path class="curve__mark" d="M%.1f %dV%.1f"/><circle class="curve__dot" cx="%.1f" cy="%.1f" r="7"/>`, px, curveBottom, py, px, py)
			// The line falls from the left, so over it and to the right is room.
			anchor, shift, lift := "start", 10.0, 12.0
			if px > curveLeft+(curveRight-curveLeft)*0.6 {
				anchor, shift, lift = "end", 60, 40
			}
			text("curve__here", min(px+shift, curveRight-4), max(py-lift, curveTop+18), anchor, f.thickness(v))
			said += " At " + f.temperature(at) + " it is " + f.thickness(v) + "."
		}
	}
	return app.Raw(fmt.Sprintf(`<svg class="curve" viewBox="0 0 %d %d" role="img"><title>Viscosity against temperature</title><desc>%s</desc>`+
		`<defs><pattern id="curve-beyond" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="curve__hatch" d="M0 0v8"/></pattern></defs>%s</svg>`,
		curveWidth, curveHeight, html.EscapeString(said), b.String()))
}
