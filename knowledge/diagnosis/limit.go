package diagnosis

import (
	"strings"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// LimitText returns a limit in words for one line of a screen or a sheet: value
// as printed, the other system of units, condition and provenance.
func (e *Engine) LimitText(l *unit.Limit) string {
	text := Window(l)
	if c := Condition(l.Condition); c != "" {
		text += ", " + c
	}
	return text + " (" + e.ProvenanceText(l.Provenance) + ")"
}

// Window returns a limit's values as printed, with the other system of units.
func Window(l *unit.Limit) string {
	both := func(v *quantity.Value, text string) string {
		u := quantity.DefaultUnit(v.Kind)
		other, ok := u.Counterpart()
		if !ok {
			return text
		}
		return text + " (" + quantity.Format(*v, other, -1) + ")"
	}
	switch {
	case l.IsSetting():
		return both(l.Min, l.MinText)
	case l.Min != nil && l.Max != nil:
		return both(l.Min, l.MinText) + " to " + both(l.Max, l.MaxText)
	case l.Min != nil:
		return "at least " + both(l.Min, l.MinText)
	case l.Max != nil:
		return "at most " + both(l.Max, l.MaxText)
	}
	return "no figure"
}

// Condition returns a condition in words: "late, range D, idle, hot".
func Condition(c unit.Condition) string {
	var parts []string
	for _, v := range c.Versions {
		parts = append(parts, string(v))
	}
	for _, b := range c.Builds {
		parts = append(parts, string(b)+" build")
	}
	add := func(before, value string) {
		if value != "" {
			parts = append(parts, before+value)
		}
	}
	add("range ", c.Range)
	add("gear ", c.Gear)
	add("throttle ", c.Throttle)
	add("fluid ", c.Fluid)
	add("", c.Note)
	return strings.Join(parts, ", ")
}

// ProvenanceText says where a figure comes from, in words.
func (e *Engine) ProvenanceText(p unit.Provenance) string {
	var text string
	switch p.Kind {
	case unit.Published:
		text = "published"
		if s, ok := e.Book.Source(p.Source); ok {
			text += ": " + s.Title
		}
		if p.At != "" {
			text += ", " + p.At
		}
	case unit.CommonPractice:
		text = "common practice"
	case unit.Memory:
		text = "from memory, confirm in the maker's manual"
	case unit.Demo:
		text = "invented for the demo"
	case unit.Own:
		text = "your own value"
	}
	if p.Note != "" && p.Kind != unit.Memory {
		text += ". " + strings.TrimSuffix(p.Note, ".")
	}
	return text
}
