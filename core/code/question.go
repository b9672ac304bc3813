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
	Kind    string   // the kind of code in the circuit tool: see [CodeKind]
	Notices []Notice // in the order in which they are told
}

// A Verdict sums up a code in one word: the failure of its circuit, or why none is known.
type Verdict string

// The verdicts for codes without a known failure.
const (
	MakersOwn  Verdict = "manufacturer"
	NotInTable Verdict = "not_in_table"
)

// A Notice is something that the reader must know about a code.
type Notice string

// The notices, in the order in which they are told.
const (
	OfTheMaker    Notice = "manufacturer"         // the manufacturer decides what it means
	HeldBack      Notice = "reserved"             // the standard reserves its range for later
	ListsDiffer   Notice = "shared_range"         // lists differ on who decides what it means
	NotListed     Notice = "not_in_table"         // only its structure is known
	TypeUnknown   Notice = "type_unknown"         // the failure type is not known, and ignored
	TypesDisagree Notice = "types_disagree"       // the code's failure and the failure type contradict each other
	SeveralLoads  Notice = "common_feed"          // the circuit feeds several loads
	EitherWay     Notice = "any_state"            // for AnyState
	AlsoEffect    Notice = "wide_range"           // for WideRange
	NotWiresAlone Notice = "not_electrical_alone" // for NotElectrical and RestPosition
	RestNotSaid   Notice = "rest_position"        // for RestPosition
	MayBeGone     Notice = "intermittent"         // for ComesAndGoes
	ToWhere       Notice = "shorted_where"        // for ShortedWhere
)

// notices are the notices for each doubt about a meaning.
var notices = [...][]Notice{
	None: nil, AnyState: {EitherWay}, WideRange: {AlsoEffect}, NotElectrical: {NotWiresAlone},
	RestPosition: {NotWiresAlone, RestNotSaid}, ComesAndGoes: {MayBeGone}, ShortedWhere: {ToWhere},
}

// Find works out what the code says.
func (q Question) Find() Finding {
	e, known := q.Code.Find()
	f := Finding{Entry: e, Known: known, Overall: Verdict(e.Failure), Meaning: Mean(e, q.Type), Kind: CodeKind(e, q.Type)}
	switch {
	case known:
	case q.Code.Origin() == Manufacturer:
		f.Overall = MakersOwn
	default:
		f.Overall = NotInTable
	}
	f.Notices = append(q.ofStructure(known), q.ofMeaning(e, f.Meaning)...)
	return f
}

// ofStructure returns the notices about the code's structure.
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
	if e.Feed() {
		list = append(list, SeveralLoads)
	}
	return append(list, notices[m.Doubt]...)
}
