package figures

import (
	"errors"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// ownDraft is a value of the user's own as it is being typed.
type ownDraft struct {
	min, max, source, at string
	problems             map[string]string
}

// draft is what is typed for an acceptance value; at first, what was kept.
func (s *Screen) draft(id string) *ownDraft {
	if s.drafts == nil {
		s.drafts = map[string]*ownDraft{}
	}
	d := s.drafts[id]
	if d == nil {
		own := s.Session.Own()[id]
		d = &ownDraft{min: own.MinText, max: own.MaxText, source: own.Source, at: own.At}
		s.drafts[id] = d
	}
	return d
}

// own lets the user put the value of the maker's manual for the unit at hand in
// the place of the sheet's. Every check and calculator follows it.
func (s *Screen) own(a *unit.Acceptance) app.UI {
	d := s.draft(a.ID)
	units := []string{}
	for _, u := range quantity.Units(a.Quantity) {
		units = append(units, u.Name)
	}
	unitHint := ""
	if len(units) > 1 {
		unitHint = "With its unit: " + strings.Join(units, ", ") + "."
	}
	field := func(key, label, hint string, to *string) app.UI {
		return &part.Field{ID: "own-" + a.ID + "-" + key, Label: label, Hint: hint, Wide: key == "source", Value: *to, Problem: d.problems[key],
			OnInput: func(_ app.Context, v string) { *to = v }}
	}
	row := []app.UI{&part.Button{Text: "Judge by it", Of: a.Name, OnPress: func(app.Context) {
		s.keep(a, d)
		s.Update()
	}}}
	_, kept := s.Session.Own()[a.ID]
	if kept {
		row = append(row, &part.Button{Text: "Back to the sheet", Of: a.Name, Rank: "quiet", OnPress: func(app.Context) {
			delete(s.drafts, a.ID)
			_ = s.Session.SetOwn(a.ID, nil) // taking a value away can't fail
			s.Session.Say(a.Name + " is judged by the sheet again.")
		}})
	}
	word := "Your own value"
	if kept {
		word += ", judged by"
	}
	return part.Fold(word,
		app.P().Text("From the maker's manual for the unit at hand. It holds for every job on this device until you go back to the sheet."),
		field("min", "Least allowed", unitHint, &d.min),
		field("max", "Greatest allowed", "May stay empty, or be the same as the least for a setting.", &d.max),
		field("source", "Where it stands", "The manual and its year.", &d.source),
		field("at", "Page or table", "", &d.at),
		app.Div().Class("buttons").Body(row...),
	)
}

// keep takes a value of the user's own, or says beside the field what is wrong.
func (s *Screen) keep(a *unit.Acceptance, d *ownDraft) {
	d.problems = map[string]string{}
	read := func(key, text string) (*quantity.Value, string) {
		text = strings.TrimSpace(text)
		if text == "" {
			return nil, ""
		}
		u := s.Session.Units().Unit(quantity.DefaultUnit(a.Quantity))
		r, err := quantity.Parse(a.Quantity, text, u)
		var sentence interface{ Sentence() string }
		switch {
		case errors.As(err, &sentence):
			d.problems[key] = sentence.Sentence()
		case err != nil:
			d.problems[key] = "This can't be read."
		case r.OpenLoop:
			d.problems[key] = "A limit is a number; OL is what a meter shows."
		}
		if d.problems[key] != "" {
			return nil, ""
		}
		v := r.Value()
		if last := text[len(text)-1]; u.Name != "" && (last >= '0' && last <= '9' || last == '.') {
			text += " " + u.Name
		}
		return &v, text
	}
	own := unit.OwnLimit{Source: strings.TrimSpace(d.source), At: strings.TrimSpace(d.at)}
	own.Min, own.MinText = read("min", d.min)
	own.Max, own.MaxText = read("max", d.max)
	if len(d.problems) > 0 {
		s.Session.Say("Not taken: a number can't be read.")
		return
	}
	err := s.Session.SetOwn(a.ID, &own)
	var wrong *unit.OwnLimitError
	if !errors.As(err, &wrong) {
		s.Session.Say(a.Name + " is judged by your own value.")
		return
	}
	switch wrong.Reason {
	case unit.NoSource:
		d.problems["source"] = "Name the manual: a value without a source is not judged by."
	case unit.Crossed:
		d.problems["max"] = "The greatest allowed is less than the least. Check both."
	default:
		d.problems["min"] = "Type the least allowed, the greatest, or both."
	}
}
