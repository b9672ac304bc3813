package trace_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/trace"
)

// lines is a ramp as text: so many lines by a format of time and current.
func lines(n int, of func(k int) string) string {
	b := &strings.Builder{}
	for k := range n {
		b.WriteString(of(k) + "\n")
	}
	return b.String()
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// plain is the usual recording of these tests: 40 lines, a sample each millisecond, a current of 0.5 A and more.
func plain(from int) string {
	return lines(40, func(k int) string { return number(float64(from+k)/1000) + "," + number(0.5+float64(k%7)/10) })
}

func TestReadLayouts(t *testing.T) {
	comma := func(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, ",", ";"), ".", ",") }
	milli := lines(40, func(k int) string { return number(float64(k)) + "," + number(500+float64(k%7)*100) })
	for _, c := range []struct {
		name, text string
		layout     trace.Layout
		check      func(t *testing.T, r trace.Recording)
	}{
		{"bare", plain(0), trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.Equal(t, byte(','), r.Separator)
			assert.True(t, r.TimeAssumed && r.CurrentAssumed)
			assert.Equal(t, 1, r.First)
			assert.Zero(t, r.Header)
		}},
		{"byte order mark, CR LF", "\ufeff" + strings.ReplaceAll(plain(0), "\n", "\r\n"), trace.Layout{}, nil},
		{"CR", strings.ReplaceAll(plain(0), "\n", "\r"), trace.Layout{}, nil},
		{"blank lines behind", plain(0) + "\n\n,\n;\n", trace.Layout{}, nil},
		{"negative times", plain(-20), trace.Layout{}, nil},
		{"decimal comma", comma(plain(0)), trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.True(t, r.Comma)
			assert.Equal(t, byte(';'), r.Separator)
		}},
		{"tab and decimal comma", strings.ReplaceAll(comma(plain(0)), ";", "\t"), trace.Layout{}, nil},
		{"spaces", strings.ReplaceAll(plain(0), ",", "   "), trace.Layout{}, func(t *testing.T, r trace.Recording) { assert.Equal(t, byte(' '), r.Separator) }},
		{"quotes and a comma within", lines(40, func(k int) string {
			return `"` + strings.Replace(number(float64(k)/1000), ".", ",", 1) + `","` + strings.Replace(number(0.5+float64(k%7)/10), ".", ",", 1) + `"`
		}), trace.Layout{}, nil},
		{"header", "Time (s),Current (A)\n" + plain(0), trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.Equal(t, []string{"Time (s)", "Current (A)", "s", "A"}, []string{r.TimeHeader, r.CurrentHeader, r.TimeUnit, r.CurrentUnit})
			assert.Equal(t, []int{1, 2}, []int{r.Header, r.First})
			assert.False(t, r.TimeAssumed || r.CurrentAssumed)
		}},
		{"units in the header", "t/ms,I [mA]\n" + milli, trace.Layout{}, nil},
		{"units below the header", "Time,Channel A\n(ms),(mA)\n\n" + milli, trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.Equal(t, 1, r.Header)
			assert.Equal(t, 4, r.First)
			assert.Equal(t, "Channel A", r.CurrentHeader)
		}},
		{"units spelt out", "Seconds,Amperes\n" + plain(0), trace.Layout{}, func(t *testing.T, r trace.Recording) { assert.False(t, r.TimeAssumed || r.CurrentAssumed) }},
		{"units of the layout", milli, trace.Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
		{"the layout's before the header's", "Time (s),Current (A)\n" + milli, trace.Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
		{"preamble", "Sample interval,0.001\nRecord length,40,points\nsome words\n\nTime (s),Current (A)\n" + plain(0), trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.Equal(t, []int{5, 6}, []int{r.Header, r.First})
		}},
		{"columns the other way round", "Current (A),Time (s)\n" + lines(40, func(k int) string { return number(0.5+float64(k%7)/10) + "," + number(float64(k)/1000) }), trace.Layout{},
			func(t *testing.T, r trace.Recording) {
				assert.Equal(t, []int{2, 1}, []int{r.TimeColumn, r.CurrentColumn})
			}},
		{"index before, other channel between", "No.,Time (s),Voltage (V),Current (A)\n" + lines(40, func(k int) string {
			return strconv.Itoa(k+1) + "," + number(float64(k)/1000) + ",13.8," + number(0.5+float64(k%7)/10)
		}), trace.Layout{}, func(t *testing.T, r trace.Recording) {
			assert.Equal(t, []int{2, 4, 4}, []int{r.TimeColumn, r.CurrentColumn, r.Columns})
		}},
		{"index before, no header", lines(40, func(k int) string {
			return strconv.Itoa(k) + "," + number(float64(k)/1000) + "," + number(0.5+float64(k%7)/10)
		}), trace.Layout{}, nil},
		{"clock before", lines(40, func(k int) string {
			return "2026-11-25 10:00:00," + number(float64(k)/1000) + "," + number(0.5+float64(k%7)/10)
		}), trace.Layout{}, nil},
		{"columns of the layout", lines(40, func(k int) string {
			return number(0.5+float64(k%7)/10) + ",7," + number(float64(k)/1000)
		}), trace.Layout{TimeColumn: 3, CurrentColumn: 1}, nil},
		{"volts of a clamp", "Time (s),Clamp (mV)\n" + lines(40, func(k int) string { return number(float64(k)/1000) + "," + number(50+float64(k%7)*10) }), trace.Layout{Probe: 0.1},
			func(t *testing.T, r trace.Recording) { assert.Equal(t, 0.1, r.Probe) }},
		{"exponents", lines(40, func(k int) string { return number(float64(k)) + "E-3," + number(5000+float64(k%7)*1000) + "e-4" }), trace.Layout{}, nil},
		{"a true minus", strings.ReplaceAll(plain(-20), "-", "\u2212"), trace.Layout{}, nil},
		{"groups", "Time (ms);Current (mA)\n" + lines(40, func(k int) string { return number(float64(k)) + ",0;" + number(500+float64(k%7)*100) + ",00" }), trace.Layout{}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := trace.Read(c.text, c.layout)
			require.NoError(t, err)
			require.Len(t, r.T, 40)
			require.Len(t, r.I, 40)
			for k := range r.T {
				assert.InDelta(t, float64(k)/1000, r.T[k]-r.T[0], 1e-12)
				assert.InDelta(t, 0.5+float64(k%7)/10, r.I[k], 1e-12)
			}
			assert.InDelta(t, 1e-3, r.Interval, 1e-12)
			assert.Zero(t, r.Missing)
			if c.check != nil {
				c.check(t, r)
			}
		})
	}
}

func TestReadFaults(t *testing.T) {
	with := func(line int, text string) string {
		all := strings.Split(plain(0), "\n")
		all[line-1] = text
		return strings.Join(all, "\n")
	}
	for _, c := range []struct {
		name, text string
		layout     trace.Layout
		want       trace.Fault
	}{
		{"nothing", "", trace.Layout{}, trace.Fault{Kind: trace.Empty}},
		{"white space", " \n\r\n\t,;\n", trace.Layout{}, trace.Fault{Kind: trace.Empty}},
		{"2 MiB", strings.Repeat("0,1\n", 1<<19), trace.Layout{}, trace.Fault{Kind: trace.TooLong}},
		{"too many", lines(trace.MaxSamples+1, func(k int) string { return strconv.Itoa(k) + ",1" }), trace.Layout{}, trace.Fault{Kind: trace.TooMany, Line: trace.MaxSamples + 1, Given: "100001"}},
		{"text in a cell", with(7, "0.006,abc"), trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 7, Column: 2, Given: "abc"}},
		{"text in the first", with(1, "0,abc"), trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 1, Column: 2, Given: "abc"}},
		{"text in the first below a header", "Time,Current\n" + with(1, "abc,0.5"), trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 2, Column: 1, Given: "abc"}},
		{"text for a time", with(9, "soon,0.5"), trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 9, Column: 1, Given: "soon"}},
		{"a cell left out", with(9, "0.008"), trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 9, Column: 2}},
		{"not a number", with(9, "0.008,NaN"), trace.Layout{}, trace.Fault{Kind: trace.OutOfRange, Line: 9, Column: 2, Given: "NaN"}},
		{"infinite", with(9, "0.008,-inf"), trace.Layout{}, trace.Fault{Kind: trace.OutOfRange, Line: 9, Column: 2, Given: "-inf"}},
		{"too large", with(9, "0.008,1e999"), trace.Layout{}, trace.Fault{Kind: trace.OutOfRange, Line: 9, Column: 2, Given: "1e999"}},
		{"unsorted", with(9, "0.0065,0.5"), trace.Layout{}, trace.Fault{Kind: trace.NotSorted, Line: 9, Column: 1, Given: "0.0065", Before: "0.007"}},
		{"repeated", with(9, "0.007,0.5"), trace.Layout{}, trace.Fault{Kind: trace.RepeatedTime, Line: 9, Column: 1, Given: "0.007", Before: "0.007"}},
		{"all zero", lines(40, func(k int) string { return number(float64(k)/1000) + ",0.00" }), trace.Layout{}, trace.Fault{Kind: trace.AllZero, Column: 2}},
		{"few", lines(7, func(k int) string { return number(float64(k)/1000) + ",0.5" }), trace.Layout{}, trace.Fault{Kind: trace.TooFew, Given: "7"}},
		{"one column", lines(40, func(k int) string { return number(float64(k) / 10) }), trace.Layout{}, trace.Fault{Kind: trace.OneColumn, Line: 1, Column: 1, Given: "0"}},
		{"one column below a header", "Current\n" + lines(40, func(k int) string { return number(float64(k) / 10) }), trace.Layout{}, trace.Fault{Kind: trace.OneColumn, Line: 2, Column: 1, Given: "0"}},
		{"words", "to be or\nnot to be\n", trace.Layout{}, trace.Fault{Kind: trace.NotNumber, Line: 1, Column: 1, Given: "to"}},
		{"column beyond", plain(0), trace.Layout{CurrentColumn: 3}, trace.Fault{Kind: trace.NoColumn, Column: 3, Given: "3"}},
		{"the same column", plain(0), trace.Layout{TimeColumn: 1, CurrentColumn: 1}, trace.Fault{Kind: trace.NoColumn, Column: 1, Given: "1"}},
		{"unknown unit", "Time (s),Current (kg)\n" + plain(0), trace.Layout{}, trace.Fault{Kind: trace.UnknownUnit, Line: 1, Column: 2, Given: "kg", Name: "Current (kg)", Want: []string{"A", "mA", "µA", "kA", "V", "mV", "µV"}}},
		{"unit asked for", plain(0), trace.Layout{TimeUnit: "weeks"}, trace.Fault{Kind: trace.UnknownUnit, Column: 1, Given: "weeks", Want: []string{"s", "ms", "µs", "ns", "min", "h"}}},
		{"volts", "Time (s),Channel B (V)\n" + plain(0), trace.Layout{}, trace.Fault{Kind: trace.NeedsProbe, Line: 1, Column: 2, Given: "V", Name: "Channel B (V)"}},
		{"comma for both", lines(40, func(k int) string {
			return strings.ReplaceAll(number(float64(k)/1000+1), ".", ",") + "00,0,5" + strconv.Itoa(k%7)
		}), trace.Layout{}, trace.Fault{Kind: trace.Ambiguous}},
		{"three digits behind a comma", lines(40, func(k int) string { return strconv.Itoa(k) + ";1,25" + strconv.Itoa(k%7) }), trace.Layout{}, trace.Fault{Kind: trace.Ambiguous, Line: 40, Column: 2, Given: "1,254", Reads: [2]string{"1.254", "1254"}}},
		{"both marks", with(9, "0.008;0,5"), trace.Layout{}, trace.Fault{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := trace.Read(c.text, c.layout)
			f := &trace.Fault{}
			require.ErrorAs(t, err, &f)
			switch {
			case c.want.Kind == 0:
				assert.NotZero(t, f.Line)
			case c.want.Kind == trace.Ambiguous && c.want.Line == 0:
				assert.Equal(t, trace.Ambiguous, f.Kind, "%v", f)
				assert.NotEqual(t, f.Reads[0], f.Reads[1])
				assert.NotZero(t, f.Line)
			default:
				assert.Equal(t, c.want, *f, "%v", f)
			}
			assert.True(t, strings.HasPrefix(f.Error(), "trace: read"), f.Error())
		})
	}
}

// TestFaultText asserts the text of an error once.
func TestFaultText(t *testing.T) {
	_, err := trace.Read("0,1\n0.1,x\n"+plain(1), trace.Layout{})
	assert.EqualError(t, err, `trace: read line 2 column 2: not a number: "x"`)
}

func TestGaps(t *testing.T) {
	all := strings.Split(plain(0), "\n")
	all = append(all[:10], append(all[11:20], all[25:]...)...)
	r, err := trace.Read(strings.Join(all, "\n"), trace.Layout{})
	require.NoError(t, err)
	assert.Equal(t, []int{34, 6, 2}, []int{len(r.T), r.Missing, r.Gaps})
}

func FuzzRead(f *testing.F) {
	for _, text := range []string{"", plain(0), "\ufeffZeit [s];Strom [A]\r\n0,1;2,5\r\n", "Time,Channel A\n(ms),(mA)\n1,2\n2,3\n", "a\tb\n1\t2\n", `"0,1","2"` + "\n", "1e308,1\n2e308,1\n", "0,001,0,250\n",
		lines(40, func(k int) string { return number(float64(k)/1000) + "," + number(2*(1-math.Exp(-float64(k)/8))) })} {
		f.Add(text, "", "", 0, 0, 0.1)
	}
	f.Fuzz(func(t *testing.T, text, timeUnit, currentUnit string, timeColumn, currentColumn int, probe float64) {
		r, err := trace.Read(text, trace.Layout{TimeUnit: timeUnit, CurrentUnit: currentUnit, TimeColumn: timeColumn, CurrentColumn: currentColumn, Probe: probe})
		if err != nil {
			f := &trace.Fault{}
			require.ErrorAs(t, err, &f)
			require.NotZero(t, f.Kind)
			require.LessOrEqual(t, f.Line, 1+strings.Count(text, "\n")+strings.Count(text, "\r"))
			return
		}
		require.GreaterOrEqual(t, len(r.T), trace.MinSamples)
		for k := range r.T {
			require.False(t, math.IsNaN(r.I[k]) || math.IsInf(r.I[k], 0))
			require.True(t, k == 0 || r.T[k] > r.T[k-1])
		}
		finite(t, r.Find(trace.Expect{Supply: 13.8, Resistance: 5, ResistanceWithin: 0.1, Moves: true}))
	})
}
