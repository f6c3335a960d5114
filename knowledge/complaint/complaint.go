// Package complaint turns what the customer said into symptoms of the
// catalogue: several at once, with the conditions under which they show, in
// the words of the trade or in anybody's.
//
// "flares two-three when hot, and it hunts on the highway" is flare-2-3, hot,
// and hunts-highway. "No reverse but third is fine" is no-reverse, and
// slips-third is not there.
//
// What is said word for word in the catalogue is taken as it stands. Anything
// else is folded into notions of the trade (see lexicon.go), and the phrases of
// the catalogue that share the most weight with a stretch of the text win it.
// Where two symptoms fit nearly as well, nothing is decided: both are offered.
// What was not understood is handed back, so that the screen can show it.
//
// The weights and thresholds are this package's own; the phrases in
// testdata/complaint hold them to what people say.
package complaint

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
	"provingbench/knowledge/wording"
)

// A Match is a symptom that the text names.
type Match struct {
	SymptomID string
	When      catalogue.Condition // as far as it isn't part of the symptom itself
	Absent    bool                // the text says that the symptom is not there
	Score     float64             // 0 to 1, 1 for the catalogue's own words
	Words     string              // the stretch of the text
	Start     int                 // where it stands, in bytes
}

// A Candidate is a symptom that may have been meant.
type Candidate struct {
	SymptomID string
	Score     float64 // 0 to 1
}

// A Choice is a stretch of text that fits several symptoms, the best first.
type Choice struct {
	Candidates []Candidate
	When       catalogue.Condition
	Absent     bool
	Words      string
	Start      int
}

// A Part is a stretch of the text.
type Part struct {
	Words string
	Start int
}

// Understanding is what was made of a text, each list in the order of the text.
type Understanding struct {
	Matches   []Match
	Unclear   []Choice
	Unmatched []Part
}

// Thresholds of the matching, between 0 and 1.
const (
	longestStretch = 16   // notions in one complaint
	leastRecall    = 0.55 // share of a phrase that must be said
	guessRecall    = 0.3  // the same, for an offer
	leastScore     = 0.62 // below this a stretch isn't taken for a complaint
	leastGuess     = 0.45 // below this a symptom isn't even offered
	clearLead      = 0.06 // what the best must be ahead by
	pooledWeight   = 4.0  // what such words must weigh
	pooledScore    = 0.6  // for words of a symptom that no phrase has together
	perComplaint   = 1.6  // weight that a further complaint must bring
	mostCandidates = 5
)

// Resolve finds the symptoms that a text names. It takes any text.
func (x *Index) Resolve(text string) Understanding {
	text = strings.ToValidUTF8(text, " ")
	words := wording.Split(text)
	r := &resolution{x: x, text: text, words: words}
	r.tokens = x.fold(words)
	r.look()
	r.owner = make([]int, len(r.tokens))
	for i := range r.owner {
		r.owner[i] = free
	}
	r.wordForWord()
	r.eachPart(r.allFine)
	r.cover()
	r.family()
	r.absorb()
	r.eachPart(r.guess)
	r.negate()
	r.condition()
	return r.understanding()
}

// Owners of a token other than a stretch.
const (
	free = -1
	used = -2 // a condition or a negation that was taken into account
)

// A stretch is a run of tokens that is one complaint.
type stretch struct {
	first, last int // tokens
	ranking     []ranked
	absent      bool
	exact       bool // said word for word
	offered     bool // a guess; it is always asked about
	when        catalogue.Condition
}

type ranked struct {
	symptom int
	score   float64
	phrase  int
	slots   uint64
	flips   bool
}

type resolution struct {
	x         *Index
	text      string
	words     []word
	tokens    []token
	owner     []int // stretch of each token, or free or used
	stretches []stretch
	sentences []int // where the sentence of each token begins

	// The phrases that are followed at the moment, by phrase.
	states  []active
	stamps  []int
	stamp   int
	touched []int
}

// look prepares what is asked of every token again and again.
func (r *resolution) look() {
	r.sentences = make([]int, len(r.tokens))
	for i := range r.tokens {
		t := &r.tokens[i]
		t.weight, t.cost, t.postings = r.x.weight(t.notion), r.cost(t.notion), r.x.postings[t.notion]
		if i > 0 && t.before != hardPause {
			r.sentences[i] = r.sentences[i-1]
		} else {
			r.sentences[i] = i
		}
	}
	r.states = make([]active, len(r.x.phrases))
	r.stamps = make([]int, len(r.x.phrases))
}

// fresh empties the states of all phrases.
func (r *resolution) fresh() {
	r.stamp++
	r.touched = r.touched[:0]
}

// state gives the state of a phrase since the last fresh; begin says whether
// one is made when there is none.
func (r *resolution) state(phrase int, begin bool) *active {
	if r.stamps[phrase] != r.stamp {
		if !begin {
			return nil
		}
		r.stamps[phrase] = r.stamp
		r.states[phrase] = active{}
		r.touched = append(r.touched, phrase)
	}
	return &r.states[phrase]
}

// wordForWord takes what stands in the catalogue as it is: ids, names and
// phrases that fill the text, or a part of it between pauses.
func (r *resolution) wordForWord() {
	if r.known(0, len(r.words)) {
		return
	}
	for from := 0; from < len(r.words); {
		to := from + 1
		for to < len(r.words) && r.words[to].Before < softPause {
			to++
		}
		r.known(from, to)
		from = to
	}
}

func joinWords(words []word) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(w.Text)
		if b.Len() > 200 { // longer than any phrase
			return ""
		}
	}
	return b.String()
}

func (r *resolution) known(from, to int) bool {
	id := r.x.known[joinWords(r.words[from:to])]
	if id == "" {
		return false
	}
	first, last := -1, -1
	for i, t := range r.tokens {
		if t.start >= r.words[from].Start && t.end <= r.words[to-1].End {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return false
	}
	r.stretches = append(r.stretches, stretch{first: first, last: last, exact: true,
		ranking: []ranked{{symptom: r.x.catalogue.SymptomIndex(id), score: 1, phrase: -1}}})
	r.own()
	return true
}

// own marks the tokens of every stretch.
func (r *resolution) own() {
	for n, s := range r.stretches {
		for i := s.first; i <= s.last; i++ {
			r.owner[i] = n
		}
	}
}

// active is the state of a phrase while a stretch grows.
type active struct {
	slots   uint64
	matched float64 // weight of the phrase that was said
	spoken  float64 // weight of the text that is in the phrase
	spared  float64 // what those words would have cost outside the phrase
	token   int     // the last word taken, counted from 1
	flips   bool
}

// cover divides the text into complaints so that they explain the most weight.
// A complaint begins and ends with a word of its phrase, so only the phrases of
// the first word are followed.
func (r *resolution) cover() {
	n := len(r.tokens)
	type choice struct {
		from   int // the stretch that ends here begins there, or -1
		phrase int
	}
	gain := make([]float64, n+1)
	back := make([]choice, n+1)
	for i := range back {
		back[i].from = -1
	}
	// gain[i] is final when the stretches that begin at i are tried.
	for i := 0; i < n; i++ {
		if gain[i] > gain[i+1] || back[i+1].from < 0 {
			gain[i+1], back[i+1] = gain[i], choice{from: -1}
		}
		if r.owner[i] != free {
			continue
		}
		r.fresh()
		for _, p := range r.tokens[i].postings {
			r.state(p.phrase, true)
		}
		all, pauses := 0.0, 0.0
		for j := i; j < n && j < i+longestStretch; j++ {
			t := &r.tokens[j]
			if r.owner[j] != free || j > i && t.before == hardPause {
				break
			}
			if j > i && t.before.Parts() {
				pauses += 0.2
			}
			all += t.cost
			for _, p := range t.postings {
				a := r.state(p.phrase, false)
				if a == nil {
					continue
				}
				r.take(a, p, j)
				score := r.x.score(p.phrase, a, all, leastRecall)
				if score < leastScore {
					continue
				}
				if g := gain[i] + score*a.matched - perComplaint - pauses; g > gain[j+1] {
					gain[j+1], back[j+1] = g, choice{i, p.phrase}
				}
			}
		}
	}
	for i := n; i > 0; {
		if back[i].from < 0 {
			i--
			continue
		}
		s := stretch{first: back[i].from, last: i - 1}
		s.ranking = r.rank(s.first, s.last, leastRecall)
		if len(s.ranking) > 0 {
			r.stretches = append(r.stretches, s)
		}
		i = back[i].from
	}
	order.Stable(r.stretches, func(a, b stretch) int { return cmp.Compare(a.first, b.first) })
	r.own()
}

// take counts the word at j when it fills a slot of the phrase. A word fills
// one slot, and a slot counts once.
func (r *resolution) take(a *active, p posting, j int) {
	if a.token == j+1 {
		return
	}
	t := &r.tokens[j]
	if a.slots&(1<<p.slot) != 0 {
		if p.near == 1 { // said twice
			a.token = j + 1
			a.spared += t.cost
		}
		return
	}
	a.token = j + 1
	a.slots |= 1 << p.slot
	a.matched += r.x.phrases[p.phrase].weights[p.slot] * p.near * t.sure
	a.spoken += t.weight * t.sure
	a.spared += t.cost
	a.flips = a.flips || p.flips
}

// cost is what a word weighs that the phrase hasn't got. Conditions and
// negations weigh little: they are taken into account later.
func (r *resolution) cost(notion string) float64 {
	if slices.Contains(conditions, notion) || notion == not || notion == fine {
		return strayWeak
	}
	if isGear(notion) {
		return strayGear
	}
	return r.x.weight(notion)
}

// score says how well a phrase fits a stretch: how much of the phrase was said,
// and how much of what was said is in the phrase.
func (x *Index) score(phrase int, a *active, all, least float64) float64 {
	p := &x.phrases[phrase]
	recall := a.matched / p.total
	if recall < least {
		return 0
	}
	if p.negative != 0 && a.slots&p.negative == 0 {
		return 0 // "no reverse" isn't said by "reverse"
	}
	// A gear and a negation make a complaint, and so does a whole phrase of
	// weak words ("quits when hot"); one weak word doesn't.
	gear, negative := a.slots&p.gears != 0, a.slots&p.negative != 0
	if a.slots&p.strong == 0 && !(gear && negative) && (recall < 0.99 || bits.OnesCount64(a.slots) < 2) {
		return 0
	}
	precision := a.spoken / (a.spoken + max(0, all-a.spared))
	if recall < 0.8 && len(p.slots) <= 2 && least == leastRecall {
		return 0
	}
	if recall < 0.75 && bits.OnesCount64(a.slots) == 1 && (least == leastRecall || precision < 0.8) {
		return 0 // one word out of several
	}
	score := 0.6*recall + 0.4*precision
	if p.gears != 0 && !gear && least == leastRecall {
		score *= 0.7
	}
	if p.borrowed {
		score *= 0.98
	}
	return score
}

// rank orders all symptoms by how well a stretch names them.
func (r *resolution) rank(first, last int, least float64) []ranked {
	x := r.x
	r.fresh()
	all := 0.0
	var gears []string
	coverage := map[int]float64{} // by symptom
	for j := first; j <= last; j++ {
		t := &r.tokens[j]
		all += t.cost
		if isGear(t.notion) {
			gears = append(gears, t.notion)
		}
		seen := map[int]bool{}
		for _, p := range t.postings {
			r.take(r.state(p.phrase, true), p, j)
			if s := x.phrases[p.phrase].symptom; !seen[s] && !p.flips {
				seen[s] = true
				coverage[s] += t.weight * t.sure
			}
		}
	}
	best := r.pooled(first, last)
	for _, i := range r.touched {
		a := &r.states[i]
		score := x.score(i, a, all, least)
		if score == 0 {
			continue
		}
		p := &x.phrases[i]
		if len(gears) > 0 && a.slots&p.gears == 0 {
			switch s := &x.catalogue.Symptoms[p.symptom]; {
			case p.gears != 0 || s.Family != "" && s.Gear == "":
				continue // another gear was named, or another member of the family
			case x.symptoms[p.symptom].geared && !x.symptoms[p.symptom].notions[gears[0]]:
				score *= 0.6
			}
		}
		if b, ok := best[p.symptom]; !ok || score > b.score || score == b.score && i < b.phrase {
			best[p.symptom] = ranked{p.symptom, score, i, a.slots, a.flips}
		}
	}
	var out []ranked
	for s, b := range best {
		share := min(1, coverage[s]/max(all, 1e-9))
		b.score = 0.75*b.score + 0.25*share
		out = append(out, b)
	}
	order.Stable(out, func(a, b ranked) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.symptom, b.symptom))
	})
	return out
}

// pooled finds the symptoms whose phrases have every notion of a stretch among
// them, though no one phrase has most of them.
func (r *resolution) pooled(first, last int) map[int]ranked {
	out := map[int]ranked{}
	for s := range r.x.symptoms {
		of := &r.x.symptoms[s]
		if of.geared || of.negative {
			continue
		}
		seen, strong, weight := map[string]bool{}, 0, 0.0
		all := true
		for j := first; j <= last && all; j++ {
			n := r.tokens[j].notion
			switch {
			case slices.Contains(conditions, n) || isGear(n) || n == not || n == fine || seen[n]:
			case of.notions[n]:
				seen[n] = true
				if !slices.Contains(weak, n) {
					strong++
					weight += r.tokens[j].weight
				}
			default:
				all = false
			}
		}
		if all && strong >= 2 && weight >= pooledWeight {
			out[s] = ranked{symptom: s, score: pooledScore, phrase: -1}
		}
	}
	return out
}

// family reads the further gears of a list: slips in first, second and third.
func (r *resolution) family() {
	for n := 0; n < len(r.stretches); n++ {
		s := r.stretches[n]
		top := &r.x.catalogue.Symptoms[s.ranking[0].symptom]
		if top.Family == "" || top.Gear == "" {
			continue
		}
		for i := s.last + 1; i < len(r.tokens) && r.owner[i] == free && r.tokens[i].before != hardPause; i++ {
			t := r.tokens[i]
			if !isGear(t.notion) {
				break
			}
			for m := range r.x.catalogue.Symptoms {
				if o := &r.x.catalogue.Symptoms[m]; o.Family == top.Family && o.Gear != "" && slices.Contains(gearNotions(o.Gear)[:2], t.notion) {
					more := stretch{first: i, last: i, absent: s.absent, exact: true, ranking: []ranked{{symptom: m, score: s.ranking[0].score, phrase: -1}}}
					r.stretches = append(r.stretches, more)
					r.owner[i] = len(r.stretches) - 1
				}
			}
			if r.owner[i] == free {
				break
			}
		}
	}
}

// absorb adds the words next to a complaint that are said of its symptom
// elsewhere: takes off in third "from a stop".
func (r *resolution) absorb() {
	for n := range r.stretches {
		s := &r.stretches[n]
		notions := r.x.symptoms[s.ranking[0].symptom].notions
		for i := s.last + 1; i < len(r.tokens) && r.owner[i] == free && r.tokens[i].before < softPause && r.absorbs(notions, i); i++ {
			r.owner[i], s.last = n, i
		}
		for i := s.first - 1; i >= 0 && r.owner[i] == free && r.tokens[i+1].before < softPause && r.absorbs(notions, i); i-- {
			r.owner[i], s.first = n, i
		}
	}
}

func (r *resolution) absorbs(notions map[string]bool, i int) bool {
	n := r.tokens[i].notion
	return notions[n] && n != not && n != fine && !isGear(n)
}

// negate finds the complaints that the text denies: a NOT that belongs to no
// phrase, before the words of the complaint or among them.
func (r *resolution) negate() {
	for n := range r.stretches {
		s := &r.stretches[n]
		top := s.ranking[0]
		if top.flips {
			s.absent = true
			continue
		}
		if s.exact && s.first < s.last {
			continue
		}
		if top.phrase >= 0 && r.x.phrases[top.phrase].negative != 0 {
			continue
		}
		for i := s.first; i < s.last; i++ {
			if r.denies(i) {
				s.absent = true
			}
		}
		if i := s.first - 1; i >= 0 && r.tokens[s.first].before < softPause && r.owner[i] == free && r.denies(i) {
			s.absent = true
			r.owner[i] = n
			s.first = i
		}
	}
	// "or" carries a denial on: doesn't slip in first or second.
	for n := range r.stretches {
		s := &r.stretches[n]
		if s.first == 0 || r.tokens[s.first].before != orPause {
			continue
		}
		if o := r.owner[s.first-1]; o >= 0 && r.stretches[o].absent {
			s.absent = true
		}
	}
}

// denies says whether a token denies what follows. "Doesn't slip" does; "won't
// move" is itself a complaint.
func (r *resolution) denies(i int) bool {
	next := r.tokens[i+1].notion
	return r.tokens[i].notion == not && !isGear(next) && !slices.Contains(functions, next)
}

// condition attaches hot and cold, light and heavy, and stray gears. What
// stands before every complaint of a sentence holds for all of them, anything
// else for the complaint it follows, or comes next to.
func (r *resolution) condition() {
	for i, t := range r.tokens {
		o := r.owner[i]
		if o >= 0 {
			r.inside(&r.stretches[o], i)
			continue
		}
		if o != free || !slices.Contains(conditions, t.notion) && !isGear(t.notion) {
			continue
		}
		before, after := r.neighbours(i)
		switch {
		case before >= 0:
			r.attach(&r.stretches[before], t.notion)
			if r.standsApart(i) {
				for n := range r.stretches {
					if r.sentences[r.stretches[n].first] == r.sentences[i] && r.stretches[n].first < i {
						r.attach(&r.stretches[n], t.notion)
					}
				}
			}
			r.owner[i] = used
		case after >= 0 && isGear(t.notion):
			if s := &r.stretches[after]; s.first == i+1 && r.tokens[i+1].before < softPause {
				r.attach(s, t.notion)
				r.owner[i] = used
			}
		case after >= 0:
			for n := range r.stretches {
				if r.sentences[r.stretches[n].first] == r.sentences[i] {
					r.attach(&r.stretches[n], t.notion)
				}
			}
			r.owner[i] = used
		}
	}
}

// inside handles a condition among the words of a complaint.
func (r *resolution) inside(s *stretch, i int) {
	n := r.tokens[i].notion
	top := s.ranking[0]
	if top.phrase < 0 && isGear(n) {
		return
	}
	r.attach(s, n)
}

// attach narrows a complaint, unless the condition is part of it or another one
// stands there.
func (r *resolution) attach(s *stretch, notion string) {
	symptom := s.ranking[0].symptom
	if r.x.symptoms[symptom].within[notion] {
		return
	}
	set := func(field *string, value string) {
		if *field == "" {
			*field = value
		}
	}
	switch notion {
	case hot:
		set(&s.when.Temperature, "hot")
	case cold:
		set(&s.when.Temperature, "cold")
	case floor, load:
		set(&s.when.Throttle, "heavy")
	case light:
		set(&s.when.Throttle, "light")
	default:
		if isGear(notion) && r.narrows(s, notion) {
			set(&s.when.Gear, gearOf(notion))
		}
	}
}

// narrows says whether a gear tells more than the symptom does. A gear that the
// symptom is always said with is part of it; one of several narrows it.
func (r *resolution) narrows(s *stretch, notion string) bool {
	top := s.ranking[0]
	of := &r.x.symptoms[top.symptom]
	if of.engages {
		return true
	}
	if of.geared {
		return false
	}
	if isShift(notion) || !of.notions[notion] {
		return true
	}
	several := top.phrase >= 0 && bits.OnesCount64(r.x.phrases[top.phrase].gears) > 1
	return !several && len(of.gears) > 1
}

// gearOf gives the catalogue's word for a gear.
func gearOf(notion string) string {
	switch notion {
	case "i2":
		return "1-2"
	case "i3":
		return "2-3"
	case "i4":
		return "3-4"
	}
	if g := notion[1:]; slices.Contains([]string{"1", "2", "3", "4", "R", "1-2", "2-3", "3-4"}, g) {
		return g
	}
	return ""
}

// neighbours gives the complaint before and after a token in its sentence.
func (r *resolution) neighbours(i int) (before, after int) {
	before, after = -1, -1
	for j := i - 1; j >= 0 && r.sentences[j] == r.sentences[i]; j-- {
		if r.owner[j] >= 0 {
			before = r.owner[j]
			break
		}
	}
	for j := i + 1; j < len(r.tokens) && r.sentences[j] == r.sentences[i]; j++ {
		if r.owner[j] >= 0 {
			after = r.owner[j]
			break
		}
	}
	return before, after
}

// standsApart says whether a condition is a part of its own at the end of a
// sentence: "slips in third, flares two-three, only when hot".
func (r *resolution) standsApart(i int) bool {
	return r.tokens[i].before.Parts() && (i+1 == len(r.tokens) || r.tokens[i+1].before == hardPause)
}

// eachPart calls f with the first and last token of every part between pauses
// that no complaint took a word of.
func (r *resolution) eachPart(f func(first, last int)) {
	for i := 0; i < len(r.tokens); {
		j := i
		untouched := r.owner[i] < 0
		for j+1 < len(r.tokens) && r.tokens[j+1].before < softPause && j-i < longestStretch {
			j++
			untouched = untouched && r.owner[j] < 0
		}
		if untouched {
			f(i, j)
		}
		i = j + 1
	}
}

// guess offers what a part may mean.
func (r *resolution) guess(first, last int) {
	whole := r.rank(first, last, leastRecall)
	ranking := r.rank(first, last, guessRecall)
	if len(ranking) == 0 || ranking[0].score < leastGuess {
		return
	}
	s := stretch{first: first, last: last, ranking: ranking, offered: true}
	if len(whole) > 0 && whole[0].score >= leastScore {
		s.ranking, s.offered = whole, false
	}
	n := len(r.stretches)
	for i, other := range r.stretches {
		switch {
		case !other.absent && other.ranking[0].symptom == ranking[0].symptom:
			n = i // more words about a complaint that was understood
		case s.offered && r.sentences[other.first] == r.sentences[first]:
			return // a remark about another complaint
		}
	}
	if n == len(r.stretches) {
		r.stretches = append(r.stretches, s)
	}
	for i := first; i <= last; i++ {
		r.owner[i] = n
	}
}

// allFine reads "third is fine": the gear is there and doesn't slip.
func (r *resolution) allFine(first, last int) {
	gear, good := "", false
	for i := first; i <= last; i++ {
		switch n := r.tokens[i].notion; {
		case n == fine:
			good = true
		case isGear(n) && gear == "":
			gear = n
		case n != "GEAR":
			return
		}
	}
	if gear == "" || !good {
		return
	}
	for s := range r.x.catalogue.Symptoms {
		if !r.x.denied(s, gear) {
			continue
		}
		r.stretches = append(r.stretches, stretch{first: first, last: last, absent: true, exact: true, ranking: []ranked{{symptom: s, score: 1, phrase: -1}}})
		r.own()
	}
}

// denied says whether a gear that is fine denies a symptom: that there is no
// such gear, or that it slips.
func (x *Index) denied(s int, gear string) bool {
	if c := &x.catalogue.Symptoms[s]; c.Family != "" && c.Gear != "" && "g"+c.Gear == gear {
		return true
	}
	for _, p := range x.phrases {
		if p.symptom == s && !p.borrowed && slices.Equal(slices.DeleteFunc(slices.Clone(p.slots), func(n string) bool { return n == "GEAR" }), []string{not, gear}) {
			return true
		}
	}
	return false
}

func (r *resolution) understanding() Understanding {
	var u Understanding
	order.Stable(r.stretches, func(a, b stretch) int { return cmp.Compare(a.first, b.first) })
	for n := range r.stretches {
		s := &r.stretches[n]
		start, end := r.tokens[s.first].start, r.tokens[s.last].end
		top := s.ranking[0]
		candidates := r.candidates(s)
		if len(candidates) > 1 || s.offered || top.score < leastScore {
			u.Unclear = append(u.Unclear, Choice{candidates, s.when, s.absent, r.text[start:end], start})
			continue
		}
		m := Match{r.x.catalogue.Symptoms[top.symptom].ID, s.when, s.absent, min(1, top.score), r.text[start:end], start}
		u.Matches = merge(u.Matches, m)
	}
	for i := 0; i < len(r.tokens); {
		if r.owner[i] != free {
			i++
			continue
		}
		j := i
		for j+1 < len(r.tokens) && r.owner[j+1] == free && r.tokens[j+1].before < hardPause {
			j++
		}
		start, end := r.tokens[i].start, r.tokens[j].end
		if end > start {
			u.Unmatched = append(u.Unmatched, Part{r.text[start:end], start})
		}
		i = j + 1
	}
	return u
}

// candidates lists the symptoms that a stretch may mean; one when it is clear.
// A whole phrase that was said with nothing else is clear unless another was.
func (r *resolution) candidates(s *stretch) []Candidate {
	var out []Candidate
	top := s.ranking[0]
	lead := clearLead
	if top.score > 0.999 {
		lead = 0.001
	}
	for _, k := range s.ranking {
		if k.score < top.score-lead || len(out) == mostCandidates || s.exact && len(out) == 1 {
			break
		}
		out = append(out, Candidate{r.x.catalogue.Symptoms[k.symptom].ID, min(1, k.score)})
	}
	return out
}

// merge adds a match, or strengthens the one that is there: what is reported
// outweighs what is denied.
func merge(matches []Match, m Match) []Match {
	for i := range matches {
		if matches[i].SymptomID != m.SymptomID {
			continue
		}
		switch {
		case matches[i].Absent && !m.Absent:
			matches[i] = m
		case matches[i].Absent == m.Absent:
			matches[i].Score = max(matches[i].Score, m.Score)
			if matches[i].When == (catalogue.Condition{}) {
				matches[i].When = m.When
			}
		}
		return matches
	}
	return append(matches, m)
}
