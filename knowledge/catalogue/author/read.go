// Package author reads the catalogue and the unit sheet as people write them,
// one YAML record per file, and refuses what a technician should not have to
// find out under a truck.
//
// Everything wrong is reported in one run, each as
//
//	knowledge/catalogue/data/checks/line-pressure.yaml:14:7: [provenance] reverse maximum has no source. Tip: …
//
// The grammar of the catalogue stands in the package comment of package
// catalogue. The grammar of the unit sheet:
//
// knowledge/unit/data/acceptance/<id>.yaml
//
//	name:     Line pressure in reverse, idle
//	group:    pressure          # pressure | governor | electrical | adjustment | torque | fluid | heat | clearance | valve-body | shift
//	quantity: pressure          # a quantity kind
//	where:    rear servo port   # port, pins, screw or part
//	limits:                     # two sources that disagree are two limits
//	  - condition: {versions: [light, mid], range: R, throttle: idle, fluid: hot, note: …}
//	    min: 145 psi            # as the source prints it, with its unit
//	    max: 175 psi
//	    provenance: {kind: memory, note: Confirm in the maker's manual.}
//
// knowledge/unit/data/sources.yaml
//
//   - id:    S1
//     title: maker's handbook, 1999: hydraulic pressure tests
//
// The decoder checks the shape of a file: keys, vocabularies, blanks. The
// rules in rule.go check what it says.
package author

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"reflect"
	"slices"
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Where the authored files stand, from the root of the project.
const (
	CatalogueDirectory = "knowledge/catalogue/data"
	UnitDirectory      = "knowledge/unit/data"
)

// Data is everything that is authored, with the place of each value. The
// records are in the order of their ids.
type Data struct {
	Catalogue catalogue.Catalogue
	Book      unit.Book
	unit      structure // what the records are held against
	places    map[string]Place
}

// acceptance and limit are a unit.Acceptance as people write it: the numbers
// are still text.
type acceptance struct {
	Name     string
	Group    string
	Quantity quantity.Kind
	Where    string
	Limits   []limit
}

type limit struct {
	Condition  unit.Condition
	Min        string
	Max        string
	Provenance unit.Provenance
}

// Load reads the files under root, the project's root, and holds them against
// every rule. The error is a Problems when the files are wrong, and another
// error when they could not be read.
func Load(root fs.FS) (*Data, error) { return loadFor(root, wholeUnit) }

func loadFor(root fs.FS, unit structure) (*Data, error) {
	d, problems, err := read(root)
	if err != nil {
		return nil, fmt.Errorf("author: %w", err)
	}
	d.unit = unit
	problems = append(problems, d.validate()...)
	if len(problems) == 0 {
		return d, nil
	}
	problems.sort()
	return d, problems
}

// read decodes every file. What can't be decoded is reported and left out.
func read(root fs.FS) (*Data, Problems, error) {
	d := &Data{places: map[string]Place{}}
	r := &reader{root: root, data: d}
	c := &d.Catalogue
	c.Symptoms = records[catalogue.Symptom](r, CatalogueDirectory, "symptoms")
	c.Parts = records[catalogue.Part](r, CatalogueDirectory, "parts")
	c.Faults = records[catalogue.Fault](r, CatalogueDirectory, "faults")
	c.Checks = records[catalogue.Check](r, CatalogueDirectory, "checks")
	c.Cautions = records[catalogue.Caution](r, CatalogueDirectory, "cautions")
	c.Codes = records[catalogue.Code](r, CatalogueDirectory, "codes")
	c.Modifications = records[catalogue.Modification](r, CatalogueDirectory, "builds")
	c.Drawings = r.drawings()
	r.single(CatalogueDirectory, "access", &c.Access)
	r.single(UnitDirectory, "sources", &d.Book.Sources)
	d.Book.Acceptances = r.acceptances()
	for i := range c.Checks {
		for j := range c.Checks[i].Observations {
			if reading := c.Checks[i].Observations[j].Reading; reading != nil && reading.Method == "" {
				reading.Method = "window"
			}
		}
	}
	return d, r.problems, r.err
}

type reader struct {
	root     fs.FS
	data     *Data
	problems Problems
	err      error
}

// identified is a record that takes its id from its file.
type identified interface {
	catalogue.Symptom | catalogue.Part | catalogue.Fault | catalogue.Check | catalogue.Caution | catalogue.Code | catalogue.Modification
}

func records[T identified](r *reader, directory, kind string) []T {
	var out []T
	for _, id := range r.files(directory, kind) {
		var record T
		if r.decode(path.Join(directory, kind, id+".yaml"), kind+"/"+id, &record) {
			reflect.ValueOf(&record).Elem().FieldByName("ID").SetString(id)
			out = append(out, record)
		}
	}
	return out
}

// single reads a list that fills one file.
func (r *reader) single(directory, name string, target any) {
	r.decode(path.Join(directory, name+".yaml"), name, target)
}

func (r *reader) acceptances() []unit.Acceptance {
	var out []unit.Acceptance
	for _, id := range r.files(UnitDirectory, "acceptance") {
		var a acceptance
		if r.decode(path.Join(UnitDirectory, "acceptance", id+".yaml"), "acceptance/"+id, &a) {
			out = append(out, r.acceptance(id, a))
		}
	}
	return out
}

// acceptance turns the printed numbers into values.
func (r *reader) acceptance(id string, a acceptance) unit.Acceptance {
	out := unit.Acceptance{ID: id, Name: a.Name, Group: a.Group, Quantity: a.Quantity, Where: a.Where}
	for i, l := range a.Limits {
		p := fmt.Sprintf("acceptance/%s/limits/%d", id, i)
		out.Limits = append(out.Limits, unit.Limit{
			Condition:  l.Condition,
			Min:        r.number(p+"/min", l.Min, a.Quantity),
			Max:        r.number(p+"/max", l.Max, a.Quantity),
			MinText:    l.Min,
			MaxText:    l.Max,
			Provenance: l.Provenance,
		})
	}
	return out
}

// number reads a printed number. A unit is demanded wherever the quantity has
// one: a bare number is read as a different unit by the next person.
func (r *reader) number(p, text string, kind quantity.Kind) *quantity.Value {
	if text == "" {
		return nil
	}
	read, err := quantity.Parse(kind, text, quantity.Unit{})
	bare := strings.ContainsAny(text[len(text)-1:], "0123456789") && quantity.DefaultUnit(kind).Name != ""
	if err != nil || read.OpenLoop || bare {
		r.add(r.data.place(p), "unit", fmt.Sprintf("Expected a %s with its unit, found %q.", kind, text),
			"Write the number and the unit as the source prints them: 54 psi, 72 in-lb, 2-7/8 turns.")
		return nil
	}
	value := read.Value()
	return &value
}

// files lists the ids of the records in a directory, in order. A file that
// isn't a record is a problem.
func (r *reader) files(directory, kind string) []string {
	name := path.Join(directory, kind)
	entries, err := fs.ReadDir(r.root, name)
	if errors.Is(err, fs.ErrNotExist) {
		r.add(Place{name, 1, 1}, "missing", "The directory is missing.", "")
		return nil
	}
	if err != nil {
		r.err = errors.Join(r.err, err)
		return nil
	}
	var ids []string
	for _, e := range entries {
		id, ok := strings.CutSuffix(e.Name(), ".yaml")
		if !ok || e.IsDir() {
			r.add(Place{path.Join(name, e.Name()), 1, 1}, "file-name", "Only records, <id>.yaml, belong here.", "")
			continue
		}
		ids = append(ids, id)
	}
	// Ids are sorted as ids, not as file names: "a-b.yaml" sorts before "a.yaml".
	slices.Sort(ids)
	return ids
}

func (r *reader) decode(file, p string, target any) bool {
	text, err := fs.ReadFile(r.root, file)
	if errors.Is(err, fs.ErrNotExist) {
		r.add(Place{file, 1, 1}, "missing", "The file is missing.", "")
		return false
	}
	if err != nil {
		r.err = errors.Join(r.err, err)
		return false
	}
	d := &decoder{file: file, places: r.data.places}
	d.parse(text, p, target)
	r.problems = append(r.problems, d.problems...)
	return true
}

func (r *reader) add(at Place, rule, message, tip string) {
	r.problems = append(r.problems, Problem{at, rule, message, tip})
}

// place gives where a value stands, or its nearest owner when it was left out.
func (d *Data) place(p string) Place {
	for {
		if at, ok := d.places[p]; ok {
			return at
		}
		i := strings.LastIndexByte(p, '/')
		if i < 0 {
			return Place{File: p, Line: 1, Column: 1}
		}
		p = p[:i]
	}
}
