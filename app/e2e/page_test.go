package e2e

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/browsertest"
)

// quote writes text as a JavaScript string.
func quote(text string) string {
	b, err := json.Marshal(text)
	if err != nil {
		panic(err) // strings always can be
	}
	return string(b)
}

// exceptions is what the console holds of errors, without what a missing
// network brings about.
func exceptions(tab *browsertest.Tab) []string {
	var kept []string
	for _, f := range tab.Faults() {
		if !strings.Contains(f, "net::ERR_") && !strings.Contains(f, "status of 404") {
			kept = append(kept, f)
		}
	}
	return kept
}

// difference compares the page as it was prepared with what the program drew and
// says where they part. Left out is what the program can only set as a property,
// the mark that focus needs, whose turn the element around the screen is, and what is
// said of the browser, which is asked after the first drawing, or offered because it
// can do it.
const difference = `(async (path) => {
  const answer = await fetch(path);
  const prepared = new DOMParser().parseFromString(await answer.text(), "text/html").body.firstElementChild;
  const drawn = document.body.firstElementChild;
  const skipped = new Set(["value", "checked", "selected", "tabindex"]);
  const attributes = (e) => [...e.attributes].filter((a) => !skipped.has(a.name)).
    map((a) => a.name + "=" + a.value).sort().join(" ");
  const name = (n) => n.nodeType === 3 ? "text" : n.classList?.contains("screen") ? "screen" : n.nodeName;
  const children = (n) => { n.normalize(); return [...n.childNodes].filter((c) => c.nodeType === 1 && !c.matches("p.buttons:has(> [aria-pressed]:only-child)") || c.nodeType === 3 && c.data !== ""); };
  const compare = (a, b, way) => {
    if (name(a) !== name(b)) return way + ": " + name(a) + " became " + name(b);
    if (a.nodeType === 3) return a.data === b.data ? "" : way + ": " + JSON.stringify(a.data) + " became " + JSON.stringify(b.data);
    if (a.matches("section") && a.querySelector(":scope > [role=status]")) return "";
    if (attributes(a) !== attributes(b)) return way + ": " + attributes(a) + " became " + attributes(b);
    const x = children(a), y = children(b);
    for (let i = 0; i < Math.min(x.length, y.length); i++) {
      const d = compare(x[i], y[i], way + " > " + name(a) + "[" + i + "]");
      if (d) return d;
    }
    return x.length === y.length ? "" : way + " > " + name(a) + ": " + x.length + " children became " + y.length;
  };
  return compare(prepared, drawn, path);
})`

// visitAll goes from screen to screen within the program and says what is wrong
// with any.
const visitAll = `(async (screens) => {
  const wrong = [];
  const settled = (path, title) => location.pathname === path && document.title === title &&
    document.activeElement.tagName === "H1";
  for (const [path, title, summary] of screens) {
    goappNav(location.origin + path);
    const until = performance.now() + 30000;
    while (!settled(path, title) && performance.now() < until) await new Promise((next) => setTimeout(next, 5));
    if (!settled(path, title)) { wrong.push(path + ": shows " + location.pathname + ", " + document.title); continue; }
    const headings = document.querySelectorAll("h1").length;
    if (headings !== 1) wrong.push(path + ": has " + headings + " h1");
    if (document.querySelector("meta[name=description]").content !== summary) wrong.push(path + ": has another description");
    const parted = await (` + difference + `)(path);
    if (parted !== "") wrong.push(parted);
  }
  return wrong;
})`

func everyFourth(all []route.Address) []route.Address {
	var some []route.Address
	for i := 0; i < len(all); i += 4 {
		some = append(some, all[i])
	}
	return some
}

// From any address to any other within the program; all of them in an audit, else
// every fourth. (What each draws is tested without a browser, too.)
func TestAddressesWithinTheProgram(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/about/")
	tab.Ready()
	all := screens.Site().All()
	if !*audit {
		all = everyFourth(all)
	}
	for len(all) > 0 {
		some := all[:min(40, len(all))]
		all = all[len(some):]
		var asked [][3]string
		for _, a := range some {
			page := screens.Site().Page(a)
			asked = append(asked, [3]string{string(a), page.Heading(), page.Summary()})
		}
		arguments, err := json.Marshal(asked)
		require.NoError(t, err)
		assert.Empty(t, browsertest.Eval[[]string](tab, visitAll+"("+string(arguments)+")"))
	}
	assert.Empty(t, tab.Faults())
}

const (
	// reading is all that stands in the page to be read; visible is what of it can
	// be seen. What is said of the browser comes with the program alone, and so do
	// buttons that are offered because this browser can do what they say.
	reading = `(() => {
		const main = document.querySelector("main").cloneNode(true);
		main.querySelectorAll("[role=status], button").forEach((e) => e.remove());
		return main.textContent;
	})()`
	visible = `document.querySelector("main").innerText`
)

// The program draws what was prepared, and that can be read without it. Controls
// that do nothing without the program may be kept out of sight; the text may not.
func TestPagesAreTheSameWithAndWithoutTheProgram(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	with, without, bare := browsertest.Open(t), browsertest.Open(t), browsertest.Open(t)
	bare.WithoutScripts()
	for _, a := range everyKind() {
		with.Go(server.URL + string(a))
		with.Ready()
		assert.Empty(t, browsertest.Eval[string](with, difference+"("+quote(string(a))+")"))
		text := browsertest.Eval[string](with, reading)
		heading := browsertest.Eval[string](with, `document.querySelector("h1").innerText`)
		require.NotEmpty(t, text)
		paragraphs := browsertest.Eval[[]string](with, `[...document.querySelectorAll("main p, main h2, main td, main li > a")].
			filter((e) => !e.querySelector("button, input, select") && !e.closest("form, [hidden], [role=status], details:not([open])")).
			map((e) => e.innerText.trim()).filter((t) => t !== "")`)

		without.Go(server.URL + string(a) + "?wasm=false")
		without.Wait(`document.documentElement.dataset.ready === "static"`)
		assert.Equal(t, text, browsertest.Eval[string](without, reading), a)
		assert.False(t, browsertest.Eval[bool](without, `document.getElementById("status") !== null`), "nothing says that more is to come")

		bare.Go(server.URL + string(a))
		assert.Equal(t, text, browsertest.Eval[string](bare, reading), a)
		assert.Contains(t, browsertest.Eval[string](bare, `document.body.innerText`), "Without scripts this page can be read")

		for _, tab := range []*browsertest.Tab{without, bare} {
			seen := browsertest.Eval[string](tab, visible)
			assert.Contains(t, seen, heading, a)
			lost := 0
			for _, p := range paragraphs {
				if !strings.Contains(seen, p) {
					lost++
				}
			}
			assert.LessOrEqualf(t, lost, len(paragraphs)/10, "%s: %d of %d paragraphs cannot be seen", a, lost, len(paragraphs))
		}
	}
	assert.Empty(t, with.Faults())
	assert.Empty(t, without.Faults())
}

// withoutProgram is a site whose program does not come in, as over a bad line.
func withoutProgram(t *testing.T) browsertest.Built {
	t.Helper()
	site := browsertest.Copy(t, browsertest.Site(t))
	require.NoError(t, os.Remove(filepath.Join(site.Dir, "web/tool.wasm.gz")))
	return site
}

func TestProgramThatCannotBeLoadedLeavesThePage(t *testing.T) {
	t.Parallel()
	tab := browsertest.Open(t)
	server := browsertest.Serve(t, withoutProgram(t))
	tab.Go(server.URL + "/checks/")
	tab.Wait(`document.documentElement.dataset.ready === "static"`)
	assert.Contains(t, browsertest.Eval[string](tab, `document.getElementById("status").textContent`), "can only be read")
	assert.NotEmpty(t, browsertest.Eval[string](tab, reading))
}

func TestStatusDoesNotCoverThePage(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, withoutProgram(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Wait(`document.getElementById("status") !== null`)
	share := browsertest.Eval[float64](tab, `document.getElementById("status").getBoundingClientRect().height / innerHeight`)
	assert.Less(t, share, 0.2)
	topmost := browsertest.Eval[string](tab, `(() => {
	  const box = document.querySelector("main h1").getBoundingClientRect();
	  return document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2).tagName;
	})()`)
	assert.Equal(t, "H1", topmost)
}

func TestNavigationMovesTitleFocusAndScroll(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	heading := func(a route.Address) string { return screens.Site().Page(a).Heading() }
	tall := func() {
		browsertest.Eval[any](tab, `(() => { document.documentElement.style.minHeight = "5000px"; return null; })()`)
	}
	scrolled := `Math.round(scrollY)`

	tab.Go(server.URL + "/checks/")
	tab.Ready()
	tall()
	assert.Equal(t, "BODY", browsertest.Eval[string](tab, `document.activeElement.tagName`), "the first page is left alone")
	browsertest.Eval[any](tab, `scrollTo(0, 700) ?? null`)

	browsertest.Eval[any](tab, `document.querySelector("a[href='/figures/']").click() ?? null`)
	tab.Wait(`document.title === ` + quote(heading("/figures/")) + ` && document.activeElement.tagName === "H1"`)
	assert.Equal(t, 0, browsertest.Eval[int](tab, scrolled))
	assert.Equal(t, "-1", browsertest.Eval[string](tab, `document.activeElement.getAttribute("tabindex")`))
	browsertest.Eval[any](tab, `scrollTo(0, 300) ?? null`)

	browsertest.Eval[any](tab, `history.back() ?? null`)
	tab.Wait(`document.title === ` + quote(heading("/checks/")) + ` && ` + scrolled + ` === 700`)
	browsertest.Eval[any](tab, `history.forward() ?? null`)
	tab.Wait(`document.title === ` + quote(heading("/figures/")) + ` && ` + scrolled + ` === 300`)

	// Within one screen, nothing jumps.
	browsertest.Eval[any](tab, `goappNav(location.origin + "/figures/?q=x") ?? null`)
	tab.Wait(`location.search === "?q=x"`)
	assert.Equal(t, 300, browsertest.Eval[int](tab, scrolled))
	assert.Empty(t, tab.Faults())
}

func TestSkipLinkMovesTheFocus(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/?x=1")
	tab.Ready()
	browsertest.Eval[any](tab, `document.querySelector("a, button, input").click() ?? null`)
	tab.Wait(`document.activeElement.id === "main"`)
	assert.Equal(t, "?x=1#main", browsertest.Eval[string](tab, `location.search + location.hash`), "the state in the address stays")
}

func TestProgramThatStopsSaysSo(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	// A telephone number in place of an address ends the program, which is why the
	// guard keeps such links away from it.
	browsertest.Eval[any](tab, `(() => { try { goappNav("tel:123"); } catch {} return null; })()`)
	tab.Wait(`document.getElementById("crash")?.getAttribute("role") === "alert"`)
	assert.Contains(t, browsertest.Eval[string](tab, `document.getElementById("crash").textContent`), "has stopped working")
	tab.Click("#crash button")
	tab.Ready()
	assert.False(t, browsertest.Eval[bool](tab, `document.getElementById("crash") !== null`))
}

func TestForeignLinksDoNotReachTheProgram(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	const press = `((attributes, keys) => {
	  const link = document.createElement("a");
	  Object.entries(attributes).forEach(([k, v]) => link.setAttribute(k, v));
	  document.querySelector("main").append(link);
	  // What the browser itself would do is not wanted here.
	  addEventListener("click", (e) => e.preventDefault(), { capture: true, once: true });
	  link.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true, ...keys }));
	  link.remove();
	  return null;
	})`
	for _, c := range []string{
		`{href: "tel:123"}, {}`,
		`{href: "mailto:a@b.invalid"}, {}`,
		`{href: "sms:123"}, {}`,
		`{href: "/figures/", target: "_blank"}, {}`,
		`{href: "/figures/"}, {shiftKey: true}`,
		`{href: "/figures/"}, {ctrlKey: true}`,
		`{href: "/figures/", download: ""}, {}`,
	} {
		browsertest.Eval[any](tab, press+"("+c+")")
	}
	// The program is alive, and where it was.
	assert.Equal(t, "/checks/", browsertest.Eval[string](tab, `location.pathname`))
	browsertest.Eval[any](tab, press+`({href: "/figures/"}, {})`)
	tab.Wait(`location.pathname === "/figures/" && document.title === ` + quote(screens.Site().Page("/figures/").Heading()))
	assert.Empty(t, tab.Faults())
}

func TestPageCanBeZoomed(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	viewport := browsertest.Eval[string](tab, `document.querySelector("meta[name=viewport]").content`)
	assert.NotContains(t, viewport, "maximum-scale")
	assert.NotContains(t, viewport, "user-scalable")
}

// The policy holds in the browser, not only in the page's head.
func TestPolicyRefusesInlineScripts(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/")
	tab.Ready()
	refused := browsertest.Eval[string](tab, `new Promise((done) => {
	  document.addEventListener("securitypolicyviolation", (e) => done(e.effectiveDirective), { once: true });
	  const script = document.createElement("script");
	  script.textContent = "window.ran = true";
	  document.body.append(script);
	})`)
	assert.Equal(t, "script-src-elem", refused)
	assert.False(t, browsertest.Eval[bool](tab, `"ran" in window`))
}
