package jobs

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/repair"
)

// What is decided about a line of the plan.
const (
	decidedDone = "done"
	decidedLeft = "left"
)

func decidedWord(d string) string {
	switch d {
	case decidedDone:
		return "done"
	case decidedLeft:
		return "left as it is"
	}
	return "open"
}

var kindWords = map[repair.Kind]string{repair.Rework: "Rework", repair.Renew: "Renew", repair.Set: "Set"}

// Plan is the work that follows from what was proved on the truck at hand.
type Plan struct {
	app.Compo
	Session *session.Session
}

// Title names the screen.
func (*Plan) Title() string { return "Repair plan" }

// Description says what the screen is for.
func (*Plan) Description() string {
	return "What to rework, renew and set on the truck at hand, in the order of the work, with the parts to ask for and the values that it needs."
}

// OnMount reads the jobs.
func (x *Plan) OnMount(app.Context) {
	x.Session.Watch(x)
	x.Session.Open()
}

func faultNames(list []*catalogue.Fault) string {
	var names []string
	for _, f := range list {
		names = append(names, f.Name)
	}
	return strings.Join(names, "; ")
}

// Render draws the plan.
func (x *Plan) Render() app.UI {
	r := recordOf(x.Session)
	if r == nil {
		return noJob(x.Title())
	}
	body := []app.UI{app.H1().Text(x.Title()), app.P().Class("lead").Text(r.job.Name)}
	if len(r.proved()) == 0 {
		return app.Article().Body(append(body,
			app.P().Text("Nothing is proved on this truck yet. The plan follows from what is proved, so that no part is renewed on a guess."),
			app.Div().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go on in Find")))...)
	}
	body = append(body, app.P().Text("From what was proved, as the unit is put together: from the inside out. The maker's manual stands above each line."))

	var rows []app.UI
	level := ""
	for i := range r.plan.Tasks {
		t := &r.plan.Tasks[i]
		if t.Level != nil && t.Level.Name != level {
			level = t.Level.Name
			rows = append(rows, app.Li().Class("plan__level").Text(level))
		}
		rows = append(rows, x.task(r.job, t))
	}
	body = append(body, part.Section("work", "The work", app.Ul().Class("plan").Body(rows...)))

	rows = nil
	for i := range r.plan.Parts {
		rows = append(rows, x.part(r.job, &r.plan.Parts[i]))
	}
	body = append(body, part.Section("parts", "Parts to ask for", app.Ul().Class("plan").Body(rows...)))

	sheet := x.Session.Sheet()
	var values []app.UI
	for _, id := range r.plan.Values {
		if a, ok := sheet.Book.Acceptance(id); ok {
			values = append(values, app.H3().Text(a.Name), part.Values(sheet, sheet.Limits(id)))
		}
	}
	if len(values) > 0 {
		body = append(body, part.Section("values", "Values for the work", values...))
	}
	body = append(body, part.Section("looked", "What was looked at, and what was left", x.looked(r)...))
	if len(r.plan.Changes) > 0 {
		changes := []app.UI{app.P().Text("These usual changes bear on this work. Left as it came, the unit stays within its book.")}
		for _, m := range r.plan.Changes {
			body := []app.UI{app.P().Text(m.Means)}
			for _, x := range []struct {
				heading string
				list    []catalogue.Statement
			}{{"What it buys", m.Buys}, {"What it costs", m.Costs}, {"What limits it", m.Limits}} {
				if len(x.list) > 0 {
					body = append(body, app.H3().Text(x.heading), part.Statements(sheet.Book, x.list))
				}
			}
			changes = append(changes, part.Fold(m.Name, append(body, app.P().Body(app.A().Class("row__link").Href(route.Raised().At(m.ID).Href()).Text("All about it")))...))
		}
		body = append(body, part.Section("changes", "Stock, or changed", changes...))
	}
	return app.Article().Body(append(body, app.Div().Class("buttons").Body(
		app.A().Class("button", "button--primary").Href(route.JobProof().Href()).Text("Prove the repair"),
		app.A().Class("button", "button--plain").Href(route.ShopSheet().Href()).Text("Sheet for the shop"),
		app.A().Class("button", "button--plain").Href(route.CustomerSheet().Href()).Text("Sheet for the customer"),
	))...)
}

func (x *Plan) task(j *store.Job, t *repair.Task) app.UI {
	return app.Li().Class("plan__row").DataSet("decided", j.Decided[t.Key]).Body(
		app.P().Class("plan__what").Text(kindWords[t.Kind]+": "+t.Text),
		app.P().Class("row__more").Text("For: "+faultNames(t.For)),
		x.decide(j, t.Key, t.Text),
	)
}

func (x *Plan) part(j *store.Job, p *repair.Part) app.UI {
	body := []app.UI{
		app.P().Class("plan__what").Text(p.Quantity + " × " + p.Name),
	}
	if p.Quantity == "as the fill takes" {
		body[0] = app.P().Class("plan__what").Text(p.Name + ", " + p.Quantity)
	}
	for _, why := range p.Why {
		body = append(body, app.P().Class("row__more").Text("Goes along: "+why))
	}
	body = append(body, x.decide(j, p.Key, p.Name))
	return app.Li().Class("plan__row").DataSet("decided", j.Decided[p.Key]).Body(body...)
}

// decide offers what can be decided about a line. Pressed again, it is open.
func (x *Plan) decide(j *store.Job, key, of string) app.UI {
	button := func(text, to string) app.UI {
		pressed := "false"
		if j.Decided[key] == to {
			pressed = "true"
		}
		return &part.Button{Text: text, Of: of, Pressed: pressed, OnPress: func(app.Context) {
			x.Session.Write(func(j *store.Job) {
				if j.Decided == nil {
					j.Decided = map[string]string{}
				}
				if j.Decided[key] == to {
					delete(j.Decided, key)
					return
				}
				j.Decided[key] = to
			})
		}}
	}
	return app.Div().Class("buttons").Body(button("Done", decidedDone), button("Left as it is", decidedLeft))
}

// looked lists what was checked and found good, and what stays possible.
func (x *Plan) looked(r *record) []app.UI {
	var good, left []app.UI
	for _, l := range append(slices.Clip(r.lines), r.fitted()...) {
		if l.call == "good" {
			good = append(good, app.Li().Text(l.check+": "+strings.ToLower(l.word[:1])+l.word[1:]))
		}
	}
	for _, s := range r.left() {
		left = append(left, app.Li().Body(
			app.A().Href(route.Fault(s.Fault.ID).Href()).Text(s.Fault.Name),
			app.Text(", "+part.Percent(s.Probability)+". If it is there and left: "+s.Fault.DrivenOn)))
	}
	var out []app.UI
	if len(good) > 0 {
		out = append(out, app.H3().Text("Found good"), app.Ul().Class("list").Body(good...))
	}
	if len(left) > 0 {
		return append(out, app.H3().Text("Not proved, and still possible"), app.Ul().Class("list").Body(left...))
	}
	return append(out, app.P().Text("No other cause is likely from what was found."))
}
