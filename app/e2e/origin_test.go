package e2e

import (
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"

	"provingbench/build/browsertest"
)

// Nobody else learns what is worked on: no page, and not the worker either, asks
// anything of another origin, and this one is asked for files of the site alone.
func TestNothingIsAskedOfAnybodyElse(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	var mu sync.Mutex
	var foreign []string
	seen := 0
	h.Requests(func(url string) {
		mu.Lock()
		defer mu.Unlock()
		seen++
		if !strings.HasPrefix(url, server.URL+"/") && !strings.HasPrefix(url, "data:") && !strings.HasPrefix(url, "blob:"+server.URL+"/") {
			foreign = append(foreign, url)
		}
	})
	takeIn(h, server)
	for i, a := range everyKind() {
		if i%8 == 0 {
			h.Go(server.URL + string(a)) // from the host or the worker
			h.Ready()
			continue
		}
		goTo(h.Tab, a)
	}
	mu.Lock()
	assert.Empty(t, foreign)
	assert.Greater(t, seen, 20, "nothing was seen at all")
	mu.Unlock()
	assert.Empty(t, browsertest.Elsewhere())
	for _, uri := range server.Asked() {
		assert.NotContains(t, uri, "reverse", "what was typed goes nowhere")
	}

	// That the watch sees what it should: a request that the policy allows no page.
	browsertest.Eval[any](h.Tab, `fetch("http://other.invalid/x").then(() => null, () => null)`)
	assert.Empty(t, browsertest.Elsewhere(), "the policy stops it before it leaves")
	bare := browsertest.Open(t)
	bare.Go("http://other.invalid/seen")
	assert.Contains(t, strings.Join(browsertest.Elsewhere(), " "), "other.invalid/seen")
}
