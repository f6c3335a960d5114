package ratio

import (
	"cmp"
	"math"
	"slices"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Load is what the engine did when the figures were read.
type Load string

// The loads.
const (
	Light    Load = "light"    // steady on the level
	Pulling  Load = "pulling"  // uphill, with a trailer, or gaining speed
	Coasting Load = "coasting" // foot off
)

// Loads lists the loads.
var Loads = []Load{Light, Pulling, Coasting}

// Command is what the scan tool says that the converter clutch should do.
type Command string

// The commands.
const (
	NotKnown  Command = ""
	Commanded Command = "on"
	Released  Command = "off"
)

// A Span is the least and the greatest of a share.
type Span struct{ Least, Most quantity.Ratio }

// OpenSlip returns how much an open converter slips under a load, as shares of
// engine speed. Each slip in between is taken as equally likely. The figures are
// from memory and wide: a converter's slip falls with speed and rises with
// torque, and no source for this class of unit gives a curve. When coasting the
// wheels drive the engine, and the slip is negative. An unknown load counts as
// Pulling.
func OpenSlip(l Load) Span {
	switch l {
	case Light:
		return Span{0, 0.12}
	case Coasting:
		return Span{-0.20, 0}
	}
	return Span{0, 0.40}
}

// Chances before anything was measured; honest guesses, marked as such, which a
// practitioner may review. They matter where two gears fit about equally well.
const (
	// noneBefore is the chance that no gear fits, because something slips or a
	// figure is wrong.
	noneBefore = 0.1
	// Chances that the converter clutch is on, by what is known of it.
	onInHighGears = 0.5  // 3rd and 4th, no command known
	onInLowGears  = 0.1  // 1st and 2nd: the late version does so at times
	onCommanded   = 0.9  // the scan tool says on
	onReleased    = 0.05 // the scan tool says off: it drags or sticks
	onInReverse   = 0    // no source has it on in reverse
	// Without a gear the ratio can be anything from an engine at idle on a fast
	// road to one at its limit at a crawl.
	leastRatio, mostRatio = 0.3, 12
	// sure is how sure a call must be, as for any other verdict.
	sure = 0.95
)

// A Candidate is one gear, held against what was measured.
type Candidate struct {
	Gear  unit.Gear
	Name  string // "3rd"
	Ratio quantity.Ratio
	// Locked is engine speed at this road speed with the converter clutch on.
	Locked quantity.Rotation
	// Slip is engine speed less Locked, and SlipShare that for engine speed.
	// SlipStandard is the standard uncertainty of SlipShare.
	Slip                    quantity.Rotation
	SlipShare, SlipStandard quantity.Ratio
	Probability             float64
	// On is the probability that the converter clutch is on, if it is this gear.
	On float64
}

// A Result is what a ratio says about the gear.
type Result struct {
	Measured
	Candidates []Candidate // the most probable first
	None       float64     // probability that no gear fits
	// Called is the gear that is sure, or empty.
	Called unit.Gear
	// NoneCalled is true when it is sure that no gear fits: something slips, or a
	// figure is wrong.
	NoneCalled bool
	// Clutch says whether the converter clutch is on in the called gear: Commanded,
	// Released, or NotKnown where that is not sure.
	Clutch Command
	Notes  []string // what to bear in mind, in full sentences
}

// forward and backward are the gears in the order of their ratios.
var (
	forward  = []unit.Gear{unit.First, unit.Second, unit.Third, unit.Fourth}
	backward = []unit.Gear{unit.Reverse}
)

// names are the gears as they are said aloud.
var names = map[unit.Gear]string{
	unit.First: "1st", unit.Second: "2nd", unit.Third: "3rd", unit.Fourth: "4th", unit.Reverse: "reverse",
}

// Name returns how a gear is said, "3rd".
func Name(g unit.Gear) string {
	if n, ok := names[g]; ok {
		return n
	}
	return string(g)
}

// Identify says for each gear how probable it is that the unit was in it.
//
//	i = i_g / (1 − s)     converter open, slip s of engine speed
//	i = i_g               converter clutch on
//	P(g | i) ∝ P(g) · [ P(on|g) · N(ln i; ln i_g, u) + P(off|g) · U∗N(ln i; ln i_g to ln i_g − ln(1 − s), u) ]
//	P(none | i) ∝ P(none) / ln(12 / 0.3)
//
// N is the normal density with the standard uncertainty u of the measured
// ratio, U∗N a uniform one that is blurred by it. Slip of a gear is
//
//	s_g = 1 − i_g · ω_shaft / ω_engine,   u(s_g) = (1 − s_g) · u
//
// It assumes that the gear ratios of knowledge/unit are those of the truck. The
// chances before measuring and the slip of an open converter are estimates; a
// Result where two gears are close is not called.
// Errors: *quantity.RangeError for a Measured that did not come from Measure.
// Source: Bayes' rule; slip as by definition; checked against worked gearing and slip examples and by numerical integration in gear_test.go.
func Identify(m Measured, load Load, command Command, reverse bool) (Result, error) {
	one := quantity.Ratio(1)
	if err := cmp.Or(
		within(EngineSpeed, m.Engine.Value(), validEngine[0].Value(), validEngine[1].Value(), quantity.RPM),
		within(ShaftSpeed, m.Shaft.Value(), validShaft[0].Value(), validShaft[1].Value(), quantity.RPM),
		within("ratio", m.Ratio.Value(), (one/100).Value(), (100*one).Value(), quantity.Number),
		within("ratio's uncertainty", m.Standard.Value(), quantity.Ratio(1e-6).Value(), quantity.Ratio(0.5).Value(), quantity.Percent),
	); err != nil {
		return Result{}, err
	}
	gears := forward
	if reverse {
		gears = backward
	}
	res := Result{Measured: m}
	y, u := math.Log(float64(m.Ratio)), float64(m.Standard)
	span := OpenSlip(load)
	low, high := -math.Log1p(-float64(span.Least)), -math.Log1p(-float64(span.Most))

	if r := float64(m.Ratio); r >= leastRatio && r <= mostRatio {
		res.None = noneBefore / math.Log(mostRatio/leastRatio)
	}
	total := res.None
	for _, g := range gears {
		i, err := unit.Ratio(g)
		if err != nil {
			return Result{}, err
		}
		i = math.Abs(i)
		off := y - math.Log(i)
		on := chanceOn(g, command)
		locked := on * density(off/u) / u
		open := (1 - on) * (below((off-low)/u) - below((off-high)/u)) / (high - low)
		c := Candidate{
			Gear: g, Name: Name(g), Ratio: quantity.Ratio(i),
			Locked:      m.Shaft * quantity.Rotation(i),
			Probability: (1 - noneBefore) / float64(len(gears)) * (locked + open),
		}
		c.Slip = m.Engine - c.Locked
		c.SlipShare = quantity.Ratio(c.Slip / m.Engine)
		c.SlipStandard = (1 - c.SlipShare) * m.Standard
		if locked+open > 0 {
			c.On = locked / (locked + open)
		}
		total += c.Probability
		res.Candidates = append(res.Candidates, c)
	}
	if total > 0 {
		res.None /= total
		for n := range res.Candidates {
			res.Candidates[n].Probability /= total
		}
	} else {
		res.None = 1 // beyond what any gear or engine does
	}
	slices.SortStableFunc(res.Candidates, func(a, b Candidate) int {
		switch {
		case a.Probability > b.Probability:
			return -1
		case a.Probability < b.Probability:
			return 1
		}
		return 0
	})
	res.call(load)
	return res, nil
}

// call decides what is sure, and notes what to bear in mind.
func (r *Result) call(load Load) {
	best := r.Candidates[0]
	switch {
	case best.Probability >= sure:
		r.Called = best.Gear
		switch {
		case best.On >= sure:
			r.Clutch = Commanded
		case best.On <= 1-sure:
			r.Clutch = Released
		}
	case r.None >= sure:
		r.NoneCalled = true
	}
	switch {
	case load == Coasting:
		r.Notes = append(r.Notes, "Coasting in 1st in D, the overrunning clutch lets go, and engine speed says nothing about that gear.")
	case load == Pulling:
		r.Notes = append(r.Notes, "A converter that pulls hard slips so much that one gear can pass for the next. Read again at a steady light throttle.")
	}
	if r.Standard > 0.05 {
		r.Notes = append(r.Notes, "The figures are too rough to tell neighboring gears apart well. Use a scan tool's engine and output shaft speed.")
	}
}

func chanceOn(g unit.Gear, command Command) float64 {
	switch {
	case g == unit.Reverse:
		return onInReverse
	case command == Commanded:
		return onCommanded
	case command == Released:
		return onReleased
	case g == unit.Third, g == unit.Fourth:
		return onInHighGears
	}
	return onInLowGears
}

func density(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }

func below(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }

// Lost returns the elements without which the ordered gear drives as the found
// one does: 2nd as 1st without the front band. It is empty where no single
// element explains it, and where both are the same gear.
//
// Errors: *unit.GearError for a gear that the chart does not have.
// Source: unit.Without; checked in gear_test.go.
func Lost(ordered, found unit.Gear) ([]unit.ElementID, error) {
	i, err := unit.Ratio(found)
	if err != nil {
		return nil, err
	}
	row, ok := unit.RowOf(ordered)
	if !ok {
		return nil, &unit.GearError{Gear: ordered}
	}
	var lost []unit.ElementID
	if ordered == found {
		return nil, nil
	}
	for _, id := range row.On {
		l, err := unit.Without(ordered, id)
		if err != nil {
			return nil, err
		}
		if l.Drives() && math.Abs(l.Ratio-i) < 1e-6 {
			lost = append(lost, id)
		}
	}
	return lost, nil
}

// A Lockup is the engine speed just before and just after the converter clutch
// comes on, or goes off, at one road speed.
type Lockup struct {
	Open, On quantity.Reading
	Meter    *conformity.Accuracy // nil for Tachometer
}

// Drop returns by how much engine speed falls when the converter clutch comes
// on, as a share of the speed before, and its standard uncertainty. It is the
// slip of the open converter. What is wrong with tyre or speedometer does not
// enter.
//
//	s = 1 − ω_on / ω_open
//
// Both speeds must be 300 to 8000 rpm. It assumes that the truck's speed did not
// change in between, and that the tachometer's error in per cent is the same for
// both, so that only its fixed part and the last digit count.
// Errors: *quantity.RangeError naming Before or After.
// Source: definition of slip; checked against a worked slip example in gear_test.go.
func (l Lockup) Drop() (slip, standard quantity.Ratio, err error) {
	if err := cmp.Or(
		within(Before, l.Open.Value(), validEngine[0].Value(), validEngine[1].Value(), quantity.RPM),
		within(After, l.On.Value(), validEngine[0].Value(), validEngine[1].Value(), quantity.RPM),
	); err != nil {
		return 0, 0, err
	}
	q := l.On.SI / l.Open.SI
	a, b := apart(l.Open, l.Meter)/l.Open.SI, apart(l.On, l.Meter)/l.Open.SI
	return quantity.Ratio(1 - q), quantity.Ratio(math.Hypot(b, q*a)), nil
}

// apart is a reading's standard uncertainty against another reading of the same
// instrument: what is wrong in per cent is wrong with both.
func apart(r quantity.Reading, meter *conformity.Accuracy) float64 {
	a := Tachometer
	if meter != nil {
		a = *meter
	}
	a.Percent = 0
	return a.Standard(r)
}
