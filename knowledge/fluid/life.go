package fluid

import (
	"math"

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
