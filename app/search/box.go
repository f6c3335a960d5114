package search

import (
	"net/url"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
	"provingbench/app/part"
	"provingbench/app/route"
)

// The screen's own part of the query.
const queryTyped = "q"

// Ids that focus moves to.
const (
	placeBox    = "search-box"
	placeToggle = "search-toggle"
	placeFirst  = "answer-"
)

// Box is the search in the header: a button on a phone that opens the box below
// it, the box itself where there is room.
//
// The slash key MUST lead to it from anywhere but a field, Escape away from it,
// the arrow keys from it through the answers and back, Enter to the answers'
// own address.
type Box struct {
	app.Compo

	Desk *Desk
	Here route.Address // the screen that it stands above

	ctx    app.Context
	stop   func()
	at     string // path of the screen that the answers were opened on
	follow route.Follower
}

// OnMount listens for keys.
func (b *Box) OnMount(ctx app.Context) {
	b.ctx = ctx
	b.Desk.watch(b)
	if b.Here == route.Search() {
		b.Desk.prepare(ctx)
	}
	b.stop = dom.OnKey(b.key)
}

// OnDismount lets go of the keys.
func (b *Box) OnDismount() {
	if b.stop != nil {
		b.stop()
	}
}

// OnNav puts the answers away when they have led to another screen.
func (b *Box) OnNav(ctx app.Context) {
	if path := ctx.Page().URL().Path; path != b.at {
		b.at = path
		b.Desk.Close()
	}
}

// Render draws button and box.
func (b *Box) Render() app.UI {
	open := b.Desk.open || b.Here == route.Search()
	state := "shut"
	if open {
		state = "open"
	}
	return app.Div().Class("search").Body(
		app.Button().Type("button").Class("search__toggle").ID(placeToggle).
			Aria("expanded", open).Aria("controls", "search").OnClick(b.press).
			Body(part.Icon("search"), app.Span().Class("spoken").Text("Search")),
		app.Div().Class("search__field").ID("search").DataSet("state", state).Attr("role", "search").Body(
			app.Label().Class("search__label").For(placeBox).Body(part.Icon("search"), app.Span().Class("spoken").Text("Search everything")),
			app.Input().Type("search").Class("search__box").ID(placeBox).Name(queryTyped).
				Attr("autocomplete", "off").Attr("autocapitalize", "off").Attr("spellcheck", "false").Attr("enterkeyhint", "search").
				Attr("maxlength", "200").Placeholder("Part, value, code or complaint").Aria("describedby", "search-status").
				OnInput(b.input).OnFocus(b.focus),
		),
	)
}

func (b *Box) press(ctx app.Context, _ app.Event) {
	if b.Desk.open {
		b.Desk.Close()
		return
	}
	b.show(ctx)
}

// show opens the box and goes into it.
func (b *Box) show(ctx app.Context) {
	b.Desk.prepare(b.ctx)
	b.Desk.Open()
	ctx.Defer(func(app.Context) {
		dom.Focus(placeBox)
		dom.Reveal(placeBox)
	})
}

func (b *Box) focus(app.Context, app.Event) {
	b.Desk.prepare(b.ctx)
	if !b.Desk.open {
		b.Desk.Open()
	}
}

func (b *Box) input(ctx app.Context, _ app.Event) {
	b.Desk.Type(ctx.JSSrc().Get("value").String())
	b.Desk.Open()
	if b.Here == route.Search() {
		b.follow.Follow(ctx, address(b.Desk.query))
	}
}

// address is where the answers to a query stand.
func address(query string) route.Address {
	return route.Search().With(url.Values{queryTyped: {strings.TrimSpace(query)}})
}

// key gives what a key does; nil when the browser may have it.
func (b *Box) key(k dom.Key) (act func()) {
	place, inAnswers := strings.CutPrefix(k.At, placeFirst)
	number, _ := strconv.Atoi(place)
	switch {
	case k.Name == "/" && !k.Typing:
		return func() { b.ctx.Dispatch(b.show) }
	case k.At != placeBox && !inAnswers:
		return nil
	case k.Name == "Escape":
		return func() { b.ctx.Dispatch(b.leave) }
	case k.Name == "Enter" && !inAnswers:
		return func() { b.ctx.Dispatch(b.send) }
	case k.Name == "ArrowDown" && !inAnswers:
		return to(placeFirst + "0")
	case k.Name == "ArrowDown":
		return to(placeFirst + strconv.Itoa(number+1))
	case k.Name == "ArrowUp" && inAnswers && number == 0:
		return to(placeBox)
	case k.Name == "ArrowUp" && inAnswers:
		return to(placeFirst + strconv.Itoa(number-1))
	}
	return nil
}

// leave puts the answers away and goes back to the button, where there is one.
func (b *Box) leave(ctx app.Context) {
	b.Desk.Close()
	ctx.Defer(func(app.Context) { dom.Focus(placeToggle) })
}

// send goes to the answers' own address.
func (b *Box) send(ctx app.Context) {
	if b.Here != route.Search() && strings.TrimSpace(b.Desk.query) != "" {
		ctx.Navigate(address(b.Desk.query).Href())
	}
}

// to moves the focus, if there is something to move it to.
func to(id string) func() {
	if !dom.Has(id) {
		return nil
	}
	return func() {
		dom.Focus(id)
		dom.Reveal(id)
	}
}
