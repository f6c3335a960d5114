package catalogue

import (
	"slices"
	"strings"

	"provingbench/knowledge/unit"
)

// Statement is a sentence about a number or a practice, with where it comes from.
type Statement struct {
	Text string
	From unit.Provenance
}

// Code is a number that a computer of the truck stores, and what it means here.
type Code struct {
	ID       string // the number in lower case: p1757
	Number   string // as a scan tool shows it: P1757
	Family   string // supply, governor, overdrive, lockup, inputs or general
	Name     string // what this class of trucks calls it
	Means    string
	From     unit.Provenance // of name and meaning
	Standard *Standard       // nil where the number belongs to the maker
	Older    []Older
	Sets     []Setting
	Does     []Statement // to the driver: limp, lamp
	Outcome  *OutcomeRef // nil where the number by itself points to no fault
	Next     []Ahead
	Notes    []Statement
	Trap     string
}

// Standard is the name that SAE J2012 gives a number for all makers.
type Standard struct {
	Name string
	From unit.Provenance
}

// Older is the number of the same fault on an older scan list or in the flashes
// of the lamp. Several faults may share one.
type Older struct {
	Number string
	From   unit.Provenance
}

// Setting is one published or remembered condition under which a code is
// stored. Sources that disagree are several settings.
type Setting struct {
	What  string // what is seen, with its numbers and units
	When  string // while what is going on
	Years string // which trucks the source is for
	From  unit.Provenance
}

// OutcomeRef names an outcome of a check.
type OutcomeRef struct {
	Check       string
	Observation string
	Outcome     string
}

// Ahead is a check that comes next, and the reason.
type Ahead struct {
	Check string
	Why   string
}

// CodeFamilies lists the families in the order in which a technician takes
// them: without supply, no other code means much.
var CodeFamilies = []string{"supply", "governor", "overdrive", "lockup", "inputs", "general"}

// Modification is a usual change to a unit of this class: what it buys, what it
// costs, and what it makes likelier.
type Modification struct {
	ID       string
	Area     string // pressure, shift, lockup, strength or cooling
	Name     string
	Means    string // what is changed
	Buys     []Statement
	Costs    []Statement
	Limits   []Statement // what bounds it
	Tells    []Statement // how a truck shows that it was done
	Likelier []Likelier
	Uses     []string // acceptance ids to hold it against
}

// Likelier is a fault that a modification makes likelier, and the reason.
type Likelier struct {
	Fault string
	Why   string
}

// ModificationAreas lists the areas in the order in which they are read.
var ModificationAreas = []string{"pressure", "shift", "lockup", "strength", "cooling"}

// Code gives the code with an id; nil when there is none.
func (c *Catalogue) Code(id string) *Code {
	for i := range c.Codes {
		if c.Codes[i].ID == id {
			return &c.Codes[i]
		}
	}
	return nil
}

// CodesNumbered gives the codes that a number stands for, in any spelling:
// "P1757", "p 1757", "P-1757", "1757", or the two- and three-digit numbers of
// older lists, which several codes may share. It gives none for anything else.
func (c *Catalogue) CodesNumbered(spelling string) []*Code {
	number := CodeNumber(spelling)
	if number == "" {
		return nil
	}
	var out []*Code
	for i := range c.Codes {
		k := &c.Codes[i]
		if k.Number == number || slices.ContainsFunc(k.Older, func(o Older) bool { return o.Number == number }) {
			out = append(out, k)
		}
	}
	return out
}

// CodeNumber writes a number as the catalogue does: "p 1757", "P-1757" and
// "1757" are P1757; two and three digits stay as they are. It is empty for what
// is no code number.
func CodeNumber(spelling string) string {
	s := strings.ToUpper(strings.Map(func(r rune) rune {
		switch r {
		case ' ', '-', '.', '\t', '\u00a0':
			return -1
		}
		return r
	}, strings.TrimSpace(spelling)))
	lettered := strings.HasPrefix(s, "P")
	s = strings.TrimPrefix(s, "P")
	// A zero is often read and typed as the letter O.
	if lettered && len(s) == 4 && s[0] == 'O' {
		s = "0" + s[1:]
	}
	for _, r := range s {
		if r < '0' || r > '9' {
			return ""
		}
	}
	switch {
	case len(s) == 4 && s[0] <= '3':
		return "P" + s
	case !lettered && (len(s) == 2 || len(s) == 3) && s[0] != '0':
		return s
	}
	return ""
}

// OutcomeOf gives the outcome that a code stands for in its check; all nil when
// it stands for none.
func (c *Catalogue) OutcomeOf(k *Code) (*Check, *Observation, *Outcome) {
	if k.Outcome == nil {
		return nil, nil, nil
	}
	check := c.Check(k.Outcome.Check)
	if check == nil {
		return nil, nil, nil
	}
	o := check.Observation(k.Outcome.Observation)
	if o == nil {
		return nil, nil, nil
	}
	out := o.Outcome(k.Outcome.Outcome)
	if out == nil {
		return nil, nil, nil
	}
	return check, o, out
}

// CodesShowing lists the codes that stand for an outcome of a check, in the
// order of their numbers.
func (c *Catalogue) CodesShowing(ref OutcomeRef) []*Code {
	var out []*Code
	for i := range c.Codes {
		if k := &c.Codes[i]; k.Outcome != nil && *k.Outcome == ref {
			out = append(out, k)
		}
	}
	return out
}
