package answer

import (
	"cmp"
	"slices"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/order"
	"provingbench/knowledge/unit"
)

// About is what stands with a hit: what can be read aloud, what belongs to it,
// and what to ask the caller. Every list is in the order in which it is said.
type About struct {
	Figures    []Figure             // the values of the record; for a value, itself
	More       []Figure             // values of the same part
	With       []catalogue.Together // parts that go with it
	Ask        []string             // questions of symptoms, as one would put them
	AskVersion bool                 // the figures are told by version, and it is not known
	AskBuild   bool                 // the same for the build
	Checks     []*catalogue.Check   // where it is read, proved or told
	Faults     []*catalogue.Fault   // what can be wrong there, the commonest first
}

// Figure is an acceptance value with the limits that hold. Where the version is
// not known, each version has a column of its own.
type Figure struct {
	Acceptance *unit.Acceptance
	Columns    []unit.VersionLimits
}

// How many of each are told; a line that is read aloud has no room for more.
const (
	mostFigures = 4
	mostWith    = 5
	mostAsk     = 2
	mostChecks  = 4
	mostFaults  = 5
)

// About gathers what stands with a hit. The sheet says which truck it is for; a
// version that the query names goes before the sheet's.
func (x *Index) About(h Hit, sheet unit.Sheet, named unit.Version) About {
	sheet = versionOf(sheet, named)
	var a About
	switch h.Kind {
	case Value:
		x.aboutValue(&a, h.ID, sheet)
	case Part:
		x.aboutPart(&a, h.ID, sheet)
	case Fault:
		if f := x.catalogue.Fault(h.ID); f != nil {
			a.With = f.Repair.Together
			a.Ask = x.ask([]*catalogue.Fault{f})
			for _, p := range x.catalogue.Proofs(f.ID) {
				a.Checks = addCheck(a.Checks, p.Check)
			}
		}
	case Symptom:
		if s := x.catalogue.Symptom(h.ID); s != nil {
			a.Ask = []string{s.Ask}
			a.Faults = x.behind(s.ID)
		}
	case Check:
		if k := x.catalogue.Check(h.ID); k != nil {
			for _, id := range k.Values() {
				a.Figures = x.addFigure(a.Figures, id, sheet)
			}
		}
	case Code:
		if k := x.catalogue.Code(h.ID); k != nil {
			for _, n := range k.Next {
				if check := x.catalogue.Check(n.Check); check != nil {
					a.Checks = addCheck(a.Checks, check)
				}
			}
		}
	case Change:
		for i := range x.catalogue.Modifications {
			if m := &x.catalogue.Modifications[i]; m.ID == h.ID {
				for _, id := range m.Uses {
					a.Figures = x.addFigure(a.Figures, id, sheet)
				}
			}
		}
	}
	a.Figures = a.Figures[:min(len(a.Figures), mostFigures)]
	a.More = a.More[:min(len(a.More), mostFigures)]
	a.With = a.With[:min(len(a.With), mostWith)]
	a.Checks = a.Checks[:min(len(a.Checks), mostChecks)]
	a.Faults = a.Faults[:min(len(a.Faults), mostFaults)]
	for _, f := range a.Figures {
		for _, l := range f.Acceptance.Limits {
			a.AskVersion = a.AskVersion || sheet.Version == "" && len(f.Columns) > 1
			a.AskBuild = a.AskBuild || sheet.Build == "" && len(l.Condition.Builds) > 0
		}
	}
	return a
}

// Figure gives a value with the limits that hold, as About does; no columns when
// there is no such value.
func (x *Index) Figure(id string, sheet unit.Sheet, named unit.Version) Figure {
	if list := x.addFigure(nil, id, versionOf(sheet, named)); len(list) > 0 {
		return list[0]
	}
	return Figure{Acceptance: &unit.Acceptance{ID: id}}
}

// versionOf is the sheet for the version that a query names. Of a version that
// is not the one at hand nobody has said how it was built.
func versionOf(sheet unit.Sheet, named unit.Version) unit.Sheet {
	if named != "" && named != sheet.Version {
		sheet.Version, sheet.Build = named, ""
	}
	return sheet
}

func (x *Index) aboutValue(a *About, id string, sheet unit.Sheet) {
	a.Figures = x.addFigure(nil, id, sheet)
	for i := range x.catalogue.Checks {
		k := &x.catalogue.Checks[i]
		if reads(k, id) {
			a.Checks = addCheck(a.Checks, k)
		}
	}
	var all []*catalogue.Fault
	for i := range x.catalogue.Parts {
		p := &x.catalogue.Parts[i]
		of := x.partValues()[i]
		if !slices.Contains(of, id) {
			continue
		}
		for _, other := range of {
			if other != id {
				a.More = x.addFigure(a.More, other, sheet)
			}
		}
		all = append(all, x.sittingIn(p.ID)...)
	}
	commonest(all)
	a.With = together(all)
	if len(a.Checks) > 0 {
		return
	}
	for _, f := range all { // it is set, not read: what proves that it must be
		if slices.Contains(f.Repair.Uses, id) {
			for _, proof := range x.catalogue.Proofs(f.ID) {
				a.Checks = addCheck(a.Checks, proof.Check)
			}
		}
	}
}

func (x *Index) aboutPart(a *About, id string, sheet unit.Sheet) {
	p := x.catalogue.Part(id)
	if p == nil {
		return
	}
	for _, v := range x.partValues()[x.partIndex(id)] {
		a.Figures = x.addFigure(a.Figures, v, sheet)
	}
	a.Faults = x.sittingIn(id)
	a.With = together(a.Faults)
	a.Ask = x.ask(a.Faults)
	for _, f := range a.Faults {
		for _, proof := range x.catalogue.Proofs(f.ID) {
			a.Checks = addCheck(a.Checks, proof.Check)
		}
	}
}

// addFigure adds a value once, when the book has it.
func (x *Index) addFigure(list []Figure, id string, sheet unit.Sheet) []Figure {
	a, ok := x.book.Acceptance(id)
	if !ok || slices.ContainsFunc(list, func(f Figure) bool { return f.Acceptance.ID == id }) {
		return list
	}
	f := Figure{Acceptance: a}
	if _, own := sheet.Own[id]; own || sheet.Version != "" {
		f.Columns = []unit.VersionLimits{{Limits: sheet.Limits(id)}}
		if sheet.Version != "" {
			f.Columns[0].Versions = []unit.Version{sheet.Version}
		}
	} else {
		f.Columns = a.ByVersion()
	}
	return append(list, f)
}

// partValues gives the values of each part, in the order of the parts. They are
// gathered when they are first asked for.
func (x *Index) partValues() [][]string {
	x.once.Do(func() {
		x.ofParts = make([][]string, len(x.catalogue.Parts))
		for i := range x.catalogue.Parts {
			x.ofParts[i] = x.valuesOf(&x.catalogue.Parts[i])
		}
	})
	return x.ofParts
}

func (x *Index) partIndex(id string) int {
	return slices.IndexFunc(x.catalogue.Parts, func(p catalogue.Part) bool { return p.ID == id })
}

// valuesOf lists the values of a part: one of the part's names stands in the
// value's name, and a fault of the part is read by it or needs it for its repair.
// What every repair needs, such as the pan's bolts, is no value of each part.
func (x *Index) valuesOf(p *catalogue.Part) []string {
	touched := map[string]bool{}
	faults := x.sittingIn(p.ID)
	for _, f := range faults {
		for _, id := range f.Repair.Uses {
			touched[id] = true
		}
	}
	for i := range x.catalogue.Checks {
		for _, o := range x.catalogue.Checks[i].Observations {
			if o.Reading != nil && !touched[o.Reading.Acceptance] && shows(&o, faults) {
				touched[o.Reading.Acceptance] = true
			}
		}
	}
	if len(touched) == 0 {
		return nil
	}
	part := x.record(Part, p.ID)
	if part < 0 {
		return nil
	}
	var out []string
	for i := range x.records {
		if r := &x.records[i]; r.kind == Value && touched[r.id] && x.namedBy(r, &x.records[part]) {
			out = append(out, r.id)
		}
	}
	return out
}

// namedBy reports whether a name of the part stands within a name of the value.
func (x *Index) namedBy(value, part *record) bool {
	for _, name := range part.phrases {
		for _, phrase := range value.phrases {
			if !slices.ContainsFunc(name, func(id int) bool { return !slices.Contains(phrase, id) }) {
				return true
			}
		}
	}
	return false
}

// record gives the place of a record, or -1.
func (x *Index) record(k Kind, id string) int {
	return slices.IndexFunc(x.records, func(r record) bool { return r.kind == k && r.id == id })
}

// sittingIn lists the faults of a part, the commonest first.
func (x *Index) sittingIn(part string) []*catalogue.Fault {
	var out []*catalogue.Fault
	for i := range x.catalogue.Faults {
		if f := &x.catalogue.Faults[i]; f.SitsIn(part) {
			out = append(out, f)
		}
	}
	commonest(out)
	return out
}

func commonest(faults []*catalogue.Fault) {
	order.Stable(faults, func(a, b *catalogue.Fault) int {
		x, _ := a.Frequency.Probability()
		y, _ := b.Frequency.Probability()
		return cmp.Compare(y, x)
	})
}

// behind lists the faults behind a symptom: by how often a truck comes in with
// the fault and shows the symptom by it.
func (x *Index) behind(symptom string) []*catalogue.Fault {
	type cause struct {
		fault  *catalogue.Fault
		weight float64
	}
	var all []cause
	for i := range x.catalogue.Faults {
		f := &x.catalogue.Faults[i]
		for _, l := range f.Symptoms {
			if l.ID == symptom {
				often, _ := f.Frequency.Probability()
				shows, _ := l.Level.Probability()
				all = append(all, cause{f, often * shows})
			}
		}
	}
	order.Stable(all, func(a, b cause) int { return cmp.Compare(b.weight, a.weight) })
	var out []*catalogue.Fault
	for _, c := range all {
		out = append(out, c.fault)
	}
	return out
}

// ask gives the questions of the symptoms that the faults show most strongly.
func (x *Index) ask(faults []*catalogue.Fault) []string {
	best := map[string]float64{}
	for _, f := range faults {
		for _, l := range f.Symptoms {
			p, _ := l.Level.Probability()
			best[l.ID] = max(best[l.ID], p)
		}
	}
	var out []string
	for len(out) < mostAsk && len(best) > 0 {
		next := ""
		for i := range x.catalogue.Symptoms { // in the catalogue's order, so that a draw is settled
			id := x.catalogue.Symptoms[i].ID
			if p, ok := best[id]; ok && (next == "" || p > best[next]) {
				next = id
			}
		}
		if next == "" {
			break
		}
		delete(best, next)
		out = append(out, x.catalogue.Symptom(next).Ask)
	}
	return out
}

// together gathers what goes with the repair of the faults, each part once.
func together(faults []*catalogue.Fault) []catalogue.Together {
	var out []catalogue.Together
	for _, f := range faults {
		for _, t := range f.Repair.Together {
			if !slices.ContainsFunc(out, func(o catalogue.Together) bool { return o.Part == t.Part }) {
				out = append(out, t)
			}
		}
	}
	return out
}

func addCheck(list []*catalogue.Check, k *catalogue.Check) []*catalogue.Check {
	if slices.Contains(list, k) {
		return list
	}
	return append(list, k)
}

// reads reports whether a check needs a value.
func reads(k *catalogue.Check, acceptance string) bool {
	return slices.Contains(k.Values(), acceptance)
}

// shows reports whether an observation tells one of the faults.
func shows(o *catalogue.Observation, faults []*catalogue.Fault) bool {
	for i := range o.Outcomes {
		for _, l := range o.Outcomes[i].Shows {
			if slices.ContainsFunc(faults, func(f *catalogue.Fault) bool { return f.ID == l.ID }) {
				return true
			}
		}
	}
	return false
}
