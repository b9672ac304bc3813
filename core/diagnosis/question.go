// Package diagnosis says what follows from the readings on a circuit: which part is at fault, and what to do now.
//
// The readings are weighed in core/evidence. From there each test that is not made yet is looked at (outlook.go): what it would show,
// what it costs and saves, two tests ahead (next.go), and what each outcome would mean (outcome.go). A [Diagnosis] decides between one
// more test, a repair, and taking a reading again (decide.go).
package diagnosis

import (
	"ohmwright/core/circuit"
	"ohmwright/core/evidence"
)

// A Question is a circuit and its readings: which part is at fault, and what to do next?
type Question struct {
	*circuit.Model
	Readings []circuit.Reading // in the order taken; if a test was made several times, the last reading counts
}

// A Diagnosis is what the readings say about the circuit, and what follows from that.
type Diagnosis struct {
	Finding
	Decision  Decision
	Why       Reason
	Doubts    []Doubt               // in the order in which they are told
	Likeliest Chance[circuit.Fault] // the likeliest of the faults that Decision.Repair puts right
	// ComesAndGoes is the probability that the fault comes and goes.
	ComesAndGoes float64
	// Sets are the kinds of code that the likeliest of the faults to be put right normally sets.
	Sets []circuit.Code
	// Pair is two faults that together explain what one alone does not; both are None if none is needed or none is found.
	Pair    [2]circuit.Fault
	Alike   [2]circuit.Fault                 // two likely faults that the readings cannot tell apart; both None unless SameRepair is a doubt
	ByPart  [circuit.Parts]float64           // probability that each part is at fault
	Healthy [circuit.Tests]evidence.Expected // what each possible test reads in a healthy circuit, at its reading's own supply and temperature
	Latest  [circuit.Tests]int               // index of the reading that counts for each test; -1 if there is none
	Earlier int                              // number of readings that do not count
}

// An Act is what to do now.
type Act string

// The acts.
const (
	MakeTest   Act = "test"
	MakeRepair Act = "repair"
	Recheck    Act = "recheck" // the readings fit no known fault: repeat one of them
)

// A Decision is what to do now. The Finding has the expected cost of being wrong, and how likely the repair is to be right.
type Decision struct {
	Do     Act
	Test   circuit.Test   // the test to make or to repeat
	Repair circuit.Repair // if Do is MakeRepair
}

// A Reason says why a decision was made.
type Reason string

// The reasons.
const (
	Contradiction Reason = "again"       // the readings contradict each other
	TestPays      Reason = "test"        // a test saves more than it costs
	LooksHealthy  Reason = "nothing"     // nothing to repair, and no test is worth its cost
	NoTestLeft    Reason = "none_left"   // every test has been made
	Sure          Reason = "sure"        // hardly any doubt is left
	Eliminate     Reason = "eliminate"   // before the control unit is condemned, what feeds and joins it is measured
	LookFirst     Reason = "look"        // before the component is condemned, its row and temperature are looked at
	NotShown      Reason = "not_shown"   // no reading has shown the fault yet, or too much doubt is left: the test that tells most
	TooDoubtful   Reason = "doubtful"    // no test is left that would tell more, and too little is known to replace anything
	FitsNothing   Reason = "unexplained" // the readings, taken again, fit nothing known
	NoTestPays    Reason = "repair"      // some doubt is left, but every test costs more than it saves
)

// A Doubt is something that the reader must know about the answer.
type Doubt string

// The doubts, in the order in which they are told.
const (
	Superseded    Doubt = "superseded"     // a test was repeated, so its earlier readings do not count
	NoSingleFault Doubt = "surprise"       // no single fault explains the readings
	TwoFaults     Doubt = "two_faults"     // two faults together explain them
	SameRepair    Doubt = "same_repair"    // two faults cannot be told apart, but the repair is the same
	AgainstCode   Doubt = "against_code"   // the likeliest fault would not normally set the code
	MayComeAndGo  Doubt = "comes_and_goes" // healthy now; a fault that comes and goes stays possible
	HeldOff       Doubt = "held_off"       // a stored code may keep the driver off
	RestsOnOne    Doubt = "rests_on"       // without one of the readings the repair would be doubtful
)

// Diagnose weighs the readings and decides what to do now.
func (q Question) Diagnose() Diagnosis { return q.diagnose(true) }

// Judge is Diagnose without what the outcomes of the next test would mean, and without a pair of faults: each takes as long as the rest.
func (q Question) Judge() Diagnosis { return q.diagnose(false) }

func (q Question) diagnose(whole bool) Diagnosis {
	d := Diagnosis{Finding: Find(q.Model, q.Readings)}
	for t := range d.Latest {
		d.Latest[t] = -1
	}
	for i, r := range q.Readings {
		if d.Made(r.Test) {
			d.Earlier++
		}
		d.Latest[r.Test] = i
	}
	d.Healthy = evidence.Expectations(q.Model, q.Readings)
	for t, i := range d.Latest {
		if i < 0 {
			continue
		}
		if m := q.at(q.Readings[i]); m != q.Model {
			d.Healthy[t] = evidence.Expectations(m, q.Readings)[t]
		}
	}
	for _, c := range d.Faults {
		d.ByPart[c.Of.Part()] += c.P
	}
	d.ComesAndGoes = d.comesAndGoes()
	d.decide(q)
	d.preview(whole)
	if whole && d.Surprising() {
		d.Pair = d.pair()
	}
	d.Alike = d.alike()
	d.Doubts = d.doubts(q)
	return d
}

// at returns the circuit at the supply and the temperature that a reading was taken at: the circuit itself where they are its own.
func (q Question) at(r circuit.Reading) *circuit.Model {
	supply, warmth := q.Supply, q.Warmth
	if r.Supply > 0 {
		supply = r.Supply
	}
	if r.At != nil {
		warmth = circuit.Warmth{Known: true, At: *r.At, Within: circuit.WarmthWithin}
	}
	if supply == q.Supply && warmth == q.Warmth {
		return q.Model
	}
	m := *q.Model
	m.Supply, m.Warmth = supply, warmth
	return &m
}

// Made reports whether there is a reading of a test.
func (d *Diagnosis) Made(t circuit.Test) bool { return d.Latest[t] >= 0 }

// alike returns two likely faults that the readings cannot tell apart, if that does not matter: no test is worth its cost,
// and the same almost certain repair puts both right. Otherwise both are None.
func (d *Diagnosis) alike() [2]circuit.Fault {
	const clear, doubtful, sure = 0.10, 0.90, 0.90
	one := d.Faults[0]
	if d.Decision.Do != MakeRepair || d.Repairs[0].P < sure || one.P > doubtful {
		return [2]circuit.Fault{}
	}
	for _, two := range d.Faults[1:] {
		if two.P >= clear*one.P && two.Of.Repair() == one.Of.Repair() {
			return [2]circuit.Fault{one.Of, two.Of}
		}
	}
	return [2]circuit.Fault{}
}

// doubts returns what the reader must know about the answer.
func (d *Diagnosis) doubts(q Question) (doubts []Doubt) {
	note := func(is bool, doubt Doubt) {
		if is {
			doubts = append(doubts, doubt)
		}
	}
	note(d.Earlier > 0, Superseded)
	note(d.contradicts(), NoSingleFault)
	note(d.Pair != [2]circuit.Fault{}, TwoFaults)
	note(d.heldOff(), HeldOff)
	note(d.Alike != [2]circuit.Fault{}, SameRepair)
	note(d.against(q), AgainstCode)
	note(d.Decision.Do == MakeRepair && d.Decision.Repair == circuit.Nothing && d.ComesAndGoes >= 0.01, MayComeAndGo)
	note(d.Alone && d.Decision.Do == MakeRepair, RestsOnOne)
	return doubts
}
