package bench

import (
	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/ratio"
)

// shiftLogTool keeps the shift points of a road test.
var shiftLogTool = &tool{
	name:     "shift-log",
	title:    "Shift-point log",
	what:     "Are the shifts of a road test in order, does throttle move them, and are they within your sheet?",
	lead:     "One shift a line. Without a sheet there is no verdict on a speed, but order needs none.",
	cautions: []string{"road-test"},
	panels:   []*panel{shiftLogPanel},
	example:  "log=1-2+light+15%0A2-3+light+25%0A3-4+light+42%0A1-2+full+16%0A4-3+light+36",
	metric:   "log=1-2+light+24%0A2-3+light+40%0A3-4+light+68%0A1-2+full+26%0A4-3+light+58",
}

var shiftLogPanel = &panel{
	id:    "log",
	empty: "Type a shift to begin.",
	inputs: append([]input{
		{key: "log", label: "Shifts", rows: 8, hint: "Shift, throttle, speed: " + ratio.ExampleEntry + ". Throttle is closed, light, half or full; lock and unlock are shifts too. Engine speed may follow: " + ratio.ExampleEngine + ". What a manual allows goes behind a semicolon: " + ratio.ExampleSheet + ".",
			want: "Type at least one shift."},
		unitPick("in", "Speeds without a unit are in", speeds, nil),
		{key: "pace", label: "Read on", compact: true, standard: byDial, options: pickOf(
			part.Option{Value: byDial, Label: "Speedometer"},
			part.Option{Value: bySky, Label: "Satellite receiver"},
		)},
	}, truckInputs(nil)...),
	work: workShiftLog,
}

// oddities is what contradicts how shift valves work. The causes are from
// memory.
var oddities = map[ratio.Oddity]string{
	ratio.OutOfOrder: "A higher upshift came at a lower speed: a shift valve sticks, or a shift was missed and counted wrong.",
	ratio.NotLater:   "Full throttle did not move this shift: throttle pressure does not follow the lever. Check the throttle cable or motor first, then its valve.",
	ratio.Overlap:    "The downshift comes at the upshift's speed or over it: the truck will hunt there.",
	ratio.Scattered:  "The same shift at the same throttle wanders: governor or throttle pressure is not steady, or a valve sticks. Try again with a steady foot.",
}

func workShiftLog(f *form) *result {
	entries, err := ratio.ParseLog(f.text("log"), f.picked("in"))
	if err != nil {
		return f.blame(err, "log")
	}
	if len(entries) == 0 {
		f.problem("log", "Type at least one shift.")
		return nil
	}
	var truck ratio.Truck
	if axle, ok := number[quantity.Ratio](f, "axle"); ok {
		if truck.Tyre, err = rollingOf(f); err != nil {
			return f.blame(err, "tyre", truckBlame...)
		}
		truck.Axle, truck.Transfer = axle, or(f, "range", quantity.Ratio(1))
	}
	pace := ratio.Speedometer
	if f.text("pace") == bySky {
		pace = ratio.Satellite
	}
	rep, err := ratio.Judge(entries, truck, &pace, conformity.Probable)
	if err != nil {
		return f.blame(err, "log", truckBlame...)
	}
	r := &result{call: "none", word: "No sheet to judge by"}
	judged, out, unsure := 0, 0, 0
	var rows []fact
	for _, row := range rep.Rows {
		text := f.say(row.Speed.Value(), quantity.MilePerHour, 3)
		switch v := row.Result.Verdict; {
		case row.Min == nil:
		case v == conformity.Meets:
			judged++
			text += ", " + lowered(part.VerdictWord(v))
		case v.Called():
			judged, out = judged+1, out+1
			text += ", " + lowered(part.VerdictWord(v))
		default:
			unsure++
			text += ", " + lowered(part.VerdictWord(v))
		}
		if row.Locked > 0 {
			text += "; " + f.turning(row.Locked) + " without slip"
		}
		if row.Engine.Kind != "" && row.Locked > 0 {
			text += ", so " + quantity.Format(row.Slip.Value(), quantity.Percent, 0) + " of slip"
		}
		rows = append(rows, fact{string(row.Turn) + ", " + string(row.Throttle), text})
	}
	for _, x := range rep.Findings {
		a, b := rep.Rows[x.A], rep.Rows[x.B]
		r.because = append(r.because, f.entry(a)+" and "+f.entry(b)+": "+oddities[x.Oddity])
	}
	switch {
	case out > 0:
		r.call, r.word = "bad", "Out of the sheet"
	case len(rep.Findings) > 0:
		r.call, r.word = "unsure", "Not in order"
	case unsure > 0:
		r.call, r.word = "unsure", "Too close to call"
	case judged == len(rep.Rows):
		r.call, r.word = "good", "All within the sheet"
	case judged > 0:
		r.call, r.word = "none", "What has a sheet is within it"
	}
	if len(rep.Findings) == 0 {
		r.because = append(r.because, "Nothing in the order of these shifts contradicts how the valves work.")
	}
	if judged+unsure < len(rep.Rows) {
		r.because = append(r.because, "No shift speeds are known here for this class of unit. Take them from the maker's manual and type them behind the entry.")
	}
	r.body = []app.UI{facts("Shifts", rows...)}
	r.line = "Shift points: "
	for i, row := range rep.Rows {
		if i > 0 {
			r.line += "; "
		}
		r.line += f.entry(row)
	}
	r.line += ". " + r.word + "."
	return r
}

func (f *form) entry(r ratio.Row) string {
	return string(r.Turn) + " " + string(r.Throttle) + " " + f.say(r.Speed.Value(), quantity.MilePerHour, 3)
}
