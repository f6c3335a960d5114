package find

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// truck says which unit it is and how far it is taken apart, in one line that
// opens for a change.
func (s *Screen) truck(c diagnosis.Case) app.UI {
	line := truckLine(s.Session.Catalogue(), c, s.Session.Settled())
	head := &part.Button{
		ID: placeTruck, Text: line, Rank: "line", Shows: "truck-fields", Opened: s.truckOpen,
		OnPress: func(app.Context) { s.truckOpen = !s.truckOpen },
	}
	return app.Div().Class("truck").Body(
		head,
		app.Div().Class("truck__fields").ID("truck-fields").Hidden(!s.truckOpen).Body(s.truckFields(c)...),
	)
}

// truckLine sums the truck up.
func truckLine(k *catalogue.Catalogue, c diagnosis.Case, settled bool) string {
	which := part.Versions([]unit.Version{c.Version}) + ", " + part.Builds([]unit.Build{c.Build})
	line := capital(which)
	if !settled {
		line = "Which version? Taken as " + which
	}
	if l := k.Level(c.Level); l != nil {
		line += ". " + l.Name
	}
	return line
}

func (s *Screen) truckFields(c diagnosis.Case) []app.UI {
	settled := s.Session.Settled()
	version, build := string(c.Version), string(c.Build)
	if !settled {
		version, build = "", ""
	}
	var versions, builds, levels []part.Option
	for _, v := range unit.Versions {
		versions = append(versions, part.Option{Value: string(v), Label: part.VersionWord(v)})
	}
	for _, b := range []unit.Build{unit.Stock, unit.Raised} {
		builds = append(builds, part.Option{Value: string(b), Label: part.BuildWord(b)})
	}
	for _, l := range s.Session.Catalogue().Access {
		levels = append(levels, part.Option{Value: l.ID, Label: l.Name})
	}
	return []app.UI{
		&part.Choice{
			Name: "version", Legend: "Version", Compact: true, Options: versions, Value: version,
			OnPick: func(_ app.Context, v string) {
				s.Session.Change("", func(j *store.Job) { j.Case.Version, j.Settled = unit.Version(v), true })
			},
		},
		app.P().Body(app.A().Class("row__link").Href(route.Figures().At("identify").Href()).Text("How to tell the versions apart")),
		&part.Choice{
			Name: "build", Legend: "Build", Compact: true, Options: builds, Value: build,
			OnPick: func(_ app.Context, v string) {
				s.Session.Change("", func(j *store.Job) { j.Case.Build, j.Settled = unit.Build(v), true })
			},
		},
		app.P().Body(app.A().Class("row__link").Href(route.Raised().Href()).Text("How to tell that a unit was modified")),
		&part.Choice{
			Name: "level", Legend: "How far is it taken apart now?", Options: levels, Value: c.Level,
			OnPick: func(_ app.Context, v string) {
				s.Session.Change("", func(j *store.Job) { j.Case.Level = v })
			},
		},
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
