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
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
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

// Good returns a reading that shows nothing wrong on a case's version and build:
// the middle of a limit, or well on its good side. It is empty where the sheet
// has no figure or its sources leave none that all call good.
func Good(e *diagnosis.Engine, c *diagnosis.Case, k *catalogue.Check, o *catalogue.Observation) Shown {
	kind := quantity.Kind(o.Reading.Quantity)
	u := quantity.DefaultUnit(kind)
	tries := []string{"OL"}
	for _, l := range (unit.Sheet{Book: e.Book, Version: c.Version, Build: c.Build}).Limits(o.Reading.Acceptance) {
		var x float64
		switch {
		case l.Min != nil && l.Max != nil:
			x = (u.From(l.Min.SI) + u.From(l.Max.SI)) / 2
		case l.Max != nil:
			x = u.From(l.Max.SI) / 4
		case l.Min != nil:
			x = u.From(l.Min.SI) * 2
		}
		tries = append(tries, strconv.FormatFloat(x, 'f', 4, 64))
	}
	at := ""
	if o.Reading.Method == "coil" {
		at = "70 F" // it stood overnight
	}
	for _, reading := range tries {
		j := e.Judge(c, &diagnosis.Entry{Check: k.ID, Observation: o.ID, Reading: reading, At: at})
		if out := o.Outcome(j.Outcome); out != nil && out.Normal {
			return Shown{Value: reading, At: at}
		}
	}
	return Shown{}
}

// Look returns what an observation of a check shows on the truck.
func (x *Truck) Look(k *catalogue.Check, o *catalogue.Observation) Shown {
	if s, ok := x.Shows[k.ID+"/"+o.ID]; ok {
		return s
	}
	normal := slices.IndexFunc(o.Outcomes, func(out catalogue.Outcome) bool { return out.Normal })
	return Shown{Outcome: o.Outcomes[normal].ID}
}
