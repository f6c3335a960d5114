package circuit

import (
	"testing"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/quantity"
)

// What a move of the throttle costs before the browser draws: two states and the
// page.
func BenchmarkMove(b *testing.B) {
	s := &Screen{Session: newSession()}
	s.read(map[string][]string{"range": {"D"}, "speed": {"41 mph"}, "fault": {"front-clutch-seals"}})
	for i := range b.N {
		s.set.Throttle = quantity.Ratio(i%100) / 100
		app.HTMLString(s.Render())
	}
}

// The states alone.
func BenchmarkStates(b *testing.B) {
	s := &Screen{Session: newSession()}
	s.read(map[string][]string{"range": {"D"}, "speed": {"41 mph"}, "fault": {"front-clutch-seals"}})
	for i := range b.N {
		s.set.Throttle = quantity.Ratio(i%100) / 100
		s.compute()
	}
}
