package bench

import (
	"math"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/circuit"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// governorTool turns the governor pressure sensor's volts into pressure, with the
// air taken out.
var governorTool = &tool{
	name:     "governor-sensor",
	title:    "Governor pressure sensor",
	what:     "Is the sensor's zero good at this height and in this weather, and does it agree with the gauge?",
	lead:     "The sensor measures absolute pressure, so that height and weather move its zero. The sheet's window is for sea level; here it is brought to where you are.",
	cautions: []string{"rotating-wheels"},
	panels:   []*panel{governorPanel},
	example:  "zero=0.42&feed=5.01&signal=1.68&gauge=31&height=5200",
}

// What the sheet knows of the sensor, and the check that reads its zero.
const (
	zeroID          = "governor-sensor-zero"
	feedID          = "sensor-supply"
	signalCheck     = "governor-sensor-signal"
	zeroObservation = "zero"
)

// How the pressure of the air is known.
const (
	airHeight    = "height"
	airReport    = "report"
	airBarometer = "barometer"
)

var (
	voltages   = []quantity.Unit{quantity.Volt, quantity.Millivolt}
	barometers = []quantity.Unit{quantity.InchMercury, quantity.Hectopascal, quantity.PSI, quantity.Kilopascal}
	heights    = []quantity.Unit{quantity.FootHigh, quantity.MetreHigh}
)

func airBy(ways ...string) func(*form) bool {
	return func(f *form) bool {
		for _, w := range ways {
			if f.text("air") == w {
				return true
			}
		}
		return false
	}
}

var governorPanel = &panel{
	id:    "sensor",
	empty: "Type the sensor's signal.",
	inputs: []input{
		{key: "zero", above: true, label: "Signal without governor pressure", hint: "Key on and engine off, or in free air.", kind: quantity.KindVoltage, units: voltages},
		{key: "feed", above: true, label: "Supply of the sensor", hint: "Supply wire against sensor ground. The signal follows it.", kind: quantity.KindVoltage, units: voltages},
		{key: "signal", above: true, label: "Signal with pressure", kind: quantity.KindVoltage, units: voltages},
		{key: "gauge", label: "The gauge shows with it (may stay empty)", kind: quantity.KindPressure, units: pressures},
		{key: "air", label: "How is the air's pressure known?", standard: airHeight, options: pickOf(
			part.Option{Value: airHeight, Label: "By the height", Hint: "Whatever the weather; left empty, sea level"},
			part.Option{Value: airReport, Label: "By the weather report", Hint: "Its barometer is carried down to the sea"},
			part.Option{Value: airBarometer, Label: "By a barometer here", Hint: "A telephone's will do"},
		)},
		{key: "height", label: "Height above the sea", kind: quantity.KindDistance, units: heights, when: airBy(airHeight, airReport)},
		{key: "report", label: "Barometer of the report", kind: quantity.KindPressure, units: barometers, want: "Type the report's barometer.", when: airBy(airReport)},
		{key: "barometer", label: "Barometer here", kind: quantity.KindPressure, units: barometers, want: "Type the barometer's reading.", when: airBy(airBarometer)},
	},
	check: func(f *form) {
		_, zero := f.reading("zero")
		_, signal := f.reading("signal")
		if !zero && !signal {
			f.problem("zero", "Type a signal of the sensor.")
		}
		if _, gauge := f.reading("gauge"); gauge && !signal {
			f.problem("signal", "Type the signal that goes with the gauge.")
		}
	},
	work: workGovernor,
}

// airOf is the air around the truck.
func airOf(f *form) (circuit.Air, error) {
	height, known := number[quantity.Distance](f, "height")
	switch f.text("air") {
	case airReport:
		p, _ := number[quantity.Pressure](f, "report")
		return circuit.ByReport(p, height)
	case airBarometer:
		p, _ := number[quantity.Pressure](f, "barometer")
		return circuit.ByBarometer(p)
	}
	if !known {
		return circuit.SeaLevel(), nil
	}
	return circuit.AtHeight(height)
}

var airBlame = []blamed{{circuit.Setting, "report"}, {circuit.Barometer, "barometer"}, {circuit.Height, "height"}}

// windowsOf brings what the sheet says of an acceptance value into conformity's
// form.
func (f *form) windowsOf(id string) ([]unit.Limit, []conformity.Window) {
	limits := f.sheet().Limits(id)
	var windows []conformity.Window
	for i := range limits {
		windows = append(windows, windowOf(f.sheet().Book, &limits[i]))
	}
	return limits, windows
}

func workGovernor(f *form) *result {
	air, err := airOf(f)
	if err != nil {
		return f.blame(err, "height", airBlame...)
	}
	s := circuit.Sample{Air: air}
	s.Supply, _ = f.reading("feed")
	curve := circuit.Typical
	volts := func(v quantity.Voltage) string { return f.say(v.Value(), quantity.Volt, 3) }
	psi := func(p quantity.Pressure) string { return f.say(p.Value(), quantity.PSI, 3) }
	r := &result{}
	zero, hasZero := f.reading("zero")
	var body []app.UI
	rows := []fact{{"Pressure of the air", psi(air.Pressure) + " absolute, " + air.From}}
	if hasZero {
		limits, windows := f.windowsOf(zeroID)
		s.Signal = zero
		out, err := curve.CheckZero(s, windows, conformity.Probable)
		if err != nil {
			return f.blame(err, "zero", blamed{circuit.Supply, "feed"}, blamed{circuit.AirPressure, "height"})
		}
		r.call, r.word = part.Call(out.Judgement.Verdict), "Zero: "+lowered(part.VerdictWord(out.Judgement.Verdict))
		r.value = volts(out.Referred) + " ± " + f.say((2*out.Standard).Value(), quantity.Volt, 2) + " at sea level"
		r.because = append(r.because, out.Judgement.Reason)
		for _, w := range out.Windows {
			r.because = append(r.because, "Your meter should show "+between(w)+" here.")
		}
		rows = append(rows, fact{"What the air adds to the signal", volts(out.Shift)})
		body = append(body, app.H3().Text("Judged by"), f.figures(limits))
		if out.Judgement.Verdict != conformity.None {
			r.check = signalCheck
			r.entry = &diagnosis.Entry{Check: signalCheck, Observation: zeroObservation, Reading: quantity.Format(out.Referred.Value(), quantity.Volt, 3)}
		}
	}
	if s.Supply.Kind != "" {
		_, windows := f.windowsOf(feedID)
		j := conformity.JudgeAll(s.Supply, conformity.Default(s.Supply).Standard(s.Supply), windows, nil, conformity.Probable)
		rows = append(rows, fact{"Supply", f.say(s.Supply.Value(), quantity.Volt, 3) + ", " + part.VerdictWord(j.Verdict)})
		if part.Call(j.Verdict) == "bad" {
			r.because = append([]string{"The supply comes first: " + j.Reason}, r.because...)
		}
	}
	if signal, ok := f.reading("signal"); ok {
		s.Signal = signal
		if hasZero {
			s.Zero = zero
		}
		p, err := curve.Pressure(s)
		if err != nil {
			return f.blame(err, "signal", blamed{circuit.Supply, "feed"}, blamed{circuit.OwnZero, "zero"})
		}
		text := psi(p.Gauge) + " ± " + f.say((2*p.Standard).Value(), quantity.PSI, 2)
		if p.Gauge < 0 {
			text = "less than nothing: the zero is off, or the air's pressure"
		}
		rows = append(rows, fact{"Pressure by the signal", text})
		if gauge, ok := f.reading("gauge"); ok {
			shown := quantity.Pressure(gauge.SI)
			rows = append(rows, fact{"The gauge shows", psi(shown)})
			if expected, err := curve.Volts(shown, air); err == nil {
				rows = append(rows, fact{"A sensor of the usual curve would show", volts(expected)})
			}
			r.because = append(r.because, f.agreement(p, gauge))
			if hasZero {
				if own, err := circuit.Calibrate(zero, signal, quantity.Reading{Kind: quantity.KindPressure}, gauge, s.Supply, air, nil); err == nil {
					per := quantity.Voltage(own.Slope * f.units().Unit(quantity.PSI).Step(1))
					rows = append(rows, fact{"Slope of the sensor at hand", f.say(per.Value(), quantity.Volt, 3) + " for 1 " + f.units().Unit(quantity.PSI).Name})
				}
			}
		}
		if r.word == "" {
			r.call, r.word = "none", "Pressure by the signal: "+psi(p.Gauge)
			if p.Gauge < 0 {
				r.call, r.word = "unsure", "Below nothing"
			}
		}
		var budget []fact
		for _, b := range p.Budget {
			budget = append(budget, fact{b.Name, f.say(quantity.Pressure(b.Standard).Value(), quantity.PSI, 2)})
		}
		body = append(body, part.Fold("What the uncertainty is made of", facts("Standard uncertainty of the pressure", budget...)))
	}
	r.body = append([]app.UI{facts("", rows...)}, body...)
	r.body = append(r.body, part.Fold("What it rests on", bullets(
		"Zero of the curve: published. "+curve.ZeroFrom.Note,
		"Slope of the curve: "+curve.SlopeFrom.Note,
		"That the signal follows the supply is common practice for such sensors.",
		"The air: U.S. Standard Atmosphere, 1976; Smithsonian Meteorological Tables for the weather report.")))
	r.line = "Governor sensor:"
	for _, x := range []struct{ words, key string }{{" zero ", "zero"}, {" supply ", "feed"}, {" signal ", "signal"}, {" gauge ", "gauge"}} {
		if text := f.entered(x.key); text != "" {
			r.line += x.words + text + ","
		}
	}
	r.line += " air " + psi(air.Pressure) + ". " + r.word + "."
	return r
}

// between is a window of volts, as fine as a meter shows it.
func between(w conformity.Window) string {
	volts := func(v *quantity.Value) string { return quantity.Format(*v, quantity.Volt, 2) }
	switch {
	case w.Min != nil && w.Max != nil:
		return volts(w.Min) + " to " + volts(w.Max)
	case w.Min != nil:
		return "at least " + volts(w.Min)
	case w.Max != nil:
		return "at most " + volts(w.Max)
	}
	return w.String()
}

// agreement says whether signal and gauge agree. No sheet says by how much they
// may differ: what counts is what both can be off.
func (f *form) agreement(p circuit.Pressure, gauge quantity.Reading) string {
	u := conformity.Default(gauge).Standard(gauge)
	off := float64(p.Gauge) - gauge.SI
	most := 2 * math.Hypot(float64(p.Standard), u)
	text := f.units().Format(quantity.Pressure(max(off, -off)).Value(), quantity.PSI, 1)
	if max(off, -off) <= most {
		return "Signal and gauge differ by " + text + ", within what both can be off. They agree."
	}
	return "Signal and gauge differ by " + text + ", more than both can be off: the sensor, its supply or the gauge is wrong, or this sensor's slope is not the usual one."
}
