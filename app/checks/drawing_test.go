package checks

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestDrawingStandsWithItsStep(t *testing.T) {
	p, _ := mounted(t, "line-pressure-drive")
	html := app.HTMLString(p)
	drawn := 0
	for i, s := range p.check().Steps {
		d := p.Session.Catalogue().Drawing(s.Drawing)
		if d == nil {
			continue
		}
		drawn++
		picture := place(html, `id="drawing-`+d.ID+`"`)
		assert.Greater(t, picture, place(html, app.HTMLString(app.Text(s.Do))), "after its step")
		require.Less(t, i+1, len(p.check().Steps))
		assert.Less(t, picture, place(html, app.HTMLString(app.Text(p.check().Steps[i+1].Do))), "before the next step")
	}
	assert.Positive(t, drawn)
}
