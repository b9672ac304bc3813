package drive_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/drive"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
	"ohmwright/testdata"
)

// wide draws a number that is uniform in its logarithm.
func wide(r *rand.Rand, lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// draw draws a circuit with values over many decades and any off path: an ideal diode, a diode, a clamp across the winding or
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

// on and off are the resistances with the driver on and off, full the current if it is always on.
func on(c drive.Circuit) float64   { return float64(c.Winding + c.Wiring + c.Driver) }
func off(c drive.Circuit) float64  { return float64(c.Winding + c.Wiring) }
func full(c drive.Circuit) float64 { return float64(c.Supply) / on(c) }

// figures returns all figures of a state and of the pin, each with its scale.
func figures(c drive.Circuit, s drive.State) (values, scales []float64) {
	i, v := full(c), float64(c.Supply)
	high, low := c.Pin(false, s), c.Pin(true, s)
	top := v + float64(c.Off.Reverse)
	return []float64{float64(s.Average), float64(s.RMS), float64(s.Max), float64(s.Min), float64(s.Ripple),
			float64(s.Supply), float64(s.Winding), float64(s.Wiring), float64(s.Driver), float64(s.OffPath),
			float64(high.Average), float64(low.Average), float64(high.RMS), float64(low.RMS)},
		[]float64{i, i, i, i, i, v * i, v * i, v * i, v * i, v * i, top, top, top, top}
}

// alike compares two states, every figure to a share of its scale.
func alike(t *testing.T, c drive.Circuit, a, b drive.State, share float64, of string, args ...any) {
	x, scales := figures(c, a)
	y, _ := figures(c, b)
	for i := range x {
		if a, b := x[i]/scales[i], y[i]/scales[i]; !(math.Abs(a-b) <= share) {
			t.Fatalf("figure %d of %s: %v and %v of its scale, more than %v apart", i, fmt.Sprintf(of, args...), a, b, share)
		}
	}
}

// formFactor is a sine's root mean square over its mean when rectified.
var formFactor = math.Pi / math.Sqrt(8)

// TestAveragingMeter checks what a meter that is no true-RMS one shows on AC against sums over the curve of the current, and of the
// voltage at the pin, in 4,000 steps of each part of the period.
func TestAveragingMeter(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 9))
	const steps = 4000
	for n := 0; n < 300; {
		c := draw(r)
		p, s := c.Period(), c.Steady()
		if p.X > 30 || p.Y > 30 || c.Duty == 0 || c.Duty == 1 {
			continue // too steep for the sums
		}
		n++
		var amperes, high, low float64
		add := func(i, up, down, share float64) {
			amperes += share * math.Abs(i-float64(s.Average))
			high += share * math.Abs(up-float64(c.Pin(false, s).Average))
			low += share * math.Abs(down-float64(c.Pin(true, s).Average))
		}
		v, rd, vr, flows := float64(c.Supply), float64(c.Driver), float64(c.Off.Reverse), float64(s.Flow)*float64(c.Frequency)
		for k := range steps {
			part := (float64(k) + 0.5) / steps
			i := p.ToOn + (float64(s.Min)-p.ToOn)*math.Exp(-p.X*part)
			add(i, v-rd*i, rd*i, float64(c.Duty)/steps)
			i = (float64(s.Max)+p.ToOff)*math.Exp(-float64(s.Flow)/p.TauOff*part) - p.ToOff
			add(i, -vr, v+vr, flows/steps)
		}
		add(0, 0, v, 1-float64(c.Duty)-flows)
		require.InDelta(t, formFactor*amperes, float64(s.Averaging), 1e-5*float64(s.Max), "%+v", c)
		require.InDelta(t, formFactor*high, float64(c.Pin(false, s).Averaging), 1e-5*(v+vr), "%+v", c)
		require.InDelta(t, formFactor*low, float64(c.Pin(true, s).Averaging), 1e-5*(v+vr), "%+v", c)
	}
}

// TestEnergyIsKept checks that winding, wiring, driver and off path take what the supply gives, to 1e-12; that the figures are finite
// and in order; and that the averages at the pin of a high and a low side add up to the supply.
func TestEnergyIsKept(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 1))
	worst, continuous := 0.0, 0
	n := testdata.Several(10000)
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
			require.LessOrEqual(t, float64(p.Averaging), formFactor*float64(p.AC)+1e-12*float64(p.RMS), "a mean is at most a root mean square")
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

// TestLimitsOfDuty checks circuits that are never on, or always.
func TestLimitsOfDuty(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	for range testdata.Several(1000) {
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
		// nearly never
		c.Duty = 1e-9
		require.Less(t, float64(c.Steady().Average), 1e-4*full(c))
	}
}

// TestLimitsOfInductanceAndFrequency compares with the textbook's limits: a square without inductance or at a low frequency, and a
// current without ripple, or small triangles, with much inductance or at a high frequency.
func TestLimitsOfInductanceAndFrequency(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 3))
	for range testdata.Several(2000) {
		c := draw(r)
		c.Duty = quantity.Ratio(0.05 + 0.9*r.Float64())
		c.Wiring, c.Driver = c.Winding*quantity.Resistance(r.Float64()), c.Winding*quantity.Resistance(r.Float64())
		if c.Off.Reverse > 0 {
			c.Off.Reverse = c.Supply * quantity.Voltage(wide(r, 0.03, 10))
			if c.Off.Clamp > 0 {
				c.Off.Clamp = c.Off.Reverse + c.Supply
			}
		}
		square := isSquare(t, c)
		for _, slow := range []bool{false, true} {
			nearlySquare(t, c, square, slow)
		}
		for _, fast := range []bool{false, true} {
			nearlySmooth(t, c, fast)
		}
	}
}

// isSquare checks the current of a circuit without its inductance, and returns the state.
func isSquare(t *testing.T, c drive.Circuit) drive.State {
	d, i := float64(c.Duty), full(c)
	c.Inductance = 0
	s := c.Steady()
	require.False(t, s.Continuous)
	require.InEpsilon(t, d*i, float64(s.Average), 1e-14)
	require.InEpsilon(t, math.Sqrt(d)*i, float64(s.RMS), 1e-14)
	require.InEpsilon(t, i, float64(s.Max), 1e-14)
	require.Zero(t, s.Min)
	require.Zero(t, s.OffPath)
	require.InEpsilon(t, d*i*float64(c.Supply), float64(s.Supply), 1e-14)
	return s
}

// nearlySquare checks a circuit whose time constant is a ten millionth of the period, because it is slow or has little inductance.
func nearlySquare(t *testing.T, c drive.Circuit, square drive.State, slow bool) {
	few := c
	if tau := float64(c.Inductance) / off(c); slow {
		few.Frequency = quantity.Frequency(1e-7 / tau)
	} else {
		few.Inductance = quantity.Inductance(1e-7 * off(c) / float64(c.Frequency))
	}
	alike(t, c, few.Steady(), square, 1e-5, "%+v", few)
	tau, end := float64(few.Inductance)/off(c), float64(c.Off.Reverse)/off(c)
	if end == 0 {
		return
	}
	at := float64(c.Off.Reverse)
	if c.Off.Clamp > 0 {
		at = float64(c.Off.Clamp)
	}
	// The energy of each switch-off, by the formula in data sheets of clamps.
	want := at * tau * (full(c) - end*math.Log1p(full(c)/end))
	require.InEpsilon(t, want, float64(few.Steady().OffPath)/float64(few.Frequency), 1e-9, "%+v", few)
}

// nearlySmooth checks a circuit whose time constant is ten million periods, because it is fast or has much inductance. The current
// is then smooth, or consists of small triangles. Circuits with nearly no current on average are left out.
func nearlySmooth(t *testing.T, c drive.Circuit, fast bool) {
	d, i := float64(c.Duty), full(c)
	average := (d*float64(c.Supply) - (1-d)*float64(c.Off.Reverse)) / (d*on(c) + (1-d)*off(c))
	if math.Abs(average) < 0.01*i {
		return
	}
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
		return
	}
	most := float64(c.Supply) * d / float64(many.Frequency) / float64(many.Inductance)
	fall := d * float64(c.Supply/c.Off.Reverse) // of the period
	require.InEpsilon(t, most, float64(s.Max), 1e-5, "%+v", many)
	require.InEpsilon(t, most*(d+fall)/2, float64(s.Average), 1e-5, "%+v", many)
	require.InEpsilon(t, most*math.Sqrt((d+fall)/3), float64(s.RMS), 1e-5, "%+v", many)
	require.Zero(t, s.Min)
}

// TestBorder checks that no figure jumps where the current begins to stop. It halves the way to that border in the reverse voltage,
// the duty and the frequency down to neighbouring numbers, and compares the states on both sides.
func TestBorder(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 4))
	met := map[string]int{}
	for range testdata.Several(1000) {
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
		assert.Greater(t, met[name], testdata.Several(1000)/10, name)
	}
	t.Log(met)
}

// TestMoreDutyMoreCurrent checks that each step of duty increases the current, its average, its RMS and its maximum.
func TestMoreDutyMoreCurrent(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 5))
	for range testdata.Several(500) {
		c := draw(r)
		var last drive.State
		for i := range 201 {
			c.Duty = quantity.Ratio(i) / 200
			s := c.Steady()
			if i > 0 && !(s.Average > last.Average && float64(s.Max) >= float64(last.Max)*(1-1e-14) && s.RMS > last.RMS) {
				t.Fatalf("more duty, but less current: %+v after %+v, of %+v", s, last, c)
			}
			last = s
		}
	}
}

// TestDutyForACurrent checks that the duty found for a current gives it, and that a current beyond full duty is not reached.
func TestDutyForACurrent(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 6))
	for range testdata.Several(5000) {
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

// TestHeatBalances checks that at the temperature found a winding loses as much heat as it makes, that no lower temperature does
// that, and that the wanted current flows there.
func TestHeatBalances(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 7))
	short := 0
	for range testdata.Several(2000) {
		c := draw(r)
		coil := drive.Coil{Resistance: c.Winding, At: 20, Material: winding.Copper}
		if r.IntN(2) == 0 {
			coil.Material, coil.At = winding.Aluminium, quantity.Temperature(r.Float64()*60)
		}
		q := drive.Question{Circuit: c, Coil: coil, Heating: &drive.Heating{Ambient: quantity.Temperature(r.Float64()*110 - 20)}}
		cold := c
		cold.Winding = coil.Hot(q.Heating.Ambient)
		q.Heating.Thermal = quantity.ThermalResistance(wide(r, 0.1, 400) / float64(cold.Steady().Winding)) // kelvin, if the power stayed the same
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
			if f.Temperature-cooler > 1e-6 && !(surplus(cooler, q.At(cooler).State) > 0) {
				t.Fatalf("balance at %v, found %v, of %+v", cooler, f.Temperature, q)
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
	assert.Positive(t, short, "no case in which a hot winding does not take the wanted current")
}

// A march is the current, the integrals of it and of its square, and the time.
type march struct{ i, charge, square, t float64 }

// rungeKutta integrates di/dt = (volts − ohms i)/henry over a time in n steps of order 4. It stops at zero current, which it finds
// by halving its last step.
func (m march) rungeKutta(volts, ohms, henry, time float64, n int) march {
	step := func(m march, h float64) march {
		slope := func(i float64) float64 { return (volts - ohms*i) / henry }
		a := slope(m.i)
		b := slope(m.i + h/2*a)
		c := slope(m.i + h/2*b)
		d := slope(m.i + h*c)
		next := m.i + h/6*(a+2*b+2*c+d)
		middle := m.i + h/24*(5*a+4*b+4*c-d) // of order 3 at h/2, enough for Simpson's rule
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

// TestAgainstIntegration compares the closed forms with the differential equation integrated in small steps, the steady state being
// found by shooting.
func TestAgainstIntegration(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 8))
	continuous := 0
	for range testdata.Several(200) {
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
	assert.Greater(t, continuous, testdata.Several(200)/5)
}

// TestCurves checks that the curves agree with the state: a period goes from the least current back to it, its area is the average,
// and the start begins at 0 and lasts until it is steady.
func TestCurves(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(4, 9))
	for range testdata.Several(3000) {
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

// inOrder checks that times do not go back and that no current is negative or more than the circuit can carry. It compares with if,
// since an assertion for each of a million points would take most of the time.
func inOrder(t *testing.T, c drive.Circuit, points []drive.Point) {
	for i, p := range points {
		if !(p.I >= 0 && float64(p.I) <= full(c)*(1+1e-12)) || i > 0 && !(p.T >= points[i-1].T) {
			t.Fatalf("point %d, %+v, after %+v, of %+v", i, p, points[max(0, i-1)], c)
		}
	}
}
