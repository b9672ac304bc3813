package measure

import (
	"math"
	"slices"
)

// A Mixture is a sum of normal distributions, each with its mass, at many values. Those that are so near each other that one stands for
// them are added up first: where they are within 0.02 standard deviations, that one is off by less than 1e-3 of its highest density.
// Checked against [Density].
type Mixture struct {
	at   []float64 // the values, ascending
	sum  []float64
	open [16]heap // not in the sum yet
	next int      // of them, the one to make way
}

// A heap is a normal distribution with a mass.
type heap struct{ mass, mean, u float64 }

// Mix returns a mixture of nothing at values, which ascend.
func Mix(at []float64) Mixture { return Mixture{at: at, sum: make([]float64, len(at))} }

// Add adds a normal distribution, whose u is above 0.
func (m *Mixture) Add(mass, mean, u float64) {
	const near = 0.02
	within := near * u
	for i := range m.open {
		h := &m.open[i]
		if by := mean - h.mean; by < within && by > -within && h.u-u < within && u-h.u < within {
			h.mass += mass
			h.mean += by * mass / h.mass
			h.u += (u - h.u) * mass / h.mass
			return
		}
	}
	m.pile(&m.open[m.next%len(m.open)])
	m.open[m.next%len(m.open)] = heap{mass, mean, u}
	m.next++
}

// pile adds one to the sum. What is more than 6 standard deviations off counts as nothing, as in [Bell].
func (m *Mixture) pile(h *heap) {
	if h.mass == 0 {
		return
	}
	tabled.Do(table)
	top, scale := h.mass/(h.u*math.Sqrt2*math.SqrtPi), bellSteps/h.u
	i, _ := slices.BinarySearch(m.at, h.mean-bellTo*h.u)
	for ; i < len(m.at); i++ {
		z := math.Abs(m.at[i]-h.mean) * scale
		if !(z < bellTo*bellSteps) {
			if m.at[i] > h.mean {
				break
			}
			continue
		}
		k := int(z)
		m.sum[i] += top * (bells[k] + (bells[k+1]-bells[k])*(z-float64(k)))
	}
}

// Densities returns the density at each value.
func (m *Mixture) Densities() []float64 {
	for i := range m.open {
		m.pile(&m.open[i])
		m.open[i] = heap{}
	}
	return m.sum
}
