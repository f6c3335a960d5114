package session

import (
	"fmt"
	"strings"

	"provingbench/app/part"
)

// leader is what stands first in the ranking.
type leader struct {
	fault       string
	probability float64
}

func (s *Session) top() leader {
	var l leader
	a, err := s.Standing()
	if err != nil || a == nil {
		return l
	}
	if a.CaseOf.Empty() {
		return l
	}
	if len(a.Ranked) > 0 {
		l.fault, l.probability = a.Ranked[0].Fault.Name, a.Ranked[0].Probability
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
	return strings.Join(said, " ")
}
