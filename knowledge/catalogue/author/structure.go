package author

import (
	"slices"

	"provingbench/knowledge/unit"
)

// structure is what the unit is made of. The records are held against it, so
// that what is missing is found by what is there, not by counting.
type structure struct {
	elements []unit.Element
	ports    []unit.Port
	coils    []unit.Coil
	sensors  []unit.Sensor
	chart    []unit.Row
}

var wholeUnit = structure{unit.Elements, unit.Ports, unit.Coils, unit.Sensors, unit.Chart}

// partKinds is the closed list of what a part can be.
var partKinds = []string{
	"clutch", "band", "one-way clutch", "piston", "seal", "spring", "valve", "check ball", "plate", "casting", "gasket",
	"filter", "screw", "linkage", "actuator", "wiring", "connector", "solenoid", "sensor", "switch", "relay", "computer",
	"supply", "planet set", "shaft", "bearing", "bushing", "drum", "pawl", "pump", "converter", "cooler", "line", "port",
	"vent", "fluid", "engine", "driveline",
}

func elementIDs(elements []unit.Element) []string {
	out := make([]string, len(elements))
	for i, e := range elements {
		out[i] = string(e.ID)
	}
	return out
}

func portIDs(ports []unit.Port) ids { return idsOf(ports, func(p *unit.Port) string { return p.ID }) }
func coilIDs(coils []unit.Coil) ids { return idsOf(coils, func(c *unit.Coil) string { return c.ID }) }
func sensorIDs(sensors []unit.Sensor) ids {
	return idsOf(sensors, func(s *unit.Sensor) string { return s.ID })
}

// chartGears lists the rows of the application chart.
func chartGears() []string {
	out := make([]string, len(unit.Chart))
	for i, r := range unit.Chart {
		out[i] = string(r.Gear)
	}
	return out
}

// standIns returns the elements that keep a gear when one of its own is lost,
// and whether the gear is kept. What the gear train does without the element is
// computed.
func standIns(row unit.Row, lost unit.ElementID) (in []unit.ElementID, kept bool) {
	whole, err := unit.RatioWith(row.On)
	if err != nil {
		return nil, false
	}
	loss, err := unit.Without(row.Gear, lost)
	if err != nil || loss.Ratio != whole {
		return nil, false
	}
	rest := loss.Left
	for _, id := range rest {
		fewer := slices.DeleteFunc(slices.Clone(rest), func(other unit.ElementID) bool { return other == id })
		with := append(slices.Clone(fewer), lost)
		_, without := unit.RatioWith(fewer)
		if ratio, err := unit.RatioWith(with); without != nil && err == nil && ratio == whole {
			in = append(in, id)
		}
	}
	return in, true
}
