// Package route is the one table of addresses: which screen is shown where, and
// how a link to it is made. No other package spells an address.
//
// # Links
//
// A link is made with a function of this package and its Href:
//
//	app.A().Href(route.Check("fluid-level").Href()).Text("Fluid level")
//	app.A().Href(route.Find().With(url.Values{"s": {"no-reverse"}}).Href())
//
// From an event handler, ctx.Navigate(route.Jobs().Href()). Buttons act, links
// go somewhere: a link's OnClick is not called when the link is of another kind
// than http (tel:, mailto:, blob:) or opened in a new tab.
//
// To change only the query of the present address while somebody types, use
// Replace, which keeps the place in the history.
//
// # Screens
//
// A screen is a go-app component with a title and a description:
//
//	type Screen struct {
//		app.Compo
//		ID string // from the address; set by the table, read-only
//
//		typed string // what the user did here
//	}
//
//	func (s *Screen) Title() string       { return … }
//	func (s *Screen) Description() string { return … }
//	func (s *Screen) Render() app.UI      { return … }
//
// What comes from the path is in exported fields, filled in by the constructor
// in the table (package screens); Title, Description and the first Render may
// depend on nothing else. The page prepared on the server and the first one
// drawn in the browser are then the same, which matters because go-app throws
// the prepared one away and draws anew.
//
// Each path mounts a fresh screen; nothing of one check is left on the next.
// A change of the query or the fragment alone keeps the screen mounted. A screen
// that reads the query implements app.Navigator: its OnNav is called after each
// mount and at each change of the address, with ctx.Page().URL(). Saved things
// are read in OnMount. Neither runs when pages are prepared.
//
// Each screen has exactly one h1. The title on the page's tab, the description,
// the scroll position and the focus are looked after by Page: a screen does
// nothing for them.
//
// # Frame
//
// Screens.Frame draws what is around every screen. It is given the address and
// the screen and returns one element, which holds a skip link to #main first,
// then header, menu and <main id="main"> with the screen in it.
package route

import (
	"sync"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/catalogue"
)

// Screen is what one address shows.
type Screen interface {
	app.Composer

	// Title names the screen in a few words, without the tool's name.
	Title() string

	// Description says in one sentence what the screen is for.
	Description() string
}

// Screens makes the screen of each kind of address. All must be set.
type Screens struct {
	Home        func() Screen
	Find        func() Screen
	Checks      func() Screen
	Check       func(id string) Screen
	Fault       func(id string) Screen
	Symptom     func(id string) Screen
	Codes       func() Screen
	Code        func(id string) Screen
	Figures     func() Screen
	FigureGroup func(group string) Screen
	Bench       func() Screen
	Calculator  func(name string) Screen
	Learn       func() Screen
	Chart       func() Screen
	Circuit     func() Screen
	Quiz        func() Screen
	Practice    func() Screen
	Tree        func(symptom string) Screen
	Raised      func() Screen
	Jobs        func() Screen
	JobPlan     func() Screen
	JobProof    func() Screen
	ShopSheet   func() Screen
	Customer    func() Screen
	Transfer    func() Screen
	Settings    func() Screen
	About       func() Screen
	Search      func() Screen
	Missing     func() Screen // shown at any other address

	// Frame draws what is around the screen.
	Frame func(here Address, screen app.UI) app.UI
}

// Site is the whole tool: what there is to show, and what shows it.
type Site struct {
	Name        string
	Catalogue   *catalogue.Catalogue
	Groups      []string // groups of acceptance values, in the order of the sheet
	Calculators []string // names of the bench's calculators, in the order shown
	Screens     Screens

	once    sync.Once
	screens map[Address]func() Screen
}

type entry struct {
	address Address
	screen  func() Screen
}

// table lists every address with its screen.
func (s *Site) table() []entry {
	v := s.Screens
	t := []entry{
		{Home(), v.Home},
		{Find(), v.Find},
		{Checks(), v.Checks},
		{Codes(), v.Codes},
		{Figures(), v.Figures},
		{Bench(), v.Bench},
		{Learn(), v.Learn},
		{Chart(), v.Chart},
		{Circuit(), v.Circuit},
		{Quiz(), v.Quiz},
		{Practice(), v.Practice},
		{Raised(), v.Raised},
		{Jobs(), v.Jobs},
		{JobPlan(), v.JobPlan},
		{JobProof(), v.JobProof},
		{ShopSheet(), v.ShopSheet},
		{CustomerSheet(), v.Customer},
		{Transfer(), v.Transfer},
		{Settings(), v.Settings},
		{About(), v.About},
		{Search(), v.Search},
	}
	add := func(address func(string) Address, screen func(string) Screen, id string) {
		t = append(t, entry{address(id), func() Screen { return screen(id) }})
	}
	for _, c := range s.Catalogue.Checks {
		add(Check, v.Check, c.ID)
	}
	for _, f := range s.Catalogue.Faults {
		add(Fault, v.Fault, f.ID)
	}
	for _, y := range s.Catalogue.Symptoms {
		add(Symptom, v.Symptom, y.ID)
		add(Tree, v.Tree, y.ID)
	}
	for _, k := range s.Catalogue.Codes {
		add(Code, v.Code, k.ID)
	}
	for _, g := range s.Groups {
		add(FigureGroup, v.FigureGroup, g)
	}
	for _, c := range s.Calculators {
		add(Calculator, v.Calculator, c)
	}
	return t
}

// All lists every address there is, each once.
func (s *Site) All() []Address {
	t := s.table()
	all := make([]Address, len(t))
	for i, e := range t {
		all[i] = e.address
	}
	return all
}

// Page is what is mounted at an address: the frame with the screen in it. An
// address that does not exist gets the screen that says so.
func (s *Site) Page(a Address) *Page {
	return &Page{Here: a, site: s}
}

// missing is the address that stands for every one that does not exist.
const missing Address = "/404/"

// Missing is where hosts find what they show for an unknown address.
func Missing() Address { return missing }

// Register hands the table to go-app. It is called once, in the browser.
//
// Every address is registered in the forms that people and hosts make of it:
// with and without the slash, and with index.html.
func (s *Site) Register() {
	last, turn := Address(""), -1
	visit := func(a Address) func() app.Composer {
		return func() app.Composer {
			if turn < 0 || a != last {
				last, turn = a, turn+1
			}
			leave()
			return &Page{Here: a, Turn: turn, site: s}
		}
	}
	for _, e := range s.table() {
		path := string(e.address)
		app.RouteFunc(path, visit(e.address))
		app.RouteFunc(path+"index.html", visit(e.address))
		if e.address != Home() {
			app.RouteFunc(path[:len(path)-1], visit(e.address))
		}
	}
	app.RouteWithRegexpFunc(".*", visit(missing))
}

// screen makes the screen that is shown at a.
func (s *Site) screen(a Address) Screen {
	s.once.Do(func() {
		s.screens = map[Address]func() Screen{}
		for _, e := range s.table() {
			s.screens[e.address] = e.screen
		}
	})
	if screen, ok := s.screens[a]; ok {
		return screen()
	}
	return s.Screens.Missing()
}
