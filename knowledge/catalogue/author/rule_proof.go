package author

import (
	"fmt"
	"slices"

	"provingbench/knowledge/catalogue"
)

func repairProof(d *Data, report report) {
	checks := idsOf(d.Catalogue.Checks, func(c *catalogue.Check) string { return c.ID })
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		p := faultPath(f) + "/repair"
		if len(f.Repair.Proof) == 0 {
			report(p, "The repair names no check to repeat.", "Say under proof which checks show that it has worked.")
		}
		for j, id := range f.Repair.Proof {
			c := d.Catalogue.Check(id)
			switch {
			case c == nil:
				report(at(p, "proof", j), fmt.Sprintf("There is no check %q.", id), nearest(id, checks))
			case slices.Contains(f.Repair.Proof[:j], id):
				report(at(p, "proof", j), fmt.Sprintf("%q stands twice.", id), "Keep one.")
			}
		}
		for _, v := range present(f.Versions) {
			done := func(id string) bool { c := d.Catalogue.Check(id); return c == nil || c.On(v) }
			if len(f.Repair.Proof) > 0 && !slices.ContainsFunc(f.Repair.Proof, done) {
				report(p+"/proof", fmt.Sprintf("None of the checks can be done on the %s version.", v), "Add one that can.")
				break
			}
		}
	}
}

// refit is what has to go back whatever the repair was, by the level it is done
// at. With the unit out that depends on what was taken apart.
var refit = map[string][]string{
	"pan":   {"pan-bolts", "filter-screws", "service-fill"},
	"bench": {"valve-body-to-case", "pan-bolts", "filter-screws", "service-fill"},
}

func repairRefit(d *Data, report report) {
	known := d.acceptanceIDs()
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		for _, id := range refit[f.Needs] {
			if slices.Contains(known, id) && !slices.Contains(f.Repair.Uses, id) {
				report(faultPath(f)+"/repair", fmt.Sprintf("The repair is done at level %s and does not use %s.", f.Needs, id), "Name under uses what it takes to close the unit again.")
			}
		}
		fills := []string{"overhaul-fill", "service-fill"}
		used := func(id string) bool { return slices.Contains(f.Repair.Uses, id) }
		if f.Needs == "out" && slices.Contains(known, fills[0]) && !slices.ContainsFunc(fills, used) {
			report(faultPath(f)+"/repair", "The repair is done with the unit out and uses no fill.", "Name overhaul-fill under uses, or service-fill where the converter keeps its fluid.")
		}
	}
}
