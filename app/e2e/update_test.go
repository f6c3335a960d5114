package e2e

import (
	"compress/gzip"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
	"provingbench/build/website"
)

var next struct {
	once sync.Once
	site browsertest.Built
}

// nextVersion is the site as it would be after a change to a style sheet.
func nextVersion(t *testing.T) browsertest.Built {
	t.Helper()
	next.once.Do(func() {
		root := t.TempDir()
		require.NoError(t, os.CopyFS(filepath.Join(root, "web"), os.DirFS("../../web")))
		require.NoError(t, os.WriteFile(filepath.Join(root, "web/css/zz-next.css"), []byte(".next{}\n"), 0o644))
		next.site = browsertest.Build(t, website.Options{Root: root, Out: filepath.Join(browsertest.Folder(), "next")})
	})
	require.NotEmpty(t, next.site.Version)
	return next.site
}

const (
	version = `document.querySelector("script[data-version]").dataset.version`
	waiting = `document.getElementById("update") !== null`
)

func TestNewVersionWaitsUntilItIsAskedFor(t *testing.T) {
	t.Parallel()
	v1, v2 := browsertest.Site(t), nextVersion(t)
	require.NotEqual(t, v1.Version, v2.Version)
	server := browsertest.Serve(t, v1)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()

	server.Deploy(v2)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	tab.Wait(waiting)
	assert.Equal(t, v1.Version, browsertest.Eval[string](tab, version))
	assert.Contains(t, browsertest.Eval[string](tab, `document.getElementById("update").textContent`), "A new version is ready")

	// Reloading is not asking.
	tab.Go(server.URL + "/jobs/?x=1")
	tab.Ready()
	tab.Wait(waiting)
	assert.Equal(t, v1.Version, browsertest.Eval[string](tab, version))
	assert.Equal(t, v1.Version, browsertest.Eval[string](tab, `goappGetenv("GOAPP_VERSION")`))

	tab.Click("#update button")
	tab.Wait(version + ` === ` + quote(v2.Version))
	tab.Ready()
	tab.Offline()
	assert.Equal(t, server.URL+"/jobs/?x=1", browsertest.Eval[string](tab, `location.href`))
	assert.False(t, browsertest.Eval[bool](tab, waiting))
	assert.Equal(t, []string{"proving-bench / " + v2.Version}, browsertest.Eval[[]string](tab, `caches.keys()`))

	server.Stop()
	tab.Go(server.URL + "/bench/")
	tab.Ready()
	assert.Equal(t, v2.Version, browsertest.Eval[string](tab, version))
	assert.Contains(t, browsertest.Eval[string](tab, `fetch(document.querySelector("link[rel=stylesheet]").href).then((r) => r.text())`), ".next{}")
}

func TestOtherTabIsToldOfTheUpdate(t *testing.T) {
	t.Parallel()
	v1, v2 := browsertest.Site(t), nextVersion(t)
	server := browsertest.Serve(t, v1)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()
	other := tab.Beside()
	other.Go(server.URL + "/checks/")
	other.Ready()
	other.Offline()

	server.Deploy(v2)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Wait(waiting)
	tab.Click("#update button")
	tab.Wait(version + ` === ` + quote(v2.Version))
	other.Wait(`document.getElementById("update")?.textContent.includes("in use in another tab")`)
	assert.Equal(t, v1.Version, browsertest.Eval[string](other, version), "what is open there goes on")
}

// A version that does not come in whole leaves the old one standing, and
// nothing of itself.
func TestBrokenDeployKeepsTheOldVersion(t *testing.T) {
	t.Parallel()
	v1 := browsertest.Site(t)
	server := browsertest.Serve(t, v1)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()

	tool := func(site browsertest.Built) string { return filepath.Join(site.Dir, "web/tool.wasm.gz") }
	for _, c := range []struct {
		name  string
		spoil func(v2 browsertest.Built) error
	}{
		{"tool is missing", func(v2 browsertest.Built) error { return os.Remove(tool(v2)) }},
		{"tool is cut off", func(v2 browsertest.Built) error { return os.Truncate(tool(v2), 1000) }},
		{"tool is still the old one", func(v2 browsertest.Built) error {
			content, err := os.ReadFile(tool(v1))
			if err != nil {
				return err
			}
			return os.WriteFile(tool(v2), content, 0o644)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			v2 := browsertest.Copy(t, nextVersion(t))
			require.NoError(t, c.spoil(v2))
			server.Deploy(v2)
			failed := browsertest.Eval[string](tab, `(async () => {
			  const registration = await navigator.serviceWorker.getRegistration();
			  const over = new Promise((done) => registration.addEventListener("updatefound", () => {
			    const worker = registration.installing;
			    worker.addEventListener("statechange", () => done(worker.state));
			  }, { once: true }));
			  await registration.update().catch(() => {});
			  return over;
			})()`)
			assert.Equal(t, "redundant", failed)
			assert.Equal(t, []string{"proving-bench / " + v1.Version}, browsertest.Eval[[]string](tab, `caches.keys()`))
		})
	}

	server.Stop()
	tab.Go(server.URL + "/checks/?x=1")
	tab.Ready()
	assert.Equal(t, v1.Version, browsertest.Eval[string](tab, version))
	assert.False(t, browsertest.Eval[bool](tab, waiting))
}

// A first visit to a host that has part of the file works as far as it goes.
func TestFirstVisitWithoutThePagesStillRuns(t *testing.T) {
	t.Parallel()
	site := browsertest.Copy(t, browsertest.Site(t))
	name := filepath.Join(site.Dir, "web/tool.wasm.gz")
	info, err := os.Stat(name)
	require.NoError(t, err)
	require.NoError(t, os.Truncate(name, info.Size()-1000))
	server := browsertest.Serve(t, site)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	browsertest.Eval[any](tab, `navigator.serviceWorker.getRegistration().then(() => null)`)
	assert.Empty(t, browsertest.Eval[[]string](tab, `caches.keys()`))
}

func TestHostsThatUnpackOnTheWay(t *testing.T) {
	t.Parallel()
	site := browsertest.Copy(t, browsertest.Site(t))
	name := filepath.Join(site.Dir, "web/tool.wasm.gz")
	packed, err := os.Open(name)
	require.NoError(t, err)
	z, err := gzip.NewReader(packed)
	require.NoError(t, err)
	content, err := io.ReadAll(z)
	require.NoError(t, err)
	require.NoError(t, packed.Close())
	require.NoError(t, os.WriteFile(name, content, 0o644))
	server := browsertest.Serve(t, site)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	tab.Offline()
	assert.Empty(t, tab.Faults())
}

// note takes in a complaint and gives the jobs as the browser keeps them.
func note(t *testing.T, tab *browsertest.Tab, server *browsertest.Server) string {
	t.Helper()
	takeIn(newHand(t, tab), server)
	jobs := browsertest.Eval[string](tab, savedJobs)
	require.Contains(t, jobs, "no-reverse")
	return jobs
}

// savedJobs are all jobs as the browser keeps them.
const savedJobs = `JSON.stringify(Object.entries(localStorage).filter(([k]) => k.startsWith("provingbench.job.")).sort())`

// Neither a new version nor one that comes in damaged costs a job anything.
func TestUpdatesKeepEveryJob(t *testing.T) {
	t.Parallel()
	v1, v2 := browsertest.Site(t), nextVersion(t)
	server := browsertest.Serve(t, v1)
	tab := browsertest.Open(t)
	jobs := note(t, tab, server)
	tab.Offline()

	broken := browsertest.Copy(t, v2)
	files, err := filepath.Glob(filepath.Join(broken.Dir, "web/*.gz"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		require.NoError(t, os.Truncate(f, 500))
	}
	server.Deploy(broken)
	browsertest.Eval[any](tab, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => null, () => null)`)
	tab.Go(server.URL + "/jobs/")
	tab.Ready()
	assert.Equal(t, v1.Version, browsertest.Eval[string](tab, version))
	assert.Equal(t, jobs, browsertest.Eval[string](tab, savedJobs))

	server.Deploy(v2)
	tab.Go(server.URL + "/find/")
	tab.Ready()
	browsertest.Eval[any](tab, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => null, () => null)`)
	tab.Wait(waiting)
	tab.Click("#update button")
	tab.Wait(version + ` === ` + quote(v2.Version))
	tab.Ready()
	server.Stop()
	tab.Go(server.URL + "/find/?x=1")
	tab.Ready()
	assert.Equal(t, jobs, browsertest.Eval[string](tab, savedJobs))
	tab.Wait(`document.querySelector("#next") && document.querySelector(".head__link")`)
}

// A host that tells browsers and caches to keep everything for a year does not
// keep a new version away.
func TestHostsThatSayTheWrongThingAboutCaching(t *testing.T) {
	t.Parallel()
	v1, v2 := browsertest.Site(t), nextVersion(t)
	server := browsertest.Serve(t, v1)
	server.Answer(http.Header{"Cache-Control": {"public, max-age=31536000, immutable"}, "Expires": {"Thu, 31 Dec 2099 23:59:59 GMT"}})
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()
	server.Deploy(v2)
	browsertest.Eval[any](tab, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => null)`)
	tab.Wait(waiting)
	tab.Click("#update button")
	tab.Wait(version + ` === ` + quote(v2.Version))
	tab.Ready()
	tab.Offline()
	server.Stop()
	for _, a := range []string{"/checks/?x=1", "/bench", "/learn/index.html"} {
		tab.Go(server.URL + a)
		tab.Ready()
		assert.Equal(t, v2.Version, browsertest.Eval[string](tab, version))
	}

	// Nor does one that lets nothing be kept.
	server = browsertest.Serve(t, v1)
	server.Answer(http.Header{"Cache-Control": {"no-store"}, "Pragma": {"no-cache"}, "Vary": {"*"}})
	tab = keptOffline(t, server)
	tab.Go(server.URL + "/faults/rear-band-loose?x=1")
	tab.Ready()
	assert.Empty(t, exceptions(tab))
}
