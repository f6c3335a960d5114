package learn

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/app/route"
	"provingbench/app/session"
	"provingbench/app/store"
	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/tree"
)

// Tree is the decision tree of one symptom.
//
// The way that most trucks take runs down the page as numbered steps; what
// leaves it stands under its step. All of it is open, so that paper shows it.
type Tree struct {
	app.Compo

	Session *session.Session
	ID      string // the symptom's

	ctx  app.Context
	size string // of the chart; empty when it is not drawn
}

func (t *Tree) name() string {
	if y := t.Session.Catalogue().Symptom(t.ID); y != nil {
		return y.Name
	}
	return t.ID
}

// Title names the symptom.
func (t *Tree) Title() string { return "Decision tree: " + t.name() }

// Description says what the tree shows.
func (t *Tree) Description() string {
	return "Which check comes first for “" + t.name() + "”, what it may show and how often, and what comes after that."
}

// Render draws the tree.
func (t *Tree) Render() app.UI {
	root := tree.Shipped().Tree(t.Session.Catalogue().SymptomIndex(t.ID))
	body := []app.UI{
		app.H1().Text(t.Title()),
		app.P().Class("lead").Text("What the tool would ask for, step by step, on a late truck of stock build that came in with this complaint alone. With more reported, or another truck, Find asks differently."),
		t.follow(),
	}
	if root == nil {
		return app.Article().Body(append(body, app.P().Text("There is no tree for this complaint."))...)
	}
	body = append(body, t.overview(root)...)
	body = append(body, t.chart(root)...)
	body = append(body, t.steps(root, 1))
	return app.Article().Body(append(body,
		app.P().Class("soft").Text(fmt.Sprintf("Shares are of trucks with this complaint, from the catalogue's own estimates. Branches that fewer than %s of them come to are not drawn. Minutes include getting there and are estimates too.", part.Percent(tree.Least))),
	)...)
}

// follow begins a job with the complaint, to be worked in Find.
func (t *Tree) follow() app.UI {
	text := "Follow it on a truck"
	if t.Session.Job() != nil {
		text = "Add it to the job at hand"
	}
	return app.Div().Class("buttons").Body(&part.Button{Text: text, Rank: "primary", OnPress: func(ctx app.Context) {
		t.Session.Change("Added: "+t.name(), func(j *store.Job) { j.Case.Report(diagnosis.Report{Symptom: t.ID}) })
		ctx.Navigate(route.Find().Href())
	}})
}

// OnNav takes from the address whether the chart is drawn, and how large.
func (t *Tree) OnNav(ctx app.Context) { t.read(ctx.Page().URL().Query()) }

// OnMount follows the job at hand.
func (t *Tree) OnMount(ctx app.Context) {
	t.ctx = ctx
	t.Session.Watch(t)
	t.Session.Open()
}

// overview names the likeliest causes before anything is checked.
func (t *Tree) overview(root *tree.Node) []app.UI {
	if len(root.Suspects) == 0 {
		return nil
	}
	return []app.UI{app.P().Body(append([]app.UI{app.B().Text("Likeliest before any check: ")}, t.shares(root.Suspects)...)...)}
}

func (t *Tree) shares(shares []tree.Share) []app.UI {
	var items []app.UI
	for _, s := range shares {
		items = append(items, app.Span().Body(fault(&t.Session.Catalogue().Faults[s.Fault]), app.Text(fmt.Sprintf(" %d\u00a0%%", s.Percent))))
	}
	return list(items)
}

// steps draws a node and those that most trucks come to after it, one under the
// other.
func (t *Tree) steps(n *tree.Node, first int) app.UI {
	var items []app.UI
	for n != nil {
		next := n.Main()
		items = append(items, t.step(n, next))
		if next < 0 {
			break
		}
		n = n.Branches[next].Node
	}
	return app.Ol().Class("tree").Start(first).Body(items...)
}

func (t *Tree) step(n *tree.Node, next int) app.UI {
	k := &t.Session.Catalogue().Checks[n.Check]
	level := t.Session.Catalogue().Access[n.Level].Name
	var outcomes []app.UI
	for i, b := range n.Branches {
		outcomes = append(outcomes, t.outcome(k, &b, i == next))
	}
	return app.Li().Class("tree__step").Body(
		app.P().Class("tree__check").Body(app.A().Href(route.Check(k.ID).Href()).Text(k.Name)),
		app.P().Class("tree__facts").Text(facts(level, n)),
		app.P().Class("tree__why").Text(n.Why),
		app.Ul().Class("tree__outcomes").Body(outcomes...),
	)
}

// facts says where a check is done, how long it takes, and who comes to it.
func facts(level string, n *tree.Node) string {
	said := level + ". " + part.Minutes(float64(n.Minutes))
	if n.Spent > 0 {
		said += ", " + part.Minutes(float64(n.Spent+n.Minutes)) + " with all before it"
	}
	if n.Percent < 100 {
		said += fmt.Sprintf(". %d\u00a0%% of the trucks come here", n.Percent)
	}
	return said + "."
}

func (t *Tree) outcome(k *catalogue.Check, b *tree.Branch, goesOn bool) app.UI {
	head := app.P().Class("tree__label").Body(app.B().Text(label(k, b.Outcomes)), app.Text(" "+share(b.Percent)))
	if goesOn {
		return app.Li().Class("tree__outcome", "tree__outcome--on").Body(head,
			app.P().Class("tree__end").Body(append(t.proved(b.Node), app.Text("Go on with the next step."))...))
	}
	if b.Node.End == tree.GoesOn {
		then := app.Details().Class("tree__aside").Open(true).Body(app.Summary().Class("tree__summary").Text("Then:"), t.steps(b.Node, 1))
		if proved := t.proved(b.Node); proved != nil {
			return app.Li().Class("tree__outcome").Body(head, app.P().Class("tree__end").Body(proved...), then)
		}
		return app.Li().Class("tree__outcome").Body(head, then)
	}
	return app.Li().Class("tree__outcome").Body(head, t.end(b))
}

// share is how many of the trucks at a check show an outcome.
func share(percent int) string {
	if percent < 1 {
		return part.Percent(0.001)
	}
	return fmt.Sprintf("%d\u00a0%%", percent)
}

// proved names what is proved on the way to a node.
func (t *Tree) proved(n *tree.Node) []app.UI {
	if len(n.Proved) == 0 {
		return nil
	}
	var items []app.UI
	for _, i := range n.Proved {
		items = append(items, fault(&t.Session.Catalogue().Faults[i]))
	}
	return []app.UI{app.Span().Class("tree__proved").Body(append(append([]app.UI{part.Proved(), app.Text(" ")}, list(items)...), app.Text(". "))...)}
}

// end draws where a branch ends: a fault is proved, or the live engine takes over.
func (t *Tree) end(b *tree.Branch) app.UI {
	n := b.Node
	body := t.proved(n)
	switch n.End {
	case tree.Explained:
		body = append(body, app.Text("That explains the complaint, after "+part.Minutes(float64(n.Spent))+"."))
	case tree.NothingLeft:
		body = append(body, app.Text("No check is left that could help, after "+part.Minutes(float64(n.Spent))+"."))
	default:
		if len(n.Suspects) > 0 && b.Outcomes != nil {
			body = append(body, app.Text("Likeliest then: "))
			body = append(body, t.shares(n.Suspects)...)
			body = append(body, app.Text(". "))
		}
		body = append(body, app.Text("Go on "), app.A().Href(route.Find().Href()).Text("in Find"), app.Text(", after "+part.Minutes(float64(n.Spent))+"."))
	}
	return app.P().Class("tree__end").Body(body...)
}

// label says what a check showed: what is not as it should be, or that all is.
func label(k *catalogue.Check, outcomes []int) string {
	if outcomes == nil {
		return "Anything else"
	}
	var odd []string
	normal := ""
	count := 0
	for i, m := range outcomes {
		if m < 0 {
			continue
		}
		count++
		o := &k.Observations[i]
		out := &o.Outcomes[m]
		switch {
		case !out.Normal && len(k.Observations) > 1:
			asks := strings.TrimSuffix(strings.TrimSuffix(o.Asks, "."), "?")
			if len(odd) > 0 {
				asks = lower(asks)
			}
			odd = append(odd, asks+": "+lower(out.Label))
		case !out.Normal:
			odd = append(odd, out.Label)
		default:
			normal = out.Label
		}
	}
	switch {
	case len(odd) > 0:
		return strings.Join(odd, "; ")
	case count == 1:
		return normal
	}
	return "All as it should be"
}

// lower begins a label in the middle of a sentence, unless it begins with a
// name or a code.
func lower(s string) string {
	r := []rune(s)
	if len(r) < 2 || r[1] != ' ' && (r[1] < 'a' || r[1] > 'z') {
		return s
	}
	return strings.ToLower(string(r[0])) + string(r[1:])
}
