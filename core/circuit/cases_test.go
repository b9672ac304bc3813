package circuit

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCodesThatFaultsSet compares the kinds of code with the contract's rules for a driver's checks, applied to the voltages and
// the current that the driver sees at the control unit's own output.
func TestCodesThatFaultsSet(t *testing.T) {
	sets := map[Code]int{}
	for _, m := range usual() {
		expected := m.Predict(CurrentOn, None, 0, halfway(m))
		for f := range Fault(Faults) {
			for _, x := range parameters(f, 31) {
				for _, coil := range []float64{m.Row.Min, halfway(m), m.Row.Max} {
					var v view
					c := m.chain(&m.Nominal, coil).with(f, x, 0)
					c.predict(codeTests, &v)
					off, on, amperes := v.inside[0].value, v.inside[1].value, v.on[CurrentOn].value
					want := rules(m, off, on, amperes, expected)
					got := m.Sets(f, x, coil)
					for c := CodeLow; int(c) < Codes; c++ {
						if want[c] {
							sets[c]++
						}
						require.Equal(t, want[c], slices.Contains(got, c), "%v of %v %g: off %g V, on %g V, %g A", c, f, x, off, on, amperes)
					}
				}
			}
		}
	}
	for c := CodeLow; int(c) < Codes; c++ {
		require.Greater(t, sets[c], 100, "%v", c)
	}
}

// rules are the contract's checks of a driver: which codes are set by the output's volts, driver off and on, and its current.
func rules(m *Model, off, on, amperes, expected float64) map[Code]bool {
	open, short, idle := off > 3, on < 2.8 || amperes > 4.5, amperes < 0.040
	much, little := CodeLow, CodeHigh
	if m.Side == Low {
		open, short, idle = off < 3, on > 2.5 || amperes > 4.5, amperes < 0.100
		much, little = CodeHigh, CodeLow
	}
	more, less := amperes > 1.2*expected, amperes < 0.8*expected
	return map[Code]bool{CodeOpen: open || idle, CodeRange: more || less, much: short || more, little: open || idle || less}
}

// workedCases are common cases with what a good technician would say of them. Source of all: common practice; the readings follow
// from Ohm's law and the nominal values. A repair is the likeliest, with a probability of at least from; decided says whether it may
// be done now, and then is what is to be asked before, if anything.
var workedCases = []struct {
	name     string
	m        *Model
	readings []Reading
	fault    Fault // the likeliest; None if it is not settled
	repair   Repair
	from     float64
	act      Act
	then     []Test // of which one is to be made; empty for any
}{
	{"low code, high side: nothing is settled", coded(usual()[0], CodeLow), nil, None, Component, 0.25, MakeTest, nil},
	{"half the resistance: turns are shorted, or another row", usual()[0], []Reading{is(OhmsComponent, 2.7)},
		WindingShorted, Component, 0.6, MakeTest, nil},
	{"and the row applies, and it is cool: turns are shorted", coded(usual()[0], CodeLow),
		[]Reading{is(OhmsComponent, 2.7), word(RowApplies, Yes), is(Thermometer, 22)}, WindingShorted, Component, 0.95, MakeRepair, nil},
	{"and another row applies: nothing is wrong with the component", usual()[0],
		[]Reading{is(OhmsComponent, 3.1), word(RowApplies, No)}, OtherRow, Nothing, 0.5, "", nil},
	{"no continuity: the harness is open", usual()[0], []Reading{ol(OhmsHarness)}, HarnessOpen, MendHarness, 0.95, "", nil},
	{"open code, no continuity: the harness is open", coded(usual()[2], CodeOpen), []Reading{ol(OhmsHarness)},
		HarnessOpen, MendHarness, 0.95, "", nil},
	{"5 ohm too much from the unit, none in the component: harness or ground", usual()[0],
		[]Reading{is(OhmsComponent, 5.4), is(OhmsUnit, 10.6)}, None, MendHarness, 0.5, MakeTest, []Test{VoltsReturn, OhmsHarness, Wiggle}},
	{"and 5.8 V across the ground: a corroded ground", usual()[0],
		[]Reading{is(OhmsComponent, 5.4), is(OhmsUnit, 10.6), is(VoltsReturn, 5.8)}, PathHigh, MendPath, 0.95, "", nil},
	{"no feed: what feeds it is open", usual()[2], []Reading{is(VoltsFeed, 0)}, PathOpen, MendPath, 0.95, "", nil},
	{"nothing across the test load: the driver, or what feeds it", usual()[0], []Reading{is(VoltsLoad, 0)},
		None, UnitPower, 0.4, MakeTest, []Test{VoltsUnitFeed, VoltsUnitGround}},
	{"nothing across the test load, feed and ground good: the driver", usual()[0],
		[]Reading{is(VoltsLoad, 0), is(VoltsUnitFeed, 12.5), is(VoltsUnitGround, 0.02)}, DriverNever, ControlUnit, 0.8, "", nil},
	{"the unit's feed is far down while it works: its feed", usual()[0], []Reading{is(VoltsUnitFeed, 6.4), is(SupplyDriven, 12.5)},
		FeedHigh, UnitPower, 0.6, "", nil},
	{"the unit's ground is lifted: its ground", usual()[2], []Reading{is(VoltsUnitGround, 3.5)}, GroundHigh, UnitPower, 0.5, "", nil},
	{"all ohms as they should be, and they jump when the loom is moved", usual()[0],
		[]Reading{is(OhmsComponent, 5.4), is(OhmsUnit, 5.8), word(Wiggle, Jumps)}, ComesGoesHarness, MendHarness, 0.5, "", nil},
}

// TestWorkedCases checks what the readings of common cases lead to.
func TestWorkedCases(t *testing.T) {
	for _, c := range workedCases {
		d := Question{c.m, c.readings}.Diagnose()
		_, repairs := chances(d.Finding)
		assert.Equal(t, c.repair, d.Repairs[0].Of, "%s: %v", c.name, d.Repairs[0])
		assert.GreaterOrEqual(t, repairs[c.repair], c.from, "%s: %v", c.name, c.repair)
		if c.fault != None {
			assert.Equal(t, c.fault, d.Faults[0].Of, c.name)
		}
		assert.Less(t, d.Surprise, float64(Surprising), c.name)
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
