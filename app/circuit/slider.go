package circuit

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// slider is a number between two ends, set by a thumb or by arrow keys.
//
// It MUST say its value in words, beside it and to screen readers. As with Field,
// the browser owns the mark while it is moved: what is drawn is where it began.
type slider struct {
	app.Compo

	ID, Label   string
	Value, Said string
	Least, Most int
	Step        int
	OnMove      func(ctx app.Context, value string)

	moved, first string
	begun        bool
}

func (s *slider) Render() app.UI {
	if !s.begun {
		s.begun, s.moved, s.first = true, s.Value, s.Value
	}
	return app.Div().Body(
		app.Label().Class("circuit__asks").For(s.ID).Body(app.Text(s.Label+" "), app.B().Text(s.Said)),
		app.Input().Type("range").Class("circuit__range").ID(s.ID).
			Min(strconv.Itoa(s.Least)).Max(strconv.Itoa(s.Most)).Step(float64(s.Step)).
			Value(s.first).Aria("valuetext", s.Said).OnInput(s.move).OnChange(s.move))
}

// OnUpdate follows a Value that came from outside.
func (s *slider) OnUpdate(app.Context) {
	if s.Value == s.moved {
		return
	}
	s.moved = s.Value
	dom.SetValue(s.ID, s.Value)
}

func (s *slider) move(ctx app.Context, _ app.Event) {
	value := ctx.JSSrc().Get("value").String()
	if value == s.moved {
		return
	}
	s.moved = value
	s.OnMove(ctx, value)
}

// OnMount sets the mark once its ends are known to the browser, which would hold
// it between others before.
func (s *slider) OnMount(ctx app.Context) {
	ctx.Defer(func(app.Context) { dom.SetValue(s.ID, s.moved) })
}

// option is one line of a picker.
type option struct{ value, label string }

// picker is one out of more answers than fit on a screen.
type picker struct {
	app.Compo

	ID, Label string
	Value     string
	Options   []option
	OnPick    func(ctx app.Context, value string)

	picked string
}

func (p *picker) Render() app.UI {
	var options []app.UI
	for _, o := range p.Options {
		options = append(options, app.Option().Value(o.value).Selected(o.value == p.Value).Text(o.label))
	}
	return app.Div().Body(
		app.Label().Class("circuit__asks").For(p.ID).Text(p.Label),
		app.Select().Class("circuit__select").ID(p.ID).Body(options...).OnChange(func(ctx app.Context, _ app.Event) {
			p.picked = ctx.JSSrc().Get("value").String()
			p.OnPick(ctx, p.picked)
		}))
}

// OnUpdate follows a Value that came from outside.
func (p *picker) OnUpdate(app.Context) {
	if p.Value != p.picked {
		p.picked = p.Value
		dom.SetValue(p.ID, p.Value)
	}
}
