package bench

import (
	"net/url"
	"strings"

	"provingbench/knowledge/coil"
	"provingbench/knowledge/quantity"
)

// riseForm is what is typed to find how warm a winding is.
type riseForm struct {
	Cold, ColdAt string // ohms of the cold winding, and its temperature
	Warm         string // ohms of the warm winding
	Room         string // the surroundings at the end; may stay empty
	Unit         string // of the temperatures
}

func newRiseForm() riseForm { return riseForm{Unit: quantity.Fahrenheit.Name} }

func (f *riseForm) inputs() []input {
	return []input{{"cold", &f.Cold}, {"coldat", &f.ColdAt}, {"warm", &f.Warm}, {"room", &f.Room}, {"riseunit", &f.Unit}}
}

func (f riseForm) query() url.Values {
	q := toQuery(f.inputs())
	if f.Unit == newRiseForm().Unit {
		q.Del("riseunit")
	}
	return q
}

func riseFormFrom(q url.Values) riseForm {
	f := newRiseForm()
	fromQuery(f.inputs(), q)
	if _, ok := quantity.UnitNamed(quantity.KindTemperature, f.Unit); !ok || f.Unit == "" {
		f.Unit = newRiseForm().Unit
	}
	return f
}

// riseOutcome is what the two resistances come to.
type riseOutcome struct {
	Problems problems
	Ready    bool
	Winding  quantity.Temperature
	Rise     float64 // in kelvin over the surroundings
	Risen    bool    // the surroundings were given, so that there is a rise
}

// work finds how warm the winding is, from how far its ohms rose.
func (f riseForm) work() riseOutcome {
	out := riseOutcome{Problems: problems{}}
	p := out.Problems
	const open = "OL has no temperature: an open winding is broken whatever it is."
	cold, okCold := p.closed("cold", f.Cold, "", open)
	at, okAt := p.parse("coldat", quantity.KindTemperature, f.ColdAt, f.Unit)
	warm, okWarm := p.closed("warm", f.Warm, "", open)
	room, okRoom := p.parse("room", quantity.KindTemperature, f.Room, f.Unit)
	if f.Cold+f.ColdAt+f.Warm != "" {
		for _, x := range []struct{ key, text, want string }{
			{"cold", f.Cold, "Type the ohms of the cold winding."},
			{"coldat", f.ColdAt, "Type the temperature that the cold winding had."},
			{"warm", f.Warm, "Type the ohms of the warm winding."},
		} {
			if x.text == "" {
				p[x.key] = x.want
			}
		}
	}
	if len(p) > 0 || !okCold || !okAt || !okWarm {
		return out
	}
	r1, t1, r2 := quantity.Resistance(cold.SI), quantity.Temperature(at.SI), quantity.Resistance(warm.SI)
	var err error
	if out.Winding, err = coil.Winding.Temperature(r1, t1, r2); err != nil {
		p[riseBlamed(err)] = sentence(err)
		return out
	}
	if okRoom {
		if out.Rise, err = coil.Winding.Rise(r1, t1, r2, quantity.Temperature(room.SI)); err != nil {
			p["room"] = sentence(err)
			return out
		}
		out.Risen = true
	}
	out.Ready = true
	return out
}

// riseBlamed is the field that an error of package coil speaks of.
func riseBlamed(err error) string {
	text := err.Error()
	switch {
	case strings.Contains(text, "temperature of the known"):
		return "coldat"
	case strings.Contains(text, "warm resistance"), strings.Contains(text, "winding temperature"):
		return "warm"
	}
	return "cold"
}
