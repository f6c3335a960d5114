package part

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
)

// A value that follows the typing is not drawn: the browser may have taken further
// keys by the time that it would be.
func TestFieldIsDrawnWithWhatItBeganWith(t *testing.T) {
	for _, rows := range []int{0, 3} {
		f := &Field{ID: "words", Label: "Words", Rows: rows, Value: "no rev"}
		assert.Contains(t, app.HTMLString(f.Render()), "no rev")
		f.Value, f.typed = "no reverse", "no reverse"
		assert.NotContains(t, app.HTMLString(f.Render()), "no reverse")
	}
}
