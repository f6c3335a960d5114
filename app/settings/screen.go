// Package settings is the screen of the user's ways: units, light, size of text
// and targets, the screen kept awake, and what the browser does with what is kept.
package settings

import (
	"slices"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/quantity"
)

// Screen is all of them. Each choice holds at once and is kept.
type Screen struct {
	app.Compo
	Session *session.Session

	kept dom.Kept
}

// Title names the screen.
func (*Screen) Title() string { return "Settings" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "Units, light, text size, gloves, the screen kept on, and whether this browser keeps your jobs."
}

// OnMount reads what was chosen before.
func (s *Screen) OnMount(ctx app.Context) {
	s.Session.Watch(s)
	s.Session.Open()
	s.ask(ctx, false)
}

func (s *Screen) ask(ctx app.Context, please bool) {
	dom.AskKept(ctx, please, func(ctx app.Context, k dom.Kept) {
		s.kept = k
		s.Update()
	})
}

// set changes a choice and shows it.
func (s *Screen) set(f func(*store.Settings)) {
	s.Session.Set(f)
	Dress(s.Session)
}

// Dress gives the page the size that the user chose.
func Dress(s *session.Session) {
	x := s.Settings()
	dom.Dress(x.Gloves, x.Text)
}

const (
	inBar  = "bar"
	yes    = "yes"
	usual  = "usual"
	metric = string(quantity.Metric)
)

// Render draws the choices.
func (s *Screen) Render() app.UI {
	x := s.Session.Settings()
	units := "us"
	if x.Units.System == quantity.Metric {
		units = metric
		if slices.Contains(x.Units.Own, inBar) {
			units = inBar
		}
	}
	return app.Article().Body(
		app.H1().Text(s.Title()),
		app.P().Text("Each choice holds at once and is kept on this device."),
		&part.Choice{Name: "units", Legend: "Units", Value: units, Hint: "Figures of the sheet are shown in these units, with what their source prints beside them. A number that is typed with its unit is understood in any.",
			Options: []part.Option{
				{Value: "us", Label: "psi, °F, inches, foot-pounds"},
				{Value: metric, Label: "kPa, °C, millimetres, newton metres"},
				{Value: inBar, Label: "bar, °C, millimetres, newton metres"},
			},
			OnPick: func(_ app.Context, value string) {
				s.set(func(x *store.Settings) {
					switch value {
					case metric:
						x.Units = quantity.Preference{System: quantity.Metric}
					case inBar:
						x.Units = quantity.Preference{System: quantity.Metric, Own: []string{inBar}}
					default:
						x.Units = quantity.Preference{}
					}
				})
			}},
		&part.Choice{Name: "gloves", Legend: "Buttons", Compact: true, Value: either(x.Gloves), Options: []part.Option{{Value: usual, Label: "Usual"}, {Value: yes, Label: "For gloves"}},
			OnPick: func(_ app.Context, value string) { s.set(func(x *store.Settings) { x.Gloves = value == yes }) }},
		&part.Choice{Name: "text", Legend: "Text", Compact: true, Value: x.Text, Options: []part.Option{{Value: "", Label: "Usual"}, {Value: "large", Label: "Large"}, {Value: "huge", Label: "Very large"}},
			OnPick: func(_ app.Context, value string) { s.set(func(x *store.Settings) { x.Text = value }) }},
		&part.Choice{Name: "awake", Legend: "Screen during a check", Compact: true, Value: either(x.Awake), Options: []part.Option{{Value: usual, Label: "As the phone"}, {Value: yes, Label: "Stays on"}},
			OnPick: func(_ app.Context, value string) { s.set(func(x *store.Settings) { x.Awake = value == yes }) }},
		&part.Field{ID: "meter", Label: "Meter or gauge that you use", Hint: "It is noted with each reading from now on.", Wide: true, Value: x.Meter,
			OnInput: func(_ app.Context, v string) { s.Session.Set(func(x *store.Settings) { x.Meter = v }) }},
		part.Section("kept", "What this browser keeps", s.keeping()...),
	)
}

func either(on bool) string {
	if on {
		return yes
	}
	return usual
}

func (s *Screen) keeping() []app.UI {
	said := "This browser does not say whether it will keep your jobs. Save them as a file now and then."
	switch s.kept {
	case dom.KeptYes:
		said = "This browser will not delete your jobs by itself. Clearing its data does."
	case dom.KeptNo:
		said = "This browser may delete your jobs when the device runs short of space. Ask it to keep them, and save them as a file now and then."
	}
	body := []app.UI{app.P().ID("kept-state").Attr("role", "status").Text(said)}
	var row []app.UI
	if s.kept == dom.KeptNo {
		row = append(row, &part.Button{Text: "Ask it to keep them", Rank: "primary", OnPress: func(ctx app.Context) { s.ask(ctx, true) }})
	}
	row = append(row, app.A().Class("button", "button--plain").Href(route.Transfer().Href()).Text("Save jobs as a file"))
	return append(body, app.Div().Class("buttons").Body(row...))
}
