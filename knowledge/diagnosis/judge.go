package diagnosis

import (
	"errors"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Judgement is what an entry means: the verdict on a reading with its reason,
// or the outcome a person picked.
type Judgement struct {
	Outcome     string             // id of the observation's outcome; empty: no evidence
	Verdict     conformity.Verdict // of a reading; empty for a picked outcome
	Value       string             // the reading as understood, in the units that the engine gives reasons in
	Probability float64            // that the thing measured conforms
	Reason      string             // the verdict's reason, in plain sentences
	Shows       string             // what the meter should show now, where that differs from the sheet
	Problem     string             // what is wrong with what was typed, in a full sentence; no verdict then
	Field       string             // the entry's field the problem is in: reading, unit, at, leads, percent, digits, outcome
	Provisional bool               // judged against a figure from memory
	Limits      []unit.Limit       // the limits it was judged against
}

// forwardCeiling is the acceptance id of the line pressure that is never good
// in a forward range, whatever a sheet says.
const forwardCeiling = "forward-line-ceiling"

// Judge says what an entry means on this case's version and build. It never
// fails: what can't be used has a Problem and no verdict.
func (e *Engine) Judge(c *Case, n *Entry) Judgement {
	check := e.Catalogue.Check(n.Check)
	if check == nil || check.Observation(n.Observation) == nil {
		return Judgement{Field: "outcome", Problem: "This entry belongs to a check that this version of the page doesn't have."}
	}
	o := check.Observation(n.Observation)
	if o.Reading == nil || n.Outcome != "" && n.Reading == "" {
		if o.Outcome(n.Outcome) == nil {
			return Judgement{Field: "outcome", Problem: "Pick one of the answers."}
		}
		return Judgement{Outcome: n.Outcome}
	}
	j := e.judgeReading(c, check, o.Reading, n)
	if j.Problem == "" && j.Verdict.Called() {
		if out := e.judged(o, j.Verdict); out != nil {
			j.Outcome = out.ID
		}
	}
	return j
}

// judged returns the outcome a called verdict stands for: the one that names
// the verdict, or else the one that names what it is a case of.
func (e *Engine) judged(o *catalogue.Observation, v conformity.Verdict) *catalogue.Outcome {
	if out := o.Judged(string(v)); out != nil {
		return out
	}
	for _, w := range []conformity.Verdict{conformity.Below, conformity.Above} {
		if v.Is(w) {
			return o.Judged(string(w))
		}
	}
	return nil
}

func (e *Engine) judgeReading(c *Case, check *catalogue.Check, q *catalogue.Reading, n *Entry) Judgement {
	kind := quantity.Kind(q.Quantity)
	u, problem := entryUnit(kind, n.Unit)
	if problem != "" {
		return Judgement{Field: "unit", Problem: problem}
	}
	r, err := quantity.Parse(kind, n.Reading, u)
	if err != nil {
		return Judgement{Field: "reading", Problem: sentence(err)}
	}
	j := Judgement{Value: e.shown(r)}
	acceptance, ok := e.Book.Acceptance(q.Acceptance)
	if ok {
		j.Limits = e.Sheet(c).Limits(q.Acceptance)
	}
	j.Provisional = slices.ContainsFunc(j.Limits, func(l unit.Limit) bool { return l.Provenance.Kind == unit.Memory })
	accuracy, field, problem := entryAccuracy(r, n)
	if problem != "" {
		return Judgement{Value: j.Value, Limits: j.Limits, Field: field, Problem: problem}
	}
	if q.Method == "coil" {
		e.judgeCoil(&j, c, check, q, r, n)
		return j
	}
	var ceiling *conformity.Window
	if ok && forward(acceptance) {
		if top, ok := e.Book.Acceptance(forwardCeiling); ok && len(top.Limits) > 0 {
			w := e.window(&top.Limits[0])
			ceiling = &w
		}
	}
	var windows []conformity.Window
	for k := range j.Limits {
		windows = append(windows, e.window(&j.Limits[k]))
	}
	result := conformity.JudgeAll(r, accuracy.Standard(r), windows, ceiling, conformity.Probable)
	j.Verdict, j.Probability, j.Reason = result.Verdict, result.Probability, result.Reason
	if n.Percent == "" && n.Digits == "" && accuracy.Source != "" {
		j.Reason += " Counted on: " + accuracy.Source + "."
	}
	return j
}

// forward reports whether an acceptance is a line-fed pressure in a forward
// range, which has a ceiling of its own.
func forward(a *unit.Acceptance) bool {
	if a.Group != "pressure" {
		return false
	}
	reverse := func(l unit.Limit) bool { return l.Condition.Range == "R" || l.Condition.Gear == "R" }
	return !slices.ContainsFunc(a.Limits, reverse)
}

// window brings a limit into conformity's form, named after who says so.
func (e *Engine) window(l *unit.Limit) conformity.Window {
	name := strings.ReplaceAll(string(l.Provenance.Kind), "-", " ")
	switch {
	case l.Provenance.Kind == unit.Memory:
		name = "from memory"
	case l.Provenance.Kind == unit.Own:
		name = "your own value"
	case l.Provenance.Source != "":
		if s, ok := e.Book.Source(l.Provenance.Source); ok {
			name = s.Title
		}
	}
	w := conformity.Window{Name: name, Min: l.Min, Max: l.Max}
	for _, v := range []*quantity.Value{l.Min, l.Max} {
		if v != nil {
			w.Unit = e.Units.Unit(quantity.DefaultUnit(v.Kind))
		}
	}
	return w
}

func entryUnit(kind quantity.Kind, name string) (u quantity.Unit, problem string) {
	if name == "" {
		return quantity.DefaultUnit(kind), ""
	}
	u, ok := quantity.UnitNamed(kind, name)
	if !ok {
		return u, "“" + clip(name) + "” is no unit of " + kind.Word() + "."
	}
	return u, ""
}

// entryAccuracy returns the instrument's accuracy as entered, or the usual one.
func entryAccuracy(r quantity.Reading, n *Entry) (a conformity.Accuracy, field, problem string) {
	a = conformity.Default(r)
	if n.Percent == "" && n.Digits == "" {
		return a, "", ""
	}
	a = conformity.Accuracy{Source: "as you entered it"}
	for _, f := range []struct {
		name, text string
		to         *float64
	}{{"percent", n.Percent, &a.Percent}, {"digits", n.Digits, &a.Digits}} {
		if f.text == "" {
			continue
		}
		x, err := quantity.Parse(quantity.KindRatio, strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.text), "%")), quantity.Number)
		if err != nil {
			return a, f.name, sentence(err)
		}
		if x.SI < 0 || x.SI > 100 {
			return a, f.name, "A meter's accuracy is between 0 and 100 here."
		}
		*f.to = x.SI
	}
	return a, "", ""
}

// sentence returns an error in the words for the person who typed.
func sentence(err error) string {
	var s interface{ Sentence() string }
	if errors.As(err, &s) {
		return s.Sentence()
	}
	return "This can't be read. Check what was typed."
}

func (e *Engine) shown(r quantity.Reading) string {
	if r.OpenLoop {
		return "OL"
	}
	return e.Units.Format(r.Value(), quantity.DefaultUnit(r.Kind), -1)
}
