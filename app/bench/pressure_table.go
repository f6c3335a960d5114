package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
)

// gauges is the table of a pressure test: how the truck stands down the side, the
// ports across, and in each cell a box for the gauge with its window and verdict.
//
// On a phone the cells of a row stand one under the other, each with the name of
// its port, the box at the thumb's side; it stays a table for screen readers,
// which is why each element says its role. Enter goes on to the next box.
type gauges struct {
	app.Compo

	ID      string
	Caption string
	Units   []string
	Unit    string
	Columns []string
	Rows    []gaugeRow

	OnInput func(ctx app.Context, key, value string)
	OnUnit  func(ctx app.Context, unit string)

	boxes boxes
}

// A gaugeRow is a row of the table.
type gaugeRow struct {
	Heading, Throttle string
	Cells             []gaugeCell // by column
}

// A gaugeCell is a box of the table; without a key there is none, because no check
// reads that port there.
type gaugeCell struct {
	Key, ID, Value string
	Unit           string // that the number is in, where it is not the table's
	Window         string
	Call, Judged   string
	Problem        string
}

// Render draws the choice of the unit and the table.
func (g *gauges) Render() app.UI {
	var options []app.UI
	for _, u := range g.Units {
		options = append(options, app.Option().Value(u).Selected(u == g.Unit).Text(u))
	}
	head := []app.UI{app.Th().Class("gauges__head").Scope("col").Attr("role", "columnheader").Text("Range and throttle")}
	for n, c := range g.Columns {
		head = append(head, app.Th().Class("gauges__head").ID(g.column(n)).Scope("col").Attr("role", "columnheader").Text(c))
	}
	next := map[string]string{}
	last := ""
	for _, r := range g.Rows {
		for _, c := range r.Cells {
			if c.Key != "" {
				next[last], last = c.ID, c.ID
			}
		}
	}
	var rows []app.UI
	for n, r := range g.Rows {
		row := []app.UI{app.Th().Class("gauges__row").ID(g.row(n)).Scope("row").Attr("role", "rowheader").Body(
			app.Span().Text(r.Heading), app.Text(" "), app.Span().Class("gauges__throttle").Text(r.Throttle))}
		for m, c := range r.Cells {
			if c.Key == "" {
				row = append(row, app.Td().Class("gauges__none").Attr("role", "cell"))
				continue
			}
			row = append(row, app.Td().Class("gauges__place").Attr("role", "cell").Body(
				app.Div().Class("gauges__cell").Body(g.box(c, n, m, next[c.ID])...)))
		}
		rows = append(rows, app.Tr().Class("gauges__line").Attr("role", "row").Body(row...))
	}
	return app.Div().Class("gauges").Body(
		app.Div().Class("gauges__unit").Body(
			app.Label().Class("field__label").For(g.ID+"-unit").Text("The gauges read in"),
			app.Select().Class("gauges__pick").ID(g.ID+"-unit").Body(options...).OnChange(g.unit)),
		app.Table().Class("gauges__table").Attr("role", "table").Body(
			app.Caption().Class("gauges__caption").Body(app.Span().Class("spoken").Text("Gauge readings by range, throttle and port. "), app.Text(g.Caption)),
			app.THead().Class("gauges__heads").Attr("role", "rowgroup").Body(app.Tr().Attr("role", "row").Body(head...)),
			app.TBody().Class("gauges__rows").Attr("role", "rowgroup").Body(rows...)))
}

func (g *gauges) column(n int) string { return g.ID + "-port-" + string(rune('a'+n)) }

func (g *gauges) row(n int) string { return g.ID + "-row-" + string(rune('a'+n)) }

// box draws what stands in a cell. The verdict and what is wrong come and go in
// elements of their own, so that the box keeps its place.
func (g *gauges) box(c gaugeCell, row, column int, next string) []app.UI {
	described := []string{c.ID + "-window"}
	var verdict, problem []app.UI
	if c.Unit != "" {
		verdict = append(verdict, app.P().Class("gauges__judged").Text("typed in "+c.Unit))
	}
	input := g.boxes.input(c.Key, g.put)
	box := app.Input().Type("text").Class("gauges__box").ID(c.ID).Value(g.boxes.begun(c.Key, c.Value)).
		Aria("labelledby", g.column(column)+" "+g.row(row)).
		Attr("inputmode", "decimal").Attr("autocomplete", "off").Attr("spellcheck", "false").
		OnInput(input, c.Key).OnChange(input, c.Key)
	if next != "" {
		box = box.Attr("enterkeyhint", "next").OnKeyDown(enterTo(next), next)
	} else {
		box = box.Attr("enterkeyhint", "done")
	}
	switch {
	case c.Problem != "":
		described = append(described, c.ID+"-problem")
		box = box.Aria("invalid", "true")
		problem = append(problem, app.P().Class("field__problem").ID(c.ID+"-problem").Body(part.Icon("alert"), app.Span().Text(c.Problem)))
	case c.Judged != "":
		described = append(described, c.ID+"-judged")
		verdict = append(verdict, app.P().Class("gauges__judged").ID(c.ID+"-judged").DataSet("call", c.Call).Body(part.Icon(c.Call), app.Span().Text(c.Judged)))
	}
	return []app.UI{
		app.Label().Class("gauges__port").For(c.ID).Text(g.Columns[column]),
		box.Aria("describedby", strings.Join(described, " ")),
		app.P().Class("gauges__window").ID(c.ID + "-window").Text(c.Window),
		app.Div().Class("gauges__verdict").Body(verdict...),
		app.Div().Class("gauges__problem").Body(problem...),
	}
}

// OnUpdate follows values that came from outside.
func (g *gauges) OnUpdate(app.Context) {
	for _, r := range g.Rows {
		for _, c := range r.Cells {
			g.boxes.follow(c.Key, c.ID, c.Value)
		}
	}
}

func (g *gauges) put(ctx app.Context, key, value string) { g.OnInput(ctx, key, value) }

func (g *gauges) unit(ctx app.Context, _ app.Event) {
	g.OnUnit(ctx, ctx.JSSrc().Get("value").String())
}

// enterTo goes to another box of the same table, and lets the browser bring it
// into view.
func enterTo(id string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if e.Get("key").String() != "Enter" || e.Get("isComposing").Truthy() {
			return
		}
		if box := ctx.JSSrc().Call("closest", "table").Call("querySelector", "#"+id); box.Truthy() {
			e.PreventDefault()
			box.Call("focus")
		}
	}
}
