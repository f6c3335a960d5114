package bench

import (
	"fmt"
	"html"
	"math"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/fluid"
	"provingbench/knowledge/order"
	"provingbench/knowledge/quantity"
)

// The scale is drawn in these steps, one unit a CSS pixel at the usual size.
const (
	scaleWidth  = 358
	scaleLeft   = 132 // where the bands begin; the degrees stand before it
	scaleLeast  = 46  // of a band's height, so that its words fit
	scaleDegree = 0.8 // height of a kelvin
	scaleMargin = 14
	scaleIndent = 28 // of the words, so that the arrow has its place
	scaleLine   = 18
	scaleWrap   = 17 // characters that fit in a band
)

// scaleBand is one band of the scale.
type scaleBand struct {
	from, to quantity.Temperature // infinite at the ends
	words    string
	look     string
}

// scaleBands are the bands that the limits of the sheet make, coldest first.
func scaleBands(l fluid.Limits) []scaleBand {
	type edge struct {
		at    quantity.Temperature
		words string // of the band over it
		look  string
	}
	var edges []edge
	cold := slices.Clone(l.OverdriveBlocked)
	order.Stable(cold, func(a, b fluid.Bound) int { return int(math.Copysign(1, float64(a.At-b.At))) })
	for i, b := range cold {
		words := "sources differ on 4th"
		if i == len(cold)-1 {
			words = "warming up"
		}
		edges = append(edges, edge{b.At, words, "cold"})
	}
	add := func(bounds []fluid.Bound, words, look string) {
		if len(bounds) == 0 {
			return
		}
		at := bounds[0].At
		for _, b := range bounds {
			at = min(at, b.At)
		}
		edges = append(edges, edge{at, words, look})
	}
	add(l.NormalLeast, "normal", "normal")
	add(l.NormalMost, "warmer than normal", "warm")
	add(l.Seals, "seals harden", "hot")
	add(l.HotStrategy, "computer gives up 4th", "hot")
	add(l.Damage, "fluid fails", "hot")

	first := "warming up"
	if len(cold) > 0 {
		first = "4th withheld"
	}
	bands := []scaleBand{{from: quantity.Temperature(math.Inf(-1)), words: first, look: "cold"}}
	for _, e := range edges {
		bands[len(bands)-1].to = e.at
		bands = append(bands, scaleBand{from: e.at, words: e.words, look: e.look})
	}
	bands[len(bands)-1].to = quantity.Temperature(math.Inf(1))
	return bands
}

// height is that of a band; what has no end gets the least.
func (b scaleBand) height() float64 {
	if math.IsInf(float64(b.to-b.from), 0) {
		return scaleLeast
	}
	return math.Max(scaleLeast, float64(b.to-b.from)*scaleDegree)
}

// place is how far up in the band a temperature lies, 0 to 1.
func (b scaleBand) place(t quantity.Temperature) float64 {
	if math.IsInf(float64(b.to-b.from), 0) {
		return 0.5
	}
	return float64((t - b.from) / (b.to - b.from))
}

// scale draws the bands as a thermometer, the hottest at the top, each with its
// words in it, and the temperature at hand as an arrow. A reader that does not
// see it finds the same in the list under it.
func scale(f *form, l fluid.Limits, at quantity.Temperature, given bool) app.UI {
	bands := scaleBands(l)
	var b strings.Builder
	y := float64(scaleMargin)
	mark := ""
	for _, band := range slices.Backward(bands) {
		h := band.height()
		fmt.Fprintf(&b, `<rect class="scale__band scale__band--%s" x="%d" y="%.1f" width="%d" height="%.1f"/>`, band.look, scaleLeft, y, scaleWidth-scaleLeft, h)
		lines := wrap(band.words, scaleWrap)
		for i, line := range lines {
			middle := y + h/2 + 6 + scaleLine*(float64(i)-float64(len(lines)-1)/2)
			fmt.Fprintf(&b, `<text class="scale__words" x="%d" y="%.1f">%s</text>`, scaleLeft+scaleIndent, middle, html.EscapeString(line))
		}
		if !math.IsInf(float64(band.from), 0) {
			fmt.Fprintf(&b, `<text class="scale__degrees" x="%d" y="%.1f">%s</text>`, scaleLeft-8, y+h+5, html.EscapeString(f.temperature(band.from)))
		}
		if given && at >= band.from && at < band.to {
			m := y + h*(1-band.place(at))
			mark = fmt.Sprintf(`<path class="scale__mark" d="M%d %.1fl20 -10v20z"/>`, scaleLeft+4, m)
		}
		y += h
	}
	said := "The bands of fluid temperature, listed under the drawing."
	if given {
		said = "The bands of fluid temperature with " + f.temperature(at) + " marked."
	}
	return app.Raw(fmt.Sprintf(`<svg class="scale" viewBox="0 0 %d %.0f" role="img" aria-label="%s">%s%s</svg>`,
		scaleWidth, y+scaleMargin, html.EscapeString(said), b.String(), mark))
}

// wrap breaks a few words into lines of at most so many characters.
func wrap(text string, width int) []string {
	var lines []string
	for _, w := range strings.Fields(text) {
		if n := len(lines); n > 0 && len(lines[n-1])+1+len(w) <= width {
			lines[n-1] += " " + w
			continue
		}
		lines = append(lines, w)
	}
	return lines
}
