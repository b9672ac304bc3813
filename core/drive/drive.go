// Package drive answers what current and power a supply that is switched on and off drives through a winding: the periodic
// steady state of a resistance and an inductance in closed form, how it is reached, what meters show of it, and how warm
// the winding gets.
package drive

import (
	"math"

	"ohmwright/core/quantity"
)

// A Circuit is a winding that a driver switches on and off, with everything that its current flows through.
//
//	on,  for D/f:       L di/dt = V − (R + R_wiring + R_driver) i
//	off, for (1 − D)/f: L di/dt = −V_reverse − (R + R_wiring) i, until i = 0
//
// Units: V, ohm, H, Hz, 1. Ranges: Supply, Winding and Frequency above 0, Duty 0 to 1, the others 0 or more; the caller has
// checked that. It ignores that inductance changes with current and with the plunger's place, the currents that a changing
// field drives in iron, and the time that a switch takes.
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
	Reverse quantity.Voltage // what drives the current down: a diode's drop, or a clamp's voltage
	Clamp   quantity.Voltage // of a clamp across the switch, Reverse + Supply: the supply feeds it too. 0: across the winding
}

// A State is the periodic steady state of a circuit. Means are over the whole period.
type State struct {
	Average, RMS, Max, Min quantity.Current
	Ripple                 quantity.Current // Max − Min
	AC                     quantity.Current // root mean square of what differs from the average
	Continuous             bool             // the current never stops
	TimeConstant           quantity.Time    // while on
	Flow                   quantity.Time    // for which current flows on after the driver is off
	Supply                 quantity.Power   // what the supply gives
	Winding, Wiring        quantity.Power   // what they turn into heat
	Driver, OffPath        quantity.Power   // the same: driver while on, diode or clamp while off

	on, off, rest stretch
}

// A stretch is a part of the period in which the current follows one exponential.
type stretch struct {
	share    float64 // of the period
	mean     float64 // of the current in it
	variance float64 // of the current in it
}

// square is the mean of the square in the stretch, times its share of the period.
func (s stretch) square() float64 { return s.share * (s.mean*s.mean + s.variance) }

// flow is what a stretch adds to the mean over the period.
func (s stretch) flow() float64 { return s.share * s.mean }

// follow is a stretch that begins at a current and heads for another, over x time constants.
//
//	i = to + (from − to) e^(−s), 0 ≤ s ≤ x;  mean = from m(x) + to (1 − m(x));  variance = (from − to)² v(x)
func follow(from, to, x, share float64) stretch {
	return stretch{share, from*meanDecay(x) + to*meanRise(x), (from - to) * (from - to) * varDecay(x)}
}

// Steady is the periodic steady state.
//
//	x = t_on/τ_on, y = t_off/τ_off, I_f = V/R_on, I_r = V_reverse/R_off
//	I_min = (I_f (1 − e^−x) e^−y − I_r (1 − e^−y))/(1 − e^−(x+y))
//	I_max − I_min = (I_f + I_r)(1 − e^−x)(1 − e^−y)/(1 − e^−(x+y))
//
// and where that I_min is below 0, the current stops after τ_off ln(1 + I_max/I_r) and begins anew from 0. An ideal diode
// never stops it. Without inductance there is current while the driver is on alone. Source: the two exponentials joined at
// both ends; worked in every text on choppers. Checked against published examples in testdata/drive.json, against ngspice,
// and by the balance of power.
func (c Circuit) Steady() State {
	p := c.period()
	s := State{TimeConstant: quantity.Time(p.tauOn), Continuous: c.Duty > 0 && (c.Inductance > 0 || c.Duty == 1)}
	rise := -math.Expm1(-p.x)
	lo, ripple := p.valley(), (p.toOn+p.toOff)*rise*math.Expm1(-p.y)/math.Expm1(-(p.x+p.y))
	off := 1 - float64(c.Duty)
	if s.Continuous && (lo > 0 || p.toOff == 0) {
		s.Flow = quantity.Time(p.off)
	} else {
		s.Continuous = false
		lo, ripple = 0, p.toOn*rise
		y := 0.0
		if p.tauOff > 0 && p.toOff > 0 {
			y = min(math.Log1p(ripple/p.toOff), p.y)
		}
		s.Flow = quantity.Time(y * p.tauOff)
		off, p.y = float64(s.Flow)*float64(c.Frequency), y
	}
	hi := lo + ripple
	s.on = follow(lo, p.toOn, p.x, float64(c.Duty))
	s.off = follow(hi, -p.toOff, p.y, off)
	s.rest = stretch{share: 1 - float64(c.Duty) - off}
	if s.Continuous {
		s.rest.share = 0
	}
	average := s.on.flow() + s.off.flow()
	square := s.on.square() + s.off.square()
	s.Average, s.Max, s.Min, s.Ripple = quantity.Current(average), quantity.Current(hi), quantity.Current(lo), quantity.Current(ripple)
	s.RMS = quantity.Current(math.Sqrt(square))
	s.AC = quantity.Current(spread(average, s.on, s.off, s.rest))
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

// spread is the root mean square of what differs from the average.
func spread(average float64, of ...stretch) float64 {
	sum := 0.0
	for _, s := range of {
		sum += s.share * (s.variance + (s.mean-average)*(s.mean-average))
	}
	return math.Sqrt(sum)
}

// A period is a circuit's two halves: how long each is, its time constant, how many of them it lasts (x, y), and the current
// that it heads for: toOn, and −toOff.
type period struct{ on, off, tauOn, tauOff, x, y, toOn, toOff float64 }

func (c Circuit) period() period {
	ron := float64(c.Winding + c.Wiring + c.Driver)
	roff := float64(c.Winding + c.Wiring)
	p := period{
		on: float64(c.Duty) / float64(c.Frequency), off: (1 - float64(c.Duty)) / float64(c.Frequency),
		tauOn: float64(c.Inductance) / ron, tauOff: float64(c.Inductance) / roff,
		toOn: float64(c.Supply) / ron, toOff: float64(c.Off.Reverse) / roff,
	}
	p.x, p.y = constants(p.on, p.tauOn), constants(p.off, p.tauOff)
	return p
}

// valley is the current at switch-on of a steady state that never stops; below 0 where it has to stop.
func (p period) valley() float64 {
	return (p.toOn*-math.Expm1(-p.x)*math.Exp(-p.y) + p.toOff*math.Expm1(-p.y)) / -math.Expm1(-(p.x + p.y))
}

// constants is how many time constants a time lasts.
func constants(t, tau float64) float64 {
	if t == 0 {
		return 0
	}
	return t / tau
}

// meanDecay is the mean of e^−s over 0 ≤ s ≤ x.
//
//	m(x) = (1 − e^−x)/x
func meanDecay(x float64) float64 {
	if x == 0 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// meanRise is 1 − m(x), without the loss of digits where x is small.
func meanRise(x float64) float64 {
	if x > 1 {
		return 1 - meanDecay(x)
	}
	return riseSeries.at(x)
}

// varDecay is the variance of e^−s over 0 ≤ s ≤ x.
//
//	v(x) = m(2x) − m(x)² = m(x) ((1 + e^−x)/2 − m(x))
func varDecay(x float64) float64 {
	if x > 1 {
		return meanDecay(x) * ((1+math.Exp(-x))/2 - meanDecay(x))
	}
	return meanDecay(x) * varSeries.at(x)
}

// A series holds the factors of x, x², … in a power series.
type series [20]float64 // 1/20! is below the last digit

var (
	riseSeries = seriesOf(func(n float64) float64 { return -1 / (n + 1) })
	varSeries  = seriesOf(func(n float64) float64 { return 0.5 - 1/(n+1) })
)

// seriesOf is the series of (−x)^n/n! × factor(n).
func seriesOf(factor func(float64) float64) (s series) {
	term := 1.0
	for k := range s {
		n := float64(k + 1)
		term /= -n
		s[k] = term * factor(n)
	}
	return s
}

// at is the sum, for 0 ≤ x ≤ 1.
func (s *series) at(x float64) float64 {
	sum := 0.0
	for k := len(s) - 1; k >= 0; k-- {
		sum = (sum + s[k]) * x
	}
	return sum
}

// DutyFor is the duty at which the average is a wanted current, and whether there is one: where even full duty gives less, it
// is 1 and there is none. The average grows with the duty.
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

// root finds where a function that is not above 0 at a and not below 0 at b, or the other way round, crosses 0: Chandrupatla's
// method (Advances in Engineering Software 28 (1997) 145), which takes the inverse parabola where it can be trusted and halves
// the bracket where not. To the last digit; after 200 steps it is as good as it gets.
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
