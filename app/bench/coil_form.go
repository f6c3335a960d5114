package bench

import (
	"net/url"
	"strings"

	"provingbench/app/part"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// ownCoil stands for a coil whose window the user types.
const ownCoil = "own"

// How the winding's temperature is known.
const (
	stateWarm   = "warm"
	stateSoaked = "soaked"
)

// insulationID is the acceptance value of a coil's pin against the case.
const insulationID = "coil-insulation"

// coilForm is what is typed on the coil screen.
type coilForm struct {
	Coil               string // id of a unit.Coil, or ownCoil
	Least, Most, HoldA string // own window, and the temperature it holds at
	Ohms, Leads        string
	State, At, Unit    string
	Where              string // a coil.Place
	Case, CaseUnit     string // insulation
	Percent, Digits    string
	Supply             string
}

func newCoilForm() coilForm {
	return coilForm{
		Coil: unit.Coils[0].ID, State: stateWarm, Where: string(coil.Connector),
		Unit: quantity.Fahrenheit.Name, CaseUnit: quantity.Megohm.Name,
	}
}

func (f *coilForm) inputs() []input {
	return []input{
		{"coil", &f.Coil}, {"least", &f.Least}, {"most", &f.Most}, {"holds", &f.HoldA},
		{"ohms", &f.Ohms}, {"leads", &f.Leads}, {"state", &f.State}, {"at", &f.At}, {"unit", &f.Unit},
		{"where", &f.Where}, {"case", &f.Case}, {"caseunit", &f.CaseUnit},
		{"percent", &f.Percent}, {"digits", &f.Digits}, {"supply", &f.Supply},
	}
}

// query is the form's part of the address. What stands at its default is left
// out, so that an untouched form has the plain address.
func (f coilForm) query() url.Values {
	q := toQuery(f.inputs())
	plain := newCoilForm()
	standard := toQuery(plain.inputs())
	for key := range q {
		if q.Get(key) == standard.Get(key) {
			q.Del(key)
		}
	}
	return q
}

// coilFormFrom reads the form out of an address. What an address says that is
// no choice of the form is left at its default.
func coilFormFrom(q url.Values) coilForm {
	f := newCoilForm()
	fromQuery(f.inputs(), q)
	plain := newCoilForm()
	if _, ok := unit.CoilByID(f.Coil); !ok && f.Coil != ownCoil {
		f.Coil = plain.Coil
	}
	if f.State != stateSoaked {
		f.State = stateWarm
	}
	switch coil.Place(f.Where) {
	case coil.Part, coil.Connector, coil.Harness:
	default:
		f.Where = plain.Where
	}
	if _, ok := quantity.UnitNamed(quantity.KindTemperature, f.Unit); !ok || f.Unit == "" {
		f.Unit = plain.Unit
	}
	if _, ok := quantity.UnitNamed(quantity.KindResistance, f.CaseUnit); !ok || f.CaseUnit == "" {
		f.CaseUnit = plain.CaseUnit
	}
	return f
}

// touched reports whether anything was typed that wants a result.
func (f coilForm) touched() bool {
	return f.Ohms+f.Leads+f.At+f.Case+f.Percent+f.Digits+f.Supply != ""
}

// coilOutcome is what a form comes to.
type coilOutcome struct {
	Problems problems
	Ready    bool // Result holds something to show
	Result   coil.Result
	Limits   []unit.Limit
	Check    *catalogue.Check // in which this coil is measured at this place; nil for an own window
	Reading  *catalogue.Observation
	Points   []*catalogue.Fault // what the verdicts point to, the nearest first
}

// work works a form out.
func (f coilForm) work(c *catalogue.Catalogue, sheet unit.Sheet) coilOutcome {
	out := coilOutcome{Problems: problems{}}
	p := out.Problems
	m := coil.Measurement{Soaked: f.State == stateSoaked, Where: coil.Place(f.Where)}

	own, _ := unit.CoilByID(f.Coil)
	if f.Coil == ownCoil {
		m.Windows = f.ownWindow(p)
		if t, ok := p.parse("holds", quantity.KindTemperature, f.HoldA, f.Unit); ok {
			m.Reference = quantity.Temperature(t.SI)
		}
	} else {
		out.Limits = sheet.Limits(own.Acceptance)
		for i := range out.Limits {
			m.Windows = append(m.Windows, windowOf(sheet.Book, &out.Limits[i]))
		}
		m.Others = otherCoils(sheet, own)
		out.Check, out.Reading = measuredIn(c, own.Acceptance, m.Where)
	}

	var ok bool
	if m.Reading, ok = p.parse("ohms", quantity.KindResistance, f.Ohms, ""); !ok && p["ohms"] == "" && f.touched() && f.Case == "" {
		p["ohms"] = "Type what the meter shows, or OL."
	}
	m.Leads, _ = p.closed("leads", f.Leads, "", "Leads that read OL are broken. Use other leads before you measure anything.")
	if t, ok := p.parse("at", quantity.KindTemperature, f.At, f.Unit); ok {
		m.Temperature = quantity.Temperature(t.SI)
	} else if p["at"] == "" && m.Reading.Kind != "" && !m.Reading.OpenLoop {
		p["at"] = "Type the temperature. A coil's ohms change with it, so there is no verdict without."
	}
	m.Insulation, _ = p.parse("case", quantity.KindResistance, f.Case, f.CaseUnit)
	if limits := sheet.Limits(insulationID); len(limits) > 0 {
		m.InsulationWindow = windowOf(sheet.Book, &limits[0])
	}
	m.Meter = f.meter(p)
	if v, ok := p.parse("supply", quantity.KindVoltage, f.Supply, ""); ok {
		m.Supplies = []quantity.Voltage{quantity.Voltage(v.SI)}
	}
	if len(p) > 0 || m.Reading.Kind == "" && m.Insulation.Kind == "" {
		return out
	}

	result, err := m.Judge()
	if err != nil {
		p[blamed(err)] = sentence(err)
		return out
	}
	out.Ready, out.Result = true, result
	if out.Check != nil {
		out.Points = pointsTo(c, out.Check, own.Acceptance, result)
	}
	return out
}

// blamed is the field that an error of package coil speaks of.
func blamed(err error) string {
	text := err.Error()
	for _, x := range []struct{ name, field string }{
		{"insulation", "case"}, {"lead", "leads"}, {"winding temperature", "at"}, {"reference temperature", "holds"}, {"voltage", "supply"},
	} {
		if strings.Contains(text, x.name) {
			return x.field
		}
	}
	return "ohms"
}

// ownWindow is the window that the user typed.
func (f coilForm) ownWindow(p problems) []conformity.Window {
	const open = "A limit is a number of ohms; OL is what a meter shows."
	w := conformity.Window{Name: "your own value"}
	if r, ok := p.closed("least", f.Least, "", open); ok {
		v := r.Value()
		w.Min = &v
	}
	if r, ok := p.closed("most", f.Most, "", open); ok {
		v := r.Value()
		w.Max = &v
	}
	switch {
	case w.Min == nil && w.Max == nil:
		if p["least"] == "" && p["most"] == "" && f.touched() {
			p["least"] = "Type at least one limit from the maker's manual."
		}
		return nil
	case w.Min != nil && w.Max != nil && w.Min.SI > w.Max.SI:
		p["most"] = "The greatest allowed is less than the least. Check both."
		return nil
	}
	return []conformity.Window{w}
}

// meter is the meter's accuracy as typed; nil for the usual one.
func (f coilForm) meter(p problems) *conformity.Accuracy {
	if f.Percent == "" && f.Digits == "" {
		return nil
	}
	a := conformity.Accuracy{Source: "as you entered it"}
	for _, x := range []struct {
		key, text string
		to        *float64
	}{{"percent", strings.TrimSuffix(strings.TrimSpace(f.Percent), "%"), &a.Percent}, {"digits", f.Digits, &a.Digits}} {
		r, ok := p.parse(x.key, quantity.KindRatio, strings.TrimSpace(x.text), quantity.Number.Name)
		if ok && r.SI < 0 {
			p[x.key] = "An accuracy is not below zero."
		}
		if ok {
			*x.to = r.SI
		}
	}
	return &a
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

// entry is the form as an entry of the check it belongs to.
func (f coilForm) entry(out coilOutcome) diagnosis.Entry {
	n := diagnosis.Entry{
		Check: out.Check.ID, Observation: out.Reading.ID, Reading: f.Ohms,
		Leads: f.Leads, Percent: f.Percent, Digits: f.Digits, Soaked: f.State == stateSoaked,
	}
	if f.At != "" {
		n.At = withUnit(f.At, f.Unit)
	}
	return n
}

// withUnit adds the field's unit to a bare number.
func withUnit(text, unit string) string {
	last := text[len(text)-1]
	if last >= '0' && last <= '9' || last == '.' {
		return text + " " + unit
	}
	return text
}

// line is the form and what it came to, for the notes of a job.
func (f coilForm) line(out coilOutcome) string {
	name := "Coil"
	if c, ok := unit.CoilByID(f.Coil); ok {
		name = c.Name
	}
	var said []string
	if f.Ohms != "" {
		said = append(said, withUnit(f.Ohms, quantity.Ohm.Name))
	}
	if f.Leads != "" {
		said = append(said, "leads "+withUnit(f.Leads, quantity.Ohm.Name))
	}
	if f.At != "" {
		said = append(said, "winding at "+withUnit(f.At, f.Unit))
	}
	if f.Case != "" {
		said = append(said, "to the case "+withUnit(f.Case, f.CaseUnit))
	}
	said = append(said, placeWords[coil.Place(f.Where)])
	text := name + ": " + strings.Join(said, ", ") + ". " + part.VerdictWord(out.Result.Judgement.Verdict)
	if out.Result.Referred > 0 {
		text += ", " + ohms(out.Result.Referred) + " at " + temperature(out.Result.Reference)
	}
	for _, l := range out.Limits {
		text += "; limit " + part.LimitText(l) + ", " + strings.ToLower(part.ProvenanceWord(l.Provenance.Kind))
	}
	return text + "."
}

var placeWords = map[coil.Place]string{
	coil.Part:      "at the part",
	coil.Connector: "at the case plug",
	coil.Harness:   "through the harness",
}
