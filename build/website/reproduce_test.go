package website

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var whole = flag.Bool("whole", false, "compare whole builds, each from an empty cache, with all compressed copies")

// checkout copies the source to a folder of its own.
func checkout(t *testing.T) string {
	t.Helper()
	root := filepath.Join(t.TempDir(), "source")
	require.NoError(t, os.MkdirAll(root, 0o755))
	for _, name := range []string{"go.mod", "go.sum"} {
		require.NoError(t, os.WriteFile(filepath.Join(root, name), read(t, "../..", name), 0o644))
	}
	for _, name := range []string{"app", "knowledge", "web"} {
		require.NoError(t, os.CopyFS(filepath.Join(root, name), os.DirFS(filepath.Join("../..", name))))
	}
	return root
}

// Where the source lies, and what was built there before, leaves no trace in the
// site: it is the same bit for bit.
func TestTwoCheckoutsMakeTheSameSite(t *testing.T) {
	var dirs []string
	for range 2 {
		if *whole {
			t.Setenv("GOCACHE", t.TempDir())
		}
		dir := filepath.Join(t.TempDir(), "site")
		_, err := Build(Options{Root: checkout(t), Out: dir, Base: "/", Quick: !*whole, Notice: func(text string) { assert.Fail(t, text) }})
		require.NoError(t, err)
		dirs = append(dirs, dir)
	}
	files := [2]int{}
	each(t, dirs[0], "", func(name, content string) {
		files[0]++
		if content != string(read(t, dirs[1], name)) {
			assert.Fail(t, "differs", name)
		}
	})
	each(t, dirs[1], "", func(string, string) { files[1]++ })
	assert.Equal(t, files[0], files[1])
}
