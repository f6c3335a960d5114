package complaint

import (
	"cmp"
	"strings"

	"provingbench/knowledge/order"
	"provingbench/knowledge/wording"
)

// A Suggestion is a symptom that fits what has been typed so far.
type Suggestion struct {
	SymptomID string
	Said      string  // the phrase that fits
	Score     float64 // higher fits better
}

// Suggest ranks the symptoms for a text that is still being typed: every word
// must begin a word of one phrase, the last one may be unfinished. It gives at
// most limit symptoms, the best first, and none for an empty text.
func (x *Index) Suggest(typed string, limit int) []Suggestion {
	words := wording.Split(typed)
	if len(words) == 0 {
		return nil
	}
	var out []Suggestion
	for i := range x.catalogue.Symptoms {
		best := Suggestion{SymptomID: x.catalogue.Symptoms[i].ID}
		for _, said := range x.said[i] {
			if score := begins(words, said.words); score > best.Score {
				best.Said, best.Score = said.text, score
			}
		}
		if best.Score > 0 {
			out = append(out, best)
		}
	}
	if len(out) == 0 {
		out = x.understood(typed)
	}
	order.Stable(out, func(a, b Suggestion) int { return cmp.Compare(b.Score, a.Score) })
	return out[:min(limit, len(out))]
}

// begins scores how well typed words begin the words of a phrase: words in the
// phrase's order count more than words out of it, and a whole word more than a
// begun one. It is 0 when a word begins none.
func begins(typed []word, phrase []string) float64 {
	score, expected := 0.0, 0
	for i, w := range typed {
		last := i == len(typed)-1
		found := -1
		for k := range phrase {
			at := (expected + k) % len(phrase)
			if phrase[at] == w.Text || last && strings.HasPrefix(phrase[at], w.Text) {
				found = at
				break
			}
		}
		if found < 0 {
			return 0
		}
		score++
		if found == expected {
			score++
		}
		if phrase[found] == w.Text {
			score += 0.5
		}
		expected = (found + 1) % len(phrase)
	}
	// Of two phrases that fit alike the shorter one is nearer to being typed.
	return score + 1/float64(1+len(phrase))
}

// understood falls back on what the text means when no phrase begins so.
func (x *Index) understood(typed string) []Suggestion {
	var out []Suggestion
	u := x.Resolve(typed)
	for _, m := range u.Matches {
		if !m.Absent {
			out = append(out, Suggestion{SymptomID: m.SymptomID, Said: x.catalogue.Symptom(m.SymptomID).Name, Score: m.Score})
		}
	}
	for _, c := range u.Unclear {
		for _, k := range c.Candidates {
			out = append(out, Suggestion{SymptomID: k.SymptomID, Said: x.catalogue.Symptom(k.SymptomID).Name, Score: k.Score})
		}
	}
	return out
}
