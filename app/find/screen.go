// Package find is the screen that takes a complaint to its cause: what the
// customer says, where the truck stands, what is likely, what to check next,
// what is proved and what the repair needs.
//
// It is one page, worked from top to bottom again and again: at the start the
// complaint comes first, later what is proved and what comes next.
package find

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/knowledge/diagnosis"
)

// Ids of the places on the screen that focus moves to.
const (
	placeStands    = "stands"
	placeComplaint = "complaint-heading"
	placeTruck     = "truck"
)

// Screen is the whole of it.
type Screen struct {
	app.Compo
	Session *session.Session

	ctx       app.Context
	job       string // the job that text was read from
	text      string // the customer's words
	filter    string // typed into the search of the symptom list
	truckOpen bool
	listOpen  bool
	allCauses bool
	why       string // fault whose reasons are in view
	adjusting string // symptom whose conditions are in view
}

// Title names the screen.
func (*Screen) Title() string { return "Find" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "From the complaint to the proved cause of a transmission's trouble: likely causes, the next check, the repair."
}

// OnMount reads the job at hand.
func (s *Screen) OnMount(ctx app.Context) {
	s.ctx = ctx
	s.Session.Watch(s)
	s.Session.Open()
}

// OnNav opens what the address points to.
func (s *Screen) OnNav(ctx app.Context) {
	if ctx.Page().URL().Fragment == placeTruck {
		s.truckOpen = true
	}
}

// follow takes the words of another job when it is opened.
func (s *Screen) follow() {
	id := ""
	if j := s.Session.Job(); j != nil {
		id = j.ID
	}
	if id == s.job {
		return
	}
	s.job = id
	if j := s.Session.Job(); j != nil {
		s.text = j.Complaint
	} else {
		s.text = ""
	}
}

// Render draws the screen.
func (s *Screen) Render() app.UI {
	s.follow()
	c := s.Session.Case()
	body := []app.UI{app.H1().Text("Find"), s.truck(c)}
	if c.Empty() {
		body = append(body, s.complaint(c, nil))
		if len(c.Refused) > 0 {
			body = append(body, s.refused(c))
		}
		return app.Article().Body(body...)
	}
	a, err := s.standing()
	switch {
	case err != nil:
		body = append(body, part.Section(placeStands, "Where it stands",
			app.P().Text("This job can't be worked out: it holds something that this version of the tool does not know. Remove the last symptom or entry, or start a new job.")))
	case a.Clash != "":
		body = append(body, part.Section(placeStands, "Where it stands", &part.Verdict{Call: "unsure", Word: "Two findings contradict each other", Because: []string{a.Clash}}))
	default:
		body = append(body, s.stands(a))
		if !s.Session.Answered() {
			body = append(body, part.Section("next", "Next check", app.P().Text("Working it out.")), s.causes(a))
			break
		}
		body = append(body, s.next(a), s.causes(a))
		if w := s.whileOpen(a); w != nil {
			body = append(body, w)
		}
	}
	body = append(body, s.complaint(c, a))
	return app.Article().Body(body...)
}

// standing is the answer, at first without what comes next: that takes the most
// of its time, and the rest of the screen does not wait for it.
func (s *Screen) standing() (*diagnosis.Answer, error) {
	if s.Session.Answered() || s.ctx == nil {
		return s.Session.Answer()
	}
	a, err := s.Session.Standing()
	s.ctx.After(time.Millisecond, func(app.Context) {
		if !s.Session.Answered() {
			_, _ = s.Session.Answer() // an error shows in the next drawing
			s.Update()
		}
	})
	return a, err
}

// arrive moves the focus to a heading once the screen is drawn again. It asks as
// the screen and not as the button that was pressed, which may be gone by then.
func (s *Screen) arrive(place string) {
	if s.ctx == nil {
		return
	}
	s.ctx.Defer(func(app.Context) {
		dom.Focus(place)
		dom.ScrollToID(place)
	})
}

// states maps each reported symptom to what is said of it.
func states(a *diagnosis.Answer) map[string]*diagnosis.ReportState {
	out := map[string]*diagnosis.ReportState{}
	if a == nil {
		return out
	}
	for i := range a.Reports {
		out[a.Reports[i].Report.Symptom] = &a.Reports[i]
	}
	return out
}
