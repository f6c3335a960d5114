package website

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
)

// compile builds the program for the browser.
//
// Inlining is off except where the tool is waited for: it makes the download a
// twentieth larger, and buys nothing on screens that wait for a finger.
//
// The program is first built against copies of its dependencies without what a
// browser never runs, whose initialisation alone would bring net/http and its
// cryptography along, a third of the download. If that fails, it is built plainly
// and notice is called with the reason.
func compile(root string, lean bool, notice func(string)) ([]byte, error) {
	out, err := os.CreateTemp("", "provingbench-*.wasm")
	if err != nil {
		return nil, err
	}
	out.Close()
	defer os.Remove(out.Name())

	build := func(flags ...string) error {
		args := append([]string{
			"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w",
			"-gcflags=all=-l", "-o", out.Name(),
		}, flags...)
		for _, hot := range []string{"answer", "complaint", "hydraulics", "hydraulics/network", "infer", "plan", "wording"} {
			args = append(args, "-gcflags=provingbench/knowledge/"+hot+"=")
		}
		_, err := run(root, append(args, "./app/wasm"), "GOOS=js", "GOARCH=wasm")
		return err
	}

	err = smallest(lean, func() ([]string, error) { return leanModule(root) }, build, notice)
	if err != nil {
		return nil, err
	}
	program, err := os.ReadFile(out.Name())
	if err != nil {
		return nil, err
	}
	smaller, err := joinData(program, func(segments []segment) error {
		if err := dropLines(segments); err != nil {
			notice(fmt.Sprintf("the program carries its source lines, because leaving them out failed: %v", err))
		}
		return nil
	})
	if err != nil {
		notice(fmt.Sprintf("the program's data stay in pieces, because joining them failed: %v", err))
		return program, nil
	}
	return smaller, nil
}

// smallest builds with the lean module if it is wanted and works, and plainly
// otherwise.
func smallest(lean bool, module func() ([]string, error), build func(flags ...string) error, notice func(string)) error {
	if lean {
		flags, err := module()
		if err == nil {
			err = build(flags...)
		}
		if err == nil {
			return nil
		}
		notice(fmt.Sprintf("the program carries what only servers need, because leaving it out failed: %v", err))
	}
	return build()
}

// run calls the go command in dir and returns what it printed.
func run(dir string, args []string, environment ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), environment...)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, stderr.Bytes())
	}
	return string(out), nil
}
