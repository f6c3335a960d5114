package flatness

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

// exact makes readings of gaps in mm that are known to next to nothing, at even
// places from 0 to the end of the line.
func exact(l Line, gaps ...float64) Line {
	for i, g := range gaps {
		l.Readings = append(l.Readings, Feeler{At: quantity.Length(i) * l.Length() / quantity.Length(len(gaps)-1), Goes: mm(g), Stops: mm(g + 1e-9)})
	}
	return l
}

func TestStraightness(t *testing.T) {
	l := Line{Name: "A", X2: mm(200)}
	for _, row := range []struct {
		name, source string
		gaps         []float64
		want         float64 // mm
		touches      int
	}{
		{"hollow", "exact: the edge rests on both ends", []float64{0, 0.03, 0.05, 0.03, 0}, 0.05, 2},
		{"high in the middle, level", "exact: ends equally low", []float64{0.05, 0.02, 0, 0.02, 0.05}, 0.05, 1},
		{"high in the middle, rocked over", "exact: the same face, the edge tilted by 0.05 over its half", []float64{0.1, 0.045, 0, -0.005, 0}, 0.05, 2},
		{"two humps", "exact: the edge lies on both", []float64{0.04, 0, 0.01, 0, 0.04}, 0.04, 2},
		{"straight", "exact", []float64{0, 0, 0, 0}, 0, 4},
		{"edge off at one end", "exact: a tilt is no error of form", []float64{0, 0.01, 0.02, 0.03, 0.04}, 0, 1},
		{"three places", "exact: half of the middle's height over the chord, twice", []float64{0, 0.01, 0.06}, 0.02, 1},
	} {
		t.Run(row.name, func(t *testing.T) {
			least := 0.0
			for _, g := range row.gaps {
				least = math.Min(least, g)
			}
			shifted := make([]float64, len(row.gaps))
			for i, g := range row.gaps {
				shifted[i] = g - least
			}
			s, err := exact(l, shifted...).Straightness()
			require.NoError(t, err)
			assert.InDelta(t, row.want, inMM(s.Middle), 1e-8, row.source)
			if least == 0 {
				assert.Equal(t, row.touches, s.Touches)
			}
			assert.LessOrEqual(t, s.Least, s.Middle)
			assert.LessOrEqual(t, s.Middle, s.Most)
			assert.LessOrEqual(t, inMM(s.Middle), inMM(s.Thickest.Goes)+1e-8, "an edge that lies on the face never understates")
		})
	}
}

// With feelers the true straightness is always between the two bounds.
func TestFeelersBoundTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 1))
	const step = 0.0254
	for range 300 {
		heights := make([]float64, 7)
		for i := range heights {
			heights[i] = random.Float64() * 0.15
		}
		l := Line{Name: "A", X2: mm(200)}
		lay(&l, heights, step)
		s, err := l.Straightness()
		require.NoError(t, err)
		truth := straight(heights)
		assert.GreaterOrEqual(t, truth, inMM(s.Least)-1e-12)
		assert.LessOrEqual(t, truth, inMM(s.Most)+1e-12)
		assert.InDelta(t, step*2, inMM(s.Most-s.Least), step*1.0001, "one step either way, cut at zero")
	}
}

// straight is the oracle: the strip of least height, by trying many slopes.
func straight(heights []float64) float64 {
	at := func(slope float64) float64 {
		low, high := math.Inf(1), math.Inf(-1)
		for i, h := range heights {
			d := h - slope*float64(i)
			low, high = math.Min(low, d), math.Max(high, d)
		}
		return high - low
	}
	a, b := -1.0, 1.0
	for range 200 { // convex in the slope
		c, d := a+(b-a)/3, b-(b-a)/3
		if at(c) < at(d) {
			b = d
		} else {
			a = c
		}
	}
	return at((a + b) / 2)
}

// lay puts a straightedge over heights in mm at even places, so that it touches
// at the two highest that can carry it, and tries feelers with a step in mm.
func lay(l *Line, heights []float64, step float64) {
	n := len(heights)
	best, i0, j0 := math.Inf(1), 0, 0
	for i := range n {
		for j := i + 1; j < n; j++ {
			over := true
			for k, h := range heights {
				on := heights[i] + (heights[j]-heights[i])*float64(k-i)/float64(j-i)
				over = over && h <= on+1e-12
			}
			if middle := math.Abs(float64(i+j)/2 - float64(n-1)/2); over && middle < best {
				best, i0, j0 = middle, i, j
			}
		}
	}
	for k, h := range heights {
		gap := math.Max(0, heights[i0]+(heights[j0]-heights[i0])*float64(k-i0)/float64(j0-i0)-h)
		goes := math.Floor(gap/step+1e-9) * step
		l.Readings = append(l.Readings, Feeler{At: quantity.Length(k) * l.Length() / quantity.Length(n-1), Goes: mm(goes), Stops: mm(goes + step)})
	}
}

// The worked example by which the union-jack method was published: angles
// stepped along six lines, summed to heights over each line and tied where the
// lines cross. Its plane of reference is its own, so the heights are compared
// but for a plane.
func TestCombineGivesTheHeightsOfTheUnionJack(t *testing.T) {
	const (
		long, short = 64, 40 // steps of 4 inch; only shares of the lines matter
		perSecond   = 4 * math.Pi / 180 / 3600 * 1e5
	)
	corner := map[string][2]float64{"NW": {0, short}, "NE": {long, short}, "SE": {long, 0}, "SW": {0, 0}}
	var names []string
	sums := map[string][]float64{}
	for _, r := range published.Table(t, "flatness/union-jack.csv") {
		name := r["line"]
		if r["step"] == "0" {
			names = append(names, name)
			sums[name] = []float64{0}
			continue
		}
		last := sums[name][len(sums[name])-1]
		sums[name] = append(sums[name], last+r.Number(t, "angle_arcsec")*perSecond)
	}
	require.Len(t, names, 6)
	var lines []Line
	for _, name := range names {
		from, to := corner[name[:2]], corner[name[3:]]
		l := Line{Name: name, X1: quantity.Length(from[0]) / 40, Y1: quantity.Length(from[1]) / 40, X2: quantity.Length(to[0]) / 40, Y2: quantity.Length(to[1]) / 40}
		// A gap counts down from an edge over the highest.
		high := 0.0
		for _, h := range sums[name] {
			high = math.Max(high, h)
		}
		for i, h := range sums[name] {
			gap := quantity.Length(high-h) * 1e-6
			l.Readings = append(l.Readings, Feeler{At: quantity.Length(i) * l.Length() / quantity.Length(len(sums[name])-1), Goes: gap, Stops: gap + 1e-15})
		}
		lines = append(lines, l)
	}
	s, err := Combine(lines)
	require.NoError(t, err)
	require.True(t, s.Tied, "loose: %v", s.Loose)
	assert.InDelta(t, 0, float64(s.Misfit), 1e-14, "six lines have no crossing too many")
	assert.Empty(t, s.Disagree)

	var difference []Point
	for i, r := range published.Table(t, "flatness/union-jack.csv") {
		p := s.Points[i]
		difference = append(difference, Point{X: p.X, Y: p.Y, Z: p.Z - quantity.Length(r.Number(t, "height")*1e-6)})
	}
	fit, err := LeastSquaresInHeight(difference)
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(fit.Total)/1e-6, 2e-5, "recomputed in single precision: what must be one height is printed as 14.641361, 14.641363 and 14.641376")
}

func TestWhatLinesTell(t *testing.T) {
	// A twisted face, z = xy: straight along and across.
	twist := func(x, y float64) float64 { return -0.1 * x / 100 * y / 100 }
	run := func(name string, x1, y1, x2, y2 float64) Line {
		l := Line{Name: name, X1: mm(x1), Y1: mm(y1), X2: mm(x2), Y2: mm(y2)}
		var h []float64
		for i := range 9 {
			k := float64(i) / 8
			h = append(h, twist(x1+k*(x2-x1), y1+k*(y2-y1)))
		}
		lay(&l, h, 1e-7)
		return l
	}
	along, across := run("along", -100, 0, 100, 0), run("across", 0, -100, 0, 100)
	up, down := run("up", -100, -100, 100, 100), run("down", -100, 100, 100, -100)
	west, east := run("west", -100, -100, -100, 100), run("east", 100, -100, 100, 100)
	south, north := run("south", -100, -100, 100, -100), run("north", -100, 100, 100, 100)

	for _, row := range []struct {
		name   string
		lines  []Line
		tied   bool
		least  float64
		most   float64
		loose  []string
		reason string
	}{
		{"one line", []Line{up}, false, 0.1, 0, []string{"up"}, "the diagonal bows by 0.1"},
		{"along and across", []Line{along, across}, true, 0, 0, nil, "both straight, and the twist is not seen at the places read"},
		{"both diagonals", []Line{up, down}, true, 0.2, 0.2, nil, "the twist whole"},
		{"two that don't cross", []Line{south, north}, false, 0, 0, []string{"south", "north"}, "straight, and how they lie to each other is not known"},
		{"the union jack", []Line{along, across, up, down, south, north, west, east}, true, 0.2, 0.2, nil, "the twist whole"},
		{"a line that others cross at one place", []Line{south, up, down, north, along}, false, 0.2, 0, []string{"along"}, "it turns freely about that place; the others show the twist"},
		{"an H", []Line{south, across, north}, false, 0, 0, []string{"south"}, "the outer lines turn freely about the middle one"},
	} {
		t.Run(row.name, func(t *testing.T) {
			s, err := Combine(row.lines)
			require.NoError(t, err)
			assert.Equal(t, row.tied, s.Tied)
			assert.InDelta(t, row.least, inMM(s.Least), 1e-5, row.reason)
			assert.Equal(t, row.loose, s.Loose)
			if row.tied {
				require.NotNil(t, s.Most)
				assert.InDelta(t, row.most, inMM(*s.Most), 1e-5, row.reason)
				holds(t, s.Points, s.Zone)
			} else {
				assert.Nil(t, s.Most, "no upper bound")
				assert.Empty(t, s.Points)
			}
			for _, w := range s.Words(func(l quantity.Length) string { return fmt.Sprintf("%.3f mm", inMM(l)) }) {
				assert.Regexp(t, `^[A-Z].*\.$`, w)
			}
		})
	}
}

// With feelers the flatness of the places read is always between the bounds.
func TestCombinedFeelersBoundTheTruth(t *testing.T) {
	random := rand.New(rand.NewPCG(2, 2))
	const step = 0.0254
	ends := map[string][4]float64{"a": {0, 0, 200, 0}, "b": {0, 100, 200, 100}, "c": {0, 0, 0, 100}, "d": {200, 0, 200, 100}, "e": {0, 0, 200, 100}, "f": {0, 100, 200, 0}}
	for range 60 {
		p, q, r := random.Float64()*0.4, random.Float64()*0.4, random.Float64()*0.4
		face := func(x, y float64) float64 {
			x, y = x/200-0.5, y/100-0.5
			return p*x*y + q*x*x + r*y*y*y
		}
		var lines []Line
		var truth []Point
		for _, name := range []string{"a", "b", "c", "d", "e", "f"} {
			e := ends[name]
			l := Line{Name: name, X1: mm(e[0]), Y1: mm(e[1]), X2: mm(e[2]), Y2: mm(e[3])}
			var h []float64
			for i := range 5 {
				k := float64(i) / 4
				x, y := e[0]+k*(e[2]-e[0]), e[1]+k*(e[3]-e[1])
				h = append(h, face(x, y))
				truth = append(truth, millimetres(x, y, face(x, y)))
			}
			lay(&l, h, step)
			lines = append(lines, l)
		}
		s, err := Combine(lines)
		require.NoError(t, err)
		require.True(t, s.Tied)
		z, err := MinimumZone(truth)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, inMM(z.Flatness), inMM(s.Least)-1e-9)
		assert.LessOrEqual(t, inMM(z.Flatness), inMM(*s.Most)+1e-9)
		assert.Empty(t, s.Disagree, "the steps explain what is left at the crossings")
		assert.Positive(t, s.Standard)
	}
}

func TestLinesThatCannotBe(t *testing.T) {
	good := exact(Line{Name: "A", X2: mm(200)}, 0, 0.01, 0)
	short, high := good, good
	short.Readings = short.Readings[:2]
	high.Readings = append([]Feeler{{At: mm(50), Goes: mm(0.05), Stops: mm(0.05)}}, good.Readings...)
	beyond := good
	beyond.Readings = append([]Feeler{{At: mm(250), Stops: mm(0.05)}}, good.Readings...)
	for _, row := range []struct {
		lines  []Line
		reason Reason
	}{
		{nil, TooFew},
		{[]Line{short}, TooFew},
		{[]Line{high}, BadGaps},
		{[]Line{beyond}, NotOnLine},
		{[]Line{{Name: "nowhere", Readings: good.Readings}}, BadRow},
		{[]Line{exact(Line{Name: "A", X2: mm(200)}, make([]float64, MostReadings+1)...)}, TooMany},
	} {
		_, err := Combine(row.lines)
		var e *Error
		require.ErrorAs(t, err, &e)
		assert.Equal(t, row.reason, e.Reason)
		assert.Equal(t, "lines", e.Input)
	}
}

// Two lines that don't agree where they cross are named.
func TestLinesThatDisagree(t *testing.T) {
	lines := []Line{
		exact(Line{Name: "a", X2: mm(200)}, 0, 0, 0),
		exact(Line{Name: "b", Y1: mm(100), X2: mm(200), Y2: mm(100)}, 0, 0, 0),
		exact(Line{Name: "c", Y2: mm(100)}, 0, 0, 0),
		exact(Line{Name: "d", X1: mm(200), X2: mm(200), Y2: mm(100)}, 0, 0, 0),
		exact(Line{Name: "e", X2: mm(200), Y2: mm(100)}, 0, 0, 0),
		exact(Line{Name: "f", Y1: mm(100), X2: mm(200)}, 0, 0.2, 0),
		exact(Line{Name: "g", Y1: mm(50), X2: mm(200), Y2: mm(50)}, 0, 0, 0),
	}
	s, err := Combine(lines)
	require.NoError(t, err)
	require.True(t, s.Tied)
	assert.NotEmpty(t, s.Disagree, "the middle is one too many: six lines settle it, the seventh contradicts")
	assert.Greater(t, inMM(s.Misfit), 0.01)
}

func BenchmarkCombine(b *testing.B) {
	var lines []Line
	for i := range 8 {
		k := quantity.Length(i) * mm(25)
		lines = append(lines,
			exact(Line{Name: "along", Y1: k, X2: mm(200), Y2: k}, make([]float64, 25)...),
			exact(Line{Name: "across", X1: k, X2: k, Y2: mm(200)}, make([]float64, 25)...))
	}
	for b.Loop() {
		if _, err := Combine(lines); err != nil {
			b.Fatal(err)
		}
	}
}
