package part

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/dom"
)

// Field is a labelled box for typing: a reading with its unit, a word to search
// for, or, with Rows, free text.
//
// It MUST have a label that is always in view; what is wrong with the entry
// stands next to it, is bound to it for screen readers, and never clears what
// was typed. Mode "decimal" brings up the phone's number keys, which have no
// letters: Words offers the readings that are none, such as "OL", as buttons.
//
// The browser owns the text while the user types. What is drawn is the value that
// the field began with, so that drawing never writes over a key that came in
// meanwhile, as it does on a phone that is slower than the thumb. A Value that is
// not what was typed comes from outside and is written into the box.
type Field struct {
	app.Compo

	ID      string
	Label   string
	Hint    string
	Value   string
	Mode    string // "decimal", "search" or "text" (default)
	Rows    int    // more than 0: free text of so many rows
	Wide    bool   // as wide as the column
	Units   []string
	Unit    string
	Words   []string // what can be typed by a button
	Signed  bool     // below zero is possible; number keys of phones have no minus
	Problem string
	Call    string // of the entry by itself: good, bad, unsure or none, as in Verdict
	Judged  string // in words; empty for no verdict

	OnInput func(ctx app.Context, value string)
	OnUnit  func(ctx app.Context, unit string)
	OnEnter func(ctx app.Context)

	typed string
	first string // what is drawn into the box
	begun bool
}

// Render draws label, hint, box, unit and problem.
func (f *Field) Render() app.UI {
	if !f.begun {
		f.begun, f.typed, f.first = true, f.Value, f.Value
	}
	hint, problem := f.ID+"-hint", f.ID+"-problem"
	var described []string
	if f.Hint != "" {
		described = append(described, hint)
	}
	if f.Problem != "" {
		described = append(described, problem)
	}
	var notes []app.UI
	if f.Hint != "" {
		notes = append(notes, app.P().Class("field__hint").ID(hint).Text(f.Hint))
	}
	if f.Problem != "" {
		notes = append(notes, app.P().Class("field__problem").ID(problem).Body(Icon("alert"), app.Span().Text(f.Problem)))
	}
	// The notes come and go in an element of their own, so that the box after them
	// keeps its place: a box that is drawn anew loses what the browser holds in it.
	body := []app.UI{app.Label().Class("field__label").For(f.ID).Text(f.Label), app.Div().Body(notes...)}
	if f.Judged != "" && f.Problem == "" {
		described = append(described, f.ID+"-judged")
	}
	row := []app.UI{f.box(strings.Join(described, " "))}
	if len(f.Units) > 1 {
		row = append(row, f.units())
	} else if len(f.Units) == 1 && f.Units[0] != "" {
		row = append(row, app.Span().Class("field__unit").Text(f.Units[0]))
	}
	for _, w := range f.Words {
		row = append(row, app.Button().Type("button").Class("field__word").
			Body(app.Span().Class("spoken").Text("Enter "), app.Span().Text(w)).
			OnClick(func(ctx app.Context, _ app.Event) { f.put(ctx, w) }, w))
	}
	if f.Signed {
		row = append(row, app.Button().Type("button").Class("field__word").
			Body(app.Span().Class("spoken").Text("Change the sign"), app.Span().Aria("hidden", "true").Text("±")).
			OnClick(func(ctx app.Context, _ app.Event) {
				if rest, below := strings.CutPrefix(f.typed, "-"); below {
					f.put(ctx, rest)
				} else {
					f.put(ctx, "-"+f.typed)
				}
			}))
	}
	body = append(body, app.Div().Class("field__row").Body(row...))
	if f.Judged != "" && f.Problem == "" {
		body = append(body, app.P().Class("field__judged").ID(f.ID+"-judged").DataSet("call", f.Call).Body(Icon(f.Call), app.Span().Text(f.Judged)))
	}
	class := "field"
	if f.Wide || f.Rows > 0 {
		class = "field field--wide"
	}
	return app.Div().Class(class).Body(body...)
}

func (f *Field) box(described string) app.UI {
	if f.Rows > 0 {
		t := app.Textarea().Class("field__box").ID(f.ID).Rows(f.Rows).OnInput(f.input).OnChange(f.input).
			Attr("value", f.first).Body(app.Text(f.first))
		if described != "" {
			t = t.Aria("describedby", described)
		}
		if f.Problem != "" {
			t = t.Aria("invalid", "true")
		}
		return t
	}
	kind, mode := "text", f.Mode
	if mode == "search" {
		kind = "search"
	}
	if mode == "" {
		mode = "text"
	}
	i := app.Input().Type(kind).Class("field__box").ID(f.ID).Value(f.first).
		Attr("inputmode", mode).Attr("autocomplete", "off").Attr("autocapitalize", "off").Attr("spellcheck", "false").
		OnInput(f.input).OnChange(f.input).OnKeyDown(f.key)
	if mode == "search" || mode == "text" {
		i = i.Attr("enterkeyhint", "done")
	}
	if described != "" {
		i = i.Aria("describedby", described)
	}
	if f.Problem != "" {
		i = i.Aria("invalid", "true")
	}
	return i
}

func (f *Field) units() app.UI {
	var options []app.UI
	for _, u := range f.Units {
		options = append(options, app.Option().Value(u).Selected(u == f.Unit).Text(u))
	}
	return app.Select().Class("field__unit").Aria("label", "Unit of: "+f.Label).ID(f.ID + "-unit").
		Body(options...).OnChange(f.unit)
}

// OnUpdate follows a Value that came from outside.
func (f *Field) OnUpdate(app.Context) {
	if f.Value == f.typed {
		return
	}
	f.typed = f.Value
	dom.SetValue(f.ID, f.Value)
}

func (f *Field) input(ctx app.Context, _ app.Event) {
	value := ctx.JSSrc().Get("value").String()
	if value == f.typed {
		return
	}
	f.typed = value
	if f.OnInput != nil {
		f.OnInput(ctx, value)
	}
}

func (f *Field) put(ctx app.Context, word string) {
	f.typed = word
	dom.SetValue(f.ID, word)
	if f.OnInput != nil {
		f.OnInput(ctx, word)
	}
}

func (f *Field) unit(ctx app.Context, _ app.Event) {
	if f.OnUnit != nil {
		f.OnUnit(ctx, ctx.JSSrc().Get("value").String())
	}
}

func (f *Field) key(ctx app.Context, e app.Event) {
	if f.OnEnter == nil || e.Get("key").String() != "Enter" || e.Get("isComposing").Truthy() {
		return
	}
	f.OnEnter(ctx)
}

var fieldExamples = []app.UI{
	&Field{ID: "ohms", Label: "Ohms between the two pins", Mode: "decimal", Units: []string{"ohm", "kohm"}, Unit: "ohm", Words: []string{"OL"}, Value: "4.9"},
	&Field{ID: "judged", Label: "Line pressure in second", Mode: "decimal", Units: []string{"psi"}, Value: "41", Call: "bad", Judged: "Too low, 54 to 60 psi"},
	&Field{ID: "empty", Label: "Line pressure in third", Mode: "decimal", Units: []string{"psi"}},
	&Field{ID: "wrong", Label: "Minutes", Mode: "decimal", Value: "4,9,1", Problem: "That looks like more than one number. Type the number, for example 12 min."},
	&Field{ID: "filter", Label: "Search the checks", Mode: "search", Hint: "A word of the name or the purpose.", Wide: true},
	&Field{ID: "notes", Label: "Notes", Rows: 4, Value: "Longest text: the customer says that it began after a long pull with a heavy trailer and has been getting worse since."},
}
