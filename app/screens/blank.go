package screens

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"
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
