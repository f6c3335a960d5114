package flatness

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

var inMillimetres = Units{Across: quantity.Millimetre, Height: quantity.Millimetre}

func TestParsePoints(t *testing.T) {
	one := []Point{millimetres(1.5, 50, 0.02)}
	for _, row := range []struct {
		name, text string
		units      Units
		want       []Point
		step       float64 // mm
	}{
		{"blanks", "1.5 50 0.02", inMillimetres, one, 0.01},
		{"tabs", "1.5\t50\t0.02\t", inMillimetres, one, 0.01},
		{"semicolons and decimal commas", "1,5; 50; 0,02", inMillimetres, one, 0.01},
		{"decimal commas and blanks", "1,5  50  0,02", inMillimetres, one, 0.01},
		{"commas and blanks", "1.5, 50, 0.02", inMillimetres, one, 0.01},
		{"commas alone", "1.5,50,0.02", inMillimetres, one, 0.01},
		{"units", "1.5mm 5 cm 20 µm", inMillimetres, one, 0.001},
		{"inches over the face, thou in height", "1/2 2-1/4 -3", Units{quantity.Inch, quantity.Thou}, []Point{millimetres(12.7, 57.15, -0.0762)}, 0.0254},
		{"blank rows, remarks, a heading", "\n# casting 3\nx y z\n\r\n1.5 50 0.02\n", inMillimetres, one, 0.01},
		{"negative", "-1.5 +50 −0.02", inMillimetres, []Point{millimetres(-1.5, 50, -0.02)}, 0.01},
		{"name first", "land 1.5 50 0.02", inMillimetres, []Point{{Name: "land", X: mm(1.5), Y: mm(50), Z: mm(0.02)}}, 0.01},
		{"name last", "1.5 50 0.02 port", inMillimetres, []Point{{Name: "port", X: mm(1.5), Y: mm(50), Z: mm(0.02)}}, 0.01},
		{"the finest height tells the step", "0 0 0\n1 0 0.5\n0 1 0.005", inMillimetres, []Point{{}, millimetres(1, 0, 0.5), millimetres(0, 1, 0.005)}, 0.001},
		{"nothing", "\n \n", inMillimetres, nil, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := ParsePoints(row.text, row.units)
			require.NoError(t, err)
			require.Len(t, got.Points, len(row.want))
			for i, p := range row.want {
				assert.Equal(t, p.Name, got.Points[i].Name)
				for k := range 3 {
					assert.InDelta(t, p.vector()[k], got.Points[i].vector()[k], 1e-12)
				}
			}
			assert.InDelta(t, row.step, inMM(got.Step), 1e-12)
		})
	}
}

func TestRowsThatCannotBeRead(t *testing.T) {
	points := func(s string) error { return second(ParsePoints(s, inMillimetres)) }
	grid := func(s string) error { return second(ParseGrid(s, mm(50), mm(50), quantity.Millimetre)) }
	lines := func(s string) error { return second(ParseLines(s, 0, inMillimetres)) }
	for _, row := range []struct {
		name string
		err  error
		log  string
		says string
	}{
		{"two numbers", points("0 0 0\n\n0 50"), `flatness: points row 3: not a row of numbers "0 50"`, `Row 3: "0 50" is not a row that can be read here.`},
		{"a word", points("0 0 high"), `flatness: points row 1: not a number "high"`, `Row 1: "high" is not a number. Type the number, for example 12 mm.`},
		{"a unit of another kind", points("0 0 2psi"), `flatness: points row 1: not a number "2psi"`, `Row 1: "psi" is not a unit of length.`},
		{"two signs", points("0 0 --2"), `flatness: points row 1: not a number "--2"`, "Row 1: The length, -2 mm, is outside what is possible here"},
		{"an ambiguous comma", points("0 0 1,200"), `flatness: points row 1: not a number "1,200"`, `Row 1: The comma in "1,200" could mark decimals or thousands.`},
		{"a heading with units", points("x(mm) y(mm) z(µm)\n0 0 0"), `flatness: points row 1: not a number "x(mm)"`, `Row 1: "x(mm)" is not a number.`},
		{"too far", points("0 0 20m"), `flatness: points row 1: not a number "20m"`, "Row 1: The length, 20 m, is outside what is possible here"},
		{"too many", points(strings.Repeat("0 0 0\n", MostPoints+1)), "flatness: points row 10001: too many rows", "Row 10001: That is more than 10000 rows."},
		{"an uneven grid", grid("0 1 2\n0 1"), "flatness: grid row 2: rows of different length", "Row 2: This row has not as many places as the first."},
		{"a word in a grid", grid("0 x 2"), `flatness: grid row 1: not a number "x"`, `Row 1: "x" is not a number.`},
		{"readings without a line", lines("0 0\n"), "flatness: lines row 1: no line begun", "Row 1: Begin with a row that names the line"},
		{"a line without its ends", lines("A 0 0\n"), `flatness: lines row 1: not a row of numbers "A 0 0"`, `Row 1: "A 0 0"`},
		{"gaps the wrong way", lines("A 0 0 200 0\n0 0.05 0.04"), "flatness: lines row 2: gaps out of order", "Row 2: The feeler that goes under must be thinner"},
		{"a gap below zero", lines("A 0 0 200 0\n0 -0.05"), "flatness: lines row 2: gaps out of order", "Row 2: The feeler"},
		{"beyond the end", lines("A 0 0 200 0\n250 0"), `flatness: lines row 2: not on its line "250"`, `Row 2: "250" lies beyond the end of the line.`},
		{"no pitch", second(ParseGrid("0", 0, mm(50), quantity.Millimetre)), `flatness: pitch: outside what is possible "0 mm"`, `"0 mm" can't be a place`},
	} {
		t.Run(row.name, func(t *testing.T) {
			var e *Error
			require.ErrorAs(t, row.err, &e)
			assert.EqualError(t, row.err, row.log)
			assert.Contains(t, e.Sentence(), row.says)
		})
	}
}

func TestParseGrid(t *testing.T) {
	got, err := ParseGrid("0 1.5 2\n\n- 1 0\n", mm(50), mm(40), quantity.Thou)
	require.NoError(t, err)
	var names []string
	for _, p := range got.Points {
		names = append(names, p.Name)
	}
	assert.Equal(t, []string{"A1", "A2", "A3", "B2", "B3"}, names, "no metal at B1")
	last := got.Points[4]
	assert.InDelta(t, 100, inMM(last.X), 1e-12)
	assert.InDelta(t, 40, inMM(last.Y), 1e-12)
	assert.InDelta(t, 0.0381, inMM(got.Points[1].Z), 1e-12)
	assert.InDelta(t, 0.00254, inMM(got.Step), 1e-12)
	assert.Equal(t, "Z1", Place(25, 0))
	assert.Equal(t, "AA12", Place(26, 11))
}

func TestParseLines(t *testing.T) {
	lines, err := ParseLines("# the lower body\nA  0 0  200 0\n0 0\n100 0.05 0,08\n200\t0\n\ndiagonal 0 0 8in 4in\n1/2in 2 thou\n", 0, inMillimetres)
	require.NoError(t, err)
	require.Len(t, lines, 2)
	assert.Equal(t, "A", lines[0].Name)
	require.Len(t, lines[0].Readings, 3)
	assert.InDelta(t, 0.0254, inMM(lines[0].Readings[0].Stops), 1e-12, "none goes: thinner than the thinnest")
	assert.InDelta(t, 0.08, inMM(lines[0].Readings[1].Stops), 1e-12)
	assert.Equal(t, "diagonal", lines[1].Name)
	assert.InDelta(t, 203.2, inMM(lines[1].X2), 1e-9)
	assert.InDelta(t, 12.7, inMM(lines[1].Readings[0].At), 1e-9)
	assert.InDelta(t, 0.0762, inMM(lines[1].Readings[0].Stops), 1e-12)

	lines, err = ParseLines("A 0 0 200 0\n0 0.02", mm(0.01), inMillimetres)
	require.NoError(t, err)
	assert.InDelta(t, 0.03, inMM(lines[0].Readings[0].Stops), 1e-12)
}
