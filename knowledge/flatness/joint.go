package flatness

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Joint is a face laid against a perfectly flat counterpart, which rests on
// the upper plane of the face's zone. Two faces that are both out of flat can
// leave up to the sum of their gaps.
type Joint struct {
	points []Point
	gaps   []float64 // at the points
}

// NewJoint lays the flat counterpart on the upper plane of the zone of these
// points. Clamping it down with its screws can only make the gaps smaller.
//
// The face must lie nearly level: within 45° of z.
// Errors: *Error with Input "points".
// Source: analytic geometry; checked in joint_test.go.
func NewJoint(points []Point, z Zone) (Joint, error) {
	if math.Abs(z.Upper.Normal[2]) < math.Sqrt2/2 {
		return Joint{}, &Error{Input: "points", Reason: Upright}
	}
	j := Joint{points: points}
	for _, p := range points {
		j.gaps = append(j.gaps, math.Max(0, -float64(z.Upper.Distance(p))))
	}
	return j, nil
}

// Gap returns the gap to the flat counterpart at a place of the face.
//
// Between the points it is linear over the triangles of Delaunay, which are the
// plumpest that the points allow. Where four points or more lie on one circle,
// as on a grid, there are several such triangulations; the one with the wider
// gap at this place is taken, which for a leak is the careful side. Nothing is
// known outside the points, nor how the face runs between them.
//
//	minimise Σ μ·((x−xᵢ)² + (y−yᵢ)²)   with   Σ μ·(xᵢ, yᵢ, 1) = (x, y, 1), μ ≥ 0
//
// puts the shares μ on the corners of the triangle around the place.
// Errors: *Error with Input "place" for what lies outside the points.
// Source: Delaunay's triangles are the lower hull of the points lifted to a paraboloid (Brown 1979; de Berg et al., Computational Geometry, 3rd ed., theorem 11.17, from memory); checked in joint_test.go.
func (j Joint) Gap(x, y quantity.Length) (quantity.Length, error) {
	outside := &Error{Input: "place", Reason: Outside}
	if math.Abs(float64(x)) > float64(Reach) || math.Abs(float64(y)) > float64(Reach) || x != x || y != y {
		return 0, outside
	}
	far, deep := 0.0, 0.0
	for i, p := range j.points {
		far = math.Max(far, math.Hypot(float64(p.X-x), float64(p.Y-y)))
		deep = math.Max(deep, j.gaps[i])
	}
	if len(j.points) < 3 || far == 0 {
		return 0, outside
	}
	if deep == 0 {
		deep = 1
	}
	const (
		wider    = 1e-7 // what a wider gap weighs against the plumper triangle
		unwanted = -1e4 // for corners that are no points of the face
	)
	n := len(j.points)
	p := program{rows: 3, right: [4]float64{0, 0, 1}, basis: [4]int{n, n + 1, n + 2}}
	for i, q := range j.points {
		u, v := float64(q.X-x)/far, float64(q.Y-y)/far
		p.columns = append(p.columns, [4]float64{u, v, 1})
		p.gain = append(p.gain, wider*j.gaps[i]/deep-u*u-v*v)
	}
	for _, corner := range [][2]float64{{-4, -3}, {4, -3}, {0, 5}} {
		p.columns = append(p.columns, [4]float64{corner[0], corner[1], 1})
		p.gain = append(p.gain, unwanted)
	}
	s, ok := p.solve()
	if !ok {
		return 0, outside
	}
	gap := 0.0
	for i := range 3 {
		switch {
		case s.basis[i] < n:
			gap += s.amount[i] * j.gaps[s.basis[i]]
		case s.amount[i] > 1e-9:
			return 0, outside
		}
	}
	return quantity.Length(gap), nil
}

// A Crossing is the gap on the straight way from one place to another, such as
// from one channel over a land to the next.
type Crossing struct {
	Length      quantity.Length // of the way
	Least, Most quantity.Length // of the gap along it
	// Even is the even gap that would let as much oil through: the narrow parts
	// count for most. It is 0 where the way is closed somewhere.
	Even quantity.Length
}

// steps is into how many pieces a way is cut.
const steps = 64

// Between returns the gap along the straight way between two places.
//
//	Even³ = L / ∫ ds/h³
//
// Over each of 64 pieces h is taken as linear, for which the integral is
// ds·(h₁ + h₂)/(2·h₁²·h₂²). What goes around at the sides is left out.
// Errors: *Error with Input "place" for what lies outside the points, and for
// two places that are one.
// Source: slot flow per unit width Q = h³·Δp/(12·μ·L), whose parts in a row add their resistances; checked in joint_test.go.
func (j Joint) Between(x1, y1, x2, y2 quantity.Length) (Crossing, error) {
	c := Crossing{Length: quantity.Length(math.Hypot(float64(x2-x1), float64(y2-y1))), Least: quantity.Length(math.Inf(1))}
	if !(c.Length > 0) {
		return Crossing{}, &Error{Input: "place", Reason: Outside}
	}
	resistance, last := 0.0, 0.0
	for i := range steps + 1 {
		k := quantity.Length(i) / steps
		h, err := j.Gap(x1+k*(x2-x1), y1+k*(y2-y1))
		if err != nil {
			return Crossing{}, err
		}
		c.Least, c.Most = min(c.Least, h), max(c.Most, h)
		now := float64(h)
		if i > 0 {
			resistance += (last + now) / (2 * last * last * now * now) / steps
		}
		last = now
	}
	// A closed piece makes the resistance infinite or no number.
	if c.Least > 0 && !math.IsInf(resistance, 0) && !math.IsNaN(resistance) {
		c.Even = quantity.Length(math.Cbrt(1 / resistance))
	}
	return c, nil
}

// A Cut is what must come off a face to make it flat.
type Cut struct {
	Most quantity.Length // at the highest point; the lowest is just touched
	Mean quantity.Length // over the points
}

// Removal returns what must come off to bring every point down to the lowest,
// by a cut parallel to the plane. The least that can be is that parallel to the
// minimum zone, and it is the flatness itself. A casting that is set up on its
// other face is cut parallel to that one, which takes more.
//
//	most = max d − min d   mean = Σ (d − min d)/n
//
// Errors: *Error with Input "points" when there are none.
// Source: by definition of the zone; checked in joint_test.go.
func Removal(points []Point, parallel Plane) (Cut, error) {
	if len(points) == 0 {
		return Cut{}, &Error{Input: "points", Reason: TooFew}
	}
	least, most, sum := math.Inf(1), math.Inf(-1), 0.0
	for _, p := range points {
		d := float64(parallel.Distance(p))
		least, most, sum = math.Min(least, d), math.Max(most, d), sum+d
	}
	return Cut{quantity.Length(most - least), quantity.Length(sum/float64(len(points)) - least)}, nil
}
