// Package flatness says how flat a mating face is, for somebody with a casting
// on the bench who must decide whether it is good, how much to take off it, and
// where it leaks.
//
// Two kinds of readings are understood. Points of a face, each with its height
// as an indicator shows it, over a grid or anywhere (Point). And lines along
// which a straightedge was laid and feelers were tried under it (Line). What a
// straightedge can't tell stands with Combine.
//
// # What flatness is
//
// The least separation of two parallel planes that hold the face between them:
// the minimum zone, as in ISO 1101 and ASME Y14.5. MinimumZone finds it. ISO
// 12781-1 also knows the reference plane by least squares, which never gives
// less; LeastSquares gives that one with its parameters FLTt, FLTp, FLTv and
// FLTq.
//
// # What it leaves out
//
// Only the places that were read are known. Between them a face can be as it
// likes, and so every figure here is a least one; the screens say so. Form
// smaller than a feeler or an indicator's tip, roughness and waviness, is no
// part of it.
//
// Sources: ISO 1101:2017 and ASME Y14.5-2018 (definition of flatness, from
// memory), ISO 12781-1:2011 (parameters, from memory); the reference data of
// the TraCIM service for Gauss and Chebyshev elements (testdata/flatness).
package flatness

import (
	"fmt"
	"math"
	"strconv"

	"provingbench/knowledge/quantity"
)

// A Point is one place of a face. Heights count away from the metal: what is
// higher stands up.
type Point struct {
	Name    string // as the user calls it; empty for its number in the list
	X, Y, Z quantity.Length
}

const (
	// MostPoints is how many points, or rows of typed text, are taken.
	MostPoints = 10000
	// Reach is the most that a coordinate is believed to be.
	Reach quantity.Length = 10
	// thick is how thick a zone can be for its width to be a face at all. A face
	// is flat to a thousandth of its width; a tenth is a slipped unit. It also
	// keeps the planes near the least-squares plane, where MinimumZone looks.
	thick = 0.1
	// thin is how narrow points can lie, for their length, without being taken
	// for one line.
	thin = 1e-4
)

// A Reason says what is wrong with readings, so that a caller can choose words
// of its own.
type Reason string

// The reasons for an Error.
const (
	TooFew    Reason = "too few points"
	TooMany   Reason = "too many rows"
	OneLine   Reason = "all on one line"
	TooThick  Reason = "too thick for a face"
	TooFar    Reason = "outside what is possible"
	Outside   Reason = "outside the points"
	Upright   Reason = "stands upright"
	BadRow    Reason = "not a row of numbers"
	BadNumber Reason = "not a number"
	Uneven    Reason = "rows of different length"
	NoHeading Reason = "no line begun"
	BadGaps   Reason = "gaps out of order"
	NotOnLine Reason = "not on its line"
)

// Error reports readings that nothing can be worked out from.
type Error struct {
	Input  string // what it blames: "points", "grid", "lines", "pitch", "place"
	Row    int    // of the typed text, from 1; 0 when it is not about one row
	Reason Reason
	Part   string // what is wrong, as typed or as named, cut when long
	Err    error  // what quantity.Parse said, if that is the reason
}

// Error returns the fault for a log.
func (e *Error) Error() string {
	s := "flatness: " + e.Input
	if e.Row > 0 {
		s += " row " + strconv.Itoa(e.Row)
	}
	s += ": " + string(e.Reason)
	if e.Part != "" {
		s += fmt.Sprintf(" %q", e.Part)
	}
	return s
}

// Unwrap returns what quantity.Parse said.
func (e *Error) Unwrap() error { return e.Err }

// Sentence returns the fault for the person who typed, in full sentences.
func (e *Error) Sentence() string {
	s := ""
	if e.Row > 0 {
		s = "Row " + strconv.Itoa(e.Row) + ": "
	}
	if e.Err != nil {
		if said, ok := e.Err.(interface{ Sentence() string }); ok {
			return s + said.Sentence()
		}
	}
	quoted := `"` + e.Part + `"`
	switch e.Reason {
	case TooFew:
		return s + "Three places at least are needed, and they must not be all in one line."
	case TooMany:
		return s + "That is more than " + strconv.Itoa(MostPoints) + " rows."
	case OneLine:
		return s + "All places lie on one line. A line says how straight it is, not how flat the face is. Read places to the side of it too."
	case TooThick:
		return s + "The heights differ by more than a tenth of the width of the face. Check the units: heights are often in thousandths while places are in inches."
	case TooFar:
		return s + quoted + " can't be a place or a height on a casting. Check the number and its unit."
	case Outside:
		return s + "That place lies outside the places that were read, so its gap isn't known."
	case Upright:
		return s + "The face stands upright in these numbers. Give its height last."
	case BadRow:
		return s + quoted + " is not a row that can be read here."
	case BadNumber:
		return s + quoted + " is not a number."
	case Uneven:
		return s + "This row has not as many places as the first. Type - where there is no metal."
	case NoHeading:
		return s + "Begin with a row that names the line and says where it runs, for example A 0 0 200 0."
	case BadGaps:
		return s + "The feeler that goes under must be thinner than the one that does not."
	case NotOnLine:
		return s + quoted + " lies beyond the end of the line."
	}
	return s + "This can't be read."
}

// cut shortens what an error repeats.
func cut(s string) string {
	if r := []rune(s); len(r) > 24 {
		return string(r[:24]) + "…"
	}
	return s
}

// name is how a point is called: by its name, or else by its number.
func name(points []Point, i int) string {
	if points[i].Name != "" {
		return points[i].Name
	}
	return strconv.Itoa(i + 1)
}

// vector is a place or a direction in space, in metre or without unit.
type vector [3]float64

func (p Point) vector() vector { return vector{float64(p.X), float64(p.Y), float64(p.Z)} }

func (a vector) dot(b vector) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a vector) cross(b vector) vector {
	return vector{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// plus returns a + k·b.
func (a vector) plus(k float64, b vector) vector {
	return vector{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
}

func (a vector) unit() vector {
	n := math.Sqrt(a.dot(a))
	return vector{a[0] / n, a[1] / n, a[2] / n}
}
