package author

import (
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/catalogue"
	"provingbench/knowledge/unit"
)

const (
	inCodes  = "knowledge/catalogue/data/codes/"
	inBuilds = "knowledge/catalogue/data/builds/"
)

func init() {
	maps.Copy(good, map[string]string{
		inCodes + "p1001.yaml": `
number: P1001
family: governor
name: Spring sags
means: The spring is weak.
from: {kind: published, source: H1}
older:
  - {number: "12", from: {kind: published, source: H1}}
sets:
  - what: below 10 psi for 3 s
    when: in D, hot
    years: "1999"
    from: {kind: published, source: H1}
outcome: {check: spring-look, observation: spring, outcome: sagged}
next:
  - check: coil-ohms
    why: It is quick.
`,
		inCodes + "p0002.yaml": `
number: P0002
family: general
name: Somewhere else
means: Look elsewhere.
from: {kind: demo}
standard:
  name: Fuel Volume Regulator Control Circuit Range/Performance
  from: {kind: published, source: H1}
next:
  - check: coil-ohms
    why: It is quick.
notes:
  - text: It is a pointer.
    from: {kind: demo}
`,
		inBuilds + "spring-stiff.yaml": `
name: Stiff spring
area: pressure
means: A stronger spring is fitted.
buys: [{text: It holds., from: {kind: demo}}]
costs: [{text: It bangs., from: {kind: demo}}]
limits: [{text: At 200 psi it bends., from: {kind: published, source: H1}}]
tells: [{text: A gauge reads more., from: {kind: demo}}]
likelier: [{fault: line-low, why: It breaks.}]
uses: [screw-torque]
`,
	})
	bad = append(bad, badCodes...)
}

var badCodes = []badRecord{
	{"code-number", inCodes + "p1001.yaml", "number: P1001", "number: 1001",
		`p1001.yaml:1:9: [code-number] "1001" is not a number as a scan tool shows it. Tip: Write P and four digits, P1757.`},
	{"code-number", inCodes + "p1001.yaml", "number: P1001", "number: P1002",
		`p1001.yaml:1:9: [code-number] The number P1002 stands in the file of p1001. Tip: Name the file after the number, in lower case.`},
	{"code-number", inCodes + "p1001.yaml", "older:", "standard: {name: Spring, from: {kind: demo}}\nolder:",
		`p1001.yaml:6:11: [code-number] P1001 belongs to the maker; the standard has no name for it. Tip: Leave standard out.`},
	{"code-number", inCodes + "p0002.yaml", "standard:\n  name: Fuel Volume Regulator Control Circuit Range/Performance\n  from: {kind: published, source: H1}\n", "",
		`p0002.yaml:1:1: [code-number] P0002 is a number of the standard and its name there is missing. Tip: Name it as SAE J2012 does, so that nobody takes the two for one.`},
	{"code-number", inCodes + "p1001.yaml", `number: "12"`, `number: "1"`,
		`p1001.yaml:7:14: [code-number] "1" is not a number of two or three digits.`},
	{"code-number", inCodes + "p1001.yaml", `  - {number: "12", from: {kind: published, source: H1}}`, "  - {number: \"12\", from: {kind: demo}}\n  - {number: \"12\", from: {kind: demo}}",
		`p1001.yaml:8:14: [code-number] "12" stands twice. Tip: Keep one.`},
	{"code-finding", inCodes + "p0002.yaml", "notes:\n  - text: It is a pointer.\n    from: {kind: demo}\n", "",
		`p0002.yaml:1:1: [code-finding] The code is no finding and nothing says why. Tip: Give it an outcome, or say under notes what it is good for.`},
	{"code-finding", inCodes + "p1001.yaml", "check: spring-look", "check: spring-lock",
		`p1001.yaml:13:18: [code-finding] There is no check "spring-lock". Tip: Maybe "spring-look"?`},
	{"code-finding", inCodes + "p1001.yaml", "observation: spring", "observation: sprung",
		`p1001.yaml:13:44: [code-finding] spring-look has no observation "sprung". Tip: Maybe "spring"?`},
	{"code-finding", inCodes + "p1001.yaml", "{check: spring-look, observation: spring, outcome: sagged}", "{check: coil-ohms, observation: ohms, outcome: open}",
		`p1001.yaml:13:42: [code-finding] ohms is read, not picked. Tip: A stored code is an outcome that is picked.`},
	{"code-finding", inCodes + "p1001.yaml", "outcome: sagged", "outcome: straight",
		`p1001.yaml:13:61: [code-finding] "straight" is what a healthy unit shows. Tip: A stored code is never normal.`},
	{"code-finding", inCodes + "p1001.yaml", "outcome: sagged", "outcome: sag",
		`p1001.yaml:13:61: [code-finding] spring has no outcome "sag".`},
	{"code-finding", inCodes + "p1001.yaml", "next:\n  - check: coil-ohms\n    why: It is quick.\n", "next: []\n",
		`p1001.yaml:14:7: [code-finding] No check comes next. Tip: Say what to do first when this code is stored.`},
	{"code-finding", inCodes + "p1001.yaml", "check: coil-ohms", "check: coil-ohm",
		`p1001.yaml:15:12: [code-finding] There is no check "coil-ohm". Tip: Maybe "coil-ohms"?`},
	{"code-finding", inCodes + "p1001.yaml", "why: It is quick.", "why: It is quick.\n  - check: coil-ohms\n    why: Again.",
		`p1001.yaml:17:12: [code-finding] "coil-ohms" stands twice. Tip: Keep the first.`},
	{"code-known", inChecks + "spring-look.yaml", "label: Sagged", `label: "P1009: sagged"`,
		`spring-look.yaml:14:16: [code-known] P1009 has no record. Tip: Add data/codes/p1009.yaml.`},
	{"code-known", inChecks + "spring-look.yaml", "label: Sagged", `label: "P0002: sagged"`,
		`spring-look.yaml:14:16: [code-known] P0002 stands here and its record leads elsewhere. Tip: Make label and record agree.`},
	{"figure", inCodes + "p1001.yaml", "means: The spring is weak.", "means: The spring gives 10 psi.",
		`p1001.yaml:4:8: [figure] The figure "10 psi" stands in free text. Tip: Move it where it has a provenance: sets, does, notes, buys, costs, limits or tells.`},
	{"figure", inBuilds + "spring-stiff.yaml", "why: It breaks.", "why: It breaks at 200 psi.",
		`spring-stiff.yaml:8:35: [figure] The figure "200 psi" stands in free text. Tip: Move it where it has a provenance: sets, does, notes, buys, costs, limits or tells.`},
	{"modification", inBuilds + "spring-stiff.yaml", "costs: [{text: It bangs., from: {kind: demo}}]", "costs: []",
		`spring-stiff.yaml:5:8: [modification] The list is empty. Tip: Nothing is free, and nothing is without a trace.`},
	{"modification", inBuilds + "spring-stiff.yaml", "fault: line-low", "fault: line-lo",
		`spring-stiff.yaml:8:20: [modification] There is no fault "line-lo". Tip: Maybe "line-low"?`},
	{"modification", inBuilds + "spring-stiff.yaml", "why: It breaks.}", "why: It breaks.}, {fault: line-low, why: Again.}",
		`spring-stiff.yaml:8:56: [modification] "line-low" stands twice. Tip: Keep one.`},
	{"modification", inBuilds + "spring-stiff.yaml", "uses: [screw-torque]", "uses: [screw-torqe]",
		`spring-stiff.yaml:9:8: [modification] There is no acceptance value "screw-torqe". Tip: Maybe "screw-torque"?`},
	{"unique", inCodes + "p0002.yaml", "name: Somewhere else", "name: Spring sags",
		`p1001.yaml:3:7: [unique] The code's name "Spring sags" stands at codes/p0002 too.`},
	{"provenance", inBuilds + "spring-stiff.yaml", "kind: published, source: H1", "kind: published",
		`spring-stiff.yaml:6:45: [provenance] A published value names no source. Tip: If nobody printed it, say kind: memory.`},
	{"missing", inCodes + "p1001.yaml", "    when: in D, hot\n", "",
		`p1001.yaml:9:5: [missing] "when" is missing.`},
	{"vocabulary", inCodes + "p1001.yaml", "family: governor", "family: govenor",
		`p1001.yaml:2:9: [vocabulary] "govenor" is not known here. Legal: supply, governor, overdrive, lockup, inputs, general. Tip: Maybe "governor"?`},
}

func TestGoodCode(t *testing.T) {
	d, problems := load(files(t, "", "", ""))
	require.Empty(t, problems)
	printed := unit.Provenance{Kind: unit.Published, Source: "H1"}
	assert.Equal(t, &catalogue.Code{
		ID: "p1001", Number: "P1001", Family: "governor", Name: "Spring sags", Means: "The spring is weak.", From: printed,
		Older:   []catalogue.Older{{Number: "12", From: printed}},
		Sets:    []catalogue.Setting{{What: "below 10 psi for 3 s", When: "in D, hot", Years: "1999", From: printed}},
		Outcome: &catalogue.OutcomeRef{Check: "spring-look", Observation: "spring", Outcome: "sagged"},
		Next:    []catalogue.Ahead{{Check: "coil-ohms", Why: "It is quick."}},
	}, d.Catalogue.Code("p1001"))
}

// The maker decides P1xxx and P30xx to P33xx; the standard names the rest.
// Source: SAE J2012, ranges of the powertrain codes.
func TestWhoseNumber(t *testing.T) {
	for number, maker := range map[string]bool{"P0748": false, "P1757": true, "P2122": false, "P3000": true, "P3399": true, "P3400": false} {
		assert.Equal(t, maker, makersOwn(number), number)
	}
}

// What a threshold is called and what it is are kept apart, and no figure of a
// code stands without the condition that it was read under.
func TestAuthoredCodes(t *testing.T) {
	d, err := Load(os.DirFS("../../.."))
	require.NoError(t, err)
	for _, c := range d.Catalogue.Codes {
		for _, s := range c.Sets {
			assert.NotEmpty(t, s.When, c.ID)
			assert.NotEmpty(t, s.Years, c.ID)
		}
	}
	// Maker's handbooks of 1998 and of 2006-2007 disagree on this one.
	years := map[string]bool{}
	for _, s := range d.Catalogue.Code("p1757").Sets {
		years[s.Years] = true
	}
	assert.GreaterOrEqual(t, len(years), 2)
	var areas []string
	for _, m := range d.Catalogue.Modifications {
		areas = append(areas, m.Area)
	}
	for _, a := range catalogue.ModificationAreas {
		assert.True(t, slices.Contains(areas, a), a)
	}
}
