package screens

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
)

// Blank stands in for a screen that is not written yet.
type Blank struct {
	app.Compo
	Heading string
}

// Title is the heading.
func (b *Blank) Title() string { return b.Heading }

// Description is the heading.
func (b *Blank) Description() string { return b.Heading + "." }

// Render draws the heading and a line of text.
func (b *Blank) Render() app.UI {
	return app.Article().Body(
		app.H1().Text(b.Heading),
		app.P().Text("This screen is not written yet."),
	)
}

func frame(here route.Address, screen app.UI) app.UI {
	link := func(a route.Address, text string) app.UI {
		l := app.A().Href(a.Href()).Text(text)
		if here.Within(a) {
			l = l.Aria("current", "page")
		}
		return app.Li().Body(l)
	}
	return app.Div().Body(
		app.A().Class("skip").Href("#main").Text("Skip to the content"),
		app.Header().Body(app.Nav().Aria("label", "Main").Body(app.Ul().Body(
			link(route.Find(), "Find"),
			link(route.Checks(), "Checks"),
			link(route.Figures(), "Figures"),
			link(route.Bench(), "Bench"),
			link(route.Learn(), "Learn"),
			link(route.Jobs(), "Jobs"),
		))),
		app.Main().ID("main").Body(screen),
	)
}
