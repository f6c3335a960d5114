package serve

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, content := range map[string]string{
		"index.html":             "home",
		"index.html.br":          "home in brotli",
		"index.html.gz":          "home in gzip",
		"404.html":               "nothing here",
		"checks/index.html":      "checks",
		"web/app.wasm":           "program",
		"web/app.wasm.gz":        "packed program",
		"manifest.webmanifest":   `{"scope": "/bench/"}`,
		"web/icons/icon-192.png": "picture",
	} {
		name = filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(name), 0o755))
		require.NoError(t, os.WriteFile(name, []byte(content), 0o644))
	}
	return dir
}

func TestHandler(t *testing.T) {
	dir := folder(t)
	for _, c := range []struct {
		name, base, path, accept       string
		status                         int
		body, kind, coding, redirected string
	}{
		{"page", "/", "/", "", 200, "home", "text/html; charset=utf-8", "", ""},
		{"page in brotli", "/", "/", "gzip, deflate, br", 200, "home in brotli", "text/html; charset=utf-8", "br", ""},
		{"page in gzip", "/", "/", "gzip", 200, "home in gzip", "text/html; charset=utf-8", "gzip", ""},
		{"brotli refused", "/", "/", "br;q=0, gzip;q=0.5", 200, "home in gzip", "text/html; charset=utf-8", "gzip", ""},
		{"program", "/", "/web/app.wasm", "", 200, "program", "application/wasm", "", ""},
		{"packed program asked for by name", "/", "/web/app.wasm.gz?v=1", "gzip", 200, "packed program", "application/gzip", "", ""},
		{"deeper page", "/", "/checks/", "", 200, "checks", "text/html; charset=utf-8", "", ""},
		{"without the slash", "/", "/checks?s=1", "", 301, "", "", "", "/checks/?s=1"},
		{"unknown", "/", "/nope/", "", 404, "nothing here", "text/html; charset=utf-8", "", ""},
		{"upwards", "/", "/../../etc/passwd", "", 307, "", "", "", "/etc/passwd"},
		{"outside the folder", "/", "/etc/passwd", "", 404, "nothing here", "text/html; charset=utf-8", "", ""},
		{"in a folder", "/bench/", "/bench/checks/", "", 200, "checks", "text/html; charset=utf-8", "", ""},
		{"in a folder without the slash", "/bench/", "/bench/checks", "", 301, "", "", "", "/bench/checks/"},
		{"root leads to the folder", "/bench/", "/", "", 302, "", "", "", "/bench/"},
		{"manifest", "/", "/manifest.webmanifest", "", 200, `{"scope": "/bench/"}`, "application/manifest+json", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := httptest.NewRequest(http.MethodGet, "http://host"+c.path, nil)
			r.Header.Set("Accept-Encoding", c.accept)
			w := httptest.NewRecorder()
			Handler(dir, c.base).ServeHTTP(w, r)
			assert.Equal(t, c.status, w.Code)
			if c.redirected != "" {
				where, err := w.Result().Location()
				require.NoError(t, err)
				assert.Equal(t, c.redirected, r.URL.ResolveReference(where).RequestURI())
				return
			}
			assert.Equal(t, c.body, w.Body.String())
			assert.Equal(t, c.kind, w.Header().Get("Content-Type"))
			assert.Equal(t, c.coding, w.Header().Get("Content-Encoding"))
		})
	}
}

func TestHandlerRefusesToBeWrittenTo(t *testing.T) {
	w := httptest.NewRecorder()
	Handler(folder(t), "/").ServeHTTP(w, httptest.NewRequest(http.MethodPost, "http://host/", nil))
	assert.Equal(t, http.StatusMethodNotAllowed, w.Code)
}

func TestListenTakesTheNextFreePort(t *testing.T) {
	first, err := Listen("127.0.0.1:18710")
	require.NoError(t, err)
	defer first.Close()
	second, err := Listen(first.Addr().String())
	require.NoError(t, err)
	defer second.Close()
	assert.NotEqual(t, first.Addr().String(), second.Addr().String())
}

func TestListenSaysWhatIsWrongWithAnAddress(t *testing.T) {
	_, err := Listen("localhost")
	assert.ErrorContains(t, err, `serve: address "localhost"`)
	_, err = Listen("localhost:many")
	assert.EqualError(t, err, `serve: address "localhost:many": the port is not a number`)
}

func TestBase(t *testing.T) {
	base, err := Base(folder(t))
	require.NoError(t, err)
	assert.Equal(t, "/bench/", base)
	_, err = Base(t.TempDir())
	assert.ErrorContains(t, err, "is not a built site")
}
