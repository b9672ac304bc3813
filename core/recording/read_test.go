package recording

import (
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lines returns a text of n lines.
func lines(n int, of func(k int) string) string {
	b := &strings.Builder{}
	for k := range n {
		b.WriteString(of(k) + "\n")
	}
	return b.String()
}

// rows returns a text of 40 lines, the usual length.
func rows(of func(k int) string) string { return lines(40, of) }

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// The cells of the usual recording: one sample per millisecond, from 0.5 A upwards.
func seconds(k int) string { return number(float64(k) / 1000) }
func amperes(k int) string { return number(0.5 + float64(k%7)/10) }
func milli(k int) string   { return number(500 + float64(k%7)*100) }

// plain returns the usual recording, beginning at a time in ms.
func plain(from int) string {
	return rows(func(k int) string { return seconds(from+k) + "," + amperes(k) })
}

// inMilli is the usual recording in ms and mA.
var inMilli = rows(func(k int) string { return strconv.Itoa(k) + "," + milli(k) })

// commas replaces decimal points by commas, and commas between cells by semicolons.
func commas(s string) string { return strings.ReplaceAll(strings.ReplaceAll(s, ",", ";"), ".", ",") }

// layouts are texts that all contain the usual recording.
var layouts = []struct {
	name, text string
	layout     Layout
	check      func(t *testing.T, r Recording)
}{
	{"bare", plain(0), none, func(t *testing.T, r Recording) {
		assert.Equal(t, byte(','), r.Separator)
		assert.True(t, r.TimeAssumed && r.CurrentAssumed)
		assert.Equal(t, 1, r.First)
		assert.Zero(t, r.Header)
	}},
	{"byte order mark, CR LF", "\ufeff" + strings.ReplaceAll(plain(0), "\n", "\r\n"), none, nil},
	{"CR", strings.ReplaceAll(plain(0), "\n", "\r"), none, nil},
	{"blank lines behind", plain(0) + "\n\n,\n;\n", none, nil},
	{"negative times", plain(-20), none, nil},
	{"decimal comma", commas(plain(0)), none, func(t *testing.T, r Recording) {
		assert.True(t, r.Comma)
		assert.Equal(t, byte(';'), r.Separator)
	}},
	{"tab and decimal comma", strings.ReplaceAll(commas(plain(0)), ";", "\t"), none, nil},
	{"spaces", strings.ReplaceAll(plain(0), ",", "   "), none, func(t *testing.T, r Recording) { assert.Equal(t, byte(' '), r.Separator) }},
	{"quotes and a comma within", rows(func(k int) string {
		return `"` + strings.Replace(seconds(k), ".", ",", 1) + `","` + strings.Replace(amperes(k), ".", ",", 1) + `"`
	}), none, nil},
	{"header", "Time (s),Current (A)\n" + plain(0), none, func(t *testing.T, r Recording) {
		assert.Equal(t, []string{"s", "A"}, []string{r.TimeUnit, r.CurrentUnit})
		assert.Equal(t, []int{1, 2}, []int{r.Header, r.First})
		assert.False(t, r.TimeAssumed || r.CurrentAssumed)
	}},
	{"units in the header", "t/ms,I [mA]\n" + inMilli, none, nil},
	{"units below the header", "Time,Channel A\n(ms),(mA)\n\n" + inMilli, none, func(t *testing.T, r Recording) {
		assert.Equal(t, 1, r.Header)
		assert.Equal(t, 4, r.First)
		assert.Equal(t, []string{"ms", "mA"}, []string{r.TimeUnit, r.CurrentUnit})
	}},
	{"units spelt out", "Seconds,Amperes\n" + plain(0), none, func(t *testing.T, r Recording) {
		assert.False(t, r.TimeAssumed || r.CurrentAssumed)
	}},
	{"units of the layout", inMilli, Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
	{"the layout's before the header's", "Time (s),Current (A)\n" + inMilli, Layout{TimeUnit: "ms", CurrentUnit: "mA"}, nil},
	{"preamble", "Sample interval,0.001\nRecord length,40,points\nsome words\n\n" +
		"Time (s),Current (A)\n" + plain(0), none, func(t *testing.T, r Recording) {
		assert.Equal(t, []int{5, 6}, []int{r.Header, r.First})
	}},
	{"columns the other way round", "Current (A),Time (s)\n" + rows(func(k int) string { return amperes(k) + "," + seconds(k) }), Layout{},
		func(t *testing.T, r Recording) {
			assert.Equal(t, []int{2, 1}, []int{r.TimeColumn, r.CurrentColumn})
		}},
	{"index before, other channel between", "No.,Time (s),Voltage (V),Current (A)\n" + rows(func(k int) string {
		return strconv.Itoa(k+1) + "," + seconds(k) + ",13.8," + amperes(k)
	}), none, func(t *testing.T, r Recording) {
		assert.Equal(t, []int{2, 4}, []int{r.TimeColumn, r.CurrentColumn})
	}},
	{"index before, no header", rows(func(k int) string {
		return strconv.Itoa(k) + "," + seconds(k) + "," + amperes(k)
	}), none, nil},
	{"clock before", rows(func(k int) string {
		return "2026-11-25 10:00:00," + seconds(k) + "," + amperes(k)
	}), none, nil},
	{"columns of the layout", rows(func(k int) string {
		return amperes(k) + ",7," + seconds(k)
	}), Layout{TimeColumn: 3, CurrentColumn: 1}, nil},
	{"volts of a clamp", "Time (s),Clamp (mV)\n" + rows(func(k int) string { return seconds(k) + "," + number(50+float64(k%7)*10) }),
		Layout{Probe: 0.1}, nil},
	{"exponents", rows(func(k int) string { return strconv.Itoa(k) + "E-3," + number(5000+float64(k%7)*1000) + "e-4" }), none, nil},
	{"a true minus", strings.ReplaceAll(plain(-20), "-", "\u2212"), none, nil},
	{"groups", "Time (ms);Current (mA)\n" + rows(func(k int) string { return strconv.Itoa(k) + ",0;" + milli(k) + ",00" }), none, nil},
}

func TestReadLayouts(t *testing.T) {
	for _, c := range layouts {
		t.Run(c.name, func(t *testing.T) {
			r, err := Read(c.text, c.layout)
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

// with returns the usual recording with one line replaced. Lines count from 1.
func with(line int, text string) string {
	all := strings.Split(plain(0), "\n")
	all[line-1] = text
	return strings.Join(all, "\n")
}

var (
	none   = Layout{}
	tenths = rows(func(k int) string { return number(float64(k) / 10) })
)

// faulty are texts that must be refused. Kind 0 stands for any fault of a line.
var faulty = []struct {
	name, text string
	layout     Layout
	want       Fault
}{
	{"nothing", "", none, Fault{Kind: Empty}},
	{"white space", " \n\r\n\t,;\n", none, Fault{Kind: Empty}},
	{"2 MiB", strings.Repeat("0,1\n", 1<<19), none, Fault{Kind: TooLong}},
	{"too many", lines(MaxSamples+1, func(k int) string { return strconv.Itoa(k) + ",1" }), none,
		Fault{Kind: TooMany, Line: MaxSamples + 1, Given: "100001"}},
	{"text in a cell", with(7, "0.006,abc"), none, Fault{Kind: NotNumber, Line: 7, Column: 2, Given: "abc"}},
	{"text in the first", with(1, "0,abc"), none, Fault{Kind: NotNumber, Line: 1, Column: 2, Given: "abc"}},
	{"text in the first below a header", "Time,Current\n" + with(1, "abc,0.5"), none,
		Fault{Kind: NotNumber, Line: 2, Column: 1, Given: "abc"}},
	{"text for a time", with(9, "soon,0.5"), none, Fault{Kind: NotNumber, Line: 9, Column: 1, Given: "soon"}},
	{"a cell left out", with(9, "0.008"), none, Fault{Kind: NotNumber, Line: 9, Column: 2}},
	{"not a number", with(9, "0.008,NaN"), none, Fault{Kind: OutOfRange, Line: 9, Column: 2, Given: "NaN"}},
	{"infinite", with(9, "0.008,-inf"), none, Fault{Kind: OutOfRange, Line: 9, Column: 2, Given: "-inf"}},
	{"too large", with(9, "0.008,1e999"), none, Fault{Kind: OutOfRange, Line: 9, Column: 2, Given: "1e999"}},
	{"unsorted", with(9, "0.0065,0.5"), none, Fault{Kind: NotSorted, Line: 9, Column: 1, Given: "0.0065", Before: "0.007"}},
	{"repeated", with(9, "0.007,0.5"), none, Fault{Kind: RepeatedTime, Line: 9, Column: 1, Given: "0.007", Before: "0.007"}},
	{"all zero", rows(func(k int) string { return seconds(k) + ",0.00" }), none, Fault{Kind: AllZero, Column: 2}},
	{"few", lines(7, func(k int) string { return seconds(k) + ",0.5" }), none, Fault{Kind: TooFew, Given: "7"}},
	{"one column", tenths, none, Fault{Kind: OneColumn, Line: 1, Column: 1, Given: "0"}},
	{"one column below a header", "Current\n" + tenths, none, Fault{Kind: OneColumn, Line: 2, Column: 1, Given: "0"}},
	{"words", "to be or\nnot to be\n", none, Fault{Kind: NotNumber, Line: 1, Column: 1, Given: "to"}},
	{"column beyond", plain(0), Layout{CurrentColumn: 3}, Fault{Kind: NoColumn, Column: 3, Given: "3"}},
	{"the same column", plain(0), Layout{TimeColumn: 1, CurrentColumn: 1}, Fault{Kind: NoColumn, Column: 1, Given: "1"}},
	{"unknown unit", "Time (s),Current (kg)\n" + plain(0), none,
		Fault{Kind: UnknownUnit, Line: 1, Column: 2, Given: "kg", Name: "Current (kg)",
			Want: []string{"A", "mA", "µA", "kA", "V", "mV", "µV"}}},
	{"unit asked for", plain(0), Layout{TimeUnit: "weeks"},
		Fault{Kind: UnknownUnit, Column: 1, Given: "weeks", Want: []string{"s", "ms", "µs", "ns", "min", "h"}}},
	{"volts", "Time (s),Channel B (V)\n" + plain(0), none, Fault{Kind: NeedsProbe, Line: 1, Column: 2, Given: "V", Name: "Channel B (V)"}},
	{"volts below a name", "Time,Channel B\n(s),(V)\n" + plain(0), none,
		Fault{Kind: NeedsProbe, Line: 1, Column: 2, Given: "V", Name: "Channel B"}},
	{"comma for both", rows(func(k int) string {
		return strings.ReplaceAll(number(float64(k)/1000+1), ".", ",") + "00,0,5" + strconv.Itoa(k%7)
	}), none, Fault{Kind: Ambiguous}},
	{"three digits behind a comma", rows(func(k int) string { return strconv.Itoa(k) + ";1,25" + strconv.Itoa(k%7) }), none,
		Fault{Kind: Ambiguous, Line: 40, Column: 2, Given: "1,254", Reads: [2]string{"1.254", "1254"}}},
	{"both marks", with(9, "0.008;0,5"), none, Fault{}},
}

func TestReadFaults(t *testing.T) {
	for _, c := range faulty {
		t.Run(c.name, func(t *testing.T) {
			_, err := Read(c.text, c.layout)
			f := &Fault{}
			require.ErrorAs(t, err, &f)
			switch {
			case c.want.Kind == 0:
				assert.NotZero(t, f.Line)
			case c.want.Kind == Ambiguous && c.want.Line == 0:
				assert.Equal(t, Ambiguous, f.Kind, "%v", f)
				assert.NotEqual(t, f.Reads[0], f.Reads[1])
				assert.NotZero(t, f.Line)
			default:
				assert.Equal(t, c.want, *f, "%v", f)
			}
			assert.True(t, strings.HasPrefix(f.Error(), "recording: read"), f.Error())
		})
	}
}

// TestFaultText checks the text of one error.
func TestFaultText(t *testing.T) {
	_, err := Read("0,1\n0.1,x\n"+plain(1), Layout{})
	assert.EqualError(t, err, `recording: read line 2 column 2: not a number: "x"`)
}

func TestGaps(t *testing.T) {
	all := strings.Split(plain(0), "\n")
	all = append(all[:10], append(all[11:20], all[25:]...)...)
	r, err := Read(strings.Join(all, "\n"), Layout{})
	require.NoError(t, err)
	assert.Equal(t, []int{34, 6, 2}, []int{len(r.T), r.Missing, r.Gaps})
}
