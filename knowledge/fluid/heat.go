package fluid

import (
	"math"

	"provingbench/knowledge/quantity"
)

// ValidPower is the range of heat flows and engine powers that are worked with.
var ValidPower = [2]quantity.Power{0, 2e6}

// waterDensity is that of water at 15 °C, in kilogram per cubic metre, by which
// a density becomes a specific gravity (handbook value).
const waterDensity = 999.1

// A Metal is what warms up with the fluid.
type Metal struct {
	Name string
	Mass float64 // in kilogram
	Heat float64 // specific heat in joule per kilogram and kelvin
	From string  // where the two figures come from
}

// Metals returns the metal that warms up with the fluid of a unit of this size.
// The masses are typical, invented for the demo: about a unit's weight, the
// part of it that follows the fluid within minutes. The specific heats are a
// handbook's.
func Metals() []Metal {
	const from = "Mass typical, invented for the demo; specific heat from a handbook (Mechanical Engineer's Data Handbook, 3.4.4)."
	return []Metal{
		{Name: "aluminium", Mass: 20, Heat: 897, From: from},
		{Name: "iron and steel", Mass: 40, Heat: 447, From: from},
	}
}

// SpecificHeat returns the fluid's specific heat at t, in joule per kilogram
// and kelvin.
//
//	c = 4186.8 · (0.388 + 0.00045 · t_F) / √d   with t_F in °F, d = ρ₁₅/999.1
//
// t must lie in ValidFluid. Against the engine oil of a textbook it is 1 to 4
// per cent low between 10 and 120 °C.
// Errors: *quantity.RangeError naming the argument.
// Source: Cragoe, Thermal properties of petroleum products, NBS Miscellaneous Publication 97 (1929); checked in heat_test.go.
func (f Fluid) SpecificHeat(t quantity.Temperature) (float64, error) {
	if err := f.within(t); err != nil {
		return 0, err
	}
	return 4186.8 * (0.388 + 0.00045*quantity.Fahrenheit.From(float64(t))) / math.Sqrt(float64(f.density)/waterDensity), nil
}

// Carried returns the heat that a flow carries away between two places, such
// as the cooler's inlet and outlet.
//
//	P = ρ·V̇ · c · (t_hot − t_cold)
//
// The flow is taken to be measured at the cold end, where the fluid comes back,
// and c at the mean temperature. hot and cold must lie in ValidFluid, hot at or
// over cold; flow in 0 to 200 L/min. It assumes that both temperatures are the
// fluid's own; a probe on a line's outside reads a few degrees low.
// Errors: *quantity.RangeError naming the argument.
// Source: energy balance of a heat exchanger, Incropera, Fundamentals of Heat and Mass Transfer, example 11.1; checked in heat_test.go.
func (f Fluid) Carried(hot, cold quantity.Temperature, flow quantity.Flow) (quantity.Power, error) {
	least, most, _ := quantity.Plausible(quantity.KindFlow)
	if err := quantity.Within("fluid", "flow", flow.Value(), least, most, quantity.LitrePerMinute); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "hot temperature", hot.Value(), ValidFluid[0].Value(), ValidFluid[1].Value(), quantity.Celsius); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "cold temperature", cold.Value(), ValidFluid[0].Value(), hot.Value(), quantity.Celsius); err != nil {
		return 0, err
	}
	rho, err := f.Density(cold)
	if err != nil {
		return 0, err
	}
	c, err := f.SpecificHeat((hot + cold) / 2)
	return carried(float64(rho)*float64(flow), c, float64(hot-cold)), err
}

// carried is ṁ·c·Δt.
func carried(mass, c, drop float64) quantity.Power { return quantity.Power(mass * c * drop) }

// Slip returns the heat that a slipping clutch or band puts in.
//
//	P = M · Δω
//
// torque must lie in 0 to 10 000 N·m, speed, the difference of the two sides, in
// 0 to 10 000 rpm.
// Errors: *quantity.RangeError naming the argument.
// Source: power of a torque at a speed, Bhandari, Design of Machine Elements, example 11.1, and Khurmi and Gupta, Theory of Machines; checked in heat_test.go.
func Slip(torque quantity.Torque, speed quantity.Rotation) (quantity.Power, error) {
	if err := quantity.Within("fluid", "torque", torque.Value(), quantity.Torque(0).Value(), quantity.Torque(10000).Value(), quantity.NewtonMetre); err != nil {
		return 0, err
	}
	least, most, _ := quantity.Plausible(quantity.KindRotation)
	if err := quantity.Within("fluid", "slip speed", speed.Value(), least, most, quantity.RPM); err != nil {
		return 0, err
	}
	return quantity.Power(float64(torque) * float64(speed)), nil
}

// Converter returns the heat that an unlocked converter puts in.
//
//	P = P_engine · (1 − speed ratio · torque ratio)
//
// The speed ratio is the turbine's speed over the engine's, 0 at stall; the
// torque ratio is the turbine's torque over the engine's, 1 from the coupling
// point on. power must lie in ValidPower, the speed ratio in 0 to 1, the torque
// ratio in 1 to 3, and their product must not pass 1: more cannot come out than
// goes in.
// Errors: *quantity.RangeError naming the argument.
// Source: efficiency of a converter as its speed ratio times its torque ratio, SAE J643 (from memory); checked in heat_test.go.
func Converter(power quantity.Power, speedRatio, torqueRatio quantity.Ratio) (quantity.Power, error) {
	if err := quantity.Within("fluid", "engine power", power.Value(), ValidPower[0].Value(), ValidPower[1].Value(), quantity.Kilowatt); err != nil {
		return 0, err
	}
	one := quantity.Ratio(1)
	if err := quantity.Within("fluid", "speed ratio", speedRatio.Value(), quantity.Ratio(0).Value(), one.Value(), quantity.Number); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "torque ratio", torqueRatio.Value(), one.Value(), quantity.Ratio(3).Value(), quantity.Number); err != nil {
		return 0, err
	}
	if speedRatio*torqueRatio > 1 {
		return 0, quantity.Within("fluid", "torque ratio", torqueRatio.Value(), one.Value(), (one / speedRatio).Value(), quantity.Number)
	}
	return power * quantity.Power(1-speedRatio*torqueRatio), nil
}

// Capacity returns the heat that warms the fluid and the metal around it by one
// kelvin at t, in joule per kelvin.
//
//	C = ρ·V · c + Σ m·c of the metals
//
// t must lie in ValidFluid, the volume, measured at 15 °C, in 0 to 100 L, each
// metal's mass in 0 to 1000 kg and its specific heat in 100 to 5000 J/(kg·K).
// Errors: *quantity.RangeError naming the argument.
// Source: heat of a pan and what is in it, OpenStax, College Physics, example 14.1; checked in heat_test.go.
func (f Fluid) Capacity(t quantity.Temperature, volume quantity.Volume, metals ...Metal) (float64, error) {
	c, err := f.SpecificHeat(t)
	if err != nil {
		return 0, err
	}
	least, most, _ := quantity.Plausible(quantity.KindVolume)
	if err := quantity.Within("fluid", "volume", volume.Value(), least, most, quantity.Litre); err != nil {
		return 0, err
	}
	number := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	for _, m := range metals {
		if err := quantity.Within("fluid", "mass of "+m.Name+" in kilogram", number(m.Mass), number(0), number(1000), quantity.Number); err != nil {
			return 0, err
		}
		if err := quantity.Within("fluid", "specific heat of "+m.Name+" in joule per kilogram and kelvin", number(m.Heat), number(100), number(5000), quantity.Number); err != nil {
			return 0, err
		}
	}
	return capacity(float64(f.density)*float64(volume), c, metals), nil
}

func capacity(mass, c float64, metals []Metal) float64 {
	sum := mass * c
	for _, m := range metals {
		sum += m.Mass * m.Heat
	}
	return sum
}

// Warming returns how long a heat flow takes to warm the fluid, and the metal
// around it, from one temperature to another.
//
//	t = C · (t_to − t_from) / P
//
// C is Capacity at the mean temperature. power, what goes in less what is
// carried away, must lie in 1 W to 2 MW; from and to in ValidFluid, to at or over
// from. It assumes that all of it has one temperature and that nothing else
// carries heat away: a real unit is slower, and its clutches are far hotter.
// Errors: *quantity.RangeError naming the argument.
// Source: as Capacity; checked in heat_test.go.
func (f Fluid) Warming(power quantity.Power, from, to quantity.Temperature, volume quantity.Volume, metals ...Metal) (quantity.Duration, error) {
	if err := quantity.Within("fluid", "heat put in", power.Value(), quantity.Power(1).Value(), ValidPower[1].Value(), quantity.Watt); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "first temperature", from.Value(), ValidFluid[0].Value(), ValidFluid[1].Value(), quantity.Celsius); err != nil {
		return 0, err
	}
	if err := quantity.Within("fluid", "last temperature", to.Value(), from.Value(), ValidFluid[1].Value(), quantity.Celsius); err != nil {
		return 0, err
	}
	c, err := f.Capacity((from+to)/2, volume, metals...)
	if err != nil {
		return 0, err
	}
	return quantity.Duration(c * float64(to-from) / float64(power)), nil
}
