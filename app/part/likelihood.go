package part

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Likelihood is a probability as a number and as a bar. The bar repeats the
// number and is not spoken.
func Likelihood(p float64) app.UI {
	width := min(max(p, 0), 1) * 100
	return app.Span().Class("likelihood").Body(
		app.Span().Class("likelihood__number").Text(Percent(p)),
		app.Raw(`<svg class="likelihood__bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" focusable="false"><rect class="likelihood__all" width="100" height="6"/><rect class="likelihood__part" width="`+
			strconv.FormatFloat(width, 'f', 1, 64)+`" height="6"/></svg>`),
	)
}

// Proved is the badge of a fault that a check has settled.
func Proved() app.UI {
	return app.Span().Class("proved").Body(Icon("proved"), app.Span().Text("Proved"))
}
