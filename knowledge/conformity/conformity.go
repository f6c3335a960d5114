// Package conformity says whether a reading meets its acceptance window, for
// somebody who has to decide with it whether a part is good.
//
// A reading is never exact. The package follows JCGM 106:2012, "Evaluation of
// measurement data – The role of measurement uncertainty in conformity
// assessment": the reading y with standard uncertainty u stands for a normal
// distribution of what the quantity may really be, and the probability of
// conformity is the part of it that lies inside the window.
//
// # The decision rule
//
// A reading is called only when the call is right with a probability of 95 %
// or more: it meets when the probability of conformity is at least 95 %, it is
// below (or above) when the probability of being below the least (above the
// greatest) allowed value is at least 95 %. Everything else is too close to
// call with this meter. Reasons for 95 %: it is the default of ISO 14253-1:2017
// for proving conformity and non-conformity (from memory), a wrong call costs a
// good part or a come-back, and a call that is withheld costs only another
// reading with a better meter. It amounts to a guard band of 1.645 u on either
// side of a limit. ILAC-G8:09/2019 knows two other rules, which are here too:
// simple acceptance (guard band 0) and a guard band of the expanded uncertainty
// U = 2 u.
//
// A pass is never given to a reading that is missing, that cannot be true, or
// that has no limit to be held against.
//
// # What it leaves out
//
// Nothing is known beforehand about the part: its maker's spread and how often
// such parts fail belong to the diagnosis, not to the reading.
package conformity

import (
	"fmt"
	"math"
	"strings"

	"provingbench/knowledge/quantity"
)

// A Verdict is what a reading says about the thing that was measured.
type Verdict string

// The verdicts. None of the last four is a call.
const (
	Meets       Verdict = "meets"       // inside the window
	Below       Verdict = "below"       // under the least allowed
	Above       Verdict = "above"       // over the greatest allowed
	Open        Verdict = "open"        // the meter showed OL where a resistance has an upper limit
	Short       Verdict = "short"       // about no resistance where there should be some
	TooClose    Verdict = "too-close"   // too close to call with this meter
	Disagree    Verdict = "disagree"    // sources give windows that lead to different calls
	Implausible Verdict = "implausible" // the reading cannot be true
	None        Verdict = "none"        // no reading, or nothing to hold it against
)

// Verdicts lists all verdicts.
var Verdicts = []Verdict{Meets, Below, Above, Open, Short, TooClose, Disagree, Implausible, None}

// Called reports whether v decides anything.
func (v Verdict) Called() bool {
	switch v {
	case Meets, Below, Above, Open, Short:
		return true
	}
	return false
}

// Is reports whether v is a case of w: a short is also below, an open is also
// above, and everything is a case of itself.
func (v Verdict) Is(w Verdict) bool {
	return v == w || v == Short && w == Below || v == Open && w == Above
}

// Words returns how the verdict is read aloud.
func (v Verdict) Words() string {
	switch v {
	case Meets:
		return "good"
	case Below:
		return "too low"
	case Above:
		return "too high"
	case TooClose:
		return "too close to call with this meter"
	case Disagree:
		return "sources disagree"
	case Implausible:
		return "cannot be right"
	case None:
		return "no verdict"
	}
	return string(v)
}

// A Window is what is allowed. A side that is nil has no limit.
type Window struct {
	Name     string // who says so, when there are several
	Min, Max *quantity.Value
	Unit     quantity.Unit // for sentences; zero: the kind's default
}

// String returns the window in words: "3 ohm to 5 ohm", "at most 3 psi".
func (w Window) String() string {
	switch {
	case w.Min != nil && w.Max != nil && *w.Min == *w.Max:
		return w.show(*w.Min)
	case w.Min != nil && w.Max != nil:
		return w.show(*w.Min) + " to " + w.show(*w.Max)
	case w.Min != nil:
		return "at least " + w.show(*w.Min)
	case w.Max != nil:
		return "at most " + w.show(*w.Max)
	}
	return "no limit"
}

func (w Window) show(v quantity.Value) string {
	return quantity.FormatSignificant(v, w.Unit, 4)
}

// showMeasured prints v with no digit finer than the first one of its standard
// uncertainty u, and with two to four in all.
func (w Window) showMeasured(v quantity.Value, u float64) string {
	unit := w.Unit
	if unit.Kind != v.Kind {
		unit = quantity.DefaultUnit(v.Kind)
	}
	digits := 4.0
	if x := math.Abs(unit.From(v.SI)); x > 0 && u > 0 {
		digits = 1 + math.Floor(math.Log10(x)) - math.Floor(math.Log10(u/unit.Step(1)))
	}
	return quantity.FormatSignificant(v, unit, int(math.Max(2, math.Min(4, digits))))
}

// A Rule turns a probability, or a distance from a limit, into a call. Its zero
// value calls by 95 % probability, like Probable.
type Rule struct {
	Name string
	// Probability is how sure a call must be. It is between 0.5 and 1; 0 stands
	// for 0.95. It is not used when Banded is true.
	Probability float64
	// Banded makes the rule go by a guard band of Guard times U instead.
	Banded bool
	Guard  float64
}

// The rules.
var (
	Probable = Rule{Name: "95 % probability", Probability: 0.95}
	// Simple accepts whatever reads inside the limits (ILAC-G8:09/2019, 4.2.1).
	// The risk of a wrong call is up to 50 % at a limit.
	Simple = Rule{Name: "simple acceptance", Banded: true, Guard: 0}
	// Guarded keeps U away from a limit on both sides of it (ILAC-G8:09/2019,
	// 4.2.3); between lies what ILAC calls a conditional pass or fail, which
	// here is too close to call. The risk of a wrong call is below 2.5 %.
	Guarded = Rule{Name: "guarded acceptance", Banded: true, Guard: 1}
)

func (r Rule) probability() float64 {
	if r.Probability > 0.5 && r.Probability < 1 {
		return r.Probability
	}
	return 0.95
}

// A Result is a verdict with what led to it.
type Result struct {
	Verdict Verdict
	// Probability is the probability of conformity, 0 to 1. It is 0 when the
	// verdict is Implausible or None.
	Probability float64
	// Guard is the guard band w that was used, in SI units. Under a rule that
	// goes by probability it is the distance at which a lone limit is called.
	Guard float64
	// Expanded is the expanded uncertainty U = 2 u, in SI units.
	Expanded float64
	// Inside is true when the reading itself, uncertainty aside, lies inside the
	// window. When the verdict is TooClose it tells ILAC's conditional pass from
	// a conditional fail.
	Inside bool
	// Reason is the verdict in full sentences.
	Reason string
	// Each holds the result for every window, in order, after JudgeAll.
	Each []WindowResult
}

// A WindowResult is one window's own result.
type WindowResult struct {
	Window Window
	Result Result
}

// Probability returns the probability that a quantity measured as y with
// standard uncertainty u lies inside, below and above the limits. A limit that
// is not there is passed as an infinity.
//
//	p_inside = Φ((max − y)/u) − Φ((min − y)/u)
//	p_below  = Φ((min − y)/u)
//	p_above  = 1 − Φ((max − y)/u)
//
// u must not be negative; when it is 0 the limits themselves belong to the
// window. The three add up to 1.
// Errors: *quantity.RangeError naming the argument, for NaN, an infinite y, a
// negative u or min above max.
// Source: JCGM 106:2012, clause 7; checked against testdata/conformity/probability.csv.
func Probability(y, u, min, max float64) (inside, below, above float64, err error) {
	real := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	if err := quantity.Within("conformity", "reading", real(y), real(-math.MaxFloat64), real(math.MaxFloat64), quantity.Number); err != nil {
		return 0, 0, 0, err
	}
	if err := quantity.Within("conformity", "standard uncertainty", real(u), real(0), real(math.MaxFloat64), quantity.Number); err != nil {
		return 0, 0, 0, err
	}
	if err := quantity.Within("conformity", "lower limit", real(min), real(math.Inf(-1)), real(max), quantity.Number); err != nil {
		return 0, 0, 0, err
	}
	if u == 0 {
		switch {
		case y < min:
			return 0, 1, 0, nil
		case y > max:
			return 0, 0, 1, nil
		}
		return 1, 0, 0, nil
	}
	below = upper((y - min) / u)
	above = upper((max - y) / u)
	inside = 1 - below - above
	if inside < 0 {
		inside = 0
	}
	return inside, below, above, nil
}

// upper returns 1 − Φ(z), accurately in the far tail too.
func upper(z float64) float64 { return 0.5 * math.Erfc(z/math.Sqrt2) }

// shortShare and shortOhms bound what is called a short: under a tenth of the
// least that is allowed, and under the 5 ohm that handbooks take for a
// connection (maker's handbook, 1999: solenoid circuit tests). The tenth is
// common practice. Without the second bound a leaking insulation of 50 kohm
// would be called a short.
const (
	shortShare = 0.1
	shortOhms  = 5
)

// Judge holds a reading with standard uncertainty u, in SI units, against a
// window. It never fails: what cannot be judged gets a verdict that says so.
//
// An open loop is Open where the window has an upper limit and Meets where it
// has only a lower one: insulation should read open.
//
// Errors: none; see above.
// Source: JCGM 106:2012, clauses 7 and 8, and ILAC-G8:09/2019, 4.2; checked in conformity_test.go.
func Judge(r quantity.Reading, u float64, w Window, rule Rule) Result {
	kind := r.Kind
	if kind == "" {
		return Result{Verdict: None, Reason: "There is no reading."}
	}
	if w.Min == nil && w.Max == nil {
		return Result{Verdict: None, Reason: "No limit is known for this reading, so there is no verdict."}
	}
	for _, limit := range []*quantity.Value{w.Min, w.Max} {
		if limit == nil {
			continue
		}
		if limit.Kind != kind {
			return Result{Verdict: None, Reason: fmt.Sprintf("The reading is a %s and the limit is a %s, so there is no verdict.", kind.Word(), limit.Kind.Word())}
		}
		if math.IsNaN(limit.SI) || math.IsInf(limit.SI, 0) {
			return Result{Verdict: None, Reason: "The limit is not a number, so there is no verdict."}
		}
	}
	if w.Min != nil && w.Max != nil && w.Min.SI > w.Max.SI {
		return Result{Verdict: None, Reason: "The least allowed is more than the greatest allowed, so there is no verdict. Correct the sheet."}
	}
	if r.OpenLoop {
		switch {
		case kind != quantity.KindResistance:
			return Result{Verdict: Implausible, Reason: fmt.Sprintf("OL is no %s.", kind.Word())}
		case w.Max == nil:
			return Result{Verdict: Meets, Probability: 1, Inside: true,
				Reason: fmt.Sprintf("The meter reads OL: more than it can show. Allowed is %s.", w)}
		}
		return Result{Verdict: Open, Reason: fmt.Sprintf("The meter reads OL: nothing connects. Allowed is %s.", w)}
	}
	least, most, known := quantity.Plausible(kind)
	if !known || !(r.SI >= least.SI && r.SI <= most.SI) {
		return Result{Verdict: Implausible, Reason: fmt.Sprintf("%s cannot be a true %s. Read it again, and check the unit.", capital(w.show(r.Value())), kind.Word())}
	}
	if !(u >= 0) || math.IsInf(u, 0) {
		return Result{Verdict: None, Reason: "How far the meter can be off is not known, so there is no verdict."}
	}

	low, high := math.Inf(-1), math.Inf(1)
	if w.Min != nil {
		low = w.Min.SI
	}
	if w.Max != nil {
		high = w.Max.SI
	}
	inside, below, above, err := Probability(r.SI, u, low, high)
	if err != nil {
		return Result{Verdict: None, Reason: "The reading cannot be held against the limit, so there is no verdict."}
	}
	res := Result{Probability: inside, Expanded: 2 * u, Inside: r.SI >= low && r.SI <= high}
	if rule.Banded {
		res.Guard = rule.Guard * res.Expanded
		switch {
		case r.SI >= low+res.Guard && r.SI <= high-res.Guard:
			res.Verdict = Meets
		case r.SI < low-res.Guard:
			res.Verdict = Below
		case r.SI > high+res.Guard:
			res.Verdict = Above
		default:
			res.Verdict = TooClose
		}
	} else {
		p := rule.probability()
		res.Guard = math.Sqrt2 * math.Erfinv(2*p-1) * u
		switch {
		case inside >= p:
			res.Verdict = Meets
		case below >= p:
			res.Verdict = Below
		case above >= p:
			res.Verdict = Above
		default:
			res.Verdict = TooClose
		}
	}
	if res.Verdict == Below && kind == quantity.KindResistance {
		if bound := math.Min(shortShare*low, shortOhms); r.SI+res.Guard <= bound {
			res.Verdict = Short
		}
	}
	res.Reason = reason(r, w, res)
	return res
}

func reason(r quantity.Reading, w Window, res Result) string {
	reading := w.showMeasured(r.Value(), res.Expanded/2)
	off := fmt.Sprintf("The reading can be off by %s", step(r.Kind, res.Expanded, w.Unit))
	switch res.Verdict {
	case Meets:
		return fmt.Sprintf("%s is inside %s. %s, and it is good with a probability of %s.", reading, w, off, percent(res.Probability))
	case Below:
		return fmt.Sprintf("%s is below %s. %s, and that does not bring it back inside.", reading, w, off)
	case Above:
		return fmt.Sprintf("%s is above %s. %s, and that does not bring it back inside.", reading, w, off)
	case Short:
		return fmt.Sprintf("%s is about no resistance. Allowed is %s.", reading, w)
	}
	if w.Min != nil && w.Max != nil && *w.Min == *w.Max {
		return fmt.Sprintf("%s against %s: the source prints one figure and no tolerance. %s, and within that the two agree. That is as much as can be said.", reading, w, off)
	}
	if w.Min != nil && w.Max != nil && w.Max.SI-w.Min.SI < 2*res.Guard {
		return fmt.Sprintf("%s against %s: the window is narrower than this meter can decide. %s. Use a finer meter.", reading, w, off)
	}
	side := "just inside"
	if !res.Inside {
		side = "just outside"
	}
	return fmt.Sprintf("%s is %s %s. %s, so it may be good or bad: the probability of good is %s. Measure again with a better meter.",
		reading, side, w, off, percent(res.Probability))
}

// step prints a difference, which for temperatures is not a temperature.
func step(kind quantity.Kind, d float64, unit quantity.Unit) string {
	if unit.Kind != kind {
		unit = quantity.DefaultUnit(kind)
	}
	return quantity.FormatSignificant(quantity.Value{Kind: kind, SI: unit.SI(d / unit.Step(1))}, unit, 2)
}

func percent(p float64) string {
	switch {
	case p > 0.99:
		return "more than 99 %"
	case p < 0.01:
		return "less than 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*p)
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// JudgeAll holds a reading against every window that is known for it, because
// sources do not always agree, and against a ceiling that no source overrules.
//
// It calls what all windows call. Where one calls good what another calls bad,
// or one too low what another calls too high, the verdict is Disagree and
// nothing is called; where none contradicts but one cannot decide, it is
// TooClose. Each holds every window's own result. Probability is the least of
// them, Guard the greatest.
//
// The ceiling's Max, if there is one, is a value at or above which a reading is
// never good, whatever a sheet says: at or above it the verdict is Above, and a
// reading that is not certainly under it does not get better than TooClose.
//
// Errors: none; what cannot be judged gets a verdict that says so.
// Source: JCGM 106:2012, clauses 7 and 8; checked in conformity_test.go.
func JudgeAll(r quantity.Reading, u float64, windows []Window, ceiling *Window, rule Rule) Result {
	res := combine(r, u, windows, rule)
	if ceiling == nil || ceiling.Max == nil || ceiling.Max.Kind != r.Kind || r.OpenLoop {
		return res
	}
	if res.Verdict == Implausible || res.Verdict == None && r.Kind == "" {
		return res
	}
	top := *ceiling.Max
	under := Judge(r, u, Window{Name: ceiling.Name, Max: &top, Unit: ceiling.Unit}, rule)
	switch {
	case r.SI >= top.SI && !math.IsNaN(r.SI):
		res.Verdict, res.Probability, res.Inside = Above, 0, false
		res.Reason = fmt.Sprintf("%s is at or above %s, which is never good, whatever a sheet says.", capital(ceiling.show(r.Value())), ceiling.show(top))
	case res.Verdict == Meets && under.Verdict != Meets:
		res.Verdict, res.Probability = TooClose, math.Min(res.Probability, under.Probability)
		res.Reason = fmt.Sprintf("%s is too close to %s, which is never good, whatever a sheet says.", capital(ceiling.show(r.Value())), ceiling.show(top))
	}
	return res
}

func combine(r quantity.Reading, u float64, windows []Window, rule Rule) Result {
	switch len(windows) {
	case 0:
		return Judge(r, u, Window{}, rule)
	case 1:
		res := Judge(r, u, windows[0], rule)
		res.Each = []WindowResult{{windows[0], res}}
		return res
	}
	res := Result{Probability: 1, Inside: true, Expanded: 2 * u}
	var seen []Verdict
	for _, w := range windows {
		one := Judge(r, u, w, rule)
		res.Each = append(res.Each, WindowResult{w, one})
		res.Probability = math.Min(res.Probability, one.Probability)
		res.Guard = math.Max(res.Guard, one.Guard)
		res.Inside = res.Inside && one.Inside
		// A window that says nothing does not silence the others.
		if one.Verdict != None {
			seen = append(seen, one.Verdict)
		}
	}
	if len(seen) == 0 {
		first := res.Each[0].Result
		first.Each = res.Each
		return first
	}
	if seen[0] == Implausible {
		first := res.Each[0].Result
		for _, e := range res.Each {
			if e.Result.Verdict == Implausible {
				first = e.Result
			}
		}
		first.Each = res.Each
		return first
	}
	good, low, high, unsure := 0, 0, 0, 0
	alike := true
	for _, v := range seen {
		alike = alike && v == seen[0]
		switch {
		case v == Meets:
			good++
		case v.Is(Below):
			low++
		case v.Is(Above):
			high++
		default:
			unsure++
		}
	}
	switch kinds := btoi(good > 0) + btoi(low > 0) + btoi(high > 0); {
	case kinds > 1:
		res.Verdict = Disagree
	case unsure > 0:
		res.Verdict = TooClose
	case alike:
		res.Verdict = seen[0]
	case low > 0:
		res.Verdict = Below
	default:
		res.Verdict = Above
	}
	res.Reason = together(res)
	return res
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

func together(res Result) string {
	var parts []string
	for i, e := range res.Each {
		name := e.Window.Name
		if name == "" {
			name = fmt.Sprintf("Window %d", i+1)
		}
		parts = append(parts, fmt.Sprintf("%s (%s): %s.", name, e.Window, e.Result.Verdict.Words()))
	}
	list := strings.Join(parts, " ")
	switch res.Verdict {
	case Disagree:
		return "The sources disagree about this reading, so nothing is called. " + list
	case TooClose:
		return "The reading is too close to call for at least one source. " + list
	}
	return "All sources say the same. " + list
}
