package spring

import (
	"fmt"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Measurement is what somebody has who took a spring out, measured it and
// pressed it once. The zero Reading stands for "not measured".
type Measurement struct {
	Wire, Outer, Free quantity.Reading // lengths
	Turns             float64          // counted, ends included
	Ends              Ends
	Modulus           quantity.Stress // 0 for music wire's

	Load   quantity.Reading // on a spring tester
	LoadAt quantity.Reading // the length at which it was read

	// Installed and Shortest are the lengths that the spring has in its place,
	// at rest and at full travel; 0 for not known.
	Installed, Shortest quantity.Length

	// NewTurns and NewFree are those of a spring that is known to be good: of the
	// sheet, or of a new one of the same version. 0 for not known.
	NewTurns float64
	NewFree  quantity.Length

	// FreeWindows and LoadWindows are the acceptance windows, one for each
	// source; the loads hold at the length LoadAt.
	FreeWindows, LoadWindows []conformity.Window
	Rule                     conformity.Rule
	// Units are those of the sentences.
	Units quantity.Preference
}

// A Diagnosis is what a measurement says about the spring.
type Diagnosis string

// The diagnoses.
const (
	AsMeasured Diagnosis = "as-measured" // it pushes as its own dimensions say
	Broken     Diagnosis = "broken"      // turns are missing
	Collapsed  Diagnosis = "collapsed"   // it has set: all turns there, and shorter
	Weak       Diagnosis = "weak"        // it pushes less than its own dimensions say
	Strong     Diagnosis = "strong"      // it pushes more
	Clashes    Diagnosis = "clashes"     // the coils touch before the end of the travel
	NearClash  Diagnosis = "near-clash"  // they nearly do
	Loose      Diagnosis = "loose"       // shorter than the place it stands in
	Bows       Diagnosis = "bows"        // long enough to bow to the side
	Other      Diagnosis = "other"       // another spring: it is longer than new, or has more turns
)

// A Result is what a measurement comes to.
type Result struct {
	Spring       Spring
	Index        quantity.Ratio
	Rate         quantity.SpringRate // by its dimensions
	StandardRate quantity.SpringRate
	Solid        quantity.Length
	// Measured is the rate by the load; 0 when none was read.
	Measured, StandardMeasured quantity.SpringRate
	// AtInstalled and AtShortest are the loads in its place, by the measured rate
	// when there is one; 0 when the length is not known or can't be reached.
	AtInstalled, AtShortest quantity.Force
	Stress                  quantity.Stress // by Wahl, at the shortest length that is known
	// FreeLength and LoadTest hold the readings against the sheet.
	FreeLength, LoadTest conformity.Result
	Diagnoses            []Diagnosis // never empty
	Reasons              []string    // one full sentence for each diagnosis
}

// Is reports whether d is among the diagnoses.
func (r Result) Is(d Diagnosis) bool {
	for _, x := range r.Diagnoses {
		if x == d {
			return true
		}
	}
	return false
}

// What is assumed or asked for when the measurement says nothing; all of it is
// common practice and none of it an acceptance value.
const (
	// missing is how many turns must be gone before they count as gone: half a
	// turn is the most by which two people's counts differ.
	missing = 0.6
	// turnSpread is the standard uncertainty of a count of turns.
	turnSpread = 0.25
	// modulusSpread is the standard uncertainty of a modulus that is not the
	// wire's own, as a share.
	modulusSpread = 0.025
	// clashMargin is the share of the travel to solid that springs are left with
	// (Shigley, equation 10-19: 15 %, from memory).
	clashMargin = 0.15
)

// Judge works a measurement out.
//
// The rate by dimensions and by the load are two answers to one question; where
// they differ by more than their uncertainties (95 %), wire, count or steel is
// not what it seems. The verdicts against the sheet stand apart from that, and
// there are none without windows. Free length shorter than new with all turns
// there is a spring that has set; with turns missing it is broken, and what is
// left of it is stiffer.
//
// Wire, outer diameter, free length and turns are wanted; the rest may be left
// out.
// Errors: *quantity.RangeError naming the argument.
// Source: Shigley, Mechanical Engineering Design, chapter 10, and JCGM 100:2008
// (GUM), 5.1.2; checked in measure_test.go.
func (m Measurement) Judge() (Result, error) {
	if m.Load.Kind != "" {
		v := m.Load.Value()
		if v.Kind != quantity.KindForce || m.Load.OpenLoop {
			v = quantity.Force(math.NaN()).Value()
		}
		if err := upTo("load", v, maxForce, quantity.Newton); err != nil {
			return Result{}, err
		}
	}
	modulus := m.Modulus
	if modulus == 0 {
		modulus = Materials[0].Modulus
	}
	wire, outer := length(m.Wire), length(m.Outer)
	if err := within("outer diameter", outer.Value(), wire.Value(), maxLength, quantity.Millimetre); err != nil {
		return Result{}, err
	}
	for _, x := range []struct {
		name string
		l    quantity.Length
	}{{"installed length", m.Installed}, {"shortest length", m.Shortest}, {"free length of a new spring", m.NewFree}} {
		if err := upTo(x.name, x.l.Value(), maxLength, quantity.Millimetre); err != nil {
			return Result{}, err
		}
	}
	if err := upTo("number of turns of a new spring", quantity.Number.Of(m.NewTurns), quantity.Number.Of(maxTurns), quantity.Number); err != nil {
		return Result{}, err
	}
	s := Spring{Wire: wire, Mean: outer - wire, Turns: m.Turns, Ends: m.Ends, Free: length(m.Free), Modulus: modulus}
	r := Result{Spring: s}
	var err error
	if r.Rate, err = s.Rate(); err != nil {
		return Result{}, err
	}
	if r.Index, err = s.Index(); err != nil {
		return Result{}, err
	}
	if r.Solid, err = s.Solid(); err != nil {
		return Result{}, err
	}
	if err := within("free length", s.Free.Value(), (r.Solid * 0.98).Value(), maxLength, quantity.Millimetre); err != nil {
		return Result{}, err
	}
	// k goes with d⁴ and (D_o − d)⁻³, so the wire counts twice.
	uw, uo := standard(m.Wire), standard(m.Outer)
	d, mean := float64(s.Wire), float64(s.Mean)
	share := math.Hypot(math.Hypot((4/d+3/mean)*uw, 3/mean*uo), math.Hypot(turnSpread/s.Active(), modulusSpread))
	r.StandardRate = quantity.SpringRate(share * float64(r.Rate))

	ul := standard(m.Load)
	if m.Load.Kind != "" && m.LoadAt.Kind != "" {
		// A length that is off shows as a load that is off.
		ul = math.Hypot(ul, float64(r.Rate)*standard(m.LoadAt))
		free := Load{Length: s.Free, StandardLength: standard(m.Free)}
		pressed := Load{Length: length(m.LoadAt), Force: quantity.Force(m.Load.SI), StandardLength: standard(m.LoadAt), StandardForce: standard(m.Load)}
		if err := within("length of the load", pressed.Length.Value(), quantity.Length(0).Value(), (s.Free - 1e-5).Value(), quantity.Millimetre); err != nil {
			return Result{}, err
		}
		if pressed.Length >= r.Solid {
			if r.Measured, r.StandardMeasured, err = FromLoads(free, pressed); err != nil {
				return Result{}, err
			}
		}
	}
	r.FreeLength = conformity.JudgeAll(m.Free, standard(m.Free), m.FreeWindows, nil, m.Rule)
	r.LoadTest = conformity.JudgeAll(m.Load, ul, m.LoadWindows, nil, m.Rule)
	m.loads(&r)
	m.diagnose(&r)
	return r, nil
}

// loads works out what the spring does in its place.
func (m Measurement) loads(r *Result) {
	k := r.Rate
	if r.Measured > 0 {
		k = r.Measured
	}
	at := func(l quantity.Length) quantity.Force {
		if l == 0 || l < r.Solid || l > r.Spring.Free {
			return 0
		}
		return quantity.Force(float64(k) * float64(r.Spring.Free-l))
	}
	r.AtInstalled, r.AtShortest = at(m.Installed), at(m.Shortest)
	if f := max(r.AtInstalled, r.AtShortest); f > 0 && f <= quantity.Force(maxForce.SI) {
		if w, err := Wahl(r.Index); err == nil {
			r.Stress, _ = r.Spring.Shear(f, w)
		}
	}
}

func (m Measurement) diagnose(r *Result) {
	add := func(d Diagnosis, format string, args ...any) {
		r.Diagnoses = append(r.Diagnoses, d)
		r.Reasons = append(r.Reasons, fmt.Sprintf(format, args...))
	}
	s := r.Spring
	shorter, longer := false, false
	if m.NewFree > 0 {
		off := float64(s.Free - m.NewFree)
		// A new spring's own length is no better known than this one's.
		u := 2 * math.Hypot(standard(m.Free), standard(m.Free))
		shorter, longer = off < -u, off > u
	}
	gone := m.NewTurns - s.Turns
	counted := m.NewTurns > 0
	switch {
	case counted && gone >= missing:
		dead, _ := s.Ends.dead()
		text := fmt.Sprintf("It has %s turns and a new one %s: a piece has broken off.", turns(s.Turns), turns(m.NewTurns))
		if was := m.NewTurns - dead; was > 0 {
			text += fmt.Sprintf(" What is left is %.0f %% stiffer, but it stands lower and has lost its preload. Look for the piece before you close up.", 100*(was/s.Active()-1))
		}
		add(Broken, "%s", text)
	case counted && -gone >= missing:
		add(Other, "It has %s turns and a new one %s: it is another spring.", turns(s.Turns), turns(m.NewTurns))
	case shorter && counted:
		add(Collapsed, "All its turns are there and it stands %s lower than a new one: it has set. Its rate is as before, so in its place it pushes %s less.",
			m.say((m.NewFree - s.Free).Value()), m.say(quantity.Force(float64(r.Rate)*float64(m.NewFree-s.Free)).Value()))
	case shorter:
		add(Collapsed, "It stands %s lower than a new one: it has set, or a turn is missing. Count the turns of both to tell.",
			m.say((m.NewFree - s.Free).Value()))
	case longer:
		add(Other, "It stands %s higher than a new one: it is another spring.", m.say((s.Free - m.NewFree).Value()))
	}
	if m.Load.Kind != "" && m.LoadAt.Kind != "" {
		off := float64(r.Measured - r.Rate)
		u := math.Hypot(float64(r.StandardMeasured), float64(r.StandardRate))
		both := fmt.Sprintf("By its load it has %s, by wire, coil and turns %s.",
			m.say(r.Measured.Value()), m.say(r.Rate.Value()))
		switch {
		case length(m.LoadAt) < r.Solid:
			add(Clashes, "The load was read at %s, under its solid length of %s: the coils touched, so the load says nothing.",
				m.say(length(m.LoadAt).Value()), m.say(r.Solid.Value()))
		case off < -1.96*u:
			add(Weak, "%s It pushes less than a whole spring of these dimensions: a coil is cracked, or wire or turns were measured wrong.", both)
		case off > 1.96*u:
			add(Strong, "%s It pushes more than a spring of these dimensions: wire or turns were measured wrong, or coils touched already.", both)
		}
	}
	for _, l := range []quantity.Length{m.Installed, m.Shortest} {
		switch {
		case l == 0:
		case l <= r.Solid:
			add(Clashes, "At %s its coils touch: solid is %s. The piston stops there, and not where it should.",
				m.say(l.Value()), m.say(r.Solid.Value()))
		case l > s.Free:
			add(Loose, "Its place is %s long and the spring %s: it is loose there and pushes nothing.", m.say(l.Value()), m.say(s.Free.Value()))
		case float64(l-r.Solid) < clashMargin*float64(s.Free-l):
			add(NearClash, "At %s only %s is left until the coils touch. Springs are made with 15 %% of their travel to spare.",
				m.say(l.Value()), m.say((l - r.Solid).Value()))
		}
	}
	if most, err := s.Buckles(FlatFlat); err == nil && s.Free > most {
		add(Bows, "It is longer than %s, so without a pin or a bore to guide it, it can bow to the side.", m.say(most.Value()))
	}
	if len(r.Diagnoses) == 0 {
		text := "Nothing is wrong with it by what was measured."
		switch {
		case r.Measured > 0 && m.NewFree == 0 && len(m.FreeWindows) == 0:
			text = "It pushes as its dimensions say. Whether it has set can't be told without the free length of a new one."
		case r.Measured > 0:
			text = "It pushes as its dimensions say."
		case m.NewFree == 0 && len(m.FreeWindows) == 0 && len(m.LoadWindows) == 0:
			text = "There is nothing to hold it against: read a load, or measure a new one of the same version."
		}
		add(AsMeasured, "%s", text)
	}
}

func standard(r quantity.Reading) float64 {
	if r.Kind == "" {
		return 0
	}
	return conformity.Default(r).Standard(r)
}

// length returns a reading as a length; what is none is NaN and refused by the
// ranges.
func length(r quantity.Reading) quantity.Length {
	if r.Kind != quantity.KindLength || r.OpenLoop {
		return quantity.Length(math.NaN())
	}
	return quantity.Length(r.SI)
}

func turns(n float64) string {
	return quantity.FormatSignificant(quantity.Number.Of(n), quantity.Number, 3)
}

func (m Measurement) say(v quantity.Value) string {
	return m.Units.Format(v, quantity.DefaultUnit(v.Kind), -1)
}
