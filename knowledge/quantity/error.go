package quantity

import (
	"fmt"
	"math"
	"strconv"
)

// A Reason says what is wrong with a typed reading, so that a caller can choose
// words of its own.
type Reason string

// The reasons for a ParseError.
const (
	Empty           Reason = "empty"
	TooLong         Reason = "too long"
	NotANumber      Reason = "not a number"
	SeveralNumbers  Reason = "several numbers"
	Exponent        Reason = "exponent"
	BadFraction     Reason = "bad fraction"
	AmbiguousComma  Reason = "ambiguous comma"
	AmbiguousUnit   Reason = "ambiguous unit"
	UnknownUnit     Reason = "unknown unit"
	OtherKindOfUnit Reason = "unit of another kind"
	NotWhole        Reason = "not a whole number"
	OpenNotAllowed  Reason = "open loop not allowed"
	UnknownKind     Reason = "unknown kind"
)

// ParseError reports a reading that cannot be understood.
type ParseError struct {
	Kind   Kind
	Input  string // what was typed, cut to a few characters when long
	Place  int    // how many characters into the input the trouble begins
	Reason Reason
	Part   string // the part that is wrong, cut like Input
	Tip    string // what to type instead, a full sentence, or empty
}

// Error returns the fault for a log.
func (e *ParseError) Error() string {
	s := fmt.Sprintf("quantity: %s %q: %s", e.Kind.Word(), e.Input, e.Reason)
	if e.Part != "" {
		s += fmt.Sprintf(" %q", e.Part)
	}
	if e.Reason == Empty || e.Reason == TooLong || e.Reason == UnknownKind {
		return s
	}
	return s + fmt.Sprintf(" at character %d", e.Place+1)
}

// Sentence returns the fault for the person who typed, in full sentences.
func (e *ParseError) Sentence() string {
	var s string
	switch e.Reason {
	case Empty:
		s = "Nothing is typed yet."
	case TooLong:
		s = "That is too long for one reading."
	case NotANumber:
		s = fmt.Sprintf("%s is not a number.", quoted(e.Part))
	case SeveralNumbers:
		s = "That looks like more than one number."
	case Exponent:
		s = "Powers of ten are not read here."
	case BadFraction:
		s = fmt.Sprintf("%s is not a fraction that can be read.", quoted(e.Part))
	case AmbiguousComma:
		s = fmt.Sprintf("The comma in %s could mark decimals or thousands.", quoted(e.Part))
	case AmbiguousUnit:
		s = fmt.Sprintf("%s could be two units.", quoted(e.Part))
	case UnknownUnit:
		s = fmt.Sprintf("%s is not a unit known here.", quoted(e.Part))
	case OtherKindOfUnit:
		s = fmt.Sprintf("%s is not a unit of %s.", quoted(e.Part), e.Kind.Word())
	case NotWhole:
		s = "A count is a whole number."
	case OpenNotAllowed:
		s = fmt.Sprintf("OL is what a meter shows in ohms when nothing connects. It is no %s.", e.Kind.Word())
	case UnknownKind:
		s = "This kind of reading is not known here."
	}
	if e.Tip != "" {
		s += " " + e.Tip
	}
	return s
}

// RangeError reports a number outside what is physically plausible, or outside
// what a computation holds for. Package and Name say whose argument it was.
type RangeError struct {
	Package  string // "coil"
	Name     string // "lead resistance"
	Value    Value
	Min, Max Value
	Unit     Unit // in which the numbers are printed; zero: the kind's default
}

// Error returns the fault for a log, as "coil: temperature 412 °C is outside
// -40 °C to 180 °C".
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s: %s %s is outside %s to %s", e.Package, e.Name, e.show(e.Value), e.show(e.Min), e.show(e.Max))
}

// Sentence returns the fault for the person who typed, in full sentences.
func (e *RangeError) Sentence() string {
	return fmt.Sprintf("The %s, %s, is outside what is possible here, %s to %s. Check the number and its unit.",
		e.Name, e.show(e.Value), e.show(e.Min), e.show(e.Max))
}

func (e *RangeError) show(v Value) string {
	u := e.Unit
	if u.Kind != v.Kind {
		u = DefaultUnit(v.Kind)
	}
	if u.factor == 0 {
		return strconv.FormatFloat(v.SI, 'g', 6, 64)
	}
	x := u.From(v.SI)
	switch {
	case math.IsNaN(x):
		return "not a number"
	case math.IsInf(x, 1):
		return "∞"
	case math.IsInf(x, -1):
		return "-∞"
	}
	// A float's last bits would show after the conversion; ten digits hide them.
	x, _ = strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64)
	return joined(strconv.FormatFloat(x+0, 'f', -1, 64), u)
}

// Within returns nil if v lies in min to max, ends included, and otherwise a
// *RangeError that names the package and the argument and prints in unit.
// NaN lies nowhere.
func Within(pkg, name string, v, min, max Value, unit Unit) error {
	if v.SI >= min.SI && v.SI <= max.SI {
		return nil
	}
	return &RangeError{Package: pkg, Name: name, Value: v, Min: min, Max: max, Unit: unit}
}

// shown is how many characters of a long input an error repeats.
const shown = 24

func cut(s string) string {
	r := []rune(s)
	if len(r) <= shown {
		return s
	}
	return string(r[:shown]) + "…"
}

// quoted puts s in quotation marks and makes control characters visible.
func quoted(s string) string { return strconv.Quote(s) }
