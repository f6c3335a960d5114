package main

import (
	"encoding/json"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type listed struct {
	ImportPath string
	Dir        string
	GoFiles    []string
	Imports    []string
}

// packages lists the project's own packages as they are built for the browser.
func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,Imports", "provingbench/...")
	out, err := cmd.Output()
	require.NoError(t, err)
	var all []listed
	decoder := json.NewDecoder(strings.NewReader(string(out)))
	for {
		var p listed
		err := decoder.Decode(&p)
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		all = append(all, p)
	}
	require.NotEmpty(t, all)
	return all
}

const goApp = "github.com/maxence-charriere/go-app/v9/pkg/app"

// importRule says which imports are not allowed, and why.
type importRule struct {
	why    string
	broken func(from, to string) bool
}

var importRules = []importRule{
	{
		"knowledge is true without a screen",
		func(from, to string) bool {
			return within(from, "provingbench/knowledge") &&
				(within(to, "provingbench/app") || within(to, "provingbench/build") || to == goApp || to == "syscall/js")
		},
	},
	{
		"nothing imports the screens but the builder",
		func(from, to string) bool {
			return within(to, "provingbench/app") && !within(from, "provingbench/app") && !within(from, "provingbench/build")
		},
	},
	{
		"nothing imports the workshop",
		func(from, to string) bool {
			return within(to, "provingbench/build") && !within(from, "provingbench/build")
		},
	},
	{
		"the browser is reached through app/dom only",
		func(from, to string) bool { return to == "syscall/js" && from != "provingbench/app/dom" },
	},
	{
		"the browser parses no YAML",
		func(from, to string) bool {
			return strings.HasPrefix(to, "go.yaml.in/yaml") &&
				!within(from, "provingbench/build") && !strings.HasSuffix(from, "/author")
		},
	},
}

func within(path, tree string) bool { return path == tree || strings.HasPrefix(path, tree+"/") }

func TestImportsPointDown(t *testing.T) {
	for _, p := range packages(t) {
		for _, to := range p.Imports {
			for _, rule := range importRules {
				assert.Falsef(t, rule.broken(p.ImportPath, to), "%s imports %s, but %s", p.ImportPath, to, rule.why)
			}
		}
	}
}

func TestImportRulesCanBeBroken(t *testing.T) {
	for _, c := range [][2]string{
		{"provingbench/knowledge/coil", goApp},
		{"provingbench/knowledge/coil", "provingbench/app/route"},
		{"provingbench/app/find", "syscall/js"},
		{"provingbench/app/find", "go.yaml.in/yaml/v3"},
		{"provingbench/app/find", "provingbench/build/website"},
	} {
		assert.True(t, slices.ContainsFunc(importRules, func(r importRule) bool { return r.broken(c[0], c[1]) }),
			"%s may import %s", c[0], c[1])
	}
}

// What the source of the screens must not hold, and why.
var sourceRules = []struct {
	pattern *regexp.Regexp
	why     string
	except  string
}{
	{regexp.MustCompile(`\.Style\(`), "the security policy refuses style attributes: use a class", ""},
	{regexp.MustCompile("(?:Href|Navigate)\\([`\"]/"), "addresses are made in app/route only", "provingbench/app/route"},
	{regexp.MustCompile(`\bapp\.If\(`), "go-app builds both sides of app.If: use a plain if", ""},
}

func TestScreensKeepToTheRules(t *testing.T) {
	for _, p := range packages(t) {
		if !within(p.ImportPath, "provingbench/app") {
			continue
		}
		for _, file := range p.GoFiles {
			content, err := os.ReadFile(filepath.Join(p.Dir, file))
			require.NoError(t, err)
			for number, line := range strings.Split(string(content), "\n") {
				code, _, _ := strings.Cut(line, "//")
				for _, rule := range sourceRules {
					if p.ImportPath != rule.except {
						assert.Falsef(t, rule.pattern.MatchString(code), "%s/%s:%d: %s", p.ImportPath, file, number+1, rule.why)
					}
				}
			}
		}
	}
}
