// Package about holds the general cautions, where the values come from, and how
// the numbers come about.
package about

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
)

// Screen is the whole of it. It shows nothing of the job at hand.
type Screen struct {
	app.Compo
	Session *session.Session
}

// Title names the screen.
func (*Screen) Title() string { return "About" }

// Description says what the screen is for.
func (*Screen) Description() string {
	return "Cautions, what the words beside each value mean, how likely a cause is worked out, and the sources."
}

// signals is the order of the signal words, the gravest first.
var signals = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}

// Render draws the screen.
func (s *Screen) Render() app.UI {
	c, b := s.Session.Catalogue(), s.Session.Book()
	cautions := []app.UI{
		app.P().Body(app.B().Text("The maker's manual for the unit at hand and the rules of your country and shop stand above this tool. "),
			app.Text("Where they say otherwise, follow them. Each check shows its cautions before the step that needs them; these are all of them.")),
	}
	for _, signal := range signals {
		for i := range c.Cautions {
			if c.Cautions[i].Signal == signal {
				cautions = append(cautions, part.Caution(&c.Cautions[i]))
			}
		}
	}
	var sources []app.UI
	for _, x := range b.Sources {
		sources = append(sources, app.Li().ID("source-"+x.ID).Text(x.ID+": "+x.Title))
	}
	return app.Article().Body(
		app.H1().Text("About"),
		part.Section("cautions", "Cautions", cautions...),
		part.Section("provenance", "Where the values come from",
			app.P().Text("Beside each value stands where it comes from. None is ever shown as better than it is."),
			app.Dl().Class("terms").Body(
				term(unit.Published, "It stands in a text that was printed or posted; which one, and where in it, is named. A note says when it was printed for a sister unit."),
				term(unit.CommonPractice, "Shops work by it, but no maker's text for it was found."),
				term(unit.Memory, "Nobody's text was at hand. Take it as a guide and look it up before you renew anything on its account."),
				term(unit.Own, "You typed it in, with its source."),
				term(unit.Demo, "Invented, to show how something works."),
			),
			app.P().Text("Where two sources disagree, both stand there, and a reading between them gets no verdict.")),
		part.Section("likely", "How likely a cause is", s.likely()...),
		part.Section("verdicts", "How a reading is judged",
			app.P().Text("A meter is never exact. A verdict is given only when the reading is inside or outside the window with a probability of 95 %, the meter's error counted in. Otherwise it reads “too close to call with this meter”: use a better meter, or count the leads and the temperature in.")),
		part.Section("sources", "Sources", app.Ul().Class("list").Body(sources...)),
		part.Section("copy", "This copy of the tool", &thisCopy{},
			app.P().Text("The tool is a folder of plain files. Any web host can serve it, and HOSTING.txt in it says how; so can a memory stick with a small server on it, in a shop without the internet.")),
		part.Section("kept", "What is kept, and where",
			app.P().Text("Jobs and settings stay in this browser on this device. Nothing is sent anywhere. Clearing the browser's data deletes them.")),
	)
}

func term(k unit.ProvenanceKind, means string) app.UI {
	return app.Div().Class("terms__row").Body(app.Dt().Class("terms__word").Text(part.ProvenanceWord(k)), app.Dd().Class("terms__means").Text(means))
}

func (s *Screen) likely() []app.UI {
	var levels, frequencies []app.UI
	for _, l := range catalogue.Levels {
		p, _ := l.Probability()
		levels = append(levels, app.Li().Text(string(l)+": "+part.Share(p)))
	}
	for _, f := range catalogue.Frequencies {
		p, _ := f.Probability()
		frequencies = append(frequencies, app.Li().Text(string(f)+": "+part.Share(p)+" of the trucks that come in"))
	}
	return []app.UI{
		app.P().Text("Each fault starts from how common it is among trucks that come in. Each symptom and each check result then makes it more or less likely, by how strongly the fault shows in it. Several faults can be there at once, so the numbers need not add up to 100 %."),
		app.P().Text("These strengths are estimates from memory of the trade, in a few named steps, so that a practitioner can review them. They put causes in an order; they are no statistics."),
		part.Fold("The steps and their numbers", app.Ul().Class("list").Body(levels...), app.Ul().Class("list").Body(frequencies...)),
		app.P().Text("A cause is called proved only when a check settled it with the part in hand or measured. A symptom counts as explained by what is proved from " + part.Percent(diagnosis.ExplainedAt) + ". An unproved cause stays a suspect from " + part.Percent(diagnosis.SuspectAt) + "."),
		app.P().Text("The next check is the one that is expected to end the work soonest, counted in minutes with getting there and closing up, in the trade's order: fluid, linkage, cable and codes first, then gauges and meters, then the pan, then the unit."),
	}
}
