package part

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
)

// Surroundings is what the frame shows beside the screen.
type Surroundings struct {
	Job     app.UI // the job at hand, in the header
	Search  app.UI // the search, in the header
	Answers app.UI // what the search found, under the header
	Notices app.UI // above the screen
	Undo    app.UI // above the menu
	Live    app.UI // what a screen reader says
}

// Frame draws what is around every screen: skip link, header, the menu of the
// six parts of the tool, and the screen in the main landmark. On a phone the
// menu stands at the foot of the page, under the thumb; on a wide screen at the
// side.
func Frame(here route.Address, s Surroundings, screen app.UI) app.UI {
	link := func(a route.Address, text string) app.UI {
		l := app.A().Class("menu__link").Href(a.Href()).Text(text)
		if here.Within(a) {
			l = l.Aria("current", "page")
		}
		return app.Li().Class("menu__item").Body(l)
	}
	name := app.A().Class("head__name").Href(route.Home().Href()).Text("The Proving Bench")
	if here == route.Home() {
		name = name.Aria("current", "page")
	}
	return app.Div().Class("frame").Body(
		app.A().Class("skip").Href(here.At("main").Href()).Text("Skip to the content"),
		app.Header().Class("head").Body(name, s.Job, s.Search),
		s.Answers,
		app.Nav().Class("menu").Aria("label", "Main").Body(app.Ul().Class("menu__list").Body(
			link(route.Find(), "Find"),
			link(route.Checks(), "Checks"),
			link(route.Figures(), "Figures"),
			link(route.Bench(), "Bench"),
			link(route.Learn(), "Learn"),
			link(route.Jobs(), "Jobs"),
		)),
		app.Main().Class("main").ID("main").Body(s.Notices, screen),
		app.Footer().Class("foot").Body(
			&LightSwitch{},
			app.P().Class("foot__line").Body(
				app.A().Href(route.Settings().Href()).Text("Settings"),
			),
			app.P().Class("foot__line").Body(
				app.A().Href(route.About().Href()).Text("About, cautions and sources"),
			),
			app.P().Class("foot__line").Text("The maker's manual and local rules stand above this tool."),
		),
		s.Undo,
		s.Live,
	)
}
