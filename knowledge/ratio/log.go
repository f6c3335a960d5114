package ratio

import (
	"math"
	"strconv"
	"strings"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// A Throttle is how far the pedal was down.
type Throttle string

// The throttles, in rising order.
const (
	Closed    Throttle = "closed"
	LightFoot Throttle = "light"
	Half      Throttle = "half"
	Full      Throttle = "full"
)

// Throttles lists the throttles in rising order.
var Throttles = []Throttle{Closed, LightFoot, Half, Full}

// throttleWords are the spellings of a throttle in a log.
var throttleWords = map[string]Throttle{
	"closed": Closed, "coast": Closed, "idle": Closed, "coasting": Closed,
	"light": LightFoot, "quarter": LightFoot, "min": LightFoot, "minimum": LightFoot,
	"half": Half, "medium": Half, "part": Half,
	"full": Full, "wot": Full, "kickdown": Full, "max": Full, "maximum": Full,
}

// A Turn is what shifted: "1-2", "4-3", or "lock" and "unlock" for the
// converter clutch.
type Turn string

// The shifts of a log.
const (
	Lock   Turn = "lock"
	Unlock Turn = "unlock"
)

// Logged lists what a log can hold, upshifts first, in the order of a road test.
var Logged = []Turn{"1-2", "2-3", "3-4", Lock, Unlock, "4-3", "3-2", "2-1", "3-1", "4-2"}

// gears returns from which gear to which; ok is false for the converter clutch.
func (t Turn) gears() (from, to int, ok bool) {
	if len(t) != 3 || t[1] != '-' {
		return 0, 0, false
	}
	return int(t[0] - '0'), int(t[2] - '0'), true
}

// An Entry is one line of a shift-point log.
type Entry struct {
	Turn     Turn
	Throttle Throttle
	Speed    quantity.Reading
	Engine   quantity.Reading // just before the shift; zero when not read
	// Min and Max are what a sheet at hand allows, as typed behind the entry; nil
	// where it says nothing.
	Min, Max *quantity.Value
}

// A LogError reports a line that cannot be read.
type LogError struct {
	Input string // the input it blames, Log
	Line  int    // from 1
	Part  string // what is wrong
	Tip   string // what to type instead, a full sentence
}

// Log is the name of a log as an input.
const Log = "shift-point log"

// Error returns the fault for a log.
func (e *LogError) Error() string {
	return "ratio: shift-point log, line " + strconv.Itoa(e.Line) + ": " + e.Part
}

// Sentence returns the fault for the person who typed, in full sentences.
func (e *LogError) Sentence() string {
	return "Line " + strconv.Itoa(e.Line) + ": " + e.Part + ". " + e.Tip
}

// Examples of entries, for who types a log.
const (
	ExampleEntry  = "1-2 light 14"
	ExampleEngine = "2-3 full 45 3200 rpm"
	ExampleSheet  = "3-4 half 42; 38 to 46"
)

const (
	exampleEntry = "Type the shift, the throttle and the speed, for example " + ExampleEntry + " or " + ExampleEngine + "."
	mostEntries  = 60
)

// ParseLog reads a log, one shift for each line; empty lines are passed over.
//
//	1-2 light 14
//	2-3 full 45 mph 3200 rpm
//	3-4 half 42; 38 to 46          what the sheet at hand allows, after a semicolon
//	lock light 48
//
// A speed without a unit is in speed.
// Errors: *LogError.
func ParseLog(text string, speed quantity.Unit) ([]Entry, error) {
	var entries []Entry
	for n, line := range strings.Split(text, "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		if len(entries) == mostEntries {
			return nil, &LogError{Log, n + 1, "it is too long a log", "Keep to " + strconv.Itoa(mostEntries) + " shifts."}
		}
		e, err := parseEntry(line, speed)
		if err != nil {
			err.Line = n + 1
			return nil, err
		}
		entries = append(entries, e)
	}
	return entries, nil
}

func parseEntry(line string, speed quantity.Unit) (Entry, *LogError) {
	fail := func(part, tip string) (Entry, *LogError) { return Entry{}, &LogError{Input: Log, Part: part, Tip: tip} }
	main, sheet, _ := strings.Cut(line, ";")
	words := strings.Fields(main)
	if len(words) < 3 {
		return fail("something is missing", exampleEntry)
	}
	var e Entry
	what := strings.ToLower(strings.NewReplacer("–", "-", "→", "-", ">", "-").Replace(words[0]))
	for _, t := range Logged {
		if string(t) == what {
			e.Turn = t
		}
	}
	if e.Turn == "" {
		return fail("no such shift as "+strconv.Quote(cut(words[0])), "Known are 1-2, 2-3, 3-4, 4-3, 3-2, 2-1, 3-1, 4-2, lock and unlock.")
	}
	if e.Throttle = throttleWords[strings.ToLower(words[1])]; e.Throttle == "" {
		return fail("no such throttle as "+strconv.Quote(cut(words[1])), "Known are closed, light, half and full.")
	}
	number, rest := words[2], words[3:]
	if len(rest) > 0 && !startsNumber(rest[0]) {
		number, rest = number+" "+rest[0], rest[1:]
	}
	var err error
	if e.Speed, err = quantity.Parse(quantity.KindSpeed, number, speed); err != nil {
		return fail("the speed cannot be read", exampleEntry)
	}
	if e.Speed.SI < float64(validSpeed[0]) {
		return fail("at that speed no shift can be told", exampleEntry)
	}
	if len(rest) > 0 {
		if e.Engine, err = quantity.Parse(quantity.KindRotation, strings.Join(rest, " "), quantity.RPM); err != nil {
			return fail("the engine speed cannot be read", exampleEntry)
		}
	}
	if strings.TrimSpace(sheet) == "" {
		return e, nil
	}
	least, most, both := strings.Cut(strings.ReplaceAll(sheet, "–", " to "), " to ")
	if !both {
		least, most, both = strings.Cut(sheet, "-")
	}
	lo, err1 := quantity.Parse(quantity.KindSpeed, least, speed)
	hi, err2 := quantity.Parse(quantity.KindSpeed, most, speed)
	if !both || err1 != nil || err2 != nil || lo.SI > hi.SI {
		return fail("what the sheet allows cannot be read", "Type it after a semicolon, for example "+ExampleSheet+".")
	}
	min, max := lo.Value(), hi.Value()
	e.Min, e.Max = &min, &max
	return e, nil
}

func startsNumber(s string) bool { return s[0] >= '0' && s[0] <= '9' || s[0] == '.' }

func cut(s string) string {
	if r := []rune(s); len(r) > 12 {
		return string(r[:12]) + "…"
	}
	return s
}

// A Row is an Entry with what is to be said about it.
type Row struct {
	Entry
	// Result is the verdict by what the sheet allows; without it there is none.
	Result conformity.Result
	// Locked is what the engine would turn in the gear before the shift without
	// any slip; 0 without tyre and axle.
	Locked quantity.Rotation
	// Slip is what Engine has over Locked as a share of Engine; only with both.
	Slip quantity.Ratio
}

// An Oddity is what in a log contradicts how shift valves work.
type Oddity string

// The oddities.
const (
	// OutOfOrder: a higher upshift came at a lower speed than the one before it.
	OutOfOrder Oddity = "out-of-order"
	// NotLater: an upshift came no later with more throttle.
	NotLater Oddity = "not-later"
	// Overlap: a downshift came at or over the speed of its upshift, at the same
	// throttle: the truck hunts.
	Overlap Oddity = "overlap"
	// Scattered: the same shift at the same throttle came at speeds that are
	// further apart than a foot and an eye explain.
	Scattered Oddity = "scattered"
)

// A Finding is an oddity and the rows it is seen in, counted from 0.
type Finding struct {
	Oddity Oddity
	A, B   int
}

// A Report is what a log comes to.
type Report struct {
	Rows     []Row
	Findings []Finding
}

// scatter is how far the same shift may wander, as a share of its speed: no two
// tries have the same foot (from memory).
const scatter = 0.15

// A Truck is what turns road speed into shaft speed; its zero value says that
// this is not known.
type Truck struct {
	Tyre           Rolling
	Axle, Transfer quantity.Ratio
}

// Judge works a log out. A row gets a verdict only by the window that was typed
// with it: no published shift speeds are known for this class of unit. What is
// looked at beside that is order, which needs no sheet: with each gear a higher
// speed, with more throttle a later upshift, and a downshift under its upshift.
// Two speeds count as different when they differ by twice the standard
// uncertainty of their difference.
//
// meter is the speedometer; nil for Speedometer.
// Errors: *quantity.RangeError naming the input, for a Truck that is not zero.
// Source: how hydraulic shift valves work, governor pressure against throttle pressure (from memory); checked in log_test.go.
func Judge(entries []Entry, truck Truck, meter *conformity.Accuracy, rule conformity.Rule) (Report, error) {
	usual := Speedometer
	if meter == nil {
		meter = &usual
	}
	var rep Report
	for _, e := range entries {
		row := Row{Entry: e, Result: conformity.Judge(e.Speed, meter.Standard(e.Speed), conformity.Window{Name: "the sheet at hand", Min: e.Min, Max: e.Max}, rule)}
		// With the converter clutch coming on, the gear is not known.
		if from, _, ok := e.Turn.gears(); ok && truck.Axle != 0 {
			shaft, err := ShaftSpeedAt(quantity.Speed(e.Speed.SI), truck.Tyre, truck.Axle, truck.Transfer)
			if err != nil {
				return Report{}, err
			}
			i, err := unit.Ratio(forward[from-1])
			if err != nil {
				return Report{}, err
			}
			row.Locked = shaft * quantity.Rotation(i)
			if e.Engine.Kind != "" && e.Engine.SI > 0 {
				row.Slip = quantity.Ratio(1 - float64(row.Locked)/e.Engine.SI)
			}
		}
		rep.Rows = append(rep.Rows, row)
	}
	for a := range entries {
		for b := range entries {
			if o := odd(entries[a], entries[b], meter); o != "" && (a < b || o != Scattered) {
				rep.Findings = append(rep.Findings, Finding{o, a, b})
			}
		}
	}
	return rep, nil
}

// odd says what contradicts in two entries, of which a should come at the lower
// speed.
func odd(a, b Entry, meter *conformity.Accuracy) Oddity {
	m := *meter
	m.Percent = 0 // the same speedometer for both
	far := 2 * math.Hypot(m.Standard(a.Speed), m.Standard(b.Speed))
	af, at, okA := a.Turn.gears()
	bf, bt, okB := b.Turn.gears()
	up := okA && okB && at > af && bt > bf
	switch {
	case up && a.Throttle == b.Throttle && bf > af && a.Speed.SI-b.Speed.SI > far:
		return OutOfOrder
	case up && a.Turn == b.Turn && b.Throttle == Full && (a.Throttle == LightFoot || a.Throttle == Half) && b.Speed.SI-a.Speed.SI < far:
		return NotLater
	case okA && okB && a.Throttle == b.Throttle && at < af && bt == af && bf == at && a.Speed.SI > b.Speed.SI-far/2:
		return Overlap
	case a.Turn == b.Turn && a.Throttle == b.Throttle && math.Abs(a.Speed.SI-b.Speed.SI) > far+scatter*math.Min(a.Speed.SI, b.Speed.SI):
		return Scattered
	}
	return ""
}
