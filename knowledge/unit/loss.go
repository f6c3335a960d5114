package unit

// Loss is what a gear does once an element no longer grips.
type Loss struct {
	Gear  Gear
	Used  bool        // the chart has the element on in this gear
	Left  []ElementID // what still grips, in the order of Elements, with Catch in it
	Catch []ElementID // one-way clutches that catch by themselves in its place
	Ratio float64     // that Left makes; 0 when the output is not driven
}

// Drives reports whether the output is still driven.
func (l Loss) Drives() bool { return l.Ratio != 0 }

// Without returns what a gear does without one of the elements: the chart's row is
// solved again without it.
//
// When nothing drives then and the engine drives the truck, the one-way clutches
// that are not in the row are tried. The truck's weight holds the output back, so
// the train is solved with the output held: a one-way clutch catches if the members
// it joins then turn the way that it blocks. Without the front band, 2nd drives as
// 1st does.
//
// P and N, in which nothing drives anyway, give a Ratio of 0.
// Errors: *GearError and *ElementError for what does not exist; ErrLocked can't come
// of a row of the chart.
// Source: Train.Speeds with RingToSun; which way a one-way clutch blocks follows from
// what it is for (Element.Does). Checked against hand solutions in loss_test.go.
func Without(g Gear, id ElementID) (Loss, error) {
	row, ok := RowOf(g)
	if !ok {
		return Loss{}, &GearError{g}
	}
	if _, ok := ElementByID(id); !ok {
		return Loss{}, &ElementError{id}
	}
	l := Loss{Gear: g, Used: row.Has(id)}
	for _, on := range row.On {
		if on != id {
			l.Left = append(l.Left, on)
		}
	}
	if row.Range == Park || row.Range == NeutralN {
		return l, nil
	}
	if i, err := RatioWith(l.Left); err == nil {
		l.Ratio = i
		return l, nil
	}
	if row.Braking() {
		return l, nil
	}
	for _, e := range Elements {
		if e.Kind != OneWayClutch || e.ID == id || row.Has(e.ID) {
			continue
		}
		catches, err := catches(e, l.Left)
		if err != nil {
			return Loss{}, err
		}
		if !catches {
			continue
		}
		with := inOrder(append(l.Left[:len(l.Left):len(l.Left)], e.ID))
		if i, err := RatioWith(with); err == nil {
			l.Left, l.Catch, l.Ratio = with, append(l.Catch, e.ID), i
			return l, nil
		}
	}
	return l, nil
}

// catches reports whether a one-way clutch takes hold when the engine turns the
// input and the truck holds the output back. The one that ties a member to the case
// keeps it from turning backward; the one that ties two members keeps the first
// from running ahead of the second.
func catches(e Element, on []ElementID) (bool, error) {
	train, ties, err := trainWith(on)
	if err != nil {
		return false, err
	}
	w, err := train.Speeds(InputShaft, append(ties, Held(OutputShaft))...)
	if err != nil {
		return false, nil // the output can't be held: it is driven already
	}
	a, known := w[e.Tie.A]
	if !known {
		return false, nil
	}
	if e.Tie.B == "" {
		return a < -negligible, nil
	}
	b, known := w[e.Tie.B]
	return known && a-b > negligible, nil
}

func inOrder(ids []ElementID) []ElementID {
	var out []ElementID
	for _, e := range Elements {
		for _, id := range ids {
			if id == e.ID {
				out = append(out, id)
			}
		}
	}
	return out
}
