package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/website"
)

// What `make stick` builds for this system serves the folder beside it, and needs
// nothing of the machine but itself.
func TestServesTheFolderBesideIt(t *testing.T) {
	stick := t.TempDir()
	_, err := website.Build(website.Options{Out: filepath.Join(stick, "site"), Base: "/", Quick: true, Program: []byte("\x00asm stands in for the program")})
	require.NoError(t, err)
	program := filepath.Join(stick, "serve")
	build := exec.Command("go", "build", "-trimpath", "-o", program, ".")
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	out, err := build.CombinedOutput()
	require.NoError(t, err, string(out))
	if runtime.GOOS == "linux" {
		out, err := exec.Command("go", "version", "-m", program).Output()
		require.NoError(t, err)
		assert.Contains(t, string(out), "CGO_ENABLED=0")
	}

	ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
	defer cancel()
	run := exec.CommandContext(ctx, program, "-addr", "localhost:0")
	run.Dir = t.TempDir() // anywhere else
	said, err := run.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, run.Start())
	defer func() {
		cancel()
		_ = run.Wait() // it was ended
	}()
	line, err := bufio.NewReader(said).ReadString('\n')
	require.NoError(t, err)
	address := regexp.MustCompile(`http://\S+`).FindString(line)
	require.NotEmpty(t, address, line)
	for path, kind := range map[string]string{"": "text/html; charset=utf-8", "checks/": "text/html; charset=utf-8", "web/tool.wasm": "application/wasm", "worker.js": "text/javascript; charset=utf-8"} {
		answer, err := http.Get(address + path)
		require.NoError(t, err)
		content, err := io.ReadAll(answer.Body)
		require.NoError(t, err)
		answer.Body.Close()
		assert.Equal(t, http.StatusOK, answer.StatusCode, path)
		assert.Equal(t, kind, answer.Header.Get("Content-Type"), path)
		assert.NotEmpty(t, content, path)
	}
}
