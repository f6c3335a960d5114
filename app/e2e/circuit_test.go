package e2e

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"provingbench/build/browsertest"
)

// choose sets a control as a thumb does.
func choose(tab *browsertest.Tab, id, value, event string) {
	e := `document.getElementById(` + quote(id) + `)`
	tab.Wait(e)
	browsertest.Eval[bool](tab, `(`+e+`.value = `+quote(value)+`, `+e+`.dispatchEvent(new Event(`+quote(event)+`, {bubbles: true})))`)
}

// TestCircuitOffline moves the model and fits a pressure log with the host gone.
func TestCircuitOffline(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := keptOffline(t, server)
	const numbers = `[...document.querySelectorAll(".circuit__pressure")].map((e) => e.textContent).join("|")`
	changed := func(before string) string {
		tab.Wait(numbers + ` !== ` + quote(before))
		return browsertest.Eval[string](tab, numbers)
	}
	tab.Go(server.URL + "/learn/circuit/")
	tab.Ready()
	says(tab, "3rd in D")
	at := browsertest.Eval[string](tab, numbers)
	choose(tab, "circuit-range", "R", "change")
	at = changed(at)
	choose(tab, "circuit-throttle", "100", "input")
	at = changed(at)
	choose(tab, "circuit-fault-1", "rear-servo-leak", "change")
	changed(at)
	says(tab, "Pressures that differ from a healthy unit's")
	assert.True(t, browsertest.Eval[bool](tab, `document.querySelector('.circuit__box[data-changed="yes"]') !== null`))
	tab.Wait(`location.search.includes("fault=rear-servo-leak") && location.search.includes("range=R")`)

	// From the pressure log to what explains it: stopped, then to its end.
	tab.Go(server.URL + "/bench/pressure-log/?line-pressure-drive.line-idle=41")
	tab.Ready()
	const fit = `[...document.querySelectorAll("main a")].find((a) => a.textContent === "Fit these readings")`
	tab.Wait(fit)
	browsertest.Eval[bool](tab, `(`+fit+`.click(), true)`)
	says(tab, "41 psi ±")
	// A fit may be done before a test can look: the page itself is watched, and
	// presses Stop the moment that it is there.
	browsertest.Eval[any](tab, `(() => {
		window.shares = [];
		window.stop = true;
		new MutationObserver(() => {
			const share = document.querySelector("main").textContent.match(/Looking: (\d+) %/);
			if (!share) return;
			shares.push(Number(share[1]));
			const button = [...document.querySelectorAll("main button")].find((b) => b.textContent === "Stop");
			if (stop && button) { stop = false; button.click(); }
		}).observe(document.querySelector("main"), {subtree: true, childList: true, characterData: true});
		return null;
	})()`)
	tap(tab, "Find what explains them")
	says(tab, "Stopped. Nothing was changed.")
	browsertest.Eval[any](tab, `(shares.length = 0, null)`)
	tap(tab, "Find what explains them")
	says(tab, "Explains them best")
	says(tab, "Read next, to part the rivals")
	shares := browsertest.Eval[[]int](tab, `shares`)
	assert.True(t, slices.IsSorted(shares), "%v", shares)
	assert.Greater(t, len(slices.Compact(shares)), 2, "progress is shown")
	tap(tab, "Weigh it in the ranking")
	says(tab, "A fitted pressure log is in the job at hand")
	tab.Go(server.URL + "/jobs/")
	tab.Ready()
	says(tab, "The pressure log, fitted")
	tap(tab, "Remove: the pressure log, fitted")
	tab.Wait(`!document.querySelector("main").textContent.includes("The pressure log, fitted")`)
	assert.Empty(t, exceptions(tab))
}
