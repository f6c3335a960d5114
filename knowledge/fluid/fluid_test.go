package fluid

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func fahrenheit(f float64) quantity.Temperature {
	return quantity.Temperature(quantity.Fahrenheit.SI(f))
}

// typical are the figures of the unit sheet: a widely copied fluid life chart
// (normal), a transmission shop's page (seals), makers' handbooks of the 1990s
// and of 2003 (cold limits, hot strategy). Damage is invented here.
var typical = Limits{
	OverdriveBlocked: []Bound{{"handbook of the 1990s", fahrenheit(30)}, {"handbook of 2003", fahrenheit(50)}},
	NormalLeast:      []Bound{{"normal from", fahrenheit(170)}},
	NormalMost:       []Bound{{"normal up to", fahrenheit(200)}},
	Seals:            []Bound{{"seals harden", fahrenheit(250)}},
	HotStrategy:      []Bound{{"hot strategy", fahrenheit(260)}},
	Damage:           []Bound{{"fluid fails", fahrenheit(300)}},
}

func read(text string) quantity.Reading {
	return quantity.MustParse(quantity.KindTemperature, text)
}

func TestJudge(t *testing.T) {
	tests := []struct {
		text string
		want Band
	}{
		{"0 F", TooCold}, {"29 F", TooCold}, {"30 F", MaybeCold}, {"40 F", MaybeCold}, {"50 F", Warming}, {"120 F", Warming},
		{"169 F", Warming}, {"170 F", Normal}, {"82 C", Normal}, {"200 F", Normal}, {"201 F", Warm}, {"250 F", Warm},
		{"251 F", SealDamage}, {"260 F", SealDamage}, {"261 F", HotStrategy}, {"127 C", HotStrategy}, {"301 F", FluidDamage},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			got := Judge(read(tt.text), 0, typical)
			assert.Equal(t, tt.want, got.Band, got.Sentence)
			assert.NotEmpty(t, got.Sentence)
		})
	}
	hot := Judge(read("265 F"), 0, typical)
	assert.Equal(t, []string{"normal up to (200 °F)", "seals harden (250 °F)", "hot strategy (260 °F)"}, hot.Crossed)
	assert.Empty(t, hot.Near)
	unsure := Judge(read("257 F"), 2, typical)
	assert.Equal(t, SealDamage, unsure.Band)
	assert.Equal(t, []string{"seals harden (250 °F)", "hot strategy (260 °F)"}, unsure.Near)
	assert.Contains(t, unsure.Sentence, "too close to tell")
}

func TestJudgeOrderAndGaps(t *testing.T) {
	assert.Equal(t, Unknown, Judge(read("180 F"), 0, Limits{}).Band, "no limit, no word")
	assert.Equal(t, Unknown, Judge(read("180 F"), 0, Limits{NormalLeast: typical.NormalLeast}).Band, "normal has two ends")
	assert.Equal(t, Warming, Judge(read("100 F"), 0, Limits{NormalLeast: typical.NormalLeast}).Band)
	// Two sources for one upper limit: the lower one counts, in either order.
	for _, seals := range [][]Bound{{{"a", fahrenheit(240)}, {"b", fahrenheit(250)}}, {{"b", fahrenheit(250)}, {"a", fahrenheit(240)}}} {
		l := typical
		l.Seals = seals
		assert.Equal(t, SealDamage, Judge(read("245 F"), 0, l).Band)
	}
}

func TestJudgeNonsense(t *testing.T) {
	for name, r := range map[string]quantity.Reading{
		"nothing": {}, "ohms": quantity.MustParse(quantity.KindResistance, "1000"), "NaN": {Kind: quantity.KindTemperature, SI: math.NaN()},
		"open": {Kind: quantity.KindTemperature, OpenLoop: true, SI: 300}, "absolute zero": {Kind: quantity.KindTemperature},
	} {
		assert.Equal(t, NoReading, Judge(r, 1, typical).Band, name)
	}
	assert.Equal(t, NoReading, Judge(read("180 F"), math.NaN(), typical).Band)
	assert.Equal(t, NoReading, Judge(read("180 F"), -1, typical).Band)
}

func FuzzJudge(f *testing.F) {
	f.Add("180 F", 1.0, 30.0, 170.0, 200.0, 250.0)
	f.Add("", -1.0, math.NaN(), math.Inf(1), 0.0, 0.0)
	f.Fuzz(func(t *testing.T, text string, u, cold, least, most, seals float64) {
		r, err := quantity.Parse(quantity.KindTemperature, text, quantity.Unit{})
		s := Judge(r, u, Limits{
			OverdriveBlocked: []Bound{{"cold", fahrenheit(cold)}}, NormalLeast: []Bound{{"least", fahrenheit(least)}},
			NormalMost: []Bound{{"most", fahrenheit(most)}}, Seals: []Bound{{"seals", fahrenheit(seals)}},
		})
		require.NotEmpty(t, s.Sentence)
		require.False(t, strings.Contains(s.Sentence, "NaN"))
		if err != nil {
			require.Equal(t, NoReading, s.Band)
		}
	})
}
