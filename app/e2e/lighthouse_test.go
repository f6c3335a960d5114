package e2e

import (
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"text/tabwriter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
	"provingbench/build/serve"
	"provingbench/build/website"
)

// lighthouse is where build/audit/package-lock.json puts it.
const lighthouse = "../../build/audit/node_modules/lighthouse/cli/index.js"

// Lighthouse gives each category its full 100 for a phone on a slow line.
// Reference: Lighthouse's own mobile preset, of the version that
// build/audit/package-lock.json names.
func TestLighthouse(t *testing.T) {
	if !*audit {
		t.Skip("takes minutes: `make audit`")
	}
	script, err := filepath.Abs(lighthouse)
	require.NoError(t, err)
	chromium, err := browsertest.Chromium()
	require.NoError(t, err)
	// As a host sends it: compressed.
	dir := filepath.Join(t.TempDir(), "site")
	_, err = website.Build(website.Options{Out: dir, Base: "/", Program: browsertest.Site(t).Program})
	require.NoError(t, err)
	server := httptest.NewServer(serve.Handler(dir, "/"))
	defer server.Close()

	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "Lighthouse\tperformance\taccessibility\tbest practices\tSEO\t")
	for _, path := range []string{"/", "/find/", "/checks/governor-coil-at-plug/", "/bench/coil/", "/jobs/"} {
		report := filepath.Join(t.TempDir(), "report.json")
		run := exec.Command("node", script, server.URL+path, "--quiet", "--output=json", "--output-path="+report,
			"--chrome-flags=--headless=new --no-sandbox --disable-gpu")
		run.Env = append(os.Environ(), "CHROME_PATH="+chromium)
		out, err := run.CombinedOutput()
		require.NoError(t, err, string(out))
		content, err := os.ReadFile(report)
		require.NoError(t, err)
		var r struct {
			Categories map[string]struct {
				Score     float64
				AuditRefs []struct {
					ID     string
					Weight float64
				}
			}
			Audits map[string]struct {
				Title        string
				Score        *float64
				DisplayValue string
			}
		}
		require.NoError(t, json.Unmarshal(content, &r))
		fmt.Fprintf(w, "%s", path)
		for _, name := range []string{"performance", "accessibility", "best-practices", "seo"} {
			c, ok := r.Categories[name]
			require.True(t, ok, name)
			fmt.Fprintf(w, "\t%.0f", 100*c.Score)
			var short []string
			for _, ref := range c.AuditRefs {
				if x := r.Audits[ref.ID]; ref.Weight > 0 && x.Score != nil && *x.Score < 1 {
					short = append(short, ref.ID+": "+x.Title+" "+x.DisplayValue)
				}
			}
			assert.Equalf(t, 1.0, c.Score, "%s, %s: %s", path, name, strings.Join(short, "; "))
		}
		fmt.Fprintln(w, "\t")
	}
	require.NoError(t, w.Flush())
	t.Log("\n" + table.String())
}
