package bench

import (
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v9/pkg/app"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/app/session"
	"provingbench/app/store"
	catalogue "provingbench/knowledge/catalogue/shipped"
	"provingbench/knowledge/coil"
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/diagnosis"
	"provingbench/knowledge/unit"
	sheet "provingbench/knowledge/unit/shipped"
)

func newSession() *session.Session {
	engine := &diagnosis.Engine{Catalogue: catalogue.Catalogue(), Book: sheet.Book()}
	now := time.Date(2030, 5, 6, 7, 8, 9, 0, time.UTC)
	return session.New(engine, store.Memory{}, func() time.Time { return now })
}

// filled is a tool with what an address says typed into it, worked out.
func filled(t *testing.T, x *tool, query string) *Tool {
	t.Helper()
	q, err := url.ParseQuery(query)
	require.NoError(t, err)
	screen := &Tool{Session: newSession(), tool: x}
	screen.read(q)
	return screen
}

// formOf is one panel of it, worked out.
func formOf(t *testing.T, x *tool, p *panel, query string) (*form, *result) {
	t.Helper()
	for _, f := range filled(t, x, query).forms {
		if f.panel.id == p.id {
			return f, f.work()
		}
	}
	require.Fail(t, "the tool has no such panel")
	return nil, nil
}

func coilOf(t *testing.T, query string) (*form, coilOutcome) {
	t.Helper()
	f, r := formOf(t, coilTool, coilPanel, query)
	require.Empty(t, f.problems)
	require.NotNil(t, r)
	out, err := judgeCoil(f)
	require.NoError(t, err)
	return f, out
}

// example is a governor coil read warm, with the leads still in it:
// (4.9 - 0.3) · (235 + 20)/(235 + 82.2) = 3.70 ohm at 20 °C, which lies in the
// 3 to 5 ohm of the sheet (source: IEC 60034-1, temperature rise by resistance).
const example = "ohms=4.9&leads=0.3&at=180"

func TestCoilExample(t *testing.T) {
	_, out := coilOf(t, example)
	assert.Equal(t, conformity.Meets, out.Judgement.Verdict)
	assert.InDelta(t, 3.70, float64(out.Referred), 0.005)
	require.Len(t, out.limits, 1)
	assert.Equal(t, unit.Memory, out.limits[0].Provenance.Kind)
	assert.Empty(t, out.points, "a good coil points to nothing")

	html := coilHTML(t, example)
	for _, want := range []string{"Good", "3.7 ohm", "68 °F", "From memory, confirm in the maker", "Your meter should show between", "NOTICE"} {
		has(t, html, want)
	}
}

func coilHTML(t *testing.T, query string) string {
	t.Helper()
	return app.HTMLString(filled(t, coilTool, query))
}

func has(t *testing.T, html, want string) {
	t.Helper()
	assert.True(t, strings.Contains(html, want), "missing: %s", want)
}

func hasNot(t *testing.T, html, want string) {
	t.Helper()
	assert.False(t, strings.Contains(html, want), "should not be there: %s", want)
}

// TestCoilPointsToFaults holds what a verdict points to against the catalogue.
func TestCoilPointsToFaults(t *testing.T) {
	for _, c := range []struct {
		name, query string
		diagnosis   coil.Diagnosis
		fault       string
	}{
		{"open at the plug", "ohms=OL", coil.OpenCircuit, "governor-solenoid-coil-open"},
		{"open at the plug may be the wiring inside", "ohms=OL", coil.OpenCircuit, "internal-wiring-open"},
		{"open at the part", "ohms=OL&where=part&coil=overdrive-solenoid", coil.OpenCircuit, "overdrive-solenoid-coil-open"},
		{"half the turns gone", "ohms=2.2&leads=0.2&at=20&at-unit=°C&where=part", coil.TurnsShorted, "governor-solenoid-coil-shorted"},
		{"no resistance at all", "ohms=0.3&leads=0.3&at=20&at-unit=°C&where=part", coil.ShortCircuit, "governor-solenoid-coil-shorted"},
		{"touches the case", example + "&case=20&case-unit=ohm", coil.ShortToCase, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, out := coilOf(t, c.query)
			assert.Contains(t, out.Diagnoses, c.diagnosis)
			if c.fault == "" {
				return
			}
			var ids []string
			for _, f := range out.points {
				ids = append(ids, f.ID)
			}
			assert.Contains(t, ids, c.fault)
		})
	}
}

func TestEveryCoilHasACheckAtThePlugAndAtThePart(t *testing.T) {
	for _, c := range unit.Coils {
		for _, where := range []coil.Place{coil.Part, coil.Connector} {
			check, observation := measuredIn(catalogue.Catalogue(), c.Acceptance, where)
			require.NotNil(t, check, "%s %s", c.ID, where)
			assert.Equal(t, c.Acceptance, observation.Reading.Acceptance)
		}
	}
}

// TestCoilRefusesWhatIsNoReading: bad input gets a sentence beside its field
// and no verdict, and is not lost.
func TestCoilRefusesWhatIsNoReading(t *testing.T) {
	long := strings.Repeat("9", 10000)
	for _, c := range []struct{ key, text string }{
		{"ohms", "abc"}, {"ohms", "1e999"}, {"ohms", "-4"}, {"ohms", "NaN"}, {"ohms", "4,9,1"}, {"ohms", "12 V"}, {"ohms", ""}, {"ohms", long}, {"ohms", "<b>4</b>"},
		{"leads", "OL"}, {"leads", "-1"}, {"leads", "50"}, {"leads", "x"}, {"leads", long}, {"leads", "9"},
		{"at", ""}, {"at", "OL"}, {"at", "warm"}, {"at", "-400"}, {"at", "99999"}, {"at", "NaN"}, {"at", long},
		{"case", "abc"}, {"case", "-1"}, {"percent", "OL"}, {"percent", "-1"}, {"digits", "two"}, {"digits", "1e9"},
		{"supply", "OL"}, {"supply", "900"},
	} {
		q, _ := url.ParseQuery(example)
		q.Set(c.key, c.text)
		f, r := formOf(t, coilTool, coilPanel, q.Encode())
		name := c.key + "=" + c.text[:min(len(c.text), 20)]
		assert.NotEmpty(t, f.problems[c.key], name)
		assert.Nil(t, r, name)

		html := coilHTML(t, q.Encode())
		has(t, html, "No result")
		has(t, html, `aria-invalid`)
		hasNot(t, html, "Probability that")
		hasNot(t, html, "”<b>") // what was typed is shown as text
		hasNot(t, html, "“<b>")
		assert.Equal(t, c.text, f.typed[c.key], "what was typed is not lost")
	}
}

func TestCoilOpenReadingNeedsNoTemperature(t *testing.T) {
	_, out := coilOf(t, "ohms=OL")
	assert.Equal(t, conformity.Open, out.Judgement.Verdict)
}

func TestCoilOwnWindow(t *testing.T) {
	_, out := coilOf(t, "coil=own&least=10&most=12&ohms=11.0&leads=0&state=soaked&at=20&at-unit=°C")
	assert.Equal(t, conformity.Meets, out.Judgement.Verdict)
	assert.Nil(t, out.check)
	for _, c := range []struct{ key, query string }{
		{"most", "coil=own&least=12&most=10&ohms=11&at=70"},
		{"least", "coil=own&ohms=11&at=70"},
		{"least", "coil=own&least=OL&ohms=11&at=70"},
	} {
		f, r := formOf(t, coilTool, coilPanel, c.query)
		assert.NotEmpty(t, f.problems[c.key], c.query)
		assert.Nil(t, r)
	}
}

func TestCoilEntryIsJudgedTheSame(t *testing.T) {
	for _, query := range []string{example, "ohms=OL", "ohms=2.2&leads=0.2&at=20&at-unit=°C&where=part", "ohms=33&leads=0.2&at=70&state=soaked&coil=overdrive-solenoid", example + "&percent=0.5&digits=3"} {
		f, out := coilOf(t, query)
		r := f.work()
		require.NotNil(t, r.entry, query)
		judged := f.session.Judge(*r.entry)
		assert.Empty(t, judged.Problem, query)
		assert.Equal(t, out.Judgement.Verdict, judged.Verdict, query)
	}
}

func TestCoilLine(t *testing.T) {
	_, r := formOf(t, coilTool, coilPanel, example)
	assert.Equal(t, "Governor pressure solenoid: 4.9 ohm, leads 0.3 ohm, winding at 180 °F, at the case plug. Good, 3.7 ohm at 68 °F; limit 3 to 5 ohm, from memory, confirm in the maker's manual.", r.line)
}

func TestWinding(t *testing.T) {
	for _, c := range []struct {
		query, warm, rise, source string
	}{
		{"cold=4&coldat=20&warm=5&coldat-unit=°C&room=25&room-unit=°C", "183 °F", "106 °F", "IEC 60034-1: 5/4 · 255 - 235 = 83.75 °C (182.75 °F), less 25 °C: 58.75 K (105.75 °F)"},
		{"cold=4&coldat=68&warm=4&room=68", "68 °F", "0 °F", "identity"},
	} {
		_, r := formOf(t, coilTool, windingPanel, c.query)
		require.NotNil(t, r, c.query)
		assert.Equal(t, c.warm, r.word, c.source)
		assert.Contains(t, r.because[0], c.rise, c.source)
	}
	for _, c := range []struct{ key, query string }{
		{"warm", "cold=4&coldat=20"}, {"cold", "coldat=20"}, {"cold", "cold=OL&coldat=70&warm=5"}, {"warm", "cold=4&coldat=70&warm=400"},
		{"coldat", "cold=4&coldat=x&warm=5"}, {"room", "cold=4&coldat=70&warm=5&room=OL"}, {"coldat", "cold=4&coldat=550&warm=5"}, {"cold", "cold=0&coldat=70&warm=5"},
	} {
		f, r := formOf(t, coilTool, windingPanel, c.query)
		assert.NotEmpty(t, f.problems[c.key], c.query)
		assert.Nil(t, r, c.query)
	}
}
