package about

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// thisCopy says which version this is and whether it works without a network.
//
// It MUST say so in words, and a screen reader MUST hear it when it changes.
type thisCopy struct {
	app.Compo

	now   dom.Edition
	known bool
	stop  func()
}

func (c *thisCopy) OnMount(ctx app.Context) {
	c.stop = dom.WatchEdition(func(now dom.Edition) {
		ctx.Dispatch(func(app.Context) {
			c.now, c.known = now, true
			c.Update()
		})
	})
}

func (c *thisCopy) OnDismount() {
	if c.stop != nil {
		c.stop()
	}
}

// Render draws one paragraph.
func (c *thisCopy) Render() app.UI {
	return app.P().ID("copy-state").Attr("role", "status").Text(c.text())
}

func (c *thisCopy) text() string {
	if !c.known {
		return "Which version this is, and whether it works without a network, is said here once the tool runs."
	}
	version := "Version " + c.now.Version + ". "
	if !c.now.Offline {
		return version + "Works without a network: not yet. Leave the page open while there is a network, until this says yes."
	}
	if c.now.Since.IsZero() {
		return version + "Works without a network: yes."
	}
	return version + "Works without a network: yes, since " + c.now.Since.Local().Format("2 January 2006, 15:04") + "."
}
