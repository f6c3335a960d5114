package diagnosis

import (
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/order"
)

// Mention is a fault code that a text names.
type Mention struct {
	Words  string // as written: "p 1757"
	Start  int    // where it stands, in bytes
	Number string // as the catalogue writes it: "P1757", "45"
	Codes  []*catalogue.Code
}

// End is where the mention ends, in bytes.
func (m Mention) End() int { return m.Start + len(m.Words) }

// Mentions finds the fault codes that a text names, in the order of the text.
// With its letter a number is taken anywhere, and a number that the catalogue
// does not know is given with no codes. Bare digits are taken where they cannot
// be a year, a speed or a mileage: four digits that begin with a zero, digits
// after the word "code", or a text of nothing but numbers; and only when the
// catalogue knows them.
func Mentions(c *catalogue.Catalogue, text string) []Mention {
	var out []Mention
	add := func(span [2]int) {
		words := text[span[0]:span[1]]
		if number := catalogue.CodeNumber(words); number != "" {
			out = append(out, Mention{words, span[0], number, c.CodesNumbered(number)})
		}
	}
	for _, span := range lettered(text) {
		add(span)
	}
	alone := !strings.ContainsFunc(text, func(r rune) bool { return r != ' ' && r != ',' && (r < '0' || r > '9') })
	for _, span := range digits(text) {
		if slices.ContainsFunc(out, func(m Mention) bool { return span[0] < m.End() && span[1] > m.Start }) {
			continue
		}
		number := catalogue.CodeNumber(text[span[0]:span[1]])
		if number == "" || len(c.CodesNumbered(number)) == 0 || measured(text[span[1]:]) {
			continue
		}
		if alone || span[1]-span[0] == 4 && text[span[0]] == '0' || follows(text, span[0], out) {
			add(span)
		}
	}
	order.Stable(out, func(a, b Mention) int { return a.Start - b.Start })
	return out
}

// follows says whether a number at a place follows the word "code", or another
// code in a list.
func follows(text string, at int, before []Mention) bool {
	from := -1
	for _, span := range codeWords(text[:at]) {
		from = span[1]
	}
	for _, m := range before {
		if m.End() <= at && m.End() > from {
			from = m.End()
		}
	}
	return from >= 0 && between(text[from:at])
}

// StoredCode is what a stored code is as an entry of a case. Of the codes that
// fall under one observation the check's order decides which is the finding:
// the first that its outcomes list. ok is false when the code is no finding,
// and when a code that comes first, or the same outcome, stands in the case
// already.
func StoredCode(c *catalogue.Catalogue, so Case, k *catalogue.Code) (n Entry, ok bool) {
	check, o, out := c.OutcomeOf(k)
	if out == nil {
		return Entry{}, false
	}
	order := func(id string) int {
		return slices.IndexFunc(o.Outcomes, func(x catalogue.Outcome) bool { return x.ID == id })
	}
	for i := len(so.Entries) - 1; i >= 0; i-- {
		e := so.Entries[i]
		if e.Check != check.ID || e.Observation != o.ID {
			continue
		}
		if stands := order(e.Outcome); stands >= 0 && stands <= order(out.ID) {
			return Entry{}, false
		}
		break // the latest entry is the one that counts
	}
	return Entry{Check: check.ID, Observation: o.ID, Outcome: out.ID}, true
}

// StoredCodes turns the codes that a text names into entries that the case does
// not have yet: one for each observation. A number that stands for several
// codes which are different findings is left for a person to decide.
func StoredCodes(c *catalogue.Catalogue, so Case, mentions []Mention) []Entry {
	so.Entries = slices.Clone(so.Entries)
	var out []Entry
	for _, m := range mentions {
		k := m.Code()
		if k == nil {
			continue
		}
		n, ok := StoredCode(c, so, k)
		if !ok {
			continue
		}
		so.Entries = append(so.Entries, n)
		out = slices.DeleteFunc(out, func(e Entry) bool { return e.Check == n.Check && e.Observation == n.Observation })
		out = append(out, n)
	}
	return out
}

// Code is the code that a mention means: its only one, or any of several that
// are the same finding; nil when a person has to say.
func (m Mention) Code() *catalogue.Code {
	if len(m.Codes) == 0 {
		return nil
	}
	first := m.Codes[0]
	for _, k := range m.Codes[1:] {
		if first.Outcome == nil || k.Outcome == nil || *k.Outcome != *first.Outcome {
			return nil
		}
	}
	return first
}

// Unexplained gives the words that led nowhere, without those that are fault
// codes.
func Unexplained(u complaint.Understanding, mentions []Mention) []complaint.Part {
	var out []complaint.Part
	for _, p := range u.Unmatched {
		if !onlyCodes(p, mentions) {
			out = append(out, p)
		}
	}
	return out
}

// onlyCodes says whether a stretch of the text holds nothing but what is
// mentioned.
func onlyCodes(p complaint.Part, mentions []Mention) bool {
	left := []byte(p.Words)
	for _, m := range mentions {
		for i := max(m.Start, p.Start); i < min(m.End(), p.Start+len(p.Words)); i++ {
			left[i-p.Start] = ' '
		}
	}
	return strings.Trim(string(left), " ,;.&/+-") == ""
}
