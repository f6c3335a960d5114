package jobs

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/repair"
)

// Sheet is the job at hand on paper: for the shop, or for the customer.
type Sheet struct {
	app.Compo
	Session  *session.Session
	Customer bool
}

// Title names the sheet.
func (s *Sheet) Title() string {
	if s.Customer {
		return "Sheet for the customer"
	}
	return "Sheet for the shop"
}

// Description says what the sheet is for.
func (s *Sheet) Description() string {
	if s.Customer {
		return "The job at hand in plain words: what was wrong, how that is known, what was done and what to watch."
	}
	return "The job at hand on paper: complaint, every reading with its verdict and limit, what was proved, the work, and the proof."
}

// OnMount reads the jobs.
func (s *Sheet) OnMount(app.Context) {
	s.Session.Watch(s)
	s.Session.Open()
}

// Render draws the sheet, and above it what can be done with it.
func (s *Sheet) Render() app.UI {
	r := recordOf(s.Session)
	if r == nil {
		return noJob(s.Title())
	}
	var p paper
	if s.Customer {
		p = r.customerPaper()
	} else {
		p = r.shopPaper(app.Getenv("GOAPP_VERSION"), s.Session.Now())
	}
	buttons := []app.UI{&part.Button{Text: "Print", Rank: "primary", OnPress: func(app.Context) { dom.Print() }}}
	if dom.CanShare() {
		buttons = append(buttons, &part.Button{Text: "Share", OnPress: func(ctx app.Context) {
			dom.Share(ctx, p.title, p.text(), func(_ app.Context, ok bool) {
				if !ok {
					s.Session.Say("This browser would not share it. Copy it instead.")
				}
			})
		}})
	}
	buttons = append(buttons,
		&part.Button{Text: "Copy as text", OnPress: func(ctx app.Context) {
			copyOut(ctx, s.Session, p.text(), "Save it as a file instead.")
		}},
		&part.Button{Text: "Save as a file", OnPress: func(app.Context) { dom.Download(fileName(p.title)+".txt", "text/plain", p.text()) }},
	)
	return app.Article().Class("paper").Body(append([]app.UI{
		app.H1().Text(p.title),
		app.Div().Class("buttons", "screen-only").Body(buttons...),
	}, p.draw()...)...)
}

// copyOut puts a text on the clipboard and says so, or what to do instead.
func copyOut(ctx app.Context, s *session.Session, text, instead string) {
	dom.Copy(ctx, text, func(_ app.Context, ok bool) {
		if ok {
			s.Say("Copied.")
		} else {
			s.Say("This browser would not copy it. " + instead)
		}
	})
}

// noJob is a page about the job at hand when there is none.
func noJob(title string) app.UI {
	return app.Article().Body(
		app.H1().Text(title),
		app.P().Text("No job is open. Open one in the list, or start one in Find."),
		app.Div().Class("buttons").Body(
			app.A().Class("button", "button--primary").Href(route.Jobs().Href()).Text("To the jobs"),
			app.A().Class("button", "button--plain").Href(route.Find().Href()).Text("To Find"),
		),
	)
}

// fileName makes a file's name of a title.
func fileName(title string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-':
			return r
		}
		return '-'
	}, title)
	return strings.Trim(name[:min(len(name), 60)], "-")
}

func pair(name, value string) []string { return []string{name, value} }

// about is the truck in rows.
func (r *record) about() [][]string {
	j := r.job
	rows := [][]string{{"", ""}}
	for _, x := range [][]string{
		pair("Truck", j.Truck.About), pair("Odometer", j.Truck.Odometer), pair("Tyres", j.Truck.Tyre), pair("Axle", j.Truck.Axle),
		pair("Unit", r.unit()), pair("Begun", when(j.Created)),
	} {
		if strings.TrimSpace(x[1]) != "" {
			rows = append(rows, x)
		}
	}
	if !j.Closed.IsZero() {
		rows = append(rows, pair("Closed", when(j.Closed)))
	}
	return rows
}

// shopPaper is everything about the job.
func (r *record) shopPaper(version string, now time.Time) paper {
	j := r.job
	p := paper{title: j.Name + ": sheet for the shop"}
	p.add(block{heading: "Truck", rows: r.about()})
	p.add(block{heading: "Complaint", lines: r.complaint(true)})
	readings := [][]string{{"Check", "Found", "Verdict", "Limit", "Meter", "When"}}
	for _, l := range append(slices.Clip(r.lines), r.fitted()...) {
		found := l.asks
		if l.read != "" {
			found += " " + l.read
		}
		readings = append(readings, []string{l.check, found, l.word, l.limits, l.made.Meter, stamp(l.made.At)})
	}
	p.add(block{heading: "Found", rows: readings})
	p.add(block{heading: "Not checked", items: r.refusals()})
	p.add(block{heading: "Proved", items: r.provedItems()})
	work := [][]string{{"Work", "Done at", "For", "Decided"}}
	for _, t := range r.plan.Tasks {
		level := ""
		if t.Level != nil {
			level = t.Level.Name
		}
		work = append(work, []string{kindWords[t.Kind] + ": " + t.Text, level, faultNames(t.For), decidedWord(j.Decided[t.Key])})
	}
	p.add(block{heading: "Work, in its order", rows: work})
	parts := [][]string{{"Part", "Quantity", "Why", "Decided"}}
	for _, x := range r.plan.Parts {
		parts = append(parts, []string{x.Name, x.Quantity, strings.Join(x.Why, "; "), decidedWord(j.Decided[x.Key])})
	}
	p.add(block{heading: "Parts", rows: parts})
	values := [][]string{{"Value", "Limit", "From"}}
	sheet := r.session.Sheet()
	for _, id := range r.plan.Values {
		a, ok := sheet.Book.Acceptance(id)
		if !ok {
			continue
		}
		for _, l := range sheet.Limits(id) {
			limit := part.LimitText(sheet.Units, l)
			if c := part.ConditionWords(l.Condition, sheet.Version == ""); c != "" {
				limit += ", " + c
			}
			values = append(values, []string{a.Name, limit, part.Provenance(sheet.Book, l.Provenance)})
		}
	}
	p.add(block{heading: "Values for the work", rows: values})
	p.add(block{heading: "Not proved, and still possible", items: r.leftItems()})
	p.add(block{heading: "Proof after the repair", rows: r.proofRows()})
	var waived []string
	for _, f := range r.proved() {
		if why := j.Waived[f.ID]; why != "" {
			waived = append(waived, f.Name+": not checked again. "+why)
		}
	}
	for _, id := range repair.Final {
		if why := j.Waived[id]; why != "" {
			waived = append(waived, r.checkName(id)+": left out. "+why)
		}
	}
	p.add(block{heading: "Left out, knowingly", items: waived})
	p.add(block{heading: "Notes", lines: paragraphs(j.Notes)})
	p.add(block{heading: "Pictures", lines: paragraphs(j.Photos)})
	p.add(block{heading: "About this sheet", lines: []string{
		"Made on " + when(now) + " with The Proving Bench, version " + version + ". The maker's manual and local rules stand above it. Values from memory must be confirmed in the maker's manual.",
	}})
	return p
}

// customerPaper is what a customer wants to know.
func (r *record) customerPaper() paper {
	j := r.job
	p := paper{title: j.Name + ": what was found"}
	p.add(block{heading: "Your truck", rows: r.about()})
	p.add(block{heading: "What you told us", lines: r.complaint(false)})
	var wrong, done, todo, watch []string
	for _, f := range r.proved() {
		text := f.Name + ". " + f.How
		if l, ok := r.provedBy(f); ok {
			text += " How we know: " + l.check + ": " + strings.ToLower(l.word[:1]) + l.word[1:]
			if l.read != "" {
				text += ", " + l.read
			}
			text += "."
		}
		wrong = append(wrong, text)
		watch = append(watch, f.DrivenOn)
	}
	if len(wrong) == 0 {
		wrong = []string{"Nothing is proved yet. The search goes on."}
	}
	p.add(block{heading: "What was wrong, and how we know", items: wrong})
	for _, t := range r.plan.Tasks {
		text := kindWords[t.Kind] + ": " + t.Text
		switch j.Decided[t.Key] {
		case decidedDone:
			done = append(done, text)
		case decidedLeft:
			watch = append(watch, "Not done, "+strings.ToLower(text[:1])+text[1:]+".")
		default:
			todo = append(todo, text)
		}
	}
	p.add(block{heading: "What was done", items: done})
	p.add(block{heading: "What is to be done", items: todo})
	p.add(block{heading: "How the repair was proved", rows: r.proofRows()})
	p.add(block{heading: "What happens if it is driven on like this", items: watch})
	var doubts []string
	for _, s := range r.left() {
		doubts = append(doubts, s.Fault.Name+", "+part.Percent(s.Probability)+" likely.")
	}
	p.add(block{heading: "Not proved, and worth watching", items: doubts})
	p.add(block{heading: "Please come back", lines: []string{
		"Come back if what you told us returns, if the fluid drips, or if a warning lamp lights. Have the fluid level looked at once more after the first days of driving.",
	}})
	return p
}

// complaint is what was said and which symptoms that makes; with states, how far
// each is explained.
func (r *record) complaint(states bool) []string {
	var out []string
	if r.job.Complaint != "" {
		out = append(out, "“"+r.job.Complaint+"”")
	}
	if r.job.Happens != "" {
		out = append(out, "Where and when: "+r.job.Happens)
	}
	if r.answer == nil {
		return out
	}
	for _, x := range r.answer.Reports {
		text := x.Symptom.Name
		if x.Report.Absent {
			text += ": asked about, and not there"
		} else if states {
			text += ": " + x.State()
		}
		out = append(out, text+".")
	}
	return out
}

func (r *record) refusals() []string {
	var out []string
	for _, id := range r.job.Case.Refused {
		text := r.checkName(id)
		if why := r.job.Refusals[id]; why != "" {
			text += ": " + why
		}
		out = append(out, text)
	}
	return out
}

func (r *record) provedItems() []string {
	var out []string
	for _, f := range r.proved() {
		text := f.Name
		if l, ok := r.provedBy(f); ok {
			text += ", by " + l.check
		}
		out = append(out, text)
	}
	if r.answer != nil && len(out) > 0 {
		out = append(out, "Probability that this is all there is to the complaint: "+part.Percent(r.answer.Explained))
	}
	return out
}

func (r *record) leftItems() []string {
	var out []string
	for _, s := range r.left() {
		out = append(out, s.Fault.Name+", "+part.Percent(s.Probability)+". If it is there and left: "+s.Fault.DrivenOn)
	}
	return out
}

// proofRows sets what each repeated check showed before beside what it showed
// after.
func (r *record) proofRows() [][]string {
	rows := [][]string{{"Check", "Before", "After"}}
	for _, k := range r.repeats() {
		for _, o := range k.Observations {
			now, ok := r.proofs[k.ID+"."+o.ID]
			if !ok {
				continue
			}
			before := "not done"
			if l, ok := r.before(k.ID, o.ID); ok {
				before = said(l)
			}
			rows = append(rows, []string{k.Name + ": " + o.Asks, before, said(now)})
		}
	}
	return rows
}

func said(l line) string {
	if l.read == "" {
		return l.word
	}
	return l.read + ": " + l.word
}

func (r *record) checkName(id string) string {
	if k := r.session.Catalogue().Check(id); k != nil {
		return k.Name
	}
	return "A check that this version of the tool does not have"
}

func paragraphs(text string) []string {
	var out []string
	for _, s := range strings.Split(text, "\n") {
		if s = strings.TrimSpace(s); s != "" {
			out = append(out, s)
		}
	}
	return out
}

func stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format("2006-01-02 15:04")
}
