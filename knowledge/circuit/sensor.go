package circuit

import (
	"cmp"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Curve is how the governor pressure sensor's signal follows absolute
// pressure, at its nominal supply.
type Curve struct {
	Zero      quantity.Voltage // signal at StandardAir, no governor pressure
	ZeroLimit quantity.Voltage // the most by which a good sensor's is off
	// Slope is in volt per pascal, SlopeLimit the most by which it is off, as a
	// share of it.
	Slope, SlopeLimit float64
	Supply            quantity.Voltage // nominal
	ZeroFrom          unit.Provenance
	SlopeFrom         unit.Provenance
}

// Typical is the curve of the class. Its zero is the middle of the published
// window; nothing that was read gives the slope, so that pressures by it show
// the way and are never a limit.
var Typical = Curve{
	Zero: 0.50, ZeroLimit: 0.15,
	Slope: 0.04 / 6894.757, SlopeLimit: 0.10,
	Supply:    5,
	ZeroFrom:  unit.Provenance{Kind: unit.Published, Source: "S11", Note: "Derived: the middle of 0.35 V to 0.65 V at sea level."},
	SlopeFrom: unit.Provenance{Kind: unit.Memory, Note: "Of a usual sensor of this kind, from memory; confirm in the maker's manual, or type two readings of the sensor at hand."},
}

// supplyShare is how far the supply of a sensor can be off as a share when
// nobody measured it (from memory).
const supplyShare = 0.05

// What is believed of a sensor's readings.
const (
	leastSignal, mostSignal = 0.0, 5.5 // V
	leastSupply, mostSupply = 4.0, 6.0 // V
	leastApart              = 0.2      // V, between two points of a curve
	leastSlope, mostSlope   = 0.005 / 6894.757, 0.5 / 6894.757
)

var validGauge = [2]quantity.Pressure{0, 1.4e6}

func (c Curve) check() error {
	return cmp.Or(
		volts("curve's zero", float64(c.Zero), -1, mostSignal),
		number("curve's slope", c.Slope*6894.757, leastSlope*6894.757, mostSlope*6894.757),
		number("curve's slope limit", c.SlopeLimit, 0, 1),
		volts("curve's zero limit", float64(c.ZeroLimit), 0, 2),
		volts("curve's supply", float64(c.Supply), leastSupply, mostSupply),
	)
}

// Volts returns the signal at a gauge pressure in the given air.
//
//	U = U₀ + S · (p_gauge + p_air − 101.325 kPa)
//
// gauge must lie in 0 to 1.4 MPa.
// Errors: *quantity.RangeError naming the input.
// Source: linear transfer of a pressure sensor; checked against worked sensor examples in sensor_test.go.
func (c Curve) Volts(gauge quantity.Pressure, air Air) (quantity.Voltage, error) {
	if err := cmp.Or(c.check(), air.check(),
		within(GaugeReading, gauge.Value(), validGauge[0].Value(), validGauge[1].Value(), quantity.PSI)); err != nil {
		return 0, err
	}
	return c.Zero + quantity.Voltage(c.Slope*float64(gauge+air.Pressure-StandardAir)), nil
}

// A Sample is a sensor's signal with what is needed to read it.
type Sample struct {
	Signal quantity.Reading
	// Supply is what feeds the sensor; the zero Reading when it was not measured.
	// The signal is taken as a share of it, as sensors on such a supply make it
	// (common practice).
	Supply quantity.Reading
	// Zero is the signal of the same sensor without governor pressure, in the same
	// air; the zero Reading when it was not read. With it the sensor's own zero and
	// the air drop out.
	Zero  quantity.Reading
	Air   Air
	Meter *conformity.Accuracy // nil for an ordinary one
}

// A Pressure is what a signal comes to.
type Pressure struct {
	Gauge    quantity.Pressure
	Absolute quantity.Pressure
	Standard quantity.Pressure // standard uncertainty of Gauge
	Budget   []Contribution    // in pascal
}

// Pressure returns the pressure that a signal stands for.
//
//	p_gauge = (U − U_zero) / S               with the sensor's own zero read
//	p_gauge = 101.325 kPa + (U − U₀) / S − p_air   without it
//
// with U and U_zero brought to the curve's nominal supply. The signal must be
// 0 V to 5.5 V, the supply 4 V to 6 V. A gauge pressure below nothing is
// returned as it comes: the zero or the curve is wrong by that much.
// Errors: *quantity.RangeError naming the input.
// Source: inverse of Volts; checked against worked sensor examples in sensor_test.go.
func (c Curve) Pressure(s Sample) (Pressure, error) {
	if err := cmp.Or(c.check(), s.check(), s.Air.check()); err != nil {
		return Pressure{}, err
	}
	u, uu, us := s.nominal(s.Signal, c.Supply)
	var p Pressure
	var difference float64
	meter := Contribution{"meter", uu / c.Slope}
	if s.Zero.Kind != "" {
		if err := volts(OwnZero, s.Zero.SI, leastSignal, mostSignal); err != nil {
			return Pressure{}, err
		}
		zero, uz, _ := s.nominal(s.Zero, c.Supply)
		difference = u - zero
		meter.Standard = math.Hypot(uu, uz) / c.Slope
		p.Gauge = quantity.Pressure(difference / c.Slope)
		// The supply scales both.
		us *= difference / math.Max(u, 1e-9)
	} else {
		difference = u - float64(c.Zero)
		p.Gauge = StandardAir + quantity.Pressure(difference/c.Slope) - s.Air.Pressure
		p.Budget = []Contribution{
			{"the sensor's own zero", rectangular(float64(c.ZeroLimit)) / c.Slope},
			{"pressure of the air", rectangular(float64(s.Air.Limit))},
		}
	}
	p.Absolute = p.Gauge + s.Air.Pressure
	p.Budget = append(p.Budget, meter,
		Contribution{"supply of the sensor", math.Abs(us) / c.Slope},
		Contribution{"slope of the curve", math.Abs(difference) / c.Slope * rectangular(c.SlopeLimit)})
	p.Standard = quantity.Pressure(total(p.Budget))
	return p, nil
}

func (s Sample) check() error {
	if err := volts(Signal, s.Signal.SI, leastSignal, mostSignal); err != nil {
		return err
	}
	if s.Supply.Kind == "" {
		return nil
	}
	return volts(Supply, s.Supply.SI, leastSupply, mostSupply)
}

// nominal brings a signal to the nominal supply. It returns the signal, the
// standard uncertainty that the meter leaves, and the one that the supply leaves.
func (s Sample) nominal(r quantity.Reading, supply quantity.Voltage) (u, meter, fed float64) {
	scale := 1.0
	share := rectangular(supplyShare)
	if s.Supply.Kind != "" {
		scale = float64(supply) / s.Supply.SI
		share = standard(s.Supply, s.Meter) / s.Supply.SI
	}
	return r.SI * scale, standard(r, s.Meter) * scale, r.SI * scale * share
}

// Calibrate returns the curve of the sensor at hand from two readings with a
// gauge on the same pressure, such as free air and a regulator.
//
//	S  = (U₂ − U₁) / (p₂ − p₁)
//	U₀ = U₁ − S · (p₁ + p_air − 101.325 kPa)
//
// The signals must be 0.2 V and the pressures 70 kPa (10 psi) apart, the slope
// 0.005 to 0.5 V/psi. supply is what fed the sensor; the zero Reading for its
// nominal supply.
// Errors: *quantity.RangeError naming the input.
// Source: straight line through two points; checked in sensor_test.go.
func Calibrate(first, second quantity.Reading, firstGauge, secondGauge quantity.Reading, supply quantity.Reading, air Air, meter *conformity.Accuracy) (Curve, error) {
	if err := cmp.Or(
		volts(FirstSignal, first.SI, leastSignal, mostSignal),
		volts(SecondSignal, second.SI, leastSignal, mostSignal),
		within(FirstGauge, firstGauge.Value(), validGauge[0].Value(), validGauge[1].Value(), quantity.PSI),
		within(SecondGauge, secondGauge.Value(), validGauge[0].Value(), validGauge[1].Value(), quantity.PSI),
		air.check(),
	); err != nil {
		return Curve{}, err
	}
	dp := secondGauge.SI - firstGauge.SI
	if math.Abs(dp) < 70e3 {
		// Name what would be far enough.
		return Curve{}, within(SecondGauge, secondGauge.Value(), quantity.Pressure(firstGauge.SI+70e3).Value(), validGauge[1].Value(), quantity.PSI)
	}
	s := Sample{Signal: first, Supply: supply, Meter: meter}
	if err := s.check(); err != nil {
		return Curve{}, err
	}
	a, ua, _ := s.nominal(first, Typical.Supply)
	b, ub, _ := s.nominal(second, Typical.Supply)
	if math.Abs(b-a) < leastApart {
		return Curve{}, volts(SecondSignal, second.SI, first.SI+leastApart, mostSignal)
	}
	c := Curve{Slope: (b - a) / dp, Supply: Typical.Supply}
	c.Zero = quantity.Voltage(a - c.Slope*(firstGauge.SI+float64(air.Pressure-StandardAir)))
	// Both readings are by the same instruments; their limits are taken as
	// independent, which errs on the safe side.
	share := math.Hypot(math.Hypot(ua, ub)/(b-a), math.Hypot(standard(firstGauge, nil), standard(secondGauge, nil))/dp)
	c.SlopeLimit = math.Min(1, share*math.Sqrt(3))
	c.ZeroLimit = quantity.Voltage(math.Sqrt(3) * math.Hypot(ua, c.Slope*rectangular(float64(air.Limit))))
	own := unit.Provenance{Kind: unit.Own, Note: "Two readings of the sensor at hand."}
	c.ZeroFrom, c.SlopeFrom = own, own
	return c, c.check()
}

// A ZeroCheck is a sensor's signal at no governor pressure, held against a sheet
// whose window holds at 14.7 psi absolute.
type ZeroCheck struct {
	Judgement conformity.Result
	// Referred is the signal as it would be at StandardAir and nominal supply, and
	// Standard its standard uncertainty.
	Referred, Standard quantity.Voltage
	// Shift is what the air adds to the signal here, and Windows are the sheet's as
	// the meter should show them here.
	Shift   quantity.Voltage
	Windows []conformity.Window
}

// CheckZero judges the signal at no governor pressure: free air, or key on and
// engine off.
//
//	U₀ = U · U_nominal / U_supply − S · (p_air − 101.325 kPa)
//
// The slope enters only by the air's difference from one atmosphere, so that its
// doubt matters little. Without windows there is no verdict.
// Errors: *quantity.RangeError naming the input.
// Source: inverse of Volts; checked in sensor_test.go.
func (c Curve) CheckZero(s Sample, windows []conformity.Window, rule conformity.Rule) (ZeroCheck, error) {
	if err := cmp.Or(c.check(), s.check(), s.Air.check()); err != nil {
		return ZeroCheck{}, err
	}
	u, uu, us := s.nominal(s.Signal, c.Supply)
	shift := c.Slope * float64(s.Air.Pressure-StandardAir)
	z := ZeroCheck{Shift: quantity.Voltage(shift), Referred: quantity.Voltage(u - shift)}
	z.Standard = quantity.Voltage(total([]Contribution{
		{"meter", uu}, {"supply", us},
		{"air", c.Slope * rectangular(float64(s.Air.Limit))},
		{"slope", shift * rectangular(c.SlopeLimit)},
	}))
	referred := quantity.Reading{Kind: quantity.KindVoltage, SI: float64(z.Referred)}
	z.Judgement = conformity.JudgeAll(referred, float64(z.Standard), windows, nil, rule)
	scale := 1.0
	if s.Supply.Kind != "" {
		scale = s.Supply.SI / float64(c.Supply)
	}
	here := func(v *quantity.Value) *quantity.Value {
		if v == nil || v.Kind != quantity.KindVoltage {
			return nil
		}
		x := quantity.Value{Kind: v.Kind, SI: (v.SI + shift) * scale}
		return &x
	}
	for _, w := range windows {
		z.Windows = append(z.Windows, conformity.Window{Name: w.Name, Unit: w.Unit, Min: here(w.Min), Max: here(w.Max)})
	}
	return z, nil
}
