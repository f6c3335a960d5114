package circuit

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/quantity"
)

func TestSteadyAgainstRashid(t *testing.T) {
	const source = "Rashid, Power Electronics, 4th ed., example 5.2: 220 V, 5 ohm, 7.5 mH, 1 kHz, 50 %"
	w, err := Pulse{Supply: 220, Resistance: 5, Inductance: 7.5e-3, Frequency: 1000, Duty: 0.5}.Steady()
	require.NoError(t, err)
	assert.InDelta(t, 18.37, float64(w.Least), 0.005, source)
	assert.InDelta(t, 25.63, float64(w.Most), 0.005, source)
	// Printed as the difference of the two rounded ends.
	assert.InDelta(t, 7.26, float64(w.Most-w.Least), 0.01, source)
	assert.InDelta(t, 22, float64(w.Mean), 0.5, source)
	// The example takes the current as straight lines.
	assert.InDelta(t, 22.1, float64(w.RMS), 0.05, source)
	assert.InDelta(t, 11, float64(w.FromFeed), 0.5, source)
	assert.InDelta(t, 20, 220/float64(w.FromFeed), 0.5, source+", effective input resistance")
	assert.False(t, w.Stops)
	// Its equation 5.29 for the greatest ripple, at 50 %: (U/R) tanh(R/(4 f L)).
	assert.InEpsilon(t, 44*math.Tanh(5/(4*1000*7.5e-3)), float64(w.Most-w.Least), 1e-9, source)
}

func TestSteadyWithoutInductance(t *testing.T) {
	// 220 V less 2 V in the switch, 50 %: 109 V on average, 10.9 A in 10 ohm.
	const source = "worked example of a step-down chopper after Rashid, 2nd ed.: average voltage 109 V"
	w, err := Pulse{Supply: 218, Resistance: 10, Frequency: 1000, Duty: 0.5}.Steady()
	require.NoError(t, err)
	assert.InDelta(t, 109, float64(w.Mean)*10, 0.5, source)
	assert.False(t, w.Known)
	d, err := Pulse{Supply: 218, Resistance: 10, Frequency: 1000}.DutyFor(w.Mean)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, float64(d), 1e-9, "round trip")
	held, err := Pulse{Supply: 12, Resistance: 4, Frequency: 512, Duty: 1, Inductance: 0.01}.Steady()
	require.NoError(t, err)
	assert.InDelta(t, 3, float64(held.Mean), 1e-9, "Ohm's law: 12 V on 4 ohm")
	assert.InDelta(t, 36, float64(held.Heat), 1e-6)
	off, err := Pulse{Supply: 12, Resistance: 4, Frequency: 512, Fall: 0.7, Inductance: 0.01}.Steady()
	require.NoError(t, err)
	assert.Zero(t, off.Mean)
	assert.Zero(t, off.Most)
}

// integrate lets the circuit run from nothing until it repeats (Runge and Kutta,
// 4th order) and returns the last pulse's mean, least, most and mean square.
func integrate(p Pulse) (mean, least, most, square float64) {
	r, l := float64(p.Resistance), p.Inductance
	period := 1 / float64(p.Frequency)
	on := float64(p.Duty) * period
	const n = 4000
	i := 0.0
	pulses := 3 + int(12*l/r/period)
	for k := range pulses {
		last := k == pulses-1
		if last {
			mean, square, least, most = 0, 0, math.Inf(1), 0
		}
		for _, part := range []struct{ volts, length float64 }{{float64(p.Supply), on}, {-float64(p.Fall), period - on}} {
			h := part.length / n
			slope := func(i float64) float64 { return (part.volts - i*r) / l }
			for range n {
				a := slope(i)
				b := slope(i + h/2*a)
				c := slope(i + h/2*b)
				d := slope(i + h*c)
				next := math.Max(0, i+h/6*(a+2*b+2*c+d))
				if last {
					mean += (i + next) / 2 * h / period
					square += (i*i + i*next + next*next) / 3 * h / period
					least, most = math.Min(least, next), math.Max(most, next)
				}
				i = next
			}
		}
	}
	return mean, least, most, square
}

func TestSteadyAgainstIntegration(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	stops := 0
	for range 25 {
		p := Pulse{
			Supply: 12, Resistance: quantity.Resistance(3 + 3*random.Float64()), Frequency: 512,
			Inductance: 0.5e-3 + 10e-3*random.Float64(), Duty: quantity.Ratio(0.05 + 0.9*random.Float64()),
			Fall: []quantity.Voltage{0, DiodeDrop, ClampDrop}[random.IntN(3)],
		}
		w, err := p.Steady()
		require.NoError(t, err)
		mean, least, most, square := integrate(p)
		assert.InDelta(t, mean, float64(w.Mean), 2e-3, "%+v", p)
		assert.InDelta(t, least, float64(w.Least), 2e-3, "%+v", p)
		assert.InDelta(t, most, float64(w.Most), 2e-3, "%+v", p)
		assert.InDelta(t, math.Sqrt(square), float64(w.RMS), 3e-3, "%+v", p)
		if w.Stops {
			stops++
		}
	}
	assert.Greater(t, stops, 3, "both ways were tried")
}

func TestGovernorCurrent(t *testing.T) {
	// Published: 1 A on average, 512 Hz. At 12 V, 4 ohm (from memory) and a diode
	// (from memory) that takes (1·4 + 0.7)/12.7 of the time.
	p := Pulse{Supply: 12, Resistance: 4, Frequency: GovernorFrequency, Fall: DiodeDrop}
	d, err := p.DutyFor(GovernorCurrent)
	require.NoError(t, err)
	assert.InDelta(t, 0.37, float64(d), 0.0005, "by hand")
	p.Duty, p.Inductance = d, 10e-3
	w, err := p.Steady()
	require.NoError(t, err)
	assert.InDelta(t, 1, float64(w.Mean), 1e-9, "round trip")
	assert.Less(t, float64(w.Least), 1.0)
	assert.Greater(t, float64(w.Most), 1.0)
	assert.Greater(t, w.RMS, w.Mean, "identity")
}

func TestPulseErrors(t *testing.T) {
	good := Pulse{Supply: 12, Resistance: 4, Frequency: 512, Duty: 0.4, Fall: 0.7, Inductance: 0.01}
	for want, bend := range map[string]func(*Pulse){
		CoilSupply:  func(p *Pulse) { p.Supply = 0 },
		CoilOhms:    func(p *Pulse) { p.Resistance = 0 },
		Inductance:  func(p *Pulse) { p.Inductance = -1 },
		PulseRate:   func(p *Pulse) { p.Frequency = quantity.Frequency(math.NaN()) },
		Duty:        func(p *Pulse) { p.Duty = 37 },
		FallVoltage: func(p *Pulse) { p.Fall = -1 },
	} {
		p := good
		bend(&p)
		_, err := p.Steady()
		assert.ErrorContains(t, err, want)
		_, err = p.DutyFor(1)
		assert.ErrorContains(t, err, want)
	}
	_, err := good.DutyFor(5)
	assert.EqualError(t, err, "circuit: average current 5 A is outside 0 A to 3 A")
}

func FuzzPulse(f *testing.F) {
	f.Add(12.0, 4.0, 0.01, 512.0, 0.37, 0.7)
	f.Add(12.0, 4.0, 1e-9, 1.0, 0.5, 400.0)
	f.Add(math.Inf(1), math.NaN(), -1.0, 0.0, 2.0, 0.0)
	f.Fuzz(func(t *testing.T, u, r, l, hz, d, fall float64) {
		w, err := Pulse{Supply: quantity.Voltage(u), Resistance: quantity.Resistance(r), Inductance: l,
			Frequency: quantity.Frequency(hz), Duty: quantity.Ratio(d), Fall: quantity.Voltage(fall)}.Steady()
		if err != nil {
			return
		}
		for _, x := range []float64{float64(w.Mean), float64(w.Least), float64(w.Most), float64(w.RMS), float64(w.Heat), float64(w.FromFeed)} {
			require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			require.GreaterOrEqual(t, x, -1e-6)
		}
		require.LessOrEqual(t, float64(w.Most), float64(w.HeldOn)*(1+1e-9))
	})
}

func BenchmarkSteady(b *testing.B) {
	p := Pulse{Supply: 12, Resistance: 4, Frequency: 512, Duty: 0.4, Fall: 0.7, Inductance: 0.01}
	for b.Loop() {
		if _, err := p.Steady(); err != nil {
			b.Fatal(err)
		}
	}
}
