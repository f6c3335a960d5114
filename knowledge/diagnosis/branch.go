package diagnosis

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/infer"
)

// Branch is one way in which a check can turn out, with what is known then.
type Branch struct {
	Entries     []Entry // one for each observation that was still open
	Probability float64
	Standing    *Answer // the case with the entries, without what comes next
}

// Branches lists the ways in which a check can turn out on a case, each with
// its probability, in the order of the catalogue's outcomes. Those under least
// are left out, so that the probabilities of those listed can sum to less than 1.
//
//	P(outcomes | findings) = Π P(outcome | findings and the outcomes before it)
//
// A check that is done, refused or none of this version's has no branches.
// Errors: *InputError for a case or a check that the catalogue doesn't know.
// Source: the chain rule over the exact posterior (package infer); checked in
// branch_test.go against the law of total probability.
func (e *Engine) Branches(c Case, check string, least float64) ([]Branch, error) {
	k := e.Catalogue.Check(check)
	if k == nil {
		return nil, &InputError{"check", check, "a check's id"}
	}
	if err := e.validate(&c); err != nil {
		return nil, err
	}
	if !k.On(c.Version) || slices.Contains(c.Refused, check) {
		return nil, nil
	}
	w := brancher{engine: e, check: k, least: least}
	var open []int // observations that are not made yet
	for n := range k.Observations {
		if !slices.ContainsFunc(c.Entries, func(x Entry) bool { return x.Check == check && x.Observation == k.Observations[n].ID }) {
			open = append(open, n)
		}
	}
	if len(open) == 0 {
		return nil, nil
	}
	findings, _ := e.findings(&c)
	if err := w.observe(&c, open, findings, nil, 1); err != nil {
		return nil, fmt.Errorf("diagnosis: %w", err)
	}
	return w.branches, nil
}

type brancher struct {
	engine   *Engine
	check    *catalogue.Check
	least    float64
	branches []Branch
}

// observe lists what the first of the open observations can show, and after it
// the others.
func (w *brancher) observe(c *Case, open []int, findings []infer.Finding, entries []Entry, share float64) error {
	if len(open) == 0 {
		with := *c
		with.Entries = append(slices.Clone(c.Entries), entries...)
		standing, _, err := w.engine.assess(with)
		if err != nil {
			return err
		}
		w.branches = append(w.branches, Branch{entries, share, standing})
		return nil
	}
	o := &w.check.Observations[open[0]]
	chance := make([]float64, len(o.Outcomes))
	sum := 0.0
	for m := range o.Outcomes {
		var err error
		if chance[m], err = w.engine.chance(c, findings, w.engine.outcomeFinding(w.check, o, m)); err != nil {
			return err
		}
		sum += chance[m]
	}
	for m := range o.Outcomes {
		p := share * chance[m] / sum
		if !(p > 0) || p < w.least {
			continue
		}
		err := w.observe(c, open[1:],
			append(findings[:len(findings):len(findings)], w.engine.outcomeFinding(w.check, o, m)),
			append(entries[:len(entries):len(entries)], Entry{Check: w.check.ID, Observation: o.ID, Outcome: o.Outcomes[m].ID}),
			p)
		if err != nil {
			return err
		}
	}
	return nil
}

// chance is the probability of a finding after others.
//
//	P(finding | others) = P(proved faults | others) · P(finding | others, proved faults)
//
// The faults that a finding proves are taken first, because a proof counts in
// package infer as the fault's presence, however rare it is.
func (e *Engine) chance(c *Case, others []infer.Finding, f infer.Finding) (float64, error) {
	p, err := e.posterior(c, others)
	if err != nil {
		return 0, impossible(err)
	}
	proved := 1.0
	before := others[:len(others):len(others)]
	for _, i := range f.Proves {
		proved *= p.Marginal[i]
		if proved == 0 {
			return 0, nil
		}
		before = append(before, infer.Finding{ID: f.ID, Proves: []int{i}})
		if p, err = e.posterior(c, before); err != nil {
			return 0, impossible(err)
		}
	}
	with, err := e.posterior(c, append(others[:len(others):len(others)], f))
	if err != nil {
		return 0, impossible(err)
	}
	return proved * math.Exp(with.LogEvidence-p.LogEvidence), nil
}

// impossible takes findings that contradict each other as having no chance.
func impossible(err error) error {
	var contradiction *infer.ContradictionError
	if errors.Is(err, infer.ErrImpossible) || errors.As(err, &contradiction) {
		return nil
	}
	return err
}
