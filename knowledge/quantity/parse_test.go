package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParse(t *testing.T) {
	const (
		exact    = "exact by definition of the unit"
		handbook = "pair printed in a maker's handbook, to its rounding"
	)
	tests := []struct {
		kind   Kind
		text   string
		unit   Unit // zero: the kind's default
		in     Unit // in which want is given
		want   float64
		delta  float64
		step   float64 // Resolution in that unit
		source string
	}{
		// Decimals.
		{KindResistance, "4.9", Unit{}, Ohm, 4.9, 1e-12, 0.1, "as typed"},
		{KindResistance, "4,9", Unit{}, Ohm, 4.9, 1e-12, 0.1, "decimal comma"},
		{KindResistance, " 4.90\t", Unit{}, Ohm, 4.9, 1e-12, 0.01, "spaces around, a zero that was read"},
		{KindLength, ".015 in", Unit{}, Inch, 0.015, 1e-12, 0.001, "no whole part"},
		{KindLength, "0,015 in", Unit{}, Inch, 0.015, 1e-12, 0.001, "a leading zero heads no thousands"},
		{KindLength, ",015", Unit{}, Inch, 0.015, 1e-12, 0.001, "no whole part, decimal comma"},
		{KindLength, "5.", Millimetre, Millimetre, 5, 1e-12, 1, "a point and nothing after it"},
		{KindRotation, "1234,567", Unit{}, RPM, 1234.567, 1e-9, 0.001, "four digits head no thousands"},
		{KindRotation, "1.234", Unit{}, RPM, 1.234, 1e-9, 0.001, "a lone point is a decimal point"},
		// Thousands.
		{KindRotation, "1 200", Unit{}, RPM, 1200, 1e-9, 1, "space before three digits"},
		{KindRotation, "1\u00a0200 rpm", Unit{}, RPM, 1200, 1e-9, 1, "no-break space"},
		{KindRotation, "1\u202f200,5 rpm", Unit{}, RPM, 1200.5, 1e-9, 0.1, "space and decimal comma"},
		{KindRotation, "1,200.5", Unit{}, RPM, 1200.5, 1e-9, 0.1, "comma, then point"},
		{KindRotation, "1.200,5", Unit{}, RPM, 1200.5, 1e-9, 0.1, "point, then comma"},
		{KindResistance, "1,200,000", Unit{}, Megohm, 1.2, 1e-12, 1e-6, "two commas"},
		{KindResistance, "1.200.000", Unit{}, Megohm, 1.2, 1e-12, 1e-6, "two points"},
		// Fractions.
		{KindLength, "1/4 in", Unit{}, Millimetre, 6.35, 1e-9, 6.35, exact},
		{KindTurns, "2-7/8", Unit{}, Turn, 2.875, 1e-12, 0.125, "as typed"},
		{KindTurns, "2 7/8 turns", Unit{}, Turn, 2.875, 1e-12, 0.125, "as typed"},
		{KindTurns, "2⅞", Unit{}, Turn, 2.875, 1e-12, 0.125, "one sign"},
		{KindTurns, "½", Unit{}, Turn, 0.5, 1e-12, 0.5, "one sign"},
		{KindLength, "1-5/16 in", Unit{}, Millimetre, 33.4, 0.1, 25.4 / 16, "trade pair 1-5/16 in (33.4 mm), from memory; exact 33.3375"},
		{KindLength, "1 5⁄16\"", Unit{}, Millimetre, 33.3375, 1e-9, 25.4 / 16, exact},
		{KindLength, "11/32", Unit{}, Millimetre, 8.7, 0.05, 25.4 / 32, handbook},
		// Units.
		{KindTemperature, "180 F", Celsius, Celsius, 82, 0.5, 1 / 1.8, handbook},
		{KindTemperature, "180°F", Celsius, Celsius, 82.2, 0.05, 1 / 1.8, "(180 − 32)/1.8"},
		{KindTemperature, "82 C", Unit{}, Celsius, 82, 1e-9, 1, "as typed"},
		{KindTemperature, "82 ºC", Unit{}, Celsius, 82, 1e-9, 1, "the ordinal sign of some keyboards"},
		{KindTemperature, "82℃", Unit{}, Celsius, 82, 1e-9, 1, "one sign"},
		{KindTemperature, "180 deg F", Unit{}, Fahrenheit, 180, 1e-9, 1, "as typed"},
		{KindTemperature, "180°", Unit{}, Fahrenheit, 180, 1e-9, 1, "degrees of the field's own scale"},
		{KindTemperature, "-5", Unit{}, Celsius, -21, 0.5, 1 / 1.8, handbook},
		{KindTemperature, "−5 °F", Unit{}, Fahrenheit, -5, 1e-9, 1, "a typographer's minus"},
		{KindTemperature, "300 K", Unit{}, Kelvin, 300, 1e-9, 1, "as typed"},
		{KindLength, "0.38 mm", Unit{}, Millimetre, 0.38, 1e-12, 0.01, "as typed"},
		{KindLength, "2 thou", Unit{}, Inch, 0.002, 1e-12, 0.001, exact},
		{KindLength, "0.180 in.", Unit{}, Millimetre, 4.57, 0.005, 0.0254, handbook},
		{KindPressure, "54 psi", Unit{}, Kilopascal, 372, 0.5, 6.894757, handbook},
		{KindPressure, "372 kPa", Unit{}, PSI, 54, 0.5, 0.1450377, handbook},
		{KindPressure, "372", Kilopascal, Kilopascal, 372, 1e-9, 1, "the field's own unit"},
		{KindPressure, "0.372 MPa", Unit{}, Kilopascal, 372, 1e-9, 1, "as typed"},
		{KindPressure, "54 lbs", Unit{}, PSI, 54, 1e-9, 1, "what a shop says for psi"},
		{KindPressure, "-0", Unit{}, PSI, 0, 0, 1, "a display's zero"},
		{KindResistance, "5k ohm", Unit{}, Ohm, 5000, 1e-9, 1000, "as typed"},
		{KindResistance, "5K", Unit{}, Ohm, 5000, 1e-9, 1000, "as typed"},
		{KindResistance, "1.2 Mohm", Unit{}, Ohm, 1.2e6, 1e-6, 1e5, "as typed"},
		{KindResistance, "1.2M", Unit{}, Ohm, 1.2e6, 1e-6, 1e5, "as typed"},
		{KindResistance, "1.2 meg", Unit{}, Ohm, 1.2e6, 1e-6, 1e5, "as typed"},
		{KindResistance, "4.2 Ω", Kilohm, Ohm, 4.2, 1e-12, 0.1, "the ohm sign"},
		{KindResistance, "250 milliohm", Unit{}, Ohm, 0.25, 1e-12, 1e-3, "as typed"},
		{KindTorque, "72 in-lb", Unit{}, NewtonMetre, 8, 0.5, 0.1129848, handbook},
		{KindTorque, "72 lb·in", Unit{}, FootPound, 6, 1e-9, 1.0 / 12, exact},
		{KindTorque, "30 ft-lb", Unit{}, NewtonMetre, 41, 0.5, 1.355818, handbook},
		{KindTorque, "30 ft.-lbs.", Unit{}, FootPound, 30, 1e-9, 1, "as typed"},
		{KindTorque, "13 N·m", Unit{}, NewtonMetre, 13, 1e-9, 1, "as typed"},
		{KindTorque, "13 Nm", Unit{}, NewtonMetre, 13, 1e-9, 1, "as typed"},
		{KindVoltage, "-0.35 V", Unit{}, Millivolt, -350, 1e-9, 10, "leads the other way round"},
		{KindCurrent, "950 mA", Unit{}, Ampere, 0.95, 1e-12, 1e-3, "as typed"},
		{KindSpeed, "30", Unit{}, KilometrePerHour, 48, 0.5, 1.609344, handbook},
		{KindVolume, "4 qt", Unit{}, Litre, 3.8, 0.05, 0.9463529, handbook},
		{KindDuration, "2 min", Unit{}, Second, 120, 1e-9, 60, exact},
		{KindFlow, "1 gpm", Unit{}, LitrePerMinute, 3.785412, 1e-6, 3.785412, exact},
		{KindForce, "22 lb", Unit{}, Newton, 97.86, 0.005, 4.448222, "NIST SP 811, B.8: 22 · 4.448222"},
		{KindCount, "10", Unit{}, Each, 10, 0, 1, "as typed"},
		{KindRatio, "2.45:1", Unit{}, Number, 2.45, 1e-12, 0.01, "as typed"},
		{KindRatio, "98 %", Unit{}, Number, 0.98, 1e-12, 0.01, "as typed"},
	}
	for _, tt := range tests {
		t.Run(string(tt.kind)+" "+tt.text, func(t *testing.T) {
			got, err := Parse(tt.kind, tt.text, tt.unit)
			require.NoError(t, err, tt.source)
			assert.InDelta(t, tt.want, tt.in.From(got.SI), tt.delta, tt.source)
			assert.InEpsilon(t, tt.in.Step(tt.step), got.Resolution, 1e-6, "resolution")
			assert.Equal(t, tt.kind, got.Kind)
			assert.False(t, got.OpenLoop)
			assert.Equal(t, strings.TrimSpace(tt.text), got.Text)
			assert.False(t, math.Signbit(got.SI) && got.SI == 0, "no negative zero")
		})
	}
}

func TestParseOpenLoop(t *testing.T) {
	for _, text := range []string{"OL", "ol", "O.L.", "O L", "0L", "0.L", ".OL", "open", "Open", "infinite", "∞", "overload", "OL MΩ", "OL kohm"} {
		got, err := Parse(KindResistance, text, Unit{})
		require.NoError(t, err, text)
		assert.Equal(t, Reading{Kind: KindResistance, OpenLoop: true, Text: text}, got)
	}
	for _, k := range Kinds {
		if k == KindResistance {
			continue
		}
		_, err := Parse(k, "OL", Unit{})
		var bad *ParseError
		require.ErrorAs(t, err, &bad, k)
		assert.Equal(t, OpenNotAllowed, bad.Reason)
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct {
		kind     Kind
		text     string
		reason   Reason
		err      string
		sentence string
	}{
		{KindResistance, "", Empty,
			`quantity: resistance "": empty`,
			"Nothing is typed yet. Type the number, for example 4.9, or OL if the meter shows it."},
		{KindResistance, " \t\u00a0", Empty, `quantity: resistance " \t\u00a0": empty`, ""},
		{KindPressure, "abc", NotANumber,
			`quantity: pressure "abc": not a number "abc" at character 1`,
			`"abc" is not a number. Type the number, for example 54 psi.`},
		{KindPressure, "psi 54", NotANumber, `quantity: pressure "psi 54": not a number "psi 54" at character 1`, ""},
		{KindResistance, "NaN", NotANumber, `quantity: resistance "NaN": not a number "NaN" at character 1`, ""},
		{KindResistance, "Inf", NotANumber, `quantity: resistance "Inf": not a number "Inf" at character 1`, ""},
		{KindResistance, "-Inf", NotANumber, `quantity: resistance "-Inf": not a number "-Inf" at character 1`, ""},
		{KindResistance, "-OL", NotANumber, `quantity: resistance "-OL": not a number "-OL" at character 1`, ""},
		{KindResistance, "?", NotANumber, `quantity: resistance "?": not a number "?" at character 1`, ""},
		{KindResistance, "½½", BadFraction, `quantity: resistance "½½": bad fraction "½½" at character 1`, ""},
		{KindResistance, "\xff4", NotANumber, `quantity: resistance "\xff4": not a number "\xff4" at character 1`, ""},
		{KindResistance, "٤", NotANumber, `quantity: resistance "٤": not a number "٤" at character 1`, ""},
		{KindResistance, "1e999", Exponent,
			`quantity: resistance "1e999": exponent "e999" at character 2`,
			"Powers of ten are not read here. Write the number out in full."},
		{KindResistance, "4.9e-1", Exponent, `quantity: resistance "4.9e-1": exponent "e-1" at character 4`, ""},
		{KindResistance, "1,200", AmbiguousComma,
			`quantity: resistance "1,200": ambiguous comma "1,200" at character 2`,
			`The comma in "1,200" could mark decimals or thousands. Type 1200 or 1.200.`},
		{KindPressure, "54-60", SeveralNumbers,
			`quantity: pressure "54-60": several numbers "54-60" at character 3`,
			"That looks like more than one number. Type the number, for example 54 psi."},
		{KindPressure, "54 60", SeveralNumbers, `quantity: pressure "54 60": several numbers "54 60" at character 3`, ""},
		{KindPressure, "1,20,000", SeveralNumbers, `quantity: pressure "1,20,000": several numbers "1,20,000" at character 2`, ""},
		{KindPressure, "1.2.3", SeveralNumbers, `quantity: pressure "1.2.3": several numbers "1.2.3" at character 2`, ""},
		{KindPressure, "1,200,5.7", SeveralNumbers, `quantity: pressure "1,200,5.7": several numbers "1,200,5.7" at character 2`, ""},
		{KindPressure, "--5", SeveralNumbers, `quantity: pressure "--5": several numbers "--5" at character 1`, ""},
		{KindLength, "1/0", BadFraction,
			`quantity: length "1/0": bad fraction "1/0" at character 1`,
			`"1/0" is not a fraction that can be read. Type the number, for example 0.015 or 1/4.`},
		{KindLength, "1/", BadFraction, `quantity: length "1/": bad fraction "1/" at character 1`, ""},
		{KindLength, "2-9/8", BadFraction, `quantity: length "2-9/8": bad fraction "2-9/8" at character 1`, ""},
		{KindLength, "1/2/3", BadFraction, `quantity: length "1/2/3": bad fraction "1/2/3" at character 1`, ""},
		{KindLength, "1 200/300", BadFraction, `quantity: length "1 200/300": bad fraction "1 200/300" at character 1`, ""},
		{KindLength, "2.5/8", BadFraction, `quantity: length "2.5/8": bad fraction "2.5/8" at character 1`, ""},
		{KindPressure, "54 furlong", UnknownUnit,
			`quantity: pressure "54 furlong": unknown unit "furlong" at character 4`,
			`"furlong" is not a unit known here. Known here: psi, kPa, bar, MPa, Pa, inHg, hPa.`},
		{KindPressure, "0.4 mpa", UnknownUnit, `quantity: pressure "0.4 mpa": unknown unit "mpa" at character 5`,
			`"mpa" is not a unit known here. Did you mean MPa?`},
		{KindCount, "10 balls", UnknownUnit, `quantity: count "10 balls": unknown unit "balls" at character 4`,
			`"balls" is not a unit known here. No unit is needed.`},
		{KindTemperature, "54 psi", OtherKindOfUnit,
			`quantity: temperature "54 psi": unit of another kind "psi" at character 4`,
			`"psi" is not a unit of temperature. It measures pressure. Known here: °F, °C, K.`},
		{KindTorque, "72 in", OtherKindOfUnit, `quantity: torque "72 in": unit of another kind "in" at character 4`, ""},
		{KindResistance, "1.2 mohm", AmbiguousUnit,
			`quantity: resistance "1.2 mohm": ambiguous unit "mohm" at character 5`,
			`"mohm" could be two units. Type Mohm for megohm, or milliohm.`},
		{KindResistance, "1.2 m", AmbiguousUnit, `quantity: resistance "1.2 m": ambiguous unit "m" at character 5`, ""},
		{KindCount, "10.5", NotWhole,
			`quantity: count "10.5": not a whole number "10.5" at character 1`,
			"A count is a whole number."},
		{KindPressure, "OL", OpenNotAllowed,
			`quantity: pressure "OL": open loop not allowed "OL" at character 1`,
			"OL is what a meter shows in ohms when nothing connects. It is no pressure."},
		{"colour", "4", UnknownKind, `quantity: colour "4": unknown kind "colour"`,
			"This kind of reading is not known here."},
	}
	for _, tt := range tests {
		t.Run(string(tt.kind)+" "+tt.text, func(t *testing.T) {
			_, err := Parse(tt.kind, tt.text, Unit{})
			var bad *ParseError
			require.ErrorAs(t, err, &bad)
			assert.Equal(t, tt.reason, bad.Reason)
			assert.EqualError(t, err, tt.err)
			if tt.sentence != "" {
				assert.Equal(t, tt.sentence, bad.Sentence())
			}
		})
	}
	_, err := Parse(KindPressure, "4", Ohm)
	var bad *ParseError
	require.ErrorAs(t, err, &bad, "a field whose unit is of another kind")
	assert.Equal(t, OtherKindOfUnit, bad.Reason)
	assert.Panics(t, func() { MustParse(KindPressure, "x") })
	assert.InDelta(t, 54, PSI.From(MustParse(KindPressure, "54").SI), 1e-9)
}

func TestParseOutOfRange(t *testing.T) {
	tests := []struct {
		kind Kind
		text string
		unit Unit
		err  string
	}{
		{KindResistance, "-4.9", Unit{}, "quantity: resistance -4.9 ohm is outside 0 ohm to 10000000000 ohm"},
		{KindLength, "-1/4 in", Unit{}, "quantity: length -0.25 in is outside 0 in to 393.701 in"},
		{KindPressure, "-3 psi", Unit{}, "quantity: pressure -3 psi is outside 0 psi to 725.189 psi"},
		{KindPressure, "5400 psi", Unit{}, "quantity: pressure 5400 psi is outside 0 psi to 725.189 psi"},
		{KindTemperature, "-500 F", Unit{}, "quantity: temperature -500 °F is outside -76 °F to 572 °F"},
		{KindTemperature, "412 C", Unit{}, "quantity: temperature 412 °C is outside -60 °C to 300 °C"},
		{KindTemperature, "82 K", Unit{}, "quantity: temperature 82 K is outside 213.15 K to 573.15 K"},
		{KindCount, "-1", Unit{}, "quantity: count -1 is outside 0 to 1000"},
		{KindRotation, "-600", Unit{}, "quantity: rotational speed -600 rpm is outside 0 rpm to 10000 rpm"},
		{KindTurns, "287", Unit{}, "quantity: number of turns 287 turns is outside 0 turns to 50 turns"},
		{KindVoltage, "126", Unit{}, "quantity: voltage 126 V is outside -60 V to 60 V"},
	}
	for _, tt := range tests {
		t.Run(string(tt.kind)+" "+tt.text, func(t *testing.T) {
			_, err := Parse(tt.kind, tt.text, tt.unit)
			var out *RangeError
			require.ErrorAs(t, err, &out)
			assert.EqualError(t, err, tt.err)
			assert.Equal(t, "quantity", out.Package)
			assert.NotEmpty(t, out.Sentence())
		})
	}
	// The ends themselves are believed.
	for _, k := range Kinds {
		min, max, _ := Plausible(k)
		for _, v := range []Value{min, max} {
			u := Units(k)[len(Units(k))-1]
			_, err := Parse(k, Format(v, u, 12), u)
			var bad *ParseError
			assert.False(t, errors.As(err, &bad), "%s %v: %v", k, v, err)
		}
	}
	_, err := Parse(KindPressure, strings.Repeat("9", 60), Unit{})
	var out *RangeError
	require.ErrorAs(t, err, &out, "sixty digits are a number, but no pressure")
}

func TestParseDoesNotRepeatALongInput(t *testing.T) {
	for _, text := range []string{strings.Repeat("5", 10000), strings.Repeat("x", 10000), strings.Repeat("½", 65), strings.Repeat(" ", 10000)} {
		_, err := Parse(KindPressure, text, Unit{})
		var bad *ParseError
		require.ErrorAs(t, err, &bad)
		assert.Equal(t, TooLong, bad.Reason)
		assert.Less(t, len(err.Error()), 200)
		assert.Less(t, len(bad.Sentence()), 200)
	}
	_, err := Parse(KindPressure, strings.Repeat("x", 60), Unit{})
	assert.Less(t, len(err.Error()), 200)
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"4.9", "4,9", "1 200", "1,200", "180°F", "2-7/8", "½", "OL", "1e999", "NaN", "-0", "5k ohm", "\xff", "1.200,5"} {
		for i := range Kinds {
			f.Add(i, s)
		}
	}
	f.Fuzz(func(t *testing.T, i int, text string) {
		kind := Kinds[uint(i)%uint(len(Kinds))]
		r, err := Parse(kind, text, Unit{})
		if err != nil {
			var bad *ParseError
			var out *RangeError
			require.True(t, errors.As(err, &bad) || errors.As(err, &out), "untyped error %v", err)
			require.Less(t, len([]rune(err.Error())), 600)
			return
		}
		min, max, _ := Plausible(kind)
		require.False(t, math.IsNaN(r.SI) || math.IsInf(r.SI, 0))
		require.True(t, r.SI >= min.SI && r.SI <= max.SI)
		if r.OpenLoop {
			require.Equal(t, KindResistance, kind)
			return
		}
		// What is printed finely enough is read back as the same value.
		for _, u := range Units(kind) {
			if u == Each {
				continue
			}
			again, err := Parse(kind, Format(r.Value(), u, 12), Unit{})
			var out *RangeError
			if errors.As(err, &out) {
				continue // rounded over the edge of what is plausible
			}
			require.NoError(t, err)
			require.InDelta(t, r.SI, again.SI, math.Abs(u.Step(1e-12))+1e-9*math.Abs(r.SI))
		}
	})
}
