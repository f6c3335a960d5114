package diagnosis

import (
	"strings"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A coil whose temperature nobody said may be anywhere between a winter's cold
// soak and a hot pan: 50 °C, give or take 60 °C (common practice). The verdict
// then holds whatever it was.
const (
	unknownWinding = 50 // °C
	unknownSpread  = 60 // K
)

// judgeCoil judges a coil's ohms at the temperature of its winding.
func (e *Engine) judgeCoil(j *Judgement, c *Case, check *catalogue.Check, q *catalogue.Reading, r quantity.Reading, n *Entry) {
	m := coil.Measurement{Reading: r, Soaked: n.Soaked, Where: e.place(check)}
	if n.Percent != "" || n.Digits != "" {
		a, _, _ := entryAccuracy(r, n)
		m.Meter = &a
	}
	if n.Leads != "" {
		leads, err := quantity.Parse(quantity.KindResistance, n.Leads, quantity.DefaultUnit(quantity.KindResistance))
		if err != nil {
			j.Field, j.Problem = "leads", sentence(err)
			return
		}
		m.Leads = leads
	}
	if n.At == "" {
		m.Temperature, m.Spread = quantity.FromCelsius(unknownWinding), unknownSpread
	} else {
		at, err := quantity.Parse(quantity.KindTemperature, n.At, quantity.DefaultUnit(quantity.KindTemperature))
		if err != nil {
			j.Field, j.Problem = "at", sentence(err)
			return
		}
		m.Temperature = quantity.Temperature(at.SI)
	}
	for k := range j.Limits {
		m.Windows = append(m.Windows, e.window(&j.Limits[k]))
	}
	m.Others, m.Units = e.otherCoils(c, q.Acceptance), e.Units
	result, err := m.Judge()
	if err != nil {
		j.Field, j.Problem = "reading", sentence(err)
		return
	}
	j.Verdict, j.Probability = result.Judgement.Verdict, result.Judgement.Probability
	if j.Reason = result.Explanation; j.Reason == "" {
		j.Reason = result.Judgement.Reason
	}
	if len(result.Notes) > 0 && n.At != "" {
		j.Reason += " " + strings.Join(result.Notes, " ")
	}
	if n.At == "" && !r.OpenLoop {
		j.Reason += " No temperature was given, so the verdict counts on anything from a cold soak to a hot pan; with the winding's temperature it is sharper."
	}
	var shows []string
	for _, x := range result.Expected {
		shows = append(shows, x.String())
	}
	if n.At != "" {
		j.Shows = strings.Join(shows, "; ")
	}
	if result.Is(coil.OpenCircuit) {
		// An open coil is a failed coil whatever the temperature, also when
		// moisture across the break gives the meter something to show.
		j.Verdict = conformity.Open
	}
}

// place says what is measured along with the coil at a check's access level.
func (e *Engine) place(check *catalogue.Check) coil.Place {
	switch level := e.Catalogue.LevelIndex(check.Level); {
	case level >= e.Catalogue.LevelIndex("pan"):
		return coil.Part
	case level >= e.Catalogue.LevelIndex("plug"):
		return coil.Connector
	}
	return coil.Harness
}

// otherCoils returns the windows of the coils that sit behind the same plug.
func (e *Engine) otherCoils(c *Case, own string) []conformity.Window {
	var others []conformity.Window
	sheet := e.Sheet(c)
	for _, o := range unit.Coils {
		if o.Acceptance == own {
			continue
		}
		for _, l := range sheet.Limits(o.Acceptance) {
			w := e.window(&l)
			w.Name = o.Name
			others = append(others, w)
		}
	}
	return others
}
