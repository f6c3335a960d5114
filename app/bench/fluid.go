package bench

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
)

// fluidTool says how thick a fluid is at a temperature, and where it is too thin
// or too thick.
var fluidTool = &tool{
	name:     "fluid",
	title:    "Fluid viscosity",
	what:     "How thick is the fluid at this temperature, and where is it too thin or too thick?",
	lead:     "Hot fluid is thin and leaks past worn parts; cold fluid is thick and slow. Two figures of its data sheet tell how thick it is at any temperature.",
	cautions: []string{"hot-fluid"},
	panels:   []*panel{viscosityPanel},
	example:  "at=180",
}

// ownFluid stands for a fluid whose data sheet the user has.
const ownFluid = "own"

func ownFluidWanted(f *form) bool { return f.text("fluid") == ownFluid }

var viscosityPanel = &panel{
	id:    "viscosity",
	empty: "Type a temperature to see how thick the fluid is there.",
	inputs: []input{
		{key: "fluid", label: "Which fluid?", options: whichFluid, standard: fluid.Classes()[0].ID},
		{key: "v1", label: "First viscosity", hint: "The data sheet gives two, each at its temperature.", kind: quantity.KindKinematic, want: "Type the first viscosity of the data sheet.", when: ownFluidWanted},
		{key: "t1", label: "Temperature of the first", kind: quantity.KindTemperature, units: degrees, standard: sheetDegrees(0), want: "Type the temperature of the first viscosity.", when: ownFluidWanted},
		{key: "v2", label: "Second viscosity", kind: quantity.KindKinematic, want: "Type the second viscosity of the data sheet.", when: ownFluidWanted},
		{key: "t2", label: "Temperature of the second", kind: quantity.KindTemperature, units: degrees, standard: sheetDegrees(1), want: "Type the temperature of the second viscosity.", when: ownFluidWanted},
		{key: "density", label: "Density (may stay empty)", hint: "As the data sheet gives it for a cool fluid. Left empty, a usual one is taken, from memory.", kind: quantity.KindDensity,
			units: []quantity.Unit{quantity.KilogramPerCubicMetre, quantity.GramPerMillilitre}, when: ownFluidWanted},
		{key: "at", label: "Fluid temperature", hint: "In the pan, at the cooler line or on the scan tool.", kind: quantity.KindTemperature, units: degrees},
	},
	check: func(f *form) {
		if _, ok := f.reading("at"); !ok && !ownFluidWanted(f) {
			f.problem("at", "Type a temperature.")
		}
	},
	work:    workViscosity,
	picture: func(f *form, r *result) app.UI { return viscosityPicture(f) },
}

func sheetDegrees(n int) string {
	return quantity.Format(fluid.SheetTemperatures[n].Value(), quantity.Celsius, 0)
}

func whichFluid(f *form) []part.Option {
	var o []part.Option
	for _, c := range fluid.Classes() {
		s := c.Fluid.Samples()
		o = append(o, part.Option{Value: c.ID, Label: c.Name, Hint: f.thickness(s[0].Viscosity) + " at " + f.temperature(s[0].At) + ", " +
			f.thickness(s[1].Viscosity) + " at " + f.temperature(s[1].At)})
	}
	return append(o, part.Option{Value: ownFluid, Label: "By its data sheet", Hint: "Two viscosities at two temperatures"})
}

// fluidOf is the fluid that a form chose or typed; notes are what has to be said
// of its figures.
func fluidOf(f *form) (x fluid.Fluid, notes []string, err error) {
	if !ownFluidWanted(f) {
		for _, c := range fluid.Classes() {
			if c.ID == f.text("fluid") {
				return c.Fluid, c.Notes, nil
			}
		}
	}
	sample := func(v, t string) fluid.Sample {
		return fluid.Sample{At: quantity.Temperature(f.readings[t].SI), Viscosity: quantity.Kinematic(f.readings[v].SI)}
	}
	if _, ok := f.reading("density"); !ok {
		notes = []string{"The density is taken to be " + f.say(fluid.TypicalDensity.Value(), quantity.KilogramPerCubicMetre, 3) + ", from memory. It hardly matters here."}
	}
	x, err = fluid.New(sample("v1", "t1"), sample("v2", "t2"), or(f, "density", fluid.TypicalDensity))
	return x, notes, err
}

func workViscosity(f *form) *result {
	x, notes, err := fluidOf(f)
	if err != nil {
		return f.blame(err, "v2", blamed{"first viscosity", "v1"}, blamed{"first temperature", "t1"}, blamed{"second temperature", "t2"}, blamed{"density", "density"})
	}
	r := &result{call: "none"}
	var rows []fact
	index, err := x.Index()
	if err == nil {
		rows = append(rows, fact{"Viscosity index", quantity.Format(quantity.Ratio(index).Value(), quantity.Number, 0)})
	}
	at, given := number[quantity.Temperature](f, "at")
	if given {
		v, err := x.Kinematic(at)
		if err != nil {
			return f.blame(err, "at")
		}
		rho, err := x.Density(at)
		if err != nil {
			return f.blame(err, "at")
		}
		eta, err := x.Dynamic(at)
		if err != nil {
			return f.blame(err, "at")
		}
		r.word, r.value = f.thickness(v), "at "+f.temperature(at)
		rows = append([]fact{
			{"Kinematic viscosity", f.thickness(v)},
			{"Dynamic viscosity", f.say(eta.Value(), quantity.MillipascalSecond, 3)},
			{"Density", f.say(rho.Value(), quantity.KilogramPerCubicMetre, 3)},
		}, rows...)
		for _, th := range fluid.Thresholds() {
			if beyond(th, v, eta) {
				r.call = "unsure"
				r.because = append(r.because, th.Name+": "+th.Means)
			}
		}
		if r.because == nil {
			r.because = []string{"Neither too thin nor too thick by the limits below. None of them is this unit's own."}
		}
		s := x.Samples()
		switch {
		case at < fluid.ColdDoubt:
			r.because = append(r.because, "So cold, a real fluid is thicker than this: what is in it stiffens.")
		case at < s[0].At || at > s[1].At:
			r.because = append(r.because, "That is outside the two temperatures of the data sheet, where it is less sure.")
		}
	} else {
		r.word = "Too thin for a viscosity index"
		if err == nil {
			r.word = rows[0].name + " " + rows[0].value
		}
	}
	var from []string
	limits := []fact{}
	for _, th := range fluid.Thresholds() {
		limits = append(limits, fact{th.Name + ", " + f.limit(th), reached(f, x, th)})
		from = append(from, th.Name+": "+th.From)
	}
	r.body = []app.UI{facts("", rows...), facts("Where it is too thick or too thin", limits...)}
	if len(notes) > 0 {
		r.body = append(r.body, bullets(notes...))
	}
	r.body = append(r.body, part.Fold("Where the limits come from", bullets(append(from,
		"The curve: ASTM D341. The index: ASTM D2270. The density: API MPMS 11.1, lubricating oils.")...)))
	if given {
		r.line = "Fluid: " + r.word + " " + r.value + "."
	}
	return r
}

func beyond(th fluid.Threshold, v quantity.Kinematic, eta quantity.Dynamic) bool {
	if th.Dynamic > 0 {
		return eta > th.Dynamic
	}
	return (v > th.Kinematic) == th.Thick
}

// reached says at which temperature the fluid gets to a limit.
func reached(f *form, x fluid.Fluid, th fluid.Threshold) string {
	at, ok, err := x.Reaches(th)
	switch {
	case err != nil:
		return "can't be told"
	case ok && th.Thick:
		return "under " + f.temperature(at)
	case ok:
		return "over " + f.temperature(at)
	}
	end := fluid.ValidFluid[0]
	v, errV := x.Kinematic(end)
	eta, errE := x.Dynamic(end)
	if !th.Thick {
		end = fluid.ValidFluid[1]
		v, errV = x.Kinematic(end)
		eta, errE = x.Dynamic(end)
	}
	if errV != nil || errE != nil {
		return "can't be told"
	}
	if beyond(th, v, eta) {
		return "always"
	}
	return "not even at " + f.temperature(end)
}

// limit is the viscosity of a threshold.
func (f *form) limit(th fluid.Threshold) string {
	if th.Dynamic > 0 {
		return f.say(th.Dynamic.Value(), quantity.MillipascalSecond, 3)
	}
	return f.thickness(th.Kinematic)
}

func (f *form) thickness(v quantity.Kinematic) string {
	return f.say(v.Value(), quantity.SquareMillimetrePerSecond, 3)
}
