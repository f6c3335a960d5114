package search

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
)

// Answers is what the search has found, under the header. A screen reader says
// how much it is and what stands first when typing pauses.
type Answers struct {
	app.Compo

	Desk *Desk
	Here route.Address
}

// OnMount follows what is typed, and the job at hand, whose version the figures
// are for.
func (a *Answers) OnMount(app.Context) {
	a.Desk.watch(a)
	a.Desk.session.Watch(a)
}

// Render draws the answers. On the search's own screen they stand in the screen.
func (a *Answers) Render() app.UI {
	status := app.P().Class("spoken").ID("search-status").Attr("role", "status").Text(a.Desk.status())
	typed := strings.TrimSpace(a.Desk.query) != ""
	if !a.Desk.open || !typed || a.Here == route.Search() {
		return app.Div().Class("answers").Body(status)
	}
	return app.Div().Class("answers", "answers--open").Body(
		status,
		a.Desk.list(),
		app.Div().Class("answers__foot").Body(
			app.A().Class("answers__all").Href(address(a.Desk.query).Href()).Text("A page of these answers, to send or print"),
			&part.Button{Text: "Close", Of: "the answers", Rank: "quiet", OnPress: func(app.Context) { a.Desk.Close() }},
		),
	)
}

// status says what was found in one sentence.
func (d *Desk) status() string {
	hits := d.answer.Hits
	switch {
	case strings.TrimSpace(d.query) == "":
		return ""
	case d.session.Preparing():
		return "Getting the search ready."
	case len(hits) == 0:
		return "Nothing found."
	case len(hits) == 1:
		return "One answer: " + hits[0].Name + "."
	}
	return fmt.Sprintf("%d answers. First: %s.", len(hits), hits[0].Name)
}

// list draws the answers, the first one in full.
func (d *Desk) list() app.UI {
	var body []app.UI
	if lost := d.answer.Lost; len(lost) > 0 {
		body = append(body, app.P().Class("answers__lost").Text("Not known here: “"+strings.Join(lost, "”, “")+"”."))
	}
	if d.session.Preparing() {
		return app.Div().Body(app.P().Text("Getting the search ready."))
	}
	if len(d.answer.Hits) == 0 {
		return app.Div().Body(append(body, app.P().Text("Nothing found. Try fewer words, or a part's name alone."))...)
	}
	var rows []app.UI
	for i, h := range d.answer.Hits {
		rows = append(rows, d.hit(i, h))
	}
	return app.Div().Body(append(body, app.Ol().Class("answers__list").Body(rows...))...)
}
