package flatness

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
)

// The reference planes of the service by which metrology institutes test the
// software of coordinate measuring machines; it allows 0.00001 mm in the zone.
func TestMinimumZoneGivesTheChebyshevPlanes(t *testing.T) {
	for _, r := range published.Table(t, "flatness/chebyshev-answers.csv") {
		points := cloud(t, "chebyshev.csv", r["case"])
		z, err := MinimumZone(points)
		require.NoError(t, err, r["case"])
		assert.InDelta(t, r.Number(t, "zone_mm"), inMM(z.Flatness), 1e-9, "%s: four orders better than the service asks", r["case"])
		sameDirection(t, r, z.Upper.Normal)
		on := millimetres(r.Number(t, "x_mm"), r.Number(t, "y_mm"), r.Number(t, "z_mm"))
		assert.InDelta(t, 0, inMM(z.Upper.Distance(on)+z.Lower.Distance(on)), 0.0002, "%s: the reference point lies in the middle", r["case"])
		fit, err := LeastSquares(points)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, fit.Total, z.Flatness, "%s: least squares never gives less", r["case"])
	}
}

func TestZonesOfKnownFaces(t *testing.T) {
	for _, row := range []struct {
		name, source string
		points       []Point
		want, at     float64 // in mm
		kind         string
	}{
		{"five points of a forum question", "points from an engineering forum; by all normals and by random descent, which agree to 1e-10",
			[]Point{millimetres(11.5, 7, 1.1), millimetres(18.5, 6.9, 1.03), millimetres(4.5, 13, 1.02), millimetres(25.5, 30, 1.03), millimetres(11.5, 37.5, 1.02)},
			0.0672621, 0.5e-7, "2-2"},
		{"four points of a plane", "a plane-fitting package's test: z = 0.5·x + y",
			[]Point{millimetres(-10, -10, -15), millimetres(10, -10, -5), millimetres(-10, 10, 5), millimetres(10, 10, 15)}, 0, 0, ""},
		{"unit square, one corner up", "exact: 0.05/√1.005",
			[]Point{millimetres(0, 0, 0), millimetres(1, 0, 0), millimetres(1, 1, 0.1), millimetres(0, 1, 0)}, 0.05 / math.Sqrt(1.005), 1e-14, "2-2"},
		{"centre up", "exact", grid(3, 50, 0, 0, 0, 0, 0.020, 0, 0, 0, 0), 0.020, 1e-14, ""},
		{"twist", "exact", grid(3, 50, 0.01, 0, -0.01, 0, 0, 0, -0.01, 0, 0.01), 0.020, 1e-14, "2-2"},
		{"bow", "exact", grid(3, 50, 0.015, 0, 0.015, 0.015, 0, 0.015, 0.015, 0, 0.015), 0.015, 1e-14, ""},
		{"triangle with its middle down", "exact: three corners and the point under their centre",
			[]Point{millimetres(0, 0, 0), millimetres(90, 0, 0), millimetres(0, 90, 0), millimetres(30, 30, -0.04)}, 0.04, 1e-14, "3-1"},
		{"triangle with its middle up", "exact: the same, turned over",
			[]Point{millimetres(0, 0, 0), millimetres(90, 0, 0), millimetres(0, 90, 0), millimetres(30, 30, 0.04)}, 0.04, 1e-14, "1-3"},
		{"one place read twice", "exact: no tilt parts two heights of one place by less, but for the square of the slope",
			append(grid(3, 50, 0, 0, 0, 0, 0, 0, 0, 0, 0), millimetres(0, 0, 0.03)), 0.03, 1e-8, ""},
		{"every point twice", "exact", append(grid(3, 50, 0.01, 0, -0.01, 0, 0, 0, -0.01, 0, 0.01), grid(3, 50, 0.01, 0, -0.01, 0, 0, 0, -0.01, 0, 0.01)...), 0.020, 1e-14, "2-2"},
		{"three points", "any three points lie in a plane", []Point{millimetres(0, 0, 0), millimetres(90, 0, 3), millimetres(0, 90, 1)}, 0, 0, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			z, err := MinimumZone(row.points)
			require.NoError(t, err)
			assert.InDelta(t, row.want, inMM(z.Flatness), row.at, row.source)
			if row.kind != "" || row.want == 0 {
				assert.Equal(t, row.kind, z.Kind())
			}
			holds(t, row.points, z)
		})
	}
}

// holds checks what every zone must be: parallel planes that hold all points,
// touch what they say, and rest on the shares.
func holds(t *testing.T, points []Point, z Zone) {
	t.Helper()
	assert.Equal(t, z.Upper.Normal, z.Lower.Normal)
	assert.InDelta(t, inMM(z.Flatness), inMM(z.Upper.Offset-z.Lower.Offset), 1e-10)
	for _, p := range points {
		assert.LessOrEqual(t, inMM(z.Upper.Distance(p)), 1e-10)
		assert.GreaterOrEqual(t, inMM(z.Lower.Distance(p)), -1e-10)
	}
	if z.Flatness == 0 {
		return
	}
	var high, low float64
	var between vector
	for _, c := range z.High {
		assert.InDelta(t, 0, inMM(z.Upper.Distance(points[c.Point])), 1e-7)
		high += c.Share
		between = between.plus(c.Share, points[c.Point].vector())
	}
	for _, c := range z.Low {
		assert.InDelta(t, 0, inMM(z.Lower.Distance(points[c.Point])), 1e-7)
		low += c.Share
		between = between.plus(-c.Share, points[c.Point].vector())
	}
	assert.InDelta(t, 1, high, 1e-9)
	assert.InDelta(t, 1, low, 1e-9)
	// The contacts of one plane have a place that lies straight over a place of
	// the other's, which is why no tilt brings the planes together.
	for i := range between {
		assert.InDelta(t, float64(z.Flatness)*z.Upper.Normal[i], between[i], 1e-9, "in metre")
	}
}

// width is the oracle: the least width of the points over every normal of three
// points and of every two pairs, which are all that the least can have.
func width(points []Point) float64 {
	least := math.Inf(1)
	try := func(n vector) {
		if l := n.dot(n); l > 1e-24 {
			n = n.unit()
			low, high := math.Inf(1), math.Inf(-1)
			for _, p := range points {
				d := n.dot(p.vector().plus(-1, points[0].vector()))
				low, high = math.Min(low, d), math.Max(high, d)
			}
			least = math.Min(least, high-low)
		}
	}
	var edges []vector
	for i := range points {
		for j := range i {
			edges = append(edges, points[i].vector().plus(-1, points[j].vector()))
		}
	}
	// Three points span two of the pairs, so that pairs cover both kinds.
	for i := range edges {
		for j := range i {
			try(edges[i].cross(edges[j]))
		}
	}
	return least
}

func TestMinimumZoneIsTheLeastOfAllNormals(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, of := range []struct {
		name  string
		count int
		make  func() []Point
	}{
		{"faces", 300, func() []Point { return face1(random, 4+random.IntN(8)) }},
		{"thick plates", 300, func() []Point {
			var points []Point
			for range 4 + random.IntN(8) {
				points = append(points, millimetres(random.Float64()*100, random.Float64()*100, random.Float64()*5))
			}
			return points
		}},
		{"grids of few heights", 200, func() []Point {
			var z []float64
			for range 12 {
				z = append(z, float64(random.IntN(4))*0.01)
			}
			return grid(4, 30, z...)
		}},
		{"long strips", 100, func() []Point {
			var points []Point
			for range 10 {
				points = append(points, millimetres(random.Float64()*300, random.Float64()*5, random.Float64()*0.05))
			}
			return points
		}},
		{"any way up", 100, func() []Point {
			points := face1(random, 8)
			a := vector{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}.unit()
			b := a.cross(vector{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}).unit()
			c := a.cross(b)
			for i, p := range points {
				v := vector{}.plus(float64(p.X), a).plus(float64(p.Y), b).plus(float64(p.Z), c)
				points[i] = Point{X: mm(v[0] * 1e3), Y: mm(v[1] * 1e3), Z: mm(v[2] * 1e3)}
			}
			return points
		}},
	} {
		t.Run(of.name, func(t *testing.T) {
			compared := 0
			for range of.count {
				points := of.make()
				z, err := MinimumZone(points)
				if err != nil {
					continue // too thick, or on one line
				}
				compared++
				require.InDelta(t, width(points)*1e3, inMM(z.Flatness), 1e-10, "brute force over all normals: %v", points)
			}
			assert.Greater(t, compared, of.count*9/10)
		})
	}
}

// A tilt of the whole face, a shift, a turn and the order of the points change
// nothing.
func TestFlatnessKnowsNoTilt(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for range 50 {
		points := face1(random, 25)
		z, err := MinimumZone(points)
		require.NoError(t, err)
		moved := make([]Point, len(points))
		sin, cos := math.Sincos(random.Float64() * 0.5)
		for i, at := range random.Perm(len(points)) {
			p := points[at]
			x, h := float64(p.X), float64(p.Z)
			moved[i] = millimetres((cos*x-sin*h)*1e3+300, float64(p.Y)*1e3-200, (sin*x+cos*h)*1e3+50)
		}
		again, err := MinimumZone(moved)
		require.NoError(t, err)
		assert.InDelta(t, inMM(z.Flatness), inMM(again.Flatness), 1e-10, "identity")
		more, err := MinimumZone(append(moved, moved[3]))
		require.NoError(t, err)
		assert.InDelta(t, inMM(z.Flatness), inMM(more.Flatness), 1e-10, "a point read twice alike adds nothing")
	}
}

// surface makes n points of a face: a twist, a dish and noise.
func surface(n int, rough float64) []Point {
	random := rand.New(rand.NewPCG(uint64(n), 7))
	var points []Point
	for range n {
		x, y := random.Float64()*2-1, random.Float64()*2-1
		points = append(points, millimetres(x*150, y*100, 0.02*x*y+0.03*(x*x+y*y)+rough*random.Float64()))
	}
	return points
}

func TestManyPoints(t *testing.T) {
	for _, rough := range []float64{0, 0.01, 0.2} {
		points := surface(MostPoints, rough)
		z, err := MinimumZone(points)
		require.NoError(t, err)
		holds(t, points, z)
		assert.NotEmpty(t, z.Kind())
	}
	// A large grid of few heights is as degenerate as readings get.
	var heights []float64
	random := rand.New(rand.NewPCG(8, 9))
	for range 100 * 100 {
		heights = append(heights, float64(random.IntN(3))*0.01)
	}
	points := grid(100, 2, heights...)
	z, err := MinimumZone(points)
	require.NoError(t, err)
	holds(t, points, z)
	assert.InDelta(t, 0.02, inMM(z.Flatness), 1e-4, "three heights all over the face: none of its planes can be much nearer")
}

func ExampleMinimumZone() {
	points := []Point{
		{Name: "A1"}, {Name: "A2", X: 0.1}, {Name: "A3", X: 0.2},
		{Name: "B1", Y: 0.1}, {Name: "B2", X: 0.1, Y: 0.1, Z: 40e-6}, {Name: "B3", X: 0.2, Y: 0.1},
		{Name: "C1", Y: 0.2}, {Name: "C2", X: 0.1, Y: 0.2}, {Name: "C3", X: 0.2, Y: 0.2},
	}
	z, _ := MinimumZone(points)
	fmt.Printf("%.3f mm, high at %s\n", float64(z.Flatness)*1e3, points[z.High[0].Point].Name)
	// Output: 0.040 mm, high at B2
}

func BenchmarkMinimumZone(b *testing.B) {
	for _, n := range []int{10, 100, 1000, 10000} {
		for _, of := range []struct {
			name  string
			rough float64
		}{{"smooth", 0}, {"rough", 0.05}} {
			points := surface(n, of.rough)
			b.Run(fmt.Sprintf("%d-%s", n, of.name), func(b *testing.B) {
				for b.Loop() {
					if _, err := MinimumZone(points); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
