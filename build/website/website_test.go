package website

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/screens"
)

// standIn takes the program's place in tests that don't run it.
var standIn = []byte("\x00asm stands in for the program")

// built are the sites that the tests of this file look at, built once: at a
// host's root, and in a folder with all compressed copies.
var built struct{ root, folder string }

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "provingbench-website-")
	if err == nil {
		built.root = filepath.Join(dir, "root")
		_, err = Build(Options{Out: built.root, Base: "/", Quick: true, Program: standIn})
	}
	if err == nil {
		built.folder = filepath.Join(dir, "folder")
		_, err = Build(Options{Out: built.folder, Base: "/some/path/", Quick: true, Program: standIn})
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// each calls f with every file below dir whose name ends so.
func each(t *testing.T, dir, ext string, f func(name, content string)) {
	t.Helper()
	count := 0
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ext) {
			return err
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		name, err := filepath.Rel(dir, path)
		f(filepath.ToSlash(name), string(content))
		count++
		return err
	}))
	require.NotZero(t, count, "no file ends in %s", ext)
}

func read(t *testing.T, dir, name string) []byte {
	t.Helper()
	content, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	require.NoError(t, err)
	return content
}

func TestEveryAddressHasAPage(t *testing.T) {
	for _, a := range screens.Site().All() {
		content := string(read(t, built.root, strings.TrimPrefix(string(a), "/")+"index.html"))
		assert.Contains(t, content, "<h1", a)
		assert.Contains(t, content, "<title>"+escape(screens.Site().Page(a).Heading())+"</title>", a)
	}
	assert.Contains(t, string(read(t, built.root, "404.html")), escape(screens.Site().Page(route.Missing()).Heading()))
}

// What a page must not hold, and why.
var refused = map[string]string{
	"127.0.0.1":             "an address of the machine that built it",
	"localhost":             "an address of the machine that built it",
	"raw.githubusercontent": "somebody else's host",
	"user-scalable":         "people need to zoom",
	"maximum-scale":         "people need to zoom",
	"<style":                "the policy refuses it",
	" style=":               "the policy refuses it",
	"javascript:":           "the policy refuses it",
	"@version@":             "a mark that should have been replaced",
	"https://":              "somebody else's host",
	"http://":               "somebody else's host",
}

func TestPagesHoldNothingTheyShouldNot(t *testing.T) {
	namespaces := regexp.MustCompile(`xmlns="[^"]*"`)
	inline := regexp.MustCompile(`<script(?:\s[^>]*)?>([^<]*)</script>`)
	handler := regexp.MustCompile(`<[^>]*\son[a-z]+=`)
	emptyMeta := regexp.MustCompile(`<meta[^>]*content=""`)
	each(t, built.root, ".html", func(name, content string) {
		content = namespaces.ReplaceAllString(content, "")
		for text, why := range refused {
			if text == "https://" || text == "http://" {
				// Sources may be named in the text, but nothing is fetched from there.
				for _, attribute := range []string{`href="`, `src="`, `content="`} {
					assert.NotContains(t, content, attribute+text, "%s: %s", name, why)
				}
				continue
			}
			assert.NotContains(t, content, text, "%s: %s", name, why)
		}
		for _, m := range inline.FindAllStringSubmatch(content, -1) {
			assert.Empty(t, m[1], "%s: a script stands in the page", name)
		}
		assert.Empty(t, handler.FindString(content), "%s: a handler stands in the page", name)
		assert.Empty(t, emptyMeta.FindString(content), "%s: a meta that says nothing", name)
		assert.Contains(t, content, "<head>\n<meta http-equiv=\"Content-Security-Policy\"", "%s: the policy comes first", name)
		assert.Contains(t, content, `content="width=device-width, initial-scale=1, viewport-fit=cover"`, name)
		assert.Contains(t, content, `<html lang="en">`, name)
	})
}

var reference = regexp.MustCompile(`(?:href|src|data-program|data-plain)="([^"]*)"`)

// Everything that a page refers to is there, as a plain file server answers.
func TestEveryReferenceIsServed(t *testing.T) {
	for _, c := range []struct{ dir, base string }{{built.root, "/"}, {built.folder, "/some/path/"}} {
		server := httptest.NewServer(http.StripPrefix(strings.TrimSuffix(c.base, "/"), http.FileServer(http.Dir(c.dir))))
		defer server.Close()
		server.Client().CheckRedirect = func(*http.Request, []*http.Request) error { return errors.New("was redirected") }
		asked := map[string]bool{}
		each(t, c.dir, ".html", func(name, content string) {
			for _, m := range reference.FindAllStringSubmatch(content, -1) {
				link := strings.ReplaceAll(m[1], "&amp;", "&")
				if strings.HasPrefix(link, "web/") {
					link = c.base + link // the start script puts the base before these
				}
				link, _, _ = strings.Cut(link, "#")
				u, err := url.Parse(link)
				if !assert.NoError(t, err, name) || u.Scheme != "" || link == "" || asked[u.Path] {
					continue
				}
				asked[u.Path] = true
				assert.Truef(t, strings.HasPrefix(u.Path, c.base), "%s: %s leaves the folder", name, link)
				answer, err := server.Client().Get(server.URL + u.RequestURI())
				if assert.NoError(t, err, "%s: %s", name, link) {
					assert.Equal(t, http.StatusOK, answer.StatusCode, "%s: %s", name, link)
					answer.Body.Close()
				}
			}
		})
	}
}

// What the worker keeps is the site: every file of it, and nothing else.
func TestWorkerKeepsTheWholeSite(t *testing.T) {
	for _, dir := range []string{built.root, built.folder} {
		m := regexp.MustCompile(`const BUILD = (\{.*?\});`).FindSubmatch(read(t, dir, "worker.js"))
		require.NotNil(t, m)
		var build struct{ Version, Plain, Packed, Kept, Mark, Program, Pack string }
		require.NoError(t, json.Unmarshal(m[1], &build))
		assert.Regexp(t, `^[0-9a-f]{12}$`, build.Version)

		hash := func(content []byte) string { return fmt.Sprintf("%x", sha256.Sum256(content)) }
		program, pack := takeApart(t, read(t, dir, build.Plain))
		assert.Equal(t, standIn, program)
		assert.Equal(t, build.Program, hash(program))
		assert.Equal(t, build.Pack, hash(pack))

		z, err := gzip.NewReader(bytes.NewReader(read(t, dir, build.Packed)))
		require.NoError(t, err)
		packed, err := io.ReadAll(z)
		require.NoError(t, err)
		program, short := takeApart(t, packed)
		assert.Equal(t, standIn, program)
		assert.Equal(t, pack, lengthen(t, short, program))

		size := binary.LittleEndian.Uint32(pack)
		var index [][3]any
		require.NoError(t, json.Unmarshal(pack[4:4+size], &index))
		rest := pack[4+size:]
		kept := map[string]bool{}
		for _, entry := range index {
			name, length := entry[0].(string), int(entry[2].(float64))
			file := name
			if name == "" || strings.HasSuffix(name, "/") {
				file += "index.html"
			}
			require.Equal(t, string(read(t, dir, file)), string(rest[:length]), file)
			assert.NotEqual(t, "application/octet-stream", entry[1], file)
			rest = rest[length:]
			kept[file] = true
		}
		assert.Empty(t, rest)
		each(t, dir, "", func(name, _ string) {
			switch name {
			case "HOSTING.txt", "worker.js", plainTool, packedTool:
			default:
				assert.True(t, kept[name], "%s is not kept", name)
			}
		})
	}
}

// takeApart gives the program and the pages that are in the tool's file.
func takeApart(t *testing.T, tool []byte) (program, pages []byte) {
	t.Helper()
	r := &wasmReader{rest: tool[len(squeezeMark):]}
	for len(r.rest) > 0 {
		begin := len(tool) - len(r.rest)
		kind, content := r.take(1)[0], r.take(r.unsigned())
		require.NoError(t, r.err)
		if kind >= partPages {
			assert.Empty(t, r.rest, "the pages are last")
			program, err := unsqueeze(tool[:begin])
			require.NoError(t, err)
			return program, content
		}
	}
	require.Fail(t, "there are no pages")
	return nil, nil
}

func TestSameSourceSameSite(t *testing.T) {
	again := filepath.Join(t.TempDir(), "site")
	_, err := Build(Options{Out: again, Base: "/", Quick: true, Program: standIn})
	require.NoError(t, err)
	each(t, built.root, "", func(name, content string) {
		if !assert.Equal(t, content, string(read(t, again, name)), name) {
			t.FailNow()
		}
	})
}

func TestVersionFollowsTheContent(t *testing.T) {
	version := func(program []byte) string {
		report, err := Build(Options{Out: filepath.Join(t.TempDir(), "site"), Base: "/", Quick: true, Program: program})
		require.NoError(t, err)
		return report.Version
	}
	assert.NotEqual(t, version(standIn), version([]byte("another program")))
}

func TestManifest(t *testing.T) {
	for _, c := range []struct{ dir, base string }{{built.root, "/"}, {built.folder, "/some/path/"}} {
		var m manifest
		require.NoError(t, json.Unmarshal(read(t, c.dir, "manifest.webmanifest"), &m))
		assert.Equal(t, []string{c.base, c.base, c.base}, []string{m.ID, m.StartURL, m.Scope})
		assert.Equal(t, "en", m.Lang)
		assert.Equal(t, "standalone", m.Display)
		assert.NotEmpty(t, m.Description)
		assert.NotEmpty(t, m.Categories)
		assert.LessOrEqual(t, len(m.ShortName), 15, "longer names are cut off under the icon")
		purposes := map[string]bool{}
		for _, icon := range m.Icons {
			purposes[icon.Purpose] = true
			name, ok := strings.CutPrefix(icon.Src, c.base)
			require.True(t, ok)
			content := read(t, c.dir, name)
			if icon.Type == "image/png" {
				img, err := png.DecodeConfig(bytes.NewReader(content))
				require.NoError(t, err)
				assert.Equal(t, icon.Sizes, fmt.Sprintf("%dx%d", img.Width, img.Height))
			}
		}
		assert.Equal(t, map[string]bool{"any": true, "maskable": true}, purposes)
	}
}

func TestPalettedLeavesEveryColour(t *testing.T) {
	few := image.NewNRGBA(image.Rect(0, 0, 16, 17))
	many := image.NewNRGBA(few.Rect)
	for i := range 16 * 17 {
		few.SetNRGBA(i%16, i/16, color.NRGBA{uint8(i % 5), 1, 2, uint8(i % 7)})
		many.SetNRGBA(i%16, i/16, color.NRGBA{uint8(i), uint8(i >> 8), 2, 0xff})
	}
	assert.IsType(t, &image.Paletted{}, paletted(few))
	assert.Equal(t, image.Image(many), paletted(many), "they don't fit into a table")
	for i := range 16 * 17 {
		assert.Equal(t, few.At(i%16, i/16), paletted(few).At(i%16, i/16))
	}
}

// A maskable icon is cut to a circle of 40 % of its side at most.
// Source: W3C Web Application Manifest, icon masks and safe zone.
func TestMaskableIconKeepsWithinTheSafeZone(t *testing.T) {
	img, err := png.Decode(bytes.NewReader(icons()["maskable-512.png"]))
	require.NoError(t, err)
	ground := img.At(0, 0)
	_, _, _, alpha := ground.RGBA()
	assert.EqualValues(t, 0xffff, alpha, "the ground reaches into the corners")
	drawn := 0
	for y := range 512 {
		for x := range 512 {
			dx, dy := float64(x)-255.5, float64(y)-255.5
			if img.At(x, y) == ground {
				continue
			}
			drawn++
			if dx*dx+dy*dy > 0.4*0.4*512*512 {
				t.Fatalf("the drawing reaches %d, %d, outside the safe zone", x, y)
			}
		}
	}
	assert.NotZero(t, drawn)
}

func TestCompressedCopiesHoldTheSame(t *testing.T) {
	s := &site{files: map[string][]byte{
		"index.html":             []byte(strings.Repeat("<p>page</p>", 100)),
		"web/site.css":           []byte(".a{}"),
		"web/icons/icon-192.png": []byte("picture"),
	}}
	s.compress()
	assert.NotContains(t, s.files, "web/icons/icon-192.png.gz")
	for _, name := range []string{"index.html", "web/site.css"} {
		z, err := gzip.NewReader(bytes.NewReader(s.files[name+".gz"]))
		require.NoError(t, err)
		got, err := io.ReadAll(z)
		require.NoError(t, err)
		assert.Equal(t, s.files[name], got)
		got, err = io.ReadAll(brotli.NewReader(bytes.NewReader(s.files[name+".br"])))
		require.NoError(t, err)
		assert.Equal(t, s.files[name], got)
	}
}

func TestStyleSheetBeginsWithTheTokens(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.css", "base.css", "tokens.css", "z.css"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(name), 0o644))
	}
	sheet, err := styleSheet(dir)
	require.NoError(t, err)
	assert.Equal(t, "tokens.css\nbase.css\na.css\nz.css\n", string(sheet))
}

func TestBuildRefusesABasePathWithoutSlashes(t *testing.T) {
	for _, base := range []string{"", "/bench", "bench/"} {
		_, err := Build(Options{Base: base})
		var wrong *BaseError
		require.ErrorAs(t, err, &wrong)
		assert.Equal(t, fmt.Sprintf("website: base path %q does not begin and end with a slash", base), err.Error())
	}
}

func TestWriteLeavesForeignFoldersAlone(t *testing.T) {
	dir := t.TempDir()
	precious := filepath.Join(dir, "precious.txt")
	require.NoError(t, os.WriteFile(precious, []byte("mine"), 0o644))
	var wrong *OutError
	require.ErrorAs(t, write(dir, map[string][]byte{"worker.js": nil}), &wrong)
	assert.FileExists(t, precious)
}

func TestWriteReplacesAnEarlierSite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	require.NoError(t, write(dir, map[string][]byte{"worker.js": []byte("1"), "old/index.html": nil}))
	require.NoError(t, write(dir, map[string][]byte{"worker.js": []byte("2")}))
	assert.Equal(t, "2", string(read(t, dir, "worker.js")))
	assert.NoFileExists(t, filepath.Join(dir, "old/index.html"))
}
