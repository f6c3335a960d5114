package flatness

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

// records reads a table of testdata/flatness, one map for each row.
func records(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "flatness", name))
	require.NoError(t, err)
	defer f.Close()
	in := csv.NewReader(f)
	in.Comment = '#'
	rows, err := in.ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 1)
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, cell := range row {
			m[rows[0][i]] = cell
		}
		out = append(out, m)
	}
	return out
}

func decimal(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return x
}

// cloud reads the points of one case of a table.
func cloud(t testing.TB, table, name string) []Point {
	t.Helper()
	var points []Point
	for _, r := range records(t, table) {
		if r["case"] == name {
			points = append(points, millimetres(decimal(t, r["x_mm"]), decimal(t, r["y_mm"]), decimal(t, r["z_mm"])))
		}
	}
	require.NotEmpty(t, points)
	return points
}

func mm(x float64) quantity.Length { return quantity.Length(x * 1e-3) }

func millimetres(x, y, z float64) Point { return Point{X: mm(x), Y: mm(y), Z: mm(z)} }

func inMM(l quantity.Length) float64 { return float64(l) * 1e3 }

// grid makes points of heights in mm, with the given pitch in mm, centred.
func grid(columns int, pitch float64, z ...float64) []Point {
	var points []Point
	down := len(z) / columns
	for i, h := range z {
		points = append(points, millimetres((float64(i%columns)-float64(columns-1)/2)*pitch, (float64(i/columns)-float64(down-1)/2)*pitch, h))
	}
	return points
}
