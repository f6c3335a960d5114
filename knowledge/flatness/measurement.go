package flatness

import (
	"fmt"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Measurement is what a technician has after reading a face.
type Measurement struct {
	// Readings are what an indicator showed. They are left empty when Lines says
	// what a straightedge did.
	Readings Readings
	Lines    []Line
	// Meter is the indicator's accuracy over the travel that was used; nil for
	// Indicator. It is not used for lines, whose feelers' steps say more.
	Meter *conformity.Accuracy
	// Windows are the acceptance windows, one for each source.
	Windows []conformity.Window
	// Rule decides; its zero value calls by 95 % probability.
	Rule conformity.Rule
	// Units are those in which reasons and notes are given.
	Units quantity.Preference
}

// Indicator is the accuracy of an indicator when nobody states it.
var Indicator = conformity.Accuracy{Fixed: 0.01e-3, Source: "what a test indicator with its stand is usually good to, from memory: use what your indicator's manual states"}

// A Trade figure is one that no source gives for this unit, with where it comes
// from.
type Trade struct {
	Value  quantity.Length
	Source string
}

// Deepest is the most that is taken off a face without asking the maker's
// manual first. More shortens screw holds, passages and the way of valves, and
// moves what the casting is screwed to.
var Deepest = Trade{quantity.Length(quantity.Inch.SI(0.010)), "from memory, confirm in the maker's manual"}

// EnoughPlaces is how many places a face must be read at before it is called
// flat: three rows of three (common practice). With fewer a dish or a twist
// can hide. A face that is out of flat at fewer places is out of flat.
const EnoughPlaces = 9

// A Result is what a measurement comes to.
type Result struct {
	Points []Point
	// Survey is what the lines came to, nil for points.
	Survey *Survey
	// LeastSquares and Zone are there when there are Points: always but for
	// lines that don't hang together.
	LeastSquares Fit
	Zone         Zone
	// Flatness is what was judged: the zone's, or the worst line's where lines
	// don't hang together; Standard is its standard uncertainty.
	Flatness, Standard quantity.Length
	Judgement          conformity.Result
	// Cut makes the face flat with the least removed, parallel to the zone, and
	// Level does it parallel to the base of the readings, z = 0.
	Cut, Level Cut
	Notes      []string // what was assumed and what can't be known, in full sentences
}

// Judge works a measurement out.
//
// The flatness is the minimum zone's. With each height off by at most a, its
// standard uncertainty is u = a/√3, and that of the flatness
//
//	u_F² = u²·(Σ share² at the upper plane + Σ share² at the lower) ≤ 2·u²
//
// by the law of propagation, because the flatness follows the height of each
// contact by its share. The greatest of it, √2·u, is taken: two contacts, each
// off by u. What is random in the readings also makes the flatness greater on
// the average than the face is, the more so the more places are read, so that a
// face called flat is flat with more than the stated probability.
//
// Lines are judged by their survey. Where they don't hang together the worst
// line can show that the face is out of flat, and never that it is flat.
//
// Errors: *Error.
// Source: JCGM 100:2008 (GUM), 4.3.7 and 5.1.2, against JCGM 101:2008's Monte Carlo in measurement_test.go.
func (m Measurement) Judge() (Result, error) {
	var r Result
	if len(m.Lines) > 0 {
		s, err := Combine(m.Lines)
		if err != nil {
			return Result{}, err
		}
		r.Survey, r.Points, r.Standard = &s, s.Points, s.Standard
		if !s.Tied {
			m.judgeWorst(&r)
			return r, nil
		}
	} else {
		r.Points = m.Readings.Points
		meter := Indicator
		if m.Meter != nil {
			meter = *m.Meter
		}
		read := quantity.Reading{Kind: quantity.KindLength, Resolution: float64(m.Readings.Step)}
		r.Standard = quantity.Length(math.Sqrt2 * meter.Standard(read))
	}
	var err error
	if r.Zone, err = MinimumZone(r.Points); err != nil {
		return Result{}, err
	}
	if r.LeastSquares, err = LeastSquares(r.Points); err != nil {
		return Result{}, err
	}
	// Places on one line lie in a plane on edge, whatever their heights.
	if r.LeastSquares.Plane.Normal[2] < math.Sqrt2/2 {
		return Result{}, &Error{Input: "points", Reason: OneLine}
	}
	if r.Cut, err = Removal(r.Points, r.Zone.Lower); err != nil {
		return Result{}, err
	}
	if r.Level, err = Removal(r.Points, Plane{Normal: vector{0, 0, 1}}); err != nil {
		return Result{}, err
	}
	r.Flatness = r.Zone.Flatness
	r.Judgement = m.hold(r.Flatness, r.Standard)
	if n := places(r.Points); n < EnoughPlaces && r.Judgement.Verdict == conformity.Meets {
		r.Judgement = conformity.Result{Verdict: conformity.None, Expanded: r.Judgement.Expanded,
			Reason: fmt.Sprintf("The %d places that were read are flat enough, but a dish or a twist can hide between so few. Read %d or more, over the whole face.", n, EnoughPlaces)}
	}
	r.Notes = append(r.Notes, "Only the places that were read are known: the face is out of flat by this much at least.")
	if r.Survey == nil && m.Meter == nil {
		r.Notes = append(r.Notes, "Counted in: "+Indicator.Source+".")
	}
	if r.Cut.Most > Deepest.Value {
		r.Notes = append(r.Notes, fmt.Sprintf("Making it flat takes off more than %s (%s). Ask the maker's manual whether this casting may be cut so far, or renew it.",
			m.Units.Format(Deepest.Value.Value(), quantity.Inch, 3), Deepest.Source))
	}
	return r, nil
}

// judgeWorst judges lines that don't hang together by the worst of them.
func (m Measurement) judgeWorst(r *Result) {
	for _, l := range r.Survey.Lines {
		if l.Middle >= r.Flatness {
			r.Flatness = l.Middle
			// Two contacts of the strip, each off by half a step at most.
			r.Standard = (l.Most - l.Middle) / quantity.Length(math.Sqrt(6))
		}
	}
	r.Judgement = m.hold(r.Flatness, r.Standard)
	if r.Judgement.Verdict != conformity.Above && r.Judgement.Verdict != conformity.None {
		r.Judgement = conformity.Result{Verdict: conformity.None, Expanded: r.Judgement.Expanded,
			Reason: "No line by itself is out of straight by more than is allowed, but the lines don't hang together, so that the face can be twisted. Lay the edge over both diagonals too."}
	}
	r.Notes = append(r.Notes, "This is the worst line, not the face: the face is out of flat by this much at least.")
}

func (m Measurement) hold(flatness, standard quantity.Length) conformity.Result {
	windows := append([]conformity.Window(nil), m.Windows...)
	for i := range windows {
		windows[i].Unit = m.Units.Unit(quantity.Inch)
	}
	return conformity.JudgeAll(quantity.Reading{Kind: quantity.KindLength, SI: float64(flatness)}, float64(standard), windows, nil, m.Rule)
}

// places counts the points, the same place read twice for one.
func places(points []Point) int {
	seen := map[[2]quantity.Length]bool{}
	for _, p := range points {
		seen[[2]quantity.Length{p.X, p.Y}] = true
	}
	return len(seen)
}
