package part

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Fold hides what few readers need behind a line of text. It reads without any
// program, and prints open.
func Fold(summary string, body ...app.UI) app.UI {
	return app.Details().Class("fold").Body(
		app.Summary().Class("fold__summary").Text(summary),
		app.Div().Class("fold__body").Body(body...),
	)
}

// Section is a part of a screen under its own heading, with the id that links
// to it use.
func Section(id, heading string, body ...app.UI) app.UI {
	return app.Section().Class("section").Aria("labelledby", id).Body(append([]app.UI{
		app.H2().Class("section__heading").ID(id).Text(heading),
	}, body...)...)
}
