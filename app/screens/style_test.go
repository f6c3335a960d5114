package screens

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
)

const root = "../.."

// styles reads all style sheets, by name.
func styles(t *testing.T) map[string]string {
	files, err := filepath.Glob(root + "/web/css/*.css")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	out := map[string]string{}
	for _, f := range files {
		b, err := os.ReadFile(f)
		require.NoError(t, err)
		out[filepath.Base(f)] = regexp.MustCompile(`(?s)/\*.*?\*/`).ReplaceAllString(string(b), "")
	}
	return out
}

var (
	classInSheet = regexp.MustCompile(`\.(-?[a-zA-Z_][\w-]*)`)
	classInPage  = regexp.MustCompile(`\sclass="([^"]*)"`)
	selector     = regexp.MustCompile(`(?m)^\s*([^{}@;]+?)\s*\{`)
)

// defined lists the classes of the style sheets.
func defined(t *testing.T) map[string]bool {
	out := map[string]bool{}
	for _, css := range styles(t) {
		for _, s := range selector.FindAllStringSubmatch(css, -1) {
			for _, c := range classInSheet.FindAllStringSubmatch(s[1], -1) {
				out[c[1]] = true
			}
		}
	}
	return out
}

func TestEveryClassUsedIsDefined(t *testing.T) {
	have := defined(t)
	missing := map[string]route.Address{}
	everyPage(t, func(_ *testing.T, a route.Address, html string) {
		for _, m := range classInPage.FindAllStringSubmatch(html, -1) {
			for _, c := range strings.Fields(m[1]) {
				if !have[c] {
					missing[c] = a
				}
			}
		}
	})
	assert.Empty(t, missing)
}

func TestEveryClassDefinedIsUsed(t *testing.T) {
	var source strings.Builder
	for _, pattern := range []string{"/app/*/*.go", "/web/*.js", "/build/website/*.go", "/knowledge/catalogue/data/drawings/*.svg"} {
		files, err := filepath.Glob(root + pattern)
		require.NoError(t, err)
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			b, err := os.ReadFile(f)
			require.NoError(t, err)
			source.Write(b)
		}
	}
	text := source.String()
	for c := range defined(t) {
		whole := regexp.MustCompile(`["\x60 ]` + regexp.QuoteMeta(c) + `["\x60 ]`).MatchString(text)
		// A modifier is sometimes put together: "button--" + rank, or "band--%s".
		if block, modifier, ok := strings.Cut(c, "--"); ok && !whole {
			put := strings.Contains(text, block+`--"`) || strings.Contains(text, block+"--%s")
			whole = put && strings.Contains(text, `"`+modifier+`"`)
		}
		assert.True(t, whole, "class %q is used nowhere", c)
	}
}

func TestSheetsAreFlat(t *testing.T) {
	for name, css := range styles(t) {
		assert.NotContains(t, css, "!important", name)
		assert.NotRegexp(t, `#[a-zA-Z][\w-]*\s*[,{]`, css, "%s: no ids", name)
		if name == "tokens.css" || name == "shell.css" {
			continue
		}
		assert.NotRegexp(t, `#[0-9a-fA-F]{3,8}\b|rgba?\(`, css, "%s: colours come from tokens.css", name)
	}
}

// tokens reads the colours of each light from tokens.css.
func tokens(t *testing.T) map[string]map[string]string {
	css := styles(t)["tokens.css"]
	block := regexp.MustCompile(`(?s)([^{}]+)\{([^{}]*)\}`)
	colour := regexp.MustCompile(`--([\w-]+):\s*(#[0-9a-fA-F]{6})`)
	out := map[string]map[string]string{"day": {}, "night": {}}
	for _, b := range block.FindAllStringSubmatch(css, -1) {
		for _, c := range colour.FindAllStringSubmatch(b[2], -1) {
			switch head := strings.TrimSpace(b[1]); {
			case head == ":root":
				out["day"][c[1]] = c[2]
				if out["night"][c[1]] == "" {
					out["night"][c[1]] = c[2]
				}
			case strings.Contains(head, `[data-light="night"]`):
				out["night"][c[1]] = c[2]
			}
		}
	}
	return out
}

// luminance is WCAG 2.2's relative luminance of a colour "#rrggbb".
func luminance(hex string) float64 {
	channel := func(i int) float64 {
		n, _ := strconv.ParseUint(hex[i:i+2], 16, 8)
		c := float64(n) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(1) + 0.7152*channel(3) + 0.0722*channel(5)
}

// contrast is WCAG 2.2's contrast ratio of two colours.
func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	// WCAG 2.2, definition of contrast ratio: from 1:1 to 21:1.
	assert.InDelta(t, 21, contrast("#000000", "#ffffff"), 1e-9)
	assert.InDelta(t, 1, contrast("#7f7f7f", "#7f7f7f"), 1e-9)
	// WebAIM, "Contrast and Color Accessibility": #777777 on white is 4.48:1 and
	// #0000FF on white 8.59:1.
	assert.InDelta(t, 4.48, contrast("#777777", "#ffffff"), 0.005)
	assert.InDelta(t, 8.59, contrast("#0000ff", "#ffffff"), 0.005)
}

func TestTextContrast(t *testing.T) {
	pairs := [][2]string{
		{"on-accent", "accent"}, {"on-danger", "danger"}, {"on-warning", "warning"}, {"on-caution", "caution"}, {"on-notice", "notice"},
		{"on-head", "head"}, {"on-head-soft", "head"}, {"mark", "head"},
		{"ink", "accent-ground"}, {"accent", "accent-ground"}, {"ink-soft", "accent-ground"},
	}
	for _, text := range []string{"ink", "ink-soft", "accent", "good", "bad", "unsure"} {
		pairs = append(pairs, [2]string{text, "ground"}, [2]string{text, "sheet"})
	}
	for _, call := range []string{"good", "bad", "unsure"} {
		pairs = append(pairs, [2]string{call, call + "-ground"}, [2]string{"ink", call + "-ground"})
	}
	for light, colours := range tokens(t) {
		for _, p := range pairs {
			require.NotEmpty(t, colours[p[0]], p[0])
			require.NotEmpty(t, colours[p[1]], p[1])
			// WCAG 2.2, success criterion 1.4.6 (AAA).
			assert.GreaterOrEqual(t, contrast(colours[p[0]], colours[p[1]]), 7.0, "%s: %s on %s", light, p[0], p[1])
		}
		for _, p := range [][2]string{{"rule", "ground"}, {"rule", "sheet"}, {"bar", "bar-ground"}, {"accent", "ground"}} {
			// WCAG 2.2, success criterion 1.4.11.
			assert.GreaterOrEqual(t, contrast(colours[p[0]], colours[p[1]]), 3.0, "%s: edge %s on %s", light, p[0], p[1])
		}
	}
}

func TestBothWaysToNightAreTheSame(t *testing.T) {
	css := styles(t)["tokens.css"]
	list := regexp.MustCompile(`--[\w-]+:\s*[^;]+;`)
	system := regexp.MustCompile(`(?s)prefers-color-scheme: dark\)\s*\{\s*:root[^{]*\{([^}]*)\}`).FindStringSubmatch(css)
	chosen := regexp.MustCompile(`(?s)\n:root\[data-light="night"\]\s*\{([^}]*)\}`).FindStringSubmatch(css)
	require.NotNil(t, system)
	require.NotNil(t, chosen)
	a, b := list.FindAllString(system[1], -1), list.FindAllString(chosen[1], -1)
	slices.Sort(a)
	slices.Sort(b)
	assert.Equal(t, a, b)
}

// figure is a number with a unit of the trade.
var figure = regexp.MustCompile(`\d\s?(psi|kPa|bar|ohms?|kohm|°F|°C|in-lb|ft-lb|N·m|rpm|mph|V|A|mm|qt)\b`)

func TestScreensHoldNoTradeFigure(t *testing.T) {
	files, err := filepath.Glob(root + "/app/*/*.go")
	require.NoError(t, err)
	set := token.NewFileSet()
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(set, f, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if v, ok := n.(*ast.ValueSpec); ok && strings.HasSuffix(v.Names[0].Name, "Examples") {
				return false // shown to tests only
			}
			if l, ok := n.(*ast.BasicLit); ok && l.Kind == token.STRING {
				assert.False(t, figure.MatchString(l.Value), fmt.Sprintf("%s: %s belongs in the knowledge", set.Position(l.Pos()), l.Value))
			}
			return true
		})
	}
}
