package code

// powers lists what sets a code of the control unit's own supply, likeliest first; no driver is involved. In the letters of [states]:
// f and l stand for the unit's own supply and ground, v for battery or charging voltage, u for the control unit itself.
//
// Source: common practice. A supply that reads low is as often a bad contact or ground as a weak battery; one that reads high is the
// charging voltage, or a jump start from a higher one. The unit comes last: it is reached by elimination alone. Checked in power_test.go.
var powers = map[kind]string{
	low:          "frlvu",
	high:         "vu",
	open:         "frlu",
	outOfRange:   "rlvfu",
	intermittent: "rlfvu",
	ground:       "fu",
}

// meanPower is [Mean] of the control unit's own supply: the same at either kind of driver, as no driver is involved.
func meanPower(e Entry, t FailureType) Meaning {
	word := e.Failure.kind()
	typed, _ := t.kind()
	k := powerKind(typed, word)
	list, known := powers[k]
	if !known {
		list = powers[outOfRange] // some fault of the supply, and no more is said
	}
	m := Meaning{High: states(list, LostFeed), Low: states(list, LostFeed)}
	m.Disagree = word == low && k == high || word == high && (k == low || k == open || k == ground) || word == open && k == high
	if k == intermittent {
		m.Doubt = ComesAndGoes
	}
	return m
}

// powerKind is what a failure type and the failure word say together of a supply: the type where it tells more than the word.
func powerKind(typed, word kind) kind {
	switch typed {
	case low, less, groundOrOpen:
		return low
	case high, more, battery:
		return high
	case parted:
		return open
	case ground, intermittent:
		return typed
	}
	return word
}
