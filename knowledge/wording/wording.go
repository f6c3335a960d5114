// Package wording reads what people type: it cuts it into words, folds the
// forms of a word into one, and puts typing errors right.
//
// Two packages look things up by people's words, complaint for symptoms and
// answer for everything; what both need stands here.
package wording

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/kljensen/snowball/english"
)

// A Pause is what stands before a word and parts it from the word before.
type Pause byte

// The pauses, the weakest first.
const (
	None   Pause = iota
	Joined       // 2-3, o/d
	Soft         // a comma
	Or           // "or"
	Hard         // a full stop
)

// Parts reports whether the pause parts two things that are said alike: first,
// second or third.
func (p Pause) Parts() bool { return p == Soft || p == Or }

// A Word is one word of a text, folded to lower case without apostrophes.
type Word struct {
	Text       string
	Start, End int // bytes in the text
	Before     Pause
}

// Split cuts a text into words. Digits and letters stay together: 2nd.
func Split(text string) []Word {
	var words []Word
	before := Hard
	i := 0
	for i < len(text) {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			if p := pauseOf(text, i, r); p > before {
				before = p
			}
			i += size
			continue
		}
		start := i
		for i < len(text) {
			r, size := utf8.DecodeRuneInString(text[i:])
			if !apostrophe(r) && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
				break
			}
			i += size
		}
		words = append(words, Word{Text: fold(text[start:i]), Start: start, End: i, Before: before})
		before = None
	}
	return words
}

func apostrophe(r rune) bool { return r == '\'' || r == '’' || r == '‘' || r == '`' }

// fold gives a word in lower case without apostrophes. Most are so already, and
// cost nothing.
func fold(word string) string {
	return strings.Map(func(r rune) rune {
		if apostrophe(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, word)
}

func pauseOf(text string, i int, r rune) Pause {
	spaced := i > 0 && text[i-1] == ' '
	switch r {
	case '.', ';', '!', '?', '\n', '\r', ':':
		return Hard
	case ',', '&', '+', '(', ')', '"', '—', '–':
		return Soft
	case '-', '/', '>':
		if spaced {
			return Soft
		}
		return Joined
	}
	return None
}

// Stem gives what the forms of a word share: leaks, leaking and leaked are leak.
func Stem(word string) string { return english.Stem(word, false) }

// IsStop reports whether a word says nothing by itself: the, of, with.
func IsStop(word string) bool { return english.IsStopWord(word) }
