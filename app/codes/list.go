// Package codes holds the list of fault codes and the page of one code: what it
// means on this class of trucks, what really stores it, and what to check next.
package codes

import (
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
)

// queryFilter is what is searched for, in the address.
const queryFilter = "q"

// familyNames are the families as headings.
var familyNames = map[string]string{
	"supply":    "Relay and supply",
	"governor":  "Governor pressure",
	"overdrive": "Overdrive",
	"lockup":    "Converter clutch",
	"inputs":    "Inputs",
	"general":   "General",
}

// List is every code, by family.
type List struct {
	app.Compo
	Session *session.Session

	query  string
	follow route.Follower
}

// Title names the screen.
func (*List) Title() string { return "Fault codes" }

// Description says what the screen is for.
func (*List) Description() string {
	return "Every fault code of this class of trucks: what the number means here, what really stores it, and what to check next."
}

// OnMount opens the jobs, to mark what is entered for the truck at hand.
func (l *List) OnMount(app.Context) {
	l.Session.Watch(l)
	l.Session.Open()
}

// OnNav takes what is searched for from the address.
func (l *List) OnNav(ctx app.Context) { l.query = ctx.Page().URL().Query().Get(queryFilter) }

// Search is the address of the list with a search in it.
func Search(words string) route.Address {
	return route.Codes().With(url.Values{queryFilter: {words}})
}

// Render draws the search and the families.
func (l *List) Render() app.UI {
	c := l.Session.Catalogue()
	body := []app.UI{
		app.H1().Text(l.Title()),
		app.P().Class("lead").Text("A code says what a computer saw, not which part is bad, and its name is not its threshold."),
		app.P().Text("Numbers that begin with P0 or P2 have one name for all makers, in the standard SAE J2012; what they mean on this unit may differ. Numbers that begin with P1 belong to the maker and have no other name."),
		&part.Field{
			ID: "filter", Label: "Search the codes", Hint: "A number in any spelling, an old two- or three-digit number, or words.",
			Mode: "search", Wide: true, Value: l.query,
			OnInput: func(ctx app.Context, v string) {
				l.query = v
				l.follow.Follow(ctx, Search(v))
			},
		},
	}
	found := 0
	for _, family := range catalogue.CodeFamilies {
		var rows []app.UI
		for i := range c.Codes {
			k := &c.Codes[i]
			if k.Family != family || !Matches(c, k, l.query) {
				continue
			}
			found++
			rows = append(rows, app.Li().Class("row").Body(
				app.A().Class("row__link").Href(route.Code(k.ID).Href()).Text(k.Number+": "+k.Name),
				app.P().Class("row__more").Text(more(k)),
			))
		}
		if len(rows) > 0 {
			body = append(body, part.Section("family-"+family, familyNames[family], app.Ul().Class("rows").Body(rows...)))
		}
	}
	if found == 0 {
		body = append(body, app.P().Attr("role", "status").Text("No code of this list fits. Try the number alone; if it is not here, take it from the maker's list for the year."))
	}
	body = append(body, app.P().Body(app.A().Class("row__link").Href(route.Check("stored-codes").Href()).Text("The check: read the stored codes")))
	return app.Article().Body(body...)
}

// more is the line under a code in the list: its meaning and its other numbers.
func more(k *catalogue.Code) string {
	said := k.Means
	if k.Standard != nil {
		said += " Standard name: " + k.Standard.Name + "."
	}
	if len(k.Older) > 0 {
		var numbers []string
		for _, o := range k.Older {
			numbers = append(numbers, o.Number)
		}
		said += " Older number: " + strings.Join(numbers, ", ") + "."
	}
	return said
}

// Matches reports whether a search finds a code: by number in any spelling, or
// with every word in its names and meaning.
func Matches(c *catalogue.Catalogue, k *catalogue.Code, query string) bool {
	for _, found := range c.CodesNumbered(query) {
		if found == k {
			return true
		}
	}
	text := strings.ToLower(k.Number + " " + k.Name + " " + familyNames[k.Family] + " " + more(k))
	for _, w := range strings.Fields(strings.ToLower(query)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}
