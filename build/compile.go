package main

import "provingbench/build/compile"

func init() {
	add("compile", "turn the authored records into Go", func([]string) error { return compile.Compile(".") })
}
