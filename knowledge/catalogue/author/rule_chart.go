package author

import "fmt"

func chart(d *Data, report report) {
	for _, c := range d.Cells() {
		if c.Gap() {
			report("parts", fmt.Sprintf("No symptom of a fault in the %s reports its loss in %s.", c.Element, c.Gear), "Give a fault of the element a symptom that loses this gear.")
		}
	}
}
