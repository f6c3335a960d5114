package ask

import (
	"fmt"
	"io"
	"text/tabwriter"

	catalogueshipped "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	unitshipped "provingbench/knowledge/unit/shipped"
)

// Engine returns an engine over the shipped catalogue and sheets.
func Engine() *diagnosis.Engine {
	return &diagnosis.Engine{Catalogue: catalogueshipped.Catalogue(), Book: unitshipped.Book()}
}

// List prints every id with its name, one a line, by kind: what a case can name.
func List(w io.Writer, e *diagnosis.Engine) error {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	line := func(kind, id, name string) { fmt.Fprintf(t, "%s\t%s\t%s\n", kind, id, name) }
	for _, v := range unit.Versions {
		line("version", string(v), "")
	}
	for _, b := range []unit.Build{unit.Stock, unit.Raised} {
		line("build", string(b), "")
	}
	for _, l := range e.Catalogue.Access {
		line("level", l.ID, l.Name)
	}
	for _, s := range e.Catalogue.Symptoms {
		line("symptom", s.ID, s.Name)
	}
	for _, f := range e.Catalogue.Faults {
		line("fault", f.ID, f.Name)
	}
	for k := range e.Catalogue.Checks {
		c := &e.Catalogue.Checks[k]
		line("check", c.ID, c.Name)
		for n := range c.Observations {
			o := &c.Observations[n]
			id := c.ID + "/" + o.ID
			if o.Reading != nil {
				line("reading", id, o.Asks+" ["+o.Reading.Quantity+", "+o.Reading.Acceptance+"]")
			} else {
				line("observation", id, o.Asks)
			}
			for m := range o.Outcomes {
				line("outcome", id+"/"+o.Outcomes[m].ID, o.Outcomes[m].Label)
			}
		}
	}
	for _, k := range e.Catalogue.Codes {
		line("code", k.Number, k.Name)
	}
	for _, a := range e.Book.Acceptances {
		line("acceptance", a.ID, a.Name)
	}
	return t.Flush()
}
