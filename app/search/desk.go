// Package search is the one search box that stands on every screen, and the
// screen that its answers have an address on. Three words are typed at a counter
// with a caller on the line, and the first line can be read aloud: the figure
// with its unit, its condition and where it comes from; then what goes with the
// part, what to ask the caller, and where to read on.
//
// The box stands in the header, the answers under it, in the flow of the page,
// so that they cover nothing. Both share a Desk.
package search

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/session"
	"provingbench/knowledge/answer"
)

// mostHits is how many answers are shown.
const mostHits = 8

// Desk is what the box and the answers share: what was typed, and what it leads
// to. It is used on go-app's UI goroutine only.
type Desk struct {
	session  *session.Session
	query    string
	answer   answer.Answer
	open     bool // answers are in view on screens other than the search's own
	watchers []app.Composer
}

// New makes the desk of a session.
func New(s *session.Session) *Desk { return &Desk{session: s} }

// Type takes what is in the box now.
func (d *Desk) Type(query string) {
	if query == d.query {
		return
	}
	d.query = query
	d.ask()
}

// ask answers what was typed, once there is something to ask.
func (d *Desk) ask() {
	d.answer = answer.Answer{}
	if strings.TrimSpace(d.query) != "" && !d.session.Preparing() {
		d.answer = d.session.Ask(d.query, mostHits)
	}
	d.notify()
}

// prepare has the search made ready for what will be typed.
func (d *Desk) prepare(ctx app.Context) { d.session.Prepare(ctx, d.ask) }

// Open brings the box and its answers into view.
func (d *Desk) Open() {
	d.open = true
	d.notify()
}

// Close puts them away. What was typed stays.
func (d *Desk) Close() {
	d.open = false
	d.notify()
}

func (d *Desk) watch(c app.Composer) {
	d.watchers = slices.DeleteFunc(d.watchers, func(w app.Composer) bool { return w == c || !w.Mounted() })
	d.watchers = append(d.watchers, c)
}

func (d *Desk) notify() {
	for _, w := range d.watchers {
		if w.Mounted() {
			w.Update()
		}
	}
}
