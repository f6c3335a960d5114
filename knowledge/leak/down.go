package leak

import (
	"fmt"
	"math"
	"strconv"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Point is one reading of a leak-down: a chamber is filled, shut off and
// watched.
type Point struct {
	Time     quantity.Duration // since the first reading or any other zero
	Pressure quantity.Pressure // gauge
	// Standard is the standard uncertainty of the pressure; 0 for not known.
	Standard quantity.Pressure
}

// A Decay is how a shut-off chamber loses its pressure.
type Decay struct {
	// Rate is the share of the pressure that is lost per second, and Standard
	// its standard uncertainty. A rate under zero is a pressure that rises.
	Rate, Standard float64
	Start          quantity.Pressure // the fitted pressure at time zero
	Points         int
	// Fit is how far the readings lie off the fitted curve against what their
	// uncertainty lets expect: about 1 when all is well. 0 when no reading came
	// with an uncertainty.
	Fit float64
	// Bends is true when the readings follow no single rate: the leak opens or
	// closes as the pressure falls, or the chamber warmed or cooled.
	Bends bool
}

// The limits of what counts as a series of readings. maxPoints is what a person
// could note.
const (
	minPoints = 3
	maxPoints = 200
)

// A PointError reports a reading that can't be used. Number counts from 1; 0
// stands for the series as a whole.
type PointError struct {
	Number int
	Why    string // a full sentence
}

// Error returns the fault for a log.
func (e *PointError) Error() string {
	return "leak: reading " + strconv.Itoa(e.Number) + ": " + e.Why
}

// Sentence returns the fault for the person who typed.
func (e *PointError) Sentence() string {
	if e.Number == 0 {
		return e.Why
	}
	return "Reading " + strconv.Itoa(e.Number) + ": " + e.Why
}

// LeakDown fits the readings of a leak-down.
//
//	p = p₀ · exp(−r t)
//
// by least squares in the logarithm, each reading weighted by its uncertainty:
// u(ln p) = u(p)/p. That law holds where the leak is laminar and the chamber
// gives in proportion to the pressure: an accumulator on its spring's straight
// part, or air at small overpressure. Where no uncertainty is given, all
// pressures are taken to be equally uncertain and the scatter about the curve
// says by how much; where they scatter more than their uncertainty lets expect,
// the result's is enlarged by as much.
//
// There must be 3 to 200 readings at rising times, each pressure over 0 and at
// most 50 MPa.
// Errors: *PointError; *quantity.RangeError for a pressure or a time that is not
// believed.
// Source: JCGM 100:2008 (GUM), H.3, for the straight line; checked against NIST
// Statistical Reference Datasets, Norris, in down_test.go.
func LeakDown(points []Point) (Decay, error) {
	if len(points) < minPoints || len(points) > maxPoints {
		return Decay{}, &PointError{Why: fmt.Sprintf("A leak-down needs %d to %d readings; here are %d.", minPoints, maxPoints, len(points))}
	}
	n := len(points)
	known := true
	for i, p := range points {
		if err := within("pressure", p.Pressure.Value(), maxDrop, quantity.PSI); err != nil {
			return Decay{}, err
		}
		if err := quantity.Within("leak", "time", p.Time.Value(), quantity.Hour.Of(0), quantity.Hour.Of(48), quantity.Minute); err != nil {
			return Decay{}, err
		}
		if !(p.Standard >= 0 && p.Standard <= quantity.Pressure(maxDrop.SI)) {
			return Decay{}, &PointError{i + 1, "The uncertainty of its pressure is not one."}
		}
		if p.Pressure == 0 {
			return Decay{}, &PointError{i + 1, "At no pressure the leak can't be told. Leave out what was read after the pressure was gone."}
		}
		if i > 0 && p.Time <= points[i-1].Time {
			return Decay{}, &PointError{i + 1, "Its time is not later than the one before it."}
		}
		known = known && p.Standard > 0
	}
	x, y, w := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range points {
		x[i], y[i] = float64(p.Time), math.Log(float64(p.Pressure))
		// The ratio to the first keeps the weights near 1.
		w[i] = float64(p.Pressure / points[0].Pressure)
		if known {
			w[i] = float64(p.Pressure / p.Standard)
		}
		w[i] *= w[i]
	}
	a, b, ub, chi := line(x, y, w)
	d := Decay{Rate: -b, Standard: ub, Start: quantity.Pressure(math.Exp(a)), Points: n}
	scatter := math.Sqrt(chi / float64(n-2))
	if known {
		d.Fit = scatter
		d.Standard *= math.Max(1, scatter)
	} else {
		d.Standard *= scatter
	}
	// Both halves must tell the same rate, as far as can be told.
	if half := n / 2; half >= minPoints {
		_, early, ue, chie := line(x[:half], y[:half], w[:half])
		_, late, ul, chil := line(x[n-half:], y[n-half:], w[n-half:])
		if !known {
			s := math.Sqrt((chie + chil) / float64(2*half-4+1))
			ue, ul = ue*s, ul*s
		}
		d.Bends = math.Abs(early-late) > 3*math.Hypot(ue, ul)
	}
	if math.IsNaN(d.Rate+d.Standard+float64(d.Start)+d.Fit) || math.IsInf(d.Rate+d.Standard+float64(d.Start)+d.Fit, 0) {
		return Decay{}, &PointError{Why: "These readings give no rate. Check times and pressures."}
	}
	return d, nil
}

// line fits y = a + b x with weights w = 1/u² and returns also the standard
// uncertainty of b and the weighted sum of squares that is left.
func line(x, y, w []float64) (a, b, ub, chi float64) {
	var sw, mx, my float64
	for i := range x {
		sw += w[i]
		mx += w[i] * x[i]
		my += w[i] * y[i]
	}
	mx, my = mx/sw, my/sw
	var sxx, sxy float64
	for i := range x {
		sxx += w[i] * (x[i] - mx) * (x[i] - mx)
		sxy += w[i] * (x[i] - mx) * (y[i] - my)
	}
	b = sxy / sxx
	a = my - b*mx
	for i := range x {
		r := y[i] - a - b*x[i]
		chi += w[i] * r * r
	}
	return a, b, 1 / math.Sqrt(sxx), chi
}

// Holds reports whether no leak can be told from the readings: the rate is not
// over twice its uncertainty.
func (d Decay) Holds() bool { return d.Rate <= 2*d.Standard }

// HalfLife returns how long the pressure takes to fall by half. ok is false when
// no leak can be told.
func (d Decay) HalfLife() (t quantity.Duration, ok bool) {
	// A leak that takes a hundred years is none, and its half-life no number.
	if d.Holds() || !(d.Rate > 1e-10) {
		return 0, false
	}
	return quantity.Duration(math.Ln2 / d.Rate), true
}

// Drop returns what a chamber that starts at a pressure loses over a time, with
// the standard uncertainty of the loss.
//
//	Δp = p (1 − exp(−r t)), u = p t exp(−r t) u(r)
//
// The pressure must lie in 0 to 50 MPa, the time in 0 to 48 h, and the readings
// must not rise so much that no number comes out.
// Errors: *quantity.RangeError naming the argument.
// Source: JCGM 100:2008 (GUM), 5.1.2; checked in down_test.go.
func (d Decay) Drop(from quantity.Pressure, over quantity.Duration) (drop, standard quantity.Pressure, err error) {
	if err := within("pressure", from.Value(), maxDrop, quantity.PSI); err != nil {
		return 0, 0, err
	}
	if err := quantity.Within("leak", "time", over.Value(), quantity.Hour.Of(0), quantity.Hour.Of(48), quantity.Minute); err != nil {
		return 0, 0, err
	}
	left := math.Exp(-d.Rate * float64(over))
	drop = quantity.Pressure(float64(from) * (1 - left))
	standard = quantity.Pressure(float64(from) * float64(over) * left * d.Standard)
	if err := quantity.Within("leak", "rate", quantity.Value{Kind: quantity.KindRatio, SI: d.Rate},
		quantity.Number.Of(-1e3), quantity.Number.Of(1e6), quantity.Number); err != nil {
		return 0, 0, err
	}
	if x := float64(drop) + float64(standard); math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, 0, quantity.Within("leak", "pressure", quantity.Value{Kind: quantity.KindPressure, SI: x}, quantity.Value{Kind: quantity.KindPressure}, maxDrop, quantity.PSI)
	}
	return drop, standard, nil
}

// A Limit is how much a chamber may lose.
type Limit struct {
	Name string // who says so
	From quantity.Pressure
	Over quantity.Duration
	Most quantity.Pressure // the greatest allowed loss
	Unit quantity.Unit     // for sentences; zero: psi
}

// Judge holds a leak-down against a limit. Without a limit, with readings that
// bend, or with a pressure that rises there is no verdict.
//
// Errors: none; what can't be judged gets a verdict that says so.
// Source: JCGM 106:2012, clause 7; checked in down_test.go.
func (d Decay) Judge(l *Limit) conformity.Result {
	none := func(why string) conformity.Result {
		return conformity.Result{Verdict: conformity.None, Reason: why}
	}
	switch {
	case l == nil || !(l.Most > 0) || !(l.From > 0) || !(l.Over > 0):
		return none("No limit is known for this leak-down, so there is no verdict. Enter your own, or compare with a chamber that is known to be good.")
	case d.Points == 0:
		return none("There are no readings.")
	case d.Rate < -2*d.Standard:
		return none("The pressure rises, so this is no leak-down: the supply leaks in, or the chamber warms up.")
	case d.Bends:
		return none("The readings follow no single rate, so what would be lost from another pressure can't be told. Read again from the limit's own pressure and for its own time.")
	}
	drop, u, err := d.Drop(l.From, l.Over)
	if err != nil {
		return none("The loss can't be worked out, so there is no verdict.")
	}
	// A rate a hair under zero is a chamber that holds.
	r := quantity.Reading{Kind: quantity.KindPressure, SI: math.Max(0, float64(drop))}
	most := l.Most.Value()
	return conformity.Judge(r, float64(u), conformity.Window{Name: l.Name, Max: &most, Unit: l.Unit}, conformity.Rule{})
}

// Against returns how many times as fast d leaks as another chamber, with the
// standard uncertainty of that. ok is false when the other one holds, because
// then any leak is endlessly faster.
//
//	q = r/r₀, (u/q)² = (u(r)/r)² + (u(r₀)/r₀)²
//
// Errors: none; see above.
// Source: JCGM 100:2008 (GUM), 5.1.6; checked in down_test.go.
func (d Decay) Against(good Decay) (times, standard quantity.Ratio, ok bool) {
	if good.Holds() || !(good.Rate > 0) || !(d.Rate > 0) {
		return 0, 0, false
	}
	q := d.Rate / good.Rate
	return quantity.Ratio(q), quantity.Ratio(q * math.Hypot(d.Standard/d.Rate, good.Standard/good.Rate)), true
}
