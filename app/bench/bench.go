// Package bench is the calculators on screen: a coil's ohms brought to the
// temperature of its sheet, what a fluid temperature means, and what kind of
// sensor two readings show.
//
// What is typed stands in the address, so that a link carries it, and the
// result follows at each key. What can't be used keeps standing in its field
// with a sentence beside it, and there is no verdict.
//
// Forms are worked out by functions without a browser in them (coil_form.go,
// temperature_form.go); the components draw what comes of it.
package bench

import (
	"errors"
	"fmt"
	"net/url"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/quantity"
)

// The calculators, by the name in their address.
const (
	coilName        = "coil"
	temperatureName = "temperature"
)

// Names lists the calculators in the order shown.
var Names = []string{coilName, temperatureName}

// Calculator makes the screen of a calculator.
func Calculator(s *session.Session, name string) route.Screen {
	if name == temperatureName {
		return &Temperature{Session: s}
	}
	return &Coil{Session: s}
}

// Screen lists the calculators.
type Screen struct {
	app.Compo
}

// New makes the list of calculators.
func New() *Screen { return &Screen{} }

// Title names the list.
func (*Screen) Title() string { return "Bench" }

// Description says what the calculators are for.
func (*Screen) Description() string {
	return "Calculators for the bench: a coil's ohms at the temperature it has, what a fluid temperature means, and a sensor by two readings."
}

// Render draws the list.
func (s *Screen) Render() app.UI {
	entry := func(name, title, what string) app.UI {
		return app.Li().Class("tools__item").Body(
			app.A().Class("tools__link").Href(route.Calculator(name).Href()).Text(title),
			app.P().Class("tools__what").Text(what),
		)
	}
	return app.Article().Body(
		app.H1().Text(s.Title()),
		app.P().Class("lead").Text("Each result follows what you type, and the address carries it: send the link, and the other sees the same."),
		app.Ul().Class("tools").Body(
			entry(coilName, (&Coil{}).Title(), "Is this solenoid coil good, at the temperature it has and with these leads and this meter? And how warm is a winding, from how far its ohms rose?"),
			entry(temperatureName, (&Temperature{}).Title(), "What does a fluid temperature mean for this unit and for the life of its fluid? And is a temperature sensor sound, by two readings at two known temperatures?"),
		),
	)
}

// problems says what is wrong with what was typed, in a sentence by field.
type problems map[string]string

// input is one text field of a form with its key in the address.
type input struct {
	key  string
	text *string
}

// longest is how many characters of a field go into the address. No reading has
// as many; what is longer is kept in the field and refused beside it.
const longest = 80

func fromQuery(inputs []input, q url.Values) {
	for _, i := range inputs {
		if q.Has(i.key) {
			*i.text = q.Get(i.key)
		}
	}
}

func toQuery(inputs []input) url.Values {
	q := url.Values{}
	for _, i := range inputs {
		r := []rune(*i.text)
		q.Set(i.key, string(r[:min(len(r), longest)]))
	}
	return q
}

// sentence is an error in the words for the person who typed.
func sentence(err error) string {
	var s interface{ Sentence() string }
	if errors.As(err, &s) {
		return s.Sentence()
	}
	return "This can't be worked out. Check what was typed."
}

// parse reads a field; ok is false when it is empty or wrong, which is noted.
func (p problems) parse(key string, kind quantity.Kind, text, unit string) (r quantity.Reading, ok bool) {
	if text == "" {
		return r, false
	}
	u, _ := quantity.UnitNamed(kind, unit)
	r, err := quantity.Parse(kind, text, u)
	if err != nil {
		p[key] = sentence(err)
		return quantity.Reading{}, false
	}
	return r, true
}

// closed reads a field of ohms in which OL means nothing; why says so.
func (p problems) closed(key, text, unit, why string) (r quantity.Reading, ok bool) {
	r, ok = p.parse(key, quantity.KindResistance, text, unit)
	if ok && r.OpenLoop {
		p[key] = why
		return quantity.Reading{}, false
	}
	return r, ok
}

// saveButton appends a line to the notes of the job at hand, and starts a job
// when there is none.
func saveButton(s *session.Session, line string) app.UI {
	return &part.Button{Text: "Add to the job's notes", OnPress: func(app.Context) {
		s.Write(func(j *store.Job) {
			if j.Notes != "" {
				j.Notes += "\n"
			}
			j.Notes += line
		})
		s.Say("Added to the notes of " + s.Job().Name + ".")
	}}
}

// Temperatures are typed in one of these units.
var degrees = []string{quantity.Fahrenheit.Name, quantity.Celsius.Name}

func temperature(t quantity.Temperature) string {
	return quantity.FormatBoth(t.Value(), quantity.Fahrenheit, 0)
}

// warmer is a difference of temperatures, given in kelvin.
func warmer(k float64) string {
	return fmt.Sprintf("%.0f %s (%.0f %s)",
		quantity.Fahrenheit.From(k)-quantity.Fahrenheit.From(0), quantity.Fahrenheit.Name,
		quantity.Celsius.From(k)-quantity.Celsius.From(0), quantity.Celsius.Name)
}

func ohms(r quantity.Resistance) string {
	return quantity.FormatSignificant(r.Value(), quantity.Ohm, 3)
}
