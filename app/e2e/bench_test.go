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

func slowDown(times float64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, _ *chromedp.Target) error {
		_, err := chromedp.Call(ctx, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: times})
		return err
	})
}
