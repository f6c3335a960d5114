package bench

import (
	"strings"

	"github.com/maxence-charriere/go-app/v9/pkg/app"

	"provingbench/app/part"
	"provingbench/knowledge/clutch"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// pressurePlanTool says which line pressure an engine and a use want, how much
// is of any use, and which way the regulator goes.
var pressurePlanTool = &tool{
	name:     "pressure-plan",
	title:    "Pressure plan",
	what:     "Which line pressure does this engine want, where do shafts set the limit, and which way does the regulator go?",
	lead:     "Two answers stand side by side: what the sizes give, and what the trade does. Where they part, both are shown.",
	cautions: []string{"gauge-range", "rotating-wheels"},
	panels:   []*panel{planPanel, regulatorPanel},
	example:  "engine=560&use=towing&wish=220&from=60&to=75",
}

const planPrefix = "size-"

// The sheet's figures that a plan rests on.
const (
	planIdle   = "line-drive-idle"
	planFull   = "line-drive-full"
	planLocked = "line-third-lockup"
	planTurn   = "regulator-turn"
	planNut    = "regulator-nut-distance"
)

var planPanel = &panel{
	id:    "plan",
	empty: "Type the engine's torque to make a plan.",
	inputs: append([]input{
		{key: "engine", label: "Engine torque, the most it gives", hint: "At the flywheel, as it is tuned now.", kind: quantity.KindTorque, units: torques, want: "Type the engine's torque."},
		{key: "use", label: "Use", standard: string(clutch.Everyday), compact: true, options: pickOf(
			part.Option{Value: string(clutch.Everyday), Label: "Everyday"},
			part.Option{Value: string(clutch.Towing), Label: "Towing, heavy work"},
			part.Option{Value: string(clutch.Competition), Label: "Competition"})},
		{key: "setting", label: "Line pressure", standard: string(clutch.Ranging), compact: true, options: pickOf(
			part.Option{Value: string(clutch.Stock), Label: "Stock"},
			part.Option{Value: string(clutch.Ranging), Label: "Raised, ranging", Hint: "It still falls with the throttle"},
			part.Option{Value: string(clutch.Constant), Label: "Raised, constant", Hint: "The same at every throttle"})},
		shaftInput("steel"),
		{key: "stall", label: "Torque ratio of the converter at stall", kind: quantity.KindRatio, standard: stallText, want: "Type the converter's torque ratio at stall."},
		{key: "margin", label: "Margin (may stay empty)", hint: "How many times the engine's torque everything should hold. Left empty, one typical of the use is taken, invented for the demo.", kind: quantity.KindRatio},
		{key: "wish", label: "Pressure you have in mind, full throttle (may stay empty)", kind: quantity.KindPressure, units: pressures},
		buildInput("plates", unit.Raised),
	}, sizeInputs(planPrefix, nil)...),
	work: workPlan,
}

// stockEnd is one end of a stock unit's line pressure in 3rd, from the sheet; 0
// where it has none.
func stockEnd(f *form, id string, side func(unit.Limit) *quantity.Value) quantity.Pressure {
	sheet := f.sheet()
	sheet.Version, _ = versionOf(f)
	sheet.Build = unit.Stock
	var end quantity.Pressure
	for _, l := range sheet.Limits(id) {
		v := side(l)
		if v == nil || (l.Condition.Gear != "" && l.Condition.Gear != string(unit.Third)) {
			continue
		}
		// Of two sources the lower is taken: it promises less.
		if p := quantity.Pressure(v.SI); end == 0 || p < end {
			end = p
		}
	}
	return end
}

func leastOf(l unit.Limit) *quantity.Value { return l.Min }
func mostOf(l unit.Limit) *quantity.Value  { return l.Max }

func workPlan(f *form) *result {
	build, err := buildOf(f, planPrefix, "plates", "steel")
	if err != nil {
		return f.blameSize(err, planPrefix, "engine")
	}
	req := clutch.Request{
		Build: build, Use: clutch.Use(f.text("use")), Setting: clutch.Setting(f.text("setting")),
		StockIdle: stockEnd(f, planIdle, leastOf), StockFull: stockEnd(f, planFull, mostOf), StockLocked: stockEnd(f, planLocked, mostOf),
	}
	req.Engine, _ = number[quantity.Torque](f, "engine")
	req.Stall, _ = number[quantity.Ratio](f, "stall")
	req.Margin, _ = number[quantity.Ratio](f, "margin")
	plan, err := req.Make()
	if err != nil {
		return f.blame(err, "engine", blamed{"converter torque ratio", "stall"}, blamed{"margin", "margin"})
	}
	states := []clutch.State{plan.Unlocked, plan.Locked}
	r := &result{call: "none"}
	r.word, r.value = planWords(f, req.Setting, plan)
	r.because = planBecause(f, req, plan)
	for _, s := range states {
		if s.High > 0 && (!s.Enough || !s.Sound) {
			r.call = "unsure"
		}
	}
	wish, wished := number[quantity.Pressure](f, "wish")
	if wished {
		call, said := planWish(f, wish, req, plan)
		r.because = append(said, r.because...)
		if call != "" {
			r.call = call
			r.word, r.value = "Not "+f.linePressure(wish), "The plan: "+r.word+" "+r.value
		}
	}
	body := []app.UI{planPicture(f, states, wish, wished)}
	for _, s := range states {
		body = append(body, facts(stateWords(s.Locked), stateFacts(f, s)...))
	}
	if plan.Low > 0 {
		body = append(body, app.P().Text("With the throttle closed, "+f.linePressure(plan.Low)+" holds about "+f.torqueText(plan.LowHolds)+
			" of the engine, converter not locked: pressure has to rise before the torque does."))
	}
	if req.Setting == clutch.Stock {
		for _, id := range []string{planIdle, planFull, planLocked} {
			if a, ok := f.sheet().Book.Acceptance(id); ok {
				body = append(body, app.H3().Text(a.Name), f.figures(f.sheet().Limits(id)))
			}
		}
	}
	owners := append([]clutch.Owner{}, clampElements...)
	owners = append(owners, clutch.Linings, clutch.InputShaft, clutch.IntermediateShaft, clutch.OutputShaft, clutch.Shafts)
	r.body = append(body,
		app.P().Text("What the trade does with raised pressure:"), part.SourceNote(f.sheet().Book, clutch.FromPractice()),
		bullets(tradeRules(f)...),
		sizesUsed(f, planPrefix, "plates", "steel", owners...),
		part.Fold("What is left out", bullets(leftOut...)))
	r.line = "Pressure plan for " + f.entered("engine") + ", " + f.text("use") + ", " + f.text("setting") + ": " + r.word + " " + r.value + "."
	return r
}

// planWords is the plan in a line: closed throttle, then full throttle.
func planWords(f *form, s clutch.Setting, p clutch.Plan) (word, value string) {
	switch {
	case p.Low == 0 || p.Unlocked.High == 0:
		return "No stock figure is known", "for this version: take it from the maker's manual"
	case s == clutch.Constant:
		return f.linePressure(p.Low), "constant"
	}
	value = "full throttle, not locked"
	if p.Locked.High > 0 {
		value += "; " + f.linePressure(p.Locked.High) + " locked"
	}
	return f.linePressure(p.Low) + " to " + f.linePressure(p.Unlocked.High), value
}

func planBecause(f *form, req clutch.Request, p clutch.Plan) []string {
	var out []string
	for _, s := range []clutch.State{p.Unlocked, p.Locked} {
		when := lowered(stateWords(s.Locked))
		shaft := lowered(clutch.Name(s.Breaks.Of))
		switch {
		case !s.Sound:
			out = append(out, "Weak link, "+when+": the "+shaft+", in "+gearWords(s.Breaks.Gear)+". It yields at "+f.torqueText(s.Breaks.Engine)+
				" of the engine, which leaves no margin. No pressure mends that: less torque in that gear, or a stronger shaft.")
		case s.High > 0 && !s.Enough:
			out = append(out, "Weak link, "+when+": the "+lowered(clutch.Name(s.Needs.Of))+", in "+gearWords(s.Needs.Gear)+". It wants "+f.linePressure(s.Needed)+
				" with the margin. More plates or lining come before more pressure.")
		case s.High > 0:
			out = append(out, "Weak link, "+when+": the "+lowered(clutch.Name(s.Weakest.Of))+", in "+gearWords(s.Weakest.Gear)+", at "+
				quantity.FormatSignificant(s.Safety.Value(), quantity.Number, 3)+" times the engine's torque.")
		}
	}
	if _, said := versionOf(f); said != "" {
		out = append(out, said)
	}
	if !allMine(f, planPrefix, append([]clutch.Owner{clutch.Linings, clutch.InputShaft, clutch.IntermediateShaft, clutch.Shafts}, clampElements...)...) {
		out = append(out, "Worked out with typical sizes: it shows the way, not the last digit.")
	}
	return out
}

// planWish judges a pressure that somebody has in mind. call is empty where it is
// not refused.
func planWish(f *form, wish quantity.Pressure, req clutch.Request, p clutch.Plan) (call string, said []string) {
	for _, s := range []clutch.State{p.Unlocked, p.Locked} {
		when := stateWords(s.Locked) + ", " + f.linePressure(wish) + ": "
		switch clutch.Judge(wish, s.Locked, req.Setting, req.Use) {
		case clutch.Beyond:
			return "bad", []string{f.linePressure(wish) + " in a forward range is beyond sense on any build. It is a fault, not a setting."}
		case clutch.Excessive:
			return "bad", []string{f.linePressure(wish) + " is more than even a heavy working truck bears."}
		case clutch.ShaftsLimit:
			call = "unsure"
			said = append(said, when+"by the trade, shafts and not clutches set the limit here; more pressure buys nothing.")
		case clutch.Tolerable:
			said = append(said, when+"tolerable in a heavy working truck, constant; by the trade, shafts set the limit.")
		case clutch.Usual:
			said = append(said, when+"usual for a raised build.")
		case clutch.Low:
			said = append(said, when+"less than raised builds have.")
		}
		if wish < s.Needed {
			call = "unsure"
			said = append(said, "By the sizes, the "+lowered(clutch.Name(s.Needs.Of))+" wants "+f.linePressure(s.Needed)+" there.")
		}
		if wish > s.Useful {
			said = append(said, "By the sizes, the "+lowered(clutch.Name(s.Breaks.Of))+" is the weak link above "+f.linePressure(s.Useful)+" there.")
		}
	}
	return call, said
}

func stateWords(locked bool) string {
	if locked {
		return "Converter clutch locked"
	}
	return "Converter clutch not locked"
}

func stateFacts(f *form, s clutch.State) []fact {
	agree := "The two part here."
	if s.Agrees {
		agree = "The two agree within a quarter."
	}
	rows := []fact{
		{"Needed, with the margin", f.linePressure(s.Needed) + ", for the " + lowered(clutch.Name(s.Needs.Of)) + " in " + gearWords(s.Needs.Gear)},
		{"Of use up to, by the sizes", f.linePressure(s.Useful) + ": above it the " + lowered(clutch.Name(s.Breaks.Of)) + " goes first, in " + gearWords(s.Breaks.Gear)},
		{"Shafts set the limit, by the trade", "from about " + f.linePressure(s.TradeLimit) + ". " + agree},
	}
	if s.High > 0 {
		rows = append(rows, fact{"Plan, full throttle", f.linePressure(s.High)})
	}
	return rows
}

// tradeRules are what the trade knows of raised pressure.
func tradeRules(f *form) []string {
	return []string{
		"A raised build that ranges goes from about " + f.linePressure(clutch.RangingLeast) + " to about " + f.linePressure(clutch.RangingLocked) +
			" locked and " + f.linePressure(clutch.RangingUnlocked) + " not locked. From there shafts, not clutches, set the limit.",
		"A constant " + f.linePressure(clutch.ConstantMost) + " is tolerable in a heavy working truck.",
		"From " + f.linePressure(clutch.BeyondSense) + " on it is beyond sense.",
	}
}

// planPicture is one row for each state on one scale of pressure.
func planPicture(f *form, states []clutch.State, wish quantity.Pressure, wished bool) app.UI {
	var all []quantity.Pressure
	for _, s := range states {
		all = append(all, s.Needed, s.Useful, s.TradeLimit, s.High)
	}
	if wished {
		all = append(all, wish)
	}
	a := axisFor(f, all...)
	var b strings.Builder
	said := ""
	y := 18.0
	for _, s := range states {
		clampWords(&b, clampLeft, y, stateWords(s.Locked)+", "+f.units().Unit(quantity.PSI).Name)
		said += stateWords(s.Locked) + ": "
		y += 68
		a.zones(&b, "plan", y, s.Needed, s.Useful)
		points := []quantity.Pressure{s.Needed, s.Useful, s.TradeLimit}
		lines := []string{"1  needed " + f.linePressure(s.Needed), "2  shaft goes first above " + f.linePressure(s.Useful), "3  the trade's limit, about " + f.linePressure(s.TradeLimit)}
		if s.High > 0 {
			points = append(points, s.High)
			lines = append(lines, "4  plan "+f.linePressure(s.High))
		}
		if wished {
			points = append(points, wish)
			lines = append(lines, string(rune('0'+len(points)))+"  yours "+f.linePressure(wish))
		}
		a.marks(&b, y, points...)
		y += clampBar
		a.ticks(&b, y)
		y += 46
		for i, l := range lines {
			clampWords(&b, clampLeft, y, l)
			y += clampLine
			said += l[3:]
			if i < len(lines)-1 {
				said += ", "
			}
		}
		said += ". "
		y += 16
	}
	return clampSVG("plan", "Line pressure needed, of use, and planned", strings.TrimSpace(said), y, b.String())
}

// regulatorPanel says which way the regulator's nut goes, and how far.
var regulatorPanel = &panel{
	id:      "regulator",
	heading: "Which way the regulator goes",
	intro:   "From what the gauge reads to what it should read, at the same throttle, range and temperature.",
	empty:   "Type both pressures.",
	inputs: []input{
		{key: "from", label: "Line pressure now", kind: quantity.KindPressure, units: pressures, want: "Type what the gauge reads."},
		{key: "to", label: "Line pressure wanted", kind: quantity.KindPressure, units: pressures, want: "Type what it should read."},
	},
	work: workRegulator,
}

func workRegulator(f *form) *result {
	from, _ := number[quantity.Pressure](f, "from")
	to, _ := number[quantity.Pressure](f, "to")
	sheet := f.sheet()
	limits := sheet.Limits(planTurn)
	if len(limits) == 0 || limits[0].Min == nil {
		return &result{call: "none", word: "No change for one turn is known", because: []string{"Take it from the maker's manual, and go by the gauge."}}
	}
	turn, err := clutch.Regulator(from, to, quantity.Pressure(limits[0].Min.SI))
	if err != nil {
		return f.blame(err, "from")
	}
	r := &result{call: "none"}
	switch {
	case turn.Turns < 0.05:
		r.word = "Leave it"
	case turn.In:
		r.word = "Turn the nut in"
	default:
		r.word = "Turn the nut out"
	}
	if turn.Turns >= 0.05 {
		r.value = "about " + quantity.FormatSignificant(turn.Turns.Value(), quantity.Turn, 2)
		if !turn.Reach {
			r.call, r.word = "unsure", "Not by the nut"
			r.value = map[bool]string{true: "a stronger spring", false: "a weaker spring"}[turn.In]
			r.because = append(r.because, "It would take about "+quantity.FormatSignificant(turn.Turns.Value(), quantity.Turn, 2)+
				". So far a nut is not turned; another spring of the regulator does it, and the nut trims.")
		}
	}
	r.because = append(r.because, "In raises line pressure, out lowers it. The maker's manual and the gauge have the last word: set, run it hot, read again. Line pressure in R rises with it.")
	var figures []app.UI
	for _, id := range []string{planTurn, planNut} {
		if a, ok := sheet.Book.Acceptance(id); ok {
			figures = append(figures, app.H3().Text(a.Name), f.figures(sheet.Limits(id)))
		}
	}
	r.body = []app.UI{part.Fold("The figures behind it", figures...)}
	r.line = "Regulator, from " + f.entered("from") + " to " + f.entered("to") + ": " + lowered(r.word) + ", " + r.value + "."
	return r
}
