package e2e

import (
	"context"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"provingbench/build/browsertest"
)

// BenchmarkReady measures, in milliseconds from the start of the navigation,
// when the page can be read and when it answers to touch: on a first visit and
// from what is kept, at full speed and with the processor slowed down four
// times, as a phone's is. The host is on this machine, so that the line takes no
// time: add to a first visit what a line takes for the bytes that `make site`
// prints.
func BenchmarkReady(b *testing.B) {
	for _, c := range []struct {
		name string
		slow float64
		kept bool
	}{
		{"first visit", 1, false},
		{"first visit, slow", 4, false},
		{"kept", 1, true},
		{"kept, slow", 4, true},
	} {
		b.Run(c.name, func(b *testing.B) {
			server := browsertest.Serve(b, browsertest.Site(b))
			var readable, ready float64
			var tab *browsertest.Tab
			if c.kept {
				tab = browsertest.Open(b)
				tab.Go(server.URL + "/")
				tab.Ready()
				tab.Offline()
				server.Stop()
			}
			for b.Loop() {
				if !c.kept {
					tab = browsertest.Open(b)
				}
				tab.Do(slowDown(c.slow))
				tab.Go(server.URL + "/checks/")
				tab.Ready()
				readable += browsertest.Eval[float64](tab, `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
				ready += browsertest.Eval[float64](tab, `performance.getEntriesByName("ready")[0].startTime`)
			}
			b.ReportMetric(readable/float64(b.N), "ms-readable")
			b.ReportMetric(ready/float64(b.N), "ms-ready")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkNewRanking measures, in milliseconds, from the press that enters an
// answer to the frame that shows it with what it moved, in a job with three
// symptoms.
func BenchmarkNewRanking(b *testing.B) {
	for _, c := range []struct {
		name string
		slow float64
	}{{"full speed", 1}, {"slow", 4}} {
		b.Run(c.name, func(b *testing.B) {
			server := browsertest.Serve(b, browsertest.Site(b))
			h := newHand(b, keptOffline(b, server))
			b.ReportMetric(h.newRanking(server.URL, c.slow, b.N), "ms-ranking")
			b.ReportMetric(0, "ns/op")
		})
	}
}

func slowDown(times float64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
		return err
	})
}

// newRanking enters an answer so many times in a job with three symptoms and
// says how long the screen took on average.
func (h *hand) newRanking(url string, slow float64, times int) float64 {
	h.t.Helper()
	h.Go(url + "/find/")
	h.Ready()
	h.write("#words", "won't go into overdrive, flares two-three when hot, runs hot")
	h.pressText("main", "Take these")
	h.Wait(`document.querySelector("#next")`)
	h.Go(url + "/checks/stored-codes/")
	h.Ready()
	h.Do(slowDown(slow))
	var spent float64
	for range times {
		h.press("#pick-overdrive-circuit")
		spent += browsertest.Eval[float64](h.Tab, `new Promise(done => {
			const begun = performance.now()
			const watch = new MutationObserver(() => {
				if (!document.querySelector("#entered-overdrive")) return
				watch.disconnect()
				requestAnimationFrame(() => done(performance.now() - begun))
			})
			watch.observe(document.body, {subtree: true, childList: true})
			const section = document.querySelector('section[aria-labelledby="o-overdrive"]')
			;[...section.querySelectorAll("button")].find(x => x.textContent.includes("Enter this")).click()
		})`)
		h.pressText(`section[aria-labelledby="o-overdrive"]`, "Remove this entry")
		h.Wait(`!document.querySelector("#entered-overdrive")`)
	}
	return spent / float64(times)
}
