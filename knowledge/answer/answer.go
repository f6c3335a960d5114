// Package answer finds what somebody at a parts counter or under a truck asks
// for in three words: "gov solenoid ohms", "rear band turns mid", "no reverse",
// "P1757".
//
// An Index holds every kind of record: values of the unit sheet, checks, faults,
// symptoms, parts, codes, cautions, gears of the application chart and usual
// changes. Ask ranks them for what has been typed so far; Index.About says what
// belongs to a hit: its figures, what goes with the part, what to ask the caller.
//
// What is typed and what the records say are read by the same rules (reader.go)
// with the words of the trade (knowledge/catalogue/data/words.yaml), so that
// "tcc sol" and "converter clutch solenoid" are one. Symptoms are also
// understood as package complaint understands them. The ranking (rank.go) is a
// sum of a few named shares; it depends on nothing but the query and the
// records. Its weights are this package's own; the queries in testdata/answer
// hold them to what people ask.
//
// A new kind of record needs one adapter in record.go.
package answer

import (
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/complaint"
	"provingbench/knowledge/unit"
	"provingbench/knowledge/wording"
)

// Longest query that is read, in characters and in words. Nobody types more
// than that to have one line answered; what follows is left out.
const (
	mostCharacters = 160
	mostWords      = 16
)

// Index is all records, ready to be asked for.
type Index struct {
	catalogue *catalogue.Catalogue
	book      *unit.Book
	complaint *complaint.Index
	asked     []string
	reader    *reader
	records   []record
	terms     map[string]int // number of each term
	weights   []float64      // by term
	postings  [][]posting    // by term, in the order of the records
	called    map[string][]calling
	surfaces  []string // every word that the records or the dictionary spell, sorted

	once    sync.Once
	ofParts [][]string // the values of each part; see partValues
}

// posting says that a record holds a term, and how near to its name.
type posting struct {
	record int32
	near   float32
}

// calling says that a record has a name, word for word.
type calling struct {
	record int32
	own    bool // and not one of its other names
}

// perPause is how many records are read between two pauses.
const perPause = 20

// New makes the index. The complaint index is one of the same catalogue; it may
// be shared with others. If pause is not nil it is called now and then, so that
// a browser can draw what is typed meanwhile.
func New(c *catalogue.Catalogue, b *unit.Book, words *wording.Dictionary, symptoms *complaint.Index, pause func()) *Index {
	x := &Index{catalogue: c, book: b, complaint: symptoms, asked: words.Asked, reader: newReader(words), terms: map[string]int{}, called: map[string][]calling{}}
	x.records = records(c, b, words)
	seen := map[string]bool{}
	learn := func(words []wording.Word) {
		for _, w := range words {
			if !seen[w.Text] {
				seen[w.Text] = true
				x.surfaces = append(x.surfaces, w.Text)
				x.reader.mender.Learn(w.Text)
			}
		}
	}
	for i := range x.records {
		if pause != nil && i%perPause == 0 {
			pause()
		}
		r := &x.records[i]
		near := map[int]float32{}
		take := func(words []wording.Word, n float32) []int {
			learn(words)
			var ids []int
			for _, p := range x.reader.read(words) {
				for _, t := range p.terms {
					id := x.term(t)
					near[id] = max(near[id], n)
					if !slices.Contains(ids, id) {
						ids = append(ids, id)
					}
				}
			}
			return ids
		}
		for k, name := range r.names {
			split := wording.Split(name)
			full := x.reader.key(split)
			x.called[full] = append(x.called[full], calling{int32(i), k == 0})
			if ids := take(split, nearName); len(ids) > 0 {
				r.phrases = append(r.phrases, ids)
			}
		}
		for _, text := range r.measure {
			r.measures = take(wording.Split(text), nearMeasure)
		}
		for _, text := range r.place {
			take(wording.Split(text), nearPlace)
		}
		for _, text := range r.about {
			take(wording.Split(text), nearAbout)
		}
		r.names, r.measure, r.place, r.about = nil, nil, nil, nil // read; the postings have it
		for id, n := range near {
			x.postings[id] = append(x.postings[id], posting{int32(i), n})
		}
	}
	for _, s := range words.Synonyms {
		for _, said := range s.Said {
			learn(wording.Split(said))
		}
	}
	for _, w := range words.Wants {
		for _, said := range w.Said {
			learn(wording.Split(said))
		}
	}
	slices.Sort(x.surfaces)
	x.reader.stems = nil // the words of the records are read
	x.weights = make([]float64, len(x.postings))
	for id := range x.postings {
		x.weights[id] = weight(len(x.postings[id]), len(x.records))
	}
	return x
}

// term numbers a term.
func (x *Index) term(t string) int {
	id, ok := x.terms[t]
	if !ok {
		id = len(x.postings)
		x.terms[t] = id
		x.postings = append(x.postings, nil)
	}
	return id
}

// Hit is a record that answers a query.
type Hit struct {
	Kind  Kind
	ID    string
	Name  string
	Score float64 // higher fits better
}

// Answer is what a query leads to.
type Answer struct {
	Hits    []Hit        // the best first
	Version unit.Version // the version that the query names; empty when it names none, or several
	Lost    []string     // words of the query that lead to nothing
}

// Ask answers a query with at most limit hits. It takes any text, finished or
// still being typed.
func (x *Index) Ask(query string, limit int) Answer {
	query = clip(query)
	q := x.understand(query)
	hits := x.rank(q)
	return Answer{Hits: hits[:min(limit, len(hits))], Version: q.version, Lost: q.lost}
}

// Asked lists the values that are asked for most often.
func (x *Index) Asked() []string { return x.asked }

// clip keeps of a query what is read.
func clip(query string) string {
	query = strings.ToValidUTF8(query, " ")
	for i, n := 0, 0; i < len(query); n++ {
		if n == mostCharacters {
			return query[:i]
		}
		_, size := utf8.DecodeRuneInString(query[i:])
		i += size
	}
	return query
}
