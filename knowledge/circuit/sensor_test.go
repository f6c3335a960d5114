package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func volt(text string) quantity.Reading { return quantity.MustParse(quantity.KindVoltage, text) }

// hundred is the sensor of the worked examples: 0.5 V to 4.5 V over 100 psi, and
// ten that of 0 to 10 bar.
var (
	hundred = Curve{Zero: 0.5, Slope: 4 / (100 * 6894.757), Supply: 5}
	ten     = Curve{Zero: 0.5, Slope: 4 / 1e6, Supply: 5}
)

func TestCurveAgainstWorkedExamples(t *testing.T) {
	const distributor = "a parts distributor's worked example: 100 psi, 0.5 V to 4.5 V"
	const guide = "a sensor guide's worked example: 0.5 V, 4.5 V, 100 psi, 2.5 V measured, 50 psi"
	const ratiometric = "a sensor maker's guide to ratiometric output: 0 to 10 bar is 10 % to 90 % of the supply"
	still := Air{Pressure: StandardAir}
	tests := []struct {
		curve         Curve
		volts, supply string
		want          float64
		unit          quantity.Unit
		delta         float64
		source        string
	}{
		{hundred, "0.5 V", "5 V", 0, quantity.PSI, 0.001, distributor},
		{hundred, "2.5 V", "5 V", 50, quantity.PSI, 0.001, distributor},
		{hundred, "4.5 V", "5 V", 100, quantity.PSI, 0.001, distributor},
		{hundred, "2.5 V", "5.0 V", 50, quantity.PSI, 0.001, guide},
		{ten, "2.5 V", "5 V", 5, quantity.Bar, 0.001, ratiometric},
		{ten, "2.25 V", "4.5 V", 5, quantity.Bar, 0.001, ratiometric + ", half of the supply at half of the range"},
		{ten, "4.05 V", "4.5 V", 10, quantity.Bar, 0.001, ratiometric + ", 90 % at its end"},
	}
	for _, tt := range tests {
		got, err := tt.curve.Pressure(Sample{Signal: volt(tt.volts), Supply: volt(tt.supply), Air: still})
		require.NoError(t, err)
		assert.InDelta(t, tt.want, tt.unit.From(float64(got.Gauge)), tt.delta, tt.source)
		if tt.supply == "5 V" {
			back, err := tt.curve.Volts(quantity.Pressure(math.Max(0, float64(got.Gauge))), still)
			require.NoError(t, err)
			assert.InDelta(t, volt(tt.volts).SI, float64(back), 1e-9, "round trip")
		}
	}
}

func TestHeightMovesTheZero(t *testing.T) {
	air, err := AtHeight(feet(5000))
	require.NoError(t, err)
	// 12.228 psi there (U.S. Standard Atmosphere) is 2.468 psi under 14.696, which
	// at 0.04 V/psi is 0.0987 V.
	u, err := Typical.Volts(0, air)
	require.NoError(t, err)
	assert.InDelta(t, 0.50-0.0987, float64(u), 0.00005)

	least, most := quantity.Volt.Of(0.35), quantity.Volt.Of(0.65)
	sheet := []conformity.Window{{Name: "sheet", Min: &least, Max: &most}}
	// 0.30 V is under the sheet's window, and yet good at that height.
	s := Sample{Signal: volt("0.300"), Supply: volt("5.00"), Air: air}
	z, err := Typical.CheckZero(s, sheet, conformity.Probable)
	require.NoError(t, err)
	assert.InDelta(t, -0.0987, float64(z.Shift), 0.00005)
	assert.Equal(t, conformity.Meets, z.Judgement.Verdict, z.Judgement.Reason)
	require.Len(t, z.Windows, 1)
	assert.InDelta(t, 0.2513, z.Windows[0].Min.SI, 0.0001, "what the meter should show here")
	assert.InDelta(t, 0.5513, z.Windows[0].Max.SI, 0.0001)
	s.Air = SeaLevel()
	z, err = Typical.CheckZero(s, sheet, conformity.Probable)
	require.NoError(t, err)
	assert.Equal(t, conformity.Below, z.Judgement.Verdict)

	none, err := Typical.CheckZero(s, nil, conformity.Probable)
	require.NoError(t, err)
	assert.Equal(t, conformity.None, none.Judgement.Verdict, "no sheet, no verdict")

	// A low supply lowers the window too.
	s = Sample{Signal: volt("0.45"), Supply: volt("4.50"), Air: SeaLevel()}
	z, err = Typical.CheckZero(s, sheet, conformity.Probable)
	require.NoError(t, err)
	assert.InDelta(t, 0.50, float64(z.Referred), 1e-9)
	assert.InDelta(t, 0.315, z.Windows[0].Min.SI, 1e-9)
}

func TestOwnZeroDropsOut(t *testing.T) {
	high, err := AtHeight(3000)
	require.NoError(t, err)
	at := func(air Air) Pressure {
		p, err := Typical.Pressure(Sample{Signal: volt("2.00"), Supply: volt("5.00"), Zero: volt("0.40"), Air: air})
		require.NoError(t, err)
		return p
	}
	a, b := at(high), at(SeaLevel())
	assert.InDelta(t, 40, quantity.PSI.From(float64(a.Gauge)), 1e-4, "by hand: 1.60 V over 0.04 V/psi")
	assert.Equal(t, a.Gauge, b.Gauge, "identity: the air drops out")
	assert.InDelta(t, float64(b.Absolute-a.Absolute), float64(b.Gauge-a.Gauge+SeaLevel().Pressure-high.Pressure), 1e-6)
	without, err := Typical.Pressure(Sample{Signal: volt("2.00"), Air: SeaLevel()})
	require.NoError(t, err)
	assert.Greater(t, without.Standard, a.Standard, "the own zero makes it surer")
	require.Len(t, without.Budget, 5)
}

func TestPressurePropagation(t *testing.T) {
	// GUM 5.1.2 by differences, over the signal, the supply and the slope.
	meter := conformity.Accuracy{Fixed: 0.02 * math.Sqrt(3)}
	bare := func(v float64) quantity.Reading { return quantity.Reading{Kind: quantity.KindVoltage, SI: v} }
	s := Sample{Signal: bare(2), Supply: bare(4.9), Air: Air{Pressure: 90e3, Limit: 1000}, Meter: &meter}
	got, err := Typical.Pressure(s)
	require.NoError(t, err)
	value := func(c Curve, s Sample) float64 {
		p, err := c.Pressure(s)
		require.NoError(t, err)
		return float64(p.Gauge)
	}
	sum := 0.0
	add := func(up, down float64) { sum += (up - down) * (up - down) / 4 * 1e4 }
	const h = 0.01 // of a standard uncertainty
	for _, u := range []struct {
		standard float64
		bend     func(c *Curve, s *Sample, d float64)
	}{
		{0.02, func(_ *Curve, s *Sample, d float64) { s.Signal.SI += d }},
		{0.02, func(_ *Curve, s *Sample, d float64) { s.Supply.SI += d }},
		{0.15 / math.Sqrt(3), func(c *Curve, _ *Sample, d float64) { c.Zero += quantity.Voltage(d) }},
		{Typical.Slope * 0.1 / math.Sqrt(3), func(c *Curve, _ *Sample, d float64) { c.Slope += d }},
		{1000 / math.Sqrt(3), func(_ *Curve, s *Sample, d float64) { s.Air.Pressure += quantity.Pressure(d) }},
	} {
		up, down, su, sd := Typical, Typical, s, s
		u.bend(&up, &su, h*u.standard)
		u.bend(&down, &sd, -h*u.standard)
		add(value(up, su), value(down, sd))
	}
	assert.InEpsilon(t, math.Sqrt(sum), float64(got.Standard), 1e-3)
}

func TestCalibrate(t *testing.T) {
	gauge := func(text string) quantity.Reading { return quantity.MustParse(quantity.KindPressure, text) }
	c, err := Calibrate(volt("0.50"), volt("2.50"), gauge("0 psi"), gauge("50 psi"), quantity.Reading{}, Air{Pressure: StandardAir}, nil)
	require.NoError(t, err)
	assert.InDelta(t, 0.04, c.Slope*6894.757, 1e-6, "a parts distributor's worked example: 4 V over 100 psi")
	assert.InDelta(t, 0.5, float64(c.Zero), 1e-9)
	assert.Equal(t, unit.Own, c.SlopeFrom.Kind)
	// In thin air the same sensor reads less at both.
	air, err := AtHeight(feet(5000))
	require.NoError(t, err)
	shift := 0.04 * (12.228 - 14.696)
	at := func(v float64) quantity.Reading {
		return quantity.Reading{Kind: quantity.KindVoltage, SI: v + shift, Resolution: 0.01}
	}
	high, err := Calibrate(at(0.5), at(2.5), gauge("0 psi"), gauge("50 psi"), quantity.Reading{}, air, nil)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, float64(high.Zero), 0.0001)

	_, err = Calibrate(volt("0.50"), volt("0.60"), gauge("0 psi"), gauge("50 psi"), quantity.Reading{}, SeaLevel(), nil)
	assert.ErrorContains(t, err, SecondSignal)
	_, err = Calibrate(volt("0.50"), volt("2.50"), gauge("0 psi"), gauge("5 psi"), quantity.Reading{}, SeaLevel(), nil)
	assert.ErrorContains(t, err, SecondGauge)
	_, err = Calibrate(volt("2.50"), volt("0.50"), gauge("0 psi"), gauge("50 psi"), quantity.Reading{}, SeaLevel(), nil)
	assert.ErrorContains(t, err, "slope", "a signal that falls with pressure is no sensor of this kind")
	_, err = Calibrate(volt("9"), volt("2.50"), gauge("0 psi"), gauge("50 psi"), quantity.Reading{}, SeaLevel(), nil)
	assert.ErrorContains(t, err, FirstSignal)
	_, err = Calibrate(volt("0.5"), volt("2.50"), gauge("0 psi"), gauge("50 psi"), volt("12"), SeaLevel(), nil)
	assert.ErrorContains(t, err, Supply)
}

func TestSensorErrors(t *testing.T) {
	good := Sample{Signal: volt("2.0"), Supply: volt("5.0"), Air: SeaLevel()}
	for want, bend := range map[string]func(*Sample){
		Signal:      func(s *Sample) { s.Signal.SI = 12 },
		Supply:      func(s *Sample) { s.Supply.SI = 0 },
		OwnZero:     func(s *Sample) { s.Zero = volt("-1") },
		AirPressure: func(s *Sample) { s.Air = Air{} },
	} {
		s := good
		bend(&s)
		_, err := Typical.Pressure(s)
		assert.ErrorContains(t, err, want)
	}
	_, err := Curve{}.Pressure(good)
	assert.Error(t, err)
	_, err = Typical.Volts(-1, SeaLevel())
	assert.ErrorContains(t, err, GaugeReading)
	_, err = Typical.CheckZero(Sample{}, nil, conformity.Probable)
	assert.Error(t, err)
}

func FuzzSensor(f *testing.F) {
	f.Add(2.0, 5.0, 0.5, 101325.0, 0.04)
	f.Add(math.NaN(), math.Inf(1), -1.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, signal, supply, zero, air, slope float64) {
		bare := func(v float64) quantity.Reading { return quantity.Reading{Kind: quantity.KindVoltage, SI: v} }
		c := Typical
		c.Slope = slope / 6894.757
		s := Sample{Signal: bare(signal), Supply: bare(supply), Air: Air{Pressure: quantity.Pressure(air), Limit: 100}}
		if zero != 0 {
			s.Zero = bare(zero)
		}
		if p, err := c.Pressure(s); err == nil {
			for _, x := range []float64{float64(p.Gauge), float64(p.Absolute), float64(p.Standard)} {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			}
		}
		least, most := quantity.Volt.Of(0.35), quantity.Volt.Of(0.65)
		z, err := c.CheckZero(s, []conformity.Window{{Min: &least, Max: &most}}, conformity.Probable)
		if err == nil && z.Judgement.Verdict == conformity.Meets {
			require.InDelta(t, 0.5, float64(z.Referred), 0.15)
		}
	})
}
