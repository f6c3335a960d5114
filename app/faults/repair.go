package faults

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// Repair shows what to do about a fault: what to renew, rework and set, the
// values that the work needs, what goes with it, and which checks prove it. The heading level is that
// of the parts of the text around it.
func Repair(c *catalogue.Catalogue, sheet unit.Sheet, f *catalogue.Fault) app.UI {
	var body []app.UI
	add := func(heading string, items []string) {
		if len(items) > 0 {
			body = append(body, app.H4().Class("repair__heading").Text(heading), bullets(items))
		}
	}
	if l := c.Level(f.Needs); l != nil {
		body = append(body, app.P().Text("Done at: "+lower(l.Name)+"."))
	}
	add("Renew", f.Repair.Renew)
	add("Rework", f.Repair.Rework)
	add("Set", f.Repair.Set)
	if values := uses(sheet, f.Repair.Uses); len(values) > 0 {
		body = append(body, app.H4().Class("repair__heading").Text("Values it needs"))
		body = append(body, values...)
	}
	if len(f.Repair.Together) > 0 {
		var rows []app.UI
		for _, t := range f.Repair.Together {
			rows = append(rows, app.Li().Body(app.B().Text(capital(t.Part)), app.Text(": "+t.Why)))
		}
		body = append(body, app.H4().Class("repair__heading").Text("Goes with it"), app.Ul().Class("list").Body(rows...))
	}
	if proof := proof(c, f); proof != nil {
		body = append(body, app.H4().Class("repair__heading").Text("Do again to prove the repair"), proof)
	}
	if f.Excused != "" {
		body = append(body, app.P().Text("On a unit with its "+part.Builds([]unit.Build{f.Excused})+", this is a setting and not a fault."))
	}
	return app.Div().Class("repair").Body(body...)
}

// proof links the checks that show that the repair has worked.
func proof(c *catalogue.Catalogue, f *catalogue.Fault) app.UI {
	var rows []app.UI
	for _, id := range f.Repair.Proof {
		if k := c.Check(id); k != nil {
			rows = append(rows, app.Li().Body(app.A().Href(route.Check(k.ID).Href()).Text(k.Name)))
		}
	}
	if len(rows) == 0 {
		return nil
	}
	return app.Ul().Class("list").Body(rows...)
}

func uses(sheet unit.Sheet, ids []string) []app.UI {
	var out []app.UI
	for _, id := range ids {
		a, ok := sheet.Book.Acceptance(id)
		if !ok {
			continue
		}
		out = append(out,
			app.P().Class("repair__value").Body(
				app.A().Href(route.FigureGroup(a.Group).At(a.ID).Href()).Text(a.Name)),
			part.Values(sheet, sheet.Limits(id)),
		)
	}
	return out
}

func bullets(items []string) app.UI {
	var rows []app.UI
	for _, i := range items {
		rows = append(rows, app.Li().Text(capital(i)))
	}
	return app.Ul().Class("list").Body(rows...)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
