package bank

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// fine is a meter of 0.5 % and two hundredths.
var fine = measure.Meter{Percent: 0.5, Counts: 2, Resolution: 0.01}

// sheetOf is a sheet of windings specified at 5.0 to 5.6 ohm at 20 °C, read at 20 °C. A reading below 0 is over the limit, 0 not taken.
func sheetOf(readings ...float64) Question {
	base := winding.Measurement{At: 20, AtWithin: 2, Meter: fine, Material: winding.Copper, LeadsGiven: true}
	q := Question{Base: base, OtherBase: base, OtherAsThis: true, Reference: 20, OtherTolerance: 0.1, AlikeWithin: 0.05, FalseAlarm: 0.05,
		Insulation: 1e6}
	for _, r := range readings {
		q.Rows = append(q.Rows, Row{Reading: shown(r), Spec: &winding.Row{Band: measure.Band{Min: 5, Max: 5.6}, At: 20, Nominal: 5.3}})
	}
	return q
}

func shown(r float64) *measure.Reading {
	switch {
	case r < 0:
		return &measure.Reading{Over: true}
	case r == 0:
		return nil
	}
	return &measure.Reading{Ohms: quantity.Resistance(r)}
}

// likes are the verdicts among alike rows; "" where a row was not compared.
func likes(f Finding) (out []Likeness) {
	for _, j := range f.Rows {
		if j.Alike == nil {
			out = append(out, "")
		} else {
			out = append(out, j.Alike.Verdict)
		}
	}
	return out
}

func TestOverall(t *testing.T) {
	for name, c := range map[string]struct {
		q     Question
		want  Overall
		count int
	}{
		"all plausible":        {sheetOf(5.3, 5.31, 5.25, 5.28), Plausible, 4},
		"one out":              {sheetOf(5.3, 3.2, 5.25, 5.28), Out, 1},
		"one open":             {sheetOf(5.3, -1, 5.25, 5.28), Out, 1},
		"a limit in the doubt": {sheetOf(5.3, 5.0, 5.25, 5.28), Undecided, 1},
		"one not read":         {sheetOf(5.3, 0, 5.25, 5.28), NotRead, 1},
		"all low alike":        {sheetOf(4.5, 4.52, 4.49, 4.55), OffTogether, 4},
		"all high alike":       {sheetOf(6.4, 6.42, 6.39, 6.45), OffTogether, 4},
		"low alike, one open":  {sheetOf(4.5, 4.52, -1, 4.49, 4.55), Out, 1},
		"low alike, one short": {sheetOf(4.5, 4.52, 1.2, 4.49, 4.55), Out, 1},
		"low, and not alike":   {sheetOf(4.5, 2.2, 3.3, 1.1), Out, 4},
		"to both sides":        {sheetOf(4.5, 6.5, 4.5, 6.5), Out, 4},
		"two are no bank":      {sheetOf(4.5, 4.52), Out, 2},
	} {
		f := c.q.Find()
		assert.Equal(t, c.want, f.Overall, name)
		assert.Equal(t, c.count, f.Count, name)
	}
}

// TestOddOfAlike: one of alike windings, two groups of the same size, and too few.
func TestOddOfAlike(t *testing.T) {
	assert.Equal(t, []Likeness{LikeAlike, LikeAlike, LikeOdd, LikeAlike}, likes(sheetOf(5.3, 5.31, 4.2, 5.28).Find()))
	assert.Equal(t, []Likeness{LikeOdd, LikeAlike, LikeAlike}, likes(sheetOf(9, 5.3, 5.3).Find()))
	four := likes(sheetOf(5.3, 5.3, 4, 4).Find())
	assert.Equal(t, slices.Repeat([]Likeness{LikeDisagree}, 4), four, "two of each: which are odd cannot be told")
	assert.Equal(t, slices.Repeat([]Likeness{LikeDisagree}, 3), likes(sheetOf(3, 5, 9).Find()))
	assert.Equal(t, []Likeness{"", ""}, likes(sheetOf(5.3, 3).Find()), "two are too few")
	assert.Equal(t, []Likeness{LikeAlike, "", LikeAlike, LikeAlike}, likes(sheetOf(5.3, -1, 5.3, 5.3).Find()), "an open one has no value")
	mixed := sheetOf(5.3, 5.3, 5.3, 12)
	mixed.Rows[3].Spec = &winding.Row{Band: measure.Band{Min: 11, Max: 13}, At: 20, Nominal: 12}
	assert.Equal(t, []Likeness{LikeAlike, LikeAlike, LikeAlike, ""}, likes(mixed.Find()), "another specification is not alike")
	for i := range mixed.Rows {
		mixed.Rows[i].Spec = nil
	}
	assert.Equal(t, []Likeness{LikeAlike, LikeAlike, LikeAlike, LikeOdd}, likes(mixed.Find()), "without one all are taken as alike")
}

// TestOddNeedsNoTemperature: the odd one stays the odd one where the temperature is not known, though nothing else can be told.
func TestOddNeedsNoTemperature(t *testing.T) {
	q := sheetOf(5.3, 5.31, 4.6, 5.28)
	q.Base.AtUnknown, q.Base.At, q.Base.AtWithin = true, winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
	want := sheetOf(5.3, 5.31, 4.6, 5.28).Find()
	f := q.Find()
	assert.Equal(t, likes(want), likes(f))
	for i := range f.Rows {
		assert.Equal(t, want.Rows[i].Alike.P, f.Rows[i].Alike.P)
	}
	assert.Equal(t, Odd, f.Overall)
	assert.Nil(t, f.Shared, "nothing is known of a factor where the temperature is not known")
}

// TestShared: the factor, the temperature that would explain it, and what a second unit tells.
func TestShared(t *testing.T) {
	q := sheetOf(6.36, 6.36, 6.36, 6.36)
	s := q.Find().Shared
	require.NotNil(t, s)
	assert.InDelta(t, 1.2, s.Factor.Value, 1e-12, "6.36/5.3")
	assert.InDelta(t, -234.5+1.2*254.5, s.FitsAt.Value, 1e-9, "copper that has 1.2 times its resistance at 20 °C")
	assert.Equal(t, SecondSilent, s.Second)
	for i := range q.Rows {
		q.Rows[i].Other = shown(5.3)
	}
	assert.Equal(t, SecondFits, q.Find().Shared.Second)
	for i := range q.Rows {
		q.Rows[i].Other = shown(6.3)
	}
	assert.Equal(t, SecondToo, q.Find().Shared.Second)
	// Windings of two kinds that share a factor.
	for i := range 3 {
		q.Rows = append(q.Rows, Row{Reading: shown(14.4), Spec: &winding.Row{Band: measure.Band{Min: 11, Max: 13}, At: 20, Nominal: 12}})
		_ = i
	}
	f := q.Find()
	require.NotNil(t, f.Shared)
	assert.Equal(t, 7, f.Shared.Rows)
	// Most of them plausible: the three that are out are not explained.
	f = sheetOf(5.3, 5.3, 5.3, 5.3, 5.3, 4.6, 4.6, 4.6).Find()
	assert.Nil(t, f.Shared)
	assert.Equal(t, Out, f.Overall)
}

// TestSideBySide: without a temperature the second unit beside this one is compared all the same, since both have the same.
func TestSideBySide(t *testing.T) {
	q := sheetOf(5.3, 5.3)
	q.Rows[0].Other, q.Rows[1].Other = shown(5.3), shown(8)
	for _, b := range []*winding.Measurement{&q.Base, &q.OtherBase} {
		b.AtUnknown, b.At, b.AtWithin = true, winding.Anywhere.Middle(), winding.Anywhere.HalfWidth()
	}
	f := q.Find()
	assert.Equal(t, winding.Alike, f.Rows[0].Comparison.Verdict)
	assert.Equal(t, winding.Differs, f.Rows[1].Comparison.Verdict)
	assert.InDelta(t, 5.3/8, f.Rows[1].Comparison.Ratio.Value, 1e-12)
}

// TestInsulation: OL and far more than the least are plausible, far less is a leak, the least itself cannot be told.
func TestInsulation(t *testing.T) {
	for r, want := range map[float64]Insulated{-1: InsulationPlausible, 20e6: InsulationPlausible, 1e6: InsulationUnsure,
		2e4: InsulationLeaks, 3: InsulationLeaks} {
		q := sheetOf(5.3)
		q.Rows[0].ToCase = shown(r)
		f := q.Find()
		assert.Equal(t, want, f.Rows[0].ToCase, "%v ohm", r)
		assert.Equal(t, map[Insulated]Overall{InsulationPlausible: Plausible, InsulationUnsure: Undecided,
			InsulationLeaks: Leak}[want], f.Overall)
	}
}

// TestPins: with nothing shared a number is a leak; with a common feed the sum of two windings is expected.
func TestPins(t *testing.T) {
	pair := func(common bool, r float64) Pair {
		q := sheetOf(5.3, 5.2)
		q.Common, q.Pins = common, []Pin{{From: 0, To: 1, Reading: *shown(r)}}
		return q.Find().Pins[0].Verdict
	}
	assert.Equal(t, PairPlausible, pair(false, -1))
	assert.Equal(t, PairLeak, pair(false, 10.5))
	assert.Equal(t, PairPlausible, pair(true, 10.5))
	assert.Equal(t, PairOpen, pair(true, -1))
	assert.Equal(t, PairLow, pair(true, 6))
	assert.Equal(t, PairHigh, pair(true, 14))
	assert.Equal(t, PairUnsure, pair(true, 10.5*1.05))
}

// TestOrderDoesNotMatter: rows in another order have the same verdicts.
func TestOrderDoesNotMatter(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 200 {
		n := 1 + r.IntN(12)
		readings := make([]float64, n)
		for i := range readings {
			readings[i] = []float64{5.3, 4.4, 6.5, -1, 0, 5.02, 5.3}[r.IntN(7)] * (1 + float64(r.IntN(3))/100)
		}
		q := sheetOf(readings...)
		for i := range q.Rows {
			if r.IntN(2) == 0 {
				q.Rows[i].Other = shown(5.2)
			}
		}
		want := q.Find()
		order := r.Perm(n)
		shuffled := q
		shuffled.Rows = make([]Row, n)
		for i, k := range order {
			shuffled.Rows[i] = q.Rows[k]
		}
		got := shuffled.Find()
		require.Equal(t, want.Overall, got.Overall, "%v", readings)
		require.Equal(t, want.Count, got.Count)
		for i, k := range order {
			require.Equal(t, want.Rows[k], got.Rows[i])
		}
	}
}
