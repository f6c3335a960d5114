package unit

import "provingbench/knowledge/quantity"

// Version is one of the three electronically governed versions, in rising capacity.
type Version string

// The versions.
const (
	Light Version = "light"
	Mid   Version = "mid"
	Late  Version = "late"
)

// Versions lists all versions in rising capacity.
var Versions = []Version{Light, Mid, Late}

// Build says whether the unit was built to the maker's settings or with a
// deliberately raised line pressure.
type Build string

// The builds.
const (
	Stock  Build = "stock"
	Raised Build = "raised"
)

// Provenance says where a number or an estimate comes from.
type Provenance struct {
	Kind   ProvenanceKind
	Source string // id of a Source, for Published
	At     string // page, table or test in that source
	Note   string // what to do about it, in one sentence
}

// ProvenanceKind is one of four kinds; none is ever upgraded to another.
type ProvenanceKind string

// The kinds of provenance.
const (
	Published      ProvenanceKind = "published"
	CommonPractice ProvenanceKind = "common-practice"
	Memory         ProvenanceKind = "memory"
	Demo           ProvenanceKind = "demo"
)

// Source is a published text, described by kind and year.
type Source struct {
	ID    string
	Title string
}

// Condition says when a limit holds. Empty fields say nothing.
type Condition struct {
	Versions []Version // empty: all
	Builds   []Build   // empty: all
	Range    string    // P, R, N, D, 2, 1
	Gear     string    // 1, 2, 3, 4, R
	Throttle string    // idle, half, full
	Fluid    string    // cold, hot
	Note     string    // anything else, in words
}

// Limit is one acceptance window as its source prints it.
type Limit struct {
	Condition  Condition
	Min, Max   *quantity.Value // nil: no limit on that side
	MinText    string          // as authored, "54 psi"
	MaxText    string
	Provenance Provenance
}

// Acceptance is one thing a check can measure or a repair must set, with every
// limit known for it. Two sources that disagree are two limits; both are shown.
type Acceptance struct {
	ID       string
	Name     string
	Group    string // pressure | governor | electrical | adjustment | torque | fluid | heat | clearance | valve-body | shift
	Quantity quantity.Kind
	Where    string // port, pins, screw or part
	Limits   []Limit
}
