package e2e

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
)

// keys presses keys wherever the focus is.
func keys(tab *browsertest.Tab, keys string) { tab.Do(chromedp.KeyEvent(keys)) }

const (
	focused = `(document.activeElement?.id ?? "")`
	top     = `(document.querySelector(".answer--first")?.innerText ?? "")`
	escape  = "\x1b"
	down    = "\u0301" // as package kb names the arrow
	up      = "\u0304"
	enter   = "\r"
)

// slash presses the slash key alone, without the character that the tab would
// type by itself, and reports whether the page took it.
const slash = `!document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "/", bubbles: true, cancelable: true}))`

// fits reports that nothing is cut off at the side.
const fits = `document.documentElement.scrollWidth <= innerWidth`

// boxes are where the header's parts stand, which must not change by typing.
const boxes = `[...document.querySelectorAll(".head__name, .head__job, .search__toggle")].map((e) => {
  const r = e.getBoundingClientRect(); return [r.left, r.top + scrollY, r.width, r.height].map(Math.round).join(" "); }).join("; ")`

func TestSearchAnswersWithoutAHost(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := keptOffline(t, server)
	tab.Go(server.URL + "/checks/")
	tab.Ready()
	before := browsertest.Eval[string](tab, boxes)

	tab.Click("#search-toggle")
	tab.Wait(focused + ` === "search-box"`)
	keys(tab, "gov solenoid ohms")
	tab.Wait(top + `.includes("Governor pressure solenoid coil")`)
	said := browsertest.Eval[string](tab, top)
	for _, want := range []string{"3 to 5 ohm", "Fluid cold", "From memory, confirm", "What goes with it"} {
		assert.Contains(t, said, want)
	}
	tab.Wait(`document.getElementById("search-status").textContent.includes("First: Governor pressure solenoid coil")`)
	assert.Equal(t, before, browsertest.Eval[string](tab, boxes), "the header stands still")
	assert.True(t, browsertest.Eval[bool](tab, `document.querySelector(".answers").getBoundingClientRect().bottom <= document.querySelector("main").getBoundingClientRect().top + 1`),
		"the answers cover nothing")

	keys(tab, enter)
	tab.Wait(`location.pathname === "/search/" && location.search === "?q=gov+solenoid+ohms"`)
	tab.Wait(`document.querySelector("main .answer--first") !== null && document.querySelectorAll(".answer--first").length === 1`)

	// The address is all that has to be sent.
	other := tab.Beside()
	other.Go(server.URL + "/search/?q=rear+band+turns+mid")
	other.Ready()
	other.Wait(top + `.includes("3 turns")`)
	assert.Equal(t, "rear band turns mid", browsertest.Eval[string](other, `document.getElementById("search-box").value`))
	assert.Empty(t, exceptions(tab))
}

func TestSearchByKeyboard(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Do(chromedp.EmulateViewport(1280, 800))
	tab.Go(server.URL + "/find/")
	tab.Ready()
	tab.Click("#words")
	keys(tab, "2/3")
	assert.Equal(t, "2/3", browsertest.Eval[string](tab, `document.getElementById("words").value`), "a slash in a field is a slash")
	browsertest.Eval[any](tab, `document.activeElement.blur() ?? null`)

	assert.True(t, browsertest.Eval[bool](tab, slash), "the browser must not type it too")
	tab.Wait(focused + ` === "search-box"`)
	keys(tab, "no reverse")
	tab.Wait(top + `.includes("No reverse, forward gears work")`)
	for _, step := range []struct{ key, at string }{{down, "answer-0"}, {down, "answer-1"}, {up, "answer-0"}, {up, "search-box"}, {down, "answer-0"}} {
		keys(tab, step.key)
		tab.Wait(focused + ` === ` + quote(step.at))
	}
	keys(tab, escape)
	tab.Wait(`document.querySelector(".answers--open") === null`)
	browsertest.Eval[any](tab, `document.activeElement.blur() ?? null`)
	assert.True(t, browsertest.Eval[bool](tab, slash))
	tab.Wait(top + `.includes("No reverse")`)
	keys(tab, down)
	tab.Wait(focused + ` === "answer-0"`)
	keys(tab, enter)
	tab.Wait(`location.pathname === "/symptoms/no-reverse/" && document.querySelector(".answers--open") === null`)
	assert.Empty(t, tab.Faults())
}

func TestSearchFitsEveryScreen(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	for _, size := range []struct {
		name          string
		width, height int64
	}{{"small phone", 320, 568}, {"phone", 390, 844}, {"desk at 200 %", 640, 400}, {"desk", 1280, 800}} {
		tab.Do(chromedp.EmulateViewport(size.width, size.height))
		tab.Go(server.URL + "/figures/torque/")
		tab.Ready()
		assert.True(t, browsertest.Eval[bool](tab, fits), size.name)
		browsertest.Eval[bool](tab, slash)
		tab.Wait(focused + ` === "search-box"`)
		keys(tab, "line pressure full throttle")
		tab.Wait(top + `.includes("psi")`)
		assert.True(t, browsertest.Eval[bool](tab, fits), size.name)
		small := browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".search button, .search input, .answers a, .answers button")].
			filter((e) => e.offsetParent !== null && e.getBoundingClientRect().height < 48).map((e) => e.textContent + " " + e.className)`)
		assert.Empty(t, small, "%s: targets", size.name)
		if *pictures != "" {
			require.NoError(t, os.WriteFile(filepath.Join(*pictures, "search-"+strings.ReplaceAll(size.name, " ", "-")+".png"), tab.Picture(), 0o644))
		}
	}
}
