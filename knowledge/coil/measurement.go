package coil

import (
	"fmt"
	"math"
	"strings"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Place is where the meter's probes were.
type Place string

// The places.
const (
	Part      Place = "part"      // on the solenoid's own terminals
	Connector Place = "connector" // at the case plug: the wiring inside the case is measured too
	Harness   Place = "harness"   // through the truck's harness: its wires and pins are measured too
)

// A Measurement is what a technician has after measuring a coil.
type Measurement struct {
	// Reading is what the meter shows, ohms or OL, with the leads still in it.
	Reading quantity.Reading
	// Leads is what the meter shows with its probes held together; 0 after the
	// meter was zeroed. The zero Reading stands for "not measured".
	Leads quantity.Reading
	// Meter is the meter's accuracy; nil for that of an ordinary hand-held one.
	Meter *conformity.Accuracy
	// Temperature is the winding's. The zero value stands for "not known".
	Temperature quantity.Temperature
	// Soaked is true when the unit stood long enough to have the temperature of
	// its surroundings, and Temperature is theirs.
	Soaked bool
	// Spread is the most by which the winding's temperature can be off, in
	// kelvin; 0 for SoakedSpread or WarmSpread.
	Spread float64
	Where  Place
	// Windows are the acceptance windows, one for each source.
	Windows []conformity.Window
	// Reference is the temperature at which the windows hold. The zero value
	// stands for "the source states none": then 20 °C is assumed, and the doubt
	// about it counts as uncertainty.
	Reference quantity.Temperature
	// Others are the windows of the other coils that can be reached from the
	// same place, by name, so that swapped pins are noticed.
	Others []conformity.Window
	// Insulation is what the meter shows from a pin to the case; the zero
	// Reading stands for "not measured". InsulationWindow says what is allowed.
	Insulation       quantity.Reading
	InsulationWindow conformity.Window
	// Supplies are the voltages for which currents are wanted.
	Supplies []quantity.Voltage
	// HotAt is how warm the winding gets in service; 0 for 100 °C.
	HotAt quantity.Temperature
	// Units are those in which the explanation is given.
	Units quantity.Preference
	// Rule decides; its zero value calls by 95 % probability.
	Rule conformity.Rule
}

// What is assumed when the technician states nothing. All of it is common
// practice or memory, as it says; none of it decides alone.
const (
	// SoakedSpread is how far a soaked unit's winding can be from the air around
	// it, in kelvin (common practice).
	SoakedSpread = 3
	// WarmSpread is how far a winding can be from the pan or the scan tool's
	// reading in a unit that ran, in kelvin (common practice).
	WarmSpread = 10
	// ReferenceSpread is the doubt about a reference temperature that the source
	// does not state, in kelvin about 20 °C (common practice: a workshop).
	ReferenceSpread = 5
	// UnmeasuredLeads is the most that leads have when nobody measured them, in
	// ohm (makers of meters say 0.2 to 0.5 ohm).
	UnmeasuredLeads = 0.5
	// OpenFactor times the greatest allowed is taken for an open coil with
	// moisture or fluid across the break (common practice). A coil mix-up is
	// under it: 40 ohm is eight times 5 ohm.
	OpenFactor = 20
	// HeldCurrent is the most that the governor driver lets flow on average, in
	// ampere (maker's handbook: governor system description). A coil that draws
	// more when 12 V is held on it is heated beyond what it is made for.
	HeldCurrent = 1
)

// MaxLeads is the most that is believed of leads; leads with more are broken.
const MaxLeads quantity.Resistance = 2

// A Diagnosis is what a measurement says about the coil and its wiring.
type Diagnosis string

// The diagnoses.
const (
	Healthy      Diagnosis = "healthy"
	OpenCircuit  Diagnosis = "open"          // winding or wire broken
	ShortCircuit Diagnosis = "short"         // both pins connected by about nothing
	TurnsShorted Diagnosis = "turns-shorted" // part of the winding bridged
	TooHigh      Diagnosis = "high"          // something in series: corrosion, a bad crimp, the wrong part
	OtherCoil    Diagnosis = "other-coil"    // reads like another coil of the same plug
	ShortToCase  Diagnosis = "short-to-case" // the winding touches the case
	Undecided    Diagnosis = "undecided"
)

// A Share is part of a whole, from the least to the greatest that is possible.
type Share struct{ Least, Most float64 }

// A Contribution is one part of the uncertainty.
type Contribution struct {
	Name     string
	Standard quantity.Resistance // of the resistance at the reference temperature
}

// An Expectation is one window as the meter would show it now: warm, and with
// the leads in it.
type Expectation struct {
	Name     string
	Min, Max *quantity.Resistance
}

// A Draw is what one supply drives through the winding.
type Draw struct {
	Supply    quantity.Voltage
	Cold, Hot quantity.Current // at the reference temperature and at HotAt
}

// A Result is what a measurement comes to.
type Result struct {
	Net         quantity.Resistance // without the leads, at the winding's temperature
	Referred    quantity.Resistance // at the reference temperature
	Standard    quantity.Resistance // standard uncertainty of Referred
	Budget      []Contribution      // what Standard is made of
	Reference   quantity.Temperature
	Expected    []Expectation
	Judgement   conformity.Result
	Insulation  *conformity.Result  // nil when it was not measured
	Diagnoses   []Diagnosis         // never empty; the gravest first
	Bridged     Share               // of the turns, with TurnsShorted
	Extra       quantity.Resistance // least series resistance at the winding's temperature, with TooHigh
	Reads       string              // name of the other coil, with OtherCoil
	Draws       []Draw
	HoldWarning string   // not empty when battery voltage must not be held on this coil
	Notes       []string // assumptions that were made, in full sentences
	Explanation string   // what it comes to, in full sentences
}

// Is reports whether d is among the diagnoses.
func (r Result) Is(d Diagnosis) bool {
	for _, x := range r.Diagnoses {
		if x == d {
			return true
		}
	}
	return false
}

// Judge works a measurement out.
//
//	R_ref = (R_reading − R_leads) · (k + t_ref) / (k + t)   with k = 235 °C
//	u² = Σ (∂R_ref/∂x · u_x)²   over reading, leads, t and t_ref
//
// An open reading is judged whatever the temperature. A reading without a
// temperature gets no verdict. Temperatures must lie in ValidTemperature, leads
// in 0 to MaxLeads. It assumes the limits of error to be rectangular and
// independent of each other, and an even temperature through the winding.
// Errors: *quantity.RangeError naming the argument; leads with more resistance
// than the reading, beyond what the meter can be off, are one.
// Source: IEC 60034-1 and JCGM 100:2008 (GUM), 5.1.2; checked in measurement_test.go.
func (m Measurement) Judge() (Result, error) {
	if err := m.check(); err != nil {
		return Result{}, err
	}
	res := Result{Reference: m.Reference}
	if m.Reference == 0 {
		res.Reference = quantity.FromCelsius(20)
	}
	if err := m.judgeInsulation(&res); err != nil {
		return Result{}, err
	}
	switch {
	case m.Reading.Kind == "":
		res.Judgement = conformity.JudgeAll(quantity.Reading{}, 0, m.Windows, nil, m.Rule)
	case m.Reading.OpenLoop:
		res.Judgement = conformity.JudgeAll(m.Reading, 0, m.Windows, nil, m.Rule)
		m.expect(&res)
	case m.Temperature == 0:
		res.Judgement = conformity.Result{Verdict: conformity.None,
			Reason: "The winding's temperature is not known, and it moves a coil's ohms by 4 % for every " + m.apart(10) + ". There is no verdict without it."}
	default:
		if err := m.refer(&res); err != nil {
			return Result{}, err
		}
		m.expect(&res)
		m.judge(&res)
		if err := m.draw(&res); err != nil {
			return Result{}, err
		}
	}
	m.diagnose(&res)
	m.note(&res)
	m.explain(&res)
	return res, nil
}

func (m Measurement) check() error {
	if m.Reading.Kind != "" && !m.Reading.OpenLoop {
		if err := m.within("reading", m.Reading, 1e10); err != nil {
			return err
		}
	}
	if m.Leads.Kind != "" {
		leads := m.Leads
		if leads.OpenLoop {
			leads.SI = math.Inf(1)
		}
		if err := m.within("lead resistance", leads, MaxLeads); err != nil {
			return err
		}
	}
	if m.Temperature != 0 {
		if err := checkTemperature("winding temperature", m.Temperature); err != nil {
			return err
		}
	}
	if m.Reference != 0 {
		if err := checkTemperature("reference temperature", m.Reference); err != nil {
			return err
		}
	}
	if m.HotAt != 0 {
		if err := checkTemperature("service temperature", m.HotAt); err != nil {
			return err
		}
	}
	number := func(x float64) quantity.Value { return quantity.Value{Kind: quantity.KindRatio, SI: x} }
	return quantity.Within("coil", "spread of the temperature in kelvin", number(m.Spread), number(0), number(100), quantity.Number)
}

func (m Measurement) within(name string, r quantity.Reading, most quantity.Resistance) error {
	return quantity.Within("coil", name, quantity.Resistance(r.SI).Value(), quantity.Resistance(0).Value(), most.Value(), quantity.Ohm)
}

func (m Measurement) meter(r quantity.Reading) conformity.Accuracy {
	if m.Meter != nil {
		return *m.Meter
	}
	return conformity.Default(r)
}

// leads returns the leads' resistance and its standard uncertainty.
func (m Measurement) leads() (r, u float64) {
	if m.Leads.Kind == "" {
		// Anything from nothing to UnmeasuredLeads is equally likely.
		return UnmeasuredLeads / 2, UnmeasuredLeads / 2 / math.Sqrt(3)
	}
	leads := m.Leads
	if leads.SI == 0 && m.Reading.Resolution > 0 {
		// "0" says that the meter was zeroed, not that it shows whole ohms: it is
		// on the range that the coil was read on.
		leads.Resolution = math.Min(leads.Resolution, m.Reading.Resolution)
	}
	return leads.SI, m.meter(leads).Standard(leads)
}

func (m Measurement) spread() float64 {
	switch {
	case m.Spread > 0:
		return m.Spread
	case m.Soaked:
		return SoakedSpread
	}
	return WarmSpread
}

// refer fills in the resistance at the reference temperature and its budget.
func (m Measurement) refer(res *Result) error {
	leads, uLeads := m.leads()
	uReading := m.meter(m.Reading).Standard(m.Reading)
	net := m.Reading.SI - leads
	if net < 0 {
		if m.Leads.Kind != "" && -net > 2*math.Hypot(uReading, uLeads) {
			return m.within("lead resistance", m.Leads, quantity.Resistance(m.Reading.SI))
		}
		net = 0 // two readings of about nothing
	}
	factor := Winding.ratio(m.Temperature, res.Reference)
	referred := net * factor
	warm, ref := float64(Winding)+m.Temperature.Celsius(), float64(Winding)+res.Reference.Celsius()

	budget := []Contribution{
		{"meter", quantity.Resistance(factor * uReading)},
		{"leads", quantity.Resistance(factor * uLeads)},
		{"temperature of the winding", quantity.Resistance(referred / warm * m.spread() / math.Sqrt(3))},
	}
	if m.Reference == 0 {
		budget = append(budget, Contribution{"reference temperature not stated", quantity.Resistance(referred / ref * ReferenceSpread / math.Sqrt(3))})
	}
	sum := 0.0
	for _, c := range budget {
		sum += float64(c.Standard) * float64(c.Standard)
	}
	res.Net, res.Referred = quantity.Resistance(net), quantity.Resistance(referred)
	res.Standard, res.Budget = quantity.Resistance(math.Sqrt(sum)), budget
	return nil
}

// expect fills in what the meter should show now.
func (m Measurement) expect(res *Result) {
	if m.Temperature == 0 {
		return
	}
	leads, _ := m.leads()
	now := func(v *quantity.Value) *quantity.Resistance {
		if v == nil || v.Kind != quantity.KindResistance {
			return nil
		}
		r := quantity.Resistance(v.SI*Winding.ratio(res.Reference, m.Temperature) + leads)
		return &r
	}
	for _, w := range m.Windows {
		res.Expected = append(res.Expected, Expectation{w.Name, now(w.Min), now(w.Max)})
	}
}

func (e Expectation) String() string {
	show := func(r quantity.Resistance) string {
		return quantity.FormatSignificant(r.Value(), quantity.Ohm, 3)
	}
	switch {
	case e.Min != nil && e.Max != nil:
		return "Your meter should show between " + show(*e.Min) + " and " + show(*e.Max) + " now."
	case e.Min != nil:
		return "Your meter should show at least " + show(*e.Min) + " now."
	case e.Max != nil:
		return "Your meter should show at most " + show(*e.Max) + " now."
	}
	return ""
}

func (m Measurement) at(res *Result) quantity.Reading {
	return quantity.Reading{Kind: quantity.KindResistance, SI: float64(res.Referred), Resolution: m.Reading.Resolution, Text: m.Reading.Text}
}

// limits returns the least and the greatest that any window allows; an absent
// limit is 0 or infinite.
func (m Measurement) limits() (least, most float64) {
	least, most = math.Inf(1), 0
	for _, w := range m.Windows {
		if w.Min == nil {
			least = 0
		} else {
			least = math.Min(least, w.Min.SI)
		}
		if w.Max == nil {
			most = math.Inf(1)
		} else {
			most = math.Max(most, w.Max.SI)
		}
	}
	if math.IsInf(least, 1) {
		least = 0
	}
	if most == 0 {
		most = math.Inf(1)
	}
	return least, most
}

func (m Measurement) judge(res *Result) {
	res.Judgement = conformity.JudgeAll(m.at(res), float64(res.Standard), m.Windows, nil, m.Rule)
	_, most := m.limits()
	if res.Judgement.Verdict == conformity.Above && float64(res.Referred) > OpenFactor*most {
		res.Judgement.Verdict = conformity.Open
		res.Judgement.Reason = fmt.Sprintf("%s is far more than any winding of this kind has: what the meter finds is dirt or fluid across a break.",
			quantity.FormatSignificant(res.Net.Value(), quantity.Ohm, 3))
	}
}

func (m Measurement) judgeInsulation(res *Result) error {
	if m.Insulation.Kind == "" {
		return nil
	}
	if !m.Insulation.OpenLoop {
		if err := m.within("insulation reading", m.Insulation, 1e10); err != nil {
			return err
		}
	}
	r := conformity.Judge(m.Insulation, m.meter(m.Insulation).Standard(m.Insulation), m.InsulationWindow, m.Rule)
	res.Insulation = &r
	return nil
}

func (m Measurement) draw(res *Result) error {
	v := res.Judgement.Verdict
	if v == conformity.Short || v == conformity.Open || res.Referred < 0.1 {
		return nil // no current of a winding
	}
	hotAt := m.HotAt
	if hotAt == 0 {
		hotAt = quantity.FromCelsius(100)
	}
	hot, err := Winding.Resistance(res.Referred, res.Reference, hotAt)
	if err != nil {
		return err
	}
	for _, u := range m.Supplies {
		cold, err := Current(u, res.Referred)
		if err != nil {
			return err
		}
		warm, err := Current(u, hot)
		if err != nil {
			return err
		}
		res.Draws = append(res.Draws, Draw{u, cold, warm})
	}
	// 12 V, the least that a healthy battery has, is enough to find out.
	if held := 12 / float64(res.Referred); held > HeldCurrent {
		res.HoldWarning = fmt.Sprintf("NOTICE: never hold battery voltage on this coil. It draws about %.0f A and overheats; its driver pulses it to %d A on average. Let the truck drive it, or use a current-limited supply as the maker's manual says.", held, HeldCurrent)
	}
	return nil
}

func (m Measurement) diagnose(res *Result) {
	if res.Insulation != nil && res.Insulation.Verdict.Is(conformity.Below) {
		res.Diagnoses = append(res.Diagnoses, ShortToCase)
	}
	least, most := m.limits()
	r, off := float64(res.Referred), 2*float64(res.Standard)
	v := res.Judgement.Verdict
	switch {
	case v == conformity.Meets:
		if res.Insulation == nil || res.Insulation.Verdict == conformity.Meets {
			res.Diagnoses = append(res.Diagnoses, Healthy)
		} else if len(res.Diagnoses) == 0 {
			res.Diagnoses = append(res.Diagnoses, Undecided)
		}
	case v == conformity.Open:
		res.Diagnoses = append(res.Diagnoses, OpenCircuit)
	case v == conformity.Short:
		res.Diagnoses = append(res.Diagnoses, ShortCircuit)
	case v.Is(conformity.Below), v.Is(conformity.Above):
		if name := m.other(res); name != "" {
			res.Reads = name
			res.Diagnoses = append(res.Diagnoses, OtherCoil)
		}
		if v.Is(conformity.Below) {
			res.Diagnoses = append(res.Diagnoses, TurnsShorted)
			res.Bridged = Share{Least: math.Max(0, 1-(r+off)/least), Most: 1}
			if !math.IsInf(most, 1) {
				res.Bridged.Most = math.Min(1, 1-math.Max(0, r-off)/most)
			}
		} else {
			res.Diagnoses = append(res.Diagnoses, TooHigh)
			res.Extra = quantity.Resistance(math.Max(0, (r-off-most)/Winding.ratio(m.Temperature, res.Reference)))
		}
	default:
		res.Diagnoses = append(res.Diagnoses, Undecided)
	}
}

// other returns the name of another coil whose window the reading meets.
func (m Measurement) other(res *Result) string {
	for _, w := range m.Others {
		if conformity.Judge(m.at(res), float64(res.Standard), w, m.Rule).Verdict == conformity.Meets {
			return w.Name
		}
	}
	return ""
}

// apart is a difference of temperatures, given in kelvin, as the person reads it.
func (m Measurement) apart(k float64) string {
	u := m.Units.Unit(quantity.Fahrenheit)
	return quantity.FormatSignificant(quantity.Value{Kind: u.Kind, SI: u.SI(k / u.Step(1))}, u, 2)
}

func (m Measurement) note(res *Result) {
	if m.Reading.Kind == "" {
		return
	}
	add := func(format string, args ...any) { res.Notes = append(res.Notes, fmt.Sprintf(format, args...)) }
	if m.Reference == 0 {
		add("The source states no temperature. Its figures are taken to hold at %s, give or take %s, which is counted in.",
			m.Units.Format(quantity.FromCelsius(20).Value(), quantity.Fahrenheit, 0), m.apart(ReferenceSpread))
	}
	if m.Leads.Kind == "" && !m.Reading.OpenLoop {
		add("The leads were not measured. They are taken to have 0 to %g ohm, which is counted in. Hold the probes together and read them.", UnmeasuredLeads)
	}
	if !m.Reading.OpenLoop && m.Temperature != 0 && m.Spread == 0 {
		if m.Soaked {
			add("The winding is taken to have the temperature around it, give or take %s.", m.apart(SoakedSpread))
		} else {
			add("The winding is taken to have the given temperature, give or take %s: it is not the pan's right after a run.", m.apart(WarmSpread))
		}
	}
	if m.Meter == nil && !m.Reading.OpenLoop {
		add("The meter is taken to be %s.", conformity.Default(m.Reading).Source)
	}
	switch m.Where {
	case Connector:
		add("Measured at the case plug, so the wiring inside the case is in the reading. Measure at the solenoid before you condemn it.")
	case Harness:
		add("Measured through the harness, so its wires and pins are in the reading. Measure at the case plug next.")
	}
}

func (m Measurement) explain(res *Result) {
	var s []string
	if m.Reading.Kind != "" && !m.Reading.OpenLoop && m.Temperature != 0 {
		s = append(s, fmt.Sprintf("%s without the leads at %s is %s at %s.",
			quantity.FormatSignificant(res.Net.Value(), quantity.Ohm, 3), m.degrees(m.Temperature),
			quantity.FormatSignificant(res.Referred.Value(), quantity.Ohm, 3), m.degrees(res.Reference)))
	}
	s = append(s, res.Judgement.Reason)
	for _, d := range res.Diagnoses {
		switch d {
		case ShortToCase:
			s = append(s, "The winding or its wire touches the case: "+lower(res.Insulation.Reason))
		case OpenCircuit:
			s = append(s, "The winding or a wire to it is broken. That holds whatever the temperature.")
		case ShortCircuit:
			s = append(s, "The two pins are connected by a short: in the coil, in its wires or between the pins.")
		case OtherCoil:
			s = append(s, fmt.Sprintf("It reads like the %s. Check that the probes are on the right pins before anything else.", res.Reads))
		case TurnsShorted:
			s = append(s, fmt.Sprintf("If it is this coil, %s of its turns are bridged.", res.Bridged))
		case TooHigh:
			s = append(s, fmt.Sprintf("If it is this coil, at least %s too much is in the way: a corroded pin, a bad crimp or the wrong part.",
				quantity.FormatSignificant(res.Extra.Value(), quantity.Ohm, 2)))
		}
	}
	res.Explanation = strings.Join(s, " ")
}

// String returns the share in per cent, "8 % to 45 %".
func (s Share) String() string {
	return fmt.Sprintf("%.0f %% to %.0f %%", 100*s.Least, 100*s.Most)
}

func (m Measurement) degrees(t quantity.Temperature) string {
	return m.Units.Format(t.Value(), quantity.Fahrenheit, 0)
}

func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
