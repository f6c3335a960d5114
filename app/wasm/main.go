// Command wasm is the tool as it runs in a browser.
package main

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/route"
	"provingbench/app/screens"
)

func main() {
	route.SetPrefix(app.Getenv("GOAPP_ROOT_PREFIX"))
	screens.Site().Register()
	app.RunWhenOnBrowser()
}
