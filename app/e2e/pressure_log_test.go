package e2e

import (
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
)

// TestPressureLogUnderTheTruck fills the table in on a phone, with the host gone:
// number keys and the key that goes on, each verdict as it is typed.
func TestPressureLogUnderTheTruck(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := keptOffline(t, server)
	tab.Do(chromedp.EmulateViewport(390, 844))
	tab.Go(server.URL + "/bench/pressure-log/")
	tab.Ready()

	box := func(key string) string { return `document.getElementById(` + quote("gauge-"+key) + `)` }
	verdict := func(key string) string {
		return `(document.getElementById(` + quote("gauge-"+key+"-judged") + `)?.innerText ?? "")`
	}
	assert.LessOrEqual(t, browsertest.Eval[float64](tab, `document.querySelector(".gauges__box").getBoundingClientRect().top + scrollY`), 844.0,
		"the first box begins on the first screen")
	assert.Empty(t, browsertest.Eval[[]string](tab, wide))
	assert.Equal(t, "54 to 60 psi", browsertest.Eval[string](tab, `document.getElementById("gauge-line-pressure-manual-1-line-idle-window").innerText`), "before anything is typed")
	assert.Empty(t, browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".gauges input")].filter((e) => e.inputMode !== "decimal" || e.enterKeyHint === "").map((e) => e.id)`))

	// Enter goes down the whole table, each box in view, and nowhere else.
	boxes := browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".gauges__box")].map((e) => e.id)`)
	require.Greater(t, len(boxes), 15)
	browsertest.Eval[bool](tab, `(document.querySelector(".gauges__box").focus(), true)`)
	for n, id := range boxes {
		require.Equal(t, id, browsertest.Eval[string](tab, focused))
		require.Empty(t, browsertest.Eval[string](tab, hidden))
		if n < len(boxes)-1 {
			keys(tab, enter)
		}
	}

	// Both gauges of manual 1, then of manual 2.
	browsertest.Eval[bool](tab, `(`+box("line-pressure-manual-1-line-idle")+`.focus(), true)`)
	keys(tab, "57"+enter)
	tab.Wait(verdict("line-pressure-manual-1-line-idle") + ` === "Good"`)
	keys(tab, "37"+enter)
	tab.Wait(verdict("line-pressure-manual-1-rear-servo") + `.includes("Too far: 20 psi under")`)
	says(tab, "1 reading is out of the window")
	says(tab, "rear band circuit")

	// What can't be read says so at its box; the others keep their verdicts.
	keys(tab, "5.7.1"+enter)
	tab.Wait(`document.getElementById("gauge-line-pressure-manual-2-line-idle-problem")`)
	assert.Equal(t, "Good", browsertest.Eval[string](tab, verdict("line-pressure-manual-1-line-idle")))
	assert.Equal(t, "true", browsertest.Eval[string](tab, box("line-pressure-manual-2-line-idle")+`.getAttribute("aria-invalid")`))
	says(tab, "1 reading is out of the window")
	says(tab, "1 entry above could not be read and is left out.")
	assert.Empty(t, browsertest.Eval[[]string](tab, wide))

	// The link has it all, in another tab too.
	tab.Wait(`location.search.includes("line-pressure-manual-1.rear-servo=37") && location.search.includes("5.7.1")`)
	at := browsertest.Eval[string](tab, `location.href`)
	tab.Go(server.URL + "/bench/")
	tab.Ready()
	tab.Go(at)
	tab.Ready()
	tab.Wait(box("line-pressure-manual-1-rear-servo") + `.value === "37"`)
	assert.Equal(t, "5.7.1", browsertest.Eval[string](tab, box("line-pressure-manual-2-line-idle")+`.value`))

	// Another unit for what the gauges read: nothing typed is lost.
	choose(tab, "gauge-unit", "kPa", "change")
	tab.Wait(verdict("line-pressure-manual-1-line-idle") + ` === "Too low"`)
	assert.Equal(t, "57", browsertest.Eval[string](tab, box("line-pressure-manual-1-line-idle")+`.value`))
	choose(tab, "gauge-unit", "psi", "change")
	tab.Wait(verdict("line-pressure-manual-1-line-idle") + ` === "Good"`)

	// Into the job, as findings of the checks.
	tap(tab, "Enter all in the job")
	tab.Wait(kept + `.case.entries?.length === 2`)
	assert.Equal(t, "20 psi", browsertest.Eval[string](tab, kept+`.case.entries.filter((e) => e.observation === "servo-difference").map((e) => e.reading + " " + e.unit).join()`))
	tab.Go(server.URL + "/checks/line-pressure-manual-1/")
	tab.Ready()
	tab.Wait(`document.getElementById("entered-servo-difference")?.innerText.includes("20 psi")`)
	assert.Empty(t, tab.Faults())
}

// TestPressureLogOnADesk: the whole grid is on the page at once, each box under its
// port, and a link from before the table opens.
func TestPressureLogOnADesk(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	for _, width := range []int64{1216, 1280, 1920} {
		tab.Do(chromedp.EmulateViewport(width, 800))
		tab.Go(server.URL + "/bench/pressure-log/?line-pressure-manual-1.servo-difference=20&line-pressure-manual-1.servo-difference-unit=psi")
		tab.Ready()
		says(tab, "1 reading is out of the window")
		assert.Equal(t, "-20", browsertest.Eval[string](tab, `document.getElementById("gauge-line-pressure-manual-1-rear-servo").value`))
		assert.Empty(t, browsertest.Eval[[]string](tab, wide), strconv.Itoa(int(width)))
		assert.Empty(t, browsertest.Eval[[]string](tab, small+`(48)`))
		assert.Empty(t, browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".gauges__box")].filter((e) => {
			const [port] = e.getAttribute("aria-labelledby").split(" ").map((id) => document.getElementById(id).getBoundingClientRect());
			const box = e.getBoundingClientRect();
			return box.left < port.left - 1 || box.right > port.right + 1 || box.right > document.documentElement.clientWidth;
		}).map((e) => e.id)`), "each box under its port")
		assert.Empty(t, browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".gauges__cell")].filter((e) => e.scrollWidth > e.clientWidth + 1).map((e) => e.innerText)`), "nothing reaches out of its cell")
	}
	assert.Empty(t, tab.Faults())
}

// TestPressureLogOnPaper: cautions in full and the whole table, on A4.
func TestPressureLogOnPaper(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Do(chromedp.EmulateViewport(390, 844))
	tab.Go(server.URL + "/bench/pressure-log/?line-pressure-manual-1.line-idle=57")
	tab.Ready()
	tab.Media("print", nil)
	assert.Equal(t, "table-header-group", browsertest.Eval[string](tab, `getComputedStyle(document.querySelector(".gauges__heads")).display`))
	assert.Empty(t, browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".caution--brief > p")].filter((e) => e.getBoundingClientRect().height === 0).map((e) => e.innerText)`))
	tab.Media("", nil)
	_, sheets := tab.Print(chromedp.PaperA4)
	assert.LessOrEqual(t, sheets, 4)
}
