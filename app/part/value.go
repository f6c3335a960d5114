package part

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// LimitText is a limit as its source prints it: "54 to 60 psi", "at most 3 psi";
// or, for who reads in other units, converted: "372 to 414 kPa".
func LimitText(p quantity.Preference, l unit.Limit) string {
	if low, high, ok := converted(p, l); ok {
		return window(low, high)
	}
	return window(l.MinText, l.MaxText)
}

// LimitElsewhere is the limit in the other system of measures; as printed, when
// LimitText gives it converted. It is empty where both systems share the unit.
func LimitElsewhere(p quantity.Preference, l unit.Limit) string {
	if _, _, ok := converted(p, l); ok {
		return "as printed: " + window(l.MinText, l.MaxText)
	}
	low, high, ok := inUnits(l, func(u quantity.Unit) quantity.Unit {
		other, _ := u.Counterpart()
		return other
	})
	if !ok {
		return ""
	}
	return window(low, high)
}

// converted is a limit in the units that the user reads, when its source prints
// it in others.
func converted(p quantity.Preference, l unit.Limit) (low, high string, ok bool) {
	return inUnits(l, func(u quantity.Unit) quantity.Unit {
		if own := p.Unit(u); own != u {
			return own
		}
		return quantity.Unit{}
	})
}

// inUnits prints both sides of a limit in other units than its source; ok is
// false when other has none for one of them.
func inUnits(l unit.Limit, other func(quantity.Unit) quantity.Unit) (low, high string, ok bool) {
	show := func(v *quantity.Value, text string) (string, bool) {
		if v == nil {
			return "", true
		}
		_, name, _ := strings.Cut(text, " ")
		u, known := quantity.UnitNamed(v.Kind, name)
		if !known {
			return "", false
		}
		o := other(u)
		return quantity.FormatSignificant(*v, o, 3), o.Kind != ""
	}
	low, okLow := show(l.Min, l.MinText)
	high, okHigh := show(l.Max, l.MaxText)
	return low, high, okLow && okHigh && low+high != ""
}

// window puts two limits into words.
func window(low, high string) string {
	switch {
	case low != "" && low == high:
		return low
	case low != "" && high != "":
		number, unitLow, _ := strings.Cut(low, " ")
		if _, unitHigh, ok := strings.Cut(high, " "); ok && unitLow == unitHigh {
			return number + " to " + high
		}
		return low + " to " + high
	case low != "":
		return "at least " + low
	case high != "":
		return "at most " + high
	}
	return "no limit"
}

var versionWords = map[unit.Version]string{unit.Light: "light", unit.Mid: "mid", unit.Late: "late"}

// VersionWord names a version as a choice: "Light".
func VersionWord(v unit.Version) string { return capital(versionWords[v]) }

// BuildWord names a build as a choice: "Stock".
func BuildWord(b unit.Build) string {
	if b == unit.Raised {
		return "Pressure raised on purpose"
	}
	return "Stock"
}

// Versions names versions: "light and mid versions"; nothing for all of them.
func Versions(v []unit.Version) string {
	if len(v) == 0 || len(v) == len(unit.Versions) {
		return ""
	}
	var words []string
	for _, x := range v {
		words = append(words, versionWords[x])
	}
	noun := " version"
	if len(words) > 1 {
		noun = " versions"
	}
	return list(words) + noun
}

// Builds names builds: "stock build"; nothing for all of them.
func Builds(b []unit.Build) string {
	if len(b) != 1 {
		return ""
	}
	if b[0] == unit.Raised {
		return "pressure raised on purpose"
	}
	return "stock build"
}

func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// ConditionWords says when a limit holds: "range D, 3rd gear, throttle at idle,
// fluid hot, 1600 rpm". The versions and builds are left out unless wanted.
func ConditionWords(c unit.Condition, versions bool) string {
	var said []string
	add := func(s string) {
		if s != "" {
			said = append(said, s)
		}
	}
	if versions {
		add(Versions(c.Versions))
		add(Builds(c.Builds))
	}
	if c.Range != "" {
		add("range " + c.Range)
	}
	switch c.Gear {
	case "":
	case "R":
		if c.Range != "R" {
			add("reverse")
		}
	default:
		add(ordinal(c.Gear) + " gear")
	}
	if c.Throttle != "" {
		add(map[string]string{"idle": "throttle at idle", "half": "half throttle", "full": "full throttle"}[c.Throttle])
	}
	if c.Fluid != "" {
		add("fluid " + c.Fluid)
	}
	add(strings.TrimSuffix(c.Note, "."))
	return strings.Join(said, ", ")
}

func ordinal(gear string) string {
	if o, ok := map[string]string{"1": "1st", "2": "2nd", "3": "3rd", "4": "4th"}[gear]; ok {
		return o
	}
	return gear
}

// Values shows the limits of an acceptance value large, each with its condition
// and where it comes from. On a sheet of no version each also says which
// versions and builds it is for, for readers who have not said which they have.
func Values(sheet unit.Sheet, limits []unit.Limit) app.UI {
	if len(limits) == 0 {
		return app.P().Class("values__none").Text("No value is known for this version and build. Take it from the maker's manual.")
	}
	var rows []app.UI
	for _, l := range limits {
		row := []app.UI{app.P().Class("value__figure").Text(LimitText(sheet.Units, l))}
		if other := LimitElsewhere(sheet.Units, l); other != "" {
			row = append(row, app.P().Class("value__other").Text(other))
		}
		if when := ConditionWords(l.Condition, sheet.Version == ""); when != "" {
			row = append(row, app.P().Class("value__when").Text(capital(when)))
		}
		row = append(row, SourceNote(sheet.Book, l.Provenance))
		rows = append(rows, app.Li().Class("value").Body(row...))
	}
	return app.Ul().Class("values").Body(rows...)
}

// Several says what it means when more than one limit holds for the same
// range, gear, throttle, fluid and build; empty when none does.
func Several(limits []unit.Limit) string {
	differ := false
	for i := range limits {
		for j := range i {
			a, b := limits[i].Condition, limits[j].Condition
			if !a.SameState(b) || !sameBuilds(a, b) || window(limits[i].MinText, limits[i].MaxText) == window(limits[j].MinText, limits[j].MaxText) {
				continue
			}
			if a.Note == b.Note {
				return "The sources disagree. All figures are shown, and a reading that they judge differently gets no verdict."
			}
			differ = true
		}
	}
	if differ {
		return "More than one figure is printed. Read when each one holds; a reading that they judge differently gets no verdict."
	}
	return ""
}

// sameBuilds reports whether two conditions can hold on the same build.
func sameBuilds(a, b unit.Condition) bool {
	if len(a.Builds) == 0 || len(b.Builds) == 0 {
		return true
	}
	for _, x := range a.Builds {
		for _, y := range b.Builds {
			if x == y {
				return true
			}
		}
	}
	return false
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

var valueExamples = []app.UI{
	Values(unit.Sheet{}, []unit.Limit{
		{Condition: unit.Condition{Range: "D", Gear: "3", Throttle: "idle", Fluid: "hot", Note: "1600 rpm"},
			Min: pressure(54), Max: pressure(60), MinText: "54 psi", MaxText: "60 psi",
			Provenance: unit.Provenance{Kind: unit.Demo, Note: "An example."}},
		{Max: pressure(3), MaxText: "3 psi", Provenance: unit.Provenance{Kind: unit.Memory}},
	}),
	Values(unit.Sheet{Version: unit.Late}, nil),
}

func pressure(psi float64) *quantity.Value {
	v := quantity.PSI.Of(psi)
	return &v
}
