package trace

import (
	"math"

	"ohmwright/core/measure"
	"ohmwright/core/portable"
)

const (
	suspect       = 4     // standard deviations of a bend that is tried as a motion if one exponential does not do
	wander        = 1.3   // see model.check: more is another shape
	offsetShare   = 0.15  // of the final current: less before the ramp is the clamp's offset, more is current
	chosen        = 0.005 // of a time constant: the standard uncertainty from the choice of the parts
	ironHides     = 0.01  // of an inductance: the standard uncertainty from what iron changes without its showing along the part (chosen)
	restWithin    = 0.03  // relative uncertainty up to which the time constant at rest is the one given
	givenWithin   = 0.3   // relative uncertainty of a time constant that is given at all
	finalWithin   = 0.1   // relative uncertainty of the final current of a fit that is given
	tauWithin     = 0.2   // and of its time constant
	otherShape    = 0.02  // of the final current: rms of the residuals of another shape
	restless      = 0.01  // the same, after the current has settled
	reachedEnough = 0.9   // of the final current: the ramp is not too short
	plainDip      = 1.5   // of the smallest that would show: told even where the fit is not worth giving
	deepestDip    = 0.4   // of the current before it: no plunger's motion takes more
)

// A fitted is the model of a ramp and the motion that it leaves out.
type fitted struct {
	model
	from, to float64 // of the motion, in times of the ramp; to is 0 if there is none
}

// moves reports whether a motion is left out.
func (m *fitted) moves() bool { return m.to > 0 }

// readRamp fits the ramp, judges its dip, and returns why there is no fit, or NoReason.
func (f *Finding) readRamp(r samples, p *ramp, cycles []swing, e Expect) Reason {
	if f.rippled(p, cycles) {
		return TooShort
	}
	if p.limited() {
		return Limited
	}
	d, why := f.clear(r, p)
	if why != NoReason {
		return why
	}
	m, ok := p.fit(d)
	if !ok {
		return TooShort
	}
	if p.before >= fewestBefore {
		p.restUntil(r, p.zero+m.start(p.base))
	}
	fit := p.figures(r, &m)
	f.Dip = p.judge(d, fit, &m)
	if f.Dip.Why == TooShort && len(f.Steps) > 0 {
		f.Dip.Why = Interrupted
	}
	if why := f.doubt(p, fit, &m); why != NoReason {
		if f.Dip.Since = f.Dip.At - p.begins(r); !d.falls || d.depth < plainDip*f.Dip.Smallest {
			f.Dip = Dip{Why: why}
		}
		return why
	}
	fit.ofLoop(e.Supply, &m)
	fit.doubted(e)
	f.Fit, f.Model = fit, p.curve(fit, &m)
	f.strays(p, &m)
	return NoReason
}

// clear ends the ramp before anything that no plunger explains, and lists that. It returns the dip in what is left.
func (f *Finding) clear(r samples, p *ramp) (d dip, why Reason) {
	f.cut(r, p)
	if len(p.t) < fewest {
		return d, Interrupted
	}
	d = p.dip()
	if f.Periods == 0 && d.found && d.falls && d.depth > deepestDip*(d.value+d.depth-p.base) {
		f.add(Sudden{p.zero + p.t[d.top], p.zero + d.t, -d.depth, true}, r.Interval)
		p.shorten(d.top)
		if len(p.t) < fewest {
			return d, Interrupted
		}
		d = p.dip()
	}
	if d.sags && f.Periods == 0 { // the level is low because a supply or a contact failed
		return d, OtherShape
	}
	return d, NoReason
}

// fit fits the ramp, around the motion if a dip is found.
func (p *ramp) fit(d dip) (m fitted, ok bool) {
	if d.found {
		return p.fitAround(d)
	}
	m.parts = []part{p.part(0, len(p.t))}
	if len(m.parts[0].t) < fewest || !m.guess() || !m.fit() {
		return m, false
	}
	// One exponential does not fit, and there is a bend within the noise: it may be a motion.
	if m.check(p.noise()) > 1.4*wander && d.z > suspect {
		d.top = d.at
		if two, ok := p.fitAround(d); ok && len(two.parts) == 2 && two.wander < 0.6*m.wander {
			return two, true
		}
	}
	return m, true
}

// fitAround fits the stretch after a motion, and the one before it if that can be fitted too.
func (p *ramp) fitAround(d dip) (m fitted, ok bool) {
	seated, settled := p.fitSeated(d)
	if settled == 0 {
		return m, false
	}
	rest, last := p.fitRest(d, seated.final)
	if last > 0 {
		both := model{final: seated.final, parts: []part{p.part(0, last), seated.parts[0]}}
		before := &both.parts[0]
		before.drop, before.tau = rest.parts[0].drop, rest.parts[0].tau
		if len(before.t) >= 4 && both.fit() {
			both.check(p.noise())
			return fitted{both, p.t[last], p.t[settled]}, true
		}
	}
	return fitted{seated, p.t[d.top], p.t[settled]}, true
}

// fitSeated fits the end of the ramp, beginning as soon after the arrival as it is an exponential, without any rebound. It
// returns the sample from which it fits, or 0 if there is no fit.
func (p *ramp) fitSeated(d dip) (seated model, settled int) {
	n, least := len(p.t), math.Inf(1)
	for _, share := range [...]float64{0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5} {
		from := d.at + 1 + int(share*float64(n-d.at))
		m := model{parts: []part{p.part(from, n)}}
		q := &m.parts[0]
		if len(q.t) < fewest {
			break
		}
		if least < math.Inf(1) {
			m.final, q.tau = seated.final, seated.parts[0].tau
			q.drop = max(m.final-q.y[0], 1e-3*p.rise)
		} else if !m.guess() {
			continue
		}
		if !m.fit() {
			continue
		}
		if w := m.check(p.noise()); w < least {
			seated, settled, least = m, from, w
		}
		if least < wander {
			break
		}
	}
	return seated, settled
}

// fitRest fits the ramp before the motion, up to where it stops being an exponential, with the final current given. It
// returns a sample a little before that end, or 0 if there is no fit.
func (p *ramp) fitRest(d dip, final float64) (rest model, last int) {
	for _, share := range [...]float64{1, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2} {
		until := int(share * float64(d.top))
		m := model{final: final, fixed: true, parts: []part{p.part(0, until)}}
		q := &m.parts[0]
		if len(q.t) < 4 {
			break
		}
		q.drop = final - q.y[0]
		q.tau = q.last() - q.t[0]
		if end := final - q.y[len(q.y)-1]; end > 0 && q.drop > end {
			q.tau /= portable.Log(q.drop / end)
		}
		if q.drop > 0 && m.fit() && m.check(p.noise()) < 0.8*wander {
			return m, int(0.9 * float64(until))
		}
	}
	return rest, 0
}

// figures takes the figures of a fit from its model.
func (p *ramp) figures(r samples, m *fitted) *Fit {
	fit := &Fit{Final: m.final, FinalU: m.u[0], Rest: math.Sqrt(m.rss / float64(m.n)), Start: p.zero + m.start(0)}
	fit.From, fit.To = p.zero+p.t[0], p.zero+p.last()
	if p.sigma < 0.5*p.step {
		fit.FinalU = portable.Hypot(fit.FinalU, p.step/math.Sqrt(12))
	}
	if p.before >= fewestBefore {
		fit.Start = p.zero + m.start(p.base)
		if fit.OffsetKnown = math.Abs(p.base) < offsetShare*(m.final-p.base) && p.spent(m.parts[0].tau); fit.OffsetKnown {
			fit.Final -= p.base
			u := max(p.sigma/math.Sqrt(float64(p.before)), p.step/math.Sqrt(12)) // of the current before the start
			fit.FinalU = portable.Hypot(fit.FinalU, u)
		}
	}
	if m.moves() && len(m.parts) == 1 { // the part after the motion does not show when the rise began
		fit.Start = p.begins(r)
	}
	end := &m.parts[len(m.parts)-1]
	fit.Reached = 1 - end.missing(p.last())/fit.Final
	fit.timeConstants(p, m)
	return fit
}

// timeConstants takes the time constants at rest and at the stop from the model, and chooses the one to give.
func (fit *Fit) timeConstants(p *ramp, m *fitted) {
	switch first := m.parts[0].tau; {
	case !m.moves():
		fit.AtRest, fit.AtRestU = certainEnough(first, m.u[2])
	case len(m.parts) == 2:
		fit.AtRest, fit.AtRestU = certainEnough(first, m.u[2])
		fit.AtStop, fit.AtStopU = certainEnough(m.parts[1].tau, m.u[4])
	default:
		fit.AtStop, fit.AtStopU = certainEnough(first, m.u[2])
	}
	fit.TimeConstant, fit.TimeConstantU = fit.AtRest, fit.AtRestU
	if !m.moves() {
		return
	}
	fit.MotionFrom, fit.MotionTo = p.zero+m.from, p.zero+m.to
	if fit.AtRest == 0 || fit.AtStop > 0 && fit.AtRestU > restWithin*fit.AtRest && fit.AtStopU/fit.AtStop < fit.AtRestU/fit.AtRest {
		fit.Seated, fit.TimeConstant, fit.TimeConstantU = true, fit.AtStop, fit.AtStopU
	}
}

// certainEnough returns a time constant and its uncertainty, including that from choosing the parts; zeros if it is too uncertain.
func certainEnough(tau, u float64) (float64, float64) {
	if u > givenWithin*tau {
		return 0, 0
	}
	return tau, portable.Hypot(u, chosen*tau)
}

// doubt returns why a fit is not good enough to give, or NoReason. If a single exponential leaves part of the rise
// unexplained, it enlarges the uncertainty of the time constant.
func (f *Finding) doubt(p *ramp, fit *Fit, m *fitted) Reason {
	level := fit.Final > 0 && !(fit.FinalU > finalWithin*fit.Final)
	tau := fit.TimeConstant > 0 && !(fit.TimeConstantU > tauWithin*fit.TimeConstant)
	shape := fit.Reached >= reachedEnough || !(fit.Rest > max(otherShape/5*m.final, 4*p.quiet)) // the shape alone tells a level not seen
	if !level || !tau || !shape {
		switch {
		case fit.Reached < reachedEnough && len(f.Steps) > 0:
			return Interrupted
		case fit.Reached < reachedEnough:
			return TooShort
		case p.sigma < smallestDip/certain*p.rise:
			return OtherShape
		}
		return TooNoisy
	}
	if m.rss > float64(m.n)*(otherShape*otherShape*m.final*m.final+9*p.sigma*p.sigma) {
		return OtherShape
	}
	if m.moves() {
		return NoReason
	}
	if left := m.misfit(); left.rise > max(otherShape*m.final, 4*p.quiet) {
		if left.flat > max(restless*m.final, 3*p.quiet) { // a drive holds the current by switching, too quickly to be recorded
			return OtherShape
		}
		// Saturated iron and eddy currents: the residuals count as an error of the time constant, on which the current depends
		// by at most 1/e of the final current.
		fit.AtRestU = portable.Hypot(fit.AtRestU, math.E*left.rise/m.final*fit.AtRest)
		fit.TimeConstantU = fit.AtRestU
	}
	return NoReason
}

// ofLoop computes resistance and inductance if the supply is known. The uncertainty of the inductance covers what iron and motion
// change it by along the part that it is taken from.
func (fit *Fit) ofLoop(supply float64, m *fitted) {
	if supply > 0 {
		fit.Resistance = supply / fit.Final
		fit.ResistanceU = fit.Resistance * fit.FinalU / fit.Final
		fit.Inductance = fit.Resistance * fit.TimeConstant
		j := 0
		if fit.Seated {
			j = len(m.parts) - 1
		}
		u := portable.Hypot(fit.TimeConstantU, portable.Hypot(m.change(j)/math.Sqrt(3), ironHides*fit.TimeConstant))
		fit.InductanceU = fit.Inductance * portable.Hypot(fit.FinalU/fit.Final, u/fit.TimeConstant)
	}
}

// doubted adds the errors of clamp and voltmeter to the uncertainties that come from noise.
//
//	u²(I)/I² = u²(noise)/I² + (a_clamp/√3)²;  u²(R)/R² = u²(I)/I² + (a_supply/√3)²
func (fit *Fit) doubted(e Expect) {
	clamp, supply := measure.Rectangular(e.ClampWithin), measure.Rectangular(e.SupplyWithin)
	fit.FinalU = measure.Combine(fit.FinalU, clamp*fit.Final)
	fit.ResistanceU = measure.Combine(fit.ResistanceU, clamp*fit.Resistance, supply*fit.Resistance)
	fit.InductanceU = measure.Combine(fit.InductanceU, clamp*fit.Inductance, supply*fit.Inductance)
}

// curve returns points of the model, where it is valid.
func (p *ramp) curve(fit *Fit, m *fitted) (list []Point) {
	for j := range m.parts {
		q := &m.parts[j]
		a, b := q.from, p.last()
		if j == 0 && (!m.moves() || len(m.parts) == 2) {
			a = min(q.from, fit.Start-p.zero)
			if len(m.parts) == 2 {
				b = m.from
			}
		}
		for k := range drawn/2 + 1 {
			t := a + (b-a)*float64(k)/(drawn/2)
			list = append(list, Point{p.zero + t, m.final - q.missing(t)})
		}
	}
	return list
}

// outstanding returns how many standard deviations of a mean are more than noise, if so many samples are looked at.
func outstanding(samples int) float64 { return 5 + math.Sqrt(2*portable.Log(float64(max(2, samples)))) }
