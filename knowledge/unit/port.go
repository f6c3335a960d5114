package unit

import "provingbench/knowledge/quantity"

// Port is a pressure tap in the case.
type Port struct {
	ID           string
	Name         string
	Where        string
	Gauge        quantity.Value // full scale of the gauge to use
	GaugeNote    string
	Pressurised  []Gear // the rows of the application chart in which it carries pressure
	Elements     []ElementID
	Acceptances  []string // ids of the acceptance values read here
	From         Provenance
	LocationFrom Provenance
}

// fullScale returns a gauge's full scale in psi.
func fullScale(psi float64) quantity.Value { return quantity.PSI.Of(psi) }

var (
	forward = []Gear{First, Second, Third, Fourth, ManualSecond, ManualFirst}
	driven  = []Gear{Reverse, First, Second, Third, Fourth, ManualSecond, ManualFirst}
)

// Ports lists the pressure taps.
var Ports = []Port{
	{
		ID: "line", Name: "Line port", Where: "right side of the case; also called the accumulator port",
		Gauge:        fullScale(100),
		GaugeNote:    "Use the 100 psi gauge only where the reading stays under 100 psi. The 300 psi gauge may replace it anywhere, and must on a raised build.",
		Pressurised:  driven,
		Acceptances:  []string{"line-drive-idle", "line-drive-full", "line-rise-lockup", "line-third-lockup", "line-maximum", "forward-line-ceiling"},
		From:         Provenance{Kind: Published, Source: "S1", At: "hydraulic pressure tests", Note: "Sister three-speed unit. In which ranges the accumulator passage carries pressure is from memory."},
		LocationFrom: Provenance{Kind: Published, Source: "S1", At: "hydraulic pressure tests", Note: "Sister three-speed unit."},
	},
	{
		ID: "front-servo", Name: "Front servo port, release side", Where: "right side of the case, just behind the filler tube opening",
		Gauge:        fullScale(100),
		GaugeNote:    "Use the 100 psi gauge only where the reading stays under 100 psi. The 300 psi gauge may replace it anywhere.",
		Pressurised:  []Gear{Reverse, Third, Fourth},
		Elements:     []ElementID{FrontClutch, FrontBand},
		Acceptances:  []string{"front-servo-difference", "front-servo-in-second"},
		From:         Provenance{Kind: Published, Source: "S2", At: "test 3", Note: "Sister three-speed unit; pressure in 3rd is printed, in 4th and R it is from memory."},
		LocationFrom: Provenance{Kind: Published, Source: "S1", At: "hydraulic pressure tests", Note: "Sister three-speed unit; also S2."},
	},
	{
		ID: "rear-servo", Name: "Rear servo apply port", Where: "with the line, front servo and governor ports on one side of the case",
		Gauge:        fullScale(300),
		GaugeNote:    "A 300 psi gauge has no headroom in R on a late or raised unit; a 400 psi gauge is worth having there.",
		Pressurised:  []Gear{Reverse, ManualFirst},
		Elements:     []ElementID{RearBand},
		Acceptances:  []string{"line-reverse-idle", "line-reverse-full", "rear-servo-difference", "rear-servo-residual"},
		From:         Provenance{Kind: Published, Source: "S1", At: "hydraulic pressure tests", Note: "Sister three-speed unit; also S2. The 400 psi gauge is derived from a range that ends at 300 psi."},
		LocationFrom: Provenance{Kind: Published, Source: "S4", Note: "The booklet shows the four ports together; the exact spot is from memory, confirm in the maker's manual."},
	},
	{
		ID: "governor", Name: "Governor port", Where: "with the line, front servo and rear servo ports on one side of the case",
		Gauge:        fullScale(100),
		GaugeNote:    "A 100 psi gauge.",
		Pressurised:  forward,
		Acceptances:  []string{"governor-standstill", "governor-rise", "governor-relay-out"},
		From:         Provenance{Kind: Published, Source: "S8", Note: "The solenoid's inlet is line pressure in forward gears (S11, S14)."},
		LocationFrom: Provenance{Kind: Published, Source: "S4", Note: "The booklet shows the four ports together."},
	},
	{
		ID: "overdrive-clutch", Name: "Overdrive clutch port", Where: "separate, at the overdrive end of the case",
		Gauge:        fullScale(300),
		GaugeNote:    "A 300 psi gauge.",
		Pressurised:  []Gear{Fourth},
		Elements:     []ElementID{OverdriveClutch},
		Acceptances:  []string{"overdrive-clutch-closed", "overdrive-clutch-half", "overdrive-clutch-full"},
		From:         Provenance{Kind: Published, Source: "S3", At: "test 6", Note: "Also S4."},
		LocationFrom: Provenance{Kind: Memory, Note: "From memory, confirm in the maker's manual."},
	},
}

// PortByID returns the port of that id.
func PortByID(id string) (Port, bool) {
	for _, p := range Ports {
		if p.ID == id {
			return p, true
		}
	}
	return Port{}, false
}

// LeverPosition says where a lever on the case stands for a setting. Turning one
// of the two levers the wrong way is a classic error of the pressure test.
type LeverPosition struct {
	Lever    string // "manual" or "throttle"
	Setting  string // a range, or idle and full
	Position string
	From     Provenance
}

// Levers lists the lever positions, each lever from front to rear. Forward is
// toward the engine.
var Levers = []LeverPosition{
	{"manual", "1", "full forward", Provenance{Kind: Published, Source: "S1", Note: "Sister three-speed unit."}},
	{"manual", "2", "one detent rearward of full forward", Provenance{Kind: Published, Source: "S2", Note: "Sister three-speed unit."}},
	{"manual", "D", "two detents rearward of full forward", Provenance{Kind: Published, Source: "S2", Note: "Sister three-speed unit."}},
	{"manual", "N", "three detents rearward of full forward", Provenance{Kind: Published, Source: "S2", Note: "Derived by counting between D and R of a sister unit."}},
	{"manual", "R", "four detents rearward of full forward", Provenance{Kind: Published, Source: "S2", Note: "Sister three-speed unit."}},
	{"manual", "P", "full rearward", Provenance{Kind: Published, Source: "S2", Note: "Derived by counting on from R of a sister unit."}},
	{"throttle", "idle", "full forward: least pressure. Never force it forward past its stop; lever, valve and shaft are damaged.", Provenance{Kind: Published, Source: "S1", Note: "Also S2 and S12; the warning is from S12, a sister unit."}},
	{"throttle", "full", "full rearward: most pressure", Provenance{Kind: Published, Source: "S1", Note: "Also S2 and S12."}},
}
