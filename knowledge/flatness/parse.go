package flatness

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"provingbench/knowledge/quantity"
)

// Units are what numbers without a unit are meant in: places over the face, and
// heights or gaps.
type Units struct{ Across, Height quantity.Unit }

// Readings are points with the worth of the last digit of their heights, the
// finest that was typed; 0 where none was.
type Readings struct {
	Points []Point
	Step   quantity.Length
}

// Add adds a point; step is the worth of the last digit of its height.
func (r *Readings) Add(p Point, step quantity.Length) {
	r.Points = append(r.Points, p)
	if r.Step == 0 || step > 0 && step < r.Step {
		r.Step = step
	}
}

// ParsePoints reads a list of points as somebody types or pastes it: a row for
// each, with x, y and its height.
//
//	0 0 0.02             blanks, tabs, semicolons or a comma and a blank part them
//	0; 50; 0,02          a point or a comma marks decimals
//	0,50,0.02            two commas and no blank: they part the numbers
//	2 in  1/2 in  3 thou a unit holds for the number before it
//	A  0  0  -0.5        a name may stand first or last
//	x y z                a first row with these words only is passed over
//	# anything           blank rows and rows that begin with # are too
//
// Numbers are read as quantity.Parse reads lengths, and may have a sign.
// Errors: *Error with Input "points" that names the row.
// Source: none: this is a format of our own; checked in parse_test.go.
func ParsePoints(text string, units Units) (Readings, error) {
	var r Readings
	rows := 0
	for i, row := range split(text) {
		fields := fieldsOf(row)
		if len(fields) == 0 {
			continue
		}
		if rows++; rows > MostPoints {
			return Readings{}, &Error{Input: "points", Row: i + 1, Reason: TooMany}
		}
		if rows == 1 && heading(fields) {
			continue
		}
		var p Point
		var last quantity.Length
		if len(fields) == 4 && !numeric(fields[0]) {
			p.Name, fields = cut(fields[0]), fields[1:]
		} else if len(fields) == 4 && !numeric(fields[3]) {
			p.Name, fields = cut(fields[3]), fields[:3]
		}
		if len(fields) != 3 {
			return Readings{}, &Error{Input: "points", Row: i + 1, Reason: BadRow, Part: cut(strings.TrimSpace(row))}
		}
		for n, to := range []*quantity.Length{&p.X, &p.Y, &p.Z} {
			unit := units.Across
			if n == 2 {
				unit = units.Height
			}
			x, step, err := signed(fields[n], unit)
			if err != nil {
				return Readings{}, &Error{Input: "points", Row: i + 1, Reason: BadNumber, Part: cut(fields[n]), Err: err}
			}
			*to = x
			if n == 2 {
				last = step
			}
		}
		r.Add(p, last)
	}
	return r, nil
}

// ParseGrid reads the heights over a grid: a row of numbers for each row of
// places, in their order; dx is from one place of a row to the next, dy from
// row to row. A dash stands for a place without metal. Places are named A1, A2
// and so on, the first row being A.
//
// dx and dy must be more than 0.
// Errors: *Error with Input "grid" that names the row, or with Input "pitch".
// Source: none: this is a format of our own; checked in parse_test.go.
func ParseGrid(text string, dx, dy quantity.Length, unit quantity.Unit) (Readings, error) {
	if !(dx > 0 && dx <= Reach) || !(dy > 0 && dy <= Reach) {
		return Readings{}, &Error{Input: "pitch", Reason: TooFar, Part: quantity.FormatSignificant(min(dx, dy).Value(), unit, 3)}
	}
	var r Readings
	columns, down := 0, 0
	for i, row := range split(text) {
		fields := fieldsOf(row)
		if len(fields) == 0 {
			continue
		}
		fail := func(reason Reason, part string, err error) (Readings, error) {
			return Readings{}, &Error{Input: "grid", Row: i + 1, Reason: reason, Part: part, Err: err}
		}
		if columns == 0 {
			columns = len(fields)
		}
		switch {
		case len(fields) != columns:
			return fail(Uneven, "", nil)
		case (down+1)*columns > MostPoints:
			return fail(TooMany, "", nil)
		}
		for n, field := range fields {
			if field == "-" || field == "–" || field == "−" {
				continue
			}
			z, step, err := signed(field, unit)
			if err != nil {
				return fail(BadNumber, cut(field), err)
			}
			r.Add(Point{Name: Place(down, n), X: quantity.Length(n) * dx, Y: quantity.Length(down) * dy, Z: z}, step)
		}
		down++
	}
	return r, nil
}

// Place names the place of a grid in a row and column that count from 0.
//
// Errors: none.
// Source: none; checked in parse_test.go.
func Place(row, column int) string {
	s := ""
	for ; row >= 0; row = row/26 - 1 {
		s = string(rune('A'+row%26)) + s
	}
	return s + number(column+1)
}

// ParseLines reads lines of a straightedge: a row that begins with the line's
// name and says where it runs, then a row for each place that was tried.
//
//	A  0 0  200 0        name, x and y of its first end, of its second end
//	0    0               how far along, thickest feeler that goes under
//	100  0.05  0.08      and the thinnest that does not, if it is not step more
//	200  0
//
// step is how much thicker the next feeler is; 0 stands for FeelerStep.
// Numbers, units, blank rows and # are as in ParsePoints.
// Errors: *Error with Input "lines" that names the row.
// Source: none: this is a format of our own; checked in parse_test.go.
func ParseLines(text string, step quantity.Length, units Units) ([]Line, error) {
	if !(step > 0) {
		step = FeelerStep
	}
	var lines []Line
	read := 0
	for i, row := range split(text) {
		fields := fieldsOf(row)
		if len(fields) == 0 {
			continue
		}
		fail := func(reason Reason, part string, err error) ([]Line, error) {
			return nil, &Error{Input: "lines", Row: i + 1, Reason: reason, Part: cut(part), Err: err}
		}
		var x [4]quantity.Length
		numbers := fields
		begins := !numeric(fields[0])
		if begins {
			numbers = fields[1:]
		}
		if begins && len(numbers) != 4 || !begins && len(numbers) != 2 && len(numbers) != 3 {
			return fail(BadRow, strings.TrimSpace(row), nil)
		}
		for n, field := range numbers {
			unit := units.Across
			if !begins && n > 0 {
				unit = units.Height
			}
			var err error
			if x[n], _, err = signed(field, unit); err != nil {
				return fail(BadNumber, field, err)
			}
		}
		if begins {
			lines = append(lines, Line{Name: cut(fields[0]), X1: x[0], Y1: x[1], X2: x[2], Y2: x[3]})
			continue
		}
		if len(lines) == 0 {
			return fail(NoHeading, "", nil)
		}
		f := Feeler{At: x[0], Goes: x[1], Stops: x[1] + step}
		if len(numbers) == 3 {
			f.Stops = x[2]
		}
		l := &lines[len(lines)-1]
		switch {
		case !(f.Goes >= 0 && f.Stops > f.Goes):
			return fail(BadGaps, "", nil)
		case !(f.At >= 0 && f.At <= l.Length()*1.001):
			return fail(NotOnLine, fields[0], nil)
		}
		if read++; read > MostReadings {
			return fail(TooMany, "", nil)
		}
		l.Readings = append(l.Readings, f)
	}
	return lines, nil
}

func number(n int) string { return strconv.Itoa(n) }

// split returns the rows of a text; those with nothing to read come out empty,
// so that the others keep their numbers.
func split(text string) []string {
	rows := strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
	for i, row := range rows {
		if strings.HasPrefix(strings.TrimSpace(row), "#") {
			rows[i] = ""
		}
	}
	return rows
}

// fieldsOf parts a row into names and numbers, each number with its unit.
func fieldsOf(row string) []string {
	var raw []string
	if strings.ContainsAny(row, "\t;") {
		raw = strings.FieldsFunc(row, func(r rune) bool { return r == '\t' || r == ';' })
	} else {
		raw = strings.Fields(row)
		if len(raw) == 1 && strings.Count(row, ",") == 2 {
			raw = strings.Split(raw[0], ",")
		}
	}
	var fields []string
	for _, f := range raw {
		if f = strings.TrimRight(strings.TrimSpace(f), ","); f == "" {
			continue
		}
		if n := len(fields); n > 0 && !numeric(f) && numeric(fields[n-1]) && endsInDigit(fields[n-1]) {
			if _, ok := quantity.UnitNamed(quantity.KindLength, f); ok {
				fields[n-1] += " " + f
				continue
			}
		}
		fields = append(fields, f)
	}
	return fields
}

// numeric reports whether a field looks like a number rather than a name.
func numeric(field string) bool {
	for _, r := range field {
		switch {
		case unicode.IsDigit(r) || r == '½' || r == '¼' || r == '¾':
			return true
		case r != '+' && r != '-' && r != '−' && r != '–' && r != '.' && r != ',':
			return false
		}
	}
	return false
}

func endsInDigit(field string) bool {
	last := field[len(field)-1]
	return last >= '0' && last <= '9' || last == '.'
}

// heading reports whether a row says no more than what stands under it.
func heading(fields []string) bool {
	words := 0
	for _, f := range fields {
		switch strings.ToLower(f) {
		case "x", "y", "z":
			words++
		case "name", "point":
		default:
			return false
		}
	}
	return words == 3
}

// signed reads a length that may be negative.
func signed(field string, unit quantity.Unit) (x, step quantity.Length, err error) {
	rest, minus := field, false
	for _, sign := range []string{"-", "−", "–"} {
		if after, ok := strings.CutPrefix(field, sign); ok {
			rest, minus = after, true
		}
	}
	r, err := plain(rest, unit)
	if err != nil {
		return 0, 0, err
	}
	if minus {
		r.SI = -r.SI
	}
	if math.Abs(r.SI) > float64(Reach) {
		return 0, 0, &Error{Input: "points", Reason: TooFar, Part: cut(field)}
	}
	return quantity.Length(r.SI), quantity.Length(r.Resolution), nil
}

// plain reads what most of a pasted list is, digits with a point, by itself:
// quantity.Parse knows much more and takes its time.
func plain(text string, unit quantity.Unit) (quantity.Reading, error) {
	point := -1
	for i := range len(text) {
		switch {
		case text[i] == '.' && point < 0:
			point = i
		case text[i] < '0' || text[i] > '9':
			return quantity.Parse(quantity.KindLength, text, unit)
		}
	}
	x, err := strconv.ParseFloat(text, 64)
	si := unit.SI(x)
	if err != nil || len(text) > 24 || unit.Kind != quantity.KindLength || si > float64(Reach) {
		return quantity.Parse(quantity.KindLength, text, unit)
	}
	step := 1.0
	if point >= 0 {
		step = math.Pow10(point + 1 - len(text))
	}
	return quantity.Reading{Kind: quantity.KindLength, SI: si, Resolution: unit.Step(step), Text: text}, nil
}
