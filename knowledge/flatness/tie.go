package flatness

import (
	"math"

	"provingbench/knowledge/quantity"
)

// A tie holds lines together where they cross.
type tie struct {
	lines     []Line
	active    []int             // the lines that are in it
	crossed   map[int][]float64 // where along it a line crosses others, each place once
	readings  []Feeler          // of the active lines, one after the other
	first     map[int]int       // where a line's readings begin
	crossings []crossing        // of the active lines
	follows   [][]float64       // how the height of a place follows each gap
	heights   []float64         // of the places read
}

// crossing is where two lines cross, as shares of their length.
type crossing struct {
	a, b   int
	ka, kb float64
}

func newTie(lines []Line, active []int) *tie {
	t := &tie{lines: lines, active: active, crossed: map[int][]float64{}, first: map[int]int{}}
	for n, a := range active {
		t.first[a] = len(t.readings)
		t.readings = append(t.readings, lines[a].Readings...)
		for _, b := range active[:n] {
			if c, ok := cross(lines, a, b); ok {
				t.crossings = append(t.crossings, c)
				t.meet(a, c.ka)
				t.meet(b, c.kb)
			}
		}
	}
	return t
}

func (t *tie) meet(line int, k float64) {
	for _, known := range t.crossed[line] {
		if math.Abs(k-known) < 0.02 {
			return
		}
	}
	t.crossed[line] = append(t.crossed[line], k)
}

// cross finds where two lines cross within what was read of them.
func cross(lines []Line, a, b int) (c crossing, ok bool) {
	p, q := lines[a], lines[b]
	dx, dy := float64(p.X2-p.X1), float64(p.Y2-p.Y1)
	ex, ey := float64(q.X2-q.X1), float64(q.Y2-q.Y1)
	det := dx*ey - dy*ex
	// Lines nearly along each other cross nowhere in particular.
	if math.Abs(det) < 0.05*math.Hypot(dx, dy)*math.Hypot(ex, ey) {
		return c, false
	}
	ox, oy := float64(q.X1-p.X1), float64(q.Y1-p.Y1)
	c = crossing{a, b, (ox*ey - oy*ex) / det, (ox*dy - oy*dx) / det}
	return c, p.reaches(c.ka) && q.reaches(c.kb)
}

// reaches reports whether readings of the line lie on both sides of a place, or
// nearly so.
func (l Line) reaches(k float64) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, f := range l.Readings {
		at := float64(f.At / l.Length())
		least, most = math.Min(least, at), math.Max(most, at)
	}
	return k > least-0.02 && k < most+0.02
}

// beside returns the two readings of a line on either side of a place, and the
// share of the second.
func (l Line) beside(k float64) (i, j int, share float64) {
	i, j = -1, -1
	at := func(n int) float64 { return float64(l.Readings[n].At / l.Length()) }
	for n := range l.Readings {
		if at(n) <= k && (i < 0 || at(n) > at(i)) {
			i = n
		}
		if at(n) >= k && (j < 0 || at(n) < at(j)) {
			j = n
		}
	}
	switch {
	case i < 0:
		return j, j, 0
	case j < 0 || at(i) == at(j):
		return i, i, 0
	}
	return i, j, (k - at(i)) / (at(j) - at(i))
}

// solve finds how the heights of the places follow the gaps. It reports false
// when the lines don't hang together.
//
// Each line has a shift a and a rise b over its length. A crossing is a row of
// A·(a, b) = C·gap. AᵀA has the planes for its null space when the lines hang
// together, and more when not; adding the planes makes it regular in the first
// case only.
func (t *tie) solve() bool {
	n, k := 2*len(t.active), len(t.readings)
	index := map[int]int{}
	scale := 0.0
	for i, a := range t.active {
		index[a] = 2 * i
		for _, x := range []quantity.Length{t.lines[a].X1, t.lines[a].Y1, t.lines[a].X2, t.lines[a].Y2} {
			scale = math.Max(scale, math.Abs(float64(x)))
		}
	}
	m := make([][]float64, n) // AᵀA with the planes, then AᵀC
	for i := range m {
		m[i] = make([]float64, n+k)
	}
	for _, c := range t.crossings {
		row := make([]float64, n+k)
		row[index[c.a]], row[index[c.a]+1] = 1, c.ka
		row[index[c.b]], row[index[c.b]+1] = -1, -c.kb
		t.gap(row[n:], c.a, c.ka, 1)
		t.gap(row[n:], c.b, c.kb, -1)
		for i := range n {
			for j := range row {
				m[i][j] += row[i] * row[j]
			}
		}
	}
	for plane := range 3 {
		v := make([]float64, n)
		for _, a := range t.active {
			l := t.lines[a]
			switch plane {
			case 0:
				v[index[a]] = 1
			case 1:
				v[index[a]], v[index[a]+1] = float64(l.X1)/scale, float64(l.X2-l.X1)/scale
			case 2:
				v[index[a]], v[index[a]+1] = float64(l.Y1)/scale, float64(l.Y2-l.Y1)/scale
			}
		}
		for i := range n {
			for j := range n {
				m[i][j] += v[i] * v[j]
			}
		}
	}
	if !eliminate(m) {
		return false
	}
	t.follows = nil
	for _, a := range t.active {
		for r, f := range t.lines[a].Readings {
			at := float64(f.At / t.lines[a].Length())
			row := make([]float64, k)
			for j := range k {
				row[j] = m[index[a]][n+j] + at*m[index[a]+1][n+j]
			}
			row[t.first[a]+r]--
			t.follows = append(t.follows, row)
		}
	}
	t.heights = make([]float64, k)
	for i, row := range t.follows {
		for j, f := range t.readings {
			t.heights[i] += row[j] * f.middle()
		}
	}
	return true
}

// gap adds to a row what the gap of a line at a place is of its readings' gaps.
func (t *tie) gap(row []float64, line int, k, sign float64) {
	i, j, share := t.lines[line].beside(k)
	row[t.first[line]+i] += sign * (1 - share)
	row[t.first[line]+j] += sign * share
}

// misfit returns by how much two lines disagree where they cross, and how much
// of it the feelers' steps can explain.
func (t *tie) misfit(c crossing) (gap, free float64) {
	height := func(line int, k float64) float64 {
		i, j, share := t.lines[line].beside(k)
		i, j = i+t.first[line], j+t.first[line]
		free += (1-share)*t.readings[i].half() + share*t.readings[j].half()
		return (1-share)*t.heights[i] + share*t.heights[j]
	}
	gap = math.Abs(height(c.a, c.ka) - height(c.b, c.kb))
	return gap, free
}

// points are the places read with their heights, named after their lines.
func (t *tie) points() []Point {
	var points []Point
	for _, a := range t.active {
		for r, f := range t.lines[a].Readings {
			p := t.lines[a].place(f)
			p.Name = t.lines[a].Name + number(r+1)
			p.Z = quantity.Length(t.heights[t.first[a]+r])
			points = append(points, p)
		}
	}
	return points
}

// eliminate solves in place by Gauss and Jordan's elimination; false where the
// matrix at the left is singular.
func eliminate(m [][]float64) bool {
	most := 0.0
	for i := range m {
		for j := range m {
			most = math.Max(most, math.Abs(m[i][j]))
		}
	}
	for k := range m {
		big := k
		for i := k + 1; i < len(m); i++ {
			if math.Abs(m[i][k]) > math.Abs(m[big][k]) {
				big = i
			}
		}
		m[k], m[big] = m[big], m[k]
		d := m[k][k]
		if !(math.Abs(d) > 1e-9*most) {
			return false
		}
		for j := range m[k] {
			m[k][j] /= d
		}
		for i := range m {
			if f := m[i][k]; i != k && f != 0 {
				for j := range m[i] {
					m[i][j] -= f * m[k][j]
				}
			}
		}
	}
	return true
}

// project takes the best plane out of what each gap does to the heights:
// flatness doesn't know it.
func project(follows [][]float64, points []Point) {
	n := float64(len(points))
	var cx, cy float64
	for _, p := range points {
		cx, cy = cx+float64(p.X)/n, cy+float64(p.Y)/n
	}
	var xx, xy, yy float64
	for _, p := range points {
		x, y := float64(p.X)-cx, float64(p.Y)-cy
		xx, xy, yy = xx+x*x, xy+x*y, yy+y*y
	}
	det := xx*yy - xy*xy
	for k := range follows[0] {
		var c, xz, yz float64
		for i, p := range points {
			z := follows[i][k]
			c, xz, yz = c+z/n, xz+z*(float64(p.X)-cx), yz+z*(float64(p.Y)-cy)
		}
		a, b := (xz*yy-yz*xy)/det, (yz*xx-xz*xy)/det
		for i, p := range points {
			follows[i][k] -= c + a*(float64(p.X)-cx) + b*(float64(p.Y)-cy)
		}
	}
}
