package e2e

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/browsertest"
	"provingbench/build/website"
)

// variants are the forms in which people and hosts write an address.
func variants(path string) []string {
	forms := []string{path, path + "?x=1", path + "index.html"}
	if path != "/" {
		forms = append(forms, strings.TrimSuffix(path, "/"))
	}
	return forms
}

// fetchAll asks for paths from within the page and returns what was not the page
// that stands on disk, by its hash.
const fetchAll = `(async (paths) => {
  const wrong = [];
  const one = async ([path, wanted]) => {
    try {
      const answer = await fetch(path);
      const bytes = await answer.arrayBuffer();
      const hash = [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))].
        map((b) => b.toString(16).padStart(2, "0")).join("");
      if (answer.status !== 200 || hash !== wanted) {
        wrong.push(path + ": " + answer.status + " " + new TextDecoder().decode(bytes).slice(0, 80));
      }
    } catch (e) {
      wrong.push(path + ": " + e);
    }
  };
  while (paths.length > 0) await Promise.all(paths.splice(0, 16).map(one));
  return wrong;
})`

// everyForm asks for every address in every form, from within a page of the site.
func everyForm(t *testing.T, tab *browsertest.Tab, site browsertest.Built) {
	t.Helper()
	var asked [][2]string
	for _, a := range screens.Site().All() {
		page, err := os.ReadFile(filepath.Join(site.Dir, filepath.FromSlash(string(a)), "index.html"))
		require.NoError(t, err)
		for _, form := range variants(string(a)) {
			asked = append(asked, [2]string{strings.TrimSuffix(site.Base, "/") + form, fmt.Sprintf("%x", sha256.Sum256(page))})
		}
	}
	arguments, err := json.Marshal(asked)
	require.NoError(t, err)
	assert.Empty(t, browsertest.Eval[[]string](tab, fetchAll+"("+string(arguments)+")"))
}

func TestOffline(t *testing.T) {
	t.Parallel()
	site := browsertest.Site(t)
	server := browsertest.Serve(t, site)
	tab := keptOffline(t, server)

	t.Run("every address is kept in every form", func(t *testing.T) { everyForm(t, tab, site) })

	t.Run("every kind of address opens", func(t *testing.T) {
		for i, a := range everyKind() {
			forms := variants(string(a))
			if i > 1 {
				// Each form is tried on each address above; here each kind has its turn.
				forms = forms[i%len(forms):][:1]
			}
			for _, form := range forms {
				tab.Go(server.URL + form)
				tab.Ready()
				assert.Equal(t, screens.Site().Page(a).Heading(), browsertest.Eval[string](tab, `document.title`), form)
				assert.NotEmpty(t, browsertest.Eval[string](tab, `document.querySelector("main h1").textContent`), form)
			}
		}
	})

	t.Run("an unknown address gets the tool's own page", func(t *testing.T) {
		tab.Go(server.URL + "/checks/no-such-check/")
		tab.Ready()
		assert.Equal(t, screens.Site().Page(route.Missing()).Heading(), browsertest.Eval[string](tab, `document.title`))
	})
	assert.Empty(t, exceptions(tab))
}

func TestSiteInAFolderWorksOffline(t *testing.T) {
	t.Parallel()
	site := browsertest.Build(t, website.Options{Base: "/some/path/"})
	server := browsertest.Serve(t, site)
	tab := keptOffline(t, server)
	everyForm(t, tab, site)
	for _, path := range []string{"/", "/checks/?x=1", "/bench", "/learn/index.html"} {
		tab.Go(server.URL + path)
		tab.Ready()
		outside := browsertest.Eval[[]string](tab,
			`[...document.querySelectorAll("[href], [src]")].map((e) => e.getAttribute("href") ?? e.getAttribute("src")).
				filter((u) => !u.startsWith("/some/path/") && !u.startsWith("#"))`)
		assert.Empty(t, outside, path)
	}
	// Within the program, too, an address is one of this folder.
	tab.Go(server.URL + "/")
	tab.Ready()
	browsertest.Eval[any](tab, `goappNav("/some/path/jobs/") ?? null`)
	tab.Wait(`document.title === ` + quote(screens.Site().Page("/jobs/").Heading()))
}

func TestOtherToolsOfTheHostKeepTheirCaches(t *testing.T) {
	t.Parallel()
	site := browsertest.Build(t, website.Options{Base: "/a/"})
	server := browsertest.Serve(t, site)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	browsertest.Eval[any](tab, `caches.open("proving-bench /a/b/ 123").then(() => caches.open("another")).then(() => null)`)
	tab.Ready()
	tab.Offline()
	kept := browsertest.Eval[[]string](tab, `caches.keys()`)
	assert.ElementsMatch(t, []string{"proving-bench /a/b/ 123", "another", "proving-bench /a/ " + site.Version}, kept)
}

func TestProgramIsDownloadedOnce(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()
	var programs []string
	for _, uri := range server.Asked() {
		if name, _, _ := strings.Cut(uri, "?"); strings.Contains(name, ".wasm") {
			programs = append(programs, name)
		}
	}
	// This host does not compress: the page sees it and breaks off.
	assert.Equal(t, []string{"/web/tool.wasm", "/web/tool.wasm.gz"}, programs)
	assert.Empty(t, tab.Faults())
}

// A browser short of space throws caches away without asking.
func TestCacheThatWasThrownAwayIsFilledAgain(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	tab.Offline()
	browsertest.Eval[any](tab, `caches.keys().then((names) => Promise.all(names.map((n) => caches.delete(n)))).then(() => null)`)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	browsertest.Eval[any](tab, `(async () => {
	  for (let i = 0; i < 600; i++) {
	    if (await caches.match(new URL("/web/app.wasm", location.href).href)) return null;
	    await new Promise((done) => setTimeout(done, 50));
	  }
	  throw new Error("the program did not come back");
	})()`)
	server.Stop()
	tab.Go(server.URL + "/jobs/")
	tab.Ready()
}

// The About screen says which version this is and since when it works offline.
func TestAboutSaysWhetherItWorksOffline(t *testing.T) {
	t.Parallel()
	site := browsertest.Site(t)
	server := browsertest.Serve(t, site)
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/about/")
	tab.Ready()
	said := `document.getElementById("copy-state").textContent`
	tab.Wait(said + `.startsWith("Version ` + site.Version + `. Works without a network: yes, since ")`)
	year := browsertest.Eval[string](tab, `String(new Date().getFullYear())`)
	first := browsertest.Eval[string](tab, said)
	assert.Contains(t, first, year)
	server.Stop()
	tab.Go(server.URL + "/about/?x=1")
	tab.Ready()
	tab.Wait(said + ` === ` + quote(first))
	assert.Empty(t, tab.Faults())
}
