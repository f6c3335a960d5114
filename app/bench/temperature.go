package bench

import (
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// temperatureTool says what a fluid temperature means, and what kind of sensor
// two readings show.
var temperatureTool = &tool{
	name:     "temperature",
	title:    "Fluid temperature and sensor",
	what:     "What does this fluid temperature mean, and is a temperature sensor sound?",
	cautions: []string{"hot-fluid"},
	panels:   []*panel{heatPanel, sensorPanel},
	example:  "at=235&ra=985&ta=70&rb=1490&tb=180&tc=220",
}

// The sheet's figures about fluid temperature, coldest first.
const (
	heatBlocked = "temperature-overdrive-blocked-cold"
	heatNormal  = "temperature-normal"
	heatSeals   = "temperature-seals"
	heatHot     = "temperature-hot-strategy"
	heatLamp    = "temperature-lamp"
)

var heatFigures = []string{heatBlocked, heatNormal, heatSeals, heatHot, heatLamp}

var heatPanel = &panel{
	id:    "heat",
	empty: "Type a temperature to see where it lies.",
	inputs: []input{
		{key: "at", label: "Fluid temperature", hint: "In the pan, at the cooler line or on the scan tool.", kind: quantity.KindTemperature, units: degrees},
	},
	work: func(f *form) *result {
		read, _ := f.reading("at")
		state := fluid.Judge(read, conformity.Default(read).Standard(read), heatLimits(f.sheet()))
		return &result{
			call: bandCall(state.Band), word: bandWord(state.Band), because: []string{state.Sentence},
			line: "Fluid temperature: " + state.Sentence,
		}
	},
	picture: func(f *form, r *result) app.UI {
		read, ok := f.reading("at")
		at := quantity.Temperature(read.SI)
		sheet := f.sheet()
		var figures []app.UI
		for _, id := range heatFigures {
			if a, known := sheet.Book.Acceptance(id); known {
				figures = append(figures, app.H3().Text(a.Name), f.figures(sheet.Limits(id)))
			}
		}
		return app.Div().Body(
			scale(f, heatLimits(sheet), at, ok && r != nil),
			part.Fold("The figures behind it", figures...),
			life(f, at, r != nil),
		)
	},
}

// heatLimits takes the limits of fluid temperature from the sheet. That of the
// lamp is none: it says when a driver is told, not what the fluid suffers.
func heatLimits(sheet unit.Sheet) fluid.Limits {
	least := func(id string) []fluid.Bound {
		return bounds(sheet, id, func(l unit.Limit) *quantity.Value { return l.Min })
	}
	most := func(id string) []fluid.Bound {
		return bounds(sheet, id, func(l unit.Limit) *quantity.Value { return l.Max })
	}
	return fluid.Limits{
		Units:            sheet.Units,
		OverdriveBlocked: least(heatBlocked),
		NormalLeast:      least(heatNormal),
		NormalMost:       most(heatNormal),
		Seals:            most(heatSeals),
		HotStrategy:      most(heatHot),
	}
}

func bounds(sheet unit.Sheet, id string, side func(unit.Limit) *quantity.Value) []fluid.Bound {
	a, ok := sheet.Book.Acceptance(id)
	if !ok {
		return nil
	}
	var out []fluid.Bound
	for _, l := range sheet.Limits(id) {
		if v := side(l); v != nil {
			name := strings.ToLower(a.Name[:1]) + a.Name[1:]
			if l.Condition.Note != "" {
				name += ", " + l.Condition.Note
			}
			out = append(out, fluid.Bound{Name: name, At: quantity.Temperature(v.SI)})
		}
	}
	return out
}

// lifeWords says a share of a life as a person would.
func lifeWords(share float64) string {
	switch {
	case math.IsNaN(share) || share <= 0:
		return "not known"
	case share >= 1.995:
		return quantity.FormatSignificant(quantity.Ratio(share).Value(), quantity.Number, 2) + " times as long"
	case share < 0.0095:
		return "less than a hundredth as long"
	}
	return part.Percent(min(share, 1)) + lifeMore(share)
}

// lifeMore finishes lifeWords where the life is longer, but not twice as long.
func lifeMore(share float64) string {
	if share <= 1 {
		return " as long"
	}
	return " as long and " + part.Percent(share-1) + " more"
}

// bandWord is a band as a heading.
func bandWord(b fluid.Band) string {
	return map[fluid.Band]string{
		fluid.TooCold: "Too cold for 4th", fluid.MaybeCold: "Perhaps too cold for 4th", fluid.Warming: "Warming up",
		fluid.Normal: "Normal", fluid.Warm: "Warmer than normal", fluid.SealDamage: "Hot: seals harden",
		fluid.HotStrategy: "Too hot: the computer gives up 4th", fluid.FluidDamage: "Too hot: the fluid fails",
		fluid.Unknown: "No limit is known", fluid.NoReading: "No verdict",
	}[b]
}

// bandCall sorts a band for the eye, as part.Call does a verdict.
func bandCall(b fluid.Band) string {
	switch b {
	case fluid.Normal:
		return "good"
	case fluid.SealDamage, fluid.HotStrategy, fluid.FluidDamage:
		return "bad"
	case fluid.Warm, fluid.MaybeCold:
		return "unsure"
	}
	return "none"
}

// life shows the trade's rule of thumb beside what a reaction would do.
func life(f *form, at quantity.Temperature, given bool) app.UI {
	body := []app.UI{app.P().Text("The trade's chart says that each " + f.warmer(fluid.ChartStep) + " over " + f.temperature(fluid.ChartReference) +
		" halves the life of the fluid. It is folklore: its copies repeat each other, and no test stands behind it. Beside it stands what one chemical reaction would do that agrees with the chart's two ends (Arrhenius). Neither is a promise.")}
	if given {
		halving, errH := fluid.Halving(at, fluid.ChartReference, fluid.ChartStep)
		arrhenius, errA := fluid.Arrhenius(at, fluid.ChartReference, fluid.ChartEnergy)
		if errH == nil && errA == nil {
			body = append(body, facts("Life at "+f.temperature(at)+", against "+f.temperature(fluid.ChartReference),
				fact{"Rule of thumb (folklore)", lifeWords(halving)},
				fact{"Arrhenius, fitted to the same chart", lifeWords(arrhenius)},
			))
		}
	}
	return part.Section("life", "How long the fluid lasts", body...)
}

var sensorPanel = &panel{
	id:      "sensor",
	heading: "A sensor by two readings",
	intro:   "The sources do not say whether this sensor's ohms fall or rise with warmth. Two readings at temperatures that you know from a thermometer, such as cold-soaked and warm, decide it, and foretell a third.",
	empty:   "Type both readings with their temperatures.",
	inputs: []input{
		{key: "ra", label: "First reading", kind: quantity.KindResistance, units: ohmOnly, words: meterShows, want: "Type the ohms of the first reading."},
		{key: "ta", label: "Temperature of the first", kind: quantity.KindTemperature, units: degrees, want: "Type the temperature that the sensor had."},
		{key: "rb", label: "Second reading", kind: quantity.KindResistance, units: ohmOnly, words: meterShows, want: "Type the ohms of the second reading."},
		{key: "tb", label: "Temperature of the second", kind: quantity.KindTemperature, units: degrees, want: "Type the temperature that the sensor had."},
		{key: "tc", label: "Foretell it at (may stay empty)", kind: quantity.KindTemperature, units: degrees},
	},
	check: func(f *form) {
		for _, key := range []string{"ra", "rb"} {
			if f.readings[key].OpenLoop {
				f.problem(key, "OL: the sensor or a wire to it is open. That is the fault; there is nothing to compare.")
			}
		}
	},
	work: workSensor,
}

func workSensor(f *form) *result {
	point := func(ohms, at string) fluid.Point {
		return fluid.Point{Reading: f.readings[ohms], Temperature: quantity.Temperature(f.readings[at].SI)}
	}
	s, err := fluid.Identify(point("ra", "ta"), point("rb", "tb"))
	if err != nil {
		second := strings.Contains(err.Error(), "second")
		if second {
			return f.blame(err, "rb", blamed{"temperature", "tb"})
		}
		return f.blame(err, "ra", blamed{"temperature", "ta"})
	}
	r := &result{call: sensorCall(s.Type), word: sensorWord(s.Type), because: []string{s.Reason}}
	if s.Sure > 0 {
		r.because = append(r.because, "Probability of this: "+part.Percent(min(s.Sure, nearlySure))+".")
	}
	if at, ok := number[quantity.Temperature](f, "tc"); ok {
		e, foretold, err := s.At(at)
		if err != nil {
			return f.blame(err, "tc")
		}
		if foretold {
			r.value = "At " + f.temperature(at) + " it should read " + f.ohms(e.Resistance) + ", between " + f.ohms(e.Least) + " and " + f.ohms(e.Most) + "."
			if e.Outside {
				r.value += " That is outside the two readings, where it is less sure."
			}
		}
	}
	r.line = "Temperature sensor: " + f.entered("ra") + " at " + f.entered("ta") + ", " + f.entered("rb") + " at " + f.entered("tb") + ": " + r.word + ". " + r.value
	return r
}

// nearlySure is the most that is claimed of two readings.
const nearlySure = 0.999

func sensorWord(t fluid.SensorType) string {
	switch t {
	case fluid.NTC:
		return "Ohms fall with warmth (NTC)"
	case fluid.Silicon:
		return "Ohms rise with warmth (PTC)"
	case fluid.Neither:
		return "Not a sound sensor's readings"
	}
	return "Can't be told"
}

func sensorCall(t fluid.SensorType) string {
	switch t {
	case fluid.NTC, fluid.Silicon:
		return "good"
	case fluid.Neither:
		return "bad"
	}
	return "unsure"
}
