package circuit

import (
	"cmp"
	"math"

	"provingbench/knowledge/coil"
	"provingbench/knowledge/quantity"
)

// A Pulse is a coil that a driver switches to a feed and off it, over and over.
type Pulse struct {
	Supply     quantity.Voltage // the feed, less what the driver drops
	Resistance quantity.Resistance
	// Inductance is in henry; 0 stands for "not known": then the average is worked
	// out for a current that never stops, and there is no ripple.
	Inductance float64
	Frequency  quantity.Frequency
	Duty       quantity.Ratio // share of the time that the driver is on
	// Fall is the voltage against the current while the driver is off: about 0.7 V
	// of a diode that lets it run on, 20 V to 60 V of a driver that clamps it.
	Fall quantity.Voltage
}

// What is known of the governor pressure solenoid's driver.
const (
	// GovernorFrequency and GovernorCurrent are published (maker's handbook:
	// governor system description): 512 Hz, 1 A on average for no pressure.
	GovernorFrequency quantity.Frequency = 512
	GovernorCurrent   quantity.Current   = coil.HeldCurrent
	// DiodeDrop and ClampDrop are from memory; no text that was read says which
	// kind of driver this is.
	DiodeDrop quantity.Voltage = 0.7
	ClampDrop quantity.Voltage = 30
)

// A Wave is the steady current of a Pulse.
type Wave struct {
	Mean quantity.Current
	// Known is true when the inductance was known. Then Least and Most are the
	// ends of the current, RMS its effective value, and Heat what it makes of heat
	// in the coil; else they are 0.
	Known        bool
	Least, Most  quantity.Current
	RMS          quantity.Current
	Heat         quantity.Power
	Stops        bool              // the current falls to nothing between pulses
	TimeConstant quantity.Duration // L/R
	HeldOn       quantity.Current  // what would flow with the driver on for good
	FromFeed     quantity.Current  // average out of the feed
}

func (p Pulse) check() error {
	return cmp.Or(
		volts(CoilSupply, float64(p.Supply), 0.5, 400),
		within(CoilOhms, p.Resistance.Value(), quantity.Ohm.Of(0.05), quantity.Kilohm.Of(100), quantity.Ohm),
		number(Inductance+" in henry", p.Inductance, 0, 10),
		within(PulseRate, p.Frequency.Value(), quantity.Frequency(1).Value(), quantity.Frequency(100e3).Value(), quantity.Hertz),
		within(Duty, p.Duty.Value(), quantity.Ratio(0).Value(), quantity.Ratio(1).Value(), quantity.Percent),
		volts(FallVoltage, float64(p.Fall), 0, 400),
	)
}

// Steady returns the current once it repeats from pulse to pulse.
//
//	on:   i → U/R,     off: i → −U_f/R,   both with τ = L/R, and never under 0
//	I₂ = [U/R·(1 − a) − U_f/R·(1 − b)·a] / (1 − a·b)   a = e^(−D·T/τ), b = e^(−(1−D)·T/τ)
//	I₁ = I₂·b − U_f/R·(1 − b)
//	mean = [U·D − U_f·t_f/T] / R   t_f: how long current flows while the driver is off
//
// Where I₁ would be under 0 the current stops: then I₁ = 0, I₂ = U/R·(1 − a) and
// t_f = τ·ln(1 + I₂·R/U_f). The feed must be 0.5 V to 400 V, the coil 0.05 ohm to
// 100 kohm and up to 10 H, the frequency 1 Hz to 100 kHz, the fall 0 to 400 V.
// It assumes a constant inductance.
// Errors: *quantity.RangeError naming the input.
// Source: M. H. Rashid, Power Electronics, 4th ed., equations 5.23 to 5.30; checked against its example 5.2 and by numerical integration in pulse_test.go.
func (p Pulse) Steady() (Wave, error) {
	if err := p.check(); err != nil {
		return Wave{}, err
	}
	r, u, f, d := float64(p.Resistance), float64(p.Supply), float64(p.Fall), float64(p.Duty)
	w := Wave{HeldOn: quantity.Current(u / r)}
	if p.Inductance == 0 {
		mean := math.Max(0, (u*d-f*(1-d))/r)
		w.Mean = quantity.Current(mean)
		w.FromFeed = quantity.Current(mean * d)
		return w, nil
	}
	tau, period := p.Inductance/r, 1/float64(p.Frequency)
	on, off := d*period, (1-d)*period
	a, b := math.Exp(-on/tau), math.Exp(-off/tau)
	up, down := u/r, -f/r
	var most, least float64
	flows := off
	if d == 1 {
		most, least = up, up
	} else {
		most = (up*(1-a) + down*(1-b)*a) / (1 - a*b)
		least = most*b + down*(1-b)
		if least < 0 {
			w.Stops = true
			least, most = 0, up*(1-a)
			flows = tau * math.Log1p(most*r/f) // f is over 0, or least would not be under 0
		}
	}
	w.Known = true
	w.TimeConstant = quantity.Duration(tau)
	w.Least, w.Most = quantity.Current(least), quantity.Current(most)
	w.Mean = quantity.Current((u*on - f*flows) / period / r)
	// What the feed gives is the mean of the rising part times its share.
	w.FromFeed = quantity.Current((up*on + (least-up)*tau*(1-a)) / period)
	square := squared(up, least, on, tau) + squared(down, most, flows, tau)
	w.RMS = quantity.Current(math.Sqrt(math.Max(0, square/period)))
	w.Heat = quantity.Power(float64(w.RMS*w.RMS) * r)
	return w, nil
}

// squared is the integral of i² over t of a current that starts at from and goes
// to end with the time constant tau.
func squared(end, from, t, tau float64) float64 {
	e := -math.Expm1(-t / tau)
	d := from - end
	return end*end*t + 2*end*d*tau*e + d*d*tau/2*-math.Expm1(-2*t/tau)
}

// DutyFor returns the duty at which the average current is what is wanted, for
// a current that never stops.
//
//	D = (I·R + U_f) / (U + U_f)
//
// The average must lie in 0 to U/R; the other ranges are those of Steady.
// Errors: *quantity.RangeError naming the input.
// Source: inverse of the mean in Steady; checked in pulse_test.go.
func (p Pulse) DutyFor(mean quantity.Current) (quantity.Ratio, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	most := quantity.Current(float64(p.Supply) / float64(p.Resistance))
	if err := within(MeanCurrent, mean.Value(), quantity.Current(0).Value(), most.Value(), quantity.Ampere); err != nil {
		return 0, err
	}
	return quantity.Ratio((float64(mean)*float64(p.Resistance) + float64(p.Fall)) / float64(p.Supply+p.Fall)), nil
}
