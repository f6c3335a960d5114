package flatness

import (
	"fmt"
	"math"
	"strings"

	"provingbench/knowledge/quantity"
)

// A Line is where a straightedge lay, and the feelers that were tried under it.
type Line struct {
	Name           string
	X1, Y1, X2, Y2 quantity.Length // its ends, over the face
	Readings       []Feeler
}

// A Feeler is the gap under a straightedge at one place of its line.
type Feeler struct {
	At quantity.Length // from the line's first end
	// Goes is the thickest feeler that goes under, 0 when none does, and Stops
	// the thinnest that does not. The gap lies between them.
	Goes, Stops quantity.Length
}

// FeelerStep is how much thicker the next feeler is, or how thick the thinnest,
// when nobody says: 0.001 in (common practice: sets of feelers go by
// thousandths).
const FeelerStep quantity.Length = 25.4e-6

// middle and half are the middle of where the gap can be, and how far it can be
// from there.
func (f Feeler) middle() float64 { return float64(f.Goes+f.Stops) / 2 }
func (f Feeler) half() float64   { return float64(f.Stops-f.Goes) / 2 }

// Length returns how far the line's ends are apart.
//
// Errors: none.
// Source: Pythagoras; checked in line_test.go.
func (l Line) Length() quantity.Length {
	return quantity.Length(math.Hypot(float64(l.X2-l.X1), float64(l.Y2-l.Y1)))
}

func (l Line) place(f Feeler) Point {
	k := f.At / l.Length()
	return Point{X: l.X1 + k*(l.X2-l.X1), Y: l.Y1 + k*(l.Y2-l.Y1)}
}

// MostReadings is how many readings a survey can have.
const MostReadings = 400

func (l Line) check() error {
	if !(l.Length() > 0) || l.Length() > 2*Reach {
		return &Error{Input: "lines", Reason: BadRow, Part: l.Name}
	}
	if len(l.Readings) < 3 {
		return &Error{Input: "lines", Reason: TooFew, Part: l.Name}
	}
	for _, f := range l.Readings {
		switch {
		case !(f.At >= -l.Length()/100 && f.At <= l.Length()*1.01):
			return &Error{Input: "lines", Reason: NotOnLine, Part: l.Name}
		case !(f.Goes >= 0 && f.Stops > f.Goes && f.Stops < l.Length()/10):
			return &Error{Input: "lines", Reason: BadGaps, Part: l.Name}
		}
	}
	return nil
}

// A Straightness is what one line shows by itself.
type Straightness struct {
	Line string
	// Middle is the straightness of the line with every gap in the middle of
	// where it can be; it can really be anything from Least to Most.
	Middle, Least, Most quantity.Length
	// Thickest is the reading with the thickest feeler.
	Thickest Feeler
	// Touches counts the readings under which no feeler went. An edge that lies
	// still touches at two places at least; one that touches at one rocks, and
	// then the thickest feeler says more than the line is out of straight: up to
	// twice as much.
	Touches int
}

// Straightness returns how straight the line is: the least separation of two
// parallel lines that hold it.
//
// A straightedge rests on the highest places of its line, and the gap is how
// much lower the face is. Where the edge lies is not known otherwise, so that
// the heights are known but for a tilt and a shift:
//
//	h(s) = a + b·s − gap(s)
//	straightness = min over b of (max h − min h)
//
// Neither a nor b changes it, and so it holds though the edge rocks. When each
// gap can be off by half a feeler's step δ, it can be off by 2·δ.
//
// At least three readings on the line; gaps up to a tenth of its length.
// Errors: *Error with Input "lines", and the line's name as Part.
// Source: ISO 12780-1 (minimum zone straightness, from memory); checked in line_test.go.
func (l Line) Straightness() (Straightness, error) {
	if err := l.check(); err != nil {
		return Straightness{}, err
	}
	n := len(l.Readings)
	s := Straightness{Line: l.Name, Thickest: l.Readings[0]}
	x, h, off := make([]float64, n), make([]float64, n), 0.0
	for i, f := range l.Readings {
		x[i], h[i] = float64(f.At/l.Length()), -f.middle()
		off = math.Max(off, 2*f.half())
		if f.Goes > s.Thickest.Goes {
			s.Thickest = f
		}
		if f.Goes == 0 {
			s.Touches++
		}
	}
	width := strip(x, h)
	s.Middle = quantity.Length(width)
	s.Least, s.Most = quantity.Length(math.Max(0, width-off)), quantity.Length(width+off)
	return s, nil
}

// strip returns the height of the lowest strip, however tilted, that holds the
// points. It is tilt's program without the third dimension.
func strip(x, h []float64) float64 {
	n := len(x)
	first, last := 0, 0
	low, high := math.Inf(1), math.Inf(-1)
	for i := range x {
		if x[i] < x[first] {
			first = i
		}
		if x[i] > x[last] {
			last = i
		}
		low, high = math.Min(low, h[i]), math.Max(high, h[i])
	}
	slope := 0.0
	if scale := high - low; scale > 0 && x[last]-x[first] > thin {
		p := program{rows: 3, columns: make([][4]float64, 2*n), gain: make([]float64, 2*n), right: [4]float64{0, 0, 1}, basis: [4]int{first, n + first, last}}
		for i := range x {
			p.columns[i], p.gain[i] = [4]float64{x[i], 1, 1}, (h[i]-low)/scale
			p.columns[n+i], p.gain[n+i] = [4]float64{-x[i], -1, 1}, -(h[i]-low)/scale
		}
		if s, ok := p.solve(); ok {
			slope = s.price[0] * scale
		}
	}
	low, high = math.Inf(1), math.Inf(-1)
	for i := range x {
		d := h[i] - slope*x[i]
		low, high = math.Min(low, d), math.Max(high, d)
	}
	return high - low
}

// A Survey is what lines over one face come to together.
type Survey struct {
	Lines []Straightness
	// Tied is true when every line crosses others in such a way that all of them
	// hang together. Then Points are the places read, with their heights over
	// the face's plane, and Zone is their minimum zone.
	Tied   bool
	Points []Point
	Zone   Zone
	// Least is what the flatness is at least. Most is what it is at most, of the
	// places read; it is known only when the lines are tied, and nil otherwise.
	Least quantity.Length
	Most  *quantity.Length
	// Standard is the standard uncertainty of the zone's flatness, when tied.
	Standard quantity.Length
	// Loose are the lines that could not be tied to the rest.
	Loose []string
	// Misfit is the most by which two lines disagree about the height where they
	// cross, and Disagree names them when no feeler's step explains it.
	Misfit   quantity.Length
	Disagree []string
}

// Combine returns what lines over one face tell of its flatness.
//
// One line alone tells how straight the face is along it, and the face can't be
// flatter than that: its planes cut to a strip along every line. So the worst
// line is a lower bound. It is no upper bound: a face that is twisted like a
// propeller is straight along and across, and only the diagonals show it; and
// lines that don't cross say nothing of how they lie to each other.
//
// Where two lines cross they have one height:
//
//	a₁ + b₁·s₁ − gap₁(s₁) = a₂ + b₂·s₂ − gap₂(s₂)
//
// Two lines that cross, or more of which each crosses two others, are so tied
// into one set of heights, but for a plane, which flatness doesn't know. With
// more crossings than needed they are fitted by least squares. Between readings
// a gap is taken as linear, so that it is best to read where lines cross.
//
// Each gap can be off by half a feeler's step δ. The heights follow the gaps
// linearly, h = M·gap, and so by Δ = max Σ |M|·δ at most, and the flatness by
// 2·Δ. Its standard uncertainty takes the gaps as independent and anything
// within ±δ as equally likely; it is never taken for less than that of two
// gaps.
//
// One line at least, MostReadings readings at most.
// Errors: *Error with Input "lines", and the line's name as Part.
// Source: the union-jack method (Moody 1955), by least squares; JCGM 100:2008 (GUM), 4.3.7 and 5.1.2; checked against testdata/flatness/union-jack.csv.
func Combine(lines []Line) (Survey, error) {
	var s Survey
	count := 0
	for _, l := range lines {
		count += len(l.Readings)
	}
	if count > MostReadings {
		return Survey{}, &Error{Input: "lines", Reason: TooMany}
	}
	for _, l := range lines {
		one, err := l.Straightness()
		if err != nil {
			return Survey{}, err
		}
		s.Lines = append(s.Lines, one)
		s.Least = max(s.Least, one.Least)
	}
	if count == 0 {
		return Survey{}, &Error{Input: "lines", Reason: TooFew}
	}
	active := make([]int, len(lines))
	for i := range active {
		active[i] = i
	}
	// Lines that hang loose are left out, the loosest first, until the rest
	// hangs together.
	for len(active) > 1 {
		t := newTie(lines, active)
		if t.solve() {
			s.add(lines, t)
			break
		}
		worst := 0
		for i, a := range active {
			if len(t.crossed[a]) < len(t.crossed[active[worst]]) {
				worst = i
			}
		}
		s.Loose = append(s.Loose, lines[active[worst]].Name)
		active = append(active[:worst:worst], active[worst+1:]...)
	}
	if s.Most == nil {
		s.Loose = nil
		for _, l := range lines {
			s.Loose = append(s.Loose, l.Name)
		}
	}
	s.Tied = len(s.Loose) == 0
	if !s.Tied {
		s.Points, s.Zone, s.Most, s.Standard = nil, Zone{}, nil, 0
	}
	return s, nil
}

// add takes over what a tie came to.
func (s *Survey) add(lines []Line, t *tie) {
	points := t.points()
	zone, err := MinimumZone(points)
	if err != nil {
		return // lines so short or so near to one line that they span no face
	}
	project(t.follows, points)
	n := len(points)
	most, squares := 0.0, 0.0
	for i := range n {
		sum := 0.0
		for k, f := range t.readings {
			sum += math.Abs(t.follows[i][k]) * f.half()
		}
		most = math.Max(most, sum)
	}
	for k, f := range t.readings {
		share := 0.0
		for _, c := range zone.High {
			share += c.Share * t.follows[c.Point][k]
		}
		for _, c := range zone.Low {
			share -= c.Share * t.follows[c.Point][k]
		}
		squares += share * share * f.half() * f.half() / 3
	}
	upper := zone.Flatness + quantity.Length(2*most)
	s.Points, s.Zone, s.Most = points, zone, &upper
	s.Least = max(s.Least, zone.Flatness-quantity.Length(2*most))
	// A face that reads flat all over has no contacts to follow; then it is what
	// two of them would give.
	widest := 0.0
	for _, f := range t.readings {
		widest = math.Max(widest, f.half())
	}
	s.Standard = quantity.Length(math.Sqrt(math.Max(squares, 2*widest*widest/3)))
	for _, c := range t.crossings {
		gap, free := t.misfit(c)
		s.Misfit = max(s.Misfit, quantity.Length(gap))
		if gap > free*1.001+1e-12 {
			s.Disagree = append(s.Disagree, lines[c.a].Name+" and "+lines[c.b].Name)
		}
	}
}

// Words says in full sentences what can be concluded from the lines and what
// can't.
func (s Survey) Words(show func(quantity.Length) string) []string {
	var words []string
	for _, l := range s.Lines {
		if l.Touches < 2 && l.Thickest.Goes > 0 {
			words = append(words, fmt.Sprintf("The edge rocked on line %s, or not every place was tried: it touches at %d of the places read. The thickest feeler, %s, says more than the line is out of straight.", l.Line, l.Touches, show(l.Thickest.Goes)))
		}
	}
	if len(s.Disagree) > 0 {
		words = append(words, fmt.Sprintf("Where they cross, lines %s don't agree, by up to %s. Read there again.", strings.Join(s.Disagree, ", "), show(s.Misfit)))
	}
	if s.Tied {
		return append(words, fmt.Sprintf("The lines cross and hang together, so the places that were read lie within %s to %s.", show(s.Least), show(*s.Most)))
	}
	words = append(words, fmt.Sprintf("The face is out of flat by %s at least. How much at most can't be said, because not all lines hang together: a twisted face is straight along and across.", show(s.Least)))
	return append(words, "Lay the edge over both diagonals too, and try feelers where lines cross.")
}
