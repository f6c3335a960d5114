package session

import (
	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
)

// Weigh puts a pressure log that was fitted as a whole into the job at hand, in
// the place of the entries of its readings.
func (s *Session) Weigh(done string, log *diagnosis.FittedLog) {
	s.Change(done, func(j *store.Job) {
		var made []store.Made
		for _, k := range j.Case.Fit(log) {
			if k < len(j.Made) {
				made = append(made, j.Made[k])
			}
		}
		j.Made = made
	})
}

// Unweigh takes the fitted log out of the job at hand.
func (s *Session) Unweigh(done string) {
	s.Change(done, func(j *store.Job) { j.Case.Fitted = nil })
}
