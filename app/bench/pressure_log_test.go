package bench

import (
	"net/url"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func logQuery(pairs ...string) string {
	q := url.Values{}
	for i := 0; i < len(pairs); i += 2 {
		q.Set(pairs[i], pairs[i+1])
	}
	return q.Encode()
}

// TestLogNamesTheRearServo uses the pattern list of the trade (maker's handbook,
// hydraulic pressure tests): line pressure good in manual 1 while the rear servo
// stands far under it is a leak in the rear servo's circuit.
func TestLogNamesTheRearServo(t *testing.T) {
	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery(
		"line-pressure-manual-1.line-idle", "57", "line-pressure-manual-1.servo-difference", "20", "line-pressure-drive.line-idle", "57"))
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	assert.Equal(t, "1 reading is out of the window", r.word)
	html := app.HTMLString(app.Div().Body(r.body...))
	has(t, html, `href="/faults/rear-servo-`)
	has(t, html, "Line pressure in manual 1")
}

func TestLogJudgesAsItIsTyped(t *testing.T) {
	html := app.HTMLString(filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "57", "governor-pressure.standstill", "16")))
	has(t, html, "Good; 54 to 60 psi")
	has(t, html, "Too high; at most 3 psi")
	has(t, html, "Enter all in the job")
	html = app.HTMLString(filled(t, pressureLogTool, logQuery("line-pressure-drive.line-idle", "393 kPa")))
	has(t, html, "Good; 54 to 60 psi") // a unit that is typed is understood
}

func TestLogEntersAll(t *testing.T) {
	f, r := formOf(t, pressureLogTool, pressureLogPanel, logQuery("line-pressure-drive.line-idle", "57", "governor-pressure.standstill", "16"))
	require.NotNil(t, r)
	for _, x := range cells(f.session.Catalogue()) {
		if f.text(x.key()) != "" {
			v := f.session.Judge(x.entry(f))
			assert.Empty(t, v.Problem)
			assert.NotEmpty(t, v.Outcome)
		}
	}
	require.Len(t, r.buttons, 2)
	has(t, app.HTMLString(r.buttons[1]), "cell=line-pressure-drive%2Fline-idle%3D57+psi")
}

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
