package circuit

import (
	"context"
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/hydraulics"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// fitter looks for the faults that explain gauge readings. It works in slices, so
// that the page stays alive, and can be told to stop.
type fitter struct {
	app.Compo

	Session *session.Session
	Cells   []string           // readings as in the address
	Set     hydraulics.Setting // version, build and temperature are the log's

	ctx     app.Context
	problem string
	cancel  context.CancelFunc          // nil while nothing runs
	done    int                         // per cent
	told    atomic.Pointer[app.Context] // where done is drawn
	fit     *hydraulics.Fit
	log     log // that fit belongs to
	of      string
	typed   string // standard uncertainty of each reading; empty: the gauge's own
	wrong   string
}

// log is readings as the model takes them, with where they came from.
type log struct {
	hydraulics.Log
	entries []diagnosis.Entry
	names   []string
	left    []string // what the model does not have, or can't read
}

// pace is how long the fit works before the page has its turn, and telling how
// often it says how far it is.
const (
	pace     = 12 * time.Millisecond
	tellEach = 100 * time.Millisecond
)

// Cell is a gauge reading as Fit takes it.
func Cell(n diagnosis.Entry) string {
	reading := strings.TrimSpace(n.Reading)
	if reading != "" && reading[len(reading)-1] <= '9' { // a bare number
		unit := n.Unit
		if unit == "" {
			unit = quantity.PSI.Name
		}
		reading += " " + unit
	}
	return n.Check + "/" + n.Observation + "=" + reading
}

// Fit is the address at which gauge readings are explained.
func Fit(entries []diagnosis.Entry) route.Address {
	q := url.Values{}
	for _, n := range entries {
		q.Add("cell", Cell(n))
	}
	return route.Circuit().With(q).At("fit")
}

// entryOf reads a cell of the address.
func entryOf(cell string) diagnosis.Entry {
	where, reading, _ := strings.Cut(cell, "=")
	check, observation, _ := strings.Cut(where, "/")
	return diagnosis.Entry{Check: check, Observation: observation, Reading: strings.TrimSpace(reading)}
}

// pressures are the entries of the job at hand that read a gauge, the last of each.
func pressures(s *session.Session) []diagnosis.Entry {
	var out []diagnosis.Entry
	c := s.Case()
	all := c.Entries
	if c.Fitted != nil {
		all = append(slices.Clone(c.Fitted.Readings), all...)
	}
	for _, n := range all {
		if _, ok := hydraulics.GaugeOf(n.Check, n.Observation); !ok || n.Reading == "" {
			continue
		}
		out = append(slices.DeleteFunc(out, func(o diagnosis.Entry) bool { return o.Check == n.Check && o.Observation == n.Observation }), n)
	}
	return out
}

// entry is a cell of the address as the job has it, with all that was noted with it;
// one that the job does not have is read in fluid of the fit's temperature.
func (f *fitter) entry(cell string) diagnosis.Entry {
	for _, n := range pressures(f.Session) {
		if Cell(n) == cell {
			return n
		}
	}
	n := entryOf(cell)
	n.At = plain(f.Set.Temperature.Value(), quantity.Fahrenheit)
	return n
}

// read turns the cells into a log.
func (f *fitter) read() log {
	out := log{Log: hydraulics.Log{Version: f.Set.Version, Build: f.Set.Build, Temperature: f.Set.Temperature}}
	own := 0.0
	f.wrong = ""
	if strings.TrimSpace(f.typed) != "" {
		r, err := quantity.Parse(quantity.KindPressure, f.typed, f.Session.Units().Unit(quantity.PSI))
		switch {
		case err != nil:
			f.wrong = sentence(err)
		case r.SI < float64(hydraulics.LeastUncertainty) || r.SI > float64(hydraulics.MostReading):
			f.wrong = "An uncertainty lies between " + pressure(f.Session.Units(), hydraulics.LeastUncertainty) + " and " + pressure(f.Session.Units(), hydraulics.MostReading) + ", and is more than none."
		default:
			own = r.SI
		}
	}
	for _, cell := range f.Cells {
		n := entryOf(cell)
		name := n.Check
		k := f.Session.Catalogue().Check(n.Check)
		var o *catalogue.Observation
		if k != nil {
			o = k.Observation(n.Observation)
		}
		if o != nil {
			name = o.Asks
		}
		g, ok := hydraulics.GaugeOf(n.Check, n.Observation)
		if o == nil || !ok {
			out.left = append(out.left, name+" (not in the model)")
			continue
		}
		r, err := quantity.Parse(quantity.KindPressure, n.Reading, quantity.PSI)
		if err != nil || r.OpenLoop {
			out.left = append(out.left, name+" (no pressure)")
			continue
		}
		u := own
		if u == 0 {
			u = math.Max(conformity.Default(r).Standard(r), float64(hydraulics.LeastUncertainty))
		}
		out.Cells = append(out.Cells, hydraulics.Cell{Gauge: g, Reading: quantity.Pressure(r.SI), Uncertainty: quantity.Pressure(u)})
		out.entries, out.names = append(out.entries, f.entry(cell)), append(out.names, name)
	}
	return out
}

// OnMount keeps the context, which ends when the screen is left and stops a fit.
func (f *fitter) OnMount(ctx app.Context) {
	f.ctx = ctx
	f.Session.Watch(f)
}

func (f *fitter) start(app.Context) {
	if f.cancel != nil || f.ctx == nil || f.wrong != "" {
		return
	}
	l := f.read()
	ctx := f.ctx
	running, cancel := context.WithCancel(ctx)
	f.cancel, f.done, f.fit, f.problem = cancel, 0, nil, ""
	f.log, f.of = l, f.key()
	ctx.Async(func() {
		yield, end := turns()
		defer end()
		paced, last := time.Now(), time.Now()
		fit, err := hydraulics.Explain(running, l.Log, func(done, total int) {
			if time.Since(paced) < pace {
				return
			}
			if at := f.told.Load(); at != nil && time.Since(last) > tellEach {
				last = time.Now()
				(*at).Dispatch(func(app.Context) { f.done = 100 * done / total })
			}
			yield()
			paced = time.Now()
		})
		ctx.Dispatch(func(app.Context) {
			f.cancel = nil
			cancel()
			switch {
			case err == nil:
				f.fit = &fit
			case running.Err() != nil:
				f.problem = "Stopped. Nothing was changed."
			default:
				f.problem = sentence(err)
			}
		})
	})
}

// turns returns what lets the browser have its turn, for it has one thread, and what
// ends that. A message to oneself comes back as soon as nothing else waits; a timer
// would come four milliseconds later each time.
func turns() (yield, end func()) {
	if !app.IsClient {
		return func() { time.Sleep(time.Millisecond) }, func() {}
	}
	back := make(chan struct{}, 1)
	came := app.FuncOf(func(app.Value, []app.Value) any {
		back <- struct{}{}
		return nil
	})
	both := app.Window().Get("MessageChannel").New()
	both.Get("port1").Set("onmessage", came)
	send := both.Get("port2")
	return func() {
			send.Call("postMessage", nil)
			<-back
		}, func() {
			send.Call("close")
			came.Release()
		}
}

// progress says how far a fit is. It is drawn by itself: to draw all the readings
// with it takes longer than a frame.
type progress struct {
	app.Compo

	Of *fitter
}

// OnMount lets the fit say how far it is.
func (p *progress) OnMount(ctx app.Context) { p.Of.told.Store(&ctx) }

// Render draws the share that is done.
func (p *progress) Render() app.UI {
	return app.Div().Body(
		app.Label().For("fit-progress").Text("Looking: "+strconv.Itoa(p.Of.done)+" %"),
		app.Progress().Class("circuit__progress").ID("fit-progress").Max(100).Value(p.Of.done))
}

// key is what a fit depends on.
func (f *fitter) key() string {
	return strings.Join(f.Cells, "\n") + f.typed + string(f.Set.Version) + string(f.Set.Build) + strconv.FormatFloat(float64(f.Set.Temperature), 'f', 2, 64)
}

// Render draws the readings, the way there, and what explains them.
func (f *fitter) Render() app.UI {
	l, units := f.read(), f.Session.Units()
	body := []app.UI{app.P().Text("From the readings of a pressure log: the single faults and pairs that explain them best, by the model, and the gauge reading that would part them next. Readings of one circuit look alike for several faults: this narrows down, and proves nothing.")}
	for _, left := range l.left {
		body = append(body, app.P().Class("soft").Text("Left out: "+left+"."))
	}
	var row []app.UI
	if job := pressures(f.Session); len(job) > 0 && len(f.Cells) == 0 {
		row = append(row, app.A().Class("button", "button--plain").Href(Fit(job).Href()).Text("Take the job's gauge readings"))
	}
	if len(l.Cells) == 0 {
		row = append(row, app.A().Class("button", "button--plain").Href(route.Calculator("pressure-log").Href()).Text("Type readings in the pressure log"))
		return part.Section("fit", "What explains the readings?", append(body, app.Div().Class("buttons").Body(row...))...)
	}
	var read []app.UI
	for i, c := range l.Cells {
		read = append(read, app.Li().Text(l.names[i]+": "+pressure(units, c.Reading)+" ± "+fine(units, c.Uncertainty)))
	}
	body = append(body,
		app.Ul().Class("list").Body(read...),
		app.P().Class("soft").Text("± is the standard uncertainty: of the usual gauge unless you type your own. Fluid, version and line pressure are those set above: "+units.Format(f.Set.Temperature.Value(), quantity.Fahrenheit, 0)+", "+string(f.Set.Version)+", "+string(f.Set.Build)+"."),
		app.Div().Class("circuit__typed").Body(&part.Field{ID: "fit-uncertainty", Label: "Standard uncertainty of each reading (may stay empty)", Mode: "decimal", Units: []string{units.Unit(quantity.PSI).Name}, Value: f.typed, Problem: f.wrong,
			OnInput: func(_ app.Context, v string) { f.typed = v }}))
	if f.cancel != nil {
		row = append(row, &part.Button{Text: "Stop", ID: "fit-stop", OnPress: func(app.Context) {
			if f.cancel != nil {
				f.cancel()
			}
		}})
		body = append(body, &progress{Of: f})
	} else {
		row = append(row, &part.Button{Text: "Find what explains them", ID: "fit-start", Rank: "primary", OnPress: f.start})
	}
	body = append(body, app.Div().Class("buttons").Body(row...))
	out := []app.UI{}
	switch {
	case f.problem != "":
		out = append(out, app.P().Text(f.problem))
	case f.fit != nil && f.of != f.key():
		out = append(out, app.P().Text("Something was changed since: look again."))
	case f.fit != nil:
		out = f.results(units)
	}
	return part.Section("fit", "What explains the readings?", append(body, app.Section().Class("result").Aria("label", "What explains the readings").Aria("live", "polite").Body(out...))...)
}

// fine prints an uncertainty.
func fine(units quantity.Preference, p quantity.Pressure) string {
	return units.Format(p.Value(), quantity.PSI, 1)
}

// names says which faults an explanation is, with their severities.
func (f *fitter) names(e *hydraulics.Explanation) string {
	if len(e.Faults) == 0 {
		return "Nothing: a healthy unit"
	}
	var out []string
	for _, x := range e.Faults {
		name := faultName(f.Session, x)
		if m, ok := hydraulics.ModelOf(x.ID, x.Mode); ok && m.Graded() {
			name += ", " + strconv.Itoa(percent(x.Severity)) + " %"
		}
		out = append(out, name)
	}
	return strings.Join(out, "; together with: ")
}

func number(x float64) string {
	return strconv.FormatFloat(math.Round(x*10)/10+0, 'f', 1, 64)
}

// listed is how many single faults and pairs the full lists have: a choice of this
// screen's.
const listed = 9

// results draws what was found.
func (f *fitter) results(units quantity.Preference) []app.UI {
	fit, best := f.fit, &f.fit.Best[0]
	call := "unsure"
	because := []string{"Misfit " + number(best.Misfit) + " from " + strconv.Itoa(len(best.Off)) + " readings; a healthy unit's is " + number(fit.Healthy.Misfit) + ". About one for each reading is as good as gauges are."}
	if len(best.Faults) == 0 {
		call = "good"
	}
	if best.Misfit > 4*float64(len(best.Off)) {
		because = append(because, "Nothing in the model explains these readings well: look at each again, and at whether the truck was set up as the check says.")
	}
	out := []app.UI{&part.Verdict{Call: call, Word: "Explains them best: " + f.names(best), Because: because}}
	var rows []app.UI
	for i := range fit.Best {
		e := &fit.Best[i]
		rows = append(rows, app.Li().Class("circuit__rival").Body(append([]app.UI{part.LikelihoodNumber(fit.Share[i]), app.Text(" " + f.names(e) + ". Misfit " + number(e.Misfit) + ". ")}, f.links(e)...)...))
	}
	out = append(out,
		app.H3().Text("The best, and how far each is believed against the others"),
		app.Ol().Class("list").Body(rows...),
		f.misfits(units),
		f.further(units),
		part.Fold("All single faults, and pairs", f.lists()...))
	return append(out, f.evidence()...)
}

// links lead from an explanation to its picture, its faults and what is alike.
func (f *fitter) links(e *hydraulics.Explanation) []app.UI {
	var out []app.UI
	if len(e.Faults) > 0 {
		q := url.Values{"cell": f.Cells, "version": {string(f.Set.Version)}, "build": {string(f.Set.Build)}, "temperature": {plain(f.Set.Temperature.Value(), quantity.Fahrenheit)}}
		withFaults(q, e.Faults)
		out = append(out, app.A().Href(route.Circuit().With(q).Href()).Body(app.Text("See it in the circuit"), app.Span().Class("spoken").Text(": "+f.names(e))))
	}
	if len(e.Alike) > 0 {
		out = append(out, app.Text(" No gauge tells it from: "))
		for i, x := range e.Alike {
			if i > 0 {
				out = append(out, app.Text("; "))
			}
			out = append(out, app.A().Href(route.Fault(x.ID).Href()).Text(faultName(f.Session, x)))
		}
		out = append(out, app.Text("."))
	}
	return out
}

// misfits is the table of every cell.
func (f *fitter) misfits(units quantity.Preference) app.UI {
	shown := []*hydraulics.Explanation{&f.fit.Best[0]}
	heads := []string{"Best"}
	if len(f.fit.Best) > 1 {
		shown, heads = append(shown, &f.fit.Best[1]), append(heads, "2nd")
	}
	shown, heads = append(shown, &f.fit.Healthy), append(heads, "Healthy")
	in := units.Unit(quantity.PSI).Name
	bare := func(p quantity.Pressure) string { return strings.TrimSuffix(pressure(units, p), " "+in) }
	head := []app.UI{app.Th().Scope("col").Text("Reading"), app.Th().Scope("col").Text("Read")}
	for _, h := range heads {
		head = append(head, app.Th().Scope("col").Text(h))
	}
	var rows []app.UI
	for i, c := range f.log.Cells {
		cells := []app.UI{app.Th().Scope("row").Class("circuit__reading").Text(f.log.names[i]), app.Td().Text(bare(c.Reading))}
		for _, e := range shown {
			said := []app.UI{app.Text("does not settle")}
			if !math.IsNaN(float64(e.Model[i])) {
				said = []app.UI{app.Text(bare(e.Model[i]) + " "), app.Span().Class("circuit__off").Text("(" + strings.Replace(number(e.Off[i]), "-", "−", 1) + ")")}
			}
			cells = append(cells, app.Td().Body(said...))
		}
		rows = append(rows, app.Tr().Body(cells...))
	}
	return app.Div().Body(
		app.H3().Text("Reading by reading"),
		app.P().Class("soft").Text("In "+in+": what the model has, and in brackets by how many standard uncertainties the reading is above it."),
		app.Div().Class("circuit__wide").TabIndex(0).Attr("role", "region").Aria("label", "Misfit of each reading, can be scrolled").Body(
			app.Table().Body(app.THead().Body(app.Tr().Body(head...)), app.TBody().Body(rows...))))
}

// proposed is how many further readings are offered, and worth from which power of
// parting they are: choices of this screen's.
const (
	proposed = 3
	worth    = 0.02
)

// further says which gauge to read next.
func (f *fitter) further(units quantity.Preference) app.UI {
	var rows []app.UI
	for _, p := range f.fit.Next {
		k := f.Session.Catalogue().Check(p.Gauge.Check)
		if p.Parts < worth || k == nil || !k.On(f.Set.Version) || len(rows) == proposed {
			continue
		}
		o := k.Observation(p.Gauge.Observation)
		if o == nil {
			continue
		}
		var would []string
		for i, m := range p.Model {
			if math.IsNaN(float64(m)) || i >= 3 {
				continue
			}
			would = append(would, "the "+[...]string{"first", "second", "third"}[i]+" "+pressure(units, m))
		}
		rows = append(rows, app.Li().Body(
			app.A().Href(route.Check(k.ID).Href()).Text(k.Name), app.Text(": "+o.Asks+". Of the list above, it would read with "+strings.Join(would, ", with ")+".")))
	}
	if len(rows) == 0 {
		return app.P().Text("No further gauge reading would part the best of them: go on with the checks that prove.")
	}
	return app.Div().Body(app.H3().Text("Read next, to part the rivals"), app.Ol().Class("list").Body(rows...))
}

func (f *fitter) lists() []app.UI {
	list := func(of []hydraulics.Explanation) app.UI {
		var rows []app.UI
		for i := range of[:min(listed, len(of))] {
			rows = append(rows, app.Li().Body(append([]app.UI{app.Text(f.names(&of[i]) + ". Misfit " + number(of[i].Misfit) + ". ")}, f.links(&of[i])...)...))
		}
		return app.Ol().Class("list").Body(rows...)
	}
	return []app.UI{app.H4().Text("Single faults"), list(f.fit.Singles), app.H4().Text("Pairs"), list(f.fit.Pairs)}
}

// evidence offers the fit to the ranking.
func (f *fitter) evidence() []app.UI {
	c := f.Session.Case()
	replaced := 0
	for _, n := range c.Entries {
		for _, r := range f.log.entries {
			if n.Check == r.Check && n.Observation == r.Observation {
				replaced++
				break
			}
		}
	}
	said := "Weighs on every fault of the model, in the ranking of the job at hand: at most 49 to 1, and as no proof. It stands in the place of these readings' single verdicts; to enter one of them by itself takes it out again."
	if len(f.fit.Beside) > 0 {
		said += " Two faults together explain these readings: each weighs by itself, beside the other, with those that would do in its place."
	}
	if replaced > 0 {
		said += " Entries that it takes the place of: " + strconv.Itoa(replaced) + "."
	}
	if f.Set.Version != c.Version || f.Set.Build != c.Build {
		return []app.UI{app.H3().Text("Into the ranking"), app.P().Text("The job at hand is of another version or line pressure than this fit: set " + string(c.Version) + ", " + strings.ToLower(buildName(c.Build)) + " above and look again.")}
	}
	row := []app.UI{&part.Button{Text: "Weigh it in the ranking", ID: "fit-weigh", Rank: "primary", OnPress: f.weigh}}
	if c.Fitted != nil {
		row = append(row, app.A().Class("button", "button--plain").Href(route.Find().Href()).Text("See the ranking"),
			&part.Button{Text: "Take it out of the job", Of: "the fitted pressure log", Rank: "quiet", OnPress: func(app.Context) {
				f.Session.Unweigh("Removed: the pressure log")
			}})
		said = "A fitted pressure log is in the job at hand. " + said
	}
	return []app.UI{app.H3().Text("Into the ranking"), app.P().Text(said), app.Div().Class("buttons").Body(row...)}
}

// weigh puts the fit into the job at hand.
func (f *fitter) weigh(app.Context) {
	f.Session.Weigh("Weighed: the pressure log", &diagnosis.FittedLog{
		Readings: f.log.entries, Weights: f.weights(f.fit.Evidence), Beside: f.weights(f.fit.Beside),
	})
}

// weights is the evidence of the faults that the catalogue has and that it moves.
func (f *fitter) weights(evidence map[string]float64) map[string]float64 {
	out := map[string]float64{}
	for id, w := range evidence {
		if f.Session.Catalogue().Fault(id) == nil || math.Abs(w) < diagnosis.LeastWeight {
			continue
		}
		out[id] = math.Max(-diagnosis.MostWeight, math.Min(diagnosis.MostWeight, math.Round(w*100)/100))
	}
	return out
}

func buildName(b unit.Build) string {
	if b == unit.Raised {
		return "Raised on purpose"
	}
	return "Stock"
}
