package main

import (
	"flag"
	"fmt"
	"net"
	"net/http"
	"time"

	"provingbench/build/serve"
)

func init() {
	add("serve", "serve a built site and print its address", serveSite)
}

func serveSite(args []string) error {
	flags := flag.NewFlagSet("serve", flag.ExitOnError)
	dir := flags.String("dir", "build/site", "folder of the site")
	addr := flags.String("addr", "localhost:8000", "host and port; the next free port when it is taken")
	_ = flags.Parse(args) // exits on errors

	base, err := serve.Base(*dir)
	if err != nil {
		return err
	}
	listener, err := serve.Listen(*addr)
	if err != nil {
		return err
	}
	host, _, err := net.SplitHostPort(*addr)
	if err != nil {
		return err
	}
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return err
	}
	if host == "" {
		host = "localhost"
	}
	fmt.Printf("The tool is at http://%s%s\nCtrl-C stops it.\n", net.JoinHostPort(host, port), base)
	server := &http.Server{Handler: serve.Handler(*dir, base), ReadHeaderTimeout: 10 * time.Second}
	return server.Serve(listener)
}
