package bench

import (
	"math"
	"net/url"
	"strings"

	"provingbench/app/part"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/fluid"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// The sheet's figures about fluid temperature, coldest first.
const (
	heatBlocked = "temperature-overdrive-blocked-cold"
	heatNormal  = "temperature-normal"
	heatSeals   = "temperature-seals"
	heatHot     = "temperature-hot-strategy"
	heatLamp    = "temperature-lamp"
)

var heatFigures = []string{heatBlocked, heatNormal, heatSeals, heatHot, heatLamp}

// heatForm is a fluid temperature as typed.
type heatForm struct{ At, Unit string }

func newHeatForm() heatForm { return heatForm{Unit: quantity.Fahrenheit.Name} }

func (f *heatForm) inputs() []input { return []input{{"at", &f.At}, {"unit", &f.Unit}} }

func (f heatForm) query() url.Values {
	q := toQuery(f.inputs())
	if f.Unit == newHeatForm().Unit {
		q.Del("unit")
	}
	return q
}

func heatFormFrom(q url.Values) heatForm {
	f := newHeatForm()
	fromQuery(f.inputs(), q)
	if _, ok := quantity.UnitNamed(quantity.KindTemperature, f.Unit); !ok || f.Unit == "" {
		f.Unit = newHeatForm().Unit
	}
	return f
}

// heatOutcome is what a fluid temperature comes to.
type heatOutcome struct {
	Problems  problems
	Ready     bool
	At        quantity.Temperature
	State     fluid.State
	Aged      bool    // the two shares are there
	Halving   float64 // life as a share of that at the chart's reference
	Arrhenius float64
}

func (f heatForm) work(sheet unit.Sheet) heatOutcome {
	out := heatOutcome{Problems: problems{}}
	r, ok := out.Problems.parse("at", quantity.KindTemperature, f.At, f.Unit)
	if !ok {
		return out
	}
	out.Ready, out.At = true, quantity.Temperature(r.SI)
	out.State = fluid.Judge(r, conformity.Default(r).Standard(r), heatLimits(sheet))
	var errH, errA error
	out.Halving, errH = fluid.Halving(out.At, fluid.ChartReference, fluid.ChartStep)
	out.Arrhenius, errA = fluid.Arrhenius(out.At, fluid.ChartReference, fluid.ChartEnergy)
	out.Aged = errH == nil && errA == nil
	return out
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

// sensorForm is two readings of a sensor at two known temperatures, and a third
// temperature to foretell.
type sensorForm struct {
	OhmsA, AtA, OhmsB, AtB, Third string
	Unit                          string
}

func newSensorForm() sensorForm { return sensorForm{Unit: quantity.Fahrenheit.Name} }

func (f *sensorForm) inputs() []input {
	return []input{{"ra", &f.OhmsA}, {"ta", &f.AtA}, {"rb", &f.OhmsB}, {"tb", &f.AtB}, {"tc", &f.Third}, {"sensorunit", &f.Unit}}
}

func (f sensorForm) query() url.Values {
	q := toQuery(f.inputs())
	if f.Unit == newSensorForm().Unit {
		q.Del("sensorunit")
	}
	return q
}

func sensorFormFrom(q url.Values) sensorForm {
	f := newSensorForm()
	fromQuery(f.inputs(), q)
	if _, ok := quantity.UnitNamed(quantity.KindTemperature, f.Unit); !ok || f.Unit == "" {
		f.Unit = newSensorForm().Unit
	}
	return f
}

// sensorOutcome is what two readings of a sensor come to.
type sensorOutcome struct {
	Problems problems
	Ready    bool
	Sensor   fluid.Sensor
	Foretold bool // Estimate holds what it should read at Third
	Third    quantity.Temperature
	Estimate fluid.Estimate
}

func (f sensorForm) work() sensorOutcome {
	out := sensorOutcome{Problems: problems{}}
	p := out.Problems
	const open = "OL: the sensor or a wire to it is open. That is the fault; there is nothing to compare."
	a, okA := p.closed("ra", f.OhmsA, "", open)
	ta, okTA := p.parse("ta", quantity.KindTemperature, f.AtA, f.Unit)
	b, okB := p.closed("rb", f.OhmsB, "", open)
	tb, okTB := p.parse("tb", quantity.KindTemperature, f.AtB, f.Unit)
	tc, okTC := p.parse("tc", quantity.KindTemperature, f.Third, f.Unit)
	if f.OhmsA+f.AtA+f.OhmsB+f.AtB+f.Third != "" {
		for _, x := range []struct{ key, text, want string }{
			{"ra", f.OhmsA, "Type the ohms of the first reading."}, {"ta", f.AtA, "Type the temperature that the sensor had."},
			{"rb", f.OhmsB, "Type the ohms of the second reading."}, {"tb", f.AtB, "Type the temperature that the sensor had."},
		} {
			if x.text == "" {
				p[x.key] = x.want
			}
		}
	}
	if len(p) > 0 || !okA || !okTA || !okB || !okTB {
		return out
	}
	point := func(r, t quantity.Reading) fluid.Point {
		return fluid.Point{Reading: r, Temperature: quantity.Temperature(t.SI)}
	}
	var err error
	if out.Sensor, err = fluid.Identify(point(a, ta), point(b, tb)); err != nil {
		p[sensorBlamed(err)] = sentence(err)
		return out
	}
	out.Ready = true
	if okTC {
		out.Third = quantity.Temperature(tc.SI)
		if out.Estimate, out.Foretold, err = out.Sensor.At(out.Third); err != nil {
			p["tc"] = sentence(err)
			out.Ready = false
		}
	}
	return out
}

// sensorBlamed is the field that an error of package fluid speaks of.
func sensorBlamed(err error) string {
	text := err.Error()
	second := strings.Contains(text, "second")
	switch {
	case strings.Contains(text, "temperature") && second:
		return "tb"
	case strings.Contains(text, "temperature"):
		return "ta"
	case second:
		return "rb"
	}
	return "ra"
}
