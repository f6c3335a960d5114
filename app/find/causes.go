package find

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/diagnosis"
)

// How many causes are shown before "show more", and from which probability.
const (
	shownCauses = 8
	shownFrom   = 0.01
)

// causes ranks what can be behind the complaint.
func (s *Screen) causes(a *diagnosis.Answer) app.UI {
	list := worthShowing(a.Ranked)
	shown := list
	if !s.allCauses && len(list) > shownCauses {
		shown = list[:shownCauses]
	}
	var rows []app.UI
	for _, x := range shown {
		rows = append(rows, s.cause(x))
	}
	body := []app.UI{app.Ol().Class("causes").Body(rows...)}
	if len(list) > shownCauses {
		text := fmt.Sprintf("Show %d more", len(list)-shownCauses)
		if s.allCauses {
			text = "Show fewer"
		}
		body = append(body, &part.Button{Text: text, Of: "causes", OnPress: func(app.Context) { s.allCauses = !s.allCauses }})
	}
	body = append(body, app.P().Class("soft").Body(
		app.Text("More than one can be there at once, so the numbers need not add up to 100 %. "),
		app.A().Href(route.About().At("likely").Href()).Text("How they come about")))
	return part.Section("causes", "Likely causes", body...)
}

// worthShowing leaves out what is hardly possible any more; what is proved
// stays, and so does the first whatever it is.
func worthShowing(ranked []diagnosis.Suspect) []diagnosis.Suspect {
	var out []diagnosis.Suspect
	for i, x := range ranked {
		if x.Proved || x.Probability >= shownFrom || i == 0 {
			out = append(out, x)
		}
	}
	return out
}

func (s *Screen) cause(x diagnosis.Suspect) app.UI {
	f := x.Fault
	id := "why-" + f.ID
	open := s.why == f.ID
	head := []app.UI{app.A().Class("cause__name").Href(route.Fault(f.ID).Href()).Text(f.Name)}
	if x.Proved {
		head = append(head, part.Proved())
	}
	why := app.Div().Class("cause__why").ID(id).Hidden(!open)
	if open {
		why = why.Body(s.reasons(x)...)
	}
	return app.Li().Class("cause").Body(
		part.LikelihoodNumber(x.Probability),
		app.Div().Class("cause__head").Body(head...),
		part.LikelihoodBar(x.Probability),
		&part.Button{Text: "Why", Of: f.Name, Rank: "quiet", Shows: id, Opened: open, OnPress: func(app.Context) {
			s.why = f.ID
			if open {
				s.why = ""
			}
		}},
		why,
	)
}

// reasons says how far each finding moved a cause.
func (s *Screen) reasons(x diagnosis.Suspect) []app.UI {
	reasons, err := s.Session.Reasons(x.Fault.ID)
	if err != nil {
		return []app.UI{app.P().Text("The reasons can't be worked out for these findings.")}
	}
	rows := []app.UI{app.Li().Class("row__more").Text("Before any finding: " + part.Percent(x.Prior) + ", as it is " + string(x.Fault.Frequency) + " among trucks that come in.")}
	for _, r := range reasons {
		name := app.UI(app.B().Text(r.Finding))
		if r.Check != "" {
			name = app.A().Href(route.Check(r.Check).Href()).Text(r.Finding)
		}
		rows = append(rows, app.Li().Body(name, app.Text(" "+part.Times(r.Bits)+"; without it "+part.Percent(r.Without)+".")))
	}
	return []app.UI{app.Ul().Class("list").Body(rows...)}
}
