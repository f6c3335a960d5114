package ask

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// Reply is the engine's answer as JSON. Probabilities are 0 to 1, minutes are
// minutes of work.
type Reply struct {
	Version     unit.Version      `json:"version"`
	Build       unit.Build        `json:"build"`
	Level       string            `json:"level"`
	Understood  []Understood      `json:"understood"`            // how the words were resolved
	Codes       []Mentioned       `json:"codes,omitempty"`       // fault codes in the complaint
	NotTaken    []string          `json:"notUnderstood"`         // words that led to no symptom
	Verdicts    []Verdict         `json:"verdicts"`              // one for each outcome and reading given
	Conclusion  string            `json:"conclusion"`            // where this stands
	Done        bool              `json:"done"`                  // proved faults explain the whole complaint, no suspect left
	Explained   float64           `json:"explained"`             // P(proved faults are all there is to the complaint)
	Symptoms    []SymptomState    `json:"symptoms"`              // the same by symptom
	Faults      []Fault           `json:"faults"`                // ranked, the most likely first
	Proved      []string          `json:"proved"`                // ids, in the order of the proofs
	Next        []Check           `json:"next"`                  // best first
	WhileOpen   []Check           `json:"whileOpen"`             // worth doing before this level is closed
	Repairs     []Repair          `json:"repairs"`               // for what is proved
	Clash       string            `json:"clash,omitempty"`       // findings that contradict each other
	Approximate bool              `json:"approximate,omitempty"` // the exact sum was too large
	Case        diagnosis.Case    `json:"-"`
	Engine      *diagnosis.Answer `json:"-"`
}

// Understood is how a piece of the complaint was resolved.
type Understood struct {
	Words     string              `json:"words"`
	Symptom   string              `json:"symptom"`
	Name      string              `json:"name"`
	Condition catalogue.Condition `json:"condition,omitzero"`
	Absent    bool                `json:"absent,omitempty"`
	Instead   []string            `json:"orMeant,omitempty"` // symptoms that fit the words nearly as well
}

// Mentioned is a fault code that the complaint names.
type Mentioned struct {
	Words   string   `json:"words"`
	Number  string   `json:"number"`
	Name    string   `json:"name,omitempty"`
	Outcome string   `json:"outcome,omitempty"` // what it is entered as: check/observation/outcome
	OneOf   []string `json:"oneOf,omitempty"`   // a number that stands for several faults
}

// Verdict is what an outcome or a reading means.
type Verdict struct {
	Check       string  `json:"check"`
	Observation string  `json:"observation"`
	Outcome     string  `json:"outcome,omitempty"`
	Verdict     string  `json:"verdict,omitempty"`
	Value       string  `json:"value,omitempty"`
	Probability float64 `json:"probabilityGood,omitempty"`
	Reason      string  `json:"reason,omitempty"`
	Problem     string  `json:"problem,omitempty"`
	Provisional bool    `json:"fromMemory,omitempty"` // judged by a figure from memory
}

// SymptomState is how far a reported symptom is explained by what is proved.
type SymptomState struct {
	ID        string   `json:"id"`
	State     string   `json:"state"`
	Explained float64  `json:"explained"`
	By        []string `json:"by,omitempty"`
}

// Fault is one ranked fault.
type Fault struct {
	ID          string    `json:"id"`
	Name        string    `json:"name"`
	Probability float64   `json:"probability"`
	Proved      bool      `json:"proved,omitempty"`
	Because     []Because `json:"because,omitempty"`
}

// Because is how far one finding moved a fault: bits of log-odds, and how likely
// the fault would be without it.
type Because struct {
	Finding string  `json:"finding"`
	Bits    float64 `json:"bits"`
	Without float64 `json:"without"`
}

// Check is one suggested check.
type Check struct {
	ID       string  `json:"id"`
	Name     string  `json:"name"`
	Level    string  `json:"level"`
	Travel   float64 `json:"travelMinutes"`
	Minutes  float64 `json:"minutes"` // travel included
	Expected float64 `json:"expectedMinutesToTheEnd"`
	Bits     float64 `json:"bits"`
	Proof    float64 `json:"provesSomething"`
	Why      string  `json:"why"`
}

// Repair is what to do about a proved fault.
type Repair struct {
	Fault    string   `json:"fault"`
	Name     string   `json:"name"`
	Renew    []string `json:"renew,omitempty"`
	Rework   []string `json:"rework,omitempty"`
	Set      []string `json:"set,omitempty"`
	Together []string `json:"together,omitempty"`
	Proof    []string `json:"proof,omitempty"`  // ids of the checks to do again
	Values   []string `json:"values,omitempty"` // of the sheet, with condition and provenance
}

// ranked is how many faults a reply lists with their reasons.
const ranked = 12

// Ask answers one question.
//
// Errors say which field can't be used and what would be.
func Ask(e *diagnosis.Engine, q *Question) (*Reply, error) {
	c := diagnosis.Case{
		Version: unit.Version(orElse(q.Version, string(unit.Late))),
		Build:   unit.Build(orElse(q.Build, string(unit.Stock))),
		Level:   orElse(q.Level, e.Catalogue.Access[0].ID),
		Refused: slices.Clone(q.Cannot),
		Fitted:  q.Fitted,
	}
	r := &Reply{Version: c.Version, Build: c.Build, Level: c.Level}
	if err := r.resolve(e.Catalogue, q, &c); err != nil {
		return nil, err
	}
	var err error
	if c.Entries, err = q.entries(e.Catalogue); err != nil {
		return nil, err
	}
	// Stored codes come after what was found: a code that was entered by hand as
	// an outcome stands.
	c.Entries = append(c.Entries, diagnosis.StoredCodes(e.Catalogue, c, diagnosis.Mentions(e.Catalogue, q.Complaint))...)
	a, err := e.Answer(c)
	if err != nil {
		return nil, err
	}
	r.Case, r.Engine = c, a
	return r, r.fill(e, a)
}

func (r *Reply) fill(e *diagnosis.Engine, a *diagnosis.Answer) error {
	r.Conclusion, r.Done, r.Clash, r.Approximate = a.Conclusion, a.Done, a.Clash, a.Approximate
	r.Explained = round(a.Explained)
	for k, j := range a.Verdicts {
		n := a.CaseOf.Entries[k]
		r.Verdicts = append(r.Verdicts, Verdict{
			Check: n.Check, Observation: n.Observation, Outcome: j.Outcome, Verdict: string(j.Verdict), Value: j.Value,
			Probability: round(j.Probability), Reason: j.Reason, Problem: j.Problem, Provisional: j.Provisional,
		})
	}
	for k := range a.Reports {
		s := &a.Reports[k]
		state := SymptomState{ID: s.Symptom.ID, State: s.State(), Explained: round(s.Explained)}
		for _, f := range s.By {
			state.By = append(state.By, f.ID)
		}
		r.Symptoms = append(r.Symptoms, state)
	}
	var top []string
	for k, s := range a.Ranked {
		r.Faults = append(r.Faults, Fault{ID: s.Fault.ID, Name: s.Fault.Name, Probability: round(s.Probability), Proved: s.Proved})
		if k < ranked {
			top = append(top, s.Fault.ID)
		}
	}
	reasons, err := e.Reasons(a.CaseOf, top...)
	if err != nil {
		return err
	}
	for k := range reasons {
		for _, reason := range reasons[k] {
			r.Faults[k].Because = append(r.Faults[k].Because, Because{reason.Finding, round(reason.Bits), round(reason.Without)})
		}
	}
	for _, f := range a.Proved {
		r.Proved = append(r.Proved, f.ID)
		r.Repairs = append(r.Repairs, repair(e, a, f))
	}
	r.Next, r.WhileOpen = checks(a.Next), checks(e.WhileOpen(a))
	return nil
}

func checks(in []diagnosis.Suggestion) []Check {
	var out []Check
	for _, s := range in {
		out = append(out, Check{
			ID: s.Check.ID, Name: s.Check.Name, Level: s.Level.ID, Travel: round(s.Travel), Minutes: round(s.Minutes),
			Expected: round(s.Expected), Bits: round(s.Bits), Proof: round(s.Proof), Why: s.Why,
		})
	}
	return out
}

func repair(e *diagnosis.Engine, a *diagnosis.Answer, f *catalogue.Fault) Repair {
	r := Repair{Fault: f.ID, Name: f.Name, Renew: f.Repair.Renew, Rework: f.Repair.Rework, Set: f.Repair.Set, Proof: f.Repair.Proof}
	for _, t := range f.Repair.Together {
		r.Together = append(r.Together, t.Part+": "+t.Why)
	}
	sheet := e.Sheet(&a.CaseOf)
	for _, id := range f.Repair.Uses {
		acceptance, ok := e.Book.Acceptance(id)
		if !ok {
			continue
		}
		for _, l := range sheet.Limits(id) {
			r.Values = append(r.Values, fmt.Sprintf("%s: %s", acceptance.Name, e.LimitText(&l)))
		}
	}
	return r
}

// round keeps six digits after the point; more would only be noise to a reader.
// What isn't finite, such as the minutes to a goal out of reach, becomes -1.
func round(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return -1
	}
	return math.Round(x*1e6) / 1e6
}

// Write writes a reply.
func Write(w io.Writer, r *Reply) error {
	out := json.NewEncoder(w)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	return out.Encode(r)
}
