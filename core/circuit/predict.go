package circuit

import "math"

// A Sight is what a test should read, and how that changes with the knobs, each in ohm. The value is +Inf if there is no path.
type Sight struct {
	Value float64
	By    [Knobs]float64
}

// A View is what tests should read with the driver doing as it is told, and, for tests on a driver that is told to be on, what
// they would read if it stayed off.
type View struct {
	On  [Tests]Sight
	Off [Tests]Sight
	// Volts is what the control unit is left with between its supply and its ground, driver on.
	Volts float64
	// Inside are the volts at the control unit's own output, driver off and on: what its checks see, whatever its plug does. They are
	// worked out only if [InsideToo] is in what is wanted.
	Inside [2]Sight
}

// A Set is a set of tests, a bit each.
type Set uint32

// Has reports whether a test is in the set.
func (s Set) Has(t Test) bool { return s>>t&1 == 1 }

// InsideToo is for a set of what is wanted: also what the control unit's own checks see.
const InsideToo = Set(1) << Tests

// OnAlone is for a set of what is wanted: without what tests would read if the driver stayed off.
const OnAlone = Set(1) << (Tests + 1)

// With returns the set with a test more.
func (s Set) With(t Test) Set { return s | 1<<t }

// Staged are the tests whose reading depends on what the driver does when it is told to be on; Told are those of them with
// everything plugged in.
var Staged, Told = func() (staged, told Set) {
	for t := range Test(Tests) {
		if tests[t].driven {
			told = told.With(t)
		}
	}
	return told.With(VoltsLoad), told
}()

// ohms returns the resistance that a meter finds between two nodes of a network without sources: infinite if there is no path, or
// if it is over the meter's limit (rounding can leave a path of that size where there is none).
func (n *network) ohms(from, to int) (s Sight) {
	n.eliminate(to)
	var i [nodes]float64
	from = n.at(from)
	i[from] = 1
	if from == n.at(to) {
		return s
	}
	v, stuck := n.solve(i, to)
	if stuck > 0.5 || v[from] > OverLimit {
		s.Value = math.Inf(1)
		return s
	}
	s.Value = v[from]
	if !n.level {
		n.slopes(&v, &v, 1, &s.By)
	}
	return s
}

// volts returns the voltage of a node of an eliminated and solved network against another.
func (n *network) volts(v *[nodes]float64, a, b int) (s Sight) {
	a, b = n.at(a), n.at(b)
	s.Value = v[a] - v[b]
	if n.level {
		return s
	}
	var i [nodes]float64
	i[a]++
	i[b]--
	adjoint, _ := n.solve(i, ground)
	n.slopes(v, &adjoint, 1, &s.By)
	return s
}

// inside returns the voltage of the control unit's output against its ground.
func (n *network) inside(v *[nodes]float64) Sight { return n.volts(v, pin, earth) }

// plugged returns the whole circuit under voltage, with a voltmeter at the pin.
func (c *Chain) plugged(n *network, on bool) (v [nodes]float64) {
	n.level = c.level
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
	return v
}

// amperes returns the current in the control wire: that of everything inside the unit that ends at its output.
func (n *network) amperes(c *Chain, v *[nodes]float64, on bool) (s Sight) {
	f, e, p := n.at(feed), n.at(earth), n.at(pin)
	var i [nodes]float64
	branch := func(rail int, g float64) {
		s.Value += g * (v[rail] - v[p])
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
	if s.Value < 0 {
		sign = -1
		s.Value = -s.Value
	}
	if n.level {
		return s
	}
	adjoint, _ := n.solve(i, ground)
	// The adjoint is of what flows out of the pin's node.
	n.slopes(v, &adjoint, sign, &s.By)
	if c.conducts(on) {
		if c.changed == driverKnobbed {
			s.By[FaultKnob] += sign * direct * c.slope
		} else {
			s.By[DriverKnob] += sign * direct
		}
	}
	inside := func(k knobbed, rail int, ohms float64) {
		if c.changed == k {
			s.By[FaultKnob] -= sign * (v[rail] - v[p]) / (ohms * ohms)
		}
	}
	inside(pinToFeedKnobbed, f, c.pinToFeed)
	inside(pinToEarthKnobbed, e, c.pinToEarth)
	return s
}

// Untouched returns the tests that a fault cannot change: they read as in a healthy circuit.
func (m *Model) Untouched(f Fault) (all Set) {
	for t := range Test(Tests) {
		if !m.touches(f, t) {
			all = all.With(t)
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

// Values is Predict without slopes, and without what tests would read if the driver stayed off.
func (c Chain) Values(wanted Set, out *View) {
	c.level = true
	c.Predict(wanted|OnAlone, out)
}

// Predict works out what the wanted tests read without error.
func (c *Chain) Predict(wanted Set, out *View) {
	if wanted&Told != 0 {
		var n network
		v := c.plugged(&n, true)
		if wanted&InsideToo != 0 {
			out.Inside[1] = n.inside(&v)
		}
		c.driven(&n, &v, true, wanted, &out.On)
		out.Volts = v[n.at(feed)] - v[n.at(earth)]
	}
	off := wanted&OnAlone == 0
	if wanted.Has(VoltsPinOff) || off && wanted&Told != 0 {
		var n network
		v := c.plugged(&n, false)
		if wanted&InsideToo != 0 {
			out.Inside[0] = n.inside(&v)
		}
		if wanted.Has(VoltsPinOff) {
			out.On[VoltsPinOff] = n.volts(&v, plug, ground)
		}
		if off {
			c.driven(&n, &v, false, wanted, &out.Off)
		}
	}
	for t := range Test(Tests) {
		if wanted.Has(t) && t.unplugs() {
			out.On[t] = c.pulled(t, true)
		}
	}
	if wanted.Has(VoltsLoad) && off {
		out.Off[VoltsLoad] = c.pulled(VoltsLoad, false)
	}
}

// unplugs reports whether a test measures something with a plug pulled.
func (t Test) unplugs() bool { return !Told.Has(t) && t != VoltsPinOff && t.Quantity() <= Amperes }

// driven works out the tests with everything plugged in, and the driver on or, though it is told to be on, off.
func (c *Chain) driven(n *network, v *[nodes]float64, on bool, wanted Set, out *[Tests]Sight) {
	out[CurrentOn] = n.amperes(c, v, on)
	for _, t := range onWires {
		if wanted.Has(t) {
			a, b := c.probes(t)
			out[t] = n.volts(v, a, b)
		}
	}
}

// onWires are the tests that measure volts with everything plugged in and the driver told to be on.
var onWires = [...]Test{VoltsPinOn, VoltsReturn, VoltsUnitFeed, VoltsUnitGround, SupplyDriven}

// probes returns between which nodes the volts of one of these are measured.
func (c *Chain) probes(t Test) (a, b int) {
	switch t {
	case VoltsReturn:
		if c.side == Low {
			return supplyPost, far
		}
		return far, ground
	case VoltsUnitFeed:
		return feed, ground
	case VoltsUnitGround:
		return earth, ground
	case SupplyDriven:
		return supplyPost, ground
	}
	return plug, ground
}

// pulled returns what a test with a plug pulled reads; on: the driver does as it is told.
func (c *Chain) pulled(t Test, on bool) Sight {
	n := network{level: c.level}
	a, b := c.unplugged(&n, t, on)
	if t.Quantity() == Ohms {
		return n.ohms(a, b)
	}
	v := n.measured(a, b)
	return n.volts(&v, a, b)
}

// unplugged connects what there is in a test with a plug pulled, and returns between which nodes is measured.
func (c *Chain) unplugged(n *network, t Test, on bool) (a, b int) {
	switch t {
	case OhmsWinding: // taken out: nothing else is connected
		n.coil(c)
		return top, far
	case OhmsComponent:
		n.component(c, false, false)
		if c.ret == Wire {
			return inlet, far
		}
		n.back(c, false)
		return inlet, ground
	case InsulationComponent:
		n.component(c, false, false)
		return inlet, ground
	case OhmsUnit:
		n.loom(c, false, false)
		n.part(c, connector, inlet, c.plug, noKnob, plugKnobbed)
		n.component(c, true, false)
		n.back(c, false)
		return plug, c.home()
	case OhmsHarness:
		n.loom(c, false, false)
		return plug, connector
	case InsulationHarness:
		n.loom(c, false, false)
		return plug, ground
	}
	n.power(c)
	switch t {
	case VoltsHarnessOpen:
		n.loom(c, true, false)
		return plug, ground
	case VoltsFeed:
		n.back(c, true)
		return far, ground
	case VoltsLoad:
		n.unit(c, on)
		if c.side == Low {
			n.join(supplyPost, pin, loadOhms)
			return supplyPost, pin
		}
		n.join(pin, ground, loadOhms)
		return pin, ground
	}
	panic("circuit: no test " + t.String())
}

// measured puts a voltmeter between two nodes of a network under voltage, and returns the voltages.
func (n *network) measured(a, b int) (v [nodes]float64) {
	n.join(b, a, voltmeterOhms)
	i := n.i
	n.eliminate(ground)
	v, _ = n.solve(i, ground)
	return v
}

// Predict returns what a test reads without error under a fault, with a parameter and a healthy winding of coil ohms, where
// everything else has its nominal resistance; +Inf for a resistance without a path. The driver does as it is told. Of
// a fault that can occur in several ways it is the first.
func (m *Model) Predict(t Test, f Fault, x, coil float64) float64 {
	return m.predict(t, f, x, coil, 0)
}

func (m *Model) predict(t Test, f Fault, x, coil float64, way int) float64 {
	var v View
	c := m.Chain(&m.Nominal, coil).With(f, x, way)
	c.Predict(Set(1)<<t, &v)
	return v.On[t].Value
}

// ThroughLoad returns the current through the test load, in amperes, with so many volts across it.
func ThroughLoad(volts float64) float64 { return volts / loadOhms }

// LoadAmperes returns the current through the test load, fully on.
func (m *Model) LoadAmperes() float64 { return m.Supply / (loadOhms + m.Nominal.Driver) }
