package unit

import "fmt"

// Range is a position of the selector.
type Range string

// The ranges, in the selector's order.
const (
	Park      Range = "P"
	ReverseR  Range = "R"
	NeutralN  Range = "N"
	Drive     Range = "D"
	ManualTwo Range = "2"
	ManualOne Range = "1"
)

// Ranges lists the ranges in the selector's order.
var Ranges = []Range{Park, ReverseR, NeutralN, Drive, ManualTwo, ManualOne}

// Gear is one row of the application chart: what the unit is asked to do. The
// plain gears have the short names that conditions in the data use.
type Gear string

// The rows of the chart. In the two braking rows the wheels drive the engine.
const (
	Parked        Gear = "P"
	Reverse       Gear = "R"
	Neutral       Gear = "N"
	First         Gear = "1"
	Second        Gear = "2"
	Third         Gear = "3"
	Fourth        Gear = "4"
	ManualSecond  Gear = "manual-2"
	ManualFirst   Gear = "manual-1"
	BrakingSecond Gear = "manual-2-braking"
	BrakingFirst  Gear = "manual-1-braking"
)

// Row is one row of the application chart.
type Row struct {
	Gear  Gear
	Name  string
	Range Range
	On    []ElementID // in the order of Elements
	From  Provenance
}

// Braking reports whether the wheels drive the engine in this row, so that
// one-way clutches let go.
func (r Row) Braking() bool { return r.Gear == BrakingSecond || r.Gear == BrakingFirst }

// Has reports whether the element is on in this row.
func (r Row) Has(id ElementID) bool {
	for _, on := range r.On {
		if on == id {
			return true
		}
	}
	return false
}

// Read in the notes under the chart; the columns were placed by those notes.
var (
	fromChart  = Provenance{Kind: Published, Source: "S23", At: "application chart and its notes", Note: "The columns are placed by the notes under the chart."}
	fromNotes  = Provenance{Kind: Published, Source: "S23", At: "application chart and its notes", Note: "Derived: one-way clutches let go when the wheels drive."}
	fromMemory = Provenance{Kind: Memory, Note: "Nothing is driven; that the direct clutch is put on by its spring is from memory, confirm in the maker's manual."}
)

// Chart is the application chart: which elements are on in which gear.
var Chart = []Row{
	{Parked, "P", Park, []ElementID{DirectClutch}, fromMemory},
	{Reverse, "R", ReverseR, []ElementID{FrontClutch, RearBand, DirectClutch}, fromChart},
	{Neutral, "N", NeutralN, []ElementID{DirectClutch}, fromMemory},
	{First, "1st in D", Drive, []ElementID{RearClutch, OverrunningClutch, DirectClutch, OverdriveOverrunningClutch}, fromChart},
	{Second, "2nd in D", Drive, []ElementID{RearClutch, FrontBand, DirectClutch, OverdriveOverrunningClutch}, fromChart},
	{Third, "3rd in D", Drive, []ElementID{FrontClutch, RearClutch, DirectClutch, OverdriveOverrunningClutch}, fromChart},
	{Fourth, "4th in D", Drive, []ElementID{FrontClutch, RearClutch, OverdriveClutch}, fromChart},
	{ManualSecond, "2nd in manual 2", ManualTwo, []ElementID{RearClutch, FrontBand, DirectClutch, OverdriveOverrunningClutch}, fromChart},
	{ManualFirst, "1st in manual 1", ManualOne, []ElementID{RearClutch, RearBand, OverrunningClutch, DirectClutch, OverdriveOverrunningClutch}, fromChart},
	{BrakingSecond, "engine braking in manual 2", ManualTwo, []ElementID{RearClutch, FrontBand, DirectClutch}, fromNotes},
	{BrakingFirst, "engine braking in manual 1", ManualOne, []ElementID{RearClutch, RearBand, DirectClutch}, fromNotes},
}

// RowOf returns the chart's row for a gear.
func RowOf(g Gear) (Row, bool) {
	for _, r := range Chart {
		if r.Gear == g {
			return r, true
		}
	}
	return Row{}, false
}

// GearError reports a gear that the chart does not have.
type GearError struct{ Gear Gear }

// Error returns the fault for a log.
func (e *GearError) Error() string {
	return fmt.Sprintf("unit: gear %q is not in the application chart", string(e.Gear))
}

// Ratio returns the turns of the input shaft for one turn of the output shaft
// in a gear, negative in R. It is the converter's output, not the engine, that
// turns the input shaft.
//
// Errors: *GearError for a gear that the chart does not have, ErrFree for P and N.
// Source: Train.Ratio with RingToSun and the application chart; checked against
// the published ratios of the light version (S24, S25) in gear_test.go.
func Ratio(g Gear) (float64, error) {
	r, ok := RowOf(g)
	if !ok {
		return 0, &GearError{g}
	}
	return RatioWith(r.On)
}

// RatioWith returns the ratio that any set of elements makes, such as the chart's
// row less the one that slips, or plus the one that drags.
//
// Errors: *ElementError for an element that does not exist; ErrFree if the output
// is not driven, ErrLocked if the elements fight each other (a tie-up), ErrStill
// if they hold the output.
// Source: Train.Ratio with RingToSun; checked in gear_test.go.
func RatioWith(on []ElementID) (float64, error) {
	train, ties, err := trainWith(on)
	if err != nil {
		return 0, err
	}
	return train.Ratio(InputShaft, OutputShaft, ties...)
}

// MemberSpeeds returns the speed of every part of the gear train that the
// elements fix, as turns per turn of the input shaft.
//
// Errors: *ElementError, and ErrLocked as for RatioWith.
// Source: Train.Speeds with RingToSun; checked in gear_test.go.
func MemberSpeeds(on []ElementID) (map[Member]float64, error) {
	train, ties, err := trainWith(on)
	if err != nil {
		return nil, err
	}
	return train.Speeds(InputShaft, ties...)
}

// ElementError reports an element that does not exist.
type ElementError struct{ ID ElementID }

// Error returns the fault for a log.
func (e *ElementError) Error() string {
	return fmt.Sprintf("unit: there is no element %q", string(e.ID))
}

func trainWith(on []ElementID) (Train, []Tie, error) {
	train, err := GearTrain(RingToSun)
	if err != nil {
		return Train{}, nil, err
	}
	ties := make([]Tie, 0, len(on))
	for _, id := range on {
		e, ok := ElementByID(id)
		if !ok {
			return Train{}, nil, &ElementError{id}
		}
		ties = append(ties, e.Tie)
	}
	return train, ties, nil
}

// Needs returns the elements without which a gear slips, in the order of
// Elements. An element that another one backs up is not needed: in manual 1 the
// rear band holds what the overrunning clutch holds. What the gear train does
// without the element is computed, not listed. Unknown gears, P and N need nothing.
func Needs(g Gear) []ElementID {
	row, ok := RowOf(g)
	if !ok {
		return nil
	}
	if _, err := RatioWith(row.On); err != nil {
		return nil
	}
	var needed []ElementID
	for _, id := range row.On {
		rest := make([]ElementID, 0, len(row.On))
		for _, other := range row.On {
			if other != id {
				rest = append(rest, other)
			}
		}
		if _, err := RatioWith(rest); err != nil {
			needed = append(needed, id)
		}
	}
	return needed
}

// Suspects returns the elements each of which alone explains what the road test
// found: every slipping gear needs it, and no good gear does. The order is that
// of Elements. Nothing is returned when nothing slips, and when no single element
// explains it: then look for what all share, such as line pressure, or for two
// faults.
func Suspects(slipping, good []Gear) []ElementID {
	if len(slipping) == 0 {
		return nil
	}
	count := map[ElementID]int{}
	for _, g := range distinct(slipping) {
		for _, id := range Needs(g) {
			count[id]++
		}
	}
	for _, g := range good {
		for _, id := range Needs(g) {
			delete(count, id)
		}
	}
	var suspects []ElementID
	for _, e := range Elements {
		if count[e.ID] == len(distinct(slipping)) {
			suspects = append(suspects, e.ID)
		}
	}
	return suspects
}

func distinct(gears []Gear) []Gear {
	seen := map[Gear]bool{}
	var out []Gear
	for _, g := range gears {
		if !seen[g] {
			seen[g] = true
			out = append(out, g)
		}
	}
	return out
}

// SharedBy returns the elements that are on in every one of the gears, needed or
// not, in the order of Elements.
func SharedBy(gears []Gear) []ElementID {
	if len(gears) == 0 {
		return nil
	}
	var shared []ElementID
	for _, e := range Elements {
		everywhere := true
		for _, g := range gears {
			row, ok := RowOf(g)
			everywhere = everywhere && ok && row.Has(e.ID)
		}
		if everywhere {
			shared = append(shared, e.ID)
		}
	}
	return shared
}
