// Package faults holds the pages of one fault and of one symptom.
package faults

import (
	"cmp"
	"net/url"
	"slices"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/order"
)

// Fault is the page of one fault: how it comes about, what shows it, what proves
// it, and the repair.
type Fault struct {
	app.Compo
	Session *session.Session
	ID      string
}

func (p *Fault) fault() *catalogue.Fault { return p.Session.Catalogue().Fault(p.ID) }

// Title is the fault's name.
func (p *Fault) Title() string { return p.fault().Name }

// Description says what the page holds.
func (p *Fault) Description() string {
	return "How it comes about, what shows it, what proves it, and the repair: " + p.fault().Name + "."
}

// OnMount opens the jobs, because the values shown are those of the truck at hand.
func (p *Fault) OnMount(app.Context) {
	p.Session.Watch(p)
	p.Session.Open()
}

var areaWords = map[string]string{
	"outside": "outside the unit", "electrical": "electrical", "valve-body": "valve body", "apply": "clutches, bands and servos",
	"pump": "pump", "gear-train": "gear train", "converter": "converter", "cooling": "cooling",
}

// Render draws the page.
func (p *Fault) Render() app.UI {
	f, c := p.fault(), p.Session.Catalogue()
	body := []app.UI{app.H1().Text(f.Name)}
	about := "Part: " + parts(c, f)
	if a := areaWords[f.Area]; a != "" {
		about += ". Area: " + a
	}
	if v := part.Versions(f.Versions); v != "" {
		about += ". Only on the " + v
	}
	body = append(body, app.P().Class("soft").Text(about+"."))
	if len(f.Also) > 0 {
		body = append(body, app.P().Class("soft").Text("Also called: "+join(f.Also)+"."))
	}
	if s := p.standing(f); s != nil {
		body = append(body, s)
	}
	if _, ok := hydraulics.ModelOf(f.ID, ""); ok {
		body = append(body, app.P().Body(app.A().Class("row__link").Href(route.Circuit().With(url.Values{"fault": {f.ID}}).Href()).Text("See it in the circuit")))
	}
	body = append(body,
		part.Section("how", "How it comes about", app.P().Text(f.How)),
		part.Section("driven-on", "If it is driven on", app.P().Text(f.DrivenOn)),
		part.Section("proof", "What proves it", p.proofs(c, f)...),
		part.Section("shows", "What shows it", p.shows(c, f)...),
		part.Section("repair", "The repair", app.H3().Class("spoken").Text("What to do"), Repair(c, p.Session.Sheet(), f)),
		part.Section("estimates", "How common", app.P().Text("Among trucks that come in with a complaint: "+string(f.Frequency)+"."), part.SourceNote(p.Session.Book(), f.Estimates)),
	)
	return app.Article().Body(body...)
}

// parts names the part that the fault sits in, and the others in which it sits
// as well.
func parts(c *catalogue.Catalogue, f *catalogue.Fault) string {
	var names []string
	for _, t := range c.PartsOf(f) {
		names = append(names, lower(t.Name))
	}
	if len(names) < 2 {
		return join(names)
	}
	return names[0] + "; it sits as well in: " + join(names[1:])
}

// standing says where the fault stands on the truck at hand.
func (p *Fault) standing(f *catalogue.Fault) app.UI {
	if p.Session.Job() == nil {
		return nil
	}
	a, err := p.Session.Standing()
	if err != nil || a.CaseOf.Empty() {
		return nil
	}
	for _, s := range a.Ranked {
		if s.Fault.ID == f.ID {
			row := []app.UI{app.P().Class("standing__label").Text("On the truck at hand"), part.Likelihood(s.Probability)}
			if s.Proved {
				row = append(row, part.Proved())
			}
			return app.Div().Class("standing").Body(row...)
		}
	}
	return app.Div().Class("standing").Body(app.P().Class("standing__label").Text("The version or build of the truck at hand cannot have it."))
}

func (p *Fault) proofs(c *catalogue.Catalogue, f *catalogue.Fault) []app.UI {
	var rows []app.UI
	for _, x := range c.Proofs(f.ID) {
		rows = append(rows, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Check(x.Check.ID).Href()).Text(x.Check.Name),
			app.P().Class("row__more").Text(x.Observation.Asks+" – "+x.Outcome.Label),
		))
	}
	return []app.UI{app.Ul().Class("rows").Body(rows...)}
}

// indication is an outcome of a check that a fault shows in.
type indication struct {
	check       *catalogue.Check
	observation *catalogue.Observation
	outcome     *catalogue.Outcome
	level       catalogue.Level
}

// indications lists the outcomes that a fault shows in, the strongest first.
func indications(c *catalogue.Catalogue, fault string) []indication {
	var out []indication
	for i := range c.Checks {
		k := &c.Checks[i]
		for j := range k.Observations {
			o := &k.Observations[j]
			for n := range o.Outcomes {
				for _, l := range o.Outcomes[n].Shows {
					if l.ID == fault {
						out = append(out, indication{k, o, &o.Outcomes[n], l.Level})
					}
				}
			}
		}
	}
	order.Stable(out, func(a, b indication) int { return strength(b.level, a.level) })
	return out
}

// strength orders levels from weak to strong.
func strength(a, b catalogue.Level) int {
	x, _ := a.Probability()
	y, _ := b.Probability()
	return cmp.Compare(x, y)
}

func (p *Fault) shows(c *catalogue.Catalogue, f *catalogue.Fault) []app.UI {
	links := slices.Clone(f.Symptoms)
	order.Stable(links, func(a, b catalogue.Link) int { return strength(b.Level, a.Level) })
	var symptoms []app.UI
	for _, l := range links {
		y := c.Symptom(l.ID)
		if y == nil {
			continue
		}
		more := capital(string(l.Level))
		if when := When(l.When); when != "" {
			more += ", mostly " + when
		}
		symptoms = append(symptoms, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Symptom(y.ID).Href()).Text(y.Name),
			app.P().Class("row__more").Text(more),
		))
	}
	var checks []app.UI
	for _, x := range indications(c, f.ID) {
		checks = append(checks, app.Li().Class("row").Body(
			app.A().Class("row__link").Href(route.Check(x.check.ID).Href()).Text(x.check.Name),
			app.P().Class("row__more").Text(x.observation.Asks+" – "+x.outcome.Label+" ("+string(x.level)+")"),
		))
	}
	return []app.UI{
		app.H3().Text("In a complaint"), app.Ul().Class("rows").Body(symptoms...),
		part.Fold("In checks", app.Ul().Class("rows").Body(checks...)),
	}
}

// When says a condition in words: "when hot, under heavy throttle, in 2-3".
func When(c catalogue.Condition) string {
	var said []string
	switch c.Temperature {
	case "hot", "cold":
		said = append(said, "when "+c.Temperature)
	}
	switch c.Throttle {
	case "light", "heavy":
		said = append(said, "under "+c.Throttle+" throttle")
	}
	if c.Gear != "" {
		said = append(said, "in "+GearWord(c.Gear))
	}
	return join(said)
}

// GearWord names a gear or a shift.
func GearWord(g string) string {
	switch g {
	case "1":
		return "1st"
	case "2":
		return "2nd"
	case "3":
		return "3rd"
	case "4":
		return "4th"
	case "R":
		return "reverse"
	}
	return "the " + g + " shift"
}

func join(words []string) string {
	out := ""
	for i, w := range words {
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}
