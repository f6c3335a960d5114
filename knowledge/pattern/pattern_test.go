package pattern_test

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/pattern"
	"provingbench/knowledge/unit"
)

// The readings of the pressure test, as the handbook makes them: line in the
// forward ranges, the rear servo in R, the overdrive clutch in 4th.
func line(g unit.Gear, c pattern.Call) pattern.Reading {
	return pattern.Reading{Port: "line", Gear: g, Call: c}
}

func reverse(c pattern.Call) pattern.Reading {
	return pattern.Reading{Port: "rear-servo", Gear: unit.Reverse, Call: c}
}

func fourth(c pattern.Call) pattern.Reading {
	return pattern.Reading{Port: "overdrive-clutch", Gear: unit.Fourth, Call: c}
}

func behind(port string, g unit.Gear, c pattern.Call) pattern.Reading {
	return pattern.Reading{Port: port, Gear: g, Behind: true, Call: c}
}

const (
	right = pattern.Right
	low   = pattern.Low
	high  = pattern.High
)

// The trade's list of failing patterns and what each points to.
// Source: maker's handbook, 2003: hydraulic pressure tests, for the conditions;
// what they point to is from memory of the trade.
func TestTradePatterns(t *testing.T) {
	for _, c := range []struct {
		name     string
		readings []pattern.Reading
		kind     pattern.Kind
		elements []unit.ElementID
	}{
		{"right in R, low in D, 2 and 1: rear clutch circuit",
			[]pattern.Reading{reverse(right), line(unit.Third, low), line(unit.ManualSecond, low), line(unit.ManualFirst, low)},
			pattern.Circuit, []unit.ElementID{unit.RearClutch}},
		{"low in 4th only: overdrive piston or its check valve",
			[]pattern.Reading{fourth(low), line(unit.Third, right), line(unit.ManualSecond, right)},
			pattern.Circuit, []unit.ElementID{unit.OverdriveClutch}},
		{"right in 1 and 2, low in D and R: front clutch circuit",
			[]pattern.Reading{line(unit.ManualFirst, right), line(unit.ManualSecond, right), line(unit.Third, low), reverse(low)},
			pattern.Circuit, []unit.ElementID{unit.FrontClutch}},
		{"right in 2, low in R and 1: rear servo",
			[]pattern.Reading{line(unit.ManualSecond, right), reverse(low), line(unit.ManualFirst, low)},
			pattern.Circuit, []unit.ElementID{unit.RearBand}},
		{"the same with the rear servo's gauge alone",
			[]pattern.Reading{line(unit.ManualFirst, right), behind("rear-servo", unit.ManualFirst, high)},
			pattern.Lagging, []unit.ElementID{unit.RearBand}},
		{"front servo pressure shows in 2: servo",
			[]pattern.Reading{line(unit.ManualSecond, right), {Port: "front-servo", Gear: unit.ManualSecond, Call: high}},
			pattern.Stray, []unit.ElementID{unit.FrontBand}},
		{"low everywhere: filter, fluid, regulator, pump",
			[]pattern.Reading{line(unit.ManualFirst, low), line(unit.ManualSecond, low), line(unit.Third, low), reverse(low)},
			pattern.Supply, nil},
		{"governor high at idle", []pattern.Reading{{Port: "governor", Call: high}}, pattern.Governor, nil},
		{"governor low", []pattern.Reading{{Port: "governor", Call: low}}, pattern.Governor, nil},
		{"line high: regulator", []pattern.Reading{line(unit.ManualFirst, high), line(unit.Third, high)}, pattern.Raised, nil},
		// Maker's handbook of a sister unit, test 3: line rises with the lever.
		{"does not rise with the lever: throttle valve",
			[]pattern.Reading{line(unit.ManualSecond, right), {Port: "line", Gear: unit.ManualSecond, Full: true, Call: low}},
			pattern.Throttle, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			// In whatever order the gauges were read.
			for range 10 {
				rand.Shuffle(len(c.readings), func(i, j int) { c.readings[i], c.readings[j] = c.readings[j], c.readings[i] })
				got := pattern.Of(c.readings)
				require.Len(t, got, 1)
				assert.Equal(t, c.kind, got[0].Kind)
				assert.Equal(t, c.elements, got[0].Elements)
			}
		})
	}
}

// Low in all forward ranges, with R not read: by the application chart (maker's
// handbook, late version) the rear clutch is on in all of them and off in R.
func TestForwardAloneLeavesTheSupplyOpen(t *testing.T) {
	got := pattern.Of([]pattern.Reading{line(unit.ManualFirst, low), line(unit.ManualSecond, low), line(unit.Third, low)})
	require.Len(t, got, 2)
	assert.Equal(t, []unit.ElementID{unit.RearClutch}, got[0].Elements)
	assert.Equal(t, pattern.Supply, got[1].Kind)
	assert.Equal(t, unit.Reverse, got[0].Next)
}

// By the application chart no element is on in manual 2 and R and off in 3rd.
func TestWhatNoElementExplains(t *testing.T) {
	got := pattern.Of([]pattern.Reading{line(unit.ManualSecond, low), reverse(low), line(unit.Third, right)})
	require.Len(t, got, 1)
	assert.Equal(t, pattern.Split, got[0].Kind)
}

func TestNothingOff(t *testing.T) {
	assert.Empty(t, pattern.Of(nil))
	assert.Empty(t, pattern.Of([]pattern.Reading{line(unit.Third, right), reverse(right), behind("front-servo", unit.Third, right),
		{Port: "none", Gear: unit.Third, Call: low}, {Port: "line", Gear: unit.Third}}))
	// The highest pressure seen belongs to no gear.
	got := pattern.Of([]pattern.Reading{{Port: "line", Call: high}})
	require.Len(t, got, 1)
	assert.Equal(t, pattern.Raised, got[0].Kind)
	assert.Empty(t, got[0].Gears)
}
