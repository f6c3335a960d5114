package part

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Button does something on the page; what leads somewhere else is a link.
//
// It MUST be reachable with the keyboard, at least a target high, and its words
// MUST say what it does without the text around it: Of completes them for
// screen readers ("Remove" + "Flare on the 2-3 shift").
//
// The context that OnPress gets is the button's. What is asked of it for later,
// such as Navigate and Defer, is dropped when the press makes the button go: ask
// the screen's own context for that.
type Button struct {
	app.Compo

	Text    string
	Of      string // spoken after Text
	ID      string
	Rank    string // "primary", "plain" (default), "quiet", or "line" across the column
	Icon    string
	Shows   string // id of what the button opens and closes
	Opened  bool   // what it opens is open
	Pressed string // "true" or "false" for a button that stays pressed
	OnPress func(app.Context)
}

// Render draws the button.
func (b *Button) Render() app.UI {
	rank := b.Rank
	if rank == "" {
		rank = "plain"
	}
	e := app.Button().Type("button").Class("button", "button--"+rank).OnClick(b.press)
	if b.ID != "" {
		e = e.ID(b.ID)
	}
	if b.Shows != "" {
		e = e.Aria("expanded", b.Opened).Aria("controls", b.Shows)
	}
	if b.Pressed != "" {
		e = e.Aria("pressed", b.Pressed)
	}
	body := []app.UI{}
	switch {
	case b.Icon != "":
		body = append(body, Icon(b.Icon))
	case b.Shows != "" && b.Opened:
		body = append(body, Icon("open"))
	case b.Shows != "":
		body = append(body, Icon("shut"))
	}
	body = append(body, app.Span().Text(b.Text))
	if b.Of != "" {
		body = append(body, app.Span().Class("spoken").Text(": "+b.Of))
	}
	return e.Body(body...)
}

func (b *Button) press(ctx app.Context, _ app.Event) {
	if b.OnPress != nil {
		b.OnPress(ctx)
	}
}

var buttonExamples = []app.UI{
	&Button{Text: "Judge", Rank: "primary"},
	&Button{Text: "Remove", Of: "Flare on the 2-3 shift", Rank: "quiet", Icon: "bad"},
	&Button{Text: "Why", Of: "Front servo leaks", Shows: "why-front-servo-leak", Opened: true},
	&Button{Text: "Not there", Pressed: "false"},
}
