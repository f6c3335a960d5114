package learn

import (
	"fmt"
	"math/rand/v2"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/quiz"
	"provingbench/knowledge/unit"
)

const (
	querySeed    = "seed"
	queryVersion = "version"

	// questions is how many make one round.
	questions = 10
	// greatestSeed keeps a seed short enough to be read over a telephone.
	greatestSeed = 999_999
)

// seedFrom reads a seed from an address or from what was typed.
func seedFrom(text string) (uint32, bool) {
	n, err := strconv.ParseUint(strings.TrimSpace(text), 10, 32)
	return uint32(n), err == nil && n > 0 && n <= greatestSeed
}

func newSeed() string { return strconv.Itoa(1 + rand.IntN(greatestSeed)) }

// Quiz asks about the application chart without showing it.
//
// The seed in the address decides the questions, so that a class can be sent the
// same ones. An answer is marked when the student says so, and not changed then.
type Quiz struct {
	app.Compo

	Book *unit.Book

	ctx    app.Context
	seed   uint32
	asked  []quiz.Question
	at     int             // the question on show
	picked map[string]bool // in it
	marked bool            // it is answered
	right  []bool          // of those answered
}

// Title names the screen.
func (*Quiz) Title() string { return "The covered chart" }

// Description says what the screen is for.
func (*Quiz) Description() string {
	return "Questions about the application chart: which elements are on in a gear, what a lost element takes away, and which element is to blame."
}

// OnMount keeps the screen's own context, which outlives its buttons.
func (q *Quiz) OnMount(ctx app.Context) { q.ctx = ctx }

// OnNav takes the seed from the address.
func (q *Quiz) OnNav(ctx app.Context) { q.read(ctx.Page().URL().Query()) }

func (q *Quiz) read(query url.Values) {
	seed, ok := seedFrom(query.Get(querySeed))
	if !ok {
		q.asked = nil
		return
	}
	if seed == q.seed && q.asked != nil {
		return
	}
	q.seed, q.asked = seed, quiz.New(seed, questions)
	q.at, q.marked, q.right, q.picked = 0, false, nil, map[string]bool{}
}

// Render draws the start, a question or the score.
func (q *Quiz) Render() app.UI {
	body := []app.UI{app.H1().Text(q.Title())}
	switch {
	case q.asked == nil:
		body = append(body,
			app.P().Class("lead").Text(fmt.Sprintf("%d questions about which element is on in which gear, and what is lost with it. Answer them without looking at the chart.", questions)),
			app.P().Body(app.A().Href(route.Chart().Href()).Text("Read the chart first")),
			app.Div().Class("buttons").Body(&part.Button{Text: "Begin", Rank: "primary", OnPress: q.begin}))
	case q.at < len(q.asked):
		body = append(body, q.question(&q.asked[q.at])...)
	default:
		body = append(body, q.result()...)
	}
	return app.Article().Body(body...)
}

func (q *Quiz) begin(app.Context) {
	if q.ctx != nil {
		q.ctx.Navigate(route.Quiz().With(url.Values{querySeed: {newSeed()}}).Href())
	}
}

// asks puts a question into words.
func asks(x *quiz.Question) string {
	switch x.Kind {
	case quiz.On:
		row, _ := unit.RowOf(x.Gear)
		return "Which elements are on: " + row.Name + "?"
	case quiz.Suffers:
		e, _ := unit.ElementByID(x.Element)
		return "The " + strings.ToLower(e.Name) + " is lost. Which gears lose their ratio, or their braking?"
	}
	return "Just this slips, or does not brake: " + gearNames(x.Slips) + ". Everything else holds. Which elements explain that, each by itself?"
}

// optionName is an answer as it stands on the screen.
func optionName(x *quiz.Question, id string) string {
	if x.Kind == quiz.Suffers {
		return capital(gearNames([]unit.Gear{unit.Gear(id)}))
	}
	e, _ := unit.ElementByID(unit.ElementID(id))
	return e.Name
}

func optionNames(x *quiz.Question, ids []string) string {
	var names []string
	for _, id := range ids {
		names = append(names, strings.ToLower(optionName(x, id)))
		if x.Kind == quiz.Suffers {
			names[len(names)-1] = gearNames([]unit.Gear{unit.Gear(id)})
		}
	}
	return words(names)
}

func (q *Quiz) question(x *quiz.Question) []app.UI {
	var rows []app.UI
	for _, o := range x.Options {
		id := fmt.Sprintf("answer-%d-%s", q.at, o)
		rows = append(rows, app.Label().Class("choice__row").For(id).Body(
			app.Input().Type("checkbox").Class("choice__mark").ID(id).Checked(q.picked[o]).Disabled(q.marked).
				OnChange(func(app.Context, app.Event) { q.picked[o] = !q.picked[o] }, id),
			app.Span().Class("choice__text").Body(app.Span().Class("choice__label").Text(optionName(x, o))),
		))
	}
	body := []app.UI{
		app.H2().ID("question").Text(fmt.Sprintf("Question %d of %d", q.at+1, len(q.asked))),
		app.FieldSet().Class("choice").Body(
			app.Legend().Class("choice__legend").Text(asks(x)),
			app.P().Class("choice__hint").Text("Tick all that apply."),
			app.Div().Class("choice__rows").Body(rows...),
		),
	}
	if !q.marked {
		return append(body, app.Div().Class("buttons").Body(&part.Button{Text: "Mark my answer", Rank: "primary", OnPress: func(app.Context) { q.mark() }}))
	}
	missed, extra := x.Mark(q.answer(x))
	verdict := &part.Verdict{Call: "good", Word: "Right"}
	if len(missed)+len(extra) > 0 {
		verdict = &part.Verdict{Call: "bad", Word: "Not quite"}
	}
	if len(missed) > 0 {
		verdict.Because = append(verdict.Because, "Left out: "+optionNames(x, missed)+".")
	}
	if len(extra) > 0 {
		verdict.Because = append(verdict.Because, "Too much: "+optionNames(x, extra)+".")
	}
	verdict.Because = append(verdict.Because, explanation(x)...)
	next := "Next question"
	if q.at == len(q.asked)-1 {
		next = "Show the score"
	}
	return append(body,
		app.Div().Aria("live", "polite").Body(verdict),
		app.P().Body(app.A().Href(chartOf(x).Href()).Text("See it on the chart")),
		app.Div().Class("buttons").Body(&part.Button{Text: next, Rank: "primary", OnPress: func(app.Context) { q.next() }}))
}

// chartOf is the place on the chart that answers a question.
func chartOf(x *quiz.Question) route.Address {
	query := url.Values{queryGear: {string(x.Gear)}, queryLost: {string(x.Element)}}
	for _, g := range x.Slips {
		query.Add(querySlips, string(g))
	}
	place := "power"
	if x.Kind == quiz.Suspect {
		place = "picker"
	}
	return route.Chart().With(query).At(place)
}

// explanation says why the right answer is right.
func explanation(x *quiz.Question) []string {
	switch x.Kind {
	case quiz.On:
		var said []string
		for _, id := range x.Right {
			e, _ := unit.ElementByID(unit.ElementID(id))
			said = append(said, "The "+strings.ToLower(e.Name)+" "+e.Does+".")
		}
		return said
	case quiz.Suffers:
		said := []string{"It suffers: " + optionNames(x, x.Right) + "."}
		for _, g := range x.Right {
			row, _ := unit.RowOf(unit.Gear(g))
			if l, err := unit.Without(row.Gear, x.Element); err == nil {
				said = append(said, capital(row.Name)+": "+lossWords(row, l))
			}
		}
		return said
	}
	return []string{"It is: " + optionNames(x, x.Right) + ". Every gear that slips needs it, and none that holds does."}
}

func (q *Quiz) answer(x *quiz.Question) []string {
	var out []string
	for _, o := range x.Options {
		if q.picked[o] {
			out = append(out, o)
		}
	}
	return out
}

func (q *Quiz) mark() {
	x := &q.asked[q.at]
	missed, extra := x.Mark(q.answer(x))
	q.marked = true
	q.right = append(q.right, len(missed)+len(extra) == 0)
}

func (q *Quiz) next() {
	q.at, q.marked, q.picked = q.at+1, false, map[string]bool{}
	if q.ctx != nil {
		q.ctx.Defer(func(app.Context) {
			dom.FocusHeading()
			dom.ScrollTo(0)
		})
	}
}

func (q *Quiz) result() []app.UI {
	score := 0
	var wrong []app.UI
	for i, ok := range q.right {
		if ok {
			score++
			continue
		}
		x := &q.asked[i]
		wrong = append(wrong, app.Li().Body(app.Text(asks(x)+" "), app.B().Text(capital(optionNames(x, x.Right))+".")))
	}
	call := "unsure"
	if score == len(q.asked) {
		call = "good"
	}
	body := []app.UI{
		app.H2().Text("Score"),
		&part.Verdict{Call: call, Word: fmt.Sprintf("%d of %d right", score, len(q.asked)), Because: []string{fmt.Sprintf("Round %d. Who opens this address gets the same questions.", q.seed)}},
	}
	if slices.Contains(q.right, false) {
		body = append(body, app.H3().Text("To read again"), app.Ul().Class("list").Body(wrong...))
	}
	return append(body, app.Div().Class("buttons").Body(
		&part.Button{Text: "Other questions", Rank: "primary", OnPress: q.begin},
		app.A().Class("button", "button--plain").Href(route.Chart().Href()).Text("Back to the chart")))
}
