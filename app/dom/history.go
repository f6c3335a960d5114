package dom

import (
	"net/url"
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Visit is one entry of the browser's history. It is kept in the entry itself,
// so that it comes back with the back button and after a reload.
type Visit int

const (
	visitKey   = "visit"
	visitCount = "bench.visits"
	visitPlace = "bench.scroll."
)

// Arrive tells which visit the present history entry is, and whether it had
// been here before: the user came back to it or reloaded it.
func Arrive() (v Visit, before bool) {
	if app.IsServer {
		return 0, false
	}
	history := window().Get("history")
	history.Set("scrollRestoration", "manual")
	if state := history.Get("state"); state.Truthy() {
		if n := state.Get(visitKey); n.Truthy() {
			return Visit(n.Int()), true
		}
	}
	n, _ := strconv.Atoi(remembered(visitCount))
	n++
	remember(visitCount, strconv.Itoa(n))
	stamp(Visit(n))
	return Visit(n), false
}

// Leave keeps how far the page is scrolled at this visit.
func (v Visit) Leave() {
	if v == 0 {
		return
	}
	remember(visitPlace+strconv.Itoa(int(v)), strconv.FormatFloat(Scrolled(), 'f', 0, 64))
}

// Place is how far the page was scrolled when this visit was left.
func (v Visit) Place() float64 {
	y, _ := strconv.ParseFloat(remembered(visitPlace+strconv.Itoa(int(v))), 64)
	return y
}

// OnLeaving calls f when the page is being closed, reloaded or put aside.
func OnLeaving(f func()) {
	if app.IsServer {
		return
	}
	window().Call("addEventListener", "pagehide", app.FuncOf(func(app.Value, []app.Value) any {
		f()
		return nil
	}))
}

// Replace puts u in place of the present address without a new history entry.
func Replace(ctx app.Context, u *url.URL) {
	if app.IsServer {
		return
	}
	v, _ := Arrive()
	ctx.Page().ReplaceURL(u)
	stamp(v)
}

// stamp writes the visit into the present history entry.
func stamp(v Visit) {
	window().Get("history").Call("replaceState", map[string]any{visitKey: int(v)}, "")
}

// remember keeps a value for as long as the tab is open. A browser that refuses
// loses the scroll positions and nothing else.
func remember(key, value string) {
	if app.IsServer {
		return
	}
	defer func() { _ = recover() }()
	window().Get("sessionStorage").Call("setItem", key, value)
}

func remembered(key string) (value string) {
	if app.IsServer {
		return ""
	}
	defer func() { _ = recover() }()
	if v := window().Get("sessionStorage").Call("getItem", key); v.Truthy() {
		return v.String()
	}
	return ""
}
