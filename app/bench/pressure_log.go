package bench

import (
	"fmt"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/circuit"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/pattern"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// pressureLogTool is a page to fill in under the truck: one table of every gauge
// reading that the checks ask for, each judged as it is typed, and what they point
// to together.
var pressureLogTool = &tool{
	name:     "pressure-log",
	title:    "Pressure log",
	what:     "Every gauge reading in one table, each judged as you type it; together they name the circuit.",
	lead:     "Type what the gauges show.",
	cautions: []string{"raised-truck", "rotating-wheels", "gauge-range", "hot-fluid"},
	brief:    true,
	panels:   []*panel{pressureLogPanel, governorPlotPanel},
	example:  "line-pressure-manual-1.line-idle=57&line-pressure-manual-1.rear-servo=37&line-pressure-drive.line-idle=57&governor-pressure.standstill=16&points=0+2%0A10+9%0A20+19%0A30+28",
	metric:   "points=0+14%0A16+62%0A32+131%0A48+193",
}

var pressureLogPanel = &panel{
	id:      "gauge",
	empty:   "Type a pressure to begin.",
	inputs:  []input{unitPick(gaugeUnit, "The gauges read in", pressures, nil)},
	more:    gaugeInputs,
	draw:    drawGauges,
	partial: true,
	work:    workPressureLog,
}

// gaugeUnit is the choice of the unit that numbers of the table are in.
const gaugeUnit = "gauge-unit"

// hotEnough is the sheet's temperature of the fluid for a pressure test.
const hotEnough = "pressure-test-temperature"

func gaugeInputs(s *session.Session) []input {
	var inputs []input
	for _, x := range cells(s) {
		i := input{key: x.key(), label: x.asks[0].observation.Asks, kind: quantity.KindPressure, units: pressures, follows: gaugeUnit}
		if x.reads == hydraulics.Difference {
			i.beside, i.older, i.renew = true, x.asks[0].key(), fromDifference
		}
		inputs = append(inputs, i)
	}
	return inputs
}

// fromDifference makes of a difference, line less a gauge, what stands for it in
// that gauge's own cell.
func fromDifference(text string) string {
	switch sign, rest := signed(strings.TrimSpace(text)); {
	case rest == "":
		return ""
	case sign == "-":
		return "+" + rest
	default:
		return "-" + rest
	}
}

// drawGauges draws the table.
func drawGauges(f *form, changed func(app.Context)) []app.UI {
	var rows []gaugeRow
	var steps []app.UI
	named := map[string]bool{}
	for _, l := range gaugeLines(f.session) {
		row := gaugeRow{Cells: make([]gaugeCell, len(l.cells))}
		row.Heading, row.Throttle = l.spot.words(f)
		for n, x := range l.cells {
			if x == nil {
				continue
			}
			key := x.key()
			c := gaugeCell{Key: key, ID: f.id(f.input(key)), Value: f.typed[key], Window: x.window(f), Problem: f.problems[key]}
			if u := f.unit(key); c.Value != "" && u != f.picked(gaugeUnit) {
				c.Unit = u.Name
			}
			if c.Problem == "" {
				j := x.judge(f)
				c.Call, c.Judged, c.Problem = j.call, j.words, j.problem
			}
			row.Cells[n] = c
			for _, a := range x.asks {
				if !named[a.check.ID] {
					named[a.check.ID] = true
					steps = append(steps, app.Li().Body(app.A().Href(route.Check(a.check.ID).Href()).Text(a.check.Name)))
				}
			}
		}
		rows = append(rows, row)
	}
	var units, columns []string
	for _, u := range pressures {
		units = append(units, u.Name)
	}
	for _, p := range unit.Ports {
		columns = append(columns, portName(p))
	}
	sheet := judgedBy(f)
	caption := "Windows for the " + part.Versions([]unit.Version{sheet.Version}) + ", " + part.Builds([]unit.Build{sheet.Build})
	if limits := sheet.Limits(hotEnough); len(limits) > 0 {
		caption += "; fluid at " + part.LimitText(f.units(), limits[0])
	}
	return []app.UI{
		&gauges{ID: f.panel.id, Caption: caption + ".", Units: units, Unit: f.picked(gaugeUnit).Name, Columns: columns, Rows: rows,
			OnInput: func(ctx app.Context, key, value string) {
				f.typed[key] = value
				if value == "" {
					delete(f.typed, key+unitSuffix) // what is typed next is in the table's unit
				}
				changed(ctx)
			},
			OnUnit: func(ctx app.Context, name string) {
				f.typed[gaugeUnit] = name
				for n := range f.panel.inputs {
					delete(f.typed, f.panel.inputs[n].key+unitSuffix)
				}
				changed(ctx)
			}},
		part.Fold("The checks behind the table: steps, cautions, sources", app.Ul().Class("list").Body(steps...)),
	}
}

// pointing is from which probability a fault is named by the readings, and named
// how many: choices of this tool's.
const (
	pointing     = 0.1
	pointingMost = 5
)

func workPressureLog(f *form) *result {
	var entries []diagnosis.Entry
	var seen []pattern.Reading
	var rows []fact
	bad, good, open := 0, 0, 0
	against := map[string][]string{} // readings that show a fault, by its id
	for _, x := range cells(f.session) {
		j := x.judge(f)
		switch {
		case f.text(x.key()) == "" || f.problems[x.key()] != "":
			continue
		case j.problem != "":
			f.problem(x.key(), j.problem)
			continue
		}
		name := x.name(f)
		rows = append(rows, fact{name, f.entered(x.key()) + ": " + lowered(j.words)})
		if len(j.entries) == 0 {
			open++
		}
		for n, v := range j.verdicts {
			entries = append(entries, j.entries[n])
			seen = append(seen, x.pattern(v.Verdict))
			switch part.Call(v.Verdict) {
			case "good":
				good++
				continue
			case "bad":
				bad++
			default:
				open++
			}
			if o := j.asks[n].observation.Outcome(v.Outcome); o != nil {
				for _, link := range o.Shows {
					if !slices.Contains(against[link.ID], name) {
						against[link.ID] = append(against[link.ID], name)
					}
				}
			}
		}
	}
	if len(rows) == 0 {
		return nil
	}
	r := &result{call: "good", word: "Every reading is good"}
	switch {
	case bad > 0:
		r.call, r.word = "bad", counted(bad, "reading is", "readings are")+" out of the window"
	case open > 0:
		r.call, r.word = "unsure", counted(open, "reading has", "readings have")+" no verdict"
	}
	r.because = []string{fmt.Sprintf("%d good, %d out of the window, %d without a verdict.", good, bad, open)}
	if n := len(f.problems); n > 0 {
		r.because = append(r.because, counted(n, "entry", "entries")+" above could not be read and is left out.")
	}
	if points := patternItems(pattern.Of(seen)); len(points) > 0 {
		r.body = append(r.body, app.H3().Text("The pattern, by the application chart"), app.Ul().Class("list").Body(points...))
	}
	if bad > 0 {
		r.body = append(r.body, pointedAt(f, entries, against)...)
	}
	r.body = append(r.body, part.Fold("All readings", facts("", rows...)))
	if len(entries) > 0 {
		r.buttons = []app.UI{
			&part.Button{Text: "Enter all in the job", Rank: "primary", OnPress: func(app.Context) {
				f.session.EnterAll("Entered: "+counted(len(entries), "gauge reading", "gauge readings"), entries)
			}},
			app.A().Class("button", "button--plain").Href(circuit.Fit(entries).Href()).Text("Fit these readings"),
		}
	}
	return r
}

// pointedAt lists the faults that the readings point to with what was known
// before, each with the readings that show it.
func pointedAt(f *form, entries []diagnosis.Entry, against map[string][]string) []app.UI {
	a, err := f.session.Suppose(entries)
	if err != nil {
		return nil
	}
	if a.Clash != "" {
		return []app.UI{app.P().Text("These readings and what was entered before contradict each other. Read the last one again.")}
	}
	var items []app.UI
	for _, s := range a.Ranked {
		if s.Probability < pointing || len(items) == pointingMost {
			break
		}
		said := ", " + part.Percent(s.Probability)
		if p := f.session.Catalogue().Part(s.Fault.Part); p != nil {
			said += ": " + lowered(p.Name)
		}
		if shown := against[s.Fault.ID]; len(shown) > 0 {
			said += ". Shown by: " + strings.Join(shown, "; ")
		}
		items = append(items, app.Li().Body(app.A().Href(route.Fault(s.Fault.ID).Href()).Text(s.Fault.Name), app.Text(said+".")))
	}
	if len(items) == 0 {
		return nil
	}
	return []app.UI{app.H3().Text("Together with the complaint they point to"), app.Ul().Class("list").Body(items...)}
}

// patternItems puts patterns into words.
func patternItems(patterns []pattern.Pattern) []app.UI {
	var items []app.UI
	for _, p := range patterns {
		port, _ := unit.PortByID(p.Port)
		gears := gearList(p.Gears)
		name, why := "", ""
		switch p.Kind {
		case pattern.Circuit:
			name = circuitOf(p.Elements)
			why = "low in " + gears
			if len(p.Right) > 0 {
				why += ", right in " + gearList(p.Right) + ". Of what pressure puts on, only this is on wherever it is low and nowhere where it is right"
			}
			if p.Next != "" {
				why += ". Read " + gearList([]unit.Gear{p.Next}) + " next: right there and it is this, low there and it is the supply"
			}
		case pattern.Supply:
			name, why = "Supply: fluid, filter, pump, regulator", "low in "+gears+", wherever it was read"
		case pattern.Split:
			name, why = "No single circuit", "low in "+gears+", right in "+gearList(p.Right)+". Read the odd one again, or look for two faults"
		case pattern.Throttle:
			name, why = "Throttle valve", "right at idle in "+gears+", and does not rise enough with the throttle lever"
		case pattern.Raised:
			name, why = "Regulator, or throttle valve held open", "line pressure is too high"
			if gears != "" {
				why += " in " + gears
			}
		case pattern.Lagging:
			name, why = portName(port)+": "+lowered(circuitOf(p.Elements)), "does not follow line in "+gears+", so it leaks"
		case pattern.Stray:
			name, why = portName(port)+": "+lowered(circuitOf(p.Elements)), "pressure in "+gears+", where there should be none, so it leaks across or is not let off"
		case pattern.Governor:
			name, why = "Governor circuit", "its pressure is too low"
			if p.Call == pattern.High {
				why = "its pressure is too high"
			}
		}
		items = append(items, app.Li().Body(app.B().Text(name), app.Text(": "+why+".")))
	}
	return items
}

// circuitOf names the circuit of the elements: "Front clutch or rear clutch
// circuit".
func circuitOf(elements []unit.ElementID) string {
	var names []string
	for _, id := range elements {
		if e, ok := unit.ElementByID(id); ok {
			names = append(names, e.Name)
		}
		if n := len(names); n > 1 {
			names[n-1] = lowered(names[n-1])
		}
	}
	return strings.Join(names, " or ") + " circuit"
}

func gearList(gears []unit.Gear) string {
	var names []string
	for _, g := range gears {
		row, _ := unit.RowOf(g)
		names = append(names, row.Name)
	}
	return strings.Join(names, ", ")
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
