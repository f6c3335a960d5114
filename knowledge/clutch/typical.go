package clutch

import (
	"errors"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// Owner is what a dimension belongs to: an element of package unit, or one of
// those below.
type Owner = unit.ElementID

// What has dimensions and is no element of the gear train.
const (
	ConverterClutch   Owner = "converter-clutch"
	InputShaft        Owner = "input-shaft"
	IntermediateShaft Owner = "intermediate-shaft"
	OutputShaft       Owner = "output-shaft"
	Linings           Owner = "linings" // of all clutches and bands
	Shafts            Owner = "shafts"  // of all shafts
)

// Dimension names one of the things that a Disc, a Band or a Shaft is made of.
type Dimension string

// The dimensions.
const (
	PistonOuter Dimension = "piston-outer"
	PistonInner Dimension = "piston-inner"
	Spring      Dimension = "spring"
	Lever       Dimension = "lever"
	Faces       Dimension = "faces"
	LiningOuter Dimension = "lining-outer"
	LiningInner Dimension = "lining-inner"
	Drum        Dimension = "drum"
	Wrap        Dimension = "wrap"
	Holding     Dimension = "holding-friction"
	Slipping    Dimension = "slipping-friction"
	Diameter    Dimension = "diameter"
	Bore        Dimension = "bore"
	Yield       Dimension = "yield"
)

// A Figure is one typical dimension.
type Figure struct {
	Of       Owner
	What     Dimension
	Versions []unit.Version // empty: all; of two figures for a version the later one holds
	Unit     quantity.Unit
	Stock    float64
	Raised   float64 // of a build with raised pressure, or of strong shafts; 0 where it is the same
	From     unit.Provenance
}

// Value returns the figure for a stock or a raised build.
func (f Figure) Value(raised bool) quantity.Value {
	if raised && f.Raised != 0 {
		return f.Unit.Of(f.Raised)
	}
	return f.Unit.Of(f.Stock)
}

var (
	demo     = unit.Provenance{Kind: unit.Demo, Note: "Typical, invented for the demo: measure yours."}
	demoBand = unit.Provenance{Kind: unit.Demo, Note: "Typical, invented for the demo; that stronger levers are sold is common practice. Measure yours."}
	counted  = unit.Provenance{Kind: unit.Memory, Note: "From memory, confirm in the maker's manual; a raised build has one plate more. Two faces for each friction plate."}
	friction = unit.Provenance{Kind: unit.Memory, Note: "Paper lining in a friction-modified fluid, from memory; 0.11 to 0.15 is usual. Heat, water and the wrong fluid move it."}
	alloy    = unit.Provenance{Kind: unit.Memory, Note: "Chromium-molybdenum steel, quenched and tempered at 540 °C; strong: nickel-chromium-molybdenum steel, tempered at 315 °C. Shigley, Mechanical Engineering Design, table A-21, from memory. Which steel a shaft is of, its maker knows."}
	light    = []unit.Version{unit.Light}
	late     = []unit.Version{unit.Late}
)

func published(source, note string) unit.Provenance {
	return unit.Provenance{Kind: unit.Published, Source: source, Note: note}
}

// Typical is every dimension that a plan rests on while nobody measured it. The
// sizes were chosen so that a stock unit holds what a stock engine gives, not so
// that the trade's figures for raised builds come out. A raised build is one with
// one more plate in each clutch, a stronger lever at the front band and three
// discs in the converter.
var Typical = []Figure{
	{unit.FrontClutch, PistonOuter, nil, quantity.Inch, 5.35, 0, demo},
	{unit.FrontClutch, PistonInner, nil, quantity.Inch, 2.75, 0, demo},
	{unit.FrontClutch, Spring, nil, quantity.PoundForce, 350, 0, demo},
	{unit.FrontClutch, Faces, nil, quantity.Each, 8, 10, counted},
	{unit.FrontClutch, Faces, light, quantity.Each, 6, 8, published("S25", "3 plates; a raised build one more, which is invented.")},
	{unit.FrontClutch, LiningOuter, nil, quantity.Inch, 5.55, 0, demo},
	{unit.FrontClutch, LiningInner, nil, quantity.Inch, 4.55, 0, demo},

	{unit.RearClutch, PistonOuter, nil, quantity.Inch, 5.00, 0, demo},
	{unit.RearClutch, PistonInner, nil, quantity.Inch, 2.30, 0, demo},
	{unit.RearClutch, Spring, nil, quantity.PoundForce, 80, 0, demo},
	{unit.RearClutch, Lever, nil, quantity.Number, 2.0, 0, unit.Provenance{Kind: unit.Demo, Note: "A disc spring presses the plates as a lever; its ratio is invented for the demo."}},
	{unit.RearClutch, Faces, nil, quantity.Each, 8, 10, published("S25", "4 plates, light version; the others from memory. A raised build one more, which is invented.")},
	{unit.RearClutch, LiningOuter, nil, quantity.Inch, 5.50, 0, demo},
	{unit.RearClutch, LiningInner, nil, quantity.Inch, 4.50, 0, demo},

	{unit.FrontBand, PistonOuter, nil, quantity.Inch, 2.40, 0, demo},
	{unit.FrontBand, PistonInner, nil, quantity.Inch, 0.50, 0, demo},
	{unit.FrontBand, Spring, nil, quantity.PoundForce, 60, 0, demo},
	{unit.FrontBand, Lever, nil, quantity.Number, 4.2, 5.0, demoBand},
	{unit.FrontBand, Drum, nil, quantity.Inch, 6.30, 0, demo},
	{unit.FrontBand, Wrap, nil, quantity.Turn, 0.83, 0, demo},

	{unit.RearBand, PistonOuter, nil, quantity.Inch, 2.75, 0, demo},
	{unit.RearBand, PistonInner, nil, quantity.Inch, 0.50, 0, demo},
	{unit.RearBand, Spring, nil, quantity.PoundForce, 100, 0, demo},
	{unit.RearBand, Lever, nil, quantity.Number, 2.5, 0, demo},
	{unit.RearBand, Drum, nil, quantity.Inch, 6.90, 0, demo},
	{unit.RearBand, Wrap, nil, quantity.Turn, 1.7, 0, unit.Provenance{Kind: unit.Memory, Note: "A band that goes round nearly twice, from memory; a single one has 0.85."}},

	{unit.OverdriveClutch, PistonOuter, nil, quantity.Inch, 6.20, 0, demo},
	{unit.OverdriveClutch, PistonInner, nil, quantity.Inch, 3.60, 0, demo},
	{unit.OverdriveClutch, Spring, nil, quantity.PoundForce, 800, 0, unit.Provenance{Kind: unit.Memory, Note: "The direct clutch's spring, which the piston pushes back; from memory."}},
	{unit.OverdriveClutch, Faces, nil, quantity.Each, 8, 10, published("S25", "4 plates, light version; mid from memory. A raised build one more, which is invented.")},
	{unit.OverdriveClutch, Faces, late, quantity.Each, 10, 12, published("S41", "5 or 6 plates.")},
	{unit.OverdriveClutch, LiningOuter, nil, quantity.Inch, 6.40, 0, demo},
	{unit.OverdriveClutch, LiningInner, nil, quantity.Inch, 5.30, 0, demo},

	{unit.DirectClutch, Spring, nil, quantity.PoundForce, 800, 0, unit.Provenance{Kind: unit.Memory, Note: "From memory; the spring alone puts this clutch on."}},
	{unit.DirectClutch, Faces, nil, quantity.Each, 20, 0, counted},
	{unit.DirectClutch, Faces, light, quantity.Each, 16, 0, published("S25", "8 plates.")},
	{unit.DirectClutch, LiningOuter, nil, quantity.Inch, 5.00, 0, demo},
	{unit.DirectClutch, LiningInner, nil, quantity.Inch, 4.10, 0, demo},

	{ConverterClutch, PistonOuter, nil, quantity.Inch, 10.80, 9.00, demo},
	{ConverterClutch, PistonInner, nil, quantity.Inch, 1.60, 3.00, demo},
	{ConverterClutch, Faces, nil, quantity.Each, 1, 6, unit.Provenance{Kind: unit.CommonPractice, Note: "One lining; a raised build has three discs."}},
	{ConverterClutch, LiningOuter, nil, quantity.Inch, 10.80, 10.20, demo},
	{ConverterClutch, LiningInner, nil, quantity.Inch, 9.60, 8.80, demo},

	{Linings, Holding, nil, quantity.Number, 0.13, 0, friction},
	{Linings, Slipping, nil, quantity.Number, 0.14, 0, friction},

	{InputShaft, Diameter, nil, quantity.Inch, 1.10, 0, demo},
	{InputShaft, Bore, nil, quantity.Inch, 0.25, 0, demo},
	{IntermediateShaft, Diameter, nil, quantity.Inch, 1.25, 0, demo},
	{OutputShaft, Diameter, nil, quantity.Inch, 1.50, 0, demo},
	{Shafts, Yield, nil, quantity.NewtonPerSquare, 834, 1590, alloy},
}

// TypicalStall is a converter's torque ratio at stall.
var TypicalStall = Figure{Of: ConverterClutch, What: "stall-ratio", Unit: quantity.Number, Stock: 1.75, From: published("S26", "About 1.75, late version.")}

// Name is what an element, the converter clutch, a shaft or the linings are called.
func Name(of Owner) string {
	if e, ok := unit.ElementByID(of); ok {
		return e.Name
	}
	switch of {
	case ConverterClutch:
		return "Converter clutch"
	case InputShaft:
		return "Input shaft"
	case IntermediateShaft:
		return "Intermediate shaft"
	case OutputShaft:
		return "Output shaft"
	case Linings:
		return "Linings"
	case Shafts:
		return "Shafts"
	}
	return string(of)
}

// A Build is a unit with its dimensions.
type Build struct {
	Discs  map[Owner]Disc // with ConverterClutch
	Bands  map[unit.ElementID]Band
	Shafts map[Owner]Shaft
	Law    Law
	// Slipping is the coefficient of friction of a clutch that slips already. The
	// Friction of discs and bands is that of one that still holds.
	Slipping quantity.Ratio

	flows map[unit.Gear]Flow // those of the forward gears, worked out once
}

// flowIn is FlowIn, without working it out again for each question.
func (b Build) flowIn(g unit.Gear) (Flow, error) {
	if f, ok := b.flows[g]; ok {
		return f, nil
	}
	return FlowIn(g)
}

// Mine are measurements of one's own: they stand in place of typical figures.
type Mine map[Owner]map[Dimension]quantity.Value

// figureOf returns the figure that holds for a version.
func figureOf(of Owner, what Dimension, version unit.Version) (Figure, bool) {
	var found Figure
	for _, f := range Typical {
		if f.Of != of || f.What != what {
			continue
		}
		holds := len(f.Versions) == 0
		for _, v := range f.Versions {
			holds = holds || v == version
		}
		if holds {
			found = f
		}
	}
	return found, found.Of != ""
}

// FiguresOf returns the typical figures of an element, the converter clutch or a
// shaft that hold for a version, in the order of Typical.
func FiguresOf(of Owner, version unit.Version) []Figure {
	var out []Figure
	for _, f := range Typical {
		if f.Of != of {
			continue
		}
		if g, _ := figureOf(of, f.What, version); len(out) == 0 || out[len(out)-1].What != f.What {
			out = append(out, g)
		}
	}
	return out
}

// A SizeError says whose dimension cannot be, and which.
type SizeError struct {
	Of   Owner
	What Dimension
	Err  *quantity.RangeError
}

// Error returns the fault for a log.
func (e *SizeError) Error() string { return e.Err.Error() + " (" + string(e.Of) + ")" }

// Sentence returns the fault for the person who typed, in full sentences.
func (e *SizeError) Sentence() string { return Name(e.Of) + ": " + e.Err.Sentence() }

// Unwrap returns the range that was left.
func (e *SizeError) Unwrap() error { return e.Err }

// dimensions are the names that errors give to what is typed.
var dimensions = map[string]Dimension{
	"outer piston diameter": PistonOuter, "servo diameter": PistonOuter,
	"inner piston diameter": PistonInner, "rod diameter": PistonInner,
	"spring force": Spring, "lever ratio": Lever, "number of friction faces": Faces,
	"outer lining diameter": LiningOuter, "inner lining diameter": LiningInner,
	"drum diameter": Drum, "wrap": Wrap, "coefficient of friction": Holding,
	"shaft diameter": Diameter, "bore diameter": Bore, "yield strength": Yield,
}

func sized(of Owner, err error) error {
	var r *quantity.RangeError
	if !errors.As(err, &r) {
		return err
	}
	what := dimensions[r.Name]
	switch what {
	case Holding:
		of = Linings
	case Yield:
		of = Shafts
	}
	return &SizeError{of, what, r}
}

// Of makes the build of a version from typical figures and one's own. raised
// takes the figures of a raised build, strong those of strong shafts.
//
// Errors: *SizeError with the dimension that cannot be.
func Of(version unit.Version, raised, strong bool, mine Mine) (Build, error) {
	get := func(of Owner, what Dimension, otherwise float64) float64 {
		f, ok := figureOf(of, what, version)
		if own, typed := mine[of][what]; typed && (!ok || own.Kind == f.Unit.Kind) {
			return own.SI
		}
		if !ok {
			return otherwise
		}
		if of == Shafts {
			return f.Value(strong).SI
		}
		return f.Value(raised).SI
	}
	b := Build{Discs: map[Owner]Disc{}, Bands: map[unit.ElementID]Band{}, Shafts: map[Owner]Shaft{}}
	b.flows = map[unit.Gear]Flow{}
	for _, g := range []unit.Gear{unit.First, unit.Second, unit.Third, unit.Fourth} {
		if f, err := FlowIn(g); err == nil {
			b.flows[g] = f
		}
	}
	b.Slipping = quantity.Ratio(get(Linings, Slipping, 0))
	var errs []error
	holding := quantity.Ratio(get(Linings, Holding, 0))
	for _, of := range []Owner{unit.FrontClutch, unit.RearClutch, unit.OverdriveClutch, unit.DirectClutch, ConverterClutch} {
		d := Disc{
			PistonOuter: quantity.Length(get(of, PistonOuter, 0)), PistonInner: quantity.Length(get(of, PistonInner, 0)),
			Spring: quantity.Force(get(of, Spring, 0)), Lever: quantity.Ratio(get(of, Lever, 1)),
			Faces: quantity.Count(get(of, Faces, 0)),
			Outer: quantity.Length(get(of, LiningOuter, 0)), Inner: quantity.Length(get(of, LiningInner, 0)),
			Friction: holding, Sprung: of == unit.DirectClutch,
		}
		b.Discs[of] = d
		errs = append(errs, sized(of, d.Check()))
	}
	for _, of := range []Owner{unit.FrontBand, unit.RearBand} {
		d := Band{
			Servo: quantity.Length(get(of, PistonOuter, 0)), Rod: quantity.Length(get(of, PistonInner, 0)),
			Spring: quantity.Force(get(of, Spring, 0)), Lever: quantity.Ratio(get(of, Lever, 1)),
			Drum: quantity.Length(get(of, Drum, 0)), Wrap: quantity.Turns(get(of, Wrap, 0)), Friction: holding,
		}
		b.Bands[of] = d
		errs = append(errs, sized(of, d.Check()))
	}
	for _, of := range []Owner{InputShaft, IntermediateShaft, OutputShaft} {
		s := Shaft{Outer: quantity.Length(get(of, Diameter, 0)), Bore: quantity.Length(get(of, Bore, 0)), Yield: quantity.Stress(get(Shafts, Yield, 0))}
		b.Shafts[of] = s
		errs = append(errs, sized(of, s.Check()))
	}
	if err := ratioIn("coefficient of friction", b.Slipping, 0.01, 1); err != nil {
		errs = append(errs, &SizeError{Linings, Slipping, err.(*quantity.RangeError)})
	}
	return b, first(errs)
}
