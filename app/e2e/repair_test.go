package e2e

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/screens"
	"provingbench/app/store"
	"provingbench/build/browsertest"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/repair"
)

func clock() time.Time { return time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC) }

// keep puts a job into the tab's storage, as if it had been worked here.
func (h *hand) keep(j store.Job) {
	h.t.Helper()
	box := store.Memory{}
	s, err := store.Open(box, clock)
	require.NoError(h.t, err)
	fresh, err := s.New()
	require.NoError(h.t, err)
	j.Format, j.ID, j.Revision, j.Created, j.Updated = fresh.Format, fresh.ID, fresh.Revision, fresh.Created, fresh.Updated
	*fresh = j
	require.NoError(h.t, s.Save(fresh))
	for key, value := range box {
		browsertest.Eval[bool](h.Tab, fmt.Sprintf("(localStorage.setItem(%s, %s), true)", quote(key), quote(value)))
	}
}

// hayTruck is a job on which an open governor coil was proved.
func hayTruck() store.Job {
	c := store.NewCase()
	c.Reports = []diagnosis.Report{{Symptom: "launches-in-third", Said: "starts off in third"}}
	c.Entries = []diagnosis.Entry{{Check: "governor-coil-at-part", Observation: "ohms", Reading: "OL"}}
	return store.Job{Name: "Hay truck", Complaint: "starts off in third", Settled: true, Case: c, Made: []store.Made{{At: clock(), Meter: "the red meter"}}}
}

// again does a check of the proof page as a healthy unit shows it.
func (h *hand) again(id string) {
	h.t.Helper()
	k := screens.Site().Catalogue.Check(id)
	require.NotNil(h.t, k, id)
	for i := range k.Observations {
		o := &k.Observations[i]
		at := "#p-" + id + "-" + o.ID
		if !browsertest.Eval[bool](h.Tab, "!!document.querySelector("+quote(at)+")") {
			continue
		}
		if o.Reading != nil {
			h.write(at, healthy[o.Reading.Acceptance])
			h.pressText(".proof:has("+at+")", "Enter")
			continue
		}
		for _, out := range o.Outcomes {
			if out.Normal {
				h.press(at + "-" + out.ID)
			}
		}
	}
}

// healthy is what the gauges and meters of the proof show on a unit that is
// sound, by the acceptance values of its sheet.
var healthy = map[string]string{
	"governor-solenoid-coil": "4.0", "governor-standstill": "1", "governor-rise": "30", "coil-insulation": "OL",
}

func TestRepairIsProvedAndSentOffline(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, keptOffline(t, server))
	h.keep(hayTruck())
	server.Stop()

	h.Go(server.URL + "/jobs/plan/")
	h.Ready()
	h.Wait(`document.body.innerText.includes("Renew: governor pressure solenoid")`)
	h.pressText(".plan", "Done")
	h.Wait(`document.querySelector(".plan__row[data-decided=done]")`)

	h.Go(server.URL + "/jobs/proof/")
	h.Ready()
	h.Wait(`document.querySelector("#end")`)
	assert.Contains(t, h.text("main"), "Governor solenoid coil open is not shown to be gone.")
	for _, id := range append([]string{"governor-pressure"}, repair.Final...) {
		h.again(id)
	}
	h.Wait(`[...document.querySelectorAll("button")].some(b => b.textContent.includes("Close the job"))`)
	h.pressText("main", "Close the job")
	h.Wait(`document.body.innerText.includes("This job was closed")`)

	h.Go(server.URL + "/jobs/shop-sheet/")
	h.Ready()
	h.Wait(`document.querySelector("table")`)
	for _, want := range []string{"Hay truck", "the red meter", "Governor solenoid coil open", "Proof after the repair"} {
		assert.Contains(t, h.text("main"), want)
	}
	for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		n := h.pages(paper)
		assert.LessOrEqual(t, n, 4, "%s: the whole of it on a few sheets", name)
	}
	h.Go(server.URL + "/jobs/customer-sheet/")
	h.Ready()
	h.Wait(`document.body.innerText.includes("How we know")`)
	assert.LessOrEqual(t, h.pages(chromedp.PaperA4), 2, "a customer gets two pages at the most")

	// A link takes the job to another phone, where it is shown before it is taken.
	h.Go(server.URL + "/jobs/transfer/")
	h.Ready()
	h.pressText("main", "This job as a link")
	h.Wait(`document.querySelector(".link")`)
	link := h.text(".link")
	assert.Regexp(t, regexp.QuoteMeta(server.URL)+`/jobs/transfer/#job=[A-Za-z0-9_-]+$`, link)
	assert.NotEmpty(t, browsertest.Eval[string](h.Tab, `(document.querySelector(".square path") || {getAttribute: () => ""}).getAttribute("d")`), "a square code for the camera")
	assert.Empty(t, h.Faults())

	server.Start()
	other := newHand(t, browsertest.Open(t))
	other.Go(link)
	other.Ready()
	other.Wait(`document.body.innerText.includes("Hay truck")`)
	assert.Equal(t, 0, browsertest.Eval[int](other.Tab, `Object.keys(localStorage).filter(k => k.includes(".job.")).length`), "nothing is taken unasked")
	other.pressText("main", "Take it in")
	other.Wait(`Object.keys(localStorage).some(k => k.includes(".job."))`)

	// A cut link says so.
	other.Go(server.URL + "/")
	other.Go(link[:len(link)-40])
	other.Ready()
	other.Wait(`document.body.innerText.includes("cut off or damaged")`)
	assert.Empty(t, other.Faults())
}

// pages prints the page and counts the sheets of paper.
func (h *hand) pages(size chromedp.PaperSize) int {
	h.t.Helper()
	_, n := h.Print(size)
	require.Positive(h.t, n)
	return n
}

func TestFileIsBroughtInOffline(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, keptOffline(t, server))
	server.Stop()
	j := hayTruck()
	j.Format, j.ID = store.Format, "from-elsewhere"
	file, err := store.Pack(store.Transfer{Jobs: []*store.Job{&j}})
	require.NoError(t, err)
	dir := t.TempDir()
	for name, content := range map[string][]byte{"good.json": file, "cut.json": file[:len(file)/2], "other.json": bytes.Repeat([]byte("hello "), 100)} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), content, 0o644))
	}
	h.Go(server.URL + "/jobs/transfer/")
	h.Ready()
	pick := func(name string) {
		h.Do(chromedp.SetUploadFiles("#file", []string{filepath.Join(dir, name)}))
	}
	pick("cut.json")
	h.Wait(`document.querySelector("main .field__problem")`)
	pick("other.json")
	h.Wait(`document.querySelector("main .field__problem")?.innerText.includes("line 1")`)
	pick("good.json")
	h.Wait(`document.body.innerText.includes("In good.json")`)
	h.pressText("main", "Take it in")
	h.Wait(`localStorage.getItem("provingbench.job.from-elsewhere")`)
	h.Go(server.URL + "/jobs/")
	h.Ready()
	h.Wait(`document.body.innerText.includes("Hay truck")`)
	assert.Empty(t, h.Faults())
}

func TestSettingsHoldAtOnceAndAreKept(t *testing.T) {
	t.Parallel()
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, keptOffline(t, server))
	server.Stop()
	h.Go(server.URL + "/settings/")
	h.Ready()
	h.press("#units-bar")
	h.press("#gloves-yes")
	h.press("#text-huge")
	h.Wait(`document.documentElement.dataset.gloves === "yes" && document.documentElement.dataset.text === "huge"`)
	h.Go(server.URL + "/figures/pressure/")
	h.Ready()
	h.Wait(`document.documentElement.dataset.gloves === "yes"`)
	h.Wait(`document.body.innerText.includes("as printed: 54 to 60 psi")`)
	assert.GreaterOrEqual(t, browsertest.Eval[float64](h.Tab, `Math.min(...[...document.querySelectorAll("main button")].filter(b => b.offsetParent).map(b => b.getBoundingClientRect().height))`), 96.0)
	assert.Empty(t, h.Faults())
}
