// Package home is where the tool opens.
package home

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
)

// Screen says what the tool is and leads to where the work goes on.
type Screen struct {
	app.Compo
	Session *session.Session

	ctx         app.Context
	installable bool
	installed   bool
}

// Title names the screen.
func (*Screen) Title() string { return "From complaint to proved cause" }

// Description says what the tool is.
func (*Screen) Description() string {
	return "An offline field reference for rebuilders of the four-speed truck automatic: complaint, causes, next check, verdict on the reading, repair."
}

// OnMount reads the job at hand and whether the tool can be installed.
func (s *Screen) OnMount(ctx app.Context) {
	s.ctx = ctx
	s.Session.Watch(s)
	s.Session.Open()
	s.OnAppInstallChange(ctx)
}

// OnAppInstallChange follows the browser's offer to install.
func (s *Screen) OnAppInstallChange(ctx app.Context) {
	s.installable, s.installed = ctx.IsAppInstallable(), dom.Installed()
}

// Render draws the screen.
func (s *Screen) Render() app.UI {
	body := []app.UI{
		app.H1().Text("From complaint to proved cause"),
		app.P().Class("lead").Text("For the four-speed, rear-drive truck automatic with the electronically controlled governor. Enter what the customer says; it ranks the causes, names the check that tells the most for its minutes, judges your readings, and says what is proved, what is not, and what the repair needs. It works without a signal."),
	}
	if j := s.Session.Job(); j != nil {
		body = append(body,
			app.P().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go on: "+j.Name)),
			app.Div().Class("buttons").Body(&part.Button{Text: "Start a new job", OnPress: func(app.Context) {
				s.Session.Start()
				s.ctx.Navigate(route.Find().Href())
			}}),
		)
	} else {
		body = append(body, app.P().Class("buttons").Body(
			app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Start with a complaint")))
	}
	way := func(a route.Address, name, what string) app.UI {
		return app.Li().Class("row").Body(app.A().Class("row__link").Href(a.Href()).Text(name), app.P().Class("row__more").Text(what))
	}
	body = append(body,
		part.Section("ways", "What is here", app.Ul().Class("rows").Body(
			way(route.Find(), "Find", "A complaint to its cause and repair."),
			way(route.Checks(), "Checks", "Every check with steps, cautions and what is good."),
			way(route.Figures(), "Figures", "Pressures, ohms, torques, turns and clearances, each with where it comes from."),
			way(route.Bench(), "Bench", "Calculators for parts in hand."),
			way(route.Learn(), "Learn", "Which element holds in which gear, and why a check comes next."),
			way(route.Jobs(), "Jobs", "The trucks you work on. Kept on this device."),
		)),
		part.Section("install", "Keep it on the phone", s.install()...),
		app.P().Class("soft").Body(app.Text("The maker's manual for the unit at hand and local rules stand above this tool. "),
			app.A().Href(route.About().Href()).Text("Cautions, sources, and how the numbers come about")),
	)
	return app.Article().Body(body...)
}

func (s *Screen) install() []app.UI {
	if s.installed {
		return []app.UI{app.P().Text("It is installed. Everything works without a signal.")}
	}
	body := []app.UI{app.P().Text("Once a page has been opened with a signal, everything works without one. On the home screen it opens like any other app, and the phone keeps your jobs longer.")}
	if s.installable {
		body = append(body, app.Div().Class("buttons").Body(&part.Button{Text: "Install", Of: "on this device", OnPress: func(ctx app.Context) { ctx.ShowAppInstallPrompt() }}))
	}
	return append(body, app.Ul().Class("list").Body(
		app.Li().Text("On an iPhone or iPad: tap Share, then Add to Home Screen."),
		app.Li().Text("On an Android phone: open the browser's menu, then Install or Add to Home screen."),
		app.Li().Text("On a computer: the install mark stands in the address bar."),
	))
}
