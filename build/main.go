// Command build is the project's workshop: it makes the site, serves it, and
// turns the authored records into Go.
//
//	go run ./build site -out build/site -base /
//	go run ./build serve -dir build/site -addr localhost:8000
//	go run ./build compile
//
// Each command is a file of its own that adds itself to the table.
package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
)

// command is one thing that the workshop does.
type command struct {
	name    string
	summary string
	run     func(args []string) error
}

var commands []command

// add puts a command into the table; each command's file calls it from init.
func add(name, summary string, run func(args []string) error) {
	commands = append(commands, command{name, summary, run})
}

func main() {
	if err := dispatch(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func dispatch(args []string) error {
	if len(args) == 0 {
		return usage("build: no command given")
	}
	for _, c := range commands {
		if c.name == args[0] {
			return c.run(args[1:])
		}
	}
	return usage(fmt.Sprintf("build: there is no command %q", args[0]))
}

func usage(problem string) error {
	slices.SortFunc(commands, func(a, b command) int { return strings.Compare(a.name, b.name) })
	var b strings.Builder
	fmt.Fprintf(&b, "%s; there are:\n", problem)
	for _, c := range commands {
		fmt.Fprintf(&b, "  %-10s %s\n", c.name, c.summary)
	}
	return fmt.Errorf("%s", strings.TrimSuffix(b.String(), "\n"))
}
