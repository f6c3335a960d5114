package learn

import (
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quiz"
	"provingbench/knowledge/unit"
)

// The screen's own part of the query.
const (
	querySlips = "slips"
	queryHolds = "holds"
	queryGear  = "gear"
	queryLost  = "without"
)

// Chart shows which element is on in which gear, and names the elements that
// the gears which slip and those which hold leave under suspicion.
type Chart struct {
	app.Compo

	Catalogue *catalogue.Catalogue
	Book      *unit.Book

	found  map[unit.Gear]string // querySlips or queryHolds
	gear   unit.Gear            // on show; empty for the first
	lost   unit.ElementID       // taken out of it; empty for none
	follow route.Follower
}

// Title names the screen.
func (*Chart) Title() string { return "Which element holds in which gear" }

// Description says what the screen is for.
func (*Chart) Description() string {
	return "The application chart of the clutches, bands and one-way clutches with the ratio of each gear, and which of them is to blame when certain gears slip."
}

// OnNav takes what was picked from the address.
func (c *Chart) OnNav(ctx app.Context) { c.read(ctx.Page().URL().Query()) }

func (c *Chart) read(q url.Values) {
	c.gear, c.lost = unit.Gear(q.Get(queryGear)), ""
	if _, ok := unit.ElementByID(unit.ElementID(q.Get(queryLost))); ok {
		c.lost = unit.ElementID(q.Get(queryLost))
	}
	c.found = map[unit.Gear]string{}
	for _, state := range []string{querySlips, queryHolds} {
		for _, g := range q[state] {
			if slices.Contains(tried, unit.Gear(g)) {
				c.found[unit.Gear(g)] = state
			}
		}
	}
}

// tried is the gears that a road test can try.
var tried = quiz.Tried()

// Render draws the chart, the deductions and the picker.
func (c *Chart) Render() app.UI {
	return app.Article().Body(
		app.H1().Text(c.Title()),
		app.P().Class("lead").Text("A gear slips when an element that it needs lets go. Who knows the chart by heart needs one road test to know which parts to look at."),
		app.P().Text("“On” means that the element is applied, to drive or to hold."),
		app.P().Body(app.A().Class("button", "button--plain").Href(route.Quiz().Href()).Text("Cover the chart and be asked")),
		c.table(),
		app.Ul().Class("chart__sources").Body(c.sources()...),
		c.power(),
		c.deductions(),
		c.picker(),
		c.elements(),
	)
}

// table is the chart itself: elements down, gears across, ratios at the foot.
func (c *Chart) table() app.UI {
	head := []app.UI{app.Th().Scope("col").Class("chart__element").Text("Element")}
	for _, r := range unit.Chart {
		head = append(head, app.Th().Scope("col").Class("chart__gear").Text(capital(r.Name)))
	}
	var rows []app.UI
	for _, e := range unit.Elements {
		cells := []app.UI{app.Th().Scope("row").Class("chart__element").Text(e.Name)}
		for _, r := range unit.Chart {
			cell := app.Td().Class("chart__cell")
			if r.Has(e.ID) {
				cell = app.Td().Class("chart__cell", "chart__cell--on").Text("on")
			}
			cells = append(cells, cell)
		}
		rows = append(rows, app.Tr().Body(cells...))
	}
	ratios := []app.UI{app.Th().Scope("row").Class("chart__element").Text("Ratio")}
	for _, r := range unit.Chart {
		ratios = append(ratios, app.Td().Class("chart__cell").Text(ratio(r.Gear)))
	}
	return app.Div().Class("chart").TabIndex(0).Attr("role", "region").Aria("label", "Application chart, can be scrolled sideways").Body(
		app.Table().Class("chart__table").Aria("label", "Application chart").Body(
			app.THead().Body(app.Tr().Body(head...)),
			app.TBody().Body(rows...),
			app.TFoot().Body(app.Tr().Body(ratios...)),
		),
	)
}

// ratio is the ratio of a gear as manuals print it: turns of the input shaft
// for one of the output, without the sign.
func ratio(g unit.Gear) string {
	r, err := unit.Ratio(g)
	if err != nil {
		return "none"
	}
	return strconv.FormatFloat(math.Abs(r), 'f', 2, 64)
}

// sources says where the chart comes from, each source once.
func (c *Chart) sources() []app.UI {
	type group struct {
		from  unit.Provenance
		gears []string
	}
	var groups []group
	for _, r := range unit.Chart {
		k := slices.IndexFunc(groups, func(g group) bool { return g.from == r.From })
		if k < 0 {
			k = len(groups)
			groups = append(groups, group{from: r.From})
		}
		groups[k].gears = append(groups[k].gears, r.Name)
	}
	var items []app.UI
	for _, g := range groups {
		items = append(items, app.Li().Body(app.B().Text(capital(words(g.gears))+": "), part.SourceNote(c.Book, g.from)))
	}
	return append(items, app.Li().Text("The ratios are computed from the gear train; a ring has "+strconv.FormatFloat(unit.RingToSun, 'f', 2, 64)+" times the teeth of its sun, derived from the published ratio of reverse. They are those of the gears alone, without the converter."))
}

func words(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " and " + list[len(list)-1]
}

// pattern is gears that slip together and what that leaves under suspicion.
type pattern struct {
	slips    []unit.Gear
	suspects []unit.ElementID
}

// patterns computes, for each element, which gears slip without it and which
// elements alone explain just that.
func patterns() []pattern {
	var all []pattern
	for _, e := range unit.Elements {
		slips, holds := quiz.Suffering(e.ID)
		if len(slips) == 0 || slices.ContainsFunc(all, func(p pattern) bool { return slices.Equal(p.slips, slips) }) {
			continue
		}
		all = append(all, pattern{slips, unit.Suspects(slips, holds)})
	}
	return all
}

func (c *Chart) deductions() app.UI {
	var rows []app.UI
	for _, p := range patterns() {
		rows = append(rows, app.Tr().Body(
			app.Td().Text(capital(gearNames(p.slips))),
			app.Td().Text(words(elementNames(p.suspects))),
		))
	}
	return part.Section("deductions", "What slips together",
		app.P().Text("Worked out from the gear train: take an element away, and see which gears lose their ratio. Where a second element backs it up, nothing slips."),
		app.Table().Body(
			app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text("Only these slip, or do not brake"), app.Th().Scope("col").Text("Then it is"))),
			app.TBody().Body(rows...),
		),
	)
}

func gearNames(gears []unit.Gear) string {
	var names []string
	for _, g := range gears {
		if r, ok := unit.RowOf(g); ok {
			names = append(names, r.Name)
		}
	}
	return words(names)
}

func elementNames(ids []unit.ElementID) []string {
	var names []string
	for _, id := range ids {
		if e, ok := unit.ElementByID(id); ok {
			names = append(names, strings.ToLower(e.Name))
		}
	}
	return names
}

// picker asks which gears slip and names the suspects.
func (c *Chart) picker() app.UI {
	body := caution(c.Catalogue, "road-test")
	for _, g := range tried {
		row, _ := unit.RowOf(g)
		slips, holds := "Slips", "Holds"
		if row.Braking() {
			slips, holds = "Does not brake", "Brakes"
		}
		body = append(body, &part.Choice{
			Name: "gear-" + string(g), Legend: capital(row.Name), Compact: true, Value: c.found[g],
			Options: []part.Option{{Value: "", Label: "Not tried"}, {Value: querySlips, Label: slips}, {Value: queryHolds, Label: holds}},
			OnPick:  func(ctx app.Context, state string) { c.pick(ctx, g, state) },
		})
	}
	body = append(body, app.Section().Class("result").Aria("label", "Suspects").Aria("live", "polite").Body(c.suspects()...))
	return part.Section("picker", "Which gears slip?", body...)
}

func (c *Chart) pick(ctx app.Context, g unit.Gear, state string) {
	if c.found == nil {
		c.found = map[unit.Gear]string{}
	}
	c.found[g] = state
	c.address(ctx)
}

// address puts what is picked into the address.
func (c *Chart) address(ctx app.Context) {
	q := url.Values{queryGear: {string(c.gear)}, queryLost: {string(c.lost)}}
	for _, g := range tried {
		if s := c.found[g]; s != "" {
			q.Add(s, string(g))
		}
	}
	c.follow.Follow(ctx, route.Chart().With(q))
}

func (c *Chart) suspects() []app.UI {
	var slips, holds []unit.Gear
	for _, g := range tried {
		switch c.found[g] {
		case querySlips:
			slips = append(slips, g)
		case queryHolds:
			holds = append(holds, g)
		}
	}
	if len(slips) == 0 {
		return []app.UI{app.P().Text("Say of at least one gear that it slips.")}
	}
	ids := unit.Suspects(slips, holds)
	if len(ids) == 0 {
		said := "Look for what all of them share, such as line pressure, or for two faults."
		if shared := unit.SharedBy(slips); len(shared) > 0 && len(holds) == 0 {
			said = "On in all of them: " + words(elementNames(shared)) + ". " + said
		}
		return []app.UI{&part.Verdict{Call: "unsure", Word: "No single element explains this", Because: []string{said}}}
	}
	call, word := "good", capital(words(elementNames(ids)))
	because := "It alone explains what slips and what holds."
	if len(ids) > 1 {
		call, because = "unsure", "Each of these alone explains it. Try the gears that tell them apart."
	}
	out := []app.UI{&part.Verdict{Call: call, Word: word, Because: []string{because}}}
	for _, id := range ids {
		e, _ := unit.ElementByID(id)
		var links []app.UI
		for _, f := range faultsOf(c.Catalogue, id) {
			links = append(links, fault(f))
		}
		if len(links) > 0 {
			out = append(out, app.P().Body(append([]app.UI{app.B().Text(e.Name + ": ")}, list(links)...)...))
		}
	}
	return out
}

// faultsOf lists the faults of an element that make a gear slip. The ids of an
// element's faults begin with the element's own.
func faultsOf(c *catalogue.Catalogue, id unit.ElementID) []*catalogue.Fault {
	var faults []*catalogue.Fault
	for i := range c.Faults {
		f := &c.Faults[i]
		if !strings.HasPrefix(f.ID, string(id)+"-") {
			continue
		}
		if slices.ContainsFunc(f.Symptoms, func(l catalogue.Link) bool {
			y := c.Symptom(l.ID)
			return y != nil && y.Family == "slips"
		}) {
			faults = append(faults, f)
		}
	}
	return faults
}

// elements says what each element does and what puts it on.
func (c *Chart) elements() app.UI {
	var rows []app.UI
	for _, e := range unit.Elements {
		rows = append(rows, app.Div().Class("element").Body(
			app.Dt().Class("element__name").Text(e.Name),
			app.Dd().Class("element__does").Text(capital(string(e.Kind))+"; "+e.Does+". Put on by "+e.Applied+"."),
			app.Dd().Class("element__does").Body(part.SourceNote(c.Book, e.From)),
		))
	}
	return part.Section("elements", "What each element does", app.Dl().Class("elements").Body(rows...))
}
