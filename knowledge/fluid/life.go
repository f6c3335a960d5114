package fluid

import (
	"math"
	"strconv"

	"provingbench/knowledge/quantity"
)

// ValidTemperature is the range of fluid temperatures for which a life is
// estimated: from arctic cold to where the fluid burns on a hot surface.
var ValidTemperature = [2]quantity.Temperature{quantity.FromCelsius(-60), quantity.FromCelsius(250)}

// The widely copied fluid life chart of the trade. It is folklore: its copies
// repeat each other, and no test stands behind it.
const (
	// ChartStep is the rise that halves the life by the chart's own words, 20 °F,
	// in kelvin.
	ChartStep = 20 / 1.8
	// ChartLife is the chart's life at ChartReference, 100 000 miles, in metre.
	ChartLife quantity.Distance = 100000 * 1609.344
	// ChartEnergy is the activation energy, in joule per mole, of a reaction that
	// agrees with the first and the last row that the chart gives in miles over
	// a range where the fluid still flows: 100 000 miles at 175 °F, 325 at 335 °F.
	// It is derived from the chart, so it is folklore too.
	ChartEnergy = 83.4e3
	// gasConstant is in joule per mole and kelvin (CODATA 2018, exact).
	gasConstant = 8.31446261815324
)

// ChartReference is where the chart begins, 175 °F.
var ChartReference = quantity.Temperature(quantity.Fahrenheit.SI(175))

func checkLife(t, t0 quantity.Temperature) error {
	for _, x := range []struct {
		name string
		t    quantity.Temperature
	}{{"temperature", t}, {"reference temperature", t0}} {
		if err := quantity.Within("fluid", x.name, x.t.Value(), ValidTemperature[0].Value(), ValidTemperature[1].Value(), quantity.Celsius); err != nil {
			return err
		}
	}
	return nil
}

// Halving returns how long fluid lasts at t, as a share of its life at t0, by
// the rule that each rise by step halves it.
//
//	life(t)/life(t₀) = 2^(−(t − t₀)/step)
//
// t and t0 must lie in ValidTemperature, step, in kelvin, in 1 to 50. The rule
// is folklore: a rule of thumb about oxidation, not a test of this fluid.
// Errors: *quantity.RangeError naming the argument.
// Source: widely copied fluid life chart (trade); the form is that of IEC 60076-7 for transformer insulation; both checked in life_test.go.
func Halving(t, t0 quantity.Temperature, step float64) (float64, error) {
	if err := checkLife(t, t0); err != nil {
		return 0, err
	}
	number := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	if err := quantity.Within("fluid", "halving step in kelvin", number(step), number(1), number(50), quantity.Number); err != nil {
		return 0, err
	}
	return math.Exp2(-float64(t-t0) / step), nil
}

// Arrhenius returns how long fluid lasts at t, as a share of its life at t0, if
// one reaction with the given activation energy ages it.
//
//	life(t)/life(t₀) = exp(E/R · (1/T − 1/T₀))
//
// t and t0 must lie in ValidTemperature, energy, in joule per mole, in 10 000
// to 300 000. Beside Halving it shows how much of the answer is the rule's: the
// two agree near t0 and part further off.
// Errors: *quantity.RangeError naming the argument.
// Source: Arrhenius's law; IEC 60076-7 for transformer insulation; checked in life_test.go.
func Arrhenius(t, t0 quantity.Temperature, energy float64) (float64, error) {
	if err := checkLife(t, t0); err != nil {
		return 0, err
	}
	number := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	if err := quantity.Within("fluid", "activation energy in joule per mole", number(energy), number(10e3), number(300e3), quantity.Number); err != nil {
		return 0, err
	}
	return math.Exp(energy / gasConstant * (1/float64(t) - 1/float64(t0))), nil
}

// A Span is what a fluid's life is counted in: time, or the way driven.
type Span interface {
	quantity.Duration | quantity.Distance
}

// A Spell is a part of the fluid's history at one temperature.
type Spell[S Span] struct {
	Of S
	At quantity.Temperature
}

// Wear is what a history did to the fluid by one law.
type Wear[S Span] struct {
	// Equivalent is how much at the reference temperature would have aged the
	// fluid as much.
	Equivalent S
	// Used is the share of the life that is used; over 1 the life is over.
	Used float64
	// Left is what is left of the life at the reference temperature, or 0.
	Left S
	// Shares says what part of the wear each spell did; empty when there is none.
	Shares []float64
}

// Ageing is a history judged by the trade's rule and by Arrhenius's law.
type Ageing[S Span] struct {
	Halving   Wear[S] // folklore, as Halving says
	Arrhenius Wear[S] // one reaction, fitted to the same folklore unless another energy is given
}

// Age adds up what a history of temperatures did to the fluid.
//
//	equivalent = Σ span / (life(t)/life(t₀))   used = equivalent / life
//
// life is how long the fluid lasts at the reference temperature t0; step and
// energy are those of Halving and Arrhenius. Each span must be 0 or more, life a
// second or a metre or more. It assumes that the spells add up in any order, and that nothing
// but temperature ages the fluid: water, air and friction dust are left out.
// Errors: *quantity.RangeError naming the argument; those of a spell name it by
// its place, the first being 1.
// Source: IEC 60076-7, loss of life as the sum of relative ageing over time; the chart and that standard's table in life_test.go.
func Age[S Span](spells []Spell[S], life S, t0 quantity.Temperature, step, energy float64) (Ageing[S], error) {
	var a Ageing[S]
	kind := spanKind(life)
	number := func(x float64) quantity.Value { return quantity.Value{Kind: kind, SI: x} }
	const most = 1e12 // seconds or metres: no fluid's life is longer
	if err := quantity.Within("fluid", "life at the reference temperature", number(float64(life)), number(1), number(most), quantity.Unit{}); err != nil {
		return a, err
	}
	a.Halving.Shares, a.Arrhenius.Shares = make([]float64, len(spells)), make([]float64, len(spells))
	for i, s := range spells {
		name := "part " + strconv.Itoa(i+1)
		if err := quantity.Within("fluid", name, number(float64(s.Of)), number(0), number(most), quantity.Unit{}); err != nil {
			return Ageing[S]{}, err
		}
		if err := quantity.Within("fluid", name+"'s temperature", s.At.Value(), ValidTemperature[0].Value(), ValidTemperature[1].Value(), quantity.Celsius); err != nil {
			return Ageing[S]{}, err
		}
		h, err := Halving(s.At, t0, step)
		if err != nil {
			return Ageing[S]{}, err
		}
		r, err := Arrhenius(s.At, t0, energy)
		if err != nil {
			return Ageing[S]{}, err
		}
		a.Halving.Shares[i] = float64(s.Of) / h
		a.Arrhenius.Shares[i] = float64(s.Of) / r
	}
	a.Halving.sum(life)
	a.Arrhenius.sum(life)
	return a, nil
}

// sum makes of what each spell did, which stands in Shares, what all did.
func (w *Wear[S]) sum(life S) {
	total := 0.0
	for _, x := range w.Shares {
		total += x
	}
	w.Equivalent, w.Used, w.Left = S(total), total/float64(life), max(0, life-S(total))
	if total == 0 {
		w.Shares = nil
	}
	for i := range w.Shares {
		w.Shares[i] /= total
	}
}

func spanKind[S Span](s S) quantity.Kind {
	if _, ok := any(s).(quantity.Duration); ok {
		return quantity.KindDuration
	}
	return quantity.KindDistance
}
