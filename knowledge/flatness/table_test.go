package flatness

import (
	"testing"

	"github.com/stretchr/testify/require"

	"provingbench/knowledge/published"
	"provingbench/knowledge/quantity"
)

// cloud reads the points of one case of a table.
func cloud(t testing.TB, table, name string) []Point {
	t.Helper()
	var points []Point
	for _, r := range published.Table(t, "flatness/"+table) {
		if r["case"] == name {
			points = append(points, millimetres(r.Number(t, "x_mm"), r.Number(t, "y_mm"), r.Number(t, "z_mm")))
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
