package bench

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/pattern"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A spot is how the truck stands for a gauge reading: a row of the table.
type spot struct {
	in       unit.Range // empty: any forward range
	gear     string     // as the sheet names it; empty: not said
	after    unit.Range // the range that it was in before, where that matters
	throttle quantity.Ratio
	lever    bool // the throttle lever is moved by hand
	told     bool // throttle is part of the spot
	engine   quantity.Rotation
	road     quantity.Speed
	governor bool // road is part of the spot, and engine is not
	locked   bool // converter clutch on
	rise     bool // it comes on
	relayOut bool
}

// An ask is one observation that wants a reading.
type ask struct {
	check       *catalogue.Check
	observation *catalogue.Observation
}

// A cell is one gauge at one spot. What is read there goes to every observation
// that asks for it.
type cell struct {
	spot  spot
	port  unit.Port
	reads hydraulics.Reads
	asks  []ask
	line  *cell // beside it, where it is held against line
}

// A gaugeLine is a row of the table, with a cell for each port or nil.
type gaugeLine struct {
	spot  spot
	cells []*cell
}

// key is the cell's in the address: the first observation's. A gauge that is held
// against line has a key of its own, because the observation is the difference.
func (x *cell) key() string {
	if x.reads == hydraulics.Difference {
		return x.asks[0].check.ID + "." + x.port.ID
	}
	return x.asks[0].key()
}

func (a ask) key() string { return a.check.ID + "." + a.observation.ID }

// gaugeLines places every pressure that the checks ask for, in the order of the
// pressure tests.
func gaugeLines(s *session.Session) []gaugeLine {
	var lines []gaugeLine
	for _, g := range hydraulics.Gauges {
		k := s.Catalogue().Check(g.Check)
		column := slices.IndexFunc(unit.Ports, func(p unit.Port) bool { return p.ID == g.Port })
		if k == nil || column < 0 {
			continue
		}
		o := k.Observation(g.Observation)
		if o == nil || o.Reading == nil || quantity.Kind(o.Reading.Quantity) != quantity.KindPressure {
			continue
		}
		at := spotOf(s.Book(), g)
		n := slices.IndexFunc(lines, func(l gaugeLine) bool { return l.spot == at })
		if n < 0 {
			n = len(lines)
			lines = append(lines, gaugeLine{at, make([]*cell, len(unit.Ports))})
		}
		place := &lines[n].cells[column]
		if *place == nil {
			*place = &cell{spot: at, port: unit.Ports[column], reads: g.Reads}
		}
		(*place).asks = append((*place).asks, ask{k, o})
	}
	for _, l := range lines {
		for _, x := range l.cells {
			if x != nil && x.reads == hydraulics.Difference {
				x.line = l.cells[0]
			}
		}
	}
	return lines
}

// cells are the cells of the table, row by row.
func cells(s *session.Session) []*cell {
	var out []*cell
	for _, l := range gaugeLines(s) {
		for _, x := range l.cells {
			if x != nil {
				out = append(out, x)
			}
		}
	}
	return out
}

// spotOf says how the truck stands for a gauge: as the test sets it, as far as
// the sheet's limits for it hang on that.
func spotOf(book *unit.Book, g hydraulics.Gauge) spot {
	s := spot{
		governor: g.Port == "governor", locked: g.At.Lockup, rise: g.Reads == hydraulics.LockupRise,
		relayOut: g.At.RelayOut, lever: g.At.ByHand, gear: string(g.Gear),
	}
	if g.Gear != "" {
		s.in = g.At.Range
	}
	throttle := false
	if a, ok := book.Acceptance(g.Acceptance); ok {
		for _, l := range a.Limits {
			if l.Condition.Range != "" {
				s.in = g.At.Range
			}
			if s.gear == "" && l.Condition.Range == string(g.At.Range) {
				s.gear = l.Condition.Gear
			}
			throttle = throttle || l.Condition.Throttle != ""
		}
	}
	for _, before := range hydraulics.Gauges {
		if before == g {
			break
		}
		if before.Check == g.Check && before.Port == g.Port && before.At.Range != g.At.Range {
			s.after = before.At.Range
		}
	}
	switch {
	case s.in == "" || s.rise:
	case s.governor:
		s.road = g.At.Road
	case s.lever:
		s.told, s.throttle, s.engine = true, g.At.Throttle, g.At.Engine
	case throttle:
		s.told, s.throttle = true, g.At.Throttle
	}
	return s
}

// words are the row's heading: where the selector and the truck stand, and the
// throttle under it.
func (s spot) words(f *form) (heading, throttle string) {
	switch s.in {
	case "":
		heading = "Highest in any forward range"
	case unit.ManualOne, unit.ManualTwo:
		heading = "Manual " + string(s.in)
	default:
		heading = string(s.in)
		if s.gear != "" && s.gear != heading {
			row, _ := unit.RowOf(unit.Gear(s.gear))
			heading, _, _ = strings.Cut(row.Name, " ")
			heading = string(s.in) + ", " + heading
		}
	}
	if s.engine > 0 {
		heading += ", " + f.say(s.engine.Value(), quantity.RPM, 4)
	}
	switch {
	case s.governor && s.road > 0:
		return heading + ", " + f.say(s.road.Value(), quantity.MilePerHour, 2), "wheels free"
	case s.governor && s.relayOut:
		return heading + ", standing", "relay out"
	case s.governor:
		return heading + ", standing", "brakes on"
	case s.after != "":
		heading += ", right after " + string(s.after)
	}
	switch full := s.throttle > 0.9; {
	case s.rise:
		throttle = "as lock-up comes on"
	case s.locked:
		throttle = "lock-up on"
	case !s.told:
	case s.lever && s.throttle == 0:
		throttle = "throttle lever forward"
	case s.lever && full && s.throttle < 1 && s.in == unit.Drive:
		throttle = "throttle lever rearward, before the downshift"
	case s.lever:
		throttle = "throttle lever rearward"
	case full:
		throttle = "full throttle"
	case s.throttle == 0:
		throttle = "throttle closed"
	default:
		throttle = "half to three-quarter throttle"
	}
	return heading, throttle
}

// row is the spot's row of the application chart; empty where it is in none.
func (s spot) row() unit.Gear {
	switch s.in {
	case unit.ReverseR:
		return unit.Reverse
	case unit.ManualOne:
		return unit.ManualFirst
	case unit.ManualTwo:
		return unit.ManualSecond
	case unit.Drive:
		if s.gear == "" && !s.governor {
			return unit.First // where D begins, after a stop
		}
		return unit.Gear(s.gear)
	}
	return ""
}

// portName is the head of a port's column.
func portName(p unit.Port) string {
	name, _, _ := strings.Cut(p.Name, " port")
	return name
}

// name is the cell in a line of text: its port, then its row.
func (x *cell) name(f *form) string {
	heading, throttle := x.spot.words(f)
	name := portName(x.port) + ", " + heading
	if throttle != "" {
		name += ", " + throttle
	}
	return name
}

// judgedBy is the sheet that readings are held against: the job's version and
// build, or those that a new job begins with.
func judgedBy(f *form) unit.Sheet {
	sheet, c := f.sheet(), f.session.Case()
	sheet.Version, sheet.Build = c.Version, c.Build
	return sheet
}

// window is what the cell's reading should be, in words. Where observations of
// several checks share it, all their limits stand.
func (x *cell) window(f *form) string {
	sheet := judgedBy(f)
	var each []string
	for _, a := range x.asks {
		var limits []string
		for _, l := range sheet.Limits(a.observation.Reading.Acceptance) {
			if text := part.LimitText(f.units(), l); !slices.Contains(limits, text) {
				limits = append(limits, text)
			}
		}
		// The unit is said once, where it is the same: "3 or 5 psi" reads faster.
		if n := len(limits) - 1; n > 0 {
			if at := strings.LastIndexByte(limits[n], ' '); at > 0 {
				for i := range n {
					limits[i] = strings.TrimSuffix(limits[i], limits[n][at:])
				}
			}
		}
		if text := strings.Join(limits, " or "); text != "" && !slices.Contains(each, text) {
			each = append(each, text)
		}
	}
	words := strings.Join(each, "; ")
	switch {
	case words == "":
		return "no figure for this version"
	case x.reads == hydraulics.Difference:
		return words + " off line"
	case x.reads == hydraulics.LockupRise:
		return "a rise of " + words
	}
	return words
}

// A judged is what a cell comes to by itself.
type judged struct {
	call     string // for the eye; empty for a cell that is empty
	words    string
	problem  string // what is wrong with what was typed
	entries  []diagnosis.Entry
	verdicts []diagnosis.Judgement // of the entries
	asks     []ask                 // that the entries answer
}

// judge holds what stands in a cell against the sheet. The form has been worked
// out, so that what is a number is known.
func (x *cell) judge(f *form) judged {
	key := x.key()
	if _, ok := f.reading(key); !ok {
		return judged{}
	}
	n := diagnosis.Entry{Reading: f.text(key), Unit: f.unit(key).Name}
	over := false
	if x.reads == hydraulics.Difference {
		var why string
		if n, over, why = x.difference(f); why != "" {
			return judged{call: "none", words: why}
		}
	}
	out := judged{call: "none"}
	var words []string
	for _, a := range x.asks {
		n.Check, n.Observation = a.check.ID, a.observation.ID
		v := f.session.Judge(n)
		if v.Problem != "" {
			out.problem = v.Problem
			continue
		}
		if over && v.Verdict != conformity.Meets {
			// No leak does that, so it is no evidence of one.
			return judged{call: "none", words: "Above line can't be: hold both gauges on one port"}
		}
		said := part.VerdictWord(v.Verdict)
		if x.reads == hydraulics.Difference {
			if v.Verdict == conformity.Above {
				said = "Too far"
			}
			said += ": " + n.Reading + " " + n.Unit
			if over {
				said += " above"
			} else {
				said += " under"
			}
		}
		if !slices.Contains(words, said) {
			words = append(words, said)
		}
		if call := part.Call(v.Verdict); len(out.entries) == 0 || call == "bad" || call != "good" && out.call == "good" {
			out.call = call
		}
		out.entries, out.verdicts, out.asks = append(out.entries, n), append(out.verdicts, v), append(out.asks, a)
	}
	out.words = strings.Join(words, "; ")
	return out
}

// difference is how far a gauge is from line; why says that it can't be told.
func (x *cell) difference(f *form) (n diagnosis.Entry, over bool, why string) {
	key := x.key()
	u := f.unit(key)
	sign, rest := signed(f.text(key))
	if sign != "" {
		return diagnosis.Entry{Reading: rest, Unit: u.Name}, sign == "+", ""
	}
	if x.line == nil {
		return n, false, "Type how far it is from line, with a minus in front"
	}
	own, _ := f.reading(key)
	line, ok := f.reading(x.line.key())
	if !ok {
		return n, false, "Line beside it is wanted"
	}
	apart := line.SI - own.SI
	// The coarser of the two gauges decides how many digits there are.
	digits := -math.Log10(max(own.Resolution, line.Resolution, u.Step(0.001)) / u.Step(1))
	text := strconv.FormatFloat(math.Abs(u.From(apart)), 'f', min(3, max(0, int(math.Round(digits)))), 64)
	return diagnosis.Entry{Reading: text, Unit: u.Name}, apart < 0 && strings.Trim(text, "0.") != "", ""
}

// pattern is the cell as a reading of a pattern.
func (x *cell) pattern(verdict conformity.Verdict) pattern.Reading {
	r := pattern.Reading{Port: x.port.ID, Gear: x.spot.row(), Full: x.spot.told && x.spot.throttle > 0, Behind: x.reads == hydraulics.Difference}
	switch {
	case x.spot.locked: // held against a window of its own, which the chart does not have
	case verdict == conformity.Meets:
		r.Call = pattern.Right
	case verdict.Is(conformity.Below):
		r.Call = pattern.Low
	case verdict.Is(conformity.Above):
		r.Call = pattern.High
	}
	return r
}
