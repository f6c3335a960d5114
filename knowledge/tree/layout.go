package tree

// Layout is a tree drawn as a chart: the way that most trucks take runs down the
// first column, what leaves it stands to the right of it, and so on in the columns
// after that. Lengths are in the drawing's own units, y runs down.
type Layout struct {
	Width, Height float64
	Boxes         []Box
	Lines         []Line
}

// Box is a node's place. Parents come before what follows from them.
type Box struct {
	Node       *Node
	From       *Node // the node before it; nil for the first
	Branch     int   // which branch of From leads here
	Column     int
	X, Y, W, H float64
}

// Line runs from one box to the next: down a column, or around a corner.
type Line struct{ Points [][2]float64 }

// Page is a part of the height that can be printed by itself: no box is cut.
type Page struct{ Top, Bottom float64 }

// Frame is the measures of a chart.
type Frame struct {
	Box    float64 // width of a box
	Gutter float64 // between columns
	Gap    float64 // between boxes below each other
	Margin float64 // around everything
	Lead   float64 // height within a box at which lines from the side meet it
}

// Main is the branch that goes on down the column: of those that go on, the one that
// most trucks take; -1 when none goes on.
func (n *Node) Main() int {
	best := -1
	for i, b := range n.Branches {
		if b.Node.End == GoesOn && (best < 0 || b.Percent > n.Branches[best].Percent) {
			best = i
		}
	}
	return best
}

// Lay places a tree. height tells how high the box of a node must be; it is asked
// once for each, parents first. No two boxes overlap, and no line crosses a box.
//
// Source: definition; the properties are checked in layout_test.go.
func Lay(root *Node, f Frame, height func(from, n *Node, branch int) float64) *Layout {
	l := &layer{Layout: &Layout{}, frame: f, height: height}
	bottom := l.chain(nil, root, -1, 0, f.Margin)
	l.Height = bottom + f.Margin
	for _, b := range l.Boxes {
		l.Width = max(l.Width, b.X+b.W+f.Margin)
	}
	return l.Layout
}

type layer struct {
	*Layout
	frame  Frame
	height func(from, n *Node, branch int) float64
}

// chain places a node and what follows from it, and returns where that ends below.
func (l *layer) chain(from, n *Node, branch, column int, top float64) float64 {
	f := l.frame
	box := Box{
		Node: n, From: from, Branch: branch, Column: column,
		X: f.Margin + float64(column)*(f.Box+f.Gutter), Y: top, W: f.Box, H: l.height(from, n, branch),
	}
	l.Boxes = append(l.Boxes, box)
	bottom := box.Y + box.H
	main := n.Main()

	side := top
	bus := box.X + box.W + f.Gutter/2
	for i, b := range n.Branches {
		if i == main {
			continue
		}
		l.Lines = append(l.Lines, Line{[][2]float64{
			{box.X + box.W, box.Y + f.Lead}, {bus, box.Y + f.Lead}, {bus, side + f.Lead}, {box.X + box.W + f.Gutter, side + f.Lead},
		}})
		end := l.chain(n, b.Node, i, column+1, side)
		bottom = max(bottom, end)
		side = end + f.Gap
	}
	if main < 0 {
		return bottom
	}
	next := bottom + f.Gap
	x := box.X + f.Gutter/2
	l.Lines = append(l.Lines, Line{[][2]float64{{x, box.Y + box.H}, {x, next}}})
	return l.chain(n, n.Branches[main].Node, main, column, next)
}

// Pages cuts the height into pages that are no higher than most and cut no box; a box
// that is itself higher gets a page as high as it needs.
func (l *Layout) Pages(most float64) []Page {
	var pages []Page
	for top := 0.0; top < l.Height; {
		cut := top
		for _, at := range append(l.cuts(), l.Height) {
			if at > top && (at <= top+most || cut == top) {
				cut = max(cut, at)
			}
		}
		pages = append(pages, Page{top, cut})
		top = cut
	}
	return pages
}

// cuts lists the heights, just above a box, that no box stands across, from the top
// down.
func (l *Layout) cuts() []float64 {
	var cuts []float64
	for _, b := range l.Boxes {
		free := b.Y > l.Boxes[0].Y
		for _, other := range l.Boxes {
			free = free && !(other.Y < b.Y && b.Y < other.Y+other.H)
		}
		for _, c := range cuts {
			free = free && c != b.Y
		}
		if free {
			cuts = append(cuts, b.Y)
		}
	}
	return cuts
}
