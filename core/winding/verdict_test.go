package winding

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
)

// A bench is one meter and one temperature with the errors that they have, drawn as the contract states them.
type bench struct {
	r      *rand.Rand
	meter  measure.Meter
	common float64 // of the meter, from -1 to 1
}

func newBench(r *rand.Rand) *bench {
	m := measure.Meter{Percent: 0.2 + r.Float64()*2, Counts: float64(r.IntN(4)), Resolution: []float64{0.01, 0.1}[r.IntN(2)]}
	return &bench{r, m, r.Float64()*2 - 1}
}

func (b *bench) error() float64 { return b.r.Float64()*2 - 1 }

// read is what the meter shows of a resistance.
func (b *bench) read(ohms float64) quantity.Resistance {
	common, own := b.meter.Split(ohms)
	return quantity.Resistance(max(0, ohms+common*b.common+own*b.error()))
}

// measure reads a winding that has so many ohm at 20 degC, at a temperature that is known within half, or not at all.
func (b *bench) measure(at20 float64, known bool, half float64, leads float64) Measurement {
	m := Measurement{Meter: b.meter, Material: Copper}
	truth := quantity.Temperature(b.r.Float64()*150 - 20)
	if known {
		m.At, m.AtWithin = truth-quantity.Temperature(half*b.error()), quantity.TemperatureDifference(half)
	} else {
		m.AtUnknown, m.At, m.AtWithin = true, Anywhere.Middle(), Anywhere.HalfWidth()
	}
	m.Reading.Ohms = b.read(at20*Copper.Factor(20, truth) + leads)
	m.Leads, m.LeadsGiven = b.read(leads), true
	m.Leads = min(m.Leads, m.Reading.Ohms)
	return m
}

// A tally counts verdicts and the wrong ones.
type tally struct{ given, wrong int }

func (c *tally) add(given, right bool) {
	if given {
		c.given++
		if !right {
			c.wrong++
		}
	}
}

func (c tally) hold(t *testing.T, what string) {
	require.Greater(t, c.given, 300, "too few verdicts to judge by: %s", what)
	share := float64(c.wrong) / float64(c.given)
	t.Logf("%s: of %d verdicts %.2f %% wrong", what, c.given, share*100)
	assert.LessOrEqual(t, share, 0.05, what)
}

// TestVerdictsAreRight draws windings, reads them with all the errors that are stated, and counts the verdicts that are wrong: at 95 %,
// at most one in twenty. The windings are drawn evenly over a wide range; and again within 2.5 u of a limit alone, where every verdict
// is a close one.
func TestVerdictsAreRight(t *testing.T) {
	for _, known := range []bool{true, false} {
		for _, near := range []bool{false, true} {
			name := map[bool]string{true: "temperature known", false: "temperature not known"}[known] +
				map[bool]string{true: ", near a limit"}[near]
			judged(t, name, known, near)
		}
	}
}

func judged(t *testing.T, name string, known, near bool) {
	r := rand.New(rand.NewPCG(12, 7))
	rows, ratios := tally{}, tally{}
	for range 30000 {
		b := newBench(r)
		low := 3 + r.Float64()*20
		row := Row{Band: measure.Band{Min: low, Max: low * (1.02 + r.Float64())}, At: 20, Nominal: 1}
		if r.IntN(3) == 0 {
			row.Band.Max = measure.Everything().Max
		}
		half, leads := r.Float64()*10, r.Float64()/2
		truth, beside := low*(0.4+r.Float64()*2), low*(0.4+r.Float64()*2)
		good := b.measure(low, true, 2, leads)
		if near {
			truth = low + 2.5*b.error()*b.measure(low, known, half, leads).Corrected(20).U
			beside = low * (0.9 + 2.5*b.error()*Compare(b.measure(low*0.9, known, half, leads), good, 0.1).Ratio.U)
		}
		m := b.measure(truth, known, half, leads)
		j := m.Judge(row)
		right := map[measure.Verdict]bool{measure.Below: truth < row.Band.Min, measure.Above: truth > row.Band.Max,
			measure.Within: truth >= row.Band.Min && truth <= row.Band.Max}
		rows.add(j.Verdict != measure.Undecided, right[j.Verdict])
		c := Compare(b.measure(beside, known, half, leads), good, 0.1)
		ratios.add(c.Verdict != Unsure, (c.Verdict == Alike) == (beside/low >= 0.9 && beside/low <= 1.1))
	}
	rows.hold(t, "rows, "+name)
	ratios.hold(t, "known good part, "+name)
}

// TestUnknownTemperatureIsTheMean checks that the chances at an unknown temperature are the mean of those at every temperature that it
// may be, and that the budget adds up there too.
func TestUnknownTemperatureIsTheMean(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 7))
	for range 100 {
		m := random(r)
		m.Material = Copper
		m.AtUnknown, m.At, m.AtWithin = true, Anywhere.Middle(), Anywhere.HalfWidth()
		middle := m.Corrected(20).Value
		row := Row{Band: measure.Band{Min: middle * (0.8 + r.Float64()/4), Max: middle * (1 + r.Float64()/4)}, At: 20}
		mean, n := measure.Conformity{}, 3000
		for i := range n {
			at := m
			at.AtUnknown, at.AtWithin = false, 0
			at.At = Anywhere.From + (Anywhere.To-Anywhere.From)*quantity.Temperature((float64(i)+0.5)/float64(n))
			c := at.Judge(row).Chance
			mean.Below, mean.Above = mean.Below+c.Below/float64(n), mean.Above+c.Above/float64(n)
		}
		j := m.Judge(row)
		require.InDelta(t, mean.Below, j.Chance.Below, 1e-3)
		require.InDelta(t, mean.Above, j.Chance.Above, 1e-3)
		sum := 0.0
		for _, c := range m.Budget(20) {
			sum += c.U * c.U
		}
		require.InEpsilon(t, j.Corrected.U*j.Corrected.U, sum, 1e-9)
	}
}

// TestWarmFindsTheTemperature checks that the resistance method gives back the temperature that a winding was warmed to, and that one
// which follows its material has the ratio 1.
func TestWarmFindsTheTemperature(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 7))
	follows := tally{}
	for range 4000 {
		at20, hot, cold := 2+r.Float64()*30, quantity.Temperature(40+r.Float64()*90), quantity.Temperature(r.Float64()*30)
		exact := func(at quantity.Temperature) Measurement {
			ohms := quantity.Resistance(at20 * Copper.Factor(20, at))
			return Measurement{Reading: measure.Reading{Ohms: ohms}, At: at, Material: Copper}
		}
		w := Warm(exact(hot), Cold{exact(cold), 0.05})
		require.InDelta(t, float64(hot), w.Temperature.Value, 1e-9)
		require.InDelta(t, float64(hot-cold), w.Rise.Value, 1e-9)
		require.InDelta(t, 1, w.Ratio.Value, 1e-9)
		require.Zero(t, w.Ratio.U)

		b := newBench(r)
		by := 0.8 + r.Float64()*0.4 // the warm winding is this much off its material
		warm, was := b.measure(at20*by, true, 3, 0.2), b.measure(at20, true, 2, 0.2)
		w = Warm(warm, Cold{was, 0.05})
		follows.add(w.Verdict != Unsure, (w.Verdict == Follows) == (by >= 0.95 && by <= 1.05))
	}
	follows.hold(t, "follows its material")
}
