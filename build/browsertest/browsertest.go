// Package browsertest drives the built site in a real browser, for tests.
//
// A test package that uses it has
//
//	func TestMain(m *testing.M) { os.Exit(browsertest.Main(m)) }
//
// and its tests go like this:
//
//	server := browsertest.Serve(t, browsertest.Site(t))
//	tab := browsertest.Open(t)
//	tab.Go(server.URL + "/checks/")
//	tab.Ready()
//	title := browsertest.Eval[string](tab, `document.title`)
//
// The site is built once and the browser started once in each test binary. Each
// tab that Open returns has storage of its own, as a new phone would have.
// "Offline" means that the server is stopped, not that the browser pretends.
package browsertest

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"provingbench/build/website"
)

// patience is how long anything may take before a test fails. It is generous:
// a loaded machine is not a broken tool.
const patience = 60 * time.Second

// Phone is the viewport that tabs open with, in CSS pixels.
const (
	PhoneWidth  = 390
	PhoneHeight = 844
)

var shared struct {
	site struct {
		once  sync.Once
		built Built
		err   error
	}
	browser struct {
		once   sync.Once
		ctx    context.Context
		cancel []context.CancelFunc
		err    error
	}
	outside struct {
		mu    sync.Mutex
		asked []string
	}
	folder string
}

// Main runs the tests and then clears up after them.
func Main(m *testing.M) int {
	folder, err := os.MkdirTemp("", "provingbench-test-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	shared.folder = folder
	defer os.RemoveAll(folder)
	defer func() {
		for _, cancel := range shared.browser.cancel {
			cancel()
		}
	}()
	return m.Run()
}

// Folder is a place for what the tests of one binary share. It goes with them.
func Folder() string { return shared.folder }

// Built is a site on disk.
type Built struct {
	Dir     string
	Base    string
	Version string
	Program []byte
}

// Site is the site as the source has it, at the root of a host.
func Site(t testing.TB) Built {
	t.Helper()
	s := &shared.site
	s.once.Do(func() {
		s.built, s.err = build(website.Options{Out: filepath.Join(shared.folder, "site"), Base: "/"})
	})
	require.NoError(t, s.err)
	return s.built
}

// Build builds the site in another way. Options that are not set are those of
// Site, and the program is not compiled again.
func Build(t testing.TB, o website.Options) Built {
	t.Helper()
	if o.Program == nil {
		o.Program = Site(t).Program
	}
	if o.Base == "" {
		o.Base = "/"
	}
	if o.Out == "" {
		o.Out = filepath.Join(t.TempDir(), "site")
	}
	built, err := build(o)
	require.NoError(t, err)
	return built
}

func build(o website.Options) (Built, error) {
	o.Quick = true
	report, err := website.Build(o)
	return Built{Dir: o.Out, Base: o.Base, Version: report.Version, Program: report.Program}, err
}

// Copy is the same site in a folder that the test may spoil.
func Copy(t testing.TB, site Built) Built {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "site")
	require.NoError(t, os.CopyFS(dir, os.DirFS(site.Dir)))
	site.Dir = dir
	return site
}

// Tab is a browser tab with a phone's viewport.
type Tab struct {
	t   testing.TB
	ctx context.Context

	mu       sync.Mutex
	messages []chromedp.ConsoleMessage
}

// Open opens a tab in a fresh browser profile.
func Open(t testing.TB) *Tab {
	t.Helper()
	b := &shared.browser
	b.once.Do(start)
	require.NoError(t, b.err)
	return open(t, b.ctx, chromedp.WithNewBrowserContext())
}

// Beside opens another tab that shares this one's storage.
func (tab *Tab) Beside() *Tab {
	tab.t.Helper()
	return open(tab.t, tab.ctx)
}

func open(t testing.TB, parent context.Context, options ...chromedp.ContextOption) *Tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent, options...)
	t.Cleanup(cancel)
	tab := &Tab{t: t, ctx: ctx}
	// The tab lives as long as the context that it is first used with.
	require.NoError(t, chromedp.Do(ctx))
	tab.Do(chromedp.EmulateViewport(PhoneWidth, PhoneHeight, chromedp.EmulateMobile, chromedp.EmulateTouch))
	console := chromedp.Console(ctx)
	go func() {
		for m, err := range console {
			if err != nil {
				return
			}
			tab.mu.Lock()
			tab.messages = append(tab.messages, m)
			tab.mu.Unlock()
		}
	}()
	return tab
}

func start() {
	b := &shared.browser
	path, err := Chromium()
	if err != nil {
		b.err = err
		return
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(path),
		chromedp.NoSandbox,
		chromedp.DisableGPU,
		chromedp.Flag("headless", "new"),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		// Whatever the browser asks of another host goes to one that notes it and
		// refuses; this machine is asked directly.
		chromedp.ProxyServer(outside()),
	)
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	b.ctx, b.cancel = ctx, append([]context.CancelFunc{cancel, stop}, b.cancel...)
	b.err = chromedp.Do(ctx)
}

// Chromium finds the browser: what CHROMIUM names, or else on the path.
func Chromium() (string, error) {
	if path := os.Getenv("CHROMIUM"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("browsertest: no Chromium found; `make browser` installs it, or set CHROMIUM to its path")
}

// Do performs steps and fails the test when one of them fails or takes too long.
func (tab *Tab) Do(steps ...chromedp.Action[chromedp.Void]) {
	tab.t.Helper()
	ctx, cancel := context.WithTimeout(tab.ctx, patience)
	defer cancel()
	require.NoError(tab.t, chromedp.Do(ctx, steps...))
}

// Go opens an address as if it were typed in, and waits until the page has come.
func (tab *Tab) Go(url string) {
	tab.t.Helper()
	tab.Do(chromedp.Navigate(url))
}

// Ready waits until the program answers on the page.
func (tab *Tab) Ready() {
	tab.t.Helper()
	tab.Wait(`document.documentElement.dataset.ready === "yes"`)
}

// Offline waits until the whole tool is kept in the browser and this page is
// served from there.
func (tab *Tab) Offline() {
	tab.t.Helper()
	tab.Wait(`document.documentElement.dataset.offline === "ready" && navigator.serviceWorker.controller !== null`)
}

// Wait waits until a JavaScript expression is true. It outlives reloads.
func (tab *Tab) Wait(expression string) {
	tab.t.Helper()
	deadline := time.Now().Add(patience)
	for {
		ctx, cancel := context.WithTimeout(tab.ctx, patience)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		cancel()
		if err == nil && ok {
			return
		}
		if time.Now().After(deadline) {
			where, _ := chromedp.Run(tab.ctx, chromedp.Evaluate[string](
				`location.href + "\n" + JSON.stringify(document.documentElement.dataset) + "\n" + document.body.innerText.slice(0, 400)`))
			require.Failf(tab.t, "never came true", "%s\nlast error: %v\nat %s\nconsole:\n%s",
				expression, err, where, strings.Join(tab.Console(), "\n"))
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// Eval is the value of a JavaScript expression; a promise is waited for.
func Eval[T any](tab *Tab, expression string) T {
	tab.t.Helper()
	v, err := TryEval[T](tab, expression)
	require.NoErrorf(tab.t, err, "evaluating %s", expression)
	return v
}

// TryEval is Eval for what may fail, as when the page goes away meanwhile.
func TryEval[T any](tab *Tab, expression string) (T, error) {
	ctx, cancel := context.WithTimeout(tab.ctx, patience)
	defer cancel()
	return chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
}

// Click clicks the first element that the selector finds, with the mouse.
func (tab *Tab) Click(selector string) {
	tab.t.Helper()
	tab.Do(chromedp.Click(selector))
}

// Picture is the whole page as a PNG.
func (tab *Tab) Picture() []byte {
	tab.t.Helper()
	ctx, cancel := context.WithTimeout(tab.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	require.NoError(tab.t, err)
	return png
}

// WithoutScripts turns scripts off in this tab.
func (tab *Tab) WithoutScripts() {
	tab.t.Helper()
	tab.Do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	}))
}

// Media shows the page as another medium would ("print"; empty for the screen),
// and with features such as "prefers-reduced-motion" as they are given.
func (tab *Tab) Media(medium string, features map[string]string) {
	tab.t.Helper()
	p := emulation.SetEmulatedMediaParams{Media: medium}
	for name, value := range features {
		p.Features = append(p.Features, &emulation.MediaFeature{Name: name, Value: value})
	}
	tab.Do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, p)
		return err
	}))
}

// Viewport gives the tab another size, in CSS pixels.
func (tab *Tab) Viewport(width, height int64) {
	tab.t.Helper()
	tab.Do(chromedp.EmulateViewport(width, height, chromedp.EmulateMobile, chromedp.EmulateTouch))
}

// Elsewhere is what any tab, or any worker, of this binary's browser has asked of a
// host that is not this machine.
func Elsewhere() []string {
	shared.outside.mu.Lock()
	defer shared.outside.mu.Unlock()
	return append([]string(nil), shared.outside.asked...)
}

// outside stands for all other hosts and gives its address.
func outside() string {
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !ofTheBrowser(r.URL.Hostname()) {
			shared.outside.mu.Lock()
			shared.outside.asked = append(shared.outside.asked, r.Method+" "+r.URL.String())
			shared.outside.mu.Unlock()
		}
		http.Error(w, "there is no other host", http.StatusForbidden)
	}))
	shared.browser.cancel = append(shared.browser.cancel, server.Close)
	return server.URL
}

// ofTheBrowser reports whether a host is one that Chromium asks on errands of its
// own: the time, updates, accounts, the filling of forms.
func ofTheBrowser(host string) bool {
	for _, home := range []string{".google.com", ".googleapis.com", ".gvt1.com", ".gstatic.com"} {
		if strings.HasSuffix(host, home) {
			return true
		}
	}
	return false
}

// Requests hands over the address of every request that the page makes, from now
// until the test ends.
func (tab *Tab) Requests(f func(url string)) {
	tab.t.Helper()
	tab.Do(chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, network.Enable, network.EnableParams{})
		return err
	}))
	require.NoError(tab.t, chromedp.Listen(tab.ctx, func(event any) {
		if e, ok := event.(*network.EventRequestWillBeSent); ok {
			f(e.Request.URL)
		}
	}))
}

// Kill ends the page's process, as a phone short of memory does. The tab is of no
// use afterwards; another one beside it shares its storage.
func (tab *Tab) Kill() {
	tab.t.Helper()
	ctx, cancel := context.WithTimeout(tab.ctx, 300*time.Millisecond)
	defer cancel()
	_ = chromedp.Do(ctx, chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, page.Crash, cdp.Empty{}) // nobody is left to answer
		return err
	}))
}

// Console is everything that came up in the browser's console, oldest first.
func (tab *Tab) Console() []string {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	var lines []string
	for _, m := range tab.messages {
		lines = append(lines, fmt.Sprintf("%s %s: %s", m.Source, m.Type, m.Text))
	}
	return lines
}

// Faults is what the console holds of errors: exceptions, what the security
// policy refused, missing files. Console.error of the page counts too.
func (tab *Tab) Faults() []string {
	tab.mu.Lock()
	defer tab.mu.Unlock()
	var faults []string
	for _, m := range tab.messages {
		if m.Source == "intervention" {
			continue // such as a vibration that was not asked for by a finger but by a test
		}
		if m.IsException() || m.Type == "error" {
			faults = append(faults, fmt.Sprintf("%s %s: %s (%s:%d)", m.Source, m.Type, m.Text, m.URL, m.Line+1))
		}
	}
	return faults
}
