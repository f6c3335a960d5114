package spring

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func long(text string) quantity.Reading { return quantity.MustParse(quantity.KindLength, text) }

func push(text string) quantity.Reading { return quantity.MustParse(quantity.KindForce, text) }

// whole is Bhandari's example 10.7 as somebody would measure it: 5 mm wire on a
// 40 mm coil, 7 turns, 57 mm free, 19.9 N/mm; so 298 N at 42 mm.
func whole() Measurement {
	return Measurement{Wire: long("5.00 mm"), Outer: long("45.00 mm"), Free: long("57.00 mm"), Turns: 7, Modulus: 81370e6,
		Load: push("298 N"), LoadAt: long("42.00 mm"), Installed: 50e-3, Shortest: 42e-3, NewTurns: 7, NewFree: 57e-3}
}

func window(min, max quantity.Value) []conformity.Window {
	return []conformity.Window{{Name: "mine", Min: &min, Max: &max}}
}

func TestMeasurementOfAWholeSpring(t *testing.T) {
	m := whole()
	m.FreeWindows = window(quantity.Millimetre.Of(56), quantity.Millimetre.Of(58))
	m.LoadWindows = window(quantity.Newton.Of(270), quantity.Newton.Of(330))
	r, err := m.Judge()
	require.NoError(t, err)
	assert.Equal(t, []Diagnosis{AsMeasured}, r.Diagnoses, r.Reasons)
	assert.InDelta(t, 19.865723, float64(r.Rate)/1e3, 5e-7, "Bhandari, Design of Machine Elements, example 10.7")
	assert.InDelta(t, 298./15, float64(r.Measured)/1e3, 1e-9)
	assert.InDelta(t, 298./15*7, float64(r.AtInstalled), 1e-6)
	assert.InDelta(t, 298, float64(r.AtShortest), 1e-6)
	assert.InDelta(t, 35, float64(r.Solid)/mm, 1e-9)
	assert.Equal(t, conformity.Meets, r.FreeLength.Verdict, r.FreeLength.Reason)
	assert.Equal(t, conformity.Meets, r.LoadTest.Verdict, r.LoadTest.Reason)
	assert.Positive(t, r.Stress)
	// 4 u(d)/d + 3 u(d)/D and so on, by hand: calliper 0.02 mm rectangular with a
	// reading to 0.01 mm, a quarter of a turn in five, 2.5 % of modulus.
	u := math.Hypot(0.02/math.Sqrt(3), 0.01/math.Sqrt(12))
	share := math.Hypot(math.Hypot((4./5+3./40)*u, 3./40*u), math.Hypot(0.25/5, 0.025))
	assert.InDelta(t, share, float64(r.StandardRate/r.Rate), 1e-9)
}

func TestMeasurementFindsFaults(t *testing.T) {
	tests := []struct {
		name   string
		change func(*Measurement)
		want   Diagnosis
		says   string
	}{
		{"a turn broken off", func(m *Measurement) { m.Turns, m.Free, m.Load = 6, long("49.50 mm"), push("186 N") }, Broken, "25 % stiffer"},
		{"set", func(m *Measurement) { m.Free, m.Load = long("53.00 mm"), push("219 N") }, Collapsed, "it has set"},
		{"set or broken, turns of a new one not known", func(m *Measurement) { m.Free, m.Load, m.NewTurns = long("53.00 mm"), push("219 N"), 0 }, Collapsed, "Count the turns"},
		{"another spring, longer", func(m *Measurement) { m.Free, m.Load = long("60.00 mm"), push("358 N") }, Other, "higher than a new one"},
		{"another spring, more turns", func(m *Measurement) { m.Turns, m.Load = 9, push("213 N") }, Other, "another spring"},
		{"cracked", func(m *Measurement) { m.Load = push("200 N") }, Weak, "cracked"},
		{"thicker wire than measured", func(m *Measurement) { m.Load = push("400 N") }, Strong, "measured wrong"},
		{"solid in its place", func(m *Measurement) { m.Shortest = 34e-3 }, Clashes, "its coils touch"},
		{"nearly solid", func(m *Measurement) { m.Shortest = 36e-3 }, NearClash, "to spare"},
		{"read when solid", func(m *Measurement) { m.LoadAt, m.Load = long("34.00 mm"), push("900 N") }, Clashes, "says nothing"},
		{"loose", func(m *Measurement) { m.Installed = 58e-3 }, Loose, "pushes nothing"},
		{"long and thin", func(m *Measurement) {
			m.Turns, m.NewTurns, m.Free, m.NewFree = 20, 20, long("300.00 mm"), 0.3
			m.Load = quantity.Reading{}
		}, Bows, "bow"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := whole()
			tt.change(&m)
			r, err := m.Judge()
			require.NoError(t, err)
			assert.True(t, r.Is(tt.want), "%v %q", r.Diagnoses, r.Reasons)
			assert.Contains(t, strings.Join(r.Reasons, " "), tt.says)
			assert.Len(t, r.Reasons, len(r.Diagnoses))
			assert.False(t, r.Is(AsMeasured))
			assert.Equal(t, conformity.None, r.FreeLength.Verdict, "no window, no verdict")
			assert.Equal(t, conformity.None, r.LoadTest.Verdict)
		})
	}
}

func TestMeasurementSaysWhatItCannotTell(t *testing.T) {
	m := whole()
	m.NewFree, m.NewTurns = 0, 0
	r, err := m.Judge()
	require.NoError(t, err)
	assert.Equal(t, []Diagnosis{AsMeasured}, r.Diagnoses)
	assert.Contains(t, r.Reasons[0], "can't be told")
	m.Load = quantity.Reading{}
	r, err = m.Judge()
	require.NoError(t, err)
	assert.Contains(t, r.Reasons[0], "nothing to hold it against")
	assert.Zero(t, r.Measured)
}

func TestMeasurementRefuses(t *testing.T) {
	for name, change := range map[string]func(*Measurement){
		"wire diameter":                   func(m *Measurement) { m.Wire = long("0 mm") },
		"outer diameter":                  func(m *Measurement) { m.Outer = quantity.Reading{} },
		"free length":                     func(m *Measurement) { m.Free = quantity.Reading{} },
		"number of turns":                 func(m *Measurement) { m.Turns = 0 },
		"load":                            func(m *Measurement) { m.Load.Kind = quantity.KindPressure },
		"length of the load":              func(m *Measurement) { m.LoadAt = long("57 mm") },
		"installed length":                func(m *Measurement) { m.Installed = -1 },
		"free length of a new spring":     func(m *Measurement) { m.NewFree = quantity.Length(math.NaN()) },
		"number of turns of a new spring": func(m *Measurement) { m.NewTurns = math.Inf(1) },
	} {
		m := whole()
		change(&m)
		r, err := m.Judge()
		var e *quantity.RangeError
		require.ErrorAs(t, err, &e, name)
		assert.Equal(t, name, e.Name)
		assert.Zero(t, r.Rate)
		assert.NotEmpty(t, e.Sentence())
	}
}

func FuzzMeasurement(f *testing.F) {
	f.Add("5.00 mm", "45 mm", "57 mm", 7.0, "298 N", "42 mm", 0.05, 0.042, 7.0, 0.057)
	f.Add("0.1 in", "1 in", "2 in", 3.0, "OL", "0", -1.0, math.NaN(), 2.0, 0.0)
	f.Fuzz(func(t *testing.T, wire, outer, free string, turns float64, load, at string, installed, shortest, newTurns, newFree float64) {
		read := func(k quantity.Kind, s string) quantity.Reading {
			r, err := quantity.Parse(k, s, quantity.Unit{})
			if err != nil {
				return quantity.Reading{}
			}
			return r
		}
		m := Measurement{Wire: read(quantity.KindLength, wire), Outer: read(quantity.KindLength, outer), Free: read(quantity.KindLength, free), Turns: turns,
			Load: read(quantity.KindForce, load), LoadAt: read(quantity.KindLength, at),
			Installed: quantity.Length(installed), Shortest: quantity.Length(shortest), NewTurns: newTurns, NewFree: quantity.Length(newFree)}
		m.LoadWindows = window(quantity.Newton.Of(100), quantity.Newton.Of(200))
		r, err := m.Judge()
		for _, x := range []float64{float64(r.Index), float64(r.Rate), float64(r.StandardRate), float64(r.Solid), float64(r.Measured),
			float64(r.StandardMeasured), float64(r.AtInstalled), float64(r.AtShortest), float64(r.Stress)} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "%+v", r)
		}
		if err != nil {
			require.NotEqual(t, conformity.Meets, r.LoadTest.Verdict)
			return
		}
		require.NotEmpty(t, r.Reasons)
		if m.Load.Kind == "" {
			require.Equal(t, conformity.None, r.LoadTest.Verdict)
		}
		require.NotContains(t, strings.Join(r.Reasons, " "), "NaN")
		require.NotContains(t, strings.Join(r.Reasons, " "), quantity.NoValue)
	})
}

func BenchmarkMeasurement(b *testing.B) {
	m := whole()
	for b.Loop() {
		if _, err := m.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}
