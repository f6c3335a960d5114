package author

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// Cell is one mark of the application chart: an element in a gear.
type Cell struct {
	Element  unit.ElementID
	Gear     unit.Gear
	Reports  []Loss           // who misses the element in that gear
	StandIns []unit.ElementID // elements that keep the gear without it
	Kept     bool             // the gear is there without it, so nobody need miss it
}

// Loss is a symptom of a fault that reports an element's loss in a gear.
type Loss struct{ Fault, Symptom string }

// Gap reports whether the gear needs the element and no symptom of its faults
// says that it is missing.
func (c Cell) Gap() bool { return len(c.Reports) == 0 && !c.Kept }

// Cells holds the catalogue against the application chart. In P and N nothing
// is driven, so nothing is lost there.
func (d *Data) Cells() []Cell {
	var out []Cell
	for _, row := range d.unit.chart {
		if _, err := unit.RatioWith(row.On); err != nil {
			continue
		}
		for _, e := range d.unit.elements {
			if row.Has(e.ID) {
				c := Cell{Element: e.ID, Gear: row.Gear, Reports: d.losses(e.ID, row.Gear)}
				c.StandIns, c.Kept = standIns(row, e.ID)
				out = append(out, c)
			}
		}
	}
	return out
}

func (d *Data) losses(element unit.ElementID, gear unit.Gear) []Loss {
	var out []Loss
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		if !d.belongs(f, element) {
			continue
		}
		for _, l := range f.Symptoms {
			s := d.Catalogue.Symptom(l.ID)
			elsewhere := l.When.Gear != "" && l.When.Gear != string(gear)
			if s != nil && slices.Contains(s.Loses, gear) && !elsewhere {
				out = append(out, Loss{f.ID, s.ID})
			}
		}
	}
	return out
}

// belongs says whether a fault's own part is one of an element. The parts in
// which it sits as well don't count: several elements share some of them.
func (d *Data) belongs(f *catalogue.Fault, element unit.ElementID) bool {
	p := d.Catalogue.Part(f.Part)
	return p != nil && slices.Contains(p.Elements, element)
}

// FaultsIn lists the faults that sit in a part.
func (d *Data) FaultsIn(part string) []*catalogue.Fault {
	var out []*catalogue.Fault
	for i := range d.Catalogue.Faults {
		if f := &d.Catalogue.Faults[i]; f.SitsIn(part) {
			out = append(out, f)
		}
	}
	return out
}

// WriteCoverage prints what the catalogue covers: each part with its faults,
// their symptoms and the checks that prove them, and the application chart
// with who misses which element in which gear. What is not covered carries its
// reason; a gap without one is refused by the rules and listed at the end.
func (d *Data) WriteCoverage(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "Parts: %d. Faults: %d. Symptoms: %d. Checks: %d.\n", len(d.Catalogue.Parts), len(d.Catalogue.Faults), len(d.Catalogue.Symptoms), len(d.Catalogue.Checks))
	for _, area := range areas {
		fmt.Fprintf(&b, "\n# %s\n", area)
		for i := range d.Catalogue.Parts {
			p := &d.Catalogue.Parts[i]
			if p.Area != area {
				continue
			}
			fmt.Fprintf(&b, "%s (%s)\n", p.ID, p.Kind)
			if p.Sound != "" {
				fmt.Fprintf(&b, "  no fault: %s\n", p.Sound)
			}
			for _, f := range d.FaultsIn(p.ID) {
				symptoms := idsOf(f.Symptoms, func(l *catalogue.Link) string { return l.ID })
				var proofs []string
				for _, x := range d.Catalogue.Proofs(f.ID) {
					if !slices.Contains(proofs, x.Check.ID) {
						proofs = append(proofs, x.Check.ID)
					}
				}
				fmt.Fprintf(&b, "  %s <- %s <- %s\n", f.ID, strings.Join(symptoms, ", "), strings.Join(proofs, ", "))
			}
		}
	}
	fmt.Fprint(&b, "\n# Application chart: element, gear, who misses it\n")
	for _, c := range d.Cells() {
		fmt.Fprintf(&b, "%-28s %-17s %s\n", c.Element, c.Gear, c.says())
	}
	gaps := d.Gaps()
	fmt.Fprintf(&b, "\n# Gaps: %d\n", len(gaps))
	for _, g := range gaps {
		fmt.Fprintln(&b, g)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

func (c Cell) says() string {
	if len(c.Reports) > 0 {
		said := make([]string, len(c.Reports))
		for i, r := range c.Reports {
			said[i] = r.Symptom + " of " + r.Fault
		}
		return strings.Join(said, ", ")
	}
	if c.Kept {
		return "nobody: the gear is kept by " + list(words(c.StandIns))
	}
	return "GAP"
}

// coverageRules are the rules that find what the catalogue leaves out.
var coverageRules = []string{"symptom-fault", "fault-symptom", "fault-proof", "fault-repair", "part", "part-fault", "unit-part", "chart", "repair-proof", "repair-refit", "check-needed", "acceptance-used", "number"}

// Gaps lists what the catalogue leaves out without a reason.
func (d *Data) Gaps() Problems {
	var gaps Problems
	for _, p := range d.validate() {
		if slices.Contains(coverageRules, p.Rule) {
			gaps = append(gaps, p)
		}
	}
	gaps.sort()
	return gaps
}
