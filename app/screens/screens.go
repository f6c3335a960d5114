// Package screens is the one list of which screen is shown at which kind of
// address. The browser's main function and the site builder both start here.
package screens

import (
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
)

// Site is the whole tool.
func Site() *route.Site {
	blank := func(title string) func() route.Screen {
		return func() route.Screen { return &Blank{Heading: title} }
	}
	record := func(title string) func(string) route.Screen {
		return func(id string) route.Screen { return &Blank{Heading: title + " " + id} }
	}
	return &route.Site{
		Name:        "The Proving Bench",
		Catalogue:   placeholder(),
		Groups:      []string{"pressure", "electrical"},
		Calculators: []string{"coil", "temperature"},
		Screens: route.Screens{
			Home:        blank("Find the cause"),
			Find:        blank("Find"),
			Checks:      blank("Checks"),
			Check:       record("Check"),
			Fault:       record("Fault"),
			Symptom:     record("Symptom"),
			Figures:     blank("Figures"),
			FigureGroup: record("Figures:"),
			Bench:       blank("Bench"),
			Calculator:  record("Bench:"),
			Learn:       blank("Learn"),
			Chart:       blank("Which element holds in which gear"),
			Tree:        record("Tree"),
			Jobs:        blank("Jobs"),
			About:       blank("About"),
			Missing:     blank("There is nothing at this address"),
			Frame:       frame,
		},
	}
}

func placeholder() *catalogue.Catalogue {
	return &catalogue.Catalogue{
		Symptoms: []catalogue.Symptom{{ID: "no-reverse"}},
		Faults:   []catalogue.Fault{{ID: "fluid-low"}},
		Checks:   []catalogue.Check{{ID: "fluid-level"}, {ID: "line-pressure-drive"}},
	}
}
