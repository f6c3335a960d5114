package quantity

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// longest is how many characters a reading can have; nothing that is read off
// an instrument needs half as many.
const longest = 64

// vulgar spells out the fractions that a phone's keyboard offers as one sign.
var vulgar = map[rune]string{
	'½': "1/2", '¼': "1/4", '¾': "3/4", '⅛': "1/8", '⅜': "3/8", '⅝': "5/8", '⅞': "7/8", '⅓': "1/3", '⅔': "2/3",
}

// openWords are the ways in which people write a meter's open reading. 0L is
// among them because a seven-segment display draws O as 0, and nothing that is
// measured in ohms has the unit L.
var openWords = []string{"ol", "0l", "open", "openloop", "opencircuit", "infinite", "infinity", "∞", "overload", "overlimit", "overrange"}

// Parse reads what a person typed into a field for a reading of the given kind.
// A number without a unit is taken in unit, and in the kind's default unit if
// unit is the zero Unit. The package comment shows what can be typed.
//
// The result is finite and within Plausible(kind); -0 becomes 0. A reading of
// resistance can be an open loop instead of a number.
//
// Errors: *ParseError for what cannot be understood, *RangeError for a number
// that cannot be true. Both have a Sentence for the screen.
func Parse(kind Kind, text string, unit Unit) (Reading, error) {
	fail := func(reason Reason, place int, part, tip string) (Reading, error) {
		return Reading{}, &ParseError{Kind: kind, Input: cut(text), Place: place, Reason: reason, Part: cut(part), Tip: tip}
	}
	fallback := DefaultUnit(kind)
	if fallback.Kind == "" {
		return fail(UnknownKind, 0, string(kind), "")
	}
	if unit.Kind == "" {
		unit = fallback
	} else if unit.Kind != kind {
		return fail(OtherKindOfUnit, 0, unit.Name, "")
	}
	if utf8.RuneCountInString(text) > longest {
		return fail(TooLong, 0, "", example(unit))
	}
	if !utf8.ValidString(text) {
		return fail(NotANumber, 0, text, example(unit))
	}

	// Every character keeps its place, so that an error can point at it.
	runes := []rune(text)
	start, end := 0, len(runes)
	for start < end && unicode.IsSpace(runes[start]) {
		start++
	}
	for end > start && unicode.IsSpace(runes[end-1]) {
		end--
	}
	if start == end {
		return fail(Empty, 0, "", example(unit))
	}
	typed := string(runes[start:end])

	if isOpen(typed) {
		if kind != KindResistance {
			return fail(OpenNotAllowed, start, typed, "")
		}
		return Reading{Kind: kind, OpenLoop: true, Text: typed}, nil
	}

	split := start
	for split < end && inNumber(runes[split]) {
		split++
	}
	n, bad := number(runes[start:split])
	if bad != nil {
		part := string(runes[start:split])
		if bad.reason == NotANumber {
			part = typed
		}
		tip := bad.tip
		if tip == "" {
			tip = example(unit)
		}
		return fail(bad.reason, start+bad.place, part, tip)
	}

	if split < end {
		name := string(runes[split:end])
		if hasExponent(runes[split:end]) {
			return fail(Exponent, split, name, "Write the number out in full.")
		}
		spelling := spelled(plainSpaces(name))
		switch u, ok := match(kind, spelling); {
		case ok:
			unit = u
		case kind == KindTemperature && (spelling == "°" || strings.EqualFold(spelling, "deg") || strings.EqualFold(spelling, "degrees")):
			// Degrees without a scale are those that the field asks for.
		default:
			reason, tip := refuse(kind, spelling)
			return fail(reason, split, name, tip)
		}
	}

	if kind == KindCount && n.value != math.Trunc(n.value) {
		return fail(NotWhole, start, string(runes[start:split]), "")
	}
	si := unit.SI(n.value)
	if si == 0 {
		si = 0 // a display's -0.0 is a zero
	}
	limits := plausible[kind]
	if err := Within("quantity", kind.Word(), Value{kind, si}, Value{kind, limits.min}, Value{kind, limits.max}, unit); err != nil {
		return Reading{}, err
	}
	return Reading{Kind: kind, SI: si, Resolution: unit.Step(n.step), Text: typed}, nil
}

// MustParse is Parse with the kind's default unit; it panics on an error. It is
// intended for tests and for constants in code.
func MustParse(kind Kind, text string) Reading {
	r, err := Parse(kind, text, Unit{})
	if err != nil {
		panic(err)
	}
	return r
}

func example(u Unit) string {
	text := "Type the number, for example "
	switch u {
	case PSI:
		return text + "54 psi."
	case Fahrenheit:
		return text + "180 °F."
	case Celsius:
		return text + "82 °C."
	case Ohm:
		return text + "4.9, or OL if the meter shows it."
	case Inch:
		return text + "0.015 or 1/4."
	case Turn:
		return text + "2-7/8."
	}
	return text + joined("12", u) + "."
}

func isOpen(typed string) bool {
	if inNumber([]rune(typed)[0]) && typed[0] != '0' && typed[0] != '.' {
		return false // -OL is what a meter shows for volts, never for ohms
	}
	s := strings.ToLower(spelled(plainSpaces(typed)))
	for _, w := range openWords {
		if s == w {
			return true
		}
		// A display shows its range beside OL.
		if rest, ok := strings.CutPrefix(s, w); ok && w == "ol" {
			switch rest {
			case "ω", "ohm", "ohms", "k", "kω", "kohm", "m", "mω", "mohm":
				return true
			}
		}
	}
	return false
}

// refuse says what is wrong with a spelling that is no unit of kind.
func refuse(kind Kind, spelling string) (Reason, string) {
	if kind == KindResistance {
		switch strings.ToLower(spelling) {
		case "m", "mohm", "mohms":
			return AmbiguousUnit, "Type Mohm for megohm, or milliohm."
		}
	}
	for _, u := range units {
		if u.Kind == kind && u.exact && strings.EqualFold(spelled(u.Name), spelling) {
			return UnknownUnit, "Did you mean " + u.Name + "?"
		}
	}
	for _, k := range Kinds {
		if u, ok := match(k, spelling); ok && k != kind {
			return OtherKindOfUnit, "It measures " + u.Kind.Word() + "." + legal(kind)
		}
	}
	return UnknownUnit, strings.TrimSpace(legal(kind))
}

// legal lists the units of a kind in a sentence, or nothing where it has none.
func legal(kind Kind) string {
	var names []string
	for _, u := range Units(kind) {
		if u.Name != "" {
			names = append(names, u.Name)
		}
	}
	if len(names) == 0 {
		return " No unit is needed."
	}
	return " Known here: " + strings.Join(names, ", ") + "."
}

func hasExponent(rest []rune) bool {
	if len(rest) < 2 || rest[0] != 'e' && rest[0] != 'E' {
		return false
	}
	return rest[1] == '+' || rest[1] == '-' || rest[1] >= '0' && rest[1] <= '9'
}

func plainSpaces(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, s)
}

// inNumber reports whether r can be part of a number.
func inNumber(r rune) bool {
	if r >= '0' && r <= '9' || unicode.IsSpace(r) {
		return true
	}
	switch r {
	case '.', ',', '/', '⁄', '-', '−', '‐', '‑', '–', '+':
		return true
	}
	_, ok := vulgar[r]
	return ok
}

// typedNumber is a number and the worth of its last digit.
type typedNumber struct{ value, step float64 }

// badNumber says why a text is no number; place counts from the text's start.
type badNumber struct {
	reason Reason
	place  int
	tip    string
}

// number reads the characters that inNumber let through.
func number(runes []rune) (typedNumber, *badNumber) {
	var b strings.Builder
	for _, r := range runes {
		switch {
		case vulgar[r] != "":
			b.WriteString(" " + vulgar[r] + " ")
		case unicode.IsSpace(r):
			b.WriteByte(' ')
		case r == '−' || r == '‐' || r == '‑' || r == '–':
			b.WriteByte('-')
		case r == '⁄':
			b.WriteByte('/')
		default:
			b.WriteRune(r)
		}
	}
	s := strings.TrimSpace(b.String())
	sign := 1.0
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = -1
		}
		s = s[1:]
	}
	if !strings.ContainsAny(s, "0123456789") {
		return typedNumber{}, &badNumber{reason: NotANumber}
	}
	var n typedNumber
	var bad *badNumber
	if strings.Contains(s, "/") {
		n, bad = fraction(s)
	} else {
		n, bad = decimal(s)
	}
	n.value *= sign
	return n, bad
}

// fraction reads 1/4, 2-7/8 and 2 7/8.
func fraction(s string) (typedNumber, *badNumber) {
	bad := &badNumber{reason: BadFraction}
	upper, lower, _ := strings.Cut(s, "/")
	upper, lower = strings.TrimSpace(upper), strings.TrimSpace(lower)
	whole := ""
	if i := strings.LastIndexAny(upper, " -"); i >= 0 {
		whole = strings.TrimRight(upper[:i], " -")
		if between := upper[len(whole) : i+1]; whole == "" || strings.Count(between, "-") > 1 {
			return typedNumber{}, bad
		}
		upper = upper[i+1:]
	}
	// 128 is the finest fraction of an inch that anybody engraves; four digits
	// of whole part cannot be a group of thousands and a numerator run together.
	num, ok1 := digits(upper, 3)
	den, ok2 := digits(lower, 3)
	w, ok3 := 0.0, true
	if whole != "" {
		w, ok3 = digits(whole, 4)
	}
	if !ok1 || !ok2 || !ok3 || den == 0 || den > 128 || whole != "" && num >= den {
		return typedNumber{}, bad
	}
	return typedNumber{w + num/den, 1 / den}, nil
}

// digits reads one to most digits and nothing else.
func digits(s string, most int) (float64, bool) {
	if len(s) == 0 || len(s) > most || !allDigits(s) {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return float64(n), err == nil
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

// decimal reads a number with a point or a comma and with groups of three.
func decimal(s string) (typedNumber, *badNumber) {
	if i := strings.IndexAny(s, "-+"); i >= 0 {
		return typedNumber{}, &badNumber{reason: SeveralNumbers, place: i}
	}
	commas, points, blanks := strings.Count(s, ","), strings.Count(s, "."), strings.Count(s, " ")

	// Which sign marks the decimals, and which parts the groups?
	mark, group := "", ""
	switch {
	case blanks > 0:
		group = " "
		if commas+points > 1 {
			return typedNumber{}, &badNumber{reason: SeveralNumbers}
		}
		mark = "."
		if commas == 1 {
			mark = ","
		}
	case commas > 0 && points > 0:
		mark, group = ".", ","
		if strings.LastIndex(s, ",") > strings.LastIndex(s, ".") {
			mark, group = ",", "."
		}
	case commas > 1:
		group = ","
	case points > 1:
		group = "."
	case commas == 1:
		mark = ","
		i := strings.Index(s, ",")
		before, after := s[:i], s[i+1:]
		if len(after) == 3 && len(before) >= 1 && len(before) <= 3 && before[0] != '0' {
			return typedNumber{}, &badNumber{reason: AmbiguousComma, place: i,
				tip: "Type " + before + after + " or " + before + "." + after + "."}
		}
	default:
		mark = "."
	}

	whole, part := s, ""
	if mark != "" {
		whole, part, _ = strings.Cut(s, mark)
	}
	if group != "" && strings.Contains(whole, group) {
		groups := strings.Split(whole, group)
		for i, g := range groups {
			if !allDigits(g) || i > 0 && len(g) != 3 || i == 0 && (len(g) < 1 || len(g) > 3 || g[0] == '0') {
				return typedNumber{}, &badNumber{reason: SeveralNumbers, place: strings.Index(s, group)}
			}
		}
		whole = strings.Join(groups, "")
	}
	if !allDigits(whole) || !allDigits(part) {
		return typedNumber{}, &badNumber{reason: SeveralNumbers}
	}
	v, err := strconv.ParseFloat("0"+whole+"."+part+"0", 64)
	if err != nil {
		return typedNumber{}, &badNumber{reason: NotANumber}
	}
	return typedNumber{v, math.Pow10(-len(part))}, nil
}
