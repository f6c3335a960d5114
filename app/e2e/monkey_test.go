package e2e

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/screens"
	"provingbench/build/browsertest"
)

// monkey acts in the page: it is handed dice, acts as they fall, and tells what it
// did and how the page stands. Targets are those in the document's order, so that
// the same page and dice make the same act. Files, printing and sending leave the
// page and are left alone.
const monkey = `(async (acts) => {
  const jobs = () => Object.keys(localStorage).filter((k) => k.startsWith("provingbench.job."));
  const report = {did: "", trouble: "", jobs: []};
  const can = (e) => e.checkVisibility({visibilityProperty: true}) && !e.disabled &&
    !e.matches("[type=file], [download], [target=_blank], [aria-haspopup]") && !/^(Print|Share|Send|Save|Download|Copy)/.test(e.textContent.trim());
  for (const [kind, which, word] of acts) {
    const before = jobs();
    const all = [...document.querySelectorAll("a[href], button, input, select, textarea, summary")].filter(can);
    const fields = all.filter((e) => e.matches("input:not([type=radio], [type=checkbox]), textarea"));
    let did = "nothing";
    const press = (e) => { did = "press " + e.tagName + " " + (e.textContent.trim() || e.id).slice(0, 60); e.focus({preventScroll: true}); e.click(); };
    if (kind < 66 && all.length > 0) {
      press(all[which % all.length]);
    } else if (kind < 88 && fields.length > 0) {
      const e = fields[which % fields.length];
      did = "type " + word + " into " + e.id;
      e.focus({preventScroll: true});
      if (which % 3 === 0) e.select();
      document.execCommand("insertText", false, word);
      if (which % 5 === 0) e.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true, cancelable: true}));
    } else if (kind < 92) {
      did = "back";
      if (navigation.entries()[navigation.currentEntry.index - 1]?.sameDocument) history.back();
    } else if (kind < 94) {
      const key = ["Escape", "/", "ArrowDown", "ArrowUp", "Enter"][which % 5];
      did = "key " + key;
      document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true, cancelable: true}));
    } else {
      const x = which % innerWidth, y = (which >> 9) % innerHeight;
      const e = document.elementFromPoint(x, y)?.closest("a[href], button, label, input, summary");
      if (e && can(e)) press(e); else scrollTo(0, which % document.documentElement.scrollHeight);
    }
    report.did += did + "\n";
    sessionStorage.setItem("did", report.did);
    await new Promise((next) => setTimeout(next, 0));
    const gone = before.filter((k) => localStorage.getItem(k) === null);
    if (gone.length > 0 && !/^press BUTTON .*(Delete|Undo)/.test(did)) report.trouble = "lost " + gone;
    if (document.documentElement.dataset.ready !== "yes") report.trouble = "the page is " + document.documentElement.dataset.ready;
    if (document.getElementById("crash")) report.trouble = "the program has stopped";
    for (const k of jobs()) try { JSON.parse(localStorage.getItem(k)); } catch (e) { report.trouble = k + ": " + e; }
    if (report.trouble) break;
  }
  await new Promise((next) => requestAnimationFrame(() => setTimeout(next, 0)));
  if (document.querySelectorAll("main h1").length !== 1) report.trouble ||= "no heading on " + location.href;
  report.jobs = jobs();
  return report;
})`

// monkeyWords are what it types: trade, nonsense, and what breaks parsers.
var monkeyWords = []string{
	"no reverse", "flares two-three when hot", "4.9", "OL", "-", "1e999", "4,9,1", "180 F", "200 psi", "P1757", "0", "999999999",
	"<b>&amp;", `"'\`, "\u202e\u0000\u00e9", "Ω", "1/4 in", " ", "NaN", "x", strings.Repeat("9", 300),
}

// A monkey presses and types at random: the page stays alive, the console clean,
// and no job is lost but those that it deletes.
func TestMonkey(t *testing.T) {
	t.Parallel()
	events, most := 300, 25
	if *long {
		events = 100_000
	}
	chance := rand.New(rand.NewPCG(*seed, 7))
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	takeIn(h, server)
	h.Offline()
	browsertest.Eval[any](h.Tab, `(window.print = () => {}, null)`)
	all := screens.Site().All()
	var before []string
	loads := 0
	for done := 0; done < events; done += most {
		// It finds the way back from a corner only by chance; now and then it is carried.
		if done%(4*most) == 0 {
			goTo(h.Tab, all[chance.IntN(len(all))])
		}
		var dice []string
		for range most {
			dice = append(dice, "["+strings.Join([]string{
				strconv.Itoa(chance.IntN(100)), strconv.Itoa(chance.IntN(1 << 20)), quote(monkeyWords[chance.IntN(len(monkeyWords))]),
			}, ",")+"]")
		}
		report, err := browsertest.TryEval[struct {
			Did, Trouble string
			Jobs         []string
		}](h.Tab, monkey+"(["+strings.Join(dice, ",")+"])")
		if err != nil {
			// Pressed faster than it can draw, the browser follows a link by itself.
			did := browsertest.Eval[string](h.Tab, `sessionStorage.getItem("did") + location.href`)
			require.ErrorContainsf(t, err, "navigated", "seed %d, after %d events; the last:\n%s", *seed, done, did)
			h.Ready()
			report.Did, loads = did, loads+1
			report.Jobs = browsertest.Eval[[]string](h.Tab, `(window.print = () => {}, Object.keys(localStorage).filter((k) => k.startsWith("provingbench.job.")))`)
		}
		require.Emptyf(t, report.Trouble, "seed %d, after %d events; the last:\n%s", *seed, done, report.Did)
		require.Emptyf(t, h.Faults(), "seed %d, after %d events; the last:\n%s", *seed, done, report.Did)
		if !strings.Contains(report.Did, "Delete") && !strings.Contains(report.Did, "Undo") {
			for _, id := range before {
				require.True(t, slices.Contains(report.Jobs, id), "%s is lost", id)
			}
		}
		before = report.Jobs
	}

	assert.Less(t, loads, events/most/2, "it hardly ever stayed on the page")

	// All of it is there when the page is opened anew, without the host.
	server.Stop()
	h.Go(server.URL + "/jobs/")
	h.Ready()
	assert.Empty(t, browsertest.Eval[[]string](h.Tab, `Object.keys(localStorage).filter((k) => k.startsWith("provingbench.aside."))`), "nothing was found damaged")
	assert.Empty(t, exceptions(h.Tab))
}
