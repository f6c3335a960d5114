package unit

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"provingbench/knowledge/quantity"
)

// Own is the provenance of a value that the user typed from a source at hand. It
// never stands in the authored data.
const Own ProvenanceKind = "own"

// OwnLimit is a window that the user types from the maker's manual or from
// another source for the unit at hand.
type OwnLimit struct {
	Min, Max         *quantity.Value // nil: no limit on that side
	MinText, MaxText string          // as typed
	Source           string          // where it stands, in the user's words
	At               string          // page or table
}

// Sheet is the unit sheet in use: the book, which unit is at hand, and the user's
// own values. The zero value of Version and Build means that it is not known yet.
type Sheet struct {
	Book    *Book
	Version Version
	Build   Build
	Own     map[string]OwnLimit // by acceptance id
	Units   quantity.Preference // in which its figures are read
}

// OwnLimitError says why a value of the user's own cannot be taken.
type OwnLimitError struct {
	ID     string // acceptance id
	Reason OwnLimitReason
}

// OwnLimitReason is why a value of the user's own cannot be taken.
type OwnLimitReason string

// The reasons.
const (
	NoAcceptance  OwnLimitReason = "there is no acceptance value of that id"
	NoSource      OwnLimitReason = "own value names no source"
	NoValue       OwnLimitReason = "own value has neither a minimum nor a maximum"
	OtherQuantity OwnLimitReason = "own value is of another quantity"
	NotFinite     OwnLimitReason = "own value is not a number"
	Crossed       OwnLimitReason = "own minimum is above own maximum"
)

// Error returns the fault for a log.
func (e *OwnLimitError) Error() string { return fmt.Sprintf("unit: %s: %s", e.ID, e.Reason) }

// With returns a sheet that judges by the user's own value instead of the book's.
// The sheet it is called on stays as it is.
//
// Errors: *OwnLimitError.
func (s Sheet) With(id string, own OwnLimit) (Sheet, error) {
	fail := func(r OwnLimitReason) (Sheet, error) { return s, &OwnLimitError{id, r} }
	if s.Book == nil {
		return fail(NoAcceptance)
	}
	a, ok := s.Book.Acceptance(id)
	switch {
	case !ok:
		return fail(NoAcceptance)
	case strings.TrimSpace(own.Source) == "":
		return fail(NoSource)
	case own.Min == nil && own.Max == nil:
		return fail(NoValue)
	}
	for _, v := range []*quantity.Value{own.Min, own.Max} {
		switch {
		case v == nil:
		case v.Kind != a.Quantity:
			return fail(OtherQuantity)
		case math.IsNaN(v.SI) || math.IsInf(v.SI, 0):
			return fail(NotFinite)
		}
	}
	if own.Min != nil && own.Max != nil && own.Min.SI > own.Max.SI {
		return fail(Crossed)
	}
	next := s
	next.Own = maps.Clone(s.Own)
	if next.Own == nil {
		next.Own = map[string]OwnLimit{}
	}
	next.Own[id] = own
	return next, nil
}

// Without returns a sheet that judges by the book's value again.
func (s Sheet) Without(id string) Sheet {
	next := s
	next.Own = maps.Clone(s.Own)
	delete(next.Own, id)
	return next
}

// OwnIDs returns the acceptance ids that have a value of the user's own, sorted.
func (s Sheet) OwnIDs() []string { return slices.Sorted(maps.Keys(s.Own)) }

// Limits returns the limits that hold for the unit at hand: the user's own value
// alone where there is one, and otherwise those of Acceptance.LimitsFor. It
// returns nothing for an id that the book does not have, and for one whose
// figures are of other versions only: then there is no verdict.
func (s Sheet) Limits(id string) []Limit {
	if s.Book == nil {
		return nil
	}
	a, ok := s.Book.Acceptance(id)
	if !ok {
		return nil
	}
	if own, ok := s.Own[id]; ok {
		return []Limit{own.limit(s.Version, s.Build)}
	}
	return a.LimitsFor(s.Version, s.Build)
}

func (o OwnLimit) limit(version Version, build Build) Limit {
	l := Limit{
		Min: o.Min, Max: o.Max, MinText: o.MinText, MaxText: o.MaxText,
		Provenance: Provenance{Kind: Own, At: o.At, Note: o.Source},
	}
	if version != "" {
		l.Condition.Versions = []Version{version}
	}
	if build != "" {
		l.Condition.Builds = []Build{build}
	}
	return l
}
