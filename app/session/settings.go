package session

import (
	"maps"

	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Units is how the user reads measures.
func (s *Session) Units() quantity.Preference { return s.settings.Units }

// Settings are the user's ways; the standard ones before Open.
func (s *Session) Settings() store.Settings { return s.settings }

// Set changes the user's ways and keeps them.
func (s *Session) Set(f func(*store.Settings)) {
	s.Open()
	f(&s.settings)
	s.engine.Units = s.settings.Units
	s.complain(s.store.SetSettings(s.settings))
	s.forget()
	s.notify()
}

// remember keeps what was typed about the instrument, so that the next reading
// begins with it.
func (s *Session) remember(entries []diagnosis.Entry) {
	s.Open()
	next := s.settings
	for _, n := range entries {
		if n.Reading != "" {
			next.Percent, next.Digits = n.Percent, n.Digits
			if n.Leads != "" {
				next.Leads = n.Leads
			}
		}
	}
	if next.Leads != s.settings.Leads || next.Percent != s.settings.Percent || next.Digits != s.settings.Digits {
		s.settings = next
		s.complain(s.store.SetSettings(next))
	}
}

// Own is the user's own acceptance values by their ids; nobody may change it.
func (s *Session) Own() map[string]unit.OwnLimit { return s.engine.Own }

// SetOwn takes a value of the user's own in the place of the sheet's; nil goes
// back to the sheet's.
//
// Errors: *unit.OwnLimitError.
func (s *Session) SetOwn(id string, own *unit.OwnLimit) error {
	s.Open()
	next := maps.Clone(s.kept)
	if next == nil {
		next = map[string]unit.OwnLimit{}
	}
	delete(next, id)
	if own != nil {
		if _, err := (unit.Sheet{Book: s.Book()}).With(id, *own); err != nil {
			return err
		}
		next[id] = *own
	}
	s.kept, s.engine.Own = next, s.sound(next)
	s.complain(s.store.SetValues(next))
	s.forget()
	s.notify()
	return nil
}

// sound leaves out the values that the sheet has no place for: they were kept
// by another version, which may come back to them, and none is judged by.
func (s *Session) sound(kept map[string]unit.OwnLimit) map[string]unit.OwnLimit {
	own := map[string]unit.OwnLimit{}
	for id, l := range kept {
		if _, err := (unit.Sheet{Book: s.Book()}).With(id, l); err == nil {
			own[id] = l
		}
	}
	return own
}
