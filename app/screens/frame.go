package screens

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/search"
	"provingbench/app/session"
	"provingbench/app/settings"
)

// frame draws what is around the screens, with the job at hand in it.
func frame(s *session.Session, desk *search.Desk) func(route.Address, app.UI) app.UI {
	return func(here route.Address, screen app.UI) app.UI {
		return part.Frame(here, part.Surroundings{
			Job:     &jobLine{Session: s},
			Search:  &search.Box{Desk: desk, Here: here},
			Answers: &search.Answers{Desk: desk, Here: here},
			Notices: &notices{Session: s},
			Undo:    &undoBar{Session: s},
			Live:    &live{Session: s},
		}, screen)
	}
}

// jobLine says in the header which job is at hand.
type jobLine struct {
	app.Compo
	Session *session.Session
}

func (l *jobLine) OnMount(app.Context) {
	l.Session.Watch(l)
	l.Session.Open()
	settings.Dress(l.Session)
}

func (l *jobLine) Render() app.UI {
	j := l.Session.Job()
	if j == nil {
		return app.P().Class("head__job").Text("No job open")
	}
	return app.P().Class("head__job").Body(
		app.A().Class("head__link").Href(route.Jobs().Href()).Text(j.Name),
	)
}

// notices tells what the store could not do as asked.
type notices struct {
	app.Compo
	Session *session.Session
}

func (n *notices) OnMount(app.Context) { n.Session.Watch(n) }

func (n *notices) Render() app.UI {
	var all []app.UI
	for _, t := range n.Session.Notices() {
		all = append(all, &part.Notice{Text: t.Text, OnClose: func(app.Context) {
			n.Session.Dismiss(t.Key)
			n.Update()
		}})
	}
	return app.Div().Body(all...)
}

// undoBar offers to take the last change back, above the menu.
type undoBar struct {
	app.Compo
	Session *session.Session
}

func (u *undoBar) OnMount(app.Context) { u.Session.Watch(u) }

// OnNav lets the change stand when the user goes on to something else.
func (u *undoBar) OnNav(app.Context) { u.Session.Keep() }

func (u *undoBar) Render() app.UI {
	text := u.Session.Undoable()
	if text == "" {
		return app.Div().Class("undo").Hidden(true)
	}
	return app.Div().Class("undo").Attr("role", "group").Aria("label", "The last change").Body(
		app.P().Class("undo__text").Text(text),
		&part.Button{Text: "Undo", Of: text, OnPress: func(app.Context) { u.Session.Undo() }},
		&part.Button{Text: "Keep", Of: text, Rank: "quiet", OnPress: func(app.Context) { u.Session.Keep() }},
	)
}

// live is read out by screen readers when it changes.
type live struct {
	app.Compo
	Session *session.Session
}

func (l *live) OnMount(app.Context) { l.Session.Watch(l) }

func (l *live) Render() app.UI {
	return app.P().Class("spoken").Attr("role", "status").Aria("live", "polite").Text(l.Session.Said())
}
