// Package infer answers one question for the technician: given what was
// reported and what the checks showed, which faults are present, how sure is
// that, and why?
//
// Several faults may be present at once. Each sign (a symptom, or one outcome
// of a check) is a noisy-OR of the faults that can produce it, with a leak for
// everything outside the catalogue:
//
//	P(sign absent | faults) = (1 - leak) · Π (1 - strength_i) over the faults present
//
// A check's outcomes are tried in order and the first whose sign fires is what
// is seen, so one outcome is one present sign and some absent ones.
package infer

// Cause is a fault, by its index, and how strongly it produces a sign.
type Cause struct {
	Fault    int
	Strength float64 // 0 … 1
}

// Sign is a noisy-OR of its causes.
type Sign struct {
	Leak   float64 // 0 … 1
	Causes []Cause
}

// Finding is one thing that is known: at most one sign seen, others not seen,
// faults proved present by it or ruled out by it.
type Finding struct {
	ID       string
	Reported bool // part of the complaint, so that it wants an explanation
	Present  *Sign
	Absent   []Sign
	Proves   []int
	RulesOut []int
}

// Scenario is a set of faults that could be what is wrong, with its weight.
type Scenario struct {
	Faults []int // ascending
	Weight float64
}
