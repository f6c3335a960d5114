// Package rules holds the project against its own rules of construction, those
// that a compiler or a linter doesn't know.
package rules

import (
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io/fs"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const root = "../.."

// imports returns what each package of the project imports, itself or through
// others, tests left out.
func imports(t *testing.T, env ...string) map[string][]string {
	t.Helper()
	cmd := exec.Command("go", "list", "-f", "{{.ImportPath}} {{join .Deps \" \"}}", "./app/...", "./knowledge/...")
	cmd.Dir = root
	cmd.Env = append(cmd.Environ(), env...)
	out, err := cmd.Output()
	require.NoError(t, err)
	deps := map[string][]string{}
	for line := range strings.Lines(string(out)) {
		words := strings.Fields(line)
		deps[words[0]] = words[1:]
	}
	require.Greater(t, len(deps), 20)
	return deps
}

// Dependencies point down: app, then knowledge, then quantity.
func TestDependenciesPointDown(t *testing.T) {
	calculators := regexp.MustCompile(`^provingbench/knowledge/(quantity|coil|fluid|conformity|leak|spring|clutch|ratio|circuit|flatness)$`)
	for name, deps := range imports(t, "GOOS=js", "GOARCH=wasm") {
		for _, dep := range deps {
			if strings.HasPrefix(name, "provingbench/knowledge/") {
				assert.False(t, strings.HasPrefix(dep, "provingbench/app"), "%s imports %s: knowledge knows no screens", name, dep)
				assert.NotContains(t, dep, "go-app", "%s: knowledge runs without a browser", name)
			}
			assert.False(t, strings.HasPrefix(dep, "provingbench/build"), "%s imports %s: the workshop stays out of the product", name, dep)
			if calculators.MatchString(name) {
				assert.False(t, strings.HasPrefix(dep, "provingbench/knowledge/catalogue"), "%s imports %s: calculators know no catalogue", name, dep)
			}
			assert.False(t, strings.HasPrefix(name, "provingbench/app") && strings.Contains(dep, "yaml"), "%s links %s: the browser parses no YAML", name, dep)
			if name == "provingbench/knowledge/quantity" {
				assert.False(t, strings.HasPrefix(dep, "provingbench/"), "quantity stands at the bottom and imports %s", dep)
			}
		}
	}
}

// Only app/dom touches the browser; screens go through it or through go-app.
func TestOnlyDomTouchesTheBrowser(t *testing.T) {
	files(t, "app", func(path string, f *ast.File, _ *token.FileSet) {
		for _, i := range f.Imports {
			if i.Path.Value == `"syscall/js"` {
				assert.Contains(t, path, "app/dom/", "%s imports syscall/js", path)
			}
		}
	})
}

// A figure with a unit belongs to knowledge, with its provenance. Screens print
// what they are given.
func TestScreensHoldNoFigures(t *testing.T) {
	figure := regexp.MustCompile(`\d\s*(psi|kPa|ohm|Ω|°F|°C|rpm|mph|in-lb|ft-lb|N·m|qt)\b`)
	seen := 0
	var found []string
	files(t, "app", func(path string, f *ast.File, set *token.FileSet) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		ast.Inspect(f, func(n ast.Node) bool {
			if v, ok := n.(*ast.ValueSpec); ok && strings.HasSuffix(v.Names[0].Name, "Examples") {
				return false // what a part shows in tests and screenshots
			}
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				seen++
				if figure.MatchString(l.Value) {
					found = append(found, set.Position(l.Pos()).String()+": "+l.Value)
				}
			}
			return true
		})
	})
	assert.Empty(t, found, "take the trade's figures from knowledge")
	assert.Greater(t, seen, 300)
}

// Screens never set style attributes: the security policy forbids them.
func TestScreensSetNoStyle(t *testing.T) {
	var found []string
	files(t, "app", func(_ string, f *ast.File, set *token.FileSet) {
		ast.Inspect(f, func(n ast.Node) bool {
			if s, ok := n.(*ast.SelectorExpr); ok && (s.Sel.Name == "Style" || s.Sel.Name == "Styles") {
				found = append(found, set.Position(s.Pos()).String())
			}
			return true
		})
	})
	assert.Empty(t, found)
}

// Every exported computation of the calculators says its errors and its source.
func TestComputationsSayErrorsAndSource(t *testing.T) {
	checked := 0
	for _, dir := range []string{"coil", "fluid", "conformity", "infer", "leak", "spring", "clutch", "ratio", "circuit", "flatness", "hydraulics"} {
		set := token.NewFileSet()
		paths, err := filepath.Glob(filepath.Join(root, "knowledge", dir, "*.go"))
		require.NoError(t, err)
		var parsed []*ast.File
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
			require.NoError(t, err)
			parsed = append(parsed, f)
		}
		d, err := doc.NewFromFiles(set, parsed, "provingbench/knowledge/"+dir)
		require.NoError(t, err)
		functions := d.Funcs
		for _, y := range d.Types {
			functions = append(functions, y.Methods...)
			functions = append(functions, y.Funcs...)
		}
		for _, f := range functions {
			if !computes(f.Decl) {
				continue
			}
			checked++
			assert.Contains(t, f.Doc, "Source:", "%s.%s has no source", dir, f.Name)
			assert.Contains(t, f.Doc, "Error", "%s.%s doesn't say its errors", dir, f.Name)
		}
		assert.NotEmpty(t, d.Doc, "package %s has no comment", dir)
	}
	assert.Greater(t, checked, 8)
}

// computes reports whether a function returns both a number and an error.
func computes(f *ast.FuncDecl) bool {
	if f.Type.Results == nil || len(f.Type.Results.List) < 2 {
		return false
	}
	last, ok := f.Type.Results.List[len(f.Type.Results.List)-1].Type.(*ast.Ident)
	if !ok || last.Name != "error" {
		return false
	}
	switch first := f.Type.Results.List[0].Type.(type) {
	case *ast.Ident:
		return first.Name == "float64"
	case *ast.SelectorExpr:
		x, ok := first.X.(*ast.Ident)
		return ok && x.Name == "quantity"
	}
	return false
}

// files calls do for every Go file under a folder of the project.
func files(t *testing.T, dir string, do func(path string, f *ast.File, set *token.FileSet)) {
	t.Helper()
	count := 0
	err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		set := token.NewFileSet()
		f, err := parser.ParseFile(set, path, nil, parser.ParseComments)
		if err != nil {
			return err
		}
		count++
		do(filepath.ToSlash(path), f, set)
		return nil
	})
	require.NoError(t, err)
	require.Positive(t, count)
}
