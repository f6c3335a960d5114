package jobs

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"

	"provingbench/knowledge/diagnosis"
)

// A fitted log stands in the job with its readings, and can be taken out.
func TestFittedLogInTheJob(t *testing.T) {
	s, d := mounted(t)
	s.Session.Weigh("", &diagnosis.FittedLog{
		Readings: []diagnosis.Entry{{Check: "line-pressure-drive", Observation: "line-idle", Reading: "41 psi"}},
		Weights:  map[string]float64{"rear-clutch-seals": 2},
	})
	d.Consume()
	html := app.HTMLString(s)
	assert.Contains(t, html, "The pressure log, fitted")
	assert.Contains(t, html, "41 psi. Too low")
	r := recordOf(s.Session)
	assert.Contains(t, r.shopPaper("", s.Session.Now()).text(), "41 psi", "on paper as well")
	_, ok := r.before("line-pressure-drive", "line-idle")
	assert.True(t, ok)
	s.Session.Unweigh("")
	d.Consume()
	assert.NotContains(t, app.HTMLString(s), "The pressure log, fitted")
}
