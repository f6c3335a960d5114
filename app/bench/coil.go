package bench

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// coilTool judges a solenoid coil by its ohms, and finds how warm a winding is.
//
// The caution about holding battery voltage on a coil stands before the fields,
// because who measures a coil is about to try it.
var coilTool = &tool{
	name:     "coil",
	title:    "Coil checker",
	what:     "Is this solenoid coil good, with its temperature, the leads and the meter counted in? And how warm is a winding?",
	lead:     "A good coil in a warm unit reads a quarter more than its sheet says, and the meter shows its own leads too. Type what you read; the rest is worked out.",
	cautions: []string{"solenoid-current"},
	panels:   []*panel{coilPanel, windingPanel},
	example:  "coil=governor-solenoid&ohms=5.3&leads=0.2&at=180&cold=4.3&coldat=70&warm=5.2&room=75",
}

// ownCoil stands for a coil whose window the user types.
const ownCoil = "own"

// How the winding's temperature is known.
const (
	stateWarm   = "warm"
	stateSoaked = "soaked"
)

// insulationID is the acceptance value of a coil's pin against the case.
const insulationID = "coil-insulation"

const moreCoil = "More: to the case, the meter, the supply"

var (
	ohmOnly    = []quantity.Unit{quantity.Ohm}
	insulation = []quantity.Unit{quantity.Megohm, quantity.Kilohm, quantity.Ohm}
	meterShows = []string{"OL"}
)

func ownWindowWanted(f *form) bool { return f.text("coil") == ownCoil }

func soaked(f *form) bool { return f.text("state") == stateSoaked }

var coilPanel = &panel{
	id:    "coil",
	empty: "Type what the meter shows.",
	inputs: []input{
		{key: "coil", label: "Which coil?", options: whichCoil, standard: unit.Coils[0].ID},
		{key: "least", label: "Least allowed", kind: quantity.KindResistance, units: ohmOnly, words: meterShows, when: ownWindowWanted},
		{key: "most", label: "Greatest allowed", kind: quantity.KindResistance, units: ohmOnly, words: meterShows, when: ownWindowWanted},
		{key: "holds", label: "Temperature at which these hold", hint: "Leave empty if the manual does not say.", kind: quantity.KindTemperature, units: degrees, when: ownWindowWanted},
		{key: "ohms", label: "The meter shows", kind: quantity.KindResistance, units: ohmOnly, words: meterShows},
		{key: "leads", label: "The leads alone show", hint: "Hold the probes together and read. 0 if the meter was zeroed.", kind: quantity.KindResistance, units: ohmOnly, words: meterShows},
		{key: "state", label: "How warm is it?", compact: true, standard: stateWarm, options: pickOf(
			part.Option{Value: stateWarm, Label: "It ran"},
			part.Option{Value: stateSoaked, Label: "Cold-soaked"},
		)},
		{key: "at", label: "Temperature of the winding", hint: "After a run: the pan or the scan tool is the nearest you have; what it can be off is counted in. Cold-soaked for hours: the air around it.",
			kind: quantity.KindTemperature, units: degrees},
		{key: "where", label: "Where were the probes?", compact: true, standard: string(coil.Connector), options: pickOf(
			part.Option{Value: string(coil.Part), Label: "On the part"},
			part.Option{Value: string(coil.Connector), Label: "Case plug"},
			part.Option{Value: string(coil.Harness), Label: "Through the harness"},
		)},
		{key: "case", fold: moreCoil, label: "From a pin to the case", hint: "On the highest range of the meter.", kind: quantity.KindResistance, units: insulation, words: meterShows},
		{key: "percent", fold: moreCoil, label: "Meter accuracy, of the reading", hint: "It stands in the meter's manual. Left empty, both are taken to be " + conformity.Default(quantity.Reading{Kind: quantity.KindResistance}).Source + ".",
			kind: quantity.KindRatio, units: []quantity.Unit{quantity.Percent}},
		{key: "digits", fold: moreCoil, label: "Meter accuracy, in digits", hint: "Steps of the last digit shown.", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Number}},
		{key: "supply", fold: moreCoil, label: "System voltage, for the current", above: true, kind: quantity.KindVoltage},
	},
	check: checkCoil,
	work:  workCoil,
}

func whichCoil(f *form) []part.Option {
	var coils []part.Option
	for _, x := range unit.Coils {
		o := part.Option{Value: x.ID, Label: x.Name}
		for _, l := range f.sheet().Limits(x.Acceptance) {
			o.Hint = part.LimitText(f.units(), l) + ", " + strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))
		}
		coils = append(coils, o)
	}
	return append(coils, part.Option{Value: ownCoil, Label: "Another coil", Hint: "With limits that you type from the maker's manual"})
}

// checkCoil notes what the fields of a coil can't be together.
func checkCoil(f *form) {
	ohms, measured := f.reading("ohms")
	if !measured && f.text("case") == "" {
		f.problem("ohms", "Type what the meter shows, or OL.")
	}
	if _, ok := f.reading("at"); !ok && measured && !ohms.OpenLoop {
		f.problem("at", "Type the temperature. A coil's ohms change with it, so there is no verdict without.")
	}
	if f.readings["leads"].OpenLoop {
		f.problem("leads", "Leads that read OL are broken. Use other leads before you measure anything.")
	}
	for _, key := range []string{"percent", "digits"} {
		if f.readings[key].SI < 0 {
			f.problem(key, "An accuracy is not below zero.")
		}
	}
	if !ownWindowWanted(f) {
		return
	}
	least, okLeast := f.reading("least")
	most, okMost := f.reading("most")
	for _, key := range []string{"least", "most"} {
		if f.readings[key].OpenLoop {
			f.problem(key, "A limit is a number of ohms; OL is what a meter shows.")
		}
	}
	switch {
	case !okLeast && !okMost:
		f.problem("least", "Type at least one limit from the maker's manual.")
	case okLeast && okMost && least.SI > most.SI:
		f.problem("most", "The greatest allowed is less than the least. Check both.")
	}
}

// A coilOutcome is what a coil's form comes to.
type coilOutcome struct {
	coil.Result
	limits  []unit.Limit
	check   *catalogue.Check // in which this coil is measured at this place; nil for an own window
	reading *catalogue.Observation
	points  []*catalogue.Fault // what the verdicts point to, the nearest first
}

// judgeCoil judges the coil of a form.
func judgeCoil(f *form) (out coilOutcome, err error) {
	m := coil.Measurement{Units: f.units(), Soaked: soaked(f), Where: coil.Place(f.text("where"))}
	sheet := f.sheet()
	own, _ := unit.CoilByID(f.text("coil"))
	if ownWindowWanted(f) {
		m.Windows = []conformity.Window{ownWindow(f)}
		m.Reference, _ = number[quantity.Temperature](f, "holds")
	} else {
		out.limits = sheet.Limits(own.Acceptance)
		for i := range out.limits {
			m.Windows = append(m.Windows, windowOf(sheet.Book, &out.limits[i]))
		}
		m.Others = otherCoils(sheet, own)
		out.check, out.reading = measuredIn(f.session.Catalogue(), own.Acceptance, m.Where)
	}
	m.Reading, _ = f.reading("ohms")
	m.Leads, _ = f.reading("leads")
	m.Temperature, _ = number[quantity.Temperature](f, "at")
	m.Insulation, _ = f.reading("case")
	if limits := sheet.Limits(insulationID); len(limits) > 0 {
		m.InsulationWindow = windowOf(sheet.Book, &limits[0])
	}
	if f.text("percent")+f.text("digits") != "" {
		m.Meter = &conformity.Accuracy{Percent: f.readings["percent"].SI * 100, Digits: f.readings["digits"].SI, Source: "as you entered it"}
	}
	if v, ok := number[quantity.Voltage](f, "supply"); ok {
		m.Supplies = []quantity.Voltage{v}
	}
	if out.Result, err = m.Judge(); err == nil && out.check != nil {
		out.points = pointsTo(f.session.Catalogue(), out.check, own.Acceptance, out.Result)
	}
	return out, err
}

func workCoil(f *form) *result {
	out, err := judgeCoil(f)
	if err != nil {
		return f.blame(err, "ohms", blamed{"insulation", "case"}, blamed{"lead", "leads"}, blamed{"winding temperature", "at"},
			blamed{"reference temperature", "holds"}, blamed{"voltage", "supply"})
	}
	r := out.show(f)
	r.line = out.line(f)
	if out.check != nil && f.text("ohms") != "" && coil.Place(f.text("where")) != coil.Harness {
		r.check = out.check.ID
		r.entry = &diagnosis.Entry{
			Check: out.check.ID, Observation: out.reading.ID, Reading: f.text("ohms"),
			Leads: f.text("leads"), Percent: f.text("percent"), Digits: f.text("digits"), Soaked: soaked(f), At: f.entered("at"),
		}
	}
	return r
}

// ownWindow is the window that the user typed.
func ownWindow(f *form) conformity.Window {
	w := conformity.Window{Name: "your own value"}
	if r, ok := f.reading("least"); ok {
		v := r.Value()
		w.Min = &v
	}
	if r, ok := f.reading("most"); ok {
		v := r.Value()
		w.Max = &v
	}
	return w
}

// show draws what a coil's form comes to.
func (out coilOutcome) show(f *form) *result {
	verdict := out.Judgement.Verdict
	r := &result{call: part.Call(verdict), word: part.VerdictWord(verdict), because: []string{out.Explanation}}
	if out.Referred > 0 {
		r.value = fmt.Sprintf("%s ± %s at %s", f.ohms(out.Referred), f.say((2*out.Standard).Value(), quantity.Ohm, 2), f.temperature(out.Reference))
	}
	// A good or doubtful reading has its probability in the sentence before.
	if verdict.Called() && verdict != conformity.Open && verdict != conformity.Meets {
		r.because = append(r.because, "Probability that the coil is within its limits: "+part.Percent(out.Judgement.Probability)+".")
	}
	for _, e := range out.Expected {
		r.because = append(r.because, e.String()+" With the leads in it, for a coil within its limits.")
	}
	for _, l := range out.limits {
		if l.Provenance.Kind == unit.Memory {
			r.because = append(r.because, "Judged by a figure from memory: confirm it in the maker's manual.")
			break
		}
	}
	body := []app.UI{}
	if out.Is(coil.ShortToCase) {
		// A coil that touches the case is bad whatever its ohms.
		body = append(body, &part.Verdict{Call: r.call, Word: r.word, Value: r.value, Because: r.because})
		r.call, r.word, r.value, r.because = "bad", "Touches the case", "", []string{out.Insulation.Reason}
	} else if out.Insulation != nil {
		body = append(body, app.P().Body(app.B().Text("To the case: "), app.Text(part.VerdictWord(out.Insulation.Verdict)+". "+out.Insulation.Reason)))
	}
	if len(out.points) > 0 {
		var items []app.UI
		for _, x := range out.points {
			items = append(items, app.Li().Body(app.A().Href(route.Fault(x.ID).Href()).Text(x.Name)))
		}
		body = append(body, app.H3().Text("It points to"), app.Ul().Body(items...))
	}
	for _, d := range out.Draws {
		body = append(body, app.P().Text(fmt.Sprintf("At %s it draws %s cold and %s hot.",
			f.say(d.Supply.Value(), quantity.Volt, 3), f.say(d.Cold.Value(), quantity.Ampere, 2), f.say(d.Hot.Value(), quantity.Ampere, 2))))
	}
	if out.HoldWarning != "" {
		body = append(body, app.P().Class("result__hold").Body(part.Icon("alert"), app.Span().Text(out.HoldWarning)))
	}
	if len(out.limits) > 0 {
		body = append(body, app.H3().Text("Judged by"), f.figures(out.limits))
	}
	if len(out.Notes) > 0 {
		body = append(body, app.H3().Text("Taken for granted"), bullets(out.Notes...))
	}
	if len(out.Budget) > 0 {
		var rows []fact
		for _, b := range out.Budget {
			rows = append(rows, fact{b.Name, f.say(b.Standard.Value(), quantity.Ohm, 2)})
		}
		body = append(body, part.Fold("What the uncertainty is made of", facts("Standard uncertainty at the sheet's temperature", rows...)))
	}
	r.body = body
	return r
}

// line is the form and what it came to, for the notes of a job.
func (out coilOutcome) line(f *form) string {
	name := "Coil"
	if c, ok := unit.CoilByID(f.text("coil")); ok {
		name = c.Name
	}
	var said []string
	for _, x := range []struct{ words, key string }{{"", "ohms"}, {"leads ", "leads"}, {"winding at ", "at"}, {"to the case ", "case"}} {
		if text := f.entered(x.key); text != "" {
			said = append(said, x.words+text)
		}
	}
	said = append(said, placeWords[coil.Place(f.text("where"))])
	text := name + ": " + strings.Join(said, ", ") + ". " + part.VerdictWord(out.Judgement.Verdict)
	if out.Referred > 0 {
		text += ", " + f.ohms(out.Referred) + " at " + f.temperature(out.Reference)
	}
	for _, l := range out.limits {
		text += "; limit " + part.LimitText(f.units(), l) + ", " + strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))
	}
	return text + "."
}

var placeWords = map[coil.Place]string{
	coil.Part:      "at the part",
	coil.Connector: "at the case plug",
	coil.Harness:   "through the harness",
}

// windowOf brings a limit of the sheet into conformity's form, named after who
// says so.
func windowOf(b *unit.Book, l *unit.Limit) conformity.Window {
	name := strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))
	if s, ok := b.Source(l.Provenance.Source); ok && l.Provenance.Kind == unit.Published {
		name = s.Title
	}
	return conformity.Window{Name: name, Min: l.Min, Max: l.Max}
}

// otherCoils is the windows of the coils behind the same plug.
func otherCoils(sheet unit.Sheet, own unit.Coil) []conformity.Window {
	var others []conformity.Window
	for _, o := range unit.Coils {
		if o.ID == own.ID {
			continue
		}
		limits := sheet.Limits(o.Acceptance)
		for i := range limits {
			w := windowOf(sheet.Book, &limits[i])
			w.Name = o.Name
			others = append(others, w)
		}
	}
	return others
}

// measuredIn finds the check and observation in which an acceptance value is
// read at a place: with the part in hand, or from the case plug.
func measuredIn(c *catalogue.Catalogue, acceptance string, where coil.Place) (*catalogue.Check, *catalogue.Observation) {
	for i := range c.Checks {
		k := &c.Checks[i]
		inHand := c.LevelIndex(k.Level) >= c.LevelIndex("pan")
		if inHand != (where == coil.Part) {
			continue
		}
		for n := range k.Observations {
			if r := k.Observations[n].Reading; r != nil && r.Acceptance == acceptance && r.Method == "coil" {
				return k, &k.Observations[n]
			}
		}
	}
	return nil, nil
}

// pointsTo lists the faults that the catalogue knows for the outcomes that the
// verdicts stand for.
func pointsTo(c *catalogue.Catalogue, k *catalogue.Check, acceptance string, r coil.Result) []*catalogue.Fault {
	verdict := r.Judgement.Verdict
	if r.Is(coil.OpenCircuit) {
		verdict = conformity.Open
	}
	var points []*catalogue.Fault
	add := func(o *catalogue.Outcome) {
		if o == nil || o.Normal {
			return
		}
		for _, l := range o.Shows {
			if f := c.Fault(l.ID); f != nil {
				points = append(points, f)
			}
		}
	}
	for n := range k.Observations {
		o := &k.Observations[n]
		switch {
		case o.Reading == nil:
		case o.Reading.Acceptance == acceptance:
			add(outcomeOf(o, verdict))
		case o.Reading.Acceptance == insulationID && r.Insulation != nil:
			add(outcomeOf(o, r.Insulation.Verdict))
		}
	}
	return points
}

// outcomeOf is the outcome that a called verdict stands for.
func outcomeOf(o *catalogue.Observation, v conformity.Verdict) *catalogue.Outcome {
	if !v.Called() {
		return nil
	}
	if out := o.Judged(string(v)); out != nil {
		return out
	}
	for _, w := range []conformity.Verdict{conformity.Below, conformity.Above} {
		if v.Is(w) {
			return o.Judged(string(w))
		}
	}
	return nil
}

// windingPanel finds how warm a winding is.
var windingPanel = &panel{
	id:      "rise",
	heading: "How warm is the winding?",
	intro:   "Copper is its own thermometer: from how far the ohms rose follows how warm the winding is. Source: IEC 60034-1, temperature rise by resistance.",
	empty:   "Type both resistances, without the leads, and the cold temperature.",
	inputs: []input{
		{key: "cold", label: "Ohms of the cold winding, leads taken off", kind: quantity.KindResistance, units: ohmOnly, want: "Type the ohms of the cold winding."},
		{key: "coldat", label: "Temperature of the cold winding", kind: quantity.KindTemperature, units: degrees, want: "Type the temperature that the cold winding had."},
		{key: "warm", label: "Ohms of the warm winding, leads taken off", kind: quantity.KindResistance, units: ohmOnly, want: "Type the ohms of the warm winding."},
		{key: "room", label: "Temperature around it now", hint: "For the rise; may stay empty.", kind: quantity.KindTemperature, units: degrees},
	},
	work: func(f *form) *result {
		r1, _ := number[quantity.Resistance](f, "cold")
		t1, _ := number[quantity.Temperature](f, "coldat")
		r2, _ := number[quantity.Resistance](f, "warm")
		winding, err := coil.Winding.Temperature(r1, t1, r2)
		if err != nil {
			return f.blame(err, "cold", blamed{"temperature of the known", "coldat"}, blamed{"warm resistance", "warm"}, blamed{"winding temperature", "warm"})
		}
		r := &result{call: "none", word: f.temperature(winding), because: []string{"The mean of the whole winding; its hottest spot is warmer."}}
		if room, ok := number[quantity.Temperature](f, "room"); ok {
			rise, err := coil.Winding.Rise(r1, t1, r2, room)
			if err != nil {
				return f.blame(err, "room")
			}
			r.because = append([]string{"It is " + f.warmer(rise) + " warmer than its surroundings."}, r.because...)
		}
		r.line = "Winding: " + f.entered("cold") + " at " + f.entered("coldat") + ", " + f.entered("warm") + " warm: " + r.word + "."
		return r
	},
}
