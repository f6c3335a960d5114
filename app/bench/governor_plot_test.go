package bench

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestGovernorPlot(t *testing.T) {
	_, r := formOf(t, pressureLogTool, governorPlotPanel, logQuery("points", "30 15\n10 19"))
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call, "it falls, in whatever order it was read")
	_, r = formOf(t, pressureLogTool, governorPlotPanel, logQuery("points", "10 9\n20 mph 19 psi\n32 km/h;1,3 bar"))
	require.NotNil(t, r)
	assert.Contains(t, r.line, "20 mph 19 psi")
	_, r = formOf(t, pressureLogTool, governorPlotPanel, logQuery("points", "10 20\n20 12"))
	require.NotNil(t, r)
	assert.Equal(t, "bad", r.call)
	for _, points := range []string{"10 9", "10", "a b", "10 9 8", "10 9\n20", "10 9\n20 OL", "10 9\n20 1e999", strings.Repeat("10 9\n", 100)} {
		f, r := formOf(t, pressureLogTool, governorPlotPanel, logQuery("points", points))
		assert.Nil(t, r, points[:min(len(points), 20)])
		assert.NotEmpty(t, f.problems["points"])
	}
	html := app.HTMLString(filled(t, pressureLogTool, logQuery("points", "10 9\n20 19")))
	has(t, html, "plot__band")
	assert.Equal(t, 2, strings.Count(html, "plot__point"))
}
