// Package repair makes the plan of the work from what was proved: what to
// rework, renew and set, in the order of the work; the parts to ask a counter
// for; the values that the work needs; and the checks that show that it is done.
//
// It holds no fact of the trade of its own: everything comes from the records of
// the catalogue.
package repair

import (
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
)

// A Kind says what is done with a part.
type Kind string

// The kinds, in the order in which they are done at one access level.
const (
	Rework Kind = "rework"
	Renew  Kind = "renew"
	Set    Kind = "set"
)

// A Task is one line of the plan.
type Task struct {
	Key   string // the same for the same work, however the plan changes around it
	Kind  Kind
	Text  string
	Level *catalogue.AccessLevel // at which it is done
	For   []*catalogue.Fault
}

// A Part is one line of the pick list.
type Part struct {
	Key      string
	Name     string
	Quantity string   // "1", "1 set", or as needed
	Why      []string // reasons to take it along; none for a part that is renewed anyway
	For      []*catalogue.Fault
}

// A Plan is the whole of it. Its zero value is that of a truck on which nothing
// was proved.
type Plan struct {
	Tasks   []Task // from the inside of the unit out, as it is put together
	Parts   []Part // what is renewed, then what goes with it
	Values  []string
	Proof   []*catalogue.Check
	Changes []*catalogue.Modification // usual modifications that bear on this work
}

// Make makes the plan for faults that were proved.
func Make(c *catalogue.Catalogue, proved []*catalogue.Fault) Plan {
	var p Plan
	for _, f := range proved {
		level := c.Level(f.Needs)
		for _, x := range []struct {
			kind Kind
			list []string
		}{{Rework, f.Repair.Rework}, {Renew, f.Repair.Renew}, {Set, f.Repair.Set}} {
			for _, text := range x.list {
				p.task(x.kind, text, level, f, c)
			}
		}
		for _, text := range f.Repair.Renew {
			p.part(text, "", f)
		}
	}
	for _, f := range proved {
		for _, t := range f.Repair.Together {
			p.part(t.Part, t.Why, f)
		}
		for _, id := range f.Repair.Uses {
			if !slices.Contains(p.Values, id) {
				p.Values = append(p.Values, id)
			}
		}
		for _, id := range f.Repair.Proof {
			if k := c.Check(id); k != nil && !slices.Contains(p.Proof, k) {
				p.Proof = append(p.Proof, k)
			}
		}
	}
	order.Stable(p.Tasks, func(a, b Task) int {
		if d := depth(c, b.Level) - depth(c, a.Level); d != 0 {
			return d
		}
		return slices.Index(kinds, a.Kind) - slices.Index(kinds, b.Kind)
	})
	// A check is repeated from the outside in: what fails on its wheels saves
	// opening anything.
	order.Stable(p.Proof, func(a, b *catalogue.Check) int { return c.LevelIndex(a.Level) - c.LevelIndex(b.Level) })
	for i := range c.Modifications {
		if p.bears(&c.Modifications[i], proved) {
			p.Changes = append(p.Changes, &c.Modifications[i])
		}
	}
	return p
}

var kinds = []Kind{Rework, Renew, Set}

func depth(c *catalogue.Catalogue, l *catalogue.AccessLevel) int {
	if l == nil {
		return 0
	}
	return c.LevelIndex(l.ID)
}

// task adds a line. The same work for two faults is one line, done at the
// deeper of the two levels.
func (p *Plan) task(kind Kind, text string, level *catalogue.AccessLevel, f *catalogue.Fault, c *catalogue.Catalogue) {
	key := string(kind) + ": " + text
	for i := range p.Tasks {
		if t := &p.Tasks[i]; t.Key == key {
			t.For = append(t.For, f)
			if depth(c, level) > depth(c, t.Level) {
				t.Level = level
			}
			return
		}
	}
	p.Tasks = append(p.Tasks, Task{key, kind, text, level, []*catalogue.Fault{f}})
}

func (p *Plan) part(name, why string, f *catalogue.Fault) {
	key := "part: " + strings.ToLower(name)
	for i := range p.Parts {
		if x := &p.Parts[i]; x.Key == key {
			if !slices.Contains(x.For, f) {
				x.For = append(x.For, f)
			}
			if why != "" && !slices.Contains(x.Why, why) {
				x.Why = append(x.Why, why)
			}
			return
		}
	}
	x := Part{Key: key, Name: name, Quantity: quantity(name), For: []*catalogue.Fault{f}}
	if why != "" {
		x.Why = []string{why}
	}
	p.Parts = append(p.Parts, x)
}

// quantity is how many of a part to ask for. The records name parts in general
// words, so that several of a kind are a set and fluid is whatever the fill
// takes.
func quantity(name string) string {
	name, _, _ = strings.Cut(name, ",")
	words := strings.Fields(name)
	if i := slices.IndexFunc(words, func(w string) bool { return slices.Contains(asides, w) }); i >= 0 {
		words = words[:i]
	}
	if len(words) == 0 {
		return "1"
	}
	last := words[len(words)-1]
	switch {
	case last == "fluid":
		return "as the fill takes"
	case strings.HasSuffix(last, "s") && !strings.HasSuffix(last, "ss"):
		return "1 set"
	}
	return "1"
}

// asides are the words after which a part's name goes on about something else.
var asides = []string{"where", "of", "with", "in", "that", "for", "its"}

// bears reports whether a usual modification bears on the work: it makes a
// proved fault likelier, or is held against a value that the work needs.
func (p *Plan) bears(b *catalogue.Modification, proved []*catalogue.Fault) bool {
	for _, f := range proved {
		if slices.ContainsFunc(b.Likelier, func(l catalogue.Likelier) bool { return l.Fault == f.ID }) {
			return true
		}
	}
	return slices.ContainsFunc(b.Uses, func(id string) bool { return slices.Contains(p.Values, id) })
}
