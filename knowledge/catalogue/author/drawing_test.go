package author

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/unit"
)

func TestDrawingIsCompiledWithoutItsFrame(t *testing.T) {
	d, problems := load(files(t, "", "", ""))
	require.Empty(t, problems)
	coil := d.Catalogue.Drawing("coil")
	require.NotNil(t, coil)
	assert.InDelta(t, 100, coil.Height, 0)
	assert.Equal(t, `<g class="drawing__line"><path d="M10 10H330"/></g><text x="8" y="40">26 ohm, see <tspan class="drawing__strong">value</tspan></text>`, coil.Lines)
	assert.Nil(t, d.Catalogue.Drawing("spool"))
}

// What the drawings say agrees with the unit as a structure.
func TestDrawingsAgreeWithTheUnit(t *testing.T) {
	d, _, err := read(os.DirFS("../../.."))
	require.NoError(t, err)

	ports := d.Catalogue.Drawing("pressure-ports")
	require.NotNil(t, ports)
	for _, p := range unit.Ports {
		name, _, _ := strings.Cut(strings.ToLower(p.Name), " port")
		assert.Contains(t, strings.ToLower(tag.ReplaceAllString(ports.Lines, " ")), strings.TrimSuffix(name, " apply"))
		assert.Contains(t, strings.ToLower(ports.Description), name)
	}

	levers := d.Catalogue.Drawing("case-levers")
	require.NotNil(t, levers)
	var order []string
	for _, l := range unit.Levers {
		if l.Lever == "manual" {
			order = append(order, l.Setting)
		}
	}
	drawn := tag.ReplaceAllString(levers.Lines, " ")
	assert.Contains(t, strings.Join(strings.Fields(drawn), " "), strings.Join(order, " "), "front to rear")
	assert.Contains(t, drawn, order[0]+" back: "+strings.Join(order[1:], ", "))
}
