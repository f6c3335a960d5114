package main

import (
	"os"

	"provingbench/knowledge/catalogue/author"
)

func init() {
	add("coverage", "what the catalogue covers: parts, chart, gaps", func([]string) error { return coverage(".") })
}

// coverage prints the report of the authored records under root. Gaps are
// listed in the report; records that can't be read are an error.
func coverage(root string) error {
	d, err := author.Load(os.DirFS(root))
	if d == nil {
		return err
	}
	if printed := d.WriteCoverage(os.Stdout); printed != nil {
		return printed
	}
	return err
}
