package author

import (
	"fmt"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
)

func checkNeeded(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j, o := range c.Observations {
			tells := slices.ContainsFunc(o.Outcomes, func(out catalogue.Outcome) bool { return len(out.Shows) > 0 })
			if !tells {
				report(at(checkPath(c), "observations", j), "No outcome shows a fault.", "Say under shows which faults it points to, or leave the observation out.")
			}
		}
		if len(c.Observations) == 0 {
			report(checkPath(c), "The check observes nothing.", "")
		}
	}
}

func proofShows(d *Data, report report) {
	d.eachOutcome(func(_ *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		if len(out.Proves) == 0 {
			return
		}
		for i, id := range out.Proves {
			if !slices.ContainsFunc(out.Shows, func(l catalogue.Link) bool { return l.ID == id }) {
				report(at(path, "proves", i), fmt.Sprintf("The outcome proves %s and does not show it.", id), "Add it to shows with its level.")
			}
		}
		for i, l := range out.Shows {
			if !slices.Contains(out.Proves, l.ID) {
				report(at(path, "shows", i), fmt.Sprintf("The outcome proves something else and shows %s too.", l.ID), "Give that fault an outcome of its own.")
			}
		}
	})
}

func normalLast(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j, o := range c.Observations {
			if len(o.Outcomes) < 2 {
				report(at(checkPath(c), "observations", j, "outcomes"), fmt.Sprintf("Expected at least two outcomes, found %d.", len(o.Outcomes)), "")
				continue
			}
			last := len(o.Outcomes) - 1
			for k, out := range o.Outcomes {
				p := at(checkPath(c), "observations", j, "outcomes", k)
				switch {
				case k == last && !out.Normal:
					report(p, "The last outcome is not normal.", "End with what a healthy unit shows, normal: true.")
				case k < last && out.Normal:
					report(p+"/normal", "Only the last outcome is normal.", "Move it to the end, or fold the two into one.")
				case out.Normal && len(out.Shows)+len(out.Proves) > 0:
					report(p, "The normal outcome shows a fault.", "What a fault shows is not normal; leave shows and proves out.")
				}
			}
		}
	}
}

func leak(d *Data, report report) {
	d.eachOutcome(func(_ *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		switch {
		case out.Normal && out.Leak != "":
			report(path+"/leak", "The normal outcome has a leak.", "It is what is left when no sign fires; leave leak out.")
		case !out.Normal && out.Leak == "" && !d.stands(path+"/leak"):
			report(path, "The outcome has no leak.", "Say how often it is seen with none of these faults; never is a level too.")
		}
	})
}

// stands says whether a value was written, right or wrong.
func (d *Data) stands(path string) bool {
	_, ok := d.places[path]
	return ok
}

func linkLevel(d *Data, report report) {
	links := func(path string, list []catalogue.Link) {
		for i, l := range list {
			if l.Level == catalogue.Never {
				report(at(path, i), fmt.Sprintf("%s never shows here.", l.ID), "Delete the link.")
			}
		}
	}
	for i := range d.Catalogue.Faults {
		links(faultPath(&d.Catalogue.Faults[i])+"/symptoms", d.Catalogue.Faults[i].Symptoms)
	}
	d.eachOutcome(func(_ *catalogue.Check, _ *catalogue.Observation, out *catalogue.Outcome, path string) {
		links(path+"/shows", out.Shows)
	})
}

var methodVerdicts = map[string][]string{
	"window": {"below", "above", "open", "meets"},
	"coil":   {"open", "short", "below", "above", "meets"},
}

func verdict(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j, o := range c.Observations {
			used := map[string]bool{}
			for k, out := range o.Outcomes {
				p := at(checkPath(c), "observations", j, "outcomes", k)
				switch {
				case o.Reading == nil && out.Verdict != "":
					report(p+"/verdict", "The user picks this outcome, so a verdict cannot choose it.", "Give the observation a reading, or leave verdict out.")
				case o.Reading == nil:
				case out.Verdict == "" && !d.stands(p+"/verdict"):
					report(p, "The outcome of a reading has no verdict.", fmt.Sprintf("Legal: %s.", list(methodVerdicts[o.Reading.Method])))
				case out.Verdict == "":
				case !slices.Contains(methodVerdicts[o.Reading.Method], out.Verdict):
					report(p+"/verdict", fmt.Sprintf("%q is not a verdict of the method %s. Legal: %s.", out.Verdict, o.Reading.Method, list(methodVerdicts[o.Reading.Method])), "")
				case used[out.Verdict]:
					report(p+"/verdict", fmt.Sprintf("%q chooses an earlier outcome already.", out.Verdict), "Use each verdict once; what needs the eye is an observation of its own.")
				case out.Normal != (out.Verdict == "meets"):
					report(p+"/verdict", "The normal outcome, and only it, meets.", "")
				}
				used[out.Verdict] = true
			}
			d.unreachable(c, j, used, report)
		}
	}
}

// unreachable reports the verdicts that a reading can end in although no
// outcome takes them up.
func (d *Data) unreachable(c *catalogue.Check, j int, used map[string]bool, report report) {
	o := &c.Observations[j]
	if o.Reading == nil {
		return
	}
	a, ok := d.Book.Acceptance(o.Reading.Acceptance)
	if !ok {
		return
	}
	sides := map[string]bool{}
	for _, l := range a.Limits {
		sides["below"] = sides["below"] || l.MinText != ""
		sides["above"] = sides["above"] || l.MaxText != ""
	}
	for _, side := range []string{"below", "above"} {
		p := at(checkPath(c), "observations", j)
		switch {
		case sides[side] && !used[side]:
			report(p, fmt.Sprintf("The reading can be %s its limits and no outcome says so.", side), "Add the outcome.")
		case !sides[side] && used[side] && o.Reading.Method == "window":
			report(p, fmt.Sprintf("%s has no limit that a reading could be %s.", a.ID, side), "Leave the outcome out, or add the limit to the unit sheet.")
		}
	}
}

func reading(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j, o := range c.Observations {
			if o.Reading == nil {
				continue
			}
			p := at(checkPath(c), "observations", j, "reading")
			if a, ok := d.Book.Acceptance(o.Reading.Acceptance); ok && string(a.Quantity) != o.Reading.Quantity {
				report(p+"/quantity", fmt.Sprintf("%s is a %s, the reading is a %s.", a.ID, a.Quantity, o.Reading.Quantity), "")
			}
			if o.Reading.Method == "coil" && o.Reading.Quantity != string(quantity.KindResistance) {
				report(p+"/method", fmt.Sprintf("A %s is not judged as a coil.", o.Reading.Quantity), "The method coil is for resistances.")
			}
		}
	}
}

func preliminary(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		if c.Preliminary == "" {
			continue
		}
		if !slices.Contains(catalogue.Preliminaries, c.Preliminary) {
			report(checkPath(c)+"/preliminary", fmt.Sprintf("There is no place %q among the preliminary checks.", c.Preliminary), "Legal: level, fluid, linkage, codes.")
		}
		if c.Level != levelIDs[0] {
			report(checkPath(c)+"/level", fmt.Sprintf("A preliminary check is done at level %s.", c.Level), "Preliminary checks are done on the wheels.")
		}
	}
}

// stepValue wants the value beside a step that speaks of the sheet, unless a
// reading of the check shows it.
func stepValue(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		read := slices.ContainsFunc(c.Observations, func(o catalogue.Observation) bool { return o.Reading != nil })
		for j, s := range c.Steps {
			if strings.Contains(s.Do, "the sheet") && len(s.Values) == 0 && !read {
				report(at(checkPath(c), "steps", j, "do"), "The step speaks of the sheet and shows no value.", "Name the acceptance value under values of the step.")
			}
		}
	}
}

// longestCheck is in minutes; anything longer is a repair.
const longestCheck = 240

func cost(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		if c.Minutes <= 0 || c.Minutes > longestCheck {
			report(checkPath(c)+"/minutes", fmt.Sprintf("Expected more than 0 and at most %d minutes, found %g.", longestCheck, c.Minutes), "")
		}
	}
	for i, l := range d.Catalogue.Access {
		free := i == 0 // nothing is opened to have the truck on its wheels
		if !free && (l.Open <= 0 || l.Close <= 0) || free && (l.Open != 0 || l.Close != 0) {
			report(at("access", i), fmt.Sprintf("The level %s takes %g minutes to open and %g to close.", l.ID, l.Open, l.Close), "The first level is free, every other takes time.")
		}
	}
}

func access(d *Data, report report) {
	found := idsOf(d.Catalogue.Access, func(l *catalogue.AccessLevel) string { return l.ID })
	if !slices.Equal(found, levelIDs) {
		report("access", fmt.Sprintf("Expected the levels %s, found %s.", list(levelIDs), list(found)), "")
	}
}

const mostSteps = 16

func steps(d *Data, report report) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		if n := len(c.Steps); n < 1 || n > mostSteps {
			report(checkPath(c)+"/steps", fmt.Sprintf("Expected 1 to %d steps, found %d.", mostSteps, n), "Make two checks of it, or leave out what every technician does unasked.")
		}
	}
}
