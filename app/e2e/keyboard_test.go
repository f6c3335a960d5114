package e2e

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
)

const (
	tabKey = "\t"
	space  = " "
)

// hidden says what of the element with the focus cannot be seen: it is off the
// screen, or something stands over its middle. Empty when it is in full view.
// Reference: WCAG 2.2, success criteria 2.4.7 and 2.4.12.
const hidden = `(() => {
  const e = document.activeElement;
  if (e === document.body || e.matches(".skip")) return "";
  const seen = e.matches("input[type=radio], input[type=checkbox], input[type=file]") ? e.closest("label") ?? e : e;
  const boxes = [...seen.getClientRects()];
  const name = seen.outerHTML.slice(0, 120);
  if (boxes.length === 0) return name + " has no place on the page";
  const box = boxes[0];
  const x = box.x + box.width / 2, y = box.y + Math.min(box.height, innerHeight) / 2;
  if (y < 0 || y > innerHeight || x < 0 || x > innerWidth) return name + " is off the screen";
  const over = document.elementFromPoint(x, y);
  if (!(seen.contains(over) || over?.contains(seen))) return name + " lies under " + over?.outerHTML.slice(0, 80);
  const style = getComputedStyle(e), around = getComputedStyle(seen);
  if (style.outlineStyle === "none" && around.outlineStyle === "none" && e.tagName !== "H1") return name + " does not show that it has the focus";
  return "";
})()`

// tabTo presses Tab until a condition on the element with the focus, e, holds.
func tabTo(t *testing.T, tab *browsertest.Tab, condition string) {
	t.Helper()
	var way []string
	for range 120 {
		keys(tab, tabKey)
		require.Empty(t, browsertest.Eval[string](tab, hidden))
		if browsertest.Eval[bool](tab, `((e) => Boolean(`+condition+`))(document.activeElement)`) {
			return
		}
		way = append(way, browsertest.Eval[string](tab, `document.activeElement.textContent.slice(0, 40) || document.activeElement.id`))
	}
	require.Failf(t, "never reached by Tab", "%s, past %q", condition, way)
}

// From the complaint to an entered answer without a mouse or a finger: Tab, Enter,
// Space and arrows, with the focus in view at each step.
func TestByKeyboardAlone(t *testing.T) {
	t.Parallel()
	for _, gloves := range []string{"", "yes"} {
		server := browsertest.Serve(t, browsertest.Site(t))
		tab := browsertest.Open(t)
		tab.Go(server.URL + "/")
		tab.Ready()
		if gloves != "" {
			browsertest.Eval[any](tab, `(document.documentElement.dataset.gloves = "yes", null)`)
		}
		keys(tab, tabKey)
		assert.Equal(t, "Skip to the content", browsertest.Eval[string](tab, `document.activeElement.textContent`))
		assert.True(t, browsertest.Eval[bool](tab, `document.activeElement.getBoundingClientRect().left >= 0`), "the skip link shows when it has the focus")

		tabTo(t, tab, `e.matches("a[href$='/find/']")`)
		keys(tab, enter)
		tab.Wait(`location.pathname === "/find/" && document.activeElement.tagName === "H1"`)
		tabTo(t, tab, `e.id === "words"`)
		keys(tab, "no reverse, runs hot")
		tab.Wait(`[...document.querySelectorAll("main button")].some((b) => b.textContent.includes("Take these"))`)
		tabTo(t, tab, `e.tagName === "BUTTON" && /Take th(is|ese)/.test(e.textContent)`)
		keys(tab, enter)
		tab.Wait(`document.querySelector("#next")`)
		tabTo(t, tab, `e.closest("section[aria-labelledby=next]") && e.matches("a.button--primary")`)
		keys(tab, enter)
		tab.Wait(`location.pathname.startsWith("/checks/") && document.activeElement.tagName === "H1"`)

		// The first observation: picked, read, or one after the other.
		tabTo(t, tab, `e.closest("section[aria-labelledby^='o-']") && e.matches("input")`)
		if browsertest.Eval[bool](tab, `document.activeElement.type === "radio"`) {
			keys(tab, space)
			tab.Wait(`document.activeElement.checked`)
			first := browsertest.Eval[string](tab, focused)
			keys(tab, down)
			tab.Wait(`document.activeElement.checked && document.activeElement.id !== ` + quote(first))
		} else {
			keys(tab, "5")
		}
		tabTo(t, tab, `e.tagName === "BUTTON" && /Enter this|Judge/.test(e.textContent)`)
		keys(tab, space)
		tab.Wait(`document.querySelector("[id^='entered-']")`)
		tab.Wait(`document.querySelector("[role=status][aria-live=polite]")?.textContent !== ""`)

		// And back to what that moved.
		tabTo(t, tab, `e.matches("a[href$='/find/']")`)
		keys(tab, enter)
		tab.Wait(`location.pathname === "/find/" && document.activeElement.tagName === "H1" && document.querySelector("#next")`)
		assert.Empty(t, tab.Faults())
	}
}

// What the user has set in the system holds here.
func TestSystemSettingsAreKeptTo(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	h.Media("", map[string]string{"prefers-reduced-motion": "reduce"})
	takeIn(h, server)
	moving := browsertest.Eval[[]string](h.Tab, `[...document.querySelectorAll("*")].filter((e) => {
		const s = getComputedStyle(e);
		return s.animationName !== "none" || parseFloat(s.transitionDuration) > 0 || s.scrollBehavior === "smooth";
	}).map((e) => e.outerHTML.slice(0, 100))`)
	assert.Empty(t, moving)

	h.Media("", map[string]string{"forced-colors": "active"})
	h.Go(server.URL + "/find/")
	h.Ready()
	h.Wait(`document.querySelector(".likelihood__part")`)
	assert.True(t, browsertest.Eval[bool](h.Tab, `matchMedia("(forced-colors: active)").matches`))
	assert.True(t, browsertest.Eval[bool](h.Tab, `(() => {
		const bar = getComputedStyle(document.querySelector(".likelihood__part")).fill;
		return bar !== getComputedStyle(document.body).backgroundColor && bar === getComputedStyle(document.querySelector("h1")).color;
	})()`), "the bars have the colour of the text")
}

// No key is lost when the keys come in faster than the page is drawn, as they do on
// a phone that is slower than the thumb.
func TestFastTypingLosesNoKey(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/find/")
	tab.Ready()
	tab.Do(slowDown(4))
	const words = "no reverse, flares two three when hot, hunts on the highway"
	browsertest.Eval[any](tab, `(async () => {
		document.getElementById("words").focus();
		for (const key of `+quote(words)+`) {
			document.execCommand("insertText", false, key);
			await new Promise((next) => setTimeout(next, 12));
		}
		return null;
	})()`)
	assert.Equal(t, words, browsertest.Eval[string](tab, `document.getElementById("words").value`))
	tab.Wait(kept + `.complaint === ` + quote(words))
	assert.Equal(t, words, browsertest.Eval[string](tab, `document.getElementById("words").value`))
	assert.Empty(t, tab.Faults())
}

// The last of two quick picks holds. When the first is drawn while the browser
// handles the second, it finds the mark where it was and sends no change event;
// here the first is put back in that moment, as the drawing does.
func TestFastPicksEndWithTheLast(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/checks/fluid-level/")
	tab.Ready()
	const marks = `document.querySelectorAll("section[aria-labelledby=o-level] input[type=radio]")`
	browsertest.Eval[any](tab, `(() => {
		const [first, second] = `+marks+`;
		second.addEventListener("click", () => { first.checked = true; }, {capture: true, once: true});
		first.focus();
		return null;
	})()`)
	keys(tab, space)
	keys(tab, down)
	tab.Wait(marks + `[1].checked`)
	assert.True(t, browsertest.Eval[bool](tab, marks+`[1] === document.activeElement`))
	picked := browsertest.Eval[string](tab, marks+`[1].closest("label").querySelector(".choice__label").textContent`)
	tabTo(t, tab, `e.tagName === "BUTTON" && /Enter this/.test(e.textContent)`)
	keys(tab, space)
	tab.Wait(`document.querySelector("#entered-level")`)
	assert.Contains(t, browsertest.Eval[string](tab, `document.querySelector("#entered-level").innerText`), picked)
}
