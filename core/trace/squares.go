package trace

import "math"

// A line is a straight line through points, by least squares.
type line struct{ n, sx, sy, sxx, sxy float64 }

func (l *line) add(x, y float64) {
	l.n, l.sx, l.sy, l.sxx, l.sxy = l.n+1, l.sx+x, l.sy+y, l.sxx+x*x, l.sxy+x*y
}

// slope returns the slope, if the points give one.
func (l *line) slope() (float64, bool) {
	d := l.n*l.sxx - l.sx*l.sx
	if !(d > 0) {
		return 0, false
	}
	return (l.n*l.sxy - l.sx*l.sy) / d, true
}

// sums are running sums, for means over stretches.
type sums []float64

func sumsOf(list []float64) sums {
	s := make(sums, len(list)+1)
	for k, v := range list {
		s[k+1] = s[k] + v
	}
	return s
}

func (s sums) mean(from, size int) float64 { return (s[from+size] - s[from]) / float64(size) }

// normal are the normal equations of least squares with up to five unknowns.
type normal struct {
	h [5][5]float64
	g [5]float64
}

// mirror copies the lower left half of the matrix to the upper right.
func (q *normal) mirror() {
	for i := range q.h {
		for j := range i {
			q.h[j][i] = q.h[i][j]
		}
	}
}

// solve solves the equations of the unknowns from first until k by elimination, with the diagonal enlarged by damping.
func (q normal) solve(first, k int, damping float64) (d [5]float64, ok bool) {
	for i := first; i < k; i++ {
		q.h[i][i] *= 1 + damping
	}
	for i := first; i < k; i++ {
		if !(q.h[i][i] > 1e-300) {
			return d, false
		}
		for j := i + 1; j < k; j++ {
			u := q.h[j][i] / q.h[i][i]
			for c := i; c < k; c++ {
				q.h[j][c] -= u * q.h[i][c]
			}
			q.g[j] -= u * q.g[i]
		}
	}
	for i := k - 1; i >= first; i-- {
		v := q.g[i]
		for c := i + 1; c < k; c++ {
			v -= q.h[i][c] * d[c]
		}
		d[i] = v / q.h[i][i]
		if math.IsNaN(d[i]) || math.IsInf(d[i], 0) {
			return d, false
		}
	}
	return d, true
}
