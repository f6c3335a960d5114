package diagnosis

import (
	"fmt"
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
	// with this fault alone than with a healthy unit. What is left out is 0.
	Weights map[string]float64 `json:"weights"`
}

// MostWeight bounds a weight either way: the logarithm of 0.98 to 0.02, the
// catalogue's "always" against its "hardly". No model proves a fault.
const MostWeight = 3.8918202981106265

// LeastWeight is the weight below which a fault is left out of a fitted log: it
// changes the odds by less than four per cent.
const LeastWeight = 0.04

// fittedID names the finding that a fitted log is.
const fittedID = "fitted-log"

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
// readings, and reports whether it did.
func (c *Case) Unfit(entries ...Entry) bool {
	if c.Fitted == nil || !slices.ContainsFunc(entries, c.Fitted.has) {
		return false
	}
	c.Fitted = nil
	return true
}

func (f *FittedLog) has(n Entry) bool {
	return slices.ContainsFunc(f.Readings, func(r Entry) bool { return r.Check == n.Check && r.Observation == n.Observation })
}

// Clone returns a copy that shares nothing; nil for nil.
func (f *FittedLog) Clone() *FittedLog {
	if f == nil {
		return nil
	}
	next := FittedLog{Readings: slices.Clone(f.Readings), Weights: make(map[string]float64, len(f.Weights))}
	for id, w := range f.Weights {
		next.Weights[id] = w
	}
	return &next
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
	for id, w := range f.Weights {
		if e.Catalogue.Fault(id) == nil {
			return &InputError{"fitted.weights", id, "a fault's id"}
		}
		if math.IsNaN(w) || math.Abs(w) > MostWeight+1e-6 {
			return &InputError{"fitted.weights." + id, fmt.Sprint(w), "a logarithm of odds of at most 49 to 1 either way"}
		}
	}
	return nil
}

// fittedFinding turns a fitted log into a finding. What makes the readings
// likelier causes one sign, which several faults share as the causes of any sign
// do; so that two faults that explain the same readings are rivals and do not
// count twice:
//
//	P(sign | fault i alone) / P(sign | none) = exp(wᵢ)
//
// What makes them less likely stands against each such fault by itself.
func (e *Engine) fittedFinding(f *FittedLog) infer.Finding {
	out := infer.Finding{ID: fittedID}
	top := 0.0
	for _, w := range f.Weights {
		top = max(top, w)
	}
	sign := infer.Sign{Leak: fittedTop / math.Exp(top)}
	var against infer.Sign
	for i := range e.Catalogue.Faults {
		w := f.Weights[e.Catalogue.Faults[i].ID]
		switch {
		case w > LeastWeight:
			sign.Causes = append(sign.Causes, infer.Cause{Fault: i, Strength: sign.Leak * (math.Exp(w) - 1) / (1 - sign.Leak)})
		case w < -LeastWeight:
			against.Causes = append(against.Causes, infer.Cause{Fault: i, Strength: 1 - math.Exp(w)})
		}
	}
	if len(sign.Causes) > 0 {
		out.Present = &sign
	}
	if len(against.Causes) > 0 {
		out.Absent = []infer.Sign{against}
	}
	return out
}
