package tree

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var frame = Frame{Box: 250, Gutter: 30, Gap: 14, Margin: 4, Lead: 18}

// grown is a tree of random shape.
func grown(r *rand.Rand, depth int) *Node {
	n := &Node{End: Explained}
	if depth == 0 || r.IntN(3) == 0 {
		return n
	}
	n.End = GoesOn
	for range r.IntN(5) {
		n.Branches = append(n.Branches, Branch{Percent: r.IntN(100), Node: grown(r, depth-1)})
	}
	return n
}

func soundLayout(t *testing.T, root *Node, r *rand.Rand) {
	t.Helper()
	asked := map[*Node]bool{}
	l := Lay(root, frame, func(_, n *Node, _ int) float64 {
		require.False(t, asked[n], "asked twice")
		asked[n] = true
		return 30 + 100*r.Float64()
	})
	require.Len(t, l.Boxes, root.Count(), "every node has a box")
	at := map[*Node]Box{}
	for i, b := range l.Boxes {
		require.True(t, b.X >= 0 && b.Y >= 0 && b.X+b.W <= l.Width && b.Y+b.H <= l.Height, "box %d is outside", i)
		for j, o := range l.Boxes[:i] {
			apart := b.X >= o.X+o.W || o.X >= b.X+b.W || b.Y >= o.Y+o.H || o.Y >= b.Y+b.H
			require.True(t, apart, "boxes %d and %d overlap", i, j)
		}
		if b.From != nil {
			from, ok := at[b.From]
			require.True(t, ok, "a parent comes first")
			require.Same(t, b.Node, b.From.Branches[b.Branch].Node)
			if b.Branch == b.From.Main() {
				require.True(t, b.Column == from.Column && b.Y > from.Y, "goes on downward")
			} else {
				require.True(t, b.Column == from.Column+1 && b.Y >= from.Y, "stands beside")
			}
		}
		at[b.Node] = b
	}
	require.Len(t, l.Lines, len(l.Boxes)-1)
	for _, line := range l.Lines {
		for k := 1; k < len(line.Points); k++ {
			p, q := line.Points[k-1], line.Points[k]
			for i, b := range l.Boxes {
				outside := max(p[0], q[0]) <= b.X || min(p[0], q[0]) >= b.X+b.W || max(p[1], q[1]) <= b.Y || min(p[1], q[1]) >= b.Y+b.H
				require.True(t, outside, "a line crosses box %d", i)
			}
		}
	}
	const most = 700.0
	pages := l.Pages(most)
	last := 0.0
	for _, p := range pages {
		assert.Equal(t, last, p.Top, "pages follow on each other")
		assert.Greater(t, p.Bottom, p.Top)
		last = p.Bottom
		for i, b := range l.Boxes {
			whole := b.Y+b.H <= p.Top || b.Y >= p.Bottom || b.Y >= p.Top && b.Y+b.H <= p.Bottom
			require.True(t, whole, "box %d is cut", i)
		}
	}
	assert.Equal(t, l.Height, last)
}

// Properties of a readable chart, on trees of every shape and on the shipped ones.
func TestLayoutIsSound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		soundLayout(t, grown(r, 6), r)
	}
	for k := range Shipped().Trees {
		soundLayout(t, Shipped().Tree(k), r)
	}
}

// A chart by hand: a check with an end and a check that goes on.
func TestLayoutByHand(t *testing.T) {
	end, next := &Node{End: Explained}, &Node{End: GoesOn}
	root := &Node{End: GoesOn, Branches: []Branch{{Percent: 60, Node: end}, {Percent: 40, Node: next}}}
	l := Lay(root, Frame{Box: 100, Gutter: 20, Gap: 10, Margin: 5, Lead: 8}, func(_, n *Node, _ int) float64 {
		if n == end {
			return 50
		}
		return 30
	})
	assert.Equal(t, []Box{
		{Node: root, Branch: -1, X: 5, Y: 5, W: 100, H: 30},
		{Node: end, From: root, Branch: 0, Column: 1, X: 125, Y: 5, W: 100, H: 50},
		{Node: next, From: root, Branch: 1, X: 5, Y: 65, W: 100, H: 30},
	}, l.Boxes)
	assert.Equal(t, 230.0, l.Width)
	assert.Equal(t, 100.0, l.Height)
	assert.Equal(t, []Page{{0, 65}, {65, 100}}, l.Pages(80))
	assert.Equal(t, []Page{{0, 100}}, l.Pages(100))
	assert.Equal(t, []Page{{0, 65}, {65, 100}}, l.Pages(1), "what is too high is not cut")
}
