// Command hello is the smallest tool of the framework that this one is built
// with: a page that says hello. This tool's size and speed are held against it.
//
// In a browser it shows the page; elsewhere it writes its site to a folder.
package main

import "github.com/maxence-charriere/go-app/v9/pkg/app"

type hello struct{ app.Compo }

// OnMount marks the moment from which the page answers.
func (*hello) OnMount(app.Context) {
	if app.IsClient {
		app.Window().Get("performance").Call("mark", "ready")
		app.Window().Get("document").Get("documentElement").Call("setAttribute", "data-ready", "yes")
	}
}

func (*hello) Render() app.UI { return app.H1().Text("Hello") }

func main() {
	app.Route("/", &hello{})
	app.RunWhenOnBrowser()
	write()
}
