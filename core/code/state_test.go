package code

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"ohmwright/testdata"
)

// mean returns what sets a code with a failure word, of a circuit with one load, and a failure type.
func mean(f Failure, t FailureType) Meaning {
	e := Entry{}
	if f != "" {
		e = Entry{"shift solenoid B control circuit", f}
	}
	return Mean(e, t)
}

// TestTruthTable compares low, high and open with the truth tables in the data sheets ST L9823 (table 7), ST L9826 (tables 8 and 9)
// and Infineon TLE6228 (p. 8): which state is seen as what on each side.
func TestTruthTable(t *testing.T) {
	for _, c := range []struct {
		state State
		// the failures as which the state is seen
		highSide, lowSide []Failure
	}{
		{OpenCircuit, []Failure{High, Open}, []Failure{Low, Open}},
		{LostGround, []Failure{High, Open}, nil},
		{LostFeed, nil, []Failure{Low, Open}},
		{ShortToGround, []Failure{Low}, []Failure{Low, Open}},         // low side: as under-current, and the same bit as open
		{ShortToBattery, []Failure{High, Open}, []Failure{High}},      // high side: the same reading as open
		{ShortedWinding, []Failure{Low}, []Failure{High}},             // over-current
		{HighResistance, []Failure{High, Open}, []Failure{Low, Open}}, // less current, where it is watched
		{LeakToGround, []Failure{Low}, nil},                           // more current through a high side's driver
	} {
		for _, f := range []Failure{Low, High, Open} {
			m := mean(f, "")
			assert.Equal(t, slices.Contains(c.highSide, f), slices.Contains(m.High, c.state), "%s, high side, %s", c.state, f)
			assert.Equal(t, slices.Contains(c.lowSide, f), slices.Contains(m.Low, c.state), "%s, low side, %s", c.state, f)
		}
	}
}

// TestLikeliestFirst checks that low and high are in the order of the prior weights of the contract's circuit. The weights of faults
// that are the same state are added: winding.open 8, inner_lead.open 5 and harness.open 10 are open, and so on. States that only
// some drivers see follow, and the driver is last.
func TestLikeliestFirst(t *testing.T) {
	weight := map[State]int{
		OpenCircuit: 8 + 5 + 10, ShortToGround: 4 + 4 + 9, ShortedWinding: 12, ShortToBattery: 4, LostGround: 4, LostFeed: 4,
		HighResistance: 0, LeakToGround: 0, Driver: -1,
	}
	for _, f := range []Failure{Low, High} {
		m := mean(f, "")
		for _, list := range [][]State{m.High, m.Low} {
			assert.True(t, slices.IsSortedFunc(list, func(a, b State) int { return weight[b] - weight[a] }), "%s: %v", f, list)
		}
	}
}

// TestFailureTypeNarrows checks what a failure type leaves of a failure word, worked out by hand from the truth table.
func TestFailureTypeNarrows(t *testing.T) {
	for _, c := range []struct {
		failure           Failure
		types             FailureType
		highSide, lowSide []State
	}{
		{Low, "11", []State{ShortToGround, ShortedWinding, Driver}, []State{ShortToGround, Driver}},
		{Low, "13", nil, []State{OpenCircuit, LostFeed, Driver}}, // an open circuit reads low only on a low side
		{Low, "14", []State{ShortToGround, ShortedWinding, Driver}, []State{OpenCircuit, ShortToGround, LostFeed, Driver}},
		{Low, "19", []State{ShortToGround, ShortedWinding, LeakToGround, Driver}, nil}, // too much current reads high on a low side
		{High, "12", []State{ShortToBattery, Driver}, []State{ShortToBattery, ShortedWinding, Driver}},
		{High, "13", []State{OpenCircuit, LostGround, Driver}, nil},
		{High, "15", []State{OpenCircuit, ShortToBattery, LostGround, Driver}, []State{ShortedWinding, ShortToBattery, Driver}},
		{Open, "13", []State{OpenCircuit, LostGround, Driver}, []State{OpenCircuit, LostFeed, Driver}},
		{Shorted, "11", []State{ShortToGround, ShortedWinding, Driver}, []State{ShortToGround, Driver}},
		{Electrical, "11", []State{ShortToGround, ShortedWinding, Driver}, []State{ShortToGround, Driver}},
		{"", "13", []State{OpenCircuit, LostGround, Driver}, []State{OpenCircuit, LostFeed, Driver}},
	} {
		m := mean(c.failure, c.types)
		assert.ElementsMatch(t, c.highSide, m.High, "%s %s, high side", c.failure, c.types)
		assert.ElementsMatch(t, c.lowSide, m.Low, "%s %s, low side", c.failure, c.types)
		assert.False(t, m.Disagree, "%s %s", c.failure, c.types)
	}
	for _, c := range []struct {
		failure Failure
		types   FailureType
	}{{Low, "12"}, {High, "11"}, {Shorted, "13"}} {
		m := mean(c.failure, c.types)
		assert.True(t, m.Disagree, "%s %s", c.failure, c.types)
		assert.Equal(t, mean("", c.types).High, m.High, "a failure type that contradicts the word replaces it")
		assert.Equal(t, mean("", c.types).Low, m.Low)
	}
	for i := range failures {
		f := failures[i].Failure
		for _, none := range []FailureType{"00", "01", "10", "A5"} {
			assert.Equal(t, mean(f, ""), mean(f, none), "%s %s tells no more than the word", f, none)
		}
	}
	assert.Empty(t, mean("", "00").High)
	assert.Empty(t, mean("", "A5").Low)
}

func TestDoubts(t *testing.T) {
	for want, list := range map[Doubt][]Failure{
		None: {Low, High, Open}, AnyState: {Circuit, Device, Electrical}, WideRange: {Range}, NotElectrical: {Performance, StuckOn},
		RestPosition: {StuckOpen, StuckClosed}, ComesAndGoes: {Intermittent}, ShortedWhere: {Shorted},
	} {
		for _, f := range list {
			assert.Equal(t, want, mean(f, "").Doubt, f)
			assert.Equal(t, None, mean(f, "11").Doubt, "%s: the failure type leaves no doubt", f)
			assert.Equal(t, ComesAndGoes, mean(f, "1F").Doubt, f)
		}
	}
}

// TestFeed checks feeds of several loads: they are switched like a high side, and have no winding or ground of their own.
func TestFeed(t *testing.T) {
	feeds := 0
	for _, row := range testdata.Codes() {
		c, _, _ := Read(row.Code)
		e, _ := c.Find()
		if !e.Feed() {
			continue
		}
		feeds++
		m := Mean(e, "")
		assert.Empty(t, m.Low, row.Code)
		assert.NotEmpty(t, m.High, row.Code)
		assert.NotContains(t, m.High, ShortedWinding)
		assert.NotContains(t, m.High, LostGround)
		assert.Equal(t, row.Failure == "low", slices.Contains(m.High, LostFeed), row.Code)
	}
	assert.Equal(t, 18, feeds) // P0657 to P0659, P2146 to P2157, P2669 to P2671
}

func TestCodeKind(t *testing.T) {
	for _, c := range []struct {
		failure Failure
		types   FailureType
		want    string
	}{
		{Low, "", "low"}, {High, "", "high"}, {Open, "", "open"}, {Range, "", "range"},
		{Circuit, "", ""}, {StuckOn, "", ""}, {Shorted, "", ""},
		{Low, "13", "low"}, {Electrical, "13", "open"}, {Electrical, "11", "low"}, {Electrical, "12", "high"}, {Electrical, "14", ""},
		{"", "1D", "range"}, {"", "", ""}, {"", "19", ""},
	} {
		assert.Equal(t, c.want, CodeKind(Entry{"x", c.failure}, c.types), "%s %s", c.failure, c.types)
	}
}

// checkMeaning checks what is true of every meaning.
func checkMeaning(t testing.TB, e Entry, ft FailureType) {
	m := Mean(e, ft)
	for side, list := range map[string][]State{"high": m.High, "low": m.Low} {
		if list == nil {
			t.Fatalf("%+v %s, side %s: the list is nil; want an empty one", e, ft, side)
		}
		seen := map[State]bool{}
		for i, s := range list {
			far := !e.UnitPower() && (side == "high" && s == LostFeed && !e.Feed() || side == "low" && s == LostGround)
			last := s == Driver || s == ControlUnit && e.UnitPower()
			if seen[s] || far || last != (i == len(list)-1) || len(list) == 1 {
				t.Fatalf("%+v %s, side %s: a state is there twice or does not fit, or the last resort is not last: %v", e, ft, side, list)
			}
			seen[s] = true
		}
	}
	if e.Failure != "" && len(m.High)+len(m.Low) == 0 {
		t.Fatalf("%+v %s: nothing sets it", e, ft)
	}
}

// TestEveryMeaning checks every failure with every failure type.
func TestEveryMeaning(t *testing.T) {
	words := []Failure{""}
	for i := range failures {
		words = append(words, failures[i].Failure)
	}
	for _, circuit := range []string{"shift solenoid B control circuit", "injector group A supply voltage",
		"transmission control unit power input"} {
		for _, f := range words {
			for n := range 256 {
				const digits = "0123456789ABCDEF"
				e := Entry{circuit, f}
				if f == "" {
					e = Entry{}
				}
				checkMeaning(t, e, FailureType([]byte{digits[n>>4], digits[n&15]}))
			}
			checkMeaning(t, Entry{circuit, f}, "")
		}
	}
}
