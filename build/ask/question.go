// Package ask runs the engine without a screen, for people who review the
// catalogue: a case goes in as JSON, the answer comes out as JSON.
//
// It resolves words just as the Find screen does and answers through the same
// engine.
package ask

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// Question is one case as a reviewer writes it. Only what is known need be
// there; version is late, build stock and level wheels unless said.
type Question struct {
	Version   string    `json:"version"`   // light, mid or late
	Build     string    `json:"build"`     // stock or raised
	Level     string    `json:"level"`     // wheels, raised, plug, pan, bench or out
	Complaint string    `json:"complaint"` // free words, any number of symptoms
	Symptoms  []Symptom `json:"symptoms"`  // ids, names or free words, one by one
	Outcomes  []Outcome `json:"outcomes"`  // what checks showed, picked
	Readings  []Reading `json:"readings"`  // what instruments showed, judged by the engine
	Cannot    []string  `json:"cannot"`    // checks that can't be done here

	Fitted *diagnosis.FittedLog `json:"fitted"` // a pressure log weighed as a whole, as a job keeps it
}

// Symptom is a symptom's id, its name or free words. In JSON it is a string or
// an object.
type Symptom struct {
	ID          string `json:"id"`
	Said        string `json:"said"`        // free words, instead of an id
	Gear        string `json:"gear"`        // "1" … "4", "R", "2-3"
	Temperature string `json:"temperature"` // hot or cold
	Throttle    string `json:"throttle"`    // light or heavy
	Absent      bool   `json:"absent"`      // asked about, and not there
}

// UnmarshalJSON takes a bare string as id, name or free words.
func (s *Symptom) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, &s.Said)
	}
	type plain Symptom
	return strict(data, (*plain)(s))
}

// Outcome is what one observation of a check showed.
type Outcome struct {
	Check       string `json:"check"`
	Observation string `json:"observation"` // needed only where the outcome's id is in several
	Outcome     string `json:"outcome"`     // id, or the label's words
}

// Reading is a number, or OL, read at one observation of a check.
type Reading struct {
	Check       string `json:"check"`
	Observation string `json:"observation"` // needed only where the check has several readings
	Acceptance  string `json:"acceptance"`  // instead of check and observation: the sheet's id
	Value       Text   `json:"value"`       // "4.9", 4.9, "OL", "1/4 in", "54 psi"
	Unit        string `json:"unit"`        // of a bare number
	At          Text   `json:"at"`          // temperature of winding or fluid: "180 F"
	Leads       Text   `json:"leads"`       // resistance of the meter's leads, in ohm
	Percent     Text   `json:"percent"`     // meter accuracy, per cent of reading
	Digits      Text   `json:"digits"`      // meter accuracy, counts of the last digit
}

// Text is a string, or a number that is kept as it was written.
type Text string

// UnmarshalJSON takes strings and numbers.
func (t *Text) UnmarshalJSON(data []byte) error {
	if len(data) > 0 && data[0] == '"' {
		return json.Unmarshal(data, (*string)(t))
	}
	var n json.Number
	if err := json.Unmarshal(data, &n); err != nil {
		return fmt.Errorf("want a number or a string, not %s", data)
	}
	*t = Text(n)
	return nil
}

// Read reads one question. A field that is unknown is an error, so that a typing
// error can't pass unnoticed.
func Read(r io.Reader) (*Question, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	q := &Question{}
	if err := strict(data, q); err != nil {
		return nil, fmt.Errorf("ask: reading the case: %w", err)
	}
	return q, nil
}

func strict(data []byte, to any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(to); err != nil {
		return err
	}
	if d.More() {
		return fmt.Errorf("there is more after the end")
	}
	return nil
}

func orElse(s, otherwise string) string {
	if s = strings.TrimSpace(s); s == "" {
		return otherwise
	}
	return strings.ToLower(s)
}

// entries turns outcomes and readings into the case's entries.
func (q *Question) entries(c *catalogue.Catalogue) ([]diagnosis.Entry, error) {
	var entries []diagnosis.Entry
	for k, o := range q.Outcomes {
		check, err := findCheck(c, o.Check)
		if err != nil {
			return nil, fmt.Errorf("ask: outcomes[%d]: %w", k, err)
		}
		observation, outcome, err := findOutcome(check, o.Observation, o.Outcome)
		if err != nil {
			return nil, fmt.Errorf("ask: outcomes[%d]: %w", k, err)
		}
		entries = append(entries, diagnosis.Entry{Check: check.ID, Observation: observation, Outcome: outcome})
	}
	for k, r := range q.Readings {
		check, observation, err := findReading(c, unit.Version(orElse(q.Version, "late")), r)
		if err != nil {
			return nil, fmt.Errorf("ask: readings[%d]: %w", k, err)
		}
		entries = append(entries, diagnosis.Entry{
			Check: check, Observation: observation, Reading: string(r.Value), Unit: r.Unit,
			At: string(r.At), Leads: string(r.Leads), Percent: string(r.Percent), Digits: string(r.Digits),
		})
	}
	return entries, nil
}

// findCheck finds a check by id or by its name.
func findCheck(c *catalogue.Catalogue, id string) (*catalogue.Check, error) {
	if check := c.Check(id); check != nil {
		return check, nil
	}
	for k := range c.Checks {
		if strings.EqualFold(c.Checks[k].Name, strings.TrimSpace(id)) {
			return &c.Checks[k], nil
		}
	}
	return nil, fmt.Errorf("there is no check %q; `go run ./build list` prints all", id)
}

// findOutcome finds an outcome of a check by id or label. Where the observation
// isn't said, the outcome must be in one only.
func findOutcome(check *catalogue.Check, observation, outcome string) (string, string, error) {
	var found [][2]string
	var legal []string
	for k := range check.Observations {
		o := &check.Observations[k]
		if observation != "" && o.ID != observation {
			continue
		}
		for n := range o.Outcomes {
			legal = append(legal, o.ID+"/"+o.Outcomes[n].ID)
			if o.Outcomes[n].ID == outcome || strings.EqualFold(o.Outcomes[n].Label, strings.TrimSpace(outcome)) {
				found = append(found, [2]string{o.ID, o.Outcomes[n].ID})
			}
		}
	}
	switch len(found) {
	case 1:
		return found[0][0], found[0][1], nil
	case 0:
		return "", "", fmt.Errorf("check %s has no outcome %q; there are %s", check.ID, outcome, strings.Join(legal, ", "))
	}
	return "", "", fmt.Errorf("outcome %q of check %s is in several observations; say which: %s", outcome, check.ID, strings.Join(legal, ", "))
}

// findReading finds the observation that a reading belongs to.
func findReading(c *catalogue.Catalogue, v unit.Version, r Reading) (check, observation string, err error) {
	if r.Check == "" && r.Acceptance != "" {
		for k := range c.Checks {
			if !c.Checks[k].On(v) {
				continue
			}
			for n := range c.Checks[k].Observations {
				o := &c.Checks[k].Observations[n]
				if o.Reading != nil && o.Reading.Acceptance == r.Acceptance {
					return c.Checks[k].ID, o.ID, nil
				}
			}
		}
		return "", "", fmt.Errorf("no check reads %q", r.Acceptance)
	}
	found, err := findCheck(c, r.Check)
	if err != nil {
		return "", "", err
	}
	var ids []string
	for n := range found.Observations {
		o := &found.Observations[n]
		if o.Reading == nil {
			continue
		}
		if o.ID == r.Observation || r.Observation == "" && o.Reading.Acceptance == r.Acceptance && r.Acceptance != "" {
			return found.ID, o.ID, nil
		}
		ids = append(ids, o.ID)
	}
	if r.Observation == "" && r.Acceptance == "" && len(ids) == 1 {
		return found.ID, ids[0], nil
	}
	if len(ids) == 0 {
		return "", "", fmt.Errorf("check %s has nothing to read; give it an outcome", found.ID)
	}
	return "", "", fmt.Errorf("check %s has no reading %q; there are %s", found.ID, r.Observation+r.Acceptance, strings.Join(ids, ", "))
}
