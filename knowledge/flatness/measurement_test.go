package flatness

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func atMost(x float64) []conformity.Window {
	v := mm(x).Value()
	return []conformity.Window{{Name: "test", Max: &v}}
}

func TestJudge(t *testing.T) {
	up := func(x float64) Readings {
		return Readings{Points: grid(3, 50, 0, 0, 0, 0, x, 0, 0, 0, 0), Step: mm(0.001)}
	}
	fine := conformity.Accuracy{Fixed: 0.002e-3}
	line := Line{Name: "A", X1: 0, X2: mm(200)}
	diagonals := func(x float64) []Line {
		return []Line{
			exact(Line{Name: "up", X2: mm(100), Y2: mm(100)}, 0, x, x, x, 0),
			exact(Line{Name: "down", Y1: mm(100), X2: mm(100)}, 0, x, x, x, 0),
		}
	}
	for _, row := range []struct {
		name    string
		m       Measurement
		verdict conformity.Verdict
		mm      float64
	}{
		{"flat", Measurement{Readings: up(0.02), Meter: &fine}, conformity.Meets, 0.02},
		{"out of flat", Measurement{Readings: up(0.09), Meter: &fine}, conformity.Above, 0.09},
		{"near the limit", Measurement{Readings: up(0.052), Meter: &fine}, conformity.TooClose, 0.052},
		{"near the limit for an ordinary indicator", Measurement{Readings: up(0.042)}, conformity.TooClose, 0.042},
		{"four places read flat", Measurement{Readings: Readings{Points: up(0).Points[:5]}, Meter: &fine}, conformity.None, 0},
		{"one place read many times is one", Measurement{Readings: Readings{Points: append(up(0).Points[:5], up(0).Points[:5]...)}, Meter: &fine}, conformity.None, 0},
		{"four places read out of flat", Measurement{Readings: Readings{Points: grid(2, 50, 0, 0.1, 0.1, -0.1)}, Meter: &fine}, conformity.Above, 0.15},
		{"one line out of straight", Measurement{Lines: []Line{exact(line, 0, 0.1, 0)}}, conformity.Above, 0.1},
		{"one line straight", Measurement{Lines: []Line{exact(line, 0, 0, 0)}}, conformity.None, 0},
		{"diagonals", Measurement{Lines: diagonals(0.02)}, conformity.Meets, 0.02},
		{"diagonals, hollow", Measurement{Lines: diagonals(0.2)}, conformity.Above, 0.2},
	} {
		t.Run(row.name, func(t *testing.T) {
			row.m.Windows = atMost(0.05)
			r, err := row.m.Judge()
			require.NoError(t, err)
			assert.Equal(t, row.verdict, r.Judgement.Verdict, r.Judgement.Reason)
			assert.InDelta(t, row.mm, inMM(r.Flatness), 1e-6)
			assert.Positive(t, r.Standard, "nothing is exact")
			assert.NotEmpty(t, r.Notes)
		})
	}

	r, err := Measurement{Readings: up(0.3)}.Judge()
	require.NoError(t, err)
	assert.Equal(t, conformity.None, r.Judgement.Verdict, "no limit, no verdict")
	assert.InDelta(t, 0.3, inMM(r.Cut.Most), 1e-9)
	assert.Contains(t, r.Notes[len(r.Notes)-1], "maker's manual", "more than is cut without asking")

	// Places on one line have heights that a plane on edge holds without error.
	row := Readings{Points: []Point{millimetres(0, 0, 0), millimetres(10, 0, 0.1), millimetres(20, 0, 0), millimetres(30, 0, 0.1), millimetres(40, 0, 0)}}
	_, err = Measurement{Readings: row, Windows: atMost(0.05)}.Judge()
	assert.EqualError(t, err, "flatness: points: all on one line")
	_, err = Measurement{Windows: atMost(0.05)}.Judge()
	assert.EqualError(t, err, "flatness: points: too few points")
}

// What the law of propagation says, against drawing at random (JCGM 101): the
// spread of the flatness is never more than is taken, and it comes out high on
// the average, never low.
func TestUncertaintyAgainstMonteCarlo(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	const limit = 0.004e-3 // metre; rectangular
	for _, of := range []struct {
		name   string
		points []Point
	}{
		{"centre up", grid(3, 50, 0, 0, 0, 0, 0.2, 0, 0, 0, 0)},
		{"twist", grid(3, 50, 0.1, 0, -0.1, 0, 0, 0, -0.1, 0, 0.1)},
		{"four corners", grid(2, 50, 0, 0.1, 0.1, 0)},
		{"flat", grid(3, 50, 0, 0, 0, 0, 0, 0, 0, 0, 0)},
		{"many", surface(60, 0.05)},
	} {
		t.Run(of.name, func(t *testing.T) {
			true0, err := MinimumZone(of.points)
			require.NoError(t, err)
			const draws = 1000
			var sum, squares float64
			for range draws {
				read := make([]Point, len(of.points))
				for i, p := range of.points {
					read[i] = p
					read[i].Z += quantity.Length((2*random.Float64() - 1) * limit)
				}
				z, err := MinimumZone(read)
				require.NoError(t, err)
				d := float64(z.Flatness - true0.Flatness)
				sum, squares = sum+d, squares+d*d
				require.LessOrEqual(t, math.Abs(d), 2*limit*1.0001, "each plane moves by the limit at most")
			}
			mean := sum / draws
			spread := math.Sqrt(squares/draws - mean*mean)
			taken := math.Sqrt2 * limit / math.Sqrt(3)
			assert.LessOrEqual(t, spread, taken*1.05, "five per cent for what drawing leaves open")
			assert.GreaterOrEqual(t, mean, -3*taken/math.Sqrt(draws))
		})
	}
}

// Whatever is typed, nothing breaks, no result is no number, and nothing is
// called flat that was not read at enough places.
func FuzzJudge(f *testing.F) {
	f.Add("0 0 0\n50 0 0.01\n0 50 0\n50 50 0.02", uint8(0))
	f.Add("A1 0 0 0\nx y z\n1,5;2;-3", uint8(0))
	f.Add("0 1 2\n0 1 2\n- 1 0", uint8(1))
	f.Add("A 0 0 200 0\n0 0\n100 0.05 0.08\n200 0\nB 0 -50 100 50\n0 0\n50 0\n110 0.02", uint8(2))
	f.Fuzz(func(t *testing.T, text string, how uint8) {
		var m Measurement
		var err error
		switch how % 3 {
		case 0:
			m.Readings, err = ParsePoints(text, inMillimetres)
		case 1:
			m.Readings, err = ParseGrid(text, mm(50), mm(40), quantity.Thou)
		case 2:
			m.Lines, err = ParseLines(text, 0, inMillimetres)
		}
		if err != nil {
			var e *Error
			require.ErrorAs(t, err, &e)
			require.NotEmpty(t, e.Sentence())
			return
		}
		m.Windows = atMost(0.05)
		r, err := m.Judge()
		if err != nil {
			return
		}
		for _, x := range []quantity.Length{r.Flatness, r.Standard, r.Cut.Most, r.Cut.Mean, r.Level.Most, r.LeastSquares.Total, r.LeastSquares.RMS} {
			require.False(t, math.IsNaN(float64(x)) || math.IsInf(float64(x), 0))
			require.GreaterOrEqual(t, x, quantity.Length(0))
		}
		if r.Judgement.Verdict == conformity.Meets {
			require.GreaterOrEqual(t, places(r.Points), EnoughPlaces)
			require.LessOrEqual(t, inMM(r.Flatness), 0.05)
		}
		if len(r.Points) == 0 {
			return
		}
		require.GreaterOrEqual(t, float64(r.LeastSquares.Total), float64(r.Zone.Flatness)*(1-1e-9))
		if j, err := NewJoint(r.Points, r.Zone); err == nil {
			g, err := j.Gap(r.Points[0].X, r.Points[0].Y)
			require.True(t, err != nil || g >= 0 && !math.IsInf(float64(g), 0))
		}
	})
}
