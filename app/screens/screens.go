// Package screens is the one list of which screen is shown at which kind of
// address. The browser's main function and the site builder both start here.
package screens

import (
	"time"

	"provingbench/app/dom"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	sheet "provingbench/knowledge/unit/shipped"
)

// Site is the whole tool.
func Site() *route.Site {
	engine := &diagnosis.Engine{Catalogue: shipped.Catalogue(), Book: sheet.Book()}
	return site(session.New(engine, dom.Storage{}, time.Now))
}

func site(s *session.Session) *route.Site {
	blank := func(title string) func() route.Screen {
		return func() route.Screen { return &Blank{Heading: title} }
	}
	record := func(title string) func(string) route.Screen {
		return func(id string) route.Screen { return &Blank{Heading: title + " " + id} }
	}
	return &route.Site{
		Name:        "The Proving Bench",
		Catalogue:   s.Catalogue(),
		Groups:      groups(s),
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
			Missing:     func() route.Screen { return &Missing{} },
			Frame:       frame(s),
		},
	}
}

// groups lists the groups of acceptance values in the order they first come up
// in the sheet.
func groups(s *session.Session) []string {
	var out []string
	seen := map[string]bool{}
	for _, a := range s.Book().Acceptances {
		if !seen[a.Group] {
			seen[a.Group] = true
			out = append(out, a.Group)
		}
	}
	return out
}
