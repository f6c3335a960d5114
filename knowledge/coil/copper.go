// Package coil judges the winding of a solenoid by its ohms, for a technician
// with a meter at the case plug, under the pan or at the bench.
//
// Copper's resistance rises by about 0.39 % per °C, so a good coil in a warm
// unit reads a quarter more than its sheet says. And a meter shows its own
// leads too, which on a 4 ohm coil is a tenth. The package takes the leads off,
// carries what is left to the sheet's temperature, works out how far the result
// can be off, and holds it against the sheet (package conformity).
//
// It assumes an even temperature through the winding, which a unit that stood
// for hours has; right after a run the winding's temperature is not the pan's,
// and the uncertainty of the temperature has to say so. It leaves out
// inductance, and the difference between one copper and another, which is below
// 0.1 %.
//
// Sources: IEC 60034-1 (rise of a winding's temperature by resistance); NBS
// Handbook 100, copper wire tables; JCGM 100:2008 (GUM) for the uncertainty.
package coil

import (
	"cmp"
	"math"

	"provingbench/knowledge/quantity"
)

// Copper is the temperature below 0 °C, in °C, at which the straight line of
// copper's resistance would reach zero.
type Copper float64

// The two published values. They differ by 0.05 % at 100 °C.
const (
	// Winding is IEC 60034-1's value for copper windings. Measurements use it.
	Winding Copper = 235
	// Annealed is the value for annealed copper of 100 % IACS (NBS Handbook 100).
	Annealed Copper = 234.5
)

// ValidTemperature is the range in which the straight line holds for this
// trade's windings: from arctic cold to what no enamel survives for long.
var ValidTemperature = [2]quantity.Temperature{quantity.FromCelsius(-60), quantity.FromCelsius(250)}

// ValidResistance is the range of windings, wires and their parts.
var ValidResistance = [2]quantity.Resistance{1e-6, 1e9}

func checkTemperature(name string, t quantity.Temperature) error {
	return quantity.Within("coil", name, t.Value(), ValidTemperature[0].Value(), ValidTemperature[1].Value(), quantity.Celsius)
}

func checkResistance(name string, r quantity.Resistance) error {
	return quantity.Within("coil", name, r.Value(), ValidResistance[0].Value(), ValidResistance[1].Value(), quantity.Ohm)
}

// Resistance returns what a winding of resistance r0 at t0 measures at t.
//
//	R = R₀ · (k + t) / (k + t₀)   with t, t₀ in °C
//
// r0 must lie in ValidResistance; t0 and t must lie in ValidTemperature.
// It assumes an even temperature through the winding: right after a run, t is the winding's, not the pan's.
// Errors: *quantity.RangeError naming the argument.
// Source: IEC 60034-1, temperature rise by resistance, and NBS Handbook 100; checked against testdata/copper.
func (k Copper) Resistance(r0 quantity.Resistance, t0, t quantity.Temperature) (quantity.Resistance, error) {
	if err := cmp.Or(
		checkResistance("resistance", r0),
		checkTemperature("temperature of the known resistance", t0),
		checkTemperature("temperature", t),
	); err != nil {
		return 0, err
	}
	return r0 * quantity.Resistance(k.ratio(t0, t)), nil
}

// ratio returns (k + t)/(k + t0).
func (k Copper) ratio(t0, t quantity.Temperature) float64 {
	return (float64(k) + t.Celsius()) / (float64(k) + t0.Celsius())
}

// Temperature returns how warm a winding is that measures r and is known to
// have r0 at t0.
//
//	t = R/R₀ · (k + t₀) − k
//
// r0 and r must lie in ValidResistance; t0 and the result must lie in ValidTemperature.
// Errors: *quantity.RangeError naming the argument or the result.
// Source: IEC 60034-1, temperature rise by resistance; checked against testdata/copper.
func (k Copper) Temperature(r0 quantity.Resistance, t0 quantity.Temperature, r quantity.Resistance) (quantity.Temperature, error) {
	if err := cmp.Or(
		checkResistance("resistance", r0),
		checkTemperature("temperature of the known resistance", t0),
		checkResistance("warm resistance", r),
	); err != nil {
		return 0, err
	}
	t := quantity.FromCelsius(float64(r/r0)*(float64(k)+t0.Celsius()) - float64(k))
	return t, checkTemperature("winding temperature", t)
}

// Rise returns by how many kelvin a winding is warmer than what surrounds it at
// the end of a test.
//
//	Δ = (R₂ − R₁)/R₁ · (k + t₁) + t₁ − tₐ
//
// r1 is the cold resistance at t1, r2 the warm one, ambient the surroundings at
// the end. Ranges are those of Temperature.
// Errors: *quantity.RangeError naming the argument.
// Source: IEC 60034-1, temperature rise by resistance; checked against testdata/copper.
func (k Copper) Rise(r1 quantity.Resistance, t1 quantity.Temperature, r2 quantity.Resistance, ambient quantity.Temperature) (float64, error) {
	if err := checkTemperature("ambient temperature", ambient); err != nil {
		return 0, err
	}
	t2, err := k.Temperature(r1, t1, r2)
	if err != nil {
		return 0, err
	}
	return float64(t2 - ambient), nil
}

// Coefficient returns copper's temperature coefficient of resistance per kelvin,
// referred to t.
//
//	α(t) = 1 / (k + t)
//
// It is 0.00393 per kelvin at 20 °C and 0.00427 at 0 °C: a coefficient without
// its temperature is worth nothing, and taking one for the other is wrong by
// 8 %. t must lie in ValidTemperature.
// Errors: *quantity.RangeError naming the argument.
// Source: IEC 60028 and NBS Handbook 100 (0.00393 at 20 °C); checked in copper_test.go.
func (k Copper) Coefficient(t quantity.Temperature) (float64, error) {
	if err := checkTemperature("temperature", t); err != nil {
		return 0, err
	}
	return 1 / (float64(k) + t.Celsius()), nil
}

// Current returns what a supply drives through a winding.
//
//	I = U / R
//
// u must lie in -60 V to 60 V and r in ValidResistance.
// Errors: *quantity.RangeError naming the argument.
// Source: Ohm's law; checked in copper_test.go.
func Current(u quantity.Voltage, r quantity.Resistance) (quantity.Current, error) {
	least, most, _ := quantity.Plausible(quantity.KindVoltage)
	if err := cmp.Or(
		quantity.Within("coil", "voltage", u.Value(), least, most, quantity.Volt),
		checkResistance("resistance", r),
	); err != nil {
		return 0, err
	}
	i := float64(u) / float64(r)
	if math.Abs(i) > 1e6 {
		// A micro-ohm on a battery is a fault of the input, not a current.
		return 0, checkResistance("resistance", 0)
	}
	return quantity.Current(i), nil
}
