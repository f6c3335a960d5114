package figures

import (
	"slices"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/unit"
)

// identification says how to tell the versions apart. What was seen is ticked,
// and the versions that show all of it are named.
func (s *Screen) identification(sheet unit.Sheet) app.UI {
	var rows []app.UI
	for _, f := range unit.Features {
		id := "feature-" + f.ID
		text := []app.UI{
			app.Label().Class("feature__see").For(id).Text(f.See),
			app.P().Class("feature__where").Text(capital(f.Where) + ". Shown by the " + part.Versions(f.Versions) + "."),
		}
		if a, ok := s.Session.Book().Acceptance(f.Acceptance); ok {
			text = append(text, app.P().Class("feature__where").Body(
				app.Text("A figure that differs with it: "),
				app.A().Href(route.FigureGroup(a.Group).At(a.ID).Href()).Text(a.Name),
			))
		}
		text = append(text, part.SourceNote(s.Session.Book(), f.From))
		rows = append(rows, app.Li().Class("feature").Body(
			app.Input().Type("checkbox").Class("feature__mark").ID(id).Checked(slices.Contains(s.seen, f.ID)).
				OnChange(func(ctx app.Context, _ app.Event) {
					s.tick(ctx, f.ID, ctx.JSSrc().Get("checked").Bool())
				}, f.ID),
			app.Div().Class("feature__text").Body(text...),
		))
	}
	return part.Section("identify", "Which version is it?",
		app.P().Text("Tick what you see on the unit or its truck. What can be seen without taking anything off comes first."),
		app.Ul().Class("features").Body(rows...),
		app.Div().Attr("role", "status").Body(s.identified(sheet)...),
	)
}

// tick notes that a feature was seen, or not.
func (s *Screen) tick(ctx app.Context, id string, seen bool) {
	s.seen = slices.DeleteFunc(slices.Clone(s.seen), func(x string) bool { return x == id })
	if seen {
		s.seen = append(s.seen, id)
	}
	route.Replace(ctx, s.here(s.address(), true))
}

// identified says which versions show everything that was ticked.
func (s *Screen) identified(sheet unit.Sheet) []app.UI {
	if len(s.seen) == 0 {
		return nil
	}
	fit := unit.Identify(s.seen)
	switch len(fit) {
	case 0:
		return []app.UI{&part.Verdict{Call: "unsure", Word: "No version shows all of this", Because: []string{
			"The unit was put together from two, or one of the things was mistaken. Look again, and measure before trusting a figure that differs by version.",
		}}}
	case 1:
		body := []app.UI{&part.Verdict{Call: "good", Word: capital(part.Versions(fit))}}
		if sheet.Version != fit[0] {
			build := sheet.Build
			if build == "" {
				build = unit.Stock
			}
			body = append(body, &part.Button{
				Text: "Show the figures of the " + part.Versions(fit), Rank: "primary",
				OnPress: func(ctx app.Context) { s.pick(ctx, fit[0], build) },
			})
		}
		return body
	}
	return []app.UI{&part.Verdict{Call: "unsure", Word: "Could be the " + part.Versions(fit), Because: []string{
		"Look for one more of the features, or use figures on which they agree.",
	}}}
}
