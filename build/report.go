package main

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"provingbench/build/website"
)

// account is what a build leaves beside the site for people to read: how large it
// is, and which addresses it has.
type account struct {
	Version string         `json:"version"`
	Base    string         `json:"base"`
	Hash    string         `json:"hash"` // of all files with their names: the same source, the same hash
	Files   int            `json:"files"`
	Bytes   int            `json:"bytes"`
	Sizes   []website.Size `json:"sizes"`
	Routes  []routeSize    `json:"routes"`
}

// routeSize is one address with the size of its page. A copy that is not there has 0.
type routeSize struct {
	Address string `json:"address"`
	Plain   int    `json:"plain"`
	Gzip    int    `json:"gzip"`
	Brotli  int    `json:"brotli"`
}

// accountOf goes through a built site.
func accountOf(dir, base string, report website.Report) (account, error) {
	a := account{Version: report.Version, Base: base, Sizes: report.Sizes}
	size := map[string]int{}
	var names []string
	sum := sha256.New()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error { // in the order of the names
		if err != nil || d.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		fmt.Fprintf(sum, "%s %d\n", name, len(content))
		sum.Write(content)
		size[name] = len(content)
		names = append(names, name)
		a.Files, a.Bytes = a.Files+1, a.Bytes+len(content)
		return nil
	})
	if err != nil {
		return account{}, err
	}
	a.Hash = fmt.Sprintf("%x", sum.Sum(nil))
	for _, name := range names {
		if folder, ok := strings.CutSuffix("/"+name, "/index.html"); ok {
			a.Routes = append(a.Routes, routeSize{folder + "/", size[name], size[name+".gz"], size[name+".br"]})
		}
	}
	return a, nil
}

// write puts the account beside the site, never into it: what is in the site is
// served.
func (a account) write(dir string) error {
	beside := strings.TrimRight(filepath.Clean(dir), string(filepath.Separator)) + "-report"
	data, err := json.MarshalIndent(a, "", "  ")
	if err != nil {
		return err
	}
	if err := os.WriteFile(beside+".json", append(data, '\n'), 0o644); err != nil {
		return err
	}
	var b strings.Builder
	fmt.Fprintf(&b, "The Proving Bench, version %s, for the path %s\n%d files, %d bytes, %d addresses\nSHA-256 of all files with their names: %s\n\n",
		a.Version, a.Base, a.Files, a.Bytes, len(a.Routes), a.Hash)
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "bytes\tplain\tgzip\tbrotli\t")
	for _, s := range a.Sizes {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t\n", s.Part, bytes(s.Plain), bytes(s.Gzip), bytes(s.Brotli))
	}
	fmt.Fprintln(w, "\t\t\t\t")
	for _, r := range a.Routes {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\t\n", r.Address, bytes(r.Plain), bytes(r.Gzip), bytes(r.Brotli))
	}
	if err := w.Flush(); err != nil {
		return err
	}
	return os.WriteFile(beside+".txt", []byte(b.String()), 0o644)
}

// bytes is a size in a table; what is not there is a dash.
func bytes(n int) string {
	if n == 0 {
		return "-"
	}
	return fmt.Sprint(n)
}
