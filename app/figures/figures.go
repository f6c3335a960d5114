// Package figures is the unit sheet on screen: every acceptance value of the
// truck at hand with when it holds and where it comes from, and how to tell
// which version it is.
//
// Who does not know the version sees all of them side by side. Somebody at a
// parts counter reads a line of it aloud, so each figure stands with its unit
// in both systems of measures, its condition and its source.
package figures

import (
	"net/url"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/unit"
)

// The screen's own part of the query.
const (
	queryVersion = "version"
	queryBuild   = "build"
	queryFilter  = "q"
	querySeen    = "seen"
)

// Screen is the unit sheet, or one group of it.
//
// The version is that of the job at hand. Without a job it is kept in the
// address, so that looking a figure up starts no job.
type Screen struct {
	app.Compo

	Session *session.Session
	Group   string // from the address; empty: all groups

	version unit.Version
	build   unit.Build
	filter  string
	seen    []string // features seen on the unit
	follow  route.Follower

	drafts map[string]*ownDraft // values of the user's own, as typed
}

// New makes the screen of the whole sheet.
func New(s *session.Session) *Screen { return &Screen{Session: s} }

// NewGroup makes the screen of one group of the sheet.
func NewGroup(s *session.Session, group string) *Screen { return &Screen{Session: s, Group: group} }

// groupNames are the groups as headings, in the order in which a truck is
// worked on: gauges first, then meters, then the unit apart.
var groupNames = []struct{ group, name string }{
	{"pressure", "Pressures"},
	{"governor", "Governor"},
	{"electrical", "Electrical"},
	{"adjustment", "Adjustments"},
	{"torque", "Torques"},
	{"fluid", "Fluid"},
	{"heat", "Temperatures and cooling"},
	{"clearance", "Clearances"},
	{"valve-body", "Valve body"},
	{"shift", "Shifting"},
}

// GroupName is a group as a heading.
func GroupName(group string) string {
	for _, n := range groupNames {
		if n.group == group {
			return n.name
		}
	}
	return capital(strings.ReplaceAll(group, "-", " "))
}

// Groups lists the groups of a book in the order shown.
func Groups(b *unit.Book) []string {
	var groups []string
	for _, n := range groupNames {
		if slices.ContainsFunc(b.Acceptances, func(a unit.Acceptance) bool { return a.Group == n.group }) {
			groups = append(groups, n.group)
		}
	}
	for i := range b.Acceptances {
		if g := b.Acceptances[i].Group; !slices.Contains(groups, g) {
			groups = append(groups, g)
		}
	}
	return groups
}

// Title names the sheet or its group.
func (s *Screen) Title() string {
	if s.Group != "" {
		return "Figures: " + strings.ToLower(GroupName(s.Group))
	}
	return "Figures"
}

// Description says what the screen holds.
func (s *Screen) Description() string {
	if s.Group != "" {
		return GroupName(s.Group) + " of the unit sheet for the light, mid and late version, each with its unit, its condition and its source."
	}
	return "The unit sheet: every acceptance value for the light, mid and late version with its unit, its condition and its source, and how to tell the versions apart."
}

// OnMount follows the job at hand.
func (s *Screen) OnMount(app.Context) {
	s.Session.Watch(s)
	s.Session.Open()
}

// OnNav takes version, build and filter from the address.
func (s *Screen) OnNav(ctx app.Context) {
	s.read(ctx.Page().URL().Query())
}

func (s *Screen) read(q url.Values) {
	s.version, s.build = "", ""
	if v := unit.Version(q.Get(queryVersion)); slices.Contains(unit.Versions, v) {
		s.version, s.build = v, unit.Stock
		if unit.Build(q.Get(queryBuild)) == unit.Raised {
			s.build = unit.Raised
		}
	}
	s.filter = clip(q.Get(queryFilter))
	s.seen = nil
	for _, id := range q[querySeen] {
		if _, ok := unit.FeatureByID(id); ok && !slices.Contains(s.seen, id) {
			s.seen = append(s.seen, id)
		}
	}
}

// clip keeps what was typed to what a filter can use.
func clip(text string) string {
	r := []rune(text)
	return string(r[:min(len(r), 100)])
}

// sheet is the sheet that is shown: of the job at hand, else of the address.
func (s *Screen) sheet() unit.Sheet {
	if s.Session.Job() != nil {
		return s.Session.Sheet()
	}
	sheet := s.Session.WholeSheet()
	sheet.Version, sheet.Build = s.version, s.build
	return sheet
}

// here is the screen's address, with what is chosen on it.
func (s *Screen) here(a route.Address, filter bool) route.Address {
	q := url.Values{querySeen: s.seen}
	if s.version != "" {
		q.Set(queryVersion, string(s.version))
		if s.build == unit.Raised {
			q.Set(queryBuild, string(s.build))
		}
	}
	if filter {
		q.Set(queryFilter, s.filter)
	}
	return a.With(q)
}

func (s *Screen) address() route.Address {
	if s.Group != "" {
		return route.FigureGroup(s.Group)
	}
	return route.Figures()
}

// Render draws the choice of the truck, the filter, the figures and, on the
// whole sheet, how to tell the versions apart.
func (s *Screen) Render() app.UI {
	sheet := s.sheet()
	body := []app.UI{app.H1().Text(s.Title())}
	if s.Group != "" {
		body = append(body, app.P().Body(
			app.A().Href(s.here(route.Figures(), false).Href()).Text("All figures"),
		))
	} else {
		body = append(body, app.P().Class("lead").Text("Typical values of the class, each with where it comes from. The maker's manual for the unit at hand stands above them."))
	}
	body = append(body, s.truck(sheet)...)
	body = append(body, &part.Field{
		ID: "figures-filter", Label: "Search the figures", Hint: "Words of the name, the place or the condition, such as “band torque”.",
		Mode: "search", Wide: true, Value: s.filter, OnInput: s.search,
	})
	if s.Group == "" && s.filter == "" {
		body = append(body, s.groups())
	}
	body = append(body, s.list(sheet)...)
	if s.Group == "" {
		body = append(body, s.identification(sheet))
	}
	return app.Article().Body(body...)
}

func (s *Screen) search(ctx app.Context, value string) {
	s.filter = clip(value)
	s.follow.Follow(ctx, s.here(s.address(), true))
}

// truck asks which version and build it is.
func (s *Screen) truck(sheet unit.Sheet) []app.UI {
	asks := []app.UI{&part.Choice{
		Name: "figures-version", Legend: "Which version?", Compact: true, Value: string(sheet.Version),
		Options: []part.Option{
			{Value: "", Label: "Not sure, show all"},
			{Value: string(unit.Light), Label: "Light"},
			{Value: string(unit.Mid), Label: "Mid"},
			{Value: string(unit.Late), Label: "Late"},
		},
		OnPick: func(ctx app.Context, v string) {
			build := sheet.Build
			if build == "" {
				build = s.Session.Case().Build
			}
			s.pick(ctx, unit.Version(v), build)
		},
	}}
	if sheet.Version == "" {
		return append(asks, app.P().Body(
			app.A().Href(route.Figures().At("identify").Href()).Text("How to tell the versions apart"),
		))
	}
	asks = append(asks, &part.Choice{
		Name: "figures-build", Legend: "Which line pressure?", Compact: true, Value: string(sheet.Build),
		Options: []part.Option{
			{Value: string(unit.Stock), Label: "Stock"},
			{Value: string(unit.Raised), Label: "Raised on purpose"},
		},
		OnPick: func(ctx app.Context, b string) { s.pick(ctx, sheet.Version, unit.Build(b)) },
	})
	asks = append(asks, app.P().Body(
		app.A().Href(route.Raised().Href()).Text("What raised pressure buys and costs, and how to tell it"),
	))
	if j := s.Session.Job(); j != nil {
		asks = append(asks, app.P().Class("soft").Text("As set for the job at hand, "+j.Name+". A change here changes it for the job."))
		if s.version != "" && s.version != sheet.Version {
			asks = append(asks, app.P().Class("figures__other").Body(part.Icon("alert"),
				app.Span().Text("The link you followed was made for the "+string(s.version)+" version; what is shown is for the job at hand.")))
		}
	}
	return asks
}

// pick sets version and build, for the job at hand if there is one.
func (s *Screen) pick(ctx app.Context, v unit.Version, b unit.Build) {
	s.version, s.build = v, b
	if v == "" {
		s.build = ""
	}
	if j := s.Session.Job(); j != nil {
		done := "Version: not sure"
		if v != "" {
			done = "Version: " + string(v) + ", " + string(b)
		}
		if s.Session.Settled() == (v != "") && (v == "" || j.Case.Version == v && j.Case.Build == b) {
			return
		}
		s.Session.Change(done, func(j *store.Job) {
			j.Settled = v != ""
			if v != "" {
				j.Case.Version, j.Case.Build = v, b
			}
		})
	}
	route.Replace(ctx, s.here(s.address(), true))
}

// groups links to the groups of the sheet.
func (s *Screen) groups() app.UI {
	var items []app.UI
	for _, g := range Groups(s.Session.Book()) {
		items = append(items, app.Li().Body(
			app.A().Class("groups__link").Href(s.here(route.FigureGroup(g), false).Href()).Text(GroupName(g)),
		))
	}
	return app.Nav().Class("groups").Aria("label", "Groups of figures").Body(app.Ul().Class("groups__list").Body(items...))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
