package circuit

import "math"

// The tester's equipment.
const (
	loadOhms      = 12 // the test load
	voltmeterOhms = 10e6
)

// A chain is the circuit with the resistances that a fault leaves; an infinite one is no path.
type chain struct {
	side                             Side
	ret                              Return
	source, pull                     float64
	supply                           float64
	driver, harness, lead, coil      float64
	path                             float64
	coilToCase                       float64 // from the middle of the winding
	leadToGround                     float64 // at the component's side of its connector
	harnessToGround, harnessToSupply float64 // at the unit's connector
	never, always                    bool    // the driver is off, or on, whatever it is told
}

// healthy returns the chain with nothing wrong and a winding of coil ohms.
func (m *Model) healthy(coil float64) chain {
	inf, n := math.Inf(1), &m.Nominal
	return chain{side: m.Side, ret: m.Return, supply: m.Supply, source: n.Source, pull: n.Pull, driver: n.Driver,
		harness: n.Harness, lead: n.Lead, coil: coil, path: n.Path,
		coilToCase: inf, leadToGround: inf, harnessToGround: inf, harnessToSupply: inf}
}

// with returns the chain with a fault. A high resistance is added to the part's own; a weak driver's replaces it.
func (c chain) with(f Fault, x float64) chain {
	inf := math.Inf(1)
	switch f {
	case WindingOpen:
		c.coil = inf
	case WindingShorted:
		c.coil *= 1 - x
	case WindingHigh:
		c.coil += x
	case WindingToCase:
		c.coilToCase = x
	case LeadOpen:
		c.lead = inf
	case LeadHigh:
		c.lead += x
	case LeadToGround:
		c.leadToGround = x
	case HarnessOpen:
		c.harness = inf
	case HarnessHigh:
		c.harness += x
	case HarnessToGround:
		c.harnessToGround = x
	case HarnessToBattery:
		c.harnessToSupply = x
	case PathOpen:
		c.path = inf
	case PathHigh:
		c.path += x
	case DriverNever:
		c.never = true
	case DriverAlways:
		c.always = true
	case DriverWeak:
		c.driver = x
	}
	return c
}

// The nodes of the network.
const (
	supplyPost = iota // the battery's post, behind the source's resistance
	pin               // the control unit's pin and the harness's end of the unit connector
	connector         // the component connector
	top               // the winding's end at the inner lead
	middle            // of the winding
	far               // the winding's far end
	ground
	nodes
)

// A network is a set of resistors between nodes and of currents into the nodes: the conductance matrix, of which only the part
// on and below the diagonal is used, and the right side.
type network struct {
	g [nodes][nodes]float64
	i [nodes]float64
}

// join puts a resistor between two nodes.
func (n *network) join(a, b int, ohms float64) {
	g := 1 / ohms
	n.g[a][a] += g
	n.g[b][b] += g
	n.g[max(a, b)][min(a, b)] -= g
}

// loose is the share of a node's conductance below which what elimination has left is only rounding: the node is connected to
// nothing. The smallest real share is that of a voltmeter beside a contact, 1e-9.
const loose = 1e-12

// solve returns the voltages of the nodes against one of them, by LDLᵀ elimination. A part of the network that is not connected
// to it is at 0 V; stuck is the current into such a part, which has nowhere to go.
func (n *network) solve(reference int) (v [nodes]float64, stuck float64) {
	g, i := &n.g, &n.i
	var whole [nodes]float64
	for k := range whole {
		whole[k] = g[k][k]
	}
	whole[reference] = math.Inf(1)
	for k := range nodes {
		d := g[k][k]
		if d <= loose*whole[k] {
			if k != reference {
				stuck += math.Abs(i[k])
			}
			g[k][k] = 0
			continue
		}
		for r := k + 1; r < nodes; r++ {
			l := g[r][k] / d
			if l == 0 {
				continue
			}
			for c := k + 1; c <= r; c++ {
				g[r][c] -= l * g[c][k]
			}
			i[r] -= l * i[k]
		}
	}
	for k := nodes - 1; k >= 0; k-- {
		if g[k][k] == 0 {
			continue
		}
		s := i[k]
		for r := k + 1; r < nodes; r++ {
			s -= g[r][k] * v[r]
		}
		v[k] = s / g[k][k]
	}
	return v, stuck
}

// power connects the battery, which has the source's resistance in series.
func (n *network) power(c *chain) {
	n.join(supplyPost, ground, c.source)
	n.i[supplyPost] += c.supply / c.source
}

// rail returns the node to which the driver connects the pin and pulls it by its own check current.
func (c *chain) rail() int {
	if c.side == Low {
		return ground
	}
	return supplyPost
}

// conducts reports whether the driver is on when it is told to be on or off.
func (c *chain) conducts(told bool) bool { return (told || c.always) && !c.never }

// unit connects the control unit to its pin, with the driver on or off.
func (n *network) unit(c *chain, on bool) {
	n.join(pin, c.rail(), c.pull)
	if c.conducts(on) {
		n.join(pin, c.rail(), c.driver)
	}
}

// loom connects the harness between the two connectors, with its shorts, which are at the unit's end.
func (n *network) loom(c *chain) {
	n.join(pin, connector, c.harness)
	n.join(pin, ground, c.harnessToGround)
	n.join(pin, supplyPost, c.harnessToSupply)
}

// component connects the inner lead and the winding.
func (n *network) component(c *chain) {
	n.join(connector, top, c.lead)
	n.join(connector, ground, c.leadToGround)
	n.join(top, middle, c.coil/2)
	n.join(middle, far, c.coil/2)
	n.join(middle, ground, c.coilToCase)
}

// back connects the return path.
func (n *network) back(c *chain) {
	if c.side == Low {
		n.join(far, supplyPost, c.path)
	} else {
		n.join(far, ground, c.path)
	}
}

// ohms returns the resistance that a meter finds between two nodes of a network without sources: infinite if there is no path, or
// if it is over the meter's limit (rounding can leave a path of that size where there is none).
func (n *network) ohms(from, to int) float64 {
	n.i[from] = 1
	v, stuck := n.solve(to)
	if stuck > 0.5 || v[from] > OverLimit {
		return math.Inf(1)
	}
	return v[from]
}

// A live holds the voltages and the current of the circuit under voltage, with the driver on or off.
type live struct{ pinVolts, farVolts, supplyVolts, pinAmperes float64 }

// plugged solves the whole circuit under voltage, with a voltmeter at the pin.
func (c *chain) plugged(on bool) live {
	var n network
	n.power(c)
	n.unit(c, on)
	n.loom(c)
	n.component(c)
	n.back(c)
	n.join(pin, ground, voltmeterOhms)
	v, _ := n.solve(ground)
	l := live{pinVolts: v[pin], farVolts: v[far], supplyVolts: v[supplyPost]}
	across := math.Abs(v[c.rail()] - v[pin])
	l.pinAmperes = across / c.pull
	if c.conducts(on) {
		l.pinAmperes += across / c.driver
	}
	return l
}

// predict writes what the wanted tests, a bit each, would read without error; +Inf if there is no path.
func (c *chain) predict(wanted uint32, out *[Tests]float64) {
	const on = 1<<VoltsPinOn | 1<<CurrentOn | 1<<VoltsReturn
	if wanted&on != 0 {
		l := c.plugged(true)
		out[VoltsPinOn], out[CurrentOn], out[VoltsReturn] = l.pinVolts, l.pinAmperes, l.farVolts
		if c.side == Low {
			out[VoltsReturn] = l.supplyVolts - l.farVolts
		}
	}
	if wanted&(1<<VoltsPinOff) != 0 {
		out[VoltsPinOff] = c.plugged(false).pinVolts
	}
	for t := range VoltsUnitFeed {
		if wanted&(1<<t) != 0 && 1<<t&(on|1<<VoltsPinOff) == 0 {
			out[t] = c.unplugged(t)
		}
	}
}

// unplugged returns what a test with a plug pulled reads.
func (c *chain) unplugged(t Test) float64 {
	var n network
	switch t {
	case OhmsWinding: // taken out: nothing else is connected
		n.join(top, middle, c.coil/2)
		n.join(middle, far, c.coil/2)
		return n.ohms(top, far)
	case OhmsComponent:
		n.component(c)
		if c.ret == Wire {
			return n.ohms(connector, far)
		}
		n.back(c)
		return n.ohms(connector, ground)
	case InsulationComponent:
		n.component(c)
		return n.ohms(connector, ground)
	case OhmsUnit:
		n.loom(c)
		n.component(c)
		n.back(c)
		if c.side == Low {
			return n.ohms(pin, supplyPost)
		}
		return n.ohms(pin, ground)
	case OhmsHarness:
		n.loom(c)
		return n.ohms(pin, connector)
	case InsulationHarness:
		n.loom(c)
		return n.ohms(pin, ground)
	case VoltsHarnessOpen:
		n.power(c)
		n.loom(c)
		n.join(pin, ground, voltmeterOhms)
		v, _ := n.solve(ground)
		return v[pin]
	case VoltsFeed:
		n.power(c)
		n.back(c)
		n.join(far, ground, voltmeterOhms)
		v, _ := n.solve(ground)
		return v[far]
	case VoltsLoad:
		n.power(c)
		n.unit(c, true)
		if c.side == Low {
			n.join(pin, supplyPost, loadOhms)
		} else {
			n.join(pin, ground, loadOhms)
		}
		v, _ := n.solve(ground)
		if c.side == Low {
			return v[supplyPost] - v[pin]
		}
		return v[pin]
	}
	panic("circuit: no test " + t.String())
}
