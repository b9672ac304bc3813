package circuit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A stratum is a part of what may be: a fault in one of its ways, with a part of its parameter's range. It holds the likelihoods of
// the worlds that were drawn in it.
type stratum struct {
	f        Fault
	way      int
	from, to float64 // of the parameter, on the scale on which it is even
	weight   float64
	n        float64
	sum, sq  float64
	near     float64 // the sum of the likelihoods with contacts and digits six times as bad: what is nearly hit
}

// pull returns how much it pays to draw worlds there: where the likelihood varies, or where it may, nearly hit so far.
func (s *stratum) pull() float64 { return s.sd() + 0.5*s.weight*s.near/s.n }

// sd returns the standard deviation of the likelihoods, for the whole stratum.
func (s *stratum) sd() float64 {
	mean := s.sum / s.n
	return s.weight * math.Sqrt(max(0, s.sq/s.n-mean*mean))
}

// A carlo integrates by drawing worlds.
type carlo struct {
	m        *Model
	readings []Reading
	wanted   set
	wideRow  bool
	strata   []stratum
	// plain is the density of each reading in a healthy circuit; mean and square are of what it should be there.
	plain, mean, square []float64
	healthy             float64
	any                 []float64
	bad                 [4][]float64
	u                   func() float64
}

const (
	cells = 14 // of a parameter's range
	pilot = 16 // worlds in each stratum, before more are drawn where they are needed
)

// newCarlo divides what may be.
func newCarlo(m *Model, readings []Reading) *carlo {
	n := len(readings)
	c := &carlo{m: m, readings: readings, u: rand.New(rand.NewPCG(26, 26)).Float64,
		plain: make([]float64, n), mean: make([]float64, n), square: make([]float64, n)}
	for _, r := range readings {
		c.wanted = c.wanted.with(r.Test)
		c.any = append(c.any, anyValue(m, r))
		for i, as := range [...]Fault{HarnessOpen, LeadOpen, PathOpen, DriverNever} {
			lo, hi := m.coils()
			c.bad[i] = append(c.bad[i], m.Predict(r.Test, as, 0, (lo+hi)/2))
		}
	}
	for f := range Fault(Faults) {
		if f == Other || m.Weights[f] == 0 {
			continue
		}
		k := 1
		if _, _, _, ok := f.Limits(); ok {
			k = cells
		}
		for way := range ways(f) {
			for i := range k {
				weight := m.Weights[f] / float64(k*ways(f))
				c.strata = append(c.strata, stratum{f: f, way: way, from: float64(i) / float64(k), to: float64(i+1) / float64(k), weight: weight})
			}
		}
	}
	return c
}

// anyValue returns the density of a reading that is simply wrong: even in volts up to the supply and 1 V more; even in the logarithm
// of amperes up to 100 A and of ohms up to 40 Mohm; and OL once in four times.
func anyValue(m *Model, r Reading) float64 {
	switch v := math.Abs(r.Value); {
	case r.Test.Quantity() == Volts:
		return 1 / (m.Supply + 1)
	case r.Test.Quantity() == Amperes:
		return 1 / (v + 0.05) / math.Log(100/0.05)
	case r.Over:
		return 0.25
	default:
		return 0.75 / (v + 0.1) / math.Log(40e6/0.1)
	}
}

// draw draws n worlds in a stratum.
func (c *carlo) draw(s *stratum, n int) {
	for range n {
		w := worldOf(c.m, s.f, s.way, c.m.Parameter(s.f, s.from+(s.to-s.from)*c.u()), c.wideRow, c.u)
		total, near := 0.0, 0.0
		for _, d := range w.look(c.wanted) {
			w.settle(d, c.u)
			total += d.chance * c.likelihood(w, d.chance)
			near += d.chance * c.nearly(w)
		}
		if c.m.Code != NoCode {
			see := checked{doubtful{w.v.inside[0].value, 0}, doubtful{w.v.inside[1].value, 0}, doubtful{w.v.on[CurrentOn].value, 0}}
			total *= c.m.codeChance(s.f, see, c.m.expectedCurrent())
		}
		if s.f == None {
			c.healthy++
		}
		s.n, s.sum, s.sq, s.near = s.n+1, s.sum+total, s.sq+total*total, s.near+near
	}
}

// likelihood returns the density of the readings in a world: each as it should be, or simply wrong, or taken while the driver was not
// on. What is read while a fault that comes and goes is not there is as in a healthy circuit.
func (c *carlo) likelihood(w *world, chance float64) float64 {
	l := 1.0
	for k, r := range c.readings {
		value := w.value(r.Test)
		right := w.density(r, value)
		if w.f == None {
			c.plain[k] += chance * right
			c.mean[k] += chance * value
			c.square[k] += chance * value * value
		}
		if w.f.ComesAndGoes() {
			right += c.while(w, k)
		}
		p := (1-slip)*right + slip*c.any[k]
		switch r.Test {
		case VoltsPinOn, CurrentOn, VoltsReturn:
			p += notOn * w.density(r, w.v.off[r.Test])
		}
		l *= p
	}
	return l
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

// while returns the density of a reading that is far from a healthy circuit's, taken while a fault that comes and goes is there.
func (c *carlo) while(w *world, k int) float64 {
	r := c.readings[k]
	if c.healthy == 0 {
		return 0
	}
	mean := c.mean[k] / c.healthy
	variance := c.square[k]/c.healthy - mean*mean
	_, s, digit := w.errors(r.Test, r.Value)
	over := math.IsInf(mean, 1)
	near := !over && !r.Over && (r.Value-mean)*(r.Value-mean) < 16*(variance+s*s+digit*digit/3)
	if near || over && r.Over {
		return 0
	}
	there := 0.9*w.density(r, c.bad[w.f-ComesGoesHarness][k]) + 0.02*c.any[k]
	if w.f == ComesGoesUnit {
		return whileUnitThere * there
	}
	return whileThere * there
}

// pilot draws the first worlds of a stratum: more where the parameter does not divide them.
func (c *carlo) pilot(s *stratum) {
	n := pilot
	if s.to-s.from > 0.5 {
		n *= cells
	}
	c.draw(s, n)
}

// split halves the strata that matter most, as long as their parameter divides them.
func (c *carlo) split() {
	whole := 0.0
	for i := range c.strata {
		whole += c.strata[i].pull()
	}
	for i := range c.strata {
		s := c.strata[i]
		if s.to-s.from > 0.5 || s.to-s.from < 1.0/2000 || s.pull() < 0.004*whole {
			continue
		}
		half := stratum{f: s.f, way: s.way, from: s.from, to: (s.from + s.to) / 2, weight: s.weight / 2}
		c.strata[i] = half
		half.from, half.to = half.to, s.to
		c.strata = append(c.strata, half)
		c.pilot(&c.strata[i])
		c.pilot(&c.strata[len(c.strata)-1])
	}
}

// integrate draws worlds, most where they matter, and returns the faults' probabilities and the standard deviation of each.
func (c *carlo) integrate(worlds int) (p, u [Faults]float64) {
	for i := range c.strata {
		c.pilot(&c.strata[i])
	}
	for range 6 {
		c.split()
	}
	const rounds = 3
	for range rounds {
		whole := 0.0
		pulls := make([]float64, len(c.strata))
		for i := range c.strata {
			pulls[i] = c.strata[i].pull()
			whole += pulls[i]
		}
		if whole == 0 {
			break
		}
		for i := range c.strata {
			c.draw(&c.strata[i], int(float64(worlds)/rounds*pulls[i]/whole))
		}
	}
	var mass, variance [Faults]float64
	for i := range c.strata {
		s := &c.strata[i]
		mass[s.f] += s.weight * s.sum / s.n
		variance[s.f] += s.sd() * s.sd() / s.n
	}
	mass[Other] = c.m.Weights[Other]
	for k := range c.readings {
		mass[Other] *= (c.plain[k]/c.healthy + c.any[k]) / 2
	}
	sum, all := 0.0, 0.0
	for f := range mass {
		sum += mass[f]
		all += variance[f]
	}
	for f := range mass {
		p[f] = mass[f] / sum
		u[f] = math.Sqrt((1-2*p[f])*variance[f]+p[f]*p[f]*all) / sum
	}
	return p, u
}

// usual returns common circuits: a transmission solenoid on each kind of switch, and a relay on 24 V.
func usual() []*Model {
	return []*Model{
		New(High, Wire, 12.6, 5, 5.6), New(High, Case, 13.8, 9, 14), New(Low, Wire, 12.6, 11, 16), New(Low, Wire, 27, 280, 340),
	}
}

// changed returns a model after a change.
func changed(m *Model, change func(m *Model)) *Model {
	change(m)
	return m
}

func coded(m *Model, c Code) *Model { m.Code = c; return m }

func is(t Test, value float64) Reading { return Reading{Test: t, Value: value} }
func ol(t Test) Reading                { return Reading{Test: t, Over: true} }

// integralCases are circuits and readings for TestTheIntegral.
var integralCases = []struct {
	m        *Model
	readings []Reading
}{
	{coded(usual()[0], CodeLow), nil},
	{coded(usual()[1], CodeOpen), nil},
	{coded(usual()[2], CodeRange), []Reading{is(OhmsUnit, 19.2)}},
	{usual()[0], []Reading{is(OhmsComponent, 4.6)}},
	{usual()[0], []Reading{is(OhmsComponent, 5.6), is(OhmsUnit, 7.9)}},
	{usual()[0], []Reading{is(OhmsComponent, 2.7), is(OhmsUnit, 2.9), is(OhmsWinding, 2.6)}},
	{usual()[1], []Reading{is(OhmsComponent, 6.2), is(VoltsPinOn, 13.1)}},
	{usual()[1], []Reading{is(OhmsUnit, 0.2), is(CurrentOn, 30)}},
	{usual()[1], []Reading{is(VoltsPinOn, 0)}},
	{usual()[0], []Reading{is(VoltsPinOn, 6.0), is(CurrentOn, 1.1)}},
	{usual()[2], []Reading{is(CurrentOn, 0.55), is(VoltsReturn, 0.4)}},
	{usual()[2], []Reading{ol(InsulationHarness), is(VoltsPinOff, 11.9), is(VoltsPinOn, 1.6)}},
	{usual()[3], []Reading{is(OhmsUnit, 365), is(OhmsHarness, 52)}},
	{changed(usual()[2], func(m *Model) { m.Warmth.Known = false }), []Reading{is(OhmsComponent, 9.5)}},
	{changed(usual()[1], func(m *Model) { m.Warmth.Known = false }), []Reading{is(OhmsUnit, 17.5), is(CurrentOn, 0.72)}},
	{changed(usual()[0], func(m *Model) { m.Stage = Plain }), []Reading{is(VoltsPinOn, 11.9), is(VoltsUnitFeed, 12.1)}},
	{changed(usual()[0], func(m *Model) { m.Stage = Protected }), []Reading{is(VoltsPinOn, 0.1), is(VoltsLoad, 12.3)}},
	{changed(usual()[2], func(m *Model) { m.Stage, m.Set = Regulated, 0.5 }), []Reading{is(CurrentOn, 0.48), is(VoltsPinOn, 5.6)}},
	{usual()[0], []Reading{is(VoltsUnitGround, 1.2), is(VoltsUnitFeed, 12.4)}},
	{usual()[0], []Reading{is(VoltsHarnessOpen, 5.0), is(VoltsPinOff, 1.2)}},
}

// TestTheIntegral compares the probabilities with a Monte Carlo integration over everything that nobody knows exactly, each drawn from
// its own distribution and nothing taken as normal but the contacts: parameters and nominal resistances even in their logarithm,
// the row, the temperature, the supply and the meter's common error even. The predictions of the chain and the chances of what
// the driver does are the package's (spice_test.go has the former); how they are put together is not.
func TestTheIntegral(t *testing.T) {
	t.Parallel()
	worst, doubt := 0.0, 0.0
	for i, c := range integralCases {
		mc := newCarlo(c.m, c.readings)
		want, u := mc.integrate(several(20000))
		got := c.m.Find(c.readings).chances
		var off []string
		for f := range want {
			allowed := 0.02 + 4*u[f]
			worst, doubt = max(worst, math.Abs(got[f]-want[f])), max(doubt, u[f])
			if math.Abs(got[f]-want[f]) > allowed {
				off = append(off, fmt.Sprintf("%v %.4f, drawn %.4f ± %.4f", Fault(f), got[f], want[f], u[f]))
			}
		}
		assert.Empty(t, off, "case %d: %s", i, written(c.readings))
		assert.Less(t, slices.Max(u[:]), 0.01, "too few worlds in case %d", i)
	}
	t.Logf("off by at most %.4f; the drawing's own standard deviation is at most %.4f", worst, doubt)
}

// written returns readings as a text.
func written(readings []Reading) (text string) {
	for _, r := range readings {
		text += r.Test.String() + "="
		switch {
		case r.Over:
			text += "OL "
		case r.Word != NoWord:
			text += r.Word.String() + " "
		default:
			text += strconv.FormatFloat(r.Value, 'g', 6, 64) + " "
		}
	}
	return text
}
