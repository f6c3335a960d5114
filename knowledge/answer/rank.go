package answer

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
	"provingbench/knowledge/unit"
	"provingbench/knowledge/wording"
)

// How near to a record's name a word of it stands, 1 for the name itself.
const (
	nearName    = 1.0
	nearMeasure = 0.95
	nearPlace   = 0.8
	nearAbout   = 0.35
)

// How sure a word of the query is, 1 for one that is spelled out.
const (
	sureBegun  = 0.95 // the beginning of a word
	sureMended = 0.92 // a typing error put right
)

// The shares that a score is the sum of.
const (
	explainedShare  = 1.0  // of the query, how much the record explains
	namedShare      = 0.25 // of the best of the record's names and the query, how much they have in common
	wantedBonus     = 0.3  // the query asks for this kind: "spec", "how to test"
	measuredBonus   = 0.1  // the query names what the value measures: "ohms"
	calledBonus     = 0.25 // the query is the record's name, word for word
	alsoCalledBonus = 0.2  // the same for one of its other names
	readAloudBonus  = 0.06 // a value can be read aloud at once
	exactCode       = 3.0  // a code's number settles it
	leastExplained  = 0.4  // a record that explains less of the query is no answer
	leastOfBest     = 0.55 // nor is one that scores so much less than the best
	unknownWeight   = 3.0  // of a word that no record has
	leastPrefix     = 2    // letters of a word that is begun
	mostBegun       = 24   // words that a beginning may stand for
)

// weight of a term that stands in n of all records: rare words tell more.
func weight(n, all int) float64 {
	if n == 0 {
		return unknownWeight
	}
	return 0.4 + 0.6*math.Log(1+float64(all)/float64(n))
}

// slot is one word of the query: the terms that it may stand for.
type slot struct {
	terms   []sureTerm
	weight  float64
	wants   Kind
	version unit.Version
}

type sureTerm struct {
	id   int
	sure float64
}

// query is what was typed, understood.
type query struct {
	text    string
	slots   []slot
	wants   []Kind
	version unit.Version
	lost    []string
	codes   []*catalogue.Code
	called  []calling
}

// understand reads a query.
func (x *Index) understand(text string) query {
	q := query{text: text}
	words := wording.Split(text)
	words = words[:min(len(words), mostWords)]
	q.codes = x.codesIn(words)
	q.called = x.called[x.reader.key(words)]
	versions := 0
	sure := x.mend(words)
	for _, p := range x.reader.read(words) {
		if p.wants != "" && !slices.Contains(q.wants, p.wants) {
			q.wants = append(q.wants, p.wants)
		}
		for _, t := range p.terms {
			s := slot{wants: p.wants}
			if v := unit.Version(t); slices.Contains(unit.Versions, v) && p.raw != "" {
				s.version = v
				if q.version != v {
					versions++
				}
				q.version = v
			}
			s.terms = x.sure(t, p.raw)
			for i := range s.terms {
				s.terms[i].sure *= slices.Min(sure[p.from:p.to])
			}
			if len(s.terms) == 0 && p.wants == "" && s.version == "" {
				q.lost = append(q.lost, p.raw)
			}
			for _, st := range s.terms {
				s.weight = max(s.weight, x.weights[st.id])
			}
			if len(s.terms) == 0 {
				s.weight = unknownWeight
			}
			q.slots = append(q.slots, s)
		}
		if len(p.terms) == 0 && p.wants != "" { // "how to"
			q.slots = append(q.slots, slot{wants: p.wants, weight: 1})
		}
	}
	if versions > 1 {
		q.version = ""
	}
	return q
}

// codesIn finds the codes whose number the query is: P1757, code 1757, p 1757.
func (x *Index) codesIn(words []wording.Word) []*catalogue.Code {
	var rest []string
	for _, w := range words {
		if x.reader.sayings[x.reader.stem(w.Text)].wants != Code {
			rest = append(rest, w.Text)
		}
	}
	if len(rest) == 1 || len(rest) == 2 && rest[0] == "p" {
		return x.catalogue.CodesNumbered(strings.Join(rest, ""))
	}
	return nil
}

// mend puts typing errors right, so that sayings are found in what was meant,
// and gives how sure each word is. A word that begins another is left alone.
func (x *Index) mend(words []wording.Word) []float64 {
	sure := make([]float64, len(words))
	for i := range words {
		sure[i] = 1
		w := words[i].Text
		at, known := slices.BinarySearch(x.surfaces, w)
		if known || at < len(x.surfaces) && len(w) >= leastPrefix && strings.HasPrefix(x.surfaces[at], w) {
			continue
		}
		if better, ok := x.reader.mender.Mend(w); ok {
			words[i].Text, sure[i] = better, sureMended
		}
	}
	return sure
}

// sure gives the terms that a word stands for: itself, else what it begins, else
// what it is the misspelled beginning of.
func (x *Index) sure(term, raw string) []sureTerm {
	if id, ok := x.terms[term]; ok && len(x.postings[id]) > 0 {
		return []sureTerm{{id, 1}}
	}
	if raw == "" {
		return nil
	}
	if out := x.begun(raw); len(out) > 0 {
		return out
	}
	if better, ok := x.reader.mender.Begun(raw); ok {
		return x.spelled(better, sureMended*sureBegun)
	}
	return nil
}

// begun gives the terms of all words that begin so.
func (x *Index) begun(raw string) []sureTerm {
	if len(raw) < leastPrefix {
		return nil
	}
	var out []sureTerm
	from, _ := slices.BinarySearch(x.surfaces, raw)
	for i := from; i < len(x.surfaces) && i < from+mostBegun && strings.HasPrefix(x.surfaces[i], raw); i++ {
		for _, t := range x.spelled(x.surfaces[i], sureBegun) {
			if !slices.ContainsFunc(out, func(o sureTerm) bool { return o.id == t.id }) {
				out = append(out, t)
			}
		}
	}
	return out
}

// spelled gives the terms of a word of the records or the dictionary.
func (x *Index) spelled(word string, sure float64) []sureTerm {
	p := x.reader.word(word)
	if s, ok := x.reader.sayings[x.reader.stem(word)]; ok {
		p.saying = s
	}
	var out []sureTerm
	for _, t := range p.terms {
		if id, ok := x.terms[t]; ok && len(x.postings[id]) > 0 {
			out = append(out, sureTerm{id, sure})
		}
	}
	return out
}

// tally is what a record has of a query.
type tally struct {
	explained float64 // weight of the query that the record explains
	named     float64
	seen      bool
}

// rank orders the records by how well they answer.
func (x *Index) rank(q query) []Hit {
	all := 0.0
	for _, s := range q.slots {
		all += s.weight
	}
	if all == 0 {
		return nil
	}
	tallies := make([]tally, len(x.records))
	best := make([]float32, len(x.records)) // of one slot
	said := make([]bool, len(x.postings))
	var touched []int32
	for _, s := range q.slots {
		touched = touched[:0]
		for _, t := range s.terms {
			said[t.id] = true
			for _, p := range x.postings[t.id] {
				near := p.near * float32(t.sure)
				if best[p.record] == 0 {
					touched = append(touched, p.record)
				}
				best[p.record] = max(best[p.record], near)
			}
		}
		for _, r := range touched {
			// Rule 1: a word of the query counts by its weight, and by how near
			// to the record's name it stands.
			tallies[r].explained += s.weight * float64(best[r])
			tallies[r].seen = true
			if s.free(x.records[r].kind) {
				// Rule 2 needs no more than this.
				tallies[r].explained += s.weight * (1 - float64(best[r]))
			}
			best[r] = -1
		}
		for i := range tallies {
			// Rule 2: a word that asks for a kind is not missed in a record of
			// that kind, nor a version where the figures are told by version.
			if best[i] == 0 && s.free(x.records[i].kind) {
				tallies[i].explained += s.weight
			}
		}
		for _, r := range touched {
			best[r] = 0
		}
	}
	understood := x.understood(q)
	for _, s := range understood {
		tallies[s.record].seen = true
		// Rule 3: a symptom that is understood from the whole query is named by it.
		tallies[s.record].explained = max(tallies[s.record].explained, all*s.share)
		tallies[s.record].named = max(tallies[s.record].named, s.share)
	}
	var hits []Hit
	for i := range tallies {
		t, r := &tallies[i], &x.records[i]
		numbered := r.kind == Code && slices.ContainsFunc(q.codes, func(c *catalogue.Code) bool { return c.ID == r.id })
		if !numbered && (!t.seen || t.explained < leastExplained*all) {
			continue
		}
		// Rule 4: of the record's names the one counts that is said most fully.
		asked := q.weight(r.kind)
		for _, phrase := range r.phrases {
			t.named = max(t.named, x.share(phrase, said, asked))
		}
		score := explainedShare*t.explained/all + namedShare*t.named
		// Rule 5: the query asks for this kind of record.
		if slices.Contains(q.wants, r.kind) {
			score += wantedBonus
		}
		// Rule 6: the query names what the value measures.
		if slices.ContainsFunc(r.measures, func(id int) bool { return said[id] }) {
			score += measuredBonus
		}
		// Rule 7: the query is one of the record's names.
		score += q.calledBonus(i)
		// Rule 8: of what fits alike, the figure comes first.
		if r.kind == Value {
			score += readAloudBonus
		}
		// Rule 9: a code's number leads to that code.
		if numbered {
			score = exactCode
		}
		hits = append(hits, Hit{Kind: r.kind, ID: r.id, Name: r.name, Score: score})
	}
	// Rule 10: a draw is settled by kind, and then by name.
	order.Stable(hits, func(a, b Hit) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), cmp.Compare(slices.Index(Kinds, a.Kind), slices.Index(Kinds, b.Kind)), cmp.Compare(a.ID, b.ID))
	})
	// Rule 11: what fits much worse than the best is no answer.
	for i := range hits {
		if hits[i].Score < leastOfBest*hits[0].Score {
			return hits[:i]
		}
	}
	return hits
}

// free reports whether a record of a kind explains the slot without holding it.
func (s *slot) free(k Kind) bool {
	return s.wants == k && k != "" || s.version != "" && (k == Value || k == Part)
}

// calledBonus is what a record gains when the query is one of its names.
func (q *query) calledBonus(record int) float64 {
	bonus := 0.0
	for _, c := range q.called {
		switch {
		case int(c.record) != record:
		case c.own:
			return calledBonus
		default:
			bonus = alsoCalledBonus
		}
	}
	return bonus
}

// weight is how much of the query a record of a kind has to name.
func (q *query) weight(k Kind) float64 {
	all := 0.0
	for i := range q.slots {
		if !q.slots[i].free(k) {
			all += q.slots[i].weight
		}
	}
	return all
}

// share is how much a phrase and the query have in common: all of it when each
// says all that the other says.
func (x *Index) share(phrase []int, said []bool, asked float64) float64 {
	matched, all := 0.0, 0.0
	for _, id := range phrase {
		all += x.weights[id]
		if said[id] {
			matched += x.weights[id]
		}
	}
	return matched / max(all+asked-matched, all)
}

// understoodSymptom is a symptom that package complaint reads in the query.
type understoodSymptom struct {
	record int
	share  float64 // of the query
}

func (x *Index) understood(q query) []understoodSymptom {
	if x.complaint == nil || len(q.codes) > 0 {
		return nil
	}
	long := len(strings.TrimSpace(q.text))
	var out []understoodSymptom
	for _, m := range x.complaint.Resolve(q.text).Matches {
		if m.Absent {
			continue
		}
		for i := range x.records {
			if x.records[i].kind == Symptom && x.records[i].id == m.SymptomID {
				out = append(out, understoodSymptom{i, m.Score * float64(len(m.Words)) / float64(long)})
			}
		}
	}
	return out
}
