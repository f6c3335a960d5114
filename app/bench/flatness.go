package bench

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/flatness"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/leak"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// flatnessTool maps a mating face: how flat it is, what must come off it, and
// what gets past it.
var flatnessTool = &tool{
	name:     "flatness",
	title:    "Flatness map",
	what:     "How flat is this mating face, where is it high and low, how much must come off, and what leaks past it?",
	lead:     "Clean the face and stone off nicks first. Read it with an indicator over a grid or at places of your own, or lay a straightedge on it and try feelers.",
	cautions: []string{"clean-parts"},
	panels:   []*panel{flatPanel},
	example:  "dx=2&dy=2.5&a1=1.5&a2=0.5&a3=1&b1=0.5&b2=-2&b3=0&c1=1&c2=-0.5&c3=1.5&from=B3&to=C2&pressure=60&side=1",
	metric:   "in=mm&a1=0.04&a2=0.01&a3=0.03&b1=0.01&b2=-0.05&b3=0.00&c1=0.03&c2=-0.01&c3=0.04",
}

// How a face was read.
const (
	flatGrid  = "grid"
	flatList  = "list"
	flatJack  = "jack"
	flatLines = "lines"
)

// flatMost is the most rows and columns of a grid; more fit in a list.
const flatMost = 7

// The acceptance value, and the check whose reading it is.
const (
	flatLimit = "mating-flatness"
	flatCheck = "mating-surface-flatness"
	flatAsks  = "flatness"
)

const (
	flatLeak = "What leaks between two places"
	flatMore = "More: the indicator, the feelers"
)

// flatEdges are the lines of a straightedge over a rectangle, as shares of its
// length and width. At each, both ends and the middle are tried; together they
// cross at the corners, at the middles of the sides and at the middle.
var flatEdges = []struct {
	name           string
	where          string
	x1, y1, x2, y2 quantity.Length
}{
	{"A", "near side", 0, 0, 1, 0},
	{"B", "middle, lengthwise", 0, 0.5, 1, 0.5},
	{"C", "far side", 0, 1, 1, 1},
	{"D", "left end", 0, 0, 0, 1},
	{"E", "middle, across", 0.5, 0, 0.5, 1},
	{"F", "right end", 1, 0, 1, 1},
	{"G", "near left to far right", 0, 0, 1, 1},
	{"H", "far left to near right", 0, 1, 1, 0},
}

var flatPlaces = []string{"start", "middle", "end"}

func flatBy(ways ...string) func(*form) bool {
	return func(f *form) bool {
		for _, w := range ways {
			if f.text("way") == w {
				return true
			}
		}
		return false
	}
}

var flatPanel = &panel{
	id:      "flat",
	empty:   "Type what you read.",
	inputs:  flatInputs(),
	check:   checkFlat,
	work:    workFlat,
	picture: flatMap,
}

func flatInputs() []input {
	count := func(f *form) []part.Option {
		var o []part.Option
		for n := 2; n <= flatMost; n++ {
			o = append(o, part.Option{Value: strconv.Itoa(n), Label: strconv.Itoa(n)})
		}
		return o
	}
	plain := []quantity.Unit{quantity.Number}
	inputs := []input{
		{key: "way", label: "How was it read?", standard: flatGrid, options: pickOf(
			part.Option{Value: flatGrid, Label: "Indicator, over a grid"},
			part.Option{Value: flatList, Label: "Indicator, a list of places"},
			part.Option{Value: flatJack, Label: "Straightedge, eight ways over a rectangle"},
			part.Option{Value: flatLines, Label: "Straightedge, lines of your own"},
		)},
		unitPick("in", "Heights and feelers are in", []quantity.Unit{quantity.Thou, quantity.Millimetre, quantity.Micrometre, quantity.Inch}, nil),
		{key: "rows", label: "Rows", compact: true, standard: "3", options: count, when: flatBy(flatGrid)},
		{key: "columns", label: "Places in a row", compact: true, standard: "3", options: count, when: flatBy(flatGrid)},
		{key: "dx", label: "From place to place in a row", kind: quantity.KindLength, units: lengths, when: flatBy(flatGrid), want: "Type how far apart the places of a row are."},
		{key: "dy", label: "From row to row", hint: "Left empty: the same.", kind: quantity.KindLength, units: lengths, when: flatBy(flatGrid)},
	}
	for r := range flatMost {
		for c := range flatMost {
			i := input{key: flatKey(r, c), label: "Height at " + flatness.Place(r, c), kind: quantity.KindRatio, units: plain, when: func(f *form) bool {
				rows, columns := flatSize(f)
				return f.text("way") == flatGrid && r < rows && c < columns
			}}
			i.column = strconv.Itoa(c + 1)
			i.row = strings.TrimSuffix(flatness.Place(r, c), i.column)
			if r+c == 0 {
				i.legend, i.below, i.hint = "Heights", true, "Higher counts up, lower down to below zero. Leave a place without metal empty."
			}
			inputs = append(inputs, i)
		}
	}
	inputs = append(inputs,
		unitPick("across", "Places are in", lengths, flatBy(flatList, flatLines)),
		input{key: "places", label: "Places and heights", hint: "A row for each place: x, y and the height there. A name may stand first.", rows: 9, when: flatBy(flatList)},
		input{key: "edges", label: "Lines and feelers", hint: "A row with the line's name and the x and y of both its ends: A 0 0 8 0. Under it a row for each place: how far along, and the thickest feeler that goes under, 0 for none.", rows: 12, when: flatBy(flatLines)},
		input{key: "long", label: "Length of the face", kind: quantity.KindLength, units: lengths, when: flatBy(flatJack), want: "Type the length of the face."},
		input{key: "wide", label: "Width of the face", kind: quantity.KindLength, units: lengths, when: flatBy(flatJack), want: "Type the width of the face."},
	)
	for _, e := range flatEdges {
		for n, at := range flatPlaces {
			i := input{key: strings.ToLower(e.name) + at, label: e.name + ", " + at, kind: quantity.KindRatio, units: plain, when: flatBy(flatJack)}
			i.row, i.column = e.name+" "+e.where, at
			if e.name == "A" && n == 0 {
				i.legend, i.hint = "Feelers", "The thickest feeler that goes under, 0 for none. Leave a line that was not laid empty."
			}
			inputs = append(inputs, i)
		}
	}
	return append(inputs,
		input{key: "from", fold: flatLeak, label: "From the place", hint: "As the map names it, such as A1."},
		input{key: "to", fold: flatLeak, label: "To the place"},
		input{key: "pressure", fold: flatLeak, label: "Pressure between them", kind: quantity.KindPressure, units: pressures},
		input{key: "side", fold: flatLeak, label: "Length of the land between them", hint: "Across the flow.", kind: quantity.KindLength, units: lengths},
		input{key: "off", fold: flatMore, label: "The indicator can be off by", tell: func(f *form) string {
			return "Left empty: " + f.say(quantity.Length(flatness.Indicator.Fixed).Value(), quantity.Thou, 1) + ", " + flatness.Indicator.Source + "."
		}, kind: quantity.KindLength, units: gaps, when: flatBy(flatGrid, flatList)},
		input{key: "step", fold: flatMore, label: "The next feeler is thicker by", hint: "Left empty, a thousandth of an inch.", kind: quantity.KindLength, units: gaps, when: flatBy(flatJack, flatLines)},
	)
}

func flatKey(row, column int) string { return strings.ToLower(flatness.Place(row, column)) }

func flatSize(f *form) (rows, columns int) {
	rows, _ = strconv.Atoi(f.text("rows"))
	columns, _ = strconv.Atoi(f.text("columns"))
	return rows, columns
}

func checkFlat(f *form) {
	for _, x := range [][3]string{{"from", "to", "Type the place at the other end."}, {"to", "from", "Type the place at the other end."},
		{"pressure", "from", "Type between which places."}, {"side", "pressure", "Type the pressure."}, {"pressure", "side", "Type how long the land is, across the flow."}} {
		if f.text(x[0]) != "" && f.text(x[1]) == "" {
			f.problem(x[1], x[2])
		}
	}
	for _, key := range []string{"dx", "dy", "long", "wide", "off", "step"} {
		if r, ok := f.reading(key); ok && r.SI <= 0 {
			f.problem(key, "This must be more than nothing.")
		}
	}
	for _, e := range flatEdges {
		typed := 0
		for _, at := range flatPlaces {
			if r, ok := f.reading(strings.ToLower(e.name) + at); ok {
				typed++
				if r.SI < 0 {
					f.problem(strings.ToLower(e.name)+at, "A feeler is not below zero.")
				}
			}
		}
		if typed > 0 && typed < len(flatPlaces) {
			for _, at := range flatPlaces {
				if f.text(strings.ToLower(e.name)+at) == "" {
					f.problem(strings.ToLower(e.name)+at, "Type this one too, or leave the whole line empty.")
				}
			}
		}
	}
}

// measuredFace is the measurement that a form holds.
func measuredFace(f *form) (flatness.Measurement, error) {
	m := flatness.Measurement{Units: f.units()}
	limits := f.sheet().Limits(flatLimit)
	for i := range limits {
		m.Windows = append(m.Windows, windowOf(f.sheet().Book, &limits[i]))
	}
	if off, ok := number[quantity.Length](f, "off"); ok {
		m.Meter = &conformity.Accuracy{Fixed: float64(off), Source: "as you entered it"}
	}
	step := or(f, "step", flatness.FeelerStep)
	in := f.picked("in")
	units := flatness.Units{Across: f.picked("across"), Height: in}
	var err error
	switch f.text("way") {
	case flatGrid:
		rows, columns := flatSize(f)
		dx, _ := number[quantity.Length](f, "dx")
		dy := or(f, "dy", dx)
		for r := range rows {
			for c := range columns {
				if z, ok := f.reading(flatKey(r, c)); ok {
					m.Readings.Add(flatness.Point{Name: flatness.Place(r, c), X: quantity.Length(c) * dx, Y: quantity.Length(r) * dy, Z: quantity.Length(in.SI(z.SI))},
						quantity.Length(in.Step(z.Resolution)))
				}
			}
		}
	case flatList:
		m.Readings, err = flatness.ParsePoints(f.text("places"), units)
	case flatLines:
		m.Lines, err = flatness.ParseLines(f.text("edges"), step, units)
	case flatJack:
		long, _ := number[quantity.Length](f, "long")
		wide, _ := number[quantity.Length](f, "wide")
		for _, e := range flatEdges {
			l := flatness.Line{Name: e.name, X1: e.x1 * long, Y1: e.y1 * wide, X2: e.x2 * long, Y2: e.y2 * wide}
			for n, at := range flatPlaces {
				if z, ok := f.reading(strings.ToLower(e.name) + at); ok {
					goes := quantity.Length(in.SI(z.SI))
					l.Readings = append(l.Readings, flatness.Feeler{At: quantity.Length(n) / 2 * l.Length(), Goes: goes, Stops: goes + step})
				}
			}
			if len(l.Readings) > 0 {
				m.Lines = append(m.Lines, l)
			}
		}
	}
	return m, err
}

// flatProblem puts an error beside the field that it blames.
func flatProblem(f *form, err error) *result {
	key := map[string]string{flatGrid: flatKey(0, 0), flatList: "places", flatLines: "edges", flatJack: "astart"}[f.text("way")]
	var e *flatness.Error
	if errors.As(err, &e) {
		switch e.Input {
		case "place":
			key = "to"
		case "pitch":
			key = "dx"
		}
	}
	f.problem(key, sentence(err))
	return nil
}

func workFlat(f *form) *result {
	m, err := measuredFace(f)
	if err != nil {
		return flatProblem(f, err)
	}
	out, err := m.Judge()
	if err != nil {
		return flatProblem(f, err)
	}
	size := func(l quantity.Length) string { return f.say(l.Value(), quantity.Inch, 2) }
	verdict := out.Judgement.Verdict
	r := &result{call: part.Call(verdict), word: part.VerdictWord(verdict), because: []string{out.Judgement.Reason},
		value: "Out of flat by " + size(out.Flatness) + " ± " + f.say((2*out.Standard).Value(), quantity.Inch, 2)}
	limits := f.sheet().Limits(flatLimit)
	for _, l := range limits {
		if l.Provenance.Kind != unit.Published {
			r.because = append(r.because, "The limit is "+strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))+": confirm it in the maker's manual.")
			break
		}
	}
	if out.Survey != nil {
		r.because = append(r.because, out.Survey.Words(size)...)
		var rows []fact
		for _, l := range out.Survey.Lines {
			rows = append(rows, fact{"Line " + l.Line, size(l.Least) + " to " + size(l.Most)})
		}
		r.body = append(r.body, facts("Out of straight by", rows...))
	}
	if len(out.Points) > 0 {
		r.body = append(r.body, flatFacts(f, out)...)
		if !flatBetween(f, out, r) {
			return nil
		}
	}
	r.body = append(r.body, app.H3().Text("Judged by"), f.figures(limits), bullets(out.Notes...))
	r.line = "Flatness: " + strings.ToLower(r.word[:1]) + r.word[1:] + ". " + r.value + "."
	if len(out.Points) > 0 {
		r.line += " High at " + flatNames(out, out.Zone.High) + ", low at " + flatNames(out, out.Zone.Low) + "."
	}
	flatEntry(out, r)
	return r
}

// flatEntry makes the flatness the reading of the check, with the uncertainty
// that it has.
func flatEntry(out flatness.Result, r *result) {
	if v := out.Judgement.Verdict; v != conformity.Meets && v != conformity.Above && v != conformity.TooClose {
		return
	}
	e := diagnosis.Entry{Check: flatCheck, Observation: flatAsks, Reading: quantity.FormatSignificant(out.Flatness.Value(), quantity.Millimetre, 4)}
	if out.Flatness > 0 {
		// An accuracy is the limit of an even spread, √3 times its standard
		// uncertainty.
		e.Percent = strconv.FormatFloat(100*math.Sqrt(3)*float64(out.Standard/out.Flatness), 'f', 2, 64)
	}
	r.entry, r.check = &e, flatCheck
}

// flatNames lists places by their names, the first few of many.
func flatNames(out flatness.Result, contacts []flatness.Contact) string {
	var names []string
	for _, c := range contacts {
		if c.Share > 0 || out.Flatness == 0 || len(contacts) == 1 {
			names = append(names, flatName(out.Points, c.Point))
		}
	}
	if len(names) > 4 {
		names = append(names[:4], "more")
	}
	return strings.Join(names, ", ")
}

func flatName(points []flatness.Point, i int) string {
	if points[i].Name != "" {
		return points[i].Name
	}
	return strconv.Itoa(i + 1)
}

// flatFacts draws what a face came to.
func flatFacts(f *form, out flatness.Result) []app.UI {
	size := func(l quantity.Length) string { return f.say(l.Value(), quantity.Inch, 2) }
	cut := []fact{
		{"To take off at the highest place", size(out.Cut.Most)},
		{"On the average", size(out.Cut.Mean)},
	}
	if out.Survey == nil {
		cut = append(cut, fact{"Set up on the base of these readings", size(out.Level.Most)})
	}
	zone := []fact{{"Two planes that hold it are apart by", size(out.Zone.Flatness)}}
	if kind := out.Zone.Kind(); kind != "" {
		zone = append(zone, fact{"They stand on " + kind + " places", flatNames(out, out.Zone.High) + " over " + flatNames(out, out.Zone.Low)})
	}
	fit := out.LeastSquares
	return []app.UI{
		facts("To make it flat", cut...),
		part.Fold("Minimum zone and least squares",
			facts("Minimum zone (ISO 1101)", zone...),
			facts("About the least-squares plane (ISO 12781)",
				fact{"Peak to valley, FLTt", size(fit.Total)}, fact{"Peak, FLTp", size(fit.Peak)}, fact{"Valley, FLTv", size(fit.Valley)}, fact{"Root mean square, FLTq", size(fit.RMS)}),
			app.P().Text("The verdict goes by the minimum zone. Least squares never gives less."),
		),
	}
}

// closed is the gap under which two faces touch: far finer than any reading.
const closed quantity.Length = 1e-8

// flatBetween draws the gap between two places and what leaks through it. It
// reports false when it noted a problem.
func flatBetween(f *form, out flatness.Result, r *result) bool {
	if f.text("from") == "" {
		return true
	}
	find := func(key string) (flatness.Point, bool) {
		for i, p := range out.Points {
			if strings.EqualFold(flatName(out.Points, i), f.text(key)) {
				return p, true
			}
		}
		f.problem(key, "The map has no place of this name.")
		return flatness.Point{}, false
	}
	a, okA := find("from")
	b, okB := find("to")
	if !okA || !okB {
		return false
	}
	j, err := flatness.NewJoint(out.Points, out.Zone)
	if err != nil {
		flatProblem(f, err)
		return false
	}
	c, err := j.Between(a.X, a.Y, b.X, b.Y)
	if err != nil {
		flatProblem(f, err)
		return false
	}
	size := func(l quantity.Length) string {
		if l < closed {
			return "closed"
		}
		return f.say(l.Value(), quantity.Thou, 2)
	}
	rows := []fact{
		{"Narrowest", size(c.Least)}, {"Widest", size(c.Most)},
		{"As tight as an even gap of", size(c.Even)},
		{"From place to place", f.say(c.Length.Value(), quantity.Inch, 3)},
	}
	notes := []string{"Against a perfectly flat counterpart that rests on the high places, without its screws, which close it somewhat. The other face can be out of flat too: add its gap."}
	if drop, ok := number[quantity.Pressure](f, "pressure"); ok {
		notes = append(notes, "Pump and fluid temperature: "+leak.Provenance+". Fluid: "+strings.ToLower(fluid.Classes()[0].Name)+".")
		side, _ := number[quantity.Length](f, "side")
		flow, share, err := flatFlow(leak.Slot{Width: side, Gap: c.Even, Length: c.Length}, drop)
		if err != nil {
			f.blame(err, "pressure", blamed{"width", "side"})
			return false
		}
		leaks := "nothing to speak of"
		if c.Even >= closed {
			leaks = f.say(flow.Value(), quantity.GallonPerMinute, 2)
		}
		rows = append(rows, fact{"Leaks hot, " + f.temperature(leak.TypicalHot), leaks}, fact{"Of the pump at idle", shareOfPump(share)})
	}
	r.body = append(r.body, facts("Gap from "+f.text("from")+" to "+f.text("to"), rows...), bullets(notes...))
	return true
}

// flatFlow is what gets through a gap hot, and its share of the pump at idle.
func flatFlow(s leak.Slot, drop quantity.Pressure) (quantity.Flow, quantity.Ratio, error) {
	oil := fluid.Classes()[0].Fluid
	var x leak.Fluid
	var err error
	if x.Dynamic, err = oil.Dynamic(leak.TypicalHot); err != nil {
		return 0, 0, err
	}
	if x.Density, err = oil.Density(leak.TypicalHot); err != nil {
		return 0, 0, err
	}
	through, err := s.Flow(drop, x)
	if err != nil {
		return 0, 0, err
	}
	share, err := leak.TypicalPump.Share(through.Flow, leak.TypicalIdle)
	return through.Flow, share, err
}
