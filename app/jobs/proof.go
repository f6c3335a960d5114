package jobs

import (
	"maps"
	"slices"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/repair"
)

// Proof is the checks that are done again after the repair, before and after
// side by side. The job closes when each proved fault is shown to be gone.
type Proof struct {
	app.Compo
	Session *session.Session

	typed map[string]string // readings not yet entered, by check and observation
	why   map[string]string // reasons not yet given, by what is waived
}

// Title names the screen.
func (*Proof) Title() string { return "Proof after the repair" }

// Description says what the screen is for.
func (*Proof) Description() string {
	return "The checks that failed, done again after the repair, before and after side by side, with fluid, leaks and a road test at the end."
}

// OnMount reads the jobs.
func (x *Proof) OnMount(app.Context) {
	x.Session.Watch(x)
	x.Session.Open()
}

// Render draws the checks to repeat and what is missing.
func (x *Proof) Render() app.UI {
	r := recordOf(x.Session)
	if r == nil {
		return noJob(x.Title())
	}
	if x.typed == nil {
		x.typed, x.why = map[string]string{}, map[string]string{}
	}
	body := []app.UI{app.H1().Text(x.Title()), app.P().Class("lead").Text(r.job.Name)}
	if len(r.proved()) == 0 {
		return app.Article().Body(append(body, app.P().Text("Nothing is proved on this truck yet, so that there is no repair to prove."),
			app.Div().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go on in Find")))...)
	}
	body = append(body, app.P().Text("A repair is proved by the checks that failed before it. Read each check's cautions on its own page."))
	for _, k := range r.repeats() {
		body = append(body, x.check(r, k))
	}
	return app.Article().Body(append(body, x.ending(r))...)
}

func (x *Proof) check(r *record, k *catalogue.Check) app.UI {
	state := r.state(k.ID)
	word := map[repair.State]string{repair.NotDone: "Not done again yet", repair.Good: "Good", repair.Bad: "Still wrong", repair.Unclear: "No verdict"}[state]
	call := map[repair.State]string{repair.NotDone: "none", repair.Good: "good", repair.Bad: "bad", repair.Unclear: "unsure"}[state]
	body := []app.UI{
		app.P().Body(app.A().Class("row__link").Href(route.Check(k.ID).Href()).Text("The check in full")),
		app.P().Class("log__result").DataSet("call", call).Body(part.Icon(call), app.Span().Text(word)),
	}
	for i := range k.Observations {
		o := &k.Observations[i]
		before := "Not done before."
		l, done := r.before(k.ID, o.ID)
		if done {
			before = said(l)
		}
		now, entered := r.proofs[k.ID+"."+o.ID]
		// What was not asked before and proves nothing need not be asked now.
		if !done && !entered && i > 0 {
			continue
		}
		row := []app.UI{
			app.H3().Text(o.Asks),
			app.Dl().Class("compare").Body(
				app.Dt().Text("Before"), app.Dd().Text(before),
				app.Dt().Text("After"), app.Dd().Text(orElse(said(now), "Not done yet.", entered)),
			),
		}
		row = append(row, x.ask(k, o)...)
		body = append(body, app.Div().Class("proof").Body(row...))
	}
	return part.Section("c-"+k.ID, k.Name, body...)
}

func orElse(text, none string, there bool) string {
	if there {
		return text
	}
	return none
}

// ask takes an observation in again.
func (x *Proof) ask(k *catalogue.Check, o *catalogue.Observation) []app.UI {
	id := "p-" + k.ID + "-" + o.ID
	if o.Reading == nil {
		var options []part.Option
		for _, out := range o.Outcomes {
			options = append(options, part.Option{Value: out.ID, Label: out.Label})
		}
		return []app.UI{&part.Choice{Name: id, Legend: "Now: " + o.Asks, Quiet: true, Options: options, OnPick: func(_ app.Context, value string) {
			x.enter(k, diagnosis.Entry{Check: k.ID, Observation: o.ID, Outcome: value})
		}}}
	}
	kind := quantity.Kind(o.Reading.Quantity)
	u := x.Session.Units().Unit(quantity.DefaultUnit(kind))
	field := func(key, label, name string, words ...string) app.UI {
		return &part.Field{ID: id + key, Label: label, Mode: "decimal", Units: []string{name}, Words: words, Value: x.typed[id+key],
			OnInput: func(_ app.Context, value string) { x.typed[id+key] = value }}
	}
	body := []app.UI{}
	if kind == quantity.KindResistance {
		body = append(body, field("", "Reading now", u.Name, "OL"))
	} else {
		body = append(body, field("", "Reading now", u.Name))
	}
	warm := x.Session.Units().Unit(quantity.Fahrenheit)
	if o.Reading.Method == "coil" {
		body = append(body, field("-leads", "The leads alone show", u.Name), field("-at", "Temperature of the winding", warm.Name))
	}
	return append(body, app.Div().Class("buttons").Body(&part.Button{Text: "Enter", Of: o.Asks, OnPress: func(app.Context) {
		if x.typed[id] == "" {
			x.Session.Say("Type what is read now.")
			return
		}
		n := diagnosis.Entry{Check: k.ID, Observation: o.ID, Reading: x.typed[id], Unit: u.Name, Leads: x.typed[id+"-leads"]}
		if at := x.typed[id+"-at"]; at != "" {
			n.At = at + " " + warm.Name
		}
		x.enter(k, n)
	}}))
}

// enter keeps an entry made after the repair. An entry with a mistake in it is
// kept too, with what is wrong in the place of its verdict.
func (x *Proof) enter(k *catalogue.Check, n diagnosis.Entry) {
	x.Session.Prove("Entered after the repair: "+k.Name, n)
}

// ending says what is missing, and closes the job.
func (x *Proof) ending(r *record) app.UI {
	if !r.job.Closed.IsZero() {
		return part.Section("end", "Closed",
			app.P().Text("This job was closed "+when(r.job.Closed)+"."),
			app.Div().Class("buttons").Body(
				&part.Button{Text: "Open it again", OnPress: func(app.Context) { x.Session.Close(false) }},
				app.A().Class("button", "button--primary").Href(route.CustomerSheet().Href()).Text("Sheet for the customer"),
				app.A().Class("button", "button--plain").Href(route.ShopSheet().Href()).Text("Sheet for the shop"),
			))
	}
	faults, checks := r.missing()
	var waived []app.UI
	for _, id := range slices.Sorted(maps.Keys(r.job.Waived)) {
		if why := r.job.Waived[id]; why != "" {
			waived = append(waived, x.waived(id, r.name(id), why))
		}
	}
	var rows []app.UI
	for _, f := range faults {
		rows = append(rows, x.open(f.ID, f.Name+" is not shown to be gone."))
	}
	for _, id := range checks {
		rows = append(rows, x.open(id, r.checkName(id)+" is not good yet."))
	}
	if len(rows) > 0 {
		return part.Section("end", "Still in the way of closing the job", app.Ul().Class("plan").Body(append(rows, waived...)...))
	}
	return part.Section("end", "Close the job",
		app.Ul().Class("plan").Body(waived...),
		app.P().Text("Each proved fault is shown to be gone or was left out knowingly, and fluid, leaks and road are good or were left out knowingly."),
		app.Div().Class("buttons").Body(&part.Button{Text: "Close the job", Rank: "primary", OnPress: func(app.Context) { x.Session.Close(true) }}))
}

// open is one thing in the way; with a reason it can be waived.
func (x *Proof) open(id, text string) app.UI {
	return app.Li().Class("plan__row").Body(
		app.P().Class("plan__what").Text(text),
		&part.Field{ID: "w-" + id, Label: "Leave it out, because", Wide: true, Value: x.why[id], OnInput: func(_ app.Context, v string) { x.why[id] = v }},
		app.Div().Class("buttons").Body(&part.Button{Text: "Leave it out", Of: text, Rank: "quiet", OnPress: func(app.Context) {
			if x.why[id] == "" {
				x.Session.Say("Say why first. The reason goes on the sheet.")
				return
			}
			x.Session.Write(func(j *store.Job) {
				if j.Waived == nil {
					j.Waived = map[string]string{}
				}
				j.Waived[id] = x.why[id]
			})
		}}),
	)
}

// waived is what was left out, to bring back.
func (x *Proof) waived(id, name, why string) app.UI {
	return app.Li().Class("plan__row").Body(
		app.P().Class("plan__what").Text(name+": left out"),
		app.P().Class("row__more").Text(why),
		app.Div().Class("buttons").Body(&part.Button{Text: "Bring it back", Of: name, Rank: "quiet", OnPress: func(app.Context) {
			x.Session.Write(func(j *store.Job) { delete(j.Waived, id) })
		}}),
	)
}
