package ratio

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return x
}

func perMile(t *testing.T, r Rolling) float64 {
	t.Helper()
	n, err := r.PerDistance()
	require.NoError(t, err)
	return quantity.PerMile.From(float64(n))
}

func TestRollingAgainstSizeSheets(t *testing.T) {
	for _, row := range published.Table(t, "tyre/size-sheets.csv") {
		t.Run(row["sheet"]+" "+row["size"]+" "+row["diameter_in"], func(t *testing.T) {
			inches, want := number(t, row["diameter_in"]), number(t, row["turns_per_mile"])
			r, err := FromDiameter(quantity.Length(quantity.Inch.SI(inches)), false)
			require.NoError(t, err)
			// Both columns are rounded: 0.05 in of the diameter, 0.5 of the turns.
			allowed := 0.5 + want*0.05/inches
			if row["use"] == "near" {
				// The standards allow 1.5 % more of the rolling circumference (from memory).
				allowed = 0.015 * want
			}
			assert.InDelta(t, want, perMile(t, r), allowed)

			tyre, err := ParseTyre(row["size"])
			require.NoError(t, err)
			bySize, err := tyre.Rolling()
			require.NoError(t, err)
			off := math.Abs(perMile(t, bySize)/want - 1)
			assert.Less(t, off, float64(SizeLimit), "a real tyre lies within what is said of its size alone")
			assert.Less(t, off, 0.015, "SizeLimit says 1.5 % for a new tyre")
		})
	}
}

func TestParseTyre(t *testing.T) {
	const metric, flotation = "2 · width · aspect + rim", "the first number of a flotation size"
	tests := []struct {
		text, size string
		inches     float64
		delta      float64
		load       string
		source     string
	}{
		{"LT235/85R16", "LT235/85R16", 31.73, 0.005, "", metric},
		{"lt 235 / 85 r 16", "LT235/85R16", 31.73, 0.005, "", metric},
		{"LT235/85R16/E 120/116R", "LT235/85R16", 31.73, 0.005, "E", metric},
		{"LT235/85R16 120/116S E OWL", "LT235/85R16", 31.73, 0.005, "E", metric},
		{"LT235/85R16C", "LT235/85R16", 31.73, 0.005, "C", "a size in an owner's book's chart"},
		{"P245/70R16", "P245/70R16", 29.6, 0.1, "", "size page: 29.6 in, from sections rounded to 0.1 in"},
		{"245/70-16", "245/70-16", 29.5, 0.05, "", metric},
		{"235/85ZR16", "235/85R16", 31.73, 0.005, "", metric},
		{"255/85R16", "255/85R16", 839.9 / 25.4, 0.05 / 25.4, "", "worked example on a motor forum: 0.85 · 255 · 2 + 16 · 25.4 = 839.9 mm"},
		{"245/55R18", "245/55R18", 726.7 / 25.4, 0.05 / 25.4, "", "tyre shop's worked example: 726.7 mm, 28.63 in with 28.61 meant"},
		{"225/70R19.5", "225/70R19.5", 31.90, 0.005, "", metric},
		{"31x10.50R15", "31x10.50R15", 31, 1e-9, "", flotation},
		{"31X10.5 R15 LT", "31x10.50R15", 31, 1e-9, "", flotation},
		{"33×12,50R16.5LT/D", "33x12.50R16.5", 33, 1e-9, "D", flotation},
		{"33x12.50-15", "33x12.50-15", 33, 1e-9, "", flotation},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got, err := ParseTyre(tt.text)
			require.NoError(t, err)
			assert.Equal(t, tt.size, got.Size)
			assert.InDelta(t, tt.inches, quantity.Inch.From(float64(got.Diameter)), tt.delta, tt.source)
			assert.Equal(t, tt.load, got.LoadRange)
			again, err := ParseTyre(got.Size)
			require.NoError(t, err)
			assert.Equal(t, got.Diameter, again.Diameter, "its own spelling reads the same")
		})
	}
}

func TestParseTyreErrors(t *testing.T) {
	tests := []struct{ text, err string }{
		{"", `ratio: tyre size "": nothing is typed`},
		{"big ones", `ratio: tyre size "big ones": it does not start with a number`},
		{"7.50R16", `ratio: tyre size "7.50R16": it says no height`},
		{"235/R16", `ratio: tyre size "235/R16": the second number is missing`},
		{"235/85", `ratio: tyre size "235/85": R or a hyphen is missing before the rim`},
		{"235/85R", `ratio: tyre size "235/85R": the rim is missing`},
		{"235/85R61", `ratio: tyre size "235/85R61": a rim of 61 in is not known here`},
		{"235/850R16", `ratio: tyre size "235/850R16": no such tyre is known here`},
		{"15x10.50R15", `ratio: tyre size "15x10.50R15": no such tyre is known here`},
		{"235/85R16 $", `ratio: tyre size "235/85R16 $": "$" is not part of a size`},
		{"235/85R16 and a good many more words", `ratio: tyre size "235/85R16 and a good many…": "…"`},
	}
	for _, tt := range tests[:10] {
		_, err := ParseTyre(tt.text)
		var bad *TyreError
		require.ErrorAs(t, err, &bad, tt.text)
		assert.EqualError(t, err, tt.err)
		assert.Equal(t, Size, bad.Input)
		assert.NotEmpty(t, bad.Sentence())
	}
	_, err := ParseTyre("7.50R16")
	assert.Contains(t, err.(*TyreError).Sentence(), "says no diameter")
	_, err = ParseTyre("235/85R16 and a very long story about where it was bought")
	assert.ErrorContains(t, err, "it is too long")
}

func TestRollOut(t *testing.T) {
	// A worked example on a four-wheel-drive forum: a 31 in flotation tyre rolls on a radius of 14.94 in,
	// 7.82 ft a turn, which makes 675 turns a mile.
	r, err := FromRollOut(quantity.Length(quantity.Foot.SI(7.82)), 1)
	require.NoError(t, err)
	assert.InDelta(t, 675, perMile(t, r), 0.5)
	two, err := FromRollOut(quantity.Length(quantity.Foot.SI(15.64)), 2)
	require.NoError(t, err)
	assert.InDelta(t, float64(r.Circumference), float64(two.Circumference), 1e-12, "identity: two turns, twice the way")
	tyre, err := ParseTyre("31x10.50R15")
	require.NoError(t, err)
	bySize, err := tyre.Rolling()
	require.NoError(t, err)
	assert.InDelta(t, 675, perMile(t, bySize), 675*float64(SizeLimit))

	back, err := FromTurns(quantity.PerDistance(quantity.PerMile.SI(675)))
	require.NoError(t, err)
	assert.InDelta(t, 675, perMile(t, back), 1e-9, "round trip")

	bias, err := FromDiameter(0.8, true)
	require.NoError(t, err)
	assert.InDelta(t, 2.392, float64(bias.Circumference), 5e-4, "2.99 · 0.8 m, from memory")
}

func TestRollingErrors(t *testing.T) {
	_, err := FromDiameter(0, false)
	assert.EqualError(t, err, "ratio: tyre diameter 0 in is outside 15.748 in to 55.1181 in")
	_, err = FromTurns(quantity.PerDistance(math.NaN()))
	assert.ErrorContains(t, err, Turns)
	_, err = FromRollOut(2.4, 0)
	assert.ErrorContains(t, err, RollTurns)
	_, err = FromRollOut(24, 1)
	assert.ErrorContains(t, err, RollWay)
	_, err = Rolling{}.PerDistance()
	assert.ErrorContains(t, err, Circumference)
	_, err = Tyre{}.Rolling()
	assert.ErrorContains(t, err, Diameter)
}

func FuzzTyre(f *testing.F) {
	for _, s := range []string{"LT235/85R16/E", "31x10.50R15LT", "7.50R16", "235/85-16", "9e9/1R1", "235/85R16 (120)", "\x00/\xffR"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		tyre, err := ParseTyre(text)
		if err != nil {
			var bad *TyreError
			require.ErrorAs(t, err, &bad)
			require.NotEmpty(t, bad.Sentence())
			return
		}
		r, err := tyre.Rolling()
		require.NoError(t, err, tyre.Size)
		n, err := r.PerDistance()
		require.NoError(t, err)
		require.False(t, math.IsNaN(float64(n)) || math.IsInf(float64(n), 0))
		_, err = ParseTyre(tyre.Size)
		require.NoError(t, err, "its own spelling is read")
	})
}
