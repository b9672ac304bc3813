package trace

import "math"

const (
	certain = 6    // standard deviations of a bend that is no noise
	bendy   = 1.25 // steps of the recorder of a bend that is none of its steps, where noise averages them
	bendier = 1    // more where it does not: a current between two steps is shown as the one or the other for long

	// A motion ends once. So many more bends of so much of its size are a ripple: hum of the mains, a generator, other drives.
	rivals     = 3
	rivalShare = 0.7
)

// A dip is the bend of a ramp by a motion's end, in samples of the ramp.
type dip struct {
	found, falls bool
	sags         bool    // not found, as the current falls and stays low
	rippled      bool    // not found, as there are others like it
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
	// What the middle of three stretches from a sample on lies below the line between the others.
	bend := func(k, size int) (bend, spread float64) {
		t0, y0 := mean(k, size)
		t1, y1 := mean(k+size, size)
		t2, y2 := mean(k+2*size, size)
		u := (t1 - t0) / (t2 - t0)
		return y0*(1-u) + y2*u - y1, math.Sqrt((1-u)*(1-u) + u*u + 1)
	}
	least := p.bend()
	sharpest := 0.0
	for size := max(2, n/1500); 3*size <= n; size += max(1, size/3) {
		s := p.sigma / math.Sqrt(float64(size))
		for k := 0; k+3*size <= n; k += max(1, size/5) {
			b, spread := bend(k, size)
			if z := b / (s * spread); z > d.z && 2*b > least {
				d.z, d.at, d.scale, sharpest = z, k+size+size/2, size, b
			}
		}
	}
	if d.z > certain {
		others, last, size := 0, -n, d.scale
		for k := 0; k+3*size <= n; k += max(1, size/5) {
			here := k + size + size/2
			if b, _ := bend(k, size); b >= rivalShare*sharpest && here-last >= size && max(here-d.at, d.at-here) > 3*size/2 {
				others, last = others+1, here
			}
		}
		d.rippled = others >= rivals
	}
	if d.found = d.z > certain && !d.rippled; d.found {
		p.refine(&d)
		p.depth(&d, mean)
		if !d.falls {
			p.deepest(&d, mean)
		}
		if d.falls && !p.again(&d, mean) {
			d.found, d.sags = false, true
		}
	}
	return d
}

// again says whether the current rises behind a fall: it does once a plunger is at its stop, and not if the supply sags.
func (p *ramp) again(d *dip, mean func(from, size int) (t, y float64)) bool {
	size := max(2, d.scale/2)
	for k := d.at; k+size <= len(p.t); k += size {
		if _, y := mean(k, size); y-d.value > max(d.depth/4, 4*p.sigma/math.Sqrt(float64(size))) {
			return true
		}
	}
	return false
}

// deepest takes the deepest fall of a ramp in place of a bend without one: the sharpest bend may be that of a rebound.
func (p *ramp) deepest(d *dip, mean func(from, size int) (t, y float64)) {
	n, size := len(p.t), max(2, d.scale/2)
	top, most := math.Inf(-1), 0.0
	peak, from, at := 0, 0, 0
	for k := 0; k+size <= n; k++ {
		_, y := mean(k, size)
		if y > top {
			top, peak = y, k+size/2
		}
		if fall := top - y; fall > most {
			most, from, at = fall, peak, k+size/2
		}
	}
	if most < max(smallestStep*p.rise, outstanding(n)*p.sigma*math.Sqrt(2/float64(size))+2*p.step) || n-at < 4*size {
		return
	}
	fall := *d
	fall.at, fall.scale = at, max(4, min(d.scale, (at-from)*3/5)) // the parabolas stay behind the highest
	p.refine(&fall)
	p.depth(&fall, mean)
	if fall.falls {
		*d = fall
	}
}

// bend is what the recorder's steps may feign.
func (p *ramp) bend() float64 {
	if p.step == 0 {
		return 0
	}
	return (bendy + bendier*max(0, min(1, 2-4*p.sigma/p.step))) * p.step
}

// refine finds the bend between samples: two parabolas that meet, by least squares over where they do. The stretch that they
// are laid through is shortened until they fit it.
func (p *ramp) refine(d *dip) {
	d.t, d.value = p.t[d.at], p.y[d.at]
	widest := max(6, d.scale*5/4)
	narrowest := max(6, int(float64(widest)*math.Pow(2*certain/d.z, 2./3)))
	for half := widest; ; half = half * 7 / 10 {
		last := half*7/10 < narrowest
		from, to := max(0, d.at-half), min(len(p.t), d.at+half+1)
		if to-from < 9 {
			return
		}
		scale := p.t[to-1] - p.t[from]
		zero := p.y[d.at]
		best := math.Inf(1)
		try := func(c float64) {
			var h [5][5]float64
			var g [5]float64
			rss := 0.0
			for k := from; k < to; k++ {
				x, y := (p.t[k]-c)/scale, p.y[k]-zero
				a, b := min(x, 0), max(x, 0)
				row := [5]float64{1, a, a * a, b, b * b}
				for i := range row {
					for j := range i + 1 {
						h[i][j] += row[i] * row[j]
					}
					g[i] += row[i] * y
				}
				rss += y * y
			}
			for i := range h {
				for j := range i {
					h[j][i] = h[i][j]
				}
			}
			b, ok := solve(h, g, 5, 1e-12, false)
			if !ok {
				return
			}
			for i := range b {
				rss -= b[i] * g[i]
			}
			if rss < best {
				best, d.t, d.value = rss, c, zero+b[0]
			}
		}
		stride := max(1, half/12)
		for k := from + 3; k <= to-4; k += stride {
			try(p.t[k])
		}
		step := float64(stride) * scale / float64(to-1-from)
		for range 4 {
			c := d.t
			step /= 2
			try(c - step)
			try(c + step)
		}
		for d.at > from && p.t[d.at] > d.t {
			d.at--
		}
		for d.at+1 < to && p.t[d.at+1] <= d.t {
			d.at++
		}
		n := float64(to - from - 6)
		if last || best < n*p.sigma*p.sigma*(1+0.7*math.Sqrt(2/n)) {
			return
		}
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
