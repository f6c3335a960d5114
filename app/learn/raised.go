package learn

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
)

// Raised tells what the usual modifications of this class buy and cost, what
// bounds them, and how a truck shows that they were made.
type Raised struct {
	app.Compo

	Session *session.Session
}

// Title names the screen.
func (*Raised) Title() string { return "Modified builds" }

// Description says what the screen is for.
func (*Raised) Description() string {
	return "Higher line pressure, stiffer shifts, firmer lock-up and other usual changes: what each buys, what it costs, what limits it, and how to tell that it was done."
}

// areaNames are the areas of the modifications as headings.
var areaNames = map[string]string{
	"pressure": "Line pressure",
	"shift":    "Shift feel",
	"lockup":   "Converter and lock-up",
	"strength": "Strength",
	"cooling":  "Cooling",
}

// Render draws the contents and every modification.
func (r *Raised) Render() app.UI {
	body := []app.UI{
		app.H1().Text(r.Title()),
		app.P().Class("lead").Text("A unit that was changed on purpose reads and shifts unlike the book. Judged as stock it is condemned for what its builder wanted; judged as raised it hides a regulator that sticks."),
		app.P().Text("Ask the owner first. Every number below names where it comes from; where sources disagree, both stand."),
		app.P().Body(app.A().Class("row__link").Href(route.Find().At("truck").Href()).Text("Say in Find that this truck's pressure is raised on purpose")),
		r.contents(),
	}
	for _, area := range catalogue.ModificationAreas {
		var changes []app.UI
		for i := range r.Session.Catalogue().Modifications {
			if m := &r.Session.Catalogue().Modifications[i]; m.Area == area {
				changes = append(changes, r.modification(m)...)
			}
		}
		if len(changes) > 0 {
			body = append(body, part.Section("area-"+area, areaNames[area], changes...))
		}
	}
	return app.Article().Body(body...)
}

func (r *Raised) contents() app.UI {
	var items []app.UI
	for _, area := range catalogue.ModificationAreas {
		for i := range r.Session.Catalogue().Modifications {
			if m := &r.Session.Catalogue().Modifications[i]; m.Area == area {
				items = append(items, app.Li().Body(app.A().Class("trees__link").Href(route.Raised().At(m.ID).Href()).Text(m.Name)))
			}
		}
	}
	return app.Nav().Aria("label", "Modifications").Body(app.Ul().Class("trees").Body(items...))
}

func (r *Raised) modification(m *catalogue.Modification) []app.UI {
	body := []app.UI{app.H3().ID(m.ID).Text(m.Name), app.P().Text(m.Means)}
	for _, p := range []struct {
		heading string
		list    []catalogue.Statement
	}{
		{"What it buys", m.Buys},
		{"What it costs", m.Costs},
		{"What limits it", m.Limits},
		{"How to tell that it was done", m.Tells},
	} {
		body = append(body, app.H4().Text(p.heading), part.Statements(r.Session.Book(), p.list))
	}
	var rows []app.UI
	for _, l := range m.Likelier {
		if f := r.Session.Catalogue().Fault(l.Fault); f != nil {
			rows = append(rows, app.Li().Class("row").Body(
				app.A().Class("row__link").Href(route.Fault(f.ID).Href()).Text(f.Name),
				app.P().Class("row__more").Text(l.Why),
			))
		}
	}
	if len(rows) > 0 {
		body = append(body, app.H4().Text("What it makes likelier"), app.Ul().Class("rows").Body(rows...))
	}
	if figures := r.figures(m); len(figures) > 0 {
		body = append(body, part.Fold("Figures to hold it against", figures...))
	}
	return body
}

// figures are the values of the sheet that a modification moves, for every
// version and build.
func (r *Raised) figures(m *catalogue.Modification) []app.UI {
	var body []app.UI
	sheet := r.Session.WholeSheet()
	for _, id := range m.Uses {
		a, ok := r.Session.Book().Acceptance(id)
		if !ok {
			continue
		}
		body = append(body,
			app.P().Body(app.A().Href(route.FigureGroup(a.Group).At(a.ID).Href()).Text(a.Name)),
			part.Values(sheet, sheet.Limits(id)),
		)
	}
	return body
}
