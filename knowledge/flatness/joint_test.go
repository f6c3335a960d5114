package flatness

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func joint(t *testing.T, points []Point) (Joint, Zone) {
	t.Helper()
	z, err := MinimumZone(points)
	require.NoError(t, err)
	j, err := NewJoint(points, z)
	require.NoError(t, err)
	return j, z
}

func TestGap(t *testing.T) {
	dish := grid(3, 50, 0.015, 0, 0.015, 0.015, 0, 0.015, 0.015, 0, 0.015)
	j, z := joint(t, dish)
	for _, row := range []struct {
		x, y, want float64
		source     string
	}{
		{-50, 0, 0, "on a high row"},
		{0, 0, 0.015, "on the low row"},
		{25, 10, 0.0075, "half-way, linear"},
		{-12.5, 30, 0.01125, "linear"},
		{50, 50, 0, "a corner"},
	} {
		g, err := j.Gap(mm(row.x), mm(row.y))
		require.NoError(t, err)
		assert.InDelta(t, row.want, inMM(g), 1e-9, row.source)
	}
	for _, out := range [][2]float64{{51, 0}, {0, -60}, {1e6, 0}, {math.NaN(), 0}} {
		_, err := j.Gap(mm(out[0]), mm(out[1]))
		var e *Error
		require.ErrorAs(t, err, &e)
		assert.Equal(t, "place", e.Input)
	}
	assert.InDelta(t, 0.015, inMM(z.Flatness), 1e-12)

	// A square of four: its diagonals give two heights in the middle; the careful
	// one is taken.
	saddle := []Point{millimetres(0, 0, 0), millimetres(100, 0, 0.02), millimetres(100, 100, 0), millimetres(0, 100, 0.02)}
	j, _ = joint(t, saddle)
	g, err := j.Gap(mm(50), mm(50))
	require.NoError(t, err)
	assert.InDelta(t, 0.02, inMM(g), 1e-9, "the way down between the low corners")
}

// At each point the gap is the point's own, and between points it is that of a
// triangle of Delaunay: no point lies in its circle. A face that is a plane in
// pieces tells which triangle was taken.
func TestGapFollowsTheTrianglesOfDelaunay(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 9))
	for range 15 {
		points := face1(random, 12)
		j, z := joint(t, points)
		for _, p := range points {
			g, err := j.Gap(p.X, p.Y)
			require.NoError(t, err)
			assert.InDelta(t, -inMM(z.Upper.Distance(p)), inMM(g), 1e-7, "at a point")
		}
		for range 20 {
			x, y := random.Float64()*200, random.Float64()*120
			g, err := j.Gap(mm(x), mm(y))
			want, inside := delaunay(points, j.gaps, x*1e-3, y*1e-3)
			if !inside {
				assert.Error(t, err)
				continue
			}
			require.NoError(t, err)
			assert.InDelta(t, want*1e3, inMM(g), 1e-6, "brute force over all empty circles")
		}
	}
}

// delaunay is the oracle: among all triangles around a place it finds the one
// whose circle holds no other point.
func delaunay(points []Point, gaps []float64, x, y float64) (gap float64, inside bool) {
	area := func(ax, ay, bx, by, cx, cy float64) float64 { return (bx-ax)*(cy-ay) - (by-ay)*(cx-ax) }
	at := func(i int) (float64, float64) { return float64(points[i].X), float64(points[i].Y) }
	for i := range points {
		for j := range i {
			for k := range j {
				ax, ay := at(i)
				bx, by := at(j)
				cx, cy := at(k)
				whole := area(ax, ay, bx, by, cx, cy)
				u, v, w := area(x, y, bx, by, cx, cy)/whole, area(ax, ay, x, y, cx, cy)/whole, area(ax, ay, bx, by, x, y)/whole
				if u < 0 || v < 0 || w < 0 {
					continue
				}
				d := 2 * (ax*(by-cy) + bx*(cy-ay) + cx*(ay-by))
				a2, b2, c2 := ax*ax+ay*ay, bx*bx+by*by, cx*cx+cy*cy
				ox, oy := (a2*(by-cy)+b2*(cy-ay)+c2*(ay-by))/d, (a2*(cx-bx)+b2*(ax-cx)+c2*(bx-ax))/d
				radius, empty := math.Hypot(ax-ox, ay-oy), true
				for n := range points {
					px, py := at(n)
					empty = empty && math.Hypot(px-ox, py-oy) >= radius*(1-1e-9)
				}
				if empty {
					return u*gaps[i] + v*gaps[j] + w*gaps[k], true
				}
			}
		}
	}
	return 0, false
}

func TestBetween(t *testing.T) {
	// A wedge from 0.02 to 0.04 mm; three high corners to carry the counterpart
	// would hide it, so the gaps are given.
	wedge := []Point{millimetres(0, 0, 0), millimetres(100, 0, 0), millimetres(100, 100, 0), millimetres(0, 100, 0)}
	j := Joint{points: wedge, gaps: []float64{20e-6, 40e-6, 40e-6, 20e-6}}
	c, err := j.Between(0, mm(50), mm(100), mm(50))
	require.NoError(t, err)
	assert.InDelta(t, 100, inMM(c.Length), 1e-9)
	assert.InDelta(t, 0.02, inMM(c.Least), 1e-9)
	assert.InDelta(t, 0.04, inMM(c.Most), 1e-9)
	// Plane Couette–Poiseuille flow through a wedge: Δp = 6·μ·Q·L·(h₁+h₂)/(h₁²·h₂²),
	// the fixed-incline pad of lubrication theory at rest (Hamrock, from memory).
	want := math.Cbrt(2 * 0.02 * 0.02 * 0.04 * 0.04 / (0.02 + 0.04))
	assert.InDelta(t, want, inMM(c.Even), 1e-9)

	j.gaps = []float64{20e-6, 20e-6, 20e-6, 20e-6}
	c, err = j.Between(mm(10), mm(10), mm(90), mm(70))
	require.NoError(t, err)
	assert.InDelta(t, 0.02, inMM(c.Even), 1e-9, "an even gap is itself")

	j.gaps = []float64{0, 20e-6, 20e-6, 0}
	c, err = j.Between(0, mm(50), mm(100), mm(50))
	require.NoError(t, err)
	assert.Zero(t, c.Even, "closed at its end")

	for _, way := range [][4]float64{{0, 0, 0, 0}, {0, 0, 150, 0}} {
		_, err := j.Between(mm(way[0]), mm(way[1]), mm(way[2]), mm(way[3]))
		assert.Error(t, err)
	}
}

func TestRemoval(t *testing.T) {
	points := grid(3, 50, 0, 0, 0, 0, 0.020, 0, 0, 0, 0)
	z, err := MinimumZone(points)
	require.NoError(t, err)
	c, err := Removal(points, z.Lower)
	require.NoError(t, err)
	assert.InDelta(t, 0.020, inMM(c.Most), 1e-12, "the flatness itself")
	assert.InDelta(t, 0.020/9, inMM(c.Mean), 1e-12)

	tilted := make([]Point, len(points))
	for i, p := range points {
		tilted[i] = p
		tilted[i].Z += p.X * 0.001
	}
	c, err = Removal(tilted, Plane{Normal: [3]float64{0, 0, 1}})
	require.NoError(t, err)
	assert.InDelta(t, 0.1, inMM(c.Most), 1e-12, "set up on its back, the tilt comes off too")
	_, err = Removal(nil, Plane{})
	assert.Error(t, err)

	_, err = NewJoint(points, Zone{Upper: Plane{Normal: [3]float64{1, 0, 0}}})
	assert.EqualError(t, err, "flatness: points: stands upright")
}

func BenchmarkGap(b *testing.B) {
	points := surface(1000, 0.05)
	z, err := MinimumZone(points)
	if err != nil {
		b.Fatal(err)
	}
	j, err := NewJoint(points, z)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := j.Gap(quantity.Length(0.01), quantity.Length(0.02)); err != nil {
			b.Fatal(err)
		}
	}
}
