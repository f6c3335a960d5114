package author

import (
	"fmt"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// ids holds the ids of one kind of record, for the reference rules.
type ids []string

func idsOf[T any](records []T, id func(*T) string) ids {
	out := make(ids, len(records))
	for i := range records {
		out[i] = id(&records[i])
	}
	return out
}

func (d *Data) symptomIDs() ids {
	return idsOf(d.Catalogue.Symptoms, func(s *catalogue.Symptom) string { return s.ID })
}
func (d *Data) faultIDs() ids {
	return idsOf(d.Catalogue.Faults, func(f *catalogue.Fault) string { return f.ID })
}
func (d *Data) cautionIDs() ids {
	return idsOf(d.Catalogue.Cautions, func(c *catalogue.Caution) string { return c.ID })
}
func (d *Data) drawingIDs() ids {
	return idsOf(d.Catalogue.Drawings, func(p *catalogue.Drawing) string { return p.ID })
}
func (d *Data) acceptanceIDs() ids {
	return idsOf(d.Book.Acceptances, func(a *unit.Acceptance) string { return a.ID })
}

func reference(d *Data, report report) {
	symptoms, faults, cautions, acceptances := d.symptomIDs(), d.faultIDs(), d.cautionIDs(), d.acceptanceIDs()
	leads := func(kind string, known ids, id, path string) {
		if id != "" && !slices.Contains(known, id) {
			report(path, fmt.Sprintf("There is no %s %q.", kind, id), nearest(id, known))
		}
	}
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		for j, l := range f.Symptoms {
			leads("symptom", symptoms, l.ID, at(faultPath(f), "symptoms", j, "id"))
		}
		for j, id := range f.Repair.Uses {
			leads("acceptance value", acceptances, id, at(faultPath(f), "repair/uses", j))
		}
	}
	for i := range d.Catalogue.Drawings {
		for j, id := range d.Catalogue.Drawings[i].Values {
			leads("acceptance value", acceptances, id, at(drawingPath(&d.Catalogue.Drawings[i]), "values", j))
		}
	}
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		leads("symptom", symptoms, c.Sees, checkPath(c)+"/sees")
		for j, id := range c.Drawings {
			leads("drawing", d.drawingIDs(), id, at(checkPath(c), "drawings", j))
		}
		for j, s := range c.Steps {
			leads("drawing", d.drawingIDs(), s.Drawing, at(checkPath(c), "steps", j, "drawing"))
			for k, id := range s.Values {
				leads("acceptance value", acceptances, id, at(checkPath(c), "steps", j, "values", k))
			}
			for k, id := range s.Cautions {
				leads("caution", cautions, id, at(checkPath(c), "steps", j, "cautions", k))
			}
		}
		for j, o := range c.Observations {
			if o.Reading != nil {
				leads("acceptance value", acceptances, o.Reading.Acceptance, at(checkPath(c), "observations", j, "reading/acceptance"))
			}
		}
	}
	d.eachOutcome(func(_ *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		for i, l := range out.Shows {
			leads("fault", faults, l.ID, at(path, "shows", i, "id"))
		}
		for i, id := range out.Proves {
			leads("fault", faults, id, at(path, "proves", i))
		}
	})
}

func repeated(d *Data, report report) {
	links := func(path string, list []catalogue.Link) {
		seen := map[catalogue.Link]bool{}
		for i, l := range list {
			l.Level = ""
			if seen[l] {
				report(at(path, i), fmt.Sprintf("%q stands twice under the same condition.", l.ID), "Keep the stronger level.")
			}
			seen[l] = true
		}
	}
	texts := func(path string, list []string) {
		for i, s := range list {
			if slices.Contains(list[:i], s) {
				report(at(path, i), fmt.Sprintf("%q stands twice.", s), "Keep one.")
			}
		}
	}
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		links(faultPath(f)+"/symptoms", f.Symptoms)
		texts(faultPath(f)+"/versions", words(f.Versions))
		texts(faultPath(f)+"/repair/renew", f.Repair.Renew)
		texts(faultPath(f)+"/repair/rework", f.Repair.Rework)
		texts(faultPath(f)+"/repair/set", f.Repair.Set)
		texts(faultPath(f)+"/repair/uses", f.Repair.Uses)
	}
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		texts(checkPath(c)+"/also", append([]string{c.Level}, c.Also...)[1:])
		if slices.Contains(c.Also, c.Level) {
			report(checkPath(c)+"/also", fmt.Sprintf("%q is the check's own level.", c.Level), "Leave it out of also.")
		}
		texts(checkPath(c)+"/versions", words(c.Versions))
		texts(checkPath(c)+"/tools", c.Tools)
		for j, s := range c.Steps {
			texts(at(checkPath(c), "steps", j, "cautions"), s.Cautions)
		}
	}
	d.eachOutcome(func(_ *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		links(path+"/shows", out.Shows)
		texts(path+"/proves", out.Proves)
	})
}

func symptomFault(d *Data, report report) {
	explained := map[string]bool{}
	for _, f := range d.Catalogue.Faults {
		for _, l := range f.Symptoms {
			explained[l.ID] = true
		}
	}
	for i := range d.Catalogue.Symptoms {
		if s := &d.Catalogue.Symptoms[i]; !explained[s.ID] {
			report(symptomPath(s), fmt.Sprintf("No fault shows in %s.", s.ID), "Add the symptom to the faults that cause it.")
		}
	}
}

func faultSymptom(d *Data, report report) {
	for i := range d.Catalogue.Faults {
		if f := &d.Catalogue.Faults[i]; len(f.Symptoms) == 0 {
			report(faultPath(f)+"/symptoms", fmt.Sprintf("%s shows in no symptom.", f.ID), "Say what the customer or a road test notices.")
		}
	}
}

// present lists the versions that have a record.
func present(vs []unit.Version) []unit.Version {
	if len(vs) == 0 {
		return unit.Versions
	}
	return vs
}

func faultProof(d *Data, report report) {
	proved := map[string][]unit.Version{}
	d.eachOutcome(func(c *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, _ string) {
		for _, id := range out.Proves {
			proved[id] = append(proved[id], present(c.Versions)...)
		}
	})
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		for _, v := range present(f.Versions) {
			if !slices.Contains(proved[f.ID], v) {
				report(faultPath(f), fmt.Sprintf("No check proves %s on the %s version.", f.ID, v), "Add proves to the outcome that settles it.")
				break
			}
		}
	}
}

func faultRepair(d *Data, report report) {
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		if r := f.Repair; len(r.Renew)+len(r.Rework)+len(r.Set) == 0 {
			report(faultPath(f)+"/repair", "The repair neither renews, reworks nor sets anything.", "")
		}
	}
}

func versions(d *Data, report report) {
	fault := map[string]*catalogue.Fault{}
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		fault[f.ID] = f
		if len(f.Versions) == len(unit.Versions) {
			report(faultPath(f)+"/versions", "All versions are listed.", "Leave versions out: without it all versions have the fault.")
		}
	}
	for i := range d.Catalogue.Checks {
		if c := &d.Catalogue.Checks[i]; len(c.Versions) == len(unit.Versions) {
			report(checkPath(c)+"/versions", "All versions are listed.", "Leave versions out: without it the check is for all versions.")
		}
	}
	d.eachOutcome(func(c *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		for i, l := range out.Shows {
			f, ok := fault[l.ID]
			if ok && !slices.ContainsFunc(present(c.Versions), func(v unit.Version) bool { return slices.Contains(present(f.Versions), v) }) {
				report(at(path, "shows", i), fmt.Sprintf("No version has both the check and %s.", l.ID), "")
			}
		}
	})
}

func family(d *Data, report report) {
	member := map[[2]string]string{}
	for i := range d.Catalogue.Symptoms {
		s := &d.Catalogue.Symptoms[i]
		if s.Family == "" {
			continue
		}
		if s.Gear == "" {
			if !strings.HasSuffix(s.ID, "-all") {
				report(symptomPath(s)+"/family", "A member of a family has no gear.", "Say which gear or shift it is, or end the id in -all for every gear.")
			}
			continue
		}
		key := [2]string{s.Family, s.Gear}
		if other, ok := member[key]; ok {
			report(symptomPath(s)+"/gear", fmt.Sprintf("%s is the member of %s in gear %s already.", other, s.Family, s.Gear), "")
		}
		member[key] = s.ID
	}
}

func cautionUsed(d *Data, report report) {
	used := map[string]bool{}
	for _, c := range d.Catalogue.Checks {
		for _, s := range c.Steps {
			for _, id := range s.Cautions {
				used[id] = true
			}
		}
	}
	for i := range d.Catalogue.Cautions {
		if c := &d.Catalogue.Cautions[i]; !used[c.ID] {
			report(cautionPath(c), "No step has this caution before it.", "Put it before the step that needs it, or delete it.")
		}
	}
}

func acceptanceUsed(d *Data, report report) {
	used := map[string]bool{}
	for _, f := range d.Catalogue.Faults {
		for _, id := range f.Repair.Uses {
			used[id] = true
		}
	}
	for i := range d.Catalogue.Checks {
		for _, id := range d.Catalogue.Checks[i].Values() {
			used[id] = true
		}
	}
	for i := range d.Book.Acceptances {
		if a := &d.Book.Acceptances[i]; !used[a.ID] {
			report(acceptancePath(a), "No check reads this value and no repair uses it.", "Name it in the reading of a check or under uses of a repair.")
		}
	}
}
