package e2e

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/browsertest"
)

// wide names what reaches beyond the page's right edge, where it makes the page
// scroll sideways; empty when the page fits.
const wide = `(() => {
  const room = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= room) return [];
  const inBox = (e) => { for (let p = e.parentElement; p; p = p.parentElement) if (getComputedStyle(p).overflowX !== "visible") return true; return false; };
  const out = [...document.querySelectorAll("body *")].filter((e) => e.getBoundingClientRect().right > room + 0.5 && !inBox(e));
  return out.filter((e) => !out.some((c) => c !== e && e.contains(c))).slice(0, 4).
    map((e) => e.outerHTML.slice(0, 140) + " ends at " + Math.round(e.getBoundingClientRect().right) + " of " + room).
    concat("scrolls to " + document.documentElement.scrollWidth + " of " + room);
})()`

// small lists the controls on the page that are less than the least height, or, for
// what is done first, less than 60 px. A link
// in a line of text is none; a mark in a label is as large as the label.
const small = `((least) => {
  const seen = (e) => e.checkVisibility({visibilityProperty: true}) && !e.closest(".spoken");
  const inText = (e) => e.tagName === "A" && getComputedStyle(e).display === "inline";
  return [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [role=button], [tabindex='0']")].
    filter((e) => seen(e) && !inText(e) && e.type !== "hidden" && !e.matches(".skip")).
    map((e) => e.matches("input[type=radio], input[type=checkbox], input[type=file]") ? e.closest("label") ?? e : e).
    filter((e) => { const box = e.getBoundingClientRect(); return Math.min(box.height, box.width) < (e.matches(".button--primary") ? Math.max(least, 60) : least) - 0.5; }).
    map((e) => e.outerHTML.slice(0, 140) + " is " + Math.round(e.getBoundingClientRect().width) + " by " + Math.round(e.getBoundingClientRect().height));
})`

// sizes are what pages must fit. The least height of a control is in CSS pixels.
var sizes = []struct {
	name         string
	width        int64
	text, gloves string
	least        int
}{
	// WCAG 2.2, success criterion 1.4.10: 320 px. 2.5.5 (AAA) asks for 44 px, which
	// leaves no room for a wet thumb.
	{"small phone", 320, "", "", 48},
	// Success criterion 1.4.4: twice the size.
	{"text of twice the size", 390, "huge", "", 48},
	// MIL-STD-1472: 19 mm for a gloved finger, which is 120 px where a pixel is
	// 0.16 mm; 96 px is what still leaves two rows over the menu.
	{"gloves", 390, "", "yes", 96},
	{"everything at once", 320, "huge", "yes", 96},
}

// survey goes from screen to screen within the program, up to until, and lists what
// is too wide or too small on each.
const survey = `(async (paths, least) => {
  const wrong = {};
  for (const path of paths) {
    goappNav(location.origin + path);
    const until = performance.now() + 30000;
    const settled = () => location.pathname === path && document.documentElement.dataset.ready === "yes" && document.activeElement.tagName === "H1";
    while (!settled() && performance.now() < until) await new Promise((next) => setTimeout(next, 4));
    const found = settled() ? [...` + wide + `, ...` + small + `(least)] : ["does not come up"];
    if (found.length > 0) wrong[path] = found;
    document.activeElement.blur();
  }
  return wrong;
})`

// Every page fits the smallest of screens, with the text at twice its size and
// with the targets for gloves, and every control on it can be hit.
func TestEveryPageFitsTheHand(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	takeIn(h, server)
	addresses := everyKind()
	if *audit {
		addresses = append(screens.Site().All(), route.Missing())
	}
	for _, size := range sizes {
		h.Viewport(size.width, 640)
		browsertest.Eval[any](h.Tab, `(() => { const d = document.documentElement.dataset; delete d.text; delete d.gloves; `+
			`if (`+quote(size.text)+`) d.text = `+quote(size.text)+`; if (`+quote(size.gloves)+`) d.gloves = `+quote(size.gloves)+`; return null; })()`)
		for some := range slices.Chunk(addresses, 40) {
			list, err := json.Marshal(some)
			require.NoError(t, err)
			wrong := browsertest.Eval[map[string][]string](h.Tab, fmt.Sprintf("%s(%s, %d)", survey, list, size.least))
			assert.Empty(t, wrong, size.name)
		}
	}
	assert.Empty(t, h.Faults())
}
