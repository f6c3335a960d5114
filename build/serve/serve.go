// Package serve is a plain web server for a built site, for trying it out and
// for a workshop's own network. It serves the compressed copies to whoever
// takes them and the right types; everything else is what any static host does.
package serve

import (
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// Base is the path that the site in dir was built for.
func Base(dir string) (string, error) {
	content, err := os.ReadFile(filepath.Join(dir, "manifest.webmanifest"))
	if err != nil {
		return "", fmt.Errorf("serve: %s is not a built site: %w", dir, err)
	}
	var m struct {
		Scope string `json:"scope"`
	}
	if err := json.Unmarshal(content, &m); err != nil {
		return "", fmt.Errorf("serve: %s is not a built site: %w", dir, err)
	}
	return m.Scope, nil
}

// Listen opens addr ("localhost:8000"), or the next of the twenty ports above it
// that is free.
func Listen(addr string) (net.Listener, error) {
	host, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, fmt.Errorf("serve: address %q: %w", addr, err)
	}
	first, err := strconv.Atoi(port)
	if err != nil {
		return nil, fmt.Errorf("serve: address %q: the port is not a number", addr)
	}
	const tries = 20
	for n := first; n <= first+tries; n++ {
		listener, err := net.Listen("tcp", net.JoinHostPort(host, strconv.Itoa(n)))
		if !errors.Is(err, syscall.EADDRINUSE) {
			return listener, err
		}
	}
	return nil, fmt.Errorf("serve: ports %d to %d are all taken", first, first+tries)
}

// Handler serves the site in dir under base.
func Handler(dir, base string) http.Handler {
	s := &server{dir: dir}
	mux := http.NewServeMux()
	mux.Handle(base, http.StripPrefix(strings.TrimSuffix(base, "/"), s))
	if base != "/" {
		mux.Handle("/{$}", http.RedirectHandler(base, http.StatusFound))
	}
	return mux
}

type server struct{ dir string }

// types are settled here, so that they don't depend on the machine's own list.
var types = map[string]string{
	".html":        "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".webmanifest": "application/manifest+json",
	".wasm":        "application/wasm",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".gz":          "application/gzip",
}

func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		w.Header().Set("Allow", "GET, HEAD")
		http.Error(w, "method not allowed", http.StatusMethodNotAllowed)
		return
	}
	// The browser is to ask again each time: a new build is then seen at once.
	w.Header().Set("Cache-Control", "no-cache")
	w.Header().Set("X-Content-Type-Options", "nosniff")

	clean := path.Clean("/" + r.URL.Path)
	name := filepath.Join(s.dir, filepath.FromSlash(clean))
	info, err := os.Stat(name)
	switch {
	case err == nil && info.IsDir() && !strings.HasSuffix(r.URL.Path, "/"):
		target := path.Base(clean) + "/"
		if r.URL.RawQuery != "" {
			target += "?" + r.URL.RawQuery
		}
		w.Header().Set("Location", target)
		w.WriteHeader(http.StatusMovedPermanently)
		return
	case err == nil && info.IsDir():
		name = filepath.Join(name, "index.html")
	}
	if !s.send(w, r, name) {
		s.missing(w, r)
	}
}

// send sends the file, compressed if there is such a copy that the browser
// takes. It reports whether there is such a file.
func (s *server) send(w http.ResponseWriter, r *http.Request, name string) bool {
	info, err := os.Stat(name)
	if err != nil || info.IsDir() {
		return false
	}
	sent := name
	h := w.Header()
	if t := types[filepath.Ext(name)]; t != "" {
		h.Set("Content-Type", t)
	}
	for _, c := range []struct{ ext, coding string }{{".br", "br"}, {".gz", "gzip"}} {
		if _, err := os.Stat(name + c.ext); err != nil {
			continue
		}
		h.Set("Vary", "Accept-Encoding")
		if sent == name && accepts(r.Header.Get("Accept-Encoding"), c.coding) {
			sent = name + c.ext
			h.Set("Content-Encoding", c.coding)
		}
	}
	f, err := os.Open(sent)
	if err != nil {
		return false
	}
	defer f.Close()
	http.ServeContent(w, r, name, modified(f), f)
	return true
}

func modified(f *os.File) time.Time {
	info, err := f.Stat()
	if err != nil {
		return time.Time{}
	}
	return info.ModTime()
}

// accepts reports whether an Accept-Encoding header names the coding without
// refusing it.
func accepts(header, coding string) bool {
	for offer := range strings.SplitSeq(header, ",") {
		name, weight, _ := strings.Cut(strings.TrimSpace(offer), ";")
		if strings.TrimSpace(name) != coding {
			continue
		}
		q, ok := strings.CutPrefix(strings.ReplaceAll(weight, " ", ""), "q=")
		v, err := strconv.ParseFloat(q, 64)
		return !ok || err != nil || v > 0
	}
	return false
}

// missing answers with the site's own page for unknown addresses.
func (s *server) missing(w http.ResponseWriter, r *http.Request) {
	content, err := os.ReadFile(filepath.Join(s.dir, "404.html"))
	if err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", types[".html"])
	w.WriteHeader(http.StatusNotFound)
	if r.Method == http.MethodGet {
		_, _ = w.Write(content) // a browser that is gone needs no answer
	}
}
