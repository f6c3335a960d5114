// Package diagnosis answers the question a rebuilder has all day: from what was
// reported and measured so far, on this truck and with this much of it taken
// apart, what is wrong, what proves it, and what comes next?
//
// It joins the catalogue (what is known), infer (what is likely), plan (what to
// check next), conformity and coil (what a reading means) and holds no trade
// fact of its own. Screens and the command line both go through it, so they
// can't disagree.
package diagnosis

import (
	"fmt"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/order"
	"provingbench/knowledge/unit"
)

// Case is one truck's complaint and what was found so far.
type Case struct {
	Version unit.Version `json:"version"`
	Build   unit.Build   `json:"build"`
	Level   string       `json:"level"` // access level the truck is at now
	Reports []Report     `json:"reports,omitempty"`
	Entries []Entry      `json:"entries,omitempty"` // in the order they were made
	Fitted  *FittedLog   `json:"fitted,omitempty"`  // gauge readings weighed together, in the place of entries
	Refused []string     `json:"refused,omitempty"` // checks that can't be done here
}

// Report is one symptom of the complaint.
type Report struct {
	Symptom   string              `json:"symptom"`
	Condition catalogue.Condition `json:"condition,omitzero"`
	Absent    bool                `json:"absent,omitempty"`  // asked about, and not there
	Said      string              `json:"said,omitempty"`    // the words it came from
	Instead   []string            `json:"instead,omitempty"` // symptoms that fit those words nearly as well
}

// Report adds a report; a symptom that is already reported takes its place.
func (c *Case) Report(r Report) {
	for k := range c.Reports {
		if c.Reports[k].Symptom == r.Symptom {
			c.Reports[k] = r
			return
		}
	}
	c.Reports = append(c.Reports, r)
}

// Empty reports whether nothing is known of the truck but what it is.
func (c *Case) Empty() bool { return len(c.Reports)+len(c.Entries) == 0 && c.Fitted == nil }

// unclearAt is the score from which words that fit several symptoms are taken
// for the one that fits best; the others are offered beside it.
const unclearAt = 0.78

// Reports turns what was understood of a complaint into reports, in the order of
// the words. Words that fit nothing well enough lead to none. Neither do those
// that are nothing but fault codes with an outcome of their own: as entries they
// say the same and more, and would count twice.
func Reports(u complaint.Understanding, mentions []Mention) []Report {
	type placed struct {
		start  int
		report Report
	}
	var all []placed
	mentions = slices.DeleteFunc(slices.Clone(mentions), func(m Mention) bool { k := m.Code(); return k == nil || k.Outcome == nil })
	for _, m := range u.Matches {
		if len(mentions) > 0 && onlyCodes(complaint.Part{Words: m.Words, Start: m.Start}, mentions) {
			continue
		}
		all = append(all, placed{m.Start, Report{Symptom: m.SymptomID, Condition: m.When, Absent: m.Absent, Said: m.Words}})
	}
	for _, x := range u.Unclear {
		if len(x.Candidates) == 0 || x.Candidates[0].Score < unclearAt {
			continue
		}
		r := Report{Symptom: x.Candidates[0].SymptomID, Condition: x.When, Absent: x.Absent, Said: x.Words}
		for _, other := range x.Candidates[1:] {
			r.Instead = append(r.Instead, other.SymptomID)
		}
		all = append(all, placed{x.Start, r})
	}
	order.Stable(all, func(a, b placed) int { return a.start - b.start })
	reports := make([]Report, len(all))
	for k := range all {
		reports[k] = all[k].report
	}
	return reports
}

// Entry is one observation of a check as a person entered it.
type Entry struct {
	Check       string `json:"check"`
	Observation string `json:"observation"`
	Outcome     string `json:"outcome,omitempty"` // for observations that are picked
	Reading     string `json:"reading,omitempty"` // for observations that are typed, as typed: "4.9", "OL", "1/4 in"
	Unit        string `json:"unit,omitempty"`    // unit of a bare number; empty: the quantity's usual unit
	At          string `json:"at,omitempty"`      // temperature of the winding or fluid: "180 F"; empty: not said
	Soaked      bool   `json:"soaked,omitempty"`  // At is that of the surroundings, and the unit stood long enough to have it
	Leads       string `json:"leads,omitempty"`   // resistance of the meter's leads: "0.3"; empty: none to subtract
	Percent     string `json:"percent,omitempty"` // meter accuracy, per cent of reading; empty: usual for the instrument
	Digits      string `json:"digits,omitempty"`  // meter accuracy, counts of the last digit
}

// An InputError says which part of a case can't be used and what would be.
type InputError struct {
	Field string // path of the field, "entries[2].reading"
	Value string
	Want  string
}

func (e *InputError) Error() string {
	return fmt.Sprintf("diagnosis: %s %q: want %s", e.Field, clip(e.Value), e.Want)
}

// clip keeps a hostile value from flooding a message.
func clip(s string) string {
	r := []rune(s)
	if len(r) <= 60 {
		return s
	}
	return string(r[:60]) + "…"
}

// validate reports the first thing in the case that the catalogue doesn't know.
func (e *Engine) validate(c *Case) error {
	if !slices.Contains(unit.Versions, c.Version) {
		return &InputError{"version", string(c.Version), "light, mid or late"}
	}
	if c.Build != unit.Stock && c.Build != unit.Raised {
		return &InputError{"build", string(c.Build), "stock or raised"}
	}
	if e.Catalogue.LevelIndex(c.Level) < 0 {
		return &InputError{"level", c.Level, "wheels, raised, plug, pan, bench or out"}
	}
	for k, r := range c.Reports {
		if e.Catalogue.Symptom(r.Symptom) == nil {
			return &InputError{fmt.Sprintf("symptoms[%d]", k), r.Symptom, "a symptom's id"}
		}
	}
	for k, n := range c.Entries {
		check := e.Catalogue.Check(n.Check)
		if check == nil {
			return &InputError{fmt.Sprintf("entries[%d].check", k), n.Check, "a check's id"}
		}
		if check.Observation(n.Observation) == nil {
			return &InputError{fmt.Sprintf("entries[%d].observation", k), n.Observation, "an observation of " + check.ID}
		}
	}
	if c.Fitted != nil {
		if err := e.validateFitted(c.Fitted); err != nil {
			return err
		}
	}
	for k, id := range c.Refused {
		if e.Catalogue.Check(id) == nil {
			return &InputError{fmt.Sprintf("refused[%d]", k), id, "a check's id"}
		}
	}
	return nil
}
