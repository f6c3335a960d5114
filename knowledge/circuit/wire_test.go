package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func gauge(t *testing.T, n int) quantity.Area {
	t.Helper()
	a, err := Gauge(n)
	require.NoError(t, err)
	return a
}

func long(ft float64) quantity.Length { return quantity.Length(quantity.Foot.SI(ft)) }

func TestWireAgainstTheTable(t *testing.T) {
	for _, row := range published.Table(t, "copper/wire.csv") {
		w := Wire{Area: gauge(t, int(row.Number(t, "gage"))), Length: long(100)}
		r, err := w.Resistance()
		require.NoError(t, err)
		assert.InDelta(t, row.Number(t, "ohm_20C"), 10*float64(r), row.Number(t, "half_digit"), "gage %s, per 1000 ft", row["gage"])
		if row["use"] == "trap" {
			continue
		}
		w.Temperature = quantity.FromCelsius(75)
		r, err = w.Resistance()
		require.NoError(t, err)
		// The table's columns were carried from its own rounded 20 °C.
		want := row.Number(t, "ohm_75C")
		assert.InDelta(t, want, 10*float64(r), row.Number(t, "half_digit")*(1+want/row.Number(t, "ohm_20C")), "gage %s at 75 °C", row["gage"])
	}
}

func TestDropAgainstWorkedExamples(t *testing.T) {
	tests := []struct {
		name     string
		gauge    int
		feet     float64 // there and back
		amperes  float64
		stranded bool
		celsius  float64
		want     float64
		delta    float64
		source   string
	}{
		{"12 AWG", 12, 200, 20, true, 75, 7.9, 0.05,
			"an electrician's exam lesson: 2 · 12.9 · 20 · 100 / 6530 = 7.9 V"},
		{"8 AWG", 8, 200, 20, true, 75, 3.1, 0.05,
			"the same lesson: 2 · 12.9 · 20 · 100 / 16 510 = 3.1 V"},
		{"10 AWG", 10, 200, 20, true, 75, 4.97, 0.005 + 4.97*0.05/12.9,
			"an electrician's exam page: 51 600 / 10 380 = 4.97 V; its 12.9 is rounded"},
		{"solid, at 20 °C", 12, 200, 20, false, 20, 6.4, 0.05,
			"a voltage drop page's example: 2 · 0.017241 · 20 · 30.48 / 3.31 = 6.4 V"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			w := Wire{Area: gauge(t, tt.gauge), Length: long(tt.feet), Stranded: tt.stranded, Temperature: quantity.FromCelsius(tt.celsius)}
			r, err := w.Resistance()
			require.NoError(t, err)
			assert.InDelta(t, tt.want, tt.amperes*float64(r), tt.delta, tt.source)
		})
	}
}

func TestLoss(t *testing.T) {
	most := quantity.Volt.Of(0.1)
	sheet := []conformity.Window{{Name: "sheet", Max: &most}}
	ampere := func(text string) quantity.Reading { return quantity.MustParse(quantity.KindCurrent, text) }
	l, err := Path{Drop: volt("0.450 V"), Current: ampere("3.0 A"), Windows: sheet, Wire: Wire{Area: gauge(t, 16), Length: long(6), Stranded: true}}.Loss()
	require.NoError(t, err)
	assert.Equal(t, conformity.Above, l.Judgement.Verdict)
	assert.InDelta(t, 0.15, float64(l.Resistance), 1e-9, "Ohm's law by hand")
	assert.InDelta(t, 1.35, float64(l.Heat), 1e-9)
	// 16 AWG: 4.016 ohm per 1000 ft (wire table), 6 ft and 2 % for the strands.
	assert.InDelta(t, 0.004016*6*1.02*3, float64(l.Expected), 0.00005)
	assert.InDelta(t, 0.15-0.02458, float64(l.Extra), 0.0001)
	assert.Greater(t, l.Sure, 0.99)

	// Leads the wrong way round, no current measured, no sheet.
	l, err = Path{Drop: volt("-0.03 V")}.Loss()
	require.NoError(t, err)
	assert.Equal(t, conformity.None, l.Judgement.Verdict)
	assert.False(t, l.Known)
	l, err = Path{Drop: volt("-0.030 V"), Windows: sheet}.Loss()
	require.NoError(t, err)
	assert.Equal(t, conformity.Meets, l.Judgement.Verdict)
	// What the wire explains is no extra.
	l, err = Path{Drop: volt("0.020 V"), Current: ampere("3.0 A"), Wire: Wire{Area: gauge(t, 16), Length: long(6)}}.Loss()
	require.NoError(t, err)
	assert.Zero(t, l.Extra)
	assert.Less(t, l.Sure, 0.5)
}

func TestWireErrors(t *testing.T) {
	_, err := Gauge(41)
	assert.EqualError(t, err, "circuit: wire gauge 41 is outside -3 to 40")
	_, err = Wire{}.Resistance()
	assert.ErrorContains(t, err, WireArea)
	_, err = Wire{Area: 1e-6}.Resistance()
	assert.ErrorContains(t, err, WireLength)
	_, err = Wire{Area: 1e-6, Length: 1, Temperature: 900}.Resistance()
	assert.Error(t, err)
	_, err = Path{Drop: quantity.Reading{Kind: quantity.KindVoltage, SI: 90}}.Loss()
	assert.ErrorContains(t, err, PathDrop)
	_, err = Path{Drop: volt("0.1 V"), Current: quantity.MustParse(quantity.KindCurrent, "0.001 A")}.Loss()
	assert.ErrorContains(t, err, PathCurrent)
	_, err = Path{Drop: volt("0.1 V"), Current: quantity.MustParse(quantity.KindCurrent, "1 A"), Wire: Wire{Length: 1}}.Loss()
	assert.ErrorContains(t, err, WireArea)
}

func FuzzLoss(f *testing.F) {
	f.Add(0.45, 3.0, 1.3, 2.0, 20.0)
	f.Add(math.NaN(), math.Inf(-1), 0.0, -1.0, 900.0)
	f.Fuzz(func(t *testing.T, u, i, mm2, metres, celsius float64) {
		most := quantity.Volt.Of(0.1)
		l, err := Path{
			Drop:    quantity.Reading{Kind: quantity.KindVoltage, SI: u},
			Current: quantity.Reading{Kind: quantity.KindCurrent, SI: i},
			Wire:    Wire{Area: quantity.Area(mm2 * 1e-6), Length: quantity.Length(metres), Temperature: quantity.FromCelsius(celsius)},
			Windows: []conformity.Window{{Max: &most}},
		}.Loss()
		if err != nil {
			return
		}
		for _, x := range []float64{float64(l.Resistance), float64(l.Standard), float64(l.Heat), float64(l.Expected), float64(l.Extra), l.Sure} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
		}
		if l.Judgement.Verdict == conformity.Meets {
			require.LessOrEqual(t, math.Abs(u), 0.1)
		}
	})
}
