package catalogue

import (
	"slices"

	"provingbench/knowledge/unit"
)

// The lookups walk their list. There are some hundred records, so that takes
// less time than a frame has by five powers of ten, and it saves building an
// index when the program starts.

// SymptomIndex gives the place of a symptom in Symptoms, or -1.
func (c *Catalogue) SymptomIndex(id string) int {
	for i := range c.Symptoms {
		if c.Symptoms[i].ID == id {
			return i
		}
	}
	return -1
}

// FaultIndex gives the place of a fault in Faults, or -1.
func (c *Catalogue) FaultIndex(id string) int {
	for i := range c.Faults {
		if c.Faults[i].ID == id {
			return i
		}
	}
	return -1
}

// CheckIndex gives the place of a check in Checks, or -1.
func (c *Catalogue) CheckIndex(id string) int {
	for i := range c.Checks {
		if c.Checks[i].ID == id {
			return i
		}
	}
	return -1
}

// LevelIndex gives the place of an access level in Access, counted from the
// outside in, or -1.
func (c *Catalogue) LevelIndex(id string) int {
	for i := range c.Access {
		if c.Access[i].ID == id {
			return i
		}
	}
	return -1
}

// Symptom gives the symptom with an id; nil when there is none.
func (c *Catalogue) Symptom(id string) *Symptom {
	if i := c.SymptomIndex(id); i >= 0 {
		return &c.Symptoms[i]
	}
	return nil
}

// Fault gives the fault with an id; nil when there is none.
func (c *Catalogue) Fault(id string) *Fault {
	if i := c.FaultIndex(id); i >= 0 {
		return &c.Faults[i]
	}
	return nil
}

// Part gives the part with an id; nil when there is none.
func (c *Catalogue) Part(id string) *Part {
	for i := range c.Parts {
		if c.Parts[i].ID == id {
			return &c.Parts[i]
		}
	}
	return nil
}

// PartsOf gives the parts that a fault sits in, the one it is named for first.
func (c *Catalogue) PartsOf(f *Fault) []*Part {
	var out []*Part
	for _, id := range append([]string{f.Part}, f.AlsoIn...) {
		if p := c.Part(id); p != nil {
			out = append(out, p)
		}
	}
	return out
}

// Check gives the check with an id; nil when there is none.
func (c *Catalogue) Check(id string) *Check {
	if i := c.CheckIndex(id); i >= 0 {
		return &c.Checks[i]
	}
	return nil
}

// Caution gives the caution with an id; nil when there is none.
func (c *Catalogue) Caution(id string) *Caution {
	for i := range c.Cautions {
		if c.Cautions[i].ID == id {
			return &c.Cautions[i]
		}
	}
	return nil
}

// Level gives the access level with an id; nil when there is none.
func (c *Catalogue) Level(id string) *AccessLevel {
	if i := c.LevelIndex(id); i >= 0 {
		return &c.Access[i]
	}
	return nil
}

// Travel gives the minutes from one access level to another: the sum of the
// openings on the way in, or of the closings on the way out.
func (c *Catalogue) Travel(from, to string) float64 {
	a, b := c.LevelIndex(from), c.LevelIndex(to)
	sum := 0.0
	for i := a + 1; i <= b; i++ {
		sum += c.Access[i].Open
	}
	for i := b + 1; i <= a; i++ {
		sum += c.Access[i].Close
	}
	return sum
}

// Where gives the level at which a check is done on a truck that stands at
// another: there, if it can be, and else at the level nearest in minutes. The
// truck is there afterwards.
func (c *Catalogue) Where(k *Check, here string) string {
	nearest := k.Level
	for _, l := range k.Also {
		if c.Travel(here, l) < c.Travel(here, nearest) {
			nearest = l
		}
	}
	return nearest
}

// Observation gives the observation with an id; nil when there is none.
func (k *Check) Observation(id string) *Observation {
	for i := range k.Observations {
		if k.Observations[i].ID == id {
			return &k.Observations[i]
		}
	}
	return nil
}

// Outcome gives the outcome with an id; nil when there is none.
func (o *Observation) Outcome(id string) *Outcome {
	for i := range o.Outcomes {
		if o.Outcomes[i].ID == id {
			return &o.Outcomes[i]
		}
	}
	return nil
}

// Judged gives the outcome that a verdict chooses; nil when none does.
func (o *Observation) Judged(verdict string) *Outcome {
	for i := range o.Outcomes {
		if o.Outcomes[i].Verdict == verdict {
			return &o.Outcomes[i]
		}
	}
	return nil
}

// Values lists the acceptance values that a check needs: those of its steps,
// then those that its readings are held against.
func (k *Check) Values() []string {
	var out []string
	add := func(id string) {
		if !slices.Contains(out, id) {
			out = append(out, id)
		}
	}
	for i := range k.Steps {
		for _, id := range k.Steps[i].Values {
			add(id)
		}
	}
	for i := range k.Observations {
		if r := k.Observations[i].Reading; r != nil {
			add(r.Acceptance)
		}
	}
	return out
}

// SitsIn says whether the fault sits in a part.
func (f *Fault) SitsIn(part string) bool {
	return part != "" && (f.Part == part || slices.Contains(f.AlsoIn, part))
}

// On says whether a version can have the fault.
func (f *Fault) On(v unit.Version) bool { return on(f.Versions, v) }

// On says whether the check can be done on a version.
func (k *Check) On(v unit.Version) bool { return on(k.Versions, v) }

func on(versions []unit.Version, v unit.Version) bool {
	return len(versions) == 0 || slices.Contains(versions, v)
}

// Proving is an outcome that settles a fault.
type Proving struct {
	Check       *Check
	Observation *Observation
	Outcome     *Outcome
}

// Proofs lists the outcomes that prove a fault, in the order of the checks.
func (c *Catalogue) Proofs(fault string) []Proving {
	var out []Proving
	for i := range c.Checks {
		k := &c.Checks[i]
		for j := range k.Observations {
			o := &k.Observations[j]
			for n := range o.Outcomes {
				if slices.Contains(o.Outcomes[n].Proves, fault) {
					out = append(out, Proving{k, o, &o.Outcomes[n]})
				}
			}
		}
	}
	return out
}
