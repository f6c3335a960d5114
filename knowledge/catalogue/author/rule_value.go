package author

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"provingbench/knowledge/unit"
)

func limits(d *Data, report report) {
	for i := range d.Book.Acceptances {
		a := &d.Book.Acceptances[i]
		if len(a.Limits) == 0 {
			report(acceptancePath(a), "The value has no limit.", "A value that is not known is not in the sheet.")
		}
		for j, l := range a.Limits {
			p := at(acceptancePath(a), "limits", j)
			switch {
			case l.MinText == "" && l.MaxText == "":
				report(p, "The limit has neither min nor max.", "")
			case l.Min != nil && l.Max != nil && l.Min.SI > l.Max.SI:
				report(p, fmt.Sprintf("The smallest value, %s, is above the largest, %s.", l.MinText, l.MaxText), "Swap them, or look at the units.")
			}
			if reflect.ValueOf(l.Condition).IsZero() {
				report(p, "The limit has no condition.", "Say when it holds: versions, range, throttle, fluid, or a note such as cold, meter leads subtracted.")
			}
		}
	}
}

func provenance(d *Data, report report) {
	sources := map[string]bool{}
	for _, s := range d.Book.Sources {
		sources[s.ID] = true
	}
	d.walk(func(path string, v reflect.Value) {
		from, ok := v.Interface().(unit.Provenance)
		if !ok || from.Kind == "" {
			return
		}
		switch {
		case from.Kind == unit.Published && from.Source == "":
			report(path, "A published value names no source.", "If nobody printed it, say kind: memory.")
		case from.Source != "" && !sources[from.Source]:
			report(path+"/source", fmt.Sprintf("There is no source %q.", from.Source), "Add it to sources.yaml.")
		case from.Kind == unit.Memory && from.Note == "":
			report(path, "A value from memory has no note.", "Say what to do about it: confirm in the maker's manual.")
		case from.Kind == unit.Memory && strings.Contains(path, "/limits/") && !confirms(from.Note):
			report(path+"/note", "The note of a limit from memory does not tell to confirm it.", "Say: from memory, confirm in the maker's manual.")
		case from.At != "" && from.Source == "":
			report(path+"/at", "A place is named in no source.", "")
		}
	})
}

func confirms(note string) bool {
	folded := strings.Fields(plain(note))
	return slices.Contains(folded, "confirm") && slices.Contains(folded, "manual")
}
