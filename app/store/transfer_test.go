package store

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

func opened(t *testing.T, box Box) *Store {
	t.Helper()
	s, err := Open(box, clock())
	require.NoError(t, err)
	return s
}

func TestTransferGoesThereAndBack(t *testing.T) {
	here := opened(t, Memory{})
	j, err := here.New()
	require.NoError(t, err)
	j.Name, j.Truck.Tyre = "Hay truck", "235/85R16"
	j.Case.Entries = []diagnosis.Entry{{Check: "fluid-level", Observation: "level", Outcome: "right"}}
	require.NoError(t, here.Save(j))
	most := quantity.PSI.Of(60)
	values := map[string]unit.OwnLimit{"line-drive-idle": {Max: &most, MaxText: "60 psi", Source: "the maker's manual"}}

	file, err := Pack(Transfer{Jobs: here.Jobs(), Values: values, Tool: "abc"})
	require.NoError(t, err)
	got, err := Unpack(file)
	require.NoError(t, err)
	assert.Equal(t, values, got.Values)
	assert.Equal(t, "abc", got.Tool)

	there := opened(t, Memory{})
	arrivals := there.Arrivals(got)
	require.Len(t, arrivals, 1)
	assert.Nil(t, arrivals[0].Here)
	came, err := there.Accept(arrivals[0])
	require.NoError(t, err)
	assert.True(t, sameContent(j, came))
	assert.True(t, there.Arrivals(got)[0].Same, "a second time there is nothing to do")
}

func TestTransferNeverOverwrites(t *testing.T) {
	box := Memory{}
	s := opened(t, box)
	j, err := s.New()
	require.NoError(t, err)
	file, err := Pack(Transfer{Jobs: s.Jobs()})
	require.NoError(t, err)
	j.Notes = "typed since"
	require.NoError(t, s.Save(j))

	got, err := Unpack(file)
	require.NoError(t, err)
	a := s.Arrivals(got)[0]
	assert.Same(t, j, a.Here)
	came, err := s.Accept(a)
	require.NoError(t, err)
	assert.NotEqual(t, j.ID, came.ID)
	again := opened(t, box)
	assert.Len(t, again.Jobs(), 2)
	assert.Equal(t, "typed since", again.Job(j.ID).Notes)

	later := Memory{jobPrefix + "x": `{"format":99}`}
	kept := opened(t, later)
	got.Jobs[0].ID = "x"
	came, err = kept.Accept(Arrival{Job: got.Jobs[0]})
	require.NoError(t, err)
	assert.NotEqual(t, "x", came.ID)
	assert.Equal(t, `{"format":99}`, later[jobPrefix+"x"], "what can't be read keeps its place")
}

func TestTransferBringsOldJobsUp(t *testing.T) {
	got, err := Unpack([]byte(`{"kind":"provingbench","format":1,"jobs":[` + formatOne + `]}`))
	require.NoError(t, err)
	assert.Equal(t, "1999, gas engine", got.Jobs[0].Truck.About)
}

func TestDamageIsRefusedWithItsPlace(t *testing.T) {
	for _, c := range []struct{ name, file, where, reason string }{
		{"nothing", "", "", "ends too early"},
		{"no JSON", "hello", "line 1, column 2", "can't be read"},
		{"cut short", "{\n\"kind\":\"provingbench\",\n\"format\":1,\n\"jobs\":[{\"form", "", "ends too early"},
		{"broken in line 3", "{\n\"kind\":\"provingbench\",\n\"format\":1;}", "line 3, column 12", "can't be read"},
		{"another file", `{"name":"x"}`, "", "no file of this tool"},
		{"an array", `[1,2]`, "line 1, column 2", "something else"},
		{"a later layout", `{"kind":"provingbench","format":2}`, "", "later version"},
		{"no layout", `{"kind":"provingbench"}`, "", "which layout"},
		{"more behind", `{"kind":"provingbench","format":1} {"kind":"x"}`, "line 1, column 37", "follows"},
		{"a later job", `{"kind":"provingbench","format":1,"jobs":[` + formatOne + `,{"format":99,"id":"b"}]}`, "job 2", "later version"},
		{"a damaged job", `{"kind":"provingbench","format":1,"jobs":[{"format":2,"id":"b","case":7}]}`, "job 1", "damaged"},
		{"a job without id", `{"kind":"provingbench","format":1,"jobs":[{"format":2}]}`, "job 1", "no usable id"},
		{"a job twice", `{"kind":"provingbench","format":1,"jobs":[` + formatOne + `,` + formatOne + `]}`, "job 2", "another job"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Unpack([]byte(c.file))
			var e *TransferError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.where, e.Where)
			assert.Contains(t, e.Reason, c.reason)
			assert.True(t, strings.HasSuffix(e.Sentence(), "."))
			assert.Empty(t, got.Jobs)
		})
	}
	_, err := Unpack(make([]byte, MaxTransfer+1))
	assert.ErrorContains(t, err, "larger than")
}

// FuzzUnpack: whatever a file holds, it is taken whole or refused.
func FuzzUnpack(f *testing.F) {
	f.Add([]byte(`{"kind":"provingbench","format":1,"jobs":[` + formatOne + `]}`))
	f.Add([]byte(`{"kind":"provingbench","format":1,"values":{"x":{}}}`))
	f.Add([]byte(`{"kind`))
	f.Fuzz(func(t *testing.T, data []byte) {
		got, err := Unpack(data)
		if err != nil {
			var e *TransferError
			require.True(t, errors.As(err, &e), err)
			require.Empty(t, got.Jobs)
			return
		}
		s, err := Open(Memory{}, clock())
		require.NoError(t, err)
		for _, a := range s.Arrivals(got) {
			_, err := s.Accept(a)
			require.NoError(t, err)
		}
		require.Len(t, s.Jobs(), len(got.Jobs))
	})
}
