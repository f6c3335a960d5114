package website

import (
	"bytes"
	"crypto/sha256"
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

// leanModule lays down the trimmed copies and a go.mod that points to them, and
// returns the go.mod's path. All are under build/out, named after what is in
// them, so that several builds at once don't meet half a copy. The paths in
// go.mod are relative: they end up in the program.
func leanModule(root string) (string, error) {
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return "", err
	}
	from := make([]string, len(trims))
	hash := sha256.New()
	fmt.Fprintf(hash, "%s\n%s\n", mod, sum)
	for i, t := range trims {
		dir, err := run(root, []string{"list", "-m", "-f", "{{.Dir}}", t.module})
		if err != nil {
			return "", err
		}
		from[i] = strings.TrimSpace(dir)
		fmt.Fprintln(hash, from[i], t.edits, t.adds) // maps print in the order of their keys
	}
	name := fmt.Sprintf("lean-%x", hash.Sum(nil)[:6])
	dir := filepath.Join(root, "build", "out", name)
	module := filepath.Join(dir, "go.mod")
	if _, err := os.Stat(module); err == nil {
		return module, nil
	}

	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return "", err
	}
	half, err := os.MkdirTemp(filepath.Dir(dir), name+"-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(half)
	mod = append(mod, '\n')
	for i, t := range trims {
		folder := fmt.Sprint("module", i)
		if err := t.lay(os.DirFS(from[i]), filepath.Join(half, folder)); err != nil {
			return "", err
		}
		mod = fmt.Appendf(mod, "replace %s => ./build/out/%s/%s\n", t.module, name, folder)
	}
	if err := os.WriteFile(filepath.Join(half, "go.mod"), mod, 0o644); err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(half, "go.sum"), sum, 0o644); err != nil {
		return "", err
	}
	// Another build may have been first; then its copy is as good.
	if err := os.Rename(half, dir); err != nil {
		if _, missing := os.Stat(module); missing != nil {
			return "", err
		}
	}
	return module, nil
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
