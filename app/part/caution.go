package part

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/catalogue"
)

// Caution is a safety message: the signal word in the colours of ANSI Z535 with
// the alert triangle, then what can happen and how to avoid it. It stands
// before the step that needs it. NOTICE is about damage to things and has no
// triangle.
func Caution(c *catalogue.Caution) app.UI {
	word := []app.UI{}
	if c.Signal != "NOTICE" {
		word = append(word, Icon("alert"))
	}
	word = append(word, app.Span().Text(c.Signal))
	return app.Div().Class("caution").DataSet("signal", strings.ToLower(c.Signal)).Attr("role", "note").Body(
		app.P().Class("caution__signal").Body(word...),
		app.P().Class("caution__text").Body(
			app.B().Text(c.Hazard), app.Text(" "+c.Consequence),
		),
		app.P().Class("caution__text").Text(c.Avoid),
	)
}

var cautionExamples = []app.UI{
	Caution(&catalogue.Caution{Signal: "DANGER", Hazard: "A truck on stands can roll off.", Consequence: "It kills whoever is under it.", Avoid: "Chock the wheels, use stands of the right rating, and shake the truck before going under."}),
	Caution(&catalogue.Caution{Signal: "WARNING", Hazard: "Wheels turn in gear.", Consequence: "They catch clothes and hands.", Avoid: "Keep clear of them."}),
	Caution(&catalogue.Caution{Signal: "CAUTION", Hazard: "Edges are sharp.", Consequence: "They cut.", Avoid: "Wear gloves."}),
	Caution(&catalogue.Caution{Signal: "NOTICE", Hazard: "The case is aluminium.", Consequence: "Threads strip.", Avoid: "Use an inch-pound wrench."}),
}
