package fluid

import "provingbench/knowledge/quantity"

// A Class is a kind of fluid in general words, for a person who has no data
// sheet at hand. Its figures are typical of the class, not of a product.
type Class struct {
	ID, Name string
	Fluid    Fluid
	// Notes say where each figure comes from, in full sentences.
	Notes []string
}

// TypicalDensity is a usual density of such a fluid at 15 °C (from memory,
// confirm on the data sheet: most lie between 840 and 870 kg/m³).
const TypicalDensity quantity.Density = 855

// Classes returns the classes that this unit meets: the low-viscosity class and
// the older one.
//
// The viscosities at 100 °C lie in the ranges that a published comparison table
// of transmission fluids gives, 5.5 to 6.0 and 7.0 to 7.5 mm²/s. Those at 40 °C
// and the density are from memory.
func Classes() []Class {
	const cool = "The viscosity at the lower temperature and the density are from memory. Confirm them on the fluid's data sheet."
	return []Class{
		class("low-viscosity", "Low-viscosity class", 29.6, 6.0,
			"The viscosity at the higher temperature is published for the class as 5.5 to 6.0 mm²/s (fluid comparison table).", cool),
		class("older", "Older class", 34.0, 7.4,
			"The viscosity at the higher temperature is published for the class as 7.0 to 7.5 mm²/s (fluid comparison table).", cool),
	}
}

func class(id, name string, at40, at100 float64, notes ...string) Class {
	mm := quantity.SquareMillimetrePerSecond
	f, err := New(
		Sample{At: quantity.FromCelsius(40), Viscosity: quantity.Kinematic(mm.SI(at40))},
		Sample{At: quantity.FromCelsius(100), Viscosity: quantity.Kinematic(mm.SI(at100))}, TypicalDensity)
	if err != nil {
		panic(err) // a figure of the table above is wrong
	}
	return Class{ID: id, Name: name, Fluid: f, Notes: notes}
}
