package e2e

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/ask"
	"provingbench/build/browsertest"
	"provingbench/knowledge/practice"
	"provingbench/knowledge/unit"
)

// tap presses the button in main that a screen reader would read so.
func tap(tab *browsertest.Tab, words string) {
	button := `[...document.querySelectorAll("main button")].find((b) => b.textContent === ` + quote(words) + `)`
	tab.Wait(button)
	browsertest.Eval[bool](tab, `(`+button+`.click(), true)`)
}

func says(tab *browsertest.Tab, words string) {
	tab.Wait(`document.querySelector("main").textContent.includes(` + quote(words) + `)`)
}

// TestPracticeRunOffline works a made-up truck as the plan does, with the host gone
// and the page loaded anew in the middle of it.
func TestPracticeRunOffline(t *testing.T) {
	t.Parallel()
	engine := ask.Engine()
	var truck *practice.Truck
	var plan *practice.Plan
	for seed := uint32(1); plan == nil || len(plan.Steps) < 2 || len(plan.Steps) > 6; seed++ {
		var err error
		truck, err = practice.New(engine.Catalogue, unit.Late, seed)
		require.NoError(t, err)
		for plan = practice.Follow(engine, truck); !plan.Over && len(plan.Steps) < 7; {
			require.NoError(t, plan.Advance())
		}
	}

	server := browsertest.Serve(t, browsertest.Site(t))
	tab := keptOffline(t, server)
	address := server.URL + "/learn/practice/?version=late&seed=" + strconv.FormatUint(uint64(truck.Seed), 10)
	tab.Go(address)
	tab.Ready()
	for _, y := range truck.Complaint {
		says(tab, y.Name)
	}
	for i, s := range plan.Steps {
		tap(tab, "Do it: "+s.Check.Name)
		says(tab, "As the plan would. "+plan.Whys[i])
		if i == 0 {
			tab.Go(address) // what was done is still there
			tab.Ready()
		}
	}
	for _, f := range truck.Faults {
		tap(tab, "Call it: "+f.Name)
	}
	tap(tab, "Repair these and drive it")
	says(tab, "All found")
	says(tab, "What the plan did")
	for _, f := range truck.Faults {
		says(tab, f.Name)
	}
	cells := browsertest.Eval[[]string](tab, `[...document.querySelectorAll("main table td")].map((c) => c.textContent).filter((c) => c !== "")`)
	require.GreaterOrEqual(t, len(cells), 8, strings.Join(cells, "|"))
	for i := 0; i < 8; i += 2 {
		assert.Equal(t, cells[i+1], cells[i], "who works as the plan does is charged as the plan is")
	}
	assert.Empty(t, exceptions(tab))
}

// TestStudentsScreens picks a gear, answers a question and draws a tree.
func TestStudentsScreens(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	tab := browsertest.Open(t)
	tab.Go(server.URL + "/learn/chart/")
	tab.Ready()
	browsertest.Eval[bool](tab, `(document.getElementById("flow-gear-2").click(), true)`)
	says(tab, "Ratio 1.45")
	browsertest.Eval[bool](tab, `(document.getElementById("flow-lost-front-band").click(), true)`)
	says(tab, "at 2.45 instead of 1.45")
	tab.Wait(`location.search === "?gear=2&without=front-band"`)
	tab.Wait(`document.querySelector(".flow__cross")`)

	tab.Go(server.URL + "/learn/quiz/?seed=7")
	tab.Ready()
	says(tab, "Question 1 of 10")
	tap(tab, "Mark my answer")
	says(tab, "Not quite")
	tap(tab, "Next question")
	says(tab, "Question 2 of 10")

	tab.Go(server.URL + "/learn/tree/no-reverse/")
	tab.Ready()
	browsertest.Eval[bool](tab, `(document.getElementById("tree-chart-readable").click(), true)`)
	tab.Wait(`document.querySelector(".drawn__page a")`)
	outside := browsertest.Eval[[]string](tab, `[...document.querySelectorAll(".drawn__page")].flatMap((page) => {
	  const boxes = [...page.querySelectorAll("rect")].map((r) => r.getBBox());
	  return [...page.querySelectorAll("text")].filter((text) => {
	    const t = text.getBBox();
	    return !boxes.some((b) => t.x >= b.x && t.y >= b.y && t.x + t.width <= b.x + b.width + 1 && t.y + t.height <= b.y + b.height + 1);
	  }).map((text) => text.textContent);
	})`)
	assert.Empty(t, outside, "words outside their box")
	assert.Empty(t, tab.Faults())
}
