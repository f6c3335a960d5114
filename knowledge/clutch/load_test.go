package clutch

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"provingbench/knowledge/unit"
)

var driven = []unit.Gear{
	unit.Reverse, unit.First, unit.Second, unit.Third, unit.Fourth,
	unit.ManualSecond, unit.ManualFirst, unit.BrakingSecond, unit.BrakingFirst,
}

func shareOf(t *testing.T, f Flow, id unit.ElementID) float64 {
	t.Helper()
	s, ok := f.Share(id)
	require.True(t, ok, "%s is not on in %s", id, f.Gear)
	return float64(s)
}

// What a held member takes is what output and input torque differ by. The ratios
// are published, so are these.
func TestFlowFollowsPublishedRatios(t *testing.T) {
	const simpson = "published ratios 2.479, 1.479 and -2.086 of a three-speed automatic with a common sun; 35 and 73 teeth inferred"
	const handbook = "maker's handbooks of 1998 and 2003: 2.45, 1.45, 0.69, 2.20"
	tests := []struct {
		source  string
		k       float64
		gear    unit.Gear
		element unit.ElementID
		want    float64
		half    float64
	}{
		{simpson, 73.0 / 35, unit.First, unit.OverrunningClutch, 2.479 - 1, 0.0006},
		{simpson, 73.0 / 35, unit.Second, unit.FrontBand, 1.479 - 1, 0.0006},
		{simpson, 73.0 / 35, unit.Reverse, unit.RearBand, -2.086 - 1, 0.0005},
		{handbook, unit.RingToSun, unit.First, unit.OverrunningClutch, 1.45, 0.005},
		{handbook, unit.RingToSun, unit.Second, unit.FrontBand, 0.45, 0.005},
		{handbook, unit.RingToSun, unit.Fourth, unit.OverdriveClutch, 0.69 - 1, 0.005},
		{handbook, unit.RingToSun, unit.Reverse, unit.RearBand, -3.20, 0.005},
	}
	for _, tt := range tests {
		f, err := flow(tt.gear, tt.k)
		require.NoError(t, err)
		assert.InDelta(t, tt.want, shareOf(t, f, tt.element), tt.half, "%s in %s: %s", tt.element, tt.gear, tt.source)
	}
}

// Every member stands in equilibrium: the torques of its sets, of its elements
// and from outside add up to nothing (T_sun : T_ring : T_carrier = 1 : k : −(1 + k)).
// A general linear solver finds the same shares from that alone.
func TestFlowIsInStaticEquilibrium(t *testing.T) {
	train, err := unit.GearTrain(unit.RingToSun)
	require.NoError(t, err)
	for _, g := range driven {
		f, err := FlowIn(g)
		require.NoError(t, err)
		var on []Load
		for _, l := range f.Loads {
			if !l.Backed {
				on = append(on, l)
			}
		}
		row := map[unit.Member]int{}
		for _, s := range train.Sets {
			for _, m := range []unit.Member{s.Sun, s.Ring, s.Carrier, unit.InputShaft, unit.OutputShaft} {
				if _, ok := row[m]; !ok {
					row[m] = len(row)
				}
			}
		}
		a := mat.NewDense(len(row), len(train.Sets)+len(on)+1, nil)
		b := mat.NewVecDense(len(row), nil)
		add := func(m unit.Member, column int, x float64) { a.Set(row[m], column, a.At(row[m], column)+x) }
		for i, s := range train.Sets {
			add(s.Sun, i, 1)
			add(s.Ring, i, s.Ratio)
			add(s.Carrier, i, -1-s.Ratio)
		}
		for i, l := range on {
			e, _ := unit.ElementByID(l.Element)
			add(e.Tie.A, len(train.Sets)+i, 1)
			if e.Tie.B != "" {
				add(e.Tie.B, len(train.Sets)+i, -1)
			}
		}
		add(unit.OutputShaft, len(train.Sets)+len(on), -1)
		b.SetVec(row[unit.InputShaft], -1)
		var x mat.VecDense
		require.NoError(t, x.SolveVec(a, b), "gear %s", g)
		for i, l := range on {
			want := x.AtVec(len(train.Sets) + i)
			if e, _ := unit.ElementByID(l.Element); e.Tie.B != "" && want < 0 {
				want = -want
			}
			assert.InDelta(t, want, float64(l.Share), 1e-9, "%s in %s", l.Element, g)
		}
		assert.InDelta(t, x.AtVec(len(train.Sets)+len(on)), float64(f.Output), 1e-9, "output in %s", g)
	}
}

// Power in is power out, and the case takes the difference of the torques.
func TestFlowKeepsPowerAndTorque(t *testing.T) {
	for _, g := range driven {
		f, err := FlowIn(g)
		require.NoError(t, err)
		row, _ := unit.RowOf(g)
		speeds, err := unit.MemberSpeeds(row.On)
		require.NoError(t, err)
		assert.InDelta(t, 1, float64(f.Output)*speeds[unit.OutputShaft], 1e-9, "power in %s", g)
		assert.InDelta(t, 1, float64(f.Intermediate)*speeds[unit.IntermediateShaft], 1e-9, "power of the intermediate shaft in %s", g)
		held := 0.0
		for _, l := range f.Loads {
			if e, _ := unit.ElementByID(l.Element); e.Tie.B == "" {
				held += float64(l.Share)
			}
		}
		assert.InDelta(t, float64(f.Output), 1+held, 1e-9, "torque on the case in %s", g)
	}
}

// Application chart (maker's handbook, late version: application chart and
// notes): a one-way clutch backs the direct clutch up in 1st to 3rd, and the rear
// band in manual 1.
func TestFlowLeavesOneWayClutchesTheirShare(t *testing.T) {
	for _, tt := range []struct {
		gear    unit.Gear
		element unit.ElementID
	}{
		{unit.First, unit.DirectClutch}, {unit.Second, unit.DirectClutch}, {unit.Third, unit.DirectClutch},
		{unit.ManualFirst, unit.RearBand},
	} {
		f, err := FlowIn(tt.gear)
		require.NoError(t, err)
		found := false
		for _, l := range f.Loads {
			if l.Element == tt.element {
				found = true
				assert.True(t, l.Backed, "%s in %s", tt.element, tt.gear)
				assert.Zero(t, l.Share)
			}
		}
		assert.True(t, found)
	}
	f, err := FlowIn(unit.BrakingFirst)
	require.NoError(t, err)
	assert.InDelta(t, 1.4545, shareOf(t, f, unit.RearBand), 5e-5, "nothing backs it up when the wheels drive")
}

func TestFlowRefuses(t *testing.T) {
	_, err := FlowIn("5")
	var g *unit.GearError
	assert.ErrorAs(t, err, &g)
	for _, gear := range []unit.Gear{unit.Parked, unit.Neutral} {
		_, err = FlowIn(gear)
		assert.ErrorIs(t, err, unit.ErrFree)
	}
	_, ok := Flow{}.Share(unit.RearBand)
	assert.False(t, ok)
}
