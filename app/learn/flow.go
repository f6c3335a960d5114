package learn

import (
	"errors"
	"fmt"
	"html"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/unit"
)

// A member of the gear train in the drawing: where it stands, and what it is in the
// sets beside it. Lengths are in the drawing's own units, about a phone's pixels.
type place struct {
	member  unit.Member
	x, y, h int
	at      []int    // heights of the sets that it is part of
	roles   []string // in each of them: sun, ring or carrier
	name    int      // height of its name
}

const memberWidth = 96

var places = []place{
	{unit.SunGear, 48, 108, 186, []int{124, 230}, []string{"sun", "sun"}, 170},
	{unit.FrontRing, 156, 108, 80, []int{124}, []string{"ring"}, 145},
	{unit.RearCarrier, 156, 214, 80, []int{230}, []string{"carrier"}, 251},
	{unit.IntermediateShaft, 264, 108, 352, []int{124, 230, 396}, []string{"carrier", "ring", "carrier"}, 290},
	{unit.OverdriveSun, 48, 380, 80, []int{396}, []string{"sun"}, 417},
	{unit.OutputShaft, 156, 380, 80, []int{396}, []string{"ring"}, 424},
}

// grip is where an element stands in the drawing, and what joins it to the members.
type grip struct {
	element    unit.ElementID
	x, y, w, h int
	stems      string // path of the lines to what it ties
	ground     string // path of the case that it holds to; empty for one that joins two members
	lines      []string
}

var grips = []grip{
	{unit.FrontClutch, 48, 56, 96, 38, "M96 44v12M96 94v14", "", []string{"Front clutch", ""}},
	{unit.RearClutch, 156, 56, 96, 38, "M204 44v12M204 94v14", "", []string{"Rear clutch", ""}},
	{unit.FrontBand, 6, 140, 36, 122, "M42 201h6", "M3 140v122", []string{"Front band", ""}},
	{unit.RearBand, 48, 318, 96, 38, "M180 294v12H96v12", "M48 359h96", []string{"Rear band", ""}},
	{unit.OverrunningClutch, 156, 318, 96, 38, "M216 294v24", "M156 359h96", []string{"Overrunning", "clutch: "}},
	{unit.OverdriveClutch, 6, 360, 36, 120, "M42 420h6", "M3 360v120", []string{"Overdrive clutch", ""}},
	{unit.DirectClutch, 48, 476, 124, 38, "M96 460v16M166 460v16", "", []string{"Direct clutch", ""}},
	{unit.OverdriveOverrunningClutch, 190, 476, 170, 38, "M234 460v16M312 460v16", "", []string{"Overdrive overrunning", "clutch: "}},
}

// sets are the frames around what meshes.
var sets = []struct {
	name   string
	x      int // of the name
	top    int
	middle int // height of the teeth
}{{"Front set", 312, 101, 160}, {"Rear set", 204, 207, 266}, {"Overdrive set", 204, 373, 432}}

// flow draws which members turn, stand or run free while the elements are on. It is
// not to scale and not how the parts lie in the case: three columns in which each
// member is one piece.
func flow(on []unit.ElementID, lost unit.ElementID) string {
	speeds, err := unit.MemberSpeeds(on)
	if err != nil {
		speeds = nil // every member is shown as free
	}
	var b strings.Builder
	b.WriteString(`<svg class="flow" viewBox="0 0 362 568" role="img" aria-label="Power flow; the table below says the same">` +
		`<defs><pattern id="flow-held" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path class="flow__hatch" d="M0 0v8"/></pattern></defs>`)
	for _, s := range sets {
		fmt.Fprintf(&b, `<rect class="flow__set" x="43" y="%d" width="318" height="94" rx="6"/><text class="flow__role" x="%d" y="%d" text-anchor="middle">%s</text>`, s.top, s.x, s.top-3, s.name)
		for _, x := range []int{146, 254} {
			fmt.Fprintf(&b, `<path class="flow__teeth" d="M%d %dl8 4-8 4 8 4-8 4 8 4-8 4"/>`, x, s.middle)
		}
	}
	shaft := func(x, y, w int, text string, class string) {
		fmt.Fprintf(&b, `<rect class="flow__member" data-state="%s" x="%d" y="%d" width="%d" height="36" rx="4"/><text class="flow__name" x="%d" y="%d" text-anchor="middle">%s</text>`,
			class, x, y, w, x+w/2, y+23, html.EscapeString(text))
	}
	shaft(50, 8, 200, "Input shaft: turns 1.00", "turns")
	out, said := motion(speeds, unit.OutputShaft)
	b.WriteString(`<path class="flow__stem" data-state="on" d="M181 460v68"/>`)
	shaft(104, 528, 200, "To the wheels: "+said, out)

	for _, p := range places {
		state, said := motion(speeds, p.member)
		fill := ""
		if state == "held" {
			fill = `<rect fill="url(#flow-held)" x="` + strconv.Itoa(p.x) + `" y="` + strconv.Itoa(p.y) + `" width="` + strconv.Itoa(memberWidth) + `" height="` + strconv.Itoa(p.h) + `" rx="4"/>`
		}
		fmt.Fprintf(&b, `<rect class="flow__member" data-state="%s" x="%d" y="%d" width="%d" height="%d" rx="4"/>%s`, state, p.x, p.y, memberWidth, p.h, fill)
		for i, role := range p.roles {
			fmt.Fprintf(&b, `<text class="flow__role" x="%d" y="%d" text-anchor="middle">%s</text>`, p.x+memberWidth/2, p.at[i], role)
		}
		y := p.name
		for _, line := range wrap(capital(string(p.member)), 12) {
			fmt.Fprintf(&b, `<text class="flow__name" x="%d" y="%d" text-anchor="middle">%s</text>`, p.x+memberWidth/2, y, html.EscapeString(line))
			y += 15
		}
		fmt.Fprintf(&b, `<text class="flow__speed" x="%d" y="%d" text-anchor="middle">%s</text>`, p.x+memberWidth/2, y+2, said)
	}
	for _, g := range grips {
		g.draw(&b, on, lost)
	}
	b.WriteString(`</svg>`)
	return b.String()
}

func (g grip) draw(b *strings.Builder, on []unit.ElementID, lost unit.ElementID) {
	state := "off"
	for _, id := range on {
		if id == g.element {
			state = "on"
		}
	}
	word := state
	if g.element == lost {
		state, word = "lost", "taken out"
	}
	fmt.Fprintf(b, `<path class="flow__stem" data-state="%s" d="%s"/><rect class="flow__grip" data-state="%s" x="%d" y="%d" width="%d" height="%d"/>`, state, g.stems, state, g.x, g.y, g.w, g.h)
	if g.ground != "" {
		fmt.Fprintf(b, `<path class="flow__ground" d="%s"/>`, g.ground)
	}
	if state == "lost" {
		fmt.Fprintf(b, `<path class="flow__cross" d="M%d %dl%d %dm0 %dl%d %d"/>`, g.x, g.y, g.w, g.h, -g.h, -g.w, g.h)
	}
	x, y, turn := g.x+g.w/2, g.y+g.h/2, ""
	if g.h > g.w {
		turn = fmt.Sprintf(` transform="rotate(-90 %d %d)"`, x, y)
	}
	lines := []string{g.lines[0], g.lines[1] + word}
	for i, line := range lines {
		fmt.Fprintf(b, `<text class="flow__label" data-state="%s" x="%d" y="%d" text-anchor="middle"%s>%s</text>`, state, x, y-4+15*i, turn, html.EscapeString(line))
	}
}

// motion says how a member moves: its kind and in words.
func motion(speeds map[unit.Member]float64, m unit.Member) (state, said string) {
	w, ok := speeds[m]
	switch {
	case !ok:
		return "free", "free"
	case math.Abs(w) < 0.005:
		return "held", "held"
	case w < 0:
		return "turns", "back " + decimal(-w)
	}
	return "turns", "turns " + decimal(w)
}

func decimal(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

// members lists the parts of the gear train in the order of the power.
var members = []unit.Member{unit.InputShaft, unit.FrontRing, unit.SunGear, unit.RearCarrier, unit.IntermediateShaft, unit.OverdriveSun, unit.OutputShaft}

// power is the part of the chart's screen that shows one gear at work, whole or
// without an element.
func (c *Chart) power() app.UI {
	row, _ := unit.RowOf(c.at())
	on := row.On
	var gears []part.Option
	for _, r := range unit.Chart {
		gears = append(gears, part.Option{Value: string(r.Gear), Label: capital(r.Name)})
	}
	whole := []part.Option{{Value: "", Label: "None"}}
	for _, e := range unit.Elements {
		whole = append(whole, part.Option{Value: string(e.ID), Label: e.Name})
	}
	said := []app.UI{&part.Verdict{Call: "none", Word: capital(row.Name), Value: c.drives(on), Because: []string{"On: " + words(elementNames(on)) + "."}}}
	if c.lost != "" {
		l, err := unit.Without(row.Gear, c.lost)
		if err == nil {
			on = l.Left
			call := "good"
			if l.Used && (len(l.Catch) > 0 || !l.Drives()) && row.Range != unit.Park && row.Range != unit.NeutralN {
				call = "bad"
			}
			e, _ := unit.ElementByID(c.lost)
			said = []app.UI{&part.Verdict{Call: call, Word: capital(row.Name) + " without the " + strings.ToLower(e.Name), Value: c.drives(on), Because: []string{lossWords(row, l)}}}
		}
	}
	body := []app.UI{
		app.P().Text("Pick a gear to see what turns. Take an element out to see what the rest makes of it. The engine turns the input shaft once; speeds are turns for that, and where the wheels drive the engine they read the same way."),
		&part.Choice{Name: "flow-gear", Legend: "Gear", Compact: true, Value: string(c.at()), Options: gears, OnPick: func(ctx app.Context, g string) {
			c.gear = unit.Gear(g)
			c.address(ctx)
		}},
		&part.Choice{Name: "flow-lost", Legend: "Take out", Compact: true, Value: string(c.lost), Options: whole, OnPick: func(ctx app.Context, id string) {
			c.lost = unit.ElementID(id)
			c.address(ctx)
		}},
		app.Div().Aria("live", "polite").Body(said...),
		app.Div().Class("flow__frame").Body(app.Raw(flow(on, c.lost))),
		app.P().Class("soft").Text("Hatched: held to the case. Heavy edge: turns. Dashed edge: free, nothing fixes its speed. Elements in black are on, those in dashes off; crossed is taken out. A drawing of what is joined to what, not of where it lies in the case."),
		c.speeds(on),
	}
	if c.lost != "" {
		body = append(body, c.losses())
	}
	return part.Section("power", "Power flow", body...)
}

// at is the gear on show.
func (c *Chart) at() unit.Gear {
	if _, ok := unit.RowOf(c.gear); ok {
		return c.gear
	}
	return unit.First
}

// drives says what a set of elements makes of the input.
func (c *Chart) drives(on []unit.ElementID) string {
	i, err := unit.RatioWith(on)
	switch {
	case errors.Is(err, unit.ErrFree):
		return "The output is not driven"
	case err != nil:
		return "Tied up"
	case i < 0:
		return "Ratio " + decimal(-i) + ", the output turns backward"
	}
	return "Ratio " + decimal(i)
}

// lossWords says what a gear does without an element.
func lossWords(row unit.Row, l unit.Loss) string {
	whole, err := unit.Ratio(row.Gear)
	switch {
	case err != nil:
		return "Nothing is driven here anyway."
	case !l.Used:
		return "As before: it is not on in this gear."
	case len(l.Catch) > 0:
		return fmt.Sprintf("This ratio is lost. The %s catches, and the truck drives at %s instead of %s.", words(elementNames(l.Catch)), decimal(math.Abs(l.Ratio)), decimal(math.Abs(whole)))
	case l.Drives():
		return "As before: what is left does the same, so that nothing is felt."
	case row.Braking():
		return "No engine braking: the engine falls to idle."
	}
	return "No drive: the engine races."
}

func (c *Chart) losses() app.UI {
	e, _ := unit.ElementByID(c.lost)
	var rows []app.UI
	for _, g := range tried {
		row, _ := unit.RowOf(g)
		if l, err := unit.Without(g, c.lost); err == nil {
			rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(capital(row.Name)), app.Td().Text(lossWords(row, l))))
		}
	}
	return app.Div().Body(
		app.H3().Text("Every gear without the "+strings.ToLower(e.Name)),
		app.P().Text("Solved again from the gear train. An element that only slips does the same in part, and wears on."),
		app.Table().Body(app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text("Gear"), app.Th().Scope("col").Text("What happens"))), app.TBody().Body(rows...)),
	)
}

// speeds is the drawing as a table, with the sum of each set.
func (c *Chart) speeds(on []unit.ElementID) app.UI {
	speeds, err := unit.MemberSpeeds(on)
	if err != nil {
		return app.P().Text("These elements fight each other.")
	}
	var rows []app.UI
	for _, m := range members {
		_, said := motion(speeds, m)
		rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(capital(string(m))), app.Td().Text(said)))
	}
	train, err := unit.GearTrain(unit.RingToSun)
	if err != nil {
		return app.P().Text("The gear train can't be worked out.")
	}
	k := decimal(unit.RingToSun)
	var sums []app.UI
	for _, s := range train.Sets {
		said := capital(s.Name) + ": "
		w := map[unit.Member]string{}
		for _, m := range []unit.Member{s.Sun, s.Ring, s.Carrier} {
			if x, ok := speeds[m]; ok {
				w[m] = strings.Replace(decimal(x+0), "-0.00", "0.00", 1)
			} else {
				w[m] = "free"
			}
		}
		sums = append(sums, app.Li().Text(said+"sun "+w[s.Sun]+" + "+k+" × ring "+w[s.Ring]+" = "+decimal(1+unit.RingToSun)+" × carrier "+w[s.Carrier]))
	}
	return app.Div().Body(
		app.Table().Body(
			app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text("Member"), app.Th().Scope("col").Text("For one turn of the input"))),
			app.TBody().Body(rows...)),
		part.Fold("The sum behind it",
			app.P().Text("In each planetary set, speed of the sun + teeth ratio × speed of the ring = (1 + teeth ratio) × speed of the carrier (Willis). Elements that are on make two speeds equal, or one zero."),
			app.Ul().Class("list").Body(sums...)),
	)
}

// wrap breaks text into lines of at most so many letters, at its spaces; a longer
// word gets a line of its own.
func wrap(text string, most int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(text, " ") {
		switch {
		case line == "":
			line = word
		case len([]rune(line))+1+len([]rune(word)) <= most:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
