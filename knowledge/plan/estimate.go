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
	x.spent += 20*len(n.weight) + 2*len(x.share) + 2*len(t.prover)
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
		switch {
		case a.score > b.score:
			return -1
		case a.score < b.score:
			return 1
		}
		return a.prover - b.prover
	})
	x.spent += 200 * len(x.queue)
	for l := range x.open {
		x.open[l] = x.places[l][:0]
	}
	for i, q := range x.queue {
		for _, l := range t.prover[q.prover].levels {
			x.open[l] = append(x.open[l], i)
		}
	}
	copy(x.places, x.open)
	for i := range x.when {
		x.when[i] = -1
	}
	end, level := 0.0, n.level
	for l := range x.open {
		x.head[l] = x.cluster(level, l)
	}
	for {
		to := -1
		for l, h := range x.head {
			if h.count > 0 && (to < 0 || h.rate > x.head[to].rate) {
				to = l
			}
		}
		if to < 0 {
			break // the rest is done or out of reach
		}
		stale := to != level
		end += t.travel[level][to]
		level = to
		for _, i := range x.open[to][:x.head[to].count] {
			pr := &t.prover[x.queue[i].prover]
			if x.when[pr.check] >= 0 {
				continue // done at another level
			}
			end += pr.minutes
			x.when[pr.check] = end
			for j, f := range pr.faults {
				x.share[f] *= 1 - pr.chance[j]
			}
			stale = stale || pr.rivals
		}
		x.open[to] = x.open[to][x.head[to].count:]
		for l := range x.open {
			if stale || l == to {
				x.head[l] = x.cluster(level, l)
			}
		}
	}

	sum := 0.0
	for s, w := range n.weight {
		if w > 0 {
			sum += w * x.finished(n, s, end)
		}
	}
	return sum
}

// cluster is how many of the checks waiting at level l, from the best, make the
// highest probability of a proof per minute together, coming from another level.
func (x *search) cluster(from, l int) head {
	spent := x.t.travel[from][l]
	if math.IsInf(spent, 1) {
		return head{}
	}
	var h head
	found := 0.0
	for at, i := range x.open[l] {
		pr := &x.t.prover[x.queue[i].prover]
		if x.when[pr.check] >= 0 {
			continue
		}
		p := x.finds(pr)
		if h.count > 0 && p*spent <= found*pr.minutes {
			break
		}
		found += p
		spent += pr.minutes
		h = head{at + 1, found / max(spent, leastMinutes)}
	}
	return h
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
