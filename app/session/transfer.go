package session

import (
	"fmt"
	"reflect"
	"slices"

	"provingbench/app/store"
	"provingbench/knowledge/unit"
)

// Export writes jobs and values as the text of a transfer file.
func (s *Session) Export(t store.Transfer) (string, error) {
	t.Made = s.now().UTC()
	text, err := store.Pack(t)
	return string(text), err
}

// Exported notes that all jobs were saved as a file just now.
func (s *Session) Exported() {
	s.Set(func(x *store.Settings) { x.Exported = s.now().UTC() })
}

// Aside lists what was damaged and set aside, by its key.
func (s *Session) Aside() map[string]string {
	if s.store == nil {
		return nil
	}
	return s.store.Aside()
}

// DropAside deletes what was set aside under a key.
func (s *Session) DropAside(key string) {
	s.complain(s.store.DropAside(key))
	s.said = "Deleted."
	s.notify()
}

// Arrivals says what taking the jobs of a transfer would do.
func (s *Session) Arrivals(t store.Transfer) []store.Arrival {
	s.Open()
	return s.store.Arrivals(t)
}

// Differing names the values of a transfer that are not the user's own already,
// and counts those that would take another's place.
func (s *Session) Differing(values map[string]unit.OwnLimit) (names []string, replaced int) {
	for id, v := range values {
		a, ok := s.Book().Acceptance(id)
		if !ok {
			continue
		}
		own, have := s.engine.Own[id]
		if have && reflect.DeepEqual(own, v) {
			continue
		}
		if have {
			replaced++
		}
		names = append(names, a.Name)
	}
	slices.Sort(names)
	return names, replaced
}

// Accept takes a transfer in: jobs beside those that are here, values in the
// place of the user's own. A value that the sheet has no place for is left out.
func (s *Session) Accept(t store.Transfer) {
	n := 0
	for _, a := range s.Arrivals(t) {
		if a.Same {
			continue
		}
		_, err := s.store.Accept(a)
		s.complain(err)
		n++
	}
	values := 0
	for id, v := range t.Values {
		if s.SetOwn(id, &v) == nil {
			values++
		}
	}
	s.said = fmt.Sprintf("Taken in: %d jobs, %d values.", n, values)
	s.forget()
	s.notify()
}
