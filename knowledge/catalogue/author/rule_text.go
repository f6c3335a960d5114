package author

import (
	"fmt"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"provingbench/knowledge/catalogue"
)

var idPattern = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

func fileName(d *Data, report report) {
	for _, r := range d.roots() {
		if id := path.Base(r.path); !idPattern.MatchString(id) {
			report(r.path, fmt.Sprintf("%q is not lower-case words with hyphens.", id), "Rename the file.")
		}
	}
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j, o := range c.Observations {
			p := at(checkPath(c), "observations", j)
			if o.ID != "" && !idPattern.MatchString(o.ID) {
				report(p+"/id", fmt.Sprintf("%q is not lower-case words with hyphens.", o.ID), "")
			}
			for k, out := range o.Outcomes {
				if out.ID != "" && !idPattern.MatchString(out.ID) {
					report(at(p, "outcomes", k, "id"), fmt.Sprintf("%q is not lower-case words with hyphens.", out.ID), "")
				}
			}
		}
	}
}

func text(d *Data, report report) {
	d.walk(func(path string, v reflect.Value) {
		if v.Kind() != reflect.String {
			return
		}
		s := v.String()
		control := strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || r == '\u00a0' || r == '\ufeff' })
		switch {
		case !utf8.ValidString(s):
			report(path, "The text is not valid UTF-8.", "Save the file as UTF-8.")
		case s != strings.TrimSpace(s):
			report(path, "The text begins or ends with a space or a line end.", "Write it in one line, or after >- instead of > or |.")
		case control:
			report(path, "The text holds a tab, a line end or another control character.", "Use plain spaces and one line.")
		case strings.Contains(s, "  "):
			report(path, "The text holds two spaces in a row.", "Keep one.")
		}
	})
}

// sentences lists the keys whose values are whole sentences.
var sentences = []string{"purpose", "do", "trap", "means", "next", "how", "driven-on", "hazard", "consequence", "avoid", "why", "ask", "text", "does", "sound", "description", "certain", "uncertain"}

func sentence(d *Data, report report) {
	d.walk(func(p string, v reflect.Value) {
		key := path.Base(p)
		if v.Kind() != reflect.String || v.Len() == 0 || !slices.Contains(sentences, key) {
			return
		}
		s := v.String()
		first, _ := utf8.DecodeRuneInString(s)
		switch {
		case key == "ask":
			if !strings.HasSuffix(s, "?") {
				report(p, fmt.Sprintf("%q is not a question.", s), "Ask what the customer can answer, and end with a question mark.")
			}
		case key == "why": // goes on after "because"
		case !unicode.IsUpper(first) && !unicode.IsDigit(first):
			report(p, fmt.Sprintf("%q does not begin with a capital letter.", s), "")
		case !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") && !strings.HasSuffix(s, "!") && !strings.HasSuffix(s, ".)"):
			report(p, fmt.Sprintf("%q does not end with a full stop.", s), "")
		}
	})
}

func unique(d *Data, report report) {
	named := func(kind string) func(path, name string) {
		first := map[string]string{}
		return func(path, name string) {
			key := strings.ToLower(name)
			if other, ok := first[key]; ok && key != "" {
				report(path, fmt.Sprintf("The %s %q stands at %s too.", kind, name, other), "")
				return
			}
			first[key] = strings.TrimSuffix(path, "/name")
		}
	}
	symptom, part, fault, check, value, source := named("symptom's name"), named("part's name"), named("fault's name"), named("check's name"), named("name"), named("source's id")
	code, change := named("code's name"), named("change's name")
	c := &d.Catalogue
	for i := range c.Symptoms {
		symptom(symptomPath(&c.Symptoms[i])+"/name", c.Symptoms[i].Name)
	}
	for i := range c.Parts {
		p := &c.Parts[i]
		part(partPath(p)+"/name", p.Name)
		for j, name := range p.Also {
			part(at(partPath(p), "also", j), name)
		}
	}
	for i := range c.Faults {
		f := &c.Faults[i]
		fault(faultPath(f)+"/name", f.Name)
		for j, name := range f.Also {
			fault(at(faultPath(f), "also", j), name)
		}
	}
	for i := range c.Checks {
		k := &c.Checks[i]
		check(checkPath(k)+"/name", k.Name)
		observation := named("observation's id")
		for j, o := range k.Observations {
			observation(at(checkPath(k), "observations", j, "id"), o.ID)
			outcome := named("outcome's id")
			for n, out := range o.Outcomes {
				outcome(at(checkPath(k), "observations", j, "outcomes", n, "id"), out.ID)
			}
		}
	}
	for i := range d.Book.Acceptances {
		value(acceptancePath(&d.Book.Acceptances[i])+"/name", d.Book.Acceptances[i].Name)
	}
	for i := range c.Codes {
		code(codePath(&c.Codes[i])+"/name", c.Codes[i].Name)
	}
	for i := range c.Modifications {
		change(modificationPath(&c.Modifications[i])+"/name", c.Modifications[i].Name)
	}
	for i, s := range d.Book.Sources {
		source(at("sources", i, "id"), s.ID)
	}
}

// plain folds a phrase to what a person means by it: no capitals, no
// punctuation, single spaces.
func plain(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(words, " ")
}

func saidUnique(d *Data, report report) {
	type owner struct{ id, path string }
	first := map[string]owner{}
	for i := range d.Catalogue.Symptoms {
		s := &d.Catalogue.Symptoms[i]
		said := func(path, phrase string) {
			key := plain(phrase)
			if key == "" {
				return
			}
			switch other, ok := first[key]; {
			case !ok:
				first[key] = owner{s.ID, path}
			case other.id != s.ID:
				report(path, fmt.Sprintf("%q is said for %s too.", phrase, other.id), "Keep it where it is meant, or say what tells the two apart.")
			case !strings.HasSuffix(other.path, "/name"):
				report(path, fmt.Sprintf("%q stands twice.", phrase), "Keep one.")
			}
		}
		said(symptomPath(s)+"/name", s.Name)
		for j, phrase := range s.Said {
			said(at(symptomPath(s), "said", j), phrase)
		}
	}
}

// notOrders are words that begin a description, not an order.
var notOrders = []string{"a", "an", "and", "he", "i", "is", "it", "or", "she", "that", "the", "then", "there", "these", "they", "this", "we", "you", "your"}

const longestStep = 200

func imperative(d *Data, report report) {
	d.eachStep(func(s *catalogue.Step, path string) {
		p := path + "/do"
		folded := plain(s.Do)
		first, _, _ := strings.Cut(folded, " ")
		switch {
		case folded == "":
		case slices.Contains(notOrders, first) || strings.HasSuffix(first, "ing") && first != "bring" && first != "swing":
			report(p, fmt.Sprintf("The step begins with %q, which is not an order.", first), "Begin with what to do: Lift, Read, Turn.")
		case utf8.RuneCountInString(s.Do) > longestStep:
			report(p, fmt.Sprintf("The step has %d characters, at most %d are read.", utf8.RuneCountInString(s.Do), longestStep), "Move the reason into purpose or trap.")
		}
	})
}
