package unit

import (
	"reflect"
	"slices"
)

// Book holds acceptance values and the sources they come from: what is known
// about the class of unit, before anybody says which one is on the bench.
type Book struct {
	Acceptances []Acceptance // by id
	Sources     []Source     // by id
}

// Acceptance returns the acceptance value of that id; it must not be changed.
func (b *Book) Acceptance(id string) (*Acceptance, bool) {
	for i := range b.Acceptances {
		if b.Acceptances[i].ID == id {
			return &b.Acceptances[i], true
		}
	}
	return nil, false
}

// Source returns the source of that id.
func (b *Book) Source(id string) (Source, bool) {
	for _, s := range b.Sources {
		if s.ID == id {
			return s, true
		}
	}
	return Source{}, false
}

// LimitsFor returns the limits that hold for a unit, in the order of the data:
//
//  1. A limit that names versions holds for those only, one that names none for
//     all. The same goes for builds.
//  2. Where a limit that names the build holds, limits that name no build and
//     whose range, gear, throttle and fluid are the same give way to it. Those
//     for other conditions stay.
//
// An empty version or build is not known yet: limits of all versions or builds
// are returned, and nothing gives way.
//
// Several limits that remain are several conditions, or sources that disagree;
// none is better than another.
func (a *Acceptance) LimitsFor(version Version, build Build) []Limit {
	var hold []Limit
	for _, l := range a.Limits {
		c := l.Condition
		if version != "" && len(c.Versions) > 0 && !contains(c.Versions, version) {
			continue
		}
		if build != "" && len(c.Builds) > 0 && !contains(c.Builds, build) {
			continue
		}
		hold = append(hold, l)
	}
	if build == "" {
		return hold
	}
	return slices.DeleteFunc(slices.Clone(hold), func(l Limit) bool {
		if len(l.Condition.Builds) > 0 {
			return false
		}
		return slices.ContainsFunc(hold, func(other Limit) bool {
			return len(other.Condition.Builds) > 0 && other.Condition.SameState(l.Condition)
		})
	})
}

// VersionLimits is the limits that hold for some versions, whatever the build.
type VersionLimits struct {
	Versions []Version
	Limits   []Limit
}

// ByVersion sorts the limits of an acceptance value by version, in rising
// capacity; neighbours with the same limits stand together. It is for readers
// who have not said which version they have.
func (a *Acceptance) ByVersion() []VersionLimits {
	var out []VersionLimits
	for _, v := range Versions {
		limits := a.LimitsFor(v, "")
		if n := len(out); n > 0 && reflect.DeepEqual(out[n-1].Limits, limits) {
			out[n-1].Versions = append(out[n-1].Versions, v)
			continue
		}
		out = append(out, VersionLimits{[]Version{v}, limits})
	}
	return out
}

// SameState reports whether two conditions speak of the same range, gear,
// throttle and fluid. Versions, builds and notes are left out of it.
func (c Condition) SameState(other Condition) bool {
	return c.Range == other.Range && c.Gear == other.Gear && c.Throttle == other.Throttle && c.Fluid == other.Fluid
}

// IsSetting reports whether the limit is one figure to set to, such as a torque,
// and not a window to be judged against.
func (l Limit) IsSetting() bool {
	return l.Min != nil && l.Max != nil && l.Min.SI == l.Max.SI
}

func contains[T comparable](list []T, x T) bool { return slices.Contains(list, x) }
