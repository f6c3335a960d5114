package author

import (
	"fmt"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
)

func codePath(c *catalogue.Code) string                 { return "codes/" + c.ID }
func modificationPath(m *catalogue.Modification) string { return "builds/" + m.ID }

var (
	codePattern = regexp.MustCompile(`^P[0-3][0-9]{3}$`)
	codeInText  = regexp.MustCompile(`\bP[0-3][0-9]{3}\b`)
	figureWords = regexp.MustCompile(`\d[\d.,]*\s?(psi|kPa|bar|ohms?|kohm|Mohm|°F|°C|in-lb|ft-lb|N·m|rpm|mph|km/h|V|A|s|seconds|minutes|mm|qt)\b`)
)

// makersOwn says whether the maker decides what a number means. Source: SAE
// J2012, which leaves P1xxx and P30xx to P33xx to the makers.
func makersOwn(number string) bool {
	return strings.HasPrefix(number, "P1") || number >= "P3000" && number < "P3400"
}

func codeNumber(d *Data, report report) {
	for i := range d.Catalogue.Codes {
		c := &d.Catalogue.Codes[i]
		p := codePath(c)
		switch {
		case c.Number == "":
		case !codePattern.MatchString(c.Number):
			report(p+"/number", fmt.Sprintf("%q is not a number as a scan tool shows it.", c.Number), "Write P and four digits, P1757.")
		case strings.ToLower(c.Number) != c.ID:
			report(p+"/number", fmt.Sprintf("The number %s stands in the file of %s.", c.Number, c.ID), "Name the file after the number, in lower case.")
		case makersOwn(c.Number) && c.Standard != nil:
			report(p+"/standard", fmt.Sprintf("%s belongs to the maker; the standard has no name for it.", c.Number), "Leave standard out.")
		case !makersOwn(c.Number) && c.Standard == nil:
			report(p, fmt.Sprintf("%s is a number of the standard and its name there is missing.", c.Number), "Name it as SAE J2012 does, so that nobody takes the two for one.")
		}
		for j, o := range c.Older {
			at := at(p, "older", j, "number")
			switch {
			case o.Number == "":
			case codePattern.MatchString(o.Number) || catalogue.CodeNumber(o.Number) != o.Number:
				report(at, fmt.Sprintf("%q is not a number of two or three digits.", o.Number), "")
			case slices.ContainsFunc(c.Older[:j], func(other catalogue.Older) bool { return other.Number == o.Number }):
				report(at, fmt.Sprintf("%q stands twice.", o.Number), "Keep one.")
			}
		}
	}
}

func codeFinding(d *Data, report report) {
	checks := idsOf(d.Catalogue.Checks, func(c *catalogue.Check) string { return c.ID })
	for i := range d.Catalogue.Codes {
		c := &d.Catalogue.Codes[i]
		p := codePath(c)
		if c.Outcome == nil && !d.stands(p+"/outcome") && len(c.Notes) == 0 {
			report(p, "The code is no finding and nothing says why.", "Give it an outcome, or say under notes what it is good for.")
		}
		if c.Outcome != nil {
			d.finding(c, checks, report)
		}
		if len(c.Next) == 0 && !d.stands(p+"/next") {
			continue // its absence is reported as missing
		}
		if len(c.Next) == 0 {
			report(p+"/next", "No check comes next.", "Say what to do first when this code is stored.")
		}
		for j, n := range c.Next {
			at := at(p, "next", j, "check")
			switch {
			case n.Check == "":
			case !slices.Contains(checks, n.Check):
				report(at, fmt.Sprintf("There is no check %q.", n.Check), nearest(n.Check, checks))
			case slices.ContainsFunc(c.Next[:j], func(other catalogue.Ahead) bool { return other.Check == n.Check }):
				report(at, fmt.Sprintf("%q stands twice.", n.Check), "Keep the first.")
			}
		}
	}
}

// finding holds the outcome that a code is entered as against the check.
func (d *Data) finding(c *catalogue.Code, checks ids, report report) {
	p, ref := codePath(c)+"/outcome", c.Outcome
	if ref.Check == "" || ref.Observation == "" || ref.Outcome == "" {
		return // reported as missing or blank
	}
	check := d.Catalogue.Check(ref.Check)
	if check == nil {
		report(p+"/check", fmt.Sprintf("There is no check %q.", ref.Check), nearest(ref.Check, checks))
		return
	}
	o := check.Observation(ref.Observation)
	if o == nil {
		known := idsOf(check.Observations, func(o *catalogue.Observation) string { return o.ID })
		report(p+"/observation", fmt.Sprintf("%s has no observation %q.", check.ID, ref.Observation), nearest(ref.Observation, known))
		return
	}
	if o.Reading != nil {
		report(p+"/observation", fmt.Sprintf("%s is read, not picked.", o.ID), "A stored code is an outcome that is picked.")
		return
	}
	out := o.Outcome(ref.Outcome)
	switch {
	case out == nil:
		known := idsOf(o.Outcomes, func(o *catalogue.Outcome) string { return o.ID })
		report(p+"/outcome", fmt.Sprintf("%s has no outcome %q.", o.ID, ref.Outcome), nearest(ref.Outcome, known))
	case out.Normal:
		report(p+"/outcome", fmt.Sprintf("%q is what a healthy unit shows.", out.ID), "A stored code is never normal.")
	}
}

func codeKnown(d *Data, report report) {
	d.eachOutcome(func(c *catalogue.Check, o *catalogue.Observation, out *catalogue.Outcome, p string) {
		for _, number := range codeInText.FindAllString(out.Label, -1) {
			k := d.Catalogue.Code(strings.ToLower(number))
			ref := catalogue.OutcomeRef{Check: c.ID, Observation: o.ID, Outcome: out.ID}
			switch {
			case k == nil:
				report(p+"/label", fmt.Sprintf("%s has no record.", number), fmt.Sprintf("Add data/codes/%s.yaml.", strings.ToLower(number)))
			case k.Outcome == nil || *k.Outcome != ref:
				report(p+"/label", fmt.Sprintf("%s stands here and its record leads elsewhere.", number), "Make label and record agree.")
			}
		}
	})
}

// freeText lists the keys of codes and modifications whose text has no
// provenance of its own.
var freeText = []string{"name", "means", "trap", "why"}

func figures(d *Data, report report) {
	check := func(p string, v reflect.Value) {
		if v.Kind() == reflect.String && slices.Contains(freeText, path.Base(p)) && !strings.Contains(p, "/standard/") {
			if found := figureWords.FindString(v.String()); found != "" {
				report(p, fmt.Sprintf("The figure %q stands in free text.", found), "Move it where it has a provenance: sets, does, notes, buys, costs, limits or tells.")
			}
		}
	}
	for i := range d.Catalogue.Codes {
		walk(codePath(&d.Catalogue.Codes[i]), reflect.ValueOf(d.Catalogue.Codes[i]), check)
	}
	for i := range d.Catalogue.Modifications {
		walk(modificationPath(&d.Catalogue.Modifications[i]), reflect.ValueOf(d.Catalogue.Modifications[i]), check)
	}
}

func modification(d *Data, report report) {
	faults, acceptances := d.faultIDs(), d.acceptanceIDs()
	for i := range d.Catalogue.Modifications {
		m := &d.Catalogue.Modifications[i]
		p := modificationPath(m)
		for _, part := range []struct {
			key  string
			list []catalogue.Statement
		}{{"buys", m.Buys}, {"costs", m.Costs}, {"limits", m.Limits}, {"tells", m.Tells}} {
			if len(part.list) == 0 && d.stands(p+"/"+part.key) {
				report(p+"/"+part.key, "The list is empty.", "Nothing is free, and nothing is without a trace.")
			}
		}
		for j, l := range m.Likelier {
			at := at(p, "likelier", j, "fault")
			switch {
			case l.Fault == "":
			case !slices.Contains(faults, l.Fault):
				report(at, fmt.Sprintf("There is no fault %q.", l.Fault), nearest(l.Fault, faults))
			case slices.ContainsFunc(m.Likelier[:j], func(other catalogue.Likelier) bool { return other.Fault == l.Fault }):
				report(at, fmt.Sprintf("%q stands twice.", l.Fault), "Keep one.")
			}
		}
		for j, id := range m.Uses {
			if id != "" && !slices.Contains(acceptances, id) {
				report(at(p, "uses", j), fmt.Sprintf("There is no acceptance value %q.", id), nearest(id, acceptances))
			}
		}
	}
}
