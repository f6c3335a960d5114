package learn

import (
	"fmt"
	"html"
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/tree"
)

// queryChart holds the size that the chart is drawn in.
const queryChart = "chart"

// chartSizes are the sizes of the chart, by their names in the address.
var chartSizes = []part.Option{{Value: "", Label: "Not drawn"}, {Value: "whole", Label: "Whole width"}, {Value: "readable", Label: "To read"}, {Value: "large", Label: "Large"}}

func (t *Tree) read(q url.Values) {
	t.size = ""
	for _, o := range chartSizes {
		if o.Value == q.Get(queryChart) {
			t.size = o.Value
		}
	}
}

// chart offers the tree as a drawing. It is drawn when asked for: a drawing of each
// tree in the prepared pages would have to be loaded by everybody who goes offline.
func (t *Tree) chart(root *tree.Node) []app.UI {
	body := []app.UI{app.Div().Class("screen-only").Body(&part.Choice{
		Name: "tree-chart", Legend: "Draw it as a chart", Compact: true, Value: t.size, Options: chartSizes,
		OnPick: func(_ app.Context, size string) {
			if t.ctx != nil {
				t.size = size
				route.Replace(t.ctx, route.Tree(t.ID).With(url.Values{queryChart: {size}}))
			}
		},
	})}
	if t.size == "" {
		return body
	}
	var pages []app.UI
	for _, drawn := range drawTree(t.Session.Catalogue(), root) {
		pages = append(pages, app.Raw(drawn))
	}
	return append(body,
		app.P().Class("soft").Text("Downward goes the way that most trucks take; to the right stands what leaves it. Each box begins with what the check before it showed. The chart can be moved in its frame, and prints in pages."),
		app.Div().Class("drawn").DataSet("size", t.size).TabIndex(0).Attr("role", "region").Aria("label", "The tree as a chart, can be scrolled").Body(pages...))
}

// The chart's measures, in its own units: pixels at the size to read. Letters are
// counted and not measured, at the width that the widest usual font needs.
const (
	chartLine = 17
	chartText = 31 // letters in a line
	chartBold = 26
	chartPad  = 9
)

// chartFrame makes three columns, which is what the widest trees need, as wide as
// paper allows: at 190 mm they print at about 9 points.
var chartFrame = tree.Frame{Box: 252, Gutter: 26, Gap: 16, Margin: 3, Lead: 17}

// chartPage is the height that fits on A4 and on Letter when the width fits.
const chartPage = 1020

// sentence is lines in a box that look the same.
type sentence struct {
	class string
	text  string
	href  string
}

func (s sentence) lines() []string {
	most := chartText
	if s.class == "drawn__link" {
		most = chartBold
	}
	return wrap(strings.ReplaceAll(s.text, " %", "\u00a0%"), most)
}

// drawTree draws a tree as one drawing for each printed page.
func drawTree(c *catalogue.Catalogue, root *tree.Node) []string {
	said := map[*tree.Node][]sentence{}
	layout := tree.Lay(root, chartFrame, func(from, n *tree.Node, branch int) float64 {
		said[n] = boxText(c, from, n, branch)
		lines := 0
		for _, s := range said[n] {
			lines += len(s.lines())
		}
		return float64(lines*chartLine + 2*chartPad)
	})
	var drawings []string
	for i, page := range layout.Pages(chartPage) {
		var b strings.Builder
		fmt.Fprintf(&b, `<svg class="drawn__page" viewBox="0 %.0f %.0f %.0f" role="group" aria-label="Chart, part %d">`, page.Top, layout.Width, page.Bottom-page.Top, i+1)
		for _, line := range layout.Lines {
			top, bottom := line.Points[0][1], line.Points[len(line.Points)-1][1]
			if min(top, bottom) > page.Bottom || max(top, bottom) < page.Top {
				continue
			}
			b.WriteString(`<path class="drawn__line" d="`)
			for k, p := range line.Points {
				fmt.Fprintf(&b, "%c%.0f %.0f", "ML"[min(k, 1)], p[0], p[1])
			}
			b.WriteString(`"/>`)
		}
		for _, box := range layout.Boxes {
			if box.Y >= page.Top && box.Y+box.H <= page.Bottom {
				drawBox(&b, box, said[box.Node])
			}
		}
		b.WriteString(`</svg>`)
		drawings = append(drawings, b.String())
	}
	return drawings
}

func drawBox(b *strings.Builder, box tree.Box, said []sentence) {
	kind := "goes-on"
	switch box.Node.End {
	case tree.Explained:
		kind = "explained"
	case tree.NothingLeft, tree.Cut:
		kind = "cut"
	}
	fmt.Fprintf(b, `<rect class="drawn__box" data-end="%s" x="%.0f" y="%.0f" width="%.0f" height="%.0f" rx="4"/>`, kind, box.X, box.Y, box.W, box.H)
	y := box.Y + chartPad + 12
	for _, s := range said {
		if s.href != "" {
			fmt.Fprintf(b, `<a href="%s">`, html.EscapeString(s.href))
		}
		for _, line := range s.lines() {
			fmt.Fprintf(b, `<text class="%s" x="%.0f" y="%.0f">%s</text>`, s.class, box.X+chartPad, y, html.EscapeString(line))
			y += chartLine
		}
		if s.href != "" {
			b.WriteString(`</a>`)
		}
	}
}

// boxText is what stands in a node's box: what led there, and what comes next or how
// it ends.
func boxText(c *catalogue.Catalogue, from, n *tree.Node, branch int) []sentence {
	var said []sentence
	if from != nil {
		b := &from.Branches[branch]
		said = append(said, sentence{"drawn__if", label(&c.Checks[from.Check], b.Outcomes) + ": " + share(b.Percent), ""})
	}
	before := map[int]bool{}
	if from != nil {
		for _, f := range from.Proved {
			before[f] = true
		}
	}
	for _, f := range n.Proved {
		if !before[f] {
			said = append(said, sentence{"drawn__link", "Proved: " + c.Faults[f].Name, route.Fault(c.Faults[f].ID).Href()})
		}
	}
	switch n.End {
	case tree.GoesOn:
		k := &c.Checks[n.Check]
		said = append(said,
			sentence{"drawn__link", k.Name, route.Check(k.ID).Href()},
			sentence{"drawn__text", facts(c.Access[n.Level].Name, n), ""},
			sentence{"drawn__soft", n.Why, ""})
	case tree.Explained:
		said = append(said, sentence{"drawn__text", "Explains the complaint, after " + part.Minutes(float64(n.Spent)) + ".", ""})
	case tree.NothingLeft:
		said = append(said, sentence{"drawn__text", "No check is left, after " + part.Minutes(float64(n.Spent)) + ".", ""})
	default:
		said = append(said, sentence{"drawn__text", "Go on in Find, after " + part.Minutes(float64(n.Spent)) + ".", route.Find().Href()})
	}
	return said
}
