package repair

import (
	"provingbench/knowledge/catalogue"
)

// A State is what a check showed when it was done again after the repair.
type State string

// The states.
const (
	NotDone State = ""
	Good    State = "good"
	Bad     State = "bad"
	Unclear State = "unclear" // too close to call, or unreadable
)

// Final lists the checks that end every repair, whatever was proved: the fluid,
// what drips, and the road (common practice, no source).
var Final = []string{"fluid-level", "leak-inspection", "gear-road-test"}

// Shown reports whether a proved fault is shown to be gone: at least one of the
// checks that prove its repair was good, and none was bad.
func Shown(f *catalogue.Fault, state func(check string) State) bool {
	good := false
	for _, id := range f.Repair.Proof {
		switch state(id) {
		case Bad:
			return false
		case Good:
			good = true
		}
	}
	return good
}

// Missing lists what still stands between a repaired truck and the end of its
// job: proved faults that are neither shown to be gone nor waived, and final
// checks that are not good and not waived.
func Missing(proved []*catalogue.Fault, state func(check string) State, waived func(id string) bool) (faults []*catalogue.Fault, checks []string) {
	for _, f := range proved {
		if !Shown(f, state) && !waived(f.ID) {
			faults = append(faults, f)
		}
	}
	for _, id := range Final {
		if state(id) != Good && !waived(id) {
			checks = append(checks, id)
		}
	}
	return faults, checks
}
