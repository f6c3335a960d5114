package find

import (
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/order"
)

// byName lists the symptoms as a reader looks them up.
func byName(c *catalogue.Catalogue) []*catalogue.Symptom {
	out := make([]*catalogue.Symptom, len(c.Symptoms))
	for i := range c.Symptoms {
		out[i] = &c.Symptoms[i]
	}
	order.Stable(out, func(a, b *catalogue.Symptom) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// gears lists the gears and shifts that tell the causes of a symptom apart;
// nothing when the gear is part of the symptom itself or makes no difference.
func gears(c *catalogue.Catalogue, symptom string) []string {
	var out []string
	for i := range c.Faults {
		for _, l := range c.Faults[i].Symptoms {
			if l.ID == symptom && l.When.Gear != "" && !slices.Contains(out, l.When.Gear) {
				out = append(out, l.When.Gear)
			}
		}
	}
	slices.Sort(out)
	return out
}

// conditionWords says a reported condition in a few words; empty when nothing
// is said.
func conditionWords(c catalogue.Condition, gear func(string) string) string {
	var said []string
	if c.Temperature != "" {
		said = append(said, "when "+c.Temperature)
	}
	if c.Throttle != "" {
		said = append(said, c.Throttle+" throttle")
	}
	if c.Gear != "" {
		said = append(said, gear(c.Gear))
	}
	return strings.Join(said, ", ")
}

// offers lists the stretches of a text that fit several symptoms and that none
// of the reports was made of.
func offers(u complaint.Understanding, reports []diagnosis.Report) []complaint.Choice {
	var out []complaint.Choice
	for _, x := range u.Unclear {
		taken := slices.ContainsFunc(reports, func(r diagnosis.Report) bool {
			return r.Said == x.Words && len(x.Candidates) > 0 && r.Symptom == x.Candidates[0].SymptomID
		})
		if !taken && len(x.Candidates) > 0 {
			out = append(out, x)
		}
	}
	return out
}

// fresh leaves out the reports that the case already has just so.
func fresh(c diagnosis.Case, reports []diagnosis.Report) []diagnosis.Report {
	return slices.DeleteFunc(slices.Clone(reports), func(r diagnosis.Report) bool {
		return slices.ContainsFunc(c.Reports, func(had diagnosis.Report) bool { return had.Symptom == r.Symptom })
	})
}
