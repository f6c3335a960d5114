package checks

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
)

// storesCodes says whether fault codes are entered as outcomes of a check.
func storesCodes(c *catalogue.Catalogue, check string) bool {
	for i := range c.Codes {
		if o := c.Codes[i].Outcome; o != nil && o.Check == check {
			return true
		}
	}
	return false
}

// codesOf links to the codes that an observation of a check asks for; nil when
// it asks for none.
func codesOf(c *catalogue.Catalogue, check, observation string) app.UI {
	var links []app.UI
	for i := range c.Codes {
		k := &c.Codes[i]
		if k.Outcome == nil || k.Outcome.Check != check || k.Outcome.Observation != observation {
			continue
		}
		if len(links) > 0 {
			links = append(links, app.Text(", "))
		}
		links = append(links, app.A().Href(route.Code(k.ID).Href()).Text(k.Number))
	}
	if len(links) == 0 {
		return nil
	}
	return app.P().Class("soft").Body(append([]app.UI{app.Text("Look up: ")}, append(links, app.Text("."))...)...)
}
