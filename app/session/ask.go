package session

import (
	"sync"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/answer"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/unit"
	words "provingbench/knowledge/wording/shipped"
)

// search is the index of everything. It is made beside the screens, because a
// phone takes longer for it than a finger for a key.
type search struct {
	mu     sync.Mutex
	index  *answer.Index
	making bool
}

// Prepare has the search made ready in the background, and calls ready when
// there is something to ask. A second call does nothing.
func (s *Session) Prepare(ctx app.Context, ready func()) {
	s.search.mu.Lock()
	defer s.search.mu.Unlock()
	if s.search.index != nil || s.search.making {
		return
	}
	s.search.making = true
	symptoms := s.index
	ctx.Async(func() {
		defer func() {
			if recover() != nil {
				s.made(nil)
			}
		}()
		breath() // the box comes first
		if symptoms == nil {
			symptoms = complaint.New(s.Catalogue())
		}
		s.made(answer.New(s.Catalogue(), s.Book(), words.Dictionary(), symptoms, breath))
		ctx.Dispatch(func(app.Context) { ready() })
	})
}

// breath lets the browser draw.
func breath() { time.Sleep(time.Millisecond) }

func (s *Session) made(x *answer.Index) {
	s.search.mu.Lock()
	defer s.search.mu.Unlock()
	s.search.index, s.search.making = x, false
}

// Preparing reports whether the search is being made ready.
func (s *Session) Preparing() bool {
	s.search.mu.Lock()
	defer s.search.mu.Unlock()
	return s.search.making
}

// answers is the index, made at once when Prepare has not been called.
func (s *Session) answers() *answer.Index {
	s.search.mu.Lock()
	defer s.search.mu.Unlock()
	if s.search.index == nil {
		s.search.index = answer.New(s.Catalogue(), s.Book(), words.Dictionary(), s.words(), nil)
	}
	return s.search.index
}

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
