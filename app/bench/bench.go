// Package bench is the calculators on screen: a coil's ohms brought to the
// temperature of its sheet, what a fluid temperature means, and what kind of
// sensor two readings show.
//
// What is typed stands in the address, so that a link carries it, and the
// result follows at each key. What can't be used keeps standing in its field
// with a sentence beside it, and there is no verdict.
//
// A calculator is a value of type tool: what its panels ask for, and a function
// that works out what was typed (tool.go, form.go). One component draws them
// all. Each has a file of its own and a line in groups.
package bench

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// groups are the calculators under the headings of the list, in the order shown.
var groups = []struct {
	id, heading string
	tools       []*tool
}{
	{"electrical", "Electrical", []*tool{coilTool, governorTool, circuitTool}},
	{"heat", "Fluid and heat", []*tool{temperatureTool, fluidTool, fluidHeatTool}},
	{"leaks", "Leaks and surfaces", []*tool{leakTool, leakDownTool, flatnessTool}},
	{"springs", "Springs and clutches", []*tool{springTool, clampTool, pressurePlanTool}},
	{"road", "Road and gauges", []*tool{pressureLogTool, ratioTool, shiftLogTool}},
}

// tools are all the calculators.
var tools = func() []*tool {
	var all []*tool
	for _, g := range groups {
		all = append(all, g.tools...)
	}
	return all
}()

// Names lists the calculators by the name in their address, in the order shown.
var Names = func() []string {
	var names []string
	for _, t := range tools {
		names = append(names, t.name)
	}
	return names
}()

// Calculator makes the screen of a calculator.
func Calculator(s *session.Session, name string) route.Screen {
	for _, t := range tools {
		if t.name == name {
			return &Tool{Session: s, tool: t}
		}
	}
	return &Tool{Session: s, tool: tools[0]}
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
	return "Calculators for the bench: coils and sensors at the temperature they have, fluid, leaks, flatness, springs, clutches, pressures, ratios."
}

// Render draws the list.
func (s *Screen) Render() app.UI {
	body := []app.UI{
		app.H1().Text(s.Title()),
		app.P().Class("lead").Text("Each result follows what you type, and the address carries it: send the link, and the other sees the same."),
	}
	for _, g := range groups {
		var items []app.UI
		for _, t := range g.tools {
			items = append(items, app.Li().Class("tools__item").Body(
				app.A().Class("tools__link").Href(route.Calculator(t.name).Href()).Text(t.title),
				app.P().Class("tools__what").Text(t.what),
			))
		}
		body = append(body, part.Section(g.id, g.heading, app.Ul().Class("tools").Body(items...)))
	}
	return app.Article().Body(body...)
}

// figures shows the limits of the sheet that a result rests on.
func (f *form) figures(limits []unit.Limit) app.UI {
	return part.Values(f.sheet(), limits)
}

func (f *form) temperature(t quantity.Temperature) string {
	return f.units().Format(t.Value(), quantity.Fahrenheit, 0)
}

// warmer is a difference of temperatures, given in kelvin.
func (f *form) warmer(k float64) string {
	u := f.units().Unit(quantity.Fahrenheit)
	return quantity.FormatSignificant(quantity.Value{Kind: u.Kind, SI: u.SI(k / u.Step(1))}, u, 3)
}

func (f *form) ohms(r quantity.Resistance) string { return f.say(r.Value(), quantity.Ohm, 3) }
