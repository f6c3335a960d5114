// Package fluid says what a fluid temperature means for this unit, how thick
// the fluid is at it, how fast it ages and how much heat it carries, and what
// kind of temperature sensor two readings show.
//
// The limits of the bands are not in here: they are figures of a unit sheet,
// with their sources, and come in as arguments. What shear, pressure, air and
// water do to the fluid is left out.
package fluid

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"provingbench/knowledge/quantity"
)

// A Bound is a limit of a fluid temperature as one source gives it.
type Bound struct {
	Name string // who says so, or what happens there
	At   quantity.Temperature
}

// Limits are the temperatures at which something changes. An empty list says
// that none is known; several bounds in one list are sources that disagree.
type Limits struct {
	Units quantity.Preference // in which sentences are given

	OverdriveBlocked []Bound // under it overdrive is blocked cold
	NormalLeast      []Bound // under it the fluid is still warming
	NormalMost       []Bound // over it the fluid is warmer than normal
	Seals            []Bound // over it seals harden
	HotStrategy      []Bound // over it the computer takes its hot strategy
	Damage           []Bound // over it the fluid itself fails quickly
}

// A Band is where a temperature lies.
type Band string

// The bands, cold to hot, and the two that are none.
const (
	TooCold     Band = "too-cold"     // overdrive is blocked, every source says so
	MaybeCold   Band = "maybe-cold"   // overdrive is blocked by one source and not by another
	Warming     Band = "warming"      // no longer blocked, not yet normal
	Normal      Band = "normal"       // what the unit is made for
	Warm        Band = "warm"         // over normal, nothing is harmed at once
	SealDamage  Band = "seal-damage"  // seals harden
	HotStrategy Band = "hot-strategy" // the computer defends itself
	FluidDamage Band = "fluid-damage" // the fluid fails quickly
	Unknown     Band = "unknown"      // no limit is known that would tell
	NoReading   Band = "no-reading"   // nothing was read, or it cannot be true
)

// A State is what a fluid temperature means.
type State struct {
	Band Band
	// Crossed names every upper limit that the temperature is over.
	Crossed []string
	// Near names the limits that the reading is too close to: it may be on their
	// other side.
	Near []string
	// Sentence says it in full sentences.
	Sentence string
}

// Judge says what a fluid temperature with standard uncertainty u, in kelvin,
// means for a unit with these limits. Where sources give two upper limits, the
// lower one is taken: it harms nobody to be careful early. Where they give two
// cold limits, between them the answer is MaybeCold.
//
// Errors: none; what cannot be judged is Unknown or NoReading.
// Source: the limits' own, which the unit sheet names; checked in fluid_test.go.
func Judge(r quantity.Reading, u float64, l Limits) State {
	least, most, _ := quantity.Plausible(quantity.KindTemperature)
	if r.Kind != quantity.KindTemperature || r.OpenLoop || !(r.SI >= least.SI && r.SI <= most.SI) {
		return State{Band: NoReading, Sentence: "There is no fluid temperature to go by."}
	}
	if !(u >= 0) || math.IsInf(u, 0) {
		return State{Band: NoReading, Sentence: "How far the temperature can be off is not known, so nothing is said about it."}
	}
	t := quantity.Temperature(r.SI)
	s := State{Band: Unknown}
	s.Near = near(t, u, l)

	type step struct {
		band   Band
		bounds []Bound
	}
	var over []step
	for _, x := range []step{{Warm, l.NormalMost}, {SealDamage, l.Seals}, {HotStrategy, l.HotStrategy}, {FluidDamage, l.Damage}} {
		if b, ok := lowest(x.bounds); ok && t > b.At {
			over = append(over, x)
			s.Crossed = append(s.Crossed, fmt.Sprintf("%s (%s)", b.Name, l.degrees(b.At)))
		}
	}
	cold := 0
	for _, b := range l.OverdriveBlocked {
		if t < b.At {
			cold++
		}
	}
	floor, hasFloor := lowest(l.NormalLeast)
	switch {
	case len(over) > 0:
		s.Band = over[len(over)-1].band
	case cold > 0 && cold == len(l.OverdriveBlocked):
		s.Band = TooCold
	case cold > 0:
		s.Band = MaybeCold
	case hasFloor && t < floor.At:
		s.Band = Warming
	case hasFloor && len(l.NormalMost) > 0:
		s.Band = Normal
	}
	s.Sentence = s.sentence(l.degrees(t))
	return s
}

func (s State) sentence(read string) string {
	var text string
	switch s.Band {
	case TooCold:
		text = "The fluid is too cold for overdrive: the computer blocks fourth gear and the converter clutch. Do not look for a fault there until it is warm."
	case MaybeCold:
		text = "The sources disagree whether overdrive is blocked at this temperature. Warm the fluid up before you judge fourth gear or the converter clutch."
	case Warming:
		text = "The fluid is warming up. Levels and pressures are judged at normal temperature."
	case Normal:
		text = "The fluid is at normal temperature."
	case Warm:
		text = "The fluid is warmer than normal. Look for the cause: load, cooler flow, fluid level, converter clutch not applied."
	case SealDamage:
		text = "The fluid is hot enough to harden seals. Let it cool before the next test, and find the cause."
	case HotStrategy:
		text = "The fluid is so hot that the computer takes its hot strategy: fourth gear is dropped and the converter clutch applied early. That is no shift fault. Let it cool, and find the cause."
	case FluidDamage:
		text = "The fluid is failing. Stop, let it cool, and renew it before any other judgement."
	default:
		text = "No limit of the sheet says what this temperature means."
	}
	text = read + ": " + text
	if len(s.Near) > 0 {
		text += " The reading is too close to tell on which side it lies of: " + strings.Join(s.Near, ", ") + "."
	}
	return text
}

func lowest(bounds []Bound) (Bound, bool) {
	if len(bounds) == 0 {
		return Bound{}, false
	}
	b := bounds[0]
	for _, x := range bounds[1:] {
		if x.At < b.At {
			b = x
		}
	}
	return b, true
}

// near returns the bounds within the expanded uncertainty 2 u of t, coldest first.
func near(t quantity.Temperature, u float64, l Limits) []string {
	var all []Bound
	for _, list := range [][]Bound{l.OverdriveBlocked, l.NormalLeast, l.NormalMost, l.Seals, l.HotStrategy, l.Damage} {
		for _, b := range list {
			if math.Abs(float64(t-b.At)) <= 2*u {
				all = append(all, b)
			}
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].At < all[j].At })
	var names []string
	for _, b := range all {
		names = append(names, fmt.Sprintf("%s (%s)", b.Name, l.degrees(b.At)))
	}
	return names
}

func (l Limits) degrees(t quantity.Temperature) string {
	return l.Units.Format(t.Value(), quantity.Fahrenheit, 0)
}
