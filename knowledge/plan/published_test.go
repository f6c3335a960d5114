package plan

import (
	"container/heap"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/infer"
)

func TestPublishedOrders(t *testing.T) {
	parts, partsState := SingleFault([]float64{0.8, 0.2}, []float64{3, 2})
	board, boardState := Series([]float64{0.125, 0.075, 0.140}, []float64{1.75, 2.00, 2.40})
	const x, y, z = 0, 1, 2
	tests := []struct {
		name   string
		source string
		p      *Problem
		s      State
		order  []int
		cost   float64
		digit  float64 // half of the last printed one
	}{
		{"likely part first", "worked scheduling question on test order: p 0.8 and 0.2, costs 3 and 2", parts, partsState, []int{0, 1}, 3.4, 0.05},
		{"cheap part first", "same", parts, partsState, []int{1, 0}, 4.4, 0.05},
		{"XZY", "board test problem, ends at the first failure; costs and rates published, totals derived by hand", board, boardState, []int{x, z, y}, 5.355, 0.5e-3},
		{"ZXY", "same", board, boardState, []int{z, x, y}, 5.41, 0.5e-2},
		{"XYZ", "same", board, boardState, []int{x, y, z}, 5.4425, 0.5e-4},
		{"ZYX", "same", board, boardState, []int{z, y, x}, 5.512125, 0.5e-6},
		{"YXZ", "same", board, boardState, []int{y, x, z}, 5.56125, 0.5e-5},
		{"YZX", "same", board, boardState, []int{y, z, x}, 5.612125, 0.5e-6},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			assert.InDelta(t, tt.cost, tt.p.Expected(tt.p.InOrder(tt.order...), tt.s), tt.digit, tt.source)
		})
	}

	for _, tt := range []struct {
		name string
		p    *Problem
		s    State
		best []int
		cost float64
	}{
		{"parts", parts, partsState, []int{0, 1}, 3.4},
		{"board", board, boardState, []int{x, z, y}, 5.355},
	} {
		t.Run("best order of "+tt.name, func(t *testing.T) {
			least, _, err := Optimum(tt.p, tt.s, 1e4)
			require.NoError(t, err)
			assert.InDelta(t, tt.cost, least, 1e-6)
			assert.InDelta(t, tt.cost, tt.p.Expected(tt.p.Next, tt.s), 1e-9)
			var order []int
			for s := tt.s; ; {
				list := tt.p.Rank(s)
				if len(list) == 0 {
					break
				}
				order = append(order, list[0].Check)
				s = tt.p.After(s, Answer{list[0].Check, 0, []int{1}})
			}
			assert.Equal(t, tt.best, order)
			assert.InDelta(t, tt.cost, tt.p.Rank(tt.s)[0].Expected, 1e-6, "Rank expects it too")
		})
	}
}

// In random instances of the two problems with a known answer, the order of
// Kadane & Simon 1977 is the best of all orders and is what Rank does.
func TestProbabilityOverCost(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1977))
	for range 40 {
		n := 2 + r.IntN(4)
		chances, minutes := make([]float64, n), make([]float64, n)
		for i := range n {
			chances[i], minutes[i] = 0.05+0.5*r.Float64(), 1+20*r.Float64()
		}
		for name, make := range map[string]func(a, b []float64) (*Problem, State){"single fault": SingleFault, "series": Series} {
			p, s := make(chances, minutes)
			want := identity(n)
			slices.SortFunc(want, func(a, b int) int {
				if chances[a]/minutes[a] > chances[b]/minutes[b] {
					return -1
				}
				return 1
			})
			least := math.Inf(1)
			permutations(n, func(order []int) { least = min(least, p.Expected(p.InOrder(order...), s)) })
			assert.InDelta(t, least, p.Expected(p.InOrder(want...), s), 1e-9, "%s: the rule against all orders", name)
			assert.InDelta(t, least, p.Expected(p.Next, s), 1e-6*least, "%s: Rank against all orders", name)
			j, _, err := Optimum(p, s, 1e5)
			require.NoError(t, err)
			assert.InDelta(t, least, j, 1e-6*least, "%s: Optimum against all orders", name)
		}
	}
}

// With one fault and flawless checks nothing is learnt but that the work goes on,
// so that the best policy is an order; behind covers, all orders are the oracle
// (the problem of Ottosen & Jensen 2010).
func TestCoversAgainstAllOrders(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2010))
	for range 30 {
		n := 5
		chances, minutes := make([]float64, n), make([]float64, n)
		for i := range n {
			chances[i], minutes[i] = 0.05+r.Float64(), 1+20*r.Float64()
		}
		p, s := SingleFault(chances, minutes)
		p.Levels = []Level{{}, {10 * r.Float64(), 10 * r.Float64()}, {40 * r.Float64(), 40 * r.Float64()}}
		for i := range p.Checks {
			p.Checks[i].Levels = []int{r.IntN(3)}
		}
		least := math.Inf(1)
		permutations(n, func(order []int) { least = min(least, p.Expected(p.InOrder(order...), s)) })
		j, policy, err := Optimum(p, s, 1e5)
		require.NoError(t, err)
		assert.InDelta(t, least, j, 1e-6*least)
		assert.InDelta(t, least, p.Expected(policy, s), 1e-6*least)
		assert.InDelta(t, least, p.Expected(p.Next, s), 1e-6*least)
	}
}

func TestIdentificationTrees(t *testing.T) {
	tests := []struct {
		name, source string
		weights      []float64
		tests        []string // per test: what it shows for each object
		mean         float64
		tolerance    float64
		first        int // -1: any
	}{
		{
			"four objects, three tests",
			"public optimisation example set: least total path length 8 over 4 objects",
			[]float64{1, 1, 1, 1},
			[]string{"1100", "1000", "0101"}, 8.0 / 4, 1e-9, -1,
		},
		{
			"five states, five tests",
			"derived by hand and by search; the matrix is remembered from Pattipati & Alexandridis 1990 and may not be theirs",
			[]float64{0.70, 0.01, 0.02, 0.10, 0.17},
			columns("00000", "01001", "00110", "10011", "11000"), 2.12, 0.005, 1,
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p, s := identification(tt.weights, tt.tests)
			j, policy, err := Optimum(p, s, 1e5)
			require.NoError(t, err)
			assert.InDelta(t, tt.mean, j, tt.tolerance, tt.source)
			if tt.first >= 0 {
				check, _, _ := policy(s)
				assert.Equal(t, tt.first, check, tt.source)
			}
			assert.InDelta(t, j, p.Expected(policy, s), 1e-6, "the policy costs what it says")
			assert.InDelta(t, j, p.Expected(p.Next, s), 1e-6, "Rank")
			assert.GreaterOrEqual(t, j, huffman(tt.weights)-1e-9, "Huffman's mean length is a lower bound")
		})
	}
}

// With a test for every way of parting the objects, an identification tree is a
// code tree and the best is Huffman's.
func TestAllTestsGiveHuffman(t *testing.T) {
	tests := []struct {
		name, source string
		weights      []float64
		lengths      []int // nil: not unique
		mean         float64
		tolerance    float64
	}{
		{"powers of two", "Abelson & Sussman, Structure and Interpretation of Computer Programs, exercise 2.71: one bit for the most frequent, n-1 for the least",
			[]float64{1, 2, 4, 8, 16}, []int{4, 4, 3, 2, 1}, (4*1 + 4*2 + 3*4 + 2*8 + 1*16) / 31.0, 1e-6},
		{"five symbols", "Cover & Thomas, Elements of Information Theory, Huffman example (from memory): 2.3 bits",
			[]float64{0.25, 0.25, 0.2, 0.15, 0.15}, nil, 2.3, 0.05},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			n := len(tt.weights)
			var all []string
			for set := 1; set < 1<<(n-1); set++ {
				row := make([]byte, n)
				for i := range row {
					row[i] = '0' + byte(set>>i&1)
				}
				all = append(all, string(row))
			}
			p, s := identification(tt.weights, all)
			j, policy, err := Optimum(p, s, 1e5)
			require.NoError(t, err)
			assert.InDelta(t, tt.mean, j, tt.tolerance, tt.source)
			assert.InDelta(t, huffman(tt.weights), j, 1e-6, "Huffman's algorithm")

			lengths := make([]int, n)
			walk(p.Compile(s, Limits{Probability: 1e-9, Depth: 20, Unfinished: 1e-9, Policy: policy}), 0, func(leaf *Node, depth int) {
				require.Len(t, leaf.Faults, 1)
				lengths[leaf.Faults[0].Fault] = depth
			})
			if tt.lengths != nil {
				assert.Equal(t, tt.lengths, lengths, tt.source)
			}
			assert.LessOrEqual(t, p.Expected(p.Next, s), 1.1*j, "Rank, which here has only an estimate by information")
		})
	}
}

// identification makes the problem of telling objects apart by tests of unit cost.
func identification(weights []float64, tests []string) (*Problem, State) {
	p := &Problem{Levels: []Level{{}}, Goal: Isolate}
	var s State
	for i, w := range weights {
		s.Scenarios = append(s.Scenarios, infer.Scenario{Faults: []int{i}, Weight: w})
	}
	for _, row := range tests {
		var sign infer.Sign
		for i, c := range row {
			if c == '1' {
				sign.Causes = append(sign.Causes, infer.Cause{Fault: i, Strength: 1})
			}
		}
		p.Checks = append(p.Checks, Check{Minutes: 1, Levels: []int{0}, Observations: []Observation{{Outcomes: []Outcome{{Sign: sign}, {}}}}})
	}
	return p, s
}

// columns turns rows per object into rows per test.
func columns(objects ...string) []string {
	tests := make([]string, len(objects[0]))
	for _, o := range objects {
		for i, c := range o {
			tests[i] += string(c)
		}
	}
	return tests
}

type weights []float64

func (w weights) Len() int           { return len(w) }
func (w weights) Less(i, j int) bool { return w[i] < w[j] }
func (w weights) Swap(i, j int)      { w[i], w[j] = w[j], w[i] }
func (w *weights) Push(v any)        { *w = append(*w, v.(float64)) }
func (w *weights) Pop() any {
	v := (*w)[len(*w)-1]
	*w = (*w)[:len(*w)-1]
	return v
}

// huffman is the mean length of the best code: the sum of all merged weights.
func huffman(list []float64) float64 {
	w, sum, whole := weights(slices.Clone(list)), 0.0, 0.0
	for _, v := range w {
		whole += v
	}
	heap.Init(&w)
	for w.Len() > 1 {
		both := heap.Pop(&w).(float64) + heap.Pop(&w).(float64)
		sum += both
		heap.Push(&w, both)
	}
	return sum / whole
}

func identity(n int) []int {
	v := make([]int, n)
	for i := range v {
		v[i] = i
	}
	return v
}

func permutations(n int, yield func([]int)) {
	order := identity(n)
	var fix func(k int)
	fix = func(k int) {
		if k == n {
			yield(order)
			return
		}
		for i := k; i < n; i++ {
			order[k], order[i] = order[i], order[k]
			fix(k + 1)
			order[k], order[i] = order[i], order[k]
		}
	}
	fix(0)
}

func walk(n *Node, depth int, leaf func(n *Node, depth int)) {
	if n.End != GoesOn {
		leaf(n, depth)
		return
	}
	for _, b := range n.Branches {
		walk(b.Node, depth+1, leaf)
	}
}
