package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func TestSenseAgainstWorkedExamples(t *testing.T) {
	const adc = "physics question of the day: 5.0 V, 10 kohm above a thermistor; 10 kohm gives 2.5 V, 5 kohm 1.7 V"
	const fixed = "physics question of the day: 9.0 V, 6.0 kohm; 8.0 kohm leaves 3.86 V across the fixed resistor, 4.0 kohm 5.40 V"
	tests := []struct {
		pullUp                    quantity.Resistance
		volts, step, supply, want float64
		source                    string
	}{
		{10e3, 2.5, 0.05, 5.0, 10e3, adc},
		{10e3, 1.7, 0.05, 5.0, 5e3, adc},
		{6e3, 9 - 3.86, 0.005, 9.0, 8e3, fixed},
		{6e3, 9 - 5.40, 0.005, 9.0, 4e3, fixed},
	}
	for _, tt := range tests {
		bare := func(v float64) quantity.Reading {
			return quantity.Reading{Kind: quantity.KindVoltage, SI: v, Resolution: 0.001}
		}
		got, err := Divider{Volts: bare(tt.volts), Supply: bare(tt.supply), PullUp: tt.pullUp}.Sense()
		require.NoError(t, err)
		// The printed volts are rounded, which is worth R_p · U_s / (U_s − U)² of it.
		left := tt.supply - tt.volts
		assert.InDelta(t, tt.want, float64(got.Resistance), float64(tt.pullUp)*tt.supply/(left*left)*tt.step, tt.source)
		back, err := PullUp(got.Resistance, bare(tt.volts), bare(tt.supply))
		require.NoError(t, err)
		assert.InEpsilon(t, float64(tt.pullUp), float64(back), 1e-9, "round trip")
	}
}

func TestSenseAtTheEnds(t *testing.T) {
	open, err := Divider{Volts: volt("4.98"), Supply: volt("5.00"), PullUp: 1000}.Sense()
	require.NoError(t, err)
	assert.True(t, open.Open)
	assert.True(t, open.Reading().OpenLoop)
	short, err := Divider{Volts: volt("0.01"), Supply: volt("5.00"), PullUp: 1000}.Sense()
	require.NoError(t, err)
	assert.True(t, short.Shorted)
	limit := quantity.Ohm.Of(1200)
	least := quantity.Ohm.Of(800)
	sheet := []conformity.Window{{Name: "sheet", Min: &least, Max: &limit}}
	for text, want := range map[string]conformity.Verdict{"4.98": conformity.Open, "0.01": conformity.Short, "2.50": conformity.Meets} {
		s, err := Divider{Volts: volt(text), Supply: volt("5.00"), PullUp: 1000}.Sense()
		require.NoError(t, err)
		got := conformity.JudgeAll(s.Reading(), float64(s.Standard), sheet, nil, conformity.Probable)
		assert.Equal(t, want, got.Verdict, text)
	}
}

func TestSensePropagation(t *testing.T) {
	// GUM 5.1.2 by differences.
	meter := conformity.Accuracy{Fixed: 0.01 * math.Sqrt(3)}
	bare := func(v float64) quantity.Reading { return quantity.Reading{Kind: quantity.KindVoltage, SI: v} }
	d := Divider{Volts: bare(2), Supply: bare(5), PullUp: 1000, PullUpShare: 0.05, Meter: &meter}
	got, err := d.Sense()
	require.NoError(t, err)
	sum := 0.0
	for _, bend := range []func(*Divider, float64){
		func(d *Divider, h float64) { d.Volts.SI += 0.01 * h },
		func(d *Divider, h float64) { d.Supply.SI += 0.01 * h },
		func(d *Divider, h float64) { d.PullUp += quantity.Resistance(50 / math.Sqrt(3) * h) },
	} {
		up, down := d, d
		bend(&up, 0.01)
		bend(&down, -0.01)
		a, err := up.Sense()
		require.NoError(t, err)
		b, err := down.Sense()
		require.NoError(t, err)
		x := float64(a.Resistance-b.Resistance) / 0.02
		sum += x * x
	}
	assert.InEpsilon(t, math.Sqrt(sum), float64(got.Standard), 1e-4)
}

func TestDividerErrors(t *testing.T) {
	_, err := Divider{Volts: volt("6"), Supply: volt("5"), PullUp: 1000}.Sense()
	assert.EqualError(t, err, "circuit: volts at the computer 6 V is outside 0 V to 5.1 V")
	_, err = Divider{Volts: volt("2"), Supply: volt("0"), PullUp: 1000}.Sense()
	assert.ErrorContains(t, err, DividerFeed)
	_, err = Divider{Volts: volt("2"), Supply: volt("5")}.Sense()
	assert.ErrorContains(t, err, PullUpOhms)
	_, err = Divider{Volts: volt("2"), Supply: volt("5"), PullUp: 1000, PullUpShare: 2}.Sense()
	assert.Error(t, err)
	_, err = PullUp(1000, volt("0"), volt("5"))
	assert.ErrorContains(t, err, DividerVolts)
	_, err = PullUp(0, volt("2"), volt("5"))
	assert.ErrorContains(t, err, KnownOhms)
	_, err = PullUp(1000, volt("2"), volt("0"))
	assert.ErrorContains(t, err, DividerFeed)
}

func FuzzDivider(f *testing.F) {
	f.Add(2.5, 5.0, 1000.0, 0.01)
	f.Add(math.NaN(), 0.0, math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, u, supply, pullUp, share float64) {
		bare := func(v float64) quantity.Reading { return quantity.Reading{Kind: quantity.KindVoltage, SI: v} }
		s, err := Divider{Volts: bare(u), Supply: bare(supply), PullUp: quantity.Resistance(pullUp), PullUpShare: quantity.Ratio(share)}.Sense()
		if err != nil {
			return
		}
		for _, x := range []float64{float64(s.Resistance), float64(s.Standard)} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
		}
		require.GreaterOrEqual(t, float64(s.Resistance), 0.0)
	})
}
