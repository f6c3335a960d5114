package find

import (
	"fmt"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/faults"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// complaint takes in what the customer says: in words, or from the list.
func (s *Screen) complaint(c diagnosis.Case, a *diagnosis.Answer) app.UI {
	var body []app.UI
	if len(c.Reports) > 0 {
		body = append(body, s.reports(c, a))
	}
	body = append(body, s.words(c)...)
	body = append(body, app.P().Body(app.A().Class("row__link").Href(route.Codes().Href()).Text("Stored codes? Look a number up")))
	started := !c.Empty()
	if started {
		open := s.listOpen
		body = append(body, &part.Button{
			Text: "Add a symptom from the list", Shows: "symptom-list", Opened: open,
			OnPress: func(app.Context) { s.listOpen = !s.listOpen },
		})
		list := app.Div().ID("symptom-list").Hidden(!open)
		if open {
			list = list.Body(s.list(c)...)
		}
		body = append(body, list)
		return part.Section(placeComplaint, "The complaint", body...)
	}
	body = append(body, app.H3().Class("find__or").Text("Or pick from the list"), app.Div().ID("symptom-list").Body(s.list(c)...))
	return part.Section(placeComplaint, "What does the customer say?", body...)
}

// words is the box for the customer's words, and what was understood of them.
func (s *Screen) words(c diagnosis.Case) []app.UI {
	field := &part.Field{
		ID: "words", Label: "In the customer's words", Hint: "Say everything at once: what it does, in which gear, hot or cold.", Rows: 3, Value: s.text,
		OnInput: func(_ app.Context, v string) {
			s.text = v
			if strings.TrimSpace(v) == "" && s.Session.Job() == nil {
				return
			}
			s.Session.Write(func(j *store.Job) { j.Complaint = v })
			s.job = s.Session.Job().ID
		},
	}
	body := []app.UI{field}
	if strings.TrimSpace(s.text) == "" {
		return body
	}
	u := s.Session.Understand(s.text)
	mentions := s.Session.Mentions(s.text)
	reports := diagnosis.Reports(u, mentions)
	take := fresh(c, reports)
	var rows []app.UI
	for _, r := range take {
		y := s.Session.Catalogue().Symptom(r.Symptom)
		if y == nil {
			continue
		}
		more := "“" + r.Said + "”"
		if when := conditionWords(r.Condition, faults.GearWord); when != "" {
			more += " – " + when
		}
		name := y.Name
		if r.Absent {
			name = "Not there: " + name
		}
		rows = append(rows, app.Li().Class("understood__row").Body(
			app.Span().Class("understood__name").Text(name),
			app.Span().Class("understood__said").Text(more),
		))
	}
	if len(rows) > 0 {
		label := "Take this symptom"
		if len(rows) > 1 {
			label = fmt.Sprintf("Take these %d symptoms", len(rows))
		}
		body = append(body,
			app.P().Class("understood__heading").Text("Understood"),
			app.Ul().Class("understood").Body(rows...),
			&part.Button{Text: label, Rank: "primary", OnPress: func(app.Context) { s.take(take) }},
		)
	} else if len(reports) > 0 {
		body = append(body, app.P().Class("soft").Text("Everything understood is in the complaint."))
	}
	for _, x := range offers(u, reports) {
		var buttons []app.UI
		for i, k := range x.Candidates {
			y := s.Session.Catalogue().Symptom(k.SymptomID)
			if y == nil || i >= 4 || slices.ContainsFunc(c.Reports, func(r diagnosis.Report) bool { return r.Symptom == y.ID }) {
				continue
			}
			r := diagnosis.Report{Symptom: y.ID, Condition: x.When, Absent: x.Absent, Said: x.Words}
			buttons = append(buttons, &part.Button{Text: y.Name, OnPress: func(app.Context) { s.take([]diagnosis.Report{r}) }})
		}
		if len(buttons) > 0 {
			body = append(body, app.P().Class("understood__heading").Text("“"+x.Words+"” could be"), app.Div().Class("buttons").Body(buttons...))
		}
	}
	body = append(body, s.mentioned(mentions)...)
	var lost []string
	for _, p := range diagnosis.Unexplained(u, mentions) {
		lost = append(lost, "“"+p.Words+"”")
	}
	if len(lost) > 0 {
		body = append(body, app.P().Class("understood__lost").Text("Not understood: "+strings.Join(lost, ", ")+". Say it in other words, or pick it from the list."))
	}
	return body
}

// take adds reports to the case.
func (s *Screen) take(reports []diagnosis.Report) {
	var names []string
	for _, r := range reports {
		if y := s.Session.Catalogue().Symptom(r.Symptom); y != nil {
			names = append(names, y.Name)
		}
	}
	first := len(s.Session.Case().Reports) == 0
	done := "Added: " + strings.Join(names, ", ")
	if len(names) > 1 {
		done = fmt.Sprintf("Added %d symptoms", len(names))
	}
	s.Session.Change(done, func(j *store.Job) {
		for _, r := range reports {
			j.Case.Report(r)
		}
	})
	s.job = s.Session.Job().ID
	s.listOpen = false
	if first {
		s.arrive(placeStands)
	}
}

// list is every symptom, to pick from. It is what can be read without the
// program, so each name is a link to the symptom's own page.
func (s *Screen) list(c diagnosis.Case) []app.UI {
	body := []app.UI{&part.Field{
		ID: "filter", Label: "Search the symptoms", Mode: "search", Wide: true, Value: s.filter,
		OnInput: func(_ app.Context, v string) { s.filter = v },
	}}
	var rows []app.UI
	for _, x := range s.listed() {
		y := x.symptom
		act := app.UI(&part.Button{Text: "Add", Of: y.Name, OnPress: func(app.Context) { s.take([]diagnosis.Report{{Symptom: y.ID}}) }})
		if slices.ContainsFunc(c.Reports, func(r diagnosis.Report) bool { return r.Symptom == y.ID }) {
			act = app.Span().Class("pick__had").Text("Added")
		}
		name := []app.UI{app.A().Class("row__link").Href(route.Symptom(y.ID).Href()).Text(y.Name)}
		if x.said != "" && !strings.EqualFold(x.said, y.Name) {
			name = append(name, app.P().Class("row__more").Text("“"+x.said+"”"))
		}
		rows = append(rows, app.Li().Class("pick").Body(app.Div().Class("pick__name").Body(name...), act))
	}
	if len(rows) == 0 {
		return append(body, app.P().Attr("role", "status").Text("No symptom fits these words. Try a shorter one."))
	}
	return append(body, app.Ul().Class("rows").Body(rows...))
}

// listing is a symptom of the list, and the phrase that it was found by.
type listing struct {
	symptom *catalogue.Symptom
	said    string
}

// found is how many symptoms a search shows.
const found = 12

// listed is what the list shows: every symptom by name, or what a search finds,
// the best first.
func (s *Screen) listed() []listing {
	var out []listing
	if strings.TrimSpace(s.filter) == "" {
		for _, y := range byName(s.Session.Catalogue()) {
			out = append(out, listing{symptom: y})
		}
		return out
	}
	for _, x := range s.Session.Suggest(s.filter, found) {
		if y := s.Session.Catalogue().Symptom(x.SymptomID); y != nil {
			out = append(out, listing{y, x.Said})
		}
	}
	return out
}

// reports shows the reported symptoms with what can be said of each.
func (s *Screen) reports(c diagnosis.Case, a *diagnosis.Answer) app.UI {
	var rows []app.UI
	state := states(a)
	for _, r := range c.Reports {
		y := s.Session.Catalogue().Symptom(r.Symptom)
		if y == nil {
			continue
		}
		rows = append(rows, s.report(r, y, state[r.Symptom]))
	}
	return app.Ul().Class("reports").Body(rows...)
}

func (s *Screen) report(r diagnosis.Report, y *catalogue.Symptom, state *diagnosis.ReportState) app.UI {
	change := func(done string, f func(*diagnosis.Report)) {
		s.Session.Change(done, func(j *store.Job) {
			for k := range j.Case.Reports {
				if j.Case.Reports[k].Symptom == y.ID {
					f(&j.Case.Reports[k])
				}
			}
		})
	}
	name := app.A().Class("report__name").Href(route.Symptom(y.ID).Href()).Text(y.Name)
	body := []app.UI{app.P().Class("report__head").Body(name)}
	if r.Said != "" {
		body = append(body, app.P().Class("report__said").Text("“"+r.Said+"”"))
	}
	when := conditionWords(r.Condition, faults.GearWord)
	if when == "" {
		when = "any time"
	}
	id := "when-" + y.ID
	open := s.adjusting == y.ID
	absent := "false"
	if r.Absent {
		absent = "true"
	}
	body = append(body, app.Div().Class("report__acts").Body(
		&part.Button{Text: "When: " + when, Of: y.Name, Shows: id, Opened: open, OnPress: func(app.Context) {
			s.adjusting = y.ID
			if open {
				s.adjusting = ""
			}
		}},
		&part.Button{Text: "Not there", Of: y.Name, Pressed: absent, OnPress: func(app.Context) {
			done := "Not there: " + y.Name
			if r.Absent {
				done = "There: " + y.Name
			}
			change(done, func(r *diagnosis.Report) { r.Absent = !r.Absent })
		}},
		&part.Button{Text: "Remove", Of: y.Name, Rank: "quiet", OnPress: func(app.Context) {
			s.Session.Change("Removed: "+y.Name, func(j *store.Job) {
				j.Case.Reports = slices.DeleteFunc(slices.Clone(j.Case.Reports), func(r diagnosis.Report) bool { return r.Symptom == y.ID })
			})
			s.arrive(placeComplaint)
		}},
	))
	for _, other := range r.Instead {
		if o := s.Session.Catalogue().Symptom(other); o != nil {
			body = append(body, &part.Button{Text: "Rather: " + o.Name, Of: "instead of " + y.Name, OnPress: func(app.Context) {
				change("Changed to: "+o.Name, func(r *diagnosis.Report) {
					r.Symptom, r.Instead = o.ID, append([]string{y.ID}, slices.DeleteFunc(slices.Clone(r.Instead), func(x string) bool { return x == o.ID })...)
				})
			}})
		}
	}
	conditions := app.Div().Class("report__when").ID(id).Hidden(!open)
	if open {
		conditions = conditions.Body(s.conditions(r, y, change)...)
	}
	body = append(body, conditions)
	if state != nil && !r.Absent {
		body = append(body, app.P().Class("report__state").Text(stateWords(state)))
	}
	return app.Li().Class("report").Body(body...)
}

func (s *Screen) conditions(r diagnosis.Report, y *catalogue.Symptom, change func(string, func(*diagnosis.Report))) []app.UI {
	body := []app.UI{
		&part.Choice{
			Name: "temperature-" + y.ID, Legend: "Hot or cold?", Compact: true, Value: r.Condition.Temperature,
			Options: []part.Option{{Value: "", Label: "Either"}, {Value: "hot", Label: "Hot"}, {Value: "cold", Label: "Cold"}},
			OnPick: func(_ app.Context, v string) {
				change("", func(r *diagnosis.Report) { r.Condition.Temperature = v })
			},
		},
		&part.Choice{
			Name: "throttle-" + y.ID, Legend: "Under which throttle?", Compact: true, Value: r.Condition.Throttle,
			Options: []part.Option{{Value: "", Label: "Either"}, {Value: "light", Label: "Light"}, {Value: "heavy", Label: "Heavy"}},
			OnPick: func(_ app.Context, v string) {
				change("", func(r *diagnosis.Report) { r.Condition.Throttle = v })
			},
		},
	}
	if which := gears(s.Session.Catalogue(), y.ID); len(which) > 0 {
		options := []part.Option{{Value: "", Label: "Any"}}
		for _, g := range which {
			options = append(options, part.Option{Value: g, Label: faults.GearWord(g)})
		}
		body = append(body, &part.Choice{
			Name: "gear-" + y.ID, Legend: "In which gear or shift?", Compact: true, Value: r.Condition.Gear, Options: options,
			OnPick: func(_ app.Context, v string) {
				change("", func(r *diagnosis.Report) { r.Condition.Gear = v })
			},
		})
	}
	return body
}

// stateWords says how far what is proved explains a symptom.
func stateWords(r *diagnosis.ReportState) string {
	said := r.State()
	said = strings.ToUpper(said[:1]) + said[1:]
	if len(r.By) == 0 {
		return said
	}
	var names []string
	for _, f := range r.By {
		names = append(names, f.Name)
	}
	return said + " by what is proved (" + strings.Join(names, ", ") + "): " + part.Percent(r.Explained)
}
