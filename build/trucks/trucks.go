// Package trucks reads the invented trucks of testdata/cases: what the driver
// says, what is wrong, and what each check would show. Tests work them with the
// engine, from the command line and in a browser.
package trucks

import (
	"encoding/json"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
)

// Truck is one invented truck. An observation that it doesn't mention shows
// nothing wrong.
type Truck struct {
	Story    string           `json:"story"`
	Question json.RawMessage  `json:"question"` // as `build ask` takes it
	Truth    []string         `json:"truth"`    // ids of the faults
	Shows    map[string]Shown `json:"shows"`    // by check/observation
}

// Shown is what an observation shows: an outcome that is picked, or a reading.
type Shown struct {
	Outcome string `json:"outcome"`
	Value   string `json:"value"`
	At      string `json:"at"`
}

// Load reads all trucks, by the names of their files, and holds what they
// mention against the catalogue.
func Load(t testing.TB, c *catalogue.Catalogue) map[string]*Truck {
	t.Helper()
	_, here, _, _ := runtime.Caller(0)
	files, err := filepath.Glob(filepath.Join(filepath.Dir(here), "../../testdata/cases/*.json"))
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 3)
	out := map[string]*Truck{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		x := &Truck{}
		d := json.NewDecoder(strings.NewReader(string(data)))
		d.DisallowUnknownFields()
		require.NoError(t, d.Decode(x), file)
		for _, id := range x.Truth {
			require.NotNil(t, c.Fault(id), "%s: %s", file, id)
		}
		for key, s := range x.Shows {
			check, observation, _ := strings.Cut(key, "/")
			require.NotNil(t, c.Check(check), "%s: %s", file, key)
			o := c.Check(check).Observation(observation)
			require.NotNil(t, o, "%s: %s", file, key)
			require.True(t, s.Outcome == "" || o.Outcome(s.Outcome) != nil, "%s: %s", file, key)
		}
		out[strings.TrimSuffix(filepath.Base(file), ".json")] = x
	}
	return out
}

// Look returns what an observation of a check shows on the truck.
func (x *Truck) Look(k *catalogue.Check, o *catalogue.Observation) Shown {
	if s, ok := x.Shows[k.ID+"/"+o.ID]; ok {
		return s
	}
	normal := slices.IndexFunc(o.Outcomes, func(out catalogue.Outcome) bool { return out.Normal })
	return Shown{Outcome: o.Outcomes[normal].ID}
}
