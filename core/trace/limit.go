package trace

import "math"

const (
	fewestEarly = 5     // samples below a limit that show where the ramp heads for
	roundCorner = 0.008 // of the level: more noise hides whether a limit's corner is round, as saturated iron makes it
)

// A corner is where a rise meets its level.
type corner struct {
	*ramp
	level    float64
	early    int     // samples before it
	until    int     // samples until shortly after it
	variance float64 // of a sample of the rise
	ripple   float64 // variance of the level
}

// limited reports whether the driver limits the current. The ramp is then an exponential towards more than 5/4 of the
// level, which ends at the level with a sharp corner. Saturated iron rounds the corner.
func (p *ramp) limited() bool {
	c, ok := p.corner()
	if !ok {
		return false
	}
	best := c.heading(0)
	if high := c.heading(20); high.ok && (!best.ok || high.rss < best.rss) {
		best = high
	}
	near, plain := c.heading(1.25), c.heading(1.001)
	if !best.ok || !near.ok || !plain.ok {
		return false
	}
	n := float64(c.until)
	beyond := best.final-p.base > 1.25*(c.level-p.base)
	return beyond && best.rss < n+3*math.Sqrt(2*n) && near.rss-best.rss > 9 && plain.rss-best.rss > 40
}

// corner returns the corner of a ramp whose second half is level. ok is false if there is none, or if noise hides its shape.
func (p *ramp) corner() (c corner, ok bool) {
	n := len(p.t)
	if n < 4*fewest {
		return c, false
	}
	all := sumsOf(p.y[n/2:])
	quarter := (n - n/2) / 2
	c = corner{ramp: p, level: all.mean(0, n-n/2)}
	height := c.level - p.base
	if math.Abs(all.mean(0, quarter)-all.mean(quarter, quarter)) > 0.01*height+5*p.sigma/math.Sqrt(float64(n)/4) {
		return c, false
	}
	sigma := min(p.sigma, max(p.quiet, p.step/math.Sqrt(12))) // p.sigma includes the ripple of a drive that keeps switching
	for c.early < n/2 && p.y[c.early] < p.base+0.95*height-2*sigma {
		c.early++
	}
	if c.early < fewestEarly || sigma > roundCorner*height {
		return c, false
	}
	c.variance = sigma*sigma + 0.002*height*0.002*height
	c.until = min(n, c.early+max(3, c.early/2))
	for _, y := range p.y[n/2:] {
		c.ripple += (y - c.level) * (y - c.level) / float64(n-n/2)
	}
	return c, true
}

// A heading is the final current towards which the rise goes, and the sum of squares that remains near the corner.
type heading struct {
	rss, final float64
	ok         bool
}

// heading fits the rise with a final current that is a share of the level; if share is 0, with any final current.
func (c *corner) heading(share float64) heading {
	rise := *c.ramp
	rise.shorten(c.early)
	m := model{parts: []part{rise.part(0, c.early)}}
	if share > 0 {
		m.fixed, m.final = true, c.base+share*(c.level-c.base)
		q := &m.parts[0]
		q.drop, q.tau = m.final-q.y[0], (q.last()-q.t[0])*share
	} else if !m.guess() {
		return heading{}
	}
	if !m.fit() {
		return heading{}
	}
	q, rss := m.parts[0], 0.0
	for k, t := range c.t[:c.until] {
		d := c.y[k] - min(c.level, m.final-q.missing(t))
		if k < c.early {
			rss += d * d / c.variance
		} else {
			rss += d * d / max(c.variance, 3*c.ripple)
		}
	}
	return heading{rss, m.final, true}
}
