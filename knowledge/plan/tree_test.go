package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/infer"
)

// cost sums what a tree takes over all trucks that come to its end.
func cost(n *Node) float64 {
	if n.End != GoesOn {
		return 0
	}
	sum := n.Probability * n.Unfinished * n.Minutes
	for _, b := range n.Branches {
		sum += cost(b.Node)
	}
	return sum
}

func TestTreeCostsWhatIsExpected(t *testing.T) {
	for seed := range uint64(12) {
		p, s := small(seed)
		tree := p.Compile(s, Limits{Probability: 1e-12, Depth: 100, Unfinished: 1e-12})
		assert.InDelta(t, p.Expected(p.Next, s), cost(tree), 1e-4, "seed %d", seed)
	}
}

// Whoever walks a tree and whoever gives the same answers to the ranking are sent
// the same way.
func TestTreeIsTheRanking(t *testing.T) {
	for seed := range uint64(6) {
		p, s := workshop(seed, 10, 16, 30)
		p.Effort = 100_000
		nodes := 0
		var same func(n *Node, s State)
		same = func(n *Node, s State) {
			if n.End != GoesOn {
				assert.Empty(t, n.Branches)
				return
			}
			nodes++
			g := p.Rank(s)[0]
			require.Equal(t, g.Check, n.Check)
			require.Equal(t, g.Level, n.Level)
			assert.InDelta(t, g.Minutes, n.Minutes, 1e-9)
			sum := 0.0
			for _, b := range n.Branches {
				sum += b.Probability
				assert.InDelta(t, n.Probability*n.Unfinished*b.Probability, b.Node.Probability, 1e-9)
				assert.InDelta(t, n.Spent+n.Minutes, b.Node.Spent, 1e-9)
				if b.Outcomes == nil {
					assert.Equal(t, Cut, b.Node.End)
					continue
				}
				same(b.Node, p.After(s, Answer{n.Check, n.Level, b.Outcomes}))
			}
			assert.InDelta(t, 1, sum, 1e-6, "the branches of a node are all that can happen")
		}
		same(p.Compile(s, Limits{}), s)
		assert.Greater(t, nodes, 5)
	}
}

func TestTreeLimits(t *testing.T) {
	p, s := workshop(2, 10, 16, 30)
	p.Effort = 1
	ends := map[End]int{}
	walk(p.Compile(s, Limits{Depth: 4, Probability: 0.03, Unfinished: 0.2}), 0, func(leaf *Node, depth int) {
		ends[leaf.End]++
		assert.LessOrEqual(t, depth, 4)
		switch leaf.End {
		case Finished:
			assert.Less(t, leaf.Unfinished, 0.2)
			require.NotEmpty(t, leaf.Faults)
			require.NotEmpty(t, leaf.Proved)
			assert.Contains(t, leaf.Proved, leaf.Faults[0].Fault, "the likeliest fault is proved")
		case Cut:
			assert.True(t, depth == 4 || leaf.Probability*leaf.Unfinished < 0.03 || leaf.Faults == nil)
		}
	})
	assert.Positive(t, ends[Finished])
	assert.Positive(t, ends[Cut])
}

func TestTreeOfRedrawnScenarios(t *testing.T) {
	p, s := stages()
	var asked [][]Answer
	tree := p.Compile(s, Limits{Condition: func(answers []Answer) State {
		asked = append(asked, answers)
		next := s
		for _, a := range answers {
			next = p.After(next, a)
		}
		return next
	}})
	assert.Equal(t, p.Compile(s, Limits{}), tree)
	assert.Equal(t, []Answer{{Check: 0, Level: 0, Outcomes: []int{0}}}, asked[0])
}

func TestShares(t *testing.T) {
	p, _ := stages()
	s := State{Scenarios: []infer.Scenario{{Faults: []int{0, 2}, Weight: 1}, {Faults: []int{2}, Weight: 2}, {Faults: []int{1}, Weight: 1}}}
	n := p.Compile(s, Limits{Policy: func(State) (int, int, bool) { return 0, 0, false }})
	assert.Equal(t, NothingLeft, n.End)
	assert.Equal(t, []Share{{2, 0.75}, {0, 0.25}, {1, 0.25}}, n.Faults)
	assert.Equal(t, 1.0, n.Unfinished)
}
