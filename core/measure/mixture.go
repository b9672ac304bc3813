package measure

import (
	"math"
	"slices"
)

// Mixtures are sums of normal distributions, each with its mass, at many values. Those that are near each other are first joined into one
// with the mean and the variance of all of them: where they are within a quarter of a standard deviation, and these within an eighth, it
// is off by less than 3e-3 of its highest density. Crumbs, which have little mass, are joined where they are within one, and these within a
// half. Checked against [Density].
type Mixtures struct {
	at    []float64   // the values, ascending
	sums  [][]float64 // of each mixture
	crumb float64     // what has less mass is one
	open  [1024]heap  // not in the sums yet
}

// A heap is normal distributions that are joined, and what they have in common: the mixture, the first bits of their standard deviations,
// and where their means are, in parts of the least of these.
type heap struct {
	mass, mean, variance float64
	kind                 uint64
	place                float64
}

// Mix returns so many mixtures of nothing at values, which ascend; what has less mass than a crumb is one.
func Mix(n int, at []float64, crumb float64) *Mixtures {
	m := &Mixtures{at: at, sums: make([][]float64, n), crumb: crumb}
	all := make([]float64, n*len(at))
	for i := range m.sums {
		m.sums[i] = all[i*len(at):][:len(at)]
	}
	return m
}

// Add adds a normal distribution, whose u is above 0, to one of the mixtures.
func (m *Mixtures) Add(to int, mass, mean, u float64) {
	const spread = 0x9E3779B97F4A7C15 // 2⁶⁴ over the golden ratio, as Knuth hashes
	rest, parts := 49, 4.0            // of the bits, and of a standard deviation
	if mass < m.crumb {
		rest, parts = 51, 1
	}
	width := math.Float64bits(u) >> rest
	place := math.Floor(parts * mean / math.Float64frombits(width<<rest))
	kind := width<<16 | uint64(to)
	h := &m.open[(math.Float64bits(place)+kind)*spread>>54]
	if h.kind != kind || h.place != place || h.mass == 0 {
		m.pile(h)
		*h = heap{mass, mean, u * u, kind, place}
		return
	}
	by, share := mean-h.mean, mass/(h.mass+mass)
	h.variance += share * (u*u - h.variance + (1-share)*by*by)
	h.mass += mass
	h.mean += by * share
}

// pile adds one to its sum. What is more than 6 standard deviations off counts as nothing, as in [Bell].
func (m *Mixtures) pile(h *heap) {
	if h.mass == 0 {
		return
	}
	tabled.Do(table)
	u, sum := math.Sqrt(h.variance), m.sums[h.kind&(1<<16-1)]
	top, scale := h.mass/(u*math.Sqrt2*math.SqrtPi), bellSteps/u
	i, _ := slices.BinarySearch(m.at, h.mean-bellTo*u)
	for ; i < len(m.at); i++ {
		z := math.Abs(m.at[i]-h.mean) * scale
		if !(z < bellTo*bellSteps) {
			if m.at[i] > h.mean {
				break
			}
			continue
		}
		k := int(z)
		sum[i] += top * (bells[k] + (bells[k+1]-bells[k])*(z-float64(k)))
	}
}

// Densities returns the densities of each mixture at each value.
func (m *Mixtures) Densities() [][]float64 {
	for i := range m.open {
		m.pile(&m.open[i])
		m.open[i] = heap{}
	}
	return m.sums
}
