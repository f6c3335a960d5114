package circuit

import (
	"cmp"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Divider is a sensor of two wires that the computer feeds through a pull-up
// resistor and whose voltage it reads: the fluid temperature sensor. The pull-up
// of this class of truck is in no text that was read; PullUp finds it.
type Divider struct {
	Volts  quantity.Reading // across the sensor, at the computer
	Supply quantity.Reading // across both
	PullUp quantity.Resistance
	// PullUpShare is how far PullUp can be off, as a share; 0 for 1 %.
	PullUpShare quantity.Ratio
	Meter       *conformity.Accuracy
}

// Sensed is the resistance that a Divider's voltage stands for.
type Sensed struct {
	// Open is true when the voltage can't be told from the supply: nothing
	// connects. Shorted is true when it can't be told from nothing. Resistance and
	// Standard are 0 then.
	Open, Shorted bool
	Resistance    quantity.Resistance
	Standard      quantity.Resistance
	Budget        []Contribution // in ohm
}

// Reading returns the resistance as a meter would show it, for a verdict: OL
// where the circuit is open. Its uncertainty is Standard.
func (s Sensed) Reading() quantity.Reading {
	return quantity.Reading{Kind: quantity.KindResistance, SI: float64(s.Resistance), OpenLoop: s.Open}
}

func (d Divider) checkVolts() error {
	if err := volts(DividerFeed, d.Supply.SI, 0.5, 30); err != nil {
		return err
	}
	// A meter's error may put the reading a little over the supply.
	return volts(DividerVolts, d.Volts.SI, 0, d.Supply.SI*1.02)
}

// FoundShare is how far a pull-up can be off that PullUp found, as a share: a
// resistor of 1 % and two readings of a meter, with some to spare (common
// practice).
const FoundShare quantity.Ratio = 0.05

var validPullUp = [2]quantity.Resistance{10, 1e6}

// Sense returns the sensor's resistance.
//
//	R = R_p · U / (U_s − U)
//
// The supply must be 0.5 V to 30 V, the voltage 0 to the supply, the pull-up
// 10 ohm to 1 Mohm. A voltage within two standard uncertainties of the supply is
// open, one of nothing is a short.
// Errors: *quantity.RangeError naming the input.
// Source: voltage divider, from Ohm's law; checked against worked examples in divider_test.go.
func (d Divider) Sense() (Sensed, error) {
	share := d.PullUpShare
	if share == 0 {
		share = 0.01
	}
	if err := cmp.Or(
		d.checkVolts(),
		within(PullUpOhms, d.PullUp.Value(), validPullUp[0].Value(), validPullUp[1].Value(), quantity.Ohm),
		number(PullUpOhms+"'s uncertainty", float64(share), 0, 0.5),
	); err != nil {
		return Sensed{}, err
	}
	u, s, p := d.Volts.SI, d.Supply.SI, float64(d.PullUp)
	uu, us := standard(d.Volts, d.Meter), standard(d.Supply, d.Meter)
	left := s - u
	switch {
	case left <= 2*math.Hypot(uu, us) || left < s*1e-6:
		return Sensed{Open: true}, nil
	case u <= 2*uu || u < s*1e-6:
		return Sensed{Shorted: true}, nil
	}
	r := p * u / left
	res := Sensed{Resistance: quantity.Resistance(r), Budget: []Contribution{
		{"volts at the computer", p * s / (left * left) * uu},
		{"supply", r / left * us},
		{"pull-up resistor", r * rectangular(float64(share))},
	}}
	res.Standard = quantity.Resistance(total(res.Budget))
	return res, nil
}

// PullUp returns the pull-up resistor from the voltage across a known
// resistance that was plugged in instead of the sensor.
//
//	R_p = R · (U_s − U) / U
//
// known must be 10 ohm to 1 Mohm; the voltage must be over a hundredth and under
// 99 hundredths of the supply.
// Errors: *quantity.RangeError naming the input.
// Source: voltage divider, from Ohm's law; checked in divider_test.go.
func PullUp(known quantity.Resistance, at, supply quantity.Reading) (quantity.Resistance, error) {
	if err := cmp.Or(
		Divider{Volts: at, Supply: supply}.checkVolts(),
		within(KnownOhms, known.Value(), validPullUp[0].Value(), validPullUp[1].Value(), quantity.Ohm),
		volts(DividerVolts, at.SI, 0.01*supply.SI, 0.99*supply.SI),
	); err != nil {
		return 0, err
	}
	return known * quantity.Resistance((supply.SI-at.SI)/at.SI), nil
}
