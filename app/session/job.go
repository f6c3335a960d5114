package session

import (
	"time"

	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
)

// Prove adds an observation made after the repair to the job at hand.
func (s *Session) Prove(done string, n diagnosis.Entry) {
	s.Write(func(j *store.Job) {
		j.Proof = append(j.Proof, store.Proof{Entry: n, Made: store.Made{At: s.now().UTC(), Meter: s.settings.Meter}})
	})
	s.Say(done)
}

// Close closes the job at hand, or opens it again.
func (s *Session) Close(closed bool) {
	s.Write(func(j *store.Job) {
		j.Closed = time.Time{}
		if closed {
			j.Closed = s.now().UTC()
		}
	})
	if closed {
		s.Say("The job is closed.")
	} else {
		s.Say("The job is open again.")
	}
}

// Archive puts a job away, or takes it out again. It stays saved.
func (s *Session) Archive(id string, archived bool) {
	s.Open()
	j := s.store.Job(id)
	if j == nil {
		return
	}
	j.Archived = archived
	s.save(j)
	if current := s.Job(); archived && current != nil && current.ID == id {
		s.complain(s.store.Leave())
	}
	done := "Archived: " + j.Name
	if !archived {
		done = "Out of the archive: " + j.Name
	}
	s.switched(done)
	if archived {
		s.undo = &undo{done, func() { s.Archive(id, false) }}
		s.notify()
	}
}

// Now is the present time.
func (s *Session) Now() time.Time { return s.now() }
