package ratio

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

// whole is a tyre that rolls its own circumference, as the plain formula has it.
func whole(inches float64) Rolling {
	return Rolling{Circumference: quantity.Length(math.Pi * quantity.Inch.SI(inches))}
}

func speed(text string) quantity.Reading { return quantity.MustParse(quantity.KindSpeed, text) }

func turning(text string) quantity.Reading { return quantity.MustParse(quantity.KindRotation, text) }

func TestShaftSpeedAgainstGearingExamples(t *testing.T) {
	tests := []struct {
		name                    string
		mph, inches, axle, gear float64
		rpm, delta              float64
		source                  string
	}{
		{"top gear", 70, 26, 3.55, 1, 3211, 0.5 + 3211*0.135/336,
			"worked example of a gear ratio calculator page: 70 · 3.55 · 336 / 26; the constant is 336.135 rounded"},
		{"overdrive", 70, 28, 3.08, 0.70, 1810, 5,
			"worked example of a gear ratio calculator page: about 1810, printed to tens"},
		{"by radius", 60, 28, 3.50, 1, 2520, 3.5 * 0.65,
			"worked example of a gear ratio calculator page: 20178 / 28 is taken as 720, times 3.50"},
		{"tall gear, no gearbox", 70, 28, 3.73, 1, 3133, 0.5 + 3133*0.135/336,
			"worked example of a gear ratio calculator page: 70 · 3.73 · 336 / 28"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			shaft, err := ShaftSpeedAt(quantity.Speed(quantity.MilePerHour.SI(tt.mph)), whole(tt.inches), quantity.Ratio(tt.axle), 0)
			require.NoError(t, err)
			assert.InDelta(t, tt.rpm, tt.gear*quantity.RPM.From(float64(shaft)), tt.delta, tt.source)
		})
	}
	high, err := ShaftSpeedAt(10, whole(30), 3.55, 1)
	require.NoError(t, err)
	low, err := ShaftSpeedAt(10, whole(30), 3.55, 2.72)
	require.NoError(t, err)
	assert.InDelta(t, 2.72, float64(low/high), 1e-12, "identity: low range turns the shaft faster")
}

func TestMeasure(t *testing.T) {
	one := conformity.Accuracy{Percent: 1}
	three := conformity.Accuracy{Percent: 3}
	r := Road{
		Engine: quantity.Reading{Kind: quantity.KindRotation, SI: float64(rpm(2000))},
		Speed:  quantity.Reading{Kind: quantity.KindSpeed, SI: 25},
		Tyre:   Rolling{Circumference: 2.4, Limit: 0.025}, Axle: 3.55,
		EngineMeter: &one, SpeedMeter: &three,
	}
	m, err := r.Measure()
	require.NoError(t, err)
	// By hand: 1, 3 and 2.5 % over √3 are 0.577, 1.732 and 1.443 %; their squares
	// add to 5.417.
	assert.InDelta(t, 0.02327, float64(m.Standard), 0.000005, "GUM 5.1.6 by hand")
	// 25 m/s over 2.4 m is 10.417 turns a second, 36.98 with the axle, 2218.75 rpm.
	assert.InDelta(t, 2218.75, quantity.RPM.From(float64(m.Shaft)), 0.005, "by hand")
	assert.InDelta(t, 0.9014, float64(m.Ratio), 0.00005, "2000 / 2218.75")
	require.Len(t, m.Budget, 3)

	// GUM 5.1.2 with differences in place of derivatives.
	sum := 0.0
	for i, u := range []float64{r.Engine.SI * 0.01 / math.Sqrt(3), r.Speed.SI * 0.03 / math.Sqrt(3), 2.4 * 0.025 / math.Sqrt(3)} {
		up, down := r, r
		switch i {
		case 0:
			up.Engine.SI, down.Engine.SI = r.Engine.SI+u/10, r.Engine.SI-u/10
		case 1:
			up.Speed.SI, down.Speed.SI = r.Speed.SI+u/10, r.Speed.SI-u/10
		case 2:
			up.Tyre.Circumference += quantity.Length(u / 10)
			down.Tyre.Circumference -= quantity.Length(u / 10)
		}
		a, err := up.Measure()
		require.NoError(t, err)
		b, err := down.Measure()
		require.NoError(t, err)
		d := 5 * float64(a.Ratio-b.Ratio)
		sum += d * d
	}
	assert.InEpsilon(t, math.Sqrt(sum), float64(m.Ratio*m.Standard), 1e-4, "GUM 5.1.2 by differences")

	// The shaft itself leaves tyre and axle out of it.
	m, err = Road{Engine: turning("2000"), Shaft: turning("1000")}.Measure()
	require.NoError(t, err)
	assert.InDelta(t, 2, float64(m.Ratio), 1e-12)
	require.Len(t, m.Budget, 2)
}

func TestMeasureErrors(t *testing.T) {
	good := Road{Engine: turning("2000"), Speed: speed("50"), Tyre: whole(31), Axle: 3.55}
	tests := []struct {
		name string
		bend func(*Road)
		want string
	}{
		{"no engine", func(r *Road) { r.Engine = quantity.Reading{} }, "ratio: engine speed 0 rpm is outside 300 rpm to 8000 rpm"},
		{"standing", func(r *Road) { r.Speed = speed("0") }, "ratio: road speed 0 mph is outside 4.47387 mph to 134.216 mph"},
		{"no tyre", func(r *Road) { r.Tyre = Rolling{} }, "ratio: rolling circumference 0 in is outside 39.3701 in to 177.165 in"},
		{"no axle", func(r *Road) { r.Axle = 0 }, "ratio: axle ratio 0 is outside 1.5 to 10"},
		{"axle as a code", func(r *Road) { r.Axle = 355 }, "ratio: axle ratio 355 is outside 1.5 to 10"},
		{"transfer", func(r *Road) { r.Transfer = 27 }, "ratio: transfer case ratio 27 is outside 0.5 to 8"},
		{"not a number", func(r *Road) { r.Engine.SI = math.NaN() }, "ratio: engine speed not a number is outside 300 rpm to 8000 rpm"},
		{"shaft", func(r *Road) { r.Shaft = turning("10") }, "ratio: output shaft speed 10 rpm is outside 50 rpm to 8000 rpm"},
		{"doubt", func(r *Road) { r.Tyre.Limit = quantity.Ratio(math.Inf(1)) }, "ratio: rolling circumference's uncertainty ∞ is outside 0 % to 20 %"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := good
			tt.bend(&r)
			_, err := r.Measure()
			assert.EqualError(t, err, tt.want)
			var out *quantity.RangeError
			require.ErrorAs(t, err, &out)
		})
	}
	_, err := good.Measure()
	assert.NoError(t, err)
}
