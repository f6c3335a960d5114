// Package pattern names the circuit that the readings of a pressure test point to
// together, as a technician with the application chart in hand would: what is low
// where one element is on, and right where it is off, is that element's circuit.
//
// It goes by the chart and by what each port taps, and by nothing else: no
// pressure is computed, no fault is weighed, and one fault is looked for. The
// ranking of the faults (package diagnosis) weighs all findings, of gauges and of
// others; the model (package hydraulics) finds what explains the figures.
package pattern

import (
	"slices"

	"provingbench/knowledge/unit"
)

// Call is how a reading was judged.
type Call int

// The calls. A reading without a call is no part of a pattern.
const (
	Right Call = iota + 1
	Low
	High
)

// Reading is one gauge reading, judged.
type Reading struct {
	Port string    // id of package unit
	Gear unit.Gear // row of the chart; empty where no single one is meant
	Full bool      // the throttle lever stands rearward of idle
	// Behind says that the reading is how far the port is from line, in place of
	// the pressure at it.
	Behind bool
	Call   Call
}

// Kind is what a pattern says.
type Kind int

// The kinds.
const (
	Circuit  Kind = iota + 1 // low where Elements are on, right where they are off
	Supply                   // low in every gear that was read: what all circuits share
	Split                    // low in some gears, right in others, and no single element explains it
	Throttle                 // right at idle, low with the throttle lever rearward
	Raised                   // above the window
	Lagging                  // Port does not follow line in Gears
	Stray                    // pressure at Port in Gears, where there should be none
	Governor                 // governor pressure, by Call
)

// Pattern is one thing that the readings say together.
type Pattern struct {
	Kind     Kind
	Port     string           // of Lagging and Stray
	Call     Call             // of Governor
	Elements []unit.ElementID // whose circuit it may be, in the order of unit.Elements
	Gears    []unit.Gear      // in which it shows
	Right    []unit.Gear      // in which it does not
	// Next is a gear to read line pressure in that parts Circuit from Supply, where
	// both are possible.
	Next unit.Gear
}

const governor = "governor"

// Of returns what readings say together, the likeliest circuit first. It returns
// nothing when nothing is off.
//
// Gears of which one reading is low count as low, whatever else was read there. An
// element that a spring or the torque itself puts on has no circuit and is never
// named.
// Errors: none; readings at ports that do not exist, and without a call, say nothing.
// Source: maker's handbook, 2003: hydraulic pressure tests, for the list of
// conditions; what they point to is derived from the application chart (maker's
// handbook, late version); checked against the list in pattern_test.go.
func Of(readings []Reading) []Pattern {
	var out []Pattern
	var low, lowFull, right, rightIdle, raised []unit.Gear
	add := func(to *[]unit.Gear, g unit.Gear) {
		if !slices.Contains(*to, g) {
			*to = append(*to, g)
		}
	}
	for _, r := range readings {
		port, ok := unit.PortByID(r.Port)
		if !ok || r.Call == 0 {
			continue
		}
		switch tapped := slices.Contains(port.Pressurised, r.Gear); {
		case r.Port == governor:
			if r.Call != Right {
				out = append(out, Pattern{Kind: Governor, Port: r.Port, Call: r.Call})
			}
		case r.Gear == "":
			if r.Call == High {
				add(&raised, r.Gear)
			}
		case r.Behind:
			if r.Call != Right {
				out = append(out, at(Lagging, port, r.Gear))
			}
		case !tapped:
			if r.Call == High {
				out = append(out, at(Stray, port, r.Gear))
			}
		case r.Call == High:
			add(&raised, r.Gear)
		case r.Call == Right:
			add(&right, r.Gear)
			if !r.Full {
				add(&rightIdle, r.Gear)
			}
		case r.Full:
			add(&lowFull, r.Gear)
		default:
			add(&low, r.Gear)
		}
	}
	// What is right at idle and low with the lever rearward does not rise.
	var flat []unit.Gear
	for _, g := range lowFull {
		if slices.Contains(rightIdle, g) && !slices.Contains(low, g) {
			add(&flat, g)
		} else {
			add(&low, g)
		}
	}
	right = slices.DeleteFunc(right, func(g unit.Gear) bool { return slices.Contains(low, g) })
	out = append(shared(low, right), out...)
	if len(flat) > 0 {
		out = append(out, Pattern{Kind: Throttle, Gears: flat})
	}
	if len(raised) > 0 {
		out = append(out, Pattern{Kind: Raised, Gears: slices.DeleteFunc(raised, func(g unit.Gear) bool { return g == "" })})
	}
	return out
}

// shared says what gears with too little pressure have in common that others do
// not have.
func shared(low, right []unit.Gear) []Pattern {
	if len(low) == 0 {
		return nil
	}
	elements := slices.DeleteFunc(unit.SharedBy(low), func(id unit.ElementID) bool { return !fed(id) || onIn(id, right) })
	circuit := Pattern{Kind: Circuit, Elements: elements, Gears: low, Right: right}
	supply := Pattern{Kind: Supply, Gears: low}
	switch {
	case len(elements) > 0 && len(right) > 0:
		return []Pattern{circuit}
	case len(right) > 0:
		return []Pattern{{Kind: Split, Gears: low, Right: right}}
	case len(elements) == 0:
		return []Pattern{supply}
	}
	for _, g := range []unit.Gear{unit.Reverse, unit.ManualFirst, unit.ManualSecond, unit.Third} {
		if !slices.Contains(low, g) && !slices.ContainsFunc(elements, func(id unit.ElementID) bool { return onIn(id, []unit.Gear{g}) }) {
			circuit.Next, supply.Next = g, g
			break
		}
	}
	return []Pattern{circuit, supply}
}

// fed reports whether pressure puts an element on.
func fed(id unit.ElementID) bool {
	e, ok := unit.ElementByID(id)
	return ok && e.Kind != unit.OneWayClutch && id != unit.DirectClutch
}

// onIn reports whether an element is on in any of the gears.
func onIn(id unit.ElementID, gears []unit.Gear) bool {
	return slices.ContainsFunc(gears, func(g unit.Gear) bool {
		row, ok := unit.RowOf(g)
		return ok && row.Has(id)
	})
}

// at is what one port says in a gear. Its elements are those that are on there,
// or all when none is.
func at(k Kind, port unit.Port, g unit.Gear) Pattern {
	var on []unit.ElementID
	for _, id := range port.Elements {
		if onIn(id, []unit.Gear{g}) {
			on = append(on, id)
		}
	}
	if len(on) == 0 {
		on = port.Elements
	}
	return Pattern{Kind: k, Port: port.ID, Elements: on, Gears: []unit.Gear{g}}
}
