package browsertest

import (
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// Server is the plainest of static hosts: Go's file server, without
// compression, without rewriting, with whatever types it comes up with.
type Server struct {
	URL string // of the site's base, without a slash at its end

	t    testing.TB
	addr string

	mu     sync.Mutex
	files  http.Handler
	header http.Header
	server *http.Server
	asked  []string
}

// Serve serves a built site until the test ends.
func Serve(t testing.TB, site Built) *Server {
	t.Helper()
	s := &Server{t: t, addr: "127.0.0.1:0"}
	s.Deploy(site)
	s.Start()
	s.URL = "http://" + s.addr + strings.TrimSuffix(site.Base, "/")
	t.Cleanup(s.Stop)
	return s
}

// Deploy replaces the files that are served.
func (s *Server) Deploy(site Built) {
	files := http.StripPrefix(strings.TrimSuffix(site.Base, "/"), http.FileServer(http.Dir(site.Dir)))
	s.mu.Lock()
	defer s.mu.Unlock()
	s.files = files
}

// Answer adds headers to every answer from now on, as a host does that is set up
// for something else. They win over what the file server says.
func (s *Server) Answer(header http.Header) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.header = header
}

// Stop makes the host unreachable.
func (s *Server) Stop() {
	s.mu.Lock()
	server := s.server
	s.server = nil
	s.mu.Unlock()
	if server != nil {
		_ = server.Close() // nobody is left to tell
	}
}

// Start makes the host reachable again at the same address.
func (s *Server) Start() {
	s.t.Helper()
	listener, err := net.Listen("tcp", s.addr)
	require.NoError(s.t, err)
	s.addr = listener.Addr().String()
	server := &http.Server{Handler: http.HandlerFunc(s.serve)}
	s.mu.Lock()
	s.server = server
	s.mu.Unlock()
	go func() { _ = server.Serve(listener) }() // ends when the server is closed
}

func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	files := s.files
	s.asked = append(s.asked, r.URL.RequestURI())
	for name, values := range s.header {
		w.Header()[name] = values
	}
	s.mu.Unlock()
	files.ServeHTTP(w, r)
}

// Asked is what has been asked for so far, oldest first.
func (s *Server) Asked() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return append([]string(nil), s.asked...)
}
