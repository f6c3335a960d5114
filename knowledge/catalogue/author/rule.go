package author

import (
	"fmt"
	"reflect"
	"strconv"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// A rule is one thing that the records must keep to.
type rule struct {
	name  string
	why   string
	check func(d *Data, report report)
}

// report says that what stands at a path breaks the rule, and what to do.
type report func(path, message, tip string)

// rules is every rule. There are no exceptions to a rule: change the rule or
// the record.
var rules = []rule{
	{"file-name", "An id is typed in other files and stands in addresses, so it has one spelling.", fileName},
	{"text", "Text is shown as it is written, on every screen.", text},
	{"sentence", "What is read aloud under a truck is a whole sentence.", sentence},
	{"unique", "Two records with one name cannot be told apart in a search.", unique},
	{"said-unique", "Words that lead to two symptoms lead to a guess.", saidUnique},
	{"family", "Free words pick the member of a family by its gear.", family},
	{"reference", "A name that leads nowhere is a dead end on the screen.", reference},
	{"repeated", "A list that says a thing twice counts it twice.", repeated},
	{"symptom-fault", "A symptom without a fault cannot be explained.", symptomFault},
	{"fault-symptom", "A fault that nobody can notice is never suspected.", faultSymptom},
	{"fault-proof", "A fault that cannot be proved is a guess.", faultProof},
	{"fault-repair", "A proved fault without a repair leaves the technician alone.", faultRepair},
	{"part", "A fault sits in something that a technician can lay a hand on.", part},
	{"part-fault", "A part that no fault sits in is a blind spot, unless somebody says why.", partFault},
	{"unit-part", "What the unit is made of stands in the list of parts.", unitPart},
	{"chart", "An element that a gear needs is missed by somebody in that gear.", chart},
	{"repair-proof", "A repair that nobody proves comes back.", repairProof},
	{"repair-refit", "Who opens the unit for a repair closes it again, with its torques and its fluid.", repairRefit},
	{"check-needed", "A check that tells nothing costs minutes.", checkNeeded},
	{"proof-shows", "What proves a fault also shows it, and shows nothing that it does not prove.", proofShows},
	{"normal-last", "The first sign that fires is what is seen; what is left is the healthy unit.", normalLast},
	{"leak", "How often a sign comes without a fault weighs it.", leak},
	{"link-level", "A link that never shows is no link.", linkLevel},
	{"verdict", "A number ends in exactly one verdict of its method.", verdict},
	{"reading", "A reading is judged against a value of its own measure.", reading},
	{"preliminary", "What comes before the gauges is done on the wheels.", preliminary},
	{"cost", "The plan weighs minutes; no check and no access is free.", cost},
	{"access", "The levels have one order, from the outside in.", access},
	{"steps", "More than sixteen steps are two checks.", steps},
	{"step-value", "Who stands under a truck can't turn to another page for a figure.", stepValue},
	{"imperative", "A step is said as an order, and short enough to keep in mind.", imperative},
	{"one-act", "Who has greasy hands reads one act, does it, and finds the next line.", oneAct},
	{"caution-used", "A caution that stands before no step is never read.", cautionUsed},
	{"drawing-shown", "A drawing that no step shows is never seen, and one shown twice is carried twice.", drawingShown},
	{"drawing-number", "A number in a picture is believed like any other.", drawingNumber},
	{"acceptance-used", "A value that no check and no repair needs is never found.", acceptanceUsed},
	{"limit", "A limit bounds something, under a condition that is named.", limits},
	{"versions", "A link between records of different versions never comes true.", versions},
	{"code-number", "A scan tool's number is looked up as it is shown, and only the standard's numbers have the standard's names.", codeNumber},
	{"code-finding", "One tap enters a stored code as what it shows, so it leads to an outcome that is picked and not normal.", codeFinding},
	{"code-known", "A number that a check speaks of can be looked up, and leads back to that outcome.", codeKnown},
	{"figure", "A number in free text has no provenance of its own.", figures},
	{"modification", "A change that has a price says what it is and how to see it.", modification},
	{"number", "A figure in a sentence is as much a figure as one in the sheet.", number},
	{"provenance", "A number is only as good as where it comes from.", provenance},
}

// validate holds the data against every rule.
func (d *Data) validate() Problems {
	var problems Problems
	for _, r := range rules {
		r.check(d, func(path, message, tip string) {
			problems = append(problems, Problem{d.place(path), r.name, message, tip})
		})
	}
	return problems
}

// Paths of the records, as the decoder keeps them.

func symptomPath(s *catalogue.Symptom) string { return "symptoms/" + s.ID }
func partPath(p *catalogue.Part) string       { return "parts/" + p.ID }
func faultPath(f *catalogue.Fault) string     { return "faults/" + f.ID }
func checkPath(c *catalogue.Check) string     { return "checks/" + c.ID }
func cautionPath(c *catalogue.Caution) string { return "cautions/" + c.ID }

func acceptancePath(a *unit.Acceptance) string { return "acceptance/" + a.ID }

func at(path string, parts ...any) string {
	for _, p := range parts {
		path += "/" + fmt.Sprint(p)
	}
	return path
}

// eachOutcome calls f with every outcome of every check and its path.
func (d *Data) eachOutcome(f func(c *catalogue.Check, o *catalogue.Observation, out *catalogue.Outcome, path string)) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j := range c.Observations {
			o := &c.Observations[j]
			for k := range o.Outcomes {
				f(c, o, &o.Outcomes[k], at(checkPath(c), "observations", j, "outcomes", k))
			}
		}
	}
}

// root is a record or a list together with the path it was read under.
type root struct {
	path  string
	value reflect.Value
}

// roots gives every record, so that a rule can walk through all values alike.
func (d *Data) roots() []root {
	var out []root
	c := &d.Catalogue
	for i := range c.Symptoms {
		out = append(out, root{symptomPath(&c.Symptoms[i]), reflect.ValueOf(c.Symptoms[i])})
	}
	for i := range c.Parts {
		out = append(out, root{partPath(&c.Parts[i]), reflect.ValueOf(c.Parts[i])})
	}
	for i := range c.Faults {
		out = append(out, root{faultPath(&c.Faults[i]), reflect.ValueOf(c.Faults[i])})
	}
	for i := range c.Checks {
		out = append(out, root{checkPath(&c.Checks[i]), reflect.ValueOf(c.Checks[i])})
	}
	for i := range c.Cautions {
		out = append(out, root{cautionPath(&c.Cautions[i]), reflect.ValueOf(c.Cautions[i])})
	}
	for i := range c.Codes {
		out = append(out, root{codePath(&c.Codes[i]), reflect.ValueOf(c.Codes[i])})
	}
	for i := range c.Modifications {
		out = append(out, root{modificationPath(&c.Modifications[i]), reflect.ValueOf(c.Modifications[i])})
	}
	for i := range c.Drawings {
		out = append(out, root{drawingPath(&c.Drawings[i]), reflect.ValueOf(c.Drawings[i])})
	}
	out = append(out, root{"access", reflect.ValueOf(c.Access)}, root{"sources", reflect.ValueOf(d.Book.Sources)})
	for i := range d.Book.Acceptances {
		out = append(out, root{acceptancePath(&d.Book.Acceptances[i]), reflect.ValueOf(d.Book.Acceptances[i])})
	}
	return out
}

// walk calls f with every value under v and its path.
func walk(path string, v reflect.Value, f func(path string, v reflect.Value)) {
	f(path, v)
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walk(path, v.Elem(), f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(path+"/"+strconv.Itoa(i), v.Index(i), f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(path+"/"+hyphenated(v.Type().Field(i).Name), v.Field(i), f)
		}
	}
}

func (d *Data) walk(f func(path string, v reflect.Value)) {
	for _, r := range d.roots() {
		walk(r.path, r.value, f)
	}
}
