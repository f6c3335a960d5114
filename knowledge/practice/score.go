package practice

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
)

// Score is what calling faults comes to.
type Score struct {
	Found   []*catalogue.Fault // called, and there
	Wrong   []*catalogue.Fault // called, and not there: good parts renewed
	Missed  []*catalogue.Fault // there, and not called
	Guessed []*catalogue.Fault // called, but not proved by any check that was done
}

// Score marks the faults that are called. Those that the catalogue doesn't know, and
// a second call of the same, are left out.
func (r *Run) Score(called []string) Score {
	var s Score
	proved := r.Proved()
	for i := range r.Truck.known.Faults {
		f := &r.Truck.known.Faults[i]
		said, there := slices.Contains(called, f.ID), r.Truck.Has(f.ID)
		switch {
		case said && there:
			s.Found = append(s.Found, f)
		case said:
			s.Wrong = append(s.Wrong, f)
		case there:
			s.Missed = append(s.Missed, f)
		}
		if said && !slices.Contains(proved, f) {
			s.Guessed = append(s.Guessed, f)
		}
	}
	return s
}

// Remains is what a road test still shows once the called faults are repaired: the
// symptoms with a cause that was not called.
func (t *Truck) Remains(called []string) []Symptom {
	var out []Symptom
	for _, y := range t.Complaint {
		if slices.ContainsFunc(y.By, func(f *catalogue.Fault) bool { return !slices.Contains(called, f.ID) }) {
			out = append(out, y)
		}
	}
	return out
}

// Plan is the engine at work on a truck: it does what it suggests first, as long as
// something is wrong that is not proved. That a truck is well shows on its road test,
// for the plan as for anybody.
type Plan struct {
	*Run
	Whys []string // the reason of each step
	Over bool

	engine *diagnosis.Engine
}

// Follow begins the plan's run on a truck.
func Follow(e *diagnosis.Engine, t *Truck) *Plan {
	return &Plan{Run: t.Do(), engine: e}
}

// Advance asks the engine once and does what it says. Over is set when there is
// nothing left to prove, or to do.
//
// Errors: those of diagnosis.Engine, after which the run is over.
func (p *Plan) Advance() error {
	if p.Over = p.Over || len(p.Proved()) == len(p.Truck.Faults); p.Over {
		return nil
	}
	a, err := p.engine.Answer(p.Case)
	if err != nil {
		p.Over = true
		return fmt.Errorf("practice: %w", err)
	}
	before := len(p.Steps)
	if len(a.Next) > 0 {
		p.Do(a.Next[0].Check.ID)
	}
	if len(p.Steps) == before {
		p.Over = true
		return nil
	}
	p.Whys = append(p.Whys, a.Next[0].Why)
	p.Over = len(p.Proved()) == len(p.Truck.Faults)
	return nil
}

// Comment says what a check was good for.
type Comment struct {
	Plan  *diagnosis.Suggestion // what the plan would have done; nil when nothing was left
	Own   *diagnosis.Suggestion // what was done, as the plan saw it; nil when it was not on its list
	Moved []Move                // how the check moved the ranking, the largest first
}

// Move is how likely a fault was before and after a check.
type Move struct {
	Fault         *catalogue.Fault
	Before, After float64
}

// A comment names so many faults at most, and none that moved by less.
const (
	mostMoves = 4
	leastMove = 0.02
)

// Explain compares the engine's answers before and after a check.
func Explain(before, after *diagnosis.Answer, check string) Comment {
	var c Comment
	for i := range before.Next {
		if i == 0 {
			c.Plan = &before.Next[0]
		}
		if before.Next[i].Check.ID == check {
			c.Own = &before.Next[i]
		}
	}
	was := map[string]float64{}
	for _, s := range before.Ranked {
		was[s.Fault.ID] = s.Probability
	}
	for _, s := range after.Ranked {
		if m := (Move{s.Fault, was[s.Fault.ID], s.Probability}); m.size() >= leastMove {
			c.Moved = append(c.Moved, m)
		}
	}
	order.Stable(c.Moved, func(a, b Move) int { return cmp.Compare(b.size(), a.size()) })
	c.Moved = c.Moved[:min(len(c.Moved), mostMoves)]
	return c
}

func (m Move) size() float64 { return math.Abs(m.After - m.Before) }
