// Package checks holds the list of all checks and the page of one check, where
// what was seen or read is entered and judged.
package checks

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// List is every check, by the access level it is done at.
type List struct {
	app.Compo
	Session *session.Session

	query string
}

// Title names the screen.
func (*List) Title() string { return "Checks" }

// Description says what the screen is for.
func (*List) Description() string {
	return "Every check with its steps, cautions and acceptance values, by how far the truck has to be taken apart."
}

// OnMount opens the jobs, to mark what was already done on the truck at hand.
func (l *List) OnMount(app.Context) {
	l.Session.Watch(l)
	l.Session.Open()
}

// Render draws the filter and the list.
func (l *List) Render() app.UI {
	c := l.Session.Catalogue()
	entered := map[string]bool{}
	for _, n := range l.Session.Case().Entries {
		entered[n.Check] = true
	}
	body := []app.UI{
		app.H1().Text("Checks"),
		app.P().Body(app.A().Class("row__link").Href(route.Codes().Href()).Text("Fault codes, by number")),
		&part.Field{
			ID: "filter", Label: "Search the checks", Hint: "Part of a name, purpose or tool.", Mode: "search", Wide: true, Value: l.query,
			OnInput: func(_ app.Context, v string) { l.query = v },
		},
	}
	found := 0
	for i := range c.Access {
		level := &c.Access[i]
		var rows []app.UI
		for j := range c.Checks {
			k := &c.Checks[j]
			if k.Level != level.ID || !Matches(k, l.query) {
				continue
			}
			found++
			rows = append(rows, app.Li().Class("row").Body(
				app.A().Class("row__link").Href(route.Check(k.ID).Href()).Text(k.Name),
				app.P().Class("row__more").Text(facts(k, entered[k.ID])+" "+k.Purpose),
			))
		}
		if len(rows) > 0 {
			body = append(body, part.Section("level-"+level.ID, level.Name, app.Ul().Class("rows").Body(rows...)))
		}
	}
	if found == 0 {
		body = append(body, app.P().Attr("role", "status").Text("No check fits these words. Try a shorter one."))
	}
	return app.Article().Body(body...)
}

func facts(k *catalogue.Check, entered bool) string {
	said := part.Minutes(k.Minutes)
	if k.Preliminary != "" {
		said += ", comes first"
	}
	if v := part.Versions(k.Versions); v != "" {
		said += ", " + v + " only"
	}
	if entered {
		said = "Entered in this job. " + said
	}
	return said + "."
}

// Matches reports whether every word of a query is found in the check's name,
// purpose, tools, or what it asks for.
func Matches(k *catalogue.Check, query string) bool {
	var text strings.Builder
	for _, s := range append([]string{k.Name, k.Purpose}, k.Tools...) {
		text.WriteString(strings.ToLower(s) + " ")
	}
	for i := range k.Observations {
		text.WriteString(strings.ToLower(k.Observations[i].Asks) + " ")
	}
	for _, w := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(text.String(), w) {
			return false
		}
	}
	return true
}

// entryOf pairs an entry of the case with its place in it.
type entryOf struct {
	place int
	entry diagnosis.Entry
}

// entries lists the entries of one observation, the latest first.
func entries(c diagnosis.Case, check, observation string) []entryOf {
	var out []entryOf
	for k := len(c.Entries) - 1; k >= 0; k-- {
		if n := c.Entries[k]; n.Check == check && n.Observation == observation {
			out = append(out, entryOf{k, n})
		}
	}
	return out
}
