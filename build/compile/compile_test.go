package compile

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/author"
)

const root = "../.."

// The committed files are what the records give today.
func TestGenerated(t *testing.T) {
	files, err := Generate(os.DirFS(root))
	require.NoError(t, err)
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(root, name))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), "%s is stale: run go run ./build compile", name)
	}
}

func TestSameRecordsGiveTheSameText(t *testing.T) {
	first, err := Generate(os.DirFS(root))
	require.NoError(t, err)
	second, err := Generate(os.DirFS(root))
	require.NoError(t, err)
	assert.Equal(t, first, second)
}

func TestWrongRecordsAreNotCompiled(t *testing.T) {
	_, err := Generate(fstest.MapFS{})
	var problems author.Problems
	require.ErrorAs(t, err, &problems)
	assert.NotEmpty(t, problems)

	empty := t.TempDir()
	require.ErrorAs(t, Compile(empty), &problems)
	left, err := os.ReadDir(empty)
	require.NoError(t, err)
	assert.Empty(t, left, "nothing is written")
}

func TestLiteral(t *testing.T) {
	type inner struct{ Text string }
	type record struct {
		Name   string
		Count  float64
		Ready  bool
		Inner  *inner
		Others []inner
		Words  []string
		Reason string `keep:"author"`
	}
	text, err := source("Package shipped is a test.", "Record", "a record", record{
		Name: `a "quoted" name`, Count: 0.1, Ready: true, Inner: &inner{"in"}, Others: []inner{{"one"}, {}}, Words: []string{"a", "b"}, Reason: "is left out",
	})
	require.NoError(t, err)
	assert.Contains(t, string(text), `
var data = compile.record{
	Name:  "a \"quoted\" name",
	Count: 0.1,
	Ready: true,
	Inner: &compile.inner{Text: "in"},
	Others: []compile.inner{
		{Text: "one"},
		{},
	},
	Words: []string{"a", "b"},
}
`)
}
