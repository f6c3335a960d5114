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
	// 18 mL a turn at 1000 rpm and 90 % are 16.2 L/min, by hand.
	speed := quantity.Rotation(quantity.RPM.SI(1000))
	s, err := Pump{18e-6, 0.9}.Share(quantity.Flow(4.05e-3/60), speed)
	require.NoError(t, err)
	assert.InDelta(t, 0.25, float64(s), 1e-9)
	for name, bad := range map[string]struct {
		leak  quantity.Flow
		speed quantity.Rotation
	}{"leak": {-1, speed}, "delivery of the pump": {1e-5, 0}, "engine speed": {1e-5, -1}} {
		_, err := TypicalPump.Share(bad.leak, bad.speed)
		var e *quantity.RangeError
		require.ErrorAs(t, err, &e, name)
		assert.Equal(t, name, e.Name)
	}
	_, err = TypicalPump.Share(quantity.Flow(math.NaN()), speed)
	assert.Error(t, err)
}

func TestHeld(t *testing.T) {
	thin := Fluid{1e-6, 860}
	tests := []struct {
		name      string
		path      Path
		f         Fluid
		delivery  float64 // L/min
		want, tol float64 // Pa
		source    string
	}{
		{"5 mm", Orifice{Diameter: 5e-3, Discharge: 0.6}, thin, 0.60, 309.82, 0.5, "worked orifice answer with its density and coefficient on the right side"},
		{"2 mm", Orifice{Diameter: 2e-3, Discharge: 0.62}, Fluid{1e-6, 870}, 30, 288e5, 2.88e5, "article on orifice pressure drop: 288 bar, no coefficient and density given, so 1 %"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, err := Held(tt.path, tt.f, quantity.Flow(tt.delivery*1e-3/60), 40e6)
			require.NoError(t, err)
			assert.InDelta(t, tt.want, float64(p), tt.tol, tt.source)
		})
	}
	// The regulator's pressure is the most.
	p, err := Held(Orifice{Diameter: 1e-3}, thin, 1, 4e5)
	require.NoError(t, err)
	assert.InDelta(t, 4e5, float64(p), 1e-9)
	p, err = Held(Orifice{Diameter: 1e-3}, thin, 0, 4e5)
	require.NoError(t, err)
	assert.InDelta(t, 0, float64(p), 1e-3, "no pump, no pressure")
	_, err = Held(Orifice{Diameter: 1e-3}, thin, -1, 4e5)
	assert.ErrorContains(t, err, "delivery of the pump")
	_, err = Held(Orifice{Diameter: 1e-3}, thin, 1, -1)
	assert.ErrorContains(t, err, "pressure")
}
