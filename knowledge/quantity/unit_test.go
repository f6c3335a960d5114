package quantity

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFactors(t *testing.T) {
	// Each factor is compared with the printed one to half of its last digit.
	const sp811 = "NIST SP 811 (2008), appendix B.8"
	tests := []struct {
		unit      Unit
		published float64
		half      float64
		source    string
	}{
		{PSI, 6.894757e3, 0.5e-3, sp811 + ", pound-force per square inch to pascal"},
		{Bar, 1e5, 0, sp811 + ", bar to pascal, exact"},
		{InchPound, 1.129848e-1, 0.5e-7, sp811 + ", pound-force inch to newton metre"},
		{FootPound, 1.355818, 0.5e-6, sp811 + ", pound-force foot to newton metre"},
		{PoundForce, 4.448222, 0.5e-6, sp811 + ", pound-force to newton"},
		{KilogramForce, 9.80665, 0, sp811 + ", kilogram-force to newton, exact"},
		{Inch, 2.54e-2, 0, sp811 + ", inch to metre, exact"},
		{Thou, 2.54e-5, 1e-20, sp811 + ", mil (0.001 in) to metre, exact"},
		{Foot, 3.048e-1, 1e-16, sp811 + ", foot to metre, exact"},
		{MilePerHour, 4.4704e-1, 1e-16, sp811 + ", mile per hour to metre per second, exact"},
		{KilometrePerHour, 2.777778e-1, 0.5e-7, sp811 + ", kilometre per hour to metre per second"},
		{RPM, 1.047198e-1, 0.5e-7, sp811 + ", revolution per minute to radian per second"},
		{Quart, 9.463529e-4, 0.5e-10, sp811 + ", quart (US liquid) to cubic metre"},
		{Pint, 4.731765e-4, 0.5e-10, sp811 + ", pint (US liquid) to cubic metre"},
		{Gallon, 3.785412e-3, 0.5e-9, sp811 + ", gallon (US) to cubic metre"},
		{FluidOunce, 2.957353e-5, 0.5e-11, sp811 + ", ounce (US fluid) to cubic metre"},
		{GallonPerMinute, 6.309020e-5, 0.5e-11, sp811 + ", gallon (US) per minute to cubic metre per second"},
		{LitrePerMinute, 1.666667e-5, 0.5e-11, sp811 + ", litre per minute to cubic metre per second"},
		{InchMercury, 3.386389e3, 0.5e-3, sp811 + ", inch of mercury, conventional, to pascal"},
		{SquareMillimetrePerSecond, 1e-6, 0, sp811 + ", centistokes to metre squared per second, exact"},
		{MillipascalSecond, 1e-3, 0, sp811 + ", centipoise to pascal second, exact"},
		{GramPerMillilitre, 1e3, 0, sp811 + ", gram per cubic centimetre to kilogram per cubic metre, exact"},
		{SquareInch, 6.4516e-4, 1e-19, sp811 + ", square inch to square metre, exact"},
		{PoundPerInch, 1.751268e2, 0.5e-4, sp811 + ", pound-force per inch to newton per metre"},
		{KiloPSI, 6.894757e6, 0.5, sp811 + ", kip per square inch (ksi) to pascal"},
		{Horsepower, 7.456999e2, 0.5e-4, sp811 + ", horsepower (550 ft · lbf/s) to watt"},
		{Mile, 1.609344e3, 0, sp811 + ", mile to metre, exact"},
		{Hour, 3.6e3, 0, sp811 + ", hour to second, exact"},
	}
	for _, tt := range tests {
		t.Run(tt.unit.Word, func(t *testing.T) {
			assert.InDelta(t, tt.published, tt.unit.Step(1), tt.half, tt.source)
		})
	}
}

func TestTemperatureScales(t *testing.T) {
	tests := []struct {
		name       string
		fahrenheit float64
		kelvin     float64
		source     string
	}{
		{"ice", 32, 273.15, "NIST SP 811, B.8: T = (t + 459.67)/1.8; 0 °C is 273.15 K"},
		{"steam", 212, 373.15, "fixed points of the Fahrenheit scale"},
		{"where the scales meet", -40, 233.15, "identity: -40 °F is -40 °C"},
		{"nothing colder", -459.67, 0, "NIST SP 811, B.8"},
		{"hot strategy", 260, 126.67 + 273.15, "the handbook's own pair, 260 °F (127 °C), to its rounding"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.InDelta(t, tt.kelvin, Fahrenheit.SI(tt.fahrenheit), 0.005, tt.source)
		})
	}
	assert.InDelta(t, 82.2, FromCelsius(82.2).Celsius(), 1e-9, "round trip")
}

func TestEveryUnitIsFoundByItsNames(t *testing.T) {
	for _, u := range units {
		for _, s := range append(strings.Fields(u.spellings), u.Name) {
			if s == "" {
				continue
			}
			got, ok := UnitNamed(u.Kind, s)
			require.True(t, ok, "%s %q", u.Kind, s)
			assert.Equal(t, u.Word, got.Word, "%q is found as another unit", s)
		}
		assert.NotZero(t, u.factor)
		assert.InDelta(t, 7.25, u.From(u.SI(7.25)), 1e-9, "round trip of %s", u.Word)
	}
}

func TestUnitsAreComplete(t *testing.T) {
	for _, k := range Kinds {
		require.NotEmpty(t, Units(k), k)
		assert.Equal(t, DefaultUnit(k), Units(k)[0])
		min, max, ok := Plausible(k)
		require.True(t, ok, k)
		assert.Less(t, min.SI, max.SI, k)
	}
	assert.Len(t, plausible, len(Kinds))
	assert.Nil(t, Units("colour"))
	assert.Zero(t, DefaultUnit("colour"))
	_, ok := UnitNamed(KindPressure, "colour")
	assert.False(t, ok)
	u, ok := UnitNamed(KindCount, "")
	assert.True(t, ok)
	assert.Equal(t, Each, u)
	_, ok = UnitNamed(KindPressure, "")
	assert.False(t, ok, "a pressure without a unit names none")
}

func TestOffered(t *testing.T) {
	for _, k := range Kinds {
		offered := Offered(k)
		require.NotEmpty(t, offered, k)
		assert.Equal(t, DefaultUnit(k), offered[0])
		for _, u := range offered {
			assert.Contains(t, Units(k), u)
		}
	}
	assert.True(t, KindTemperature.BelowZero(), "frost")
	assert.False(t, KindPressure.BelowZero(), "a gauge stands at zero")
}

// A preference is held against NIST SP 811, appendix B.8.
func TestPreference(t *testing.T) {
	us, metric, inBar := Preference{}, Preference{System: Metric}, Preference{System: Metric, Own: []string{"bar"}}
	line := PSI.Of(57)
	assert.Equal(t, "57 psi", us.Format(line, PSI, -1))
	assert.Equal(t, "393 kPa", metric.Format(line, PSI, -1))
	assert.Equal(t, "3.9 bar", inBar.Format(line, PSI, -1))
	assert.Equal(t, PSI, us.Unit(Kilopascal))
	assert.Equal(t, Celsius, metric.Unit(Fahrenheit))
	assert.Equal(t, Celsius, inBar.Unit(Fahrenheit), "bar says nothing about temperatures")
	assert.Equal(t, Ohm, metric.Unit(Ohm))
	assert.Equal(t, "82 °C", metric.Format(Fahrenheit.Of(180), Fahrenheit, 0))
}

func TestWithin(t *testing.T) {
	low, high := FromCelsius(-40).Value(), FromCelsius(180).Value()
	assert.NoError(t, Within("coil", "temperature", low, low, high, Celsius), "the ends belong to it")
	assert.NoError(t, Within("coil", "temperature", high, low, high, Celsius))

	err := Within("coil", "temperature", FromCelsius(412).Value(), low, high, Celsius)
	assert.EqualError(t, err, "coil: temperature 412 °C is outside -40 °C to 180 °C")
	var out *RangeError
	require.ErrorAs(t, err, &out)
	assert.Equal(t, "The temperature, 412 °C, is outside what is possible here, -40 °C to 180 °C. Check the number and its unit.", out.Sentence())

	assert.EqualError(t, Within("coil", "reading", Resistance(math.NaN()).Value(), Resistance(0).Value(), Resistance(1e6).Value(), Unit{}),
		"coil: reading not a number is outside 0 ohm to 1000000 ohm")
	assert.EqualError(t, Within("coil", "reading", Resistance(math.Inf(1)).Value(), Resistance(0).Value(), Resistance(1).Value(), Unit{}),
		"coil: reading ∞ is outside 0 ohm to 1 ohm")
}

func TestValuesKeepTheirKind(t *testing.T) {
	values := []Value{
		Pressure(1).Value(), Temperature(1).Value(), Resistance(1).Value(), Voltage(1).Value(), Current(1).Value(),
		Length(1).Value(), Torque(1).Value(), Duration(1).Value(), Force(1).Value(), Speed(1).Value(), Rotation(1).Value(),
		Volume(1).Value(), Flow(1).Value(), Turns(1).Value(), Count(1).Value(), Ratio(1).Value(),
		Kinematic(1).Value(), Dynamic(1).Value(), Density(1).Value(), Area(1).Value(), SpringRate(1).Value(),
		Stress(1).Value(), Power(1).Value(), Frequency(1).Value(), Distance(1).Value(), PerDistance(1).Value(),
	}
	require.Len(t, values, len(Kinds))
	for i, v := range values {
		assert.Equal(t, Value{Kinds[i], 1}, v)
		assert.NotEmpty(t, v.Kind.Word())
	}
}
