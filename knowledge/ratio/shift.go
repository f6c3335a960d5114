package ratio

import (
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Shift is engine speed over one shift, read two or three times in a row.
type Shift struct {
	From, To      unit.Gear
	Before, After quantity.Reading
	// Peak is the highest engine speed in between; the zero Reading when nobody
	// saw it.
	Peak quantity.Reading
	// SpeedBefore and SpeedAfter are the road speeds with Before and After. When
	// one is missing the truck is taken to have kept its speed.
	SpeedBefore, SpeedAfter quantity.Reading
	Meter                   *conformity.Accuracy // nil for Tachometer
}

// A Flare is what a Shift comes to.
type Flare struct {
	// Expected is engine speed after a clean shift, with as much converter slip as
	// before, and ExpectedDrop what it falls by; negative for a downshift.
	Expected, ExpectedDrop quantity.Rotation
	// Left is what engine speed after the shift is over Expected: the new gear
	// slips, or the converter does. LeftStandard is its standard uncertainty.
	Left, LeftStandard quantity.Rotation
	// Seen is true when Peak was read. Rise is by how much it exceeds the greater
	// of Before and Expected, RiseStandard its standard uncertainty, and Flares the
	// probability that engine speed did rise.
	Seen               bool
	Rise, RiseStandard quantity.Rotation
	Flares             float64
	// Holds is the probability that the new gear does not slip more than its
	// converter did before: that Left is not over zero.
	Holds float64
}

// Flared reports whether it is sure that engine speed rose in the shift. No
// sheet says how much is allowed.
func (f Flare) Flared() bool { return f.Seen && f.Flares >= sure }

// Slips reports whether it is sure that engine speed after the shift is over
// what the new gear makes.
func (f Flare) Slips() bool { return f.Holds <= 1-sure }

// Flare returns how far engine speed ran away in a shift.
//
//	expected = before · (i_to / i_from) · (v_after / v_before)
//	rise     = peak − max(before, expected)
//	left     = after − expected
//
// Engine speeds must be 300 to 8000 rpm, the gears two different ones of 1 to 4.
// It assumes one tachometer, whose error in per cent is the same for all
// readings, and the same slip of the converter before and after: that holds for
// a steady foot; a converter clutch that came on in between adds a drop.
// Errors: *quantity.RangeError naming the input; *unit.GearError for the gears.
// Source: definition of the ratio; checked against published ratios in shift_test.go.
func (s Shift) Flare() (Flare, error) {
	from, to, err := step(s.From, s.To)
	if err != nil {
		return Flare{}, err
	}
	readings := []struct {
		name string
		r    quantity.Reading
	}{{Before, s.Before}, {After, s.After}, {Peak, s.Peak}}
	for _, x := range readings {
		if x.name == Peak && x.r.Kind == "" {
			continue
		}
		if err := within(x.name, x.r.Value(), validEngine[0].Value(), validEngine[1].Value(), quantity.RPM); err != nil {
			return Flare{}, err
		}
	}
	q, uq := 1.0, 0.0
	if s.SpeedBefore.Kind != "" && s.SpeedAfter.Kind != "" {
		for _, v := range []quantity.Reading{s.SpeedBefore, s.SpeedAfter} {
			if err := within(ShiftSpeed, v.Value(), validSpeed[0].Value(), validSpeed[1].Value(), quantity.MilePerHour); err != nil {
				return Flare{}, err
			}
		}
		q = s.SpeedAfter.SI / s.SpeedBefore.SI
		// The same speedometer twice: the last digit is what is left.
		uq = q * math.Hypot(digit(s.SpeedBefore), digit(s.SpeedAfter))
	}
	drop := to / from * q
	expected := s.Before.SI * drop
	ub, ua := apart(s.Before, s.Meter), apart(s.After, s.Meter)
	ue := math.Hypot(drop*ub, s.Before.SI*to/from*uq)
	f := Flare{
		Expected:     quantity.Rotation(expected),
		ExpectedDrop: quantity.Rotation(s.Before.SI - expected),
		Left:         quantity.Rotation(s.After.SI - expected),
		LeftStandard: quantity.Rotation(math.Hypot(ua, ue)),
	}
	f.Holds = 1
	if f.LeftStandard > 0 {
		f.Holds = below(-float64(f.Left / f.LeftStandard))
	} else if f.Left > 0 {
		f.Holds = 0
	}
	if s.Peak.Kind == "" {
		return f, nil
	}
	f.Seen = true
	base, ubase := s.Before.SI, ub
	if expected > base {
		base, ubase = expected, ue
	}
	f.Rise = quantity.Rotation(s.Peak.SI - base)
	f.RiseStandard = quantity.Rotation(math.Hypot(apart(s.Peak, s.Meter), ubase))
	if f.RiseStandard > 0 {
		f.Flares = below(float64(f.Rise / f.RiseStandard))
	} else if f.Rise > 0 {
		f.Flares = 1
	}
	return f, nil
}

// digit is the standard uncertainty that a reading's last digit leaves, as a
// share of the reading.
func digit(r quantity.Reading) float64 { return r.Resolution / math.Sqrt(12) / r.SI }

// step returns the ratios of the two gears of a shift.
func step(a, b unit.Gear) (from, to float64, err error) {
	for _, g := range []unit.Gear{a, b} {
		if g != unit.First && g != unit.Second && g != unit.Third && g != unit.Fourth {
			return 0, 0, &unit.GearError{Gear: g}
		}
	}
	if a == b {
		return 0, 0, &unit.GearError{Gear: b}
	}
	if from, err = unit.Ratio(a); err != nil {
		return 0, 0, err
	}
	to, err = unit.Ratio(b)
	return from, to, err
}
