package learn

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/unit"
)

func chartAt(t *testing.T, query string) string {
	t.Helper()
	q, err := url.ParseQuery(query)
	require.NoError(t, err)
	return chart(q)
}

func TestFlowShowsEachGear(t *testing.T) {
	// Published ratios of the light version (maker's handbooks of 1998 and 2003).
	for gear, want := range map[string]string{
		"1": "Ratio 2.45", "2": "Ratio 1.45", "3": "Ratio 1.00", "4": "Ratio 0.69", "R": "Ratio 2.20, the output turns backward",
		"N": "The output is not driven", "P": "The output is not driven", "manual-1-braking": "Ratio 2.45", "nonsense": "Ratio 2.45",
	} {
		has(t, chartAt(t, "gear="+gear), want)
	}
	for _, r := range unit.Chart {
		drawing := flow(r.On, "")
		assert.Equal(t, len(r.On), strings.Count(drawing, `class="flow__grip" data-state="on"`), r.Gear)
		assert.Equal(t, len(unit.Elements)-len(r.On), strings.Count(drawing, `class="flow__grip" data-state="off"`), r.Gear)
		assert.Equal(t, len(members)+1, strings.Count(drawing, `class="flow__member"`), "%s: with the shaft to the wheels", r.Gear)
		hasNot(t, drawing, "%!")
		hasNot(t, drawing, "style=")
	}
	second := flow(unit.Chart[4].On, "")
	has(t, second, `class="flow__member" data-state="held" x="48"`) // the band holds the sun gear
}

func TestFlowWithoutAnElement(t *testing.T) {
	// By hand (knowledge/unit, loss_test.go): the overrunning clutch catches.
	html := chartAt(t, "gear=2&without=front-band")
	has(t, html, "2nd in D without the front band")
	has(t, html, "at 2.45 instead of 1.45")
	has(t, html, `class="flow__cross"`)
	has(t, html, "Every gear without the front band")
	assert.Equal(t, 1, strings.Count(html, `class="flow__grip" data-state="lost"`))

	has(t, chartAt(t, "gear=R&without=rear-band"), "No drive: the engine races.")
	has(t, chartAt(t, "gear=manual-1-braking&without=rear-band"), "No engine braking")
	has(t, chartAt(t, "gear=manual-1&without=rear-band"), "nothing is felt")
	has(t, chartAt(t, "gear=3&without=rear-band"), "it is not on in this gear")
	hasNot(t, chartAt(t, "gear=2&without=no-such"), "flow__cross")
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"one two", "three"}, wrap("one two three", 8))
	assert.Equal(t, []string{"a", "windshieldwiper", "b"}, wrap("a windshieldwiper b", 5))
	assert.Equal(t, []string{"after 89\u00a0%"}, wrap("after 89\u00a0%", 10), "a hard space holds together")
	assert.Empty(t, wrap("", 5))
}
