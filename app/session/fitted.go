package session

import (
	"slices"

	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
)

// Weigh puts a pressure log that was fitted as a whole into the job at hand, in
// the place of the entries of its readings. A reading that was in the job keeps
// when and with what it was made.
func (s *Session) Weigh(done string, log *diagnosis.FittedLog) {
	at := s.now().UTC()
	s.Change(done, func(j *store.Job) {
		fitted := make([]store.Made, len(log.Readings))
		for k, r := range log.Readings {
			fitted[k] = store.Made{At: at, Meter: s.settings.Meter}
			if j.Case.Fitted != nil {
				for i, n := range j.Case.Fitted.Readings {
					if n == r {
						fitted[k] = store.MadeAt(j.FittedMade, i)
					}
				}
			}
			for i, n := range j.Case.Entries {
				if n == r {
					fitted[k] = store.MadeAt(j.Made, i)
				}
			}
		}
		var stay []store.Made
		for _, k := range j.Case.Fit(log) {
			stay = append(stay, store.MadeAt(j.Made, k))
		}
		j.Made, j.FittedMade = stay, fitted
	})
}

// Unweigh takes the fitted log out of the job at hand.
func (s *Session) Unweigh(done string) {
	s.Change(done, func(j *store.Job) { j.Case.Fitted, j.FittedMade = nil, nil })
}

// unfit takes the fitted log of a job apart when one of the entries is of its
// readings; the other readings are entries from then on.
func unfit(j *store.Job, entries []diagnosis.Entry) {
	log := j.Case.Fitted
	if !j.Case.Unfit(entries...) {
		return
	}
	for _, r := range log.But(entries) {
		j.Made = append(j.Made, store.MadeAt(j.FittedMade, slices.Index(log.Readings, r)))
	}
	j.FittedMade = nil
}
