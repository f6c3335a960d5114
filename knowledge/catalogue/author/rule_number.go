package author

import (
	"fmt"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// unitWords folds the spellings of a unit in text to one. A count of things
// ("two gauges") is no figure; a number before one of these words is.
var unitWords = map[string]string{
	"psi": "psi", "kPa": "kPa", "bar": "bar", "ohm": "ohm", "ohms": "ohm", "Ω": "ohm", "kohm": "kohm", "Mohm": "Mohm",
	"V": "V", "volt": "V", "volts": "V", "mV": "mV", "A": "A", "amp": "A", "amps": "A", "Hz": "Hz",
	"in-lb": "in-lb", "ft-lb": "ft-lb", "N·m": "N·m", "°F": "F", "°C": "C", "F": "F", "C": "C", "mph": "mph", "km/h": "km/h", "rpm": "rpm",
	"in": "in", "inch": "in", "inches": "in", "mm": "mm", "qt": "qt", "quart": "qt", "quarts": "qt", "L": "L",
	"turn": "turn", "turns": "turn", "second": "s", "seconds": "s", "s": "s", "minute": "min", "minutes": "min", "min": "min",
	"mile": "mile", "miles": "mile", "%": "%", "percent": "%", "per cent": "%",
}

var numberPattern = func() *regexp.Regexp {
	var units []string
	for u := range unitWords {
		units = append(units, regexp.QuoteMeta(u))
	}
	slices.SortFunc(units, func(a, b string) int { return len(b) - len(a) })
	const figure = `\d[\d,]*(?:\.\d+)?(?:-\d+/\d+|/\d+)?`
	return regexp.MustCompile(`(?:^|[^\w.,/-])((?:` + figure + `(?:, ` + figure + `)*(?: to | and | or ))?` + figure + `)\s?(` + strings.Join(units, "|") + `)(?:[^\w/-]|$)`)
}()

var betweenNumbers = regexp.MustCompile(`, | to | and | or `)

// followedByWord tells "3 in D" from "3 in (76 mm)".
var followedByWord = regexp.MustCompile(`^ \pL`)

// numbersIn lists the numbers with a unit in a text, each with its unit: "5 to 6
// turns" gives "5 turn" and "6 turn".
func numbersIn(text string) []string {
	var out []string
	for text != "" {
		m := numberPattern.FindStringSubmatchIndex(text)
		if m == nil {
			break
		}
		written, rest := text[m[4]:m[5]], text[m[5]:]
		if written != "in" || !followedByWord.MatchString(rest) {
			for _, n := range betweenNumbers.Split(text[m[2]:m[3]], -1) {
				out = append(out, strings.ReplaceAll(n, ",", "")+" "+unitWords[written])
			}
		}
		text = rest
	}
	return out
}

// number refuses a figure in the text of a fault, check or part that neither a
// value of the sheet nor the record's numbers account for. Cautions have a
// provenance of their own, and what customers say is theirs.
func number(d *Data, report report) {
	hold := func(path string, record any, numbers []catalogue.Number, uses []string) {
		said := map[string]bool{}
		for _, n := range numbers {
			for _, f := range numbersIn(n.Says) {
				said[f] = true
			}
		}
		sheet := map[string]bool{}
		for _, id := range uses {
			a, ok := d.Book.Acceptance(id)
			if !ok {
				continue
			}
			for _, l := range a.Limits {
				for _, f := range append(numbersIn(l.MinText), numbersIn(l.MaxText)...) {
					sheet[f] = true
				}
			}
		}
		stands := map[string]bool{}
		eachText(path, reflect.ValueOf(record), func(p, text string) {
			for _, f := range numbersIn(text) {
				stands[f] = true
				if !said[f] && !sheet[f] {
					report(p, fmt.Sprintf("%q stands in the text and comes from nowhere.", f), "Name the value of the sheet under uses or in a reading, or add the figure to numbers with its provenance.")
				}
			}
		})
		for i, n := range numbers {
			found := numbersIn(n.Says)
			if len(found) == 0 {
				report(at(path, "numbers", i, "says"), fmt.Sprintf("%q is not a number with its unit.", n.Says), "Write it as the text has it: 1000 rpm.")
			}
			for _, f := range found {
				if !stands[f] {
					report(at(path, "numbers", i, "says"), fmt.Sprintf("%q does not stand in the text.", n.Says), "Delete it.")
				}
			}
		}
	}
	for i := range d.Catalogue.Parts {
		hold(partPath(&d.Catalogue.Parts[i]), d.Catalogue.Parts[i], nil, nil)
	}
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		hold(faultPath(f), *f, f.Numbers, f.Repair.Uses)
	}
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		hold(checkPath(c), *c, c.Numbers, c.Values())
	}
}

// eachText calls f with every text of a record but those that say where a
// figure comes from.
func eachText(root string, record reflect.Value, f func(path, text string)) {
	provenance := reflect.TypeFor[unit.Provenance]()
	walk(root, record, func(p string, v reflect.Value) {
		if v.Kind() != reflect.String || path.Base(p) == "says" {
			return
		}
		owner := path.Dir(p)
		if slices.Contains([]string{"estimates", "from"}, path.Base(owner)) && hasField(provenance, path.Base(p)) {
			return
		}
		f(p, v.String())
	})
}

func hasField(t reflect.Type, key string) bool { return slices.Contains(keys(t), key) }
