// Package circuit shows the hydraulic model: the circuits as a schematic with the
// pressure of each, the gauges at the ports, healthy and with faults; and which
// faults explain the gauge readings of a truck.
//
// Everything drawn comes from package hydraulics. The screens' own are the places
// of the boxes, how pipes run, and which pressures get which hatch.
package circuit

import (
	"cmp"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/order"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// most is how many faults at once are set on the screen: a choice of its own.
const most = 2

// standard is the severity at which a fault is first shown, in per cent: as bad as
// one that brings a truck in, by the screen's own choice.
const standard = 90

// Screen is the schematic with what is asked of the unit, and the fit.
type Screen struct {
	app.Compo

	Session *session.Session

	set     hydraulics.Setting
	begun   bool
	faults  []hydraulics.Fault
	size    string
	cells   []string // gauge readings to explain, as in the address
	follow  route.Follower
	known   string       // what states were computed for
	listed  unit.Version // what options were listed for
	options []option
	states  states
}

// states is the unit with the faults and without.
type states struct {
	now, healthy hydraulics.State
	problem      string
}

// Title names the screen.
func (*Screen) Title() string { return "The hydraulic circuit" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "The pressures in every circuit in each range, at any throttle and speed, healthy and with a fault, and which faults explain the readings of a pressure log."
}

// OnMount opens the jobs, because units and version are the user's.
func (s *Screen) OnMount(app.Context) {
	s.Session.Watch(s)
	s.Session.Open()
}

// OnNav takes the setting from the address.
func (s *Screen) OnNav(ctx app.Context) { s.read(ctx.Page().URL().Query()) }

// start is the setting in which the screen opens: the pressure test in D.
func (s *Screen) start() {
	g, _ := hydraulics.GaugeOf("line-pressure-drive", "line-idle")
	s.set, s.begun = g.At, true
	c := s.Session.Case()
	s.set.ByHand, s.set.Version, s.set.Build, s.set.Temperature = false, c.Version, c.Build, hydraulics.Hot
}

func (s *Screen) read(q url.Values) {
	s.start()
	if v := unit.Version(q.Get("version")); slices.Contains(unit.Versions, v) {
		s.set.Version = v
	}
	if b := unit.Build(q.Get("build")); b == unit.Stock || b == unit.Raised {
		s.set.Build = b
	}
	s.faults = nil
	for i, name := range q["fault"] {
		id, mode, _ := strings.Cut(name, "~")
		m, ok := hydraulics.ModelOf(id, mode)
		if !ok || len(s.faults) == most {
			continue
		}
		f := hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: standard / 100.}
		if severities := q["severity"]; i < len(severities) {
			if x, ok := within(severities[i], 0, 100); ok {
				f.Severity = x / 100
			}
		}
		s.faults = append(s.faults, f)
	}
	if !q.Has("range") && len(s.faults) > 0 {
		s.set = telling(s.set, s.faults)
	}
	if r := unit.Range(q.Get("range")); slices.Contains(unit.Ranges, r) {
		s.set.Range = r
		s.set.Road, s.set.Throttle = 0, 0
		s.ask(q.Get("asks"))
	}
	if x, ok := within(q.Get("throttle"), 0, 100); ok {
		s.set.Throttle = quantity.Ratio(x / 100)
	}
	if x, ok := measured(q.Get("speed"), quantity.Speed(0).Value(), hydraulics.MostRoad.Value()); ok {
		s.set.Road = quantity.Speed(x)
	}
	if x, ok := measured(q.Get("temperature"), fluid.ValidFluid[0].Value(), fluid.ValidFluid[1].Value()); ok {
		s.set.Temperature = quantity.Temperature(x)
	}
	s.size = ""
	for _, o := range sizes {
		if o.Value == q.Get("picture") {
			s.size = o.Value
		}
	}
	s.cells = q["cell"]
}

func within(text string, least, top float64) (float64, bool) {
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil && x >= least && x <= top
}

// measured reads a number with its unit from the address.
func measured(text string, least, top quantity.Value) (float64, bool) {
	r, err := quantity.Parse(least.Kind, text, quantity.Unit{})
	return r.SI, err == nil && text != "" && !r.OpenLoop && r.SI >= least.SI && r.SI <= top.SI
}

// telling is the pressure test in which faults change the circuit the most.
func telling(s hydraulics.Setting, faults []hydraulics.Fault) hydraulics.Setting {
	best, most := s, 0.0
	for _, g := range hydraulics.Gauges {
		try := s
		try.Range, try.Throttle, try.Road, try.Fourth, try.Lockup = g.At.Range, g.At.Throttle, g.At.Road, g.At.Fourth, g.At.Lockup
		now, err := hydraulics.Driven(try, faults...)
		if err != nil {
			continue
		}
		healthy, err := hydraulics.Driven(try)
		if err != nil {
			continue
		}
		change := 0.0
		for i, p := range healthy.Pressures {
			change += math.Abs(float64(now.Pressures[i]-p)) / float64(max(p, healthy.Pressures[lineAt]/4, 1))
		}
		if change > most*1.01 {
			best, most = try, change
		}
	}
	return best
}

// lineAt is the index of the line among the model's nodes.
var lineAt = slices.IndexFunc(hydraulics.Places[:], func(p hydraulics.Place) bool { return p.ID == "line" })

func (s *Screen) ask(what string) {
	s.set.Fourth, s.set.Lockup = what == "fourth" || what == "both", what == "lockup" || what == "both"
}

func (s *Screen) asks() string {
	switch {
	case s.set.Fourth && s.set.Lockup:
		return "both"
	case s.set.Fourth:
		return "fourth"
	case s.set.Lockup:
		return "lockup"
	}
	return ""
}

// plain is a number with its unit as the address has it.
func plain(v quantity.Value, u quantity.Unit) string {
	return strconv.FormatFloat(math.Round(u.From(v.SI)*10)/10, 'f', -1, 64) + " " + u.Name
}

// query is the setting as the address has it.
func (s *Screen) query() url.Values {
	units := s.Session.Units()
	q := url.Values{
		"range": {string(s.set.Range)}, "throttle": {strconv.Itoa(percent(float64(s.set.Throttle)))},
		"speed":       {plain(s.set.Road.Value(), units.Unit(quantity.MilePerHour))},
		"temperature": {plain(s.set.Temperature.Value(), units.Unit(quantity.Fahrenheit))},
		"version":     {string(s.set.Version)}, "build": {string(s.set.Build)}, "asks": {s.asks()}, "picture": {s.size}, "cell": s.cells,
	}
	withFaults(q, s.faults)
	return q
}

// withFaults puts faults into an address.
func withFaults(q url.Values, faults []hydraulics.Fault) {
	q.Del("fault")
	q.Del("severity")
	for _, f := range faults {
		q.Add("fault", nameOf(f))
		q.Add("severity", strconv.Itoa(percent(f.Severity)))
	}
}

// nameOf is a fault of the model as the address has it.
func nameOf(f hydraulics.Fault) string {
	if f.Mode == "" {
		return f.ID
	}
	return f.ID + "~" + f.Mode
}

func percent(x float64) int { return int(math.Round(100 * x)) }

func (s *Screen) changed(ctx app.Context) { s.follow.Follow(ctx, route.Circuit().With(s.query())) }

// compute finds the states, once for each setting.
func (s *Screen) compute() *states {
	q := s.query()
	q.Del("cell")
	q.Del("picture")
	if key := q.Encode(); key != s.known {
		s.known, s.states = key, states{}
		var err error
		if s.states.healthy, err = hydraulics.Driven(s.set); err != nil {
			s.states.problem = sentence(err)
		}
		s.states.now = s.states.healthy
		if len(s.faults) > 0 {
			if now, err := hydraulics.Driven(s.set, s.faults...); err != nil {
				s.states.problem = sentence(err)
			} else {
				s.states.now = now
			}
		}
	}
	return &s.states
}

// sentence is an error in words for a person.
func sentence(err error) string {
	if s, ok := err.(interface{ Sentence() string }); ok {
		return s.Sentence()
	}
	return "The model finds no steady state here."
}

// sizes are the ways to draw, by their names in the address.
var sizes = []part.Option{{Value: "", Label: "Whole width"}, {Value: "large", Label: "Large"}, {Value: "beside", Label: "Healthy beside it"}}

// Render draws the circuit, what is asked of it, and the fit.
func (s *Screen) Render() app.UI {
	if !s.begun {
		s.start()
	}
	x, units := s.compute(), s.Session.Units()
	pictures := []app.UI{schematic("circuit-now", s.caption(), &x.now, &x.healthy, units)}
	if s.size == "beside" && len(s.faults) > 0 {
		pictures = append([]app.UI{schematic("circuit-healthy", "Healthy: "+s.where(), &x.healthy, &x.healthy, units)}, pictures...)
	}
	return app.Article().Body(
		app.H1().Text(s.Title()),
		app.P().Class("lead").Text("Pick a range, move throttle and speed, put a fault in, and see which pressures follow."),
		app.P().Class("soft").Text("A model with dimensions that are typical of the class, most of them invented for the demo: it shows what moves with what, and is no source of any figure. Never set a pressure by it."),
		app.Div().Aria("live", "polite").Body(s.summary(x)),
		app.Div().Class("circuit").DataSet("size", cmp.Or(s.size, "whole")).TabIndex(0).Attr("role", "region").Aria("label", "The circuit, can be scrolled").Body(pictures...),
		app.P().Class("soft").Text(s.caption()+"."),
		s.controls(),
		s.legend(),
		app.Div().Class("circuit__dials").Body(s.dials(x)...),
		app.Div().Class("circuit__typed").Body(&part.Choice{Name: "circuit-picture", Legend: "Picture", Compact: true, Value: s.size, Options: sizes, OnPick: func(ctx app.Context, size string) {
			s.size = size
			s.changed(ctx)
		}}),
		s.more(),
		s.numbers(x),
		// It is handed only what a fit hangs on, so that it is not drawn at each move.
		&fitter{Session: s.Session, Cells: s.cells, Set: hydraulics.Setting{Version: s.set.Version, Build: s.set.Build, Temperature: s.set.Temperature}},
	)
}

// where is the setting in words.
func (s *Screen) where() string {
	units := s.Session.Units()
	return "range " + string(s.set.Range) + ", throttle " + strconv.Itoa(percent(float64(s.set.Throttle))) + " %, " +
		units.Format(s.set.Road.Value(), quantity.MilePerHour, 0) + ", fluid " + units.Format(s.set.Temperature.Value(), quantity.Fahrenheit, 0)
}

func (s *Screen) caption() string {
	if len(s.faults) == 0 {
		return "Healthy: " + s.where()
	}
	var names []string
	for _, f := range s.faults {
		names = append(names, s.said(f))
	}
	return strings.Join(names, " and ") + ": " + s.where()
}

// said names a fault with the way it goes.
func (s *Screen) said(f hydraulics.Fault) string { return faultName(s.Session, f) }

func faultName(s *session.Session, f hydraulics.Fault) string {
	name := f.ID
	if k := s.Catalogue().Fault(f.ID); k != nil {
		name = k.Name
	}
	if f.Mode != "" {
		name += " (" + strings.ReplaceAll(f.Mode, "-", " ") + ")"
	}
	return name
}

// summary says what the unit does.
func (s *Screen) summary(x *states) app.UI {
	if x.problem != "" {
		return &part.Verdict{Call: "unsure", Word: "No steady state", Because: []string{x.problem, "The picture shows the healthy unit."}}
	}
	row, _ := unit.RowOf(x.now.Gear)
	units := s.Session.Units()
	v := &part.Verdict{Call: "none", Word: capital(row.Name), Value: "Line " + pressure(units, x.now.Pressures[lineAt])}
	v.Because = []string{"Engine " + units.Format(x.now.Setting.Engine.Value(), quantity.RPM, 0) + ". " + valves(x.now.Valves)}
	if len(s.faults) > 0 {
		if was, _ := unit.RowOf(x.healthy.Gear); was.Gear != row.Gear {
			v.Call = "bad"
			v.Because = append(v.Because, "A healthy unit is in "+was.Name+" here.")
		}
		count := 0
		for i, p := range x.healthy.Pressures {
			if differs(x.now.Pressures[i], p) {
				count++
			}
		}
		if count == 0 {
			v.Because = append(v.Because, "No pressure differs to speak of: this fault shows elsewhere, or when hotter.")
		} else {
			v.Because = append(v.Because, "Pressures that differ from a healthy unit's: "+strconv.Itoa(count)+". Line there: "+pressure(units, x.healthy.Pressures[lineAt])+".")
		}
	}
	return v
}

func valves(v hydraulics.Valves) string {
	say := func(name string, up bool) string {
		if up {
			return name + " up"
		}
		return name + " down"
	}
	lock := "released"
	if v.Lockup {
		lock = "applied"
	}
	return "Shift valves: " + say("1-2", v.OneTwo) + ", " + say("2-3", v.TwoThree) + ", " + say("3-4", v.ThreeFour) + "; converter clutch " + lock + "."
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// models lists the faults of the model by their names.
func (s *Screen) models() []option {
	if s.listed == s.set.Version {
		return s.options
	}
	out := []option{{"", "None: healthy"}}
	for i := range hydraulics.FaultModels {
		m := &hydraulics.FaultModels[i]
		if k := s.Session.Catalogue().Fault(m.ID); k != nil && k.On(s.set.Version) {
			f := hydraulics.Fault{ID: m.ID, Mode: m.Mode}
			out = append(out, option{nameOf(f), s.said(f)})
		}
	}
	order.Stable(out[1:], func(a, b option) int { return cmp.Compare(a.label, b.label) })
	s.listed, s.options = s.set.Version, out
	return out
}

// controls is what is asked of the unit, under the thumb.
func (s *Screen) controls() app.UI {
	units := s.Session.Units()
	var ranges []option
	for _, r := range unit.Ranges {
		ranges = append(ranges, option{string(r), string(r)})
	}
	body := []app.UI{
		&picker{ID: "circuit-range", Label: "Range", Value: string(s.set.Range), Options: ranges, OnPick: func(ctx app.Context, v string) {
			s.set.Range = unit.Range(v)
			s.changed(ctx)
		}},
		s.faultPicker(0, "Fault"),
		&slider{ID: "circuit-throttle", Label: "Throttle", Most: 100, Step: 5, Value: strconv.Itoa(percent(float64(s.set.Throttle))),
			Said: strconv.Itoa(percent(float64(s.set.Throttle))) + " %", OnMove: func(ctx app.Context, v string) {
				if x, ok := within(v, 0, 100); ok {
					s.set.Throttle = quantity.Ratio(x / 100)
					s.changed(ctx)
				}
			}},
		scale("circuit-speed", "Speed", s.set.Road.Value(), quantity.Speed(0).Value(), hydraulics.MostRoad.Value(), quantity.MilePerHour, units, func(ctx app.Context, si float64) {
			s.set.Road = quantity.Speed(si)
			s.changed(ctx)
		}),
		scale("circuit-temperature", "Fluid", s.set.Temperature.Value(), fluid.ValidFluid[0].Value(), fluid.ValidFluid[1].Value(), quantity.Fahrenheit, units, func(ctx app.Context, si float64) {
			s.set.Temperature = quantity.Temperature(si)
			s.changed(ctx)
		}),
	}
	if len(s.faults) > 0 {
		body = append(body, s.severity(0))
	}
	return app.Section().Class("circuit__controls").Aria("label", "What is asked of the unit").Body(body...)
}

// scale is a slider in the user's unit.
func scale(id, label string, v, least, top quantity.Value, like quantity.Unit, units quantity.Preference, move func(ctx app.Context, si float64)) app.UI {
	u := units.Unit(like)
	round := func(v quantity.Value) int { return int(math.Round(u.From(v.SI))) }
	return &slider{ID: id, Label: label, Least: int(math.Ceil(u.From(least.SI))), Most: int(math.Floor(u.From(top.SI))), Step: 1,
		Value: strconv.Itoa(round(v)), Said: units.Format(v, like, 0), OnMove: func(ctx app.Context, text string) {
			if x, err := strconv.Atoi(text); err == nil {
				move(ctx, math.Max(least.SI, math.Min(top.SI, u.SI(float64(x)))))
			}
		}}
}

func (s *Screen) faultPicker(n int, label string) app.UI {
	at := ""
	if n < len(s.faults) {
		at = nameOf(s.faults[n])
	}
	return &picker{ID: "circuit-fault-" + strconv.Itoa(n+1), Label: label, Value: at, Options: s.models(), OnPick: func(ctx app.Context, v string) {
		id, mode, _ := strings.Cut(v, "~")
		m, ok := hydraulics.ModelOf(id, mode)
		switch {
		case !ok && n < len(s.faults):
			s.faults = slices.Delete(slices.Clone(s.faults), n, n+1)
		case !ok:
		case n < len(s.faults):
			s.faults = slices.Clone(s.faults)
			s.faults[n].ID, s.faults[n].Mode = m.ID, m.Mode
		default:
			s.faults = append(s.faults, hydraulics.Fault{ID: m.ID, Mode: m.Mode, Severity: standard / 100.})
		}
		s.changed(ctx)
	}}
}

// severity says how bad a fault is.
func (s *Screen) severity(n int) app.UI {
	f := s.faults[n]
	said := strconv.Itoa(percent(f.Severity)) + " %"
	return &slider{ID: "circuit-severity-" + strconv.Itoa(n+1), Label: "Severity", Most: 100, Step: 5, Value: strconv.Itoa(percent(f.Severity)), Said: said, OnMove: func(ctx app.Context, v string) {
		if x, ok := within(v, 0, 100); ok && n < len(s.faults) {
			s.faults = slices.Clone(s.faults)
			s.faults[n].Severity = x / 100
			s.changed(ctx)
		}
	}}
}

// more is what is set less often, and what the faults mean.
func (s *Screen) more() app.UI {
	var means []app.UI
	for _, f := range s.faults {
		m, _ := hydraulics.ModelOf(f.ID, f.Mode)
		line := []app.UI{app.A().Href(route.Fault(f.ID).Href()).Text(s.said(f)), app.Text(": at 100 %, " + m.Means + ".")}
		if !m.Graded() {
			line = append(line, app.Text(" It is there or not: severity changes nothing."))
		}
		means = append(means, app.Li().Body(line...))
	}
	body := []app.UI{}
	if len(means) > 0 {
		body = append(body, app.Ul().Class("list").Body(means...))
	}
	settings := []app.UI{
		&part.Choice{Name: "circuit-asks", Legend: "The computer commands", Compact: true, Value: s.asks(), Options: []part.Option{
			{Value: "", Label: "Neither"}, {Value: "fourth", Label: "4th"}, {Value: "lockup", Label: "Converter clutch"}, {Value: "both", Label: "Both"}},
			OnPick: func(ctx app.Context, v string) {
				s.ask(v)
				s.changed(ctx)
			}},
		&part.Choice{Name: "circuit-version", Legend: "Version", Compact: true, Value: string(s.set.Version), Options: []part.Option{
			{Value: string(unit.Light), Label: "Light"}, {Value: string(unit.Mid), Label: "Mid"}, {Value: string(unit.Late), Label: "Late"}},
			OnPick: func(ctx app.Context, v string) {
				s.set.Version = unit.Version(v)
				s.changed(ctx)
			}},
		&part.Choice{Name: "circuit-build", Legend: "Line pressure", Compact: true, Value: string(s.set.Build), Options: []part.Option{
			{Value: string(unit.Stock), Label: "Stock"}, {Value: string(unit.Raised), Label: "Raised on purpose"}},
			OnPick: func(ctx app.Context, v string) {
				s.set.Build = unit.Build(v)
				s.changed(ctx)
			}},
	}
	if len(s.faults) > 0 {
		settings = append(settings, s.faultPicker(1, "Second fault"))
	}
	if len(s.faults) > 1 {
		settings = append(settings, s.severity(1))
	}
	return app.Div().Body(append(body, part.Fold("Unit, computer, second fault", settings...))...)
}

// legend says what the hatches stand for.
func (s *Screen) legend() app.UI {
	units := s.Session.Units()
	at := func(i int) string { return units.Format(quantity.PSI.Of(bands[i]), quantity.PSI, 0) }
	var items []app.UI
	for i, name := range bandNames {
		said := "under " + at(0)
		switch {
		case i == len(bands):
			said = at(i-1) + " and more"
		case i > 0:
			said = at(i-1) + " to " + at(i)
		}
		key := `<svg class="circuit__key" viewBox="0 0 40 16" aria-hidden="true" focusable="false"><path class="circuit__pipe" data-band="` + name + `" d="M2 8h36"/></svg>`
		items = append(items, app.Li().Class("circuit__band").Body(app.Raw(key), app.Text(said)))
	}
	return app.Div().Body(
		app.Ul().Class("circuit__bands").Aria("label", "Line for each pressure").Body(items...),
		app.P().Class("soft").Text("Thicker lines and closer hatches: more pressure. Heavy edge: differs from healthy. A drop: leaks there. Squares: valves and orifices."))
}

// dials are the gauges at the ports.
func (s *Screen) dials(x *states) []app.UI {
	var out []app.UI
	widest := 0.0
	for _, p := range unit.Ports {
		widest = max(widest, p.Gauge.SI)
	}
	for _, p := range unit.Ports {
		now, _ := x.now.Port(p.ID)
		healthy, _ := x.healthy.Port(p.ID)
		scale := p.Gauge.SI
		if float64(max(now, healthy)) > scale {
			scale = widest // the gauge that may replace it anywhere
		}
		out = append(out, app.Div().Class("circuit__gauge").Body(dial(p.Name, scale, now, healthy, s.Session.Units()), app.P().Class("circuit__port").Text(p.Name)))
	}
	return out
}

// numbers is the picture as tables.
func (s *Screen) numbers(x *states) app.UI {
	units := s.Session.Units()
	faulty := len(s.faults) > 0
	head := func(first string) app.UI {
		cells := []app.UI{app.Th().Scope("col").Text(first), app.Th().Scope("col").Text("Healthy")}
		if faulty {
			cells = append(cells, app.Th().Scope("col").Text("With the fault"))
		}
		return app.THead().Body(app.Tr().Body(cells...))
	}
	row := func(name, healthy, now string) app.UI {
		cells := []app.UI{app.Th().Scope("row").Text(name), app.Td().Text(healthy)}
		if faulty {
			cells = append(cells, app.Td().Text(now))
		}
		return app.Tr().Body(cells...)
	}
	var rows, lost []app.UI
	for i, p := range hydraulics.Places {
		rows = append(rows, row(p.Name, pressure(units, x.healthy.Pressures[i]), pressure(units, x.now.Pressures[i])))
	}
	flow := func(q quantity.Flow) string { return units.Format(max(0, q).Value(), quantity.QuartPerMinute, 2) }
	for i, l := range hydraulics.Links {
		if l.Leak && max(x.now.Flows[i], x.healthy.Flows[i]) > leaking/10 {
			lost = append(lost, row(l.Name, flow(x.healthy.Flows[i]), flow(x.now.Flows[i])))
		}
	}
	return part.Section("numbers", "The same in numbers",
		app.Table().Body(app.Caption().Class("spoken").Text("Pressures"), head("Pressure in"), app.TBody().Body(rows...)),
		app.H3().Text("Leaks"),
		app.P().Class("soft").Text("A sound unit leaks a little at every ring and land. The least are left out."),
		app.Table().Body(app.Caption().Class("spoken").Text("Leaks"), head("Leak at"), app.TBody().Body(lost...)),
	)
}
