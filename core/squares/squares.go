// Package squares solves least squares: a straight line, and normal equations of up to five unknowns.
package squares

import "math"

// A Line is a straight line through points, by least squares: their number, and sums of x, y, x² and xy.
type Line struct{ N, SX, SY, SXX, SXY float64 }

// Add adds a point.
func (l *Line) Add(x, y float64) {
	l.N, l.SX, l.SY, l.SXX, l.SXY = l.N+1, l.SX+x, l.SY+y, l.SXX+x*x, l.SXY+x*y
}

// Slope returns the slope, if the points give one.
//
//	(n Σxy − Σx Σy)/(n Σx² − (Σx)²)
func (l *Line) Slope() (float64, bool) {
	d := l.N*l.SXX - l.SX*l.SX
	if !(d > 0) {
		return 0, false
	}
	return (l.N*l.SXY - l.SX*l.SY) / d, true
}

// Normal are the normal equations H·d = G of least squares with up to five unknowns.
type Normal struct {
	H [5][5]float64
	G [5]float64
}

// Mirror copies the lower left half of the matrix to the upper right.
func (q *Normal) Mirror() {
	for i := range q.H {
		for j := range i {
			q.H[j][i] = q.H[i][j]
		}
	}
}

// Solve solves the equations of the unknowns from first until k by elimination, with the diagonal enlarged by damping. It returns
// false if they have no one solution.
func (q Normal) Solve(first, k int, damping float64) (d [5]float64, ok bool) {
	for i := first; i < k; i++ {
		q.H[i][i] *= 1 + damping
	}
	for i := first; i < k; i++ {
		if !(q.H[i][i] > 1e-300) {
			return d, false
		}
		for j := i + 1; j < k; j++ {
			u := q.H[j][i] / q.H[i][i]
			for c := i; c < k; c++ {
				q.H[j][c] -= u * q.H[i][c]
			}
			q.G[j] -= u * q.G[i]
		}
	}
	for i := k - 1; i >= first; i-- {
		v := q.G[i]
		for c := i + 1; c < k; c++ {
			v -= q.H[i][c] * d[c]
		}
		d[i] = v / q.H[i][i]
		if math.IsNaN(d[i]) || math.IsInf(d[i], 0) {
			return d, false
		}
	}
	return d, true
}
