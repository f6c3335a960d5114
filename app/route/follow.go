package route

import (
	"net/url"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// pause is how long typing must rest before the address follows it. Browsers
// refuse to change the address for a while when it is changed at every key.
const pause = 400 * time.Millisecond

// Follower has the query of the present address follow what is typed, as
// Replace does, but at the pace that browsers allow. Its zero value is ready.
type Follower struct {
	turn int
}

// Follow puts a into the address once typing rests, unless the user has gone to
// another screen by then.
func (f *Follower) Follow(ctx app.Context, a Address) {
	f.turn++
	mine := f.turn
	ctx.After(pause, func(ctx app.Context) {
		if mine == f.turn && within(ctx.Page().URL(), a) {
			Replace(ctx, a)
		}
	})
}

// within reports whether the browser still stands at the screen of a.
func within(here *url.URL, a Address) bool {
	u, err := url.Parse(a.Href())
	return err == nil && here.Path == u.Path
}
