package ask

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/build/trucks"
	"provingbench/knowledge/diagnosis"
)

// do answers a check's open observations as the truck would.
func do(t *testing.T, e *diagnosis.Engine, x *trucks.Truck, q *Question, id string) {
	t.Helper()
	made := map[string]bool{}
	for _, o := range q.Outcomes {
		made[o.Check+"/"+o.Observation] = true
	}
	for _, r := range q.Readings {
		made[r.Check+"/"+r.Observation] = true
	}
	check := e.Catalogue.Check(id)
	require.NotNil(t, check, id)
	done := 0
	for k := range check.Observations {
		o := &check.Observations[k]
		if made[id+"/"+o.ID] {
			continue
		}
		done++
		if s := x.Look(check, o); s.Outcome != "" {
			q.Outcomes = append(q.Outcomes, Outcome{Check: id, Observation: o.ID, Outcome: s.Outcome})
		} else {
			q.Readings = append(q.Readings, Reading{Check: id, Observation: o.ID, Value: Text(s.Value), At: Text(s.At)})
		}
	}
	require.Positive(t, done, "check %s was suggested though everything in it is known", id)
}

// Invented trucks with several faults at different access levels. The reference
// is what was made to be wrong with them.
func TestEveryFaultOfATruckIsProved(t *testing.T) {
	e := Engine()
	for name, x := range trucks.Load(t, e.Catalogue) {
		t.Run(name, func(t *testing.T) {
			q, err := Read(bytes.NewReader(x.Question))
			require.NoError(t, err)
			minutes := 0.0
			var steps []string
			for {
				r, err := Ask(e, q)
				require.NoError(t, err)
				require.Empty(t, r.Clash)
				for _, v := range r.Verdicts {
					require.Empty(t, v.Problem)
				}
				missing := slices.DeleteFunc(slices.Clone(x.Truth), func(id string) bool { return slices.Contains(r.Proved, id) })
				if len(missing) > 0 {
					require.False(t, r.Done, "done after %v with %v not found:\n%s", r.Proved, missing, strings.Join(steps, "\n"))
				}
				if r.Done {
					assert.ElementsMatch(t, x.Truth, r.Proved)
					require.Len(t, r.Repairs, len(x.Truth))
					for _, repair := range r.Repairs {
						assert.NotEmpty(t, slices.Concat(repair.Renew, repair.Rework, repair.Set), repair.Fault)
					}
					break
				}
				require.NotEmpty(t, r.Next, "nothing left to do with %v not found: %s", missing, strings.Join(steps, "\n"))
				require.Less(t, len(steps), 60, strings.Join(steps, "\n"))
				next := r.Next[0]
				steps = append(steps, next.Level+" "+next.ID)
				minutes += next.Minutes
				q.Level = next.Level
				do(t, e, x, q, next.ID)
			}
			t.Logf("%d checks, %.0f minutes:\n%s", len(steps), minutes, strings.Join(steps, "\n"))
		})
	}
}

// The command line and the package give the same answer.
func TestWrittenReplyReadsBack(t *testing.T) {
	q, err := Read(strings.NewReader(`{"complaint": "no reverse", "symptoms": ["launches in third"]}`))
	require.NoError(t, err)
	r, err := Ask(Engine(), q)
	require.NoError(t, err)
	var b strings.Builder
	require.NoError(t, Write(&b, r))
	var back Reply
	require.NoError(t, json.Unmarshal([]byte(b.String()), &back))
	assert.Equal(t, r.Faults, back.Faults)
	assert.Equal(t, r.Next, back.Next)
	assert.Equal(t, []string{"no-reverse", "launches-in-third"}, []string{back.Symptoms[0].ID, back.Symptoms[1].ID})
}

func TestBadQuestions(t *testing.T) {
	tests := []struct{ name, in, want string }{
		{"not JSON", `hello`, "reading the case"},
		{"unknown field", `{"symptom": []}`, `unknown field "symptom"`},
		{"more than one", `{} {}`, "more after the end"},
		{"unknown version", `{"version": "heavy"}`, `version "heavy": want light, mid or late`},
		{"unknown build", `{"build": "wild"}`, `build "wild": want stock or raised`},
		{"unknown level", `{"level": "moon"}`, `level "moon": want wheels`},
		{"unknown symptom id", `{"symptoms": [{"id": "nothing"}]}`, `symptoms[0]: there is no symptom "nothing"`},
		{"empty symptom", `{"symptoms": [""]}`, "symptoms[0]: neither id nor words"},
		{"unknown check", `{"outcomes": [{"check": "x", "outcome": "y"}]}`, `outcomes[0]: there is no check "x"`},
		{"unknown outcome", `{"outcomes": [{"check": "fluid-level", "outcome": "y"}]}`, `outcomes[0]: check fluid-level has no outcome "y"; there are level/low`},
		{"unknown acceptance", `{"readings": [{"acceptance": "y", "value": 3}]}`, `readings[0]: no check reads "y"`},
		{"value is a list", `{"readings": [{"acceptance": "line-drive-idle", "value": [3]}]}`, "want a number or a string"},
		{"odd temperature", `{"symptoms": [{"id": "no-reverse", "temperature": "warm"}]}`, `temperature "warm" is neither hot nor cold`},
		{"unknown refused", `{"cannot": ["x"]}`, `refused[0] "x"`},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			q, err := Read(strings.NewReader(test.in))
			if err == nil {
				_, err = Ask(Engine(), q)
			}
			assert.ErrorContains(t, err, test.want)
		})
	}
}
