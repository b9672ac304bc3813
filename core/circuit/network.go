package circuit

import (
	"math"
	"math/bits"
)

// The tester's equipment.
const (
	loadOhms      = 12 // the test load
	voltmeterOhms = 10e6
)

// What stands around the chain, in ohm and volt: common practice.
const (
	idleOhms    = 1e4  // what its outputs draw while they are off
	logicOhms   = 12   // what the control unit draws for itself, as a resistor
	sensorVolts = 5    // of a sensor's wire beside the control wire
	sensorOhms  = 10   // of its supply
	sensorLoad  = 1500 // of the sensor, with the supply off
	otherDriver = 0.4  // another output of the control unit, on
	sharedLoad  = 4    // another load on the same return path
	sharedPart  = 5.0
)

// A bridge is what a wire touches of another circuit.
type bridge uint8

// What the other circuit is.
const (
	noBridge    bridge = iota
	toSensor           // a supply of 5 V
	toWinding          // the wire of another winding, its driver off
	toDriven           // the same, its driver on
	bridgeKinds = iota
)

// A Chain is the circuit with the resistances that a fault leaves; an infinite one is no path. Of those in the way of the
// current, 0 is none.
type Chain struct {
	side                             Side
	ret                              Return
	source, pull                     float64
	supply                           float64
	driver, harness, lead, coil      float64
	path                             float64
	feed, earth                      float64 // the control unit's own
	unitPlug, plug                   float64 // contacts, while plugged
	coilToCase                       float64 // from the middle of the winding
	leadToGround                     float64 // at the component's side of its connector
	leadToSupply                     float64 // the same; at the low side to the feed's terminal
	harnessToGround, harnessToSupply float64 // at the unit's connector
	pinToFeed, pinToEarth            float64 // inside the unit
	never, always                    bool    // the driver is off, or on, whatever it is told
	other, inner                     bridge  // of the harness, and of the inner lead
	bridgeOhms                       float64
	shared                           bool // another load uses the return path too
	apart                            bool // the control unit's outputs have a feed of their own
	level                            bool // slopes are not asked for
	// changed is the resistance that the fault's parameter stands for, and its change with the parameter.
	changed knobbed
	slope   float64
	wound   float64 // what is left of the healthy winding's resistance, or added by another row, as a ratio
}

// A knobbed is one of the chain's resistances that depend on a fault's parameter.
type knobbed uint8

const (
	nothingKnobbed knobbed = iota
	coilKnobbed
	leadKnobbed
	harnessKnobbed
	pathKnobbed
	driverKnobbed
	coilToCaseKnobbed
	leadToGroundKnobbed
	leadToSupplyKnobbed
	harnessToGroundKnobbed
	harnessToSupplyKnobbed
	pinToFeedKnobbed
	pinToEarthKnobbed
	feedKnobbed
	earthKnobbed
	unitPlugKnobbed
	plugKnobbed
	bridgeKnobbed
)

// Chain returns the chain with nothing wrong, these resistances, and a winding of coil ohms.
func (m *Model) Chain(n *Nominal, coil float64) Chain {
	inf := math.Inf(1)
	return Chain{side: m.Side, ret: m.Return, supply: m.Supply, source: n.Source, pull: n.Pull, driver: n.Driver,
		harness: n.Harness, lead: n.Lead, coil: coil, path: n.Path,
		coilToCase: inf, leadToGround: inf, leadToSupply: inf, harnessToGround: inf, harnessToSupply: inf,
		pinToFeed: inf, pinToEarth: inf, wound: 1}
}

// With returns the chain with a fault, in one of its ways. A high resistance is added to the part's own; a weak driver's replaces
// it.
func (c Chain) With(f Fault, x float64, way int) Chain {
	inf := math.Inf(1)
	turn := func(part *float64, value float64, k knobbed) { *part, c.changed, c.slope = value, k, 1 }
	switch f {
	case WindingOpen:
		c.coil = inf
	case WindingShorted:
		c.slope, c.changed = -c.coil, coilKnobbed
		c.coil, c.wound = c.coil*(1-x), 1-x
	case WindingHigh:
		turn(&c.coil, c.coil+x, coilKnobbed)
	case OtherRow:
		c.slope, c.changed = c.coil, coilKnobbed
		c.coil, c.wound = c.coil*x, x
	case WindingToCase:
		turn(&c.coilToCase, x, coilToCaseKnobbed)
	case LeadOpen:
		c.lead = inf
	case LeadHigh:
		turn(&c.lead, c.lead+x, leadKnobbed)
	case LeadToGround:
		turn(&c.leadToGround, x, leadToGroundKnobbed)
	case LeadToBattery:
		turn(&c.leadToSupply, x, leadToSupplyKnobbed)
	case HarnessOpen:
		c.harness = inf
	case HarnessHigh:
		turn(&c.harness, c.harness+x, harnessKnobbed)
	case HarnessToGround:
		turn(&c.harnessToGround, x, harnessToGroundKnobbed)
	case HarnessToBattery:
		turn(&c.harnessToSupply, x, harnessToSupplyKnobbed)
	case PathOpen:
		c.path = inf
	case PathHigh:
		if way == 1 { // what another load's current makes of a little resistance is seen sooner
			x /= sharedPart
		}
		turn(&c.path, c.path+x, pathKnobbed)
		if way == 1 {
			c.shared, c.slope = true, 1/sharedPart
		}
	case DriverNever:
		c.never = true
	case DriverAlways:
		c.always = true
	case DriverWeak:
		turn(&c.driver, x, driverKnobbed)
	default:
		return c.outside(f, x, way)
	}
	return c
}

// outside is With for what stands outside the chain.
func (c Chain) outside(f Fault, x float64, way int) Chain {
	inf := math.Inf(1)
	turn := func(part *float64, value float64, k knobbed) { *part, c.changed, c.slope = value, k, 1 }
	switch f {
	case FeedOpen:
		c.feed, c.apart = inf, way == 1
	case FeedHigh:
		turn(&c.feed, x, feedKnobbed)
		c.apart = way == 1
	case GroundOpen:
		c.earth = inf
	case GroundHigh:
		turn(&c.earth, x, earthKnobbed)
	case UnitPlugOpen:
		c.unitPlug = inf
	case UnitPlugHigh:
		turn(&c.unitPlug, x, unitPlugKnobbed)
	case PlugOpen:
		c.plug = inf
	case PlugHigh:
		turn(&c.plug, x, plugKnobbed)
	case HarnessToOther:
		c.other = noBridge + 1 + bridge(way)
		turn(&c.bridgeOhms, x, bridgeKnobbed)
	case ComponentToOther:
		c.inner = toWinding + bridge(way)
		turn(&c.bridgeOhms, x, bridgeKnobbed)
	case DriverShorted:
		if way == 0 {
			turn(&c.pinToFeed, x, pinToFeedKnobbed)
		} else {
			turn(&c.pinToEarth, x, pinToEarthKnobbed)
		}
	}
	return c
}

// The nodes of the network.
const (
	supplyPost = iota // the battery's post, behind the source's resistance
	feed              // the control unit's supply pin
	earth             // its ground pin
	pin               // its output
	plug              // the harness's terminal at the unit's connector
	connector         // the harness's terminal at the component's connector
	inlet             // the component's own terminal
	top               // the winding's end at the inner lead
	middle            // of the winding
	far               // the winding's far end
	sensor            // another circuit's wire
	ground
	nodes
)

// The knobs are the resistances whose doubt the readings share: a network knows how its voltages change with each.
const (
	DriverKnob = iota
	HarnessKnob
	LeadKnob
	PathKnob
	CoilKnob
	FaultKnob // the fault's parameter
	Knobs     // their number
)

// A resistor is one that depends on a knob: its ends, its conductance, and its change with its own knob and with the fault's parameter.
type resistor struct {
	a, b, knob uint8 // noKnob for none of its own
	g          float64
	own, fault float64
	ofCoil     float64 // the share of the winding that is in it
	ofFault    float64 // the share of the resistance that the fault changes
}

// A network is a set of resistors between nodes and of currents into the nodes: the conductance matrix, of which only the part
// on and below the diagonal is used, and the right side. A node may be the same as an earlier one.
type network struct {
	g      [nodes][nodes]float64
	i      [nodes]float64
	same   [nodes]uint8 // 0 for a node of its own, else 1 + the node that it is
	turned [mostTurned]resistor
	n      int           // of turned
	level  bool          // slopes are not asked for
	below  [nodes]uint16 // of an eliminated network: the rows below the diagonal where a column is not 0, a bit each
}

// at returns the row of a node.
func (n *network) at(a int) int {
	for n.same[a] != 0 {
		a = int(n.same[a]) - 1
	}
	return a
}

// join puts a resistor between two nodes; one of 0 ohm makes the second the same as the first.
func (n *network) join(a, b int, ohms float64) {
	switch {
	case ohms == 0:
		n.same[b] = uint8(n.at(a)) + 1
		return
	case math.IsInf(ohms, 1):
		return
	}
	a, b = n.at(a), n.at(b)
	g := 1 / ohms
	n.g[a][a] += g
	n.g[b][b] += g
	n.g[max(a, b)][min(a, b)] -= g
}

// mostTurned is the most resistances of a network that depend on a knob: those of the chain, half the winding twice, and the fault's.
const mostTurned = 9

// part is join for one of the chain's resistances: it depends on its own knob, if it has one, and on the fault's parameter if that
// changes it.
func (n *network) part(c *Chain, a, b int, ohms float64, knob uint8, k knobbed) {
	r := resistor{knob: knob, own: 1}
	if c.changed == k {
		r.ofFault = 1
	}
	n.turn(c, a, b, ohms, r)
}

// turn is join for a resistance of which it is known what it depends on.
func (n *network) turn(c *Chain, a, b int, ohms float64, r resistor) {
	n.join(a, b, ohms)
	if ohms == 0 || math.IsInf(ohms, 0) || r.knob == noKnob && r.ofFault == 0 {
		return
	}
	r.a, r.b, r.g, r.fault = uint8(n.at(a)), uint8(n.at(b)), 1/ohms, c.slope*r.ofFault
	n.turned[n.n] = r
	n.n++
}

const noKnob = Knobs // for part: no knob of its own

// inject puts a source of a voltage to ground at a node, behind a resistance.
func (n *network) inject(a int, volts, ohms float64) {
	n.join(a, ground, ohms)
	n.i[n.at(a)] += volts / ohms
}

// loose is the share of a node's conductance below which what elimination has left is only rounding: the node is connected to
// nothing. The smallest real share is that of a voltmeter beside a contact, 1e-9.
const loose = 1e-12

// eliminate makes the network's matrix LDLᵀ, against one of the nodes. A part that is not connected to it stays out.
func (n *network) eliminate(reference int) {
	g := &n.g
	var whole [nodes]float64
	for k := range whole {
		whole[k] = g[k][k]
	}
	whole[n.at(reference)] = math.Inf(1)
	for k := range nodes {
		d := g[k][k]
		if d <= loose*whole[k] {
			g[k][k] = 0
			continue
		}
		var rows [nodes]int
		filled := rows[:0]
		for r := k + 1; r < nodes; r++ {
			if g[r][k] != 0 {
				filled = append(filled, r)
				n.below[k] |= 1 << r
			}
		}
		for i, r := range filled {
			l := g[r][k] / d
			for _, c := range filled[:i+1] {
				g[r][c] -= l * g[c][k]
			}
		}
	}
}

// solve returns the voltages that currents into the nodes of an eliminated network make. A part of the network that is not connected
// to the reference is at 0 V; stuck is the current into such a part, which has nowhere to go.
func (n *network) solve(i [nodes]float64, reference int) (v [nodes]float64, stuck float64) {
	g := &n.g
	reference = n.at(reference)
	for k := range nodes {
		d := g[k][k]
		if d == 0 {
			if k != reference {
				stuck += math.Abs(i[k])
			}
			continue
		}
		if i[k] == 0 {
			continue
		}
		l := i[k] / d
		for rows := n.below[k]; rows != 0; rows &= rows - 1 {
			r := bits.TrailingZeros16(rows)
			i[r] -= g[r][k] * l
		}
	}
	for k := nodes - 1; k >= 0; k-- {
		if g[k][k] == 0 {
			continue
		}
		s := i[k]
		for rows := n.below[k]; rows != 0; rows &= rows - 1 {
			r := bits.TrailingZeros16(rows)
			s -= g[r][k] * v[r]
		}
		v[k] = s / g[k][k]
	}
	return v, stuck
}

// slopes adds to by how a voltage changes with the knobs: v are the voltages, and adjoint those that a current of 1 A
// would make that goes in and out where the voltage is measured.
//
//	dU/dR = (u_a − u_b)(v_a − v_b)/R²
func (n *network) slopes(v, adjoint *[nodes]float64, factor float64, by *[Knobs]float64) {
	for at := range n.turned[:n.n] {
		r := &n.turned[at]
		d := factor * (adjoint[r.a] - adjoint[r.b]) * (v[r.a] - v[r.b]) * r.g * r.g
		if r.knob < Knobs {
			by[r.knob] += d * r.own
		}
		by[FaultKnob] += d * r.fault
	}
}

// power connects the battery, which has the source's resistance in series.
func (n *network) power(c *Chain) { n.inject(supplyPost, c.supply, c.source) }

// rail returns the node to which the driver connects the pin and pulls it by its own check current.
func (c *Chain) rail() int {
	if c.side == Low {
		return earth
	}
	return feed
}

// home returns the node to which the winding's far end belongs.
func (c *Chain) home() int {
	if c.side == Low {
		return supplyPost
	}
	return ground
}

// conducts reports whether the driver is on when it is told to be on or off.
func (c *Chain) conducts(told bool) bool { return (told || c.always) && !c.never }

// feeds connects the control unit's supply and ground, and what it draws for itself where they are not sound.
func (n *network) feeds(c *Chain) {
	n.part(c, supplyPost, feed, c.feed, noKnob, feedKnobbed)
	n.part(c, ground, earth, c.earth, noKnob, earthKnobbed)
	switch {
	case c.apart:
		n.join(feed, earth, idleOhms)
	case c.feed != 0 || c.earth != 0:
		n.join(feed, earth, logicOhms)
	}
}

// unit connects the control unit to its output, with the driver on or off.
func (n *network) unit(c *Chain, on bool) {
	n.feeds(c)
	n.join(pin, c.rail(), c.pull)
	n.part(c, pin, feed, c.pinToFeed, noKnob, pinToFeedKnobbed)
	n.part(c, pin, earth, c.pinToEarth, noKnob, pinToEarthKnobbed)
	if c.conducts(on) {
		knob := uint8(DriverKnob)
		if c.changed == driverKnobbed { // it replaces the healthy one
			knob = noKnob
		}
		n.part(c, pin, c.rail(), c.driver, knob, driverKnobbed)
	}
}

// loom connects the harness between the two connectors, with what it touches at the unit's end.
func (n *network) loom(c *Chain, live, unit bool) {
	n.part(c, plug, connector, c.harness, HarnessKnob, harnessKnobbed)
	n.part(c, plug, ground, c.harnessToGround, noKnob, harnessToGroundKnobbed)
	n.part(c, plug, supplyPost, c.harnessToSupply, noKnob, harnessToSupplyKnobbed)
	n.touch(c, c.other, plug, c.home(), live, unit)
}

// touch connects another circuit at a node; unit: the control unit is in place.
func (n *network) touch(c *Chain, b bridge, at, home int, live, unit bool) {
	switch {
	case b == noBridge:
	case b == toSensor && live:
		n.part(c, at, sensor, c.bridgeOhms, noKnob, bridgeKnobbed)
		n.inject(sensor, sensorVolts, sensorOhms)
	case b == toSensor:
		n.part(c, at, ground, c.bridgeOhms+sensorLoad, noKnob, bridgeKnobbed)
	case b == toDriven && live && unit && c.side == Low:
		n.part(c, at, ground, c.bridgeOhms+otherDriver, noKnob, bridgeKnobbed)
	case b == toDriven && live && unit:
		n.part(c, at, supplyPost, c.bridgeOhms+otherDriver, noKnob, bridgeKnobbed)
	default:
		n.turn(c, at, home, c.bridgeOhms+c.coil, resistor{knob: CoilKnob, own: 1, ofCoil: 1, ofFault: 1})
	}
}

// component connects the inner lead and the winding, and what touches them.
func (n *network) component(c *Chain, fitted, live bool) {
	n.part(c, inlet, top, c.lead, LeadKnob, leadKnobbed)
	n.part(c, inlet, ground, c.leadToGround, noKnob, leadToGroundKnobbed)
	n.coil(c)
	n.part(c, middle, ground, c.coilToCase, noKnob, coilToCaseKnobbed)
	switch {
	case c.side == Low:
		n.part(c, inlet, far, c.leadToSupply, noKnob, leadToSupplyKnobbed)
	case fitted:
		n.part(c, inlet, supplyPost, c.leadToSupply, noKnob, leadToSupplyKnobbed)
	}
	home := far
	if c.ret == Case {
		home = ground
	}
	n.touch(c, c.inner, inlet, home, live && fitted, true)
}

// coil connects the winding: half on either side of its middle where something touches that.
func (n *network) coil(c *Chain) {
	wind := func(a, b int, share float64) {
		r := resistor{knob: CoilKnob, own: c.wound * share, ofCoil: share}
		if c.changed == coilKnobbed {
			r.ofFault = share
		}
		n.turn(c, a, b, c.coil*share, r)
	}
	if math.IsInf(c.coilToCase, 1) {
		wind(top, far, 1)
		return
	}
	wind(top, middle, 0.5)
	wind(middle, far, 0.5)
}

// back connects the return path.
func (n *network) back(c *Chain, live bool) {
	n.part(c, far, c.home(), c.path, PathKnob, pathKnobbed)
	switch {
	case !c.shared || !live:
	case c.side == Low:
		n.join(far, ground, sharedLoad)
	default:
		n.join(far, supplyPost, sharedLoad)
	}
}
