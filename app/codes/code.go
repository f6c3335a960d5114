package codes

import (
	"cmp"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
)

// Code is the page of one fault code.
type Code struct {
	app.Compo
	Session *session.Session
	ID      string

	ctx app.Context
}

func (p *Code) code() *catalogue.Code { return p.Session.Catalogue().Code(p.ID) }

// Title is the number with its meaning here.
func (p *Code) Title() string { return p.code().Number + ": " + p.code().Name }

// Description says what the page holds.
func (p *Code) Description() string {
	k := p.code()
	return k.Number + " on this class of trucks: " + k.Name + ". What really stores it, likely causes, and what to check next."
}

// OnMount opens the jobs: the page says whether the code is entered.
func (p *Code) OnMount(ctx app.Context) {
	p.ctx = ctx
	p.Session.Watch(p)
	p.Session.Open()
}

// Render draws the page.
func (p *Code) Render() app.UI {
	k, c, b := p.code(), p.Session.Catalogue(), p.Session.Book()
	body := []app.UI{
		app.H1().Text(p.Title()),
		app.P().Body(app.A().Href(route.Codes().Href()).Text("All fault codes")),
		app.P().Class("lead").Text(k.Means),
		part.SourceNote(b, k.From),
		app.Div().Class("stored").Body(p.stored(c, k)...),
	}
	if k.Trap != "" {
		body = append(body, app.P().Class("trap").Body(app.B().Text("How it goes wrong: "), app.Text(k.Trap)))
	}
	body = append(body, part.Section("sets", "What stores it", p.sets(k)...))
	if len(k.Does) > 0 {
		body = append(body, part.Section("does", "What the driver notices", part.Statements(b, k.Does)))
	}
	body = append(body, part.Section("next", "What to check next", p.next(c, k)...))
	if causes := p.causes(c, k); len(causes) > 0 {
		body = append(body, part.Section("causes", "Likely causes", causes...))
	}
	if len(k.Notes) > 0 {
		body = append(body, part.Section("notes", "Versions and years", part.Statements(b, k.Notes)))
	}
	body = append(body, part.Section("names", "The number elsewhere", p.names(k)...))
	return app.Article().Body(body...)
}

// stored offers to add the code to the job at hand, or says why it is not
// offered.
func (p *Code) stored(c *catalogue.Catalogue, k *catalogue.Code) []app.UI {
	check, o, out := c.OutcomeOf(k)
	if out == nil {
		return []app.UI{app.P().Text("By itself this code points to no fault of the unit, so there is nothing to add to a job. What it is good for stands below.")}
	}
	enter := func(app.Context) {
		if p.Session.AddCodes(k) && p.ctx != nil {
			p.ctx.Navigate(route.Find().Href())
		}
	}
	if p.Session.Addable(k) {
		return []app.UI{
			&part.Button{Text: "It is stored: add to the job", Of: k.Number, Rank: "primary", OnPress: enter},
			app.P().Class("soft").Text("It is entered as: " + o.Asks + " – " + out.Label + "."),
		}
	}
	standing := out
	for _, n := range p.Session.Case().Entries {
		if n.Check == check.ID && n.Observation == o.ID {
			if x := o.Outcome(n.Outcome); x != nil {
				standing = x
			}
		}
	}
	said := "Entered in this job: "
	if standing != out {
		said = "In this job another code of the same family comes first: "
	}
	return []app.UI{
		app.P().Body(
			app.B().Text(said), app.Text(standing.Label+". "),
			app.A().Href(route.Check(check.ID).At("results").Href()).Text("See or remove it"),
		),
		app.P().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go to Find")),
	}
}

func (p *Code) sets(k *catalogue.Code) []app.UI {
	if len(k.Sets) == 0 {
		return []app.UI{app.P().Text("No threshold was found in print. The maker's manual for the year has it.")}
	}
	var rows []app.UI
	for _, s := range k.Sets {
		rows = append(rows, app.Li().Class("sets__row").Body(
			app.P().Class("sets__what").Text(capital(s.What)),
			app.P().Class("sets__when").Text("While: "+s.When),
			app.P().Class("sets__when").Text("Trucks: "+s.Years),
			part.SourceNote(p.Session.Book(), s.From),
		))
	}
	body := []app.UI{app.Ul().Class("sets").Body(rows...)}
	if len(k.Sets) > 1 {
		body = append([]app.UI{app.P().Text("The sources differ. Each is given as it stands; take the one for the year of the truck, and the maker's manual above all of them.")}, body...)
	}
	return body
}

func (p *Code) next(c *catalogue.Catalogue, k *catalogue.Code) []app.UI {
	var rows []app.UI
	for _, n := range k.Next {
		check := c.Check(n.Check)
		if check == nil {
			continue
		}
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Check(check.ID).Href()).Text(check.Name),
			app.P().Class("row__more").Text(n.Why),
		))
	}
	return []app.UI{
		app.P().Text("In this order when nothing else is known. Find weighs them against everything entered for the truck."),
		app.Ol().Class("rows").Body(rows...),
	}
}

// causes are the faults that the outcome shows, the strongest first.
func (p *Code) causes(c *catalogue.Catalogue, k *catalogue.Code) []app.UI {
	check, _, out := c.OutcomeOf(k)
	if out == nil {
		return nil
	}
	links := slices.Clone(out.Shows)
	order.Stable(links, func(a, b catalogue.Link) int {
		x, _ := a.Level.Probability()
		y, _ := b.Level.Probability()
		return cmp.Compare(y, x)
	})
	var rows []app.UI
	for _, l := range links {
		f := c.Fault(l.ID)
		if f == nil {
			continue
		}
		more := "Stores it " + string(l.Level)
		if v := part.Versions(f.Versions); v != "" {
			more += ", " + v + " only"
		}
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Fault(f.ID).Href()).Text(f.Name),
			app.P().Class("row__more").Text(more),
		))
	}
	body := []app.UI{app.P().Text("How strongly each fault shows in a code of this kind; how common the fault is comes on top.")}
	if others := p.others(c, k); others != nil {
		body = append(body, others)
	}
	return append(body, app.Ul().Class("rows").Body(rows...),
		part.Fold("Where the strengths come from", part.SourceNote(p.Session.Book(), check.Estimates)))
}

// others links to the codes that are the same finding.
func (p *Code) others(c *catalogue.Catalogue, k *catalogue.Code) app.UI {
	var links []app.UI
	for _, other := range c.CodesShowing(*k.Outcome) {
		if other == k {
			continue
		}
		if len(links) > 0 {
			links = append(links, app.Text(", "))
		}
		links = append(links, app.A().Href(route.Code(other.ID).Href()).Text(other.Number))
	}
	if len(links) == 0 {
		return nil
	}
	return app.P().Body(append([]app.UI{app.Text("The same finding as ")}, append(links, app.Text("."))...)...)
}

func (p *Code) names(k *catalogue.Code) []app.UI {
	b := p.Session.Book()
	body := []app.UI{app.P().Text("The number belongs to the maker: the standard has no name for it, and on another make it is something else.")}
	if k.Standard != nil {
		body = []app.UI{
			app.P().Body(app.B().Text("Standard name: "), app.Text(k.Standard.Name+".")),
			part.SourceNote(b, k.Standard.From),
		}
	}
	if len(k.Older) > 0 {
		var rows []app.UI
		for _, o := range k.Older {
			rows = append(rows, app.Li().Body(app.B().Text("Older number "+o.Number), part.SourceNote(b, o.From)))
		}
		body = append(body, app.Ul().Class("list").Body(rows...))
	}
	return body
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
