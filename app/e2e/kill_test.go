package e2e

import (
	"flag"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/browsertest"
)

var (
	long = flag.Bool("long", false, "the long runs: 200 killed pages, 100,000 events of the monkey")
	seed = flag.Uint64("seed", 1, "where chance begins in the long runs")
)

// kept is the saved job with the most in it.
const kept = `JSON.parse(Object.keys(localStorage).filter((k) => k.startsWith("provingbench.job.")).
	map((k) => localStorage.getItem(k)).sort((a, b) => b.length - a.length)[0] ?? "null")`

// What the page was told before it was killed is there when it is opened again, but
// for the last key at most. Chance says how much is typed and what is entered
// before, where, and how soon after the last key the process ends.
func TestKilledPageLosesTheLastKeyAtMost(t *testing.T) {
	t.Parallel()
	kills := 5
	if *long {
		kills = 200
	}
	chance := rand.New(rand.NewPCG(*seed, 11))
	server := browsertest.Serve(t, browsertest.Site(t))
	h := newHand(t, browsertest.Open(t))
	h.Go(server.URL + "/find/")
	h.Ready()
	h.Offline()
	first := h.Tab
	const letters = "no reverse it slips in third when hot "
	said, entries := "", 0
	for kill := range kills {
		h.Tab = first.Beside()
		if chance.IntN(3) == 0 && said != "" {
			// An entry, and the end as soon as it is shown.
			h.Go(server.URL + "/checks/governor-coil-at-plug/")
			h.Ready()
			h.write("#ohms-reading", []string{"4.2", "OL", "3.9"}[chance.IntN(3)])
			h.pressText(`section[aria-labelledby="o-ohms"]`, "Judge")
			h.Wait(kept + `.case.entries?.length === ` + strconv.Itoa(entries+1))
			entries++
		} else {
			h.Go(server.URL + "/find/")
			h.Ready()
			if said != "" {
				h.Wait(`document.querySelector("#words") !== null`)
			}
			browsertest.Eval[any](h.Tab, `(() => { const e = document.querySelector("#words"); e.focus(); e.setSelectionRange(e.value.length, e.value.length); return null; })()`)
			for range 1 + chance.IntN(12) {
				key := string(letters[chance.IntN(len(letters))])
				keys(h.Tab, key)
				said += key
			}
			time.Sleep(time.Duration(chance.IntN(4)) * time.Millisecond) // the moment, not a wait for anything
		}
		h.Kill()

		h.Tab = first
		h.Go(server.URL + "/find/")
		h.Ready()
		job := browsertest.Eval[*struct {
			Complaint string
			Case      struct{ Entries []any }
		}](h.Tab, kept)
		require.NotNil(t, job, "kill %d of seed %d: no job is left", kill, *seed)
		require.Truef(t, strings.HasPrefix(said, job.Complaint) && len(said)-len(job.Complaint) <= 1,
			"kill %d of seed %d: typed %q, kept %q", kill, *seed, said, job.Complaint)
		require.Len(t, job.Case.Entries, entries, "kill %d of seed %d", kill, *seed)
		said = job.Complaint
		h.Wait(`document.querySelector("#words").value === ` + quote(said))
		require.Empty(t, h.Faults())
	}
	assert.NotEmpty(t, said)
}
