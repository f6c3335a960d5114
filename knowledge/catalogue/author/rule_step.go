package author

import (
	"fmt"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
)

// orders are verbs that begin a step. Words that name a thing just as often
// (seal, plug, brake, lead) are left out, for they stand in lists of things.
var orders = []string{
	"ask", "bend", "blow", "check", "clean", "clear", "close", "compare", "compress", "connect", "count", "cut", "do", "draw",
	"dry", "enter", "feel", "fill", "find", "fit", "fix", "flex", "follow", "hold", "hook", "jumper", "keep", "lay", "leave", "let",
	"lift", "listen", "look", "loosen", "lower", "mark", "measure", "move", "note", "open", "photograph", "pick", "pour", "press",
	"probe", "pry", "pull", "push", "put", "raise", "read", "remove", "repeat", "rinse", "rock", "run", "see", "send", "set",
	"shake", "shift", "shine", "skip", "slack", "slide", "smell", "spread", "stand", "start", "stop", "subtract", "switch", "take",
	"test", "tie", "tighten", "touch", "try", "turn", "unplug", "wait", "warm", "wash", "watch", "wiggle", "wipe", "write", "zero",
}

// clauses begin what comes before the act that a step is about.
var clauses = []string{"if", "when", "with", "before", "after", "where", "once", "on", "in", "from", "until", "while"}

// secondAct returns the word with which a second act begins in a step, or
// nothing. An act that goes on while another is done, "as you turn it", is no
// act of its own.
func secondAct(do string) string {
	s := strings.ToLower(do)
	first, _, _ := strings.Cut(s, " ")
	if slices.Contains(clauses, first) {
		_, s, _ = strings.Cut(s, ", ")
	}
	s, _, _ = strings.Cut(s, " as you ")
	for _, sign := range []string{" then ", ";"} {
		if strings.Contains(s, sign) {
			return strings.TrimSpace(sign)
		}
	}
	for _, sign := range []string{". ", ": ", ", ", " and ", " & "} {
		for _, rest := range strings.Split(s, sign)[1:] {
			word, _, _ := strings.Cut(strings.TrimPrefix(rest, "and "), " ")
			if word = strings.TrimRight(word, ".,:"); slices.Contains(orders, word) {
				return word
			}
		}
	}
	return ""
}

func oneAct(d *Data, report report) {
	d.eachStep(func(s *catalogue.Step, path string) {
		if word := secondAct(s.Do); word != "" {
			report(path+"/do", fmt.Sprintf("The step holds two acts, the second begins with %q.", word), "Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.")
		}
	})
}

// eachStep calls f with every step of every check and its path.
func (d *Data) eachStep(f func(s *catalogue.Step, path string)) {
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		for j := range c.Steps {
			f(&c.Steps[j], at(checkPath(c), "steps", j))
		}
	}
}
