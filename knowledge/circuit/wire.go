package circuit

import (
	"cmp"
	"math"

	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// A Wire is a copper conductor. Its zero value stands for "not known".
type Wire struct {
	Area     quantity.Area
	Length   quantity.Length // one way
	Stranded bool
	// Temperature is the wire's; 0 for 20 °C.
	Temperature quantity.Temperature
}

const (
	resistivity = 1e-6 / 58 // ohm metre of annealed copper at 20 °C (IEC 60028)
	// lay is what stranding adds to the length of the copper (ASTM B8, from memory).
	lay = 1.02
)

// Gauge returns the section of an American wire gauge.
//
//	d = 0.127 mm · 92^((36 − n)/39),  A = π d² / 4
//
// n must be −3 (0000) to 40.
// Errors: *quantity.RangeError naming WireGauge.
// Source: ASTM B258; checked against testdata/copper/wire.csv in wire_test.go.
func Gauge(n int) (quantity.Area, error) {
	if err := number(WireGauge, float64(n), -3, 40); err != nil {
		return 0, err
	}
	d := 0.127e-3 * math.Pow(92, float64(36-n)/39)
	return quantity.Area(math.Pi * d * d / 4), nil
}

// Resistance returns the resistance of the wire, one way.
//
//	R = ρ₂₀ · l / A · (234.5 + t)/(234.5 + 20),  ρ₂₀ = 1/58 ohm mm²/m, 2 % more for strands
//
// The section must be 0.005 to 120 mm², the length 1 mm to 100 m, the
// temperature in coil.ValidTemperature.
// Errors: *quantity.RangeError naming the input, of package coil for the temperature.
// Source: IEC 60028 and NBS Handbook 100; checked against testdata/copper/wire.csv in wire_test.go.
func (w Wire) Resistance() (quantity.Resistance, error) {
	if err := cmp.Or(
		within(WireArea, w.Area.Value(), quantity.SquareMillimetre.Of(0.005), quantity.SquareMillimetre.Of(120), quantity.SquareMillimetre),
		within(WireLength, w.Length.Value(), quantity.Length(1e-3).Value(), quantity.Length(100).Value(), quantity.Foot),
	); err != nil {
		return 0, err
	}
	r := quantity.Resistance(resistivity * float64(w.Length) / float64(w.Area))
	if w.Stranded {
		r *= lay
	}
	if w.Temperature == 0 {
		return r, nil
	}
	return coil.Annealed.Resistance(r, quantity.FromCelsius(20), w.Temperature)
}

// A Path is a feed or a ground that was measured while it carried current.
type Path struct {
	Drop quantity.Reading // volts from one end to the other
	// Current is what flowed; the zero Reading when it was not measured.
	Current quantity.Reading
	Wire    Wire // its zero value: not known
	Meter   *conformity.Accuracy
	Windows []conformity.Window // what the sheet allows of the drop; may be empty
	Rule    conformity.Rule
}

// A Loss is what a Path comes to.
type Loss struct {
	Judgement  conformity.Result
	Known      bool // a current was measured; what follows hangs on it
	Resistance quantity.Resistance
	Standard   quantity.Resistance
	Heat       quantity.Power // in the path
	// HasWire is true when the wire is known. Expected is its drop at this current,
	// Extra the resistance beyond the wire's, 0 where there is none, and Sure the
	// probability that there is some.
	HasWire  bool
	Expected quantity.Voltage
	Extra    quantity.Resistance
	Sure     float64
}

// leastCurrent is under what a drop says nothing: a ground that carries next to
// no current drops next to nothing however bad it is (common practice).
const leastCurrent = 0.05 // A

// wireShare is how far a wire's resistance can be off: its length is by a tape,
// its section by a gauge (common practice).
const wireShare = 0.10

// Loss returns what a measured drop says.
//
//	R = U / I,  P = U · I,  R_extra = R − R_wire
//
// The drop must be 0 to 60 V, the current 0.05 to 2000 A; the signs that leads
// the wrong way round make do not matter. Without windows there is no verdict.
// Errors: *quantity.RangeError naming the input.
// Source: Ohm's law; checked against worked voltage drop examples in wire_test.go.
func (p Path) Loss() (Loss, error) {
	drop := p.Drop
	drop.SI = math.Abs(drop.SI)
	if err := volts(PathDrop, drop.SI, 0, 60); err != nil {
		return Loss{}, err
	}
	u := standard(drop, p.Meter)
	l := Loss{Judgement: conformity.JudgeAll(drop, u, p.Windows, nil, p.Rule)}
	if p.Current.Kind == "" {
		return l, nil
	}
	i := math.Abs(p.Current.SI)
	if err := within(PathCurrent, quantity.Current(i).Value(), quantity.Current(leastCurrent).Value(), quantity.Current(2000).Value(), quantity.Ampere); err != nil {
		return Loss{}, err
	}
	r := drop.SI / i
	current := p.Current
	current.SI = i
	ur := math.Hypot(u/i, r*standard(current, nil)/i)
	l.Known = true
	l.Resistance, l.Standard = quantity.Resistance(r), quantity.Resistance(ur)
	l.Heat = quantity.Power(drop.SI * i)
	if p.Wire == (Wire{}) {
		return l, nil
	}
	wire, err := p.Wire.Resistance()
	if err != nil {
		return Loss{}, err
	}
	l.HasWire = true
	l.Expected = quantity.Voltage(float64(wire) * i)
	l.Extra = quantity.Resistance(math.Max(0, r-float64(wire)))
	spread := math.Hypot(ur, float64(wire)*rectangular(wireShare))
	_, _, l.Sure, err = conformity.Probability(r, spread, math.Inf(-1), float64(wire))
	return l, err
}
