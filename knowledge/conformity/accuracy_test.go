package conformity

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

func TestAccuracyLimitAgainstPublishedMeters(t *testing.T) {
	for _, row := range published.Table(t, "conformity/meters.csv") {
		t.Run(row["name"], func(t *testing.T) {
			r := quantity.Reading{Kind: quantity.KindVoltage, SI: row.Number(t, "reading"), Resolution: row.Number(t, "step")}
			got := Accuracy{Percent: row.Number(t, "percent"), Digits: row.Number(t, "digits")}.Limit(r)
			off := math.Abs(got - row.Number(t, "limit"))
			// A quarter of the tolerance's own last bits, for floating point only.
			half := row.Number(t, "half_digit") * (1 + 1e-9)
			if row["use"] == "trap" {
				assert.Greater(t, off, half, "a wrong answer was reproduced: %s", row["source"])
				return
			}
			assert.LessOrEqual(t, off, half, row["source"])
		})
	}
}

func TestAccuracyStandard(t *testing.T) {
	typed := func(kind quantity.Kind, text string) quantity.Reading { return quantity.MustParse(kind, text) }
	tests := []struct {
		name   string
		a      Accuracy
		r      quantity.Reading
		want   float64
		delta  float64
		source string
	}{
		{"rectangular", Accuracy{Fixed: 1}, quantity.Reading{Kind: quantity.KindPressure, SI: 5}, 0.577, 0.0005,
			"GUM 4.3.7: half-width a gives a/√3"},
		{"resolution of one", Accuracy{}, quantity.Reading{Kind: quantity.KindPressure, SI: 5, Resolution: 1}, 0.29, 0.005,
			"GUM F.2.2.1: u = 0.29 δx"},
		{"digits contain the resolution", Accuracy{Digits: 1}, quantity.Reading{Kind: quantity.KindVoltage, SI: 0, Resolution: 1}, 0.577, 0.0005,
			"one digit is the half-width 1"},
		{"two parts in quadrature", Accuracy{Fixed: math.Sqrt(3) * 3}, quantity.Reading{Kind: quantity.KindLength, SI: 1, Resolution: 4 * math.Sqrt(12)}, 5, 1e-12,
			"identity: 3-4-5"},
		{"a temperature has no per cent", Accuracy{Percent: 10, Fixed: math.Sqrt(3)}, quantity.Reading{Kind: quantity.KindTemperature, SI: 355}, 1, 1e-12,
			"the zero of the scale is arbitrary"},
		{"open loop", Accuracy{Percent: 1, Digits: 3}, typed(quantity.KindResistance, "OL"), 0, 0, "no number, no uncertainty"},
		{"nonsense counts as nothing", Accuracy{Percent: -1, Digits: math.NaN(), Fixed: math.Inf(1)}, typed(quantity.KindVoltage, "0"), 1 / math.Sqrt(12), 1e-9, "resolution is left"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.InDelta(t, tt.want, tt.a.Standard(tt.r), tt.delta, tt.source)
		})
	}
}

func TestEveryKindHasADefault(t *testing.T) {
	for _, k := range quantity.Kinds {
		a := Default(quantity.Reading{Kind: k, SI: 1, Resolution: 0.1})
		assert.NotEmpty(t, a.Source, k)
		u := a.Standard(quantity.Reading{Kind: k, SI: 1, Resolution: 0.1})
		assert.Greater(t, u, 0.0, k)
	}
	// The handbook's gauges: 100 psi for line, 300 psi for reverse.
	low := Default(quantity.MustParse(quantity.KindPressure, "57 psi"))
	high := Default(quantity.MustParse(quantity.KindPressure, "150 psi"))
	assert.InDelta(t, 1, quantity.PSI.From(low.Fixed), 1e-9)
	assert.InDelta(t, 3, quantity.PSI.From(high.Fixed), 1e-9)
	assert.Zero(t, Gauge(quantity.Pressure(math.NaN()), 1).Fixed)
	small := Default(quantity.MustParse(quantity.KindTorque, "72 in-lb"))
	large := Default(quantity.MustParse(quantity.KindTorque, "30 ft-lb"))
	require.Greater(t, small.Percent, large.Percent)
}
