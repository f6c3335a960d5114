package part

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/knowledge/unit"
)

// ProvenanceWord names the kind of a provenance as the screens do.
func ProvenanceWord(k unit.ProvenanceKind) string {
	switch k {
	case unit.Published:
		return "Published"
	case unit.CommonPractice:
		return "Common practice"
	case unit.Memory:
		return "From memory, confirm in the maker's manual"
	case unit.Demo:
		return "Demo, made up"
	case unit.Own:
		return "Your own value"
	}
	return "Not said where from"
}

// Provenance says in sentences where a number or an estimate comes from.
func Provenance(b *unit.Book, p unit.Provenance) string {
	said := ProvenanceWord(p.Kind)
	if p.Kind == unit.Published {
		title := p.Source
		if b != nil {
			if s, ok := b.Source(p.Source); ok {
				title = s.Title
			}
		}
		said += ": " + title
	}
	if p.At != "" {
		said += ", " + p.At
	}
	said = strings.TrimSuffix(said, ".") + "."
	note := strings.TrimSpace(p.Note)
	// The kind's own words are not said twice.
	note = strings.TrimSpace(strings.TrimPrefix(note, "From memory, confirm in the maker's manual."))
	if note == "" {
		return said
	}
	note = strings.ToUpper(note[:1]) + note[1:]
	return said + " " + strings.TrimSuffix(note, ".") + "."
}

// SourceNote is the provenance as a line under what it speaks of. Its kind is
// told by a mark and in words.
func SourceNote(b *unit.Book, p unit.Provenance) app.UI {
	return app.P().Class("source").DataSet("kind", string(p.Kind)).Body(
		Icon(string(p.Kind)), app.Text(" "+Provenance(b, p)),
	)
}
