package unit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Sources: "notes" are the notes under the application chart (S23, maker's handbook,
// late version) on which gears slip without which element; "by hand" are Willis'
// rows solved on paper with k for the ring to sun ratio.
func TestWithout(t *testing.T) {
	const k = RingToSun
	for _, c := range []struct {
		name    string
		gear    Gear
		element ElementID
		ratio   float64
		catch   []ElementID
		source  string
	}{
		{"2nd without the band drives as 1st", Second, FrontBand, 2 + 1/k, []ElementID{OverrunningClutch}, "by hand: carrier -k/(1+k) with the output held, so that its clutch locks"},
		{"manual 2 without the band drives as 1st", ManualSecond, FrontBand, 2 + 1/k, []ElementID{OverrunningClutch}, "by hand"},
		{"3rd without the front clutch drives as 1st", Third, FrontClutch, 2 + 1/k, []ElementID{OverrunningClutch}, "by hand"},
		{"4th without the overdrive clutch drives as 3rd", Fourth, OverdriveClutch, 1, []ElementID{OverdriveOverrunningClutch}, "by hand: intermediate shaft 1, output 0"},
		{"4th without the front clutch: 1st times overdrive", Fourth, FrontClutch, (2 + 1/k) * k / (1 + k), []ElementID{OverrunningClutch}, "by hand"},
		{"1st without the overrunning clutch", First, OverrunningClutch, 0, nil, "notes"},
		{"manual 1 without the overrunning clutch", ManualFirst, OverrunningClutch, 2 + 1/k, nil, "notes: the rear band holds the same carrier"},
		{"manual 1 without the rear band", ManualFirst, RearBand, 2 + 1/k, nil, "notes: the overrunning clutch holds the same carrier"},
		{"no braking in manual 1 without the rear band", BrakingFirst, RearBand, 0, nil, "notes"},
		{"no braking in manual 2 without the direct clutch", BrakingSecond, DirectClutch, 0, nil, "notes"},
		{"no braking in manual 2 without the front band", BrakingSecond, FrontBand, 0, nil, "notes"},
		{"reverse without the front clutch", Reverse, FrontClutch, 0, nil, "notes"},
		{"reverse without the rear band", Reverse, RearBand, 0, nil, "by hand: carrier 1/(1+k) with the output held, so that its clutch overruns"},
		{"reverse without the direct clutch", Reverse, DirectClutch, 0, nil, "notes"},
		{"3rd without the direct clutch", Third, DirectClutch, 1, nil, "notes: its overrunning clutch drives on"},
		{"1st without the rear clutch", First, RearClutch, 0, nil, "notes"},
		{"3rd without the rear clutch", Third, RearClutch, 0, nil, "by hand: sun 1, output 0, carrier 1/(1+k), so that its clutch overruns"},
		{"3rd without the rear band", Third, RearBand, 1, nil, "identity: it is not on"},
	} {
		t.Run(c.name, func(t *testing.T) {
			l, err := Without(c.gear, c.element)
			require.NoError(t, err)
			assert.InDelta(t, c.ratio, l.Ratio, 1e-12, c.source)
			assert.Equal(t, c.catch, l.Catch, c.source)
			row, _ := RowOf(c.gear)
			assert.Equal(t, row.Has(c.element), l.Used)
			assert.NotContains(t, l.Left, c.element)
		})
	}
}

// Whatever drives without an element keeps its ratio or slips in the sense of Needs.
func TestWithoutAgreesWithNeeds(t *testing.T) {
	for _, row := range Chart {
		whole, err := Ratio(row.Gear)
		if err != nil {
			l, err := Without(row.Gear, DirectClutch)
			require.NoError(t, err)
			assert.False(t, l.Drives(), "nothing drives in P and N")
			continue
		}
		needed := map[ElementID]bool{}
		for _, id := range Needs(row.Gear) {
			needed[id] = true
		}
		for _, e := range Elements {
			l, err := Without(row.Gear, e.ID)
			require.NoError(t, err)
			kept := len(l.Catch) == 0 && l.Ratio == whole
			assert.Equal(t, !needed[e.ID], kept, "%s without %s", row.Gear, e.ID)
		}
	}
}

func TestWithoutErrors(t *testing.T) {
	_, err := Without("5", FrontBand)
	var gear *GearError
	assert.ErrorAs(t, err, &gear)
	_, err = Without(First, "third-clutch")
	var element *ElementError
	assert.ErrorAs(t, err, &element)
}
