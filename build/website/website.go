// Package website builds the tool into a folder of files that any static host
// serves from any path, compressing or not.
//
// Every address gets a page prepared in full, which can be read before, or
// without, WebAssembly. Beside the pages stand the program, one style sheet, the
// scripts, the icons, and a worker that keeps all of it in the browser. The
// output depends on nothing but the source: no clock, no machine.
package website

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/parallel"
)

// Options say what to build and where to.
type Options struct {
	// Root is the folder of go.mod. Empty: found from the working directory up.
	Root string

	// Out is the folder to write. What an earlier build left there is replaced.
	Out string

	// Base is the path that the site is hosted at, with a slash at both ends.
	Base string

	// Quick leaves out the copies for hosts that serve compressed files, and
	// packs less tightly. The site works the same.
	Quick bool

	// Plain builds the program against its dependencies as they are, with all that
	// a browser never runs.
	Plain bool

	// Notice is told of what is not as it should be but does not stop the build.
	Notice func(string)

	// Program is the compiled program, when there is one already.
	Program []byte
}

// Report says what was built. Sizes are in bytes.
type Report struct {
	Version string
	Pages   int
	Program []byte // for a further build with other options
	Sizes   []Size
}

// Size is how large a part of the site is, plain and on the wire.
type Size struct {
	Part                string
	Plain, Gzip, Brotli int // Brotli is 0 after a quick build
}

// BaseError tells of a base path without slashes at its ends.
type BaseError struct{ Base string }

func (e *BaseError) Error() string {
	return fmt.Sprintf("website: base path %q does not begin and end with a slash", e.Base)
}

// OutError tells of a folder that holds something else than a built site.
type OutError struct{ Out string }

func (e *OutError) Error() string {
	return fmt.Sprintf("website: %s is not empty and was not written by an earlier build", e.Out)
}

// file is one file of the site, its path relative to the base.
type file struct {
	path    string
	content []byte
}

type site struct {
	tool  *route.Site
	base  string
	files map[string][]byte
	mark  string // what the page adds to the tool's name, so that it asks for its own
}

// The file that the tool comes in, the copy of it for hosts that don't compress,
// and what the worker keeps the program as. Hosts know the first one's ending as
// something to compress.
const (
	plainTool   = "web/tool.wasm"
	packedTool  = plainTool + ".gz"
	keptProgram = "web/app.wasm"
)

func (s *site) href(path string) string { return s.base + path }

// hashed is a link that changes with the file's content, so that no cache on
// the way answers with an older one.
func (s *site) hashed(path string) string {
	return s.href(path) + "?v=" + short(s.files[path])
}

func short(content []byte) string {
	return fmt.Sprintf("%x", sha256.Sum256(content))[:12]
}

// Build builds the site.
func Build(o Options) (Report, error) {
	if !strings.HasPrefix(o.Base, "/") || !strings.HasSuffix(o.Base, "/") {
		return Report{}, &BaseError{o.Base}
	}
	if o.Notice == nil {
		o.Notice = func(string) {}
	}
	if o.Root == "" {
		mod, err := run(".", []string{"env", "GOMOD"})
		if err != nil {
			return Report{}, err
		}
		o.Root = filepath.Dir(strings.TrimSpace(mod))
	}

	program := o.Program
	if program == nil {
		var err error
		if program, err = compile(o.Root, !o.Plain, o.Notice); err != nil {
			return Report{}, err
		}
	}

	route.SetPrefix(o.Base)
	s := &site{
		tool:  screens.Site(),
		base:  o.Base,
		files: map[string][]byte{},
		mark:  "?v=" + short(program),
	}
	if err := s.collect(o.Root); err != nil {
		return Report{}, err
	}
	pages, err := s.pages()
	if err != nil {
		return Report{}, err
	}
	worker, err := script(o.Root, "worker.js")
	if err != nil {
		return Report{}, err
	}

	version := s.version(program, worker)
	for name, content := range s.files {
		if path.Ext(name) == ".html" {
			s.files[name] = bytes.ReplaceAll(content, []byte(versionMark), []byte(version))
		}
	}

	level := 9
	if o.Quick {
		level = 1
	}
	squeezed, err := squeeze(program)
	if err != nil {
		o.Notice(fmt.Sprintf("the program goes over the wire as it is, because squeezing it failed: %v", err))
	}
	squeezed = slices.Clip(squeezed)
	everything := pack(s.sorted())
	if worker, err = s.worker(worker, version, program, everything); err != nil {
		return Report{}, err
	}
	s.files["worker.js"] = worker
	if s.files["HOSTING.txt"], err = s.hosting(o.Root, version); err != nil {
		return Report{}, err
	}
	s.files[plainTool] = appendPart(squeezed, partPages, everything)
	if !o.Quick {
		s.compress()
	}
	// For hosts without brotli, and shorter than what gzip makes of the plain file.
	s.files[packedTool] = gzipped(appendPart(squeezed, partShortPages, shorten(program, everything)), level)
	if err := write(o.Out, s.files); err != nil {
		return Report{}, err
	}
	sizes := s.sizes(program, everything)
	if sum := sizes[len(sizes)-1]; sum.Brotli > budget {
		o.Notice(fmt.Sprintf("%s comes to %d bytes with brotli, more than the %d it should stay within", sum.Part, sum.Brotli, budget))
	}
	return Report{
		Version: version,
		Pages:   pages,
		Program: program,
		Sizes: append(sizes, []Size{
			{"largest page", s.largest(".html", ""), s.largest(".html", ".gz"), s.largest(".html", ".br")},
			{"style sheet", len(s.files["web/site.css"]), len(s.files["web/site.css.gz"]), len(s.files["web/site.css.br"])},
		}...),
	}, nil
}

// hosting says how to put the folder on a host. It is for people and stays out of
// what browsers keep.
func (s *site) hosting(root, version string) ([]byte, error) {
	text, err := os.ReadFile(filepath.Join(root, "web/hosting.txt"))
	if err != nil {
		return nil, err
	}
	return []byte(strings.NewReplacer("{{base}}", s.base, "{{version}}", version).Replace(string(text))), nil
}

// collect gathers what the pages refer to.
func (s *site) collect(root string) error {
	sheet, err := styleSheet(filepath.Join(root, "web/css"))
	if err != nil {
		return err
	}
	s.files["web/site.css"] = sheet
	for _, name := range []string{"guard.js", "start.js"} {
		content, err := script(root, name)
		if err != nil {
			return err
		}
		s.files["web/"+name] = content
	}
	// The toolchain that compiled the program brings the script that runs it.
	goroot, err := run(root, []string{"env", "GOROOT"})
	if err != nil {
		return err
	}
	exec, err := os.ReadFile(filepath.Join(strings.TrimSpace(goroot), "lib/wasm/wasm_exec.js"))
	if err != nil {
		return err
	}
	s.files["web/wasm_exec.js"] = exec
	for name, content := range icons() {
		s.files["web/icons/"+name] = content
	}
	s.files["manifest.webmanifest"] = s.manifest()
	return nil
}

// script reads a script, without the lines that are for who reads the source. The
// two that take the tool's file apart begin with what does that.
func script(root, name string) ([]byte, error) {
	names := []string{"squeeze.js", name}
	if name == "guard.js" {
		names = names[1:]
	}
	var script []byte
	for _, name := range names {
		content, err := os.ReadFile(filepath.Join(root, "web", name))
		if err != nil {
			return nil, err
		}
		for line := range bytes.Lines(content) {
			if begin := bytes.TrimSpace(line); len(begin) > 0 && !bytes.HasPrefix(begin, []byte("//")) {
				script = append(script, line...)
			}
		}
	}
	return script, nil
}

// styleSheet joins the style sheets: the tokens that all others use, then the
// rest by name.
func styleSheet(dir string) ([]byte, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.css"))
	if err != nil {
		return nil, err
	}
	first := func(name string) int {
		return slices.Index([]string{"tokens.css", "base.css"}, filepath.Base(name))
	}
	slices.SortFunc(names, func(a, b string) int {
		if fa, fb := first(a), first(b); fa >= 0 && fb >= 0 {
			return fa - fb
		} else if fa >= 0 {
			return -1
		} else if fb >= 0 {
			return 1
		}
		return strings.Compare(a, b)
	})
	var sheet []byte
	for _, name := range names {
		content, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		sheet = append(append(sheet, content...), '\n')
	}
	return sheet, nil
}

// pages prepares the page of every address, and the one for all others.
func (s *site) pages() (int, error) {
	all := s.tool.All()
	for _, a := range all {
		name := strings.TrimPrefix(string(a), "/") + "index.html"
		if s.files[name] != nil {
			return 0, fmt.Errorf("website: two screens at %s", a)
		}
		content, err := s.document(a)
		if err != nil {
			return 0, err
		}
		s.files[name] = content
	}
	content, err := s.document(route.Missing())
	if err != nil {
		return 0, err
	}
	s.files["404.html"] = content
	s.files[strings.TrimPrefix(string(route.Missing()), "/")+"index.html"] = content
	return len(all), nil
}

// sorted lists the files in the order of their paths.
func (s *site) sorted() []file {
	files := make([]file, 0, len(s.files))
	for name, content := range s.files {
		files = append(files, file{name, content})
	}
	slices.SortFunc(files, func(a, b file) int { return strings.Compare(a.path, b.path) })
	return files
}

// version names the build after its content: the same source, the same version.
func (s *site) version(program, worker []byte) string {
	h := sha256.New()
	for _, f := range append(s.sorted(), file{"program", program}, file{"worker", worker}) {
		fmt.Fprintf(h, "%s %d\n", f.path, len(f.content))
		h.Write(f.content)
	}
	return fmt.Sprintf("%x", h.Sum(nil))[:12]
}

// worker puts into the worker's template what it is to keep.
func (s *site) worker(template []byte, version string, program, everything []byte) ([]byte, error) {
	build, err := json.Marshal(struct {
		Version string `json:"version"`
		Plain   string `json:"plain"`
		Packed  string `json:"packed"`
		Kept    string `json:"kept"`
		Mark    string `json:"mark"`
		Program string `json:"program"` // its hash
		Pack    string `json:"pack"`
	}{
		version, plainTool, packedTool, keptProgram, s.mark,
		fmt.Sprintf("%x", sha256.Sum256(program)), fmt.Sprintf("%x", sha256.Sum256(everything)),
	})
	if err != nil {
		return nil, err
	}
	const mark = `"{{build}}"`
	if bytes.Count(template, []byte(mark)) != 1 {
		return nil, errors.New("website: web/worker.js does not hold " + mark + " once")
	}
	return bytes.Replace(template, []byte(mark), build, 1), nil
}

// compress adds compressed copies beside the files, for hosts that serve them.
func (s *site) compress() {
	// The largest first, so that it does not keep the others waiting at the end.
	files := slices.DeleteFunc(s.sorted(), func(f file) bool { return !compressible(f.path) })
	slices.SortStableFunc(files, func(a, b file) int { return len(b.content) - len(a.content) })
	gz, br := make([][]byte, len(files)), make([][]byte, len(files))
	parallel.Each(len(files), func(i int) {
		gz[i], br[i] = gzipped(files[i].content, 9), brotlied(files[i].content)
	})
	for i, f := range files {
		s.files[f.path+".gz"], s.files[f.path+".br"] = gz[i], br[i]
	}
}

// budget is how much a browser should fetch at most, in bytes, to have the tool
// without a network: nine seconds on a line of 1.5 Mbit/s.
const budget = 1_700_000

// sizes are those of what a browser fetches to have the tool without a network,
// and their sum.
func (s *site) sizes(program, everything []byte) []Size {
	size := func(part, path string) Size {
		return Size{part, len(s.files[path]), len(s.files[path+".gz"]), len(s.files[path+".br"])}
	}
	tool, worker := size("program, pages and the rest", plainTool), size("worker", "worker.js")
	tool.Plain = len(program) + len(everything)
	return []Size{tool, worker, {
		"all that is needed offline", tool.Plain + worker.Plain, tool.Gzip + worker.Gzip, tool.Brotli + worker.Brotli,
	}}
}

// largest is the size of the largest file of a kind.
func (s *site) largest(ext, copy string) int {
	most := 0
	for name := range s.files {
		if path.Ext(name) == ext {
			most = max(most, len(s.files[name+copy]))
		}
	}
	return most
}

// write lays the files down in a new folder and puts that in out's place, so
// that a build that fails leaves the old site standing.
func write(out string, files map[string][]byte) error {
	out, err := filepath.Abs(out)
	if err != nil {
		return err
	}
	if entries, err := os.ReadDir(out); err == nil && len(entries) > 0 {
		if _, err := os.Stat(filepath.Join(out, "worker.js")); err != nil {
			return &OutError{out}
		}
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(out), 0o755); err != nil {
		return err
	}
	fresh, err := os.MkdirTemp(filepath.Dir(out), filepath.Base(out)+"-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
	if err := os.Chmod(fresh, 0o755); err != nil {
		return err
	}
	for name, content := range files {
		target := filepath.Join(fresh, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(target), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(target, content, 0o644); err != nil {
			return err
		}
	}
	if err := os.RemoveAll(out); err != nil {
		return err
	}
	return os.Rename(fresh, out)
}
