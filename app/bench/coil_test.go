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

func workCoil(query string) coilOutcome {
	q, err := url.ParseQuery(query)
	if err != nil {
		panic(err)
	}
	return coilFormFrom(q).work(catalogue.Catalogue(), unit.Sheet{Book: sheet.Book()})
}

// example is a governor coil read warm, with the leads still in it:
// (4.9 - 0.3) · (235 + 20)/(235 + 82.2) = 3.70 ohm at 20 °C, which lies in the
// 3 to 5 ohm of the sheet (source: IEC 60034-1, temperature rise by resistance).
const example = "ohms=4.9&leads=0.3&at=180"

func TestCoilExample(t *testing.T) {
	out := workCoil(example)
	require.Empty(t, out.Problems)
	require.True(t, out.Ready)
	assert.Equal(t, conformity.Meets, out.Result.Judgement.Verdict)
	assert.InDelta(t, 3.70, float64(out.Result.Referred), 0.005)
	require.Len(t, out.Limits, 1)
	assert.Equal(t, unit.Memory, out.Limits[0].Provenance.Kind)
	assert.Empty(t, out.Points, "a good coil points to nothing")

	html := coilHTML(t, example)
	for _, want := range []string{"Good", "3.7 ohm", "68 °F", "From memory, confirm in the maker", "Your meter should show between", "NOTICE"} {
		has(t, html, want)
	}
}

func coilHTML(t *testing.T, query string) string {
	t.Helper()
	q, err := url.ParseQuery(query)
	require.NoError(t, err)
	c := &Coil{Session: newSession()}
	c.read(q)
	return app.HTMLString(c)
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
		{"half the turns gone", "ohms=2.2&leads=0.2&at=20&unit=°C&where=part", coil.TurnsShorted, "governor-solenoid-coil-shorted"},
		{"no resistance at all", "ohms=0.3&leads=0.3&at=20&unit=°C&where=part", coil.ShortCircuit, "governor-solenoid-coil-shorted"},
		{"touches the case", example + "&case=20&caseunit=ohm", coil.ShortToCase, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := workCoil(c.query)
			require.Empty(t, out.Problems)
			assert.Contains(t, out.Result.Diagnoses, c.diagnosis)
			if c.fault == "" {
				return
			}
			var ids []string
			for _, f := range out.Points {
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
		f := coilFormFrom(q)
		out := f.work(catalogue.Catalogue(), unit.Sheet{Book: sheet.Book()})
		name := c.key + "=" + c.text[:min(len(c.text), 20)]
		assert.NotEmpty(t, out.Problems[c.key], name)
		assert.False(t, out.Ready, name)

		screen := &Coil{Session: newSession()}
		screen.read(q)
		html := app.HTMLString(screen)
		has(t, html, "No verdict")
		has(t, html, `aria-invalid`)
		hasNot(t, html, "Probability that")
		hasNot(t, html, "”<b>") // what was typed is shown as text
		hasNot(t, html, "“<b>")
		for _, i := range f.inputs() {
			if i.key == c.key {
				assert.Equal(t, c.text, *i.text, "what was typed is not lost")
			}
		}
	}
}

func TestCoilOpenReadingNeedsNoTemperature(t *testing.T) {
	out := workCoil("ohms=OL")
	assert.Empty(t, out.Problems)
	assert.Equal(t, conformity.Open, out.Result.Judgement.Verdict)
}

func TestCoilOwnWindow(t *testing.T) {
	out := workCoil("coil=own&least=10&most=12&ohms=11.0&leads=0&state=soaked&at=20&unit=°C")
	require.Empty(t, out.Problems)
	assert.Equal(t, conformity.Meets, out.Result.Judgement.Verdict)
	assert.Nil(t, out.Check)
	assert.NotEmpty(t, workCoil("coil=own&least=12&most=10&ohms=11&at=70").Problems["most"])
	assert.NotEmpty(t, workCoil("coil=own&ohms=11&at=70").Problems["least"])
	assert.NotEmpty(t, workCoil("coil=own&least=OL&ohms=11&at=70").Problems["least"])
}

// TestCoilAddress: a link carries what was typed, and an untouched form has
// the plain address.
func TestCoilAddress(t *testing.T) {
	assert.Empty(t, newCoilForm().query().Encode()+newRiseForm().query().Get("riseunit"))
	f := newCoilForm()
	f.Ohms, f.Leads, f.At, f.Coil, f.State, f.Where, f.Percent = "4,9", "0.3", "82", "overdrive-solenoid", stateSoaked, "part", "0.8"
	f.Unit = "°C"
	assert.Equal(t, f, coilFormFrom(f.query()))
	odd := coilFormFrom(url.Values{"coil": {"x"}, "state": {"x"}, "where": {"x"}, "unit": {"x"}, "caseunit": {"x"}})
	assert.Equal(t, newCoilForm(), odd)
}

func TestCoilEntryIsJudgedTheSame(t *testing.T) {
	s := newSession()
	for _, query := range []string{example, "ohms=OL", "ohms=2.2&leads=0.2&at=20&unit=°C&where=part", "ohms=33&leads=0.2&at=70&state=soaked&coil=overdrive-solenoid"} {
		q, _ := url.ParseQuery(query)
		f := coilFormFrom(q)
		out := f.work(s.Catalogue(), s.Sheet())
		require.True(t, out.Ready, query)
		judged := s.Judge(f.entry(out))
		assert.Empty(t, judged.Problem, query)
		assert.Equal(t, out.Result.Judgement.Verdict, judged.Verdict, query)
	}
}

func TestCoilLine(t *testing.T) {
	q, _ := url.ParseQuery(example)
	f := coilFormFrom(q)
	s := newSession()
	line := f.line(f.work(s.Catalogue(), s.Sheet()))
	assert.Equal(t, "Governor pressure solenoid: 4.9 ohm, leads 0.3 ohm, winding at 180 °F, at the case plug. Good, 3.7 ohm at 68 °F (20 °C); limit 3 to 5 ohm, from memory, confirm in the maker's manual.", line)
}

func TestRise(t *testing.T) {
	for _, c := range []struct {
		name, query string
		warm, rise  float64 // °C, K
		source      string
	}{
		{"the form's own arithmetic", "cold=4&coldat=20&warm=5&riseunit=°C&room=25", 83.75, 58.75, "IEC 60034-1: 5/4 · 255 - 235 = 83.75 °C, less 25 °C"},
		{"no rise", "cold=4&coldat=68&warm=4&room=68", 20, 0, "identity"},
	} {
		q, _ := url.ParseQuery(c.query)
		out := riseFormFrom(q).work()
		require.True(t, out.Ready, c.name)
		assert.InDelta(t, c.warm, out.Winding.Celsius(), 1e-9, c.source)
		assert.InDelta(t, c.rise, out.Rise, 1e-9, c.source)
	}
	for _, c := range []struct{ key, query string }{
		{"warm", "cold=4&coldat=20"}, {"cold", "coldat=20"}, {"cold", "cold=OL&coldat=70&warm=5"}, {"warm", "cold=4&coldat=70&warm=400"},
		{"coldat", "cold=4&coldat=x&warm=5"}, {"room", "cold=4&coldat=70&warm=5&room=OL"}, {"coldat", "cold=4&coldat=550&warm=5"}, {"cold", "cold=0&coldat=70&warm=5"},
	} {
		q, _ := url.ParseQuery(c.query)
		out := riseFormFrom(q).work()
		assert.NotEmpty(t, out.Problems[c.key], c.query)
		assert.False(t, out.Ready, c.query)
	}
}
