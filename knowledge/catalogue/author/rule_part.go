package author

import (
	"fmt"
	"slices"

	"provingbench/knowledge/catalogue"
)

func part(d *Data, report report) {
	parts := idsOf(d.Catalogue.Parts, func(p *catalogue.Part) string { return p.ID })
	leads := func(id, path string) {
		if id != "" && !slices.Contains(parts, id) {
			report(path, fmt.Sprintf("There is no part %q.", id), nearest(id, parts))
		}
	}
	for i := range d.Catalogue.Faults {
		f := &d.Catalogue.Faults[i]
		leads(f.Part, faultPath(f)+"/part")
		for j, id := range f.AlsoIn {
			leads(id, at(faultPath(f), "also-in", j))
			if id == f.Part || slices.Contains(f.AlsoIn[:j], id) {
				report(at(faultPath(f), "also-in", j), fmt.Sprintf("%q stands twice.", id), "Keep one.")
			}
		}
	}
}

func partFault(d *Data, report report) {
	for i := range d.Catalogue.Parts {
		p := &d.Catalogue.Parts[i]
		faults := d.FaultsIn(p.ID)
		switch {
		case len(faults) == 0 && p.Sound == "":
			report(partPath(p), fmt.Sprintf("No fault sits in %s.", p.ID), "Add the fault, name the part under also-in of one, or say under sound why there is none.")
		case len(faults) > 0 && p.Sound != "":
			report(partPath(p)+"/sound", fmt.Sprintf("%s sits in the part.", faults[0].ID), "Leave sound out.")
		}
	}
}

func unitPart(d *Data, report report) {
	elements, ports, coils, sensors := map[string]bool{}, map[string]bool{}, map[string]bool{}, map[string]bool{}
	belongs := func(kind string, known ids, found map[string]bool, named []string, path string) {
		for j, id := range named {
			found[id] = true
			if !slices.Contains(known, id) {
				report(at(path, j), fmt.Sprintf("The unit has no %s %q.", kind, id), nearest(id, known))
			}
		}
	}
	u := d.unit
	for i := range d.Catalogue.Parts {
		p := &d.Catalogue.Parts[i]
		belongs("element", elementIDs(u.elements), elements, words(p.Elements), partPath(p)+"/elements")
		belongs("port", portIDs(u.ports), ports, p.Ports, partPath(p)+"/ports")
		belongs("coil", coilIDs(u.coils), coils, p.Coils, partPath(p)+"/coils")
		belongs("sensor", sensorIDs(u.sensors), sensors, p.Sensors, partPath(p)+"/sensors")
	}
	missing := func(kind string, known ids, found map[string]bool) {
		for _, id := range known {
			if !found[id] {
				report("parts", fmt.Sprintf("No part belongs to the %s %s.", kind, id), "Add the part, or name it in a part that is there.")
			}
		}
	}
	missing("element", elementIDs(u.elements), elements)
	missing("port", portIDs(u.ports), ports)
	missing("coil", coilIDs(u.coils), coils)
	missing("sensor", sensorIDs(u.sensors), sensors)
}
