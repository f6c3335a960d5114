package part

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func TestDrawingIsNamedAndToldInWords(t *testing.T) {
	html := app.HTMLString(drawingExamples[0])
	assert.Contains(t, html, `role="img" aria-label="A valve &amp; its bore"`)
	assert.Contains(t, html, "A valve stands in its bore.")
	assert.Contains(t, html, "Not certain: ")
	assert.Contains(t, html, "Demo, made up")
}

// The drawings go into pages as they are.
func TestShippedDrawingsAreWellFormedAndStyledByClassAlone(t *testing.T) {
	require.NotEmpty(t, shipped.Catalogue().Drawings)
	for i := range shipped.Catalogue().Drawings {
		d := &shipped.Catalogue().Drawings[i]
		html := app.HTMLString(Drawing(unit.Sheet{Book: sheet.Book()}, d))
		assert.NotContains(t, html, "style=", d.ID)
		assert.NotContains(t, d.Lines, "\n", d.ID)
		read := xml.NewDecoder(strings.NewReader(picture(d)))
		for {
			if _, err := read.Token(); errors.Is(err, io.EOF) {
				break
			} else if !assert.NoError(t, err, d.ID) {
				break
			}
		}
		for _, id := range d.Values {
			a, ok := sheet.Book().Acceptance(id)
			require.True(t, ok, id)
			assert.Contains(t, html, a.Name, "%s: its value stands with it", d.ID)
		}
	}
}
