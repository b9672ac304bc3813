package bank

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/measure"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
	"ohmwright/testdata"
)

// A maker draws what a meter shows of true resistances. Its errors are drawn apart from the code: one for all that readings share, one
// for each reading's last digit, one for the leads'.
type maker struct {
	r      *rand.Rand
	meter  measure.Meter
	leads  float64
	normal bool // errors have the same standard deviation as the rectangles, and a normal distribution
}

func (m maker) error() float64 {
	if m.normal {
		return m.r.NormFloat64() / math.Sqrt(3)
	}
	return m.r.Float64()*2 - 1
}

// sheet is a question about windings of these true resistances.
func (m maker) sheet(truth []float64) Question {
	own := math.Min(m.meter.Counts, 1) * m.meter.Resolution
	shared := m.error()
	show := func(r float64) float64 {
		return r + shared*(r*m.meter.Percent/100+m.meter.Counts*m.meter.Resolution-own) + m.error()*own
	}
	q := Question{Base: winding.Measurement{At: 20, AtWithin: 2, Meter: m.meter, Material: winding.Copper}, Reference: 20,
		OtherAsThis: true, OtherTolerance: 0.1, AlikeWithin: 0.05, FalseAlarm: 0.05, Insulation: 1e6}
	if m.leads > 0 {
		q.Base.LeadsGiven, q.Base.Leads = true, quantity.Resistance(max(0, show(m.leads)))
	}
	q.OtherBase = q.Base
	spec := winding.Row{Band: measure.Band{Min: 1, Max: 100}, At: 20, Nominal: 50.5}
	for _, r := range truth {
		q.Rows = append(q.Rows, Row{Reading: &measure.Reading{Ohms: quantity.Resistance(max(0, show(r+m.leads)))}, Spec: &spec})
	}
	return q
}

// edges are true resistances whose median is one: all within t of it, and as far out as that allows.
func edges(n int, one, t float64, how int) []float64 {
	truth := make([]float64, n)
	for i := range truth {
		truth[i] = one
		switch {
		case how == 1 && i == 0:
			truth[i] = one * (1 + t)
		case how == 2 && i == 0:
			truth[i] = one * (1 - t)
		case how == 3 && i < n/2:
			truth[i] = one * (1 - t)
		case how == 3 && i >= (n+1)/2:
			truth[i] = one * (1 + t)
		}
	}
	return truth
}

// TestFalseAlarms draws sheets of sound windings as far from each other as sound ones may be, read by one meter with its common error,
// and counts those that are said to have an odd one: no more than the probability that is named. Errors are drawn as the rectangles
// that they are taken for, and as normal ones of the same standard deviation, whose tails are longer. A chance of 30 % is asked for as
// well, where too small an uncertainty would show.
func TestFalseAlarms(t *testing.T) {
	sheets := testdata.Several(2000)
	r := rand.New(rand.NewPCG(7, 7))
	most := 0.0
	for _, n := range []int{3, 4, 5, 8, 24} {
		for how := range 4 {
			for _, alpha := range []float64{0.05, 0.3} {
				for _, normal := range []bool{false, true} {
					m := maker{r, measure.Meter{Percent: 3, Counts: 3, Resolution: 0.1}, 0.3, normal}
					alarms := 0
					for range sheets {
						q := m.sheet(edges(n, 5.3, 0.05, how))
						q.FalseAlarm = quantity.Ratio(alpha)
						if alarmed(q.Find()) {
							alarms++
						}
					}
					rate := float64(alarms) / float64(sheets)
					most = max(most, rate/alpha)
					assert.LessOrEqual(t, rate, alpha+3*math.Sqrt(alpha*(1-alpha)/float64(sheets)),
						"%d windings, case %d, asked for at most %v, normal errors %v", n, how, alpha, normal)
				}
			}
		}
	}
	t.Logf("most false alarms, as a share of those accepted: %.2f", most)
	assert.Greater(t, most, 0.2, "hardly any false alarm at all: the sheets drawn do not try the test")
}

func alarmed(f Finding) bool {
	for _, j := range f.Rows {
		if j.Alike != nil && (j.Alike.Verdict == LikeOdd || j.Alike.Verdict == LikeDisagree) {
			return true
		}
	}
	return false
}

// TestOddOneIsFound draws sheets with one winding that has lost turns, and counts those where it and no other is called odd.
func TestOddOneIsFound(t *testing.T) {
	const sheets = 2000
	r := rand.New(rand.NewPCG(8, 8))
	for _, c := range []struct {
		lost  float64
		meter measure.Meter
		least float64
	}{
		{0.30, measure.Meter{Percent: 1, Counts: 2, Resolution: 0.1}, 0.99},
		{0.15, measure.Meter{Percent: 1, Counts: 2, Resolution: 0.1}, 0.90},
		{0.10, measure.Meter{Percent: 1, Counts: 2, Resolution: 0.01}, 0.90},
	} {
		found := 0
		for range sheets {
			truth := make([]float64, 8)
			for i := range truth {
				truth[i] = 5.3 * (1 + (r.Float64()*2-1)*0.02)
			}
			odd := r.IntN(8)
			truth[odd] = 5.3 * (1 - c.lost)
			f := maker{r, c.meter, 0.3, false}.sheet(truth).Find()
			right := f.Rows[odd].Alike.Verdict == LikeOdd
			for i, j := range f.Rows {
				right = right && (i == odd || j.Alike.Verdict != LikeOdd)
			}
			if right {
				found++
			}
		}
		rate := float64(found) / sheets
		t.Logf("%v of the turns lost, %+v: found in %.3f", c.lost, c.meter, rate)
		assert.GreaterOrEqual(t, rate, c.least, "%v of the turns lost", c.lost)
	}
}

// TestBesideHasTheRightDoubt compares the uncertainty of a ratio with the spread of drawn ones, for one other and for two.
func TestBesideHasTheRightDoubt(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 12 {
		m := maker{r, measure.Meter{Percent: r.Float64() * 3, Counts: 1 + 3*r.Float64(), Resolution: 0.05}, 0.1 + r.Float64(), r.IntN(2) == 0}
		truth := []float64{4 + 8*r.Float64(), 4 + 8*r.Float64(), 4 + 8*r.Float64()}
		for _, others := range []int{1, 2} {
			const samples = 20000
			sum, square := 0.0, 0.0
			for range samples {
				q := m.sheet(truth)
				one := func(i int) float64 { return float64(q.Rows[i].Reading.Ohms - q.Base.Leads) }
				ratio := one(0) / one(1)
				if others == 2 {
					ratio = one(0) / (one(1) + one(2))
				}
				sum, square = sum+ratio, square+ratio*ratio
			}
			mean := sum / samples
			spread := math.Sqrt(square/samples - mean*mean)
			q := exact(m, truth)
			e := winding.Beside(q.measured(q.Rows[0]), q.measured(q.Rows[1]))
			if others == 2 {
				e = winding.Beside(q.measured(q.Rows[0]), q.measured(q.Rows[1]), q.measured(q.Rows[2]))
			}
			require.InDelta(t, 1, e.U/spread, 0.05, "%+v, %v", m, truth)
			require.InDelta(t, mean, e.Value, 5*spread/math.Sqrt(samples)+spread*spread)
		}
	}
}

// exact is the sheet as a meter without errors would show it, with the doubt that its accuracy gives.
func exact(m maker, truth []float64) Question {
	accuracy := m.meter
	m.meter = measure.Meter{}
	q := m.sheet(truth)
	q.Base.Meter = accuracy
	return q
}
