// Package jobs is the screen with the saved jobs and the log of the one at hand.
package jobs

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// Screen is the list of jobs, with the one at hand first.
type Screen struct {
	app.Compo
	Session *session.Session

	ctx app.Context
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
}

// Render draws the job at hand and the list.
func (s *Screen) Render() app.UI {
	body := []app.UI{
		app.H1().Text("Jobs"),
		app.P().Class("soft").Text("Jobs are saved at each change, on this device and nowhere else."),
	}
	current := s.Session.Job()
	if current != nil {
		body = append(body, part.Section("current", "The job at hand", s.current(current)...))
	}
	body = append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Start a new job", Rank: "primary", OnPress: func(app.Context) {
			s.Session.Start()
			s.ctx.Navigate(route.Find().Href())
		}}))
	var rows []app.UI
	for _, j := range s.Session.Jobs() {
		if current != nil && j.ID == current.ID {
			continue
		}
		rows = append(rows, s.row(j))
	}
	switch {
	case len(rows) > 0:
		body = append(body, part.Section("others", "Other jobs", app.Ul().Class("rows").Body(rows...)))
	case current == nil:
		body = append(body, app.P().Text("There is no job yet. One starts by itself with the first thing entered in Find or on a check."))
	}
	return app.Article().Body(body...)
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
			&part.Button{Text: "Delete", Of: j.Name, Rank: "quiet", OnPress: func(app.Context) { s.Session.Delete(j.ID) }},
		),
	)
}

// current shows the job at hand: its name and free text to change, what was
// entered, and what can be done with it.
func (s *Screen) current(j *store.Job) []app.UI {
	write := func(to func(*store.Job, string)) func(app.Context, string) {
		return func(_ app.Context, v string) { s.Session.Write(func(j *store.Job) { to(j, v) }) }
	}
	body := []app.UI{
		&part.Field{ID: "name", Label: "Name of the job", Value: j.Name, Wide: true, OnInput: write(func(j *store.Job, v string) { j.Name = v })},
		&part.Field{ID: "truck", Label: "The truck", Hint: "Year, engine, mileage, what was done before.", Value: j.Truck.About, Rows: 2, OnInput: write(func(j *store.Job, v string) { j.Truck.About = v })},
		&part.Field{ID: "notes", Label: "Notes", Value: j.Notes, Rows: 4, OnInput: write(func(j *store.Job, v string) { j.Notes = v })},
		app.P().Class("buttons").Body(app.A().Class("button", "button--primary").Href(route.Find().Href()).Text("Go on in Find")),
	}
	body = append(body, s.log(j)...)
	return append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Print", Of: j.Name, OnPress: func(app.Context) { dom.Print() }},
		&part.Button{Text: "Put aside", Of: j.Name, OnPress: func(app.Context) { s.Session.Leave() }},
		&part.Button{Text: "Copy", Of: j.Name, OnPress: func(app.Context) { s.Session.Copy(j.ID) }},
		&part.Button{Text: "Delete", Of: j.Name, Rank: "quiet", OnPress: func(app.Context) { s.Session.Delete(j.ID) }},
	))
}

// log lists complaint and entries of a job with their verdicts.
func (s *Screen) log(j *store.Job) []app.UI {
	about := []app.UI{app.P().Text(truck(j))}
	if j.Complaint != "" {
		about = append(about, app.P().Text("The customer said: “"+j.Complaint+"”"))
	}
	if len(j.Case.Reports) > 0 {
		about = append(about, app.P().Text(summary(s.Session, j)))
	}
	a, err := s.Session.Answer()
	if err != nil {
		return append(about, app.P().Text("This job holds something that this version of the tool does not know. It is kept as it is."))
	}
	about = append(about, app.H3().Text("Entered"))
	if len(j.Case.Entries) == 0 {
		return append(about, app.P().Text("Nothing yet."))
	}
	var rows []app.UI
	for k, n := range j.Case.Entries {
		if k < len(a.Verdicts) {
			rows = append(rows, s.entry(j, k, n, &a.Verdicts[k]))
		}
	}
	about = append(about, app.Ol().Class("log").Body(rows...))
	if a.Conclusion != "" {
		about = append(about, app.P().Class("conclusion").Text(a.Conclusion))
	}
	return about
}

func truck(j *store.Job) string {
	text := part.Versions([]unit.Version{j.Case.Version}) + ", " + part.Builds([]unit.Build{j.Case.Build})
	if !j.Settled {
		text = "not said which; judged as " + text
	}
	return "Unit: " + text + ". Started " + when(j.Created) + "."
}

func (s *Screen) entry(j *store.Job, k int, n diagnosis.Entry, v *diagnosis.Judgement) app.UI {
	check := s.Session.Catalogue().Check(n.Check)
	if check == nil {
		return app.Li().Class("log__row").Text("A check that this version of the tool does not have.")
	}
	o := check.Observation(n.Observation)
	call, word := "none", "No verdict"
	switch {
	case v.Problem != "":
		word = v.Problem
	case v.Verdict != "":
		call, word = part.Call(v.Verdict), part.VerdictWord(v.Verdict)
	}
	asks := ""
	if o != nil {
		asks = o.Asks
		if out := o.Outcome(v.Outcome); out != nil {
			if v.Verdict == "" {
				word, call = out.Label, "bad"
				if out.Normal {
					call = "good"
				}
			} else {
				word += " (" + out.Label + ")"
			}
		}
	}
	read := v.Value
	if n.At != "" {
		read += " at " + n.At
	}
	body := []app.UI{
		app.A().Class("row__link").Href(route.Check(check.ID).At("o-" + n.Observation).Href()).Text(check.Name),
		app.P().Class("row__more").Text(asks),
		app.P().Class("log__result").DataSet("call", call).Body(part.Icon(call), app.Span().Text(word)),
	}
	if read != "" {
		body = append(body, app.P().Class("log__value").Text(read))
	}
	if k < len(j.Made) && !j.Made[k].At.IsZero() {
		body = append(body, app.P().Class("row__more").Text(when(j.Made[k].At)))
	}
	body = append(body, &part.Button{Text: "Remove", Of: check.Name + ", " + word, Rank: "quiet", OnPress: func(app.Context) {
		s.Session.Withdraw("Removed: "+check.Name, k)
	}})
	return app.Li().Class("log__row").Body(body...)
}
