package diagnosis

import (
	"slices"

	"ohmwright/core/circuit"
	"ohmwright/core/doubt"
	"ohmwright/core/evidence"
	"ohmwright/core/winding"
)

// littleCost is the expected cost of being wrong below which the repair counts as sure.
const littleCost = 1

// half is the probability of none of the faults above which the readings fit nothing known.
const half = 0.5

// decide sets what to do now, and why.
func (d *Diagnosis) decide(q Question) {
	for _, c := range d.Faults {
		if q.Model.Repair(c.Of) == d.Repair {
			d.Likeliest = c
			break
		}
	}
	again := d.times(q, d.Worst) > 1
	switch {
	case d.contradicts() && !again:
		if d.Likeliest.Of.ComesAndGoes() && d.Likeliest.Of != circuit.ComesGoesUnit && !d.Made(circuit.Wiggle) {
			d.ask(circuit.Wiggle, LookFirst)
			return
		}
		if t, ok := d.typed(q); ok {
			d.ask(t, LookFirst)
			return
		}
		d.Decision, d.Why = Decision{Do: Recheck, Test: d.Worst}, Contradiction
		return
	case d.contradicts():
		d.repair(q, circuit.Unexplained, FitsNothing)
		return
	case d.Test:
		d.ask(d.Next[0].Test, TestPays)
		return
	}
	if t, why := d.before(q); why != "" {
		d.ask(t, why)
		return
	}
	t, ok, dear := d.telling(q)
	if ok {
		d.ask(t, NotShown)
		return
	}
	if d.Repair == circuit.Nothing || d.Likeliest.Of == circuit.ComesGoesUnit {
		if t, ok := d.heldTest(q); ok {
			d.Decision, d.Why = Decision{Do: Recheck, Test: t}, Contradiction
			return
		}
	}
	healthy := d.Repair != circuit.Unexplained && !dear && d.looksHealthy()
	switch {
	case d.Repair == circuit.Nothing || d.loose() || healthy && d.RepairP < atFault:
		d.repair(q, circuit.Nothing, LooksHealthy)
	case healthy || d.doubtful() && !dear: // what a healthy circuit gives too condemns no part, and acquits none that is likely at fault
		d.repair(q, circuit.Unexplained, TooDoubtful)
	case d.Repair == circuit.Unexplained:
		d.repair(q, circuit.Unexplained, FitsNothing)
	case len(d.Next) == 0:
		d.repair(q, d.Repair, NoTestLeft)
	case d.Cost < littleCost:
		d.repair(q, d.Repair, Sure)
	default:
		d.repair(q, d.Repair, NoTestPays)
	}
}

func (d *Diagnosis) ask(t circuit.Test, why Reason) {
	d.Decision, d.Why = Decision{Do: MakeTest, Test: t}, why
}

func (d *Diagnosis) repair(q Question, r circuit.Repair, why Reason) {
	d.Decision, d.Why = Decision{Do: MakeRepair, Repair: r}, why
	for _, c := range d.Repairs {
		if c.Of == r {
			d.Repair, d.RepairP, d.Cost = r, c.P, q.Wrong[r]*(1-c.P)
		}
	}
}

// preview puts the test to make now first, and, if whole, works out what its outcomes would mean.
func (d *Diagnosis) preview(whole bool) {
	if d.Decision.Do != MakeTest {
		return
	}
	i := slices.IndexFunc(d.Next, func(n Next) bool { return n.Test == d.Decision.Test })
	if i < 0 {
		return
	}
	n := d.Next[i]
	if whole {
		n.Outcomes, n.Rest = d.outcomes(n.Test), 1
		for _, o := range n.Outcomes {
			n.Rest -= o.P
		}
		if n.Rest < likelyOutcome {
			n.Rest = 0
		}
	}
	d.Next = append([]Next{n}, slices.Delete(d.Next, i, i+1)...)
}

// contradicts reports whether the readings fit nothing known.
func (d *Diagnosis) contradicts() bool {
	if d.jumped() && d.Likeliest.Of.ComesAndGoes() {
		return false
	}
	return d.Surprising() || len(d.taken) > 0 && d.chances[circuit.Other] > half
}

// times returns how often a test was made.
func (d *Diagnosis) times(q Question, t circuit.Test) (n int) {
	for _, r := range q.Readings {
		if r.Test == t {
			n++
		}
	}
	return n
}

// typed returns a look at what was typed once for all readings, where the readings would fit if it showed something else.
func (d *Diagnosis) typed(q Question) (circuit.Test, bool) {
	var looks []circuit.Test
	switch d.Worst {
	case circuit.OhmsWinding, circuit.OhmsComponent, circuit.OhmsUnit:
		looks = []circuit.Test{circuit.RowApplies, circuit.Thermometer}
	case circuit.CurrentOn, circuit.VoltsPinOn:
		looks = []circuit.Test{circuit.SupplyDriven}
	}
	for _, t := range looks {
		if !d.Made(t) && q.loosened(t).fits() {
			return t, true
		}
	}
	return 0, false
}

// loosened returns the question as it would be if what a look is for were anything that it may well be: another row, any temperature, a
// supply that is a sixth off.
func (q Question) loosened(look circuit.Test) Question {
	const off = 6
	m := *q.Model
	switch look {
	case circuit.RowApplies:
		q.Readings = append(slices.Clone(q.Readings), circuit.Reading{Test: look, Word: circuit.No})
	case circuit.Thermometer:
		m.Warmth.Known = false
	case circuit.SupplyDriven:
		m.SupplyWithin = max(m.SupplyWithin, m.Supply/off)
	}
	q.Model = &m
	return q
}

// fits reports whether a single known fault explains the readings.
func (q Question) fits() bool {
	w := evidence.Weigh(q.Model, q.Readings)
	return w.Surprise() < doubt.Surprising && w.Chances()[circuit.Other] <= half
}

// before returns a test that has to be made before the repair is decided on, and why; "" if there is none.
func (d *Diagnosis) before(q Question) (circuit.Test, Reason) {
	f := d.Likeliest.Of
	if d.loose() {
		for _, t := range [...]circuit.Test{circuit.Wiggle, circuit.Heat} {
			if !d.Made(t) {
				return t, LookFirst
			}
		}
		return 0, ""
	}
	switch d.Repair {
	case circuit.ControlUnit:
		for _, t := range d.elimination() {
			if !d.Made(t) {
				return t, Eliminate
			}
		}
	case circuit.UnitPower:
		t := circuit.VoltsUnitFeed
		if f == circuit.GroundOpen || f == circuit.GroundHigh {
			t = circuit.VoltsUnitGround
		}
		for _, t := range [...]circuit.Test{t, circuit.SupplyDriven} {
			if !d.Made(t) {
				return t, LookFirst
			}
		}
	case circuit.Component:
		return d.beforeComponent(q)
	}
	return 0, ""
}

// elimination returns the tests that have to be made before the control unit is condemned: of its feed, its ground, and, with
// its plug pulled, of its driver.
func (d *Diagnosis) elimination() []circuit.Test {
	direct := circuit.VoltsLoad
	if f := d.Likeliest.Of; (f == circuit.DriverAlways || f == circuit.DriverShorted) && d.Made(circuit.VoltsPinOff) {
		direct = circuit.VoltsHarnessOpen // with the wire off the unit, what was on it has to be gone
	}
	return []circuit.Test{direct, circuit.VoltsUnitFeed, circuit.VoltsUnitGround}
}

// atComponent are the tests that are made on the component itself.
const atComponent = circuit.Set(1)<<circuit.OhmsWinding | 1<<circuit.OhmsComponent | 1<<circuit.InsulationComponent | 1<<circuit.Heat

// unseen returns the test to make on the component itself before it is condemned from afar: what reads like it may be another part
// that is plugged in there. Not where it is so hard to reach that looking costs more than a tenth of a part bought in vain.
func (d *Diagnosis) unseen(q Question) (circuit.Test, bool) {
	if q.Weights[circuit.Other] == 0 { // no world but that of the list
		return 0, false
	}
	for t := range circuit.Test(circuit.Tests) {
		if atComponent.Has(t) && d.Made(t) {
			return 0, false
		}
	}
	const share = 0.1
	t := circuit.OhmsComponent
	switch d.Likeliest.Of {
	case circuit.LeadToGround, circuit.WindingToCase:
		if leak := circuit.InsulationComponent; leak.Possible(q.Side, q.Return) {
			t = leak
		}
	}
	return t, q.Minutes[t]/60*q.Hour <= share*q.Wrong[circuit.Component]
}

// beforeComponent asks for a look at the component itself before it is condemned; for a resistance that another row or another
// temperature explains, whether the row applies, and for the temperature.
func (d *Diagnosis) beforeComponent(q Question) (circuit.Test, Reason) {
	if t, ok := d.unseen(q); ok {
		return t, LookFirst
	}
	switch d.Likeliest.Of {
	case circuit.WindingShorted, circuit.WindingHigh, circuit.LeadHigh:
	default:
		return 0, ""
	}
	const stillPossible = 0.002
	if !d.Made(circuit.RowApplies) && d.chances[circuit.OtherRow] > stillPossible {
		return circuit.RowApplies, LookFirst
	}
	if !d.Made(circuit.Thermometer) {
		at := func(t float64) float64 { return winding.Copper.Factor(q.Row.At, winding.Anywhere.From) * t }
		hot := winding.Copper.Factor(q.Row.At, winding.Anywhere.To)
		if d.Coil > at(q.Row.Min)*0.97 && d.Coil < q.Row.Max*hot*1.03 {
			return circuit.Thermometer, LookFirst
		}
	}
	return 0, ""
}

// atFault is the probability from which a part is not passed over for a circuit that may be healthy.
const atFault = 0.8

// looksHealthy reports whether the readings are what a healthy circuit gives.
func (d *Diagnosis) looksHealthy() bool {
	const unlikely, little = 0.02, 0.1
	return !d.jumped() && d.Plausible > unlikely && d.sound() > little
}

// sound returns the probability that nothing is there to be mended now.
func (d *Diagnosis) sound() float64 {
	return d.chances[circuit.None] + d.chances[circuit.OtherRow] + d.ComesAndGoes
}

// jumped reports whether a resistance jumped while wires were moved, or the part warmed.
func (d *Diagnosis) jumped() bool {
	for _, r := range d.taken {
		if r.Word == circuit.Jumps {
			return true
		}
	}
	return false
}

// doubtful reports whether no test is left that would tell more, and yet the costliest parts would be condemned on little more than a
// guess.
func (d *Diagnosis) doubtful() bool {
	const little = 0.7
	return (d.Repair == circuit.Component || d.Repair == circuit.ControlUnit) && d.RepairP < little
}

// telling returns the test that tells most for its minutes, where a repair would be decided on although no reading has shown that
// anything is wrong, or with much doubt. A test that costs more than being wrong is too dear.
func (d *Diagnosis) telling(q Question) (best circuit.Test, ok, dear bool) {
	const sure, enough, little, some, worth = 0.85, 0.85, 0.04, 0.2, 0.006
	least := some
	switch {
	case d.Repair == circuit.Nothing || d.loose():
		if d.sound() >= enough {
			return 0, false, false
		}
	case d.looksHealthy():
		least = little
	case d.RepairP >= sure:
		return 0, false, false
	}
	most := 0.0
	for _, n := range d.Next {
		rate := n.Bits / max(1, n.Minutes)
		switch {
		case n.Bits < least || rate <= max(worth, most+1e-9):
		case n.Minutes/60*q.Hour >= d.Cost:
			dear = true
		default:
			best, most, ok = n.Test, rate, true
		}
	}
	return best, ok, dear
}

// loose reports whether the repair would be for a fault that comes and goes, and that nobody has caught.
func (d *Diagnosis) loose() bool {
	if !d.Likeliest.Of.ComesAndGoes() {
		return false
	}
	return !d.jumped() && (d.Likeliest.Of == circuit.ComesGoesUnit || d.looksHealthy())
}

// comesAndGoes returns the probability that the fault comes and goes.
func (d *Diagnosis) comesAndGoes() (p float64) {
	for f, q := range d.chances {
		if circuit.Fault(f).ComesAndGoes() {
			p += q
		}
	}
	return p
}

// heldOff reports whether a driver that stays off although nothing is wrong with it is a likely reason for the readings.
func (d *Diagnosis) heldOff() bool {
	return len(d.idle) > 0
}

// heldTest returns a test that was made only once, on a driver that was probably not on.
func (d *Diagnosis) heldTest(q Question) (circuit.Test, bool) {
	for _, t := range d.idle {
		if d.times(q, t) == 1 {
			return t, true
		}
	}
	return 0, false
}

// against reports whether the likeliest of the faults to be put right would not normally set the code that is stored, and sets
// what it sets.
func (d *Diagnosis) against(q Question) bool {
	f := d.Likeliest
	if d.Decision.Do != MakeRepair || q.Code == circuit.NoCode || d.Decision.Repair == circuit.Nothing ||
		d.Decision.Repair == circuit.Unexplained ||
		f.Of.ComesAndGoes() || f.Of.Part() == circuit.Power {
		return false
	}
	d.Sets = d.setsOf(f.Of)
	for _, c := range d.Sets {
		if c == q.Code {
			return false
		}
	}
	return true
}
