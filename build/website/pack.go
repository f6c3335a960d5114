package website

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/json"
	"mime"
	"path"
	"strings"

	"github.com/andybalholm/brotli"
)

// pack puts files one behind the other with an index in front: four bytes of
// length, least significant first, the index as JSON, then the contents. The
// service worker takes it apart. One file instead of hundreds comes in whole or
// not at all.
func pack(files []file) []byte {
	index := make([][3]any, len(files))
	for i, f := range files {
		index[i] = [3]any{strings.TrimSuffix(f.path, "index.html"), contentType(f.path), len(f.content)}
	}
	head, err := json.Marshal(index)
	if err != nil {
		panic(err) // strings and numbers
	}
	b := binary.LittleEndian.AppendUint32(nil, uint32(len(head)))
	b = append(b, head...)
	for _, f := range files {
		b = append(b, f.content...)
	}
	return b
}

// contentType is what a host should say that a file is. It is settled here and
// not taken from the machine's own list.
func contentType(name string) string {
	switch path.Ext(name) {
	case ".html":
		return "text/html; charset=utf-8"
	case ".css":
		return "text/css; charset=utf-8"
	case ".js":
		return "text/javascript; charset=utf-8"
	case ".webmanifest":
		return "application/manifest+json"
	case ".wasm":
		return "application/wasm"
	case ".svg":
		return "image/svg+xml"
	case ".png":
		return "image/png"
	}
	if t := mime.TypeByExtension(path.Ext(name)); t != "" {
		return t
	}
	return "application/octet-stream"
}

// compressible reports whether hosts should find a compressed copy beside the
// file.
func compressible(name string) bool {
	switch path.Ext(name) {
	case ".html", ".css", ".js", ".webmanifest", ".svg", ".wasm":
		return true
	}
	return false
}

func gzipped(content []byte, level int) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, level)
	if err != nil {
		panic(err) // the levels are constants
	}
	_, _ = w.Write(content) // a buffer takes everything
	_ = w.Close()
	return b.Bytes()
}

func brotlied(content []byte) []byte {
	var b bytes.Buffer
	w := brotli.NewWriterOptions(&b, brotli.WriterOptions{Quality: brotli.BestCompression, LGWin: 24})
	_, _ = w.Write(content) // a buffer takes everything
	_ = w.Close()
	return b.Bytes()
}
