package answer

import (
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
	"provingbench/knowledge/wording"
)

// Kind is what sort of record a hit is.
type Kind string

// The kinds, in the order that settles a draw: a figure can be read aloud at
// once, everything else has to be followed.
const (
	Value   Kind = "value"   // an acceptance value of the unit sheet
	Part    Kind = "part"    // a part as a counter calls it
	Code    Kind = "code"    // a number that the computer stores
	Symptom Kind = "symptom" // what a caller reports
	Fault   Kind = "fault"   // what can be wrong
	Check   Kind = "check"   // how it is told
	Gear    Kind = "gear"    // a row of the application chart
	Caution Kind = "caution" // what can hurt
	Change  Kind = "change"  // a usual change to the unit
)

// Kinds lists the kinds in that order.
var Kinds = []Kind{Value, Part, Code, Symptom, Fault, Check, Gear, Caution, Change}

// record is one record as the index reads it. The texts are gone once it is read.
type record struct {
	kind    Kind
	id      string
	name    string
	names   []string // name and other names; all of them name it equally well
	measure []string // what is measured
	place   []string // where it sits and when it holds
	about   []string // what is said of it

	phrases  [][]int // the terms of each name
	measures []int   // the terms of what is measured
}

// records is every adapter, one per kind.
func records(c *catalogue.Catalogue, b *unit.Book, d *wording.Dictionary) []record {
	var all []record
	all = append(all, values(b)...)
	all = append(all, parts(c)...)
	all = append(all, codes(c)...)
	all = append(all, symptoms(c)...)
	all = append(all, faults(c)...)
	all = append(all, checks(c)...)
	all = append(all, gears()...)
	all = append(all, cautions(c)...)
	all = append(all, changes(c)...)
	further := map[string][]string{}
	for _, n := range d.Names {
		further[n.Of] = append(further[n.Of], n.Said...)
	}
	for i := range all {
		// An id is a name as well: governor-solenoid-stuck-open.
		all[i].names = append(all[i].names, all[i].id)
		all[i].names = append(all[i].names, further[string(all[i].kind)+"/"+all[i].id]...)
	}
	return all
}

func values(b *unit.Book) []record {
	var out []record
	for i := range b.Acceptances {
		a := &b.Acceptances[i]
		r := record{kind: Value, id: a.ID, name: a.Name, names: []string{a.Name}, place: []string{a.Where}, measure: []string{measure(a)}}
		for _, l := range a.Limits {
			r.place = append(r.place, condition(l.Condition))
			r.about = append(r.about, l.Condition.Note)
		}
		out = append(out, r)
	}
	return out
}

// measure is what a value is asked for by: its quantity, and for lengths what is
// measured.
func measure(a *unit.Acceptance) string {
	said := string(a.Quantity)
	if a.Quantity == quantity.KindLength && a.Group == "clearance" {
		said += " clearance"
	}
	return said
}

// condition is when a limit holds, in words.
func condition(c unit.Condition) string {
	var said []string
	switch c.Range {
	case "1", "2":
		said = append(said, "manual", c.Range)
	default:
		said = append(said, c.Range)
	}
	said = append(said, c.Gear)
	if c.Throttle != "" {
		said = append(said, c.Throttle, "throttle")
	}
	return strings.Join(append(said, c.Fluid), " ")
}

func parts(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Parts {
		p := &c.Parts[i]
		out = append(out, record{kind: Part, id: p.ID, name: p.Name, names: append([]string{p.Name}, p.Also...), about: []string{p.Does}})
	}
	return out
}

func codes(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Codes {
		k := &c.Codes[i]
		r := record{kind: Code, id: k.ID, name: k.Number + ": " + k.Name, names: []string{k.Number, k.Name}, about: []string{k.Means}}
		if k.Standard != nil {
			r.names = append(r.names, k.Standard.Name)
		}
		out = append(out, r)
	}
	return out
}

func symptoms(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Symptoms {
		s := &c.Symptoms[i]
		out = append(out, record{kind: Symptom, id: s.ID, name: s.Name, names: append([]string{s.Name}, s.Said...)})
	}
	return out
}

func faults(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Faults {
		f := &c.Faults[i]
		r := record{kind: Fault, id: f.ID, name: f.Name, names: append([]string{f.Name}, f.Also...)}
		if p := c.Part(f.Part); p != nil {
			r.place = []string{p.Name}
		}
		out = append(out, r)
	}
	return out
}

func checks(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Checks {
		k := &c.Checks[i]
		out = append(out, record{kind: Check, id: k.ID, name: k.Name, names: []string{k.Name}, about: []string{k.Purpose}})
	}
	return out
}

func gears() []record {
	var out []record
	for _, row := range unit.Chart {
		r := record{kind: Gear, id: string(row.Gear), name: row.Name, names: []string{row.Name}}
		for _, id := range row.On {
			if e, ok := unit.ElementByID(id); ok {
				r.about = append(r.about, e.Name)
			}
		}
		out = append(out, r)
	}
	return out
}

func cautions(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Cautions {
		w := &c.Cautions[i]
		out = append(out, record{kind: Caution, id: w.ID, name: w.Signal + ": " + w.Hazard,
			names: []string{w.Signal + " " + w.Hazard}, about: []string{w.Consequence, w.Avoid}})
	}
	return out
}

func changes(c *catalogue.Catalogue) []record {
	var out []record
	for i := range c.Modifications {
		m := &c.Modifications[i]
		out = append(out, record{kind: Change, id: m.ID, name: m.Name, names: []string{m.Name}, about: []string{m.Means}})
	}
	return out
}
