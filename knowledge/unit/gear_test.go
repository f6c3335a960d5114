package unit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
)

func TestPublishedRatios(t *testing.T) {
	for _, row := range published.Table(t, "planetary/gears.csv") {
		t.Run(row["unit"]+" "+row["gear"], func(t *testing.T) {
			ring, sun, ok := strings.Cut(row["ring_to_sun"], "/")
			require.True(t, ok)
			train, err := GearTrain(number(t, ring) / number(t, sun))
			require.NoError(t, err)
			chart, ok := RowOf(Gear(row["gear"]))
			require.True(t, ok)
			var ties []Tie
			for _, id := range chart.On {
				e, ok := ElementByID(id)
				require.True(t, ok)
				ties = append(ties, e.Tie)
			}
			got, err := train.Ratio(InputShaft, OutputShaft, ties...)
			require.NoError(t, err)
			assert.InDelta(t, number(t, row["published"]), got, number(t, row["half_last_digit"]), row["source"])
			if row["unit"] == "four-speed" {
				i, err := Ratio(Gear(row["gear"]))
				require.NoError(t, err)
				assert.Equal(t, got, i, "the built-in ring to sun ratio is the table's")
			}
		})
	}
}

// Willis' rows solved by hand for the four forward gears and reverse (identity).
func TestRatioFormulas(t *testing.T) {
	const k = RingToSun
	for gear, want := range map[Gear]float64{
		First: 2 + 1/k, Second: 1 + 1/k, Third: 1, Fourth: k / (1 + k), Reverse: -k,
		ManualFirst: 2 + 1/k, ManualSecond: 1 + 1/k, BrakingFirst: 2 + 1/k, BrakingSecond: 1 + 1/k,
	} {
		got, err := Ratio(gear)
		require.NoError(t, err, gear)
		assert.InDelta(t, want, got, 1e-12, gear)
	}
}

func TestRatioErrors(t *testing.T) {
	for _, g := range []Gear{Parked, Neutral} {
		_, err := Ratio(g)
		assert.ErrorIs(t, err, ErrFree, g)
	}
	_, err := Ratio("5")
	var unknown *GearError
	assert.ErrorAs(t, err, &unknown)
	_, err = RatioWith([]ElementID{"third-clutch"})
	var missing *ElementError
	assert.ErrorAs(t, err, &missing)

	_, err = RatioWith([]ElementID{FrontClutch, RearClutch, FrontBand, DirectClutch})
	assert.ErrorIs(t, err, ErrLocked, "the band still on as the front clutch comes on binds the 2-3 shift")
	_, err = RatioWith([]ElementID{FrontClutch, RearClutch, OverdriveClutch, DirectClutch})
	assert.ErrorIs(t, err, ErrLocked, "overdrive and direct clutch together")
	_, err = RatioWith([]ElementID{RearClutch, DirectClutch})
	assert.ErrorIs(t, err, ErrFree, "rear clutch alone drives nothing")

	for _, k := range []float64{0, 1, 11} {
		_, err := GearTrain(k)
		assert.Error(t, err, k)
	}
}

// In 4th the overdrive clutch pulls the set away from the overrunning clutch: the
// output runs ahead of the intermediate shaft. In D the rear carrier leaves its
// overrunning clutch from 2nd on. Both follow from what one-way clutches are for.
func TestOneWayClutchesOverrunForward(t *testing.T) {
	w, err := MemberSpeeds([]ElementID{FrontClutch, RearClutch, OverdriveClutch})
	require.NoError(t, err)
	assert.Greater(t, w[OutputShaft], w[IntermediateShaft])
	for _, g := range []Gear{Second, Third, Fourth} {
		row, _ := RowOf(g)
		w, err := MemberSpeeds(row.On)
		require.NoError(t, err)
		assert.Greater(t, w[RearCarrier], 0.0, g)
	}
}

// Source of the row counts: maker's handbook, late version, application chart
// (S23): marks per row.
func TestChartMarksPerRow(t *testing.T) {
	for gear, marks := range map[Gear]int{Reverse: 3, First: 4, Second: 4, Third: 4, Fourth: 3, ManualSecond: 4, ManualFirst: 5} {
		row, ok := RowOf(gear)
		require.True(t, ok)
		assert.Len(t, row.On, marks, gear)
	}
}

// Source of every row: maker's handbook, late version, notes under the
// application chart (S23); the third also maker's handbook, 1990 (S2).
func TestSuspectsAsPublished(t *testing.T) {
	tests := []struct {
		name           string
		slipping, good []Gear
		want           []ElementID
	}{
		{"1st in D but not in manual 1", []Gear{First}, []Gear{ManualFirst}, []ElementID{OverrunningClutch}},
		{"1st and 2nd", []Gear{First, Second}, nil, []ElementID{RearClutch}},
		{"1st and 3rd", []Gear{First, Third}, nil, []ElementID{RearClutch}},
		{"2nd and 3rd", []Gear{Second, Third}, nil, []ElementID{RearClutch}},
		{"2nd and 4th", []Gear{Second, Fourth}, nil, []ElementID{RearClutch}},
		{"3rd and 4th, reverse good", []Gear{Third, Fourth}, []Gear{Reverse}, []ElementID{RearClutch}},
		{"3rd and reverse", []Gear{Third, Reverse}, nil, []ElementID{FrontClutch}},
		{"3rd, reverse good", []Gear{Third}, []Gear{Reverse}, []ElementID{RearClutch}},
		{"4th only", []Gear{Fourth}, []Gear{First, Second, Third, Reverse}, []ElementID{OverdriveClutch}},
		{"no reverse and no braking in manual 2", []Gear{Reverse, BrakingSecond}, nil, []ElementID{DirectClutch}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.Equal(t, tt.want, Suspects(tt.slipping, tt.good))
		})
	}
}

func TestSuspectsEdges(t *testing.T) {
	assert.Empty(t, Suspects(nil, []Gear{First}))
	assert.Empty(t, Suspects([]Gear{First, Second, Third, Fourth, Reverse}, nil), "every gear: no element is needed in all, so look at pressure")
	assert.Empty(t, Suspects([]Gear{First}, []Gear{First}))
	assert.Empty(t, Suspects([]Gear{"5"}, nil))
	assert.Equal(t, Suspects([]Gear{Third, Reverse}, nil), Suspects([]Gear{Third, Third, Reverse}, nil), "a gear named twice counts once")
	assert.Equal(t, []ElementID{RearBand}, Suspects([]Gear{Reverse}, []Gear{Third, BrakingSecond}))
}

func TestSharedBy(t *testing.T) {
	assert.Equal(t, []ElementID{RearClutch}, SharedBy([]Gear{First, Second, Third, Fourth}))
	assert.Equal(t, []ElementID{RearClutch, RearBand, DirectClutch}, SharedBy([]Gear{ManualFirst, BrakingFirst}))
	assert.Empty(t, SharedBy(nil))
	assert.Empty(t, SharedBy([]Gear{"5"}))
}

func TestChartIsWellFormed(t *testing.T) {
	order := map[ElementID]int{}
	for i, e := range Elements {
		order[e.ID] = i
	}
	for _, row := range Chart {
		last := -1
		for _, id := range row.On {
			at, ok := order[id]
			require.True(t, ok, id)
			assert.Greater(t, at, last, "%s lists elements in the charts' order", row.Name)
			last = at
			e, _ := ElementByID(id)
			assert.False(t, row.Braking() && e.Kind == OneWayClutch, "%s: one-way clutches let go", row.Name)
		}
	}
}
