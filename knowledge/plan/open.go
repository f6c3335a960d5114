package plan

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"provingbench/knowledge/order"
)

const (
	// journeys is how many trucks WhileOpen follows to the end.
	journeys = 20
	// crew is how many scenarios the plan of each of them knows.
	crew = 32
	// choices is how many checks are looked ahead from at each step of them.
	choices = 4
	// steps ends a journey that would not end by itself.
	steps = 64
)

// WhileOpen lists the checks at the present level that are worth doing before the
// truck leaves it, though the next step is another: those for which the return
// trip that is expected to be saved, the minutes of coming back here later
// for it times the probability of having to, is worth their own minutes. It lists
// the one that saves most first. Nothing is listed that the trade's order holds
// back.
//
//	saved = P(unfinished) · mean over journeys of the detour to this level,
//	        shared among the checks done on it
//
// The journeys follow the plan to the end on trucks taken at even steps from the
// scenarios. Where it is likelier than not that everything is proved, the next
// step is to close up, whatever Rank says for the case that there is more: the
// journeys start on the first level and come back if they must.
//
// Source: the covers of Ottosen & Jensen 2010; the estimate is this package's own
// and is checked against exact expectations in open_test.go.
func (p *Problem) WhileOpen(s State) []Suggestion {
	if len(p.Levels) == 0 {
		return nil
	}
	list := p.Rank(s)
	if len(list) == 0 {
		return nil
	}
	here := p.level(s)
	main := list[0]
	unfinished := p.Unfinished(s)
	leaves := unfinished < 0.5
	var candidates []Suggestion
	for _, g := range list {
		if slices.Contains(p.Checks[g.Check].Levels, here) && (leaves || g.Check != main.Check) {
			g.Level, g.Travel, g.Minutes = here, 0, p.Checks[g.Check].Minutes
			g.Rate = g.Bits / max(g.Minutes, leastMinutes)
			candidates = append(candidates, g)
		}
	}
	if len(candidates) == 0 {
		return nil
	}
	sets, weights := canonical(p.unfinished(s))
	if len(sets) > crew {
		sets, weights = thin(sets, weights, crew)
	}
	x := newSearch(newTable(p, sets, weights))
	saved := make([]float64, len(p.Checks))
	plans := make(map[string]act)
	for i := range journeys {
		j := journey{x: x, here: here, saved: saved, plans: plans, draw: rand.New(rand.NewPCG(uint64(i), journeys))}
		n := x.root(s, here)
		j.left = leaves
		if leaves {
			n.level = 0
		}
		j.follow(n, main, truth(n, (float64(i)+0.5)/journeys))
	}
	var out []Suggestion
	for _, g := range candidates {
		g.Saved = unfinished * saved[g.Check] / journeys
		if g.Saved > 0 && g.Saved >= g.Minutes {
			out = append(out, g)
		}
	}
	order.Stable(out, func(a, b Suggestion) int {
		return cmp.Or(cmp.Compare(digits(b.Saved-b.Minutes), digits(a.Saved-a.Minutes)), cmp.Compare(a.Check, b.Check))
	})
	return out
}

// journey is the work on one truck.
type journey struct {
	x     *search
	here  int
	left  bool // the truck has left the level it was at
	saved []float64
	plans map[string]act // what was chosen after the same answers before
	draw  *rand.Rand
}

// follow works on a truck until it is finished and adds what each check done on a
// later visit to the present level would have saved.
func (j *journey) follow(n *node, main Suggestion, truth int) {
	x := j.x
	var visit []int // checks of this visit, if it is a later one
	from := n.level
	leave := func(to int) {
		detour := x.t.travel[from][j.here] + x.t.travel[j.here][to] - x.t.travel[from][to]
		if math.IsInf(detour, 1) {
			detour = 0 // there is no way back: nothing that could be saved
		}
		for _, c := range visit {
			j.saved[c] += detour / float64(len(visit))
		}
		visit = visit[:0]
	}
	var told []byte
	for step := range steps {
		d := x.desk()
		a, known := j.plans[string(told)]
		if !known {
			x.gains(n, d)
			switch {
			case x.ended(n, d):
				a.check = -1
			case step == 0 && !j.left: // as Rank says, which looks further
				a = act{check: main.Check, level: main.Level}
			default:
				a = j.choose(n, d)
			}
			j.plans[string(told)] = a
		}
		if a.check < 0 {
			break
		}
		if a.level != n.level {
			if n.level == j.here {
				leave(a.level)
				j.left = true
			}
			from = n.level
		}
		if a.level == j.here && j.left {
			visit = append(visit, a.check)
		}
		e := &x.t.checks[a.check]
		luck := j.draw.Float64()
		shown := len(e.results) - 1
		for i := range e.results {
			if luck -= e.results[i].chance[e.class[truth]]; luck < 0 {
				shown = i
				break
			}
		}
		told = append(told, byte(shown)) // at most as many as there are combinations
		ch := x.step(n, a, &e.results[shown], d)
		if ch.weight[truth] <= 0 {
			break // finished
		}
		n = &node{ch.level, slices.Clone(ch.done), slices.Clone(ch.proved), slices.Clone(ch.weight), ch.mass}
	}
	leave(from)
}

// truth is the scenario at a part of the summed weights.
func truth(n *node, part float64) int {
	left, last := part*n.mass, 0
	for i, w := range n.weight {
		if w > 0 {
			last = i
			if left -= w; left < 0 {
				break
			}
		}
	}
	return last
}

// choose takes the best of the most promising acts, one step ahead.
func (j *journey) choose(n *node, d *desk) act {
	acts := j.x.acts(n, d)
	acts = acts[:min(len(acts), choices)]
	usual := j.x.estimate(n)
	for i := range acts {
		acts[i].value = j.x.ahead(n, acts[i], d, usual)
	}
	return slices.MinFunc(acts, func(a, b act) int {
		return cmp.Or(cmp.Compare(digits(a.value), digits(b.value)), cmp.Compare(a.check, b.check), cmp.Compare(a.level, b.level))
	})
}
