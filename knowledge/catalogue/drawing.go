package catalogue

import "provingbench/knowledge/unit"

// DrawingWidth is the width of every drawing in its own units. A phone's column
// is about as many pixels wide, so that sizes in a drawing are sizes on a phone.
const DrawingWidth = 340

// Drawing is a line drawing of our own that stands with a step where words fail.
// It is a scheme: what hangs together how, never a part's outline.
//
// data/drawings/<id>.svg is the picture, at most 3000 bytes of it: lines,
// circles and text 340 units wide, with the classes of web/css/drawing.css for
// strokes and no other style, so that it can be read by day, by night and on
// paper. What is not certain is drawn dashed. data/drawings/<id>.yaml has its
// words:
//
//	title:       Pressure ports on the right side of the case
//	description: Everything that the picture tells, for who can't see it.
//	certain:     What can be relied on.
//	uncertain:   What is not certain, or drawn as a scheme only.
//	provenance:  {kind: published, source: S1}
//	values:      [front-lever-travel]   # optional: acceptance values whose numbers it shows
//
// A number in the picture or its description is one of those values, or stands
// in certain, uncertain or the provenance with where it comes from.
type Drawing struct {
	ID          string
	Title       string
	Description string
	Certain     string
	Uncertain   string
	Provenance  unit.Provenance
	Values      []string // acceptance ids
	Height      float64  // in units of the drawing
	Lines       string   // the elements within the svg element, without spaces between them
}

// Drawing gives the drawing with an id; nil when there is none.
func (c *Catalogue) Drawing(id string) *Drawing {
	for i := range c.Drawings {
		if c.Drawings[i].ID == id {
			return &c.Drawings[i]
		}
	}
	return nil
}
