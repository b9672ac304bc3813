package code

import "strings"

// A State is an electrical condition that sets a code.
type State string

// The states.
const (
	OpenCircuit    State = "open_circuit"     // wire, contact, inner lead or winding interrupted
	ShortToGround  State = "short_to_ground"  // control wire, inner lead or winding
	ShortToBattery State = "short_to_battery" // control wire
	ShortedWinding State = "shorted_winding"  // turns lost, so that the driver sees over-current
	LostGround     State = "lost_ground"      // of the winding's far end, high side
	LostFeed       State = "lost_feed"        // of the winding's far end, low side; of a feed, its own supply
	HighResistance State = "high_resistance"  // some ohms in contacts or wire
	LeakToGround   State = "leak_to_ground"   // some to tens of ohms
	Driver         State = "driver"           // in the control unit
	SupplyOff      State = "supply_off"       // battery or charging voltage itself is out of range
	ControlUnit    State = "control_unit"     // it measures its own supply wrongly
)

// A Side says which way the driver of a circuit lies.
type Side uint8

// The sides.
const (
	HighSide Side = iota + 1 // the control unit feeds the pin, the winding's far end is at ground
	LowSide                  // the winding's far end is fed, the control unit grounds the pin
)

// A kind is what a failure word and a failure type say together of how the circuit fails.
type kind uint8

const (
	nothing kind = iota
	low
	high
	open
	outOfRange
	unsaid // something electrical, and no more
	performance
	intermittent
	shorted
	stuck
	stuckOn
	stuckOff
	ground        // and told apart from open
	battery       // the same
	parted        // open, and told apart from the shorts
	groundOrOpen  // not told apart
	batteryOrOpen // not told apart
	less          // current below, resistance above
	more          // current above, resistance below
	voltage       // out of range, either way
)

func (f Failure) kind() kind {
	for i := range failures {
		if failures[i].Failure == f {
			return failures[i].kind
		}
	}
	return nothing
}

// types are the failure types that are known here, with what each says; nothing: no sub-type. Source: SAE J2012's failure
// types as a public list restates them (DCM_Tests.csv in OVMS3 at git.bit-cloud.de has 00 to 1F); 7E is from memory.
// Checked in code_test.go against testdata/failure-types.tsv.
var types = [...]struct {
	FailureType
	kind kind
}{
	{"00", nothing}, {"01", unsaid}, {"10", unsaid}, {"11", ground}, {"12", battery}, {"13", parted}, {"14", groundOrOpen},
	{"15", batteryOrOpen}, {"16", low}, {"17", high}, {"18", less}, {"19", more}, {"1A", more}, {"1B", less}, {"1C", voltage},
	{"1D", outOfRange}, {"1E", outOfRange}, {"1F", intermittent}, {"71", stuck}, {"72", stuck}, {"73", stuck}, {"7E", stuckOn},
	{"7F", stuckOff},
}

// kind is what a failure type says, and whether it is one of those known here.
func (t FailureType) kind() (k kind, known bool) {
	for i := range types {
		if types[i].FailureType == t {
			return types[i].kind, true
		}
	}
	return nothing, false
}

// Known says whether the failure type is one of those known here.
func (t FailureType) Known() bool {
	_, known := t.kind()
	return known
}

// sets lists what sets each kind, at a high-side and at a low-side driver, in letters: o open circuit, g short to ground, b
// short to battery, w shorted winding, f the far end's ground or feed, r high resistance, k leak to ground, d driver.
//
// low, high and open are the truth table of how a control unit sees a circuit (data sheets ST L9823 table 7, ST L9826 tables
// 8 and 9, Infineon TLE6228 p. 8): an open circuit is seen on the side to which the driver's own check current pulls the
// pin, over-current as low at a high side and as high at a low side. What is too small for those thresholds and still moves
// the current, r, k and a partial b, sets range and the side to which it points; r by hundreds of ohms also sets open. What
// sets stuck feeds the winding past the driver, or starves it: derived. The order is that of the contract's prior weights
// (circuit), but: what only some stages see, merge or watch comes after what all see, and the driver last, since it is
// reached by elimination alone. Checked in state_test.go.
var sets = [...][2]string{
	low:           {"gwkd", "ogfrd"},
	high:          {"obfrd", "wbd"},
	open:          {"ofbrd", "ofgrd"},
	outOfRange:    {"rwkbd", "rwkbd"},
	unsaid:        {"ogwbfrd", "ogwbfrd"},
	performance:   {"rwkd", "rwkd"},
	intermittent:  {"orgwbfd", "orgwbfd"},
	shorted:       {"gwbd", "wbgd"},
	stuck:         {"robfd", "rogfd"},
	stuckOn:       {"bd", "gkd"},
	stuckOff:      {"rofgwd", "rofwbd"},
	ground:        {"gwd", "gd"},
	battery:       {"bd", "bwd"},
	parted:        {"ofd", "ofd"},
	groundOrOpen:  {"ogwfd", "ogfd"},
	batteryOrOpen: {"obfd", "owbfd"},
	less:          {"rofbd", "rofgd"},
	more:          {"gwkd", "wbd"},
	voltage:       {"ogwbfd", "ogwbfd"},
}

// A Doubt is what a failure leaves open.
type Doubt uint8

// The doubts.
const (
	None          Doubt = iota
	AnyState            // it does not say which way the circuit fails
	WideRange           // range may stand for performance
	NotElectrical       // a mechanical or hydraulic fault sets it as well
	RestPosition        // the same, and what the winding does when fed is not said
	ComesAndGoes        // the state need not be there now
	ShortedWhere        // a short, and not to where
)

// A Meaning is what sets a code.
type Meaning struct {
	High, Low []State // at a high-side and at a low-side driver, likeliest first; empty where it does not fit the side
	Doubt     Doubt
	// Disagree says that the failure word and the failure type fit together at neither side: the failure type is followed.
	Disagree bool
}

// Mean finds what sets a code: what the table says of it, narrowed by the failure type where there is one. It says nothing
// of how likely a state is in numbers; for that the circuit has to be measured.
func Mean(e Entry, t FailureType) Meaning {
	if e.UnitPower() {
		return meanPower(e, t)
	}
	word := e.Failure.kind()
	typed, _ := t.kind()
	k := word
	if says(typed, word) {
		k = typed
	}
	isFeed := e.Feed()
	hi, lo := k.letters(isFeed)
	disagree := false
	if k != word && decided(word) && narrows(typed) {
		h, l := word.letters(isFeed)
		h, l = common(hi, h), common(lo, l)
		if disagree = h == "" && l == ""; !disagree {
			hi, lo = h, l
		}
	}
	far := LostGround
	if isFeed {
		far = LostFeed
	}
	return Meaning{states(hi, far), states(lo, LostFeed), k.doubt(), disagree}
}

// letters are what sets a kind, for a feed what fits one: it is switched as a high side.
func (k kind) letters(isFeed bool) (highSide, lowSide string) {
	if isFeed {
		return feed(sets[k][0]), ""
	}
	return sets[k][0], sets[k][1]
}

// says whether a failure type says more than the failure word: a general one says something only where there is no word,
// and that something is out of range says less than a word that tells the side.
func says(typed, word kind) bool {
	switch typed {
	case nothing:
		return false
	case unsaid:
		return word == nothing
	case outOfRange:
		return !decided(word)
	}
	return true
}

// decided says whether a failure word tells one electrical side from another, so that a failure type can only narrow it.
func decided(word kind) bool { return word == low || word == high || word == open || word == shorted }

// narrows says whether what a failure type says can be held beside such a word: all that is electrical.
func narrows(typed kind) bool {
	switch typed {
	case low, high, ground, battery, parted, groundOrOpen, batteryOrOpen, less, more, voltage, intermittent:
		return true
	}
	return false
}

// common is what is in both lists, in the order of the first; "" if that is the driver alone, which can do anything.
func common(a, b string) string {
	both := strings.Map(func(r rune) rune {
		if strings.ContainsRune(b, r) {
			return r
		}
		return -1
	}, a)
	if both == "d" {
		return ""
	}
	return both
}

// feed turns the list of a high side into that of a feed of several loads: none of their windings lies across it, and what
// it can lose is its own supply, which leaves it low.
func feed(list string) string {
	list = strings.Map(func(r rune) rune {
		if r == 'w' || r == 'f' {
			return -1
		}
		return r
	}, list)
	if strings.Contains(list, "g") {
		list = strings.Replace(list, "g", "gf", 1)
	}
	return list
}

// states spells a list out; far is what "f" stands for.
func states(list string, far State) []State {
	spelt := [...]State{OpenCircuit, ShortToGround, ShortToBattery, ShortedWinding, far, HighResistance, LeakToGround, Driver}
	out := make([]State, len(list))
	for i := range out {
		out[i] = spelt[strings.IndexByte("ogbwfrkd", list[i])]
	}
	return out
}

func (k kind) doubt() Doubt {
	switch k {
	case unsaid, voltage:
		return AnyState
	case outOfRange:
		return WideRange
	case performance, stuckOn, stuckOff:
		return NotElectrical
	case stuck:
		return RestPosition
	case intermittent:
		return ComesAndGoes
	case shorted:
		return ShortedWhere
	}
	return None
}

// CodeKind is the word low, high, open or range that a circuit's code is carried over by; "" where none fits at either
// kind of driver. The table's own word comes before the failure type.
//
// A code of the control unit's own supply is none of the circuit's pin, and has no such word.
func CodeKind(e Entry, t FailureType) string {
	if e.UnitPower() {
		return ""
	}
	switch e.Failure {
	case Low, High, Open, Range:
		return string(e.Failure)
	}
	switch k, _ := t.kind(); k {
	case low, ground:
		return string(Low)
	case high, battery:
		return string(High)
	case parted:
		return string(Open)
	case outOfRange:
		return string(Range)
	}
	return ""
}
