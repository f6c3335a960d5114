package session

import (
	"provingbench/knowledge/answer"
	"provingbench/knowledge/unit"
	words "provingbench/knowledge/wording/shipped"
)

// Ask answers what somebody typed into the search, finished or not.
func (s *Session) Ask(query string, limit int) (a answer.Answer) {
	defer func() {
		if recover() != nil {
			a = answer.Answer{}
		}
	}()
	return s.answers().Ask(query, limit)
}

// About gathers what stands with a hit, for the truck at hand or for the version
// that the query names.
func (s *Session) About(h answer.Hit, named unit.Version) (a answer.About) {
	defer func() {
		if recover() != nil {
			a = answer.About{}
		}
	}()
	return s.answers().About(h, s.Sheet(), named)
}

// Figure gives a value with the limits that hold, as About does.
func (s *Session) Figure(id string, named unit.Version) answer.Figure {
	return s.answers().Figure(id, s.Sheet(), named)
}

// Asked lists the values that are asked for most often.
func (s *Session) Asked() []string { return words.Dictionary().Asked }

// answers is the index of everything, built when it is first needed.
func (s *Session) answers() *answer.Index {
	if s.everything == nil {
		s.everything = answer.New(s.Catalogue(), s.Book(), words.Dictionary(), s.words())
	}
	return s.everything
}
