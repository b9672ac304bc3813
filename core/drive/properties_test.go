package drive_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// several is how many cases of many are tried: all, or a quarter under js/wasm, where the code is the same and slower.
func several(n int) int {
	if runtime.GOOS == "js" {
		return max(1, n/4)
	}
	return n
}

// wide is uniform in the logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// draw draws a circuit from many decades, with every kind of off path: an ideal diode, a diode, a clamp across the winding or
// across the switch.
func draw(r *rand.Rand) drive.Circuit {
	winding := wide(r, 0.01, 1e4)
	period := wide(r, 1e-6, 100)
	c := drive.Circuit{
		Supply: quantity.Voltage(wide(r, 0.1, 1000)), Winding: quantity.Resistance(winding), Frequency: quantity.Frequency(1 / period),
		Inductance: quantity.Inductance(winding * period * wide(r, 1e-6, 1e6)), Duty: quantity.Ratio(r.Float64()),
	}
	switch r.IntN(6) {
	case 0:
		c.Duty = quantity.Ratio(wide(r, 1e-6, 1))
	case 1:
		c.Duty = 1 - quantity.Ratio(wide(r, 1e-6, 1))
	}
	if r.IntN(3) > 0 {
		c.Wiring = quantity.Resistance(winding * wide(r, 1e-4, 10))
	}
	if r.IntN(3) > 0 {
		c.Driver = quantity.Resistance(winding * wide(r, 1e-4, 10))
	}
	switch r.IntN(4) {
	case 0: // an ideal diode
	case 1, 2:
		c.Off.Reverse = c.Supply * quantity.Voltage(wide(r, 1e-4, 100))
	default:
		c.Off.Clamp = c.Supply * quantity.Voltage(1+wide(r, 1e-3, 100))
		c.Off.Reverse = c.Off.Clamp - c.Supply
	}
	return c
}

func on(c drive.Circuit) float64  { return float64(c.Winding + c.Wiring + c.Driver) }
func off(c drive.Circuit) float64 { return float64(c.Winding + c.Wiring) }
func full(c drive.Circuit) float64 {
	return float64(c.Supply) / on(c)
}

// figures are all that a state says, each with what it is measured by.
func figures(c drive.Circuit, s drive.State) (values, scales []float64) {
	i, v := full(c), float64(c.Supply)
	high, low := c.Pin(false, s), c.Pin(true, s)
	top := v + float64(c.Off.Reverse)
	return []float64{float64(s.Average), float64(s.RMS), float64(s.Max), float64(s.Min), float64(s.Ripple), float64(s.Supply), float64(s.Winding), float64(s.Wiring),
			float64(s.Driver), float64(s.OffPath), float64(high.Average), float64(low.Average), float64(high.RMS), float64(low.RMS)},
		[]float64{i, i, i, i, i, v * i, v * i, v * i, v * i, v * i, top, top, top, top}
}

// alike holds two states against each other, every figure to a share of its scale.
func alike(t *testing.T, c drive.Circuit, a, b drive.State, share float64, of string, args ...any) {
	x, scales := figures(c, a)
	y, _ := figures(c, b)
	for i := range x {
		require.InDelta(t, x[i]/scales[i], y[i]/scales[i], share, "figure %d of %s", i, fmt.Sprintf(of, args...))
	}
}

// TestEnergyIsKept holds that what the supply gives is what winding, wiring, driver and off path take, to 1e-12; that each
// figure is finite and in its order; and that the pin's two sides share the supply.
func TestEnergyIsKept(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 1))
	worst, continuous := 0.0, 0
	n := several(10000)
	for range n {
		c := draw(r)
		s := c.Steady()
		values, _ := figures(c, s)
		for i, v := range values {
			require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "figure %d of %+v", i, c)
		}
		require.LessOrEqual(t, 0.0, float64(s.Min), "%+v", c)
		require.LessOrEqual(t, s.Min, s.Max, "%+v", c)
		require.LessOrEqual(t, float64(s.Max), full(c)*(1+1e-12), "%+v", c)
		require.LessOrEqual(t, float64(s.Min), float64(s.Average)*(1+1e-12), "%+v", c)
		require.LessOrEqual(t, float64(s.Average), float64(s.RMS)*(1+1e-12), "%+v", c)
		require.LessOrEqual(t, float64(s.RMS), float64(s.Max)*(1+1e-12), "%+v", c)
		taken := float64(s.Winding + s.Wiring + s.Driver + s.OffPath)
		apart := math.Abs(float64(s.Supply)-taken) / float64(s.Supply)
		worst = max(worst, apart)
		require.LessOrEqual(t, apart, 1e-12, "%+v: %+v", c, s)
		require.InEpsilon(t, float64(s.RMS)*float64(s.RMS)*float64(c.Winding), float64(s.Winding), 1e-12)
		high, low := c.Pin(false, s), c.Pin(true, s)
		require.InDelta(t, 1, float64(high.Average+low.Average)/float64(c.Supply), 1e-12*(1+float64(c.Off.Reverse/c.Supply)), "%+v", c)
		for _, p := range []drive.Pin{high, low} {
			require.InDelta(t, 1, math.Hypot(float64(p.Average), float64(p.AC))/float64(p.RMS), 1e-9, "%+v", c)
		}
		require.InDelta(t, float64(c.Duty), float64(high.High), 1e-12)
		require.InDelta(t, 1-float64(c.Duty), float64(low.High), 1e-12)
		if s.Continuous {
			continuous++
		}
	}
	assert.Greater(t, continuous, n/4)
	assert.Less(t, continuous, 3*n/4)
	t.Logf("%d cases, %d continuous; worst %.2g", n, continuous, worst)
}

// TestLimitsOfDuty holds what a circuit is that is never on, or always.
func TestLimitsOfDuty(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for range several(1000) {
		c := draw(r)
		c.Duty = 0
		s := c.Steady()
		require.False(t, s.Continuous)
		require.Zero(t, s.Average)
		require.Zero(t, s.RMS)
		require.Zero(t, s.Max)
		require.Zero(t, s.Min)
		require.Zero(t, s.Supply)
		require.Zero(t, s.OffPath)
		require.Zero(t, c.Pin(false, s).Average)
		require.InEpsilon(t, float64(c.Supply), float64(c.Pin(true, s).Average), 1e-15)
		c.Duty = 1
		s = c.Steady()
		require.True(t, s.Continuous)
		for _, i := range []quantity.Current{s.Average, s.RMS, s.Max, s.Min} {
			require.InEpsilon(t, full(c), float64(i), 1e-14)
		}
		require.Zero(t, s.Ripple)
		require.Zero(t, s.OffPath)
		require.InEpsilon(t, full(c)*float64(c.Supply), float64(s.Supply), 1e-14)
		// and towards them
		c.Duty = 1e-9
		require.Less(t, float64(c.Steady().Average), 1e-4*full(c))
	}
}

// TestLimitsOfInductanceAndFrequency holds the textbook's limits: a square without inductance or at a low frequency; a
// current without ripple, or small triangles, with much inductance or at a high frequency.
func TestLimitsOfInductanceAndFrequency(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 3))
	for range several(2000) {
		c := draw(r)
		c.Duty = quantity.Ratio(0.05 + 0.9*r.Float64())
		c.Wiring, c.Driver = c.Winding*quantity.Resistance(r.Float64()), c.Winding*quantity.Resistance(r.Float64())
		if c.Off.Reverse > 0 {
			c.Off.Reverse = c.Supply * quantity.Voltage(wide(r, 0.03, 10))
			if c.Off.Clamp > 0 {
				c.Off.Clamp = c.Off.Reverse + c.Supply
			}
		}
		d, i := float64(c.Duty), full(c)
		pure := c
		pure.Inductance = 0
		s := pure.Steady()
		require.False(t, s.Continuous)
		require.InEpsilon(t, d*i, float64(s.Average), 1e-14)
		require.InEpsilon(t, math.Sqrt(d)*i, float64(s.RMS), 1e-14)
		require.InEpsilon(t, i, float64(s.Max), 1e-14)
		require.Zero(t, s.Min)
		require.Zero(t, s.OffPath)
		require.InEpsilon(t, d*i*float64(c.Supply), float64(s.Supply), 1e-14)

		// time constants of a ten millionth of the period, by either way
		for _, slow := range []bool{false, true} {
			few := c
			if tau := float64(c.Inductance) / off(c); slow {
				few.Frequency = quantity.Frequency(1e-7 / tau)
			} else {
				few.Inductance = quantity.Inductance(1e-7 * off(c) / float64(c.Frequency))
			}
			alike(t, c, few.Steady(), s, 1e-5, "%+v", few)
			// and each switch-off frees what the formula of a clamp's data sheet says
			tau, end := float64(few.Inductance)/off(c), float64(c.Off.Reverse)/off(c)
			if end > 0 {
				at := float64(c.Off.Reverse)
				if c.Off.Clamp > 0 {
					at = float64(c.Off.Clamp)
				}
				want := at * tau * (i - end*math.Log1p(i/end))
				require.InEpsilon(t, want, float64(few.Steady().OffPath)/float64(few.Frequency), 1e-9, "%+v", few)
			}
		}

		// and of ten million periods
		average := (d*float64(c.Supply) - (1-d)*float64(c.Off.Reverse)) / (d*on(c) + (1-d)*off(c))
		if math.Abs(average) < 0.01*i {
			continue
		}
		for _, fast := range []bool{false, true} {
			many := c
			if tau := float64(c.Inductance) / off(c); fast {
				many.Frequency = quantity.Frequency(1e7 / tau)
			} else {
				many.Inductance = quantity.Inductance(1e7 * off(c) / float64(c.Frequency))
			}
			s := many.Steady()
			require.Equal(t, average > 0, s.Continuous, "%+v", many)
			if average > 0 {
				for _, got := range []quantity.Current{s.Average, s.RMS, s.Max, s.Min} {
					require.InEpsilon(t, average, float64(got), 1e-4, "%+v", many)
				}
				rise := (float64(c.Supply) - average*on(c)) * d / float64(many.Frequency) / float64(many.Inductance)
				require.InDelta(t, rise, float64(s.Ripple), 1e-5*rise+1e-12*i, "%+v", many)
				continue
			}
			most := float64(c.Supply) * d / float64(many.Frequency) / float64(many.Inductance)
			fall := d * float64(c.Supply/c.Off.Reverse) // of the period
			require.InEpsilon(t, most, float64(s.Max), 1e-5, "%+v", many)
			require.InEpsilon(t, most*(d+fall)/2, float64(s.Average), 1e-5, "%+v", many)
			require.InEpsilon(t, most*math.Sqrt((d+fall)/3), float64(s.RMS), 1e-5, "%+v", many)
			require.Zero(t, s.Min)
		}
	}
}

// TestBorder holds that nothing jumps where the current begins to stop: the border is bisected in the reverse voltage, the
// duty and the frequency, down to neighbours, and the states on both sides compared.
func TestBorder(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	met := map[string]int{}
	for range several(1000) {
		c := draw(r)
		c.Duty = quantity.Ratio(0.02 + 0.96*r.Float64())
		c.Inductance = quantity.Inductance(off(c) / float64(c.Frequency) * wide(r, 0.1, 1e3))
		if c.Off.Reverse == 0 {
			c.Off.Reverse = c.Supply * quantity.Voltage(wide(r, 0.01, 1))
		}
		for name, set := range map[string]func(c *drive.Circuit, x float64){
			"reverse": func(c *drive.Circuit, x float64) {
				c.Off.Reverse = c.Supply * quantity.Voltage(math.Exp(x))
				if c.Off.Clamp > 0 {
					c.Off.Clamp = c.Supply + c.Off.Reverse
				}
			},
			"duty": func(c *drive.Circuit, x float64) { c.Duty = quantity.Ratio(0.5 - x/20) },
			"frequency": func(c *drive.Circuit, x float64) {
				c.Frequency = quantity.Frequency(on(*c) / float64(c.Inductance) * math.Exp(-x))
			},
		} {
			at := func(x float64) (drive.Circuit, drive.State) { d := c; set(&d, x); return d, d.Steady() }
			lo, hi := -9.5, 9.5
			if _, s := at(lo); !s.Continuous {
				continue
			}
			if _, s := at(hi); s.Continuous {
				continue
			}
			for {
				mid := (lo + hi) / 2
				if mid <= lo || mid >= hi {
					break
				}
				if _, s := at(mid); s.Continuous {
					lo = mid
				} else {
					hi = mid
				}
			}
			d, before := at(lo)
			_, after := at(hi)
			met[name]++
			alike(t, d, before, after, 1e-9, "%s at %v: %+v", name, lo, d)
			require.InDelta(t, 1, float64(after.Flow)/float64(before.Flow), 1e-9, "%s: %+v", name, d)
			require.InDelta(t, 0, float64(before.Min)/full(d), 1e-9)
		}
	}
	for _, name := range []string{"reverse", "duty", "frequency"} {
		assert.Greater(t, met[name], several(1000)/10, name)
	}
	t.Log(met)
}

// TestMoreDutyMoreCurrent holds that each step of duty brings more current, on average and at most.
func TestMoreDutyMoreCurrent(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 5))
	for range several(500) {
		c := draw(r)
		var last drive.State
		for i := range 201 {
			c.Duty = quantity.Ratio(i) / 200
			s := c.Steady()
			if i > 0 {
				require.Greater(t, s.Average, last.Average, "%+v", c)
				require.GreaterOrEqual(t, float64(s.Max), float64(last.Max)*(1-1e-14), "%+v", c)
				require.Greater(t, s.RMS, last.RMS, "%+v", c)
			}
			last = s
		}
	}
}

// TestDutyForACurrent holds that the duty found for a current gives it, and that what even full duty cannot give is said so.
func TestDutyForACurrent(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 6))
	for range several(5000) {
		c := draw(r)
		wanted := quantity.Current(full(c) * wide(r, 1e-4, 1))
		duty, reached := c.DutyFor(wanted)
		require.True(t, reached, "%v of %+v", wanted, c)
		require.GreaterOrEqual(t, duty, quantity.Ratio(0))
		require.LessOrEqual(t, duty, quantity.Ratio(1))
		c.Duty = duty
		require.InEpsilon(t, float64(wanted), float64(c.Steady().Average), 1e-9, "%v of %+v", wanted, c)
		duty, reached = c.DutyFor(quantity.Current(full(c) * (1 + wide(r, 1e-6, 10))))
		require.False(t, reached)
		require.Equal(t, quantity.Ratio(1), duty)
	}
}

// TestHeatBalances holds that where a winding comes to rest its heat is what it loses, that no cooler point is one, and
// that a wanted current is met there.
func TestHeatBalances(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 7))
	short := 0
	for range several(2000) {
		c := draw(r)
		coil := drive.Coil{Resistance: c.Winding, At: 20, Material: winding.Copper}
		if r.IntN(2) == 0 {
			coil.Material, coil.At = winding.Aluminium, quantity.Temperature(r.Float64()*60)
		}
		q := drive.Question{Circuit: c, Coil: coil, Heating: &drive.Heating{Ambient: quantity.Temperature(r.Float64()*110 - 20)}}
		cold := c
		cold.Winding = coil.Hot(q.Heating.Ambient)
		q.Heating.Thermal = quantity.ThermalResistance(wide(r, 0.1, 400) / float64(cold.Steady().Winding)) // kelvin, were it to stay so
		if r.IntN(2) == 0 {
			q.Wanted = quantity.Current(full(cold) * (0.05 + 0.9*r.Float64()))
		}
		f := q.Find()
		require.Equal(t, f.Circuit.Steady(), f.State)
		require.InEpsilon(t, float64(coil.Hot(f.Temperature)), float64(f.Circuit.Winding), 1e-12)
		surplus := func(at quantity.Temperature, s drive.State) float64 {
			return float64(q.Heating.Ambient) + float64(q.Heating.Thermal)*float64(s.Winding) - float64(at)
		}
		require.InDelta(t, 0, surplus(f.Temperature, f.State), 1e-7+1e-10*math.Abs(float64(f.Temperature)), "%+v", q)
		for i := range 50 {
			cooler := q.Heating.Ambient + (f.Temperature-q.Heating.Ambient)*quantity.Temperature(i)/50
			if f.Temperature-cooler > 1e-6 {
				require.Positive(t, surplus(cooler, q.At(cooler).State), "balance at %v, found %v, of %+v", cooler, f.Temperature, q)
			}
		}
		switch {
		case q.Wanted > 0 && f.Reached:
			require.InEpsilon(t, float64(q.Wanted), float64(f.State.Average), 1e-9, "%+v", q)
		case q.Wanted > 0:
			short++
			require.Equal(t, quantity.Ratio(1), f.Circuit.Duty)
			require.Less(t, f.State.Average, q.Wanted)
		default:
			require.Equal(t, c.Duty, f.Circuit.Duty)
		}
	}
	assert.Positive(t, short, "currents that a hot winding no longer takes")
}

// A march is the current and what it has summed up: its integral, its square's and the time.
type march struct{ i, charge, square, t float64 }

// rungeKutta marches di/dt = (volts − ohms i)/henry through a time in n steps of order 4, and stops at zero current, which
// it meets by halving its last step.
func (m march) rungeKutta(volts, ohms, henry, time float64, n int) march {
	step := func(m march, h float64) march {
		slope := func(i float64) float64 { return (volts - ohms*i) / henry }
		a := slope(m.i)
		b := slope(m.i + h/2*a)
		c := slope(m.i + h/2*b)
		d := slope(m.i + h*c)
		next := m.i + h/6*(a+2*b+2*c+d)
		middle := m.i + h/24*(5*a+4*b+4*c-d) // of order 3 at h/2, which Simpson's rule can do with
		m.charge += h / 6 * (m.i + 4*middle + next)
		m.square += h / 6 * (m.i*m.i + 4*middle*middle + next*next)
		m.i, m.t = next, m.t+h
		return m
	}
	for range n {
		next := step(m, time/float64(n))
		if next.i < 0 {
			short, long := 0.0, time/float64(n)
			for range 60 {
				if h := (short + long) / 2; step(m, h).i < 0 {
					long = h
				} else {
					short = h
				}
			}
			m = step(m, short)
			m.i = 0
			return m
		}
		m = next
	}
	return m
}

// TestAgainstIntegration holds the closed forms against the differential equation marched in small steps, the steady state
// found by shooting.
func TestAgainstIntegration(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 8))
	continuous := 0
	for range several(200) {
		c := draw(r)
		c.Duty = quantity.Ratio(0.02 + 0.96*r.Float64())
		c.Wiring, c.Driver = c.Winding*quantity.Resistance(r.Float64()), c.Winding*quantity.Resistance(r.Float64())
		c.Inductance = quantity.Inductance(off(c) / float64(c.Frequency) * wide(r, 0.05, 100))
		period := 1 / float64(c.Frequency)
		l := float64(c.Inductance)
		turns := func(from float64) (a, b march) {
			a = march{i: from}.rungeKutta(float64(c.Supply), on(c), l, float64(c.Duty)*period, 8000)
			b = march{i: a.i}.rungeKutta(-float64(c.Off.Reverse), off(c), l, (1-float64(c.Duty))*period, 8000)
			return a, b
		}
		_, b := turns(0)
		start := 0.0
		if b.i > 0 {
			_, d := turns(full(c))
			start = full(c) * b.i / (b.i + full(c) - d.i)
			continuous++
		}
		a, b := turns(start)
		s := c.Steady()
		require.Equal(t, b.i > 0, s.Continuous, "%+v", c)
		i := full(c)
		at := float64(c.Off.Reverse)
		given := a.charge
		if c.Off.Clamp > 0 {
			at, given = float64(c.Off.Clamp), a.charge+b.charge
		}
		w := float64(c.Supply) * i
		for k, x := range []struct{ got, want, scale float64 }{
			{float64(s.Average), (a.charge + b.charge) / period, i},
			{float64(s.RMS), math.Sqrt((a.square + b.square) / period), i},
			{float64(s.Max), a.i, i}, {float64(s.Min), start, i},
			{float64(s.Flow), b.t, period},
			{float64(s.Supply), float64(c.Supply) * given / period, w},
			{float64(s.Driver), float64(c.Driver) * a.square / period, w},
			{float64(s.OffPath), at * b.charge / period, w},
		} {
			require.InDelta(t, x.want/x.scale, x.got/x.scale, 1e-8, "figure %d of %+v", k, c)
		}
	}
	assert.Greater(t, continuous, several(200)/5)
}

// TestCurves holds that the curves are those of the state: one period runs in order from the least current to it, its area
// is the average; the start begins with nothing and ends where the period begins.
func TestCurves(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	for range several(3000) {
		c := draw(r)
		s := c.Steady()
		period := 1 / float64(c.Frequency)
		w := c.Wave(40)
		require.Zero(t, w[0].T)
		require.InDelta(t, float64(s.Min)/full(c), float64(w[0].I)/full(c), 1e-12)
		require.InEpsilon(t, period, float64(w[len(w)-1].T), 1e-12)
		inOrder(t, c, w)
		if x := off(c) * period / float64(c.Inductance); x < 2 { // straight lines between points are near enough
			area := 0.0
			for i, p := range w[1:] {
				area += float64((p.T-w[i].T)*quantity.Time(p.I+w[i].I)) / 2
			}
			require.InDelta(t, float64(s.Average)/full(c), area/period/full(c), 1e-3, "%+v", c)
		}
		points, steady := c.Start(0, 200)
		require.Zero(t, points[0].T)
		require.Zero(t, points[0].I)
		require.GreaterOrEqual(t, float64(points[len(points)-1].T), float64(steady))
		inOrder(t, c, points)
	}
}

func inOrder(t *testing.T, c drive.Circuit, points []drive.Point) {
	for i, p := range points {
		require.False(t, math.IsNaN(float64(p.I)))
		require.GreaterOrEqual(t, float64(p.I), 0.0)
		require.LessOrEqual(t, float64(p.I), full(c)*(1+1e-12))
		if i > 0 {
			require.GreaterOrEqual(t, p.T, points[i-1].T, "point %d of %+v", i, c)
		}
	}
}
