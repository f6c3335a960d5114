package learn

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// What bounds raised pressure: common practice of the trade, and against it the
// parts maker's instruction sheet for the switch valve.
func TestRaisedPressureStandsWithBothSources(t *testing.T) {
	html := app.HTMLString(&Raised{Session: newSession()})
	for _, want := range []string{
		"110 psi at idle to about 200 psi", "constant 220 psi is tolerable", "275 to 300 psi", "At 200 psi, recorded with a strong regulator spring",
		"instruction sheet, switch valve", `href="/faults/valve-body-warped/"`, `id="line-pressure-raised"`, "How to tell that it was done",
	} {
		has(t, html, want)
	}
}
