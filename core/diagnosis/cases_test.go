package diagnosis

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
)

// workedCases are common cases with what a good technician would say of them. Source of all: common practice; the readings follow
// from Ohm's law and the nominal values. A repair is the likeliest, with a probability of at least from; decided says whether it may
// be done now, and then is what is to be asked before, if anything.
var workedCases = []struct {
	name     string
	m        *circuit.Model
	readings []circuit.Reading
	fault    circuit.Fault // the likeliest; None if it is not settled
	repair   circuit.Repair
	from     float64
	act      Act
	then     []circuit.Test // of which one is to be made; empty for any
}{
	{"low code, high side: nothing is settled", coded(usual()[0], circuit.CodeLow), nil, circuit.None, circuit.Component, 0.25, MakeTest, nil},
	{"half the resistance: turns are shorted, or another row", usual()[0], []circuit.Reading{is(circuit.OhmsComponent, 2.7)},
		circuit.WindingShorted, circuit.Component, 0.6, MakeTest, nil},
	{"and the row applies, and it is cool: turns are shorted", coded(usual()[0], circuit.CodeLow),
		[]circuit.Reading{is(circuit.OhmsComponent, 2.7), word(circuit.RowApplies, circuit.Yes), is(circuit.Thermometer, 22)},
		circuit.WindingShorted, circuit.Component, 0.95, MakeRepair, nil},
	{"and another row applies: nothing is wrong with the component", usual()[0],
		[]circuit.Reading{is(circuit.OhmsComponent, 3.1), word(circuit.RowApplies, circuit.No)}, circuit.OtherRow, circuit.Nothing, 0.5, "", nil},
	{"no continuity: the harness is open", usual()[0], []circuit.Reading{ol(circuit.OhmsHarness)}, circuit.HarnessOpen, circuit.MendHarness,
		0.95, "", nil},
	{"open code, no continuity: the harness is open", coded(usual()[2], circuit.CodeOpen), []circuit.Reading{ol(circuit.OhmsHarness)},
		circuit.HarnessOpen, circuit.MendHarness, 0.95, "", nil},
	{"5 ohm too much from the unit, none in the component: harness or ground", usual()[0],
		[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 10.6)}, circuit.None, circuit.MendHarness, 0.5, MakeTest,
		[]circuit.Test{circuit.VoltsReturn, circuit.OhmsHarness, circuit.Wiggle}},
	{"and 5.8 V across the ground: a corroded ground", usual()[0],
		[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 10.6), is(circuit.VoltsReturn, 5.8)}, circuit.PathHigh,
		circuit.MendPath, 0.95, "", nil},
	{"no feed: what feeds it is open", usual()[2], []circuit.Reading{is(circuit.VoltsFeed, 0)}, circuit.PathOpen, circuit.MendPath, 0.95, "",
		nil},
	{"nothing across the test load: the driver, or what feeds it", usual()[0], []circuit.Reading{is(circuit.VoltsLoad, 0)},
		circuit.None, circuit.ControlUnit, 0.4, MakeTest, []circuit.Test{circuit.VoltsUnitFeed, circuit.VoltsUnitGround}},
	{"nothing across the test load, feed and ground good: the driver", usual()[0],
		[]circuit.Reading{is(circuit.VoltsLoad, 0), is(circuit.VoltsUnitFeed, 12.5), is(circuit.VoltsUnitGround, 0.02)}, circuit.DriverNever,
		circuit.ControlUnit, 0.8, "", nil},
	{"the unit's feed is far down while it works: its feed", usual()[0], []circuit.Reading{is(circuit.VoltsUnitFeed, 6.4),
		is(circuit.SupplyDriven, 12.5)},
		circuit.FeedHigh, circuit.UnitPower, 0.6, "", nil},
	{"the unit's ground is lifted: its ground", usual()[2], []circuit.Reading{is(circuit.VoltsUnitGround, 3.5)}, circuit.GroundHigh,
		circuit.UnitPower, 0.5, "", nil},
	{"all ohms as they should be, and they jump when the loom is moved", usual()[0],
		[]circuit.Reading{is(circuit.OhmsComponent, 5.4), is(circuit.OhmsUnit, 5.8), word(circuit.Wiggle, circuit.Jumps)},
		circuit.ComesGoesHarness, circuit.MendHarness, 0.5, "", nil},
}

// TestWorkedCases checks what the readings of common cases lead to.
func TestWorkedCases(t *testing.T) {
	for _, c := range workedCases {
		d := Question{c.m, c.readings}.Diagnose()
		_, repairs := chances(d.Finding)
		assert.Equal(t, c.repair, d.Repairs[0].Of, "%s: %v", c.name, d.Repairs[0])
		assert.GreaterOrEqual(t, repairs[c.repair], c.from, "%s: %v", c.name, c.repair)
		if c.fault != circuit.None {
			assert.Equal(t, c.fault, d.Faults[0].Of, c.name)
		}
		assert.Less(t, d.Surprise, float64(doubt.Surprising), c.name)
		if c.act != "" {
			assert.Equal(t, c.act, d.Decision.Do, "%s: %+v", c.name, d.Decision)
		}
		if d.Decision.Do == MakeRepair {
			assert.Equal(t, c.repair, d.Decision.Repair, c.name)
		}
		if c.then != nil && d.Decision.Do == MakeTest {
			assert.Contains(t, c.then, d.Decision.Test, "%s: %v", c.name, d.Decision.Test)
		}
	}
}
