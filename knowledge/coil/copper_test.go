package coil

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

var celsius = quantity.FromCelsius

func TestResistanceAgainstWireTable(t *testing.T) {
	for _, row := range published.Table(t, "copper/wire.csv") {
		t.Run("gage "+row["gage"], func(t *testing.T) {
			r20 := row.Number(t, "ohm_20C")
			worst := 0.0
			for column, at := range map[string]float64{"ohm_0C": 0, "ohm_50C": 50, "ohm_75C": 75} {
				want := row.Number(t, column)
				got, err := Annealed.Resistance(quantity.Resistance(r20), celsius(20), celsius(at))
				require.NoError(t, err)
				// The 20 °C column is itself rounded, so both roundings count.
				half := row.Number(t, "half_digit")
				allowed := half + half*want/r20
				worst = math.Max(worst, math.Abs(float64(got)-want)/allowed)
			}
			if row["use"] == "trap" {
				assert.Greater(t, worst, 1.0, "a wrong figure was reproduced")
				return
			}
			assert.LessOrEqual(t, worst, 1.0, "off by more than the table's rounding")
		})
	}
}

func TestWorkedExamples(t *testing.T) {
	for _, row := range published.Table(t, "copper/examples.csv") {
		t.Run(row["name"], func(t *testing.T) {
			r1, t1 := quantity.Resistance(row.Number(t, "r1_ohm")), celsius(row.Number(t, "t1_C"))
			var got float64
			switch row["find"] {
			case "r2":
				r2, err := Copper(row.Number(t, "k_C")).Resistance(r1, t1, celsius(row.Number(t, "t2_C")))
				require.NoError(t, err)
				got = float64(r2)
			case "t2":
				t2, err := Copper(row.Number(t, "k_C")).Temperature(r1, t1, quantity.Resistance(row.Number(t, "r2_ohm")))
				require.NoError(t, err)
				got = t2.Celsius()
			case "rise":
				rise, err := Copper(row.Number(t, "k_C")).Rise(r1, t1, quantity.Resistance(row.Number(t, "r2_ohm")), t1)
				require.NoError(t, err)
				got = rise
			case "k":
				// The printed coefficient must lead from the one reading to the other.
				r2, err := Copper(1/row.Number(t, "published")).Resistance(r1, t1, celsius(row.Number(t, "t2_C")))
				require.NoError(t, err)
				// Half a digit of α0, 0.14 %, is worth 0.02 ohm here.
				assert.InDelta(t, row.Number(t, "r2_ohm"), float64(r2), 0.02, row["source"])
				return
			}
			off := math.Abs(got - row.Number(t, "published"))
			if row["use"] == "trap" {
				assert.Greater(t, off, row.Number(t, "half_digit"), "a wrong answer was reproduced: %s", row["source"])
				return
			}
			// 63.625 is printed 63.63: the last bits of a float must not decide.
			assert.LessOrEqual(t, off, row.Number(t, "half_digit")+1e-9, row["source"])
		})
	}
}

func TestCoefficient(t *testing.T) {
	tests := []struct {
		k      Copper
		at     float64
		want   float64
		half   float64
		source string
	}{
		{Annealed, 20, 0.00393, 0.000005, "IEC 60028: 0.00393 per K at 20 °C"},
		{Annealed, 0, 0.00427, 0.00001, "NBS Handbook 100: 0.00427 at 0 °C for 100 % (from memory)"},
		{Annealed, 25, 0.00385, 0.000005, "NBS Handbook 100: 0.00385 at 25 °C for 100 % (from memory)"},
		{Winding, 0, 1.0 / 235, 1e-12, "IEC 60034-1: k = 235"},
	}
	for _, tt := range tests {
		got, err := tt.k.Coefficient(celsius(tt.at))
		require.NoError(t, err)
		assert.InDelta(t, tt.want, got, tt.half, tt.source)
	}
	zero, _ := Annealed.Coefficient(celsius(0))
	twenty, _ := Annealed.Coefficient(celsius(20))
	assert.InDelta(t, 0.08, zero/twenty-1, 0.01, "taking one α for the other is wrong by 8 %")
}

func TestRiseWithChangedAmbient(t *testing.T) {
	// The last term takes a room into account that warmed up meanwhile.
	still, err := Annealed.Rise(80, celsius(20), 100, celsius(20))
	require.NoError(t, err)
	warmer, err := Annealed.Rise(80, celsius(20), 100, celsius(25))
	require.NoError(t, err)
	assert.InDelta(t, 5, still-warmer, 1e-9, "identity")
}

func TestThereAndBack(t *testing.T) {
	for _, at := range []float64{-60, -40, 0, 20, 82.2, 127, 250} {
		warm, err := Winding.Resistance(33, celsius(20), celsius(at))
		require.NoError(t, err)
		back, err := Winding.Temperature(33, celsius(20), warm)
		if at == -60 || at == 250 {
			// The last bit may fall outside the range; the value may not differ.
			assert.InDelta(t, at, back.Celsius(), 1e-9)
			continue
		}
		require.NoError(t, err)
		assert.InDelta(t, at, back.Celsius(), 1e-9, "round trip")
	}
}

func TestHandbookFactors(t *testing.T) {
	// The trade's factors, derived from 0.393 % per °C: 1.24 at 80 °C, 1.31 at 100 °C.
	for at, want := range map[float64]float64{80: 1.24, 100: 1.31} {
		got, err := Winding.Resistance(1, celsius(20), celsius(at))
		require.NoError(t, err)
		assert.InDelta(t, want, float64(got), 0.005)
	}
}

func TestCopperErrors(t *testing.T) {
	_, err := Winding.Resistance(3.7, celsius(412), celsius(20))
	assert.EqualError(t, err, "coil: temperature of the known resistance 412 °C is outside -60 °C to 250 °C")
	_, err = Winding.Resistance(3.7, celsius(20), celsius(-61))
	assert.EqualError(t, err, "coil: temperature -61 °C is outside -60 °C to 250 °C")
	_, err = Winding.Resistance(0, celsius(20), celsius(20))
	assert.EqualError(t, err, "coil: resistance 0 ohm is outside 0.000001 ohm to 1000000000 ohm")
	_, err = Winding.Temperature(3.7, celsius(20), 37)
	assert.EqualError(t, err, "coil: winding temperature 2315 °C is outside -60 °C to 250 °C")
	_, err = Winding.Temperature(3.7, celsius(20), quantity.Resistance(math.NaN()))
	assert.EqualError(t, err, "coil: warm resistance not a number is outside 0.000001 ohm to 1000000000 ohm")
	_, err = Winding.Rise(3.7, celsius(20), 4.6, celsius(999))
	assert.EqualError(t, err, "coil: ambient temperature 999 °C is outside -60 °C to 250 °C")
	_, err = Winding.Rise(3.7, celsius(999), 4.6, celsius(20))
	assert.Error(t, err)
	_, err = Winding.Coefficient(celsius(-235))
	assert.EqualError(t, err, "coil: temperature -235 °C is outside -60 °C to 250 °C")
	_, err = Current(12.6, 0)
	assert.Error(t, err)
	_, err = Current(60, 1e-6)
	assert.Error(t, err)
	_, err = Current(quantity.Voltage(math.Inf(1)), 4)
	assert.EqualError(t, err, "coil: voltage ∞ is outside -60 V to 60 V")
	i, err := Current(13, 4)
	require.NoError(t, err)
	assert.InDelta(t, 3, float64(i), 0.5, "handbook-derived: about 3 A for 4 ohm at 13 V")
}

func FuzzCopper(f *testing.F) {
	f.Add(4.6, 82.2, 20.0)
	f.Add(0.0, -300.0, math.Inf(1))
	f.Fuzz(func(t *testing.T, r, t0, at float64) {
		got, err := Winding.Resistance(quantity.Resistance(r), celsius(t0), celsius(at))
		if err != nil {
			var out *quantity.RangeError
			require.ErrorAs(t, err, &out)
			return
		}
		require.False(t, math.IsNaN(float64(got)) || math.IsInf(float64(got), 0))
		require.Greater(t, float64(got), 0.0)
		back, err := Winding.Resistance(got, celsius(at), celsius(t0))
		if err != nil {
			return // at the edge of what is believed
		}
		require.InEpsilon(t, r, float64(back), 1e-9)
	})
}
