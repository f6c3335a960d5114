package author

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A decoder fills one record from one YAML file. It keeps the place of every
// value under the record's path ("checks/fluid-level/steps/0/do"), so that the
// rules can point at the line that is wrong.
type decoder struct {
	file     string
	places   map[string]Place
	problems Problems
}

// optional lists the keys that a record may leave out. Every other key of a
// grammar's type must be there.
var optional = map[reflect.Type][]string{
	reflect.TypeFor[catalogue.Symptom]():      {"family", "gear", "loses"},
	reflect.TypeFor[catalogue.Part]():         {"also", "elements", "ports", "coils", "sensors", "sound"},
	reflect.TypeFor[catalogue.Condition]():    {"gear", "temperature", "throttle"},
	reflect.TypeFor[catalogue.Link]():         {"when"},
	reflect.TypeFor[catalogue.Fault]():        {"also", "also-in", "versions", "numbers", "excused"},
	reflect.TypeFor[catalogue.Repair]():       {"renew", "rework", "set", "together", "uses", "proof"},
	reflect.TypeFor[catalogue.Step]():         {"cautions", "drawing", "values"},
	reflect.TypeFor[catalogue.Reading]():      {"method"},
	reflect.TypeFor[catalogue.Outcome]():      {"verdict", "next", "leak", "shows", "proves", "normal"},
	reflect.TypeFor[catalogue.Observation]():  {"reading"},
	reflect.TypeFor[catalogue.Check]():        {"also", "preliminary", "sees", "hazardous", "versions", "tools", "drawings", "trap", "numbers"},
	reflect.TypeFor[catalogue.AccessLevel]():  {"notes"},
	reflect.TypeFor[catalogue.Code]():         {"standard", "older", "sets", "does", "outcome", "notes", "trap"},
	reflect.TypeFor[catalogue.Modification](): {"likelier", "uses"},
	reflect.TypeFor[unit.Provenance]():        {"source", "at", "note"},
	reflect.TypeFor[unit.Condition]():         {"versions", "builds", "range", "gear", "throttle", "fluid", "note"},
	reflect.TypeFor[limit]():                  {"condition", "min", "max"},
	reflect.TypeFor[drawing]():                {"values"},
}

// The closed vocabularies of the grammar.
var (
	areas        = []string{"outside", "electrical", "valve-body", "apply", "pump", "gear-train", "converter", "cooling"}
	gears        = []string{"1", "2", "3", "4", "R", "1-2", "2-3", "3-4"}
	temperatures = []string{"hot", "cold"}
	groups       = []string{"pressure", "governor", "electrical", "adjustment", "torque", "fluid", "heat", "clearance", "valve-body", "shift"}
	signals      = []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}
	methods      = []string{"window", "coil"}
	verdicts     = []string{"below", "above", "open", "short", "meets"}
	levelIDs     = []string{"wheels", "raised", "plug", "pan", "bench", "out"}
)

// byType and byField say which words are legal for a value.
var (
	byType = map[reflect.Type][]string{
		reflect.TypeFor[catalogue.Level]():     words(catalogue.Levels),
		reflect.TypeFor[catalogue.Frequency](): words(catalogue.Frequencies),
		reflect.TypeFor[unit.Version]():        words(unit.Versions),
		reflect.TypeFor[unit.Build]():          {string(unit.Stock), string(unit.Raised)},
		reflect.TypeFor[unit.Gear]():           chartGears(),
		reflect.TypeFor[unit.ElementID]():      elementIDs(unit.Elements),
		reflect.TypeFor[quantity.Kind]():       words(quantity.Kinds),
		reflect.TypeFor[unit.ProvenanceKind](): {string(unit.Published), string(unit.CommonPractice), string(unit.Memory), string(unit.Demo)},
	}
	byField = map[string][]string{
		"catalogue.Symptom.gear":          gears,
		"catalogue.Condition.gear":        gears,
		"catalogue.Condition.temperature": temperatures,
		"catalogue.Condition.throttle":    {"light", "heavy"},
		"catalogue.Fault.area":            areas,
		"catalogue.Part.area":             areas,
		"catalogue.Part.kind":             partKinds,
		"catalogue.Fault.needs":           levelIDs,
		"catalogue.Check.level":           levelIDs,
		"catalogue.Check.also":            levelIDs,
		"catalogue.Caution.signal":        signals,
		"catalogue.Reading.quantity":      words(quantity.Kinds),
		"catalogue.Reading.method":        methods,
		"catalogue.Outcome.verdict":       verdicts,
		"unit.Condition.range":            {"P", "R", "N", "D", "2", "1"},
		"unit.Condition.gear":             {"1", "2", "3", "4", "R"},
		"unit.Condition.throttle":         {"idle", "half", "full"},
		"unit.Condition.fluid":            temperatures,
		"catalogue.Code.family":           catalogue.CodeFamilies,
		"catalogue.Modification.area":     catalogue.ModificationAreas,
		"author.acceptance.group":         groups,
	}
)

func words[T ~string](values []T) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = string(v)
	}
	return out
}

// parse reads one YAML document into target, a pointer to a struct or a slice.
// The record's path is the prefix of the places it keeps.
func (d *decoder) parse(text []byte, path string, target any) {
	d.places[path] = Place{d.file, 1, 1}
	var document yaml.Node
	if err := yaml.Unmarshal(text, &document); err != nil {
		d.syntax(err)
		return
	}
	if len(document.Content) == 0 {
		d.add(d.places[path], "syntax", "The file is empty.", "A record has at least a name.")
		return
	}
	d.value(document.Content[0], path, "", reflect.ValueOf(target).Elem())
}

var yamlLine = regexp.MustCompile(`line (\d+)`)

func (d *decoder) syntax(err error) {
	place := Place{d.file, 1, 1}
	if m := yamlLine.FindStringSubmatch(err.Error()); m != nil {
		place.Line, _ = strconv.Atoi(m[1])
	}
	d.add(place, "syntax", strings.TrimPrefix(err.Error(), "yaml: ")+".",
		"Put a text that holds a colon, a # or a quotation mark between quotation marks.")
}

func (d *decoder) add(at Place, rule, message, tip string) {
	d.problems = append(d.problems, Problem{at, rule, message, tip})
}

func (d *decoder) place(n *yaml.Node) Place { return Place{d.file, n.Line, n.Column} }

// value decodes a node into v; field names it for the vocabularies
// ("catalogue.Outcome.verdict").
func (d *decoder) value(n *yaml.Node, path, field string, v reflect.Value) {
	at := d.place(n)
	d.places[path] = at
	if n.Kind == yaml.AliasNode || n.Anchor != "" {
		d.add(at, "syntax", "An anchor or alias stands here; each record says everything itself.", "Write the value out.")
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		d.value(n, path, field, v.Elem())
	case reflect.Struct:
		d.mapping(n, path, v)
	case reflect.Slice:
		if n.Kind != yaml.SequenceNode {
			d.add(at, "shape", fmt.Sprintf("Expected a list, found %s.", shape(n)), "Write [a, b], or one item per line after a dash.")
			return
		}
		for i, item := range n.Content {
			element := reflect.New(v.Type().Elem()).Elem()
			d.value(item, path+"/"+strconv.Itoa(i), field, element)
			v.Set(reflect.Append(v, element))
		}
	case reflect.String, reflect.Float64, reflect.Bool:
		d.scalar(n, field, v)
	default:
		panic("author: no decoding for " + v.Type().String())
	}
}

func shape(n *yaml.Node) string {
	switch n.Kind {
	case yaml.MappingNode:
		return "a record with keys"
	case yaml.SequenceNode:
		return "a list"
	default:
		return strconv.Quote(n.Value)
	}
}

func (d *decoder) scalar(n *yaml.Node, field string, v reflect.Value) {
	at := d.place(n)
	if n.Kind != yaml.ScalarNode {
		d.add(at, "shape", fmt.Sprintf("Expected one value, found %s.", shape(n)), "")
		return
	}
	if n.Tag == "!!null" || n.Value == "" || n.Value == "?" {
		d.add(at, "blank", fmt.Sprintf("Expected a value, found %q.", n.Value), "What is not known is left out with its key, never left blank.")
		return
	}
	switch v.Kind() {
	case reflect.String:
		legal, closed := byType[v.Type()]
		if !closed {
			legal, closed = byField[field]
		}
		if closed && !slices.Contains(legal, n.Value) {
			d.add(at, "vocabulary", fmt.Sprintf("%q is not known here. Legal: %s.", n.Value, list(legal)), nearest(n.Value, legal))
			return
		}
		v.SetString(n.Value)
	case reflect.Float64:
		f, err := strconv.ParseFloat(n.Value, 64)
		if err != nil || math.IsInf(f, 0) || math.IsNaN(f) {
			d.add(at, "number", fmt.Sprintf("Expected a number, found %q.", n.Value), "Write digits and a decimal point, no unit.")
			return
		}
		v.SetFloat(f)
	case reflect.Bool:
		if n.Tag != "!!bool" {
			d.add(at, "shape", fmt.Sprintf("Expected true or false, found %q.", n.Value), "")
			return
		}
		v.SetBool(n.Value == "true")
	}
}

// mapping decodes a record with keys. The keys are the field names of the
// grammar's types, lower-case with hyphens.
func (d *decoder) mapping(n *yaml.Node, path string, v reflect.Value) {
	at := d.place(n)
	t := v.Type()
	if n.Kind != yaml.MappingNode {
		d.add(at, "shape", fmt.Sprintf("Expected a record with the keys %s, found %s.", list(keys(t)), shape(n)), "")
		return
	}
	legal := keys(t)
	seen := map[string]int{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, node := n.Content[i], n.Content[i+1]
		if line, twice := seen[key.Value]; twice {
			d.add(d.place(key), "duplicate-key", fmt.Sprintf("%q stands twice, first in line %d.", key.Value, line), "Keep one of the two.")
			continue
		}
		seen[key.Value] = key.Line
		if !slices.Contains(legal, key.Value) {
			d.add(d.place(key), "unknown-key", fmt.Sprintf("%q is not a key here. Legal: %s.", key.Value, list(legal)), nearest(key.Value, legal))
			continue
		}
		if t == reflect.TypeFor[catalogue.Fault]() && key.Value == "excused" {
			d.excused(node, path+"/excused", v.FieldByName("Excused"))
			continue
		}
		d.value(node, path+"/"+key.Value, t.String()+"."+key.Value, v.FieldByIndex(fieldOf(t, key.Value).Index))
	}
	for _, key := range legal {
		if _, ok := seen[key]; !ok && !slices.Contains(optional[t], key) {
			d.add(at, "missing", fmt.Sprintf("%q is missing.", key), "")
		}
	}
}

// excused is written as a record of its own, {build: raised}, so that other
// grounds can join later without a change to the files.
func (d *decoder) excused(n *yaml.Node, path string, v reflect.Value) {
	var ground struct{ Build unit.Build }
	d.value(n, path, "", reflect.ValueOf(&ground).Elem())
	v.SetString(string(ground.Build))
}

// fileRecords are the types that fill a file, whose name is the record's id.
var fileRecords = []reflect.Type{
	reflect.TypeFor[catalogue.Symptom](),
	reflect.TypeFor[catalogue.Part](),
	reflect.TypeFor[catalogue.Fault](),
	reflect.TypeFor[catalogue.Check](),
	reflect.TypeFor[catalogue.Caution](),
	reflect.TypeFor[catalogue.Code](),
	reflect.TypeFor[catalogue.Modification](),
}

// keys lists the keys of a grammar's type.
func keys(t reflect.Type) []string {
	var out []string
	for i := range t.NumField() {
		key := hyphenated(t.Field(i).Name)
		if key != "id" || !slices.Contains(fileRecords, t) {
			out = append(out, key)
		}
	}
	return out
}

func fieldOf(t reflect.Type, key string) reflect.StructField {
	for i := range t.NumField() {
		if f := t.Field(i); hyphenated(f.Name) == key {
			return f
		}
	}
	panic("author: " + t.String() + " has no field for " + key)
}

// hyphenated turns a field's name into its key: DrivenOn becomes driven-on.
func hyphenated(name string) string {
	if name == strings.ToUpper(name) {
		return strings.ToLower(name)
	}
	var b strings.Builder
	for i, r := range name {
		if i > 0 && r >= 'A' && r <= 'Z' {
			b.WriteByte('-')
		}
		b.WriteRune(r)
	}
	return strings.ToLower(b.String())
}
