package flatness

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Plane is the places p with Normal·p = Offset. Normal has length 1 and
// points away from the metal.
type Plane struct {
	Normal [3]float64
	Offset quantity.Length
}

// Distance returns how far a point lies over the plane, along its normal; what
// lies under it is negative.
//
// Errors: none.
// Source: analytic geometry; checked in plane_test.go.
func (p Plane) Distance(q Point) quantity.Length {
	return quantity.Length(vector(p.Normal).dot(q.vector())) - p.Offset
}

// Slope returns how much the plane rises for a step along x and along y. A
// plane that stands upright has infinite slopes.
//
// Errors: none.
// Source: analytic geometry; checked in plane_test.go.
func (p Plane) Slope() (x, y float64) {
	return -p.Normal[0] / p.Normal[2], -p.Normal[1] / p.Normal[2]
}

// A Fit is a reference plane with how the points lie about it, after ISO
// 12781-1.
type Fit struct {
	Plane  Plane
	Total  quantity.Length // FLTt, peak to valley
	Peak   quantity.Length // FLTp, highest peak over the reference
	Valley quantity.Length // FLTv, deepest valley under it
	RMS    quantity.Length // FLTq, root mean square
	// Highest and Lowest are the points farthest over and under it.
	Highest, Lowest int
}

// LeastSquares returns the plane whose distances to the points have the least
// sum of squares, measured along its normal, and the parameters about it.
//
//	FLTt = max d − min d   FLTp = max d   FLTv = −min d   FLTq = √(Σ d²/n)
//
// d is the distance of a point from the plane. FLTq is an integral over the
// face in the standard; over points it is their mean, so that places read
// closely together count for more.
//
// At least three points that are not on one line; coordinates up to Reach;
// FLTt up to a tenth of the width of the face.
// Errors: *Error with Input "points".
// Source: ISO 12781-1:2011, 3.2 and 3.3 (from memory); checked against the Gauss planes of the TraCIM service in testdata/flatness.
func LeastSquares(points []Point) (Fit, error) {
	f, err := frameOf(points)
	if err != nil {
		return Fit{}, err
	}
	fit := fitAbout(points, f.axes[2])
	return fit, face(f, fit)
}

// LeastSquaresInHeight returns the plane whose differences in height from the
// points have the least sum of squares, along z and not along its normal, and
// the parameters about it, which are along its normal. It is what a calculation
// by hand or with a spreadsheet gives. For a face that lies nearly level it is
// the same as LeastSquares.
//
//	z = c + a·x + b·y
//
// It asks for what LeastSquares asks for; seen from above, the points must not
// lie on one line either.
// Errors: *Error with Input "points".
// Source: normal equations of linear regression; checked in plane_test.go.
func LeastSquaresInHeight(points []Point) (Fit, error) {
	f, err := frameOf(points)
	if err != nil {
		return Fit{}, err
	}
	var xx, xy, yy, xz, yz float64
	for _, p := range points {
		d := p.vector().plus(-1, f.centre)
		xx, xy, yy = xx+d[0]*d[0], xy+d[0]*d[1], yy+d[1]*d[1]
		xz, yz = xz+d[0]*d[2], yz+d[1]*d[2]
	}
	det := xx*yy - xy*xy
	if !(det > thin*thin*(xx+yy)*(xx+yy)) {
		return Fit{}, &Error{Input: "points", Reason: Upright}
	}
	a, b := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
	fit := fitAbout(points, vector{-a, -b, 1}.unit())
	return fit, face(f, fit)
}

// fitAbout returns the plane through the points' centre with the given normal.
func fitAbout(points []Point, normal vector) Fit {
	base := points[0].vector()
	// Distances from the first point keep the digits that those from a far
	// origin would lose.
	sum, low, high := 0.0, math.Inf(1), math.Inf(-1)
	fit := Fit{}
	for i, p := range points {
		d := normal.dot(p.vector().plus(-1, base))
		sum += d
		if d > high {
			high, fit.Highest = d, i
		}
		if d < low {
			low, fit.Lowest = d, i
		}
	}
	mean := sum / float64(len(points))
	squares := 0.0
	for _, p := range points {
		d := normal.dot(p.vector().plus(-1, base)) - mean
		squares += d * d
	}
	fit.Plane = Plane{normal, quantity.Length(normal.dot(base) + mean)}
	fit.Total, fit.Peak, fit.Valley = quantity.Length(high-low), quantity.Length(math.Max(0, high-mean)), quantity.Length(math.Max(0, mean-low))
	fit.RMS = quantity.Length(math.Sqrt(squares / float64(len(points))))
	return fit
}

// frame is where points lie: their centre, their principal axes, the longest
// first, and how far they reach along each.
type frame struct {
	centre vector
	axes   [3]vector
	reach  [3]float64
}

// frameOf checks points and finds their frame.
func frameOf(points []Point) (frame, error) {
	var f frame
	if len(points) < 3 {
		return f, &Error{Input: "points", Reason: TooFew}
	}
	if len(points) > MostPoints {
		return f, &Error{Input: "points", Reason: TooMany}
	}
	for i, p := range points {
		for _, x := range p.vector() {
			if !(math.Abs(x) <= float64(Reach)) {
				return f, &Error{Input: "points", Reason: TooFar, Part: name(points, i)}
			}
		}
		f.centre = f.centre.plus(1/float64(len(points)), p.vector())
	}
	var m [3]vector
	for _, p := range points {
		d := p.vector().plus(-1, f.centre)
		for i := range m {
			m[i] = m[i].plus(d[i], d)
		}
	}
	f.axes = eigen(m)
	// The normal points up, or along the greatest of its parts.
	n := f.axes[2]
	up := 2
	if math.Abs(n[2]) < 0.1 {
		up = 0
		if math.Abs(n[1]) > math.Abs(n[0]) {
			up = 1
		}
	}
	if n[up] < 0 {
		f.axes[2] = vector{}.plus(-1, n)
	}
	f.axes[1] = f.axes[2].cross(f.axes[0])
	for _, p := range points {
		d := p.vector().plus(-1, f.centre)
		for i, a := range f.axes {
			f.reach[i] = math.Max(f.reach[i], math.Abs(d.dot(a)))
		}
	}
	if !(f.reach[1] > thin*f.reach[0]) {
		return f, &Error{Input: "points", Reason: OneLine}
	}
	return f, nil
}

// face returns an error where a fit is too thick to be a face.
func face(f frame, fit Fit) error {
	if float64(fit.Total) > thick*2*f.reach[1] {
		return &Error{Input: "points", Reason: TooThick}
	}
	return nil
}

// eigen returns the eigenvectors of a symmetric matrix, that of the greatest
// eigenvalue first, by Jacobi's rotations.
func eigen(m [3]vector) [3]vector {
	v := [3]vector{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}} // columns
	for range 50 {
		off := math.Abs(m[0][1]) + math.Abs(m[0][2]) + math.Abs(m[1][2])
		if off <= 1e-300 {
			break
		}
		for p := range 2 {
			for q := p + 1; q < 3; q++ {
				if m[p][q] == 0 {
					continue
				}
				theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
				t := 1 / (math.Abs(theta) + math.Hypot(theta, 1))
				if theta < 0 {
					t = -t
				}
				c := 1 / math.Hypot(t, 1)
				s := t * c
				for k := range 3 {
					m[k][p], m[k][q] = c*m[k][p]-s*m[k][q], s*m[k][p]+c*m[k][q]
				}
				for k := range 3 {
					m[p][k], m[q][k] = c*m[p][k]-s*m[q][k], s*m[p][k]+c*m[q][k]
					v[k][p], v[k][q] = c*v[k][p]-s*v[k][q], s*v[k][p]+c*v[k][q]
				}
				m[p][q], m[q][p] = 0, 0
			}
		}
	}
	order := [3]int{0, 1, 2}
	for _, pair := range [][2]int{{0, 1}, {1, 2}, {0, 1}} {
		i, j := pair[0], pair[1]
		if m[order[i]][order[i]] < m[order[j]][order[j]] {
			order[i], order[j] = order[j], order[i]
		}
	}
	var axes [3]vector
	for i, o := range order {
		axes[i] = vector{v[0][o], v[1][o], v[2][o]}.unit()
	}
	return axes
}
