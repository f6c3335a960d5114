package dom

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// lock is the browser's promise to keep the screen lit; nil when there is none.
var lock app.Value

// CanKeepAwake reports whether the browser can keep the screen lit.
func CanKeepAwake() bool {
	_, ok := navigator("wakeLock")
	return ok
}

// KeepAwake asks the browser to keep the screen lit until LetSleep. It may
// refuse, with a weak battery for instance; and it forgets when the user goes
// to another app and comes back: done is told each time.
func KeepAwake(ctx app.Context, done func(ctx app.Context, lit bool)) {
	wake, ok := navigator("wakeLock")
	if !ok {
		return
	}
	settle(ctx, wake.Call("request", "screen"), func(ctx app.Context, v app.Value) {
		lock = v
		var gone app.Func
		gone = app.FuncOf(func(app.Value, []app.Value) any {
			gone.Release()
			ctx.Dispatch(func(ctx app.Context) { done(ctx, false) })
			return nil
		})
		v.Call("addEventListener", "release", gone, map[string]any{"once": true})
		done(ctx, true)
	}, func(ctx app.Context) { done(ctx, false) })
}

// LetSleep lets the screen go dark as the system likes.
func LetSleep() {
	if lock != nil {
		lock.Call("release")
		lock = nil
	}
}

// Buzz shakes the phone shortly, where it can.
func Buzz() {
	if _, ok := navigator("vibrate"); ok {
		window().Get("navigator").Call("vibrate", buzz)
	}
}

// buzz is how long the phone shakes, in milliseconds.
const buzz = 200
