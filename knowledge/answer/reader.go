package answer

import (
	"strings"

	"provingbench/knowledge/wording"
)

// reader reads words by the dictionary: of the query, and of the records.
type reader struct {
	sayings map[string]saying // by the stems of the words
	longest map[string]int    // words of the longest saying, by the stem of its first
	mender  *wording.Mender
	stems   map[string]string // of the words read so far, while the index is made
}

// saying is what a word or a group of words stands for.
type saying struct {
	terms []string
	wants Kind
}

// piece is a stretch of a text after reading.
type piece struct {
	saying
	raw      string // the word, where it is no saying
	from, to int    // the words that it was read from
}

func newReader(d *wording.Dictionary) *reader {
	r := &reader{sayings: map[string]saying{}, longest: map[string]int{}, mender: wording.NewMender(func(string) bool { return false }), stems: map[string]string{}}
	put := func(said string, s saying) {
		words := wording.Split(said)
		r.sayings[r.key(words)] = s
		first := r.stem(words[0].Text)
		r.longest[first] = max(r.longest[first], len(words))
	}
	for _, s := range d.Synonyms {
		terms := r.terms(s.Means)
		for _, said := range append([]string{s.Means}, s.Said...) {
			put(said, saying{terms: terms})
		}
	}
	for _, w := range d.Wants {
		for _, said := range w.Said {
			put(said, saying{terms: r.terms(said), wants: Kind(w.Kind)})
		}
	}
	for _, said := range d.Fillers {
		put(said, saying{})
	}
	return r
}

// key is what words are looked up by: their stems, so that a saying is found in
// all forms of its words.
func (r *reader) key(words []wording.Word) string {
	if len(words) == 1 {
		return r.stem(words[0].Text)
	}
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(r.stem(w.Text))
	}
	return b.String()
}

// stem is wording.Stem. While the index is made the same few thousand words come
// again and again.
func (r *reader) stem(word string) string {
	if s, ok := r.stems[word]; ok {
		return s
	}
	s := wording.Stem(word)
	if r.stems != nil {
		r.stems[word] = s
	}
	return s
}

// terms gives the terms of a text that is in the words of the records.
func (r *reader) terms(text string) []string {
	var out []string
	for _, w := range wording.Split(text) {
		if !wording.IsStop(w.Text) || w.Text == "no" {
			out = append(out, r.stem(w.Text))
		}
	}
	return out
}

// read turns words into pieces: the longest saying at each place, else the
// word's stem. Words that say nothing leave an empty piece.
func (r *reader) read(words []wording.Word) []piece {
	var out []piece
	for i := 0; i < len(words); {
		s, n := r.longestSaying(words[i:])
		if n > 0 {
			out = append(out, piece{saying: s, from: i, to: i + n})
			i += n
			continue
		}
		p := r.word(words[i].Text)
		p.from, p.to = i, i+1
		out = append(out, p)
		i++
	}
	return out
}

func (r *reader) word(text string) piece {
	if wording.IsStop(text) {
		return piece{}
	}
	return piece{saying: saying{terms: []string{r.stem(text)}}, raw: text}
}

func (r *reader) longestSaying(words []wording.Word) (s saying, n int) {
	text := r.stem(words[0].Text)
	longest := r.longest[text]
	for i := 0; i < longest; i++ {
		if i > 0 {
			if i == len(words) || words[i].Before >= wording.Soft {
				break
			}
			text += " " + r.stem(words[i].Text)
		}
		if found, ok := r.sayings[text]; ok {
			s, n = found, i+1
		}
	}
	return s, n
}
