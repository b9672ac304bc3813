package circuit

import "math"

// A Sweep is a circuit with a fault, solved once for all of the fault's parameters and all windings. How a network of resistors answers a
// change of one of them follows from how it answers a current through that one.
//
//	with e the ends of the resistor, Δg the change of its conductance, z = eᵀG⁻¹e:  v' = v − G⁻¹e κ eᵀv,  κ = Δg/(1 + Δg z)
//
// Source: Sherman and Morrison, 1950. Checked against [Chain.Predict], which solves the changed network anew.
type Sweep struct {
	base  Chain // the one that is solved
	fault Fault
	x     float64 // its parameter
	nets  []ports
	work  solved
}

// A Wound is a sweep with one value of the healthy winding, until that is solved anew.
type Wound struct {
	of   *Sweep
	coil float64
	nets []ports // the sweep's, or own
	own  []ports
}

const (
	mostMoved = 3  // resistances of a network that the winding or the parameter moves
	mostOuts  = 8  // readings of a network
	mostNets  = 12 // networks
)

// A ports is a solved network, as seen across those of its resistances that depend on anything.
type ports struct {
	n, moved, outs int
	knob           [mostTurned]uint8
	g, own         [mostTurned]float64
	ofCoil         [mostTurned]float64
	ofFault        [mostTurned]float64
	v              [mostTurned]float64 // the volts across each
	at             [mostMoved]uint8    // which ones are moved
	row            [mostMoved][mostTurned]float64
	out            [mostOuts]outlet
}

// An outlet is a reading of a solved network. Row and a hold what 1 A through a port makes: volts across another, or of the reading.
type outlet struct {
	to     sightOf
	value  float64
	a      [mostTurned]float64
	ohms   bool // over the meter's limit it is no path
	over   bool // no path, whatever the resistances
	signed bool // its sign counts
	direct int8 // a port whose own conductance is in the reading, or -1
	sign   float64
}

// A sightOf says where in a [View] something stands: what a test reads with the driver on, the same with it off, the volts inside the unit
// with it off and on, and what the unit is left with.
type sightOf uint8

const (
	offSight    = sightOf(Tests)
	insideSight = 2 * offSight
	voltsSight  = insideSight + 2
)

// Sweep solves a circuit with a fault for what is wanted, at a parameter and a winding in the middle of what will be asked for.
func (m *Model) Sweep(n *Nominal, f Fault, way int, x, coil float64, wanted Set, into *Sweep) {
	c := m.Chain(n, coil).With(f, x, way)
	into.base, into.fault, into.x, into.nets = c, f, x, into.nets[:0]
	off := wanted&OnAlone == 0
	if wanted&Told != 0 {
		into.plugged(true, wanted, true)
	}
	if wanted.Has(VoltsPinOff) || off && wanted&Told != 0 {
		into.plugged(false, wanted, off)
	}
	for t := range Test(Tests) {
		if wanted.Has(t) && t.unplugs() {
			into.pulled(t, true, sightOf(t))
		}
	}
	if wanted.Has(VoltsLoad) && off {
		into.pulled(VoltsLoad, false, offSight+sightOf(VoltsLoad))
	}
}

// plugged solves the whole circuit under voltage; driven: what tests read on a driver that is told to be on is asked for.
func (s *Sweep) plugged(on bool, wanted Set, driven bool) {
	c := &s.base
	s.work.v = c.plugged(s.begin(), on)
	a := s.ported()
	first, inside := sightOf(0), insideSight+1
	if !on {
		first, inside = offSight, insideSight
	}
	if wanted&InsideToo != 0 {
		a.volts(inside, pin, earth)
	}
	if on {
		a.volts(voltsSight, feed, earth)
	} else if wanted.Has(VoltsPinOff) {
		a.volts(sightOf(VoltsPinOff), plug, ground)
	}
	if !driven {
		return
	}
	a.amperes(c, on, first+sightOf(CurrentOn))
	for _, t := range onWires {
		if wanted.Has(t) {
			from, to := c.probes(t)
			a.volts(first+sightOf(t), from, to)
		}
	}
}

// pulled solves what a test with a plug pulled reads.
func (s *Sweep) pulled(t Test, on bool, to sightOf) {
	n := s.begin()
	from, against := s.base.unplugged(n, t, on)
	if t.Quantity() != Ohms {
		s.work.v = n.measured(from, against)
		s.ported().volts(to, from, against)
		return
	}
	n.eliminate(against)
	var i [nodes]float64
	stuck := 0.0
	s.work.v = i
	if n.at(from) != n.at(against) {
		i[n.at(from)] = 1
		s.work.v, stuck = n.solve(i, against)
	}
	o := s.ported().volts(to, from, against)
	o.ohms, o.over = true, stuck > 0.5
}

// A solved is a network, its voltages, those that 1 A through each port makes, and what is seen of it.
type solved struct {
	*ports
	n  network
	v  [nodes]float64
	by [mostTurned][nodes]float64
}

// begin begins with an empty network.
func (s *Sweep) begin() *network {
	s.work.n = network{}
	return &s.work.n
}

// ported looks at the solved network across its ports.
func (s *Sweep) ported() *solved {
	if s.nets == nil {
		s.nets = make([]ports, 0, mostNets)
	}
	s.nets = append(s.nets, ports{})
	a := &s.work
	p := &s.nets[len(s.nets)-1]
	a.ports = p
	p.n = a.n.n
	for q := range p.n {
		r := &a.n.turned[q]
		p.knob[q], p.g[q], p.ofCoil[q], p.ofFault[q], p.own[q] = r.knob, r.g, r.ofCoil, r.ofFault, r.own
		if r.ofCoil != 0 {
			p.own[q] = r.ofCoil // times what the fault leaves of the winding
		}
		p.v[q] = a.v[r.a] - a.v[r.b]
		var i [nodes]float64
		i[r.a]++
		i[r.b]--
		a.by[q], _ = a.n.solve(i, ground)
	}
	for q := range p.n {
		if p.ofCoil[q] == 0 && p.ofFault[q] == 0 {
			continue
		}
		for b := range p.n {
			r := &a.n.turned[b]
			p.row[p.moved][b] = a.by[q][r.a] - a.by[q][r.b]
		}
		p.at[p.moved] = uint8(q)
		p.moved++
	}
	return a
}

// outlet adds a reading.
func (a *solved) outlet(to sightOf) *outlet {
	o := &a.out[a.outs]
	a.outs++
	o.to, o.direct, o.signed = to, -1, true
	return o
}

// between adds to a reading g times the volts between two nodes.
func (a *solved) between(o *outlet, from, to int, g float64) {
	from, to = a.n.at(from), a.n.at(to)
	o.value += g * (a.v[from] - a.v[to])
	for q := range a.ports.n {
		o.a[q] += g * (a.by[q][from] - a.by[q][to])
	}
}

// volts adds a reading of the volts between two nodes.
func (a *solved) volts(to sightOf, from, against int) *outlet {
	o := a.outlet(to)
	a.between(o, from, against, 1)
	return o
}

// amperes adds the current in the control wire: that of everything inside the unit that ends at its output; where the fault changes that,
// what leaves it there.
func (a *solved) amperes(c *Chain, on bool, to sightOf) {
	o := a.outlet(to)
	o.signed = false
	direct := uint8(DriverKnob)
	switch o.sign = 1; c.changed {
	case driverKnobbed, pinToFeedKnobbed, pinToEarthKnobbed:
		direct, o.sign = HarnessKnob, -1
		a.between(o, plug, connector, 1/c.harness)
		a.between(o, plug, ground, 1/float64(voltmeterOhms))
	default:
		a.between(o, c.rail(), pin, 1/c.pull)
		a.between(o, feed, pin, 1/c.pinToFeed)
		a.between(o, earth, pin, 1/c.pinToEarth)
		if c.conducts(on) {
			a.between(o, c.rail(), pin, 1/c.driver)
		}
	}
	for q := range a.ports.n {
		if a.knob[q] == direct {
			o.direct = int8(q)
		}
	}
}

// Wind sets the healthy winding.
func (s *Sweep) Wind(coil float64, into *Wound) {
	into.of, into.coil, into.nets = s, coil, s.nets
	if s.base.changed == coilKnobbed { // it is the fault's parameter that sets it
		return
	}
	by := coil - s.base.coil
	if by == 0 || math.IsInf(s.base.coil, 0) {
		return
	}
	if into.own == nil {
		into.own = make([]ports, 0, mostNets)
	}
	into.own = append(into.own[:0], s.nets...)
	into.nets = into.own
	for k := range into.nets {
		p := &into.nets[k]
		for m := range p.moved {
			if of := p.ofCoil[p.at[m]]; of != 0 {
				p.turn(m, by*of)
			}
		}
	}
}

// turned returns a port's conductance after a change of its resistance, and κ.
func (p *ports) turned(m int, by float64) (g, kappa float64) {
	j := p.at[m]
	g = p.g[j] / (1 + by*p.g[j])
	change := g - p.g[j]
	return g, change / (1 + change*p.row[m][j])
}

// turn changes the resistance of a moved port.
func (p *ports) turn(m int, by float64) {
	j := p.at[m]
	g, kappa := p.turned(m, by)
	row := p.row[m]
	volts := kappa * p.v[j]
	for q := range p.n {
		p.v[q] -= volts * row[q]
	}
	for k := range p.outs {
		o := &p.out[k]
		a := kappa * o.a[j]
		o.value -= a * (p.v[j] + volts*row[j]) // of the port before the change
		for q := range p.n {
			o.a[q] -= a * row[q]
		}
	}
	for k := range p.moved {
		z := kappa * p.row[k][j]
		for q := range p.n {
			p.row[k][q] -= z * row[q]
		}
	}
	p.g[j] = g
}

// At works out what was asked for at one value of the fault's parameter.
func (w *Wound) At(x float64, out *View) {
	base := &w.of.base
	by, slope, wound := base.slope*(x-w.of.x), base.slope, base.wound
	if base.changed == coilKnobbed {
		c := Chain{coil: w.coil, wound: 1}.With(w.of.fault, x, 0)
		by, slope, wound = c.coil-base.coil, c.slope, c.wound
	}
	for k := range w.nets {
		w.nets[k].see(by, slope, wound, out)
	}
}

// see works out the readings of a network with the fault's resistance changed.
func (p *ports) see(by, slope, wound float64, out *View) {
	var weight, volts, row [mostTurned]float64
	volts = p.v
	moved, kappa := -1, 0.0
	for m := range p.moved {
		if j := int(p.at[m]); p.ofFault[j] != 0 {
			moved, row = j, p.row[m]
			g, k := p.turned(m, by)
			kappa = k
			for q := range p.n {
				volts[q] -= kappa * p.v[j] * row[q]
				weight[q] = volts[q] * p.g[q] * p.g[q]
			}
			weight[j] = volts[j] * g * g
		}
	}
	if moved < 0 {
		for q := range p.n {
			weight[q] = volts[q] * p.g[q] * p.g[q]
		}
	}
	for k := range p.outs {
		o := &p.out[k]
		a, value := 0.0, o.value
		if moved >= 0 {
			a = kappa * o.a[moved]
			value -= a * p.v[moved]
		}
		if o.to == voltsSight {
			out.Volts = value
			continue
		}
		s := o.to.of(out)
		s.By = [Knobs]float64{}
		if s.Value = value; o.over || o.ohms && value > OverLimit {
			s.Value = math.Inf(1)
			continue
		}
		sign := 1.0
		if value < 0 && !o.signed {
			sign, s.Value = -1, -value
		}
		p.slopes(o, s, &weight, &row, a, sign, slope, wound)
	}
}

// slopes works out how a reading changes with the knobs.
func (p *ports) slopes(o *outlet, s *Sight, weight, row *[mostTurned]float64, a, sign, slope, wound float64) {
	for q := range p.n {
		d := sign * (o.a[q] - a*row[q]) * weight[q]
		switch knob := p.knob[q]; {
		case knob == CoilKnob:
			s.By[CoilKnob] += d * p.own[q] * wound
		case knob < Knobs:
			s.By[knob] += d
		}
		if p.ofFault[q] != 0 {
			s.By[FaultKnob] += d * slope * p.ofFault[q]
		}
	}
	if o.direct >= 0 {
		s.By[p.knob[o.direct]] += sign * o.sign * weight[o.direct]
	}
}

// of returns the place in a view.
func (s sightOf) of(v *View) *Sight {
	switch {
	case s < offSight:
		return &v.On[s]
	case s < insideSight:
		return &v.Off[s-offSight]
	}
	return &v.Inside[s-insideSight]
}
