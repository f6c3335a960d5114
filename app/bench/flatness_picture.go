package bench

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/flatness"
	"provingbench/knowledge/quantity"
)

// The map of a face, one unit a CSS pixel at the usual size.
const (
	mapWidth  = 358
	mapMargin = 26
	mapHigh   = 420 // at most
	mapLeast  = 46  // of a cell's height
	mapMost   = 84
	mapDot    = 23 // radius of a place that has its number in it
	mapSpot   = 6  // radius of one without
)

// mapShades are the shades of a place by how low it lies, the highest first.
var mapShades = []string{"high", "upper", "middle", "lower", "low"}

// mapPlace is one place on the map.
type mapPlace struct {
	name, depth string // depth in the unit of the readings
	shade       string
	mark        string // ▲ or ▼ where it touches a plane of the zone
	x, y        float64
}

// flatMap draws the face from above: each place with its shade, how far it lies
// under a flat plate laid on the face, and a mark where the plate rests and
// where it is lowest. A table says the same.
func flatMap(f *form, r *result) app.UI {
	if r == nil || len(f.problems) > 0 {
		return app.Text("")
	}
	m, err := measuredFace(f)
	if err != nil {
		return app.Text("")
	}
	out, err := m.Judge()
	if err != nil || len(out.Points) == 0 {
		return app.Text("")
	}
	in := f.picked("in")
	places := mapPlaces(out, in)
	var rows []fact
	for _, p := range places {
		rows = append(rows, fact{p.name, strings.TrimSpace(p.depth + " " + p.mark)})
	}
	drawn := mapPlan(m.Lines, out.Points, places)
	if f.text("way") == flatGrid {
		drawn = mapGrid(f, places)
	}
	return part.Section("map", "The face from above",
		app.P().Text("How far each place lies under a flat plate laid on the face, in "+in.Word+". ▲ the plate rests here, ▼ lowest."),
		app.Raw(drawn),
		part.Fold("The map as a table", facts("Under a flat plate, in "+in.Word, rows...)),
	)
}

// mapPlaces gives each point its shade, number and mark.
func mapPlaces(out flatness.Result, in quantity.Unit) []mapPlace {
	digits := 1
	if in == quantity.Millimetre {
		digits = 3
	} else if in == quantity.Inch {
		digits = 4
	}
	places := make([]mapPlace, len(out.Points))
	for i, p := range out.Points {
		deep := math.Max(0, -float64(out.Zone.Upper.Distance(p)))
		step := 0
		if out.Flatness > 0 {
			step = min(len(mapShades)-1, int(deep/float64(out.Flatness)*float64(len(mapShades))))
		}
		number := fmt.Sprintf("%.*f", digits, in.From(deep))
		if digits > 1 {
			number = strings.TrimPrefix(number, "0") // .012 fits where 0.012 does not
		}
		places[i] = mapPlace{name: flatName(out.Points, i), depth: number, shade: mapShades[step]}
	}
	if out.Flatness > 0 {
		for _, c := range out.Zone.High {
			places[c.Point].mark = "▲"
		}
		for _, c := range out.Zone.Low {
			places[c.Point].mark = "▼"
		}
	}
	return places
}

func mapOpen(b *strings.Builder, height float64) {
	fmt.Fprintf(b, `<svg class="flatmap" viewBox="0 0 %d %.0f" role="img" aria-label="The face from above; the table under it says the same">`, mapWidth, height)
}

// words draws the texts of a place around its middle.
func (p mapPlace) words(b *strings.Builder) {
	fmt.Fprintf(b, `<text class="flatmap__name" x="%.1f" y="%.1f">%s</text><text class="flatmap__depth" x="%.1f" y="%.1f">%s</text>`,
		p.x, p.y-4, html.EscapeString(strings.TrimSpace(p.name+" "+p.mark)), p.x, p.y+14, p.depth)
}

// mapGrid draws a grid as cells, the first row at the top. A place without metal
// is left out.
func mapGrid(f *form, places []mapPlace) string {
	rows, columns := flatSize(f)
	dx, _ := number[quantity.Length](f, "dx")
	w := float64(mapWidth) / float64(columns)
	h := math.Max(mapLeast, math.Min(mapMost, w*float64(or(f, "dy", dx)/dx)))
	var b strings.Builder
	mapOpen(&b, h*float64(rows))
	n := 0
	for r := range rows {
		for c := range columns {
			if n == len(places) || places[n].name != flatness.Place(r, c) {
				continue
			}
			p := places[n]
			n++
			p.x, p.y = (float64(c)+0.5)*w, (float64(r)+0.5)*h
			fmt.Fprintf(&b, `<rect class="flatmap__cell flatmap__cell--%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, p.shade, float64(c)*w+1, float64(r)*h+1, w-2, h-2)
			p.words(&b)
		}
	}
	b.WriteString(`</svg>`)
	return b.String()
}

// mapPlan draws places where they are, y upward, with the lines that a
// straightedge lay on. Places that touch a plane of the zone have their numbers
// first; where others stand too close to have theirs, they are dots.
func mapPlan(lines []flatness.Line, points []flatness.Point, places []mapPlace) string {
	left, right, low, high := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, p := range points {
		left, right = math.Min(left, float64(p.X)), math.Max(right, float64(p.X))
		low, high = math.Min(low, float64(p.Y)), math.Max(high, float64(p.Y))
	}
	scale := math.Min((mapWidth-2*mapMargin)/(right-left), (mapHigh-2*mapMargin)/(high-low))
	at := func(x, y quantity.Length) (float64, float64) {
		return mapWidth/2 + (float64(x)-(left+right)/2)*scale, mapMargin + (high-float64(y))*scale
	}
	var b strings.Builder
	mapOpen(&b, (high-low)*scale+2*mapMargin)
	for _, l := range lines {
		x1, y1 := at(l.X1, l.Y1)
		x2, y2 := at(l.X2, l.Y2)
		fmt.Fprintf(&b, `<path class="flatmap__line" d="M%.1f %.1fL%.1f %.1f"/>`, x1, y1, x2, y2)
	}
	var drawn []mapPlace
	for _, marked := range []bool{true, false} {
		for i, p := range places {
			if (p.mark != "") != marked {
				continue
			}
			p.x, p.y = at(points[i].X, points[i].Y)
			near := math.Inf(1)
			for _, q := range drawn {
				near = math.Min(near, math.Hypot(p.x-q.x, p.y-q.y))
			}
			switch {
			case near < mapDot+mapSpot: // on the same place of another line, or over its number
			case near < 2*mapDot:
				fmt.Fprintf(&b, `<circle class="flatmap__cell flatmap__cell--%s" cx="%.1f" cy="%.1f" r="%d"/>`, p.shade, p.x, p.y, mapSpot)
			default:
				drawn = append(drawn, p)
				fmt.Fprintf(&b, `<circle class="flatmap__ground" cx="%.1f" cy="%.1f" r="%d"/><circle class="flatmap__cell flatmap__cell--%s" cx="%.1f" cy="%.1f" r="%d"/>`,
					p.x, p.y, mapDot, p.shade, p.x, p.y, mapDot)
				p.words(&b)
			}
		}
	}
	b.WriteString(`</svg>`)
	return b.String()
}
