package flatness

import "math"

// A program is a linear program of a few rows and many columns:
//
//	maximise Σ gain·μ   with   Σ column·μ = right, μ ≥ 0
//
// The primal simplex method solves it. Only the few rows are ever factored, so
// that a step costs one look at each column.
type program struct {
	rows    int
	columns [][4]float64
	gain    []float64
	right   [4]float64
	basis   [4]int // one column for each row; it must be feasible to begin with
}

// solution is the best of a program: how much of each column of the basis, and
// the prices of the rows, Σ right·price being the best gain.
type solution struct {
	basis  [4]int
	amount [4]float64
	price  [4]float64
}

const (
	// better is how much a column must promise, for coordinates about 1, to be
	// worth a step. Less is rounding.
	better = 4e-12
	// pivot is the least that is divided by.
	pivot = 1e-11
	// patience is how many steps may bring nothing before columns are taken in
	// their order, which can't go in circles (Bland's rule).
	patience = 12
)

// solve returns the solution; ok is false where numbers too bad to compute
// with leave none.
func (p *program) solve() (s solution, ok bool) {
	stalled := 0
	for range 50000 {
		inverse, regular := p.inverse()
		if !regular {
			return s, false
		}
		s = solution{basis: p.basis}
		for i := range p.rows {
			for k := range p.rows {
				s.amount[i] += inverse[i][k] * p.right[k]
				s.price[k] += p.gain[p.basis[i]] * inverse[i][k]
			}
			s.amount[i] = math.Max(0, s.amount[i])
		}
		enter, most := -1, better
		for j := range p.columns {
			c := &p.columns[j]
			if d := p.gain[j] - c[0]*s.price[0] - c[1]*s.price[1] - c[2]*s.price[2] - c[3]*s.price[3]; d > most {
				enter, most = j, d
				if stalled > patience {
					break
				}
			}
		}
		if enter < 0 {
			return s, true
		}
		leave, step, least := -1, 0.0, math.Inf(1)
		for i := range p.rows {
			along := 0.0
			for k := range p.rows {
				along += inverse[i][k] * p.columns[enter][k]
			}
			if along <= pivot {
				continue
			}
			r := s.amount[i] / along
			tie := leave >= 0 && math.Abs(r-least) <= 1e-14
			switch {
			case leave < 0 || r < least && !tie,
				tie && stalled > patience && p.basis[i] < p.basis[leave],
				tie && stalled <= patience && along > step:
				leave, step, least = i, along, math.Min(r, least)
			}
		}
		if leave < 0 {
			return s, false
		}
		p.basis[leave] = enter
		if least > 1e-13 {
			stalled = 0
		} else {
			stalled++
		}
	}
	return s, false
}

// inverse returns the inverse of the basis; regular is false where it has none.
func (p *program) inverse() (inverse [4][4]float64, regular bool) {
	var m [4][8]float64
	n := p.rows
	for i := range n {
		for k := range n {
			m[i][k] = p.columns[p.basis[k]][i]
		}
		m[i][n+i] = 1
	}
	for k := range n {
		big := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[big][k]) {
				big = i
			}
		}
		m[k], m[big] = m[big], m[k]
		if math.Abs(m[k][k]) < 1e-13 {
			return inverse, false
		}
		d := m[k][k]
		for j := range 2 * n {
			m[k][j] /= d
		}
		for i := range n {
			if f := m[i][k]; i != k && f != 0 {
				for j := range 2 * n {
					m[i][j] -= f * m[k][j]
				}
			}
		}
	}
	for i := range n {
		copy(inverse[i][:n], m[i][n:2*n])
	}
	return inverse, true
}
