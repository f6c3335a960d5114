// Package dom is the tool's only door to the browser: scrolling, focus, history,
// printing, sharing, files, keeping the screen awake. Outside a browser every
// function does nothing, so that screens can be prepared and tested anywhere.
//
// Each function asks whether the browser has what it needs and tells when it
// does not; none of them panics.
package dom

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

func window() app.Value { return app.Window() }

func document() app.Value { return window().Get("document") }

func query(selector string) (app.Value, bool) {
	if app.IsServer {
		return nil, false
	}
	v := document().Call("querySelector", selector)
	return v, v.Truthy()
}

// byID is the element of an id, whatever characters the id has.
func byID(id string) (app.Value, bool) {
	if app.IsServer {
		return nil, false
	}
	v := document().Call("getElementById", id)
	return v, v.Truthy()
}

// Ready marks the page as one that answers to touch. Style sheets, the start
// script and tests read the mark.
func Ready() {
	if app.IsServer {
		return
	}
	document().Get("documentElement").Call("setAttribute", "data-ready", "yes")
	if performance := window().Get("performance"); performance.Truthy() {
		performance.Call("mark", "ready") // for measurements
	}
	if status, ok := byID("status"); ok {
		status.Call("remove")
	}
}

// FocusHeading moves the focus to the screen's heading, so that a screen reader
// reads where the user has come to. The heading gets no tab stop by it.
func FocusHeading() {
	focus(query("main h1"))
}

// Focus moves the focus to the element of the given id.
func Focus(id string) {
	focus(byID(id))
}

func focus(v app.Value, ok bool) {
	if !ok {
		return
	}
	if v.Get("tabIndex").Int() < 0 && !v.Call("hasAttribute", "tabindex").Bool() {
		v.Call("setAttribute", "tabindex", "-1")
	}
	v.Call("focus", map[string]any{"preventScroll": true})
}

// ScrollTo scrolls the page to the height y, in CSS pixels from its top, at once
// whatever the style sheet says of scrolling.
func ScrollTo(y float64) {
	if app.IsServer {
		return
	}
	window().Call("scrollTo", map[string]any{"top": y, "behavior": "instant"})
}

// ScrollToID brings the element of the given id into view.
func ScrollToID(id string) {
	if v, ok := byID(id); ok {
		v.Call("scrollIntoView", map[string]any{"behavior": "instant"})
	}
}

// Scrolled is how far the page is scrolled, in CSS pixels from its top.
func Scrolled() float64 {
	if app.IsServer {
		return 0
	}
	return window().Get("scrollY").Float()
}

// Print opens the browser's print dialogue.
func Print() {
	if app.IsServer {
		return
	}
	window().Call("print")
}
