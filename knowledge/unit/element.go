package unit

// ElementID names a clutch, a band or a one-way clutch.
type ElementID string

// The elements, from the pump backward.
const (
	FrontClutch                ElementID = "front-clutch"
	RearClutch                 ElementID = "rear-clutch"
	FrontBand                  ElementID = "front-band"
	RearBand                   ElementID = "rear-band"
	OverrunningClutch          ElementID = "overrunning-clutch"
	OverdriveClutch            ElementID = "overdrive-clutch"
	DirectClutch               ElementID = "direct-clutch"
	OverdriveOverrunningClutch ElementID = "overdrive-overrunning-clutch"
)

// ElementKind says how an element grips.
type ElementKind string

// The kinds of element.
const (
	DiscClutch   ElementKind = "disc clutch"
	Band         ElementKind = "band"
	OneWayClutch ElementKind = "one-way clutch"
)

// Element is one clutch, band or one-way clutch.
type Element struct {
	ID      ElementID
	Name    string
	Kind    ElementKind
	Applied string // what puts it on
	Does    string // what it drives or holds, in words
	Tie     Tie    // the same for the gear train
	From    Provenance
}

// Elements lists the elements from the pump backward, the order of every chart.
var Elements = []Element{
	{
		ID: FrontClutch, Name: "Front clutch", Kind: DiscClutch,
		Applied: "line pressure, by way of the 2-3 shift valve in 3rd and the manual valve in R",
		Does:    "drives the sun gear with the input shaft",
		Tie:     Tied(InputShaft, SunGear),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart", Note: "The feed's path through the valves is from memory, confirm in the maker's manual."},
	},
	{
		ID: RearClutch, Name: "Rear clutch", Kind: DiscClutch,
		Applied: "line pressure from the manual valve in every forward range",
		Does:    "drives the front ring gear with the input shaft",
		Tie:     Tied(InputShaft, FrontRing),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart", Note: "The feed's path through the valves is from memory, confirm in the maker's manual."},
	},
	{
		ID: FrontBand, Name: "Front band", Kind: Band,
		Applied: "front servo; line pressure on its release side and the spring let go in 3rd",
		Does:    "holds the sun gear",
		Tie:     Held(SunGear),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart", Note: "The servo's two sides follow the pressure test of a sister unit (S2)."},
	},
	{
		ID: RearBand, Name: "Rear band", Kind: Band,
		Applied: "rear servo, in R and manual 1",
		Does:    "holds the rear planet carrier",
		Tie:     Held(RearCarrier),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart"},
	},
	{
		ID: OverrunningClutch, Name: "Overrunning clutch", Kind: OneWayClutch,
		Applied: "by itself, when the engine drives in 1st",
		Does:    "keeps the rear planet carrier from turning backward",
		Tie:     Held(RearCarrier),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart"},
	},
	{
		ID: OverdriveClutch, Name: "Overdrive clutch", Kind: DiscClutch,
		Applied: "overdrive piston against the direct clutch spring, fed through the 3-4 valve",
		Does:    "holds the overdrive sun gear",
		Tie:     Held(OverdriveSun),
		From:    Provenance{Kind: Published, Source: "S23", At: "application chart", Note: "Which member it holds is derived from the ratio of 4th."},
	},
	{
		ID: DirectClutch, Name: "Direct clutch", Kind: DiscClutch,
		Applied: "its spring, until the overdrive piston pushes the spring back",
		Does:    "locks the overdrive set solid, in both directions of torque",
		Tie:     Tied(OverdriveSun, OutputShaft),
		From:    Provenance{Kind: Memory, Note: "The application chart (S23) shows when it is on; the spring and the members it joins are from memory, confirm in the maker's manual."},
	},
	{
		ID: OverdriveOverrunningClutch, Name: "Overdrive overrunning clutch", Kind: OneWayClutch,
		Applied: "by itself, when the engine drives in 1st, 2nd and 3rd",
		Does:    "drives the output shaft from the intermediate shaft",
		Tie:     Tied(IntermediateShaft, OutputShaft),
		From:    Provenance{Kind: Memory, Note: "The application chart (S23) shows when it is on; the members it joins are from memory, confirm in the maker's manual."},
	},
}

// ElementByID returns the element of that id.
func ElementByID(id ElementID) (Element, bool) {
	for _, e := range Elements {
		if e.ID == id {
			return e, true
		}
	}
	return Element{}, false
}

// The members of the gear train.
const (
	InputShaft        Member = "input shaft"
	SunGear           Member = "sun gear" // common to the front and the rear set
	FrontRing         Member = "front ring gear"
	RearCarrier       Member = "rear planet carrier"
	IntermediateShaft Member = "intermediate shaft" // front carrier, rear ring and overdrive carrier
	OverdriveSun      Member = "overdrive sun gear"
	OutputShaft       Member = "output shaft" // with the overdrive ring
)

// RingToSun is ring teeth over sun teeth in every set of this class of unit, a
// plain number. One figure explains all five published ratios; the tooth counts
// themselves are not published.
//
// Source: derived from the published ratio of R, 2.20 (maker's handbooks of 1998
// and 2003, S24 and S25).
const RingToSun = 2.20

// GearTrain returns the train of this class of unit: a three-speed train of two
// sets with a common sun, and an overdrive set behind it, all of one
// ring-to-sun ratio k.
//
// k must be 1.1 to 10; a ring is always larger than its sun.
// Errors: *quantity.RangeError for k.
// Source: topology derived from the application chart (S23) and the published
// ratios; checked against both and against a published three-speed train in
// gear_test.go.
func GearTrain(k float64) (Train, error) {
	if err := within("ring to sun ratio", k, 1.1, 10); err != nil {
		return Train{}, err
	}
	return Train{Sets: []Set{
		{Name: "front set", Sun: SunGear, Ring: FrontRing, Carrier: IntermediateShaft, Ratio: k},
		{Name: "rear set", Sun: SunGear, Ring: IntermediateShaft, Carrier: RearCarrier, Ratio: k},
		{Name: "overdrive set", Sun: OverdriveSun, Ring: OutputShaft, Carrier: IntermediateShaft, Ratio: k},
	}}, nil
}
