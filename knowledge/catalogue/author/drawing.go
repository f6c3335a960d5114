package author

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

// drawing is the words of a catalogue.Drawing as people write them; the picture
// stands beside them.
type drawing struct {
	Title       string
	Description string
	Certain     string
	Uncertain   string
	Provenance  unit.Provenance
	Values      []string
}

// largestDrawing is in bytes. A page carries a few drawings over a thin line.
const largestDrawing = 3000

// What a drawing may be made of. Ids would meet those of the page, and styles of
// its own would not follow the light.
var (
	drawingElements   = []string{"g", "path", "circle", "text", "tspan"}
	drawingAttributes = []string{"class", "cx", "cy", "d", "r", "text-anchor", "transform", "x", "y"}
	drawingClasses    = []string{"drawing__bold", "drawing__key", "drawing__line", "drawing__maybe", "drawing__paper", "drawing__solid", "drawing__strong", "drawing__thin", "drawing__tip"}
)

func drawingPath(d *catalogue.Drawing) string { return "drawings/" + d.ID }

// drawings reads the pairs of picture and words.
func (r *reader) drawings() []catalogue.Drawing {
	directory := path.Join(CatalogueDirectory, "drawings")
	entries, err := fs.ReadDir(r.root, directory)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		r.err = errors.Join(r.err, err)
		return nil
	}
	var ids []string
	for _, e := range entries {
		kind := path.Ext(e.Name())
		if e.IsDir() || kind != ".svg" && kind != ".yaml" {
			r.add(Place{path.Join(directory, e.Name()), 1, 1}, "file-name", "Only pictures, <id>.svg, and their words, <id>.yaml, belong here.", "")
			continue
		}
		ids = append(ids, strings.TrimSuffix(e.Name(), kind))
	}
	slices.Sort(ids)
	var out []catalogue.Drawing
	for _, id := range slices.Compact(ids) {
		var words drawing
		if !r.decode(path.Join(directory, id+".yaml"), "drawings/"+id, &words) {
			continue
		}
		picture := r.picture(path.Join(directory, id+".svg"))
		out = append(out, catalogue.Drawing{
			ID:          id,
			Title:       words.Title,
			Description: words.Description,
			Certain:     words.Certain,
			Uncertain:   words.Uncertain,
			Provenance:  words.Provenance,
			Values:      words.Values,
			Height:      picture.height,
			Lines:       picture.lines,
		})
	}
	return out
}

type picture struct {
	height float64
	lines  string
}

var (
	viewBox = regexp.MustCompile(`^0 0 ` + strconv.Itoa(catalogue.DrawingWidth) + ` ([1-9]\d*)$`)
	between = regexp.MustCompile(`>\s+<`)
)

// picture reads an SVG file and refuses what does not belong on a page.
func (r *reader) picture(file string) picture {
	text, err := fs.ReadFile(r.root, file)
	if errors.Is(err, fs.ErrNotExist) {
		r.add(Place{file, 1, 1}, "missing", "The file is missing.", "")
		return picture{}
	}
	if err != nil {
		r.err = errors.Join(r.err, err)
		return picture{}
	}
	if len(text) > largestDrawing {
		r.add(Place{file, 1, 1}, "svg", fmt.Sprintf("The drawing has %d bytes, at most %d are sent.", len(text), largestDrawing), "Leave out what tells nothing.")
	}

	var p picture
	depth, begin, end := 0, 0, 0
	decoder := xml.NewDecoder(bytes.NewReader(text))
	for {
		line, column := decoder.InputPos()
		here := Place{file, line, column}
		before := int(decoder.InputOffset())
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			r.add(here, "svg", fmt.Sprintf("The file cannot be read: %v.", err), "")
			return picture{}
		}
		switch token := token.(type) {
		case xml.StartElement:
			if depth == 0 {
				p.height = r.frame(here, token)
				begin = int(decoder.InputOffset())
			} else {
				r.element(here, token)
			}
			depth++
		case xml.EndElement:
			depth--
			end = before
		case xml.CharData:
		default:
			r.add(here, "svg", "Something other than elements and text stands here.", "Leave out comments, declarations and instructions; say it in the words beside the picture.")
		}
	}
	p.lines = between.ReplaceAllString(strings.TrimSpace(string(text[begin:end])), "><")
	return p
}

// frame reads the outer element and gives the height.
func (r *reader) frame(here Place, e xml.StartElement) float64 {
	var box string
	for _, a := range e.Attr {
		if a.Name.Local == "viewBox" {
			box = a.Value
		}
	}
	m := viewBox.FindStringSubmatch(box)
	if e.Name.Local != "svg" || m == nil {
		r.add(here, "svg", fmt.Sprintf("Expected an svg element with the viewBox \"0 0 %d height\", found %s with %q.", catalogue.DrawingWidth, e.Name.Local, box), "")
		return 0
	}
	height, _ := strconv.ParseFloat(m[1], 64)
	return height
}

func (r *reader) element(here Place, e xml.StartElement) {
	if !slices.Contains(drawingElements, e.Name.Local) {
		r.add(here, "svg", fmt.Sprintf("%q is not an element of a drawing. Legal: %s.", e.Name.Local, list(drawingElements)), "")
	}
	for _, a := range e.Attr {
		switch {
		case !slices.Contains(drawingAttributes, a.Name.Local):
			r.add(here, "svg", fmt.Sprintf("%q is not an attribute of a drawing. Legal: %s.", a.Name.Local, list(drawingAttributes)), "Strokes and fills come from a class.")
		case a.Name.Local == "class" && !slices.Contains(drawingClasses, a.Value):
			r.add(here, "svg", fmt.Sprintf("%q is not a class of a drawing. Legal: %s.", a.Value, list(drawingClasses)), nearest(a.Value, drawingClasses))
		}
	}
}

func drawingShown(d *Data, report report) {
	shown := map[string]bool{}
	for i := range d.Catalogue.Checks {
		c := &d.Catalogue.Checks[i]
		here := map[string]bool{}
		show := func(id, p string) {
			if id != "" && here[id] {
				report(p, fmt.Sprintf("%q is shown in this check already.", id), "Show it where it is needed first.")
			}
			here[id], shown[id] = true, true
		}
		for j, id := range c.Drawings {
			show(id, at(checkPath(c), "drawings", j))
		}
		for j, s := range c.Steps {
			show(s.Drawing, at(checkPath(c), "steps", j, "drawing"))
		}
	}
	for i := range d.Catalogue.Drawings {
		if p := &d.Catalogue.Drawings[i]; !shown[p.ID] {
			report(drawingPath(p), "No check shows this drawing.", "Name it under drawing in the step that it belongs to, or delete it.")
		}
	}
}

var tag = regexp.MustCompile(`<[^>]*>`)

func drawingNumber(d *Data, report report) {
	for i := range d.Catalogue.Drawings {
		p := &d.Catalogue.Drawings[i]
		told := numbersIn(p.Certain + " " + p.Uncertain + " " + p.Provenance.Note)
		for _, id := range p.Values {
			if a, ok := d.Book.Acceptance(id); ok {
				for _, l := range a.Limits {
					told = append(told, numbersIn(l.MinText+" "+l.MaxText)...)
				}
			}
		}
		hold := func(path, text string) {
			for _, n := range numbersIn(text) {
				if !slices.Contains(told, n) {
					report(path, fmt.Sprintf("Nothing says where %s comes from.", n), "Name its acceptance value under values, or say under certain or uncertain where it is from.")
				}
			}
		}
		hold(drawingPath(p)+"/title", p.Title)
		hold(drawingPath(p)+"/description", p.Description)
		hold(drawingPath(p), tag.ReplaceAllString(p.Lines, " "))
	}
}
