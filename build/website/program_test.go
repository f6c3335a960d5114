package website

import (
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is linked in is downloaded by everybody who opens the tool.
func TestProgramLinksNothingItCanDoWithout(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	flags, err := leanModule(root)
	require.NoError(t, err)
	out, err := run(root, append(append([]string{"list"}, flags...), "-deps", "./app/wasm"), "GOOS=js", "GOARCH=wasm")
	require.NoError(t, err)
	linked := strings.Fields(out)
	require.Contains(t, linked, "github.com/maxence-charriere/go-app/v9/pkg/app")
	for _, dear := range []string{
		"net/http", "crypto/tls", "text/template", "html/template", "image/png", "embed", "go/ast",
		"regexp", "crypto/rand", "math/big", "testing", "flag", "net/netip", "internal/bisect",
		"go.yaml.in/yaml/v3", "golang.org/x/text/language", "gonum.org/v1/gonum/mat",
		"provingbench/knowledge/catalogue/author",
	} {
		assert.False(t, slices.Contains(linked, dear), "%s is linked into the program", dear)
	}
}

func TestLeanModuleIsMadeOnce(t *testing.T) {
	root, err := filepath.Abs("../..")
	require.NoError(t, err)
	first, err := leanModule(root)
	require.NoError(t, err)
	second, err := leanModule(root)
	require.NoError(t, err)
	assert.Equal(t, first, second)
}

func TestTrimStopsAtATextThatReadsOtherwise(t *testing.T) {
	from := fstest.MapFS{
		"go.mod":    {Data: []byte("module m\n")},
		"m.go":      {Data: []byte("package m\n\nconst a = 1\n")},
		"m_test.go": {Data: []byte("package m\n")},
		"left.go":   {Data: []byte("package m\n")},
	}
	made := trim{
		module: "m",
		keep:   func(name string) bool { return name == "m.go" || name == "m_test.go" },
		edits:  []edit{{"m.go", "a = 1", "a = 2"}},
		adds:   map[string]string{"more/n.go": "package n\n"},
	}
	to := t.TempDir()
	require.NoError(t, made.lay(from, to))
	assert.Equal(t, "package m\n\nconst a = 2\n", string(read(t, to, "m.go")))
	assert.FileExists(t, filepath.Join(to, "go.mod"))
	assert.FileExists(t, filepath.Join(to, "more", "n.go"))
	assert.NoFileExists(t, filepath.Join(to, "m_test.go"))
	assert.NoFileExists(t, filepath.Join(to, "left.go"))

	made.edits = []edit{{"m.go", "a = 3", "a = 2"}}
	assert.ErrorContains(t, made.lay(from, t.TempDir()), `m.go of m does not read "a = 3"`)
}

func TestProgramIsBuiltPlainlyWhenLeavingOutFails(t *testing.T) {
	broken := errors.New("no such patch")
	for _, c := range []struct {
		name   string
		lean   bool
		module error
		build  error // of the lean build
		want   [][]string
		notice string
	}{
		{"lean", true, nil, nil, [][]string{{"-modfile=lean.mod"}}, ""},
		{"plain is wanted", false, nil, nil, [][]string{nil}, ""},
		{"no module", true, broken, nil, [][]string{nil}, "leaving it out failed: no such patch"},
		{"module does not compile", true, nil, broken, [][]string{{"-modfile=lean.mod"}, nil}, "leaving it out failed: no such patch"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var builds [][]string
			var notice string
			err := smallest(c.lean,
				func() ([]string, error) { return []string{"-modfile=lean.mod"}, c.module },
				func(flags ...string) error {
					builds = append(builds, flags)
					if len(flags) > 0 {
						return c.build
					}
					return nil
				},
				func(text string) { notice = text })
			require.NoError(t, err)
			assert.Equal(t, c.want, builds)
			assert.Contains(t, notice, c.notice)
			assert.Equal(t, c.notice == "", notice == "")
		})
	}
}

func TestProgramThatDoesNotCompileIsAnError(t *testing.T) {
	broken := errors.New("does not compile")
	err := smallest(true,
		func() ([]string, error) { return []string{"-modfile=lean.mod"}, nil },
		func(...string) error { return broken },
		func(string) {})
	assert.ErrorIs(t, err, broken)
}
