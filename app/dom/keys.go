package dom

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Key is a key that was pressed by itself, without Ctrl, Alt or Meta.
type Key struct {
	Name   string // as the browser names it: "/", "Escape", "ArrowDown"
	At     string // id of the element that has the focus; empty when it has none
	Typing bool   // the key goes into a field
}

// OnKey calls f at each key before the browser acts on it. For a key that f has a
// use for it gives what is to be done; the browser then leaves the key alone. What
// is done runs beside the screens' own handlers: it may move the focus, and hands
// everything else to Context.Dispatch.
func OnKey(f func(Key) (act func())) (stop func()) {
	if app.IsServer {
		return func() {}
	}
	listener := app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		if e.Get("ctrlKey").Truthy() || e.Get("altKey").Truthy() || e.Get("metaKey").Truthy() || e.Get("isComposing").Truthy() || e.Get("defaultPrevented").Truthy() {
			return nil
		}
		k := Key{Name: e.Get("key").String()}
		if at := e.Get("target"); at.Truthy() && at.Get("tagName").Truthy() {
			k.At = at.Get("id").String()
			switch at.Get("tagName").String() {
			case "INPUT", "TEXTAREA", "SELECT":
				k.Typing = true
			default:
				k.Typing = at.Get("isContentEditable").Truthy()
			}
		}
		if act := f(k); act != nil {
			e.Call("preventDefault") // before anything that may wait for the screens
			act()
		}
		return nil
	})
	window().Call("addEventListener", "keydown", listener)
	return func() {
		window().Call("removeEventListener", "keydown", listener)
		listener.Release()
	}
}

// Has reports whether the page holds an element of the given id.
func Has(id string) bool {
	_, ok := byID(id)
	return ok
}

// Reveal scrolls no further than it takes to have the element of the given id in
// view.
func Reveal(id string) {
	if v, ok := byID(id); ok {
		v.Call("scrollIntoView", map[string]any{"block": "nearest", "behavior": "instant"})
	}
}
