package main

import (
	"flag"
	"fmt"
	"io"
	"os"

	"provingbench/build/ask"
)

func init() {
	add("ask", "answer a case given as JSON", askCase)
	add("list", "print all ids with their names", listIDs)
}

func askCase(args []string) error {
	flags := flag.NewFlagSet("ask", flag.ExitOnError)
	in := flags.String("in", "-", "file with the case; - reads standard input")
	_ = flags.Parse(args) // exits on errors

	var from io.Reader = os.Stdin
	if *in != "-" {
		f, err := os.Open(*in)
		if err != nil {
			return fmt.Errorf("ask: %w", err)
		}
		defer f.Close()
		from = f
	}
	q, err := ask.Read(from)
	if err != nil {
		return err
	}
	r, err := ask.Ask(ask.Engine(), q)
	if err != nil {
		return err
	}
	return ask.Write(os.Stdout, r)
}

func listIDs([]string) error { return ask.List(os.Stdout, ask.Engine()) }
