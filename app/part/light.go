package part

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// LightSwitch sets how the page is lit: for the sun, for a dark shop, or as the
// phone is set. The choice is kept.
type LightSwitch struct {
	app.Compo

	light dom.Light
}

// OnMount lights the page as it was left.
func (l *LightSwitch) OnMount(app.Context) {
	l.light = dom.KeptLight()
	dom.SetLight(l.light)
}

// Render draws the three choices.
func (l *LightSwitch) Render() app.UI {
	return &Choice{
		Name: "light", Legend: "Light", Compact: true, Value: string(l.light),
		Options: []Option{{"", "As the phone", ""}, {"day", "Day", ""}, {"night", "Night", ""}},
		OnPick: func(_ app.Context, value string) {
			l.light = dom.Light(value)
			dom.SetLight(l.light)
		},
	}
}

var lightSwitchExamples = []app.UI{&LightSwitch{}, &LightSwitch{light: "night"}}
