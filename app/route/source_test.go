package route

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the source of the screens must not hold, and why.
var refused = []struct {
	pattern *regexp.Regexp
	why     string
}{
	{regexp.MustCompile("(?:Href|Navigate)\\([`\"]/"), "addresses are made here and nowhere else: a site in a folder has others"},
	{regexp.MustCompile(`\bapp\.If\(`), "go-app builds both sides of app.If, nil or not: use a plain if"},
}

func TestScreensKeepToTheRules(t *testing.T) {
	files := 0
	require.NoError(t, filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
			strings.HasPrefix(path, filepath.Join("..", "route")) {
			return err
		}
		files++
		content, err := os.ReadFile(path)
		for number, line := range strings.Split(string(content), "\n") {
			code, _, _ := strings.Cut(line, "//")
			for _, rule := range refused {
				assert.Falsef(t, rule.pattern.MatchString(code), "%s:%d: %s", path, number+1, rule.why)
			}
		}
		return err
	}))
	require.NotZero(t, files)
}
