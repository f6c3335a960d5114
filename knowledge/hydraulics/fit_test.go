package hydraulics_test

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

var psi = quantity.PSI

// simulated is a log of every pressure gauge on a unit with faults, with noise of
// the given standard deviation in psi.
func simulated(t testing.TB, r *rand.Rand, noise float64, faults ...hydraulics.Fault) hydraulics.Log {
	t.Helper()
	log := hydraulics.Log{Version: unit.Late, Build: unit.Stock, Temperature: hydraulics.Hot}
	for _, g := range hydraulics.Gauges {
		if g.Reads == hydraulics.CoolerFlow || g.Reads == hydraulics.Reached || g.Reads == hydraulics.LockupRise {
			continue
		}
		g.Gear = ""
		v, _, err := g.Read(log.Version, log.Build, log.Temperature, faults...)
		if err != nil {
			continue
		}
		p := v.SI + psi.SI(noise)*r.NormFloat64()
		if g.Reads == hydraulics.OnePort {
			p = max(0, p)
		}
		log.Cells = append(log.Cells, hydraulics.Cell{Gauge: g, Reading: quantity.Pressure(p), Uncertainty: quantity.Pressure(psi.SI(noise))})
	}
	return log
}

// holds reports whether an explanation has the fault or one alike.
func holds(e hydraulics.Explanation, ids ...string) bool {
	for _, x := range append(append([]hydraulics.Fault(nil), e.Faults...), e.Alike...) {
		for _, id := range ids {
			if x.ID == id {
				return true
			}
		}
	}
	return false
}

// tie is a difference of misfits that means nothing: two leaks in one circuit
// look alike at every gauge.
const tie = 6

// Faults put into the model, read with a gauge's noise of 1.5 psi, must come out
// of the log: first, or tied with the first. The test prints how often which.
func TestInjectedFaultsAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	first, tied, all := 0, 0, 0
	for _, x := range []hydraulics.Fault{
		{ID: "rear-clutch-seals", Severity: 0.9},
		{ID: "front-clutch-seals", Severity: 0.85},
		{ID: "overdrive-piston-seal", Severity: 0.8},
		{ID: "front-servo-leak", Mode: "across", Severity: 0.8},
		{ID: "regulator-spring-weak", Severity: 0.4},
		{ID: "governor-solenoid-stuck-closed", Severity: 1},
	} {
		all++
		fit, err := hydraulics.Explain(context.Background(), simulated(t, r, 1.5, x), nil)
		require.NoError(t, err)
		best := fit.Singles[0].Misfit
		rank := -1
		for i, e := range fit.Singles {
			if holds(e, x.ID) {
				rank = i
				assert.Less(t, e.Misfit, best+tie, "%v is beaten by %v", x, fit.Singles[0].Faults)
				assert.Less(t, e.Misfit, 2.5*float64(len(e.Off)), "%v explains its own log", x)
				break
			}
		}
		if rank == 0 {
			first++
		} else {
			tied++
		}
		assert.Positive(t, fit.Evidence[x.ID], x)
		assert.Greater(t, fit.Healthy.Misfit, fit.Singles[0].Misfit+20, "%v is no healthy unit", x)
		assert.InDelta(t, 1, sum(fit.Share), 1e-9)
	}
	t.Logf("of %d faults %d came out first and %d tied with another of the same circuit", all, first, tied)
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// Two faults in circuits that have nothing in common.
func TestInjectedPairIsFound(t *testing.T) {
	log := simulated(t, rand.New(rand.NewPCG(7, 8)), 1.5,
		hydraulics.Fault{ID: "rear-servo-leak", Severity: 0.95}, hydraulics.Fault{ID: "overdrive-piston-seal", Severity: 0.8})
	fit, err := hydraulics.Explain(context.Background(), log, nil)
	require.NoError(t, err)
	assert.Less(t, fit.Pairs[0].Score, fit.Singles[0].Score, "no single fault explains it")
	for _, e := range fit.Pairs[:3] {
		t.Log(e.Faults, e.Misfit)
	}
	assert.True(t, holds(fit.Pairs[0], "rear-servo-leak"), fit.Pairs[0].Faults)
	assert.True(t, holds(fit.Pairs[0], "overdrive-piston-seal", "overdrive-check-valve", "overdrive-feed-blocked"), fit.Pairs[0].Faults)
}

// Logs as a technician would write them, from the trade's list of patterns.
// Source: maker's handbook, 2003: hydraulic pressure tests; what they point to is
// from memory of the trade. The psi are invented to fit the pattern.
func TestHandWrittenLogs(t *testing.T) {
	for _, c := range []struct {
		pattern string
		reads   map[string]float64 // psi at a check's observation
		points  []string           // one of these must be among the best, and no worse than tied
	}{
		{"right in R, low in D, 2 and 1", map[string]float64{
			"line-pressure-manual-1/line-idle": 44, "line-pressure-manual-2/line-idle": 44, "line-pressure-drive/line-idle": 48, "line-pressure-reverse/reverse-idle": 158,
		}, []string{"rear-clutch-seals", "input-shaft-rings-worn"}},
		{"right in 1 and 2, low in D and R", map[string]float64{
			"line-pressure-manual-1/line-idle": 57, "line-pressure-manual-2/line-idle": 57, "line-pressure-drive/line-idle": 49, "line-pressure-reverse/reverse-idle": 110,
		}, []string{"front-clutch-seals", "input-shaft-rings-worn"}},
		{"low in 4th only", map[string]float64{
			"line-pressure-manual-2/line-idle": 57, "line-pressure-drive/line-idle": 58, "line-pressure-reverse/reverse-idle": 160, "overdrive-pressure/closed": 50,
		}, []string{"overdrive-piston-seal", "overdrive-check-valve", "overdrive-feed-blocked"}},
		{"right in 2, low in R and 1", map[string]float64{
			"line-pressure-manual-2/line-idle": 57, "line-pressure-manual-1/servo-difference": 20, "line-pressure-reverse/reverse-idle": 100, "line-pressure-drive/line-idle": 57,
		}, []string{"rear-servo-leak"}},
		{"governor high at idle", map[string]float64{
			"line-pressure-drive/line-idle": 57, "governor-pressure/standstill": 46, "governor-pressure/at-speed": 47,
		}, []string{"governor-solenoid-stuck-open", "governor-solenoid-coil-open"}},
	} {
		log := hydraulics.Log{Version: unit.Light, Build: unit.Stock, Temperature: hydraulics.Hot}
		for _, g := range hydraulics.Gauges {
			if x, ok := c.reads[g.Check+"/"+g.Observation]; ok {
				log.Cells = append(log.Cells, hydraulics.Cell{Gauge: g, Reading: quantity.Pressure(psi.SI(x)), Uncertainty: quantity.Pressure(psi.SI(2))})
			}
		}
		require.Len(t, log.Cells, len(c.reads))
		fit, err := hydraulics.Explain(context.Background(), log, nil)
		require.NoError(t, err, c.pattern)
		found := slices.IndexFunc(fit.Best, func(e hydraulics.Explanation) bool { return len(e.Faults) == 1 && holds(e, c.points...) })
		require.GreaterOrEqual(t, found, 0, "%s: best are %v", c.pattern, fit.Best)
		assert.Less(t, fit.Best[found].Misfit, fit.Best[0].Misfit+tie, "%s: best is %v", c.pattern, fit.Best[0].Faults)
		assert.Less(t, fit.Best[found].Misfit, fit.Healthy.Misfit/3, c.pattern)
		assert.NotEmpty(t, fit.Next)
	}
}

func TestHealthyLogIsHealthy(t *testing.T) {
	fit, err := hydraulics.Explain(context.Background(), simulated(t, rand.New(rand.NewPCG(9, 10)), 1), nil)
	require.NoError(t, err)
	assert.Empty(t, fit.Best[0].Faults)
	for _, id := range []string{"regulator-stuck-low", "pump-worn", "rear-clutch-seals", "governor-solenoid-coil-open"} {
		assert.Negative(t, fit.Evidence[id], id)
	}
	assert.InDelta(t, 0, fit.Evidence["accumulator-spring-broken"], 1e-6, "what no gauge at rest shows is neither likelier nor less likely")
}

// The gauge that parts two rivals best is the one at which they differ.
func TestNextGaugePartsTheRivals(t *testing.T) {
	// Low line in D alone: a weak regulator, a leak in the forward circuit, low
	// fluid and more. Reverse tells the regulator from the leak.
	log := hydraulics.Log{Version: unit.Late, Build: unit.Stock, Temperature: hydraulics.Hot}
	for _, g := range hydraulics.Gauges {
		if g.Check == "line-pressure-drive" && g.Observation == "line-idle" {
			log.Cells = []hydraulics.Cell{{Gauge: g, Reading: quantity.Pressure(psi.SI(40)), Uncertainty: quantity.Pressure(psi.SI(1))}}
		}
	}
	fit, err := hydraulics.Explain(context.Background(), log, nil)
	require.NoError(t, err)
	best := fit.Next[0]
	assert.Greater(t, best.Parts, 0.3)
	least, most := best.Model[0], best.Model[0]
	for _, p := range best.Model {
		least, most = min(least, p), max(most, p)
	}
	assert.Greater(t, psi.From(float64(most-least)), 10.0)
	assert.Greater(t, best.Parts, fit.Next[len(fit.Next)-1].Parts)
}

func TestExplainStopsAndRefuses(t *testing.T) {
	log := simulated(t, rand.New(rand.NewPCG(1, 1)), 1.5)
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	_, err := hydraulics.Explain(ctx, log, func(done, total int) {
		calls++
		assert.LessOrEqual(t, done, total)
		if calls == 3 {
			cancel()
		}
	})
	require.ErrorIs(t, err, context.Canceled)
	assert.Equal(t, 3, calls)

	_, err = hydraulics.Explain(context.Background(), hydraulics.Log{}, nil)
	require.ErrorIs(t, err, hydraulics.ErrNoCells)

	for _, change := range []func(c *hydraulics.Cell){
		func(c *hydraulics.Cell) { c.Reading = quantity.Pressure(math.NaN()) },
		func(c *hydraulics.Cell) { c.Reading = -1 },
		func(c *hydraulics.Cell) { c.Reading = quantity.Pressure(math.Inf(1)) },
		func(c *hydraulics.Cell) { c.Uncertainty = 0 },
		func(c *hydraulics.Cell) { c.Gauge.Port = "nowhere" },
		func(c *hydraulics.Cell) { c.Gauge.Reads = hydraulics.CoolerFlow },
		func(c *hydraulics.Cell) { c.Gauge.At.Throttle = 2 },
	} {
		bad := log
		bad.Cells = append([]hydraulics.Cell(nil), log.Cells...)
		change(&bad.Cells[2])
		_, err := hydraulics.Explain(context.Background(), bad, nil)
		var cell *hydraulics.CellError
		require.ErrorAs(t, err, &cell)
		assert.Equal(t, 2, cell.Cell)
	}
}

// Progress never falls, comes to its end, and moves while the next gauges are ranked;
// and a fit that is told to stop does so at once, whatever it is at.
func TestProgressAndStop(t *testing.T) {
	log := simulated(t, rand.New(rand.NewPCG(1, 1)), 1.5, hydraulics.Fault{ID: "rear-servo-leak", Severity: 0.9}, hydraulics.Fault{ID: "governor-solenoid-stuck-closed", Severity: 1})
	log.Cells = log.Cells[:4]
	var seen []int
	total := 0
	fit, err := hydraulics.Explain(context.Background(), log, func(done, of int) {
		seen, total = append(seen, done), of
	})
	require.NoError(t, err)
	assert.True(t, slices.IsSorted(seen))
	assert.Equal(t, total, seen[len(seen)-1])
	ranking := len(fit.Next) * len(fit.Best)
	require.Greater(t, ranking, 50)
	for i, done := range seen[len(seen)-ranking : len(seen)-1] {
		assert.Less(t, done, total, "ranking %d of %d", i, ranking)
	}
	for _, at := range []int{1, len(seen) / 4, len(seen) / 2, len(seen) * 3 / 4, len(seen) - ranking, len(seen) - ranking/2} {
		ctx, cancel := context.WithCancel(context.Background())
		calls := 0
		_, err := hydraulics.Explain(ctx, log, func(int, int) {
			if calls++; calls == at {
				cancel()
			}
		})
		require.ErrorIs(t, err, context.Canceled)
		assert.Equal(t, at, calls)
	}
}

// What a fit computes from neighbouring states, and as roughly as it may, is what
// the gauges read of a unit by itself: to a hundredth of a psi.
func TestFitReadsAsTheGaugesDo(t *testing.T) {
	log := simulated(t, rand.New(rand.NewPCG(3, 4)), 1.5, hydraulics.Fault{ID: "front-clutch-seals", Severity: 0.9})
	g, ok := hydraulics.GaugeOf("lockup-line-rise", "rise")
	require.True(t, ok)
	log.Cells = append(log.Cells, hydraulics.Cell{Gauge: g, Reading: quantity.Pressure(psi.SI(9)), Uncertainty: quantity.Pressure(psi.SI(1))})
	fit, err := hydraulics.Explain(context.Background(), log, nil)
	require.NoError(t, err)
	held := 0
	for _, e := range append(append([]hydraulics.Explanation{fit.Healthy}, fit.Singles...), fit.Pairs...) {
		for i, c := range log.Cells {
			c.Gauge.Gear = ""
			v, _, err := c.Gauge.Read(log.Version, log.Build, log.Temperature, e.Faults...)
			if err != nil {
				assert.True(t, math.IsNaN(float64(e.Model[i])), "%v at %s", e.Faults, c.Gauge.Observation)
				continue
			}
			assert.InDelta(t, psi.From(v.SI), psi.From(float64(e.Model[i])), 0.01, "%v at %s", e.Faults, c.Gauge.Observation)
			held++
		}
	}
	assert.Greater(t, held, 1000)
}

// A full log of the pressure tests, and the longest that it goes on without letting
// others run: with one fault, and with two that only together explain it.
func BenchmarkExplain(b *testing.B) {
	servo := hydraulics.Fault{ID: "rear-servo-leak", Severity: 0.9}
	for _, c := range []struct {
		name   string
		faults []hydraulics.Fault
	}{{"healthy", nil}, {"one", []hydraulics.Fault{servo}}, {"two", []hydraulics.Fault{servo, {ID: "governor-solenoid-stuck-closed", Severity: 1}}}} {
		b.Run(c.name, func(b *testing.B) {
			log := simulated(b, rand.New(rand.NewPCG(1, 1)), 1.5, c.faults...)
			longest := time.Duration(0)
			for range b.N {
				last := time.Now()
				_, err := hydraulics.Explain(context.Background(), log, func(int, int) {
					now := time.Now()
					longest = max(longest, now.Sub(last))
					last = now
				})
				if err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(longest.Microseconds())/1000, "ms-longest")
		})
	}
}
