package faults

import (
	"slices"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
)

// Symptom is the page of one symptom: what to ask, how people say it, and what
// can be behind it.
type Symptom struct {
	app.Compo
	Session *session.Session
	ID      string

	ctx app.Context
}

func (p *Symptom) symptom() *catalogue.Symptom { return p.Session.Catalogue().Symptom(p.ID) }

// Title is the symptom's name.
func (p *Symptom) Title() string { return p.symptom().Name }

// Description says what the page holds.
func (p *Symptom) Description() string {
	return "What to ask the customer and what can be behind it: " + p.symptom().Name + "."
}

// OnMount opens the jobs, because the symptom can be added to the one at hand.
func (p *Symptom) OnMount(ctx app.Context) {
	p.ctx = ctx
	p.Session.Watch(p)
	p.Session.Open()
}

// cause is a fault behind a symptom.
type cause struct {
	fault *catalogue.Fault
	link  catalogue.Link
}

// causes lists the faults behind a symptom, the most telling first: by how often
// a truck comes in with the fault and shows the symptom by it.
func causes(c *catalogue.Catalogue, symptom string) []cause {
	var out []cause
	for i := range c.Faults {
		for _, l := range c.Faults[i].Symptoms {
			if l.ID == symptom {
				out = append(out, cause{&c.Faults[i], l})
			}
		}
	}
	weight := func(x cause) float64 {
		f, _ := x.fault.Frequency.Probability()
		l, _ := x.link.Level.Probability()
		return f * l
	}
	order.Stable(out, func(a, b cause) int {
		switch x, y := weight(a), weight(b); {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return out
}

// Render draws the page.
func (p *Symptom) Render() app.UI {
	y, c := p.symptom(), p.Session.Catalogue()
	var said []app.UI
	for _, w := range y.Said {
		said = append(said, app.Li().Text("“"+w+"”"))
	}
	var rows []app.UI
	for _, x := range causes(c, y.ID) {
		more := "Shows it " + string(x.link.Level)
		if when := When(x.link.When); when != "" {
			more += ", mostly " + when
		}
		more += "; the fault is " + string(x.fault.Frequency)
		if v := part.Versions(x.fault.Versions); v != "" {
			more += "; " + v + " only"
		}
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Fault(x.fault.ID).Href()).Text(x.fault.Name),
			app.P().Class("row__more").Text(more+"."),
		))
	}
	return app.Article().Body(
		app.H1().Text(y.Name),
		app.P().Class("question").Body(app.Span().Class("question__label").Text("Ask the customer"), app.Span().Text(y.Ask)),
		p.act(y),
		app.P().Body(app.A().Class("row__link").Href(route.Tree(y.ID).Href()).Text("The order of checks for this complaint, as a tree")),
		part.Section("causes", "What can be behind it",
			app.P().Class("soft").Text("The likeliest first, before anything is known about the truck."),
			app.Ul().Class("rows").Body(rows...)),
		part.Section("said", "How people say it", app.Ul().Class("list").Body(said...)),
	)
}

// act offers to take the symptom into a job.
func (p *Symptom) act(y *catalogue.Symptom) app.UI {
	if slices.ContainsFunc(p.Session.Case().Reports, func(r diagnosis.Report) bool { return r.Symptom == y.ID && !r.Absent }) {
		return app.P().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("In this job: go on in Find"))
	}
	text := "Start a job with this"
	if p.Session.Job() != nil {
		text = "Add it to the job at hand"
	}
	return app.Div().Class("buttons").Body(&part.Button{Text: text, Of: y.Name, Rank: "primary", OnPress: func(app.Context) {
		p.Session.Change("Added: "+y.Name, func(j *store.Job) { j.Case.Report(diagnosis.Report{Symptom: y.ID}) })
		p.ctx.Navigate(route.Find().Href())
	}})
}
