package compile

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const root = "../.."

func TestGenerated(t *testing.T) {
	files, err := Generate(os.DirFS(root))
	require.NoError(t, err)
	for name, want := range files {
		got, err := os.ReadFile(filepath.Join(root, name))
		require.NoError(t, err)
		assert.Equal(t, string(want), string(got), "%s is stale: run go run ./build compile", name)
	}
}
