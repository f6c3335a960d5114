package jobs

import (
	"strings"

	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/repair"
	"provingbench/knowledge/unit"
)

// A record is a job with what the engine makes of it, for the pages that show it.
type record struct {
	session *session.Session
	job     *store.Job
	answer  *diagnosis.Answer // nil when the engine can't take the case
	plan    repair.Plan
	lines   []line          // the entries in words
	proofs  map[string]line // those made after the repair, by check and observation; the last of each counts
}

// recordOf reads the job at hand; nil when there is none.
func recordOf(s *session.Session) *record {
	j := s.Job()
	if j == nil {
		return nil
	}
	r := &record{session: s, job: j}
	if a, err := s.Standing(); err == nil {
		r.answer = a
		r.plan = repair.Make(s.Catalogue(), a.Proved)
	}
	r.lines, r.proofs = r.entries(), map[string]line{}
	for _, p := range j.Proof {
		v := s.Judge(p.Entry)
		r.proofs[p.Entry.Check+"."+p.Entry.Observation] = r.lineOf(p.Entry, &v, p.Made)
	}
	return r
}

// A line is one entry in words.
type line struct {
	check, asks string
	read        string // as understood, with what it was read at
	word        string // verdict or picked answer
	call        string // as part.Call
	limits      string
	made        store.Made
}

// lineOf says an entry in words.
func (r *record) lineOf(n diagnosis.Entry, v *diagnosis.Judgement, made store.Made) line {
	check := r.session.Catalogue().Check(n.Check)
	if check == nil {
		return line{check: "A check that this version of the tool does not have", word: "No verdict", call: "none", made: made}
	}
	l := line{check: check.Name, word: "No verdict", call: "none", read: v.Value, made: made}
	if n.At != "" {
		l.read += " at " + n.At
	}
	o := check.Observation(n.Observation)
	if o == nil {
		return l
	}
	l.asks = o.Asks
	out := o.Outcome(v.Outcome)
	switch {
	case v.Problem != "":
		l.word = v.Problem
	case v.Verdict != "":
		l.word, l.call = part.VerdictWord(v.Verdict), part.Call(v.Verdict)
		switch {
		case out == nil:
		case strings.HasPrefix(out.Label, l.word):
			l.word = out.Label
		default:
			l.word += " (" + out.Label + ")"
		}
	case out != nil:
		l.word, l.call = out.Label, "bad"
		if out.Normal {
			l.call = "good"
		}
	}
	var said []string
	for _, x := range v.Limits {
		said = append(said, part.LimitText(r.session.Units(), x)+", "+strings.ToLower(part.ProvenanceWord(x.Provenance.Kind)))
	}
	l.limits = strings.Join(said, "; ")
	return l
}

// entries are the entries of the job in words.
func (r *record) entries() []line {
	var out []line
	for k, n := range r.job.Case.Entries {
		v := diagnosis.Judgement{Problem: "This version of the tool can't judge it."}
		if r.answer != nil && k < len(r.answer.Verdicts) {
			v = r.answer.Verdicts[k]
		}
		out = append(out, r.lineOf(n, &v, store.MadeAt(r.job.Made, k)))
	}
	return out
}

// fitted are the readings of the pressure log that was weighed as a whole, in words.
func (r *record) fitted() []line {
	var out []line
	if log := r.job.Case.Fitted; log != nil {
		for k, n := range log.Readings {
			v := r.session.Judge(n)
			out = append(out, r.lineOf(n, &v, store.MadeAt(r.job.FittedMade, k)))
		}
	}
	return out
}

// state is what a check showed when it was done again: bad as soon as one of its
// observations is, good when at least one is and none is in doubt.
func (r *record) state(check string) repair.State {
	k := r.session.Catalogue().Check(check)
	if k == nil {
		return repair.NotDone
	}
	state := repair.NotDone
	for _, o := range k.Observations {
		l, ok := r.proofs[check+"."+o.ID]
		switch {
		case !ok:
		case l.call == "bad":
			return repair.Bad
		case l.call != "good":
			state = repair.Unclear
		case state == repair.NotDone:
			state = repair.Good
		}
	}
	return state
}

// repeats are the checks to do again: those that prove the repair, those that
// were bad, and those that end every repair.
func (r *record) repeats() []*catalogue.Check {
	var out []*catalogue.Check
	seen := map[string]bool{}
	add := func(k *catalogue.Check) {
		if k != nil && !seen[k.ID] {
			seen[k.ID] = true
			out = append(out, k)
		}
	}
	for _, k := range r.plan.Proof {
		add(k)
	}
	for k, l := range r.lines {
		if l.call == "bad" {
			add(r.session.Catalogue().Check(r.job.Case.Entries[k].Check))
		}
	}
	for k, l := range r.fitted() {
		if l.call == "bad" {
			add(r.session.Catalogue().Check(r.job.Case.Fitted.Readings[k].Check))
		}
	}
	for _, id := range repair.Final {
		add(r.session.Catalogue().Check(id))
	}
	return out
}

// before is what an observation showed before the repair; the last one counts.
func (r *record) before(check, observation string) (line, bool) {
	var found line
	ok := false
	for k, l := range r.fitted() {
		if n := r.job.Case.Fitted.Readings[k]; n.Check == check && n.Observation == observation {
			found, ok = l, true
		}
	}
	for k, l := range r.lines {
		if n := r.job.Case.Entries[k]; n.Check == check && n.Observation == observation {
			found, ok = l, true
		}
	}
	return found, ok
}

// missing is what still stands in the way of closing the job.
func (r *record) missing() (faults []*catalogue.Fault, checks []string) {
	if r.answer == nil {
		return nil, nil
	}
	return repair.Missing(r.answer.Proved, r.state, func(id string) bool { return r.job.Waived[id] != "" })
}

// proved is what was proved on the truck.
func (r *record) proved() []*catalogue.Fault {
	if r.answer == nil {
		return nil
	}
	return r.answer.Proved
}

// left are the faults that were not proved and stay possible, the likeliest
// first: what was left, with its risk.
func (r *record) left() []diagnosis.Suspect {
	var out []diagnosis.Suspect
	if r.answer == nil {
		return nil
	}
	for _, s := range r.answer.Ranked {
		if !s.Proved && s.Probability >= leftAt && len(out) < leftMost {
			out = append(out, s)
		}
	}
	return out
}

// A fault that is less likely than this is not worth a line on a sheet, and a
// sheet has room for so many. Both are choices of this tool's.
const (
	leftAt   = 0.05
	leftMost = 6
)

// provedBy is the entry that settled a fault, in words.
func (r *record) provedBy(f *catalogue.Fault) (line, bool) {
	for k, n := range r.job.Case.Entries {
		if r.answer == nil || k >= len(r.answer.Verdicts) {
			break
		}
		check := r.session.Catalogue().Check(n.Check)
		if check == nil {
			continue
		}
		o := check.Observation(n.Observation)
		if o == nil {
			continue
		}
		if out := o.Outcome(r.answer.Verdicts[k].Outcome); out != nil {
			for _, id := range out.Proves {
				if id == f.ID {
					return r.lines[k], true
				}
			}
		}
	}
	return line{}, false
}

// unit says which unit it is, in words.
func (r *record) unit() string {
	text := part.Versions([]unit.Version{r.job.Case.Version}) + ", " + part.Builds([]unit.Build{r.job.Case.Build})
	if !r.job.Settled {
		text = "not said which; judged as " + text
	}
	return text
}

// name is that of a fault or a check.
func (r *record) name(id string) string {
	if f := r.session.Catalogue().Fault(id); f != nil {
		return f.Name
	}
	return r.checkName(id)
}
