package clutch

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func psis(x float64) quantity.Pressure { return quantity.Pressure(quantity.PSI.SI(x)) }

func footPounds(x float64) quantity.Torque { return quantity.Torque(quantity.FootPound.SI(x)) }

func typical(t *testing.T, raised, strong bool) Build {
	t.Helper()
	b, err := Of(unit.Late, raised, strong, nil)
	require.NoError(t, err)
	return b
}

// The converter of the late version gives about 1.75 at stall (maker's handbook,
// 1998: converter).
const stall = 1.75

// What the trade knows of raised builds, common practice, no source: from about
// 170 psi unlocked and about 200 psi locked on, shafts set the limit and not
// clutches; 275 to 300 psi is beyond sense. The sizes in Typical are not tuned to
// that. With the maker's shafts the computed pressures lie lower, with strong
// shafts higher, and the trade's figures between.
func TestShaftsSetTheLimitWhereTheTradeSaysSo(t *testing.T) {
	for _, tt := range []struct {
		name   string
		drives []Drive
		trade  quantity.Pressure
	}{
		{"unlocked", Unlocked(stall), psis(170)},
		{"locked", Locked, psis(200)},
	} {
		makers, shaft, err := typical(t, true, false).Crossing(tt.drives)
		require.NoError(t, err)
		assert.Less(t, makers, tt.trade, "%s, maker's shafts, %s", tt.name, shaft.Of)
		strong, shaft, err := typical(t, true, true).Crossing(tt.drives)
		require.NoError(t, err)
		assert.Greater(t, strong, tt.trade, "%s, strong shafts, %s", tt.name, shaft.Of)
		assert.InEpsilon(t, float64(tt.trade), float64(strong), 0.25, "%s, strong shafts: within what the sizes can be off", tt.name)

		for _, shafts := range []bool{false, true} {
			b := typical(t, true, shafts)
			for _, p := range []float64{275, 300} {
				link, err := b.Weakest(psis(p), tt.drives)
				require.NoError(t, err)
				assert.True(t, link.Shaft, "%s at %g psi: more pressure can't be of use", tt.name, p)
			}
			link, err := b.Weakest(psis(110), tt.drives)
			require.NoError(t, err)
			assert.False(t, link.Shaft, "%s at 110 psi: here the clutch is the limit, so that pressure is of use", tt.name)
		}
	}
}

// With one lining in the converter, locked, it is that lining that lets go first
// (common practice: a single lining of the maker's size ends first).
func TestSingleLiningEndsFirst(t *testing.T) {
	for _, p := range []float64{120, 170, 200} {
		link, err := typical(t, false, false).Weakest(psis(p), Locked)
		require.NoError(t, err)
		assert.Equal(t, ConverterClutch, link.Of, "%g psi", p)
	}
}

// Each of these is exact: a round trip or a definition.
func TestCrossingParts(t *testing.T) {
	b := typical(t, true, true)
	for _, drives := range [][]Drive{Unlocked(stall), Locked} {
		p, shaft, err := b.Crossing(drives)
		require.NoError(t, err)
		below, err := b.Weakest(p*0.999, drives)
		require.NoError(t, err)
		assert.False(t, below.Shaft)
		above, err := b.Weakest(p*1.001, drives)
		require.NoError(t, err)
		assert.Equal(t, shaft, above)
		at, needs, err := b.Needed(shaft.Engine, drives)
		require.NoError(t, err)
		assert.Equal(t, p, at)
		assert.Equal(t, below.Of, needs.Of)
	}
}

// In 1st the intermediate shaft carries 2.4545 times the turbine's torque.
func TestShaftLimitFollowsTheRatio(t *testing.T) {
	b := typical(t, false, false)
	holds, err := b.Shafts[IntermediateShaft].Holds()
	require.NoError(t, err)
	link, err := b.ShaftLimit([]Drive{{Gear: unit.First, Ratio: stall}})
	require.NoError(t, err)
	assert.Equal(t, IntermediateShaft, link.Of)
	assert.InEpsilon(t, float64(holds)/stall/(2+1/2.2), float64(link.Engine), 1e-12)
}

func TestDemands(t *testing.T) {
	b := typical(t, false, false)
	// Locked in 4th: ring to sun 2.20 gives 0.6875 and 0.3125.
	got, err := b.Demands(footPounds(600), Drive{unit.Fourth, 1, true})
	require.NoError(t, err)
	want := map[Owner]float64{unit.FrontClutch: 187.5, unit.RearClutch: 412.5, unit.OverdriveClutch: 187.5, ConverterClutch: 600}
	require.Len(t, got, len(want))
	for _, d := range got {
		assert.InDelta(t, want[d.Of], quantity.FootPound.From(float64(d.Torque)), 1e-6, "%s", d.Of)
		holds, err := b.Holds(d.Of, d.Slips, unit.Fourth)
		require.NoError(t, err)
		assert.InEpsilon(t, float64(d.Torque), float64(holds), 1e-9, "%s holds just that at its slip pressure", d.Of)
	}
	// In R the spring of the direct clutch has to hold 2.2/3.2 of the turbine's torque.
	got, err = b.Demands(footPounds(300), Drive{Gear: unit.Reverse, Ratio: 1})
	require.NoError(t, err)
	require.Len(t, got, 3)
	assert.True(t, got[1].Turning, "the rear band is energised in R")
	assert.True(t, got[2].Sprung)
	assert.InDelta(t, 300*2.2/3.2, quantity.FootPound.From(float64(got[2].Torque)), 1e-6)
	assert.Positive(t, got[2].Spring)
	// A band that is energised while the engine drives is not while it brakes, and
	// the rear band's drum is turned the same way in R and under engine braking.
	for _, tt := range []struct {
		gear unit.Gear
		band unit.ElementID
		want bool
	}{{unit.Second, unit.FrontBand, true}, {unit.BrakingSecond, unit.FrontBand, false}, {unit.BrakingFirst, unit.RearBand, true}} {
		got, err := b.Demands(1, Drive{Gear: tt.gear, Ratio: 1})
		require.NoError(t, err)
		for _, d := range got {
			if d.Of == tt.band {
				assert.Equal(t, tt.want, d.Turning, "%s in %s", tt.band, tt.gear)
			}
		}
	}
}

func TestPlanForRangingBuild(t *testing.T) {
	plan, err := Request{Build: typical(t, true, true), Engine: footPounds(450), Stall: stall, Use: Everyday, Setting: Ranging}.Make()
	require.NoError(t, err)
	assert.Equal(t, psis(110), plan.Low)
	assert.GreaterOrEqual(t, plan.Locked.High, plan.Unlocked.High, "locking never lowers line pressure (parts maker's instruction sheet: it adds 8 to 10 psi)")
	for _, s := range []State{plan.Unlocked, plan.Locked} {
		assert.True(t, s.Enough)
		assert.True(t, s.Sound)
		assert.Equal(t, Usual, s.Sense)
		assert.GreaterOrEqual(t, s.Safety, quantity.Ratio(1.2))
		assert.LessOrEqual(t, s.Needed, s.Useful)
	}
	// Twice the engine: the shaft is the limit, and the plan does not go after it.
	plan, err = Request{Build: typical(t, true, false), Engine: footPounds(900), Stall: stall, Use: Competition, Setting: Ranging}.Make()
	require.NoError(t, err)
	assert.Equal(t, psis(170), plan.Unlocked.High)
	assert.False(t, plan.Unlocked.Enough)
	assert.False(t, plan.Unlocked.Sound)
	assert.True(t, plan.Unlocked.Weakest.Shaft)
	assert.Less(t, plan.Unlocked.Safety, quantity.Ratio(1))
	assert.False(t, plan.Unlocked.Agrees, "114 psi computed against 170 psi of the trade: both are shown")
}

func TestPlanForOtherSettings(t *testing.T) {
	r := Request{Build: typical(t, true, true), Engine: footPounds(700), Stall: stall, Use: Towing, Setting: Constant}
	plan, err := r.Make()
	require.NoError(t, err)
	assert.Equal(t, plan.Low, plan.Unlocked.High)
	assert.Equal(t, plan.Low, plan.Locked.High)
	assert.LessOrEqual(t, plan.Low, psis(220))
	r.Setting = Stock
	plan, err = r.Make()
	require.NoError(t, err)
	assert.Zero(t, plan.Low, "the sheet gave none")
	assert.Zero(t, plan.Unlocked.Safety)
	assert.False(t, plan.Unlocked.Enough)
	r.StockIdle, r.StockFull = psis(54), psis(95)
	plan, err = r.Make()
	require.NoError(t, err)
	assert.Equal(t, psis(95), plan.Unlocked.High)
	assert.False(t, plan.Unlocked.Enough)
	assert.Equal(t, unit.RearClutch, plan.Unlocked.Weakest.Of)
	assert.Zero(t, plan.Locked.High)
	assert.Positive(t, plan.LowHolds)
}

func TestPlanRefuses(t *testing.T) {
	good := Request{Build: typical(t, false, false), Engine: 500, Stall: stall, Use: Towing, Setting: Ranging}
	for want, spoil := range map[string]func(*Request){
		"engine torque":          func(r *Request) { r.Engine = quantity.Torque(math.NaN()) },
		"converter torque ratio": func(r *Request) { r.Stall = 0.9 },
		"margin":                 func(r *Request) { r.Margin = 9 },
		"line pressure":          func(r *Request) { r.StockFull = -1 },
		"outer lining diameter":  func(r *Request) { r.Build.Discs = nil },
	} {
		r := good
		spoil(&r)
		_, err := r.Make()
		var e *quantity.RangeError
		require.ErrorAs(t, err, &e, want)
		assert.Equal(t, want, e.Name)
	}
}

func TestTypicalFiguresSayWhereTheyAreFrom(t *testing.T) {
	for _, f := range Typical {
		assert.NotEmpty(t, f.From.Kind, "%s %s", f.Of, f.What)
		assert.NotEqual(t, string(f.Of), Name(f.Of))
		assert.NotEmpty(t, f.From.Note, "%s %s", f.Of, f.What)
		assert.Equal(t, f.From.Kind == unit.Published, f.From.Source != "", "%s %s", f.Of, f.What)
	}
	// Maker's handbook, 2003: light version specifications: front 3, rear 4,
	// overdrive 4, direct 8 plates, two faces each.
	b, err := Of(unit.Light, false, false, nil)
	require.NoError(t, err)
	for of, plates := range map[Owner]quantity.Count{unit.FrontClutch: 3, unit.RearClutch: 4, unit.OverdriveClutch: 4, unit.DirectClutch: 8} {
		assert.Equal(t, 2*plates, b.Discs[of].Faces, "%s", of)
	}
	for _, v := range unit.Versions {
		for _, raised := range []bool{false, true} {
			_, err := Of(v, raised, raised, nil)
			assert.NoError(t, err)
		}
	}
	assert.Len(t, FiguresOf(unit.FrontClutch, unit.Light), 6)
	assert.Equal(t, 6.0, FiguresOf(unit.FrontClutch, unit.Light)[3].Stock)
	assert.Empty(t, FiguresOf("nothing", unit.Late))
}

func TestOwnMeasurementsReplaceTypicalFigures(t *testing.T) {
	mine := Mine{unit.RearClutch: {PistonOuter: quantity.Inch.Of(6), Lever: quantity.Number.Of(1), Faces: quantity.PSI.Of(8)}}
	b, err := Of(unit.Late, false, false, mine)
	require.NoError(t, err)
	assert.InDelta(t, 6*0.0254, float64(b.Discs[unit.RearClutch].PistonOuter), 1e-12)
	assert.EqualValues(t, 1, b.Discs[unit.RearClutch].Lever)
	assert.EqualValues(t, 8, b.Discs[unit.RearClutch].Faces, "a pressure is no number of faces")
	mine[unit.RearClutch][PistonOuter] = quantity.Inch.Of(1)
	_, err = Of(unit.Late, false, false, mine)
	var e *quantity.RangeError
	require.ErrorAs(t, err, &e)
	assert.Equal(t, "inner piston diameter", e.Name, "the typical 2.3 in no longer fits in it")
	var size *SizeError
	for _, tt := range []struct {
		of   Owner
		what Dimension
		v    quantity.Value
		want Dimension // that is blamed
	}{
		{unit.FrontClutch, Faces, quantity.Each.Of(0), Faces},
		{unit.FrontClutch, LiningOuter, quantity.Inch.Of(4), LiningInner},
		{unit.RearBand, Wrap, quantity.Turn.Of(9), Wrap},
		{unit.FrontBand, PistonOuter, quantity.Inch.Of(0), PistonOuter},
		{unit.FrontBand, PistonInner, quantity.Inch.Of(3), PistonInner},
		{unit.RearBand, Lever, quantity.Number.Of(0), Lever},
		{ConverterClutch, Spring, quantity.PoundForce.Of(-1), Spring},
		{IntermediateShaft, Diameter, quantity.Inch.Of(99), Diameter},
		{InputShaft, Bore, quantity.Inch.Of(2), Bore},
		{Shafts, Yield, quantity.KiloPSI.Of(1), Yield},
		{Linings, Holding, quantity.Number.Of(2), Holding},
		{Linings, Slipping, quantity.Number.Of(0), Slipping},
	} {
		_, err = Of(unit.Late, false, false, Mine{tt.of: {tt.what: tt.v}})
		require.ErrorAs(t, err, &size, "%s %s", tt.of, tt.what)
		assert.Equal(t, tt.of, size.Of)
		assert.Equal(t, tt.want, size.What)
		assert.Contains(t, size.Sentence(), Name(tt.of)+": The ")
		assert.Contains(t, size.Error(), "clutch: ")
		assert.ErrorAs(t, err, &e)
	}
}

func FuzzPlan(f *testing.F) {
	f.Add(800.0, 1.75, 1.4, 370e3, 650e3, 0.128, 0.13, uint8(1))
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, uint8(0))
	f.Add(math.MaxFloat64, 5.0, 5.0, 5e6, 5e6, 1.0, 1.0, uint8(2))
	f.Add(math.NaN(), math.Inf(1), -1.0, math.NaN(), math.Inf(-1), math.NaN(), math.Inf(1), uint8(3))
	f.Add(1.0, 1.0, 1.0, 1e-300, 5e-324, 0.0585, 0.01, uint8(5))
	f.Fuzz(func(t *testing.T, engine, stall, margin, idle, full, piston, friction float64, pick uint8) {
		mine := Mine{
			unit.RearClutch: {PistonOuter: quantity.Length(piston).Value()},
			Linings:         {Holding: quantity.Ratio(friction).Value()},
			InputShaft:      {Diameter: quantity.Length(piston).Value()},
		}
		b, err := Of(unit.Versions[int(pick)%3], pick&4 != 0, pick&8 != 0, mine)
		if err != nil {
			return
		}
		plan, err := Request{
			Build: b, Engine: quantity.Torque(engine), Stall: quantity.Ratio(stall), Margin: quantity.Ratio(margin),
			Use: Uses[int(pick)%3], Setting: Settings[int(pick/16)%3],
			StockIdle: quantity.Pressure(idle), StockFull: quantity.Pressure(full),
		}.Make()
		if err != nil {
			return
		}
		for _, s := range []State{plan.Unlocked, plan.Locked} {
			for _, x := range []float64{float64(s.Needed), float64(s.Useful), float64(s.High), float64(s.Safety), float64(s.Breaks.Engine), float64(plan.Low), float64(plan.LowHolds)} {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0) || x < 0)
			}
			if s.Enough {
				require.Positive(t, s.High)
				require.GreaterOrEqual(t, s.High, s.Needed)
			}
			require.NotEmpty(t, s.Breaks.Of)
		}
	})
}

func BenchmarkPlan(b *testing.B) {
	build, err := Of(unit.Late, true, true, nil)
	require.NoError(b, err)
	r := Request{Build: build, Engine: 800, Stall: stall, Use: Towing, Setting: Ranging}
	for b.Loop() {
		if _, err := r.Make(); err != nil {
			b.Fatal(err)
		}
	}
}
