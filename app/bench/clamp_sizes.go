package bench

import (
	"errors"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/clutch"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// ownSizesFold is the line under which one's own measurements are asked for.
const ownSizesFold = "Your own sizes, where you measured them"

// sizeKey is the key of the input for one dimension.
func sizeKey(prefix string, of clutch.Owner, what clutch.Dimension) string {
	return prefix + string(of) + "-" + string(what)
}

// sizeWords says what a dimension is.
func sizeWords(of clutch.Owner, what clutch.Dimension) string {
	servo := of == unit.FrontBand || of == unit.RearBand
	switch what {
	case clutch.PistonOuter:
		if servo {
			return "servo piston, diameter"
		}
		return "piston, outside diameter"
	case clutch.PistonInner:
		if servo {
			return "servo rod, diameter"
		}
		return "piston, inside diameter"
	case clutch.Spring:
		if of == unit.DirectClutch {
			return "apply spring, force"
		}
		return "return springs, force when applied"
	case clutch.Lever:
		return "lever ratio"
	case clutch.Faces:
		return "friction faces"
	case clutch.LiningOuter:
		return "lining, outside diameter"
	case clutch.LiningInner:
		return "lining, inside diameter"
	case clutch.Drum:
		return "drum, diameter"
	case clutch.Wrap:
		return "wrap, in turns of the drum"
	case clutch.Holding:
		return "friction while it holds"
	case clutch.Slipping:
		return "friction while it slips"
	case clutch.Diameter:
		return "diameter at the thinnest place"
	case clutch.Bore:
		return "bore"
	}
	return "yield strength"
}

func sizeUnits(u quantity.Unit) []quantity.Unit {
	switch u.Kind {
	case quantity.KindLength:
		return lengths
	case quantity.KindForce:
		return forces
	case quantity.KindStress:
		return []quantity.Unit{quantity.KiloPSI, quantity.NewtonPerSquare}
	}
	return nil
}

// isShaft reports whether sizes are those of shafts and linings, which matter in
// every question.
func isShaft(of clutch.Owner) bool {
	switch of {
	case clutch.InputShaft, clutch.IntermediateShaft, clutch.OutputShaft, clutch.Shafts, clutch.Linings:
		return true
	}
	return false
}

// sizeInputs makes an input for each typical figure. wanted says when those of
// an owner are there; nil for always.
func sizeInputs(prefix string, wanted func(*form, clutch.Owner) bool) []input {
	var out []input
	seen := map[string]bool{}
	for _, x := range clutch.Typical {
		key := sizeKey(prefix, x.Of, x.What)
		if seen[key] {
			continue
		}
		seen[key] = true
		i := input{key: key, label: clutch.Name(x.Of) + ": " + sizeWords(x.Of, x.What), kind: x.Unit.Kind, units: sizeUnits(x.Unit), fold: ownSizesFold}
		if wanted != nil {
			i.when = func(f *form) bool { return wanted(f, x.Of) }
		}
		out = append(out, i)
	}
	return out
}

// mySizes are the measurements that were typed.
func mySizes(f *form, prefix string) clutch.Mine {
	mine := clutch.Mine{}
	for _, x := range clutch.Typical {
		r, ok := f.reading(sizeKey(prefix, x.Of, x.What))
		if !ok {
			continue
		}
		if mine[x.Of] == nil {
			mine[x.Of] = map[clutch.Dimension]quantity.Value{}
		}
		mine[x.Of][x.What] = r.Value()
	}
	return mine
}

// buildInput asks whose typical sizes are taken.
func buildInput(key string, standard unit.Build) input {
	return input{key: key, label: "Typical sizes of", standard: string(standard), compact: true, options: pickOf(
		part.Option{Value: string(unit.Stock), Label: "A stock unit"},
		part.Option{Value: string(unit.Raised), Label: "A raised build", Hint: "One plate more in each clutch, a stronger band lever, three discs in the converter"},
	)}
}

// shaftInput asks what the shafts are of.
func shaftInput(key string) input {
	return input{key: key, label: "Shafts", standard: "makers", compact: true, options: pickOf(
		part.Option{Value: "makers", Label: "The maker's"},
		part.Option{Value: strongShafts, Label: "Strong ones", Hint: "Of better steel"},
	)}
}

const strongShafts = "strong"

// versionOf is the version whose typical sizes are taken; said tells so when
// nobody picked one.
func versionOf(f *form) (v unit.Version, said string) {
	if v = f.sheet().Version; v == "" {
		return unit.Late, "No version is picked, so the late version is taken."
	}
	return v, ""
}

// buildOf makes the unit that a form speaks of.
func buildOf(f *form, prefix, buildKey, shaftKey string) (clutch.Build, error) {
	v, _ := versionOf(f)
	return clutch.Of(v, f.text(buildKey) == string(unit.Raised), f.text(shaftKey) == strongShafts, mySizes(f, prefix))
}

// blameSize notes an error beside the size that it speaks of, else beside the
// fallback. A size that is folded away with another element, or not there, can't
// be blamed.
func (f *form) blameSize(err error, prefix, fallback string) *result {
	var size *clutch.SizeError
	if errors.As(err, &size) {
		key := sizeKey(prefix, size.Of, size.What)
		for n := range f.panel.inputs {
			if i := &f.panel.inputs[n]; i.key == key && f.shown(i) {
				fallback = key
			}
		}
	}
	return f.blame(err, fallback, blamed{"engine torque", fallback})
}

// sizesUsed shows the sizes behind a result, sorted by where they come from.
func sizesUsed(f *form, prefix, buildKey, shaftKey string, of ...clutch.Owner) app.UI {
	v, said := versionOf(f)
	var from []unit.Provenance
	sizes := map[unit.Provenance][]string{}
	for _, o := range of {
		raised := f.text(buildKey) == string(unit.Raised)
		if o == clutch.Shafts {
			raised = f.text(shaftKey) == strongShafts
		}
		for _, x := range clutch.FiguresOf(o, v) {
			value, p := x.Value(raised), x.From
			if r, ok := f.reading(sizeKey(prefix, x.Of, x.What)); ok {
				value, p = r.Value(), unit.Provenance{Kind: unit.Own}
			}
			if sizes[p] == nil {
				from = append(from, p)
			}
			sizes[p] = append(sizes[p], clutch.Name(o)+", "+sizeWords(o, x.What)+": "+f.say(value, x.Unit, 3))
		}
	}
	var body []app.UI
	if said != "" {
		body = append(body, app.P().Text(said))
	}
	for _, p := range from {
		body = append(body, bullets(sizes[p]...), part.SourceNote(f.sheet().Book, p))
	}
	return part.Fold("The sizes behind it", body...)
}

// allMine reports whether every size of some owners was typed.
func allMine(f *form, prefix string, of ...clutch.Owner) bool {
	v, _ := versionOf(f)
	for _, o := range of {
		for _, x := range clutch.FiguresOf(o, v) {
			if _, ok := f.reading(sizeKey(prefix, x.Of, x.What)); !ok {
				return false
			}
		}
	}
	return true
}

func (f *form) torqueText(t quantity.Torque) string { return f.say(t.Value(), quantity.FootPound, 3) }

func (f *form) linePressure(p quantity.Pressure) string {
	return f.units().Format(p.Value(), quantity.PSI, 0)
}

// gearWords names a row of the application chart in a sentence.
func gearWords(g unit.Gear) string {
	if r, ok := unit.RowOf(g); ok {
		return r.Name
	}
	return string(g)
}

func lowered(s string) string { return strings.ToLower(s[:1]) + s[1:] }
