package circuit

import "math"

// A sight is what a test should read, and how that changes with the knobs, each in ohm. The value is +Inf if there is no path.
type sight struct {
	value float64
	by    [knobs]float64
}

// A view is what tests should read with the driver doing as it is told, and, for tests on a driver that is told to be on, what
// they would read if it stayed off.
type view struct {
	on  [Tests]sight
	off [Tests]float64
	// volts is what the control unit is left with between its supply and its ground, driver on.
	volts float64
	// inside are the volts at the control unit's own output, driver off and on: what its checks see, whatever its plug does.
	inside [2]sight
}

// A set is a set of tests, a bit each.
type set uint32

func (s set) has(t Test) bool { return s>>t&1 == 1 }

func (s set) with(t Test) set { return s | 1<<t }

// staged are the tests whose reading depends on what the driver does when it is told to be on; told are those of them with
// everything plugged in.
var staged, told = func() (staged, told set) {
	for t := range Test(Tests) {
		if tests[t].driven {
			told = told.with(t)
		}
	}
	return told.with(VoltsLoad), told
}()

// ohms returns the resistance that a meter finds between two nodes of a network without sources: infinite if there is no path, or
// if it is over the meter's limit (rounding can leave a path of that size where there is none).
func (n *network) ohms(from, to int) (s sight) {
	n.eliminate(to)
	var i [nodes]float64
	from = n.at(from)
	i[from] = 1
	if from == n.at(to) {
		return s
	}
	v, stuck := n.solve(i, to)
	if stuck > 0.5 || v[from] > OverLimit {
		s.value = math.Inf(1)
		return s
	}
	s.value = v[from]
	n.slopes(&v, &v, 1, &s.by)
	return s
}

// volts returns the voltage of a node of an eliminated and solved network against another.
func (n *network) volts(v *[nodes]float64, a, b int) (s sight) {
	a, b = n.at(a), n.at(b)
	s.value = v[a] - v[b]
	var i [nodes]float64
	i[a]++
	i[b]--
	adjoint, _ := n.solve(i, ground)
	n.slopes(v, &adjoint, 1, &s.by)
	return s
}

// inside returns the voltage of the control unit's output against its ground.
func (n *network) inside(v *[nodes]float64) sight { return n.volts(v, pin, earth) }

// plugged returns the whole circuit under voltage, with a voltmeter at the pin.
func (c *chain) plugged(on bool) (n network, v [nodes]float64) {
	n.power(c)
	n.unit(c, on)
	n.part(c, pin, plug, c.unitPlug, noKnob, unitPlugKnobbed)
	n.loom(c, true, true)
	n.part(c, connector, inlet, c.plug, noKnob, plugKnobbed)
	n.component(c, true, true)
	n.back(c, true)
	n.join(plug, ground, voltmeterOhms)
	i := n.i
	n.eliminate(ground)
	v, _ = n.solve(i, ground)
	return n, v
}

// amperes returns the current in the control wire: that of everything inside the unit that ends at its output.
func (n *network) amperes(c *chain, v *[nodes]float64, on bool) (s sight) {
	f, e, p := n.at(feed), n.at(earth), n.at(pin)
	var i [nodes]float64
	branch := func(rail int, g float64) {
		s.value += g * (v[rail] - v[p])
		i[rail] += g
		i[p] -= g
	}
	rail := n.at(c.rail())
	branch(rail, 1/c.pull)
	branch(f, 1/c.pinToFeed)
	branch(e, 1/c.pinToEarth)
	sign, direct := 1.0, 0.0
	if c.conducts(on) {
		branch(rail, 1/c.driver)
		direct = -(v[rail] - v[p]) / (c.driver * c.driver)
	}
	if s.value < 0 {
		sign = -1
		s.value = -s.value
	}
	adjoint, _ := n.solve(i, ground)
	// The adjoint is of what flows out of the pin's node.
	n.slopes(v, &adjoint, sign, &s.by)
	if c.conducts(on) {
		if c.changed == driverKnobbed {
			s.by[faultKnob] += sign * direct * c.slope
		} else {
			s.by[driverKnob] += sign * direct
		}
	}
	inside := func(k knobbed, rail int, ohms float64) {
		if c.changed == k {
			s.by[faultKnob] -= sign * (v[rail] - v[p]) / (ohms * ohms)
		}
	}
	inside(pinToFeedKnobbed, f, c.pinToFeed)
	inside(pinToEarthKnobbed, e, c.pinToEarth)
	return s
}

// untouched returns the tests that a fault cannot change: they read as in a healthy circuit.
func (m *Model) untouched(f Fault) (all set) {
	for t := range Test(Tests) {
		if !m.touches(f, t) {
			all = all.with(t)
		}
	}
	return all
}

// touches reports whether a fault can change what a test reads.
func (m *Model) touches(f Fault, t Test) bool {
	part := faults[f].part
	wound := part == Winding || f == OtherRow
	switch t {
	case OhmsWinding:
		return wound && f != WindingToCase
	case OhmsComponent:
		return wound || part == Lead || part == Path && m.Return == Case
	case OhmsUnit:
		return wound || part == Lead || part == Path || part == Harness && f != UnitPlugOpen && f != UnitPlugHigh
	case InsulationComponent:
		return wound || part == Lead
	case OhmsHarness:
		return f == HarnessOpen || f == HarnessHigh
	case InsulationHarness, VoltsHarnessOpen:
		return part == Harness
	case VoltsFeed:
		return part == Path
	case VoltsLoad:
		return part == Driver || part == Power
	}
	return f != None
}

// predict works out what the wanted tests read without error.
func (c *chain) predict(wanted set, out *view) {
	if wanted&told != 0 {
		n, v := c.plugged(true)
		out.inside[1] = n.inside(&v)
		c.driven(&n, &v, true, wanted, &out.on)
		out.volts = v[n.at(feed)] - v[n.at(earth)]
	}
	if wanted&(told|1<<VoltsPinOff) != 0 {
		n, v := c.plugged(false)
		out.inside[0] = n.inside(&v)
		if wanted.has(VoltsPinOff) {
			out.on[VoltsPinOff] = n.volts(&v, plug, ground)
		}
		c.undriven(&n, &v, &out.off)
	}
	for t := range Test(Tests) {
		if wanted.has(t) && !told.has(t) && t != VoltsPinOff && t.Quantity() <= Amperes {
			out.on[t] = c.unplugged(t, true)
		}
	}
	if wanted.has(VoltsLoad) {
		out.off[VoltsLoad] = c.unplugged(VoltsLoad, false).value
	}
}

// driven works out the tests with everything plugged in and the driver on.
func (c *chain) driven(n *network, v *[nodes]float64, on bool, wanted set, out *[Tests]sight) {
	if wanted.has(VoltsPinOn) {
		out[VoltsPinOn] = n.volts(v, plug, ground)
	}
	out[CurrentOn] = n.amperes(c, v, on)
	if wanted.has(VoltsReturn) {
		if c.side == Low {
			out[VoltsReturn] = n.volts(v, supplyPost, far)
		} else {
			out[VoltsReturn] = n.volts(v, far, ground)
		}
	}
	if wanted.has(VoltsUnitFeed) {
		out[VoltsUnitFeed] = n.volts(v, feed, ground)
	}
	if wanted.has(VoltsUnitGround) {
		out[VoltsUnitGround] = n.volts(v, earth, ground)
	}
	if wanted.has(SupplyDriven) {
		out[SupplyDriven] = n.volts(v, supplyPost, ground)
	}
}

// undriven works out what the tests on a driver that is told to be on read if it stays off.
func (c *chain) undriven(n *network, v *[nodes]float64, out *[Tests]float64) {
	at := func(a int) float64 { return v[n.at(a)] }
	out[VoltsPinOn], out[VoltsUnitFeed], out[VoltsUnitGround], out[SupplyDriven] = at(plug), at(feed), at(earth), at(supplyPost)
	out[VoltsReturn] = at(far)
	if c.side == Low {
		out[VoltsReturn] = at(supplyPost) - at(far)
	}
	rail, p := at(c.rail()), at(pin)
	out[CurrentOn] = math.Abs((rail-p)/c.pull + (at(feed)-p)/c.pinToFeed + (at(earth)-p)/c.pinToEarth)
	if c.conducts(false) {
		out[CurrentOn] += math.Abs(rail-p) / c.driver
	}
}

// unplugged returns what a test with a plug pulled reads; on: the driver does as it is told.
func (c *chain) unplugged(t Test, on bool) sight {
	var n network
	switch t {
	case OhmsWinding: // taken out: nothing else is connected
		n.coil(c)
		return n.ohms(top, far)
	case OhmsComponent:
		n.component(c, false, false)
		if c.ret == Wire {
			return n.ohms(inlet, far)
		}
		n.back(c, false)
		return n.ohms(inlet, ground)
	case InsulationComponent:
		n.component(c, false, false)
		return n.ohms(inlet, ground)
	case OhmsUnit:
		n.loom(c, false, false)
		n.part(c, connector, inlet, c.plug, noKnob, plugKnobbed)
		n.component(c, true, false)
		n.back(c, false)
		return n.ohms(plug, c.home())
	case OhmsHarness:
		n.loom(c, false, false)
		return n.ohms(plug, connector)
	case InsulationHarness:
		n.loom(c, false, false)
		return n.ohms(plug, ground)
	}
	n.power(c)
	switch t {
	case VoltsHarnessOpen:
		n.loom(c, true, false)
		return n.measured(plug, ground)
	case VoltsFeed:
		n.back(c, true)
		return n.measured(far, ground)
	case VoltsLoad:
		n.unit(c, on)
		if c.side == Low {
			n.join(supplyPost, pin, loadOhms)
			return n.measured(supplyPost, pin)
		}
		n.join(pin, ground, loadOhms)
		return n.measured(pin, ground)
	}
	panic("circuit: no test " + t.String())
}

// measured returns what a voltmeter between two nodes of a network under voltage shows.
func (n *network) measured(a, b int) sight {
	n.join(b, a, voltmeterOhms)
	i := n.i
	n.eliminate(ground)
	v, _ := n.solve(i, ground)
	return n.volts(&v, a, b)
}

// Predict returns what a test reads without error under a fault, with a parameter and a healthy winding of coil ohms, where
// everything else has its nominal resistance; +Inf for a resistance without a path. The driver does as it is told. Of
// a fault that can occur in several ways it is the first.
func (m *Model) Predict(t Test, f Fault, x, coil float64) float64 {
	return m.predict(t, f, x, coil, 0)
}

func (m *Model) predict(t Test, f Fault, x, coil float64, way int) float64 {
	var v view
	c := m.chain(&m.Nominal, coil).with(f, x, way)
	c.predict(set(1)<<t, &v)
	return v.on[t].value
}
