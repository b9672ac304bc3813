package code

import "strings"

// A State is an electrical condition that sets a code.
type State string

// The states.
const (
	OpenCircuit    State = "open_circuit"     // a wire, contact, inner lead or winding is interrupted
	ShortToGround  State = "short_to_ground"  // of the control wire, inner lead or winding
	ShortToBattery State = "short_to_battery" // of the control wire
	ShortedWinding State = "shorted_winding"  // turns are shorted, so that the driver sees over-current
	LostGround     State = "lost_ground"      // of the winding's far end, high side
	LostFeed       State = "lost_feed"        // of the winding's far end, low side; of a feed, its own supply
	HighResistance State = "high_resistance"  // some ohms in contacts or wire
	LeakToGround   State = "leak_to_ground"   // some to tens of ohms
	Driver         State = "driver"           // in the control unit
	SupplyOff      State = "supply_off"       // battery or charging voltage itself is out of range
	ControlUnit    State = "control_unit"     // it measures its own supply wrongly
)

// A kind is how a circuit fails, as the table's failure word or a failure type tells it.
type kind uint8

const (
	nothing kind = iota
	low
	high
	open
	outOfRange
	unsaid // something electrical
	performance
	intermittent
	shorted
	stuck
	stuckOn
	stuckOff
	ground        // a short to ground, distinguished from an open circuit
	battery       // a short to battery, distinguished from an open circuit
	parted        // an open circuit, distinguished from shorts
	groundOrOpen  // one of the two
	batteryOrOpen // one of the two
	less          // too little current, or too much resistance
	more          // too much current, or too little resistance
	voltage       // a voltage out of range in either direction
)

// kind returns how the circuit fails by the table's word.
func (f Failure) kind() kind {
	for i := range failures {
		if failures[i].Failure == f {
			return failures[i].kind
		}
	}
	return nothing
}

// types are the known failure types and what each means; 00 means nothing. Source: SAE J2012's failure types as a public list
// restates them (DCM_Tests.csv in OVMS3 at git.bit-cloud.de has 00 to 1F); 7E is from memory. Checked in code_test.go against
// testdata/failure-types.tsv.
var types = [...]struct {
	FailureType
	kind kind
}{
	{"00", nothing}, {"01", unsaid}, {"10", unsaid}, {"11", ground}, {"12", battery}, {"13", parted}, {"14", groundOrOpen},
	{"15", batteryOrOpen}, {"16", low}, {"17", high}, {"18", less}, {"19", more}, {"1A", more}, {"1B", less}, {"1C", voltage},
	{"1D", outOfRange}, {"1E", outOfRange}, {"1F", intermittent}, {"71", stuck}, {"72", stuck}, {"73", stuck}, {"7E", stuckOn},
	{"7F", stuckOff},
}

// kind returns how the circuit fails by a failure type, and whether that is known.
func (t FailureType) kind() (k kind, known bool) {
	for i := range types {
		if types[i].FailureType == t {
			return types[i].kind, true
		}
	}
	return nothing, false
}

// Known reports whether the package knows the failure type.
func (t FailureType) Known() bool {
	_, known := t.kind()
	return known
}

// sets lists the states that set each kind with a high-side and with a low-side driver, as letters: o open circuit, g short to
// ground, b short to battery, w shorted winding, f the far end's ground or feed, r high resistance, k leak to ground, d driver.
//
// low, high and open follow the truth table of how a control unit sees a circuit (data sheets ST L9823 table 7, ST L9826 tables 8
// and 9, Infineon TLE6228 p. 8): an open circuit shows as the voltage to which the driver's own check current pulls the pin,
// over-current as low on a high side and as high on a low side. States too weak for those thresholds that still change the
// current (r, k and a partial b) set range, and low or high depending on the direction; r of hundreds of ohms also sets open.
// The states of stuck either feed the winding without the driver or keep current from it; this is derived.
//
// The order is that of the contract's prior weights (see circuit), except that states which only some drivers see, distinguish or
// watch come after those that all see, and the driver is last, since it can only be found by elimination. Checked in
// state_test.go.
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

// A Doubt is something that a failure does not tell.
type Doubt uint8

// The doubts.
const (
	None          Doubt = iota
	AnyState            // in which way the circuit fails
	WideRange           // whether range means performance
	NotElectrical       // whether the fault is electrical; a mechanical or hydraulic one sets the code too
	RestPosition        // the same, and what happens when the winding is fed
	ComesAndGoes        // whether the state is present now
	ShortedWhere        // to where a short leads
)

// A Meaning is what sets a code.
type Meaning struct {
	High, Low []State // with a high-side and with a low-side driver, likeliest first; empty if the code does not fit that side
	Doubt     Doubt
	// Disagree means that the failure word and the failure type contradict each other on both sides. High and Low then follow the
	// failure type.
	Disagree bool
}

// Mean returns what sets a code: the states of its failure word, narrowed by the failure type if there is one. It gives no
// probabilities; for those the circuit has to be measured.
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

// letters returns what sets a kind. A feed is switched like a high side, and has only those of its states that a feed can have.
func (k kind) letters(isFeed bool) (highSide, lowSide string) {
	if isFeed {
		return feed(sets[k][0]), ""
	}
	return sets[k][0], sets[k][1]
}

// says reports whether a failure type tells more than the failure word. A general failure type does only if there is no word, and
// one that means out of range does only if the word does not tell the direction.
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

// decided reports whether a failure word tells in which way the circuit fails, so that a failure type can only narrow it.
func decided(word kind) bool { return word == low || word == high || word == open || word == shorted }

// narrows reports whether a failure type can be compared with such a word, which is so if it is electrical.
func narrows(typed kind) bool {
	switch typed {
	case low, high, ground, battery, parted, groundOrOpen, batteryOrOpen, less, more, voltage, intermittent:
		return true
	}
	return false
}

// common returns the states in both lists, in the order of the first; "" if only the driver is, which can set any code.
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

// feed turns the list of a high side into that of a feed of several loads. A shorted winding of one of them does not show at the
// feed. Instead of the far end's ground it can lose its own supply, which leaves it low.
func feed(list string) string {
	list = strings.Map(func(r rune) rune {
		if r == 'w' || r == 'f' {
			return -1
		}
		return r
	}, list)
	return strings.Replace(list, "g", "gf", 1)
}

// states returns the states of a list of letters; far is the state of f.
func states(list string, far State) []State {
	spelt := [...]State{OpenCircuit, ShortToGround, ShortToBattery, ShortedWinding, far, HighResistance, LeakToGround, Driver,
		LostGround, SupplyOff, ControlUnit}
	out := make([]State, len(list))
	for i := range out {
		out[i] = spelt[strings.IndexByte("ogbwfrkdlvu", list[i])]
	}
	return out
}

// doubt returns what a kind does not tell.
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

// CodeKind returns the code's kind as the circuit question knows it: low, high, open or range; "" if none is right for both kinds
// of driver. The table's word comes before the failure type. A code of the control unit's own supply is no code of the circuit's
// pin, and has no such kind.
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
