package e2e

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/route"
	"provingbench/app/screens"
	"provingbench/build/browsertest"
)

var audit = flag.Bool("audit", false, "hold every address, in each light and on paper, against axe-core; otherwise one address of each kind")

// axeScript is where build/audit/package-lock.json puts axe-core.
const axeScript = "../../build/audit/node_modules/axe-core/axe.min.js"

// axeTags are the levels A, AA and AAA of WCAG 2.0 to 2.2, and axe-core's own best
// practices.
const axeTags = `["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]`

// colourTags are the rules that a change of light can break.
const colourTags = `["cat.color"]`

// looks are the ways in which a page is seen.
var looks = []struct{ name, medium, light string }{
	{"day", "", "day"},
	{"night", "", "night"},
	{"print", "print", "day"},
}

// axeRun has the page looked over and gives one line for each place that breaks a
// rule, and how many rules it passed.
const axeRun = `(async (tags) => {
  const found = await axe.run(document, {
    runOnly: {type: "tag", values: tags},
    resultTypes: ["violations"],
  });
  return {
    passed: found.passes.length,
    broken: found.violations.flatMap((rule) => rule.nodes.map((node) =>
      rule.id + ": " + node.html.slice(0, 160) + " (" + [...node.any, ...node.all, ...node.none].map((c) => c.message).join("; ") + ")")),
  };
})`

// goTo goes to another screen within the program.
func goTo(tab *browsertest.Tab, a route.Address) {
	browsertest.Eval[any](tab, `goappNav(location.origin + `+quote(string(a))+`) ?? null`)
	tab.Wait(`location.pathname === ` + quote(string(a)) + ` && document.title === ` + quote(screens.Site().Page(a).Heading()) +
		` && document.activeElement.tagName === "H1"`)
}

// takeIn starts a job with findings of each sort, so that screens have something to show.
func takeIn(h *hand, server *browsertest.Server) {
	h.Go(server.URL + "/find/")
	h.Ready()
	h.write("#words", "no reverse, flares two-three when hot, runs hot")
	h.pressText("main", "Take these")
	h.Wait(`document.querySelector("#next")`)
	h.Go(server.URL + "/checks/governor-coil-at-plug/")
	h.Ready()
	h.write("#ohms-reading", "OL")
	h.pressText(`section[aria-labelledby="o-ohms"]`, "Judge")
	h.Wait(`document.querySelector("#entered-ohms")`)
}

// Nothing that axe-core knows of is wrong, with a job at hand.
// Reference: axe-core, of the version that build/audit/package-lock.json names.
func TestAccessibleToAxe(t *testing.T) {
	t.Parallel()
	script, err := os.ReadFile(axeScript)
	if os.IsNotExist(err) && !*audit {
		t.Skip("axe-core is not installed: `make audit` installs it")
	}
	require.NoError(t, err)
	addresses, seen := everyKind(), looks[:2]
	if *audit {
		addresses, seen = append(screens.Site().All(), route.Missing()), looks
	}

	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	takeIn(h, server)
	browsertest.Eval[any](h.Tab, string(script)+"\n;null")

	type tally struct{ pages, rules, broken int }
	tallies := map[string]*tally{}
	for i, look := range seen {
		tags := axeTags
		if i > 0 && !*audit {
			tags = colourTags
		}
		h.Media(look.medium, nil)
		browsertest.Eval[any](h.Tab, `(document.documentElement.dataset.light = `+quote(look.light)+`, null)`)
		sum := &tally{}
		tallies[look.name] = sum
		for _, a := range addresses {
			goTo(h.Tab, a)
			found := browsertest.Eval[struct {
				Passed int
				Broken []string
			}](h.Tab, axeRun+"("+tags+")")
			assert.Positive(t, found.Passed, "%s: axe-core had nothing to look at", a)
			assert.Empty(t, found.Broken, "%s, %s", a, look.name)
			sum.pages++
			sum.rules = max(sum.rules, found.Passed)
			sum.broken += len(found.Broken)
		}
	}
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "axe-core\tpages\trules met, at most\tplaces that break one\t")
	for _, look := range seen {
		x := tallies[look.name]
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t\n", look.name, x.pages, x.rules, x.broken)
	}
	require.NoError(t, w.Flush())
	t.Log("\n" + table.String())
	assert.Empty(t, h.Faults())
}
