package diagnosis

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/infer"
)

// FittedLog is a pressure log that was weighed as a whole by the hydraulic model,
// in the place of the single outcomes of its readings.
type FittedLog struct {
	Readings []Entry `json:"readings"`
	// Weights is, by fault, the natural logarithm of how much likelier the log is
	// with this fault than without: than with a healthy unit, or beside a partner when
	// only two faults together explain the log. What is left out is 0.
	Weights map[string]float64 `json:"weights"`
	// Beside is the same for the partner's place, if there is one; none is under 0.
	Beside map[string]float64 `json:"beside,omitempty"`
}

// MostWeight bounds a weight either way: the logarithm of 0.98 to 0.02, the
// catalogue's "always" against its "hardly". No model proves a fault.
const MostWeight = 3.8918202981106265

// LeastWeight is the weight below which a fault is left out of a fitted log: it
// changes the odds by less than four per cent.
const LeastWeight = 0.04

// fittedID and besideID name the findings that a fitted log is.
const (
	fittedID = "fitted-log"
	besideID = "fitted-log-beside"
)

// fittedTop is how probable the readings are taken to be with the fault that
// explains them best: the catalogue's "always".
var fittedTop, _ = catalogue.Always.Probability()

// Fit puts a fitted log into the case. Entries of its readings are withdrawn, for
// they would say the same again; it returns which of the case's entries stay, as
// their old indexes.
func (c *Case) Fit(log *FittedLog) (stay []int) {
	var kept []Entry
	for k, n := range c.Entries {
		if !log.has(n) {
			kept, stay = append(kept, n), append(stay, k)
		}
	}
	c.Entries = kept
	c.Fitted = log
	return stay
}

// Unfit takes the fitted log out of the case when one of the entries is of its
// readings, and reports whether it did. Its other readings are entries from then
// on, in their order.
func (c *Case) Unfit(entries ...Entry) bool {
	if c.Fitted == nil || !slices.ContainsFunc(entries, c.Fitted.has) {
		return false
	}
	c.Entries = append(slices.Clip(c.Entries), c.Fitted.But(entries)...)
	c.Fitted = nil
	return true
}

// But returns the readings of the log that are not among the entries.
func (f *FittedLog) But(entries []Entry) []Entry {
	var out []Entry
	for _, r := range f.Readings {
		if !slices.ContainsFunc(entries, func(n Entry) bool { return r.Check == n.Check && r.Observation == n.Observation }) {
			out = append(out, r)
		}
	}
	return out
}

func (f *FittedLog) has(n Entry) bool {
	return slices.ContainsFunc(f.Readings, func(r Entry) bool { return r.Check == n.Check && r.Observation == n.Observation })
}

// Clone returns a copy that shares nothing; nil for nil.
func (f *FittedLog) Clone() *FittedLog {
	if f == nil {
		return nil
	}
	return &FittedLog{slices.Clone(f.Readings), maps.Clone(f.Weights), maps.Clone(f.Beside)}
}

// counts reports whether the fitted log is evidence in this case: it is none
// where one of its readings was entered by itself.
func (f *FittedLog) counts(entries []Entry) bool {
	return f != nil && len(f.Weights) > 0 && !slices.ContainsFunc(entries, f.has)
}

// validateFitted reports the first thing in the fitted log that the catalogue
// doesn't know.
func (e *Engine) validateFitted(f *FittedLog) error {
	for k, n := range f.Readings {
		check := e.Catalogue.Check(n.Check)
		if check == nil || check.Observation(n.Observation) == nil {
			return &InputError{fmt.Sprintf("fitted.readings[%d]", k), n.Check + "/" + n.Observation, "a check and its observation"}
		}
	}
	for _, x := range []struct {
		name    string
		weights map[string]float64
		least   float64
		want    string
	}{
		{"fitted.weights", f.Weights, -MostWeight, "a logarithm of odds of at most 49 to 1 either way"},
		{"fitted.beside", f.Beside, 0, "a logarithm of odds from 0 to that of 49 to 1"},
	} {
		for id, w := range x.weights {
			if e.Catalogue.Fault(id) == nil {
				return &InputError{x.name, id, "a fault's id"}
			}
			if !(w >= x.least-1e-6 && w <= MostWeight+1e-6) {
				return &InputError{x.name + "." + id, fmt.Sprint(w), x.want}
			}
		}
	}
	return nil
}

// fittedFindings turns a fitted log into findings. What makes the readings
// likelier causes one sign, which several faults share as the causes of any sign
// do; so that two faults that explain the same readings are rivals and do not
// count twice:
//
//	P(sign | fault i alone) / P(sign | none) = exp(wᵢ)
//
// Where only two faults together explain the readings, each and its rivals have
// a sign of their own, so that the two do not make each other unlikely. What makes
// the readings less likely stands against each such fault by itself.
func (e *Engine) fittedFindings(f *FittedLog) []infer.Finding {
	out := []infer.Finding{{ID: fittedID, Present: e.fittedSign(f.Weights)}}
	var against infer.Sign
	for i := range e.Catalogue.Faults {
		if w := f.Weights[e.Catalogue.Faults[i].ID]; w < -LeastWeight {
			against.Causes = append(against.Causes, infer.Cause{Fault: i, Strength: 1 - math.Exp(w)})
		}
	}
	if len(against.Causes) > 0 {
		out[0].Absent = []infer.Sign{against}
	}
	if sign := e.fittedSign(f.Beside); sign != nil {
		out = append(out, infer.Finding{ID: besideID, Present: sign})
	}
	return out
}

// fittedSign is what the faults of positive weight cause; nil where none has one.
func (e *Engine) fittedSign(weights map[string]float64) *infer.Sign {
	top := 0.0
	for _, w := range weights {
		top = max(top, w)
	}
	sign := infer.Sign{Leak: fittedTop / math.Exp(top)}
	for i := range e.Catalogue.Faults {
		if w := weights[e.Catalogue.Faults[i].ID]; w > LeastWeight {
			sign.Causes = append(sign.Causes, infer.Cause{Fault: i, Strength: sign.Leak * (math.Exp(w) - 1) / (1 - sign.Leak)})
		}
	}
	if len(sign.Causes) == 0 {
		return nil
	}
	return &sign
}
