package author

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/quantity"
	"provingbench/knowledge/unit"
)

// good is a small set of records that keeps to every rule. Its numbers are
// invented for the tests.
var good = map[string]string{
	"knowledge/catalogue/data/symptoms/no-reverse.yaml": `
name: No reverse
said: [won't back up, reverse is gone]
ask: Does it stay put in reverse?
leak: hardly
`,
	"knowledge/catalogue/data/symptoms/slips-third.yaml": `
name: Slips in third
said: [slips in third]
ask: Does the engine race in third?
family: slips
gear: "3"
leak: seldom
loses: ["3"]
`,
	"knowledge/catalogue/data/faults/coil-open.yaml": `
name: Coil open
also: [dead coil]
area: electrical
part: coil
needs: pan
how: The wire breaks.
driven-on: It stays in third.
frequency: rare
symptoms:
  - {id: no-reverse, level: often, when: {temperature: hot}}
estimates: {kind: memory, note: frequency and levels}
repair:
  renew: [coil]
  together: [{part: seal, why: it comes out with it}]
  uses: [pan-bolts]
  proof: [coil-ohms]
`,
	"knowledge/catalogue/data/faults/line-low.yaml": `
name: Line pressure low
area: valve-body
part: regulator
versions: [light, mid]
needs: bench
how: The spring sags.
driven-on: The clutches burn.
frequency: common
symptoms:
  - {id: slips-third, level: usually}
estimates: {kind: memory, note: frequency and levels}
repair:
  set: [regulator]
  uses: [pan-bolts, screw-torque]
  proof: [spring-look]
excused: {build: raised}
`,
	"knowledge/catalogue/data/parts/coil.yaml": `
name: Solenoid coil
does: Pulls the valve.
kind: solenoid
area: electrical
coils: [governor-solenoid]
`,
	"knowledge/catalogue/data/parts/pan-magnet.yaml": `
name: Pan magnet
does: Holds iron dust.
kind: casting
area: outside
sensors: [governor-sensor]
sound: Nothing in it can fail.
`,
	"knowledge/catalogue/data/parts/regulator.yaml": `
name: Regulator
also: [pressure valve]
does: Holds line pressure.
kind: valve
area: valve-body
elements: [front-clutch]
ports: [line]
`,
	"knowledge/catalogue/data/checks/coil-ohms.yaml": `
name: Coil, ohms
purpose: Tells an open coil from a good one.
level: plug
also: [pan]
minutes: 5
tools: [multimeter]
steps:
  - cautions: [hot-fluid]
    do: Unplug the connector.
  - do: Read the ohms.
estimates: {kind: memory, note: minutes and levels}
observations:
  - id: ohms
    asks: Ohms between the pins
    reading: {quantity: resistance, acceptance: coil, method: coil}
    outcomes:
      - id: open
        verdict: open
        label: Open
        means: The wire is broken.
        leak: never
        shows: [{id: coil-open, level: always}]
        proves: [coil-open]
      - id: below
        verdict: below
        label: Too low
        means: Measure again.
        leak: seldom
      - id: above
        verdict: above
        label: Too high
        means: Measure again.
        leak: seldom
      - id: meets
        verdict: meets
        label: Good
        means: The coil is good.
        normal: true
`,
	"knowledge/catalogue/data/checks/spring-look.yaml": `
name: Regulator spring by eye
purpose: Finds a sagged spring.
level: bench
minutes: 5
versions: [light, mid]
steps:
  - do: Look at the spring.
estimates: {kind: common-practice}
observations:
  - id: spring
    asks: What does the spring look like?
    outcomes:
      - id: sagged
        label: Sagged
        means: The spring is weak.
        leak: never
        shows: [{id: line-low, level: always}]
        proves: [line-low]
      - id: straight
        label: Straight
        means: The spring is good.
        normal: true
`,
	"knowledge/catalogue/data/checks/wire-look.yaml": `
name: Coil wire by eye
purpose: Finds a broken wire.
level: pan
minutes: 5
drawings: [coil]
steps:
  - do: Look at the wire.
    drawing: spring
estimates: {kind: common-practice}
observations:
  - id: wire
    asks: What does the wire look like?
    outcomes:
      - id: broken
        label: Broken
        means: The coil is open.
        leak: never
        shows: [{id: coil-open, level: usually}]
      - id: whole
        label: Whole
        means: The wire is good.
        normal: true
`,
	"knowledge/catalogue/data/drawings/coil.svg": `
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 340 100">
<g class="drawing__line">
<path d="M10 10H330"/>
</g>
<text x="8" y="40">26 ohm, see <tspan class="drawing__strong">value</tspan></text>
</svg>
`,
	"knowledge/catalogue/data/drawings/coil.yaml": `
title: A coil
description: A coil of 26 ohm.
certain: The wire.
uncertain: The shape.
provenance: {kind: common-practice}
values: [coil]
`,
	"knowledge/catalogue/data/drawings/spring.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 340 60"><text x="8" y="40">90 mm</text></svg>`,
	"knowledge/catalogue/data/drawings/spring.yaml": `
title: A spring
description: A spring.
certain: The wire.
uncertain: The 90 mm are invented.
provenance: {kind: demo}
`,
	"knowledge/catalogue/data/cautions/hot-fluid.yaml": `
signal: WARNING
hazard: Fluid scalds.
consequence: Burns.
avoid: Let it cool.
provenance: {kind: common-practice}
`,
	"knowledge/catalogue/data/access.yaml": `
- {id: wheels, name: On its wheels, open: 0, close: 0, from: {kind: demo}}
- {id: raised, name: Raised, open: 8, close: 5, from: {kind: demo}}
- {id: plug, name: Plug off, open: 5, close: 5, from: {kind: demo}}
- {id: pan, name: Pan off, open: 30, close: 35, from: {kind: demo}}
- {id: bench, name: On the bench, open: 35, close: 40, from: {kind: demo}}
- {id: out, name: Unit out, open: 180, close: 200, from: {kind: demo}}
`,
	"knowledge/unit/data/sources.yaml": `
- {id: H1, title: "handbook, 1999: coils"}
`,
	"knowledge/unit/data/acceptance/coil.yaml": `
name: Coil
group: electrical
quantity: resistance
where: two pins
limits:
  - condition: {fluid: cold}
    min: 26 ohm
    max: 40 ohm
    provenance: {kind: published, source: H1, at: page 3}
`,
	"knowledge/unit/data/acceptance/pan-bolts.yaml": `
name: Pan bolts
group: torque
quantity: torque
where: pan
limits:
  - condition: {note: dry threads}
    max: 13 ft-lb
    provenance: {kind: memory, note: "Confirm in the maker's manual."}
`,
	"knowledge/unit/data/acceptance/screw-torque.yaml": `
name: Screw torque
group: torque
quantity: torque
where: screws
limits:
  - condition: {note: dry threads}
    max: 35 in-lb
    provenance: {kind: memory, note: "Confirm in the maker's manual."}
`,
}

// Short names of the files, and the problem each edit must give.
const (
	inSymptoms   = "knowledge/catalogue/data/symptoms/"
	inParts      = "knowledge/catalogue/data/parts/"
	inFaults     = "knowledge/catalogue/data/faults/"
	inChecks     = "knowledge/catalogue/data/checks/"
	inCautions   = "knowledge/catalogue/data/cautions/"
	inDrawings   = "knowledge/catalogue/data/drawings/"
	inAcceptance = "knowledge/unit/data/acceptance/"
)

// files gives the good set with one edit: in one file, old becomes new. An
// empty old replaces the whole file.
func files(t *testing.T, file, old, new string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for name, text := range good {
		out[name] = &fstest.MapFile{Data: []byte(strings.TrimPrefix(text, "\n"))}
	}
	if file == "" {
		return out
	}
	if old == "" {
		out[file] = &fstest.MapFile{Data: []byte(new)}
		return out
	}
	text := string(out[file].Data)
	require.Contains(t, text, old)
	out[file].Data = []byte(strings.Replace(text, old, new, 1))
	return out
}

// smallUnit is all that the good set is held against.
var smallUnit = structure{
	elements: unit.Elements[:1],
	ports:    unit.Ports[:1],
	coils:    unit.Coils[:1],
	sensors:  unit.Sensors[:1],
	chart:    []unit.Row{unit.Chart[5]}, // third
}

func load(root fstest.MapFS) (*Data, []string) {
	d, err := loadFor(root, smallUnit)
	if err == nil {
		return d, nil
	}
	return d, strings.Split(err.Error(), "\n")
}

func TestGoodSet(t *testing.T) {
	d, problems := load(files(t, "", "", ""))
	require.Empty(t, problems)

	require.Len(t, d.Catalogue.Faults, 2)
	assert.Equal(t, catalogue.Fault{
		ID: "line-low", Name: "Line pressure low", Area: "valve-body", Part: "regulator",
		Versions: []unit.Version{unit.Light, unit.Mid}, Needs: "bench",
		How: "The spring sags.", DrivenOn: "The clutches burn.", Frequency: catalogue.Common,
		Symptoms:  []catalogue.Link{{ID: "slips-third", Level: catalogue.Usually}},
		Estimates: unit.Provenance{Kind: unit.Memory, Note: "frequency and levels"},
		Repair:    catalogue.Repair{Set: []string{"regulator"}, Uses: []string{"pan-bolts", "screw-torque"}, Proof: []string{"spring-look"}},
		Excused:   unit.Raised,
	}, d.Catalogue.Faults[1])

	spring := d.Catalogue.Checks[1].Observations[0]
	assert.Nil(t, spring.Reading, "an observation without a reading is picked by the user")
	require.Len(t, d.Book.Acceptances, 3)
	assert.Equal(t, unit.Limit{
		Condition: unit.Condition{Note: "dry threads"},
		MaxText:   "35 in-lb",
		// One inch-pound is 0.1129848 N m. Source: NIST SP 811 (2008), appendix B.8.
		Max:        &quantity.Value{Kind: quantity.KindTorque, SI: d.Book.Acceptances[2].Limits[0].Max.SI},
		Provenance: unit.Provenance{Kind: unit.Memory, Note: "Confirm in the maker's manual."},
	}, d.Book.Acceptances[2].Limits[0])
	assert.InDelta(t, 35*0.1129848, d.Book.Acceptances[2].Limits[0].Max.SI, 35*0.5e-7)
}

type badRecord struct {
	rule           string
	file, old, new string
	want           string // after the directory
}

// bad has one row per way to break a rule: one edit to the good set and the
// complete message that it must give.
var bad = []badRecord{
	// What the decoder refuses.
	{"syntax", inSymptoms + "no-reverse.yaml", "name: No reverse", "name: No: reverse",
		`no-reverse.yaml:1:1: [syntax] mapping values are not allowed in this context. Tip: Put a text that holds a colon, a # or a quotation mark between quotation marks.`},
	{"syntax", inChecks + "coil-ohms.yaml", "shows: [{id: coil-open, level: always}]", "shows: &a [{id: coil-open, level: always}]",
		`coil-ohms.yaml:22:16: [syntax] An anchor or alias stands here; each record says everything itself. Tip: Write the value out.`},
	{"syntax", inCautions + "hot-fluid.yaml", "", "# nothing\n",
		`hot-fluid.yaml:1:1: [syntax] The file is empty. Tip: A record has at least a name.`},
	{"shape", inSymptoms + "no-reverse.yaml", "[won't back up, reverse is gone]", "won't back up",
		`no-reverse.yaml:2:7: [shape] Expected a list, found "won't back up". Tip: Write [a, b], or one item per line after a dash.`},
	{"shape", inChecks + "spring-look.yaml", "normal: true", "normal: perhaps",
		`spring-look.yaml:22:17: [shape] Expected true or false, found "perhaps".`},
	{"blank", inFaults + "coil-open.yaml", "part: coil", "part:",
		`coil-open.yaml:4:6: [blank] Expected a value, found "". Tip: What is not known is left out with its key, never left blank.`},
	{"blank", inAcceptance + "coil.yaml", "min: 26 ohm", "min: '?'",
		`coil.yaml:7:10: [blank] Expected a value, found "?". Tip: What is not known is left out with its key, never left blank.`},
	{"vocabulary", inFaults + "line-low.yaml", "level: usually", "level: usual",
		`line-low.yaml:10:30: [vocabulary] "usual" is not known here. Legal: always, usually, often, sometimes, seldom, hardly, never. Tip: Maybe "usually"?`},
	{"number", inChecks + "spring-look.yaml", "minutes: 5", "minutes: 5 min",
		`spring-look.yaml:4:10: [number] Expected a number, found "5 min". Tip: Write digits and a decimal point, no unit.`},
	{"duplicate-key", inSymptoms + "no-reverse.yaml", "leak: hardly", "leak: hardly\nleak: seldom",
		`no-reverse.yaml:5:1: [duplicate-key] "leak" stands twice, first in line 4. Tip: Keep one of the two.`},
	{"unknown-key", inSymptoms + "no-reverse.yaml", "leak: hardly", "leak: hardly\ngears: R",
		`no-reverse.yaml:5:1: [unknown-key] "gears" is not a key here. Legal: name, said, ask, family, gear, leak, loses. Tip: Maybe "gear"?`},
	{"unknown-key", inSymptoms + "no-reverse.yaml", "leak: hardly", "leak: hardly\nid: no-reverse",
		`no-reverse.yaml:5:1: [unknown-key] "id" is not a key here. Legal: name, said, ask, family, gear, leak, loses.`},
	{"missing", inSymptoms + "no-reverse.yaml", "ask: Does it stay put in reverse?\n", "",
		`no-reverse.yaml:1:1: [missing] "ask" is missing.`},
	{"unit", inAcceptance + "coil.yaml", "min: 26 ohm", "min: 26",
		`coil.yaml:7:10: [unit] Expected a resistance with its unit, found "26". Tip: Write the number and the unit as the source prints them: 54 psi, 72 in-lb, 2-7/8 turns.`},
	{"unit", inAcceptance + "coil.yaml", "max: 40 ohm", "max: 40 psi",
		`coil.yaml:8:10: [unit] Expected a resistance with its unit, found "40 psi". Tip: Write the number and the unit as the source prints them: 54 psi, 72 in-lb, 2-7/8 turns.`},

	// What the rules refuse.
	{"file-name", inChecks + "coil-ohms.yaml", "id: ohms", "id: Ohms",
		`coil-ohms.yaml:13:9: [file-name] "Ohms" is not lower-case words with hyphens.`},
	{"file-name", inChecks + "readme.txt", "", "nothing",
		`readme.txt:1:1: [file-name] Only records, <id>.yaml, belong here.`},
	{"text", inCautions + "hot-fluid.yaml", "consequence: Burns.", "consequence: \"Burns.\\tBad ones.\"",
		`hot-fluid.yaml:3:14: [text] The text holds a tab, a line end or another control character. Tip: Use plain spaces and one line.`},
	{"text", inCautions + "hot-fluid.yaml", "consequence: Burns.", "consequence: |\n  Burns.",
		`hot-fluid.yaml:3:14: [text] The text begins or ends with a space or a line end. Tip: Write it in one line, or after >- instead of > or |.`},
	{"text", inCautions + "hot-fluid.yaml", "Burns.", "Burns.  Bad ones.",
		`hot-fluid.yaml:3:14: [text] The text holds two spaces in a row. Tip: Keep one.`},
	{"sentence", inFaults + "coil-open.yaml", "how: The wire breaks.", "how: The wire breaks",
		`coil-open.yaml:6:6: [sentence] "The wire breaks" does not end with a full stop.`},
	{"sentence", inFaults + "coil-open.yaml", "how: The wire breaks.", "how: the wire breaks.",
		`coil-open.yaml:6:6: [sentence] "the wire breaks." does not begin with a capital letter.`},
	{"sentence", inSymptoms + "no-reverse.yaml", "reverse?", "reverse.",
		`no-reverse.yaml:3:6: [sentence] "Does it stay put in reverse." is not a question. Tip: Ask what the customer can answer, and end with a question mark.`},
	{"unique", inFaults + "line-low.yaml", "name: Line pressure low", "name: Dead coil",
		`line-low.yaml:1:7: [unique] The fault's name "Dead coil" stands at faults/coil-open/also/0 too.`},
	{"unique", inChecks + "coil-ohms.yaml", "- id: below", "- id: open",
		`coil-ohms.yaml:24:13: [unique] The outcome's id "open" stands at checks/coil-ohms/observations/0/outcomes/0/id too.`},
	{"said-unique", inSymptoms + "slips-third.yaml", "said: [slips in third]", "said: [Won't back-up!]",
		`slips-third.yaml:2:8: [said-unique] "Won't back-up!" is said for no-reverse too. Tip: Keep it where it is meant, or say what tells the two apart.`},
	{"said-unique", inSymptoms + "no-reverse.yaml", "reverse is gone", "wont back up, Won't back up",
		`no-reverse.yaml:2:37: [said-unique] "Won't back up" stands twice. Tip: Keep one.`},
	{"family", inSymptoms + "slips-third.yaml", "gear: \"3\"\n", "",
		`slips-third.yaml:4:9: [family] A member of a family has no gear. Tip: Say which gear or shift it is, or end the id in -all for every gear.`},
	{"reference", inFaults + "line-low.yaml", "id: slips-third", "id: slips-thrid",
		`line-low.yaml:10:10: [reference] There is no symptom "slips-thrid". Tip: Maybe "slips-third"?`},
	{"reference", inChecks + "coil-ohms.yaml", "acceptance: coil", "acceptance: cool",
		`coil-ohms.yaml:15:49: [reference] There is no acceptance value "cool". Tip: Maybe "coil"?`},
	{"reference", inChecks + "coil-ohms.yaml", "cautions: [hot-fluid]", "cautions: [hot-fluid, fire]",
		`coil-ohms.yaml:8:27: [reference] There is no caution "fire".`},
	{"reference", inChecks + "spring-look.yaml", "proves: [line-low]", "proves: [line-low, line-slow]",
		`spring-look.yaml:18:28: [reference] There is no fault "line-slow". Tip: Maybe "line-low"?`},
	{"reference", inFaults + "line-low.yaml", "uses: [pan-bolts, screw-torque]", "uses: [pan-bolts, screw-torque, gap]",
		`line-low.yaml:14:35: [reference] There is no acceptance value "gap".`},
	{"repeated", inFaults + "line-low.yaml", "level: usually}", "level: usually}\n  - {id: slips-third, level: often}",
		`line-low.yaml:11:5: [repeated] "slips-third" stands twice under the same condition. Tip: Keep the stronger level.`},
	{"repeated", inChecks + "coil-ohms.yaml", "also: [pan]", "also: [pan, pan]",
		`coil-ohms.yaml:4:13: [repeated] "pan" stands twice. Tip: Keep one.`},
	{"repeated", inChecks + "coil-ohms.yaml", "also: [pan]", "also: [plug]",
		`coil-ohms.yaml:4:7: [repeated] "plug" is the check's own level. Tip: Leave it out of also.`},
	{"symptom-fault", inFaults + "coil-open.yaml", "id: no-reverse", "id: slips-third",
		`no-reverse.yaml:1:1: [symptom-fault] No fault shows in no-reverse. Tip: Add the symptom to the faults that cause it.`},
	{"fault-symptom", inFaults + "line-low.yaml", "symptoms:\n  - {id: slips-third, level: usually}", "symptoms: []",
		`line-low.yaml:9:11: [fault-symptom] line-low shows in no symptom. Tip: Say what the customer or a road test notices.`},
	{"fault-proof", inChecks + "coil-ohms.yaml", "        proves: [coil-open]\n", "",
		`coil-open.yaml:1:1: [fault-proof] No check proves coil-open on the light version. Tip: Add proves to the outcome that settles it.`},
	{"fault-proof", inChecks + "spring-look.yaml", "versions: [light, mid]", "versions: [light]",
		`line-low.yaml:1:1: [fault-proof] No check proves line-low on the mid version. Tip: Add proves to the outcome that settles it.`},
	{"fault-repair", inFaults + "coil-open.yaml", "renew: [coil]", "renew: []",
		`coil-open.yaml:13:3: [fault-repair] The repair neither renews, reworks nor sets anything.`},
	{"check-needed", inChecks + "spring-look.yaml", "observations:\n", "observations:\n  - id: colour\n    asks: What colour is it?\n    outcomes:\n      - {id: blue, label: Blue, means: It was hot., leak: never}\n      - {id: plain, label: Plain, means: It was not., normal: true}\n",
		`spring-look.yaml:10:5: [check-needed] No outcome shows a fault. Tip: Say under shows which faults it points to, or leave the observation out.`},
	{"proof-shows", inChecks + "spring-look.yaml", "proves: [line-low]", "proves: [line-low, coil-open]",
		`spring-look.yaml:18:28: [proof-shows] The outcome proves coil-open and does not show it. Tip: Add it to shows with its level.`},
	{"proof-shows", inChecks + "spring-look.yaml", "level: always}]", "level: always}, {id: coil-open, level: seldom}]",
		`spring-look.yaml:17:48: [proof-shows] The outcome proves something else and shows coil-open too. Tip: Give that fault an outcome of its own.`},
	{"normal-last", inChecks + "spring-look.yaml", "normal: true", "leak: never",
		`spring-look.yaml:19:9: [normal-last] The last outcome is not normal. Tip: End with what a healthy unit shows, normal: true.`},
	{"normal-last", inChecks + "spring-look.yaml", "normal: true", "normal: true\n        shows: [{id: coil-open, level: seldom}]",
		`spring-look.yaml:19:9: [normal-last] The normal outcome shows a fault. Tip: What a fault shows is not normal; leave shows and proves out.`},
	{"leak", inChecks + "spring-look.yaml", "        leak: never\n", "",
		`spring-look.yaml:13:9: [leak] The outcome has no leak. Tip: Say how often it is seen with none of these faults; never is a level too.`},
	{"leak", inChecks + "spring-look.yaml", "normal: true", "normal: true\n        leak: never",
		`spring-look.yaml:23:15: [leak] The normal outcome has a leak. Tip: It is what is left when no sign fires; leave leak out.`},
	{"link-level", inFaults + "line-low.yaml", "level: usually}", "level: usually}\n  - {id: no-reverse, level: never}",
		`line-low.yaml:11:5: [link-level] no-reverse never shows here. Tip: Delete the link.`},
	{"verdict", inChecks + "spring-look.yaml", "- id: sagged", "- id: sagged\n        verdict: below",
		`spring-look.yaml:14:18: [verdict] The user picks this outcome, so a verdict cannot choose it. Tip: Give the observation a reading, or leave verdict out.`},
	{"verdict", inChecks + "coil-ohms.yaml", "        verdict: open\n", "",
		`coil-ohms.yaml:17:9: [verdict] The outcome of a reading has no verdict. Tip: Legal: open, short, below, above, meets.`},
	{"verdict", inChecks + "coil-ohms.yaml", "        verdict: open\n", "        verdict: above\n",
		`coil-ohms.yaml:30:18: [verdict] "above" chooses an earlier outcome already. Tip: Use each verdict once; what needs the eye is an observation of its own.`},
	{"verdict", inChecks + "coil-ohms.yaml", "      - id: below\n        verdict: below\n        label: Too low\n        means: Measure again.\n        leak: seldom\n", "",
		`coil-ohms.yaml:13:5: [verdict] The reading can be below its limits and no outcome says so. Tip: Add the outcome.`},
	{"verdict", inAcceptance + "coil.yaml", "    max: 40 ohm\n", "",
		""},
	{"reading", inChecks + "coil-ohms.yaml", "quantity: resistance", "quantity: voltage",
		`coil-ohms.yaml:15:25: [reading] coil is a resistance, the reading is a voltage.`},
	{"preliminary", inChecks + "spring-look.yaml", "minutes: 5", "minutes: 5\npreliminary: fluid",
		`spring-look.yaml:3:8: [preliminary] A preliminary check is done at level bench. Tip: Preliminary checks are done on the wheels.`},
	{"preliminary", inChecks + "spring-look.yaml", "level: bench\nminutes: 5", "level: wheels\nminutes: 5\npreliminary: true",
		`spring-look.yaml:5:14: [preliminary] There is no place "true" among the preliminary checks. Tip: Legal: level, fluid, linkage, codes.`},
	{"step-value", inChecks + "spring-look.yaml", "- do: Look at the spring.", "- do: Press it as the sheet says.",
		`spring-look.yaml:7:9: [step-value] The step speaks of the sheet and shows no value. Tip: Name the acceptance value under values of the step.`},
	{"cost", inChecks + "spring-look.yaml", "minutes: 5", "minutes: 0",
		`spring-look.yaml:4:10: [cost] Expected more than 0 and at most 240 minutes, found 0.`},
	{"cost", "knowledge/catalogue/data/access.yaml", "open: 30", "open: 0",
		`access.yaml:4:3: [cost] The level pan takes 0 minutes to open and 35 to close. Tip: The first level is free, every other takes time.`},
	{"access", "knowledge/catalogue/data/access.yaml", "- {id: raised, name: Raised, open: 8, close: 5, from: {kind: demo}}\n", "",
		`access.yaml:1:1: [access] Expected the levels wheels, raised, plug, pan, bench, out, found wheels, plug, pan, bench, out.`},
	{"steps", inChecks + "spring-look.yaml", "steps:\n  - do: Look at the spring.", "steps: []",
		`spring-look.yaml:6:8: [steps] Expected 1 to 16 steps, found 0. Tip: Make two checks of it, or leave out what every technician does unasked.`},
	{"imperative", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: The spring is taken out.",
		`spring-look.yaml:7:9: [imperative] The step begins with "the", which is not an order. Tip: Begin with what to do: Lift, Read, Turn.`},
	{"imperative", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Looking at the spring.",
		`spring-look.yaml:7:9: [imperative] The step begins with "looking", which is not an order. Tip: Begin with what to do: Lift, Read, Turn.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Lift the spring, then look at it.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with "then". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Lift the spring out. Look at it.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with "look". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Lift the spring and turn it.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with "turn". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Draw the valve, plug and spring out, and count the coils.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with "count". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: If it hangs, loosen the screws and try again.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with "try". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"one-act", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Lift the spring; lay it down.",
		`spring-look.yaml:7:9: [one-act] The step holds two acts, the second begins with ";". Tip: Make each act a step of its own; what is seen while it is done may stay: Watch the rod as you open the air.`},
	{"imperative", inChecks + "spring-look.yaml", "do: Look at the spring.", "do: Look at the " + strings.Repeat("long ", 40) + "spring.",
		`spring-look.yaml:7:9: [imperative] The step has 219 characters, at most 200 are read. Tip: Move the reason into purpose or trap.`},
	{"caution-used", inChecks + "coil-ohms.yaml", "cautions: [hot-fluid]", "cautions: []",
		`hot-fluid.yaml:1:1: [caution-used] No step has this caution before it. Tip: Put it before the step that needs it, or delete it.`},
	{"svg", inDrawings + "coil.svg", "<path d", "<path id=\"a\" d",
		`coil.svg:3:1: [svg] "id" is not an attribute of a drawing. Legal: class, cx, cy, d, r, text-anchor, transform, x, y. Tip: Strokes and fills come from a class.`},
	{"svg", inDrawings + "coil.svg", "drawing__strong", "drawing__strog",
		`coil.svg:5:32: [svg] "drawing__strog" is not a class of a drawing. Legal: drawing__bold, drawing__key, drawing__line, drawing__maybe, drawing__paper, drawing__solid, drawing__strong, drawing__thin, drawing__tip. Tip: Maybe "drawing__strong"?`},
	{"svg", inDrawings + "coil.svg", "</g>", "</g>\n<script>alert(1)</script>",
		`coil.svg:5:1: [svg] "script" is not an element of a drawing. Legal: g, path, circle, text, tspan.`},
	{"svg", inDrawings + "coil.svg", "<g class", "<!-- a coil --><g class",
		`coil.svg:2:1: [svg] Something other than elements and text stands here. Tip: Leave out comments, declarations and instructions; say it in the words beside the picture.`},
	{"svg", inDrawings + "coil.svg", "0 0 340 100", "0 0 500 100",
		`coil.svg:1:1: [svg] Expected an svg element with the viewBox "0 0 340 height", found svg with "0 0 500 100".`},
	{"svg", inDrawings + "coil.svg", "</g>", "",
		`coil.svg:6:1: [svg] The file cannot be read: XML syntax error on line 6: element <g> closed by </svg>.`},
	{"svg", inDrawings + "coil.svg", "M10 10H330", "M10 10H330" + strings.Repeat("M10 10H330", 300),
		`coil.svg:1:1: [svg] The drawing has 3207 bytes, at most 3000 are sent. Tip: Leave out what tells nothing.`},
	{"missing", inDrawings + "loose.yaml", "", "title: Loose\ndescription: Loose.\ncertain: Loose.\nuncertain: Loose.\nprovenance: {kind: demo}\n",
		`loose.svg:1:1: [missing] The file is missing.`},
	{"file-name", inDrawings + "coil.png", "", "nothing",
		`coil.png:1:1: [file-name] Only pictures, <id>.svg, and their words, <id>.yaml, belong here.`},
	{"reference", inChecks + "wire-look.yaml", "drawing: spring", "drawing: sprung",
		`wire-look.yaml:8:14: [reference] There is no drawing "sprung". Tip: Maybe "spring"?`},
	{"reference", inChecks + "wire-look.yaml", "drawings: [coil]", "drawings: [coil, cool]",
		`wire-look.yaml:5:18: [reference] There is no drawing "cool". Tip: Maybe "coil"?`},
	{"reference", inDrawings + "coil.yaml", "values: [coil]", "values: [coil, cool]",
		`coil.yaml:6:16: [reference] There is no acceptance value "cool". Tip: Maybe "coil"?`},
	{"drawing-shown", inChecks + "wire-look.yaml", "    drawing: spring\n", "",
		`spring.yaml:1:1: [drawing-shown] No check shows this drawing. Tip: Name it under drawing in the step that it belongs to, or delete it.`},
	{"drawing-shown", inChecks + "wire-look.yaml", "drawing: spring", "drawing: coil",
		`wire-look.yaml:8:14: [drawing-shown] "coil" is shown in this check already. Tip: Show it where it is needed first.`},
	{"drawing-number", inDrawings + "coil.svg", "26 ohm", "27 ohm",
		`coil.yaml:1:1: [drawing-number] Nothing says where 27 ohm comes from. Tip: Name its acceptance value under values, or say under certain or uncertain where it is from.`},
	{"drawing-number", inDrawings + "spring.yaml", "description: A spring.", "description: A spring of 3/4 in.",
		`spring.yaml:2:14: [drawing-number] Nothing says where 3/4 in comes from. Tip: Name its acceptance value under values, or say under certain or uncertain where it is from.`},
	{"repair-refit", inFaults + "coil-open.yaml", "  uses: [pan-bolts]\n", "",
		`coil-open.yaml:13:3: [repair-refit] The repair is done at level pan and does not use pan-bolts. Tip: Name under uses what it takes to close the unit again.`},
	{"acceptance-used", inFaults + "line-low.yaml", "uses: [pan-bolts, screw-torque]", "uses: [pan-bolts]",
		`screw-torque.yaml:1:1: [acceptance-used] No check reads this value and no repair uses it. Tip: Name it in the reading of a check or under uses of a repair.`},
	{"limit", inAcceptance + "screw-torque.yaml", "  - condition: {note: dry threads}\n    max", "  - max",
		`screw-torque.yaml:6:5: [limit] The limit has no condition. Tip: Say when it holds: versions, range, throttle, fluid, or a note such as cold, meter leads subtracted.`},
	{"limit", inAcceptance + "screw-torque.yaml", "    max: 35 in-lb\n", "",
		`screw-torque.yaml:6:5: [limit] The limit has neither min nor max.`},
	{"limit", inAcceptance + "coil.yaml", "min: 26 ohm", "min: 26 kohm",
		`coil.yaml:6:5: [limit] The smallest value, 26 kohm, is above the largest, 40 ohm. Tip: Swap them, or look at the units.`},
	{"versions", inFaults + "line-low.yaml", "versions: [light, mid]", "versions: [light, mid, late]",
		`line-low.yaml:4:11: [versions] All versions are listed. Tip: Leave versions out: without it all versions have the fault.`},
	{"versions", inChecks + "spring-look.yaml", "versions: [light, mid]", "versions: [late]",
		`spring-look.yaml:17:17: [versions] No version has both the check and line-low.`},
	{"provenance", inAcceptance + "coil.yaml", "kind: published, source: H1, at: page 3", "kind: published",
		`coil.yaml:9:17: [provenance] A published value names no source. Tip: If nobody printed it, say kind: memory.`},
	{"provenance", inAcceptance + "coil.yaml", "source: H1", "source: H2",
		`coil.yaml:9:43: [provenance] There is no source "H2". Tip: Add it to sources.yaml.`},
	{"provenance", inFaults + "coil-open.yaml", "{kind: memory, note: frequency and levels}", "{kind: memory}",
		`coil-open.yaml:11:12: [provenance] A value from memory has no note. Tip: Say what to do about it: confirm in the maker's manual.`},
	{"provenance", inAcceptance + "screw-torque.yaml", "Confirm in the maker's manual.", "Recalled.",
		`screw-torque.yaml:8:38: [provenance] The note of a limit from memory does not tell to confirm it. Tip: Say: from memory, confirm in the maker's manual.`},
	{"provenance", inCautions + "hot-fluid.yaml", "{kind: common-practice}", "{kind: common-practice, at: page 3}",
		`hot-fluid.yaml:5:41: [provenance] A place is named in no source.`},
}

func TestBadRecords(t *testing.T) {
	tried := map[string]bool{}
	for _, row := range bad {
		t.Run(row.rule+" "+row.new, func(t *testing.T) {
			_, problems := load(files(t, row.file, row.old, row.new))
			if row.want == "" {
				assert.Empty(t, problems, "the method coil has a window of its own")
				return
			}
			var got []string
			for _, p := range problems {
				got = append(got, p[strings.LastIndex(p[:strings.Index(p, ".")], "/")+1:])
			}
			assert.Contains(t, got, row.want)
			tried[row.rule] = true
		})
	}
	for _, r := range rules {
		assert.NotEmpty(t, r.why, r.name)
		assert.True(t, tried[r.name], "no bad record for the rule %s", r.name)
	}
}

func TestEveryProblemInOneRun(t *testing.T) {
	root := files(t, inCautions+"hot-fluid.yaml", "Burns.", "Burns")
	root[inSymptoms+"no-reverse.yaml"].Data = []byte("name: No reverse\nsaid: [~]\nask: Why\nleak: often")
	_, problems := load(root)
	assert.Len(t, problems, 3)
}

// The records that the program carries keep to every rule.
func TestAuthoredRecords(t *testing.T) {
	_, err := Load(os.DirFS("../../.."))
	assert.NoError(t, err)
}
