package dom

import (
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Edition is the tool as this browser has it.
type Edition struct {
	Version string
	Offline bool      // all of it is kept here
	Since   time.Time // when it came to be kept; zero when that is not known
}

// WatchEdition gives what the browser has, now and again once all of it is kept.
func WatchEdition(f func(Edition)) (stop func()) {
	if app.IsServer {
		return func() {}
	}
	look := func() {
		c := Edition{Version: app.Getenv("GOAPP_VERSION")}
		data := document().Get("documentElement").Get("dataset")
		if v := data.Get("offline"); v.Type() == app.TypeString {
			c.Offline = v.String() == "ready"
		}
		if v := data.Get("since"); v.Type() == app.TypeString {
			c.Since, _ = time.Parse(time.RFC3339, v.String()) // zero for what is no time
		}
		f(c)
	}
	listener := app.FuncOf(func(app.Value, []app.Value) any {
		look()
		return nil
	})
	document().Call("addEventListener", "offline-ready", listener)
	look()
	return func() {
		document().Call("removeEventListener", "offline-ready", listener)
		listener.Release()
	}
}
