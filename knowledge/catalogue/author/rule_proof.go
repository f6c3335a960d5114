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
