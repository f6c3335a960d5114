package bench

import (
	"fmt"
	"html"
	"math"
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/circuit"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/quantity"
)

// circuitTool is what volts say in a wire, in a pulsed coil and in a divider.
var circuitTool = &tool{
	name:     "circuit",
	title:    "Circuit",
	what:     "What a voltage drop means, how much current pulses make, how many ohms the computer's volts stand for.",
	lead:     "Ohm's law with the meter's error counted in. A drop says nothing while no current flows: measure with everything on.",
	cautions: []string{"electrical-short"},
	panels:   []*panel{dropPanel, pulsePanel, dividerPanel},
	example:  "drop=0.45&current=3.10&gage=16&length=6&voltage=12.6&coil=4.2&duty=35&henry=8&sense=2.31&rail=5.02&pullup=1000",
}

const (
	groundID = "ground-drop"
	roomID   = "fluid-temperature-sensor-room"
	ground   = "ground"
	feed     = "feed"
	wireFold = "More: the wire, for what it should drop"
)

var dropPanel = &panel{
	id:    "drop",
	empty: "Type the drop that the meter shows.",
	inputs: []input{
		{key: "path", label: "Which path?", compact: true, standard: ground, options: pickOf(
			part.Option{Value: ground, Label: "Ground"}, part.Option{Value: feed, Label: "Feed"})},
		{key: "drop", label: "Volts from one end to the other", hint: "With current flowing. The sign does not matter.", kind: quantity.KindVoltage, units: voltages, want: "Type the drop."},
		{key: "current", above: true, label: "Current (may stay empty)", hint: "By a clamp, or from the coil's ohms.", kind: quantity.KindCurrent, units: []quantity.Unit{quantity.Ampere, quantity.Milliampere}},
		{key: "gage", fold: wireFold, label: "Wire gauge (AWG)", kind: quantity.KindRatio},
		{key: "area", fold: wireFold, label: "Or its section", kind: quantity.KindArea, units: []quantity.Unit{quantity.SquareMillimetre}},
		{key: "length", fold: wireFold, label: "Length, one way", kind: quantity.KindLength, units: []quantity.Unit{quantity.Foot, quantity.Metre}},
		{key: "warmth", fold: wireFold, label: "Temperature of the wire", kind: quantity.KindTemperature, units: degrees},
	},
	check: func(f *form) {
		gage, isGage := f.reading("gage")
		_, isArea := f.reading("area")
		_, isLength := f.reading("length")
		switch {
		case (isGage || isArea) && !isLength:
			f.problem("length", "Type the length of the wire.")
		case isLength && !isGage && !isArea:
			f.problem("gage", "Type the wire's gauge or its section.")
		case isGage && gage.SI != math.Trunc(gage.SI):
			f.problem("gage", "A gauge is a whole number.")
		}
		if _, ok := f.reading("current"); !ok && isLength {
			f.problem("current", "Type the current: without it nothing can be said of the wire.")
		}
	},
	work: workDrop,
}

func workDrop(f *form) *result {
	p := circuit.Path{}
	p.Drop, _ = f.reading("drop")
	p.Current, _ = f.reading("current")
	isGround := f.text("path") == ground
	r := &result{}
	var body []app.UI
	if isGround {
		limits, windows := f.windowsOf(groundID)
		p.Windows = windows
		body = append(body, app.H3().Text("Judged by"), f.figures(limits))
	}
	if length, ok := number[quantity.Length](f, "length"); ok {
		w := circuit.Wire{Length: length, Stranded: true}
		w.Area, _ = number[quantity.Area](f, "area")
		if n, ok := f.reading("gage"); ok {
			area, err := circuit.Gauge(int(n.SI))
			if err != nil {
				return f.blame(err, "gage")
			}
			w.Area = area
		}
		w.Temperature, _ = number[quantity.Temperature](f, "warmth")
		p.Wire = w
	}
	out, err := p.Loss()
	if err != nil {
		return f.blame(err, "drop", blamed{circuit.WireArea, "area"}, blamed{circuit.WireLength, "length"}, blamed{circuit.PathCurrent + " ", "current"}, blamed{"coil: ", "warmth"})
	}
	r.call, r.word = part.Call(out.Judgement.Verdict), part.VerdictWord(out.Judgement.Verdict)
	r.value = f.say(p.Drop.Value(), quantity.Volt, 3)
	if isGround {
		r.because = []string{out.Judgement.Reason}
		r.check = "battery-grounds"
		r.entry = &diagnosis.Entry{Check: r.check, Observation: "drop", Reading: f.entered("drop")}
	} else {
		r.word = "Drop of " + r.value
		r.value = ""
		r.because = []string{"The sheet has no limit for a feed's drop, so that there is no verdict. What it takes from the coil is the drop itself."}
	}
	if !out.Known {
		r.because = append(r.because, "A drop means something only while current flows. With the current typed, the resistance follows.")
	} else {
		rows := []fact{
			{"Resistance of the path", f.say(out.Resistance.Value(), quantity.Ohm, 3) + " ± " + f.say((2*out.Standard).Value(), quantity.Ohm, 2)},
			{"Heat in it", quantity.FormatSignificant(out.Heat.Value(), quantity.Watt, 2)},
		}
		if out.Standard > out.Resistance/rough {
			r.because = append(r.because, everyDigit)
		}
		if out.HasWire {
			rows = append(rows, fact{"The wire alone would drop", f.say(out.Expected.Value(), quantity.Volt, 3)},
				fact{"Resistance beyond the wire's", f.say(out.Extra.Value(), quantity.Ohm, 2)})
			switch {
			case out.Sure >= surely:
				r.because = append(r.because, "The path has more resistance than its wire: look for a bad crimp, corrosion, a burnt contact or a hurt strand.")
			case out.Sure <= 1-surely:
				r.because = append(r.because, "The path has no more resistance than such a wire has. Check the gauge and the length that you typed.")
			default:
				r.because = append(r.because, "The wire explains the drop within what the meters can be off.")
			}
		}
		body = append([]app.UI{facts("", rows...)}, body...)
	}
	r.body = body
	r.line = capitalised(f.text("path")) + " drop: " + f.entered("drop")
	if text := f.entered("current"); text != "" {
		r.line += " at " + text
	}
	r.line += ". " + r.word + "."
	return r
}

// A result that is off by more than one part in rough has often been typed with
// too few digits.
const (
	rough      = 10
	everyDigit = "That is rough. Type every digit that the meter shows, zeros too: the last one says how fine the reading is."
)

const (
	runsOn = "diode"
	cutOff = "clamp"
)

var pulsePanel = &panel{
	id:      "pulse",
	heading: "Current of a pulsed coil",
	intro:   "The computer chops the feed of the governor solenoid. How much current that makes on average hangs on the duty, on the coil and on how the driver lets go.",
	empty:   "Type the feed, the coil's ohms and the duty.",
	inputs: []input{
		{key: "voltage", above: true, label: "Feed at the coil", kind: quantity.KindVoltage, want: "Type the feed's voltage."},
		{key: "coil", label: "Ohms of the coil, as warm as it is", kind: quantity.KindResistance, units: ohmOnly, want: "Type the coil's ohms."},
		{key: "duty", label: "Duty: time that the ground is pulled", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Percent}, want: "Type the duty."},
		{key: "driver", label: "When the driver lets go", standard: runsOn, options: pickOf(
			part.Option{Value: runsOn, Label: "The current runs on", Hint: "Through a diode; taken when nothing is known, from memory"},
			part.Option{Value: cutOff, Label: "The current is cut off", Hint: "By a clamp at a high voltage: there is a spike on the scope"},
		)},
		{key: "henry", fold: "More: inductance and frequency, for the ripple", label: "Inductance in millihenry", hint: "No source gives it. With it, ripple and heat follow.", kind: quantity.KindRatio, units: []quantity.Unit{quantity.Number}},
		{key: "rate", fold: "More: inductance and frequency, for the ripple", label: "Pulses", kind: quantity.KindFrequency, standard: quantity.Format(circuit.GovernorFrequency.Value(), quantity.Hertz, 0), want: "Type the frequency."},
	},
	work:    workPulse,
	picture: func(f *form, r *result) app.UI { return pulsePicture(f, r) },
}

func pulseOf(f *form) circuit.Pulse {
	p := circuit.Pulse{Fall: circuit.DiodeDrop}
	p.Supply, _ = number[quantity.Voltage](f, "voltage")
	p.Resistance, _ = number[quantity.Resistance](f, "coil")
	p.Duty, _ = number[quantity.Ratio](f, "duty")
	p.Frequency, _ = number[quantity.Frequency](f, "rate")
	p.Inductance = f.readings["henry"].SI * 1e-3
	if f.text("driver") == cutOff {
		p.Fall = circuit.ClampDrop
	}
	return p
}

func workPulse(f *form) *result {
	p := pulseOf(f)
	cut := p.Fall == circuit.ClampDrop
	blame := func(err error) *result {
		return f.blame(err, "voltage", blamed{circuit.CoilOhms, "coil"}, blamed{circuit.Inductance, "henry"}, blamed{circuit.PulseRate, "rate"}, blamed{circuit.Duty, "duty"})
	}
	if cut && p.Inductance == 0 {
		f.problem("henry", "With the current cut off, the average hangs on the inductance. Type it, or pick that the current runs on.")
		return nil
	}
	w, err := p.Steady()
	if err != nil {
		return blame(err)
	}
	amps := func(i quantity.Current) string { return f.say(i.Value(), quantity.Ampere, 3) }
	r := &result{call: "none", word: amps(w.Mean) + " on average"}
	rows := []fact{{"Held on for good it would draw", amps(w.HeldOn)}, {"Average out of the feed", amps(w.FromFeed)}}
	if w.Known {
		rows = append(rows,
			fact{"From", amps(w.Least)}, fact{"To", amps(w.Most)},
			fact{"Effective", amps(w.RMS)},
			fact{"Heat in the coil", quantity.FormatSignificant(w.Heat.Value(), quantity.Watt, 3)},
			fact{"Time constant", f.say(w.TimeConstant.Value(), quantity.Millisecond, 3)})
		if w.Stops {
			r.because = append(r.because, "The current falls to nothing between pulses.")
		}
	}
	if !cut {
		d, err := p.DutyFor(circuit.GovernorCurrent)
		if err == nil {
			rows = append(rows, fact{"Duty for " + amps(circuit.GovernorCurrent), quantity.Format(d.Value(), quantity.Percent, 0)})
		} else {
			r.because = append(r.because, "This feed can't drive "+amps(circuit.GovernorCurrent)+" through this coil: the feed is low, or the coil has too many ohms.")
		}
	}
	r.because = append(r.because, amps(circuit.GovernorCurrent)+" on average leaves no governor pressure, and no current the most. That and the frequency are published; how this driver lets go is not.")
	r.body = []app.UI{facts("", rows...), part.Fold("What it rests on", bullets(
		"Steady state, a constant inductance: M. H. Rashid, Power Electronics, chapter 5.",
		"A diode is taken to drop "+f.say(circuit.DiodeDrop.Value(), quantity.Volt, 2)+", a clamp "+f.say(circuit.ClampDrop.Value(), quantity.Volt, 2)+", from memory.",
		"Sources print a duty near its end for the zeroing pulse and for no pressure. With a coil of so few ohms that is far more than the published average, so that a duty on the scan tool may be a share of pressure and not of time: measure the current."))}
	r.line = "Pulsed coil: " + f.entered("voltage") + ", " + f.entered("coil") + ", " + f.entered("duty") + ": " + r.word + "."
	return r
}

// The picture of a pulse, one unit a CSS pixel at the usual size.
const (
	pulseWide  = 358
	pulseLeft  = 8
	pulseRight = 350
	pulseTop   = 28
	pulseFloor = 148
)

// pulsePicture draws two pulses of the current, its average dashed, and when the
// driver is on as a bar below.
func pulsePicture(f *form, r *result) app.UI {
	if r == nil {
		return app.Text("")
	}
	p := pulseOf(f)
	w, err := p.Steady()
	if err != nil || !w.Known || w.Most <= 0 {
		return app.Text("")
	}
	const pulses, steps = 2, 40
	wide := float64(pulseRight-pulseLeft) / pulses
	tau := float64(w.TimeConstant) * float64(p.Frequency) // in periods
	duty := float64(p.Duty)
	y := func(i float64) float64 { return pulseFloor - (pulseFloor-pulseTop)*i/float64(w.Most) }
	at := func(t float64) float64 {
		if t <= duty {
			end := float64(w.HeldOn)
			return end + (float64(w.Least)-end)*math.Exp(-t/tau)
		}
		end := -float64(p.Fall) / float64(p.Resistance)
		return max(0, end+(float64(w.Most)-end)*math.Exp(-(t-duty)/tau))
	}
	var path, on strings.Builder
	for n := range pulses {
		x0 := pulseLeft + wide*float64(n)
		for k := 0; k <= steps; k++ {
			t := float64(k) / steps
			c := "L"
			if n+k == 0 {
				c = "M"
			}
			fmt.Fprintf(&path, "%s%.1f %.1f", c, x0+wide*t, y(at(t)))
		}
		fmt.Fprintf(&on, `<rect class="pulse__on" x="%.1f" y="%d" width="%.1f" height="12"/>`, x0, pulseFloor+8, wide*duty)
	}
	amps := func(i quantity.Current) string { return f.say(i.Value(), quantity.Ampere, 3) }
	said := "From " + amps(w.Least) + " to " + amps(w.Most) + ", " + amps(w.Mean) + " on average."
	return app.Raw(fmt.Sprintf(`<svg class="pulse" viewBox="0 0 %d %d" role="img" aria-labelledby="pulse-title pulse-desc"><title id="pulse-title">Current over two pulses</title><desc id="pulse-desc">%s</desc>`+
		`<path class="pulse__axis" d="M%d %dH%d"/><path class="pulse__current" d="%s"/><path class="pulse__mean" d="M%d %.1fH%d"/><text class="pulse__words" x="%d" y="18">%s at most, %s on average</text>%s<text class="pulse__words" x="%d" y="%d">bar: the driver is on</text></svg>`,
		pulseWide, pulseFloor+46, html.EscapeString(said), pulseLeft, pulseFloor, pulseRight, path.String(), pulseLeft, y(float64(w.Mean)), pulseRight,
		pulseLeft, html.EscapeString(amps(w.Most)), html.EscapeString(amps(w.Mean)), on.String(), pulseLeft, pulseFloor+40))
}

const pullUpFold = "The pull-up is not known: find it"

var dividerPanel = &panel{
	id:      "divider",
	heading: "Ohms from the computer's volts",
	intro:   "The fluid temperature sensor and a resistor in the computer share a supply. From the volts between them follow the sensor's ohms, once the resistor is known.",
	empty:   "Type the volts, the supply and the pull-up resistor.",
	inputs: []input{
		{key: "sense", above: true, label: "Volts across the sensor", hint: "At the computer's pin, or on the scan tool.", kind: quantity.KindVoltage, units: voltages},
		{key: "rail", above: true, label: "Supply: volts with the sensor unplugged", kind: quantity.KindVoltage, units: voltages, want: "Type the supply."},
		{key: "pullup", label: "Pull-up resistor in the computer", hint: "No text that was read gives it.", kind: quantity.KindResistance, units: []quantity.Unit{quantity.Ohm, quantity.Kilohm}},
		{key: "known", fold: pullUpFold, label: "Known resistor, plugged in for the sensor", kind: quantity.KindResistance, units: []quantity.Unit{quantity.Ohm, quantity.Kilohm}},
		{key: "knownvolts", above: true, fold: pullUpFold, label: "Volts across it", kind: quantity.KindVoltage, units: voltages},
		{key: "state", label: "How warm is the sensor?", compact: true, standard: stateWarm, options: pickOf(
			part.Option{Value: stateWarm, Label: "Warm, or not known"},
			part.Option{Value: stateSoaked, Label: "Room temperature"},
		)},
	},
	check: func(f *form) {
		_, pull := f.reading("pullup")
		_, known := f.reading("known")
		_, at := f.reading("knownvolts")
		_, sense := f.reading("sense")
		switch {
		case known != at:
			f.problem("knownvolts", "Type the known resistor and the volts across it, both.")
		case !pull && !known:
			f.problem("pullup", "Type the pull-up, or find it with a known resistor.")
		case !sense && !known:
			f.problem("sense", "Type the volts across the sensor.")
		}
	},
	work: workDivider,
}

func workDivider(f *form) *result {
	d := circuit.Divider{}
	d.Supply, _ = f.reading("rail")
	d.PullUp, _ = number[quantity.Resistance](f, "pullup")
	r := &result{call: "none"}
	var rows []fact
	if known, ok := number[quantity.Resistance](f, "known"); ok {
		at, _ := f.reading("knownvolts")
		p, err := circuit.PullUp(known, at, d.Supply)
		if err != nil {
			return f.blame(err, "knownvolts", blamed{circuit.KnownOhms, "known"}, blamed{circuit.DividerFeed, "rail"})
		}
		d.PullUp, d.PullUpShare = p, circuit.FoundShare
		rows = append(rows, fact{"Pull-up resistor", f.ohms(p)})
		r.word = "Pull-up: " + f.ohms(p)
	}
	volts, ok := f.reading("sense")
	if ok {
		d.Volts = volts
		out, err := d.Sense()
		if err != nil {
			return f.blame(err, "sense", blamed{circuit.DividerFeed, "rail"}, blamed{circuit.PullUpOhms, "pullup"})
		}
		switch {
		case out.Open:
			r.call, r.word = "bad", "Open"
			r.because = append(r.because, "The volts are those of the supply: nothing connects to ground. A wire, a pin or the sensor is broken.")
		case out.Shorted:
			r.call, r.word = "bad", "Short"
			r.because = append(r.because, "There are no volts: the signal touches ground, or there is no supply.")
		default:
			r.word = f.ohms(out.Resistance)
			r.value = "± " + f.say((2*out.Standard).Value(), quantity.Ohm, 2)
			if out.Standard > out.Resistance/rough {
				r.because = append(r.because, everyDigit)
			}
			for _, b := range out.Budget {
				rows = append(rows, fact{"Uncertainty from the " + b.Name, f.say(quantity.Resistance(b.Standard).Value(), quantity.Ohm, 2)})
			}
		}
		if soaked(f) {
			limits, windows := f.windowsOf(roomID)
			j := conformity.JudgeAll(out.Reading(), float64(out.Standard), windows, nil, conformity.Probable)
			r.call = part.Call(j.Verdict)
			r.because = append(r.because, j.Reason)
			r.body = append(r.body, app.H3().Text("Judged by"), f.figures(limits))
		} else {
			r.because = append(r.because, "What it should read warm hangs on its kind: two readings at known temperatures tell (see the fluid temperature calculator).")
		}
	}
	if len(rows) > 0 {
		r.body = append([]app.UI{facts("", rows...)}, r.body...)
	}
	r.line = "Divider: "
	if ok {
		r.line += f.entered("sense") + " of " + f.entered("rail") + ". "
	}
	r.line += r.word + "."
	return r
}
