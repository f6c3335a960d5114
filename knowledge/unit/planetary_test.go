package unit

import (
	"errors"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

func parseTrain(t *testing.T, sets string) Train {
	t.Helper()
	var train Train
	for _, s := range strings.Split(sets, ";") {
		f := strings.Split(s, ",")
		require.Len(t, f, 5)
		train.Sets = append(train.Sets, Set{
			Sun: Member(f[0]), Ring: Member(f[1]), Carrier: Member(f[2]),
			Ratio: number(t, f[4]) / number(t, f[3]),
		})
	}
	return train
}

func parseTies(s string) []Tie {
	var ties []Tie
	for _, part := range strings.Split(s, ";") {
		a, b, _ := strings.Cut(part, "=")
		if b == "0" {
			b = ""
		}
		ties = append(ties, Tie{Member(a), Member(b)})
	}
	return ties
}

func TestPublishedTrains(t *testing.T) {
	for _, row := range published.Table(t, "planetary/sets.csv") {
		t.Run(row["name"], func(t *testing.T) {
			train, ties := parseTrain(t, row["sets"]), parseTies(row["ties"])
			var got float64
			switch row["read"] {
			case "speed_rpm":
				speeds, err := train.Speeds(Member(row["input"]), ties...)
				require.NoError(t, err, row["source"])
				require.Contains(t, speeds, Member(row["member"]))
				got = speeds[Member(row["member"])] * number(t, row["input_rpm"])
			case "ratio":
				i, err := train.Ratio(Member(row["input"]), Member(row["member"]), ties...)
				require.NoError(t, err, row["source"])
				got = i
			default:
				t.Fatalf("unknown column read: %q", row["read"])
			}
			assert.InDelta(t, number(t, row["published"]), got, number(t, row["half_last_digit"]), row["source"])
		})
	}
}

func TestTrainErrors(t *testing.T) {
	one := Train{Sets: []Set{{Sun: "s", Ring: "r", Carrier: "c", Ratio: 2}}}

	_, err := one.Ratio("s", "c")
	assert.ErrorIs(t, err, ErrFree, "nothing is held")
	_, err = one.Ratio("s", "r", Held("r"))
	assert.ErrorIs(t, err, ErrStill)
	_, err = one.Ratio("s", "c", Held("r"), Held("c"))
	assert.ErrorIs(t, err, ErrLocked, "both held")
	_, err = one.Ratio("s", "c", Held("s"))
	assert.ErrorIs(t, err, ErrLocked, "the input itself is held")

	i, err := one.Ratio("s", "c", Tied("s", "r"), Tied("r", "c"))
	require.NoError(t, err, "ties that repeat each other do no harm")
	assert.InDelta(t, 1, i, 1e-12)

	for _, k := range []float64{0, math.NaN(), math.Inf(1), 1e6} {
		_, err := (Train{Sets: []Set{{Sun: "s", Ring: "r", Carrier: "c", Ratio: k}}}).Speeds("s", Held("r"))
		var out *quantity.RangeError
		require.True(t, errors.As(err, &out), "k = %v", k)
	}
}

// What Speeds returns must satisfy the set's own equation and the tie, whatever
// member drives and whatever member is held (identity).
func TestSpeedsSatisfyTheirRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		k := 1.1 + 8*rng.Float64()
		train := Train{Sets: []Set{{Sun: "s", Ring: "r", Carrier: "c", Ratio: k}}}
		for _, c := range []struct{ in, held Member }{{"s", "r"}, {"r", "s"}, {"c", "s"}, {"c", "r"}, {"s", "c"}, {"r", "c"}} {
			w, err := train.Speeds(c.in, Held(c.held))
			require.NoError(t, err)
			require.Len(t, w, 3)
			assert.InDelta(t, 0, w["s"]+k*w["r"]-(1+k)*w["c"], 1e-9)
			assert.InDelta(t, 0, w[c.held], 1e-12)
		}
	}
}

func FuzzSpeeds(f *testing.F) {
	f.Add(2.2, uint8(3), uint8(9))
	f.Add(-2.7, uint8(0), uint8(255))
	f.Add(math.NaN(), uint8(1), uint8(1))
	members := []Member{"a", "b", "c", "d", ""}
	f.Fuzz(func(t *testing.T, k float64, shape, ties uint8) {
		train := Train{Sets: []Set{
			{Sun: members[shape%4], Ring: members[shape/4%4], Carrier: members[shape/16%4], Ratio: k},
			{Sun: "a", Ring: "c", Carrier: "d", Ratio: k},
		}}
		speeds, err := train.Speeds("a", Tied(members[ties%4], members[ties/4%5]))
		if err != nil {
			return
		}
		for m, w := range speeds {
			if math.IsNaN(w) || math.IsInf(w, 0) {
				t.Fatalf("%s turns at %v", m, w)
			}
		}
	})
}
