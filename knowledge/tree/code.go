package tree

// Compiled is the trees of a catalogue in the form in which they are carried:
// the numbers of each node in the order of the tree, one list a symptom.
//
//	node     = percent spent end, proved, suspects, [check level minutes why branches]
//	proved   = count, fault …
//	suspects = count, (fault percent) …
//	branches = count, (percent, outcomes, node) …
//	outcomes = count, outcome …
//
// What stands in brackets is there when the node goes on. A count of -1 stands
// for outcomes that are not drawn. Faults, checks, levels and outcomes are
// indexes in the catalogue; why is one in Whys.
type Compiled struct {
	Whys  []string
	Trees [][]int16 // by the symptom's index in the catalogue
}

// Add appends a tree.
func (c *Compiled) Add(root *Node) {
	w := writer{compiled: c}
	w.node(root)
	c.Trees = append(c.Trees, w.out)
}

// Tree returns the tree of the symptom with an index in the catalogue, nil when
// there is none.
func (c *Compiled) Tree(symptom int) *Node {
	if symptom < 0 || symptom >= len(c.Trees) || len(c.Trees[symptom]) == 0 {
		return nil
	}
	r := reader{compiled: c, rest: c.Trees[symptom]}
	return r.node()
}

// Shipped returns the trees of the catalogue that the program carries.
func Shipped() *Compiled { return &data }

type writer struct {
	compiled *Compiled
	out      []int16
}

func (w *writer) put(numbers ...int) {
	for _, n := range numbers {
		w.out = append(w.out, int16(n))
	}
}

func (w *writer) node(n *Node) {
	w.put(n.Percent, n.Spent, int(n.End))
	w.put(len(n.Proved))
	w.put(n.Proved...)
	w.put(len(n.Suspects))
	for _, s := range n.Suspects {
		w.put(s.Fault, s.Percent)
	}
	if n.End != GoesOn {
		return
	}
	w.put(n.Check, n.Level, n.Minutes, w.why(n.Why), len(n.Branches))
	for _, b := range n.Branches {
		w.put(b.Percent)
		if b.Outcomes == nil {
			w.put(-1)
		} else {
			w.put(len(b.Outcomes))
			w.put(b.Outcomes...)
		}
		w.node(b.Node)
	}
}

func (w *writer) why(text string) int {
	for i, t := range w.compiled.Whys {
		if t == text {
			return i
		}
	}
	w.compiled.Whys = append(w.compiled.Whys, text)
	return len(w.compiled.Whys) - 1
}

type reader struct {
	compiled *Compiled
	rest     []int16
}

func (r *reader) next() int {
	n := r.rest[0]
	r.rest = r.rest[1:]
	return int(n)
}

func (r *reader) node() *Node {
	n := &Node{Percent: r.next(), Spent: r.next(), End: End(r.next()), Check: -1, Level: -1}
	for range r.next() {
		n.Proved = append(n.Proved, r.next())
	}
	for range r.next() {
		n.Suspects = append(n.Suspects, Share{r.next(), r.next()})
	}
	if n.End != GoesOn {
		return n
	}
	n.Check, n.Level, n.Minutes = r.next(), r.next(), r.next()
	n.Why = r.compiled.Whys[r.next()]
	for range r.next() {
		b := Branch{Percent: r.next()}
		if count := r.next(); count >= 0 {
			b.Outcomes = make([]int, count)
			for i := range b.Outcomes {
				b.Outcomes[i] = r.next()
			}
		}
		b.Node = r.node()
		n.Branches = append(n.Branches, b)
	}
	return n
}
