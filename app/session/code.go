package session

import (
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// Mentions finds the fault codes in a customer's words.
func (s *Session) Mentions(words string) []diagnosis.Mention {
	return diagnosis.Mentions(s.Catalogue(), words)
}

// Addable reports whether a stored code would tell the job at hand something
// that is not entered yet.
func (s *Session) Addable(k *catalogue.Code) bool {
	_, ok := diagnosis.StoredCode(s.Catalogue(), s.Case(), k)
	return ok
}

// AddCodes enters stored codes into the job at hand, as the findings they stand
// for, and reports whether there was anything to enter. Codes are known from
// before the truck was taken apart, so its level stays.
func (s *Session) AddCodes(codes ...*catalogue.Code) bool {
	var mentions []diagnosis.Mention
	said := "Entered as stored:"
	for _, k := range codes {
		mentions = append(mentions, diagnosis.Mention{Codes: []*catalogue.Code{k}})
		said += " " + k.Number
	}
	entries := diagnosis.StoredCodes(s.Catalogue(), s.Case(), mentions)
	if len(entries) == 0 {
		return false
	}
	s.enter(said, false, entries...)
	return true
}
