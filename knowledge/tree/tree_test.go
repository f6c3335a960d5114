package tree

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	sheet "provingbench/knowledge/unit/shipped"
)

func engine() *diagnosis.Engine {
	return &diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
}

// TestRoundTrip: what is carried as numbers comes back as it was.
func TestRoundTrip(t *testing.T) {
	root := &Node{
		Percent: 100, Suspects: []Share{{3, 40}, {9, 12}}, End: GoesOn, Check: 7, Level: 2, Minutes: 15, Why: "It tells the most.",
		Branches: []Branch{
			{[]int{0, -1, 2}, 60, &Node{Percent: 60, Spent: 15, Proved: []int{3}, End: Explained, Check: -1, Level: -1}},
			{[]int{1, -1, 0}, 30, &Node{Percent: 30, Spent: 15, End: GoesOn, Check: 8, Level: 3, Minutes: 40, Why: "It comes first."}},
			{nil, 10, &Node{Percent: 10, Spent: 15, End: Cut, Check: -1, Level: -1}},
		},
	}
	var c Compiled
	c.Add(root)
	c.Add(root)
	assert.Equal(t, root, c.Tree(0))
	assert.Equal(t, root, c.Tree(1))
	assert.Len(t, c.Whys, 2)
	assert.Nil(t, c.Tree(2))
	assert.Nil(t, c.Tree(-1))
}

// TestShippedTrees holds every tree against what a tree has to be.
func TestShippedTrees(t *testing.T) {
	c := catalogue.Catalogue()
	require.Len(t, Shipped().Trees, len(c.Symptoms), "run make generate")
	for i := range c.Symptoms {
		id := c.Symptoms[i].ID
		root := Shipped().Tree(i)
		require.NotNil(t, root, id)
		assert.Equal(t, GoesOn, root.End, id)
		var walk func(n *Node, done map[int]bool, depth int)
		walk = func(n *Node, done map[int]bool, depth int) {
			require.LessOrEqual(t, depth, Depth, id)
			if n.End != GoesOn {
				assert.Empty(t, n.Branches, id)
				if n.End == Explained {
					assert.NotEmpty(t, n.Proved, id)
				}
				return
			}
			require.False(t, done[n.Check], "%s: %s comes twice on one branch", id, c.Checks[n.Check].ID)
			with := map[int]bool{n.Check: true}
			for k := range done {
				with[k] = true
			}
			sum := 0
			for _, b := range n.Branches {
				sum += b.Percent
				assert.GreaterOrEqual(t, b.Node.Spent, n.Spent, id)
				walk(b.Node, with, depth+1)
			}
			assert.InDelta(t, 100, sum, float64(len(n.Branches))/2+1, "%s: what a check shows sums to all", id)
		}
		walk(root, nil, 0)
	}
}

// TestCompiledAsShipped compiles one complaint again.
func TestCompiledAsShipped(t *testing.T) {
	e := engine()
	const id = "park-not-holding"
	root, err := Compile(e, id)
	require.NoError(t, err)
	assert.Equal(t, Shipped().Tree(e.Catalogue.SymptomIndex(id)), root, "run make generate")
}

func TestCompileUnknownSymptom(t *testing.T) {
	_, err := Compile(engine(), "no-such")
	var input *diagnosis.InputError
	require.ErrorAs(t, err, &input)
}
