package recording

import "math"

// Average returns mean and root mean square between two times, with straight lines between samples; zeros if to is not after from.
func (s Samples) Average(from, to float64) (mean, rms float64) {
	if to <= from {
		return 0, 0
	}
	sum, square := 0.0, 0.0
	for k := 1; k < len(s.T); k++ {
		t0, t1 := max(s.T[k-1], from), min(s.T[k], to)
		if t1 <= t0 {
			continue
		}
		a, b := s.At(k, t0), s.At(k, t1)
		sum += (t1 - t0) * (a + b) / 2
		square += (t1 - t0) * (a*a + a*b + b*b) / 3
	}
	return sum / (to - from), math.Sqrt(square / (to - from))
}

// At returns the current at a time on the straight line between samples k-1 and k.
func (s Samples) At(k int, t float64) float64 {
	u := (t - s.T[k-1]) / (s.T[k] - s.T[k-1])
	return s.I[k-1] + u*(s.I[k]-s.I[k-1])
}

// Outline returns the samples that a drawing needs: all, or the lowest and highest of each bucket if there are more than two for each.
func (s Samples) Outline(buckets int) []int {
	n := len(s.T)
	list := make([]int, 0, min(n, 2*buckets))
	if n <= 2*buckets {
		for k := range n {
			list = append(list, k)
		}
		return list
	}
	for b := range buckets {
		from, to := b*n/buckets, (b+1)*n/buckets
		low, high := from, from
		for k := from; k < to; k++ {
			if s.I[k] < s.I[low] {
				low = k
			}
			if s.I[k] > s.I[high] {
				high = k
			}
		}
		for _, k := range [2]int{min(low, high), max(low, high)} {
			if len(list) == 0 || k > list[len(list)-1] {
				list = append(list, k)
			}
		}
	}
	return list
}
