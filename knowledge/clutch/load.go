package clutch

import (
	"math"

	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Load is what an element has to carry in a gear.
type Load struct {
	Element unit.ElementID
	// Share is the torque for each unit of torque on the input shaft. That of an
	// element which holds a drum to the case is what it puts on the drum: positive
	// in the direction in which the input shaft turns. That of one which joins two
	// members has no direction and is never negative.
	Share quantity.Ratio
	// Backed is true when a one-way clutch does the same and carries it all, as it
	// does for the direct clutch in 1st to 3rd. Share is 0 then.
	Backed bool
}

// Flow is how torque goes through the unit in a gear, for each unit of torque on
// the input shaft.
type Flow struct {
	Gear         unit.Gear
	Loads        []Load         // in the order of the application chart
	Intermediate quantity.Ratio // on the intermediate shaft, between the three-speed part and the overdrive; negative in R
	Output       quantity.Ratio // on the output shaft; negative in R
}

// Share returns what an element carries; ok is false if it is not on.
func (f Flow) Share(id unit.ElementID) (share quantity.Ratio, ok bool) {
	for _, l := range f.Loads {
		if l.Element == id {
			return l.Share, true
		}
	}
	return 0, false
}

// FlowIn works out which torque each element carries in a gear.
//
//	T_output = −i · T_input                                power in equals power out
//	T_element · (ω_a − ω_b) + T_output · ω_output = 0      with the element let go and the input shaft held
//
// ω are the speeds of the members that the element joins, ω_b = 0 where it holds
// to the case. Losses are left out: an element carries a little less than this.
// Errors: *unit.GearError for a gear that the application chart does not have,
// unit.ErrFree for P and N.
// Source: principle of virtual work on the train of package unit (R. Willis,
// Principles of Mechanism); checked against static equilibrium of every member
// and against published ratios in load_test.go.
func FlowIn(g unit.Gear) (Flow, error) { return flow(g, unit.RingToSun) }

func flow(g unit.Gear, ringToSun float64) (Flow, error) {
	row, ok := unit.RowOf(g)
	if !ok {
		return Flow{}, &unit.GearError{Gear: g}
	}
	train, err := unit.GearTrain(ringToSun)
	if err != nil {
		return Flow{}, err
	}
	ratio := func(on []unit.ElementID) (float64, error) {
		return train.Ratio(unit.InputShaft, unit.OutputShaft, ties(on)...)
	}
	i, err := ratio(row.On)
	if err != nil {
		return Flow{}, err
	}
	// What a one-way clutch backs up leaves its share to it.
	on := row.On
	for _, id := range row.On {
		if e, _ := unit.ElementByID(id); e.Kind == unit.OneWayClutch {
			continue
		}
		if rest := less(on, id); len(rest) > 0 {
			if _, err := ratio(rest); err == nil {
				on = rest
			}
		}
	}
	f := Flow{Gear: g, Output: quantity.Ratio(i)}
	for _, id := range row.On {
		l := Load{Element: id}
		if l.Backed = !has(on, id); !l.Backed {
			l.Share, err = share(train, on, id, i)
			if err != nil {
				return Flow{}, err
			}
		}
		f.Loads = append(f.Loads, l)
	}
	// The three-speed part alone: the overdrive runs solid.
	three, err := ratio(append(less(row.On, unit.OverdriveClutch), unit.DirectClutch))
	if err != nil {
		return Flow{}, err
	}
	f.Intermediate = quantity.Ratio(three)
	return f, nil
}

// share is the torque of one element, by virtual work.
func share(train unit.Train, on []unit.ElementID, id unit.ElementID, i float64) (quantity.Ratio, error) {
	speeds, err := train.Speeds(unit.OutputShaft, append(ties(less(on, id)), unit.Held(unit.InputShaft))...)
	if err != nil {
		return 0, err
	}
	e, _ := unit.ElementByID(id)
	slip := speeds[e.Tie.A]
	if e.Tie.B != "" {
		slip -= speeds[e.Tie.B]
	}
	if math.Abs(slip) < 1e-9 {
		return 0, unit.ErrFree
	}
	t := i / slip
	if e.Tie.B != "" {
		t = math.Abs(t)
	}
	return quantity.Ratio(t), nil
}

func ties(on []unit.ElementID) []unit.Tie {
	out := make([]unit.Tie, 0, len(on)+1)
	for _, id := range on {
		e, _ := unit.ElementByID(id)
		out = append(out, e.Tie)
	}
	return out
}

func has(on []unit.ElementID, id unit.ElementID) bool { return len(less(on, id)) < len(on) }

func less(on []unit.ElementID, id unit.ElementID) []unit.ElementID {
	out := make([]unit.ElementID, 0, len(on)+1)
	for _, x := range on {
		if x != id {
			out = append(out, x)
		}
	}
	return out
}
