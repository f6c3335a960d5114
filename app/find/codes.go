package find

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/codes"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
)

// mentioned shows the fault codes among the customer's words and offers to add
// those that are a finding.
func (s *Screen) mentioned(mentions []diagnosis.Mention) []app.UI {
	var rows []app.UI
	var add []*catalogue.Code
	row := func(name, said string, to route.Address) {
		rows = append(rows, app.Li().Class("understood__row").Body(
			app.A().Class("understood__name").Href(to.Href()).Text(name),
			app.Span().Class("understood__said").Text(said),
		))
	}
	shown := map[string]bool{}
	for _, m := range mentions {
		if shown[m.Number] {
			continue
		}
		shown[m.Number] = true
		k := m.Code()
		switch {
		case len(m.Codes) == 0:
			row(m.Number, "is not in the list. Take it from the maker's list for the year.", route.Codes())
		case k == nil:
			row(m.Number, "stands for several faults. Look which one it is.", codes.Search(m.Number))
		case k.Outcome == nil:
			row(k.Number+": "+k.Name, "points to no fault of the unit by itself.", route.Code(k.ID))
		case s.Session.Addable(k):
			row(k.Number+": "+k.Name, "“"+m.Words+"”", route.Code(k.ID))
			add = append(add, k)
		default:
			row(k.Number+": "+k.Name, "is entered, or one of its family that comes first.", route.Code(k.ID))
		}
	}
	if len(rows) == 0 {
		return nil
	}
	body := []app.UI{
		app.P().Class("understood__heading").Text("Fault codes"),
		app.Ul().Class("understood").Body(rows...),
	}
	if len(add) > 0 {
		label := "Add as stored code"
		if len(add) > 1 {
			label = "Add as stored codes"
		}
		var numbers []string
		for _, k := range add {
			numbers = append(numbers, k.Number)
		}
		body = append(body, &part.Button{Text: label, Of: strings.Join(numbers, ", "), Rank: "primary", OnPress: func(app.Context) { s.addCodes(add) }})
	}
	return body
}

// addCodes enters codes into the job.
func (s *Screen) addCodes(codes []*catalogue.Code) {
	c := s.Session.Case()
	first := c.Empty()
	if !s.Session.AddCodes(codes...) {
		return
	}
	s.job = s.Session.Job().ID
	if first {
		s.arrive(placeStands)
	}
}
