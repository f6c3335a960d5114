package plan

import (
	"cmp"
	"math"
	"slices"
)

// estimate is what the minutes from n to the end are taken to be where the
// search stops, times n's mass.
func (x *search) estimate(n *node) float64 {
	if !(n.mass > 0) {
		return 0
	}
	if x.goal == Isolate {
		return x.telling(n)
	}
	return x.series(n)
}

// telling divides what is not known by the most that any check tells per minute.
func (x *search) telling(n *node) float64 {
	x.depth++
	defer func() { x.depth-- }()
	d := x.desk()
	x.gains(n, d)
	unknown := 0.0
	for _, w := range n.weight {
		unknown += bits(w / n.mass)
	}
	rate := 0.0
	for c, g := range d.gains {
		if g.bits <= negligible {
			continue
		}
		for _, l := range x.t.checks[c].levels {
			rate = max(rate, g.bits/max(leastMinutes, x.t.travel[n.level][l]+x.t.p.Checks[c].Minutes))
		}
	}
	if rate <= 0 {
		return 0
	}
	return n.mass * unknown / rate
}

// series is the expected cost of doing the proving checks one after the other,
// whatever they show, until everything is proved. They are taken cluster by
// cluster: of all levels, the one whose best checks have the highest
// probability per minute, its opening included; at a level in falling order of
// probability per minute (Kadane & Simon 1977, Ottosen & Jensen 2010).
func (x *search) series(n *node) float64 {
	t := x.t
	x.spent += 2 * len(n.weight)
	clear(x.share)
	for s, w := range n.weight {
		if w > 0 {
			for _, f := range t.sets[s] {
				x.share[f] += w
			}
		}
	}
	for f := range x.share {
		if has(n.proved, f) {
			x.share[f] = 0
		}
	}
	x.queue = x.queue[:0]
	for i := range t.prover {
		pr := &t.prover[i]
		if has(n.done, pr.check) {
			continue
		}
		if p := x.finds(pr); p > negligible*n.mass {
			x.queue = append(x.queue, queued{i, p / max(pr.minutes, leastMinutes)})
		}
	}
	slices.SortFunc(x.queue, func(a, b queued) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.prover, b.prover))
	})
	x.spent += 4 * len(x.queue)
	for i := range x.when {
		x.when[i] = -1
	}
	end := 0.0
	for level := n.level; len(x.queue) > 0; {
		best, to, count := -1.0, -1, 0
		for l := range t.travel {
			spent := t.travel[level][l]
			if math.IsInf(spent, 1) {
				continue
			}
			found, taken := 0.0, 0
			for _, q := range x.queue {
				pr := &t.prover[q.prover]
				if !slices.Contains(pr.levels, l) {
					continue
				}
				p := x.finds(pr)
				if taken > 0 && p*(spent) <= found*pr.minutes {
					break
				}
				found += p
				spent += pr.minutes
				taken++
			}
			if taken > 0 && found/max(spent, leastMinutes) > best {
				best, to, count = found/max(spent, leastMinutes), l, taken
			}
		}
		if to < 0 {
			break // the rest is out of reach
		}
		end += t.travel[level][to]
		level = to
		rest := x.queue[:0]
		for _, q := range x.queue {
			pr := &t.prover[q.prover]
			if count == 0 || !slices.Contains(pr.levels, to) {
				rest = append(rest, q)
				continue
			}
			count--
			end += pr.minutes
			x.when[pr.check] = end
			for i, f := range pr.faults {
				x.share[f] *= 1 - pr.chance[i]
			}
		}
		x.queue = rest
	}

	sum := 0.0
	for s, w := range n.weight {
		if w > 0 {
			sum += w * x.finished(n, s, end)
		}
	}
	return sum
}

func (x *search) finds(pr *prover) float64 {
	p := 0.0
	for i, f := range pr.faults {
		p += x.share[f] * pr.chance[i]
	}
	return p
}

// finished is the expected time at which a series ends in scenario s, given when
// each check is over and when all are.
func (x *search) finished(n *node, s int, end float64) float64 {
	x.met = x.met[:0]
	faults := 0
	for _, f := range x.t.sets[s] {
		if !has(n.proved, f) {
			faults++
		}
	}
	one := faults == 1 || x.goal == ProveOne
	for _, pf := range x.t.proofs[s] {
		if x.when[pf.check] < 0 || has(n.proved, pf.fault) {
			continue
		}
		f := pf.fault
		if one {
			f = 0
		}
		x.met = append(x.met, met{x.when[pf.check], f, pf.chance})
	}
	if len(x.met) == 1 && one {
		m := x.met[0]
		return m.chance*m.time + (1-m.chance)*end
	}
	slices.SortFunc(x.met, func(a, b met) int {
		return cmp.Or(cmp.Compare(a.time, b.time), cmp.Compare(a.fault, b.fault))
	})
	if one {
		open, sum := 1.0, 0.0
		for _, m := range x.met {
			sum += open * m.chance * m.time
			open *= 1 - m.chance
		}
		return sum + open*end
	}
	// The chance that all are proved by a time is the product over the faults.
	sum, before := 0.0, 0.0
	for i, m := range x.met {
		if i+1 < len(x.met) && x.met[i+1].time == m.time {
			continue
		}
		now := 1.0
		for _, f := range x.t.sets[s] {
			if has(n.proved, f) {
				continue
			}
			open := 1.0
			for _, e := range x.met[:i+1] {
				if e.fault == f {
					open *= 1 - e.chance
				}
			}
			now *= 1 - open
		}
		sum += (now - before) * m.time
		before = now
	}
	return sum + (1-before)*end
}
