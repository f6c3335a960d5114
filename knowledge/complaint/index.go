package complaint

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
	"provingbench/knowledge/wording"
)

// An Index is a catalogue's symptoms, ready to be found by what people say. It
// isn't changed once it is made.
type Index struct {
	catalogue *catalogue.Catalogue
	lexicon   *lexicon
	phrases   []phrase
	symptoms  []symptom
	weights   map[string]float64
	postings  map[string][]posting
	known     map[string]string // folded phrase to symptom id, for what is said word for word
	said      [][]said          // by symptom, for what is being typed
	mend      *wording.Mender
}

// said is a phrase as it is written.
type said struct {
	text  string
	words []string
}

// A phrase is one way to say a symptom, as a set of notions.
type phrase struct {
	symptom  int
	slots    []string
	weights  []float64
	total    float64
	strong   uint64 // slots that make a complaint; see weak
	negative uint64 // slots that are a NOT or a LOST
	gears    uint64 // slots that are a gear or a shift
	borrowed bool   // made from a phrase of another member of the family
}

type symptom struct {
	notions  map[string]bool // every notion of its phrases
	gears    map[string]bool // the gears among them
	geared   bool            // many of its phrases name a gear
	negative bool            // many of its phrases say what is not there
	engages  bool            // it is said of drive and of reverse, which tells them apart
	within   map[string]bool // conditions that are part of the complaint itself
}

// A posting says that a notion matches a slot of a phrase, and how near.
type posting struct {
	phrase int
	slot   int
	near   float64
	flips  bool // it says the opposite: reverse is fine
}

var conditions = []string{hot, cold, floor, load, light}

// implied gives the notion that says a condition already.
var implied = map[string][]string{hot: {"HEAT"}, floor: {"KICK"}, load: {"KICK", park}}

// New makes the index of a catalogue.
func New(c *catalogue.Catalogue) *Index {
	x := &Index{
		catalogue: c,
		lexicon:   theLexicon(),
		symptoms:  make([]symptom, len(c.Symptoms)),
		said:      make([][]said, len(c.Symptoms)),
		weights:   map[string]float64{},
		postings:  map[string][]posting{},
		known:     map[string]string{},
	}
	mend := newMender(x.lexicon)
	for i := range c.Symptoms {
		s := &c.Symptoms[i]
		x.symptoms[i] = symptom{notions: map[string]bool{}, gears: map[string]bool{}, within: map[string]bool{}}
		phrases := append([]string{s.Name}, s.Said...)
		counts, geared, negative := map[string]int{}, 0, 0
		for _, text := range phrases {
			x.known[plain(text)] = s.ID
			words := wording.Split(text)
			written := said{text: text}
			for _, w := range words {
				mend.Learn(w.Text)
				written.words = append(written.words, w.Text)
			}
			x.said[i] = append(x.said[i], written)
			slots := unique(x.fold(words))
			x.add(i, slots, false)
			if slices.ContainsFunc(slots, isGear) {
				geared++
			}
			if slices.Contains(slots, not) || slices.Contains(slots, lost) {
				negative++
			}
			for _, n := range slots {
				if isGear(n) {
					x.symptoms[i].gears[gearOf(n)] = true
				}
				counts[n]++
				x.symptoms[i].notions[n] = true
			}
		}
		name := unique(x.fold(wording.Split(s.Name)))
		for _, n := range conditions {
			// A condition that belongs to the complaint itself doesn't narrow it:
			// "runs hot" isn't a complaint that shows only when hot. The members
			// of a family differ by their gear alone.
			if slices.Contains(name, n) || slices.ContainsFunc(implied[n], func(m string) bool { return slices.Contains(name, m) }) || s.Family == "" && counts[n]*5 >= len(phrases)*2 {
				x.symptoms[i].within[n] = true
			}
		}
		x.symptoms[i].geared = geared*5 >= len(phrases)*2
		x.symptoms[i].negative = negative*5 >= len(phrases)*2
		_, ahead := x.symptoms[i].gears[""]
		_, back := x.symptoms[i].gears["R"]
		x.symptoms[i].engages = ahead && back && len(x.symptoms[i].gears) == 2 && !x.symptoms[i].negative && s.Gear == ""
		x.known[plain(s.ID)] = s.ID
	}
	x.borrow()
	x.weigh()
	for i := range x.phrases {
		x.post(i)
	}
	for _, list := range x.postings {
		// The nearest slot of a phrase comes first: a word fills one slot.
		order.Stable(list, func(a, b posting) int {
			return cmp.Or(cmp.Compare(a.phrase, b.phrase), cmp.Compare(b.near, a.near))
		})
	}
	x.mend = mend
	return x
}

func (x *Index) add(symptom int, slots []string, borrowed bool) {
	if len(slots) == 0 || len(slots) > 64 {
		return
	}
	for i := len(x.phrases) - 1; i >= 0 && x.phrases[i].symptom == symptom; i-- {
		if slices.Equal(x.phrases[i].slots, slots) {
			return
		}
	}
	x.phrases = append(x.phrases, phrase{symptom: symptom, slots: slots, borrowed: borrowed})
}

// borrow lets each member of a family be said in the words of the others: what
// is said of a flare on the 2-3 shift can be said of one on the 3-4 shift.
func (x *Index) borrow() {
	c := x.catalogue
	own := len(x.phrases)
	for i := range c.Symptoms {
		if c.Symptoms[i].Family == "" || c.Symptoms[i].Gear == "" {
			continue
		}
		for p := range x.phrases[:own] {
			from := &c.Symptoms[x.phrases[p].symptom]
			if from.ID == c.Symptoms[i].ID || from.Family != c.Symptoms[i].Family || from.Gear == "" {
				continue
			}
			if slots, ok := exchange(x.phrases[p].slots, from.Gear, c.Symptoms[i].Gear); ok {
				x.add(i, slots, true)
			}
		}
	}
}

// exchange replaces one gear by another in a phrase. It fails when the phrase
// names no gear, or a gear that isn't its symptom's own.
func exchange(slots []string, from, to string) ([]string, bool) {
	names := gearNotions(from)
	others := gearNotions(to)
	out, found := slices.Clone(slots), false
	for i, s := range slots {
		if !isGear(s) {
			continue
		}
		k := slices.Index(names, s)
		if k < 0 || k >= len(others) {
			return nil, false
		}
		out[i], found = others[k], true
	}
	slices.Sort(out)
	return slices.Compact(out), found
}

// gearNotions lists the notions that can stand for a gear or a shift.
func gearNotions(gear string) []string {
	if a, b, ok := strings.Cut(gear, "-"); ok {
		return []string{"s" + gear, "i" + b, "g" + b, "g" + a}
	}
	return []string{"g" + gear, "i" + gear}
}

// weigh gives each notion a weight by how few symptoms it stands for.
func (x *Index) weigh() {
	of := map[string]map[int]bool{}
	for _, p := range x.phrases {
		for _, n := range p.slots {
			if of[n] == nil {
				of[n] = map[int]bool{}
			}
			of[n][p.symptom] = true
		}
	}
	all := float64(len(x.symptoms))
	for n, symptoms := range of {
		x.weights[n] = 0.4 + 0.6*math.Log(1+all/float64(len(symptoms)))
	}
	for n, w := range x.lexicon.fixed {
		x.weights[n] = w
	}
	for n := range x.weights {
		if isGear(n) && n != drive {
			x.weights[n] = gearWeight
		}
	}
}

func (x *Index) weight(notion string) float64 {
	if w, ok := x.weights[notion]; ok {
		return w
	}
	if isGear(notion) {
		return gearWeight
	}
	return unknownWeight
}

func (x *Index) post(i int) {
	p := &x.phrases[i]
	for slot, n := range p.slots {
		w := x.weight(n)
		p.weights = append(p.weights, w)
		p.total += w
		if n == not || n == lost {
			p.negative |= 1 << slot
			x.postings[fine] = append(x.postings[fine], posting{i, slot, 1, true})
		}
		if isGear(n) {
			p.gears |= 1 << slot
		}
		skips := isShift(n) && n[3] != n[1]+1 // a shift from first to third
		if n == neutral && slices.ContainsFunc(p.slots, isShift) {
			skips = true // a neutral between two gears
		}
		if skips || !isGear(n) && !slices.Contains(weak, n) {
			p.strong |= 1 << slot
		}
		x.postings[n] = append(x.postings[n], posting{i, slot, 1, false})
		for _, k := range x.lexicon.kin[n] {
			x.postings[k.notion] = append(x.postings[k.notion], posting{i, slot, k.near, false})
		}
	}
}

func unique(tokens []token) []string {
	var out []string
	for _, t := range tokens {
		out = append(out, t.notion)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// plain folds a text to its words.
func plain(text string) string {
	var b strings.Builder
	for i, w := range wording.Split(text) {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(w.Text)
	}
	return b.String()
}
