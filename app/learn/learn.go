// Package learn is the part for students: which element holds in which gear,
// what follows from the gears that slip, the decision tree of each complaint, and
// made-up trucks to practise on.
//
// Everything on these screens is computed from the gear train or asked of the
// engine. Charts and trees can be read and printed without the program.
package learn

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
)

// Screen is the start of the part for students.
type Screen struct {
	app.Compo

	Catalogue *catalogue.Catalogue
}

// Title names the screen.
func (*Screen) Title() string { return "Learn" }

// Description says what the screen leads to.
func (*Screen) Description() string {
	return "Which clutch and band is on in which gear, what a slip in one of them proves, the decision tree of every complaint, and made-up trucks to practise on."
}

// Render draws the ways on.
func (s *Screen) Render() app.UI {
	body := []app.UI{
		app.H1().Text(s.Title()),
		app.P().Class("lead").Text("Why does one check come before another, and what does a slip in one gear say about the parts? Both can be read here, on paper too."),
		app.Ul().Class("rows").Body(
			way(route.Chart(), "Which element holds in which gear", "The application chart, what turns in each gear, and what a lost element takes away."),
			way(route.Circuit(), "The hydraulic circuit", "The pressure in every circuit, in each range and with any fault, and what explains a pressure log."),
			way(route.Quiz(), "The covered chart", "Questions about it, marked and explained."),
			way(route.Practice(), "Practice on a made-up truck", "Find its faults, and see what the plan would have spent."),
			way(route.Raised(), "Modified builds", "What each usual change buys, costs and shows, and how to tell that it was made."),
		),
		app.H2().Text("Decision trees"),
		app.P().Text("One for each complaint: the first check, what it may show and how often, and what comes after that."),
	}
	for _, family := range families(s.Catalogue) {
		var items []app.UI
		for _, y := range family.symptoms {
			items = append(items, app.Li().Body(app.A().Class("trees__link").Href(route.Tree(y.ID).Href()).Text(y.Name)))
		}
		body = append(body, app.H3().Text(family.name), app.Ul().Class("trees").Body(items...))
	}
	return app.Article().Body(body...)
}

func way(to route.Address, name, more string) app.UI {
	return app.Li().Class("row").Body(
		app.A().Class("row__link").Href(to.Href()).Text(name),
		app.P().Class("row__more").Text(more))
}

// family is the symptoms that belong together.
type family struct {
	name     string
	symptoms []*catalogue.Symptom
}

// families sorts the symptoms by family, in the order in which they come up; what
// belongs to none comes last.
func families(c *catalogue.Catalogue) []family {
	var all []family
	others := family{name: "Other complaints"}
	at := map[string]int{}
	for i := range c.Symptoms {
		y := &c.Symptoms[i]
		if y.Family == "" {
			others.symptoms = append(others.symptoms, y)
			continue
		}
		k, ok := at[y.Family]
		if !ok {
			k = len(all)
			at[y.Family] = k
			all = append(all, family{name: capital(strings.ReplaceAll(y.Family, "-", " "))})
		}
		all[k].symptoms = append(all[k].symptoms, y)
	}
	if len(others.symptoms) > 0 {
		all = append(all, others)
	}
	return all
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// list puts links or words behind one another, "a, b and c".
func list(items []app.UI) []app.UI {
	var out []app.UI
	for i, x := range items {
		switch {
		case i > 0 && i == len(items)-1:
			out = append(out, app.Text(" and "))
		case i > 0:
			out = append(out, app.Text(", "))
		}
		out = append(out, x)
	}
	return out
}

func fault(f *catalogue.Fault) app.UI {
	return app.A().Href(route.Fault(f.ID).Href()).Text(f.Name)
}

func caution(c *catalogue.Catalogue, id string) []app.UI {
	if w := c.Caution(id); w != nil {
		return []app.UI{part.Caution(w)}
	}
	return nil
}
