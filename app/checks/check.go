package checks

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Check is the page of one check: the steps with the cautions before those that
// need them, what is good, and where to enter what was seen.
type Check struct {
	app.Compo
	Session *session.Session
	ID      string

	ctx    app.Context
	lit    bool              // the screen is kept from going dark
	drafts map[string]*draft // by observation
}

// draft is what is being entered for one observation.
type draft struct {
	entry    diagnosis.Entry
	at       string // temperature as typed
	scale    string // its unit
	judged   diagnosis.Judgement
	moves    []Move
	finished bool // entered since the page was opened
}

func (p *Check) check() *catalogue.Check { return p.Session.Catalogue().Check(p.ID) }

// Title is the check's name.
func (p *Check) Title() string { return p.check().Name }

// Description is the check's purpose.
func (p *Check) Description() string { return p.check().Purpose }

// OnMount opens the jobs: the values shown and the verdicts are those of the
// truck at hand.
func (p *Check) OnMount(ctx app.Context) {
	p.ctx = ctx
	p.Session.Watch(p)
	p.Session.Open()
	p.light(ctx, p.Session.Settings().Awake)
}

// OnDismount lets the screen go dark again.
func (p *Check) OnDismount() { dom.LetSleep() }

// light keeps the screen lit while the check is open, or lets it go dark.
func (p *Check) light(ctx app.Context, awake bool) {
	if !awake {
		dom.LetSleep()
		p.lit = false
		return
	}
	dom.KeepAwake(ctx, func(_ app.Context, lit bool) {
		p.lit = lit
		p.Update()
	})
}

func (p *Check) draft(observation string) *draft {
	if p.drafts == nil {
		p.drafts = map[string]*draft{}
	}
	d := p.drafts[observation]
	if d == nil {
		d = &draft{entry: diagnosis.Entry{Check: p.ID, Observation: observation}, scale: p.Session.Units().Unit(quantity.Fahrenheit).Name}
		if o := p.check().Observation(observation); o != nil && o.Reading != nil {
			last := p.Session.Settings()
			d.entry.Percent, d.entry.Digits = last.Percent, last.Digits
			if o.Reading.Method == "coil" {
				d.entry.Leads = last.Leads
			}
		}
		p.drafts[observation] = d
	}
	return d
}

// Render draws the page.
func (p *Check) Render() app.UI {
	k, c := p.check(), p.Session.Catalogue()
	body := []app.UI{
		app.H1().Text(k.Name),
		app.P().Class("lead").Text(k.Purpose),
		app.P().Class("facts").Text(p.facts(c, k)),
		app.P().Class("screen-only").Body(app.A().Class("row__link").Href(route.Check(k.ID).At("results").Href()).Text("Go to what you found")),
	}
	if p.ctx != nil && dom.CanKeepAwake() {
		pressed, text := "false", "Keep the screen on"
		if p.lit {
			pressed, text = "true", "The screen stays on"
		}
		body = append(body, app.P().Class("buttons").Body(&part.Button{Text: text, Pressed: pressed, OnPress: func(ctx app.Context) { p.light(p.ctx, !p.lit) }}))
	}
	if len(k.Tools) > 0 {
		body = append(body, app.P().Body(app.B().Text("Tools: "), app.Text(strings.Join(k.Tools, ", ")+".")))
	}
	if storesCodes(c, k.ID) {
		body = append(body, app.P().Body(app.A().Class("row__link").Href(route.Codes().Href()).Text("Look a code up: what it means here, what stores it")))
	}
	body = append(body, &procedure{Catalogue: c, ID: k.ID, Sheet: p.Session.Sheet()})
	observed := []app.UI{}
	if p.Session.Job() != nil && !p.Session.Settled() {
		observed = append(observed, p.assumed())
	}
	for i := range k.Observations {
		observed = append(observed, p.observation(k, &k.Observations[i]))
	}
	observed = append(observed, app.P().Class("buttons").Body(
		app.A().Class("button", "button--plain").Href(route.Find().Href()).Text("Back to Find")))
	body = append(body, part.Section("results", "What you found", observed...))
	body = append(body, part.Fold("Where minutes, strengths and figures come from", p.sources(k)...))
	return app.Article().Body(body...)
}

// sources says where the estimates and the figures in the text come from.
func (p *Check) sources(k *catalogue.Check) []app.UI {
	out := []app.UI{part.SourceNote(p.Session.Book(), k.Estimates)}
	for _, n := range k.Numbers {
		out = append(out, app.P().Class("soft").Text(n.Says+":"), part.SourceNote(p.Session.Book(), n.From))
	}
	return out
}

func (p *Check) facts(c *catalogue.Catalogue, k *catalogue.Check) string {
	said := part.Minutes(k.Minutes)
	if l := c.Level(k.Level); l != nil {
		said = l.Name + ", " + said + " once there"
	}
	for _, id := range k.Also {
		if l := c.Level(id); l != nil {
			said += "; just as well with: " + strings.ToLower(l.Name[:1]) + l.Name[1:]
		}
	}
	if v := part.Versions(k.Versions); v != "" {
		said += "; " + v + " only"
	}
	return said + "."
}

// assumed says that the verdicts rest on a version that nobody has confirmed.
func (p *Check) assumed() app.UI {
	c := p.Session.Case()
	return app.P().Class("assumed").Body(
		part.Icon("alert"),
		app.Span().Text(" Judged as "+part.Versions([]unit.Version{c.Version})+", "+part.Builds([]unit.Build{c.Build})+", which nobody has confirmed. "),
		app.A().Href(route.Find().At("truck").Href()).Text("Say which it is"),
	)
}

func (p *Check) observation(k *catalogue.Check, o *catalogue.Observation) app.UI {
	d := p.draft(o.ID)
	heading := "o-" + o.ID
	body := []app.UI{app.H3().Class("observation__asks").ID(heading).Text(o.Asks)}
	if o.Reading == nil {
		body = append(body, p.pick(o, d))
	} else {
		body = append(body, p.read(o, d)...)
	}
	if look := codesOf(p.Session.Catalogue(), k.ID, o.ID); look != nil {
		body = append(body, look)
	}
	c := p.Session.Case()
	made := entries(c, k.ID, o.ID)
	verdicts := []diagnosis.Judgement{}
	if a, err := p.Session.Standing(); err == nil && p.Session.Job() != nil {
		verdicts = a.Verdicts
	}
	for i, m := range made {
		if m.place >= len(verdicts) {
			continue
		}
		body = append(body, p.entered(o, m, &verdicts[m.place], i == 0, len(made)))
		if i == 0 && d.finished && len(d.moves) > 0 {
			body = append(body, moved(d.moves))
		}
	}
	if d.finished && len(made) > 0 {
		body = append(body, app.P().Class("buttons").Body(
			app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Back to Find: what comes next")))
	}
	return app.Section().Class("observation").Aria("labelledby", heading).Body(body...)
}

// pick draws an observation that is answered with one of a few outcomes.
func (p *Check) pick(o *catalogue.Observation, d *draft) app.UI {
	var options []part.Option
	for _, x := range o.Outcomes {
		options = append(options, part.Option{Value: x.ID, Label: x.Label})
	}
	return app.Div().Body(
		&part.Choice{
			Name: "pick-" + o.ID, Legend: o.Asks, Quiet: true, Options: options, Value: d.entry.Outcome, Problem: d.judged.Problem,
			OnPick: func(_ app.Context, v string) {
				d.entry.Outcome, d.judged = v, diagnosis.Judgement{}
			},
		},
		&part.Button{Text: "Enter this", Of: o.Asks, Rank: "primary", OnPress: func(app.Context) { p.enter(o, d) }},
	)
}

// read draws an observation that is a number off an instrument.
func (p *Check) read(o *catalogue.Observation, d *draft) []app.UI {
	sheet := p.Session.Sheet()
	kind := quantity.Kind(o.Reading.Quantity)
	body := []app.UI{}
	if a, ok := sheet.Book.Acceptance(o.Reading.Acceptance); ok {
		body = append(body,
			app.P().Class("observation__good").Body(
				app.Text("What is good: "),
				app.A().Href(route.FigureGroup(a.Group).At(a.ID).Href()).Text(a.Name)),
			part.Values(sheet, sheet.Limits(a.ID)),
		)
	}
	problem := func(field string) string {
		if d.judged.Field == field {
			return d.judged.Problem
		}
		return ""
	}
	set := func(to *string) func(app.Context, string) {
		return func(_ app.Context, v string) { *to, d.judged = v, diagnosis.Judgement{} }
	}
	judge := func(app.Context) { p.enter(o, d) }
	var names []string
	for _, u := range quantity.Offered(kind) {
		names = append(names, u.Name)
	}
	var words []string
	if kind == quantity.KindResistance {
		words = []string{"OL"}
	}
	if d.entry.Unit == "" {
		d.entry.Unit = p.Session.Units().Unit(quantity.DefaultUnit(kind)).Name
	}
	trouble := problem("reading")
	if trouble == "" {
		trouble = problem("unit")
	}
	body = append(body, &part.Field{
		ID: o.ID + "-reading", Label: "Reading", Mode: "decimal", Signed: kind.BelowZero(), Value: d.entry.Reading, Units: names, Unit: d.entry.Unit, Words: words,
		Problem: trouble, OnInput: set(&d.entry.Reading), OnUnit: set(&d.entry.Unit), OnEnter: judge,
	})
	var leads app.UI
	if o.Reading.Method == "coil" {
		var scales []string
		for _, u := range quantity.Offered(quantity.KindTemperature) {
			scales = append(scales, u.Name)
		}
		soaked := "winding"
		if d.entry.Soaked {
			soaked = "air"
		}
		body = append(body,
			&part.Field{
				ID: o.ID + "-at", Label: "Temperature of the winding", Hint: "Ohms rise with warmth. Without it the verdict allows for any.",
				Mode: "decimal", Signed: true, Value: d.at, Units: scales, Unit: d.scale, Problem: problem("at"), OnInput: set(&d.at), OnUnit: set(&d.scale), OnEnter: judge,
			},
			&part.Choice{
				Name: o.ID + "-soaked", Legend: "That is the temperature of", Compact: true, Value: soaked,
				Options: []part.Option{{Value: "winding", Label: "the fluid or the part"}, {Value: "air", Label: "the air; it stood cold-soaked"}},
				OnPick:  func(_ app.Context, v string) { d.entry.Soaked, d.judged = v == "air", diagnosis.Judgement{} },
			},
		)
		leads = &part.Field{
			ID: o.ID + "-leads", Label: "What the leads read, touched together", Mode: "decimal", Value: d.entry.Leads,
			Units: []string{quantity.DefaultUnit(kind).Name}, Problem: problem("leads"), OnInput: set(&d.entry.Leads), OnEnter: judge,
		}
	}
	meter := []app.UI{
		&part.Field{
			ID: o.ID + "-percent", Label: "Meter accuracy, per cent of the reading", Mode: "decimal", Value: d.entry.Percent,
			Units: []string{quantity.Percent.Name}, Problem: problem("percent"), OnInput: set(&d.entry.Percent), OnEnter: judge,
		},
		&part.Field{
			ID: o.ID + "-digits", Label: "and counts of its last digit", Mode: "decimal", Value: d.entry.Digits,
			Problem: problem("digits"), OnInput: set(&d.entry.Digits), OnEnter: judge,
		},
		app.P().Class("soft").Text("Both stand in the meter's booklet. Left empty, a usual instrument is assumed."),
	}
	// On paper stand the boxes to write a reading into; the meter is asked for on
	// the screen.
	var fold app.UI
	if leads == nil {
		fold = app.Div().Class("screen-only").Body(part.Fold("Your meter", meter...))
	} else {
		fold = part.Fold("Leads and meter", leads, app.Div().Class("screen-only").Body(meter...))
	}
	return append(body,
		fold,
		&part.Button{Text: "Judge", Of: o.Asks, Rank: "primary", OnPress: judge},
	)
}

// enter judges a draft and, when it can be used, enters it into the job at hand.
func (p *Check) enter(o *catalogue.Observation, d *draft) {
	n := d.entry
	if o.Reading == nil {
		n = diagnosis.Entry{Check: n.Check, Observation: n.Observation, Outcome: n.Outcome}
	} else {
		n.Outcome = ""
		n.At = ""
		if t := strings.TrimSpace(d.at); t != "" {
			n.At = temperature(t, d.scale)
		} else {
			n.Soaked = false
		}
	}
	d.judged = p.Session.Judge(n)
	if d.judged.Problem != "" {
		p.Session.Say(d.judged.Problem)
		if id := p.troubled(o, d.judged.Field); id != "" {
			p.ctx.Defer(func(app.Context) {
				dom.Focus(id)
				dom.ScrollToID(id + "-problem")
			})
		}
		return
	}
	if part.Call(d.judged.Verdict) == "bad" {
		dom.Buzz()
	}
	before, _ := p.Session.Standing()
	word, _ := summary(o, &d.judged)
	p.Session.Enter("Entered: "+word, n)
	after, _ := p.Session.Standing()
	d.moves, d.finished = Moves(before, after, 3), true
	p.ctx.Defer(func(app.Context) { dom.ScrollToID("entered-" + o.ID) })
}

// temperature completes a typed temperature with its unit, unless it has one.
func temperature(typed, scale string) string {
	last := typed[len(typed)-1]
	if last >= '0' && last <= '9' || last == '.' || last == ',' {
		return typed + " " + scale
	}
	return typed
}

func (p *Check) troubled(o *catalogue.Observation, field string) string {
	switch field {
	case "reading", "unit":
		return o.ID + "-reading"
	case "outcome":
		return "pick-" + o.ID
	case "at", "leads", "percent", "digits":
		return o.ID + "-" + field
	}
	return ""
}

// summary is an entry's result in a few words, and its call.
func summary(o *catalogue.Observation, j *diagnosis.Judgement) (word, call string) {
	out := o.Outcome(j.Outcome)
	if o.Reading != nil && j.Verdict != "" {
		return part.VerdictWord(j.Verdict), part.Call(j.Verdict)
	}
	switch {
	case out == nil:
		return "No verdict", "none"
	case out.Normal:
		return out.Label, "good"
	}
	return out.Label, "bad"
}

// entered shows one entry of the job at hand with its verdict.
func (p *Check) entered(o *catalogue.Observation, m entryOf, j *diagnosis.Judgement, latest bool, of int) app.UI {
	word, call := summary(o, j)
	v := &part.Verdict{Call: call, Word: word, Value: j.Value}
	if j.Verdict == "" && call != "none" {
		// A picked answer is a sentence; the eye needs a word first.
		v.Word, v.Value = "Not as it should be", word
		if call == "good" {
			v.Word = "As it should be"
		}
	}
	if j.Problem != "" {
		v.Because = append(v.Because, j.Problem)
	}
	v.Because = append(v.Because, j.Reason)
	if j.Shows != "" {
		v.Because = append(v.Because, "Your meter should show "+strings.TrimSuffix(j.Shows, ".")+".")
	}
	if out := o.Outcome(j.Outcome); out != nil {
		v.Because = append(v.Because, out.Means)
		if out.Next != "" {
			v.Because = append(v.Because, "Next: "+out.Next)
		}
		if len(out.Proves) > 0 {
			var names []string
			for _, id := range out.Proves {
				if f := p.Session.Catalogue().Fault(id); f != nil {
					names = append(names, f.Name)
				}
			}
			v.Because = append(v.Because, "This proves: "+strings.Join(names, ", ")+".")
		}
	}
	if j.Provisional {
		v.Because = append(v.Because, "The figure it was held against is from memory: confirm it in the maker's manual before renewing anything.")
	}
	label := "Entered in this job"
	if !latest {
		label = "Entered earlier; the latest entry counts"
	} else if of > 1 {
		label = "Entered last; this one counts"
	}
	box := app.Div().Class("entered")
	if latest {
		box = box.ID("entered-" + o.ID)
	}
	return box.Body(
		app.P().Class("entered__label").Text(label),
		v,
		&part.Button{Text: "Remove this entry", Of: word, Rank: "quiet", OnPress: func(app.Context) {
			d := p.draft(o.ID)
			d.moves, d.finished = nil, false
			p.Session.Withdraw("Removed: "+word, m.place)
		}},
	)
}
