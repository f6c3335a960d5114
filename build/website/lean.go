package website

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// A trim says which part of a dependency the browser's program is built against.
type trim struct {
	module string
	keep   func(name string) bool // which files, by path in the module; go.mod is always kept
	edits  []edit
	adds   map[string]string
}

// An edit replaces a text that must be there: a version of the dependency that
// reads otherwise is not to be half trimmed.
type edit struct{ file, old, new string }

// serverOnly keeps a file for the tool that builds the pages and away from the
// program.
func serverOnly(file string) edit {
	return edit{file, "package app\n", "//go:build !wasm\n\npackage app\n"}
}

var trims = []trim{
	{
		// Without its server; without regular expressions, of which the tool's one
		// route needs none; and without ciphers, as the tool keeps no secrets.
		module: "github.com/maxence-charriere/go-app/v9",
		keep: func(name string) bool {
			return strings.HasPrefix(name, "pkg/app/") || strings.HasPrefix(name, "pkg/errors/")
		},
		edits: []edit{
			serverOnly("pkg/app/http.go"),
			serverOnly("pkg/app/resource.go"),
			serverOnly("pkg/app/crypto.go"),
			{"pkg/app/route.go", "\t\"regexp\"\n", ""},
			{"pkg/app/route.go", "regexp.MustCompile(pattern)", "everyPath(pattern)"},
			{"pkg/app/route.go", "*regexp.Regexp", "allPaths"},
		},
		adds: map[string]string{
			"pkg/app/browser.go": `//go:build wasm

package app

import (
	"errors"
	"strings"
)

type Handler struct{}

func isRemoteLocation(path string) bool {
	return strings.HasPrefix(path, "https://") || strings.HasPrefix(path, "http://")
}

func isStaticResourcePath(path string) bool {
	return strings.HasPrefix(path, "/web/") || strings.HasPrefix(path, "web/")
}

type allPaths struct{}

func (allPaths) MatchString(string) bool { return true }

func everyPath(pattern string) allPaths {
	if pattern != ".*" {
		panic("this build routes every path to one component, not " + pattern)
	}
	return allPaths{}
}

var errNoCipher = errors.New("this build carries no cipher")

func encrypt(string, []byte) ([]byte, error) { return nil, errNoCipher }

func decrypt(string, []byte) ([]byte, error) { return nil, errNoCipher }
`,
		},
	},
	{
		// go-app wants random names and nothing else of it.
		module: "github.com/google/uuid",
		keep:   func(string) bool { return false },
		adds: map[string]string{
			"uuid.go": `package uuid

import (
	"math/rand/v2"
	"strconv"
)

func NewString() string {
	return strconv.FormatUint(rand.Uint64(), 36) + "-" + strconv.FormatUint(rand.Uint64(), 36)
}
`,
		},
	},
	{
		// Without the tests' own tools, which bring package testing along.
		module: "github.com/kljensen/snowball",
		keep: func(name string) bool {
			switch path.Dir(name) {
			case "english", "romance", "snowballword":
				return name != "romance/testing_helpers.go"
			}
			return false
		},
	},
}

// standard is what the program leaves out of the standard library: the names of
// all characters, as it only writes HTML; addresses in digits, which the browser
// has read by the time that the program is given its own; and the switches for
// older behaviour, which no environment sets here, with the metrics that count
// their use.
var standard = trim{
	module: "std",
	keep:   func(name string) bool { return name == "net/url/url.go" },
	edits: []edit{
		{"net/url/url.go", "\t\"net/netip\"\n", ""},
		{"net/url/url.go", "netip.ParseAddr(", "browserHost("},
	},
	adds: map[string]string{
		"net/url/browser.go": `package url

type host struct{}

func (host) Is4() bool { return false }

func browserHost(string) (host, error) { return host{}, nil }
`,
		"html/entity.go": "package html\n",
		"html/escape.go": `package html

import "strings"

var escaper = strings.NewReplacer("&", "&amp;", "'", "&#39;", "<", "&lt;", ">", "&gt;", "\"", "&#34;")

func EscapeString(s string) string { return escaper.Replace(s) }
`,
		"internal/godebug/godebug.go": `package godebug

type Setting struct{ name string }

func New(name string) *Setting { return &Setting{name} }

func (s *Setting) Name() string { return s.name }

func (s *Setting) Undocumented() bool { return false }

func (s *Setting) String() string { return s.name + "=" }

func (s *Setting) IncNonDefault() {}

func (s *Setting) Value() string { return "" }
`,
	},
}

// leanModule lays down the trimmed copies, a go.mod that points to those of
// modules, and the list of those of the standard library, and returns the flags
// that build with them. All are under build/out, named after what is in them, so
// that several builds at once don't meet half a copy. The paths in go.mod are
// relative: they end up in the program.
func leanModule(root string) ([]string, error) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return nil, err
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return nil, err
	}
	environment, err := run(root, []string{"env", "GOROOT", "GOVERSION"})
	if err != nil {
		return nil, err
	}
	goroot, goversion, _ := strings.Cut(strings.TrimSpace(environment), "\n")
	library := filepath.Join(goroot, "src")

	hash := sha256.New()
	fmt.Fprintf(hash, "%s\n%s\n%s\n", mod, sum, goversion)
	for _, t := range append(trims, standard) {
		fmt.Fprintln(hash, t.module, t.edits, t.adds) // maps print in the order of their keys
	}
	name := fmt.Sprintf("lean-%x", hash.Sum(nil)[:6])
	dir := filepath.Join(root, "build", "out", name)
	module, list := filepath.Join(dir, "go.mod"), filepath.Join(dir, "overlay.json")
	flags := []string{"-modfile=" + module, "-overlay=" + list}
	if _, err := os.Stat(module); err == nil {
		return flags, standard.list(list, library, filepath.Join(dir, "std"))
	}

	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return nil, err
	}
	half, err := os.MkdirTemp(filepath.Dir(dir), name+"-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(half)
	mod = append(mod, '\n')
	for i, t := range trims {
		from, err := run(root, []string{"list", "-m", "-f", "{{.Dir}}", t.module})
		if err != nil {
			return nil, err
		}
		folder := fmt.Sprint("module", i)
		if err := t.lay(os.DirFS(strings.TrimSpace(from)), filepath.Join(half, folder)); err != nil {
			return nil, err
		}
		mod = fmt.Appendf(mod, "replace %s => ./build/out/%s/%s\n", t.module, name, folder)
	}
	if err := standard.lay(os.DirFS(library), filepath.Join(half, "std")); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(half, "go.mod"), mod, 0o644); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(half, "go.sum"), sum, 0o644); err != nil {
		return nil, err
	}
	// Another build may have been first; then its copy is as good.
	if err := os.Rename(half, dir); err != nil {
		if _, missing := os.Stat(module); missing != nil {
			return nil, err
		}
	}
	return flags, standard.list(list, library, filepath.Join(dir, "std"))
}

// list writes which files of the library are read from the trimmed copy. The go
// command wants full paths there, so that the list is only good where it was
// written, and is written each time. It comes in whole: builds may run at once.
func (t trim) list(name, library, trimmed string) error {
	replace := map[string]string{}
	for file := range t.adds {
		replace[filepath.Join(library, filepath.FromSlash(file))] = filepath.Join(trimmed, filepath.FromSlash(file))
	}
	for _, e := range t.edits {
		replace[filepath.Join(library, filepath.FromSlash(e.file))] = filepath.Join(trimmed, filepath.FromSlash(e.file))
	}
	content, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		panic(err) // strings
	}
	half, err := os.CreateTemp(filepath.Dir(name), "overlay-")
	if err != nil {
		return err
	}
	defer os.Remove(half.Name())
	if _, err := half.Write(content); err != nil {
		half.Close()
		return err
	}
	if err := half.Close(); err != nil {
		return err
	}
	return os.Rename(half.Name(), name)
}

// lay copies what is kept of the module, edited, to a folder.
func (t trim) lay(from fs.FS, to string) error {
	files := map[string][]byte{}
	for name, text := range t.adds {
		files[name] = []byte(text)
	}
	err := fs.WalkDir(from, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		source := strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go")
		if name == "go.mod" || source && t.keep(name) {
			files[name], err = fs.ReadFile(from, name)
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, e := range t.edits {
		if !bytes.Contains(files[e.file], []byte(e.old)) {
			return fmt.Errorf("website: %s of %s does not read %q", e.file, t.module, e.old)
		}
		files[e.file] = bytes.ReplaceAll(files[e.file], []byte(e.old), []byte(e.new))
	}
	for name, content := range files {
		target := filepath.Join(to, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(target, content, 0o644); err != nil {
			return err
		}
	}
	return nil
}
