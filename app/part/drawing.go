package part

import (
	"html"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// Drawing shows a line drawing with its title above and what of it is not
// certain below. A tap on it, or Enter, makes it larger and opens its words: the
// whole of it for who can't see it, what can be relied on, and where its numbers
// come from. That works without any program, and on paper the drawing prints.
func Drawing(sheet unit.Sheet, d *catalogue.Drawing) app.UI {
	sheet.Version, sheet.Build = "", "" // a drawing is for all
	title := "drawing-" + d.ID
	words := []app.UI{
		app.P().Text(d.Description),
		app.P().Body(app.B().Text("Certain: "), app.Text(d.Certain)),
		SourceNote(sheet.Book, d.Provenance),
	}
	for _, id := range d.Values {
		if a, ok := sheet.Book.Acceptance(id); ok {
			words = append(words, app.P().Body(app.B().Text(a.Name+":")), Values(sheet, a.Limits))
		}
	}
	return app.Figure().Class("drawing").Aria("labelledby", title).Body(
		app.FigCaption().Class("drawing__caption").ID(title).Text(d.Title),
		app.Details().Class("drawing__more").Body(
			app.Summary().Class("drawing__sheet").Body(
				app.Span().Class("drawing__window").Body(app.Raw(picture(d))),
				app.Span().Class("drawing__hint").Text("Larger, and in words"),
			),
			app.Div().Class("drawing__words").Body(words...),
		),
		app.P().Class("drawing__unsure").Body(
			app.Text("A scheme of our own, not to scale. "), app.B().Text("Not certain: "), app.Text(d.Uncertain),
		),
	)
}

// picture is the drawing as SVG. The lines were held against a closed list of
// elements and attributes when the catalogue was compiled.
func picture(d *catalogue.Drawing) string {
	return `<svg class="drawing__picture" viewBox="0 0 ` + strconv.Itoa(catalogue.DrawingWidth) + ` ` +
		strconv.FormatFloat(d.Height, 'f', -1, 64) + `" role="img" aria-label="` + html.EscapeString(d.Title) + `">` + d.Lines + `</svg>`
}

var drawingExamples = []app.UI{
	Drawing(unit.Sheet{Book: &unit.Book{}}, &catalogue.Drawing{
		ID: "valve", Title: "A valve & its bore", Description: "A valve stands in its bore.", Certain: "That it slides.", Uncertain: "Its shape.",
		Provenance: unit.Provenance{Kind: unit.Demo, Note: "An example."}, Height: 40,
		Lines: `<path class="drawing__line" d="M10 10H330V30H10Z"/><text x="20" y="25">valve</text>`,
	}),
}
