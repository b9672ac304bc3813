package trace_test

import (
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/recording"
	"ohmwright/core/trace"
	"ohmwright/testdata"
)

// finite fails the test if a value of a finding is infinite or not a number.
func finite(t testing.TB, of any) {
	var walk func(v reflect.Value, path string)
	walk = func(v reflect.Value, path string) {
		switch v.Kind() {
		case reflect.Float64:
			require.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), "%s is %v", path, v.Float())
		case reflect.Struct:
			for k := range v.NumField() {
				walk(v.Field(k), path+"."+v.Type().Field(k).Name)
			}
		case reflect.Slice:
			for k := range v.Len() {
				walk(v.Index(k), path+"["+strconv.Itoa(k)+"]")
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem(), path)
			}
		}
	}
	walk(reflect.ValueOf(of), "finding")
}

// record returns n samples of a current.
func record(n int, from, interval float64, current func(t float64) float64) (r recording.Samples) {
	for k := range n {
		t := from + float64(k)*interval
		r.T, r.I = append(r.T, t), append(r.I, current(t))
	}
	r.Interval = interval
	return r
}

// rise returns the current of a winding that is switched on at 0.
func rise(final, tau float64) func(t float64) float64 {
	return func(t float64) float64 {
		if t < 0 {
			return 0
		}
		return final * (1 - math.Exp(-t/tau))
	}
}

// pulsed returns the steady current of a pulsed winding with a diode without voltage drop, in closed form. It is derived
// here from the differential equation.
func pulsed(final, tau, period, duty float64) func(t float64) float64 {
	on, off := math.Exp(-duty*period/tau), math.Exp(-(1-duty)*period/tau)
	top := final * (1 - on) / (1 - on*off)
	return func(t float64) float64 {
		u := t - period*math.Floor(t/period)
		if u < duty*period {
			return final + (top*off-final)*math.Exp(-u/tau)
		}
		return top * math.Exp(-(u-duty*period)/tau)
	}
}

// rough returns samples as an eight-bit recorder with noise would have them. Its seed is fixed.
func rough(r recording.Samples, sigma, step float64) recording.Samples {
	rnd := rand.New(rand.NewSource(11))
	for k := range r.I {
		r.I[k] = math.Round((r.I[k]+sigma*rnd.NormFloat64())/step) * step
	}
	return r
}

func TestRecordings(t *testing.T) {
	// One winding, with a 6.0 ohm loop at 13.8 V, 4.0 ms at rest and 5.71 ms seated. The minimum of its dip is 9.31 ms after
	// switch-on. It was simulated by ngspice as in spice_test.go, then written in five layouts with noise and steps.
	for name, l := range map[string]struct {
		layout    recording.Layout
		on        float64
		separator byte
		missing   int
	}{
		"oscilloscope.csv": {recording.Layout{}, 0, ',', 0},
		"spreadsheet.csv":  {recording.Layout{}, 5e-3, ';', 0},
		"logger.csv":       {recording.Layout{}, 5e-3, '\t', 7},
		"index.csv":        {recording.Layout{Probe: 0.1}, 5e-3, ',', 0},
		"bare.csv":         {recording.Layout{}, -15e-3, ',', 0},
	} {
		t.Run(name, func(t *testing.T) {
			text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "recordings", name))
			require.NoError(t, err)
			r, err := recording.Read(string(text), l.layout)
			require.NoError(t, err)
			assert.Equal(t, l.separator, r.Separator)
			assert.Equal(t, l.missing, r.Missing)
			assert.InEpsilon(t, 2e-4, r.Interval, 0.05)
			f := trace.Find(r.Samples, trace.Expect{Supply: 13.8, Moves: true,
				Resistance: 6, ResistanceWithin: 0.05, TimeConstant: 4e-3, TimeConstantWithin: 0.1})
			finite(t, f)
			require.NotNil(t, f.Fit, "%d", f.Why)
			assert.InEpsilon(t, 6.0, f.Fit.Resistance, 0.01)
			assert.InEpsilon(t, 4e-3, f.Fit.AtRest, 0.05)
			assert.InEpsilon(t, 4e-3/0.7, f.Fit.AtStop, 0.05)
			assert.InDelta(t, l.on, f.Fit.Start, 1e-4)
			assert.Equal(t, trace.Yes, f.Dip.Found)
			assert.InDelta(t, 9.31e-3, f.Dip.Since, 4e-4)
			assert.InEpsilon(t, 1.778-1.582, f.Dip.Depth, 0.2)
			assert.Empty(t, f.Differences)
			assert.Empty(t, f.Steps)
		})
	}
}

func TestPulsed(t *testing.T) {
	for _, c := range []struct{ tau, period, duty, sigma float64 }{
		{4e-3, 5e-3, 0.3, 0.002}, {4e-3, 5e-3, 0.8, 0.005}, {4e-3, 10e-3, 0.5, 0.01}, {4e-3, 2e-3, 0.5, 0.003},
		{1e-3, 10e-3, 0.2, 0.01}, {1e-3, 10e-3, 0.05, 0.005}, {1e-3, 10e-3, 0.9, 0.005}, {10e-3, 5e-3, 0.5, 0.003},
	} {
		current := pulsed(2.3, c.tau, c.period, c.duty)
		r := rough(record(3000, -1e-3, c.period/97.3, current), 2.3*c.sigma, 2.3*0.006)
		f := trace.Find(r, trace.Expect{})
		finite(t, f)
		name := fmt.Sprint(c)
		assert.InEpsilon(t, c.period, f.Period, 0.002, name)
		assert.InEpsilon(t, 1/c.period, f.Frequency, 0.002, name)
		assert.InDelta(t, c.duty, f.Duty, 0.015, name)
		assert.InDelta(t, 30, f.Periods, 1, name)
		assert.InEpsilon(t, 2.3*c.duty, f.Average, 0.01, name)
		low, high, square := math.Inf(1), 0.0, 0.0
		for k := range 10000 {
			i := current(c.period * (float64(k) + 0.5) / 10000)
			low, high, square = min(low, i), max(high, i), square+i*i/10000
		}
		assert.InEpsilon(t, math.Sqrt(square), f.RMS, 0.01, name)
		assert.InDelta(t, high-low, f.Ripple, 0.03*(high-low)+2*2.3*c.sigma, name)
		assert.Empty(t, f.Steps, name)
	}
}

// TestScales checks that scaling the times and currents of a recording scales the finding in the same way.
func TestScales(t *testing.T) {
	base := rough(record(1500, -5e-3, 5e-5, dipped), 0.008, 0.015)
	want := trace.Find(base, trace.Expect{Supply: 13.8})
	require.NotNil(t, want.Fit)
	require.Equal(t, trace.Yes, want.Dip.Found)
	for _, s := range []struct{ time, current, shift float64 }{
		{1, 1, 0}, {1e3, 1, 0}, {1e-3, 1, 0}, {1, 8, 0}, {1, 1. / 64, 0}, {4, 0.25, 0}, {1, 1, 7}, {1, 1, -100},
	} {
		r := recording.Samples{Interval: base.Interval * s.time}
		for k := range base.T {
			r.T, r.I = append(r.T, base.T[k]*s.time+s.shift), append(r.I, base.I[k]*s.current)
		}
		f := trace.Find(r, trace.Expect{Supply: 13.8 * s.current})
		require.NotNil(t, f.Fit, "%v", s)
		for name, pair := range map[string][2]float64{
			"average": {want.Average * s.current, f.Average}, "rms": {want.RMS * s.current, f.RMS}, "max": {want.Max * s.current, f.Max},
			"final": {want.Fit.Final * s.current, f.Fit.Final}, "resistance": {want.Fit.Resistance, f.Fit.Resistance},
			"time constant": {want.Fit.TimeConstant * s.time, f.Fit.TimeConstant}, "since": {want.Dip.Since * s.time, f.Dip.Since},
			"depth": {want.Dip.Depth * s.current, f.Dip.Depth}, "u": {want.Fit.TimeConstantU * s.time, f.Fit.TimeConstantU},
			"noise": {want.Noise * s.current, f.Noise}} {
			assert.InEpsilon(t, pair[0], pair[1], 1e-6, "%s at %v", name, s)
		}
		assert.InDelta(t, want.Dip.At*s.time+s.shift, f.Dip.At, 1e-6*s.time, "%v", s)
		assert.InDelta(t, want.Fit.Start*s.time+s.shift, f.Fit.Start, 1e-6*s.time, "%v", s)
	}
}

// dipped returns a ramp with a dip whose minimum is 9 ms after switch-on: until 5 ms an exponential of 4 ms, then a fall
// of 0.3 A, then an exponential of 5 ms up to 2.3 A.
func dipped(t float64) float64 {
	rest := rise(2.3, 4e-3)
	switch {
	case t < 5e-3:
		return rest(t)
	case t < 9e-3:
		u := (t - 5e-3) / 4e-3
		slope := 2.3 / 4e-3 * math.Exp(-5./4) * 4e-3
		return rest(5e-3) + slope*u - (0.3+slope)*u*u
	}
	return 2.3 - (2.3-(rest(5e-3)-0.3))*math.Exp(-(t-9e-3)/5e-3)
}

func TestVerdicts(t *testing.T) {
	clean := func(of func(float64) float64, n int, interval float64) recording.Samples {
		return rough(record(n, -20*interval, interval, of), 0.002, 0.005)
	}
	for _, c := range []struct {
		name  string
		r     recording.Samples
		found trace.Verdict
		why   trace.Reason
		fit   trace.Reason
	}{
		{"a dip", clean(dipped, 800, 5e-5), trace.Yes, trace.NoReason, trace.NoReason},
		{"stuck", clean(rise(2.3, 4e-3), 800, 5e-5), trace.No, trace.NoReason, trace.NoReason},
		{"a kink", clean(func(t float64) float64 {
			if t < 5e-3 {
				return rise(2.3, 4e-3)(t)
			}
			i := rise(2.3, 4e-3)(5e-3)
			if t < 8e-3 {
				return i + 20*(t-5e-3)
			}
			return 2.3 - (2.3-i-0.06)*math.Exp(-(t-8e-3)/5e-3)
		}, 800, 5e-5), trace.Kink, trace.NoReason, trace.NoReason},
		{"cut off", clean(rise(2.3, 4e-3), 70, 5e-5), trace.CannotShow, trace.TooShort, trace.NoReason},
		{"cut off, with noise", rough(record(50, -1e-3, 5e-5, rise(2.3, 4e-3)), 0.03, 0.015), trace.CannotShow, trace.TooShort, trace.TooShort},
		{"coarse", clean(rise(2.3, 4e-3), 60, 4e-3), trace.CannotShow, trace.TooCoarse, trace.NoReason},
		{"noisy", rough(record(200, -0.01, 5e-4, rise(2.3, 4e-3)), 0.1, 0.02), trace.CannotShow, trace.TooNoisy, trace.NoReason},
		{"no ramp", clean(func(float64) float64 { return 1 }, 400, 1e-4), trace.CannotShow, trace.NoRamp, trace.NoRamp},
		{"breaks off", rough(record(800, -1e-3, 5e-5, gone(3e-3, 3.2e-3)), 0.03, 0.015), trace.CannotShow, trace.Interrupted, trace.Interrupted},
	} {
		f := trace.Find(c.r, trace.Expect{Supply: 13.8})
		finite(t, f)
		assert.Equal(t, c.found, f.Dip.Found, "%s: %+v", c.name, f.Dip)
		assert.Equal(t, c.why, f.Dip.Why, "%s: %+v", c.name, f.Dip)
		assert.Equal(t, c.fit, f.Why, c.name)
		assert.Equal(t, c.fit == trace.NoReason, f.Fit != nil, c.name)
	}
}

// stepped lists currents with steps, and the times at which the steps begin. The winding has 2.3 A and 4 ms.
var stepped = []struct {
	name    string
	current func(t float64) float64
	at      []float64
}{
	{"none", rise(2.3, 4e-3), nil},
	{"a contact that falls to a higher resistance", func(t float64) float64 {
		if t > 30e-3 {
			return rise(2.3, 4e-3)(t) - 0.4
		}
		return rise(2.3, 4e-3)(t)
	}, []float64{30e-3}},
	{"two short breaks", func(t float64) float64 {
		if t > 30e-3 && t < 30.6e-3 || t > 40e-3 && t < 41e-3 {
			return rise(2.3, 4e-3)(t) - 0.8
		}
		return rise(2.3, 4e-3)(t)
	}, []float64{30e-3, 40e-3}},
	{"current gone for 2 ms", gone(30e-3, 32e-3), []float64{30e-3}},
	{"off again early in the ramp", gone(2.2e-3, 2.7e-3), []float64{2.2e-3}},
}

// gone returns the current of a winding that is switched off for a while. It stops at once.
func gone(off, on float64) func(t float64) float64 {
	current := rise(2.3, 4e-3)
	return func(t float64) float64 {
		switch {
		case t > on:
			return current(t - on)
		case t > off:
			return 0
		}
		return current(t)
	}
}

func TestSteps(t *testing.T) {
	for _, c := range stepped {
		f := trace.Find(rough(record(1200, -5e-3, 5e-5, c.current), 0.008, 0.015), trace.Expect{Supply: 13.8})
		finite(t, f)
		require.NotNil(t, f.Fit, c.name)
		assert.InEpsilon(t, 6.0, f.Fit.Resistance, 0.02, c.name)
		var got []float64
		for _, s := range f.Steps {
			if s.Change < 0 {
				got = append(got, s.At)
			}
		}
		require.Len(t, got, len(c.at), "%s: %+v", c.name, f.Steps)
		for k := range got {
			assert.InDelta(t, c.at[k], got[k], 3e-4, c.name)
		}
		assert.Equal(t, trace.No, f.Dip.Found, c.name)
	}
}

// TestMissingPulse checks a drive of which one pulse in twenty is half missing.
func TestMissingPulse(t *testing.T) {
	current := pulsed(2.3, 2e-3, 10e-3, 0.6)
	f := trace.Find(rough(record(2000, 0, 1e-4, func(t float64) float64 {
		if t > 82e-3 && t < 88e-3 {
			return 0.1
		}
		return current(t)
	}), 0.008, 0.015), trace.Expect{})
	assert.InEpsilon(t, 10e-3, f.Period, 0.005)
	require.Len(t, f.Steps, 1)
	assert.InDelta(t, 82e-3, f.Steps[0].At, 10e-3)
}

// loop returns the current of a winding with a diode under a drive, from small steps of its differential equation.
func loop(on func(t float64) bool, n int, interval float64) recording.Samples {
	i := 0.0
	return record(n, -5e-3, interval, func(t float64) float64 {
		for range 50 {
			aim := -0.1
			if on(t) {
				aim = 2.3
			}
			i = max(0, i+(aim-i)/4e-3*interval/50)
			t += interval / 50
		}
		return i
	})
}

// pulses returns a drive with a period and a duty.
func pulses(period, duty float64) func(t float64) bool {
	return func(t float64) bool { return t > 0 && math.Mod(t, period) < duty*period }
}

func TestDrives(t *testing.T) {
	held := pulses(1e-3, 0.4)
	for _, c := range []struct {
		name     string
		on       func(t float64) bool
		interval float64
		period   float64
		duty     float64
		fit      trace.Reason
		dip      trace.Verdict
	}{
		{"pulsed from the start, finely recorded", pulses(1e-3, 0.5), 2e-5, 1e-3, 0.5, trace.TooShort, trace.CannotShow},
		{"pulsed from the start, coarsely", pulses(1e-3, 0.3), 8e-5, 1e-3, 0.3, trace.TooShort, trace.CannotShow},
		{"full on, then held by pulses", func(t float64) bool { return t > 0 && t < 25e-3 || t > 29e-3 && held(t) },
			5e-5, 1e-3, 0.4, trace.NoReason, trace.No},
		{"two pulses", func(t float64) bool { return t > 0 && t < 30e-3 || t > 60e-3 && t < 90e-3 },
			5e-5, 0, 0, trace.NoReason, trace.No},
	} {
		f := trace.Find(rough(loop(c.on, 2000, c.interval), 0.004, 0.012), trace.Expect{Supply: 13.8})
		finite(t, f)
		assert.Equal(t, c.fit, f.Why, c.name)
		assert.Equal(t, c.dip, f.Dip.Found, "%s: %+v", c.name, f.Dip)
		assert.InDelta(t, c.period, f.Period, 0.005*c.period, c.name)
		assert.InDelta(t, c.duty, f.Duty, 0.03, c.name)
		assert.Empty(t, f.Steps, c.name)
		if f.Fit != nil {
			assert.InEpsilon(t, 6.0, f.Fit.Resistance, 0.01, c.name)
			assert.InEpsilon(t, 4e-3, f.Fit.TimeConstant, 0.02, c.name)
		}
	}
}

// TestReversed checks that reversing the clamp changes nothing in the finding but Reversed.
func TestReversed(t *testing.T) {
	r := rough(record(1500, -5e-3, 5e-5, dipped), 0.008, 0.015)
	want := trace.Find(r, trace.Expect{Supply: 13.8})
	before := r.I[700]
	for k := range r.I {
		r.I[k] = -r.I[k]
	}
	f := trace.Find(r, trace.Expect{Supply: 13.8})
	assert.True(t, f.Reversed)
	assert.Equal(t, -before, r.I[700], "the recording itself stays as it is")
	f.Reversed = false
	assert.Equal(t, want, f)
}

func TestDifferences(t *testing.T) {
	r := rough(record(1000, -5e-3, 5e-5, rise(2.3, 4e-3)), 0.008, 0.015)
	kinds := func(e trace.Expect) (list []trace.DifferenceKind) {
		for _, d := range trace.Find(r, e).Differences {
			list = append(list, d.Kind)
		}
		return list
	}
	loop := func(ohms, henries float64) trace.Expect {
		return trace.Expect{Supply: 13.8, Resistance: ohms, ResistanceWithin: 0.05, Inductance: henries, InductanceWithin: 0.1}
	}
	assert.Empty(t, kinds(trace.Expect{}))
	e := loop(6.2, 25e-3)
	e.TimeConstant, e.TimeConstantWithin = 9e-3, 0.1
	assert.Empty(t, kinds(e))
	assert.Equal(t, []trace.DifferenceKind{trace.ResistanceHigh, trace.InductanceHigh}, kinds(loop(5, 12e-3)))
	e = loop(8, 36e-3)
	e.Moves = true
	assert.Equal(t, []trace.DifferenceKind{trace.ResistanceLow, trace.InductanceLow, trace.DipMissing}, kinds(e))
	e = loop(5, 1)
	e.Supply, e.TimeConstant, e.TimeConstantWithin = 0, 4.1e-3, 0.1
	assert.Empty(t, kinds(e))
	assert.Equal(t, []trace.DifferenceKind{trace.TimeConstantLong}, kinds(trace.Expect{TimeConstant: 2e-3, TimeConstantWithin: 0.1}))
	assert.Equal(t, []trace.DifferenceKind{trace.TimeConstantShort}, kinds(trace.Expect{TimeConstant: 6e-3, TimeConstantWithin: 0.1}))
}

func TestExtremes(t *testing.T) {
	r := rough(record(1000, -5e-3, 5e-5, rise(2.3, 4e-3)), 0.005, 0.01)
	r.I[700], r.I[20] = 9, -4
	f := trace.Find(r, trace.Expect{Supply: 13.8})
	assert.InDelta(t, 2.3, f.Max, 0.06)
	assert.InDelta(t, 0, f.Min, 0.06)
	require.NotNil(t, f.Fit)
	assert.InEpsilon(t, 6.0, f.Fit.Resistance, 0.02)
}

func TestFull(t *testing.T) {
	// As many samples as are accepted, of a pulsed drive.
	b := &strings.Builder{}
	current := pulsed(2.3, 4e-3, 10e-3, 0.4)
	for k := range recording.MaxSamples {
		b.WriteString(strconv.Itoa(k) + "," + strconv.FormatFloat(current(float64(k)*2e-5), 'f', 1, 64) + "\n")
	}
	require.Less(t, b.Len(), recording.MaxBytes)
	r, err := recording.Read(b.String(), recording.Layout{TimeUnit: "us"})
	require.NoError(t, err)
	require.Len(t, r.T, recording.MaxSamples)
	f := trace.Find(r.Samples, trace.Expect{})
	finite(t, f)
	assert.InDelta(t, 200, f.Periods, 2)
	assert.LessOrEqual(t, len(f.Points), 1000)
	top, bottom := 0.0, 9.0
	for _, p := range f.Points {
		top, bottom = max(top, p.I), min(bottom, p.I)
	}
	assert.InDelta(t, f.Max, top, 1e-12)
	assert.InDelta(t, f.Min, bottom, 1e-12)
}

// text returns samples as a logger would write them, in seconds and amperes.
func text(s recording.Samples) string {
	b := &strings.Builder{}
	for k := range s.T {
		b.WriteString(strconv.FormatFloat(s.T[k], 'f', -1, 64) + "," + strconv.FormatFloat(s.I[k], 'f', -1, 64) + "\n")
	}
	return b.String()
}

// FuzzRead checks that any text is either refused with a fault or read as samples in order, for which Find returns a finding.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"", text(record(40, 0, 1e-3, func(t float64) float64 { return 0.5 + math.Mod(math.Round(t*1e3), 7)/10 })),
		"\ufeffZeit [s];Strom [A]\r\n0,1;2,5\r\n", "Time,Channel A\n(ms),(mA)\n1,2\n2,3\n", "a\tb\n1\t2\n", `"0,1","2"` + "\n",
		"1e308,1\n2e308,1\n", "0,001,0,250\n", text(record(40, 0, 1e-3, rise(2, 8e-3))),
	} {
		f.Add(text, "", "", 0, 0, 0.1)
	}
	f.Fuzz(func(t *testing.T, text, timeUnit, currentUnit string, timeColumn, currentColumn int, probe float64) {
		l := recording.Layout{TimeUnit: timeUnit, CurrentUnit: currentUnit, TimeColumn: timeColumn, CurrentColumn: currentColumn, Probe: probe}
		r, err := recording.Read(text, l)
		if err != nil {
			f := &recording.Fault{}
			require.ErrorAs(t, err, &f)
			require.NotZero(t, f.Kind)
			require.LessOrEqual(t, f.Line, 1+strings.Count(text, "\n")+strings.Count(text, "\r"))
			return
		}
		require.GreaterOrEqual(t, len(r.T), recording.MinSamples)
		for k := range r.T {
			require.False(t, math.IsNaN(r.I[k]) || math.IsInf(r.I[k], 0))
			require.True(t, k == 0 || r.T[k] > r.T[k-1])
		}
		finite(t, trace.Find(r.Samples, trace.Expect{Supply: 13.8, Resistance: 5, ResistanceWithin: 0.1, Moves: true}))
	})
}

func BenchmarkReadFind(b *testing.B) {
	for _, n := range []int{2000, 100_000} {
		s := &strings.Builder{}
		r := rough(record(n, -4e-3, 80e-3/float64(n), dipped), 0.008, 0.015)
		for k := range r.T {
			s.WriteString(strconv.Itoa(k) + "," + strconv.Itoa(int(r.I[k]*100)) + "\n")
		}
		whole := s.String()
		b.Run("samples="+strconv.Itoa(n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				r, err := recording.Read(whole, recording.Layout{TimeUnit: "us", CurrentUnit: "mA"})
				if err != nil {
					b.Fatal(err)
				}
				if f := trace.Find(r.Samples, trace.Expect{Supply: 13.8}); f.Fit == nil || f.Dip.Found != trace.Yes {
					b.Fatalf("%+v", f)
				}
			}
		})
	}
}

// TestAnything checks that no recording, however odd, gives a value that is not finite or makes Find run out of bounds.
func TestAnything(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	shapes := []func(k int) float64{
		func(int) float64 { return rnd.NormFloat64() },
		func(int) float64 { return math.Exp(30 * rnd.NormFloat64()) },
		func(k int) float64 { return float64(k % 2) },
		func(k int) float64 { return float64(k) },
		func(k int) float64 { return -float64(k) },
		func(k int) float64 { return float64(k / 30 % 2) },
		func(k int) float64 { return math.Exp(float64(k) / 10) },
		func(k int) float64 { return 1e12 * math.Sin(float64(k)/7) },
		func(k int) float64 { return 1e-9 * math.Sin(float64(k)/5) },
		func(k int) float64 { return float64(rnd.Intn(2)) },
		func(int) float64 { return 3 },
		func(k int) float64 { return 1 - math.Exp(-float64(k)/40) },
		func(k int) float64 { return 1e12 - float64(rnd.Intn(3)) },
	}
	for n := range testdata.Several(4000) {
		r := recording.Samples{Interval: math.Exp(10 * rnd.NormFloat64())}
		at, size := 100*rnd.NormFloat64(), recording.MinSamples+rnd.Intn(300)
		a, b := shapes[rnd.Intn(len(shapes))], shapes[rnd.Intn(len(shapes))]
		from := rnd.Intn(size)
		for k := range size {
			y := a(k)
			if k > from {
				y = b(k - from)
			}
			r.T, r.I = append(r.T, at), append(r.I, max(-1e12, min(1e12, y)))
			step := r.Interval
			if n%3 == 0 {
				step *= math.Exp(2 * rnd.NormFloat64())
			}
			at = max(at+step, math.Nextafter(at, math.Inf(1)))
		}
		finite(t, trace.Find(r, trace.Expect{Supply: math.Exp(5 * rnd.NormFloat64()), Resistance: 1, TimeConstant: 1, Moves: true}))
	}
}
