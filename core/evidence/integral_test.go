package evidence

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/selfcheck"
	"ohmwright/testdata"
)

// A stratum is a part of what may be: a fault in one of its ways, with a part of its parameter's range. It holds the likelihoods of
// the worlds that were drawn in it. The worlds of a healthy circuit serve the faults that change none of the readings too.
type stratum struct {
	f        circuit.Fault
	way      int
	from, to float64 // of the parameter, on the scale on which it is even; without one, of the winding in its row
	weight   float64 // of the whole, within the fault
	n        float64
	sum, sq  float64
	near     float64 // the sum of the likelihoods with contacts and digits six times as bad: what is nearly hit
	plain    []float64
	coming   [4]float64 // the sums of the likelihoods of faults that come and go
}

// sd returns the standard deviation of the likelihoods, for the whole stratum.
func (s *stratum) sd() float64 {
	mean := s.sum / s.n
	return s.weight * math.Sqrt(max(0, s.sq/s.n-mean*mean))
}

// pull returns how much it pays to draw worlds there: where the likelihood varies, or where it may, nearly hit so far.
func (c *carlo) pull(s *stratum) float64 {
	weight := c.m.Weights[s.f]
	if s.f == circuit.None {
		weight = c.shared
	}
	return weight * (s.sd() + 0.5*s.weight*s.near/s.n)
}

// A carlo integrates by drawing worlds.
type carlo struct {
	m        *circuit.Model
	readings []circuit.Reading
	wanted   circuit.Set
	wideRow  bool
	alike    [circuit.Faults]bool // what reads as a healthy circuit
	shared   float64              // the weight of those
	strata   []stratum
	any      []float64
	bad      [4][]float64     // the readings while a fault that comes and goes is there
	usual    []doubt.Estimate // the readings of a healthy circuit
	u        func() float64
}

const (
	cells = 12 // of a range
	pilot = 24 // worlds in each stratum, before more are drawn where they are needed
)

// newCarlo divides what may be.
func newCarlo(m *circuit.Model, readings []circuit.Reading) *carlo {
	c := &carlo{m: m, readings: readings, u: rand.New(rand.NewPCG(26, 28)).Float64}
	for _, r := range readings {
		c.wanted = c.wanted.With(r.Test)
		c.any = append(c.any, anyValue(m, r))
		for i, as := range [...]circuit.Fault{circuit.HarnessOpen, circuit.LeadOpen, circuit.PathOpen, circuit.DriverNever} {
			lo, hi := m.Coils()
			c.bad[i] = append(c.bad[i], m.Predict(r.Test, as, 0, (lo+hi)/2))
		}
	}
	c.usual = c.healthy(400)
	for f := range circuit.Fault(circuit.Faults) {
		c.alike[f] = f == circuit.None || f.ComesAndGoes() || f != circuit.Other && m.Code == circuit.NoCode &&
			m.Untouched(f)&c.wanted == c.wanted
		switch {
		case f == circuit.Other || m.Weights[f] == 0:
		case c.alike[f]:
			c.shared += m.Weights[f]
		}
		if f == circuit.Other || m.Weights[f] == 0 || c.alike[f] && f != circuit.None {
			continue
		}
		for way := range f.Ways() {
			for i := range cells {
				c.strata = append(c.strata, stratum{f: f, way: way, from: float64(i) / cells, to: float64(i+1) / cells,
					weight: 1 / float64(cells*f.Ways()), plain: make([]float64, len(readings))})
			}
		}
	}
	return c
}

// healthy returns the mean and the standard deviation of the readings in n healthy worlds.
func (c *carlo) healthy(n int) []doubt.Estimate {
	list := make([]doubt.Estimate, len(c.readings))
	var sum, square [circuit.Tests]float64
	for range n {
		w := worldOf(c.m, circuit.None, 0, 0, c.u(), c.wideRow, c.u)
		w.settle(choose(w.look(c.wanted), c.u()), c.u)
		for k, r := range c.readings {
			v := w.value(r.Test)
			_, s, digit := w.errors(r.Test, v)
			sum[k] += v / float64(n)
			square[k] += (v*v + s*s + digit*digit/3) / float64(n)
		}
	}
	for k := range list {
		list[k] = doubt.Estimate{Value: sum[k], U: math.Sqrt(square[k] - sum[k]*sum[k])}
	}
	return list
}

// anyValue returns the density of a reading that is simply wrong: even in volts up to the supply and 1 V more; even in the logarithm
// of amperes up to 100 A and of ohms up to 40 Mohm; and OL once in four times.
func anyValue(m *circuit.Model, r circuit.Reading) float64 {
	switch v := math.Abs(r.Value); {
	case r.Test.Quantity() == circuit.Volts:
		return 1 / (m.Supply + 1)
	case r.Test.Quantity() == circuit.Amperes:
		return 1 / (v + 0.05) / math.Log(100/0.05)
	case r.Over:
		return 0.25
	default:
		return 0.75 / (v + 0.1) / math.Log(40e6/0.1)
	}
}

// draw draws n worlds in a stratum.
func (c *carlo) draw(s *stratum, n int) {
	of := *c.m
	for range n {
		x, row := s.from+(s.to-s.from)*c.u(), c.u()
		if _, _, _, ok := s.f.Limits(); !ok {
			x, row = row, x
		}
		w := worldOf(c.m, s.f, s.way, c.m.Parameter(s.f, x), row, c.wideRow, c.u)
		total, near := 0.0, 0.0
		for _, d := range w.look(c.wanted) {
			w.settle(d, c.u)
			total += d.Chance * c.likelihood(w, -1)
			near += d.Chance * c.nearly(w)
			if s.f != circuit.None {
				continue
			}
			for i := range s.coming {
				s.coming[i] += d.Chance * c.likelihood(w, i)
			}
			for k, r := range c.readings {
				s.plain[k] += d.Chance * w.density(r, w.value(r.Test))
			}
		}
		if c.m.Code != circuit.NoCode && s.f != circuit.None {
			at := func(s circuit.Sight) doubt.Estimate { return doubt.Estimate{Value: s.Value} }
			see := selfcheck.View{Off: at(w.v.Inside[0]), On: at(w.v.Inside[1]), Amperes: at(w.v.On[circuit.CurrentOn])}
			total *= see.Chance(&of, s.f, of.HealthyAmperes())
		}
		s.n, s.sum, s.sq, s.near = s.n+1, s.sum+total, s.sq+total*total, s.near+near
	}
}

// likelihood returns the density of the readings in a world: each as it should be, or simply wrong, or taken while the driver was not
// on; or, if the fault number coming of those that come and go is there now and then, while it was.
func (c *carlo) likelihood(w *world, coming int) float64 {
	l := 1.0
	for k, r := range c.readings {
		right := w.density(r, w.value(r.Test))
		if coming >= 0 {
			right += c.while(w, k, coming)
		}
		p := (1-slip)*right + slip*c.any[k]
		switch r.Test {
		case circuit.VoltsPinOn, circuit.CurrentOn, circuit.VoltsReturn:
			p += notOn * w.density(r, w.v.Off[r.Test].Value)
		}
		l *= p
	}
	return l
}

// while returns the density of a reading that is far from a healthy circuit's, taken while a fault that comes and goes is there.
func (c *carlo) while(w *world, k, coming int) float64 {
	r, usual := c.readings[k], c.usual[k]
	over := math.IsInf(usual.Value, 1)
	if over && r.Over || !over && !r.Over && math.Abs(r.Value-usual.Value) < 4*usual.U {
		return 0
	}
	bad := c.bad[coming][k]
	if q := r.Test.Quantity(); q == circuit.Volts || q == circuit.Amperes {
		bad *= w.true.Supply / c.m.Supply
	}
	there := 0.9*w.density(r, bad) + 0.02*c.any[k]
	if circuit.ComesGoesHarness+circuit.Fault(coming) == circuit.ComesGoesUnit {
		return shareUnitThere * there
	}
	return shareThere * there
}

// nearly returns the likelihood with contacts and digits six times as bad.
func (c *carlo) nearly(w *world) float64 {
	l := 1.0
	for k, r := range c.readings {
		w.stretch = 6
		l *= w.density(r, w.value(r.Test)) + slip*c.any[k]
		w.stretch = 1
	}
	return l
}

// split halves the strata that matter most, down to two thousandths of the range.
func (c *carlo) split() {
	whole := 0.0
	for i := range c.strata {
		whole += c.pull(&c.strata[i])
	}
	for i := range c.strata {
		s := c.strata[i]
		if s.to-s.from < 0.002 || c.pull(&s) < 0.004*whole {
			continue
		}
		half := stratum{f: s.f, way: s.way, from: s.from, to: (s.from + s.to) / 2, weight: s.weight / 2,
			plain: make([]float64, len(c.readings))}
		c.strata[i] = half
		half.from, half.to, half.plain = half.to, s.to, make([]float64, len(c.readings))
		c.strata = append(c.strata, half)
		c.draw(&c.strata[i], pilot)
		c.draw(&c.strata[len(c.strata)-1], pilot)
	}
}

// integrate draws worlds, most where they matter, until the faults' probabilities are good to within, as standard deviations, or too
// many are drawn. It returns both.
func (c *carlo) integrate(within float64, most int) (p, u [circuit.Faults]float64) {
	for i := range c.strata {
		c.draw(&c.strata[i], pilot)
	}
	for range 6 {
		c.split()
	}
	for done, round := 0, most/8; done < most; done += round {
		whole := 0.0
		pulls := make([]float64, len(c.strata))
		for i := range c.strata {
			pulls[i] = c.pull(&c.strata[i])
			whole += pulls[i]
		}
		for i := range c.strata {
			c.draw(&c.strata[i], int(float64(round)*pulls[i]/whole+c.u()))
		}
		if p, u = c.result(); slices.Max(u[:]) < within {
			break
		}
	}
	return p, u
}

// result returns the faults' probabilities, and their standard deviations.
func (c *carlo) result() (p, u [circuit.Faults]float64) {
	var mean, variance, mass [circuit.Faults]float64
	var coming [4]float64
	plain := make([]float64, len(c.readings))
	for i := range c.strata {
		s := &c.strata[i]
		mean[s.f] += s.weight * s.sum / s.n
		variance[s.f] += s.sd() * s.sd() / s.n
		for k := range plain {
			plain[k] += s.weight * s.plain[k] / s.n
		}
		for k := range coming {
			coming[k] += s.weight * s.coming[k] / s.n
		}
	}
	sum, all := 0.0, 0.0
	for f := range circuit.Fault(circuit.Faults) {
		weight, from := c.m.Weights[f], f
		switch {
		case c.alike[f]:
			from = circuit.None
		case f == circuit.Other:
			mean[f] = 1
			for k := range plain {
				mean[f] *= (plain[k] + c.any[k]) / 2
			}
		}
		q := mean[from]
		if f.ComesAndGoes() {
			q = coming[f-circuit.ComesGoesHarness]
		}
		if f == circuit.None && c.m.Code != circuit.NoCode {
			weight *= selfcheck.Elsewhere
		}
		mass[f], variance[f] = weight*q, weight*weight*variance[from]
		sum += mass[f]
		all += variance[f]
	}
	for f := range mass {
		p[f] = mass[f] / sum
		u[f] = math.Sqrt((1-2*p[f])*variance[f]+p[f]*p[f]*all) / sum
	}
	return p, u
}

// poor gives a model a meter with much error, which all its readings share.
func poor(m *circuit.Model) { m.Meters[circuit.Ohms].Percent = 10 }

// integralCases are circuits and readings for TestTheIntegral. A case is rough where what counts is at the end of a range, which the
// model takes as normal: a tenth of the turns lost, a harness of next to nothing beside a dead
// short, a driver at its least.
var integralCases = []struct {
	m        *circuit.Model
	readings []circuit.Reading
	rough    bool
}{
	{coded(usual()[0], circuit.CodeLow), nil, false},
	{coded(usual()[1], circuit.CodeOpen), nil, false},
	{coded(usual()[2], circuit.CodeRange), []circuit.Reading{is(circuit.OhmsUnit, 19.2)}, false},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 4.6)}, true},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 4.0)}, false},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 5.6), is(circuit.OhmsUnit, 7.9)}, false},
	{usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 2.7), is(circuit.OhmsUnit, 2.9), is(circuit.OhmsWinding, 2.6)}, false},
	{usual()[1], []circuit.Reading{is(circuit.OhmsComponent, 6.2), is(circuit.VoltsPinOn, 13.1)}, false},
	{usual()[1], []circuit.Reading{is(circuit.OhmsUnit, 0.2), is(circuit.CurrentOn, 30)}, true},
	{usual()[1], []circuit.Reading{is(circuit.VoltsPinOn, 0)}, false},
	{usual()[0], []circuit.Reading{is(circuit.VoltsPinOn, 6.0), is(circuit.CurrentOn, 1.1)}, false},
	{usual()[2], []circuit.Reading{is(circuit.CurrentOn, 0.55), is(circuit.VoltsReturn, 0.4)}, true},
	{usual()[2], []circuit.Reading{ol(circuit.InsulationHarness), is(circuit.VoltsPinOff, 12.4), is(circuit.VoltsPinOn, 1.6)}, false},
	{usual()[3], []circuit.Reading{is(circuit.OhmsUnit, 365), is(circuit.OhmsHarness, 52)}, false},
	{changed(usual()[0], poor), []circuit.Reading{is(circuit.OhmsComponent, 6.3)}, false},
	{changed(usual()[0], poor), []circuit.Reading{is(circuit.OhmsComponent, 5.9), is(circuit.OhmsUnit, 7.6)}, false},
	{usual()[0], []circuit.Reading{is(circuit.OhmsHarness, 0.8)}, false},
	{changed(usual()[2], func(m *circuit.Model) { m.Warmth.Known = false }), []circuit.Reading{is(circuit.OhmsComponent, 9.5)}, false},
	{changed(usual()[1], func(m *circuit.Model) { m.Warmth.Known = false }), []circuit.Reading{is(circuit.OhmsUnit, 17.5),
		is(circuit.OhmsComponent, 15.6)}, false},
	{changed(usual()[0], func(m *circuit.Model) { m.Stage = circuit.Plain }), []circuit.Reading{is(circuit.VoltsPinOn, 11.7),
		is(circuit.VoltsUnitFeed, 12.4)}, false},
	{changed(usual()[0], func(m *circuit.Model) { m.Stage = circuit.Protected }), []circuit.Reading{is(circuit.VoltsPinOn, 0.1),
		is(circuit.VoltsLoad, 12.3)}, false},
	{changed(usual()[2], func(m *circuit.Model) { m.Stage, m.Set = circuit.Regulated, 0.5 }),
		[]circuit.Reading{is(circuit.CurrentOn, 0.48), is(circuit.VoltsPinOn, 5.6)}, false},
	{changed(usual()[1], func(m *circuit.Model) { m.Stage = circuit.Plain }), []circuit.Reading{is(circuit.VoltsPinOn, 0),
		is(circuit.VoltsUnitFeed, 5)}, false},
	{usual()[0], []circuit.Reading{is(circuit.VoltsUnitGround, 1.2), is(circuit.VoltsUnitFeed, 12.4)}, false},
	{usual()[0], []circuit.Reading{is(circuit.VoltsHarnessOpen, 5.0), is(circuit.VoltsPinOff, 1.2)}, false},
}

// TestTheIntegral compares the probabilities with a Monte Carlo integration over everything that nobody knows exactly, each drawn from
// its own distribution and nothing taken as normal but the contacts: parameters and nominal resistances even in their logarithm,
// the row, the temperature, the supply and the meter's common error even. The predictions of the chain and the chances of what
// the driver does are the package's (spice_test.go has the former); how they are put together is not. A probability may be off by
// 0.03, in rough cases 0.12, and four standard deviations of the drawing, which are at most 0.012.
func TestTheIntegral(t *testing.T) {
	t.Parallel()
	worst, doubt := 0.0, 0.0
	for i, c := range integralCases {
		want, u := newCarlo(c.m, c.readings).integrate(0.008, testdata.Several(60000))
		got := Weigh(c.m, c.readings).Chances()
		tolerance := 0.03
		if c.rough {
			tolerance = 0.12
		}
		var off []string
		for f := range want {
			away := math.Abs(got[f] - want[f])
			worst, doubt = max(worst, away), max(doubt, u[f])
			if !(away <= tolerance+4*min(0.012, u[f])) {
				off = append(off, fmt.Sprintf("%v %.4f, drawn %.4f ± %.4f", circuit.Fault(f), got[f], want[f], u[f]))
			}
		}
		assert.Empty(t, off, "case %d: %s", i, written(c.readings))
	}
	t.Logf("off by at most %.4f; the drawing's own standard deviation is at most %.4f", worst, doubt)
}

// TestNoGaps checks that the odds of a fault change smoothly with a reading that follows its parameter, whether the driver is on, stays
// off or regulates its current: the pieces of the parameter must leave no gaps.
func TestNoGaps(t *testing.T) {
	plain := changed(usual()[0], func(m *circuit.Model) { m.Stage = circuit.Plain })
	relay := changed(usual()[3], func(m *circuit.Model) { m.Stage, m.Code = circuit.Regulated, circuit.CodeRange })
	off, part, whole := is(circuit.VoltsPinOn, 0), is(circuit.VoltsPinOn, 8), is(circuit.OhmsComponent, 5.3)
	held := []circuit.Reading{is(circuit.VoltsLoad, 0.6), is(circuit.VoltsPinOn, 11.5), is(circuit.CurrentOn, 0.05)}
	for _, c := range []struct {
		m        *circuit.Model
		f, than  circuit.Fault
		k        circuit.Test
		from, to float64
		others   []circuit.Reading
	}{
		{plain, circuit.FeedHigh, circuit.None, circuit.VoltsUnitFeed, 2, 10, []circuit.Reading{off}},
		{plain, circuit.FeedHigh, circuit.None, circuit.VoltsUnitFeed, 5, 10, []circuit.Reading{part}},
		{plain, circuit.GroundHigh, circuit.None, circuit.VoltsUnitGround, 1, 8, []circuit.Reading{off}},
		{plain, circuit.HarnessHigh, circuit.None, circuit.OhmsHarness, 2, 200, nil},
		{plain, circuit.HarnessHigh, circuit.None, circuit.VoltsPinOn, 11.4, 12.2, []circuit.Reading{whole}},
		{plain, circuit.PathHigh, circuit.None, circuit.VoltsReturn, 1, 10, []circuit.Reading{whole}},
		{plain, circuit.WindingShorted, circuit.None, circuit.OhmsComponent, 0.8, 4, nil},
		{plain, circuit.HarnessToGround, circuit.None, circuit.InsulationHarness, 0.3, 500, nil},
		{plain, circuit.HarnessToOther, circuit.None, circuit.VoltsHarnessOpen, 4.8, 5.2, nil},
		{relay, circuit.OtherRow, circuit.WindingShorted, circuit.OhmsComponent, 160, 270, held},
	} {
		const steps = 40
		last := 0.0
		for i := range steps {
			v := between(c.from, c.to, true, float64(i)/(steps-1))
			p, _ := likely(c.m, append(slices.Clone(c.others), is(c.k, v)))
			odds := p[c.f] / max(1e-6, p[c.than])
			if ratio := odds / last; i > 0 && p[c.f] > 1e-3 {
				assert.True(t, ratio > 1.0/6 && ratio < 6, "the odds of %v to %v change by %.3g at %v = %.3g after %s", c.f, c.than, ratio,
					c.k, v, written(c.others))
			}
			last = odds
		}
	}
}

// TestSupplyWhileThere checks that the doubt of the supply counts for what is read while a fault that comes and goes is there too: an
// open wire's check voltage a quarter of a volt off the supply that is typed, in the range of its doubt, speaks for it nearly as
// much as one that is just it.
func TestSupplyWhileThere(t *testing.T) {
	m := usual()[1]
	odds := func(volts float64) float64 {
		p, _ := likely(m, []circuit.Reading{is(circuit.OhmsWinding, 12.1), is(circuit.CurrentOn, 0.98), is(circuit.VoltsPinOff, volts)})
		return p[circuit.ComesGoesHarness] / p[circuit.Other]
	}
	open := m.Predict(circuit.VoltsPinOff, circuit.HarnessOpen, 0, halfway(m))
	assert.Greater(t, odds(open-0.25), odds(open)/5)
	assert.Greater(t, odds(open+0.25), odds(open)/5)
}
