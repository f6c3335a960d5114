package e2e

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"fmt"
	"io/fs"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
	"provingbench/build/serve"
	"provingbench/build/website"
)

// BenchmarkBudgets prints what this tool costs beside the smallest one of its
// framework, built in the same run: bytes, first paint on a slow line, start
// without a network, and how fast it answers.
//
// The line is that of Lighthouse's mobile preset: 150 ms from request to answer,
// 1 638.4 kbit/s down, 750 kbit/s up, and a processor slowed down four times.
func BenchmarkBudgets(b *testing.B) {
	for b.Loop() {
		t := table{head: []string{"", "this tool", "hello world", "ratio", "aim"}}
		tool := fullSite(b)
		hello := helloSite(b)

		gz, br := wire(b, tool)
		helloGz, helloBr := wire(b, hello)
		t.compare("needed offline, brotli (bytes)", br, helloBr, "at most 1")
		t.compare("needed offline, gzip (bytes)", gz, helloGz, "")

		first, largest := paints(b, tool)
		t.row("first contentful paint, mobile line (ms)", first, "")
		t.row("largest contentful paint, mobile line (ms)", largest, "at most 1000")

		for _, slow := range []float64{1, 4} {
			t.compare(fmt.Sprintf("start without a network, processor at 1/%.0f (ms)", slow), started(b, tool, slow, true), started(b, hello, slow, false), "at most 1.3")
		}
		t.row("answer to new ranking (ms)", ranked(b, tool), "a frame, 16.7")
		t.row("key of the search to its answers (ms)", searched(b, tool), "a frame, 16.7")
		fmt.Println(t.String())
	}
	b.ReportMetric(0, "ns/op")
}

type table struct {
	head []string
	rows [][]string
}

func (t *table) row(name string, value float64, aim string) {
	t.rows = append(t.rows, []string{name, fmt.Sprintf("%.0f", value), "", "", aim})
}

func (t *table) compare(name string, own, other float64, aim string) {
	t.rows = append(t.rows, []string{name, fmt.Sprintf("%.0f", own), fmt.Sprintf("%.0f", other), fmt.Sprintf("%.2f", own/other), aim})
}

func (t *table) String() string {
	var b strings.Builder
	for _, r := range append([][]string{t.head}, t.rows...) {
		fmt.Fprintf(&b, "%-54s %12s %12s %6s  %s\n", r[0], r[1], r[2], r[3], r[4])
	}
	return b.String()
}

// fullSite is the site as it is published. It takes minutes to compress.
func fullSite(b *testing.B) string {
	dir := filepath.Join(b.TempDir(), "site")
	_, err := website.Build(website.Options{Out: dir, Base: "/", Program: browsertest.Site(b).Program})
	require.NoError(b, err)
	return dir
}

// helloSite is the smallest tool, built plainly.
func helloSite(b *testing.B) string {
	dir := filepath.Join(b.TempDir(), "hello")
	run := func(env []string, args ...string) {
		cmd := exec.Command("go", args...)
		cmd.Env = append(os.Environ(), env...)
		out, err := cmd.CombinedOutput()
		require.NoError(b, err, string(out))
	}
	require.NoError(b, os.MkdirAll(filepath.Join(dir, "web"), 0o755))
	run(nil, "run", "provingbench/build/hello", dir)
	run([]string{"GOOS=js", "GOARCH=wasm"}, "build", "-trimpath", "-ldflags=-s -w", "-o", filepath.Join(dir, "web/app.wasm"), "provingbench/build/hello")
	icon, err := base64.StdEncoding.DecodeString("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")
	require.NoError(b, err)
	require.NoError(b, os.WriteFile(filepath.Join(dir, "web/icon.png"), icon, 0o644))
	return dir
}

// wire is what a site needs offline, compressed with gzip and with brotli. Of
// this tool's files, those are counted that its worker keeps.
func wire(b *testing.B, dir string) (gz, br float64) {
	require.NoError(b, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, _ := filepath.Rel(dir, path)
		switch filepath.Ext(name) {
		case ".gz", ".br":
			return nil
		}
		if kept := filepath.Join(dir, "web/tool.wasm"); dir != "" && exists(kept) && name != "web/tool.wasm" && name != "worker.js" {
			return nil // the pages, scripts and icons come in the one file
		}
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		gz += size(path, ".gz", content)
		br += size(path, ".br", content)
		return nil
	}))
	return gz, br
}

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// size is that of the compressed copy of a file, made here when there is none.
func size(path, ext string, content []byte) float64 {
	if info, err := os.Stat(path + ext); err == nil {
		return float64(info.Size())
	}
	var out bytes.Buffer
	if ext == ".gz" {
		w, _ := gzip.NewWriterLevel(&out, gzip.BestCompression) // the level is one
		_, _ = w.Write(content)                                 // a buffer takes everything
		_ = w.Close()
	} else {
		w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: 11, LGWin: 24})
		_, _ = w.Write(content)
		_ = w.Close()
	}
	return float64(out.Len())
}

// paints loads a page over a mobile line, from a host that compresses.
func paints(b *testing.B, dir string) (first, largest float64) {
	server := httptest.NewServer(serve.Handler(dir, "/"))
	b.Cleanup(server.Close)
	tab := browsertest.Open(b)
	tab.Do(slowDown(4), chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
			return err
		}
		_, err := chromedp.Call(ctx, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
			MatchedNetworkConditions: []*network.Conditions{{Latency: 150, DownloadThroughput: 1638.4 * 1024 / 8, UploadThroughput: 750 * 1024 / 8}},
		})
		return err
	}))
	tab.Go(server.URL + "/")
	largest = browsertest.Eval[float64](tab, `new Promise(done => {
		new PerformanceObserver(list => setTimeout(() => done(list.getEntries().at(-1).startTime), 1500)).observe({type: "largest-contentful-paint", buffered: true})
	})`)
	first = browsertest.Eval[float64](tab, `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
	return first, largest
}

// started is how long a page takes to answer with the host gone. The best of
// five: what else the machine does only ever adds.
func started(b *testing.B, dir string, slow float64, own bool) float64 {
	server := browsertest.Serve(b, browsertest.Built{Dir: dir, Base: "/"})
	tab := browsertest.Open(b)
	tab.Go(server.URL + "/")
	tab.Ready()
	if own {
		tab.Offline()
	} else {
		tab.Wait(`navigator.serviceWorker.controller !== null || navigator.serviceWorker.ready.then(r => r.active !== null)`)
		tab.Go(server.URL + "/")
		tab.Ready()
	}
	server.Stop()
	tab.Do(slowDown(slow))
	best := 0.0
	for range 5 {
		tab.Go(server.URL + "/")
		tab.Ready()
		ready := browsertest.Eval[float64](tab, `performance.getEntriesByName("ready")[0].startTime`)
		if best == 0 || ready < best {
			best = ready
		}
	}
	return best
}

// ranked is from the press that enters an answer to the frame that shows it with
// what it moved.
func ranked(b *testing.B, dir string) float64 {
	server := browsertest.Serve(b, browsertest.Built{Dir: dir, Base: "/"})
	h := newHand(b, keptOffline(b, server))
	return h.newRanking(server.URL, 1, 5)
}

// searched is from a key of the search to the frame that shows what it found.
func searched(b *testing.B, dir string) float64 {
	server := browsertest.Serve(b, browsertest.Built{Dir: dir, Base: "/"})
	h := newHand(b, keptOffline(b, server))
	h.Go(server.URL + "/search/?q=gov+solenoid+ohm")
	h.Ready()
	h.Wait(`document.querySelector("main").innerText.includes("ohm")`)
	return browsertest.Eval[float64](h.Tab, `new Promise(done => {
		const box = document.querySelector("input[type=search]")
		box.focus()
		const begun = performance.now()
		const watch = new MutationObserver(() => { watch.disconnect(); requestAnimationFrame(() => done(performance.now() - begun)) })
		watch.observe(document.querySelector("main"), {subtree: true, childList: true, characterData: true})
		box.value += "s"
		box.dispatchEvent(new Event("input", {bubbles: true}))
	})`)
}
