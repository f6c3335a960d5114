// Package published reads the published tables under testdata, which the tests
// of several packages hold computations against.
package published

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// A Row is one line of a table, by the names of its columns.
type Row map[string]string

// Number is the figure in a column. The test fails where there is none.
func (r Row) Number(t testing.TB, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	require.NoError(t, err, "column %s of %v", column, r)
	return x
}

// Table reads a file of testdata, such as "copper/wire.csv": lines of cells
// parted by commas, the names of the columns first, comments behind #. It is
// called from the tests of a package that lies two folders under the root.
func Table(t testing.TB, name string) []Row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", filepath.FromSlash(name)))
	require.NoError(t, err)
	defer f.Close()
	in := csv.NewReader(f)
	in.Comment = '#'
	lines, err := in.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(lines), 1, "%s is empty", name)
	rows := make([]Row, len(lines)-1)
	for n, cells := range lines[1:] {
		rows[n] = Row{}
		for i, column := range lines[0] {
			rows[n][column] = cells[i]
		}
	}
	return rows
}
