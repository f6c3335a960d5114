package search

import (
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/answer"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// kindWords name the kinds on screen.
var kindWords = map[answer.Kind]string{
	answer.Value: "Value", answer.Part: "Part", answer.Code: "Code", answer.Symptom: "Symptom", answer.Fault: "Fault",
	answer.Check: "Check", answer.Gear: "Gear", answer.Caution: "Caution", answer.Change: "Modification",
}

// hit draws one answer: the first in full, the others as a line.
func (d *Desk) hit(i int, h answer.Hit) app.UI {
	var about answer.About
	switch {
	case i == 0:
		about = d.session.About(h, d.answer.Version)
	case h.Kind == answer.Value:
		about.Figures = []answer.Figure{d.session.Figure(h.ID, d.answer.Version)}
	}
	head := []app.UI{
		app.Span().Class("answer__kind").Text(kindWords[h.Kind]),
		app.A().Class("answer__name").ID(placeFirst + strconv.Itoa(i)).Href(d.address(h, about).Href()).Text(h.Name),
	}
	if i > 0 {
		if line := d.line(h, about); line != "" {
			head = append(head, app.P().Class("answer__line").Text(line))
		}
		return app.Li().Class("answer").Body(head...)
	}
	body := append(head, d.lead(h, about)...)
	return app.Li().Class("answer", "answer--first").Body(append(body, d.beside(h, about)...)...)
}

// address is where a hit has its place.
func (d *Desk) address(h answer.Hit, about answer.About) route.Address {
	switch h.Kind {
	case answer.Value:
		return figure(about.Figures, h.ID)
	case answer.Part:
		return address(h.Name)
	case answer.Code:
		return route.Code(h.ID)
	case answer.Symptom:
		return route.Symptom(h.ID)
	case answer.Fault:
		return route.Fault(h.ID)
	case answer.Check:
		return route.Check(h.ID)
	case answer.Gear:
		return route.Chart()
	case answer.Change:
		return route.Raised().At(h.ID)
	}
	return route.About().At("cautions")
}

// figure is where a value stands in the sheet.
func figure(figures []answer.Figure, id string) route.Address {
	for _, f := range figures {
		if f.Acceptance.ID == id {
			return route.FigureGroup(f.Acceptance.Group).At(id)
		}
	}
	return route.Figures().At(id)
}

// lead is the answer itself, to be read aloud.
func (d *Desk) lead(h answer.Hit, about answer.About) []app.UI {
	c := d.session.Catalogue()
	switch h.Kind {
	case answer.Value:
		return d.figures(about.Figures, false)
	case answer.Part:
		body := d.figures(about.Figures, true)
		if p := c.Part(h.ID); p != nil {
			body = append(body, app.P().Text(p.Does))
		}
		return body
	case answer.Code:
		if k := c.Code(h.ID); k != nil {
			return []app.UI{app.P().Class("answer__says").Text(k.Means), part.SourceNote(d.session.Book(), k.From)}
		}
	case answer.Fault:
		if f := c.Fault(h.ID); f != nil {
			return []app.UI{app.P().Class("answer__says").Text(f.How)}
		}
	case answer.Check:
		if k := c.Check(h.ID); k != nil {
			return append([]app.UI{app.P().Class("answer__says").Text(k.Purpose)}, d.figures(about.Figures, true)...)
		}
	case answer.Gear:
		if r, ok := unit.RowOf(unit.Gear(h.ID)); ok {
			return d.gear(r)
		}
	case answer.Caution:
		if w := c.Caution(h.ID); w != nil {
			return []app.UI{part.Caution(w)}
		}
	case answer.Change:
		for i := range c.Modifications {
			if m := &c.Modifications[i]; m.ID == h.ID {
				return append([]app.UI{app.P().Class("answer__says").Text(m.Means)}, d.figures(about.Figures, true)...)
			}
		}
	}
	return nil
}

// gear says which elements are on, and the ratio.
func (d *Desk) gear(r unit.Row) []app.UI {
	var on []string
	for _, id := range r.On {
		if e, ok := unit.ElementByID(id); ok {
			on = append(on, e.Name)
		}
	}
	body := []app.UI{
		app.P().Class("answer__says").Text("On: " + strings.Join(on, ", ") + "."),
		part.SourceNote(d.session.Book(), r.From),
	}
	if ratio, err := unit.Ratio(r.Gear); err == nil {
		body = append(body, app.P().Text("Ratio "+strconv.FormatFloat(math.Abs(ratio), 'f', 2, 64)+", turns of the input shaft for one of the output, computed from the gear train."))
	}
	return body
}

// figures shows values large, each with its condition and its source: of the
// truck at hand, or of each version under its name.
func (d *Desk) figures(all []answer.Figure, named bool) []app.UI {
	var body []app.UI
	for _, f := range all {
		if named {
			body = append(body, app.P().Class("answer__of").Text(f.Acceptance.Name))
		}
		if len(f.Columns) == 1 {
			if v := part.Versions(f.Columns[0].Versions); v != "" {
				body = append(body, app.P().Class("answer__version").Text("For the "+v))
			}
			body = append(body, several(f.Columns[0].Limits)...)
			body = append(body, part.Values(d.session.WholeSheet(), f.Columns[0].Limits))
			continue
		}
		var cells []app.UI
		for _, c := range f.Columns {
			limits := make([]unit.Limit, len(c.Limits))
			for i, l := range c.Limits {
				limits[i] = l
				limits[i].Condition.Versions = nil // they stand above
			}
			cells = append(cells, app.Div().Class("versions__one").Body(
				app.Dt().Class("versions__name").Text(capital(part.Versions(c.Versions))),
				app.Dd().Class("versions__limits").Body(append(several(c.Limits), part.Values(d.session.WholeSheet(), limits))...),
			))
		}
		body = append(body, app.Dl().Class("versions").Body(cells...))
	}
	return body
}

// several warns where more than one figure holds for the same state.
func several(limits []unit.Limit) []app.UI {
	if note := part.Several(limits); note != "" {
		return []app.UI{app.P().Class("answer__several").Body(part.Icon("unsure"), app.Span().Text(note))}
	}
	return nil
}

// beside is what belongs to the answer: what goes with the part, what to ask the
// caller, and where to read on.
func (d *Desk) beside(h answer.Hit, about answer.About) []app.UI {
	var body []app.UI
	section := func(heading string, rows []app.UI) {
		if len(rows) > 0 {
			body = append(body, app.P().Class("answer__heading").Text(heading), app.Ul().Class("answer__rows").Body(rows...))
		}
	}
	row := func(text string) app.UI { return app.Li().Text(text) }
	link := func(a route.Address, text, more string) app.UI {
		body := []app.UI{app.A().Class("answer__link").Href(a.Href()).Text(text)}
		if more != "" {
			body = append(body, app.Span().Text(more))
		}
		return app.Li().Body(body...)
	}
	var rows []app.UI
	if about.AskVersion {
		rows = append(rows, link(route.Figures().At("identify"), "Which version is it: light, mid or late?", ""))
	}
	if about.AskBuild {
		rows = append(rows, row("Was the line pressure raised on purpose?"))
	}
	for _, q := range about.Ask {
		rows = append(rows, row(q))
	}
	section("Ask the caller", rows)
	rows = nil
	for _, t := range about.With {
		rows = append(rows, row(together(t)))
	}
	section("What goes with it", rows)
	rows = nil
	for _, f := range about.More {
		rows = append(rows, link(figure(about.More, f.Acceptance.ID), f.Acceptance.Name, ": "+d.brief(f)))
	}
	section("Values of the same part", rows)
	rows = nil
	for _, f := range about.Faults {
		rows = append(rows, link(route.Fault(f.ID), f.Name, ""))
	}
	section("What can be wrong, the commonest first", rows)
	rows = nil
	for _, k := range about.Checks {
		rows = append(rows, link(route.Check(k.ID), k.Name, ""))
	}
	switch h.Kind {
	case answer.Fault, answer.Part:
		section("Proved by", rows)
	case answer.Code:
		section("Check next", rows)
	default:
		section("Checked in", rows)
	}
	if h.Kind == answer.Symptom {
		body = append(body, app.P().Body(app.A().Class("answer__link").Href(route.Tree(h.ID).Href()).Text("The order of checks for this complaint")))
	}
	return body
}

// line is an answer in one line, for those after the first.
func (d *Desk) line(h answer.Hit, about answer.About) string {
	c := d.session.Catalogue()
	switch h.Kind {
	case answer.Value:
		if len(about.Figures) == 1 {
			return d.brief(about.Figures[0])
		}
	case answer.Part:
		if p := c.Part(h.ID); p != nil {
			return p.Does
		}
	case answer.Check:
		if k := c.Check(h.ID); k != nil {
			return k.Purpose
		}
	case answer.Code:
		if k := c.Code(h.ID); k != nil {
			return k.Means
		}
	case answer.Gear:
		if r, ok := unit.RowOf(unit.Gear(h.ID)); ok {
			var on []string
			for _, id := range r.On {
				if e, ok := unit.ElementByID(id); ok {
					on = append(on, e.Name)
				}
			}
			return strings.Join(on, ", ")
		}
	case answer.Symptom:
		if s := c.Symptom(h.ID); s != nil {
			return s.Ask
		}
	}
	return ""
}

// mostBrief is how many figures fit in a line.
const mostBrief = 3

// brief is a value in one line: each figure with its version, its condition and
// where it comes from. A value of many conditions says so instead.
func (d *Desk) brief(f answer.Figure) string {
	var said []string
	n := 0
	for _, c := range f.Columns {
		for _, l := range c.Limits {
			n++
			text := part.LimitText(d.session.Units(), l)
			var when []string
			if len(f.Columns) > 1 {
				when = append(when, part.Versions(c.Versions))
			}
			condition := l.Condition
			condition.Versions = nil
			if w := part.ConditionWords(condition, true); w != "" {
				when = append(when, w)
			}
			when = append(when, strings.ToLower(part.ProvenanceWord(l.Provenance.Kind)))
			said = append(said, text+" ("+strings.Join(when, ", ")+")")
		}
	}
	switch {
	case n == 0:
		return "not known for this version and build"
	case n > mostBrief:
		return "by condition, " + strconv.Itoa(n) + " figures"
	}
	return strings.Join(said, "; ")
}

// together is a part that goes with a repair, and why.
func together(t catalogue.Together) string {
	return t.Part + ": " + strings.TrimSuffix(t.Why, ".") + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
