package find

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/faults"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/diagnosis"
)

// stands says what is proved, what that explains, and what is left to suspect.
func (s *Screen) stands(a *diagnosis.Answer) app.UI {
	body := []app.UI{app.P().Class("conclusion").Text(a.Conclusion)}
	if a.Approximate {
		body = append(body, app.P().Class("soft").Text("There are so many findings that the numbers are estimated and not exact."))
	}
	if len(a.Proved) > 0 {
		body = append(body, app.H3().Text("What that explains"), explained(a))
	} else if said := complaintLine(a); said != "" {
		body = append(body, app.P().Text(said))
	}
	for _, f := range a.Proved {
		body = append(body, app.Div().Class("finding").Body(
			app.H3().Class("finding__name").Body(app.A().Href(route.Fault(f.ID).Href()).Text(f.Name)),
			part.Proved(),
			part.Fold("The repair", faults.Repair(s.Session.Catalogue(), s.Session.Sheet(), f)),
		))
	}
	if len(a.Proved) > 0 {
		if left := suspects(a); len(left) > 0 {
			var rows []app.UI
			for _, x := range left {
				rows = append(rows, app.Li().Class("row").Body(
					app.A().Class("row__link").Href(route.Fault(x.Fault.ID).Href()).Text(x.Fault.Name),
					app.P().Class("row__more").Text("Still likely: "+part.Percent(x.Probability)),
				))
			}
			body = append(body, app.H3().Text("Look at these before closing up"), app.Ul().Class("rows").Body(rows...))
		}
		body = append(body, app.Div().Class("buttons").Body(
			app.A().Class("button", "button--primary").Href(route.JobPlan().Href()).Text("Repair plan"),
			app.A().Class("button", "button--plain").Href(route.JobProof().Href()).Text("Proof after the repair"),
		))
	}
	return part.Section(placeStands, "Where it stands", body...)
}

// explained says of each symptom how far what is proved explains it.
func explained(a *diagnosis.Answer) app.UI {
	var rows []app.UI
	for i := range a.Reports {
		r := &a.Reports[i]
		call, word := "none", stateWords(r)
		switch {
		case r.Report.Absent:
			word = "Not there"
		case r.Explained >= diagnosis.ExplainedAt:
			call = "good"
		case r.Explained >= diagnosis.PartlyAt:
			call = "unsure"
		}
		rows = append(rows, app.Li().Class("explained").DataSet("call", call).Body(
			part.Icon(call),
			app.Span().Class("explained__name").Text(r.Symptom.Name),
			app.Span().Class("explained__state").Text(word),
		))
	}
	return app.Ul().Class("explaineds").Body(rows...)
}

// complaintLine sums the complaint up while nothing is proved.
func complaintLine(a *diagnosis.Answer) string {
	var there, not []string
	for i := range a.Reports {
		if r := &a.Reports[i]; r.Report.Absent {
			not = append(not, r.Symptom.Name)
		} else {
			there = append(there, r.Symptom.Name)
		}
	}
	var said []string
	if len(there) > 0 {
		said = append(said, "To explain: "+strings.Join(there, "; ")+".")
	}
	if len(not) > 0 {
		said = append(said, "Not there: "+strings.Join(not, "; ")+".")
	}
	return strings.Join(said, " ")
}

// suspects lists the faults that are likely and not proved.
func suspects(a *diagnosis.Answer) []diagnosis.Suspect {
	return slices.DeleteFunc(slices.Clone(a.Ranked), func(x diagnosis.Suspect) bool {
		return x.Proved || x.Probability < diagnosis.SuspectAt
	})
}
