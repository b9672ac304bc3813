package recording_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/recording"
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
		layout     recording.Layout
		check      func(t *testing.T, r recording.Recording)
	}{
		{"bare", plain(0), recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.Equal(t, byte(','), r.Separator)
			assert.True(t, r.TimeAssumed && r.CurrentAssumed)
			assert.Equal(t, 1, r.First)
			assert.Zero(t, r.Header)
		}},
		{"byte order mark, CR LF", "\ufeff" + strings.ReplaceAll(plain(0), "\n", "\r\n"), recording.Layout{}, nil},
		{"CR", strings.ReplaceAll(plain(0), "\n", "\r"), recording.Layout{}, nil},
		{"blank lines behind", plain(0) + "\n\n,\n;\n", recording.Layout{}, nil},
		{"negative times", plain(-20), recording.Layout{}, nil},
		{"decimal comma", comma(plain(0)), recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.True(t, r.Comma)
			assert.Equal(t, byte(';'), r.Separator)
		}},
		{"tab and decimal comma", strings.ReplaceAll(comma(plain(0)), ";", "\t"), recording.Layout{}, nil},
		{"spaces", strings.ReplaceAll(plain(0), ",", "   "), recording.Layout{}, func(t *testing.T, r recording.Recording) { assert.Equal(t, byte(' '), r.Separator) }},
		{"quotes and a comma within", lines(40, func(k int) string {
			return `"` + strings.Replace(number(float64(k)/1000), ".", ",", 1) + `","` + strings.Replace(number(0.5+float64(k%7)/10), ".", ",", 1) + `"`
		}), recording.Layout{}, nil},
		{"header", "Time (s),Current (A)\n" + plain(0), recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.Equal(t, []string{"Time (s)", "Current (A)", "s", "A"}, []string{r.TimeHeader, r.CurrentHeader, r.TimeUnit, r.CurrentUnit})
			assert.Equal(t, []int{1, 2}, []int{r.Header, r.First})
			assert.False(t, r.TimeAssumed || r.CurrentAssumed)
		}},
		{"units in the header", "t/ms,I [mA]\n" + milli, recording.Layout{}, nil},
		{"units below the header", "Time,Channel A\n(ms),(mA)\n\n" + milli, recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.Equal(t, 1, r.Header)
			assert.Equal(t, 4, r.First)
			assert.Equal(t, "Channel A", r.CurrentHeader)
		}},
		{"units spelt out", "Seconds,Amperes\n" + plain(0), recording.Layout{}, func(t *testing.T, r recording.Recording) { assert.False(t, r.TimeAssumed || r.CurrentAssumed) }},
		{"units of the layout", milli, recording.Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
		{"the layout's before the header's", "Time (s),Current (A)\n" + milli, recording.Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
		{"preamble", "Sample interval,0.001\nRecord length,40,points\nsome words\n\nTime (s),Current (A)\n" + plain(0), recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.Equal(t, []int{5, 6}, []int{r.Header, r.First})
		}},
		{"columns the other way round", "Current (A),Time (s)\n" + lines(40, func(k int) string { return number(0.5+float64(k%7)/10) + "," + number(float64(k)/1000) }), recording.Layout{},
			func(t *testing.T, r recording.Recording) {
				assert.Equal(t, []int{2, 1}, []int{r.TimeColumn, r.CurrentColumn})
			}},
		{"index before, other channel between", "No.,Time (s),Voltage (V),Current (A)\n" + lines(40, func(k int) string {
			return strconv.Itoa(k+1) + "," + number(float64(k)/1000) + ",13.8," + number(0.5+float64(k%7)/10)
		}), recording.Layout{}, func(t *testing.T, r recording.Recording) {
			assert.Equal(t, []int{2, 4, 4}, []int{r.TimeColumn, r.CurrentColumn, r.Columns})
		}},
		{"index before, no header", lines(40, func(k int) string {
			return strconv.Itoa(k) + "," + number(float64(k)/1000) + "," + number(0.5+float64(k%7)/10)
		}), recording.Layout{}, nil},
		{"clock before", lines(40, func(k int) string {
			return "2026-11-25 10:00:00," + number(float64(k)/1000) + "," + number(0.5+float64(k%7)/10)
		}), recording.Layout{}, nil},
		{"columns of the layout", lines(40, func(k int) string {
			return number(0.5+float64(k%7)/10) + ",7," + number(float64(k)/1000)
		}), recording.Layout{TimeColumn: 3, CurrentColumn: 1}, nil},
		{"volts of a clamp", "Time (s),Clamp (mV)\n" + lines(40, func(k int) string { return number(float64(k)/1000) + "," + number(50+float64(k%7)*10) }), recording.Layout{Probe: 0.1},
			func(t *testing.T, r recording.Recording) { assert.Equal(t, 0.1, r.Probe) }},
		{"exponents", lines(40, func(k int) string { return number(float64(k)) + "E-3," + number(5000+float64(k%7)*1000) + "e-4" }), recording.Layout{}, nil},
		{"a true minus", strings.ReplaceAll(plain(-20), "-", "\u2212"), recording.Layout{}, nil},
		{"groups", "Time (ms);Current (mA)\n" + lines(40, func(k int) string { return number(float64(k)) + ",0;" + number(500+float64(k%7)*100) + ",00" }), recording.Layout{}, nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r, err := recording.Read(c.text, c.layout)
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
		layout     recording.Layout
		want       recording.Fault
	}{
		{"nothing", "", recording.Layout{}, recording.Fault{Kind: recording.Empty}},
		{"white space", " \n\r\n\t,;\n", recording.Layout{}, recording.Fault{Kind: recording.Empty}},
		{"2 MiB", strings.Repeat("0,1\n", 1<<19), recording.Layout{}, recording.Fault{Kind: recording.TooLong}},
		{"too many", lines(recording.MaxSamples+1, func(k int) string { return strconv.Itoa(k) + ",1" }), recording.Layout{}, recording.Fault{Kind: recording.TooMany, Line: recording.MaxSamples + 1, Given: "100001"}},
		{"text in a cell", with(7, "0.006,abc"), recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 7, Column: 2, Given: "abc"}},
		{"text in the first", with(1, "0,abc"), recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 1, Column: 2, Given: "abc"}},
		{"text in the first below a header", "Time,Current\n" + with(1, "abc,0.5"), recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 2, Column: 1, Given: "abc"}},
		{"text for a time", with(9, "soon,0.5"), recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 9, Column: 1, Given: "soon"}},
		{"a cell left out", with(9, "0.008"), recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 9, Column: 2}},
		{"not a number", with(9, "0.008,NaN"), recording.Layout{}, recording.Fault{Kind: recording.OutOfRange, Line: 9, Column: 2, Given: "NaN"}},
		{"infinite", with(9, "0.008,-inf"), recording.Layout{}, recording.Fault{Kind: recording.OutOfRange, Line: 9, Column: 2, Given: "-inf"}},
		{"too large", with(9, "0.008,1e999"), recording.Layout{}, recording.Fault{Kind: recording.OutOfRange, Line: 9, Column: 2, Given: "1e999"}},
		{"unsorted", with(9, "0.0065,0.5"), recording.Layout{}, recording.Fault{Kind: recording.NotSorted, Line: 9, Column: 1, Given: "0.0065", Before: "0.007"}},
		{"repeated", with(9, "0.007,0.5"), recording.Layout{}, recording.Fault{Kind: recording.RepeatedTime, Line: 9, Column: 1, Given: "0.007", Before: "0.007"}},
		{"all zero", lines(40, func(k int) string { return number(float64(k)/1000) + ",0.00" }), recording.Layout{}, recording.Fault{Kind: recording.AllZero, Column: 2}},
		{"few", lines(7, func(k int) string { return number(float64(k)/1000) + ",0.5" }), recording.Layout{}, recording.Fault{Kind: recording.TooFew, Given: "7"}},
		{"one column", lines(40, func(k int) string { return number(float64(k) / 10) }), recording.Layout{}, recording.Fault{Kind: recording.OneColumn, Line: 1, Column: 1, Given: "0"}},
		{"one column below a header", "Current\n" + lines(40, func(k int) string { return number(float64(k) / 10) }), recording.Layout{}, recording.Fault{Kind: recording.OneColumn, Line: 2, Column: 1, Given: "0"}},
		{"words", "to be or\nnot to be\n", recording.Layout{}, recording.Fault{Kind: recording.NotNumber, Line: 1, Column: 1, Given: "to"}},
		{"column beyond", plain(0), recording.Layout{CurrentColumn: 3}, recording.Fault{Kind: recording.NoColumn, Column: 3, Given: "3"}},
		{"the same column", plain(0), recording.Layout{TimeColumn: 1, CurrentColumn: 1}, recording.Fault{Kind: recording.NoColumn, Column: 1, Given: "1"}},
		{"unknown unit", "Time (s),Current (kg)\n" + plain(0), recording.Layout{}, recording.Fault{Kind: recording.UnknownUnit, Line: 1, Column: 2, Given: "kg", Name: "Current (kg)", Want: []string{"A", "mA", "µA", "kA", "V", "mV", "µV"}}},
		{"unit asked for", plain(0), recording.Layout{TimeUnit: "weeks"}, recording.Fault{Kind: recording.UnknownUnit, Column: 1, Given: "weeks", Want: []string{"s", "ms", "µs", "ns", "min", "h"}}},
		{"volts", "Time (s),Channel B (V)\n" + plain(0), recording.Layout{}, recording.Fault{Kind: recording.NeedsProbe, Line: 1, Column: 2, Given: "V", Name: "Channel B (V)"}},
		{"comma for both", lines(40, func(k int) string {
			return strings.ReplaceAll(number(float64(k)/1000+1), ".", ",") + "00,0,5" + strconv.Itoa(k%7)
		}), recording.Layout{}, recording.Fault{Kind: recording.Ambiguous}},
		{"three digits behind a comma", lines(40, func(k int) string { return strconv.Itoa(k) + ";1,25" + strconv.Itoa(k%7) }), recording.Layout{}, recording.Fault{Kind: recording.Ambiguous, Line: 40, Column: 2, Given: "1,254", Reads: [2]string{"1.254", "1254"}}},
		{"both marks", with(9, "0.008;0,5"), recording.Layout{}, recording.Fault{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := recording.Read(c.text, c.layout)
			f := &recording.Fault{}
			require.ErrorAs(t, err, &f)
			switch {
			case c.want.Kind == 0:
				assert.NotZero(t, f.Line)
			case c.want.Kind == recording.Ambiguous && c.want.Line == 0:
				assert.Equal(t, recording.Ambiguous, f.Kind, "%v", f)
				assert.NotEqual(t, f.Reads[0], f.Reads[1])
				assert.NotZero(t, f.Line)
			default:
				assert.Equal(t, c.want, *f, "%v", f)
			}
			assert.True(t, strings.HasPrefix(f.Error(), "recording: read"), f.Error())
		})
	}
}

// TestFaultText asserts the text of an error once.
func TestFaultText(t *testing.T) {
	_, err := recording.Read("0,1\n0.1,x\n"+plain(1), recording.Layout{})
	assert.EqualError(t, err, `recording: read line 2 column 2: not a number: "x"`)
}

func TestGaps(t *testing.T) {
	all := strings.Split(plain(0), "\n")
	all = append(all[:10], append(all[11:20], all[25:]...)...)
	r, err := recording.Read(strings.Join(all, "\n"), recording.Layout{})
	require.NoError(t, err)
	assert.Equal(t, []int{34, 6, 2}, []int{len(r.T), r.Missing, r.Gaps})
}
