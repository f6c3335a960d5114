package bench

import (
	"errors"
	"net/url"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// An input is one thing that a panel asks for: a number with its unit, one of a
// few answers, or free rows of text.
type input struct {
	key   string // in the address, and of its element after the panel's id
	label string
	hint  string
	tell  func(*form) string // the hint, where it hangs on the user's units

	kind  quantity.Kind   // of a number
	units []quantity.Unit // to choose from; none for the kind's own unit alone
	below bool            // below zero here, though its kind never is
	above bool            // never below zero here, though its kind can be
	words []string        // what else a meter may show: "OL"; without, OL is refused

	options func(*form) []part.Option // of a choice
	compact bool                      // its answers stand side by side
	picks   []quantity.Unit           // this choice is of the unit that rows are in; the user's own is picked at first

	rows int // of free text

	// row and column place a number in a grid with its neighbours; the first of
	// them has the grid's legend and hint.
	row, column, legend string

	standard string // what stands there untouched
	want     string // said beside it when it is empty and something else was typed
	fold     string // the line that it is folded away under

	when func(*form) bool // it is there only then; nil for always

	// follows is the key of the choice that names the unit of a number that came
	// with none of its own.
	follows string

	// beside says that a sign in front of the number makes it a distance from the
	// neighbour in place of a reading.
	beside bool

	// older is the key that an address of former times has it under, and renew makes
	// of what stood there what stands here.
	older string
	renew func(text string) string

	// judge gives a verdict on the number by itself, as it is typed: how it calls
	// for the eye, and in words. It may be nil.
	judge func(f *form) (call, words string)
}

// longest is how many characters of a field go into the address; no reading has
// as many. Rows of text may have more. What is longer is kept in the field and
// refused beside it.
const (
	longest     = 80
	longestRows = 4000
)

// form is what is typed in a panel and what is wrong with it.
type form struct {
	session *session.Session
	panel   *panel
	typed   map[string]string // by key, and units by key + unitSuffix

	open     map[string]bool // folds that something was typed in, by their line
	problems problems
	readings map[string]quantity.Reading
}

// unitSuffix makes of an input's key that of its unit.
const unitSuffix = "-unit"

// problems says what is wrong with what was typed, in a sentence by key.
type problems map[string]string

func newForm(s *session.Session, p *panel) *form {
	if p.more != nil {
		whole := *p
		whole.inputs = append(slices.Clip(p.inputs), p.more(s)...)
		p = &whole
	}
	f := &form{session: s, panel: p, typed: map[string]string{}, open: map[string]bool{}}
	for n := range p.inputs {
		i := &p.inputs[n]
		if s := f.standard(i); s != "" {
			f.typed[i.key] = s
		}
	}
	return f
}

// standard is what stands in an input untouched.
func (f *form) standard(i *input) string {
	if i.picks != nil {
		return f.own(i.picks).Name
	}
	return i.standard
}

// own is the one among units that the user reads; the first where it is not
// there.
func (f *form) own(units []quantity.Unit) quantity.Unit {
	want := f.units().Unit(units[0])
	for _, u := range units {
		if u == want {
			return u
		}
	}
	return units[0]
}

// unitPick makes the choice of the unit that rows of text are in. The rows bear
// none, so that the address always says which it is.
func unitPick(key, label string, units []quantity.Unit, when func(*form) bool) input {
	return input{key: key, label: label, compact: true, picks: units, options: namedUnits(units...), when: when}
}

func namedUnits(units ...quantity.Unit) func(*form) []part.Option {
	return func(*form) []part.Option {
		var o []part.Option
		for _, u := range units {
			o = append(o, part.Option{Value: u.Name, Label: u.Name})
		}
		return o
	}
}

// picked is the unit that such a choice names.
func (f *form) picked(key string) quantity.Unit {
	i := f.input(key)
	for _, u := range i.picks {
		if u.Name == f.typed[key] {
			return u
		}
	}
	return f.own(i.picks)
}

// read takes what an address says. A choice or unit that the panel does not
// have is left at its default.
func (f *form) read(q url.Values) {
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		if u := q.Get(i.key + unitSuffix); u != "" {
			if known, ok := quantity.UnitNamed(i.kind, u); ok && i.offers(known) {
				f.typed[i.key+unitSuffix] = known.Name
			}
		}
		if i.options != nil {
			continue
		}
		if q.Has(i.key) {
			f.typed[i.key] = q.Get(i.key)
		} else if i.older != "" && q.Has(i.older) {
			f.typed[i.key] = i.renew(q.Get(i.older))
			if u, ok := quantity.UnitNamed(i.kind, q.Get(i.older+unitSuffix)); ok && i.offers(u) {
				f.typed[i.key+unitSuffix] = u.Name
			}
		}
	}
	// What there is to choose from may hang on the rest.
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		if i.options == nil || !q.Has(i.key) {
			continue
		}
		for _, o := range i.options(f) {
			if o.Value == q.Get(i.key) {
				f.typed[i.key] = o.Value
			}
		}
	}
}

// write adds what was typed to an address. A number goes with its unit, so that
// it means the same to a reader with other habits.
func (f *form) write(q url.Values) {
	touched := f.touched()
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		text := f.typed[i.key]
		most := longest
		if i.rows > 0 {
			most = longestRows
		}
		if r := []rune(text); len(r) > most {
			text = string(r[:most])
		}
		if text == f.standard(i) && !(touched && i.picks != nil && f.shown(i)) {
			continue
		}
		if text == "" {
			text = " " // a standard that was emptied stays empty where the link is opened
		}
		q.Set(i.key, text)
		if text != " " && len(i.units) > 1 {
			q.Set(i.key+unitSuffix, f.unit(i.key).Name)
		}
	}
}

func (i *input) offers(u quantity.Unit) bool {
	for _, o := range i.units {
		if o == u {
			return true
		}
	}
	return false
}

// input finds an input by its key. A key that is none is a slip of the
// programmer.
func (f *form) input(key string) *input {
	for n := range f.panel.inputs {
		if f.panel.inputs[n].key == key {
			return &f.panel.inputs[n]
		}
	}
	panic("bench: panel " + f.panel.id + " has no input " + key)
}

func (f *form) shown(i *input) bool { return i.when == nil || i.when(f) }

// touched reports whether anything was typed that wants a result.
func (f *form) touched() bool {
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		if i.options == nil && f.shown(i) && strings.TrimSpace(f.typed[i.key]) != i.standard {
			return true
		}
	}
	return false
}

// text is what was typed in a field or picked in a choice; empty when the input
// is not there.
func (f *form) text(key string) string {
	i := f.input(key)
	if !f.shown(i) {
		return ""
	}
	return strings.TrimSpace(f.typed[key])
}

// unit is the unit that a number without one is meant in.
func (f *form) unit(key string) quantity.Unit {
	i := f.input(key)
	if u, ok := quantity.UnitNamed(i.kind, f.typed[key+unitSuffix]); ok && i.offers(u) {
		return u
	}
	switch {
	case len(i.units) == 0:
		return quantity.DefaultUnit(i.kind)
	case i.follows != "":
		return f.picked(i.follows)
	}
	return f.own(i.units)
}

// units is how the user reads.
func (f *form) units() quantity.Preference { return f.session.Units() }

// sheet is the unit sheet of the job at hand.
func (f *form) sheet() unit.Sheet { return f.session.Sheet() }

// reading is what was typed as a number; ok is false where nothing was.
func (f *form) reading(key string) (r quantity.Reading, ok bool) {
	r, ok = f.readings[key]
	return r, ok
}

// number is what was typed as a number, in SI; ok is false where nothing was.
func number[Q ~float64](f *form, key string) (q Q, ok bool) {
	r, ok := f.readings[key]
	return Q(r.SI), ok
}

// or is what was typed as a number, or else the standard.
func or[Q ~float64](f *form, key string, standard Q) Q {
	if q, ok := number[Q](f, key); ok {
		return q
	}
	return standard
}

// problem notes what is wrong with an input.
func (f *form) problem(key, sentence string) {
	f.input(key)
	if f.problems[key] == "" {
		f.problems[key] = sentence
	}
}

// blame notes an error of a computation beside the input that it speaks of: the
// first whose words the error has; else beside the fallback.
func (f *form) blame(err error, fallback string, words ...blamed) *result {
	for _, w := range words {
		if strings.Contains(err.Error(), w.words) {
			f.problem(w.key, sentence(err))
			return nil
		}
	}
	f.problem(fallback, sentence(err))
	return nil
}

// blamed is the input that errors with certain words in them speak of.
type blamed struct{ words, key string }

// sentence is an error in the words for the person who typed.
func sentence(err error) string {
	var s interface{ Sentence() string }
	if errors.As(err, &s) {
		return s.Sentence()
	}
	return "This can't be worked out. Check what was typed."
}

// work works the panel out, or notes what is in the way.
func (f *form) work() *result {
	f.problems, f.readings = problems{}, map[string]quantity.Reading{}
	if !f.touched() {
		return nil
	}
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		if !f.shown(i) || i.options != nil {
			continue
		}
		text := strings.TrimSpace(f.typed[i.key])
		switch {
		case text == "":
			if i.want != "" {
				f.problem(i.key, i.want)
			}
		case i.kind != "":
			if i.beside {
				_, text = signed(text)
			}
			r, err := quantity.Parse(i.kind, text, f.unit(i.key))
			switch {
			case err != nil:
				f.problem(i.key, sentence(err))
			case r.OpenLoop && len(i.words) == 0:
				f.problem(i.key, "OL is what a meter shows of an open circuit. Here a number is wanted.")
			default:
				f.readings[i.key] = r
			}
		case len(text) > longestRows:
			f.problem(i.key, "That is more than fits here.")
		}
	}
	if f.panel.check != nil {
		f.panel.check(f)
	}
	if len(f.problems) > 0 && !f.panel.partial {
		return nil
	}
	return f.panel.work(f)
}

// signed parts a sign from what follows it; sign is "-", "+" or nothing.
func signed(text string) (sign, rest string) {
	for _, s := range []string{"-", "+", "\u2212"} {
		if rest, ok := strings.CutPrefix(text, s); ok {
			if s == "\u2212" {
				s = "-"
			}
			return s, strings.TrimSpace(rest)
		}
	}
	return "", text
}

// foldOf draws inputs that are folded away. A fold in which something was typed
// or is wrong stands open, and is not shut under the hands of who empties it.
func (f *form) foldOf(line string, inputs []app.UI) app.UI {
	d := app.Details().Class("fold", "fold--fields")
	if f.open[line] {
		d = d.Open(true)
	}
	return d.Body(app.Summary().Class("fold__summary").Text(line), app.Div().Class("fold__body").Body(inputs...))
}

// fields draws the inputs. Those folded away under one line stand together.
//
// An input that is not there leaves an empty place, so that the others keep
// theirs: the browser's elements are matched by place, and radio buttons that
// are turned into those of another question come out with none picked.
func (f *form) fields(changed func(app.Context)) []app.UI {
	if f.panel.draw != nil {
		return f.panel.draw(f, changed)
	}
	var body, folded []app.UI
	fold, filled := "", false
	shut := func() {
		switch {
		case filled:
			body = append(body, f.foldOf(fold, folded))
		case fold != "":
			body = append(body, app.Text(""))
		}
		fold, folded, filled = "", nil, false
	}
	var cells []*input // of a grid, which is never folded away
	gridded := false
	gather := func() {
		switch {
		case len(cells) > 0:
			body = append(body, f.grid(cells, changed))
		case gridded:
			body = append(body, app.Text(""))
		}
		cells, gridded = nil, false
	}
	for n := range f.panel.inputs {
		i := &f.panel.inputs[n]
		shown := f.shown(i)
		if i.row == "" || i.fold != fold {
			gather()
		}
		if i.fold != fold {
			shut()
			fold = i.fold
		}
		if shown && (f.typed[i.key] != f.standard(i) || f.problems[i.key] != "") {
			f.open[i.fold] = true
		}
		drawn := app.Text("")
		switch {
		case i.row != "":
			gridded = true
			if shown {
				cells = append(cells, i)
			}
			continue
		case shown:
			drawn = f.field(i, changed)
		}
		if fold == "" {
			body = append(body, drawn)
		} else {
			folded, filled = append(folded, drawn), filled || shown
		}
	}
	gather()
	shut()
	return body
}

// id is that of an input's element. A key may have points, which in the
// browser's selectors begin a class.
func (f *form) id(i *input) string {
	return f.panel.id + "-" + strings.ReplaceAll(i.key, ".", "-")
}

func (f *form) field(i *input, changed func(app.Context)) app.UI {
	put := func(key string) func(app.Context, string) {
		return func(ctx app.Context, value string) {
			f.typed[key] = value
			changed(ctx)
		}
	}
	id, hint := f.id(i), i.hint
	if i.tell != nil {
		hint = i.tell(f)
	}
	if i.options != nil {
		return &part.Choice{Name: id, Legend: i.label, Hint: hint, Options: i.options(f), Compact: i.compact,
			Value: f.typed[i.key], Problem: f.problems[i.key], OnPick: put(i.key)}
	}
	x := &part.Field{ID: id, Label: i.label, Hint: hint, Rows: i.rows, Words: i.words,
		Value: f.typed[i.key], Problem: f.problems[i.key], OnInput: put(i.key)}
	if i.kind == "" {
		return x
	}
	x.Mode = "decimal"
	x.Signed = i.kind.BelowZero() && !i.above
	if i.judge != nil && f.problems[i.key] == "" {
		x.Call, x.Judged = i.judge(f)
	}
	x.Unit, x.OnUnit = f.unit(i.key).Name, put(i.key+unitSuffix)
	for _, u := range i.units {
		x.Units = append(x.Units, u.Name)
	}
	if len(i.units) == 0 {
		x.Units = []string{x.Unit}
	}
	return x
}

// say prints a value in the units that the user reads, with so many significant
// digits; like is the unit of the trade.
func (f *form) say(v quantity.Value, like quantity.Unit, digits int) string {
	return quantity.FormatSignificant(v, f.units().Unit(like), digits)
}

// entered is a field as it was typed, with its unit.
func (f *form) entered(key string) string {
	text := f.text(key)
	if text == "" || f.input(key).kind == "" {
		return text
	}
	last := text[len(text)-1]
	if name := f.unit(key).Name; name != "" && (last >= '0' && last <= '9' || last == '.') {
		return text + " " + name
	}
	return text
}

// A fact is one row of a table of results.
type fact struct{ name, value string }

// value draws a cell; a short one is not broken before its unit.
func value(text string) app.UI {
	if len(text) <= 20 {
		return app.Td().Class("result__short").Text(text)
	}
	return app.Td().Text(text)
}

// facts draws a table of two columns.
func facts(caption string, rows ...fact) app.UI {
	var body []app.UI
	for _, r := range rows {
		if r.value != "" {
			body = append(body, app.Tr().Body(app.Th().Scope("row").Text(r.name), value(r.value)))
		}
	}
	table := []app.UI{}
	if caption != "" {
		table = append(table, app.Caption().Class("result__caption").Text(caption))
	}
	return app.Table().Body(append(table, app.TBody().Body(body...))...)
}

// bullets draws a list of sentences.
func bullets(sentences ...string) app.UI {
	var items []app.UI
	for _, s := range sentences {
		if s != "" {
			items = append(items, app.Li().Text(s))
		}
	}
	return app.Ul().Body(items...)
}

// pickOf makes the options of a choice that hangs on nothing.
func pickOf(options ...part.Option) func(*form) []part.Option {
	return func(*form) []part.Option { return options }
}

// The units that fields offer.
var (
	degrees   = []quantity.Unit{quantity.Fahrenheit, quantity.Celsius}
	pressures = []quantity.Unit{quantity.PSI, quantity.Kilopascal, quantity.Bar}
	lengths   = []quantity.Unit{quantity.Inch, quantity.Millimetre}
	gaps      = []quantity.Unit{quantity.Thou, quantity.Millimetre, quantity.Inch}
	forces    = []quantity.Unit{quantity.PoundForce, quantity.Newton}
	torques   = []quantity.Unit{quantity.FootPound, quantity.NewtonMetre}
	areas     = []quantity.Unit{quantity.SquareInch, quantity.SquareMillimetre, quantity.SquareCentimetre}
	rates     = []quantity.Unit{quantity.PoundPerInch, quantity.NewtonPerMillimetre}
	speeds    = []quantity.Unit{quantity.MilePerHour, quantity.KilometrePerHour}
	powers    = []quantity.Unit{quantity.Horsepower, quantity.Kilowatt}
)
