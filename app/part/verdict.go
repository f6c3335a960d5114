package part

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/conformity"
)

// Call sorts a verdict for the eye: good, bad, unsure, or none when there is
// nothing to go by.
func Call(v conformity.Verdict) string {
	switch v {
	case conformity.Meets:
		return "good"
	case conformity.Below, conformity.Above, conformity.Open, conformity.Short, conformity.Implausible:
		return "bad"
	case conformity.TooClose, conformity.Disagree:
		return "unsure"
	}
	return "none"
}

// VerdictWord is the verdict as it stands on the screen.
func VerdictWord(v conformity.Verdict) string {
	w := v.Words()
	if w == "" {
		return "No verdict"
	}
	return strings.ToUpper(w[:1]) + w[1:]
}

// Verdict is what a reading or an answer comes to: the word large, with its
// mark, then what was read and why. Word, mark and edge say the same, so that
// it reads in the sun and without colour.
type Verdict struct {
	app.Compo

	Call    string // good, bad, unsure or none
	Word    string
	Value   string   // the reading as understood
	Because []string // sentences
}

// Render draws the verdict.
func (v *Verdict) Render() app.UI {
	body := []app.UI{app.P().Class("verdict__word").Body(Icon(v.Call), app.Span().Text(v.Word))}
	if v.Value != "" {
		body = append(body, app.P().Class("verdict__value").Text(v.Value))
	}
	for _, s := range v.Because {
		if s != "" {
			body = append(body, app.P().Class("verdict__because").Text(s))
		}
	}
	return app.Div().Class("verdict").DataSet("call", v.Call).Body(body...)
}

var verdictExamples = []app.UI{
	&Verdict{Call: "good", Word: "Good", Value: "57 psi (393 kPa)", Because: []string{"It lies in the window of 54 psi to 60 psi."}},
	&Verdict{Call: "bad", Word: "Too high", Value: "16 psi (110 kPa)", Because: []string{"At most 3 psi is allowed."}},
	&Verdict{Call: "unsure", Word: "Too close to call with this meter", Value: "5.1 ohm"},
	&Verdict{Call: "none", Word: "No verdict", Because: []string{"Nothing is known to hold it against."}},
}
