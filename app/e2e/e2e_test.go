// Package e2e tests the built site in a browser: every address, with and without
// a network, before, with and without the program, and from one version to the
// next.
package e2e

import (
	"os"
	"strings"
	"testing"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/browsertest"
)

func TestMain(m *testing.M) { os.Exit(browsertest.Main(m)) }

// everyKind is one address of each kind: what all of a kind have in common need
// not be loaded a hundred times.
func everyKind() []route.Address {
	var some []route.Address
	seen := map[string]bool{}
	for _, a := range screens.Site().All() {
		parts := strings.Split(strings.Trim(string(a), "/"), "/")
		kind := strings.Join(parts[:len(parts)-1], "/")
		if kind == "" || kind == "learn" || kind == "bench" {
			kind = string(a) // the screens that there is one of
		}
		if !seen[kind] {
			seen[kind] = true
			some = append(some, a)
		}
	}
	return some
}

// keptOffline opens the tool, waits until it is kept in the browser, and takes
// the host away.
func keptOffline(t testing.TB, server *browsertest.Server) *browsertest.Tab {
	t.Helper()
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()
	server.Stop()
	return tab
}
