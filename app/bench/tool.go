package bench

import (
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
)

// A tool is one calculator of the bench: what stands on its page.
type tool struct {
	name     string // in its address
	title    string
	what     string   // in the list of calculators, and as the page's description
	lead     string   // under the heading
	cautions []string // by their ids in the catalogue; they stand before the fields
	brief    bool     // short on the way to the first field: of each caution the signal word and the hazard, the rest at a press
	panels   []*panel

	// example is a query with invented inputs for all panels, in the trade's own
	// units; numbers are brought to the user's. metric replaces what can't be
	// brought over, rows of text and the units that they are in.
	example, metric string
}

// A panel is one form with what it comes to. Its result follows at each key.
type panel struct {
	id      string // of its elements, before the keys of its inputs
	heading string // none for the first panel of a tool
	intro   string
	empty   string // in the place of the result while nothing is typed
	inputs  []input

	// more gives further inputs, which hang on the catalogue; it may be nil.
	more func(*session.Session) []input

	// check notes what is wrong among inputs that are well by themselves; it may
	// be nil.
	check func(*form)

	// draw draws the inputs where they are not fields one under the other; it may be
	// nil.
	draw func(f *form, changed func(app.Context)) []app.UI

	// partial says that what is wrong with one input does not stop the rest: work is
	// called all the same, and takes what is well.
	partial bool

	// work works the form out. It is called when something was typed and nothing
	// is wrong with it: what is wanted is there, and every number is one. It
	// returns nil when it noted a problem instead.
	work func(*form) *result

	// picture is drawn under the result whether there is one or not; it may be
	// nil, and r may be.
	picture func(f *form, r *result) app.UI
}

// A result is what a form comes to.
type result struct {
	call    string // good, bad, unsure or none, as in part.Verdict
	word    string // the answer itself, large
	value   string
	because []string

	body []app.UI // under the answer
	line string   // for the notes of a job; empty for what is not worth a note

	entry   *diagnosis.Entry // for the job at hand, when this is the reading of a check
	check   string           // that check's id
	buttons []app.UI
}

// Tool is a calculator on screen.
type Tool struct {
	app.Compo

	Session *session.Session

	tool    *tool
	forms   []*form
	shows   bool // its example, as it is
	address route.Follower
}

// Title names the calculator.
func (x *Tool) Title() string { return x.tool.title }

// Description says what the calculator is for.
func (x *Tool) Description() string { return x.tool.what }

// OnMount follows the job at hand.
func (x *Tool) OnMount(app.Context) {
	x.Session.Watch(x)
	x.Session.Open()
}

// OnNav takes what was typed from the address.
func (x *Tool) OnNav(ctx app.Context) { x.read(ctx.Page().URL().Query()) }

func (x *Tool) read(q url.Values) {
	x.forms = nil
	for _, p := range x.tool.panels {
		f := newForm(x.Session, p)
		f.read(q)
		x.forms = append(x.forms, f)
	}
}

// query is the tool's part of the address. What stands at its default is left
// out, so that an untouched tool has the plain address.
func (x *Tool) query() url.Values {
	q := url.Values{}
	for _, f := range x.forms {
		f.write(q)
	}
	return q
}

// invented is the tool's example in the user's own units, as the address of the
// filled tool would have it.
func (x *Tool) invented() url.Values {
	own := x.Session.Units()
	q, _ := url.ParseQuery(x.tool.example)
	if own.Unit(quantity.Inch) != quantity.Inch {
		metric, _ := url.ParseQuery(x.tool.metric)
		for key := range metric {
			q[key] = metric[key]
		}
	}
	filled := url.Values{}
	for _, p := range x.tool.panels {
		f := newForm(x.Session, p)
		f.read(q)
		for n := range f.panel.inputs {
			i := &f.panel.inputs[n]
			if !q.Has(i.key) || len(i.units) < 2 || x.tool.metric != "" && strings.Contains("&"+x.tool.metric, "&"+i.key+"=") {
				continue
			}
			trade := i.units[0]
			if u, ok := quantity.UnitNamed(i.kind, q.Get(i.key+unitSuffix)); ok {
				trade = u
			}
			if u := own.Unit(trade); u != trade && i.offers(u) {
				if r, err := quantity.Parse(i.kind, q.Get(i.key), trade); err == nil {
					f.typed[i.key] = strings.TrimSuffix(quantity.FormatSignificant(r.Value(), u, 3), " "+u.Name)
					f.typed[i.key+unitSuffix] = u.Name
				}
			}
		}
		f.write(filled)
	}
	return filled
}

// briefCaution is a caution on a page that is filled in under the truck: signal
// word and hazard in view, what can happen and how to avoid it at a press, and on
// paper.
func briefCaution(c *catalogue.Caution) app.UI {
	word := []app.UI{}
	if c.Signal != "NOTICE" {
		word = append(word, part.Icon("alert"))
	}
	return app.Details().Class("caution", "caution--brief").DataSet("signal", strings.ToLower(c.Signal)).Body(
		app.Summary().Class("caution__brief").Body(
			app.Span().Class("caution__signal").Body(append(word, app.Span().Text(c.Signal))...),
			app.Span().Class("caution__text").Text(c.Hazard),
		),
		app.P().Class("caution__text").Text(c.Consequence),
		app.P().Class("caution__text").Text(c.Avoid),
	)
}

// touched reports whether anything was typed in the tool.
func (x *Tool) touched() bool {
	for _, f := range x.forms {
		if f.touched() {
			return true
		}
	}
	return false
}

// isExample reports whether the tool shows its example as it is.
func (x *Tool) isExample() bool {
	return x.touched() && x.query().Encode() == x.invented().Encode()
}

// Render draws each panel: its fields and, under them, what they come to.
func (x *Tool) Render() app.UI {
	if x.forms == nil {
		x.read(nil)
	}
	body := []app.UI{app.H1().Text(x.tool.title)}
	if x.tool.lead != "" {
		body = append(body, app.P().Class("lead").Text(x.tool.lead))
	}
	for _, id := range x.tool.cautions {
		if c := x.Session.Catalogue().Caution(id); c != nil {
			if x.tool.brief {
				body = append(body, briefCaution(c))
			} else {
				body = append(body, part.Caution(c))
			}
		}
	}
	x.shows = x.isExample()
	var shown, offered []app.UI
	switch {
	case x.shows:
		shown = append(shown, app.P().Class("tool__invented").Text("An invented example: nobody measured this. Change anything, or start empty."),
			app.A().Class("button", "button--plain").Href(route.Calculator(x.tool.name).Href()).Text("Start empty"))
	case !x.touched():
		offered = append(offered, app.A().Class("button", "button--plain").Href(route.Calculator(x.tool.name).With(x.invented()).Href()).Text("Try an invented example"))
	}
	if !x.tool.brief {
		shown, offered = append(shown, offered...), nil
	}
	body = append(body, app.Div().Body(shown...))
	for n, f := range x.forms {
		body = append(body, x.panel(f)...)
		if n == 0 {
			body = append(body, app.Div().Body(offered...)) // nothing more before the first field
		}
	}
	return app.Article().Body(body...)
}

func (x *Tool) panel(f *form) []app.UI {
	r := f.work()
	var body []app.UI
	if f.panel.intro != "" {
		body = append(body, app.P().Text(f.panel.intro))
	}
	body = append(body, f.fields(func(ctx app.Context) {
		x.address.Follow(ctx, route.Calculator(x.tool.name).With(x.query()))
	})...)
	label := "Result"
	if f.panel.heading != "" {
		label = f.panel.heading + ": result"
	}
	body = append(body, app.Section().Class("result").Aria("label", label).Aria("live", "polite").Body(x.result(f, r)...))
	if f.panel.picture != nil {
		body = append(body, f.panel.picture(f, r))
	}
	if f.panel.heading == "" {
		return body
	}
	return []app.UI{part.Section(f.panel.id, f.panel.heading, body...)}
}

// result draws what a form comes to, or says what is missing.
func (x *Tool) result(f *form, r *result) []app.UI {
	switch {
	case len(f.problems) > 0 && (r == nil || !f.panel.partial):
		return []app.UI{&part.Verdict{Call: "none", Word: "No result", Because: []string{"A field above needs another look."}}}
	case r == nil:
		return []app.UI{app.P().Text(f.panel.empty)}
	}
	var body []app.UI
	if r.word != "" {
		body = append(body, &part.Verdict{Call: r.call, Word: r.word, Value: r.value, Because: r.because})
	}
	body = append(body, r.body...)
	if x.shows {
		// What is invented does not go into a job.
		return body
	}
	var row []app.UI
	if r.entry != nil {
		if k := x.Session.Catalogue().Check(r.check); k != nil {
			entry := *r.entry
			row = append(row,
				&part.Button{Text: "Enter in the job", Of: k.Name, Rank: "primary", OnPress: func(app.Context) {
					x.Session.Enter("Entered: "+k.Name, entry)
				}},
				app.A().Class("button", "button--plain").Href(route.Check(k.ID).Href()).Text("The check in full"))
		}
	}
	row = append(row, r.buttons...)
	if r.line != "" {
		row = append(row, &part.Button{Text: "Add to the job's notes", OnPress: func(app.Context) { note(x.Session, r.line) }})
	}
	if len(row) > 0 {
		body = append(body, app.Div().Class("buttons").Body(row...))
	}
	return body
}

// note appends a line to the notes of the job at hand, and starts a job when
// there is none.
func note(s *session.Session, line string) {
	s.Write(func(j *store.Job) {
		if j.Notes != "" {
			j.Notes += "\n"
		}
		j.Notes += line
	})
	s.Say("Added to the notes of " + s.Job().Name + ".")
}
