// Package drive finds the current and power in a winding that is switched on and off: the periodic steady state of a resistance
// and an inductance in closed form, how it is reached, what meters show, and how warm the winding gets.
package drive

import (
	"math"

	"ohmwright/core/portable"
	"ohmwright/core/quantity"
)

// A Circuit is a winding that a driver switches on and off, and everything else that its current flows through.
//
//	on,  for D/f:       L di/dt = V − (R + R_wiring + R_driver) i
//	off, for (1 − D)/f: L di/dt = −V_reverse − (R + R_wiring) i, until i = 0
//
// Units: V, ohm, H, Hz, 1. Ranges: Supply, Winding and Frequency above 0, Duty 0 to 1, the others 0 or more; the caller has to
// check that. It ignores that inductance changes with the current and the plunger's position, eddy currents in the iron, and the
// time that switching takes.
type Circuit struct {
	Supply                  quantity.Voltage
	Winding, Wiring, Driver quantity.Resistance
	Inductance              quantity.Inductance
	Frequency               quantity.Frequency
	Duty                    quantity.Ratio // share of the period that the driver is on
	Off                     OffPath
}

// An OffPath is where the current goes while the driver is off. The zero OffPath is an ideal diode.
type OffPath struct {
	Reverse quantity.Voltage // that drives the current down: a diode's drop, or a clamp's voltage
	Clamp   quantity.Voltage // of a clamp across the switch, Reverse + Supply: the supply feeds it too. 0: no such clamp
}

// A State is the periodic steady state of a circuit. Averages and powers are over the whole period.
type State struct {
	Average, RMS, Max, Min quantity.Current
	Ripple                 quantity.Current // Max − Min
	AC                     quantity.Current // RMS of the difference from the average
	Averaging              quantity.Current // what a meter that is no true-RMS one shows on AC
	Continuous             bool             // the current never stops
	TimeConstant           quantity.Time    // while on
	Flow                   quantity.Time    // for which current flows after the driver is switched off
	Supply                 quantity.Power   // that the supply gives
	Winding, Wiring        quantity.Power   // that becomes heat in them
	Driver, OffPath        quantity.Power   // the same: in the driver while on, in the diode or clamp while off

	on, off, rest stretch
}

// A stretch is a part of the period in which the current follows one exponential.
type stretch struct {
	share       float64 // of the period
	mean        float64 // of the current in it
	variance    float64 // of the current in it
	from, to, x float64 // at its beginning, what it tends to, and its length in time constants; 0: it crosses no average
}

// square returns the mean square of the current in the stretch, times its share of the period.
func (s stretch) square() float64 { return s.share * (s.mean*s.mean + s.variance) }

// flow returns what the stretch adds to the average over the period.
func (s stretch) flow() float64 { return s.share * s.mean }

// follow returns a stretch in which the current goes from one current towards another, over x time constants.
//
//	i = to + (from − to) e^(−s), 0 ≤ s ≤ x;  mean = from m(x) + to (1 − m(x));  variance = (from − to)² v(x)
func follow(from, to, x, share float64) stretch {
	return stretch{share, from*meanDecay(x) + to*meanRise(x), (from - to) * (from - to) * varDecay(x), from, to, x}
}

// apart returns the mean distance from a value in the stretch, times its share of the period. If the stretch crosses the value, it is
// cut in two there.
func (s stretch) apart(v float64) float64 {
	if math.IsInf(s.x, 1) || (s.from-v)*(heading(s.from, s.to, s.x)-v) >= 0 {
		return s.share * math.Abs(s.mean-v)
	}
	x := math.Log1p((s.from - v) / (v - s.to))
	before, after := follow(s.from, s.to, x, s.share*x/s.x), follow(v, s.to, s.x-x, s.share*(1-x/s.x))
	return before.share*math.Abs(before.mean-v) + after.share*math.Abs(after.mean-v)
}

// Steady returns the periodic steady state.
//
//	x = t_on/τ_on, y = t_off/τ_off, I_f = V/R_on, I_r = V_reverse/R_off
//	I_min = (I_f (1 − e^−x) e^−y − I_r (1 − e^−y))/(1 − e^−(x+y))
//	I_max − I_min = (I_f + I_r)(1 − e^−x)(1 − e^−y)/(1 − e^−(x+y))
//
// If that I_min is below 0, the current stops after τ_off ln(1 + I_max/I_r) and begins again from 0. With an ideal diode it never
// stops. Without inductance, current flows only while the driver is on. Source: the two exponentials joined at both ends, as in
// every textbook on choppers. Checked against published examples in testdata/drive.json, against ngspice, and by the balance of
// power.
func (c Circuit) Steady() State {
	p := c.Period()
	s := State{TimeConstant: quantity.Time(p.TauOn), Continuous: c.Duty > 0 && (c.Inductance > 0 || c.Duty == 1)}
	rise := -math.Expm1(-p.X)
	lo, ripple := p.valley(), (p.ToOn+p.ToOff)*rise*math.Expm1(-p.Y)/math.Expm1(-(p.X+p.Y))
	off := 1 - float64(c.Duty)
	if s.Continuous && (lo > 0 || p.ToOff == 0) {
		s.Flow = quantity.Time(p.Off)
	} else {
		s.Continuous = false
		lo, ripple = 0, p.ToOn*rise
		y := 0.0
		if p.TauOff > 0 && p.ToOff > 0 {
			y = min(math.Log1p(ripple/p.ToOff), p.Y)
		}
		s.Flow = quantity.Time(y * p.TauOff)
		off, p.Y = float64(s.Flow)*float64(c.Frequency), y
	}
	hi := lo + ripple
	s.on = follow(lo, p.ToOn, p.X, float64(c.Duty))
	s.off = follow(hi, -p.ToOff, p.Y, off)
	s.rest = stretch{share: 1 - float64(c.Duty) - off}
	if s.Continuous {
		s.rest.share = 0
	}
	average := s.on.flow() + s.off.flow()
	square := s.on.square() + s.off.square()
	s.Average, s.Max, s.Min, s.Ripple = quantity.Current(average), quantity.Current(hi), quantity.Current(lo), quantity.Current(ripple)
	s.RMS = quantity.Current(math.Sqrt(square))
	s.AC = quantity.Current(spread(average, s.on, s.off, s.rest))
	s.Averaging = quantity.Current(averaging(average, s.on, s.off, s.rest))
	s.Winding = quantity.Power(square * float64(c.Winding))
	s.Wiring = quantity.Power(square * float64(c.Wiring))
	s.Driver = quantity.Power(s.on.square() * float64(c.Driver))
	s.Supply = quantity.Power(float64(c.Supply) * s.on.flow())
	s.OffPath = quantity.Power(float64(c.Off.Reverse) * s.off.flow())
	if c.Off.Clamp > 0 {
		s.Supply += quantity.Power(float64(c.Supply) * s.off.flow())
		s.OffPath = quantity.Power(float64(c.Off.Clamp) * s.off.flow())
	}
	return s
}

// spread returns the RMS of the difference from the average.
func spread(average float64, of ...stretch) float64 {
	sum := 0.0
	for _, s := range of {
		sum += s.share * (s.variance + (s.mean-average)*(s.mean-average))
	}
	return math.Sqrt(sum)
}

// averaging returns what a meter shows on AC that is no true-RMS one: it keeps the average out, rectifies, takes the mean, and shows
// what a sine of that mean would have as its root mean square.
//
//	π/(2√2) × mean |v − average|
//
// It ignores meters that let direct current through on AC. Source: greenlee-cm-1300 (average after rectification, times 1.11); checked
// against tandy-faxback-7173 and keithley-2701 in testdata/drive.json, and by sums over the curve in properties_test.go.
func averaging(average float64, of ...stretch) float64 {
	sum := 0.0
	for _, s := range of {
		sum += s.apart(average)
	}
	return math.Pi / (2 * math.Sqrt2) * sum
}

// A Period holds what a period is worked out from, for the time with the driver on and the time with it off.
//
//	R_on = R + R_wiring + R_driver, R_off = R + R_wiring, τ = L/R, x = t_on/τ_on, y = t_off/τ_off
type Period struct {
	LoopOn, LoopOff float64 // resistance, ohm
	On, Off         float64 // length, s
	TauOn, TauOff   float64 // time constant, s
	X, Y            float64 // length in time constants; infinite without inductance
	ToOn, ToOff     float64 // current towards which it goes while on, and (reversed) while off, A
}

// Period returns the circuit's period.
func (c Circuit) Period() Period {
	p := Period{
		LoopOn: float64(c.Winding + c.Wiring + c.Driver), LoopOff: float64(c.Winding + c.Wiring),
		On: float64(c.Duty) / float64(c.Frequency), Off: (1 - float64(c.Duty)) / float64(c.Frequency),
	}
	p.TauOn, p.TauOff = float64(c.Inductance)/p.LoopOn, float64(c.Inductance)/p.LoopOff
	p.ToOn, p.ToOff = float64(c.Supply)/p.LoopOn, float64(c.Off.Reverse)/p.LoopOff
	p.X, p.Y = constants(p.On, p.TauOn), constants(p.Off, p.TauOff)
	return p
}

// valley returns the current at switch-on in the steady state. It is below 0 if the current stops.
func (p Period) valley() float64 {
	return (p.ToOn*-math.Expm1(-p.X)*portable.Exp(-p.Y) + p.ToOff*math.Expm1(-p.Y)) / -math.Expm1(-(p.X + p.Y))
}

// constants returns a time in time constants; 0 for no time, even without inductance.
func constants(t, tau float64) float64 {
	if t == 0 {
		return 0
	}
	return t / tau
}

// meanDecay returns the mean of e^−s over 0 ≤ s ≤ x.
//
//	m(x) = (1 − e^−x)/x
func meanDecay(x float64) float64 {
	if x == 0 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// meanRise returns 1 − m(x) without losing digits if x is small.
func meanRise(x float64) float64 {
	if x > 1 {
		return 1 - meanDecay(x)
	}
	return riseSeries.at(x)
}

// varDecay returns the variance of e^−s over 0 ≤ s ≤ x.
//
//	v(x) = m(2x) − m(x)² = m(x) ((1 + e^−x)/2 − m(x))
func varDecay(x float64) float64 {
	if x > 1 {
		return meanDecay(x) * ((1+portable.Exp(-x))/2 - meanDecay(x))
	}
	return meanDecay(x) * varSeries.at(x)
}

// A series holds the coefficients of x, x², … in a power series.
type series [20]float64 // 1/20! is below the last digit

var (
	riseSeries = seriesOf(func(n float64) float64 { return -1 / (n + 1) })
	varSeries  = seriesOf(func(n float64) float64 { return 0.5 - 1/(n+1) })
)

// seriesOf returns the series of (−x)^n/n! × factor(n).
func seriesOf(factor func(float64) float64) (s series) {
	term := 1.0
	for k := range s {
		n := float64(k + 1)
		term /= -n
		s[k] = term * factor(n)
	}
	return s
}

// at returns the sum, for 0 ≤ x ≤ 1.
func (s *series) at(x float64) float64 {
	sum := 0.0
	for k := len(s) - 1; k >= 0; k-- {
		sum = (sum + s[k]) * x
	}
	return sum
}

// DutyOf returns the share of the period that a time in each period is.
//
//	D = t f
//
// Units: 1, s, Hz. It is above 1 if the time is longer than the period; the caller has to check that.
func DutyOf(on quantity.Time, f quantity.Frequency) quantity.Ratio {
	return quantity.Ratio(float64(on) * float64(f))
}

// DutyFor returns the duty at which the average is the wanted current. If even full duty gives less, it returns 1 and false. The
// average grows with the duty.
func (c Circuit) DutyFor(wanted quantity.Current) (duty quantity.Ratio, reached bool) {
	full := c
	full.Duty = 1
	if most := full.Steady().Average; most <= wanted {
		return 1, most == wanted
	}
	return quantity.Ratio(root(0, 1, func(d float64) float64 {
		at := c
		at.Duty = quantity.Ratio(d)
		return float64(at.Steady().Average - wanted)
	})), true
}

// root returns where a function crosses 0 between a and b, at which it has different signs or is 0. It uses Chandrupatla's method
// (Advances in Engineering Software 28 (1997) 145): inverse quadratic interpolation where that is safe, else halving. The result is
// right to the last digit, or the best after 200 steps.
func root(a, b float64, f func(float64) float64) float64 {
	fa, fb := f(a), f(b)
	if fa == 0 {
		return a
	}
	t := 0.5
	c, fc := a, fa
	for range 200 {
		x := a + t*(b-a)
		fx := f(x)
		if (fx > 0) == (fa > 0) {
			c, fc = a, fa
		} else {
			c, fc = b, fb
			b, fb = a, fa
		}
		a, fa = x, fx
		best, least := a, fa
		if math.Abs(fb) < math.Abs(fa) {
			best, least = b, fb
		}
		near := 2e-16 * math.Abs(best) / math.Abs(b-c)
		if least == 0 || near > 0.5 || b == c {
			return best
		}
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		t = 0.5
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = min(max(t, near), 1-near)
	}
	return a
}
