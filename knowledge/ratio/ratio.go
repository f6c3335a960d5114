// Package ratio tells from a road test which ratio a transmission is really in,
// for a technician with a tachometer or a scan tool on the seat.
//
// Engine speed over output shaft speed is the gear's ratio, or a little more
// while the converter slips. The output shaft's speed is on the scan tool, or it
// follows from road speed, tyre, axle and transfer case. The package works out
// that ratio and how far it can be off, and says for each gear how probable it
// is, and how probable it is that none fits: then something slips. It also works
// out flares, and keeps a log of shift points.
//
// It assumes that all figures are of the same moment at a steady speed, that no
// driven wheel spins, and that the gear ratios are those of knowledge/unit. How
// much an open converter slips is from memory; what a sheet allows for shifts and
// flares is not known here, so that there is no verdict on them.
//
// Sources: R. Willis, Principles of Mechanism (through knowledge/unit); JCGM
// 100:2008 (GUM) for the uncertainty; the tyre and rim standards for the rolling
// circumference.
package ratio

import (
	"cmp"
	"math"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// The names of the inputs. An error says one of them, so that a form can show it
// beside its field.
const (
	Size          = "tyre size"
	Diameter      = "tyre diameter"
	Turns         = "tyre's turns for a distance"
	RollWay       = "way that was rolled"
	RollTurns     = "turns that were rolled"
	Circumference = "rolling circumference"
	EngineSpeed   = "engine speed"
	RoadSpeed     = "road speed"
	ShaftSpeed    = "output shaft speed"
	Axle          = "axle ratio"
	Transfer      = "transfer case ratio"
	Before        = "engine speed before the shift"
	Peak          = "highest engine speed in the shift"
	After         = "engine speed after the shift"
	ShiftSpeed    = "speed at the shift"
)

func within(name string, v, min, max quantity.Value, unit quantity.Unit) error {
	return quantity.Within("ratio", name, v, min, max, unit)
}

// What is believed of a road test.
var (
	validEngine   = [2]quantity.Rotation{rpm(300), rpm(8000)}
	validShaft    = [2]quantity.Rotation{rpm(50), rpm(8000)}
	validSpeed    = [2]quantity.Speed{2, 60} // under 2 m/s a speedometer says nothing
	validAxle     = [2]quantity.Ratio{1.5, 10}
	validTransfer = [2]quantity.Ratio{0.5, 8}
)

func rpm(n float64) quantity.Rotation { return quantity.Rotation(quantity.RPM.SI(n)) }

// How good the instruments of a road test are, where their user knows no better.
var (
	// Speedometer is a truck's own, read while driving.
	Speedometer = conformity.Accuracy{Percent: 3, Fixed: 0.45, Source: "a speedometer good to 3 % and 1 mph, from memory"}
	// Satellite is a satellite receiver's or a telephone's speed at a steady pace.
	Satellite = conformity.Accuracy{Percent: 0.5, Fixed: 0.2, Source: "a satellite receiver good to 0.5 % and 0.5 mph, from memory"}
	// ScanTool is a speed that the engine computer counts itself.
	ScanTool = conformity.Accuracy{Percent: 0.5, Fixed: float64(rpm(10)), Source: "a scan tool good to 0.5 % and 10 rpm, from memory"}
	// Tachometer is a dial read while driving.
	Tachometer = conformity.Accuracy{Percent: 1, Fixed: float64(rpm(50)), Source: "a dial good to 1 % and 50 rpm, from memory"}
)

// A Road is what is known at one moment of a road test.
type Road struct {
	Engine quantity.Reading
	// Shaft is the output shaft's speed. When it was read, speed, tyre, axle and
	// transfer case are not needed.
	Shaft quantity.Reading
	Speed quantity.Reading
	Tyre  Rolling
	Axle  quantity.Ratio
	// Transfer is the transfer case's ratio; 0 stands for 1, as in high range and
	// in trucks without one.
	Transfer quantity.Ratio
	// EngineMeter and SpeedMeter are the instruments; nil for Tachometer and for
	// Speedometer, or ScanTool where Shaft was read.
	EngineMeter, SpeedMeter *conformity.Accuracy
}

// A Contribution is one part of the uncertainty.
type Contribution struct {
	Name     string
	Standard quantity.Ratio // as a share of the ratio
}

// Measured is the ratio that a Road comes to.
type Measured struct {
	Engine, Shaft quantity.Rotation
	Ratio         quantity.Ratio
	Standard      quantity.Ratio // standard uncertainty as a share of Ratio
	Budget        []Contribution
}

// ShaftSpeedAt returns the speed of the transmission's output shaft at a road
// speed.
//
//	ω = 2π · v / C · axle · transfer
//
// speed must be 2 to 60 m/s, axle 1.5 to 10, transfer 0.5 to 8 or 0 for 1.
// It assumes that no driven wheel slips.
// Errors: *quantity.RangeError naming the argument.
// Source: definition of the ratios; checked against worked gearing examples in ratio_test.go.
func ShaftSpeedAt(speed quantity.Speed, tyre Rolling, axle, transfer quantity.Ratio) (quantity.Rotation, error) {
	if transfer == 0 {
		transfer = 1
	}
	if err := cmp.Or(
		within(RoadSpeed, speed.Value(), validSpeed[0].Value(), validSpeed[1].Value(), quantity.MilePerHour),
		tyre.check(),
		within(Axle, axle.Value(), validAxle[0].Value(), validAxle[1].Value(), quantity.Number),
		within(Transfer, transfer.Value(), validTransfer[0].Value(), validTransfer[1].Value(), quantity.Number),
	); err != nil {
		return 0, err
	}
	return quantity.Rotation(2 * math.Pi * float64(speed) / float64(tyre.Circumference) * float64(axle*transfer)), nil
}

// Measure returns the ratio of engine speed to output shaft speed and how far
// it can be off.
//
//	i = ω_engine / ω_shaft
//	(u_i/i)² = (u_e/ω_e)² + (u_v/v)² + (u_C/C)²   or, with the shaft read, (u_s/ω_s)² in place of the last two
//
// Engine speed must be 300 to 8000 rpm, the shaft's 50 to 8000 rpm; the other
// ranges are those of ShaftSpeedAt. It assumes that the instruments' limits of
// error are rectangular and independent of each other.
// Errors: *quantity.RangeError naming the input.
// Source: JCGM 100:2008 (GUM), 5.1.6 for a product; checked in ratio_test.go.
func (r Road) Measure() (Measured, error) {
	engine := quantity.Rotation(r.Engine.SI)
	if err := within(EngineSpeed, engine.Value(), validEngine[0].Value(), validEngine[1].Value(), quantity.RPM); err != nil {
		return Measured{}, err
	}
	m := Measured{Engine: engine, Budget: []Contribution{{EngineSpeed, share(r.Engine, r.EngineMeter, Tachometer)}}}
	if r.Shaft.Kind != "" {
		m.Shaft = quantity.Rotation(r.Shaft.SI)
		m.Budget = append(m.Budget, Contribution{ShaftSpeed, share(r.Shaft, r.SpeedMeter, ScanTool)})
	} else {
		shaft, err := ShaftSpeedAt(quantity.Speed(r.Speed.SI), r.Tyre, r.Axle, r.Transfer)
		if err != nil {
			return Measured{}, err
		}
		m.Shaft = shaft
		m.Budget = append(m.Budget, Contribution{RoadSpeed, share(r.Speed, r.SpeedMeter, Speedometer)},
			Contribution{Circumference, r.Tyre.Limit / quantity.Ratio(math.Sqrt(3))})
	}
	if err := within(ShaftSpeed, m.Shaft.Value(), validShaft[0].Value(), validShaft[1].Value(), quantity.RPM); err != nil {
		return Measured{}, err
	}
	sum := 0.0
	for _, c := range m.Budget {
		sum += float64(c.Standard * c.Standard)
	}
	m.Ratio, m.Standard = quantity.Ratio(engine/m.Shaft), quantity.Ratio(math.Sqrt(sum))
	return m, nil
}

// share returns a reading's standard uncertainty as a share of it.
func share(r quantity.Reading, meter *conformity.Accuracy, usual conformity.Accuracy) quantity.Ratio {
	if meter == nil {
		meter = &usual
	}
	return quantity.Ratio(meter.Standard(r) / math.Abs(r.SI))
}
