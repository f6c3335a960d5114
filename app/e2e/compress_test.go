package e2e

import (
	"bytes"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
	"provingbench/build/serve"
)

// A host that has brotli copies is asked for those and for nothing larger, once.
func TestBrotliIsTakenWhereTheHostSendsIt(t *testing.T) {
	t.Parallel()
	site := browsertest.Copy(t, browsertest.Site(t))
	read := func(name string) []byte {
		content, err := os.ReadFile(filepath.Join(site.Dir, name))
		require.NoError(t, err)
		return content
	}
	write := func(name string, content []byte) {
		require.NoError(t, os.WriteFile(filepath.Join(site.Dir, name), content, 0o644))
	}
	squeeze := func(content []byte) []byte {
		var b bytes.Buffer
		w := brotli.NewWriterLevel(&b, 1)
		_, err := w.Write(content)
		require.NoError(t, err)
		require.NoError(t, w.Close())
		return b.Bytes()
	}
	write("web/tool.wasm.br", squeeze(read("web/tool.wasm")))

	var mu sync.Mutex
	var asked []string
	handler := serve.Handler(site.Dir, site.Base)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if path := r.URL.Path; strings.Contains(path, ".wasm") {
			mu.Lock()
			asked = append(asked, r.Method+" "+path)
			mu.Unlock()
		}
		handler.ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	tab.Offline()
	mu.Lock()
	assert.Equal(t, []string{"GET /web/tool.wasm"}, asked)
	mu.Unlock()

	server.CloseClientConnections()
	server.Close()
	tab.Go(server.URL + "/faults/?x=1")
	tab.Ready()
	assert.Empty(t, tab.Faults())
}
