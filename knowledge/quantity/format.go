package quantity

import (
	"fmt"
	"math"
	"strconv"
)

// NoValue is printed for a number that is none.
const NoValue = "no value"

// Format prints v in unit with the given digits after the decimal point; fewer
// than zero means as many as the unit has in the trade. The zero Unit means the
// kind's default. A unit of another kind, NaN and infinities print as NoValue.
func Format(v Value, unit Unit, digits int) string {
	if unit.Kind == "" {
		unit = DefaultUnit(v.Kind)
	}
	if unit.Kind != v.Kind || unit.factor == 0 {
		return NoValue
	}
	x := unit.From(v.SI)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return NoValue
	}
	if digits < 0 {
		digits = unit.Decimals
	}
	return joined(rounded(x, digits), unit)
}

// FormatBoth prints v in unit and, in brackets, in the other system of
// measures: "180 °F (82 °C)". The second number is as fine as the first: its
// last digit is worth at most twice as much. Where both systems share the unit,
// or the value prints as NoValue, it prints like Format.
func FormatBoth(v Value, unit Unit, digits int) string {
	if unit.Kind == "" {
		unit = DefaultUnit(v.Kind)
	}
	first := Format(v, unit, digits)
	other, ok := unit.Counterpart()
	if !ok || first == NoValue {
		return first
	}
	if digits < 0 {
		digits = unit.Decimals
	}
	return fmt.Sprintf("%s (%s)", first, Format(v, other, asFine(unit, other, digits)))
}

// asFine is how many digits after the point make a number in other as fine as
// one in unit: the last is worth at most twice as much.
func asFine(unit, other Unit, digits int) int {
	step := unit.Step(math.Pow10(-digits))
	fine := 0
	for fine < 6 && other.Step(math.Pow10(-fine)) > 2*step {
		fine++
	}
	return fine
}

// FormatFraction prints v in unit as a whole number and a fraction whose
// denominator divides parts, "2-7/8 turns". A value that is no such fraction to
// within a thousandth of a part prints like Format.
func FormatFraction(v Value, unit Unit, parts int) string {
	if unit.Kind == "" {
		unit = DefaultUnit(v.Kind)
	}
	plain := Format(v, unit, -1)
	if plain == NoValue || parts < 1 || parts > 128 {
		return plain
	}
	n := unit.From(v.SI) * float64(parts)
	// Beyond a million parts the number is not one that people write so.
	if n < 0 || n > 1e6 || math.Abs(n-math.Round(n)) > 1e-3 {
		return plain
	}
	whole, num, den := int(math.Round(n))/parts, int(math.Round(n))%parts, parts
	for num != 0 && num%2 == 0 && den%2 == 0 {
		num, den = num/2, den/2
	}
	switch {
	case num == 0:
		return joined(strconv.Itoa(whole), unit)
	case whole == 0:
		return joined(fmt.Sprintf("%d/%d", num, den), unit)
	}
	return joined(fmt.Sprintf("%d-%d/%d", whole, num, den), unit)
}

func rounded(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if z, err := strconv.ParseFloat(s, 64); err == nil && z == 0 {
		s = strconv.FormatFloat(0, 'f', digits, 64) // not "-0"
	}
	return s
}

func joined(number string, u Unit) string {
	if u.Name == "" {
		return number
	}
	return number + " " + u.Name
}

// FormatSignificant prints v in unit with the given significant digits and
// without trailing zeros: 3.698 as "3.7 ohm", 31.74 as "31.7 ohm". It suits
// computed numbers, whose size is not known beforehand. Otherwise it is Format.
func FormatSignificant(v Value, unit Unit, digits int) string {
	if unit.Kind == "" {
		unit = DefaultUnit(v.Kind)
	}
	if plain := Format(v, unit, 0); plain == NoValue || digits < 1 {
		return plain
	}
	x, err := strconv.ParseFloat(strconv.FormatFloat(unit.From(v.SI), 'g', digits, 64), 64)
	if err != nil {
		return NoValue
	}
	return joined(strconv.FormatFloat(x+0, 'f', -1, 64), unit)
}
