package session

import (
	"provingbench/app/store"
	"provingbench/knowledge/quantity"
)

// Units is how the user reads measures.
func (s *Session) Units() quantity.Preference { return s.settings.Units }

// Settings are the user's ways; the standard ones before Open.
func (s *Session) Settings() store.Settings { return s.settings }

// Set changes the user's ways and keeps them.
func (s *Session) Set(f func(*store.Settings)) {
	s.Open()
	f(&s.settings)
	s.complain(s.store.SetSettings(s.settings))
	s.forget()
	s.notify()
}
