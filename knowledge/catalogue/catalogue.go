// Package catalogue holds what the trade knows about this class of unit:
// symptoms, parts, faults, checks and cautions, and the words that lead to them.
//
// The authored form is one YAML file per record under data/: the file's name
// is the record's id, lower-case with hyphens. Package author reads and
// validates them; `go run ./build compile` turns them into the Go literals of
// package shipped, so that the program that runs in a browser parses nothing.
//
// # Grammar
//
// data/symptoms/<id>.yaml
//
//	name:    Flare on the 2-3 shift           # what a technician would say
//	said:                                     # what people say, trade words and customers' words
//	  - flares two-three
//	  - engine runs away between second and third
//	ask:     Does the engine race as it goes from second to third, then grab?
//	family:  flare                            # optional: symptoms that differ only by gear share it
//	gear:    2-3                              # optional: which member of the family this is
//	leak:    seldom                           # how often it is reported with no fault of this catalogue
//	loses:   ["3"]                            # optional: rows of the application chart whose loss it reports
//
// data/parts/<id>.yaml
//
//	name:     Front servo rings
//	also:     [kickdown servo rings]          # optional: other names people use
//	does:     Seals the front servo's piston in the case.
//	kind:     seal                            # a closed list, see package author
//	area:     apply                           # as for faults
//	elements: [front-band]                    # optional: what of package unit it belongs to,
//	ports:    [front-servo]                   # by id
//	coils:    []
//	sensors:  []
//	sound:    Why no fault sits in it.        # instead of a fault
//
// data/faults/<id>.yaml
//
//	name:      Front servo leaks
//	also:      [kickdown servo ring broken]   # other names, for search and free words
//	area:      valve-body                     # outside | electrical | valve-body | apply | pump | gear-train | converter | cooling
//	part:      front-servo-rings              # id of the part it sits in
//	also-in:   [front-servo-piston]           # optional: parts in which it sits just as well
//	versions:  [light, mid]                   # optional; without it all versions have it
//	needs:     bench                          # access level at which the repair is done
//	how:       How it comes about, one or two sentences.
//	driven-on: What it does to the rest if the truck is driven on.
//	frequency: common                         # common | occasional | uncommon | rare, among trucks that come in
//	symptoms:                                 # how strongly it shows, per symptom
//	  - {id: flare-2-3, level: often, when: {temperature: hot}}
//	estimates: {kind: memory, note: …}        # provenance of frequency and levels in this record
//	repair:
//	  renew:  [front servo piston rings]
//	  rework: []
//	  set:    [front band, to the sheet's turns]
//	  together:                               # what goes with it, and why
//	    - {part: front band strut, why: it shows the same wear}
//	  uses:   [front-band-backoff-turns, front-band-torque]   # acceptance ids whose values the repair needs
//	  proof:  [line-pressure-drive]           # checks to repeat: they show that the repair has worked
//	numbers:                                  # optional: figures in the text that no value of the sheet has
//	  - {says: 1000 rpm, from: {kind: common-practice}}
//	excused:                                  # optional: not a fault on a build that sets it so on purpose
//	  build: raised
//
// data/checks/<id>.yaml
//
//	name:     Governor solenoid coil, ohms at the case plug
//	purpose:  Tells an open or shorted coil from a healthy one without opening the pan.
//	level:    plug                            # access level it is done at
//	also:     [pan]                           # other levels at which it can be done just as well
//	minutes:  8                               # hands-on time at that level, without getting there
//	preliminary: fluid                        # optional: comes before gauges, always; level, then fluid, linkage, codes
//	sees: lamp-codes                          # optional: the symptom that what it finds is, looked at closely
//	hazardous: true                           # optional: comes only when nothing safer is left before the unit comes out
//	versions: [light, mid]                    # optional
//	tools:    [digital multimeter with short leads]
//	drawings: [pressure-ports]                # optional: shown before the steps
//	steps:                                    # at most sixteen, imperative, one act each
//	  - do: Switch the key off.
//	  - cautions: [hot-fluid]                 # stand before the step, ids from data/cautions
//	    do: Unplug the case connector.
//	    drawing: case-connector               # optional: shown with the step
//	    values: [air-test-pressure]           # optional: acceptance ids that the step needs, shown with it
//	trap:     One line on how people get this wrong.   # optional
//	numbers:  []                              # optional: as for faults
//	estimates: {kind: memory, note: minutes and levels}
//	observations:                             # what is learned; each is entered on its own
//	  - id: ohms
//	    asks: Ohms between the two governor solenoid pins
//	    reading:                              # a number; without it the user picks an outcome
//	      quantity: resistance                # a quantity kind
//	      acceptance: governor-solenoid-coil  # id in the unit sheet
//	      method: coil                        # window (default) | coil
//	    outcomes:                             # in order: the first whose sign fires is what is seen
//	      - id: open
//	        verdict: open                     # for readings: below | above | open | short | meets
//	        label: Open (OL)
//	        means: The winding or its wire is broken.
//	        next:  Measure again at the solenoid with the pan off.
//	        leak:  never                      # how often it is seen with none of these faults
//	        shows: [{id: governor-solenoid-coil-open, level: always}]
//	        proves: [governor-solenoid-coil-open]   # only when this outcome settles it
//	      - id: meets
//	        verdict: meets
//	        label: In the window
//	        means: …
//	        normal: true                      # the last outcome, what a healthy unit shows
//
// data/cautions/<id>.yaml
//
//	signal:      WARNING                      # DANGER | WARNING | CAUTION | NOTICE (ANSI Z535.6)
//	hazard:      Fluid at working temperature scalds.
//	consequence: Burns to hands and face.
//	avoid:       Let it cool below 120 °F (49 °C), wear gloves and goggles.
//	provenance:  {kind: common-practice}
//
// data/codes/<id>.yaml
//
//	number:   P1757                           # the id in capitals
//	family:   governor                        # supply | governor | overdrive | lockup | inputs | general
//	name:     Governor pressure too high at standstill   # what it is called here
//	means:    Pressure stands where none should, in gear and not moving.
//	from:     {kind: published, source: S8}   # of name and meaning
//	standard:                                 # numbers that SAE J2012 names for all makers; a maker's own has none
//	  name: Shift Solenoid A Electrical
//	  from: {kind: published, source: S66}
//	older:                                    # optional: two- and three-digit numbers of the same fault
//	  - {number: "142", from: {kind: published, source: S10}}
//	sets:                                     # optional: what really stores it; sources that disagree are several
//	  - what:  governor sensor above 6 psi for 5 s, six times in one drive
//	    when:  in D, engine running, standing still, fluid 73 to 190 °F
//	    years: 2007, diesel
//	    from:  {kind: published, source: S8}
//	does:                                     # optional: what the driver notices
//	  - {text: It launches in third., from: {kind: published, source: S10}}
//	outcome: {check: stored-codes, observation: governor, outcome: off-target}   # optional: what it is as a finding
//	next:                                     # the checks that come next, in this order
//	  - {check: governor-pressure, why: A gauge says whether the pressure is there.}
//	notes: []                                 # optional: versions, years; text and from
//	trap:  One line on how people get this wrong.   # optional
//
// data/builds/<id>.yaml
//
//	name:     Higher line pressure            # a usual change to a unit of this class
//	area:     pressure                        # pressure | shift | lockup | strength | cooling
//	means:    What is changed.
//	buys:     [{text: …, from: {kind: common-practice}}]
//	costs:    []                              # text and from
//	limits:   []                              # what bounds it; text and from
//	tells:    []                              # how a truck shows that it was done; text and from
//	likelier:                                 # optional
//	  - {fault: valve-body-warped, why: It bends under the pressure.}
//	uses:     [line-maximum]                  # optional: acceptance ids to hold it against
//
// data/drawings/<id>.svg and <id>.yaml, a picture and its words: see Drawing.
//
// data/access.yaml lists the access levels in order with the minutes to open
// and to close each.
//
// # How strongly
//
// A practitioner reviews named levels, never loose probabilities; Level.Probability
// holds the numbers. Frequency and leak use named levels too.
//
// # What is carried
//
// Fields with the tag keep:"author" serve the validator and the coverage report.
// They are authored and compared, and left out of what a browser loads.
package catalogue

import "provingbench/knowledge/unit"

// Condition narrows a symptom or a link. Empty fields say nothing.
type Condition struct {
	Gear        string `json:"gear,omitempty"`        // "1", "2", "3", "4", "R", "1-2", "2-3", "3-4"
	Temperature string `json:"temperature,omitempty"` // "hot" or "cold"
	Throttle    string `json:"throttle,omitempty"`    // "light" or "heavy"
}

// Symptom is what a customer or a road test can report.
type Symptom struct {
	ID     string
	Name   string
	Said   []string
	Ask    string
	Family string
	Gear   string
	Leak   Level
	Loses  []unit.Gear `keep:"author"` // rows of the application chart whose loss it reports
}

// Part is a piece of the unit, or of the truck around it, that a fault can sit in.
type Part struct {
	ID       string
	Name     string
	Also     []string
	Does     string
	Kind     string `keep:"author"`
	Area     string
	Elements []unit.ElementID `keep:"author"`
	Ports    []string         `keep:"author"`
	Coils    []string         `keep:"author"`
	Sensors  []string         `keep:"author"`
	Sound    string           `keep:"author"` // why no fault sits in it; empty when one does
}

// Number is a figure in a record's text, with where it comes from.
type Number struct {
	Says string // as the text has it: "1000 rpm"
	From unit.Provenance
}

// Link says how strongly a fault shows in a symptom or an outcome.
type Link struct {
	ID    string
	Level Level
	When  Condition
}

// Together is a part that goes with a repair, and the reason.
type Together struct {
	Part string
	Why  string
}

// Repair is what to do about a proved fault.
type Repair struct {
	Renew    []string
	Rework   []string
	Set      []string
	Together []Together
	Uses     []string // acceptance ids whose values the repair needs
	Proof    []string // ids of the checks that show that it has worked
}

// Fault is one thing that can be wrong.
type Fault struct {
	ID        string
	Name      string
	Also      []string
	Area      string
	Part      string         // id of the part it sits in
	AlsoIn    []string       // ids of parts in which it sits just as well
	Versions  []unit.Version // empty: all
	Needs     string         // access level of the repair
	How       string
	DrivenOn  string
	Frequency Frequency
	Symptoms  []Link
	Estimates unit.Provenance
	Repair    Repair
	Numbers   []Number
	Excused   unit.Build // empty, or the build on which this is a deliberate setting
}

// Step is one act of a check, with the cautions that stand before it.
type Step struct {
	Cautions []string
	Do       string
	Drawing  string   // id, or empty
	Values   []string // acceptance ids
}

// Reading describes a number the user enters.
type Reading struct {
	Quantity   string // a quantity.Kind
	Acceptance string // id in the unit sheet
	Method     string // "window" or "coil"
}

// Outcome is one thing an observation can show.
type Outcome struct {
	ID      string
	Verdict string // for readings: below, above, open, short, meets
	Label   string
	Means   string
	Next    string
	Leak    Level
	Shows   []Link // ID is a fault's
	Proves  []string
	Normal  bool
}

// Observation is one thing a check finds out.
type Observation struct {
	ID       string
	Asks     string
	Reading  *Reading // nil when the user picks an outcome
	Outcomes []Outcome
}

// Preliminary is the place of a check that comes before gauges and meters;
// empty for all others.
type Preliminary string

// Preliminaries lists the places in the trade's order: without the right fluid
// nothing else means much, and a lever that is off its place stores codes and
// spoils pressures of its own. The motor of the throttle lever stands with the
// codes, because it stores its own and wants the same tool.
var Preliminaries = []Preliminary{"level", "fluid", "linkage", "codes"}

// Check is a procedure that tells faults apart or proves one.
type Check struct {
	ID           string
	Name         string
	Purpose      string
	Level        string
	Also         []string
	Minutes      float64
	Preliminary  Preliminary
	Sees         string // id of the symptom that what it finds is, looked at closely
	Hazardous    bool
	Versions     []unit.Version // empty: all
	Tools        []string
	Drawings     []string // ids, shown before the steps
	Steps        []Step
	Trap         string
	Numbers      []Number
	Estimates    unit.Provenance
	Observations []Observation
}

// Caution is a safety message in the signal words of ANSI Z535.6.
type Caution struct {
	ID          string
	Signal      string // DANGER, WARNING, CAUTION or NOTICE
	Hazard      string
	Consequence string
	Avoid       string
	Provenance  unit.Provenance
}

// AccessLevel is how far the truck has been taken apart.
type AccessLevel struct {
	ID    string // wheels, raised, plug, pan, bench, out
	Name  string
	Open  float64 // minutes to get here from the level before
	Close float64 // minutes to go back to the level before
	Notes string
	From  unit.Provenance
}

// Catalogue is everything, in a fixed order: records by id, levels from the
// outside in.
type Catalogue struct {
	Symptoms []Symptom
	Parts    []Part
	Faults   []Fault
	Checks   []Check
	Cautions []Caution
	Drawings []Drawing
	Access   []AccessLevel

	Codes         []Code
	Modifications []Modification
}
