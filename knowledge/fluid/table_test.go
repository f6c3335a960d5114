package fluid

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// A record is one row of a published table.
type record map[string]string

func (r record) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, "column %s of %v", column, r)
	return x
}

// records reads a table of testdata in its order.
func records(t *testing.T, path ...string) []record {
	t.Helper()
	f, err := os.Open(filepath.Join(append([]string{"..", "..", "testdata"}, path...)...))
	require.NoError(t, err)
	defer f.Close()
	in := csv.NewReader(f)
	in.Comment = '#'
	rows, err := in.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 2)
	var out []record
	for _, row := range rows[1:] {
		r := record{}
		for i, column := range rows[0] {
			r[column] = row[i]
		}
		out = append(out, r)
	}
	return out
}
