package hydraulics

import (
	"errors"
	"math"
	"slices"

	"provingbench/knowledge/quantity"
)

// A Piston moves against its spring and makes room for fluid.
//
//	p A = Preload + Rate x   for x from 0 to Stroke
type Piston struct {
	ID      string
	Area    quantity.Area
	Preload quantity.Force
	Rate    quantity.SpringRate
	Stroke  quantity.Length
}

// starts and ends are the pressures at both ends of the stroke.
func (p Piston) starts() float64 { return float64(p.Preload) / float64(p.Area) }
func (p Piston) ends() float64 {
	return (float64(p.Preload) + float64(p.Rate)*float64(p.Stroke)) / float64(p.Area)
}

// volume is what the piston has taken at a pressure; from, when it has only just
// begun to move or has not yet.
func (p Piston) volume(at float64, from bool) float64 {
	all := float64(p.Area) * float64(p.Stroke)
	a, b := p.starts(), p.ends()
	switch {
	case at < a || at == a && (a < b || from):
		return 0
	case at >= b:
		return all
	}
	return all * (at - a) / (b - a)
}

// A Loss is a way for fluid: Δp = R q + K q².
type Loss struct {
	R float64 // Pa s/m³
	K float64 // Pa s²/m⁶
}

// flow returns what a drop of pressure drives through.
func (l Loss) flow(dp float64) float64 {
	if dp <= 0 {
		return 0
	}
	if l.K == 0 {
		return dp / l.R
	}
	return 2 * dp / (l.R + math.Sqrt(l.R*l.R+4*l.K*dp))
}

// A Filling is a chamber, or several on one passage, that fill through one feed.
type Filling struct {
	Supply  quantity.Pressure
	Feed    Loss
	Leaks   []Loss // to the pan
	Pistons []Piston
	// Soft is how much more the passage takes for each pascal, m³/Pa: air, seals
	// and what gives.
	Soft float64
}

// A FillPoint is a moment of a filling.
type FillPoint struct {
	Time     quantity.Duration
	Pressure quantity.Pressure
	Volume   quantity.Volume
}

// ErrNoFilling reports a filling that lacks what it needs: a pressure, a feed, a
// softness and pistons with an area and a stroke, none of them negative.
var ErrNoFilling = errors.New("hydraulics: a filling needs a supply, a feed, a softness and pistons with area and stroke")

// nearly is how near to its rest a filling is followed: the last part takes
// forever.
const nearly = 0.98

// Run follows the filling from empty until its pressure is as good as at rest.
//
//	dV/dt = q(Supply − p) − Σ leak(p)   with p(V) from the pistons and Soft
//
// Pressure as a function of volume is straight between the points at which a
// piston starts or ends its stroke, so time is the integral of dV over the net
// flow; each such part is taken in steps, by the midpoint rule in the square root
// of what is left to fill, which is regular where the flow ends. steps must be
// positive; 40 is good to a part in a thousand.
// rest is the pressure at which leaks take all that the feed lets in; a piston
// that needs more never moves.
// Errors: ErrNoFilling.
// Source: conservation of volume; checked in filling_test.go against the closed
// solutions for an orifice and a spring.
func (f Filling) Run(steps int) (points []FillPoint, rest quantity.Pressure, err error) {
	if !(f.Supply > 0) || math.IsInf(float64(f.Supply), 0) || !(f.Feed.R >= 0) || !(f.Feed.K >= 0) || f.Feed.R+f.Feed.K == 0 || !(f.Soft > 0) || steps < 1 {
		return nil, 0, ErrNoFilling
	}
	for _, p := range f.Pistons {
		if !(p.Area > 0) || !(p.Stroke >= 0) || !(p.Preload >= 0) || !(p.Rate >= 0) {
			return nil, 0, ErrNoFilling
		}
	}
	net := func(p float64) float64 {
		q := f.Feed.flow(float64(f.Supply) - p)
		for _, l := range f.Leaks {
			q -= l.flow(p)
		}
		return q
	}
	low, high := 0.0, float64(f.Supply)
	for range 60 {
		if mid := (low + high) / 2; net(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	end := nearly * low
	marks := []float64{0, end}
	for _, p := range f.Pistons {
		for _, x := range []float64{p.starts(), p.ends()} {
			if x < end {
				marks = append(marks, x)
			}
		}
	}
	by(marks, func(x float64) float64 { return x })
	marks = slices.Compact(marks)
	volume := func(p float64, from bool) float64 {
		v := f.Soft * p
		for _, x := range f.Pistons {
			v += x.volume(p, from)
		}
		return v
	}
	t, last := 0.0, 0.0
	points = append(points, FillPoint{})
	// part goes from one pressure and volume to another along a straight line.
	part := func(p0, v0, p1, v1 float64) {
		for i := range steps {
			a, b := float64(i)/float64(steps), float64(i+1)/float64(steps)
			// Evenly in √(1 − share): small steps where it slows down.
			x1 := 1 - (1-b)*(1-b)
			m := (a + b) / 2
			x := 1 - (1-m)*(1-m)
			if q := net(p0 + x*(p1-p0)); q > 0 {
				t += 2 * (1 - m) * (b - a) * (v1 - v0) / q
			}
			points = append(points, FillPoint{quantity.Duration(t), quantity.Pressure(p0 + x1*(p1-p0)), quantity.Volume(v0 + x1*(v1-v0))})
		}
	}
	for i, p := range marks {
		if i > 0 {
			part(marks[i-1], last, p, volume(p, true))
		}
		if a, b := volume(p, true), volume(p, false); b > a {
			part(p, a, p, b)
		}
		last = volume(p, false)
	}
	return points, quantity.Pressure(low), nil
}

// Reaches returns when the filling first has a pressure; ok is false when it
// never does.
func Reaches(points []FillPoint, p quantity.Pressure) (t quantity.Duration, ok bool) {
	for i, x := range points {
		if x.Pressure < p {
			continue
		}
		if i == 0 || x.Pressure == points[i-1].Pressure {
			return x.Time, true
		}
		a := points[i-1]
		share := float64((p - a.Pressure) / (x.Pressure - a.Pressure))
		return a.Time + quantity.Duration(share)*(x.Time-a.Time), true
	}
	return 0, false
}
