package flatness

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A Zone is the space between the two parallel planes, as near to each other as
// can be, that hold all points between them.
type Zone struct {
	Flatness quantity.Length // how far the planes are apart
	Upper    Plane
	Lower    Plane // with the same normal
	// High and Low are the points that touch the planes.
	High, Low []Contact
}

// A Contact is a point that touches a plane of the zone.
type Contact struct {
	Point int
	// Share is how far the flatness follows this point: when its height is read
	// higher by a little, the flatness changes by Share times as much, and by
	// less than nothing at the lower plane. The shares at each plane add up to
	// 1. A point that touches without being needed has none.
	Share float64
}

// Kind says how the points hold the planes, as "3-1": so many with a share at
// the upper plane and at the lower one.
//
//	3-1, 1-3  three at one plane, one at the other over the triangle of the three
//	2-2       two at each plane, whose lines cross seen from above
//	2-1, 1-2  the same, with all three over one line
//	1-1       two readings of one place
//
// A face without any error has no kind.
func (z Zone) Kind() string {
	h, l := held(z.High), held(z.Low)
	if h == 0 || l == 0 {
		return ""
	}
	return string([]byte{'0' + byte(h), '-', '0' + byte(l)})
}

func held(contacts []Contact) (n int) {
	for _, c := range contacts {
		if c.Share > 0 {
			n++
		}
	}
	return n
}

// MinimumZone returns the minimum zone of the points. It is exact: the planes
// stand on the points that Kind names, and no tilt of them, however small,
// brings them nearer to each other.
//
//	flatness = min over n of (max n·p − min n·p),  |n| = 1
//
// In a frame whose third axis is the normal n, the best tilt is a linear
// program in four unknowns, solved exactly; the frame is then turned to the new
// normal, until it stays. Each step is one look at every point, and it takes a
// few dozen steps for any number of points.
//
// It asks for what LeastSquares asks for. Because the zone is at most a tenth
// as thick as the face is wide, its normal is near that of the least-squares
// plane, and what may hide in other directions is no zone of the face. Where
// the same place was read twice and this alone makes the flatness, many tilts
// are equally good to within a millionth and one of them is taken.
// Errors: *Error with Input "points".
// Source: ISO 1101 (definition, from memory); checked against the Chebyshev planes of the TraCIM service in testdata/flatness, and against every face and pair of edges of small sets in zone_test.go.
func MinimumZone(points []Point) (Zone, error) {
	f, err := frameOf(points)
	if err != nil {
		return Zone{}, err
	}
	if err := face(f, fitAbout(points, f.axes[2])); err != nil {
		return Zone{}, err
	}
	best := settle(points, f)
	if n := held(best.High) + held(best.Low); n == 0 || n > 3 {
		return best, nil
	}
	// Three contacts over one line, or two over one place, may leave a tilt
	// free that brings the planes nearer by the square of its slope. From a
	// frame tilted that way the end of it is found.
	far := float64(best.Flatness)
	for _, d := range [][2]float64{{1, 0}, {1, 1}, {0, 1}, {-1, 1}, {-1, 0}, {-1, -1}, {0, -1}, {1, -1}} {
		g := f
		g.turn(vector(best.Upper.Normal).plus(far*d[0]/f.reach[0], f.axes[0]).plus(far*d[1]/f.reach[1], f.axes[1]).unit())
		if z := settle(points, g); z.Flatness < best.Flatness {
			best = z
		}
	}
	return best, nil
}

// settle turns the frame to its best tilt until it stays.
func settle(points []Point, f frame) (best Zone) {
	for turn := range 20 {
		z, slope := zoneAbout(points, &f)
		if turn == 0 || float64(z.Flatness) <= float64(best.Flatness)*(1+1e-12) {
			best = z
		}
		if slope < 1e-9 {
			break
		}
	}
	return best
}

// turn gives the frame another normal.
func (f *frame) turn(normal vector) {
	f.axes[0] = f.axes[0].plus(-f.axes[0].dot(normal), normal).unit()
	f.axes[1] = normal.cross(f.axes[0])
	f.axes[2] = normal
}

// zoneAbout finds the best tilt in the frame, turns the frame by it and returns
// the zone there, and by how much it turned.
func zoneAbout(points []Point, f *frame) (z Zone, slope float64) {
	n := len(points)
	local := make([]vector, n)
	low, high := math.Inf(1), math.Inf(-1)
	for i, p := range points {
		d := p.vector().plus(-1, f.centre)
		local[i] = vector{d.dot(f.axes[0]) / f.reach[0], d.dot(f.axes[1]) / f.reach[1], d.dot(f.axes[2])}
		low, high = math.Min(low, local[i][2]), math.Max(high, local[i][2])
	}
	// What is left of nothing after the arithmetic is no error of form.
	if scale := high - low; scale > 1e-13*f.reach[0] {
		for i := range local {
			local[i][2] = (local[i][2] - low) / scale
		}
		if shares, price, ok := tilt(local); ok {
			a, b := price[0]*scale/f.reach[0], price[1]*scale/f.reach[1]
			slope = math.Hypot(a, b)
			f.turn(f.axes[2].plus(-a, f.axes[0]).plus(-b, f.axes[1]).unit())
			return planesOf(points, f, shares), slope
		}
	}
	return planesOf(points, f, nil), 0
}

// tilt returns the shares of the points that hold the best zone in height, those
// at the lower plane negative, and the slopes of the zone.
//
// With t half the zone's height, its unknowns are a, b, c, t:
//
//	minimise t   with   |z − a·x − b·y − c| ≤ t for every point
//
// Its dual has a column for each point at either plane and four rows.
func tilt(local []vector) (shares map[int]float64, price [4]float64, ok bool) {
	n := len(local)
	p := program{rows: 4, columns: make([][4]float64, 2*n), gain: make([]float64, 2*n), right: [4]float64{0, 0, 0, 1}}
	for i, l := range local {
		p.columns[i], p.gain[i] = [4]float64{l[0], l[1], 1, 1}, l[2]
		p.columns[n+i], p.gain[n+i] = [4]float64{-l[0], -l[1], -1, 1}, -l[2]
	}
	i, j, k := triangle(local)
	p.basis = [4]int{i, n + i, j, k}
	s, ok := p.solve()
	if !ok {
		return nil, price, false
	}
	shares = map[int]float64{}
	for r, c := range s.basis {
		if share := 2 * s.amount[r]; share > 1e-9 {
			if c >= n {
				c, share = c-n, -share
			}
			shares[c] += share
		}
	}
	return shares, s.price, true
}

// triangle returns three points far from one line, seen along the third axis.
func triangle(local []vector) (i, j, k int) {
	far := func(of func(vector) float64) (at int) {
		most := -1.0
		for n, l := range local {
			if d := of(l); d > most {
				at, most = n, d
			}
		}
		return at
	}
	apart := func(a, b vector) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
	i = far(func(l vector) float64 { return apart(l, vector{}) })
	j = far(func(l vector) float64 { return apart(l, local[i]) })
	k = far(func(l vector) float64 {
		return math.Abs((local[j][0]-local[i][0])*(l[1]-local[i][1]) - (local[j][1]-local[i][1])*(l[0]-local[i][0]))
	})
	return i, j, k
}

// planesOf returns the zone along the frame's third axis.
func planesOf(points []Point, f *frame, shares map[int]float64) Zone {
	normal := f.axes[2]
	low, high := math.Inf(1), math.Inf(-1)
	heights := make([]float64, len(points))
	for i, p := range points {
		heights[i] = normal.dot(p.vector().plus(-1, f.centre))
		low, high = math.Min(low, heights[i]), math.Max(high, heights[i])
	}
	base := normal.dot(f.centre)
	z := Zone{
		Upper: Plane{normal, quantity.Length(base + high)},
		Lower: Plane{normal, quantity.Length(base + low)},
	}
	flatness := high - low
	touch := 1e-9*flatness + 1e-12*f.reach[0]
	if flatness <= 1e-13*f.reach[0] {
		flatness = 0
	}
	z.Flatness = quantity.Length(flatness)
	for i, h := range heights {
		if high-h <= touch {
			z.High = append(z.High, Contact{i, math.Max(0, shares[i])})
		}
		if h-low <= touch {
			z.Low = append(z.Low, Contact{i, math.Max(0, -shares[i])})
		}
	}
	return z
}
