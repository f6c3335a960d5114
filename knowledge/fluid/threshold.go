package fluid

import "provingbench/knowledge/quantity"

// A Threshold is a viscosity at which a fluid is too thin or too thick for
// something. Exactly one of Kinematic and Dynamic is set.
type Threshold struct {
	ID        string
	Name      string
	Kinematic quantity.Kinematic
	Dynamic   quantity.Dynamic
	// Thick is true where the fluid must not be thicker, false where it must not
	// be thinner.
	Thick bool
	Means string // what happens beyond it, a full sentence
	From  string // where the figure comes from, a full sentence
}

// Thresholds returns the viscosities that bound the use of the fluid, the
// thickest first. None of them is this unit's own: they come from tests of a
// three-speed automatic and from gear pumps in general.
func Thresholds() []Threshold {
	return []Threshold{
		{
			ID: "cold-limit", Name: "Old limit of cold fluid", Dynamic: 55, Thick: true,
			Means: "Thicker than the limit that a specification of 1971 set at −40 degrees.",
			From:  "Published: paper on the viscosity requirements of automatic transmission fluid, SAE 710838 (1971), abstract.",
		},
		{
			ID: "later-cold-limit", Name: "Later limit of cold fluid", Dynamic: 20, Thick: true,
			Means: "Thicker than later specifications allow at −40 degrees.",
			From:  "From memory, confirm in the fluid's specification.",
		},
		{
			ID: "pump-start", Name: "Gear pumps at the start", Kinematic: 1.6e-3, Thick: true,
			Means: "A gear pump may not fill: pressure comes late, shifts and engagement are slow. Let it idle until it is warmer.",
			From:  "Published for gear pumps in general, not for this one: a pump maker's service manual, at most 7 500 Saybolt seconds at the start, which is about 1 600 mm²/s.",
		},
		{
			ID: "used-fluid", Name: "Least of used fluid", Kinematic: 5.5e-6,
			Means: "Thinner than the limit that guards against internal leakage: pressure and clutch capacity suffer first where seals and bushings are worn.",
			From:  "Published: the paper SAE 710838 (1971) sets 5.5 mm²/s at 210 °F (99 °C) as the least for used fluid.",
		},
	}
}

// Reaches returns the temperature at which the fluid has the viscosity of the
// threshold. Below it the fluid is thicker.
//
//	ν(T) = ν_limit, or ν(T) · ρ(T) = η_limit
//
// ok is false when the fluid has it nowhere in ValidFluid.
// Errors: *quantity.RangeError naming the argument.
// Source: Kinematic and Dynamic; checked in threshold_test.go.
func (f Fluid) Reaches(t Threshold) (at quantity.Temperature, ok bool, err error) {
	if t.Dynamic == 0 {
		return f.Crossing(t.Kinematic)
	}
	cold, hot := ValidFluid[0], ValidFluid[1]
	thickest, err := f.Dynamic(cold)
	if err != nil {
		return 0, false, err
	}
	thinnest, err := f.Dynamic(hot)
	if err != nil || !(t.Dynamic <= thickest && t.Dynamic >= thinnest) {
		return 0, false, err
	}
	for range 50 { // halves the interval to less than a float can tell
		at = (cold + hot) / 2
		v, err := f.Dynamic(at)
		if err != nil {
			return 0, false, err
		}
		if v > t.Dynamic {
			cold = at
		} else {
			hot = at
		}
	}
	return at, true, nil
}
