package quantity

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		value  Value
		unit   Unit
		digits int
		want   string
	}{
		{PSI.Of(54), PSI, 0, "54 psi"},
		{PSI.Of(54), Kilopascal, 0, "372 kPa"},
		{PSI.Of(54), Unit{}, -1, "54 psi"},
		{Ohm.Of(3.7049), Ohm, 2, "3.70 ohm"},
		{Celsius.Of(-0.2), Celsius, 0, "0 °C"},
		{Each.Of(10), Each, 0, "10"},
		{Number.Of(2.45), Number, 2, "2.45"},
		{Fahrenheit.Of(180), Celsius, 1, "82.2 °C"},
		{PSI.Of(54), Celsius, 0, NoValue},
		{Value{KindPressure, math.NaN()}, PSI, 0, NoValue},
		{Value{KindPressure, math.Inf(1)}, PSI, 0, NoValue},
		{Value{"colour", 1}, Unit{}, 0, NoValue},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, Format(tt.value, tt.unit, tt.digits))
	}
}

func TestFormatBoth(t *testing.T) {
	// The pairs are printed so in makers' handbooks, unless they say otherwise.
	tests := []struct {
		value  Value
		unit   Unit
		digits int
		want   string
	}{
		{Fahrenheit.Of(180), Fahrenheit, 0, "180 °F (82 °C)"},
		{Fahrenheit.Of(260), Fahrenheit, 0, "260 °F (127 °C)"},
		{PSI.Of(54), PSI, 0, "54 psi (372 kPa)"},
		{PSI.Of(145), PSI, 0, "145 psi (1000 kPa)"},
		{MilePerHour.Of(30), MilePerHour, 0, "30 mph (48 km/h)"},
		{Inch.Of(0.034), Inch, 3, "0.034 in (0.86 mm)"},
		{Inch.Of(0.084), Inch, 3, "0.084 in (2.13 mm)"},
		{Quart.Of(4), Quart, 1, "4.0 qt (3.8 L)"},
		{FootPound.Of(30), FootPound, 0, "30 ft-lb (41 N·m)"},
		{InchPound.Of(72), InchPound, 0, "72 in-lb (8.1 N·m)"}, // handbooks round to 8
		{Millimetre.Of(0.38), Millimetre, 2, "0.38 mm (0.0150 in)"},
		{Ohm.Of(3.7), Ohm, 1, "3.7 ohm"}, // one unit for both
		{Turn.Of(2.875), Turn, 3, "2.875 turns"},
		{Value{KindPressure, math.NaN()}, PSI, 0, NoValue},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, FormatBoth(tt.value, tt.unit, tt.digits))
	}
}

func TestFormatFraction(t *testing.T) {
	assert.Equal(t, "2-7/8 turns", FormatFraction(Turn.Of(2.875), Turn, 8))
	assert.Equal(t, "1-1/2 turns", FormatFraction(Turn.Of(1.5), Turn, 8))
	assert.Equal(t, "2 turns", FormatFraction(Turn.Of(2), Turn, 8))
	assert.Equal(t, "1/4 in", FormatFraction(Inch.Of(0.25), Inch, 16))
	assert.Equal(t, "1-5/16 in", FormatFraction(Inch.Of(1.3125), Inch, 16))
	assert.Equal(t, "0.180 in", FormatFraction(Inch.Of(0.18), Inch, 16), "no sixteenth")
	assert.Equal(t, "0 turns", FormatFraction(Turn.Of(0), Unit{}, 8))
	assert.Equal(t, "-1.500 turns", FormatFraction(Turn.Of(-1.5), Turn, 8))
	assert.Equal(t, NoValue, FormatFraction(Value{KindTurns, math.NaN()}, Turn, 8))
	assert.Equal(t, "2.875 turns", FormatFraction(Turn.Of(2.875), Turn, 0))
}

func ExampleFormatBoth() {
	r, _ := Parse(KindTemperature, "180 F", Unit{})
	fmt.Println(FormatBoth(r.Value(), Fahrenheit, 0))
	// Output: 180 °F (82 °C)
}

func TestFormatSignificant(t *testing.T) {
	assert.Equal(t, "3.7 ohm", FormatSignificant(Ohm.Of(3.698), Ohm, 3))
	assert.Equal(t, "31.7 ohm", FormatSignificant(Ohm.Of(31.74), Unit{}, 3))
	assert.Equal(t, "1200000 ohm", FormatSignificant(Megohm.Of(1.2), Ohm, 3))
	assert.Equal(t, "0 ohm", FormatSignificant(Ohm.Of(0), Ohm, 3))
	assert.Equal(t, NoValue, FormatSignificant(Ohm.Of(math.NaN()), Ohm, 3))
	assert.Equal(t, NoValue, FormatSignificant(Ohm.Of(1), PSI, 3))
}
