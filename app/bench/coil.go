package bench

import (
	"fmt"
	"maps"
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Coil judges a solenoid coil by its ohms, and finds how warm a winding is.
//
// The caution about holding battery voltage on a coil stands before the fields,
// because who measures a coil is about to try it.
type Coil struct {
	app.Compo

	Session *session.Session

	form    coilForm
	rise    riseForm
	begun   bool
	address route.Follower
}

// Title names the calculator.
func (*Coil) Title() string { return "Coil checker" }

// Description says what the calculator is for.
func (*Coil) Description() string {
	return "Judges a solenoid coil by its ohms, with the leads taken off, brought to the temperature of the sheet, and the meter's error counted in."
}

// OnMount follows the job at hand.
func (c *Coil) OnMount(app.Context) {
	c.Session.Watch(c)
	c.Session.Open()
}

// OnNav takes what was typed from the address.
func (c *Coil) OnNav(ctx app.Context) { c.read(ctx.Page().URL().Query()) }

func (c *Coil) read(q url.Values) {
	c.form, c.rise, c.begun = coilFormFrom(q), riseFormFrom(q), true
}

// follow puts what was typed into the address.
func (c *Coil) follow(ctx app.Context) {
	q := c.form.query()
	maps.Copy(q, c.rise.query())
	c.address.Follow(ctx, route.Calculator(coilName).With(q))
}

// Render draws the fields and, under them, what they come to.
func (c *Coil) Render() app.UI {
	if !c.begun {
		c.form, c.rise, c.begun = newCoilForm(), newRiseForm(), true
	}
	sheet := c.Session.Sheet()
	out := c.form.work(c.Session.Catalogue(), sheet)
	body := []app.UI{
		app.H1().Text(c.Title()),
		app.P().Class("lead").Text("A good coil in a warm unit reads a quarter more than its sheet says, and the meter shows its own leads too. Type what you read; the rest is worked out."),
	}
	if w := c.Session.Catalogue().Caution("solenoid-current"); w != nil {
		body = append(body, part.Caution(w))
	}
	body = append(body, c.fields(out.Problems)...)
	body = append(body, app.Section().Class("result").Aria("label", "Result").Aria("live", "polite").Body(c.result(sheet, out)...))
	body = append(body, c.risePart())
	return app.Article().Body(body...)
}

// text makes the handler of a text field.
func (c *Coil) text(to *string) func(app.Context, string) {
	return func(ctx app.Context, value string) {
		*to = value
		c.follow(ctx)
	}
}

func (c *Coil) fields(p problems) []app.UI {
	f := &c.form
	var coils []part.Option
	for _, x := range unit.Coils {
		o := part.Option{Value: x.ID, Label: x.Name}
		for _, l := range c.Session.Sheet().Limits(x.Acceptance) {
			o.Hint = part.LimitText(l) + ", " + strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))
		}
		coils = append(coils, o)
	}
	coils = append(coils, part.Option{Value: ownCoil, Label: "Another coil", Hint: "With limits that you type from the maker's manual"})
	body := []app.UI{&part.Choice{Name: "coil-which", Legend: "Which coil?", Options: coils, Value: f.Coil, OnPick: c.text(&f.Coil)}}
	if f.Coil == ownCoil {
		body = append(body,
			&part.Field{ID: "coil-least", Label: "Least allowed", Mode: "decimal", Units: []string{quantity.Ohm.Name}, Value: f.Least, Problem: p["least"], OnInput: c.text(&f.Least)},
			&part.Field{ID: "coil-most", Label: "Greatest allowed", Mode: "decimal", Units: []string{quantity.Ohm.Name}, Value: f.Most, Problem: p["most"], OnInput: c.text(&f.Most)},
			&part.Field{ID: "coil-holds", Label: "Temperature at which these hold", Hint: "Leave empty if the manual does not say.", Mode: "decimal", Units: degrees, Unit: f.Unit, Value: f.HoldA, Problem: p["holds"], OnInput: c.text(&f.HoldA), OnUnit: c.text(&f.Unit)},
		)
	}
	temperatureLabel, temperatureHint := "Temperature of the winding", "After a run the pan or the scan tool is the nearest you have; what it can be off is counted in."
	if f.State == stateSoaked {
		temperatureLabel, temperatureHint = "Temperature of the air around it", "The unit must have stood for hours."
	}
	return append(body,
		&part.Field{ID: "coil-ohms", Label: "The meter shows", Mode: "decimal", Units: []string{quantity.Ohm.Name}, Words: []string{"OL"}, Value: f.Ohms, Problem: p["ohms"], OnInput: c.text(&f.Ohms)},
		&part.Field{ID: "coil-leads", Label: "The leads alone show", Hint: "Hold the probes together and read. 0 if the meter was zeroed.", Mode: "decimal", Units: []string{quantity.Ohm.Name}, Value: f.Leads, Problem: p["leads"], OnInput: c.text(&f.Leads)},
		&part.Choice{Name: "coil-state", Legend: "How warm is it?", Compact: true, Value: f.State, OnPick: c.text(&f.State), Options: []part.Option{
			{Value: stateWarm, Label: "It ran"},
			{Value: stateSoaked, Label: "Cold-soaked"},
		}},
		&part.Field{ID: "coil-at", Label: temperatureLabel, Hint: temperatureHint, Mode: "decimal", Units: degrees, Unit: f.Unit, Value: f.At, Problem: p["at"], OnInput: c.text(&f.At), OnUnit: c.text(&f.Unit)},
		&part.Choice{Name: "coil-where", Legend: "Where were the probes?", Compact: true, Value: f.Where, OnPick: c.text(&f.Where), Options: []part.Option{
			{Value: string(coil.Part), Label: "On the part"},
			{Value: string(coil.Connector), Label: "Case plug"},
			{Value: string(coil.Harness), Label: "Through the harness"},
		}},
		part.Fold("More: to the case, the meter, the supply",
			&part.Field{ID: "coil-case", Label: "From a pin to the case", Hint: "On the highest range of the meter.", Mode: "decimal",
				Units: []string{quantity.Megohm.Name, quantity.Kilohm.Name, quantity.Ohm.Name}, Unit: f.CaseUnit, Words: []string{"OL"},
				Value: f.Case, Problem: p["case"], OnInput: c.text(&f.Case), OnUnit: c.text(&f.CaseUnit)},
			app.P().Class("soft").Text("The meter's accuracy stands in its manual. Left empty, it is taken to be "+conformity.Default(quantity.Reading{Kind: quantity.KindResistance}).Source+"."),
			&part.Field{ID: "coil-percent", Label: "Meter accuracy, of the reading", Mode: "decimal", Units: []string{quantity.Percent.Name}, Value: f.Percent, Problem: p["percent"], OnInput: c.text(&f.Percent)},
			&part.Field{ID: "coil-digits", Label: "Meter accuracy, in digits", Hint: "Steps of the last digit shown.", Mode: "decimal", Units: []string{"digits"}, Value: f.Digits, Problem: p["digits"], OnInput: c.text(&f.Digits)},
			&part.Field{ID: "coil-supply", Label: "System voltage, for the current", Mode: "decimal", Units: []string{quantity.Volt.Name}, Value: f.Supply, Problem: p["supply"], OnInput: c.text(&f.Supply)},
		),
	)
}

// result draws what the form comes to, or says what is missing.
func (c *Coil) result(sheet unit.Sheet, out coilOutcome) []app.UI {
	heading := app.H2().Class("result__heading").Text("Result")
	switch {
	case len(out.Problems) > 0:
		return []app.UI{heading, &part.Verdict{Call: "none", Word: part.VerdictWord(conformity.None), Because: []string{"A field above needs another look."}}}
	case !out.Ready:
		return []app.UI{heading, app.P().Text("Type what the meter shows.")}
	}
	r := out.Result
	value := ""
	if r.Referred > 0 {
		value = fmt.Sprintf("%s ± %s at %s", ohms(r.Referred), quantity.FormatSignificant((2*r.Standard).Value(), quantity.Ohm, 2), temperature(r.Reference))
	}
	because := []string{r.Explanation}
	// A good or doubtful reading has its probability in the sentence before.
	if v := r.Judgement.Verdict; v.Called() && v != conformity.Open && v != conformity.Meets {
		because = append(because, "Probability that the coil is within its limits: "+part.Percent(r.Judgement.Probability)+".")
	}
	for _, e := range r.Expected {
		because = append(because, e.String()+" With the leads in it, for a coil within its limits.")
	}
	for _, l := range out.Limits {
		if l.Provenance.Kind == unit.Memory {
			because = append(because, "Judged by a figure from memory: confirm it in the maker's manual.")
			break
		}
	}
	verdict := r.Judgement.Verdict
	if r.Is(coil.ShortToCase) {
		// A coil that touches the case is bad whatever its ohms.
		body := []app.UI{heading, &part.Verdict{Call: "bad", Word: "Touches the case", Because: []string{r.Insulation.Reason}}}
		return append(body, c.more(sheet, out, value, because, verdict)...)
	}
	return append([]app.UI{heading}, c.more(sheet, out, value, because, verdict)...)
}

func (c *Coil) more(sheet unit.Sheet, out coilOutcome, value string, because []string, verdict conformity.Verdict) []app.UI {
	r := out.Result
	body := []app.UI{&part.Verdict{Call: part.Call(verdict), Word: part.VerdictWord(verdict), Value: value, Because: because}}
	if r.Insulation != nil && !r.Is(coil.ShortToCase) {
		body = append(body, app.P().Body(app.B().Text("To the case: "), app.Text(part.VerdictWord(r.Insulation.Verdict)+". "+r.Insulation.Reason)))
	}
	if len(out.Points) > 0 {
		var items []app.UI
		for _, f := range out.Points {
			items = append(items, app.Li().Body(app.A().Href(route.Fault(f.ID).Href()).Text(f.Name)))
		}
		body = append(body, app.H3().Text("It points to"), app.Ul().Body(items...))
	}
	for _, d := range r.Draws {
		body = append(body, app.P().Text(fmt.Sprintf("At %s it draws %s cold and %s hot.",
			quantity.FormatSignificant(d.Supply.Value(), quantity.Volt, 3), quantity.FormatSignificant(d.Cold.Value(), quantity.Ampere, 2), quantity.FormatSignificant(d.Hot.Value(), quantity.Ampere, 2))))
	}
	if r.HoldWarning != "" {
		body = append(body, app.P().Class("result__hold").Body(part.Icon("alert"), app.Span().Text(r.HoldWarning)))
	}
	if len(out.Limits) > 0 {
		body = append(body, app.H3().Text("Judged by"), part.Values(sheet.Book, out.Limits, sheet.Version == ""))
	}
	var notes []app.UI
	for _, n := range r.Notes {
		notes = append(notes, app.Li().Text(n))
	}
	if len(notes) > 0 {
		body = append(body, app.H3().Text("Taken for granted"), app.Ul().Body(notes...))
	}
	if len(r.Budget) > 0 {
		var rows []app.UI
		for _, b := range r.Budget {
			rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(b.Name), app.Td().Text(quantity.FormatSignificant(b.Standard.Value(), quantity.Ohm, 2))))
		}
		body = append(body, part.Fold("What the uncertainty is made of", app.Table().Body(
			app.THead().Body(app.Tr().Body(app.Th().Scope("col").Text("From"), app.Th().Scope("col").Text("Standard uncertainty at the sheet's temperature"))),
			app.TBody().Body(rows...),
		)))
	}
	return append(body, c.buttons(out))
}

// buttons keep the result: as an entry of its check, or in the notes.
func (c *Coil) buttons(out coilOutcome) app.UI {
	var row []app.UI
	if out.Check != nil && c.form.Ohms != "" && coil.Place(c.form.Where) != coil.Harness {
		entry := c.form.entry(out)
		row = append(row, &part.Button{Text: "Enter in the job", Of: out.Check.Name, Rank: "primary", OnPress: func(app.Context) {
			c.Session.Enter("Entered: "+out.Check.Name, entry)
		}})
	}
	row = append(row, saveButton(c.Session, c.form.line(out)))
	if out.Check != nil {
		row = append(row, app.A().Class("button", "button--plain").Href(route.Check(out.Check.ID).Href()).Text("The check in full"))
	}
	return app.Div().Class("buttons").Body(row...)
}

// risePart is the second tool: how warm a winding is.
func (c *Coil) risePart() app.UI {
	f := &c.rise
	out := f.work()
	p := out.Problems
	field := func(key, label, hint string, to *string, degree bool) app.UI {
		x := &part.Field{ID: "rise-" + key, Label: label, Hint: hint, Mode: "decimal", Units: []string{quantity.Ohm.Name}, Value: *to, Problem: p[key], OnInput: c.text(to)}
		if degree {
			x.Units, x.Unit, x.OnUnit = degrees, f.Unit, c.text(&f.Unit)
		}
		return x
	}
	result := app.Section().Class("result").Aria("label", "Winding temperature").Aria("live", "polite")
	switch {
	case out.Ready:
		because := []string{"The mean of the whole winding; its hottest spot is warmer."}
		if out.Risen {
			because = append([]string{"It is " + warmer(out.Rise) + " warmer than its surroundings."}, because...)
		}
		result = result.Body(&part.Verdict{Call: "none", Word: temperature(out.Winding), Because: because})
	case len(p) > 0:
		result = result.Body(app.P().Text("A field above needs another look."))
	default:
		result = result.Body(app.P().Text("Type both resistances, without the leads, and the cold temperature."))
	}
	return part.Section("winding", "How warm is the winding?",
		app.P().Text("Copper is its own thermometer: from how far the ohms rose follows how warm the winding is. Source: IEC 60034-1, temperature rise by resistance."),
		field("cold", "Ohms of the cold winding, leads taken off", "", &f.Cold, false),
		field("coldat", "Temperature of the cold winding", "", &f.ColdAt, true),
		field("warm", "Ohms of the warm winding, leads taken off", "", &f.Warm, false),
		field("room", "Temperature around it now", "For the rise; may stay empty.", &f.Room, true),
		result,
	)
}
