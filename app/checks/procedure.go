package checks

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// procedure is the steps of a check with their cautions, values and drawings. It
// is a component of its own because nothing in it hangs on what was found: an
// answer draws the rest of the page anew and leaves this as it is.
type procedure struct {
	app.Compo

	Catalogue *catalogue.Catalogue
	ID        string
	Sheet     unit.Sheet
}

// Render draws the steps.
func (p *procedure) Render() app.UI {
	c, k, sheet := p.Catalogue, p.Catalogue.Check(p.ID), p.Sheet
	var steps []app.UI
	for _, s := range k.Steps {
		var body []app.UI
		for _, id := range s.Cautions {
			if w := c.Caution(id); w != nil {
				body = append(body, part.Caution(w))
			}
		}
		body = append(body, app.P().Class("step__do").Text(s.Do))
		for _, id := range s.Values {
			if a, ok := sheet.Book.Acceptance(id); ok {
				body = append(body, app.Div().Class("step__value").Body(
					app.A().Href(route.FigureGroup(a.Group).At(a.ID).Href()).Text(a.Name),
					part.Values(sheet, sheet.Limits(id)),
				))
			}
		}
		if d := c.Drawing(s.Drawing); d != nil {
			body = append(body, part.Drawing(sheet, d))
		}
		steps = append(steps, app.Li().Class("step").Body(body...))
	}
	var out []app.UI
	for _, id := range k.Drawings {
		if d := c.Drawing(id); d != nil {
			out = append(out, part.Drawing(sheet, d))
		}
	}
	out = append(out, app.Ol().Class("steps").Body(steps...))
	if k.Trap != "" {
		out = append(out, app.P().Class("trap").Body(app.B().Text("How it goes wrong: "), app.Text(k.Trap)))
	}
	return part.Section("steps", "Steps", out...)
}
