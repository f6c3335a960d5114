package leak

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func TestDelivery(t *testing.T) {
	tests := []struct {
		name           string
		p              Pump
		rpm, want, tol float64 // L/min
		source         string
	}{
		{"gear pump 75, 50, 25 mm", Pump{quantity.Volume(math.Pi / 4 * (0.075*0.075 - 0.05*0.05) * 0.025), 0.9}, 1000, 55.3, 0.1,
			"Esposito, Fluid Power, example 5-2: 55.3 L/min, there rounded up"},
		{"five cubic inches", Pump{quantity.Volume(5 * math.Pow(0.0254, 3)), 0.9239}, 1000, 75.7, 0.05,
			"Esposito, Fluid Power: 5 in³ at 1000 rpm and 92.4 % give 20 gal/min (from memory)"},
		{"nothing turns", TypicalPump, 0, 0, 0, "identity"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := tt.p.Delivery(quantity.Rotation(quantity.RPM.SI(tt.rpm)))
			require.NoError(t, err)
			assert.InDelta(t, tt.want, float64(got)*60e3, tt.tol, tt.source)
		})
	}
	for name, p := range map[string]Pump{"displacement": {-1, 1}, "efficiency": {1e-5, 1.2}} {
		_, err := p.Delivery(10)
		var e *quantity.RangeError
		require.ErrorAs(t, err, &e)
		assert.Equal(t, name, e.Name)
	}
	_, err := TypicalPump.Delivery(quantity.Rotation(math.NaN()))
	assert.ErrorContains(t, err, "engine speed")
}

func TestShare(t *testing.T) {
	s, ok := Share(2, 8)
	assert.True(t, ok)
	assert.InDelta(t, 0.25, float64(s), 1e-12)
	for _, bad := range [][2]quantity.Flow{{1, 0}, {-1, 2}, {quantity.Flow(math.NaN()), 1}, {1, quantity.Flow(math.NaN())}} {
		_, ok := Share(bad[0], bad[1])
		assert.False(t, ok)
	}
}
