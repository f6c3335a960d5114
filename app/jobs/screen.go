// Package jobs is the screen with the saved jobs and the log of the one at hand.
package jobs

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/circuit"
	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
)

// Screen is the list of jobs, with the one at hand first.
type Screen struct {
	app.Compo
	Session *session.Session

	ctx    app.Context
	filter string
	kept   dom.Kept
}

// Title names the screen.
func (*Screen) Title() string { return "Jobs" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "The trucks worked on: what was complained of, found, entered and noted. Kept on this device only."
}

// OnMount reads the jobs.
func (s *Screen) OnMount(ctx app.Context) {
	s.ctx = ctx
	s.Session.Watch(s)
	s.Session.Open()
	dom.AskKept(ctx, false, func(ctx app.Context, k dom.Kept) {
		s.kept = k
		s.Update()
	})
}

// Render draws the job at hand and the list.
func (s *Screen) Render() app.UI {
	body := []app.UI{
		app.H1().Text("Jobs"),
		app.P().Class("soft").Text("Jobs are saved at each change, on this device and nowhere else."),
	}
	if due := s.reminder(); due != "" {
		body = append(body, app.P().Class("reminder").Body(part.Icon("alert"), app.Span().Text(due+" "),
			app.A().Href(route.Transfer().Href()).Text("Save them as a file.")))
	}
	current := s.Session.Job()
	if current != nil {
		body = append(body, part.Section("current", "The job at hand", s.current(current)...))
	}
	body = append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Start a new job", Rank: "primary", OnPress: func(app.Context) {
			s.Session.Start()
			s.ctx.Navigate(route.Find().Href())
		}},
		app.A().Class("button", "button--plain").Href(route.Transfer().Href()).Text("Send and bring jobs")))
	var rows, archived []app.UI
	others := 0
	for _, j := range s.Session.Jobs() {
		if current != nil && j.ID == current.ID {
			continue
		}
		others++
		switch {
		case !fits(s.Session, j, s.filter):
		case j.Archived:
			archived = append(archived, s.row(j))
		default:
			rows = append(rows, s.row(j))
		}
	}
	if others > 0 {
		list := []app.UI{&part.Field{ID: "job-filter", Label: "Search the jobs", Mode: "search", Wide: true, Value: s.filter,
			OnInput: func(_ app.Context, v string) { s.filter = v }}}
		if len(rows) > 0 {
			list = append(list, app.Ul().Class("rows").Body(rows...))
		} else {
			list = append(list, app.P().Text("None of these words."))
			if s.filter == "" {
				list[len(list)-1] = app.P().Text("All are in the archive.")
			}
		}
		if len(archived) > 0 {
			list = append(list, part.Fold("Archive, "+counted(len(archived), "job", "jobs"), app.Ul().Class("rows").Body(archived...)))
		}
		body = append(body, part.Section("others", "Other jobs", list...))
	} else if current == nil {
		body = append(body, app.P().Text("There is no job yet. One starts by itself with the first thing entered in Find or on a check."))
	}
	return app.Article().Body(body...)
}

// fits reports whether a job has all the words in it.
func fits(s *session.Session, j *store.Job, words string) bool {
	text := strings.ToLower(strings.Join([]string{j.Name, j.Truck.About, j.Complaint, j.Happens, j.Notes, summary(s, j)}, " "))
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// unsavedAfter is how old jobs get before the user is reminded to save them
// where the browser can't lose them: a choice of this tool's.
const unsavedAfter = 14 * 24 * time.Hour

// reminder says that jobs should be saved as a file; empty when they need not.
func (s *Screen) reminder() string {
	if s.kept == dom.KeptYes {
		return ""
	}
	saved := s.Session.Settings().Exported
	n := 0
	oldest := time.Time{}
	for _, j := range s.Session.Jobs() {
		if j.Updated.After(saved) {
			n++
			if oldest.IsZero() || j.Created.Before(oldest) {
				oldest = j.Created
			}
		}
	}
	if n == 0 || s.Session.Now().Sub(later(oldest, saved)) < unsavedAfter {
		return ""
	}
	return "This browser may delete what it keeps when the device runs short of space, and " + counted(n, "job has", "jobs have") + " not been saved as a file for two weeks."
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// summary is a job in a line: what is complained of and how far it is.
func summary(s *session.Session, j *store.Job) string {
	text := ""
	for _, r := range j.Case.Reports {
		if y := s.Catalogue().Symptom(r.Symptom); y != nil && !r.Absent {
			if text != "" {
				text += ", "
			}
			text += y.Name
		}
	}
	if text == "" {
		text = "No symptom yet"
	}
	if !j.Closed.IsZero() {
		text = "Closed. " + text
	}
	return fmt.Sprintf("%s. %s. Changed %s.", text, counted(len(j.Case.Entries), "entry", "entries"), when(j.Updated))
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func when(t time.Time) string {
	if t.IsZero() {
		return "at a time not kept"
	}
	return t.Local().Format("2 January 2006, 15:04")
}

func (s *Screen) row(j *store.Job) app.UI {
	return app.Li().Class("job").Body(
		app.P().Class("job__name").Text(j.Name),
		app.P().Class("row__more").Text(summary(s.Session, j)),
		app.Div().Class("buttons").Body(
			&part.Button{Text: "Open", Of: j.Name, OnPress: func(app.Context) { s.Session.Take(j.ID) }},
			&part.Button{Text: "Copy", Of: j.Name, OnPress: func(app.Context) { s.Session.Copy(j.ID) }},
			&part.Button{Text: archiveWord(j), Of: j.Name, OnPress: func(app.Context) { s.Session.Archive(j.ID, !j.Archived) }},
			&part.Button{Text: "Delete", Of: j.Name, Rank: "quiet", OnPress: func(app.Context) { s.Session.Delete(j.ID) }},
		),
	)
}

// current shows the job at hand: its free text to change, what was entered, and
// where it can be taken from here.
func (s *Screen) current(j *store.Job) []app.UI {
	field := func(id, label, hint string, rows int, value string, to func(*store.Job) *string) app.UI {
		return &part.Field{ID: id, Label: label, Hint: hint, Rows: rows, Wide: true, Value: value, OnInput: func(_ app.Context, v string) {
			s.Session.Write(func(j *store.Job) { *to(j) = v })
		}}
	}
	link := func(a route.Address, text string) app.UI {
		return app.Li().Body(app.A().Class("row__link").Href(a.Href()).Text(text))
	}
	body := []app.UI{
		field("name", "Name of the job", "", 0, j.Name, func(j *store.Job) *string { return &j.Name }),
		app.P().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go on in Find")),
		app.Ul().Class("rows").Body(
			link(route.JobPlan(), "Repair plan"),
			link(route.JobProof(), "Proof after the repair"),
			link(route.ShopSheet(), "Sheet for the shop"),
			link(route.CustomerSheet(), "Sheet for the customer"),
		),
		part.Fold("The truck, and what was said",
			field("truck", "The truck", "Year, engine, what was done before.", 2, j.Truck.About, func(j *store.Job) *string { return &j.Truck.About }),
			field("odometer", "Odometer", "", 0, j.Truck.Odometer, func(j *store.Job) *string { return &j.Truck.Odometer }),
			field("tyre", "Tyres", "As on the sidewall: 235/85R16.", 0, j.Truck.Tyre, func(j *store.Job) *string { return &j.Truck.Tyre }),
			field("axle", "Axle ratio", "", 0, j.Truck.Axle, func(j *store.Job) *string { return &j.Truck.Axle }),
			field("happens", "Where and when it happens", "Road, load, speed, weather, how long after the start.", 2, j.Happens, func(j *store.Job) *string { return &j.Happens }),
			field("photos", "Pictures", "Their names, so that they are found again.", 2, j.Photos, func(j *store.Job) *string { return &j.Photos }),
		),
		field("notes", "Notes", "", 4, j.Notes, func(j *store.Job) *string { return &j.Notes }),
	}
	body = append(body, s.log(j)...)
	return append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Put aside", Of: j.Name, OnPress: func(app.Context) { s.Session.Leave() }},
		&part.Button{Text: "Copy", Of: j.Name, OnPress: func(app.Context) { s.Session.Copy(j.ID) }},
		&part.Button{Text: archiveWord(j), Of: j.Name, OnPress: func(app.Context) { s.Session.Archive(j.ID, !j.Archived) }},
		&part.Button{Text: "Delete", Of: j.Name, Rank: "quiet", OnPress: func(app.Context) { s.Session.Delete(j.ID) }},
	))
}

func archiveWord(j *store.Job) string {
	if j.Archived {
		return "Take out of the archive"
	}
	return "Archive"
}

// log lists complaint and entries of a job with their verdicts.
func (s *Screen) log(j *store.Job) []app.UI {
	r := recordOf(s.Session)
	about := []app.UI{app.P().Text("Unit: " + r.unit() + ". Started " + when(j.Created) + ".")}
	if j.Complaint != "" {
		about = append(about, app.P().Text("The customer said: “"+j.Complaint+"”"))
	}
	if len(j.Case.Reports) > 0 {
		about = append(about, app.P().Text(summary(s.Session, j)))
	}
	if r.answer == nil {
		return append(about, app.P().Text("This job holds something that this version of the tool does not know. It is kept as it is."))
	}
	about = append(about, app.H3().Text("Entered"))
	if len(j.Case.Entries) == 0 && j.Case.Fitted == nil {
		about = append(about, app.P().Text("Nothing yet."))
	}
	var rows []app.UI
	for k, l := range r.lines {
		rows = append(rows, s.entry(j, k, l))
	}
	if len(rows) > 0 {
		about = append(about, app.Ol().Class("log").Body(rows...))
	}
	if fitted := r.fitted(); len(fitted) > 0 {
		var read []app.UI
		for _, l := range fitted {
			read = append(read, app.Li().Text(l.check+": "+l.asks+" "+l.read+". "+l.word))
		}
		about = append(about,
			app.H3().Text("The pressure log, fitted"),
			app.P().Text("Weighed as a whole by the model of the circuit, in the place of these readings' single verdicts."),
			app.Ul().Class("list").Body(read...),
			app.Div().Class("buttons").Body(
				app.A().Class("button", "button--plain").Href(circuit.Fit(j.Case.Fitted.Readings).Href()).Text("Fit these readings"),
				&part.Button{Text: "Remove", Of: "the pressure log, fitted", Rank: "quiet", OnPress: func(app.Context) {
					s.Session.Unweigh("Removed: the pressure log")
				}}))
	}
	if len(j.Case.Refused) > 0 {
		about = append(about, app.H3().Text("Can't be done here"))
		for _, id := range j.Case.Refused {
			about = append(about, &part.Field{ID: "refused-" + id, Label: r.checkName(id) + ", because", Wide: true, Value: j.Refusals[id],
				OnInput: func(_ app.Context, v string) {
					s.Session.Write(func(j *store.Job) {
						if j.Refusals == nil {
							j.Refusals = map[string]string{}
						}
						j.Refusals[id] = v
					})
				}})
		}
	}
	return about
}

func (s *Screen) entry(j *store.Job, k int, l line) app.UI {
	n := j.Case.Entries[k]
	name := app.UI(app.P().Class("plan__what").Text(l.check))
	if s.Session.Catalogue().Check(n.Check) != nil {
		name = app.A().Class("row__link").Href(route.Check(n.Check).At("o-" + n.Observation).Href()).Text(l.check)
	}
	body := []app.UI{
		name,
		app.P().Class("row__more").Text(l.asks),
		app.P().Class("log__result").DataSet("call", l.call).Body(part.Icon(l.call), app.Span().Text(l.word)),
	}
	if l.read != "" {
		body = append(body, app.P().Class("log__value").Text(l.read))
	}
	if l.limits != "" {
		body = append(body, app.P().Class("row__more").Text("Judged by "+l.limits))
	}
	made := ""
	if !l.made.At.IsZero() {
		made = when(l.made.At)
	}
	if l.made.Meter != "" {
		made += ", with " + l.made.Meter
	}
	if made != "" {
		body = append(body, app.P().Class("row__more").Text(made))
	}
	body = append(body, &part.Button{Text: "Remove", Of: l.check + ", " + l.word, Rank: "quiet", OnPress: func(app.Context) {
		s.Session.Withdraw("Removed: "+l.check, k)
	}})
	return app.Li().Class("log__row").Body(body...)
}
