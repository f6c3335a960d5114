//go:build !wasm

package main

import (
	"fmt"
	"os"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// write writes the site to the folder that the command names.
func write() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: hello folder")
		os.Exit(2)
	}
	icon := app.Icon{Default: "/web/icon.png", Large: "/web/icon.png", SVG: "/web/icon.png"}
	if err := app.GenerateStaticWebsite(os.Args[1], &app.Handler{Name: "Hello", Icon: icon, Version: "1"}); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
