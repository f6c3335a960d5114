package website

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

const goApp = "github.com/maxence-charriere/go-app/v9"

// compile builds the program for the browser.
//
// Inlining is off except where the tool computes: it makes the download a
// twentieth larger, and buys nothing on screens that wait for a finger.
//
// The program is first built against a copy of go-app without its server half,
// whose initialisation alone would bring net/http and its cryptography along,
// a quarter of the download. If that fails, it is built plainly and notice is
// called with the reason.
func compile(root string, lean bool, notice func(string)) ([]byte, error) {
	out, err := os.CreateTemp("", "provingbench-*.wasm")
	if err != nil {
		return nil, err
	}
	out.Close()
	defer os.Remove(out.Name())

	build := func(flags ...string) error {
		args := append([]string{
			"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w",
			"-gcflags=all=-l", "-gcflags=provingbench/knowledge/...=",
			"-o", out.Name(),
		}, flags...)
		_, err := run(root, append(args, "./app/wasm"), "GOOS=js", "GOARCH=wasm")
		return err
	}

	err = smallest(lean, func() (string, error) { return leanModule(root) }, build, notice)
	if err != nil {
		return nil, err
	}
	return os.ReadFile(out.Name())
}

// smallest builds with the lean module if it is wanted and works, and plainly
// otherwise.
func smallest(lean bool, module func() (string, error), build func(flags ...string) error, notice func(string)) error {
	if lean {
		path, err := module()
		if err == nil {
			err = build("-modfile=" + path)
		}
		if err == nil {
			return nil
		}
		notice(fmt.Sprintf("the program carries go-app's server half, because leaving it out failed: %v", err))
	}
	return build()
}

// serverStub is what the rest of go-app needs from the files that are left out.
const serverStub = `package app

import "strings"

type Handler struct{}

func isRemoteLocation(path string) bool {
	return strings.HasPrefix(path, "https://") || strings.HasPrefix(path, "http://")
}

func isStaticResourcePath(path string) bool {
	return strings.HasPrefix(path, "/web/") || strings.HasPrefix(path, "web/")
}
`

// leanModule lays down a copy of go-app without its server half and a go.mod
// that points to it, and returns the go.mod's path. Both are under build/out,
// named after what is in them, so that several builds at once don't meet half a
// copy. The path in go.mod is relative: it ends up in the program.
func leanModule(root string) (string, error) {
	from, err := run(root, []string{"list", "-m", "-f", "{{.Dir}}", goApp})
	if err != nil {
		return "", err
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return "", err
	}
	hash := sha256.Sum256(bytes.Join([][]byte{[]byte(from), mod, sum, []byte(serverStub)}, nil))
	name := fmt.Sprintf("lean-%x", hash[:6])
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
	if err := copyWithoutServer(strings.TrimSpace(from), filepath.Join(half, "go-app")); err != nil {
		return "", err
	}
	mod = fmt.Appendf(mod, "\nreplace %s => ./build/out/%s/go-app\n", goApp, name)
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

func copyWithoutServer(from, to string) error {
	err := filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		switch {
		case rel == "." || rel == "pkg" || rel == "go.mod":
		case !strings.HasPrefix(rel, "pkg/") && d.IsDir():
			return fs.SkipDir
		case !strings.HasPrefix(rel, "pkg/"):
			return nil
		case d.IsDir() && d.Name() == "gen":
			return fs.SkipDir
		case !d.IsDir() && (!strings.HasSuffix(rel, ".go") || strings.HasSuffix(rel, "_test.go")):
			return nil
		}
		target := filepath.Join(to, rel)
		if d.IsDir() {
			return os.MkdirAll(target, 0o755)
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		switch rel {
		case "pkg/app/http.go", "pkg/app/resource.go":
			content = append([]byte("//go:build !wasm\n\n"), content...)
		}
		return os.WriteFile(target, content, 0o644)
	})
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(to, "pkg/app/server_wasm.go"), []byte(serverStub), 0o644)
}

// run calls the go command in dir and returns what it printed.
func run(dir string, args []string, environment ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), environment...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, stderr.Bytes())
	}
	return string(out), nil
}
