package session

import (
	"fmt"
	"strings"

	"provingbench/app/part"
)

// leader is what stands first in the ranking, and what should be checked next.
type leader struct {
	fault       string
	probability float64
	next        string
	proved      int
}

func (s *Session) top() leader {
	var l leader
	a, err := s.Answer()
	if err != nil || a == nil {
		return l
	}
	if len(a.CaseOf.Reports) == 0 && len(a.CaseOf.Entries) == 0 {
		return l
	}
	l.proved = len(a.Proved)
	if len(a.Ranked) > 0 {
		l.fault, l.probability = a.Ranked[0].Fault.Name, a.Ranked[0].Probability
	}
	if len(a.Next) > 0 {
		l.next = a.Next[0].Check.Name
	}
	return l
}

// announcement is what a screen reader says after a change.
func announcement(done string, before, after leader) string {
	var said []string
	if done != "" {
		said = append(said, strings.TrimSuffix(done, ".")+".")
	}
	if after.fault != "" && (after.fault != before.fault || part.Percent(after.probability) != part.Percent(before.probability)) {
		said = append(said, fmt.Sprintf("Most likely now: %s, %s.", after.fault, part.Percent(after.probability)))
	}
	if after.next != "" && after.next != before.next {
		said = append(said, "Next check: "+after.next+".")
	}
	return strings.Join(said, " ")
}
