package jobs

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"rsc.io/qr/coding"
)

// square draws a text as a QR code (ISO/IEC 18004), black on white by day and
// night, because that is what cameras read. ok is false for a text that is too
// long to be read off a phone's screen.
func square(text string) (code app.UI, ok bool) {
	if len(text) > maxQR {
		return nil, false
	}
	data := coding.String(text)
	version := coding.Version(coding.MinVersion)
	for data.Bits(version) > version.DataBytes(coding.L)*8 {
		if version == coding.MaxVersion {
			return nil, false
		}
		version++
	}
	plan, err := coding.NewPlan(version, coding.L, 0)
	if err != nil {
		return nil, false
	}
	c, err := plan.Encode(data)
	if err != nil {
		return nil, false
	}
	const quiet = 4 // modules of white around it, which readers want
	var path strings.Builder
	for y := range c.Size {
		for x := range c.Size {
			if c.Black(x, y) {
				fmt.Fprintf(&path, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	side := c.Size + 2*quiet
	return app.Raw(fmt.Sprintf(`<svg class="square" viewBox="0 0 %d %d" role="img" aria-label="The link as a square code, for the camera of another phone"><rect class="square__ground" width="%d" height="%d"/><path class="square__dark" d="%s"/></svg>`,
		side, side, side, side, path.String())), true
}
