package part

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// Likelihood is a probability as a number with a bar below it.
func Likelihood(p float64) app.UI {
	return app.Div().Class("likelihood").Body(LikelihoodNumber(p), LikelihoodBar(p))
}

// LikelihoodNumber is a probability as a number.
func LikelihoodNumber(p float64) app.UI {
	return app.Span().Class("likelihood__number").Text(Percent(p))
}

// LikelihoodBar is a probability as a bar. It repeats a number that stands
// beside it and is not spoken.
func LikelihoodBar(p float64) app.UI {
	width := min(max(p, 0), 1) * 100
	return app.Raw(`<svg class="likelihood__bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true" focusable="false"><rect class="likelihood__all" width="100" height="6"/><rect class="likelihood__part" width="` +
		strconv.FormatFloat(width, 'f', 1, 64) + `" height="6"/></svg>`)
}

// Proved is the badge of a fault that a check has settled.
func Proved() app.UI {
	return app.Span().Class("proved").Body(Icon("proved"), app.Span().Text("Proved"))
}
