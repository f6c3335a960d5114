package author

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
)

// Place is where a value stands in the authored files.
type Place struct {
	File   string // path from the root of the project
	Line   int
	Column int
}

// Problem is one thing wrong with the authored files.
type Problem struct {
	Place
	Rule    string // name of the rule it breaks
	Message string // what was expected and what stands there
	Tip     string // what to do about it; empty when the message says it all
}

// String gives the problem as `file:line:column: [rule] message Tip: …`.
func (p Problem) String() string {
	s := fmt.Sprintf("%s:%d:%d: [%s] %s", p.File, p.Line, p.Column, p.Rule, p.Message)
	if p.Tip != "" {
		s += " Tip: " + p.Tip
	}
	return s
}

// Problems is every problem found in one run, in the order of the files.
type Problems []Problem

// Error gives one problem per line.
func (ps Problems) Error() string {
	lines := make([]string, len(ps))
	for i, p := range ps {
		lines[i] = p.String()
	}
	return strings.Join(lines, "\n")
}

func (ps Problems) sort() {
	slices.SortStableFunc(ps, func(a, b Problem) int {
		return cmp.Or(
			cmp.Compare(a.File, b.File),
			cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Column, b.Column),
			cmp.Compare(a.Rule, b.Rule),
			cmp.Compare(a.Message, b.Message),
		)
	})
}

// nearest suggests the legal value that the author may have meant, or says
// nothing when none is near.
func nearest(word string, legal []string) string {
	best, distance := "", len(word)/3+2
	for _, l := range legal {
		if d := levenshtein.ComputeDistance(word, l); d < distance {
			best, distance = l, d
		}
	}
	if best == "" {
		return ""
	}
	return fmt.Sprintf("Maybe %q?", best)
}

func list(words []string) string { return strings.Join(words, ", ") }
