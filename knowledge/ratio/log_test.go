package ratio

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func parsed(t *testing.T, text string) []Entry {
	t.Helper()
	entries, err := ParseLog(text, quantity.MilePerHour)
	require.NoError(t, err)
	return entries
}

func TestParseLog(t *testing.T) {
	got := parsed(t, "1-2 light 14\n\n2–3 WOT 45 mph 3200 rpm\n3-4 half 42; 38 to 46\nlock light 77 km/h\n4-3 closed 30 1500")
	require.Len(t, got, 5)
	assert.Equal(t, Turn("1-2"), got[0].Turn)
	assert.Equal(t, LightFoot, got[0].Throttle)
	assert.InDelta(t, 14, quantity.MilePerHour.From(got[0].Speed.SI), 1e-9)
	assert.Equal(t, Full, got[1].Throttle)
	assert.InDelta(t, 3200, quantity.RPM.From(got[1].Engine.SI), 1e-9)
	require.NotNil(t, got[2].Min)
	assert.InDelta(t, 38, quantity.MilePerHour.From(got[2].Min.SI), 1e-9)
	assert.InDelta(t, 46, quantity.MilePerHour.From(got[2].Max.SI), 1e-9)
	assert.InDelta(t, 77, quantity.KilometrePerHour.From(got[3].Speed.SI), 1e-9)
	assert.InDelta(t, 1500, quantity.RPM.From(got[4].Engine.SI), 1e-9)
}

func TestParseLogErrors(t *testing.T) {
	for text, want := range map[string]string{
		"1-2 light":                          "ratio: shift-point log, line 1: something is missing",
		"1-2 light 14\n1-5 light 14":         `ratio: shift-point log, line 2: no such shift as "1-5"`,
		"1-2 somewhat 14":                    `ratio: shift-point log, line 1: no such throttle as "somewhat"`,
		"1-2 light fast":                     "ratio: shift-point log, line 1: the speed cannot be read",
		"1-2 light 1":                        "ratio: shift-point log, line 1: at that speed no shift can be told",
		"1-2 light 14 mph high":              "ratio: shift-point log, line 1: the engine speed cannot be read",
		"1-2 light 14; 16 to 12":             "ratio: shift-point log, line 1: what the sheet allows cannot be read",
		"1-2 light 14; about right":          "ratio: shift-point log, line 1: what the sheet allows cannot be read",
		"abcdefghijklmnop light 14":          `ratio: shift-point log, line 1: no such shift as "abcdefghijkl…"`,
		strings.Repeat("1-2 light 14\n", 61): "ratio: shift-point log, line 61: it is too long a log",
	} {
		_, err := ParseLog(text, quantity.MilePerHour)
		require.EqualError(t, err, want)
		assert.NotEmpty(t, err.(*LogError).Sentence())
		assert.Equal(t, Log, err.(*LogError).Input)
	}
}

func TestJudgeOnlyByASheet(t *testing.T) {
	rep, err := Judge(parsed(t, "1-2 light 14\n1-2 light 14; 12 to 16\n1-2 light 20; 12 to 16\n1-2 light 15.9; 12 to 16"), Truck{}, &Satellite, conformity.Probable)
	require.NoError(t, err)
	require.Len(t, rep.Rows, 4)
	assert.Equal(t, conformity.None, rep.Rows[0].Result.Verdict, "no sheet, no verdict")
	assert.Equal(t, conformity.Meets, rep.Rows[1].Result.Verdict)
	assert.Equal(t, conformity.Above, rep.Rows[2].Result.Verdict)
	assert.Equal(t, conformity.TooClose, rep.Rows[3].Result.Verdict)
	assert.Zero(t, rep.Rows[0].Locked)
}

func TestLockedSpeedOfALog(t *testing.T) {
	truck := Truck{Tyre: whole(28), Axle: 3.08}
	rep, err := Judge(parsed(t, "3-4 light 70 2800\nlock light 50"), truck, nil, conformity.Probable)
	require.NoError(t, err)
	// A worked example of a gear ratio calculator page has 1810 rpm with a gear of 0.70: in 3rd, 1.00,
	// it is that over 0.70, to tens.
	assert.InDelta(t, 1810/0.70, quantity.RPM.From(float64(rep.Rows[0].Locked)), 5/0.70)
	assert.InDelta(t, 1-2587.0/2800, float64(rep.Rows[0].Slip), 0.002)
	assert.Zero(t, rep.Rows[1].Locked, "with the converter clutch the gear is not known")
	_, err = Judge(parsed(t, "3-4 light 70"), Truck{Axle: 99}, nil, conformity.Probable)
	assert.Error(t, err)
}

func TestOddities(t *testing.T) {
	tests := []struct {
		name, log string
		want      []Finding
	}{
		{"in order", "1-2 light 12\n2-3 light 22\n3-4 light 38\n1-2 full 35\n2-3 full 60\n4-3 light 30\n3-2 light 15", nil},
		{"2-3 under 1-2", "1-2 light 24\n2-3 light 15", []Finding{{OutOfOrder, 0, 1}}},
		{"written the other way round", "2-3 light 15\n1-2 light 24", []Finding{{OutOfOrder, 1, 0}}},
		{"launch in a higher gear shifts at once", "1-2 light 15\n2-3 light 15", nil},
		{"throttle does nothing", "1-2 light 15\n1-2 full 15", []Finding{{NotLater, 0, 1}}},
		{"hunting", "3-4 light 42\n4-3 light 44", []Finding{{Overlap, 1, 0}}},
		{"scattered", "1-2 light 12\n1-2 light 20", []Finding{{Scattered, 0, 1}}},
		{"steady", "1-2 light 15\n1-2 light 16", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			rep, err := Judge(parsed(t, tt.log), Truck{}, nil, conformity.Probable)
			require.NoError(t, err)
			assert.Equal(t, tt.want, rep.Findings, "how shift valves work, from memory")
		})
	}
}

func FuzzLog(f *testing.F) {
	f.Add("1-2 light 14; 12 to 16\n4-3 closed 30 1500")
	f.Add("2-3 full 45 mph 3200 rpm")
	f.Add("lock\tlight \xff;")
	f.Fuzz(func(t *testing.T, text string) {
		entries, err := ParseLog(text, quantity.KilometrePerHour)
		if err != nil {
			var bad *LogError
			require.ErrorAs(t, err, &bad)
			return
		}
		rep, err := Judge(entries, Truck{}, nil, conformity.Probable)
		require.NoError(t, err)
		for _, r := range rep.Rows {
			if r.Min == nil {
				require.False(t, r.Result.Verdict.Called(), "no verdict without a sheet")
			}
			require.False(t, math.IsNaN(float64(r.Locked)))
		}
	})
}
