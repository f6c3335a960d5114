package learn

import (
	"math"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/session"
	"provingbench/app/store"
	catalog "provingbench/knowledge/catalogue"
	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/tree"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func newSession() *session.Session {
	engine := &diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
	now := time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)
	return session.New(engine, store.Memory{}, func() time.Time { return now })
}

// has and hasNot keep a failure readable: the pages are long.
func has(t *testing.T, html, want string) {
	t.Helper()
	assert.True(t, strings.Contains(html, want), "missing: %s", want)
}

func hasNot(t *testing.T, html, want string) {
	t.Helper()
	assert.False(t, strings.Contains(html, want), "should not be there: %s", want)
}

func chart(q url.Values) string {
	c := &Chart{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
	c.read(q)
	return app.HTMLString(c)
}

// TestChartNamesTheSuspects uses what the trade knows: 3rd and reverse share
// the front clutch, 1st in D alone hangs on the overrunning clutch, 2nd on the
// front band, 4th on the overdrive clutch (published application chart and its
// notes, maker's handbook).
func TestChartNamesTheSuspects(t *testing.T) {
	for _, c := range []struct{ name, query, word, link string }{
		{"front clutch", "slips=3&slips=R&holds=1&holds=2", "Front clutch", "/faults/front-clutch-worn/"},
		{"overrunning clutch", "slips=1&holds=2&holds=manual-1", "Overrunning clutch", "/faults/overrunning-clutch-slipping/"},
		{"front band", "slips=2&holds=1&holds=3", "Front band", "/faults/front-band-loose/"},
		{"overdrive clutch", "slips=4&holds=3", "Overdrive clutch", "/faults/overdrive-clutch-worn/"},
		{"no single element", "slips=2&slips=R&holds=1&holds=3", "No single element explains this", ""},
		{"nothing said", "", "Say of at least one gear", ""},
		{"no such gear", "slips=9", "Say of at least one gear", ""},
	} {
		q, err := url.ParseQuery(c.query)
		require.NoError(t, err)
		html := chart(q)
		has(t, html, c.word)
		if c.link != "" {
			has(t, html, c.link)
		}
	}
}

func TestChartIsATable(t *testing.T) {
	html := chart(nil)
	rows := strings.Count(html, `class="chart__element"`)
	assert.Equal(t, len(unit.Elements)+2, rows, "with the head and the ratios")
	on := 0
	for _, r := range unit.Chart {
		on += len(r.On)
	}
	assert.Equal(t, on, strings.Count(html, "chart__cell--on"))
	// Published ratios of the light version (maker's handbooks of 1998 and 2003).
	for _, want := range []string{">2.45<", ">1.45<", ">1.00<", ">0.69<", ">2.20<"} {
		has(t, html, want)
	}
	for _, p := range patterns() {
		assert.NotEmpty(t, p.suspects, "every pattern is explained by the element it was made from")
	}
}

func TestEveryElementHasFaults(t *testing.T) {
	for _, e := range unit.Elements {
		assert.NotEmpty(t, faultsOf(catalogue.Catalogue(), e.ID), e.ID)
	}
}

var open = regexp.MustCompile(`<details[^>]*\sopen`)

// TestEveryTreeCanBeRead holds each prepared page against its tree.
func TestEveryTreeCanBeRead(t *testing.T) {
	s := newSession()
	c := s.Catalogue()
	for i := range c.Symptoms {
		y := &c.Symptoms[i]
		root := tree.Shipped().Tree(i)
		require.NotNil(t, root, y.ID)
		html := app.HTMLString(&Tree{Session: s, ID: y.ID})
		var read func(*tree.Node)
		steps := 0
		read = func(n *tree.Node) {
			if n.End != tree.GoesOn {
				return
			}
			steps++
			has(t, html, `href="/checks/`+c.Checks[n.Check].ID+`/"`)
			for _, b := range n.Branches {
				read(b.Node)
			}
		}
		read(root)
		assert.Equal(t, steps, strings.Count(html, `class="tree__step"`), y.ID)
		assert.Equal(t, strings.Count(html, "<details"), len(open.FindAllString(html, -1)), "paper shows everything")
		hasNot(t, html, "%!")
	}
	hasNot(t, app.HTMLString(&Screen{Catalogue: c}), `href="/learn/tree//"`)
}

// TestEveryTreeCanBeDrawn counts on each chart what the tree holds.
func TestEveryTreeCanBeDrawn(t *testing.T) {
	s := newSession()
	c := s.Catalogue()
	for i := range c.Symptoms {
		root := tree.Shipped().Tree(i)
		drawn := strings.Join(drawTree(c, root), "")
		assert.Equal(t, root.Count(), strings.Count(drawn, `class="drawn__box"`), c.Symptoms[i].ID)
		assert.Equal(t, strings.Count(drawn, "<svg"), strings.Count(drawn, "</svg>"))
		hasNot(t, drawn, "%!")
		hasNot(t, drawn, "style=")
		has(t, drawn, `href="/checks/`+c.Checks[root.Check].ID+`/"`)
	}
	for size, drawn := range map[string]bool{"": false, "readable": true, "whole": true, "nonsense": false} {
		page := &Tree{Session: s, ID: "no-reverse"}
		page.read(url.Values{queryChart: {size}})
		assert.Equal(t, drawn, strings.Contains(app.HTMLString(page), `class="drawn__page"`), size)
	}
}

// TestTheLiveToolWalksTheSameTree gives a job the answers along every drawn
// branch of every tree, as somebody would in Find, and asks what it would do
// next: the same check at the same level for the same minutes and reason, the
// same faults proved and suspected, the same end.
func TestTheLiveToolWalksTheSameTree(t *testing.T) {
	if testing.Short() {
		t.Skip("asks the engine some thousand times")
	}
	c := catalogue.Catalogue()
	for i := range c.Symptoms {
		t.Run(c.Symptoms[i].ID, func(t *testing.T) {
			t.Parallel()
			w := walk{t: t, s: newSession(), c: c}
			w.from(tree.Start(c.Symptoms[i].ID), tree.Shipped().Tree(i), nil)
			assert.Positive(t, w.leaves)
		})
	}
}

type walk struct {
	t      *testing.T
	s      *session.Session
	c      *catalog.Catalogue
	leaves int
}

// from compares a node, and what comes after it, with a job that stands there.
func (w *walk) from(standing diagnosis.Case, n *tree.Node, path []string) {
	w.s.Change("", func(j *store.Job) { j.Case = standing })
	ask := w.s.Standing
	if n.End == tree.GoesOn || n.End == tree.NothingLeft {
		ask = w.s.Answer
	}
	a, err := ask()
	require.NoError(w.t, err)
	var proved []int
	for _, f := range a.Proved {
		proved = append(proved, w.c.FaultIndex(f.ID))
	}
	require.Equal(w.t, n.Proved, proved, path)
	var suspects []tree.Share
	for _, x := range a.Ranked {
		if !x.Proved && len(suspects) < len(n.Suspects) {
			suspects = append(suspects, tree.Share{Fault: w.c.FaultIndex(x.Fault.ID), Percent: int(math.Round(100 * x.Probability))})
		}
	}
	require.Equal(w.t, n.Suspects, suspects, path)
	if n.End != tree.GoesOn {
		w.leaves++
		if n.End != tree.Cut {
			require.Equal(w.t, n.End == tree.Explained, a.Done, path)
			require.Empty(w.t, a.Next, path)
		}
		return
	}
	require.NotEmpty(w.t, a.Next, path)
	k := &w.c.Checks[n.Check]
	require.Equal(w.t, k.ID, a.Next[0].Check.ID, path)
	require.Equal(w.t, n.Why, a.Next[0].Why, path)
	require.InDelta(w.t, a.Next[0].Minutes, n.Minutes, 0.5, path)
	for _, b := range n.Branches {
		if b.Outcomes == nil {
			continue // what is not drawn has no answers to give
		}
		w.s.Change("", func(j *store.Job) { j.Case = standing; j.Case.Entries = slices.Clone(standing.Entries) })
		for _, entry := range tree.Entries(k, b.Outcomes) {
			w.s.Enter("", entry)
		}
		with := w.s.Case()
		require.Equal(w.t, w.c.Access[n.Level].ID, with.Level, path)
		w.from(with, b.Node, append(path[:len(path):len(path)], k.ID))
	}
}

func TestLabel(t *testing.T) {
	c := catalogue.Catalogue()
	k := c.Check("fluid-condition")
	normal := make([]int, len(k.Observations))
	for i := range k.Observations {
		for m := range k.Observations[i].Outcomes {
			if k.Observations[i].Outcomes[m].Normal {
				normal[i] = m
			}
		}
	}
	assert.Equal(t, "All as it should be", label(k, normal))
	assert.Equal(t, "Anything else", label(k, nil))
	assert.Equal(t, "P0748: governor solenoid", lower("P0748: governor solenoid"))
	assert.Equal(t, "below the sheet", lower("Below the sheet"))
}
