package compile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTreesAreUpToDate asks the engine for every tree again.
func TestTreesAreUpToDate(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the engine some thousand times")
	}
	root := filepath.Join("..", "..")
	want, err := Trees(os.DirFS(root))
	require.NoError(t, err)
	got, err := os.ReadFile(filepath.Join(root, filepath.FromSlash(TreesFile)))
	require.NoError(t, err)
	assert.True(t, string(want) == string(got), "%s is out of date: run make generate", TreesFile)
}
