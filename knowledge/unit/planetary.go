package unit

import (
	"errors"
	"fmt"
	"math"

	"provingbench/knowledge/quantity"
)

// Member is a rotating part of a gear train: everything that turns as one piece.
type Member string

// Set is one planetary set. Two sets that name the same member share that part.
type Set struct {
	Name               string
	Sun, Ring, Carrier Member
	// Ratio is ring teeth over sun teeth. It is negative for a set whose
	// planets run in pairs between sun and ring.
	Ratio float64
}

// Train is planetary sets joined by the members they share.
type Train struct{ Sets []Set }

// Tie is what an element does to a train while it is on: it makes two members
// turn as one or, with an empty second member, holds the first to the case.
type Tie struct{ A, B Member }

// Held returns the tie of a member that a band or a clutch holds to the case.
func Held(m Member) Tie { return Tie{A: m} }

// Tied returns the tie of two members that a clutch joins.
func Tied(a, b Member) Tie { return Tie{A: a, B: b} }

// Errors that say why a train gives no ratio. A caller compares with errors.Is.
var (
	// ErrLocked means that the ties ask for two ratios at once: a tie-up.
	ErrLocked = errors.New("unit: the gear train is tied up")
	// ErrFree means that nothing fixes the speed of a member: it slips or idles.
	ErrFree = errors.New("unit: nothing fixes the member's speed")
	// ErrStill means that the output stands still while the input turns.
	ErrStill = errors.New("unit: the output is held still")
)

// negligible is what rounding leaves of a coefficient that is zero. Rows are
// scaled to a largest coefficient of 1, so the figure has no unit.
const negligible = 1e-9

// largestSetRatio bounds the ratio of a set: no planetary set of any vehicle
// comes near it, and beyond it rounding would pass for a tie-up.
const largestSetRatio = 1000.0

// Speeds returns the speed of every member that the ties fix, as turns per turn
// of the input. Members that nothing fixes are left out.
//
//	ω_sun + k · ω_ring = (1 + k) · ω_carrier    for each set, k = ring teeth / sun teeth
//	ω_a = ω_b, or ω_a = 0                       for each tie
//	ω_input = 1
//
// The rows may repeat each other, as when a band and a one-way clutch hold the
// same drum. k must be 0.001 to 1000 in size.
// Errors: *quantity.RangeError for k; ErrLocked if the rows contradict each other.
// Source: R. Willis, Principles of Mechanism (1841), article on epicyclic trains;
// checked against the published trains in testdata/planetary.
func (t Train) Speeds(input Member, ties ...Tie) (map[Member]float64, error) {
	column := map[Member]int{}
	var members []Member
	at := func(m Member) int {
		if i, ok := column[m]; ok {
			return i
		}
		column[m] = len(members)
		members = append(members, m)
		return column[m]
	}
	at(input)
	for _, s := range t.Sets {
		if err := within("size of the ring to sun ratio", math.Abs(s.Ratio), 1/largestSetRatio, largestSetRatio); err != nil {
			return nil, err
		}
		at(s.Sun)
		at(s.Ring)
		at(s.Carrier)
	}
	for _, tie := range ties {
		at(tie.A)
		if tie.B != "" {
			at(tie.B)
		}
	}

	n := len(members)
	var rows [][]float64 // n coefficients and the right-hand side
	row := func() []float64 {
		r := make([]float64, n+1)
		rows = append(rows, r)
		return r
	}
	r := row()
	r[at(input)], r[n] = 1, 1
	for _, s := range t.Sets {
		r := row()
		r[at(s.Sun)] += 1
		r[at(s.Ring)] += s.Ratio
		r[at(s.Carrier)] -= 1 + s.Ratio
	}
	for _, tie := range ties {
		r := row()
		r[at(tie.A)] += 1
		if tie.B != "" {
			r[at(tie.B)] -= 1
		}
	}
	return solve(rows, members)
}

func within(name string, x, low, high float64) error {
	value := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	return quantity.Within("unit", name, value(x), value(low), value(high), quantity.Unit{})
}

// solve reduces the rows to echelon form (Gauss-Jordan with row pivoting) and
// reads off the members that are fixed.
func solve(rows [][]float64, members []Member) (map[Member]float64, error) {
	n := len(members)
	for _, r := range rows {
		largest := 0.0
		for _, x := range r[:n] {
			largest = math.Max(largest, math.Abs(x))
		}
		if largest > 0 {
			for i := range r {
				r[i] /= largest
			}
		}
	}
	pivots := make([]int, 0, n) // column of each reduced row
	for c := 0; c < n && len(pivots) < len(rows); c++ {
		top := len(pivots)
		best := top
		for i := top; i < len(rows); i++ {
			if math.Abs(rows[i][c]) > math.Abs(rows[best][c]) {
				best = i
			}
		}
		if math.Abs(rows[best][c]) < negligible {
			continue
		}
		rows[top], rows[best] = rows[best], rows[top]
		p := rows[top][c]
		for j := range rows[top] {
			rows[top][j] /= p
		}
		for i := range rows {
			if f := rows[i][c]; i != top && f != 0 {
				for j := range rows[i] {
					rows[i][j] -= f * rows[top][j]
				}
			}
		}
		pivots = append(pivots, c)
	}
	for _, r := range rows[len(pivots):] {
		if math.Abs(r[n]) > negligible {
			return nil, ErrLocked
		}
	}
	speeds := map[Member]float64{}
	for i, c := range pivots {
		if !fixedRow(rows[i][:n], c) {
			continue
		}
		speeds[members[c]] = rows[i][n]
	}
	return speeds, nil
}

// fixedRow reports whether a reduced row speaks of its pivot alone.
func fixedRow(coefficients []float64, pivot int) bool {
	for j, x := range coefficients {
		if j != pivot && math.Abs(x) > negligible {
			return false
		}
	}
	return true
}

// Ratio returns the turns of the input for one turn of the output, negative if
// the output turns backward.
//
//	i = ω_input / ω_output
//
// Errors: those of Speeds; ErrFree if nothing fixes the output; ErrStill if it
// is held.
// Source: definition of the transmission ratio; checked against the published
// trains in testdata/planetary.
func (t Train) Ratio(input, output Member, ties ...Tie) (float64, error) {
	speeds, err := t.Speeds(input, ties...)
	if err != nil {
		return 0, err
	}
	w, ok := speeds[output]
	if !ok {
		return 0, fmt.Errorf("%s: %w", output, ErrFree)
	}
	if math.Abs(w) < negligible {
		return 0, fmt.Errorf("%s: %w", output, ErrStill)
	}
	return speeds[input] / w, nil
}
