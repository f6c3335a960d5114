package ask

import (
	"fmt"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/diagnosis"
)

// resolve turns the complaint's words and the listed symptoms into reports. A
// symptom named twice counts once, as it was named last.
func (r *Reply) resolve(c *catalogue.Catalogue, q *Question, to *diagnosis.Case) error {
	index := complaint.New(c)
	mentions := diagnosis.Mentions(c, q.Complaint)
	u := index.Resolve(q.Complaint)
	u.Unmatched = diagnosis.Unexplained(u, mentions)
	r.take(c, to, u, mentions, catalogue.Condition{}, false)
	for _, m := range mentions {
		r.Codes = append(r.Codes, mentioned(m))
	}
	for k, s := range q.Symptoms {
		when := catalogue.Condition{Gear: s.Gear, Temperature: s.Temperature, Throttle: s.Throttle}
		if err := checkCondition(when); err != nil {
			return fmt.Errorf("ask: symptoms[%d]: %w", k, err)
		}
		words := s.Said
		if s.ID != "" {
			if c.Symptom(s.ID) == nil {
				return fmt.Errorf("ask: symptoms[%d]: there is no symptom %q; `go run ./build list` prints all, free words go in \"said\"", k, s.ID)
			}
			words = s.ID
		}
		if strings.TrimSpace(words) == "" {
			return fmt.Errorf("ask: symptoms[%d]: neither id nor words", k)
		}
		r.take(c, to, index.Resolve(words), nil, when, s.Absent)
	}
	return nil
}

// mentioned says what a number in the complaint was taken for.
func mentioned(m diagnosis.Mention) Mentioned {
	out := Mentioned{Words: m.Words, Number: m.Number}
	k := m.Code()
	switch {
	case k != nil:
		out.Name = k.Name
		if k.Outcome != nil {
			out.Outcome = k.Outcome.Check + "/" + k.Outcome.Observation + "/" + k.Outcome.Outcome
		}
	default:
		for _, k := range m.Codes {
			out.OneOf = append(out.OneOf, k.Number)
		}
	}
	return out
}

func checkCondition(w catalogue.Condition) error {
	if w.Temperature != "" && w.Temperature != "hot" && w.Temperature != "cold" {
		return fmt.Errorf("temperature %q is neither hot nor cold", w.Temperature)
	}
	if w.Throttle != "" && w.Throttle != "light" && w.Throttle != "heavy" {
		return fmt.Errorf("throttle %q is neither light nor heavy", w.Throttle)
	}
	return nil
}

// take adds what was understood to the case. Conditions that were stated beside
// the words outweigh those found in them.
func (r *Reply) take(c *catalogue.Catalogue, to *diagnosis.Case, u complaint.Understanding, mentions []diagnosis.Mention, when catalogue.Condition, absent bool) {
	for _, report := range diagnosis.Reports(u, mentions) {
		if when.Gear != "" {
			report.Condition.Gear = when.Gear
		}
		if when.Temperature != "" {
			report.Condition.Temperature = when.Temperature
		}
		if when.Throttle != "" {
			report.Condition.Throttle = when.Throttle
		}
		report.Absent = report.Absent || absent
		to.Report(report)
		r.Understood = append(r.Understood, Understood{
			Words: report.Said, Symptom: report.Symptom, Name: c.Symptom(report.Symptom).Name,
			Condition: report.Condition, Absent: report.Absent, Instead: report.Instead,
		})
	}
	for _, p := range u.Unmatched {
		r.NotTaken = append(r.NotTaken, p.Words)
	}
}
