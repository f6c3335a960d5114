package diagnosis

import (
	"slices"
	"sync"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/infer"
	"provingbench/knowledge/plan"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// How a condition that the customer stated ("only when hot") weighs on a link.
// The factors are the engine's own, from memory of how reports turn out.
const (
	conditionIgnored    = 0.6 // the fault shows whatever the condition
	conditionContrary   = 0.1 // the fault shows under the opposite condition
	notNoticedAllowance = 0.8 // a symptom that is there is noticed when asked about
)

// Engine answers cases from one catalogue that the validator has passed and one
// book of acceptance values.
type Engine struct {
	Catalogue *catalogue.Catalogue
	Book      *unit.Book
	Own       map[string]unit.OwnLimit // the user's own values, by acceptance id; they stand above the book's
	Units     quantity.Preference      // in which reasons are given

	once   sync.Once
	checks []plan.Check // all of the catalogue's, as the plan takes them
}

// Sheet is the unit sheet of a case.
func (e *Engine) Sheet(c *Case) unit.Sheet {
	return unit.Sheet{Book: e.Book, Version: c.Version, Build: c.Build, Own: e.Own}
}

// priors returns how common each fault is on this version and build, before
// anything is known about the truck.
func (e *Engine) priors(c *Case) []float64 {
	priors := make([]float64, len(e.Catalogue.Faults))
	for i := range e.Catalogue.Faults {
		f := &e.Catalogue.Faults[i]
		if !f.On(c.Version) || f.Excused == c.Build {
			continue
		}
		priors[i], _ = f.Frequency.Probability()
	}
	return priors
}

// symptomSign returns the sign of a reported symptom under its condition.
func (e *Engine) symptomSign(s *catalogue.Symptom, when catalogue.Condition) infer.Sign {
	leak, _ := s.Leak.Probability()
	sign := infer.Sign{Leak: leak * agreement(catalogue.Condition{}, when)}
	for i := range e.Catalogue.Faults {
		for _, l := range e.Catalogue.Faults[i].Symptoms {
			if l.ID != s.ID {
				continue
			}
			strength, _ := l.Level.Probability()
			sign.Causes = append(sign.Causes, infer.Cause{Fault: i, Strength: strength * agreement(l.When, when)})
		}
	}
	return sign
}

// agreement returns the factor by which stated conditions weaken a link.
func agreement(link, stated catalogue.Condition) float64 {
	f := 1.0
	for _, d := range [][2]string{{link.Gear, stated.Gear}, {link.Temperature, stated.Temperature}, {link.Throttle, stated.Throttle}} {
		switch {
		case d[1] == "" || d[0] == d[1]:
		case d[0] == "":
			f *= conditionIgnored
		default:
			f *= conditionContrary
		}
	}
	return f
}

// outcomeSign returns the sign of one outcome of an observation.
func (e *Engine) outcomeSign(o *catalogue.Outcome) infer.Sign {
	var sign infer.Sign
	sign.Leak, _ = o.Leak.Probability()
	if len(o.Proves) > 0 {
		// What settles a fault is not seen without it.
		sign.Leak = 0
	}
	for _, l := range o.Shows {
		strength, _ := l.Level.Probability()
		sign.Causes = append(sign.Causes, infer.Cause{Fault: e.Catalogue.FaultIndex(l.ID), Strength: strength})
	}
	return sign
}

// reportFinding turns a report into a finding.
func (e *Engine) reportFinding(r *Report) infer.Finding {
	s := e.Catalogue.Symptom(r.Symptom)
	sign := e.symptomSign(s, r.Condition)
	f := infer.Finding{ID: r.Symptom, Reported: !r.Absent}
	if r.Absent {
		sign.Leak *= notNoticedAllowance
		for k := range sign.Causes {
			sign.Causes[k].Strength *= notNoticedAllowance
		}
		f.Absent = []infer.Sign{sign}
		return f
	}
	f.Present = &sign
	return f
}

// outcomeFinding turns the seen outcome of an observation into a finding: its
// own sign fired and none before it did.
func (e *Engine) outcomeFinding(check *catalogue.Check, o *catalogue.Observation, seen int) infer.Finding {
	f := infer.Finding{ID: check.ID + "/" + o.ID}
	for k := 0; k < seen; k++ {
		f.Absent = append(f.Absent, e.outcomeSign(&o.Outcomes[k]))
	}
	if !o.Outcomes[seen].Normal {
		sign := e.outcomeSign(&o.Outcomes[seen])
		f.Present = &sign
	}
	for _, id := range o.Outcomes[seen].Proves {
		f.Proves = append(f.Proves, e.Catalogue.FaultIndex(id))
	}
	return f
}

// latest returns the indexes of the entries that count: of several entries for
// the same observation, the last.
func latest(entries []Entry) []int {
	var out []int
	for k, n := range entries {
		out = slices.DeleteFunc(out, func(o int) bool {
			return entries[o].Check == n.Check && entries[o].Observation == n.Observation
		})
		out = append(out, k)
	}
	return out
}
