package ratio

import (
	"strconv"
	"strings"

	"provingbench/knowledge/quantity"
)

// A Tyre is a size as it is molded into a sidewall.
type Tyre struct {
	Size      string          // in one spelling: "LT235/85R16", "31x10.50R15"
	Prefix    string          // P, LT, ST, T, or empty
	Flotation bool            // sized by its diameter and width in inches
	Bias      bool            // cross-ply; radial otherwise
	LoadRange string          // one letter, or empty
	Width     quantity.Length // section width
	Aspect    quantity.Ratio  // section height for section width; 0 for a flotation size
	Rim       quantity.Length // rim diameter
	Diameter  quantity.Length // overall, new and not loaded, by the size alone
}

// A TyreError reports a size that cannot be read.
type TyreError struct {
	Input string // the input it blames, Size
	Text  string // what was typed, cut when long
	Part  string // what is wrong: "aspect ratio"
	Tip   string // what to type instead, a full sentence
}

// Error returns the fault for a log.
func (e *TyreError) Error() string {
	return "ratio: tyre size " + strconv.Quote(e.Text) + ": " + e.Part
}

// Sentence returns the fault for the person who typed, in full sentences.
func (e *TyreError) Sentence() string {
	if e.Text == "" {
		return e.Tip
	}
	return strconv.Quote(e.Text) + " cannot be read as a tyre size: " + e.Part + ". " + e.Tip
}

// ExampleSize is a size, for who types one.
const ExampleSize = "LT235/85R16"

const exampleSizes = "Type it as on the sidewall, for example " + ExampleSize + " or 31x10.50R15."

// The sizes that are read. They are wide: from a spare of a small car to the
// largest tyre that is put under a pickup.
const (
	leastWidth, mostWidth       = 105, 455 // mm
	leastAspect, mostAspect     = 25, 100  // %
	leastRim, mostRim           = 10, 30   // in
	leastOverall, mostOverall   = 20, 54   // in
	leastInchWide, mostInchWide = 5, 22    // in
	longestSize                 = 40       // characters
	millimetre, inchInMetres    = 1e-3, 25.4e-3
)

// ParseTyre reads a tyre size in the metric form or in the flotation form.
//
//	LT235/85R16   P265/70R17   235/85-16   LT235/85R16/E 120/116R
//	31x10.50R15   33X12.50R16.5LT
//
// The overall diameter follows from the size: rim + 2 · width · aspect for the
// metric form, the first number for the flotation form. A new tyre is off by up to
// 1.5 %, and a worn one is up to 3 % smaller than new. Old sizes such as 7.50R16 say
// no diameter and are refused.
// Errors: *TyreError.
// Source: the size designations of the tyre and rim standards; checked against a tyre maker's size sheets in tyre_test.go.
func ParseTyre(text string) (Tyre, error) {
	shown := strings.TrimSpace(text)
	fail := func(part, tip string) (Tyre, error) {
		if r := []rune(shown); len(r) > 24 {
			shown = string(r[:24]) + "…"
		}
		return Tyre{}, &TyreError{Input: Size, Text: shown, Part: part, Tip: tip}
	}
	if shown == "" {
		return fail("nothing is typed", "Nothing is typed yet. "+exampleSizes)
	}
	if len(shown) > longestSize {
		return fail("it is too long", exampleSizes)
	}
	s := scanner(strings.NewReplacer("×", "X", ",", ".").Replace(strings.ToUpper(shown)))

	var t Tyre
	for _, p := range []string{"LT", "ST", "P", "T"} {
		if s.word(p) {
			t.Prefix = p
			break
		}
	}
	first, ok := s.number()
	if !ok {
		return fail("it does not start with a number", exampleSizes)
	}
	switch {
	case s.word("/"), s.word("X"):
	default:
		return fail("it says no height", "A size such as 7.50R16 says no diameter: type the revolutions for a mile from the maker's sheet, or measure the tyre.")
	}
	second, ok := s.number()
	if !ok {
		return fail("the second number is missing", exampleSizes)
	}
	radial := false
	switch {
	case s.word("ZR"), s.word("R"):
		radial = true
	case s.word("D"), s.word("B"), s.word("-"):
	default:
		return fail("R or a hyphen is missing before the rim", exampleSizes)
	}
	t.Bias = !radial
	rim, ok := s.number()
	if !ok {
		return fail("the rim is missing", exampleSizes)
	}
	if rim < leastRim || rim > mostRim {
		return fail("a rim of "+trim(rim)+" in is not known here", exampleSizes)
	}
	t.Rim = quantity.Length(rim * inchInMetres)

	build := "R"
	if t.Bias {
		build = "-"
	}
	// A width in millimetres is three digits; a diameter in inches is two.
	if first < 100 {
		if first < leastOverall || first > mostOverall || second < leastInchWide || second > mostInchWide || first < rim+2 {
			return fail("no such tyre is known here", exampleSizes)
		}
		t.Flotation = true
		t.Diameter, t.Width = quantity.Length(first*inchInMetres), quantity.Length(second*inchInMetres)
		t.Size = trim(first) + "x" + strconv.FormatFloat(second, 'f', 2, 64) + build + trim(rim)
	} else {
		if first < leastWidth || first > mostWidth || second < leastAspect || second > mostAspect {
			return fail("no such tyre is known here", exampleSizes)
		}
		t.Width, t.Aspect = quantity.Length(first*millimetre), quantity.Ratio(second/100)
		t.Diameter = t.Rim + 2*t.Width*quantity.Length(t.Aspect)
		if t.Diameter < validDiameter[0] || t.Diameter > validDiameter[1] {
			return fail("no such tyre is known here", exampleSizes)
		}
		t.Size = trim(first) + "/" + trim(second) + build + trim(rim)
	}
	t.Size = t.Prefix + t.Size
	for _, field := range strings.FieldsFunc(string(s), func(r rune) bool { return r == ' ' || r == '/' }) {
		for _, r := range field {
			if !(r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '+' || r == '(' || r == ')') {
				return fail(strconv.Quote(field)+" is not part of a size", exampleSizes)
			}
		}
		if t.LoadRange == "" && len(field) == 1 && field[0] >= 'B' && field[0] <= 'N' {
			t.LoadRange = field
		}
	}
	return t, nil
}

func trim(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// A scanner is what is left of a size to read.
type scanner string

// word takes w, with blanks before it, and reports whether it was there.
func (s *scanner) word(w string) bool {
	rest, ok := strings.CutPrefix(strings.TrimLeft(string(*s), " "), w)
	if ok {
		*s = scanner(rest)
	}
	return ok
}

// number takes a plain decimal number of up to six characters.
func (s *scanner) number() (float64, bool) {
	text := strings.TrimLeft(string(*s), " ")
	n := 0
	for n < len(text) && n < 7 && (text[n] >= '0' && text[n] <= '9' || text[n] == '.') {
		n++
	}
	x, err := strconv.ParseFloat(text[:n], 64)
	if err != nil || n > 6 {
		return 0, false
	}
	*s = scanner(text[n:])
	return x, true
}

// Rolling is how far a tyre carries the truck in one turn.
type Rolling struct {
	Circumference quantity.Length
	// Limit is the most by which it can be off, as a share of it.
	Limit quantity.Ratio
	// From says in words where it comes from.
	From string
}

// Shares by which a rolling circumference can be off.
const (
	// SizeLimit is for one that is only known by the tyre's size. New tyres of two
	// size sheets differ from what their size says by up to 1.5 %, and a light
	// truck tyre with 0.5 in of tread shrinks by 2.8 % until it is worn out: one in
	// the middle of its life is within 3 %.
	SizeLimit quantity.Ratio = 0.03
	// SheetLimit is for a tyre maker's revolutions for a mile: the tyre at hand is
	// worn and loaded otherwise (from memory).
	SheetLimit quantity.Ratio = 0.015
	// MeasuredLimit is for a tyre that was rolled along a tape (common practice).
	MeasuredLimit quantity.Ratio = 0.005
)

// Rolling circumference for overall diameter, at speed and under its load: a
// loaded tyre rolls less than its own circumference of 3.1416 diameters.
const (
	radialFactor = 3.05 // ETRTO standards manual, radial ply, from memory; size sheets agree
	biasFactor   = 2.99 // ETRTO standards manual, diagonal ply, from memory
)

// The circumferences and diameters that are believed.
var (
	validRolling  = [2]quantity.Length{1, 4.5}
	validDiameter = [2]quantity.Length{0.4, 1.4}
)

// Rolling returns the rolling circumference that the size leads to.
//
//	C = 3.05 · D for a radial tyre, 2.99 · D for a cross-ply
//
// Errors: *quantity.RangeError for a Tyre that did not come from ParseTyre.
// Source: the European tyre and rim standards' rule for the rolling circumference, from memory; checked against a tyre maker's size sheets in tyre_test.go.
func (t Tyre) Rolling() (Rolling, error) {
	r, err := FromDiameter(t.Diameter, t.Bias)
	if err != nil {
		return Rolling{}, err
	}
	r.From = "by its size " + t.Size
	return r, nil
}

// FromDiameter returns the rolling circumference of a tyre whose overall
// diameter is d, new and not loaded.
//
//	C = 3.05 · D for a radial tyre, 2.99 · D for a cross-ply
//
// d must lie in 0.4 m to 1.4 m.
// Errors: *quantity.RangeError naming Diameter.
// Source: as Tyre.Rolling; checked in tyre_test.go.
func FromDiameter(d quantity.Length, bias bool) (Rolling, error) {
	if err := within(Diameter, d.Value(), validDiameter[0].Value(), validDiameter[1].Value(), quantity.Inch); err != nil {
		return Rolling{}, err
	}
	factor := quantity.Length(radialFactor)
	if bias {
		factor = biasFactor
	}
	return Rolling{factor * d, SizeLimit, "by its diameter"}, nil
}

// FromTurns returns the rolling circumference of a tyre that makes so many
// turns for a distance, as a tyre maker's sheet says.
//
//	C = 1 / n
//
// n must be 0.22 to 1 turn for a metre, 358 to 1609 for a mile.
// Errors: *quantity.RangeError naming Turns.
// Source: definition; checked in tyre_test.go.
func FromTurns(n quantity.PerDistance) (Rolling, error) {
	if err := within(Turns, n.Value(), quantity.PerDistance(1/validRolling[1]).Value(), quantity.PerDistance(1/validRolling[0]).Value(), quantity.PerMile); err != nil {
		return Rolling{}, err
	}
	return Rolling{quantity.Length(1 / n), SheetLimit, "by the tyre maker's sheet"}, nil
}

// FromRollOut returns the rolling circumference of a tyre that was rolled
// along a tape: the way from the chalk mark's first touch to its last, and the
// turns between.
//
//	C = way / turns
//
// turns must be 1 to 20, the circumference 1 m to 4.5 m.
// Errors: *quantity.RangeError naming RollTurns or RollWay.
// Source: definition; checked in tyre_test.go.
func FromRollOut(way quantity.Length, turns quantity.Turns) (Rolling, error) {
	if err := within(RollTurns, turns.Value(), quantity.Turns(1).Value(), quantity.Turns(20).Value(), quantity.Turn); err != nil {
		return Rolling{}, err
	}
	n := quantity.Length(turns)
	if err := within(RollWay, way.Value(), (validRolling[0] * n).Value(), (validRolling[1] * n).Value(), quantity.Inch); err != nil {
		return Rolling{}, err
	}
	return Rolling{way / n, MeasuredLimit, "rolled along a tape"}, nil
}

// PerDistance returns how many turns the tyre makes for a distance.
//
//	n = 1 / C
//
// Errors: *quantity.RangeError for a circumference that is not 1 m to 4.5 m.
// Source: definition; checked against a tyre maker's size sheets in tyre_test.go.
func (r Rolling) PerDistance() (quantity.PerDistance, error) {
	if err := r.check(); err != nil {
		return 0, err
	}
	return quantity.PerDistance(1 / r.Circumference), nil
}

func (r Rolling) check() error {
	if err := within(Circumference, r.Circumference.Value(), validRolling[0].Value(), validRolling[1].Value(), quantity.Inch); err != nil {
		return err
	}
	return within(Circumference+"'s uncertainty", r.Limit.Value(), quantity.Ratio(0).Value(), quantity.Ratio(0.2).Value(), quantity.Percent)
}
