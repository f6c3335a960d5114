package route

import (
	"net/url"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// Page is the frame with one screen in it, mounted as the root of the document.
// It sets the title and the description, and at each change of address it moves
// the focus to the heading and the scroll to where it belongs.
type Page struct {
	app.Compo

	Here Address // without query and fragment
	Turn int     // counts the addresses visited since the tool was opened

	site    *Site
	settled Address // the address that focus and scroll were last set for
}

// Render draws the frame and a new screen.
//
// go-app would keep the mounted screen when the next one is of the same type,
// and with it what was typed for another check. It replaces what is in a
// different element, so the element around the screen takes turns.
func (p *Page) Render() app.UI {
	around := "div"
	if p.Turn%2 == 1 {
		around = "section"
	}
	return p.site.Screens.Frame(p.Here, app.Elem(around).Class("screen").Body(p.site.screen(p.Here)))
}

// OnPreRender sets what the prepared page says of itself.
func (p *Page) OnPreRender(ctx app.Context) {
	p.describe(ctx)
}

// OnNav sets what the page says of itself, and where the user is in it.
func (p *Page) OnNav(ctx app.Context) {
	p.describe(ctx)
	fragment := ctx.Page().URL().Fragment
	first := p.settled == ""
	moved := p.settled != p.Here
	p.settled = p.Here
	ctx.Defer(func(ctx app.Context) {
		arrive(first, moved, fragment)
		dom.Ready()
	})
}

// Heading is the page's title as tabs and bookmarks show it.
func (p *Page) Heading() string {
	return p.site.screen(p.Here).Title() + " – " + p.site.Name
}

// Summary is the screen's description.
func (p *Page) Summary() string {
	return p.site.screen(p.Here).Description()
}

func (p *Page) describe(ctx app.Context) {
	ctx.Page().SetTitle(p.Heading())
	ctx.Page().SetDescription(p.Summary())
}

// visit is the history entry that is on show; zero before the first one.
var visit dom.Visit

// leave keeps the scroll position of the screen that is about to go.
func leave() {
	visit.Leave()
}

// arrive settles scroll and focus. The first screen is where the reader may
// already be reading the prepared page, so that nothing is moved there unless
// the tab was reloaded and still stands at its top.
func arrive(first, moved bool, fragment string) {
	v, before := dom.Arrive()
	visit = v
	if first {
		dom.OnLeaving(leave)
		if before && dom.Scrolled() == 0 {
			dom.ScrollTo(v.Place())
		}
		return
	}
	switch {
	case !moved && fragment == "":
	case !moved:
		dom.Focus(fragment) // go-app has scrolled there
	case before:
		dom.FocusHeading()
		dom.ScrollTo(v.Place())
	case fragment != "":
		dom.Focus(fragment)
		dom.ScrollToID(fragment)
	default:
		dom.FocusHeading()
		dom.ScrollTo(0)
	}
}

// Replace changes the present address without a new entry in the history and
// without a move on the page. It is for what follows the user's typing.
func Replace(ctx app.Context, a Address) {
	u, err := url.Parse(a.Href())
	if err != nil {
		return
	}
	dom.Replace(ctx, ctx.Page().URL().ResolveReference(u))
}
