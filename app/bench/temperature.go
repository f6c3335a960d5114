package bench

import (
	"maps"
	"net/url"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Temperature says what a fluid temperature means, and what kind of sensor two
// readings show.
type Temperature struct {
	app.Compo

	Session *session.Session

	heat    heatForm
	sensor  sensorForm
	begun   bool
	address route.Follower
}

// Title names the calculator.
func (*Temperature) Title() string { return "Fluid temperature and sensor" }

// Description says what the calculator is for.
func (*Temperature) Description() string {
	return "What a fluid temperature means for the unit and its fluid, and whether a temperature sensor is sound, by two readings at two known temperatures."
}

// OnMount follows the job at hand.
func (x *Temperature) OnMount(app.Context) {
	x.Session.Watch(x)
	x.Session.Open()
}

// OnNav takes what was typed from the address.
func (x *Temperature) OnNav(ctx app.Context) { x.read(ctx.Page().URL().Query()) }

func (x *Temperature) read(q url.Values) {
	x.heat, x.sensor, x.begun = heatFormFrom(q), sensorFormFrom(q), true
}

func (x *Temperature) text(to *string) func(app.Context, string) {
	return func(ctx app.Context, value string) {
		*to = value
		q := x.heat.query()
		maps.Copy(q, x.sensor.query())
		x.address.Follow(ctx, route.Calculator(temperatureName).With(q))
	}
}

// Render draws both tools.
func (x *Temperature) Render() app.UI {
	if !x.begun {
		x.heat, x.sensor, x.begun = newHeatForm(), newSensorForm(), true
	}
	sheet := x.Session.Sheet()
	body := []app.UI{app.H1().Text(x.Title())}
	if w := x.Session.Catalogue().Caution("hot-fluid"); w != nil {
		body = append(body, part.Caution(w))
	}
	body = append(body, x.heatPart(sheet)...)
	return app.Article().Body(append(body, x.sensorPart())...)
}

func (x *Temperature) heatPart(sheet unit.Sheet) []app.UI {
	f := &x.heat
	out := f.work(sheet)
	body := []app.UI{&part.Field{
		ID: "heat-at", Label: "Fluid temperature", Hint: "In the pan, at the cooler line or on the scan tool.", Mode: "decimal",
		Units: degrees, Unit: f.Unit, Value: f.At, Problem: out.Problems["at"], OnInput: x.text(&f.At), OnUnit: x.text(&f.Unit),
	}}
	result := app.Section().Class("result").Aria("label", "Result").Aria("live", "polite")
	switch {
	case out.Ready:
		result = result.Body(&part.Verdict{Call: bandCall(out.State.Band), Word: bandWord(out.State.Band), Because: []string{out.State.Sentence}})
	case len(out.Problems) > 0:
		result = result.Body(app.P().Text("The field above needs another look."))
	default:
		result = result.Body(app.P().Text("Type a temperature to see where it lies."))
	}
	body = append(body, result, scale(heatLimits(sheet), out.At, out.Ready))

	var limits []app.UI
	for _, id := range heatFigures {
		a, ok := sheet.Book.Acceptance(id)
		if !ok {
			continue
		}
		limits = append(limits, app.H3().Text(a.Name), part.Values(sheet.Book, sheet.Limits(id), sheet.Version == ""))
	}
	body = append(body, part.Fold("The figures behind it", limits...), x.life(out))
	if out.Ready {
		body = append(body, app.Div().Class("buttons").Body(saveButton(x.Session, "Fluid temperature: "+out.State.Sentence)))
	}
	return body
}

// bandWord is a band as a heading.
func bandWord(b fluid.Band) string {
	return map[fluid.Band]string{
		fluid.TooCold: "Too cold for 4th", fluid.MaybeCold: "Perhaps too cold for 4th", fluid.Warming: "Warming up",
		fluid.Normal: "Normal", fluid.Warm: "Warmer than normal", fluid.SealDamage: "Hot: seals harden",
		fluid.HotStrategy: "Too hot: the computer gives up 4th", fluid.FluidDamage: "Too hot: the fluid fails",
		fluid.Unknown: "No limit is known", fluid.NoReading: "No verdict",
	}[b]
}

// bandCall sorts a band for the eye, as part.Call does a verdict.
func bandCall(b fluid.Band) string {
	switch b {
	case fluid.Normal:
		return "good"
	case fluid.SealDamage, fluid.HotStrategy, fluid.FluidDamage:
		return "bad"
	case fluid.Warm, fluid.MaybeCold:
		return "unsure"
	}
	return "none"
}

// life shows the trade's rule of thumb beside what a reaction would do.
func (x *Temperature) life(out heatOutcome) app.UI {
	body := []app.UI{app.P().Text("The trade's chart says that each " + warmer(fluid.ChartStep) + " over " + temperature(fluid.ChartReference) +
		" halves the life of the fluid. It is folklore: its copies repeat each other, and no test stands behind it. Beside it stands what one chemical reaction would do that agrees with the chart's two ends (Arrhenius). Neither is a promise.")}
	if out.Aged {
		body = append(body, app.Table().Body(
			app.Caption().Class("result__caption").Text("Life at "+temperature(out.At)+", against "+temperature(fluid.ChartReference)),
			app.TBody().Body(
				app.Tr().Body(app.Th().Scope("row").Text("Rule of thumb (folklore)"), app.Td().Text(lifeWords(out.Halving))),
				app.Tr().Body(app.Th().Scope("row").Text("Arrhenius, fitted to the same chart"), app.Td().Text(lifeWords(out.Arrhenius))),
			),
		))
	}
	return part.Section("life", "How long the fluid lasts", body...)
}

func (x *Temperature) sensorPart() app.UI {
	f := &x.sensor
	out := f.work()
	p := out.Problems
	field := func(key, label string, to *string, degree bool) app.UI {
		y := &part.Field{ID: "sensor-" + key, Label: label, Mode: "decimal", Units: []string{quantity.Ohm.Name}, Value: *to, Problem: p[key], OnInput: x.text(to)}
		if degree {
			y.Units, y.Unit, y.OnUnit = degrees, f.Unit, x.text(&f.Unit)
		} else {
			y.Words = []string{"OL"}
		}
		return y
	}
	body := []app.UI{
		app.P().Text("The sources do not say whether this sensor's ohms fall or rise with warmth, so no table turns ohms into degrees here. Read it at two temperatures that you know from a thermometer, such as cold-soaked and warm: the two readings decide which kind it is, and what it should read at a third."),
		field("ra", "First reading", &f.OhmsA, false), field("ta", "Temperature of the first", &f.AtA, true),
		field("rb", "Second reading", &f.OhmsB, false), field("tb", "Temperature of the second", &f.AtB, true),
		field("tc", "Foretell it at (may stay empty)", &f.Third, true),
	}
	result := app.Section().Class("result").Aria("label", "Sensor").Aria("live", "polite")
	var line string
	switch {
	case out.Ready:
		verdict := &part.Verdict{Call: sensorCall(out.Sensor.Type), Word: sensorWord(out.Sensor.Type), Because: []string{out.Sensor.Reason}}
		if out.Sensor.Sure > 0 {
			verdict.Because = append(verdict.Because, "Probability of this: "+part.Percent(min(out.Sensor.Sure, nearlySure))+".")
		}
		if out.Foretold {
			e := out.Estimate
			said := "At " + temperature(out.Third) + " it should read " + ohms(e.Resistance) + ", between " + ohms(e.Least) + " and " + ohms(e.Most) + "."
			if e.Outside {
				said += " That is outside the two readings, where it is less sure."
			}
			verdict.Value = said
		}
		line = "Temperature sensor: " + f.OhmsA + " ohm at " + withUnit(f.AtA, f.Unit) + ", " + f.OhmsB + " ohm at " + withUnit(f.AtB, f.Unit) + ": " + sensorWord(out.Sensor.Type) + ". " + verdict.Value
		result = result.Body(verdict, app.Div().Class("buttons").Body(saveButton(x.Session, line)))
	case len(p) > 0:
		result = result.Body(app.P().Text("A field above needs another look."))
	default:
		result = result.Body(app.P().Text("Type both readings with their temperatures."))
	}
	return part.Section("sensor", "A sensor by two readings", append(body, result)...)
}

// nearlySure is the most that is claimed of two readings.
const nearlySure = 0.999

func sensorWord(t fluid.SensorType) string {
	switch t {
	case fluid.NTC:
		return "Ohms fall with warmth (NTC)"
	case fluid.Silicon:
		return "Ohms rise with warmth (PTC)"
	case fluid.Neither:
		return "Not a sound sensor's readings"
	}
	return "Can't be told"
}

func sensorCall(t fluid.SensorType) string {
	switch t {
	case fluid.NTC, fluid.Silicon:
		return "good"
	case fluid.Neither:
		return "bad"
	}
	return "unsure"
}
