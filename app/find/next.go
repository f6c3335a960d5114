package find

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// others is how many checks are named beside the next one.
const others = 4

// next shows the check that should come next, large, and a few others.
func (s *Screen) next(a *diagnosis.Answer) app.UI {
	if len(a.Next) == 0 {
		return part.Section("next", "Next check",
			app.P().Text("No check is left that could tell more here. Bring a refused one back, or take the likeliest cause as the answer and prove it by its repair."),
			s.refused(a.CaseOf))
	}
	first := a.Next[0]
	body := []app.UI{app.Div().Class("next").Body(
		app.P().Class("next__facts").Text(first.Level.Name+" · "+effort(first)),
		app.H3().Class("next__name").Text(first.Check.Name),
		app.P().Class("next__purpose").Text(first.Check.Purpose),
		app.P().Class("next__why").Text(first.Why+" "+chance(first.Proof)),
		app.A().Class("button", "button--primary").Href(route.Check(first.Check.ID).Href()).Text("Open this check"),
		&part.Button{Text: "Can't do this here", Of: first.Check.Name, Rank: "quiet", OnPress: func(app.Context) {
			s.Session.Change("Left out: "+first.Check.Name, func(j *store.Job) { j.Case.Refused = append(j.Case.Refused, first.Check.ID) })
			s.arrive("next")
		}},
	)}
	if rest := a.Next[1:min(len(a.Next), 1+others)]; len(rest) > 0 {
		body = append(body, app.H3().Text("Or one of these"), suggestions(rest))
	}
	if len(a.CaseOf.Refused) > 0 {
		body = append(body, s.refused(a.CaseOf))
	}
	return part.Section("next", "Next check", body...)
}

// chance says how likely a check is to prove a cause by itself.
func chance(p float64) string {
	if p < shownFrom {
		return "It narrows the causes down and proves none by itself."
	}
	return "Chance that it proves a cause: " + part.Percent(p) + "."
}

// effort says what a check costs: "8 min: 5 min to get there, 3 min there".
func effort(x diagnosis.Suggestion) string {
	total := part.Minutes(x.Minutes)
	if x.Travel <= 0 {
		return total
	}
	return total + ", " + part.Minutes(x.Travel) + " of it to get there"
}

func suggestions(list []diagnosis.Suggestion) app.UI {
	var rows []app.UI
	for _, x := range list {
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Check(x.Check.ID).Href()).Text(x.Check.Name),
			app.P().Class("row__more").Text(x.Level.Name+" · "+effort(x)),
		))
	}
	return app.Ul().Class("rows").Body(rows...)
}

// refused lists the checks that can't be done here, to bring back.
func (s *Screen) refused(c diagnosis.Case) app.UI {
	var rows []app.UI
	for _, id := range c.Refused {
		k := s.Session.Catalogue().Check(id)
		if k == nil {
			continue
		}
		rows = append(rows, s.refusal(k))
	}
	if len(rows) == 0 {
		return app.Div()
	}
	return app.Div().Body(app.H3().Text("Left out, can't be done here"), app.Ul().Class("rows").Body(rows...))
}

func (s *Screen) refusal(k *catalogue.Check) app.UI {
	return app.Li().Class("pick").Body(
		app.A().Class("row__link", "pick__name").Href(route.Check(k.ID).Href()).Text(k.Name),
		&part.Button{Text: "Bring back", Of: k.Name, OnPress: func(app.Context) {
			s.Session.Change("Brought back: "+k.Name, func(j *store.Job) {
				j.Case.Refused = slices.DeleteFunc(slices.Clone(j.Case.Refused), func(x string) bool { return x == k.ID })
			})
		}},
	)
}

// whileOpen lists what is worth looking at before the present level is left;
// nil when there is nothing.
func (s *Screen) whileOpen(a *diagnosis.Answer) app.UI {
	if !s.Session.Looked(a) {
		// The rest of the screen does not wait for it.
		if s.ctx != nil {
			s.ctx.After(time.Millisecond, func(app.Context) {
				s.Session.WhileOpen(a)
				s.Update()
			})
		}
		return nil
	}
	open := s.Session.WhileOpen(a)
	if len(open) == 0 {
		return nil
	}
	intro := "Worth their minutes now, because coming back would cost more."
	if l := s.Session.Catalogue().Level(a.CaseOf.Level); l != nil {
		intro = l.Name + ". " + intro
	}
	return part.Section("open", "While it is open", app.P().Text(intro), suggestions(open))
}
