package jobs

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
)

// A paper is a sheet to print, to copy and to send: the same words each way.
type paper struct {
	title  string
	blocks []block
}

// A block is what stands under one heading.
type block struct {
	heading string
	lines   []string
	items   []string
	rows    [][]string // a table; its first row is the head, of empty words for none
}

func (b block) empty() bool { return len(b.lines)+len(b.items) == 0 && len(b.rows) < 2 }

// add adds a block unless there is nothing under its heading. A column of a table
// with nothing in it is left out.
func (p *paper) add(b block) {
	b.rows = filled(b.rows)
	if !b.empty() {
		p.blocks = append(p.blocks, b)
	}
}

// filled is a table without the columns that have a head alone.
func filled(rows [][]string) [][]string {
	if len(rows) < 2 {
		return rows
	}
	out := make([][]string, len(rows))
	for k := range rows[0] {
		if k > 0 && !slices.ContainsFunc(rows[1:], func(row []string) bool { return row[k] != "" }) {
			continue
		}
		for n, row := range rows {
			out[n] = append(out[n], row[k])
		}
	}
	return out
}

// text is the paper for apps that know nothing but text.
func (p paper) text() string {
	var b strings.Builder
	line := func(s string) {
		b.WriteString(s)
		b.WriteByte('\n')
	}
	line(p.title)
	for _, x := range p.blocks {
		line("")
		line(strings.ToUpper(x.heading))
		for _, s := range x.lines {
			line(s)
		}
		for _, s := range x.items {
			line("- " + s)
		}
		for n, row := range x.rows {
			if n == 0 {
				continue
			}
			var said []string
			for k, cell := range row {
				if cell == "" {
					continue
				}
				if k > 0 {
					cell = x.rows[0][k] + ": " + cell
				}
				said = append(said, cell)
			}
			line("- " + strings.Join(said, "; "))
		}
	}
	return b.String()
}

// draw is the paper on screen and in print.
func (p paper) draw() []app.UI {
	var body []app.UI
	for _, x := range p.blocks {
		under := []app.UI{app.H2().Class("paper__heading").Text(x.heading)}
		for _, s := range x.lines {
			under = append(under, app.P().Text(s))
		}
		if len(x.items) > 0 {
			var items []app.UI
			for _, s := range x.items {
				items = append(items, app.Li().Text(s))
			}
			under = append(under, app.Ul().Class("paper__items").Body(items...))
		}
		if len(x.rows) > 1 {
			var rows []app.UI
			for _, row := range x.rows[1:] {
				var cells []app.UI
				for k, cell := range row {
					if k == 0 {
						cells = append(cells, app.Th().Scope("row").Text(cell))
						continue
					}
					cells = append(cells, app.Td().DataSet("head", x.rows[0][k]).Text(cell))
				}
				rows = append(rows, app.Tr().Body(cells...))
			}
			var table []app.UI
			if strings.Join(x.rows[0], "") != "" {
				var head []app.UI
				for _, cell := range x.rows[0] {
					head = append(head, app.Th().Scope("col").Text(cell))
				}
				table = append(table, app.THead().Body(app.Tr().Body(head...)))
			}
			under = append(under, app.Table().Class("paper__table").Body(append(table, app.TBody().Body(rows...))...))
		}
		body = append(body, app.Section().Body(under...))
	}
	return body
}
