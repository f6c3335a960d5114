package diagnosis

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/infer"
	"provingbench/knowledge/order"
	"provingbench/knowledge/plan"
)

// How sure is sure enough. The engine's own conventions, from memory of what a
// careful shop would accept; the screens show the probability beside the word.
const (
	// ExplainedAt is the probability from which a symptom counts as explained by
	// what is proved.
	ExplainedAt = 0.90
	// PartlyAt is the probability from which it counts as partly explained.
	PartlyAt = 0.50
	// SuspectAt is the probability from which an unproved fault stays a suspect
	// that has to be looked at before the job is done.
	SuspectAt = 0.25
)

// bears is how many bits a check must tell about the faults to hold back those of
// a later stage: with less, a gauge test does not keep the pan on. Preliminary
// checks hold back with any information at all. Tried on trucks drawn from the
// catalogue (BenchmarkMinutes): a lower figure sends the truck up and down for
// tests that decide nothing.
const bears = 0.2

// scenarios is how many fault sets stand for the posterior in the plan.
const scenarios = 96

// Answer is everything the engine has to say about a case.
type Answer struct {
	Ranked      []Suspect     // every fault that can be there, the most likely first
	Reports     []ReportState // of the case; what stored codes alone imply when it has none
	Verdicts    []Judgement   // one for each entry of the case, in order
	Explained   float64       // P(what is proved is all there is to the complaint)
	Done        bool          // every reported symptom is explained and no suspect is left
	Next        []Suggestion
	Proved      []*catalogue.Fault // in the order of the proofs
	Approximate bool               // the findings were too entangled for the exact sum
	Clash       string             // in a sentence, when findings contradict each other
	CaseOf      Case               // the case that was answered
	posterior   *infer.Posterior   // nil when findings clash
	Conclusion  string             // where this stands, in a sentence or two
}

// Suspect is a fault with how likely it is.
type Suspect struct {
	Fault       *catalogue.Fault
	Probability float64
	Prior       float64
	Proved      bool
}

// ReportState says how far a reported symptom is explained by what is proved.
type ReportState struct {
	Report    Report
	Symptom   *catalogue.Symptom
	Explained float64 // P(only proved faults produce it)
	By        []*catalogue.Fault
}

// State returns "explained", "partly explained" or "not explained yet".
func (r *ReportState) State() string {
	switch {
	case r.Report.Absent:
		return "not there"
	case r.Explained >= ExplainedAt:
		return "explained"
	case r.Explained >= PartlyAt:
		return "partly explained"
	}
	return "not explained yet"
}

// Suggestion is a check that could come next.
type Suggestion struct {
	Check    *catalogue.Check
	Level    *catalogue.AccessLevel
	Travel   float64 // minutes to open up or close up to its level
	Minutes  float64 // travel and check
	Expected float64 // minutes to the end if it comes next, an estimate
	Bits     float64 // what it is expected to tell about the faults
	Proof    float64 // probability that it proves something new
	Why      string  // the reason, in a sentence
}

// Answer works out a case.
//
// Findings that contradict each other give an answer with Clash set, without a
// ranking. Errors: *InputError for a case the catalogue doesn't know.
func (e *Engine) Answer(c Case) (*Answer, error) {
	a, p, err := e.assess(c)
	if err != nil || p == nil {
		return a, err
	}
	e.suggest(a)
	a.conclude()
	return a, nil
}

// Rank works out a case without what comes next: ranking, verdicts and how far
// the complaint is explained. Its Conclusion is empty.
func (e *Engine) Rank(c Case) (*Answer, error) {
	a, _, err := e.assess(c)
	return a, err
}

// assess answers all but what comes next. The posterior is nil when findings clash.
func (e *Engine) assess(c Case) (*Answer, *infer.Posterior, error) {
	if err := e.validate(&c); err != nil {
		return nil, nil, err
	}
	a := &Answer{CaseOf: c}
	findings, verdicts := e.findings(&c)
	a.Verdicts = verdicts
	p, err := e.posterior(&c, findings)
	var contradiction *infer.ContradictionError
	switch {
	case errors.Is(err, infer.ErrImpossible), errors.As(err, &contradiction):
		a.Clash = "Two findings contradict each other. Look again at the last one entered."
		a.Conclusion = a.Clash
		return a, nil, nil
	case err != nil:
		return nil, nil, fmt.Errorf("diagnosis: %w", err)
	}
	a.Approximate, a.posterior = p.Approximate, p
	a.rank(e, p, findings)
	return a, p, e.explain(a, p, findings)
}

// findings turns reports and entries into evidence, reports first. An entry
// that gives no outcome (unreadable, too close to call) is no evidence.
func (e *Engine) findings(c *Case) ([]infer.Finding, []Judgement) {
	var findings []infer.Finding
	for k := range c.Reports {
		findings = append(findings, e.reportFinding(&c.Reports[k]))
	}
	verdicts := make([]Judgement, len(c.Entries))
	for k := range c.Entries {
		verdicts[k] = e.Judge(c, &c.Entries[k])
	}
	for _, k := range latest(c.Entries) {
		n := &c.Entries[k]
		check := e.Catalogue.Check(n.Check)
		o := check.Observation(n.Observation)
		seen := slices.IndexFunc(o.Outcomes, func(x catalogue.Outcome) bool { return x.ID == verdicts[k].Outcome })
		if seen < 0 {
			continue
		}
		findings = append(findings, e.outcomeFinding(check, o, seen))
	}
	if c.Fitted.counts(c.Entries) {
		findings = append(findings, e.fittedFindings(c.Fitted)...)
	}
	return findings, verdicts
}

func (e *Engine) posterior(c *Case, findings []infer.Finding) (*infer.Posterior, error) {
	network, err := infer.New(e.priors(c))
	if err != nil {
		return nil, err
	}
	return network.Posterior(findings)
}

func (a *Answer) rank(e *Engine, p *infer.Posterior, findings []infer.Finding) {
	priors := e.priors(&a.CaseOf)
	proved := map[int]bool{}
	for _, f := range findings {
		for _, i := range f.Proves {
			if !proved[i] {
				proved[i] = true
				a.Proved = append(a.Proved, &e.Catalogue.Faults[i])
			}
		}
	}
	for i := range e.Catalogue.Faults {
		if priors[i] == 0 && !proved[i] {
			continue
		}
		a.Ranked = append(a.Ranked, Suspect{
			Fault: &e.Catalogue.Faults[i], Probability: p.Marginal[i], Prior: priors[i], Proved: proved[i],
		})
	}
	order.Stable(a.Ranked, func(x, y Suspect) int { return cmp.Compare(y.Probability, x.Probability) })
}

// explain says how far the proved faults account for each report.
func (e *Engine) explain(a *Answer, p *infer.Posterior, findings []infer.Finding) error {
	var err error
	if a.Explained, err = p.Explained(); err != nil {
		return fmt.Errorf("diagnosis: %w", err)
	}
	for k, r := range a.CaseOf.Reports {
		s := ReportState{Report: r, Symptom: e.Catalogue.Symptom(r.Symptom)}
		if !r.Absent {
			if s.Explained, err = p.ExplainedFinding(k); err != nil {
				return fmt.Errorf("diagnosis: %w", err)
			}
			for _, f := range a.Proved {
				if slices.ContainsFunc(f.Symptoms, func(l catalogue.Link) bool { return l.ID == r.Symptom }) {
					s.By = append(s.By, f)
				}
			}
		}
		a.Reports = append(a.Reports, s)
	}
	if len(a.CaseOf.Reports) == 0 {
		if err := e.implied(a, p, findings); err != nil {
			return err
		}
	}
	a.Done = len(a.Reports) > 0 && len(a.Proved) > 0
	for k := range a.Reports {
		a.Done = a.Done && (a.Reports[k].Report.Absent || a.Reports[k].Explained >= ExplainedAt)
	}
	for _, s := range a.Ranked {
		if !s.Proved && s.Probability >= SuspectAt {
			a.Done = false
		}
	}
	return nil
}

// implied puts what was found in place of a complaint that nobody made: of stored
// codes alone, the symptom that they are.
func (e *Engine) implied(a *Answer, p *infer.Posterior, findings []infer.Finding) error {
	for k := range findings {
		id, _, _ := strings.Cut(findings[k].ID, "/")
		check := e.Catalogue.Check(id)
		if check == nil || check.Sees == "" || findings[k].Present == nil {
			continue
		}
		explained, err := p.ExplainedFinding(k)
		if err != nil {
			return fmt.Errorf("diagnosis: %w", err)
		}
		at := slices.IndexFunc(a.Reports, func(s ReportState) bool { return s.Report.Symptom == check.Sees })
		if at < 0 {
			at = len(a.Reports)
			a.Reports = append(a.Reports, ReportState{
				Report: Report{Symptom: check.Sees}, Symptom: e.Catalogue.Symptom(check.Sees), Explained: explained,
			})
		}
		s := &a.Reports[at]
		s.Explained = min(s.Explained, explained)
		a.Explained = min(a.Explained, explained)
		for _, f := range a.Proved {
			i := e.Catalogue.FaultIndex(f.ID)
			if !slices.Contains(s.By, f) && slices.ContainsFunc(findings[k].Present.Causes, func(c infer.Cause) bool { return c.Fault == i }) {
				s.By = append(s.By, f)
			}
		}
	}
	return nil
}

// conclude puts where the case stands into words.
func (a *Answer) conclude() {
	open := 0
	for k := range a.Reports {
		if !a.Reports[k].Report.Absent && a.Reports[k].Explained < ExplainedAt {
			open++
		}
	}
	switch {
	case len(a.Reports) == 0:
		a.Conclusion = "Say what the customer complains of to get a ranking and a next check."
	case len(a.Proved) == 0 && len(a.Next) == 0:
		a.Conclusion = "Nothing is proved and no check is left that could help here. Bring back a refused check, or look outside this catalogue."
	case len(a.Proved) == 0:
		a.Conclusion = "Nothing is proved yet."
	case !a.Done && len(a.Next) == 0:
		a.Conclusion = "No check is left that could find more, and not everything is explained. Ask the customer again, bring back a refused check, or look outside this catalogue."
	case a.Done:
		a.Conclusion = "What is proved explains everything that was reported. Repair, then repeat the failed checks as proof."
	case open == 0:
		a.Conclusion = "What is proved can explain the complaint, but another fault is still likely. Check it before closing up."
	default:
		a.Conclusion = fmt.Sprintf("What is proved does not explain the whole complaint: %s not explained yet. Keep looking.", counted(open, "symptom"))
	}
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun + " is"
	}
	return fmt.Sprintf("%d %ss are", n, noun)
}

// Reason is how far one finding moved one fault.
type Reason struct {
	Finding string // the finding's name for the screen
	Check   string // its check, or empty for a report
	Bits    float64
	Without float64 // how likely the fault would be without the finding
}

// Reasons says why faults stand where they stand: for each of them how far each
// finding moved it, the strongest first.
//
// Errors: *InputError for a case or a fault that the catalogue doesn't know.
func (e *Engine) Reasons(c Case, faults ...string) ([][]Reason, error) {
	if err := e.validate(&c); err != nil {
		return nil, err
	}
	place := make(map[int]int, len(faults))
	index := make([]int, len(faults))
	for k, id := range faults {
		index[k] = e.Catalogue.FaultIndex(id)
		if index[k] < 0 {
			return nil, &InputError{"fault", id, "a fault's id"}
		}
		place[index[k]] = k
	}
	findings, _ := e.findings(&c)
	p, err := e.posterior(&c, findings)
	if err != nil {
		return nil, fmt.Errorf("diagnosis: %w", err)
	}
	shifts, err := p.Account(index)
	if err != nil {
		return nil, fmt.Errorf("diagnosis: %w", err)
	}
	reasons := make([][]Reason, len(faults))
	for _, s := range shifts {
		if abs(s.Bits) < unmoved {
			continue
		}
		r := Reason{Bits: s.Bits, Without: s.Without}
		r.Finding, r.Check = e.findingName(&c, findings, s.Finding)
		reasons[place[s.Fault]] = append(reasons[place[s.Fault]], r)
	}
	for _, of := range reasons {
		order.Stable(of, func(x, y Reason) int { return cmp.Compare(abs(y.Bits), abs(x.Bits)) })
	}
	return reasons, nil
}

// unmoved is the shift in bits below which a finding did not move a fault to
// speak of: it changes the odds by less than four per cent.
const unmoved = 0.05

func abs(x float64) float64 { return max(x, -x) }

func (e *Engine) findingName(c *Case, findings []infer.Finding, k int) (name, check string) {
	if k < len(c.Reports) {
		name = e.Catalogue.Symptom(c.Reports[k].Symptom).Name
		if c.Reports[k].Absent {
			name = "Not there: " + name
		}
		return name, ""
	}
	switch findings[k].ID {
	case fittedID:
		return "The pressure log, fitted", ""
	case besideID:
		return "The pressure log, fitted: the second of two faults", ""
	}
	for _, n := range latest(c.Entries) {
		entry := &c.Entries[n]
		if findings[k].ID != entry.Check+"/"+entry.Observation {
			continue
		}
		check := e.Catalogue.Check(entry.Check)
		o := check.Observation(entry.Observation)
		if out := o.Outcome(e.Judge(c, entry).Outcome); out != nil {
			return check.Name + ": " + out.Label, check.ID
		}
	}
	return findings[k].ID, ""
}

// stage returns a check's place in the trade's order: level and fluid, then linkage
// and cable, then stored codes, and those before gauges and meters, those before the
// pan, the pan before the unit. What is hazardous comes when only the unit is
// left.
func (e *Engine) stage(k *catalogue.Check) int {
	if first := slices.Index(catalogue.Preliminaries, k.Preliminary); first >= 0 {
		return first
	}
	after := len(catalogue.Preliminaries)
	switch level := e.Catalogue.LevelIndex(k.Level); {
	case k.Hazardous:
		return after + 2
	case level < e.Catalogue.LevelIndex("pan"):
		return after
	case level < e.Catalogue.LevelIndex("out"):
		return after + 1
	}
	return after + 2
}

// problem turns the catalogue into a planning problem for a case. Observations
// already made are left out; a check with none left is done. The second result
// is the catalogue's index of each check of the problem.
func (e *Engine) problem(c *Case) (*plan.Problem, []int) {
	p := &plan.Problem{}
	for _, l := range e.Catalogue.Access {
		p.Levels = append(p.Levels, plan.Level{Open: l.Open, Close: l.Close})
	}
	made := map[string]bool{}
	for _, n := range c.Entries {
		made[n.Check+"/"+n.Observation] = true
	}
	if c.Fitted.counts(c.Entries) {
		for _, n := range c.Fitted.Readings {
			made[n.Check+"/"+n.Observation] = true
		}
	}
	var index []int
	for k, q := range e.planned() {
		check := &e.Catalogue.Checks[k]
		if !check.On(c.Version) || slices.Contains(c.Refused, check.ID) {
			continue
		}
		all := q.Observations
		q.Observations = nil
		for n := range check.Observations {
			if !made[check.ID+"/"+check.Observations[n].ID] {
				q.Observations = append(q.Observations, all[n])
			}
		}
		if len(q.Observations) == 0 {
			continue
		}
		p.Checks = append(p.Checks, q)
		index = append(index, k)
	}
	return p, index
}

// planned returns every check of the catalogue as the plan takes it. It is the
// same for all cases and made once.
func (e *Engine) planned() []plan.Check {
	e.once.Do(func() {
		for k := range e.Catalogue.Checks {
			check := &e.Catalogue.Checks[k]
			q := plan.Check{ID: check.ID, Minutes: check.Minutes, Stage: e.stage(check), Bears: bears, Levels: []int{e.Catalogue.LevelIndex(check.Level)}}
			if check.Preliminary != "" {
				q.Bears = plan.BearsOn
			}
			for _, l := range check.Also {
				q.Levels = append(q.Levels, e.Catalogue.LevelIndex(l))
			}
			for n := range check.Observations {
				o := &check.Observations[n]
				var outcomes []plan.Outcome
				for m := range o.Outcomes {
					out := plan.Outcome{Sign: e.outcomeSign(&o.Outcomes[m])}
					for _, id := range o.Outcomes[m].Proves {
						out.Proves = append(out.Proves, e.Catalogue.FaultIndex(id))
					}
					outcomes = append(outcomes, out)
				}
				q.Observations = append(q.Observations, plan.Observation{Outcomes: outcomes})
			}
			e.checks = append(e.checks, q)
		}
	})
	return e.checks
}

// suggest ranks what could come next.
func (e *Engine) suggest(a *Answer) {
	problem, index := e.problem(&a.CaseOf)
	a.Next = e.suggestions(a, index, problem.Rank(e.state(a)))
}

// WhileOpen lists the checks at the level the truck is at now that are worth
// doing before it is closed, though the next step is another. It follows trucks
// to the end, so it takes longer than the answer itself.
func (e *Engine) WhileOpen(a *Answer) []Suggestion {
	if a.posterior == nil || len(a.Next) == 0 {
		return nil
	}
	problem, index := e.problem(&a.CaseOf)
	return slices.DeleteFunc(e.suggestions(a, index, problem.WhileOpen(e.state(a))), func(s Suggestion) bool {
		return s.Check == a.Next[0].Check
	})
}

func (e *Engine) state(a *Answer) plan.State {
	state := plan.State{Level: e.Catalogue.LevelIndex(a.CaseOf.Level), Scenarios: a.posterior.Scenarios(scenarios)}
	for _, f := range a.Proved {
		state.Proved = append(state.Proved, e.Catalogue.FaultIndex(f.ID))
	}
	return state
}

func (e *Engine) suggestions(a *Answer, index []int, in []plan.Suggestion) []Suggestion {
	out := make([]Suggestion, len(in))
	for k := range in {
		s := &in[k]
		check := &e.Catalogue.Checks[index[s.Check]]
		// The plan may see that the truck will be moved anyway; whoever stands
		// before it does first what can be done where it stands, or nearly.
		here := a.CaseOf.Level
		level := e.Catalogue.Level(e.Catalogue.Where(check, here))
		s.Travel = e.Catalogue.Travel(here, level.ID)
		s.Minutes = s.Travel + check.Minutes
		out[k] = Suggestion{
			Check: check, Level: level, Travel: s.Travel, Minutes: s.Minutes,
			Expected: s.Expected, Bits: s.Bits, Proof: s.Proof, Why: e.why(a, s),
		}
	}
	return out
}

// why puts a suggestion's reasons into a sentence.
func (e *Engine) why(a *Answer, s *plan.Suggestion) string {
	here := e.Catalogue.Level(a.CaseOf.Level).Name
	reasons := map[plan.Reason]string{
		plan.Order:    "comes first in the trade's order",
		plan.Tells:    "tells the most for its minutes from here",
		plan.Proves:   "is the likeliest to prove something for its minutes",
		plan.Here:     "needs no opening or closing from here (" + here + ")",
		plan.Shortest: "is expected to end the work soonest",
	}
	var said []string
	for _, r := range s.Reasons {
		if text, ok := reasons[r]; ok && len(said) < 2 {
			said = append(said, text)
		}
	}
	if len(said) == 0 {
		return "It can still tell something."
	}
	sentence := "It " + said[0]
	if len(said) > 1 {
		sentence += " and " + said[1]
	}
	return sentence + "."
}
