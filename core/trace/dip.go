package trace

import "math"

const (
	certain = 6    // standard deviations of a bend that is no noise
	bendy   = 1.25 // steps of the recorder of a bend that is none of its steps
)

// A dip is the bend of a ramp by a motion's end, in samples of the ramp.
type dip struct {
	found, falls bool
	at, top      int     // the arrival, and the highest before it, or where the motion can have begun at the latest
	t, value     float64 // of the arrival
	depth        float64
	z            float64
	scale        int
}

// look finds the sharpest upward bend of a ramp: an exponential has none. A motion's end is one, as the current then rises
// again at once.
func (p *ramp) look() (d dip) {
	n := len(p.t)
	st, sy := make([]float64, n+1), make([]float64, n+1)
	for k := range n {
		st[k+1], sy[k+1] = st[k]+p.t[k], sy[k]+p.y[k]
	}
	mean := func(from, size int) (t, y float64) {
		return (st[from+size] - st[from]) / float64(size), (sy[from+size] - sy[from]) / float64(size)
	}
	for size := 2; 3*size <= n; size += max(1, size/3) {
		s := p.sigma / math.Sqrt(float64(size))
		for k := 0; k+3*size <= n; k += max(1, size/6) {
			t0, y0 := mean(k, size)
			t1, y1 := mean(k+size, size)
			t2, y2 := mean(k+2*size, size)
			// What the middle lies below the line between the others.
			u := (t1 - t0) / (t2 - t0)
			bend := y0*(1-u) + y2*u - y1
			if z := bend / (s * math.Sqrt((1-u)*(1-u)+u*u+1)); z > d.z && 2*bend > bendy*p.step {
				d.z, d.at, d.scale = z, k+size+size/2, size
			}
		}
	}
	if d.found = d.z > certain; d.found {
		p.refine(&d)
		p.depth(&d, mean)
	}
	return d
}

// refine finds the bend between samples: two parabolas that meet, by least squares over where they do.
func (p *ramp) refine(d *dip) {
	half := max(5, d.scale+d.scale/2)
	from, to := max(0, d.at-2*half), min(len(p.t), d.at+2*half)
	reach := max(3, d.scale)
	best, t0 := math.Inf(1), p.t[d.at]
	scale := p.t[to-1] - p.t[from]
	try := func(c float64) {
		var h [5][5]float64
		var g [5]float64
		yy := 0.0
		for k := from; k < to; k++ {
			x := (p.t[k] - c) / scale
			y := p.y[k] - p.y[d.at]
			row := [5]float64{1, min(x, 0), min(x, 0) * x, max(x, 0), max(x, 0) * x}
			for i := range row {
				for j := range row {
					h[i][j] += row[i] * row[j]
				}
				g[i] += row[i] * y
			}
			yy += y * y
		}
		b, ok := solve(h, g, 5, 1e-12, false)
		if !ok {
			return
		}
		rss := yy
		for i := range b {
			rss -= b[i] * g[i]
		}
		if rss < best {
			best, d.t, d.value = rss, c, b[0]+p.y[d.at]
		}
	}
	d.t, d.value = t0, p.y[d.at]
	stride := max(1, reach/10)
	for k := max(from+3, d.at-reach); k <= min(to-4, d.at+reach); k += stride {
		try(p.t[k])
	}
	step := float64(stride) * (p.t[to-1] - p.t[from]) / float64(to-1-from)
	for range 4 {
		c := d.t
		step /= 2
		try(c - step)
		try(c + step)
	}
	for d.at > 0 && p.t[d.at] > d.t {
		d.at--
	}
	for d.at+1 < len(p.t) && p.t[d.at+1] <= d.t {
		d.at++
	}
}

// depth is how far the current fell to the bend.
func (p *ramp) depth(d *dip, mean func(from, size int) (t, y float64)) {
	size := max(1, min(d.scale/2, d.at/4))
	top := math.Inf(-1)
	for k := 0; k+size <= d.at; k++ {
		if _, y := mean(k, size); y > top {
			top, d.top = y, k+size/2
		}
	}
	d.depth = top - d.value
	d.falls = d.depth > 4*p.sigma*math.Sqrt(2/float64(size))
	if !d.falls {
		d.top, d.depth = d.at, 0
	}
}
