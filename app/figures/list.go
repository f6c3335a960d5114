package figures

import (
	"fmt"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// list draws the figures that the filter lets through, group by group.
func (s *Screen) list(sheet unit.Sheet) []app.UI {
	book := s.Session.Book()
	var sections []app.UI
	found := 0
	for _, g := range Groups(book) {
		if s.Group != "" && g != s.Group {
			continue
		}
		var rows []app.UI
		for i := range book.Acceptances {
			a := &book.Acceptances[i]
			if a.Group != g || !matches(s.filter, a) {
				continue
			}
			rows = append(rows, s.figure(sheet, a))
		}
		found += len(rows)
		if len(rows) > 0 {
			sections = append(sections, part.Section("group-"+g, GroupName(g), rows...))
		}
	}
	if s.filter == "" {
		return sections
	}
	said := fmt.Sprintf("%d figures fit.", found)
	switch found {
	case 0:
		said = "No figure fits. Try fewer words, or part of one."
	case 1:
		said = "1 figure fits."
	}
	return append([]app.UI{app.P().Class("soft").Attr("role", "status").Text(said)}, sections...)
}

// matches reports whether every word of the filter stands somewhere in what is
// printed of an acceptance value. An empty filter lets everything through.
func matches(filter string, a *unit.Acceptance) bool {
	text := a.ID + " " + a.Name + " " + a.Where + " " + GroupName(a.Group)
	for _, l := range a.Limits {
		text += " " + part.LimitText(quantity.Preference{}, l) + " " + part.LimitElsewhere(quantity.Preference{}, l) + " " + part.ConditionWords(l.Condition, true)
	}
	text = strings.ToLower(text)
	for _, w := range strings.Fields(strings.ToLower(filter)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// figure draws one acceptance value. Its id is where checks link to.
func (s *Screen) figure(sheet unit.Sheet, a *unit.Acceptance) app.UI {
	body := []app.UI{
		app.H3().Class("figure__name").Text(a.Name),
		app.P().Class("figure__where").Text(capital(a.Where)),
	}
	if _, own := s.Session.Own()[a.ID]; own || sheet.Version != "" {
		body = append(body, s.limits(sheet.Limits(a.ID)))
	} else {
		body = append(body, s.sideBySide(a))
	}
	if checks := readIn(s.Session.Catalogue(), a.ID); len(checks) > 0 {
		line := []app.UI{app.Text("Used in: ")}
		for i, k := range checks {
			if i > 0 {
				line = append(line, app.Text("; "))
			}
			line = append(line, app.A().Href(route.Check(k.ID).Href()).Text(k.Name))
		}
		body = append(body, app.P().Class("figure__checks").Body(line...))
	}
	if s.Group != "" {
		body = append(body, s.own(a))
	}
	return app.Article().Class("figure").ID(a.ID).Body(body...)
}

// sideBySide draws the limits of each version under its name, or once when
// they are the same for all.
func (s *Screen) sideBySide(a *unit.Acceptance) app.UI {
	columns := a.ByVersion()
	if len(columns) == 1 {
		return s.limits(columns[0].Limits)
	}
	var cells []app.UI
	for _, c := range columns {
		cells = append(cells, app.Div().Class("versions__one").Body(
			app.Dt().Class("versions__name").Text(capital(part.Versions(c.Versions))),
			app.Dd().Class("versions__limits").Body(s.limits(c.Limits)),
		))
	}
	return app.Dl().Class("versions").Body(cells...)
}

// limits draws limits one under the other, with a word on what it means that
// there are several for the same state.
func (s *Screen) limits(limits []unit.Limit) app.UI {
	if len(limits) == 0 {
		return app.P().Class("figure__none").Text("Not known for this version and build. Take it from the maker's manual.")
	}
	var rows []app.UI
	if note := part.Several(limits); note != "" {
		rows = append(rows, app.Li().Class("figure__several").Body(part.Icon("unsure"), app.Span().Text(note)))
	}
	for _, l := range limits {
		row := []app.UI{app.P().Class("figure__value").Text(part.LimitText(s.Session.Units(), l))}
		if other := part.LimitElsewhere(s.Session.Units(), l); other != "" {
			row = append(row, app.P().Class("figure__other").Text(other))
		}
		// The versions stand above; the builds have to be told.
		when := l.Condition
		when.Versions = nil
		if words := part.ConditionWords(when, true); words != "" {
			row = append(row, app.P().Class("figure__when").Text(capital(words)))
		}
		row = append(row, part.SourceNote(s.Session.Book(), l.Provenance))
		rows = append(rows, app.Li().Class("figure__limit").Body(row...))
	}
	return app.Ul().Class("figure__limits").Body(rows...)
}

// readIn lists the checks that need an acceptance value.
func readIn(c *catalogue.Catalogue, id string) []*catalogue.Check {
	var checks []*catalogue.Check
	for i := range c.Checks {
		if slices.Contains(c.Checks[i].Values(), id) {
			checks = append(checks, &c.Checks[i])
		}
	}
	return checks
}
