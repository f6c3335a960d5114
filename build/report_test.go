package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/website"
)

func TestReportListsEveryAddressBesideTheSite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	for name, content := range map[string]string{"index.html": "home", "index.html.br": "h", "checks/fluid-level/index.html": "check", "worker.js": "w"} {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(content), 0o644))
	}
	a, err := accountOf(dir, "/", website.Report{Version: "abc", Sizes: []website.Size{{Part: "program", Plain: 7}}})
	require.NoError(t, err)
	assert.Equal(t, []routeSize{{"/checks/fluid-level/", 5, 0, 0}, {"/", 4, 0, 1}}, a.Routes)
	assert.Equal(t, 4, a.Files)
	assert.Equal(t, 11, a.Bytes)

	require.NoError(t, a.write(dir))
	data, err := os.ReadFile(dir + "-report.json")
	require.NoError(t, err)
	var read account
	require.NoError(t, json.Unmarshal(data, &read))
	assert.Equal(t, a, read)
	text, err := os.ReadFile(dir + "-report.txt")
	require.NoError(t, err)
	assert.Contains(t, string(text), "/checks/fluid-level/")

	require.NoError(t, os.WriteFile(filepath.Join(dir, "worker.js"), []byte("x"), 0o644))
	other, err := accountOf(dir, "/", website.Report{})
	require.NoError(t, err)
	assert.NotEqual(t, a.Hash, other.Hash)
}
