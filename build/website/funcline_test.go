package website

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a runtime does with its table of functions: it grows stacks, collects
// garbage, recovers, and names functions.
const strained = `package main

import (
	"fmt"
	"runtime"
)

type node struct {
	next *node
	name string
}

func deep(n int, l *node) int {
	if n == 0 {
		runtime.GC()
		return len(l.name)
	}
	return deep(n-1, &node{l, l.name}) + len(l.next.name)
}

func caught() (text string) {
	defer func() { text = fmt.Sprint(recover()) }()
	var list []int
	return fmt.Sprint(list[len(text)])
}

func main() {
	first := &node{name: "ab"}
	first.next = first
	sums := make(chan int)
	for range 4 {
		go func() { sums <- deep(20000, first) }()
	}
	for range 4 {
		fmt.Println(<-sums)
	}
	fmt.Println(caught())
	counter, _, _, _ := runtime.Caller(0)
	fmt.Println(runtime.FuncForPC(counter).Name())
	panic("the end")
}
`

func TestProgramWithoutLinesRunsAsBefore(t *testing.T) {
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("node is not installed")
	}
	dir := t.TempDir()
	write := func(name string, content []byte) string {
		path := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(path, content, 0o644))
		return path
	}
	write("go.mod", []byte("module strained\n\ngo 1.24\n"))
	write("main.go", []byte(strained))
	_, err := run(dir, []string{"build", "-o", "plain.wasm", "."}, "GOOS=js", "GOARCH=wasm")
	require.NoError(t, err)
	plain, err := os.ReadFile(filepath.Join(dir, "plain.wasm"))
	require.NoError(t, err)
	without, err := joinData(plain, dropLines)
	require.NoError(t, err)

	goroot, err := run(dir, []string{"env", "GOROOT"})
	require.NoError(t, err)
	execute := func(program string) string {
		out, err := exec.Command("node", "--stack-size=8192", filepath.Join(strings.TrimSpace(goroot), "lib/wasm/wasm_exec_node.js"), program).CombinedOutput()
		require.Error(t, err, "it ends in a panic")
		return string(out)
	}
	before, after := execute(filepath.Join(dir, "plain.wasm")), execute(write("without.wasm", without))

	said := func(out string) string {
		said, trace, ok := strings.Cut(out, "panic: the end")
		require.True(t, ok, out)
		assert.Contains(t, trace, "main.main()")
		return said
	}
	assert.Equal(t, "40002\n40002\n40002\n40002\n"+
		"runtime error: index out of range [0] with length 0\nmain.main\n", said(before))
	assert.Equal(t, said(before), said(after))
	assert.Contains(t, before, "main.go:")
	assert.NotContains(t, after, "main.go:")
	assert.Contains(t, after, "\t?:0")
}

func TestDropLinesRefusesAnotherLayout(t *testing.T) {
	none := []segment{{0, []byte("provingbench")}}
	assert.ErrorContains(t, dropLines(none), "no table of functions")
	twice := []segment{{0, append([]byte("a"), funcTableHead...)}, {100, funcTableHead}}
	assert.ErrorContains(t, dropLines(twice), "more than one")
	short := []segment{{0, funcTableHead}}
	assert.ErrorIs(t, dropLines(short), errCutShort)
	parts := []segment{{0, append(append([]byte{}, funcTableHead...), make([]byte, 100)...)}}
	assert.ErrorContains(t, dropLines(parts), "don't follow one another")
}
