package learn

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/practice"
	"provingbench/knowledge/unit"
)

// Practice is a made-up truck to find the faults of.
//
// The address decides the truck; what was done on it is kept in the browser. The
// engine is asked between two redraws, one question at a time, so that the page
// answers while it thinks.
type Practice struct {
	app.Compo

	Session *session.Session
	Box     store.Box

	ctx     app.Context
	log     practiceLog
	version unit.Version // picked for the next truck
	typed   string       // number of the next truck
	problem string       // with what was typed

	truck   *practice.Truck
	run     *practice.Run
	done    kept
	answers []*diagnosis.Answer // before the first check, after it, after the second …
	plan    *practice.Plan
	failed  bool // the engine could not answer
	busy    bool
	checks  string // typed into the search of the checks
	faults  string // typed into the search of the faults
	remains []practice.Symptom
}

// Title names the screen.
func (*Practice) Title() string { return "Practice on a made-up truck" }

// Description says what the screen is for.
func (*Practice) Description() string {
	return "A truck with faults that only the tool knows: choose checks, call the faults, and be scored in minutes and wrong parts against the tool's own plan."
}

// OnMount reads what was done before.
func (p *Practice) OnMount(ctx app.Context) {
	p.ctx = ctx
	p.log = readPractice(p.Box)
	p.resume()
}

// OnNav makes up the truck of the address.
func (p *Practice) OnNav(ctx app.Context) {
	p.read(ctx.Page().URL().Query())
	p.think()
}

func (p *Practice) read(q url.Values) {
	seed, ok := seedFrom(q.Get(querySeed))
	v := unit.Version(q.Get(queryVersion))
	if !slices.Contains(unit.Versions, v) {
		v = unit.Late
	}
	if !ok {
		p.truck = nil
		return
	}
	if p.truck != nil && p.truck.Seed == seed && p.truck.Version == v {
		return
	}
	truck, err := practice.New(p.Session.Catalogue(), v, seed)
	if err != nil {
		p.truck = nil
		p.problem = "No truck can be made up."
		return
	}
	p.truck, p.run, p.answers, p.plan, p.failed, p.remains = truck, truck.Do(), nil, nil, false, nil
	p.done = kept{Version: v, Seed: seed}
	p.resume()
}

// resume goes on where the truck was left, whichever of log and address came first.
func (p *Practice) resume() {
	if p.truck == nil || len(p.done.Checks)+len(p.done.Called) > 0 {
		return
	}
	if k := p.log.find(p.truck.Version, p.truck.Seed); k != nil {
		p.done = *k
		p.run = p.truck.Do(k.Checks...)
		p.done.Checks = nil // without those that the catalogue no longer has
		for _, s := range p.run.Steps {
			p.done.Checks = append(p.done.Checks, s.Check.ID)
		}
	}
}

func (p *Practice) save() { p.log.put(p.Box, p.done) }

// Render draws the start, the work or the debrief.
func (p *Practice) Render() app.UI {
	body := []app.UI{app.H1().Text(p.Title())}
	if p.truck == nil {
		return app.Article().Body(append(body, p.start()...)...)
	}
	body = append(body, p.complaint()...)
	if p.done.Over {
		body = append(body, p.debrief())
	}
	body = append(body, p.steps())
	if !p.done.Over {
		body = append(body, p.next(), p.calls())
	}
	return app.Article().Body(body...)
}

func (p *Practice) start() []app.UI {
	versions := []part.Option{}
	for _, v := range unit.Versions {
		versions = append(versions, part.Option{Value: string(v), Label: capital(string(v))})
	}
	picked := p.version
	if picked == "" {
		picked = unit.Late
	}
	body := []app.UI{
		app.P().Class("lead").Text("The tool makes up a truck. You hear the complaint, choose the checks, see what they show, and call the faults. What counts is minutes, good parts renewed, and faults missed, held against what the tool's own plan would have spent on the same truck."),
	}
	if k := p.log.last(); k != nil {
		text := fmt.Sprintf("Go on with truck %d", k.Seed)
		if k.Over {
			text = fmt.Sprintf("Look at truck %d again", k.Seed)
		}
		body = append(body, app.P().Body(app.A().Class("button", "button--plain").Href(truckAddress(k.Version, k.Seed).Href()).Text(text)))
	}
	return append(body,
		&part.Choice{Name: "practice-version", Legend: "Which version?", Compact: true, Value: string(picked), Options: versions, OnPick: func(_ app.Context, v string) { p.version = unit.Version(v) }},
		app.Div().Class("buttons").Body(&part.Button{Text: "Make up a truck", Rank: "primary", OnPress: func(app.Context) { p.open(picked, newSeed()) }}),
		&part.Field{ID: "practice-seed", Label: "Or a truck that somebody has named", Hint: "Its number: whoever opens the same number of the same version has the same truck.", Mode: "decimal", Value: p.typed, Problem: p.problem,
			OnInput: func(_ app.Context, v string) { p.typed, p.problem = v, "" },
			OnEnter: func(app.Context) { p.openTyped(picked) }},
		app.Div().Class("buttons").Body(&part.Button{Text: "Open this truck", OnPress: func(app.Context) { p.openTyped(picked) }}),
		app.P().Class("soft").Text("How it is made up: one to three faults, as often as the catalogue says; symptoms and outcomes by the catalogue's levels, false alarms included; no symptom without a fault; a proof does not fail. Numbers are not made up: a reading is given as what it would be judged to be."),
	)
}

func truckAddress(v unit.Version, seed uint32) route.Address {
	return route.Practice().With(url.Values{querySeed: {strconv.FormatUint(uint64(seed), 10)}, queryVersion: {string(v)}})
}

func (p *Practice) open(v unit.Version, seed string) {
	if n, ok := seedFrom(seed); ok && p.ctx != nil {
		p.ctx.Navigate(truckAddress(v, n).Href())
	}
}

func (p *Practice) openTyped(v unit.Version) {
	if _, ok := seedFrom(p.typed); !ok {
		p.problem = fmt.Sprintf("Type a whole number from 1 to %d.", greatestSeed)
		return
	}
	p.open(v, p.typed)
}

func (p *Practice) complaint() []app.UI {
	var said []app.UI
	for _, y := range p.truck.Complaint {
		words := []app.UI{app.B().Text(y.Name)}
		if y.Words != y.Name {
			words = []app.UI{app.Text("“" + capital(y.Words) + "” "), app.Span().Class("soft").Text("(" + y.Name + ")")}
		}
		said = append(said, app.Li().Body(words...))
	}
	return []app.UI{
		app.P().Class("lead").Text(fmt.Sprintf("Truck %d, %s version, stock build. It stands on its wheels. The customer says:", p.truck.Seed, p.truck.Version)),
		app.Ul().Class("list").Body(said...),
	}
}

// steps is what was done, and what it was good for.
func (p *Practice) steps() app.UI {
	level := p.Session.Catalogue().Level(p.run.Case.Level)
	body := []app.UI{app.P().Class("conclusion").Text(fmt.Sprintf("%s spent. %s.", capital(minutes(p.run.Minutes)), level.Name))}
	var items []app.UI
	for i := range p.run.Steps {
		items = append(items, p.step(i))
	}
	if len(items) > 0 {
		body = append(body, app.Ol().Class("practice").Body(items...))
	}
	return part.Section("done", "What you did", body...)
}

func minutes(m float64) string {
	if m < 1 {
		return "nothing"
	}
	return part.Minutes(m)
}

func (p *Practice) step(i int) app.UI {
	s := &p.run.Steps[i]
	body := []app.UI{
		app.P().Class("tree__check").Body(app.A().Href(route.Check(s.Check.ID).Href()).Text(s.Check.Name)),
		app.P().Class("tree__facts").Text(p.Session.Catalogue().Level(s.Level).Name + ". " + effort(s.Travel, s.Minutes) + "."),
		app.Ul().Class("list").Body(p.shown(s)...),
	}
	if len(s.Proves) > 0 {
		body = append(body, app.P().Class("tree__proved").Body(append([]app.UI{part.Proved(), app.Text(" ")}, faultList(s.Proves)...)...))
	}
	if p.done.Over || !p.done.Silent {
		body = append(body, app.Div().Class("practice__why").Body(p.comment(i)...))
	}
	return app.Li().Class("tree__step").ID(fmt.Sprintf("step-%d", i+1)).Body(body...)
}

// shown is what each observation of a check showed.
func (p *Practice) shown(s *practice.Step) []app.UI {
	var items []app.UI
	for i, n := range s.Entries {
		o := &s.Check.Observations[i]
		if out := o.Outcome(n.Outcome); out != nil {
			asks := strings.TrimSuffix(o.Asks, ".")
			if !strings.HasSuffix(asks, "?") {
				asks += ":"
			}
			items = append(items, app.Li().Body(app.Text(asks+" "), app.B().Text(out.Label+". "), app.Text(out.Means)))
		}
	}
	return items
}

func effort(travel, total float64) string {
	if travel <= 0 {
		return part.Minutes(total)
	}
	return part.Minutes(total) + ", " + part.Minutes(travel) + " of it to get there"
}

func faultList(faults []*catalogue.Fault) []app.UI {
	var items []app.UI
	for _, f := range faults {
		items = append(items, fault(f))
	}
	return list(items)
}

// comment says what the plan would have done instead of a step, and what the step
// changed.
func (p *Practice) comment(i int) []app.UI {
	if i+1 >= len(p.answers) {
		if p.failed {
			return []app.UI{app.P().Text("The tool could not work out what this step was good for.")}
		}
		return []app.UI{app.P().Text("Working out what that was good for …")}
	}
	before, after := p.answers[i], p.answers[i+1]
	s := &p.run.Steps[i]
	c := practice.Explain(before, after, s.Check.ID)
	var body []app.UI
	switch {
	case c.Plan == nil:
		body = append(body, app.P().Text("The plan had nothing left to do here."))
	case c.Plan.Check == s.Check:
		body = append(body, app.P().Body(app.B().Text("As the plan would. "), app.Text(c.Plan.Why)))
	default:
		body = append(body, app.P().Body(
			app.B().Text("The plan would have chosen: "), app.A().Href(route.Check(c.Plan.Check.ID).Href()).Text(c.Plan.Check.Name),
			app.Text(", "+effort(c.Plan.Travel, c.Plan.Minutes)+". "+c.Plan.Why+" "+against(c))))
	}
	if len(c.Moved) == 0 {
		return append(body, app.P().Text("It hardly moved the ranking."))
	}
	var moved []app.UI
	for _, m := range c.Moved {
		moved = append(moved, app.Span().Body(fault(m.Fault), app.Text(" "+part.Percent(m.Before)+" → "+part.Percent(m.After))))
	}
	return append(body, app.P().Body(append(append([]app.UI{app.B().Text("It moved: ")}, list(moved)...), app.Text("."))...))
}

// against says what was wrong with a check in the plan's eyes.
func against(c practice.Comment) string {
	if c.Own == nil {
		return "Your check was not on its list: it could tell little that still matters, or the trade's order puts others first."
	}
	if more := c.Own.Expected - c.Plan.Expected; more >= 1 {
		return "With yours it expected " + part.Minutes(more) + " more to the end."
	}
	return "Yours was about as good."
}

// next offers the checks.
func (p *Practice) next() app.UI {
	c := p.Session.Catalogue()
	comments := ""
	if p.done.Silent {
		comments = "end"
	}
	body := []app.UI{
		app.P().Class("soft").Text("Nothing is touched here. On a real truck, the cautions of a check come first."),
		&part.Field{ID: "practice-checks", Label: "Search the checks", Hint: "A word of the name or the purpose.", Mode: "search", Wide: true, Value: p.checks, OnInput: func(_ app.Context, v string) { p.checks = v }},
	}
	found := 0
	for i := range c.Access {
		level := &c.Access[i]
		var rows []app.UI
		for _, k := range p.truck.Checks() {
			if k.Level == level.ID && !p.run.Done(k.ID) && fits(p.checks, k.Name, k.Purpose) {
				rows = append(rows, p.offer(k))
			}
		}
		if len(rows) == 0 {
			continue
		}
		found += len(rows)
		list := app.Ul().Class("rows").Body(rows...)
		if strings.TrimSpace(p.checks) != "" {
			body = append(body, app.H3().Text(level.Name), list)
			continue
		}
		body = append(body, part.Fold(level.Name+": "+counted(len(rows), "check"), list))
	}
	if found == 0 {
		body = append(body, app.P().Attr("role", "status").Text("No check fits these words."))
	}
	body = append(body, &part.Choice{Name: "practice-comments", Legend: "What the plan would have done", Compact: true, Value: comments,
		Options: []part.Option{{Value: "", Label: "After each check"}, {Value: "end", Label: "At the end"}},
		OnPick: func(_ app.Context, v string) {
			p.done.Silent = v != ""
			p.save()
			p.think()
		}})
	return part.Section("next", "Choose a check", body...)
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// fits reports whether each word of a search is found in one of the texts.
func fits(search string, texts ...string) bool {
	text := strings.ToLower(strings.Join(texts, " "))
	for _, w := range strings.Fields(strings.ToLower(search)) {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

func (p *Practice) offer(k *catalogue.Check) app.UI {
	level, travel, total := p.run.Effort(k)
	said := effort(travel, total)
	if level != k.Level {
		said += ", where it stands"
	}
	return app.Li().Class("pick").Body(
		app.Div().Class("pick__name").Body(app.B().Text(k.Name), app.P().Class("row__more").Text(said+". "+k.Purpose)),
		&part.Button{Text: "Do it", Of: k.Name, OnPress: func(app.Context) { p.do(k.ID) }},
	)
}

// do does a check and moves to what it showed.
func (p *Practice) do(check string) {
	if p.run.Done(check) {
		return
	}
	if p.run.Do(check); !p.run.Done(check) {
		return
	}
	p.done.Checks = append(p.done.Checks, check)
	p.checks, p.remains = "", nil
	p.save()
	p.arrive(fmt.Sprintf("step-%d", len(p.run.Steps)))
	p.think()
}

func (p *Practice) arrive(place string) {
	if p.ctx == nil {
		return
	}
	p.ctx.Defer(func(app.Context) {
		dom.Focus(place)
		dom.ScrollToID(place)
	})
}

// calls is where the student says what is wrong.
func (p *Practice) calls() app.UI {
	c := p.Session.Catalogue()
	body := []app.UI{app.P().Text("Call what you would repair. Each good part that is renewed counts against you, and so does each fault that is left in.")}
	var called []app.UI
	for _, id := range p.done.Called {
		if f := c.Fault(id); f != nil {
			called = append(called, app.Li().Class("pick").Body(
				app.Span().Class("pick__name").Body(fault(f)),
				&part.Button{Text: "Take back", Of: f.Name, Rank: "quiet", OnPress: func(app.Context) { p.call(f.ID, false) }}))
		}
	}
	if len(called) > 0 {
		body = append(body, app.H3().Text("Called"), app.Ul().Class("rows").Body(called...))
	}
	var offered []app.UI
	for _, f := range p.run.Proved() {
		offered = append(offered, p.callable(f)...)
	}
	if len(offered) > 0 {
		body = append(body, app.H3().Text("Proved, and not called yet"), app.Ul().Class("rows").Body(offered...))
	}
	body = append(body, &part.Field{ID: "practice-faults", Label: "Search the faults", Hint: "A word of its name or its part.", Mode: "search", Wide: true, Value: p.faults, OnInput: func(_ app.Context, v string) { p.faults = v }})
	if strings.TrimSpace(p.faults) != "" {
		var rows []app.UI
		for i := range c.Faults {
			f := &c.Faults[i]
			names := append([]string{f.Name}, f.Also...)
			for _, t := range c.PartsOf(f) {
				names = append(append(names, t.Name), t.Also...)
			}
			if f.On(p.truck.Version) && fits(p.faults, names...) {
				rows = append(rows, p.callable(f)...)
			}
		}
		if len(rows) == 0 {
			rows = append(rows, app.Li().Attr("role", "status").Text("No other fault fits these words."))
		}
		body = append(body, app.Ul().Class("rows").Body(rows...))
	}
	if len(p.remains) > 0 {
		var still []string
		for _, y := range p.remains {
			still = append(still, y.Name)
		}
		body = append(body, app.Div().Aria("live", "polite").Body(&part.Verdict{Call: "bad", Word: "It is not well yet", Because: []string{"After these repairs the road test still shows: " + words(still) + ". Go on, or see what it was."}}))
	}
	buttons := []app.UI{&part.Button{Text: "Repair these and drive it", Rank: "primary", OnPress: func(app.Context) { p.drive() }}}
	if len(p.run.Steps) > 0 || p.done.Comebacks > 0 {
		buttons = append(buttons, &part.Button{Text: "Give up and see what it was", OnPress: func(app.Context) { p.finish() }})
	}
	return part.Section("call", "Call the faults", append(body, app.Div().Class("buttons").Body(buttons...))...)
}

// callable offers a fault that is not called yet.
func (p *Practice) callable(f *catalogue.Fault) []app.UI {
	if slices.Contains(p.done.Called, f.ID) {
		return nil
	}
	return []app.UI{app.Li().Class("pick").Body(
		app.Span().Class("pick__name").Body(fault(f)),
		&part.Button{Text: "Call it", Of: f.Name, OnPress: func(app.Context) { p.call(f.ID, true) }})}
}

func (p *Practice) call(id string, on bool) {
	p.done.Called = slices.DeleteFunc(slices.Clone(p.done.Called), func(x string) bool { return x == id })
	if on {
		p.done.Called = append(p.done.Called, id)
	}
	p.faults, p.remains = "", nil
	p.save()
	p.arrive("call")
}

// drive repairs what is called; the road test says whether that was all.
func (p *Practice) drive() {
	if p.remains = p.truck.Remains(p.done.Called); len(p.remains) > 0 {
		p.done.Comebacks++
		p.save()
		return
	}
	p.finish()
}

func (p *Practice) finish() {
	p.done.Over = true
	p.save()
	p.arrive("debrief")
	p.think()
}

// pause lets the page be drawn between two questions to the engine.
const pause = 10 * time.Millisecond

// think asks the engine what is still to be known, one question at a time.
func (p *Practice) think() {
	if p.ctx == nil || p.busy {
		return
	}
	p.busy = true
	p.ctx.After(pause, func(app.Context) {
		p.busy = false
		if p.work() {
			p.think()
		}
	})
}

// work asks the engine one question and reports whether more is to be asked.
func (p *Practice) work() (more bool) {
	defer func() {
		if recover() != nil {
			p.failed, more = true, false
		}
	}()
	if p.truck == nil || p.failed {
		return false
	}
	engine := &diagnosis.Engine{Catalogue: p.Session.Catalogue(), Book: p.Session.Book()}
	switch {
	case p.done.Over && p.plan == nil:
		p.plan = practice.Follow(engine, p.truck)
	case p.done.Over && !p.plan.Over:
		p.failed = p.plan.Advance() != nil
	case (p.done.Over || !p.done.Silent) && len(p.answers) <= len(p.run.Steps):
		at := p.truck.Do(p.done.Checks[:len(p.answers)]...)
		answer, err := engine.Answer(at.Case)
		if err != nil {
			p.failed = true
			return false
		}
		p.answers = append(p.answers, answer)
	default:
		return false
	}
	return true
}

// debrief is the truth, the score, and the plan's way to it.
func (p *Practice) debrief() app.UI {
	score := p.run.Score(p.done.Called)
	call, word := "good", "All found"
	switch {
	case len(score.Missed) > 0:
		call, word = "bad", "Not all found"
	case len(score.Wrong) > 0:
		call, word = "unsure", "All found, and good parts renewed"
	}
	body := []app.UI{
		&part.Verdict{Call: call, Word: word, Value: capital(minutes(p.run.Minutes)), Because: []string{p.against()}},
		app.Div().Aria("live", "polite").Body(p.table(score)),
		app.H3().Text("What was wrong"),
	}
	var truth []app.UI
	for _, f := range p.truck.Faults {
		var shows []string
		for _, y := range p.truck.Complaint {
			if slices.Contains(y.By, f) {
				shows = append(shows, y.Name)
			}
		}
		truth = append(truth, app.Li().Body(fault(f), app.Text(". It made: "+words(shows)+".")))
	}
	body = append(body, app.Ul().Class("list").Body(truth...))
	for _, group := range []struct {
		text   string
		faults []*catalogue.Fault
	}{{"Called and not there: ", score.Wrong}, {"There and not called: ", score.Missed}, {"Called without a proof: ", score.Guessed}} {
		if len(group.faults) > 0 {
			body = append(body, app.P().Body(append(append([]app.UI{app.B().Text(group.text)}, faultList(group.faults)...), app.Text("."))...))
		}
	}
	body = append(body, p.way()...)
	body = append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Another truck", Rank: "primary", OnPress: func(app.Context) { p.open(p.truck.Version, newSeed()) }},
		&part.Button{Text: "The same truck again", OnPress: func(app.Context) { p.again() }}))
	return part.Section("debrief", "Debrief", body...)
}

// against compares the minutes with the plan's.
func (p *Practice) against() string {
	switch {
	case p.failed:
		return "The plan's run could not be worked out."
	case p.plan == nil || !p.plan.Over:
		n := 0
		if p.plan != nil {
			n = len(p.plan.Steps)
		}
		return "The plan is at work on the same truck: " + counted(n, "check") + " so far …"
	}
	return "The plan: " + part.Minutes(p.plan.Minutes) + " on the same truck."
}

// table is the score beside the plan's.
func (p *Practice) table(score practice.Score) app.UI {
	row := func(name, own, plan string) app.UI {
		return app.Tr().Body(app.Th().Scope("row").Text(name), app.Td().Text(own), app.Td().Text(plan))
	}
	planned := [4]string{"…", "…", "…", "…"}
	if p.plan != nil && p.plan.Over {
		s := p.plan.Score(faultIDs(p.plan.Proved()))
		planned = [4]string{strconv.Itoa(len(p.plan.Steps)), minutes(p.plan.Minutes), strconv.Itoa(len(s.Wrong)), strconv.Itoa(len(s.Missed))}
	}
	return app.Table().Aria("label", "Score").Body(
		app.THead().Body(app.Tr().Body(app.Td(), app.Th().Scope("col").Text("You"), app.Th().Scope("col").Text("The plan"))),
		app.TBody().Body(
			row("Checks", strconv.Itoa(len(p.run.Steps)), planned[0]),
			row("Time", minutes(p.run.Minutes), planned[1]),
			row("Good parts condemned", strconv.Itoa(len(score.Wrong)), planned[2]),
			row("Faults missed", strconv.Itoa(len(score.Missed)), planned[3]),
			row("Road tests failed", strconv.Itoa(p.done.Comebacks), "none"),
		))
}

func faultIDs(faults []*catalogue.Fault) []string {
	var out []string
	for _, f := range faults {
		out = append(out, f.ID)
	}
	return out
}

// way lists what the plan did.
func (p *Practice) way() []app.UI {
	if p.plan == nil || !p.plan.Over {
		return nil
	}
	var items []app.UI
	for i := range p.plan.Steps {
		s := &p.plan.Steps[i]
		body := []app.UI{app.A().Href(route.Check(s.Check.ID).Href()).Text(s.Check.Name), app.Text(", " + effort(s.Travel, s.Minutes) + ". ")}
		var outcomes []int
		for k, n := range s.Entries {
			outcomes = append(outcomes, slices.IndexFunc(s.Check.Observations[k].Outcomes, func(o catalogue.Outcome) bool { return o.ID == n.Outcome }))
		}
		body = append(body, app.B().Text(label(s.Check, outcomes)+". "))
		if len(s.Proves) > 0 {
			body = append(append(body, app.Text("Proves: ")), append(faultList(s.Proves), app.Text(". "))...)
		}
		items = append(items, app.Li().Body(append(body, app.Span().Class("soft").Text(p.plan.Whys[i]))...))
	}
	return []app.UI{
		app.H3().Text("What the plan did"),
		app.P().Class("soft").Text("It stops when everything is proved, as a road test after the repair would show."),
		app.Ol().Class("list").Body(items...),
	}
}

// again begins the same truck anew.
func (p *Practice) again() {
	p.done = kept{Version: p.truck.Version, Seed: p.truck.Seed, Silent: p.done.Silent}
	p.run, p.answers, p.plan, p.failed, p.remains = p.truck.Do(), nil, nil, false, nil
	p.save()
	p.think()
	if p.ctx != nil {
		p.ctx.Defer(func(app.Context) {
			dom.FocusHeading()
			dom.ScrollTo(0)
		})
	}
}
