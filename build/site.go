package main

import (
	"flag"
	"fmt"
	"os"
	"text/tabwriter"
	"time"

	"provingbench/build/website"
)

func init() {
	add("site", "build the site into a folder", site)
}

func site(args []string) error {
	flags := flag.NewFlagSet("site", flag.ExitOnError)
	out := flags.String("out", "build/site", "folder to write")
	base := flags.String("base", "/", "path that the site is hosted at, with a slash at both ends")
	quick := flags.Bool("quick", false, "leave out the copies for hosts that serve compressed files")
	plain := flags.Bool("plain", false, "build the program against its dependencies as they are")
	_ = flags.Parse(args) // exits on errors

	begun := time.Now()
	report, err := website.Build(website.Options{
		Out: *out, Base: *base, Quick: *quick, Plain: *plain,
		Notice: func(text string) { fmt.Fprintln(os.Stderr, "notice:", text) },
	})
	if err != nil {
		return err
	}
	fmt.Printf("%s: version %s, %d pages, in %.1f s\n", *out, report.Version, report.Pages, time.Since(begun).Seconds())
	table := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "bytes\tplain\tgzip\tbrotli\t")
	for _, s := range report.Sizes {
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\t\n", s.Part, bytes(s.Plain), bytes(s.Gzip), bytes(s.Brotli))
	}
	if err := table.Flush(); err != nil {
		return err
	}
	account, err := accountOf(*out, *base, report)
	if err != nil {
		return err
	}
	return account.write(*out)
}
