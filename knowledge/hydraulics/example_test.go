package hydraulics_test

import (
	"fmt"

	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Line pressure in third at idle and at full throttle lies in the unit sheet's 54
// to 60 psi and 90 to 96 psi; with a leaking rear clutch it does not.
func ExampleSteady() {
	s := hydraulics.Setting{
		Version: unit.Light, Build: unit.Stock, Range: unit.Drive, Temperature: hydraulics.Hot, ByHand: true,
		Engine: quantity.Rotation(quantity.RPM.SI(1600)), Road: quantity.Speed(quantity.MilePerHour.SI(41)),
	}
	show := func(faults ...hydraulics.Fault) {
		state, err := hydraulics.Steady(s, faults...)
		if err != nil {
			fmt.Println(err)
			return
		}
		line, _ := state.Port("line")
		fmt.Printf("gear %s, line %.0f psi\n", state.Gear, quantity.PSI.From(float64(line)))
	}
	show()
	s.Throttle, s.Before = 0.95, unit.Third
	show()
	show(hydraulics.Fault{ID: "rear-clutch-seals", Severity: 0.9})
	// Output:
	// gear 3, line 58 psi
	// gear 3, line 93 psi
	// gear 3, line 65 psi
}
