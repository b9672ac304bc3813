package code

// A Question is a trouble code, with its failure type if one was given.
type Question struct {
	Code Code
	Type FailureType // "" for none
}

// A Finding is what a trouble code says.
type Finding struct {
	Entry        // the code's row in the table
	Known   bool // the code is in the table
	Overall Verdict
	Meaning Meaning
	Kind    string   // as the question of the circuit takes it: see [CodeKind]
	Stop    Stop     // "" or why there is no advice: then Meaning, Kind and First are empty
	First   First    // what to find out before any part of the circuit is suspected; "" for nothing beyond the circuit's own tests
	Notices []Notice // in the order in which they are told
}

// A Verdict sums up a code in one word: the failure of its circuit, or why none is known.
type Verdict string

// The verdicts for codes without a known failure.
const (
	MakersOwn  Verdict = "manufacturer"
	NotInTable Verdict = "not_in_table"
	Stopped    Verdict = "stop" // see Stop
)

// A First is what to find out first.
type First string

// What to find out first.
const (
	UnitFeed First = "unit_feed" // the control unit's supply pin and ground, measured
	ShowsNow First = "shows_now" // does the complaint show now, while it is measured?
)

// A Notice is something that the reader must know about a code.
type Notice string

// The notices, in the order in which they are told.
const (
	OfTheMaker    Notice = "manufacturer"         // the maker gives it its meaning
	HeldBack      Notice = "reserved"             // the standard keeps its range for later
	ListsDiffer   Notice = "shared_range"         // on who gives it its meaning
	StopOfMaker   Notice = "stop_makers_own"      // a stop on a code to which the maker gives the meaning
	NotListed     Notice = "not_in_table"         // its structure is all that is known
	TypeUnknown   Notice = "type_unknown"         // the failure type is left aside
	TypesDisagree Notice = "types_disagree"       // failure word and failure type
	OwnPower      Notice = "unit_power"           // the circuit is the control unit's own supply and ground
	SeveralLoads  Notice = "common_feed"          // the circuit is a feed of several loads
	EitherWay     Notice = "any_state"            // of AnyState
	AlsoEffect    Notice = "wide_range"           // of WideRange
	NotWiresAlone Notice = "not_electrical_alone" // of NotElectrical and RestPosition
	RestNotSaid   Notice = "rest_position"        // of RestPosition
	MayBeGone     Notice = "intermittent"         // of ComesAndGoes
	ToWhere       Notice = "shorted_where"        // of ShortedWhere
)

// notices are the notices for each doubt about a meaning.
var notices = [...][]Notice{
	None: nil, AnyState: {EitherWay}, WideRange: {AlsoEffect}, NotElectrical: {NotWiresAlone},
	RestPosition: {NotWiresAlone, RestNotSaid}, ComesAndGoes: {MayBeGone}, ShortedWhere: {ToWhere},
}

// Find works out what the code says.
func (q Question) Find() Finding {
	if stop := q.Code.Stop(); stop != "" {
		return q.stopped(stop)
	}
	e, known := q.Code.Find()
	f := Finding{Entry: e, Known: known, Overall: Verdict(e.Failure), Meaning: Mean(e, q.Type), Kind: CodeKind(e, q.Type)}
	switch {
	case known:
	case q.Code.Origin() == Manufacturer:
		f.Overall = MakersOwn
	default:
		f.Overall = NotInTable
	}
	switch {
	case e.UnitPower():
		f.First = UnitFeed
	case f.Meaning.Doubt == ComesAndGoes:
		f.First = ShowsNow
	}
	f.Notices = append(q.ofStructure(known), q.ofMeaning(e, f.Meaning)...)
	return f
}

// stopped answers a code of a system on which no advice is given: what its structure says, and no state to measure.
func (q Question) stopped(why Stop) Finding {
	f := Finding{Overall: Stopped, Stop: why, Meaning: Meaning{High: []State{}, Low: []State{}}, Notices: q.ofStructure(false)}
	if q.Code.Origin() == Manufacturer {
		f.Notices = append(f.Notices, StopOfMaker)
	}
	if q.Type != "" && !q.Type.Known() {
		f.Notices = append(f.Notices, TypeUnknown)
	}
	return f
}

// ofStructure are the notices of what the code's structure leaves unsaid.
func (q Question) ofStructure(known bool) (list []Notice) {
	switch {
	case q.Code.Origin() == Manufacturer:
		list = append(list, OfTheMaker)
	case q.Code.Reserved():
		list = append(list, HeldBack)
	case q.Code.Shared():
		list = append(list, ListsDiffer)
	}
	if !known {
		list = append(list, NotListed)
	}
	return list
}

// ofMeaning returns the notices about the code's meaning.
func (q Question) ofMeaning(e Entry, m Meaning) (list []Notice) {
	if q.Type != "" && !q.Type.Known() {
		list = append(list, TypeUnknown)
	}
	if m.Disagree {
		list = append(list, TypesDisagree)
	}
	if e.UnitPower() {
		list = append(list, OwnPower)
	}
	if e.Feed() {
		list = append(list, SeveralLoads)
	}
	return append(list, notices[m.Doubt]...)
}
