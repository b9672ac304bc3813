package fastener_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/fastener"
	"ohmwright/core/quantity"
)

func torque(t *testing.T, text string) quantity.Value {
	t.Helper()
	v, err := quantity.Parse(text, quantity.Point, quantity.OfTorque)
	require.NoError(t, err)
	return v
}

func compare(t *testing.T, pair string) fastener.Pair {
	t.Helper()
	a, b, ok := strings.Cut(pair, "/")
	require.True(t, ok, pair)
	return fastener.Compare(torque(t, strings.TrimSpace(a)), torque(t, strings.TrimSpace(b)))
}

// TestPairsAsPrinted checks the verdict of pairs as manuals print them, each worked out by hand from the exact factors.
func TestPairsAsPrinted(t *testing.T) {
	for pair, want := range map[string]fastener.Agreement{
		"8 N.m / 71 in-lb":       fastener.Agree, // 70.8
		"10 N.m / 89 in-lb":      fastener.Agree, // 88.5
		"10 N.m / 90 in-lb":      fastener.Agree, // 10.17 N·m rounds to both
		"25 N.m / 18 ft-lb":      fastener.Agree, // 18.4
		"25 N.m / 19 ft-lb":      fastener.Agree, // 25.4 N·m is 18.7
		"12 N.m / 106 in-lb":     fastener.Agree,
		"12 N.m / 106.2 in-lb":   fastener.Agree,
		"210 N.m / 155 ft-lb":    fastener.Agree, // 154.9
		"1.0 kgf.m / 7.2 ft-lb":  fastener.Agree, // 7.23
		"10 N.m / 1.0 kgf.m":     fastener.Agree, // 9.8
		"100 kgf.cm / 87 in-lb":  fastener.Agree, // 86.8
		"113 cN.m / 10 in-lb":    fastener.Agree,
		"9.8 N.m / 7.2 ft-lb":    fastener.Agree,
		"39.2 N.m / 4.0 kgf.m":   fastener.Agree, // 39.2
		"70 N.m / 50 ft-lb":      fastener.Rounding,
		"110 N.m / 80 ft-lb":     fastener.Rounding, // 81.1
		"45.0 N.m / 34 ft-lb":    fastener.Rounding, // 33.2, cut upwards
		"140 N.m / 105 ft-lb":    fastener.Rounding, // 103.3
		"50 N.m / 35 ft-lb":      fastener.Rounding, // 36.9
		"210 N.m / 115 ft-lb":    fastener.Disagree,
		"10 N.m / 89 ft-lb":      fastener.Disagree,
		"120 N.m / 120 ft-lb":    fastener.Disagree,
		"10 N.m / 98 in-lb":      fastener.Disagree,
		"10.0 N.m / 90 in-lb":    fastener.Rounding,
		"10.00 N.m / 92.0 in-lb": fastener.Disagree,
		"10 N.m / 10 N.m":        fastener.Agree,
		"10 N.m / 9 N.m":         fastener.Disagree,
		"10 N.m / 10.2 N.m":      fastener.Agree,
		"10 N.m / 14 N.m":        fastener.Disagree,
	} {
		assert.Equal(t, want.String(), compare(t, pair).Verdict.String(), pair)
	}
}

func TestSlipsAsPrinted(t *testing.T) {
	for _, c := range []struct {
		pair, first string // kind, figure, and what is meant
		also        string
	}{
		{"210 N.m / 115 ft-lb", "digit 1 155lbf.ft", ""},
		{"10 N.m / 89 ft-lb", "wrong_unit 1 89lbf.in", ""},
		{"25 N.m / 18 in-lb", "wrong_unit 1 18lbf.ft", ""},
		{"120 N.m / 120 ft-lb", "wrong_unit 1 120N.m", "wrong_unit 0 120lbf.ft"},
		{"89 in-lb / 89 N.m", "wrong_unit 1 89lbf.in", "wrong_unit 0 89N.m"},
		{"100 N.m / 136 ft-lb", "factor_inverted 1 74lbf.ft", "factor_inverted 0 184N.m"},
		{"20 N.m / 2.26 in-lb", "factor_inverted 1 177lbf.in", ""},
		{"12 N.m / 10.6 in-lb", "decimal_point 1 106lbf.in", "decimal_point 0 1.2N.m"},
		{"12 N.m / 1062 in-lb", "decimal_point 1 106.2lbf.in", ""},
		{"8 N.m / 710 in-lb", "decimal_point 1 71lbf.in", ""},
		{"10 N.m / 98 in-lb", "transposed 1 89lbf.in", ""},
		{"47 N.m / 53 ft-lb", "transposed 1 35lbf.ft", ""},
		{"1.0 kgf.m / 87 ft-lb", "wrong_unit 1 87lbf.in", ""},
		{"20 kgf.m / 17 in-lb", "wrong_unit 0 20kgf.cm", ""},
		{"35 cN.m / 26 ft-lb", "wrong_unit 0 35N.m", ""},
		{"16 ozf.in / 16 in-lb", "wrong_unit 1 16ozf.in", "wrong_unit 0 16lbf.in"},
		{"10 N.m / 89 N.m", "wrong_unit 1 89lbf.in", ""},
	} {
		var got []string
		p := compare(t, c.pair)
		for _, s := range p.Slips {
			got = append(got, s.String()+" "+strconv.Itoa(s.Figure)+" "+s.Meant.String())
		}
		require.NotEmpty(t, got, c.pair)
		assert.Equal(t, c.first, got[0], "%s: %v", c.pair, got)
		if c.also != "" {
			assert.Contains(t, got, c.also, c.pair)
		}
		t.Log(c.pair, got)
	}
	s := compare(t, "210 N.m / 115 ft-lb").Slips[0]
	assert.Equal(t, 155.0, s.Number())
	assert.InDelta(t, 155*footPound, s.Meant.In, 1e-9)
}

func TestPairDifference(t *testing.T) {
	p := compare(t, "210 N.m / 115 ft-lb")
	assert.InDelta(t, 115*footPound/210-1, float64(p.Difference), 1e-12)
	assert.Equal(t, "115lbf.ft", p.Figures[1].String())
	for pair, want := range map[string]float64{
		"0 N.m / 10 N.m": 1, "0 N.m / 0 ft-lb": 0, "1e-300 N.m / 1e300 N.m": 1e9, "-5 N.m / 5 N.m": -2,
	} {
		p := compare(t, pair)
		assert.Equal(t, want, float64(p.Difference), pair)
		assert.NotNil(t, p.Verdict)
	}
	assert.Equal(t, fastener.Agree, compare(t, "0 N.m / 0 ft-lb").Verdict)
	assert.Equal(t, fastener.Disagree, compare(t, "0 N.m / 10 ft-lb").Verdict)
	assert.Empty(t, compare(t, "0 N.m / 10 ft-lb").Slips)
	assert.Empty(t, compare(t, "-5 N.m / 5 N.m").Slips)
}

// TestSpans checks spans worked out by hand.
func TestSpans(t *testing.T) {
	for _, c := range []struct {
		pair                 string
		least, most, leeways [2]float64
	}{
		{"2 N.m / 18 in-lb", [2]float64{1.5, 17.5 * inchPound}, [2]float64{2.5, 18.5 * inchPound}, [2]float64{0.25, 0.5 / 18}},
		{"1 N.m / 13 in-lb", [2]float64{0.5, 12.5 * inchPound}, [2]float64{1.5, 13.5 * inchPound}, [2]float64{0.5, 0.5 / 13}},
		{"10.0 N.m / 90 in-lb", [2]float64{9.95, 89.5 * inchPound}, [2]float64{10.05, 90.5 * inchPound}, [2]float64{0.005, 0.5 / 90}},
		{"210 N.m / 115 ft-lb", [2]float64{209.5, 114.5 * footPound}, [2]float64{210.5, 115.5 * footPound}, [2]float64{0.5 / 210, 0.5 / 115}},
		{"0 N.m / 0.4 cN.m", [2]float64{0, 0.0035}, [2]float64{0.5, 0.0045}, [2]float64{1, 0.125}},
		{"1e3 N.m / 0.00 N.m", [2]float64{500, 0}, [2]float64{1500, 0.005}, [2]float64{0.5, 1}},
	} {
		p := compare(t, c.pair)
		for k, s := range p.Spans {
			assert.InDelta(t, c.least[k], float64(s.Least), 1e-12*c.most[k], c.pair)
			assert.InDelta(t, c.most[k], float64(s.Most), 1e-12*c.most[k], c.pair)
			assert.InDelta(t, c.leeways[k], float64(s.Leeway()), 1e-12, c.pair)
		}
	}
	p := compare(t, "1 N.m / 13 in-lb")
	assert.Equal(t, fastener.Agree, p.Verdict)
	assert.InDelta(t, 0.469, float64(p.Difference), 0.001)
	assert.Greater(t, p.Spans[0].Most, p.Spans[1].Least, "that is why they agree")
	assert.Zero(t, fastener.Span{}.Leeway())
	for _, s := range compare(t, "1e308 N.m / 1.7e308 N.m").Spans {
		assert.False(t, math.IsInf(float64(s.Most), 0) || math.IsNaN(float64(s.Leeway())), "%v", s)
	}
	// Two figures in different units agree if and only if their spans touch.
	r := rand.New(rand.NewPCG(8, 4))
	for range 2000 {
		d := drawn(r)
		d.torque *= 1 + 0.1*r.Float64()
		first := d.printed(0)
		d.torque *= 1 + 0.2*(r.Float64()-0.5)
		pair := first + d.units[0] + " / " + d.printed(1) + d.units[1]
		p := compare(t, pair)
		gap := float64(max(p.Spans[0].Least, p.Spans[1].Least) - min(p.Spans[0].Most, p.Spans[1].Most))
		if math.Abs(gap) > 1e-8*d.torque {
			require.Equal(t, gap < 0, p.Verdict == fastener.Agree, pair)
		}
	}
}

// written rounds a number to so many significant digits, as it is printed: without an exponent.
func written(n float64, digits int) string {
	s := strconv.FormatFloat(n, 'e', digits-1, 64)
	f, _ := strconv.ParseFloat(s, 64)
	decimals := max(0, digits-1-int(math.Floor(math.Log10(f)+1e-12)))
	return strconv.FormatFloat(f, 'f', decimals, 64)
}

// factors are N.m per unit, from the definitions (facts 5.1).
var factors = map[string]float64{
	"N.m": 1, "cN.m": 0.01, "lbf.in": inchPound, "lbf.ft": footPound, "kgf.cm": 0.0980665, "kgf.m": 9.80665, "daN.m": 10,
	"ozf.in": inchPound / 16,
}

// A draw is a torque, two units, and the number of digits that it is printed with in each.
type draw struct {
	torque float64
	units  [2]string
	digits [2]int
}

func drawn(r *rand.Rand) draw {
	pairs := [][2]string{
		{"N.m", "lbf.in"}, {"N.m", "lbf.ft"}, {"N.m", "kgf.cm"}, {"N.m", "kgf.m"}, {"lbf.in", "kgf.cm"}, {"lbf.ft", "kgf.m"},
		{"cN.m", "lbf.in"}, {"daN.m", "lbf.ft"},
	}
	d := draw{math.Exp(math.Log(1) + r.Float64()*math.Log(300)), pairs[r.IntN(len(pairs))], [2]int{2 + r.IntN(2), 2 + r.IntN(2)}}
	if r.IntN(4) == 0 {
		d.units[0], d.units[1] = d.units[1], d.units[0]
	}
	return d
}

func (d draw) printed(k int) string { return written(d.torque/factors[d.units[k]], d.digits[k]) }

func TestHonestRoundingNeverDisagrees(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 3))
	count := map[fastener.Agreement]int{}
	for range 2000 {
		d := drawn(r)
		pair := d.printed(0) + d.units[0] + " / " + d.printed(1) + d.units[1]
		p := compare(t, pair)
		require.NotEqual(t, fastener.Disagree, p.Verdict, pair)
		assert.Empty(t, p.Slips, pair)
		count[p.Verdict]++
	}
	t.Logf("of 2000: agree %d, rounding %d", count[fastener.Agree], count[fastener.Rounding])
	assert.Greater(t, count[fastener.Agree], 1500, "rounding: %d", count[fastener.Rounding])
}

// A planted is an honest pair with a slip put into one figure.
type planted struct {
	draw
	at     int // the figure with the slip
	text   [2]string
	kind   string
	meant  string // what the figure was, in its unit; "" if that is the torque drawn
	inUnit [2]string
}

// misprints are the units that are printed for a unit by mistake.
var misprints = map[string][]string{
	"lbf.in": {"lbf.ft"}, "lbf.ft": {"lbf.in"}, "kgf.cm": {"kgf.m"}, "kgf.m": {"kgf.cm"},
	"N.m": {"cN.m", "daN.m", "lbf.ft", "lbf.in"}, "cN.m": {"N.m"}, "daN.m": {"N.m"},
}

// plant puts in a slip of one of five kinds; ok is false if it would change nothing or leave no number.
func plant(r *rand.Rand, kind int) (p planted, ok bool) {
	d := drawn(r)
	p = planted{draw: d, at: 1, text: [2]string{d.printed(0), d.printed(1)}, inUnit: d.units}
	if r.IntN(4) == 0 {
		p.at = 0
	}
	p.kind, p.meant = []string{"wrong_unit", "factor_inverted", "decimal_point", "transposed", "digit"}[kind], p.text[p.at]+d.units[p.at]
	text := &p.text[p.at]
	switch p.kind {
	case "wrong_unit":
		if r.IntN(3) == 0 { // printed twice
			*text = p.text[1-p.at]
			p.meant = *text + d.units[1-p.at]
		} else {
			from := misprints[d.units[p.at]]
			p.inUnit[p.at] = from[r.IntN(len(from))]
		}
	case "factor_inverted":
		p.meant = ""
		n := d.torque / factors[d.units[1-p.at]] * factors[d.units[p.at]] / factors[d.units[1-p.at]]
		*text = written(n, d.digits[p.at])
	case "decimal_point":
		n, _ := strconv.ParseFloat(*text, 64)
		by := []float64{10, 0.1, 10, 0.1, 100, 0.01}[r.IntN(6)]
		*text = strconv.FormatFloat(math.Round(n*by*1e6)/1e6, 'f', -1, 64)
	case "transposed":
		b := []byte(*text)
		j := 1 + r.IntN(len(b)-1)
		if b[j] == '.' || b[j-1] == '.' || b[j] == b[j-1] || b[0] == '0' || j == 1 && b[1] == '0' {
			return p, false
		}
		b[j], b[j-1] = b[j-1], b[j]
		*text = string(b)
	case "digit":
		b := []byte(*text)
		j := r.IntN(len(b))
		c := byte('1' + r.IntN(9))
		if b[j] == '.' || b[j] == c || b[0] == '0' {
			return p, false
		}
		b[j] = c
		*text = string(b)
	}
	return p, true
}

// pair returns the pair as printed.
func (p planted) pair() string { return p.text[0] + p.inUnit[0] + " / " + p.text[1] + p.inUnit[1] }

// is reports whether a slip is the one that was put in: of its kind, in its figure, and within 6 % of what was meant.
func (p planted) is(t *testing.T, s fastener.Slip) bool {
	if s.String() != p.kind || s.Figure != p.at {
		return false
	}
	want := p.torque
	if p.meant != "" {
		want = torque(t, p.meant).In
	}
	return math.Abs(s.Meant.In/want-1) < 0.06
}

// A tally counts slips: those that show, those named, those named first, and those whose kind is named first.
type tally struct{ shown, named, first, kind int }

func (n tally) String() string {
	share := func(k int) float64 { return 100 * float64(k) / float64(n.shown) }
	const form = "shown %4d, named %.1f %%, first %.1f %%, its kind first %.1f %%"
	return fmt.Sprintf(form, n.shown, share(n.named), share(n.first), share(n.kind))
}

// TestSlipsPutInAreFound puts a slip into one figure of an honest pair, and counts how often it is named, and first.
func TestSlipsPutInAreFound(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 3))
	all, sum := map[string]tally{}, tally{}
	for k := range 2500 {
		put, ok := plant(r, k%5)
		if !ok {
			continue
		}
		pair := put.pair()
		p := compare(t, pair)
		if p.Verdict != fastener.Disagree {
			continue // too small a slip to show
		}
		one := tally{shown: 1}
		for i, s := range p.Slips {
			assert.True(t, s.Figure == 0 || s.Figure == 1)
			// What is meant agrees with the other figure, or would by rounding.
			q := p.Figures
			q[s.Figure] = s.Meant
			assert.NotEqual(t, fastener.Disagree, fastener.Compare(q[0], q[1]).Verdict, "%s: %v", pair, s)
			if put.is(t, s) && one.named == 0 {
				one.named = 1
				if i == 0 {
					one.first = 1
				}
			}
		}
		if len(p.Slips) > 0 && p.Slips[0].String() == put.kind {
			one.kind = 1
		}
		n := all[put.kind]
		for _, to := range []*tally{&n, &sum} {
			*to = tally{to.shown + one.shown, to.named + one.named, to.first + one.first, to.kind + one.kind}
		}
		all[put.kind] = n
	}
	for kind, n := range all {
		t.Logf("%-16s %s", kind, n)
	}
	t.Log("all:", sum)
	assert.Greater(t, float64(sum.named), 0.9*float64(sum.shown))
	assert.Greater(t, float64(sum.first), 0.5*float64(sum.shown))
}

func TestPairWords(t *testing.T) {
	for a, want := range map[fastener.Agreement]string{
		fastener.Agree: "agree", fastener.Rounding: "rounding", fastener.Disagree: "disagree", 9: "unknown",
	} {
		assert.Equal(t, want, a.String())
	}
	for k, want := range map[fastener.SlipKind]string{
		fastener.WrongUnit: "wrong_unit", fastener.FactorInverted: "factor_inverted", fastener.DecimalPoint: "decimal_point",
		fastener.Transposed: "transposed", fastener.Digit: "digit", 0: "unknown",
	} {
		assert.Equal(t, want, k.String())
	}
}
