package search

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/answer"
	"provingbench/knowledge/unit"
)

// Screen shows the answers at an address of their own, so that they can be sent
// to somebody. Without a query it says how to ask, and lists the values that are
// asked for most often.
type Screen struct {
	app.Compo
	Desk *Desk
}

// Title names the screen.
func (*Screen) Title() string { return "Search" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "Three words for a value with its unit, condition and source, for a part and what goes with it, for a code or a complaint; and the values asked for most often."
}

// OnMount follows what is typed and the job at hand.
func (s *Screen) OnMount(app.Context) {
	s.Desk.watch(s)
	s.Desk.session.Watch(s)
	s.Desk.session.Open()
}

// OnNav takes the query from the address.
func (s *Screen) OnNav(ctx app.Context) {
	q := ctx.Page().URL().Query().Get(queryTyped)
	if strings.TrimSpace(q) != strings.TrimSpace(s.Desk.query) {
		s.Desk.Type(q)
		dom.SetValue(placeBox, q)
	}
}

// Render draws the answers, or how to ask.
func (s *Screen) Render() app.UI {
	body := []app.UI{app.H1().Text("Search")}
	if strings.TrimSpace(s.Desk.query) != "" {
		return app.Article().Body(append(body,
			app.P().Class("soft").Text("“"+strings.TrimSpace(s.Desk.query)+"”"), s.Desk.list())...)
	}
	var rows []app.UI
	book := s.Desk.session.Book()
	sheet := s.Desk.session.Sheet()
	for _, id := range s.Desk.session.Asked() {
		a, ok := book.Acceptance(id)
		if !ok {
			continue
		}
		f := answer.Figure{Acceptance: a, Columns: a.ByVersion()}
		if sheet.Version != "" {
			f.Columns = []unit.VersionLimits{{Versions: []unit.Version{sheet.Version}, Limits: sheet.Limits(id)}}
		}
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.FigureGroup(a.Group).At(id).Href()).Text(a.Name),
			app.P().Class("row__more").Text(capital(s.Desk.brief(f))),
		))
	}
	return app.Article().Body(append(body,
		app.P().Class("lead").Text("Type a few words into the box at the top of any page: a part and what you want of it, a code, or what the caller says. Short forms and typing errors are understood. The first answer can be read aloud."),
		app.P().Text("For example “gov solenoid ohms”, “rear band turns mid”, “3-4 accumulator”, “no reverse”, “P1757”. Name the version, or pick it in the job at hand; otherwise all versions stand side by side."),
		app.P().Class("soft").Text("The slash key leads to the box, Enter to a page with the answers that can be sent, the arrow keys through them, Escape back."),
		part.Section("asked", "Asked for most often", app.Ul().Class("rows").Body(rows...)),
	)...)
}
