package clutch

import (
	"math"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Drive is one way in which the engine drives: a gear, and what the converter
// makes of the engine's torque in it.
type Drive struct {
	Gear   unit.Gear
	Ratio  quantity.Ratio // turbine torque over engine torque; 1 when locked
	Locked bool           // the converter clutch is on
}

// How much of what a converter adds at stall is left when a full-throttle shift
// has brought a gear in: a shift slows the engine less than the turbine is fast.
// Typical, invented for the demo: a converter's ratio falls about evenly from
// stall to coupling.
const (
	addedInSecond = 0.5
	addedInThird  = 0.2
)

// Unlocked returns the forward gears as the engine drives them with the
// converter clutch off, from a standing start. stall is the converter's torque
// ratio at stall.
func Unlocked(stall quantity.Ratio) []Drive {
	return []Drive{
		{Gear: unit.First, Ratio: stall},
		{Gear: unit.Second, Ratio: 1 + addedInSecond*(stall-1)},
		{Gear: unit.Third, Ratio: 1 + addedInThird*(stall-1)},
	}
}

// Locked is the gears as the engine drives them with the converter clutch on.
var Locked = []Drive{{unit.Third, 1, true}, {unit.Fourth, 1, true}}

// A Link is one element or shaft in a gear.
type Link struct {
	Of    Owner
	Gear  unit.Gear
	Shaft bool
	// Engine is the engine torque at which it lets go.
	Engine quantity.Torque
}

// Demand is what an element meets in a drive.
type Demand struct {
	Of      Owner
	Torque  quantity.Torque   // that it must carry
	Slips   quantity.Pressure // below this it slips; not for Sprung
	Sprung  bool              // a spring applies it
	Spring  quantity.Torque   // what it holds then
	Turning bool              // a band: the drum drags the servo's end on
}

func checkDrive(engine quantity.Torque, d Drive) error {
	return first([]error{
		within("engine torque", engine.Value(), quantity.Torque(0).Value(), quantity.Torque(10e6).Value(), quantity.FootPound),
		ratioIn("converter torque ratio", d.Ratio, 0.5, 5),
	})
}

// energised reports whether a drum drags the servo's end of a band on. share is
// what the band puts on the drum. The front band's servo end is taken to be the
// slack one while the engine drives in 2nd, the rear band's in R and under engine
// braking in manual 1, in both of which its drum is turned the same way; from
// memory, confirm in the maker's manual.
func energised(id unit.ElementID, share quantity.Ratio) bool {
	return (share > 0) == (id == unit.FrontBand)
}

// Demands returns what each clutch and band that carries something in a drive
// must carry, and the pressure at which it slips. One-way clutches and what they
// back up are left out. In the two braking rows engine is the torque with which
// the engine holds the truck back.
//
//	T_element = |share| · ratio · T_engine
//
// engine must be 0 to 10 MN·m, the converter's ratio 0.5 to 5.
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: FlowIn, SlipPressure of Disc and Band; checked in plan_test.go.
func (b Build) Demands(engine quantity.Torque, d Drive) ([]Demand, error) {
	if err := checkDrive(engine, d); err != nil {
		return nil, err
	}
	f, err := b.flowIn(d.Gear)
	if err != nil {
		return nil, err
	}
	turbine := engine * quantity.Torque(d.Ratio)
	var out []Demand
	add := func(of Owner, share quantity.Ratio) error {
		x := Demand{Of: of, Torque: turbine * quantity.Torque(math.Abs(float64(share)))}
		var err error
		if band, ok := b.Bands[of]; ok {
			x.Turning = b.turning(of, d.Gear, share)
			x.Slips, err = band.SlipPressure(x.Torque, x.Turning)
		} else {
			disc := b.Discs[of]
			if x.Sprung = disc.Sprung; x.Sprung {
				x.Spring, err = disc.Holds(0, b.Law)
			} else {
				x.Slips, err = disc.SlipPressure(x.Torque, b.Law)
			}
		}
		out = append(out, x)
		return err
	}
	for _, l := range f.Loads {
		if e, _ := unit.ElementByID(l.Element); l.Backed || e.Kind == unit.OneWayClutch {
			continue
		}
		if err := add(l.Element, l.Share); err != nil {
			return nil, err
		}
	}
	if d.Locked {
		if err := add(ConverterClutch, 1/d.Ratio); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (b Build) turning(of unit.ElementID, g unit.Gear, share quantity.Ratio) bool {
	if row, _ := unit.RowOf(g); row.Braking() {
		share = -share // the wheels drive: every torque is turned round
	}
	return energised(of, share)
}

// Holds returns the torque at which a clutch or band slips at a pressure, in a
// gear in which it carries something.
//
//	T of Holds of Disc and Band
//
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: Holds of Disc and Band; checked in plan_test.go.
func (b Build) Holds(of Owner, p quantity.Pressure, g unit.Gear) (quantity.Torque, error) {
	band, ok := b.Bands[of]
	if !ok {
		return b.Discs[of].Holds(p, b.Law)
	}
	f, err := b.flowIn(g)
	if err != nil {
		return 0, err
	}
	share, _ := f.Share(of)
	return band.Holds(p, b.turning(of, g, share))
}

// ShaftLimit returns the shaft that yields first in any of some drives, and the
// engine torque at which it does.
//
//	T_engine = T_shaft / (ratio · |share|)
//
// There must be a drive at least.
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: Shaft.Holds and FlowIn; checked in plan_test.go.
func (b Build) ShaftLimit(drives []Drive) (Link, error) {
	least := Link{Engine: quantity.Torque(math.Inf(1)), Shaft: true}
	for _, d := range drives {
		if err := checkDrive(0, d); err != nil {
			return Link{}, err
		}
		f, err := b.flowIn(d.Gear)
		if err != nil {
			return Link{}, err
		}
		for _, s := range []struct {
			of    Owner
			share quantity.Ratio
		}{{InputShaft, 1}, {IntermediateShaft, f.Intermediate}, {OutputShaft, f.Output}} {
			holds, err := b.Shafts[s.of].Holds()
			if err != nil {
				return Link{}, err
			}
			if t := quantity.Torque(float64(holds) / math.Abs(float64(s.share)) / float64(d.Ratio)); t < least.Engine {
				least.Of, least.Gear, least.Engine = s.of, d.Gear, t
			}
		}
	}
	return least, nil
}

// Weakest returns what lets go first in some drives at a line pressure: the
// element or the shaft that allows the least engine torque.
//
//	T_engine = T_holds / (ratio · |share|), the least of all
//
// p must be 0 to 5 MPa.
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: Holds and ShaftLimit; checked in plan_test.go.
func (b Build) Weakest(p quantity.Pressure, drives []Drive) (Link, error) {
	least, err := b.ShaftLimit(drives)
	if err != nil {
		return Link{}, err
	}
	for _, d := range drives {
		demands, err := b.Demands(1, d)
		if err != nil {
			return Link{}, err
		}
		for _, x := range demands {
			holds, err := b.Holds(x.Of, p, d.Gear)
			if err != nil {
				return Link{}, err
			}
			if t := holds / x.Torque; t < least.Engine {
				least = Link{Of: x.Of, Gear: d.Gear, Engine: t}
			}
		}
	}
	return least, nil
}

// Needed returns the least line pressure at which nothing slips in some drives,
// and the element that needs it. Clutches that a spring applies are left out.
//
//	p = max over elements and gears of the pressure at which one slips
//
// engine must be 0 to 10 MN·m.
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: Demands; checked in plan_test.go.
func (b Build) Needed(engine quantity.Torque, drives []Drive) (quantity.Pressure, Link, error) {
	var most quantity.Pressure
	var link Link
	for _, d := range drives {
		demands, err := b.Demands(engine, d)
		if err != nil {
			return 0, Link{}, err
		}
		for _, x := range demands {
			if !x.Sprung && x.Slips >= most {
				most, link = x.Slips, Link{Of: x.Of, Gear: d.Gear, Engine: engine}
			}
		}
	}
	return most, link, nil
}

// Crossing returns the line pressure at which the clutches and bands hold as
// much as the shafts do: below it an element slips first, above it a shaft yields
// first and more pressure is of no help.
//
//	p of Needed at the engine torque of ShaftLimit
//
// Errors: *quantity.RangeError naming the argument; those of FlowIn.
// Source: Needed and ShaftLimit; checked in plan_test.go, where it stands beside
// what the trade knows.
func (b Build) Crossing(drives []Drive) (quantity.Pressure, Link, error) {
	shaft, err := b.ShaftLimit(drives)
	if err != nil {
		return 0, Link{}, err
	}
	p, _, err := b.Needed(shaft.Engine, drives)
	return p, shaft, err
}
