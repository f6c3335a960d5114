package complaint

import (
	"slices"
	"strconv"
	"strings"
	"sync"

	"provingbench/knowledge/wording"
)

type (
	word  = wording.Word
	pause = wording.Pause
)

const (
	none      = wording.None
	joined    = wording.Joined
	softPause = wording.Soft
	orPause   = wording.Or
	hardPause = wording.Hard
)

// A token is one notion of a text: a word or a saying after folding.
type token struct {
	notion     string
	start, end int
	before     pause
	sure       float64 // below 1 for a word that was mended
	weight     float64 // in a phrase that has it
	cost       float64 // in a complaint whose phrase hasn't got it
	postings   []posting
}

// commonWords aren't mended into words of the trade.
const commonWords = `able about above again ago ahead almost along around away back because before behind being below better between both
bought called came change changed check coming couple day days different done down drove each end engine enough ever every everything
far fast feel feels felt few find first found from full gave give gives happen happened happens heard help here high home hour hours
hundred idle inside into keep keeps kind knew know last later least left less like likes line little long look looks made make makes many maybe mean
mile miles might mind minute minutes month months more most must near need needed needs new next nice night none noticed
off often old once open other our over own part people place plug point press put quick quite read rebuilt road run runs said same saw
seat second see seem seems seen send shop short shot show side since slow small soon speed stand step stop stops such sure take takes talk
tell ten than that their them there these they thing things think this those thought three time times today told took toward tried try
turn turned turns two under up upon use used very want wants week weeks went were what where which who why wife wind wrong year years yesterday your stink stinks stinky stank stock slick clip ship flip skin sleep step dark mark mechanic dealer manual`

const ordinals = "first second third fourth 1st 2nd 3rd 4th"

// units follow a number that isn't a gear.
const units = `seconds second secs sec minutes minute min mins hours hour hrs mph miles mile psi pounds lbs quarts quart qts rpm rpms hundred thousand k
grand times time years year yrs days day weeks week months month degrees deg speed wd x door volts volt ohms ohm cylinder f c`

// lexicon is the tables of this package, ready to be looked up.
type lexicon struct {
	sayings  map[string]string // to the notion
	longest  int               // words of the longest saying
	common   map[string]bool
	units    map[string]bool
	ordinals map[string]bool
	kin      map[string][]relation
	fixed    map[string]float64
}

type relation struct {
	notion string
	near   float64
}

// theLexicon is built when the first index is made, so that a program that
// starts without one doesn't wait for it.
var theLexicon = sync.OnceValue(func() *lexicon {
	l := &lexicon{
		sayings: map[string]string{}, common: wordSet(commonWords), units: wordSet(units), ordinals: wordSet(ordinals),
		kin: map[string][]relation{}, fixed: map[string]float64{},
	}
	for _, row := range sayings {
		for _, s := range row.said {
			l.sayings[s] = row.notion
			l.longest = max(l.longest, strings.Count(s, " ")+1)
		}
	}
	for _, k := range kin {
		l.kin[k.a] = append(l.kin[k.a], relation{k.b, k.near})
		l.kin[k.b] = append(l.kin[k.b], relation{k.a, k.near})
	}
	for _, f := range fixed {
		l.fixed[f.notion] = f.weight
	}
	return l
})

func wordSet(s string) map[string]bool {
	set := map[string]bool{}
	for _, w := range strings.Fields(s) {
		set[w] = true
	}
	return set
}

// numberWord gives the gear that a number word may be.
func numberWord(text string) (gear string, ok bool) {
	switch text {
	case "one":
		return "g1", true
	case "two":
		return "g2", true
	case "three":
		return "g3", true
	case "four":
		return "g4", true
	}
	return "", false
}

// fold turns words into tokens. Words that say nothing about a complaint are
// left out; what parts two complaints is kept as the pause before a token.
func (x *Index) fold(words []word) []token {
	l := x.lexicon
	var tokens []token
	pending, neither := none, false
	emit := func(notion string, from, to int, sure float64) {
		before := max(pending, words[from].Before)
		if before == hardPause {
			neither = false
		}
		neither = neither || words[from].Text == "neither"
		if notion == fine && neither { // neither first nor second works
			notion = filler
		}
		switch notion {
		case filler:
			pending = before
		case soft:
			pending = max(before, softPause)
		case either:
			pending = max(before, orPause)
		case hard:
			pending = hardPause
		default:
			tokens = append(tokens, token{notion: notion, start: words[from].Start, end: words[to].End, before: before, sure: sure})
			pending = none
		}
	}
	mended := make([]float64, len(words))
	for i := range words {
		mended[i] = 1
		if x.mend != nil {
			if better, ok := x.mend.Mend(words[i].Text); ok {
				words[i].Text, mended[i] = better, 0.92
			}
		}
	}
	for i := 0; i < len(words); {
		if notion, n := l.gearShift(words[i:]); n > 0 {
			// A number of seconds or miles looks like a shift: 2-3 seconds.
			emit(notion, i, i+n-1, 1)
			i += n
			continue
		}
		if notion, n := afterTime(words[i:]); n > 0 {
			emit(notion, i, i+n-1, 1)
			i += n
			continue
		}
		if notion, n := l.saying(words[i:]); n > 0 {
			if n == 1 {
				notion = l.inContext(words, i, notion)
			}
			sure := 1.0
			for _, s := range mended[i : i+n] {
				sure = min(sure, s)
			}
			emit(notion, i, i+n-1, sure)
			i += n
			continue
		}
		emit(l.single(words, i), i, i, mended[i])
		i++
	}
	return repeatFine(repeatNot(turnAround(tokens)))
}

// saying gives the notion of the longest saying at the head of words.
func (l *lexicon) saying(words []word) (notion string, n int) {
	var b strings.Builder
	for i := 0; i < len(words) && i < l.longest; i++ {
		if i > 0 {
			if words[i].Before >= softPause {
				break
			}
			b.WriteByte(' ')
		}
		b.WriteString(words[i].Text)
		if found, ok := l.sayings[b.String()]; ok {
			notion, n = found, i+1
		}
	}
	return notion, n
}

// inContext settles the words that are a gear in one place and something else
// in another.
func (l *lexicon) inContext(words []word, i int, notion string) string {
	text, previous, next := words[i].Text, at(words, i-1), at(words, i+1)
	switch notion {
	case "g1", "g2", "g3", "g4":
		switch {
		case (next == "seconds" || next == "secs" || next == "sec") && !l.ordinals[text]:
			return "WAIT"
		case l.units[next] && !l.ordinals[text]:
			return number
		case text == "second" && (previous == "a" || previous == "per" || previous == "every" || previous == "split"):
			return filler
		case text == "first" && (next == "time" || next == "of"):
			return filler
		case l.ordinals[text] && (next == "shift" || next == "upshift"):
			return map[string]string{"g1": "s1-2", "g2": "s2-3", "g3": "s3-4", "g4": "g4"}[notion]
		case into(words, i):
			return "i" + notion[1:]
		}
	case reverse:
		if into(words, i) {
			return "iR"
		}
	case not:
		// "won't shift until it is hot": it does, later.
		for j := i + 1; j < len(words) && j < i+8 && words[j].Before < softPause; j++ {
			switch words[j].Text {
			case "until", "till", "til", "unless", "before":
				return notUntil
			}
		}
	case shift:
		// Shifting from park to reverse is no shift between gears.
		for j := i + 1; j < len(words) && j < i+4 && words[j].Before < softPause; j++ {
			switch l.sayings[words[j].Text] {
			case park, neutral, drive, reverse:
				return "GO"
			}
		}
	case drive:
		if into(words, i) {
			return "iD"
		}
	case revs:
		// "rev" is reverse after "no", and the engine's speed in "rev it".
		if text == "rev" && next != "it" && next != "up" && (previous == "no" || previous == "in" || previous == "into" || previous == "lost" || previous == "to" || next == "is") {
			return reverse
		}
	}
	return notion
}

// into says whether a gear is one that is shifted to.
func into(words []word, i int) bool {
	p := at(words, i-1)
	if p == "the" {
		p = at(words, i-2)
	}
	switch p {
	case "into", "to", "hits", "toward", "towards", "reaches", "reach", "enters", "before":
		return true
	}
	return false
}

func at(words []word, i int) string {
	if i < 0 || i >= len(words) {
		return ""
	}
	return words[i].Text
}

// single gives the notion of a word that is no saying.
func (l *lexicon) single(words []word, i int) string {
	text := words[i].Text
	if g, ok := numberWord(text); ok {
		switch previous, next := at(words, i-1), at(words, i+1); {
		case next == "gears":
			return number
		case previous == "in" || next == "gear":
			return g
		case previous == "into" || previous == "to":
			return "i" + g[1:]
		}
		return number
	}
	if text[0] >= '0' && text[0] <= '9' {
		if next := at(words, i+1); next == "seconds" || next == "secs" || next == "sec" {
			return "WAIT"
		}
		return figure(text)
	}
	if len(text) == 5 && text[0] == 'p' && strings.Trim(text[1:], "0123456789") == "" {
		return code // P0748
	}
	if wording.IsStop(text) {
		return filler
	}
	return wording.Stem(text)
}

// figure tells road speeds from other numbers.
func figure(text string) string {
	switch n, err := strconv.Atoi(strings.TrimSuffix(text, "mph")); {
	case err != nil || n < 5 || n > 90:
		return number
	case n <= 30:
		return slow
	default:
		return fast
	}
}

func (l *lexicon) gearNumber(text string) byte {
	if g, ok := numberWord(text); ok {
		return g[1]
	}
	if g := l.sayings[text]; len(g) == 2 && g[0] == 'g' && g != reverse {
		return g[1]
	}
	return 0
}

// gearShift reads a shift from one gear to another: 2-3, second to third,
// between first and second, the 1 2.
func (l *lexicon) gearShift(words []word) (notion string, n int) {
	between := words[0].Text == "between" || words[0].Text == "from"
	i := 0
	if between {
		i++
	}
	next := func() string { return at(words, i) }
	if text := next(); len(text) == 2 && (text == "12" || text == "23" || text == "34" || text == "32") {
		// 23 shift
		if f := at(words, i+1); l.sayings[f] == shift || l.sayings[f] == "FLARE" || l.sayings[f] == upshift {
			return "s" + text[:1] + "-" + text[1:], i + 1
		}
	}
	a := l.gearNumber(next())
	if a == 0 {
		return "", 0
	}
	first := next()
	i++
	if next() == "gear" {
		i++
	}
	if next() == "straight" || next() == "right" || next() == "directly" || next() == "up" {
		i++
	}
	linked := false
	switch {
	case next() == "to" || next() == "into":
		linked = true
		i++
	case next() == "and" && between:
		linked = true
		i++
	case i < len(words) && words[i].Before == joined:
		linked = true
	}
	if next() == "the" {
		i++
	}
	if i >= len(words) || words[i].Before >= softPause {
		return "", 0
	}
	b := l.gearNumber(next())
	if b == 0 || a == b {
		return "", 0
	}
	i++
	if !linked && (b != a+1 || l.ordinals[first] != l.ordinals[words[i-1].Text]) {
		return "", 0
	}
	if next() == "seconds" || next() == "secs" || next() == "sec" {
		return "WAIT", i + 1
	}
	if l.units[next()] {
		return number, i + 1
	}
	if next() == "gear" {
		i++
	}
	return "s" + string(a) + "-" + string(b), i
}

// afterTime reads how long it takes: after twenty minutes it is hot, after an
// hour's rest it is cold.
func afterTime(words []word) (notion string, n int) {
	if words[0].Text != "after" {
		return "", 0
	}
	notion = hot
	for i := 1; i < len(words) && i < 9 && words[i].Before < softPause; i++ {
		switch words[i].Text {
		case "sit", "sits", "sitting", "sat", "parked", "standing", "rest", "resting", "night":
			notion = cold
			n = i + 1
		case "minutes", "minute", "min", "mins", "hour", "hours", "hrs", "mile", "miles":
			return notion, i + 1
		}
	}
	if notion == cold {
		return cold, n
	}
	return "", 0
}

// turnAround reads "cold it's fine" as hot: the complaint shows at the other
// temperature.
func turnAround(tokens []token) []token {
	for i := 0; i+1 < len(tokens); i++ {
		a, b := &tokens[i], &tokens[i+1]
		alone := a.before >= softPause && b.before < softPause && (i+2 == len(tokens) || tokens[i+2].before >= softPause)
		if !alone || (a.notion != fine) == (b.notion != fine) {
			continue
		}
		other := map[string]string{hot: cold, cold: hot}
		if turned := other[a.notion] + other[b.notion]; turned != "" {
			a.notion, a.end = turned, b.end
			tokens = append(tokens[:i+1], tokens[i+2:]...)
		}
	}
	return tokens
}

// repeatNot says "no third or fourth" as "no third, no fourth".
func repeatNot(tokens []token) []token {
	for i := 1; i+1 < len(tokens); i++ {
		if tokens[i-1].notion != not || !isGear(tokens[i].notion) {
			continue
		}
		for j := i + 1; j < len(tokens) && isGear(tokens[j].notion) && tokens[j].before.Parts() && ends(tokens, j); j += 2 {
			repeated := token{notion: not, start: tokens[j].start, end: tokens[j].start, before: tokens[j].before, sure: 1}
			tokens[j].before = none
			tokens = slices.Insert(tokens, j, repeated)
			i = j + 1
		}
	}
	return tokens
}

// repeatFine says "first and second are fine" as "first fine, second fine".
func repeatFine(tokens []token) []token {
	for i := len(tokens) - 1; i >= 2; i-- {
		if tokens[i].notion != fine || tokens[i].before >= softPause || !isGear(tokens[i-1].notion) || !tokens[i-1].before.Parts() {
			continue
		}
		for j := i - 2; j >= 0 && isGear(tokens[j].notion) && tokens[j].before >= softPause && tokens[j+1].before.Parts(); j-- {
			tokens = slices.Insert(tokens, j+1, token{notion: fine, start: tokens[j].end, end: tokens[j].end, sure: 1})
			if tokens[j].before == hardPause {
				break
			}
		}
	}
	return tokens
}

// ends says whether nothing is said of the gear at j but when.
func ends(tokens []token, j int) bool {
	for j++; j < len(tokens) && tokens[j].before < softPause; j++ {
		if n := tokens[j].notion; n != "GEAR" && !slices.Contains(conditions, n) {
			return false
		}
	}
	return true
}

func isGear(notion string) bool {
	return notion == drive || len(notion) == 2 && notion[0] == 'g' || isShift(notion) || len(notion) == 2 && notion[0] == 'i'
}

func isShift(notion string) bool {
	return len(notion) == 4 && notion[0] == 's' && notion[2] == '-'
}

// newMender knows the words of the sayings. Common words aren't mended into
// words of the trade.
func newMender(l *lexicon) *wording.Mender {
	m := wording.NewMender(func(w string) bool { return l.common[w] })
	for _, row := range sayings {
		for _, s := range row.said {
			for w := range strings.FieldsSeq(s) {
				m.Learn(w)
			}
		}
	}
	return m
}
