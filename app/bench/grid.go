package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
)

// A grid is number boxes in rows and columns, each as wide as a thumb.
//
// Each box is named for screen readers by the whole label of its input. What is
// wrong with one stands under the table, names it, and is bound to it. Number keys
// of phones have no minus: one button changes the sign of the box typed in last.
type grid struct {
	app.Compo

	ID      string
	Legend  string
	Hint    string
	Columns []string
	Rows    []string
	Cells   [][]cellBox // by row and column
	Signed  bool        // below zero is possible

	OnInput func(ctx app.Context, key, value string)

	boxes boxes
	last  string // key of the box that was typed in last
}

// A cellBox is one box of a grid.
type cellBox struct{ Key, ID, Label, Value, Problem string }

// Render draws the table, the button and the problems.
func (g *grid) Render() app.UI {
	head := []app.UI{app.Td()}
	for _, c := range g.Columns {
		head = append(head, app.Th().Scope("col").Class("grid__head").Text(c))
	}
	rows := []app.UI{app.Tr().Body(head...)}
	var problems []app.UI
	for n, cells := range g.Cells {
		row := []app.UI{app.Th().Scope("row").Class("grid__head", "grid__head--row").Text(g.Rows[n])}
		for _, c := range cells {
			input := g.boxes.input(c.Key, g.put)
			box := app.Input().Type("text").Class("grid__box").ID(c.ID).Value(g.boxes.begun(c.Key, c.Value)).Aria("label", c.Label).
				Attr("inputmode", "decimal").Attr("autocomplete", "off").Attr("spellcheck", "false").
				OnInput(input, c.Key).OnChange(input, c.Key).
				OnFocus(func(app.Context, app.Event) { g.last = c.Key }, c.Key)
			if c.Problem != "" {
				box = box.Aria("invalid", "true").Aria("describedby", c.ID+"-problem")
				problems = append(problems, app.P().Class("field__problem").ID(c.ID+"-problem").
					Body(part.Icon("alert"), app.Span().Text(c.Label+": "+c.Problem)))
			}
			row = append(row, app.Td().Class("grid__cell").Body(box))
		}
		rows = append(rows, app.Tr().Body(row...))
	}
	body := []app.UI{app.Legend().Class("field__label").Text(g.Legend), app.P().Class("field__hint").Text(g.Hint)}
	body = append(body, app.Div().Class("grid__scroll").Body(app.Table().Class("grid__table").Body(app.TBody().Body(rows...))))
	if g.Signed {
		body = append(body, app.Button().Type("button").Class("field__word", "grid__sign").Text("± Sign of the last one").OnClick(g.turn))
	}
	return app.FieldSet().Class("grid").ID(g.ID).Body(append(body, problems...)...)
}

// OnUpdate follows values that came from outside.
func (g *grid) OnUpdate(app.Context) {
	for _, cells := range g.Cells {
		for _, c := range cells {
			g.boxes.follow(c.Key, c.ID, c.Value)
		}
	}
}

func (g *grid) put(ctx app.Context, key, value string) {
	g.last = key
	g.OnInput(ctx, key, value)
}

// turn changes the sign of the box that was typed in last.
func (g *grid) turn(ctx app.Context, _ app.Event) {
	for _, cells := range g.Cells {
		for _, c := range cells {
			if c.Key != g.last || g.boxes.typed[c.Key] == "" {
				continue
			}
			value, below := strings.CutPrefix(g.boxes.typed[c.Key], "-")
			if !below {
				value = "-" + value
			}
			g.boxes.follow(c.Key, c.ID, value)
			g.put(ctx, c.Key, value)
		}
	}
}

// grid draws inputs that stand in rows and columns.
func (f *form) grid(inputs []*input, changed func(app.Context)) app.UI {
	g := &grid{ID: f.id(inputs[0]) + "-grid", Legend: inputs[0].legend, Hint: inputs[0].hint, Signed: inputs[0].below, OnInput: func(ctx app.Context, key, value string) {
		f.typed[key] = value
		changed(ctx)
	}}
	for _, i := range inputs {
		if len(g.Rows) == 0 || g.Rows[len(g.Rows)-1] != i.row {
			g.Rows, g.Cells = append(g.Rows, i.row), append(g.Cells, nil)
		}
		n := len(g.Rows) - 1
		if n == 0 {
			g.Columns = append(g.Columns, i.column)
		}
		g.Cells[n] = append(g.Cells[n], cellBox{i.key, f.id(i), i.label, f.typed[i.key], f.problems[i.key]})
	}
	return g
}
