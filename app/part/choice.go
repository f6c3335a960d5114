package part

import "github.com/maxence-charriere/go-app/v9/pkg/app"

// Option is one answer of a Choice.
type Option struct {
	Value string
	Label string
	Hint  string
}

// Choice is a question with one answer out of a few, all in view.
//
// It is a group of radio buttons, so that arrow keys move in it and a screen
// reader says how many there are. Each answer MUST be a target by itself; the
// chosen one is told by its mark and a heavy edge, not by colour alone.
//
// A pick is taken from the click, which arrow keys and labels make too. The
// browser sends no change event when an earlier pick is drawn while it handles the
// next one.
type Choice struct {
	app.Compo

	Name    string // unique on the page
	Legend  string
	Quiet   bool // the legend is spoken and not shown
	Hint    string
	Options []Option
	Value   string
	Compact bool // short answers side by side
	Problem string
	OnPick  func(ctx app.Context, value string)
}

// Render draws the group.
func (c *Choice) Render() app.UI {
	legend := "choice__legend"
	if c.Quiet {
		legend = "spoken"
	}
	class := "choice"
	if c.Compact {
		class = "choice choice--compact"
	}
	var notes []app.UI
	group := app.FieldSet().Class(class).ID(c.Name)
	if c.Hint != "" {
		notes = append(notes, app.P().Class("choice__hint").Text(c.Hint))
	}
	if c.Problem != "" {
		notes = append(notes, app.P().Class("field__problem").ID(c.Name+"-problem").Body(Icon("alert"), app.Span().Text(c.Problem)))
		group = group.Aria("describedby", c.Name+"-problem")
	}
	var rows []app.UI
	for _, o := range c.Options {
		id := c.Name + "-" + o.Value
		if o.Value == "" {
			id = c.Name + "-any"
		}
		text := []app.UI{app.Span().Class("choice__label").Text(o.Label)}
		if o.Hint != "" {
			text = append(text, app.Span().Class("choice__more").Text(o.Hint))
		}
		rows = append(rows, app.Label().Class("choice__row").For(id).Body(
			app.Input().Type("radio").Class("choice__mark").Name(c.Name).ID(id).Value(o.Value).Checked(c.Value == o.Value).
				OnClick(func(ctx app.Context, _ app.Event) {
					if c.OnPick != nil {
						c.OnPick(ctx, o.Value)
					}
				}, o.Value),
			app.Span().Class("choice__text").Body(text...),
		))
	}
	// The notes come and go in an element of their own: answers that change their
	// place are drawn anew and lose the focus.
	return group.Body(
		app.Legend().Class(legend).Text(c.Legend),
		app.Div().Body(notes...),
		app.Div().Class("choice__rows").Body(rows...),
	)
}

var choiceExamples = []app.UI{
	&Choice{Name: "fluid", Legend: "What is on the cloth?", Value: "red", Options: []Option{
		{Value: "red", Label: "Red and clear"}, {Value: "brown", Label: "Brown, smells burnt", Hint: "A lining has been hot."},
	}},
	&Choice{Name: "warm", Legend: "When?", Compact: true, Options: []Option{{"", "Either", ""}, {"hot", "Hot", ""}, {"cold", "Cold", ""}}},
	&Choice{Name: "none", Legend: "Does it shift into third?", Problem: "Pick one of the answers.", Options: []Option{{"no", "No", ""}, {"yes", "Yes", ""}}},
}
