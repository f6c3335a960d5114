package author

import (
	"fmt"
	"io/fs"
	"strings"

	"provingbench/knowledge/wording"
)

// Words reads the words of the trade, knowledge/catalogue/data/words.yaml, and
// refuses the ones that would be read two ways. The error is as for Load. That
// each word leads to a record is held by the tests of package answer, which
// knows how records are read.
func Words(root fs.FS) (*wording.Dictionary, error) {
	r := &reader{root: root, data: &Data{places: map[string]Place{}}}
	d := &wording.Dictionary{}
	r.single(CatalogueDirectory, "words", d)
	r.saidOnce(d)
	switch {
	case r.err != nil:
		return nil, fmt.Errorf("author: %w", r.err)
	case len(r.problems) > 0:
		r.problems.sort()
		return nil, r.problems
	}
	return d, nil
}

// saidOnce holds that no words stand for two things.
func (r *reader) saidOnce(d *wording.Dictionary) {
	first := map[string]string{}
	once := func(path, said string) {
		var words []string
		for _, w := range wording.Split(said) {
			words = append(words, w.Text)
		}
		key := strings.Join(words, " ")
		switch other, twice := first[key]; {
		case key == "":
			r.add(r.data.place(path), "words", fmt.Sprintf("%q holds no word.", said), "")
		case twice:
			at := r.data.place(other)
			r.add(r.data.place(path), "words", fmt.Sprintf("%q stands twice, first in line %d.", said, at.Line), "Keep one of the two.")
		default:
			first[key] = path
		}
	}
	for i, s := range d.Synonyms {
		for j, said := range s.Said {
			once(at("words/synonyms", i, "said", j), said)
		}
	}
	for i, w := range d.Wants {
		for j, said := range w.Said {
			once(at("words/wants", i, "said", j), said)
		}
	}
	for i, said := range d.Fillers {
		once(at("words/fillers", i), said)
	}
	first = map[string]string{} // a record may be called by a synonym
	for i, n := range d.Names {
		for j, said := range n.Said {
			once(at("words/names", i, "said", j), said)
		}
	}
}
