// Package screens is the one list of which screen is shown at which kind of
// address. The browser's main function and the site builder both start here.
package screens

import (
	"time"

	"provingbench/app/about"
	"provingbench/app/bench"
	"provingbench/app/checks"
	"provingbench/app/circuit"
	"provingbench/app/codes"
	"provingbench/app/dom"
	"provingbench/app/faults"
	"provingbench/app/figures"
	"provingbench/app/find"
	"provingbench/app/home"
	"provingbench/app/jobs"
	"provingbench/app/learn"
	"provingbench/app/route"
	"provingbench/app/search"
	"provingbench/app/session"
	"provingbench/app/settings"
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
	desk := search.New(s)
	return &route.Site{
		Name:        "The Proving Bench",
		Catalogue:   s.Catalogue(),
		Groups:      figures.Groups(s.Book()),
		Calculators: bench.Names,
		Screens: route.Screens{
			Home:        func() route.Screen { return &home.Screen{Session: s} },
			Find:        func() route.Screen { return &find.Screen{Session: s} },
			Checks:      func() route.Screen { return &checks.List{Session: s} },
			Check:       func(id string) route.Screen { return &checks.Check{Session: s, ID: id} },
			Fault:       func(id string) route.Screen { return &faults.Fault{Session: s, ID: id} },
			Symptom:     func(id string) route.Screen { return &faults.Symptom{Session: s, ID: id} },
			Codes:       func() route.Screen { return &codes.List{Session: s} },
			Code:        func(id string) route.Screen { return &codes.Code{Session: s, ID: id} },
			Figures:     func() route.Screen { return figures.New(s) },
			FigureGroup: func(group string) route.Screen { return figures.NewGroup(s, group) },
			Bench:       func() route.Screen { return bench.New() },
			Calculator:  func(name string) route.Screen { return bench.Calculator(s, name) },
			Learn:       func() route.Screen { return &learn.Screen{Catalogue: s.Catalogue()} },
			Chart:       func() route.Screen { return &learn.Chart{Catalogue: s.Catalogue(), Book: s.Book()} },
			Circuit:     func() route.Screen { return &circuit.Screen{Session: s} },
			Quiz:        func() route.Screen { return &learn.Quiz{Book: s.Book()} },
			Practice:    func() route.Screen { return &learn.Practice{Session: s, Box: dom.Storage{}} },
			Tree:        func(id string) route.Screen { return &learn.Tree{Session: s, ID: id} },
			Raised:      func() route.Screen { return &learn.Raised{Session: s} },
			Jobs:        func() route.Screen { return &jobs.Screen{Session: s} },
			JobPlan:     func() route.Screen { return &jobs.Plan{Session: s} },
			JobProof:    func() route.Screen { return &jobs.Proof{Session: s} },
			ShopSheet:   func() route.Screen { return &jobs.Sheet{Session: s} },
			Customer:    func() route.Screen { return &jobs.Sheet{Session: s, Customer: true} },
			Transfer:    func() route.Screen { return &jobs.Transfer{Session: s} },
			Settings:    func() route.Screen { return &settings.Screen{Session: s} },
			About:       func() route.Screen { return &about.Screen{Session: s} },
			Search:      func() route.Screen { return &search.Screen{Desk: desk} },
			Missing:     func() route.Screen { return &Missing{} },
			Frame:       frame(s, desk),
		},
	}
}
