// Package quiz asks a student about the application chart, with the chart covered:
// which elements are on in a gear, what a lost element takes away, and which
// element is to blame when certain gears slip.
//
// Questions and right answers are computed from package unit, so that they can't
// fall out of step with the chart. A seed decides which come, and in which order;
// the same seed gives the same questions to a whole class.
package quiz

import (
	"math/rand/v2"
	"slices"

	"provingbench/knowledge/unit"
)

// Kind is what a question asks for.
type Kind int

// The kinds.
const (
	On      Kind = iota // the elements that are on in Gear
	Suffers             // the gears that lose their ratio or their braking without Element
	Suspect             // the elements that alone explain that just Slips slip
)

// Question is one question with its right answer. Answers are ids of elements
// (On, Suspect) or names of gears (Suffers), in the order of the chart.
type Question struct {
	Kind    Kind
	Gear    unit.Gear
	Element unit.ElementID
	Slips   []unit.Gear
	Options []string
	Right   []string
}

// Tried returns the gears that drive or brake, in the order of the chart.
func Tried() []unit.Gear {
	var gears []unit.Gear
	for _, r := range unit.Chart {
		if len(unit.Needs(r.Gear)) > 0 {
			gears = append(gears, r.Gear)
		}
	}
	return gears
}

// Suffering returns the gears that need an element, and the rest of those tried.
func Suffering(id unit.ElementID) (suffer, rest []unit.Gear) {
	for _, g := range Tried() {
		if slices.Contains(unit.Needs(g), id) {
			suffer = append(suffer, g)
		} else {
			rest = append(rest, g)
		}
	}
	return suffer, rest
}

// All returns every question there is, each once, in a fixed order. Two elements
// without which the same gears slip make one question of the kind Suspect.
func All() []Question {
	var elements, gears []string
	for _, e := range unit.Elements {
		elements = append(elements, string(e.ID))
	}
	for _, g := range Tried() {
		gears = append(gears, string(g))
	}
	var all []Question
	for _, g := range Tried() {
		row, _ := unit.RowOf(g)
		all = append(all, Question{Kind: On, Gear: g, Options: elements, Right: text(row.On)})
	}
	var slips [][]unit.Gear
	for _, e := range unit.Elements {
		suffer, rest := Suffering(e.ID)
		if len(suffer) == 0 {
			continue // another element backs it up everywhere
		}
		all = append(all, Question{Kind: Suffers, Element: e.ID, Options: gears, Right: text(suffer)})
		if slices.ContainsFunc(slips, func(s []unit.Gear) bool { return slices.Equal(s, suffer) }) {
			continue
		}
		slips = append(slips, suffer)
		all = append(all, Question{Kind: Suspect, Slips: suffer, Options: elements, Right: text(unit.Suspects(suffer, rest))})
	}
	return all
}

func text[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = string(x)
	}
	return out
}

// New returns so many questions, none twice, in the order that the seed decides.
// There are no more than All has.
func New(seed uint32, count int) []Question {
	all := All()
	r := rand.New(rand.NewPCG(uint64(seed), 0))
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all[:max(0, min(count, len(all)))]
}

// Mark says what an answer misses and what it has too much, both in the order of
// the options. An answer that has neither is right.
func (q *Question) Mark(picked []string) (missed, extra []string) {
	for _, o := range q.Options {
		right, said := slices.Contains(q.Right, o), slices.Contains(picked, o)
		switch {
		case right && !said:
			missed = append(missed, o)
		case said && !right:
			extra = append(extra, o)
		}
	}
	return missed, extra
}
