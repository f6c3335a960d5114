package part

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// Statements lists sentences, each with where it comes from.
func Statements(b *unit.Book, list []catalogue.Statement) app.UI {
	var rows []app.UI
	for _, s := range list {
		rows = append(rows, app.Li().Class("statement").Body(
			app.P().Class("statement__text").Text(s.Text),
			SourceNote(b, s.From),
		))
	}
	return app.Ul().Class("statements").Body(rows...)
}
