package screens

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
)

// Missing is shown at an address that does not exist.
type Missing struct {
	app.Compo
}

// Title says what is the matter.
func (*Missing) Title() string { return "There is nothing at this address" }

// Description says what is the matter.
func (*Missing) Description() string { return "The address that was asked for does not exist here." }

// Render offers the ways on.
func (m *Missing) Render() app.UI {
	return app.Article().Body(
		app.H1().Text(m.Title()),
		app.P().Text("It may have been mistyped, or belong to another version of this tool. Jobs that were saved are not affected."),
		app.P().Body(app.A().Class("button", "button--primary").Href(route.Home().Href()).Text("Go to the start")),
	)
}
