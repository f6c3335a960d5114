package e2e

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"provingbench/app/screens"
	"provingbench/build/ask"
	"provingbench/build/browsertest"
	"provingbench/build/trucks"
)

var pictures = flag.String("pictures", "", "folder for pictures of a job's screens, day and night")

// TestPictures takes pictures of one job as it goes, and of the other screens, to
// look at: on a phone by day and by night, on a desk, and on paper.
func TestPictures(t *testing.T) {
	if *pictures == "" {
		t.Skip("no folder for pictures was given")
	}
	require.NoError(t, os.MkdirAll(*pictures, 0o755))
	k := screens.Site().Catalogue
	x := trucks.Load(t, k)["hay-hauler"]
	q, err := ask.Read(bytes.NewReader(x.Question))
	require.NoError(t, err)
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, keptOffline(t, server))
	take := func(name string) {
		for _, light := range []string{"day", "night"} {
			browsertest.Eval[bool](h.Tab, `(document.documentElement.dataset.light = `+quote(light)+`, true)`)
			require.NoError(t, os.WriteFile(filepath.Join(*pictures, name+"-"+light+".png"), h.Picture(), 0o644))
		}
	}
	h.Go(server.URL + "/find/")
	h.Ready()
	h.write("#words", q.Complaint)
	h.Wait(`document.querySelector(".understood")`)
	take("words")
	h.start(server, q)
	take("ranked")
	for _, id := range []string{"fluid-level", "cooler-flow-test", "stored-codes", "overdrive-coil-at-plug"} {
		h.Go(server.URL + "/checks/" + id + "/")
		h.Ready()
		h.enter(x, k.Check(id))
		take("check-" + id)
	}
	h.Go(server.URL + "/find/")
	h.Ready()
	h.Wait(`document.querySelector("#stands")`)
	take("proved")
	for _, page := range picturedPages {
		h.Go(server.URL + page.address)
		h.Ready()
		h.pause()
		take(page.name)
	}
	h.Do(chromedp.EmulateViewport(1280, 800))
	for _, page := range picturedPages {
		h.Go(server.URL + page.address)
		h.Ready()
		h.pause()
		require.NoError(t, os.WriteFile(filepath.Join(*pictures, page.name+"-wide.png"), h.Picture(), 0o644))
		pdf, _ := h.Print(chromedp.PaperA4)
		require.NoError(t, os.WriteFile(filepath.Join(*pictures, page.name+"-print.pdf"), pdf, 0o644))
	}
}

// picturedPages are the pages to look at once the job of TestPictures has
// proved faults.
var picturedPages = []struct{ name, address string }{
	{"home", "/"},
	{"jobs", "/jobs/"},
	{"plan", "/jobs/plan/"},
	{"proof", "/jobs/proof/"},
	{"shop-sheet", "/jobs/shop-sheet/"},
	{"customer-sheet", "/jobs/customer-sheet/"},
	{"transfer", "/jobs/transfer/"},
	{"settings", "/settings/"},
	{"about", "/about/"},
	{"bench", "/bench/"},
	{"coil", "/bench/coil/?ohms=4.9&leads=0.3&at=180"},
	{"pressure-log", "/bench/pressure-log/?line-pressure-drive.line-idle=57&governor-pressure.standstill=16"},
	{"learn", "/learn/"},
	{"chart", "/learn/chart/"},
	{"tree", "/learn/tree/no-reverse/"},
	{"practice", "/learn/practice/"},
	{"codes", "/codes/"},
	{"figures", "/figures/"},
	{"checks", "/checks/"},
	{"fault", "/faults/governor-solenoid-coil-open/"},
	{"search", "/search/?q=gov+solenoid+ohms"},
}
