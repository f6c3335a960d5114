package wording

import (
	"strings"
	"unicode/utf8"

	"github.com/agnivade/levenshtein"
)

// Lengths of words, in letters, that typing errors are looked for in. A short
// word has too many neighbours.
const (
	leastMended = 4
	mostMended  = 20
	twoErrors   = 8 // from this length on two errors are forgiven
	leastBegun  = 5 // of a word that is not typed to its end
)

// A Mender puts typing errors right: it knows words and finds the one that was
// meant by another.
type Mender struct {
	leave func(string) bool
	known map[string]bool
	start map[rune][]string // the words to mend into, by their first letter
}

// NewMender makes a mender that knows no words yet. Words for which leave is
// true are neither mended nor mended into: they mean what they say.
func NewMender(leave func(string) bool) *Mender {
	return &Mender{leave: leave, known: map[string]bool{}, start: map[rune][]string{}}
}

// Learn adds a word, in lower case.
func (m *Mender) Learn(w string) {
	if m.known[w] {
		return
	}
	m.known[w] = true
	if len(w) >= leastMended && !m.leave(w) && !IsStop(w) {
		first, _ := utf8.DecodeRuneInString(w)
		m.start[first] = append(m.start[first], w)
	}
}

// Mend gives the word that was meant by one that isn't known: with one letter
// wrong in a word of four to seven letters, two in a longer one. The first
// letter counts as right. Of several the first one learned is given.
func (m *Mender) Mend(w string) (string, bool) {
	if !m.mendable(w, leastMended) || m.known[Stem(w)] {
		return "", false
	}
	allowed := 1
	if len(w) >= twoErrors {
		allowed = 2
	}
	best, distance := "", allowed+1
	first, _ := utf8.DecodeRuneInString(w)
	for _, known := range m.start[first] {
		if d := len(known) - len(w); d > allowed || d < -allowed {
			continue
		}
		if swapped(w, known) {
			return known, true
		}
		if d := levenshtein.ComputeDistance(w, known); d < distance {
			best, distance = known, d
		}
	}
	return best, best != ""
}

// Begun gives a word whose beginning was meant by one that is still being
// typed, with one letter wrong.
func (m *Mender) Begun(w string) (string, bool) {
	if !m.mendable(w, leastBegun) {
		return "", false
	}
	first, _ := utf8.DecodeRuneInString(w)
	for _, known := range m.start[first] {
		if len(known) > len(w) && (levenshtein.ComputeDistance(w, known[:len(w)]) <= 1 || levenshtein.ComputeDistance(w, known[:len(w)+1]) <= 1 ||
			swapped(w, known[:len(w)])) {
			return known, true
		}
	}
	return "", false
}

func (m *Mender) mendable(w string, least int) bool {
	return len(w) >= least && len(w) <= mostMended && w[0] > '9' && !m.known[w] && !m.leave(w) && !IsStop(w)
}

// swapped says whether two neighbouring letters changed places: slpis.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && strings.HasSuffix(a, b[i+2:])
		}
	}
	return false
}
