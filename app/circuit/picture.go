package circuit

import (
	"html"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
)

// bands are the pressures, in psi, from which on the picture takes the next hatch:
// choices of this picture, with idle and full throttle in D and R in bands of
// their own.
var bands = [...]float64{3, 30, 75, 140}

// bandNames are what stands in data-band, from none to the highest.
var bandNames = [...]string{"none", "low", "middle", "high", "highest"}

// band is the hatch of a pressure.
func band(p quantity.Pressure) string {
	n := 0
	for n < len(bands) && float64(p) >= quantity.PSI.SI(bands[n]) {
		n++
	}
	return bandNames[n]
}

// steps are the distances of the hatch's lines, closer for more pressure.
var steps = [...]int{0, 12, 8, 5, 3}

// apart is the share of the healthy pressure from which a difference gets a heavy
// edge, besides a bar's width of bands[0]: a choice of this picture.
const apart = 0.1

func differs(now, healthy quantity.Pressure) bool {
	return math.Abs(float64(now-healthy)) > max(apart*math.Abs(float64(healthy)), quantity.PSI.SI(bands[0]))
}

// leaking is the flow from which a leak is marked when a healthy unit has less than
// half of it: a choice of this picture.
var leaking = quantity.Flow(quantity.LitrePerMinute.SI(0.3))

// leaks lists the leaks that are worse than on a healthy unit, as indices of
// hydraulics.Links.
func leaks(now, healthy *hydraulics.State) []int {
	var out []int
	for i := range hydraulics.Links {
		if q := now.Flows[i]; hydraulics.Links[i].Leak && q > leaking && healthy.Flows[i] < q/2 {
			out = append(out, i)
		}
	}
	return out
}

// numbers collects a drawing.
type drawing struct{ strings.Builder }

func (b *drawing) n(parts ...any) {
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			b.WriteString(p)
		case int:
			b.WriteString(strconv.Itoa(p))
		case float64:
			b.WriteString(strconv.FormatFloat(p, 'f', 1, 64))
		}
	}
}

// schematic draws a state. id keeps the hatches of several drawings on a page
// apart; healthy, which may be the state itself, gives the numbers in brackets.
func schematic(id, title string, now, healthy *hydraulics.State, units quantity.Preference) app.UI {
	var b drawing
	b.n(`<svg class="circuit__drawing" viewBox="0 0 `, width, ` `, height, `" role="img" aria-label="`, html.EscapeString(title), `; the table below has the same numbers"><title>`, html.EscapeString(title), `</title><desc>Each box is a passage or a chamber with its pressure, each line a passage between two of them, each small square a valve or an orifice.</desc><defs>`)
	for i, name := range bandNames {
		if i > 0 {
			b.n(`<pattern id="`, id, `-`, name, `" width="`, steps[i], `" height="`, steps[i], `" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="circuit__hatch" data-band="`, name, `" d="M0 0v`, steps[i], `"/></pattern>`)
		}
	}
	b.n(`</defs>`)
	for i := range hydraulics.Links {
		l := &hydraulics.Links[i]
		if p, ok := pipes[l.ID]; ok {
			p.draw(&b, band(now.Pressures[l.From]), band(now.Pressures[l.To]))
		}
	}
	drops := map[int]bool{}
	for _, i := range leaks(now, healthy) {
		drops[hydraulics.Links[i].From] = true
	}
	for i := range hydraulics.Places {
		if s, ok := spots[hydraulics.Places[i].ID]; ok {
			s.draw(&b, id, now.Pressures[i], healthy.Pressures[i], units, drops[i])
		}
	}
	b.n(`</svg>`)
	return app.Raw(b.String())
}

// draw draws the first part of a pipe as the pressure before its valve, and the
// second one as that behind it.
func (p pipe) draw(b *drawing, before, behind string) {
	at := 2 * p.valve
	x, y := (p.points[at]+p.points[at+2])/2, (p.points[at+1]+p.points[at+3])/2
	path := func(state string, from []int) {
		b.n(`<path class="circuit__pipe" data-band="`, state, `" d="`)
		for k := 0; k < len(from); k += 2 {
			b.n(string("ML"[min(k, 1)]), from[k], ` `, from[k+1])
		}
		b.n(`"/>`)
	}
	path(before, append(p.points[:at+2:at+2], x, y))
	path(behind, append([]int{x, y}, p.points[at+2:]...))
	b.n(`<rect class="circuit__valve" x="`, x-4, `" y="`, y-4, `" width="8" height="8"/>`)
	if p.label != "" {
		b.n(`<text class="circuit__label" x="`, x+8, `" y="`, y+4, `">`, p.label, `</text>`)
	}
}

func (s spot) draw(b *drawing, id string, now, healthy quantity.Pressure, units quantity.Preference, drop bool) {
	x, y := s.x(), s.y()
	changed := "no"
	if differs(now, healthy) {
		changed = "yes"
	}
	state := band(now)
	b.n(`<rect class="circuit__box" data-band="`, state, `" data-changed="`, changed, `" x="`, x, `" y="`, y, `" width="`, s.w(), `" height="`, boxH, `" rx="4"/>`)
	if state != bandNames[0] {
		b.n(`<rect fill="url(#`, id, `-`, state, `)" x="`, x+2, `" y="`, y+2, `" width="13" height="`, boxH-4, `"/>`)
	}
	said, was := pressure(units, now), pressure(units, healthy)
	lines := len(s.name) + 1
	if said != was {
		lines++
	}
	line := y + boxH/2 + 11 - 7*lines
	for _, name := range s.name {
		b.n(`<text class="circuit__name" x="`, x+18, `" y="`, line, `">`, name, `</text>`)
		line += 14
	}
	b.n(`<text class="circuit__pressure" x="`, x+18, `" y="`, line, `">`, said, `</text>`)
	if said != was {
		was, _, _ = strings.Cut(was, " ")
		b.n(`<text class="circuit__was" x="`, x+18, `" y="`, line+14, `">healthy `, was, `</text>`)
	}
	if drop {
		b.n(`<path class="circuit__drop" d="M`, x+s.w()-9, ` `, y+boxH/2-4, `c-8 11-5 14 0 14s8-3 0-14z"/>`)
	}
}

// pressure prints a pressure to the trade's own unit, without a sign at nothing.
func pressure(units quantity.Preference, p quantity.Pressure) string {
	if math.Abs(float64(p)) < quantity.PSI.SI(0.5) {
		p = 0
	}
	return units.Format(p.Value(), quantity.PSI, 0)
}

// The measures of a dial, in its own units.
const (
	dialR  = 42.0
	dialX  = 56.0
	dialY  = 54.0
	sweep  = 270.0 // degrees from the first mark to the last
	dialsW = 112
	dialsH = 128
)

// point is where an angle of the dial, in degrees from its first mark, is at a
// radius.
func point(degrees, r float64) (x, y float64) {
	a := (135 + degrees) * math.Pi / 180
	return dialX + r*math.Cos(a), dialY + r*math.Sin(a)
}

// dial draws a gauge that is screwed into a port.
func dial(name string, scale float64, now, healthy quantity.Pressure, units quantity.Preference) app.UI {
	said, was := pressure(units, now), pressure(units, healthy)
	u := units.Unit(quantity.PSI)
	title := name + ": " + said
	if said != was {
		title += ", healthy " + was
	}
	var b drawing
	b.n(`<svg class="circuit__dial" viewBox="0 0 `, dialsW, ` `, dialsH, `" role="img" aria-label="`, html.EscapeString(title), `"><circle class="circuit__face" cx="`, dialX, `" cy="`, dialY, `" r="50"/>`)
	const marks = 10
	for i := range marks + 1 {
		a := sweep * float64(i) / marks
		inner := dialR - 4
		if i%5 == 0 {
			inner = dialR - 8
		}
		x0, y0 := point(a, inner)
		x1, y1 := point(a, dialR)
		b.n(`<path class="circuit__mark" d="M`, x0, ` `, y0, `L`, x1, ` `, y1, `"/>`)
	}
	needle := func(class string, p quantity.Pressure, r float64) {
		x, y := point(sweep*math.Max(-0.02, math.Min(1.02, float64(p)/scale)), r)
		b.n(`<path class="`, class, `" d="M`, dialX, ` `, dialY, `L`, x, ` `, y, `"/>`)
	}
	if said != was {
		needle("circuit__ghost", healthy, dialR)
	}
	needle("circuit__needle", now, dialR-4)
	// The numbers lie over the needles, so that none is hidden.
	for i := 0; i <= marks; i += marks / 2 {
		x, y := point(sweep*float64(i)/marks, dialR-18)
		b.n(`<text class="circuit__scale" text-anchor="middle" x="`, x, `" y="`, y+4, `">`, strconv.Itoa(int(math.Round(u.From(scale)*float64(i)/marks))), `</text>`)
	}
	b.n(`<circle class="circuit__hub" cx="`, dialX, `" cy="`, dialY, `" r="5"/><text class="circuit__reads" text-anchor="middle" x="`, dialX, `" y="`, dialsH-8, `">`, said)
	if said != was {
		was, _, _ = strings.Cut(was, " ")
		b.n(` <tspan class="circuit__was">(`, was, `)</tspan>`)
	}
	b.n(`</text></svg>`)
	return app.Raw(b.String())
}
