package flatness

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
)

// The reference planes of the service by which metrology institutes test the
// software of coordinate measuring machines.
func TestLeastSquaresGivesTheGaussPlanes(t *testing.T) {
	for _, r := range published.Table(t, "flatness/gauss-answers.csv") {
		fit, err := LeastSquares(cloud(t, "gauss.csv", r["case"]))
		require.NoError(t, err, r["case"])
		sameDirection(t, r, fit.Plane.Normal)
		on := millimetres(r.Number(t, "x_mm"), r.Number(t, "y_mm"), r.Number(t, "z_mm"))
		assert.InDelta(t, 0, inMM(fit.Plane.Distance(on)), 0.0001, "%s: the reference point lies on the plane", r["case"])
	}
}

// sameDirection compares a normal with the reference, within 1e-7 as the
// service allows.
func sameDirection(t *testing.T, r published.Row, normal [3]float64) {
	t.Helper()
	want := vector{r.Number(t, "normal_x"), r.Number(t, "normal_y"), r.Number(t, "normal_z")}
	c := want.unit().cross(normal)
	assert.InDelta(t, 0, math.Sqrt(c.dot(c)), 1e-7, "%s: direction", r["case"])
}

func TestFitsOfKnownFaces(t *testing.T) {
	for _, row := range []struct {
		name, source                string
		points                      []Point
		height, orthogonal, rms, at float64 // in mm
	}{
		{"five points of a forum question", "points from an engineering forum; figures by all normals and by random descent, which agree to 1e-10",
			[]Point{millimetres(11.5, 7, 1.1), millimetres(18.5, 6.9, 1.03), millimetres(4.5, 13, 1.02), millimetres(25.5, 30, 1.03), millimetres(11.5, 37.5, 1.02)},
			0.0720973, 0.0720973, 0.0261393, 0.5e-7},
		{"unit square, one corner up", "exact: 0.05/√1.005 in height; orthogonal by eigenvectors",
			[]Point{millimetres(0, 0, 0), millimetres(1, 0, 0), millimetres(1, 1, 0.1), millimetres(0, 1, 0)},
			0.05 / math.Sqrt(1.005), 0.0499992, math.NaN(), 0.5e-7},
		{"centre up", "exact", grid(3, 50, 0, 0, 0, 0, 0.020, 0, 0, 0, 0), 0.020, 0.020, 0.020 * math.Sqrt(8) / 9, 1e-12},
		{"twist", "exact", grid(3, 50, 0.01, 0, -0.01, 0, 0, 0, -0.01, 0, 0.01), 0.020, 0.020, 0.01 * 2 / 3, 1e-12},
		{"bow", "exact", grid(3, 50, 0.015, 0, 0.015, 0.015, 0, 0.015, 0.015, 0, 0.015), 0.015, 0.015, 0.015 * math.Sqrt2 / 3, 1e-12},
		{"four points of a plane", "a plane-fitting package's test: z = 0.5·x + y",
			[]Point{millimetres(-10, -10, -15), millimetres(10, -10, -5), millimetres(-10, 10, 5), millimetres(10, 10, 15)}, 0, 0, 0, 1e-12},
	} {
		t.Run(row.name, func(t *testing.T) {
			h, err := LeastSquaresInHeight(row.points)
			require.NoError(t, err)
			assert.InDelta(t, row.height, inMM(h.Total), row.at, row.source)
			if !math.IsNaN(row.rms) {
				assert.InDelta(t, row.rms, inMM(h.RMS)/h.Plane.Normal[2], row.at, "in height: "+row.source)
			}
			o, err := LeastSquares(row.points)
			require.NoError(t, err)
			assert.InDelta(t, row.orthogonal, inMM(o.Total), row.at, row.source)
			assert.InDelta(t, inMM(o.Total), inMM(o.Peak+o.Valley), 1e-12, "FLTt = FLTp + FLTv")
			assert.LessOrEqual(t, o.RMS, o.Total)
		})
	}
}

// A published exercise whose answer is printed: z = −1.5·x + y − 0.5 for the
// points (0,1,1), (0,1,0), (1,1,−1) and (−1,−1,0), checked by its normal
// equations. It is too thick for a face, so it is scaled down in height, which
// scales the slopes.
func TestHeightFitOfAPrintedExercise(t *testing.T) {
	const flat = 0.01
	fit, err := LeastSquaresInHeight([]Point{millimetres(0, 1, flat), millimetres(0, 1, 0), millimetres(1, 1, -flat), millimetres(-1, -1, 0)})
	require.NoError(t, err)
	a, b := fit.Plane.Slope()
	assert.InDelta(t, -1.5*flat, a, 1e-12, "printed −1.5000")
	assert.InDelta(t, 1.0*flat, b, 1e-12, "printed 1.0000")
	assert.InDelta(t, -0.5*flat, inMM(fit.Plane.Offset)/fit.Plane.Normal[2], 1e-12, "printed −0.5000")
}

// No plane turned or shifted a little has a lesser sum of squares.
func TestLeastSquaresIsLeast(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		points := face1(random, 12)
		fit, err := LeastSquares(points)
		require.NoError(t, err)
		sum := func(p Plane) (s float64) {
			for _, q := range points {
				d := float64(p.Distance(q))
				s += d * d
			}
			return s
		}
		best := sum(fit.Plane)
		assert.InEpsilon(t, best, float64(fit.RMS*fit.RMS)*float64(len(points)), 1e-6, "identity")
		for range 20 {
			n := vector(fit.Plane.Normal).plus(1e-5, vector{random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}).unit()
			assert.GreaterOrEqual(t, sum(fitAbout(points, n).Plane), best*(1-1e-9))
		}
	}
}

// face1 is a face of random points with random heights, tilted at random.
func face1(random *rand.Rand, n int) []Point {
	a, b := random.Float64()*0.02-0.01, random.Float64()*0.02-0.01
	var points []Point
	for range n {
		x, y := random.Float64()*200, random.Float64()*120
		points = append(points, millimetres(x, y, a*x+b*y+random.Float64()*0.1))
	}
	return points
}

func TestReadingsThatAreNoFace(t *testing.T) {
	line := []Point{millimetres(0, 0, 0), millimetres(10, 10, 0.1), millimetres(20, 20, 0.2), millimetres(30, 30, 0.3)}
	for _, row := range []struct {
		name   string
		points []Point
		reason Reason
		says   string
	}{
		{"nothing", nil, TooFew, "flatness: points: too few points"},
		{"two", line[:2], TooFew, "flatness: points: too few points"},
		{"one line", line, OneLine, "flatness: points: all on one line"},
		{"one place", []Point{{}, {}, {}, {}}, OneLine, "flatness: points: all on one line"},
		{"thick", []Point{millimetres(0, 0, 0), millimetres(1, 0, 0), millimetres(1, 1, 1), millimetres(0, 1, 0)}, TooThick, "flatness: points: too thick for a face"},
		{"far", []Point{millimetres(0, 0, 0), {X: 11}, millimetres(1, 1, 0)}, TooFar, `flatness: points: outside what is possible "2"`},
		{"no number", []Point{millimetres(0, 0, 0), millimetres(1, 0, math.NaN()), millimetres(1, 1, 0)}, TooFar, `flatness: points: outside what is possible "2"`},
		{"too many", make([]Point, MostPoints+1), TooMany, "flatness: points: too many rows"},
	} {
		t.Run(row.name, func(t *testing.T) {
			for _, err := range []error{
				second(LeastSquares(row.points)), second(LeastSquaresInHeight(row.points)), second(MinimumZone(row.points)),
			} {
				require.EqualError(t, err, row.says)
				var e *Error
				require.ErrorAs(t, err, &e)
				assert.Equal(t, row.reason, e.Reason)
				assert.Regexp(t, `^[A-Z"].*\.$`, e.Sentence())
			}
		})
	}
}

func second[T any](_ T, err error) error { return err }
