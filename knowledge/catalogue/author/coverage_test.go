package author

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/unit"
)

// What the authored records leave out is nothing, or says why.
func TestNothingIsLeftOut(t *testing.T) {
	d, err := Load(os.DirFS("../../.."))
	require.NoError(t, err)
	assert.Empty(t, d.Gaps())

	var b strings.Builder
	require.NoError(t, d.WriteCoverage(&b))
	for _, p := range d.Catalogue.Parts {
		assert.Contains(t, b.String(), "\n"+p.ID+" (")
	}
	assert.True(t, strings.HasSuffix(b.String(), "# Gaps: 0\n"))

	kinds := map[string]bool{}
	for _, p := range d.Catalogue.Parts {
		kinds[p.Kind] = true
	}
	for _, k := range partKinds {
		assert.True(t, kinds[k], "no part is a %s", k)
	}
}

// Every mark of the chart in a gear that drives is a cell, and a cell is either
// missed by somebody or kept by another element.
// Source: application chart, maker's handbook, late version: 4 marks in D 1st, 2nd
// and 3rd, 3 in 4th and R, 4 in manual 2, 5 in manual 1.
func TestCellsAreTheChartsMarks(t *testing.T) {
	d, err := Load(os.DirFS("../../.."))
	require.NoError(t, err)
	marks := map[unit.Gear]int{}
	for _, c := range d.Cells() {
		marks[c.Gear]++
		assert.True(t, len(c.Reports) > 0 || len(c.StandIns) > 0, "%s in %s", c.Element, c.Gear)
	}
	for gear, n := range map[unit.Gear]int{
		unit.First: 4, unit.Second: 4, unit.Third: 4, unit.Fourth: 3, unit.Reverse: 3, unit.ManualSecond: 4, unit.ManualFirst: 5,
		unit.Parked: 0, unit.Neutral: 0,
	} {
		assert.Equal(t, n, marks[gear], gear)
	}
}

// Source: notes under the application chart, maker's handbook, late version: a slip
// in D 1st that manual 1 doesn't have is the overrunning clutch, so there the rear
// band keeps the gear; no reverse and no engine braking in manual 2 is the direct clutch.
func TestStandIns(t *testing.T) {
	for _, row := range []struct {
		gear unit.Gear
		lost unit.ElementID
		by   []unit.ElementID
		kept bool
	}{
		{unit.First, unit.OverrunningClutch, nil, false},
		{unit.ManualFirst, unit.OverrunningClutch, []unit.ElementID{unit.RearBand}, true},
		{unit.ManualFirst, unit.RearBand, []unit.ElementID{unit.OverrunningClutch}, true},
		{unit.BrakingFirst, unit.RearBand, nil, false},
		{unit.Reverse, unit.DirectClutch, nil, false},
		{unit.BrakingSecond, unit.DirectClutch, nil, false},
		{unit.Second, unit.FrontBand, nil, false}, // it drives on in first
	} {
		r, ok := unit.RowOf(row.gear)
		require.True(t, ok)
		by, kept := standIns(r, row.lost)
		assert.Equal(t, row.kept, kept, "%s without %s", row.gear, row.lost)
		assert.Equal(t, row.by, by, "%s without %s", row.gear, row.lost)
	}
}

// The welded front clutch launches in third and ties up in second, and the
// stripped driving shell leaves first alone: what the records say follows from
// the gear train.
func TestRecordsFollowFromTheGearTrain(t *testing.T) {
	// With both clutches on, the overrunning clutch turns forward and lets go.
	third, _ := unit.RowOf(unit.Third)
	speeds, err := unit.MemberSpeeds(third.On)
	require.NoError(t, err)
	assert.Positive(t, speeds[unit.RearCarrier])

	second, _ := unit.RowOf(unit.Second)
	_, err = unit.RatioWith(append(slices.Clone(second.On), unit.FrontClutch))
	assert.ErrorIs(t, err, unit.ErrLocked)

	for _, row := range unit.Chart {
		without := slices.DeleteFunc(slices.Clone(row.On), func(id unit.ElementID) bool { return id == unit.FrontClutch || id == unit.FrontBand })
		_, err := unit.RatioWith(without)
		switch row.Gear {
		case unit.First, unit.ManualFirst, unit.BrakingFirst:
			assert.NoError(t, err, row.Gear)
		default:
			assert.Error(t, err, row.Gear)
		}
	}
}

func TestNumbersIn(t *testing.T) {
	for text, want := range map[string][]string{
		"Raise the air to 10, 20 and 30 psi by the gauge.": {"10 psi", "20 psi", "30 psi"},
		"Loosen the locknut 5 to 6 turns.":                 {"5 turn", "6 turn"},
		"Line pressure in manual 1, 1000 rpm, forward":     {"1000 rpm"},
		"Back off 2-7/8 turns, or 1,200 ohms; wait 30 s.":  {"2-7/8 turn", "1200 ohm", "30 s"},
		"In third, at 12 V.":                               {"12 V"},
		"P1765 and the 1-2 shift, 3 in D, two gauges":      nil,
		"The 3-4 valve, 4 seals":                           nil,
	} {
		assert.Equal(t, want, numbersIn(text), text)
	}
}

func init() {
	bad = append(bad, []badRecord{
		{"part", inFaults + "coil-open.yaml", "part: coil", "part: cool",
			`coil-open.yaml:4:7: [part] There is no part "cool". Tip: Maybe "coil"?`},
		{"part", inFaults + "coil-open.yaml", "part: coil", "part: coil\nalso-in: [coil]",
			`coil-open.yaml:5:11: [part] "coil" stands twice. Tip: Keep one.`},
		{"part-fault", inParts + "pan-magnet.yaml", "sound: Nothing in it can fail.\n", "",
			`pan-magnet.yaml:1:1: [part-fault] No fault sits in pan-magnet. Tip: Add the fault, name the part under also-in of one, or say under sound why there is none.`},
		{"part-fault", inParts + "coil.yaml", "coils: [governor-solenoid]", "coils: [governor-solenoid]\nsound: It never fails.",
			`coil.yaml:6:8: [part-fault] coil-open sits in the part. Tip: Leave sound out.`},
		{"unit-part", inParts + "coil.yaml", "coils: [governor-solenoid]\n", "",
			`parts:1:1: [unit-part] No part belongs to the coil governor-solenoid. Tip: Add the part, or name it in a part that is there.`},
		{"unit-part", inParts + "regulator.yaml", "ports: [line]", "ports: [line, lime]",
			`regulator.yaml:7:15: [unit-part] The unit has no port "lime". Tip: Maybe "line"?`},
		{"chart", inSymptoms + "slips-third.yaml", `loses: ["3"]`, `loses: ["2"]`,
			`parts:1:1: [chart] No symptom of a fault in the front-clutch reports its loss in 3. Tip: Give a fault of the element a symptom that loses this gear.`},
		{"repair-proof", inFaults + "coil-open.yaml", "  proof: [coil-ohms]\n", "",
			`coil-open.yaml:13:3: [repair-proof] The repair names no check to repeat. Tip: Say under proof which checks show that it has worked.`},
		{"repair-proof", inFaults + "coil-open.yaml", "proof: [coil-ohms]", "proof: [coil-ohm]",
			`coil-open.yaml:16:11: [repair-proof] There is no check "coil-ohm". Tip: Maybe "coil-ohms"?`},
		{"repair-proof", inFaults + "coil-open.yaml", "proof: [coil-ohms]", "proof: [spring-look]",
			`coil-open.yaml:16:10: [repair-proof] None of the checks can be done on the late version. Tip: Add one that can.`},
		{"number", inFaults + "line-low.yaml", "how: The spring sags.", "how: The spring sags below 60 psi.",
			`line-low.yaml:6:6: [number] "60 psi" stands in the text and comes from nowhere. Tip: Name the value of the sheet under uses or in a reading, or add the figure to numbers with its provenance.`},
		{"number", inChecks + "coil-ohms.yaml", "do: Read the ohms.", "do: Read 26 to 40 ohm.", ""},
		{"number", inChecks + "coil-ohms.yaml", "estimates:", "numbers: [{says: 12 V, from: {kind: common-practice}}]\nestimates:",
			`coil-ohms.yaml:11:18: [number] "12 V" does not stand in the text. Tip: Delete it.`},
		{"number", inChecks + "coil-ohms.yaml", "estimates:", "numbers: [{says: twelve, from: {kind: common-practice}}]\nestimates:",
			`coil-ohms.yaml:11:18: [number] "twelve" is not a number with its unit. Tip: Write it as the text has it: 1000 rpm.`},
	}...)
}
