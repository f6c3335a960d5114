// Command local is the whole of a web server in one file, for a shop without the
// internet: it serves the folder "site" that lies beside it, to the browser of the
// machine that it runs on. `make stick` builds it for the usual systems.
//
// Browsers keep a tool for use without a network only when it comes over an
// encrypted line or from the machine itself. So what is opened on localhost is
// kept; phones that reach this machine over the shop's network (-addr :8000) can
// use the tool for as long as it runs, and keep nothing.
package main

import (
	"flag"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"time"

	"provingbench/build/serve"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run() error {
	dir := flag.String("dir", "", "folder of the site (\"site\" beside this program)")
	addr := flag.String("addr", "localhost:8000", "host and port; the next free port when it is taken; :8000 for the shop's network too")
	flag.Parse()
	if *dir == "" {
		program, err := os.Executable()
		if err != nil {
			return err
		}
		*dir = filepath.Join(filepath.Dir(program), "site")
	}
	base, err := serve.Base(*dir)
	if err != nil {
		return err
	}
	listener, err := serve.Listen(*addr)
	if err != nil {
		return err
	}
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return err
	}
	fmt.Printf("Open http://%s%s in the browser of this machine.\nClose this window, or press Ctrl-C, to stop.\n", net.JoinHostPort("localhost", port), base)
	server := &http.Server{Handler: serve.Handler(*dir, base), ReadHeaderTimeout: 10 * time.Second}
	return server.Serve(listener)
}
