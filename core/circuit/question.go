package circuit

// A Question is what is asked of a circuit: which part is at fault, and what to do next.
type Question struct {
	*Model
	Readings []Reading // in the order taken; of several of one test the last counts
}

// A Diagnosis is what readings say of a circuit, and what follows from it.
type Diagnosis struct {
	Finding
	Decision  Decision
	Why       Reason
	Doubts    []Doubt         // in the order in which they are told
	Likeliest Chance[Fault]   // of the faults that Decision.Repair mends
	Alike     [2]Fault        // two likely faults that the readings do not tell apart; both None unless SameRepair is a doubt
	ByPart    [Parts]float64  // how likely it is that a part is at fault
	Healthy   [Tests]Expected // what each possible test reads where nothing is wrong
	Latest    [Tests]int      // the reading of each test that counts; -1 where there is none
	Earlier   int             // how many readings do not count
}

// An Act is what to do now.
type Act string

// The acts.
const (
	MakeTest   Act = "test"
	MakeRepair Act = "repair"
	Recheck    Act = "recheck" // the readings fit nothing known: one is to be taken again
)

// A Decision is what to do now. What being wrong is expected to cost, and how likely the repair is to be right, is in the
// Finding.
type Decision struct {
	Do     Act
	Test   Test   // to make or to take again
	Repair Repair // where Do is MakeRepair
}

// A Reason says why a decision is what it is.
type Reason string

// The reasons.
const (
	Contradiction Reason = "again"     // the readings contradict each other
	TestPays      Reason = "test"      // a test saves more than it costs
	LooksHealthy  Reason = "nothing"   // nothing to mend, and no test pays
	NoTestLeft    Reason = "none_left" // every test is made
	Sure          Reason = "sure"      // hardly any doubt is left
	NoTestPays    Reason = "repair"    // doubt is left, and a test costs more than it saves
)

// A Doubt is something that the reader has to know of the answer.
type Doubt string

// The doubts, in the order in which they are told.
const (
	Superseded    Doubt = "superseded"  // a test was made again: its earlier readings do not count
	NoSingleFault Doubt = "surprise"    // no single fault explains the readings
	TwoFaults     Doubt = "two_faults"  // two together do
	SameRepair    Doubt = "same_repair" // faults are not told apart, and need not be
	RestsOnOne    Doubt = "rests_on"    // without one reading the repair would be doubtful
)

// An Expected is the range in which 95 of 100 readings of a healthy circuit lie.
type Expected struct {
	Low, High float64
	Over      bool // OL; then there is no range
}

// Diagnose weighs the readings and decides what to do now.
func (q Question) Diagnose() Diagnosis {
	d := Diagnosis{Finding: q.Find(q.Readings)}
	for t := range d.Latest {
		d.Latest[t] = -1
	}
	for i, r := range q.Readings {
		if d.Made(r.Test) {
			d.Earlier++
		}
		d.Latest[r.Test] = i
	}
	for t := range Test(Tests) {
		if t.Possible(q.Side, q.Return) {
			e := &d.Healthy[t]
			e.Low, e.High, e.Over = q.Expect(t)
		}
	}
	for _, c := range d.Faults {
		d.ByPart[c.Of.Part()] += c.P
	}
	d.decide()
	d.Alike = d.alike()
	d.Doubts = d.doubts()
	return d
}

// Made reports whether a test has a reading.
func (d *Diagnosis) Made(t Test) bool { return d.Latest[t] >= 0 }

// littleCost is an expected cost of being wrong that is not worth a word.
const littleCost = 1

// decide says what to do now, and why.
func (d *Diagnosis) decide() {
	switch {
	case d.Surprise >= Surprising:
		d.Decision, d.Why = Decision{Do: Recheck, Test: d.Worst}, Contradiction
		return
	case d.Test:
		d.Decision, d.Why = Decision{Do: MakeTest, Test: d.Next[0].Test}, TestPays
		return
	}
	d.Decision = Decision{Do: MakeRepair, Repair: d.Repair}
	for _, c := range d.Faults {
		if c.Of.Repair() == d.Repair {
			d.Likeliest = c
			break
		}
	}
	switch {
	case d.Repair == Nothing:
		d.Why = LooksHealthy
	case len(d.Next) == 0:
		d.Why = NoTestLeft
	case d.Cost < littleCost:
		d.Why = Sure
	default:
		d.Why = NoTestPays
	}
}

// alike finds two likely faults that are not told apart where that does not matter: no test pays, and one repair, nearly sure,
// mends both.
func (d *Diagnosis) alike() [2]Fault {
	const clear, doubtful, sure = 0.10, 0.90, 0.90
	one := d.Faults[0]
	if d.Test || d.Repairs[0].P < sure || one.P > doubtful {
		return [2]Fault{}
	}
	for _, two := range d.Faults[1:] {
		if two.P >= clear*one.P && two.Of.Repair() == one.Of.Repair() {
			return [2]Fault{one.Of, two.Of}
		}
	}
	return [2]Fault{}
}

// doubts are what the reader has to know of the answer.
func (d *Diagnosis) doubts() (doubts []Doubt) {
	note := func(is bool, doubt Doubt) {
		if is {
			doubts = append(doubts, doubt)
		}
	}
	note(d.Earlier > 0, Superseded)
	note(d.Decision.Do == Recheck, NoSingleFault)
	note(d.Pair != [2]Fault{}, TwoFaults)
	note(d.Alike != [2]Fault{}, SameRepair)
	note(d.Alone && d.Decision.Do == MakeRepair, RestsOnOne)
	return doubts
}
