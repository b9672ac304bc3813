package circuit

import (
	"math"
	"strconv"

	"ohmwright/core/bench"
	"ohmwright/core/circuit"
	"ohmwright/core/diagnosis"
	"ohmwright/core/evidence"
	"ohmwright/core/quantity"
	"ohmwright/core/tool"
	"ohmwright/core/winding"
	"ohmwright/core/wording"
)

type result struct {
	Overall      string          `json:"overall"`
	Stop         string          `json:"stop,omitempty"`
	Faults       []faultChance   `json:"faults"`
	Repairs      []repairChance  `json:"repairs"`
	Next         []nextTest      `json:"next"`
	Decision     decisionResult  `json:"decision"`
	Surprise     float64         `json:"surprise"`
	Worst        string          `json:"worst,omitempty"`
	Pair         []string        `json:"pair,omitempty"`
	RestsOn      string          `json:"rests_on,omitempty"`
	ComesAndGoes float64         `json:"comes_and_goes"`
	Sets         []string        `json:"sets"`
	Readings     []readingResult `json:"readings"`
}

type faultChance struct {
	Fault       string  `json:"fault"`
	Probability float64 `json:"probability"`
}

type repairChance struct {
	Repair      string  `json:"repair"`
	Probability float64 `json:"probability"`
}

type nextTest struct {
	Test     string          `json:"test"`
	Bits     float64         `json:"gain_bits"`
	Minutes  float64         `json:"minutes"`
	Value    float64         `json:"value"`
	Expected ExpectedResult  `json:"expected"`
	Outcomes []outcomeResult `json:"outcomes"`
	Rest     float64         `json:"undecided,omitempty"`
}

type outcomeResult struct {
	From        *tool.Amount `json:"from,omitempty"`
	To          *tool.Amount `json:"to,omitempty"`
	Over        bool         `json:"over"`
	Word        string       `json:"word,omitempty"`
	Probability float64      `json:"probability"`
	Fault       string       `json:"fault"`
	FaultP      float64      `json:"fault_probability"`
	Repair      string       `json:"repair"`
	RepairP     float64      `json:"repair_probability"`
}

// An ExpectedResult says what a test reads in a healthy circuit.
type ExpectedResult struct {
	Min  *tool.Amount `json:"min,omitempty"`
	Max  *tool.Amount `json:"max,omitempty"`
	Over bool         `json:"over"`
	Word string       `json:"word,omitempty"`
}

type readingResult struct {
	Test     string         `json:"test"`
	Value    *tool.Amount   `json:"value,omitempty"`
	Over     bool           `json:"over"`
	Word     string         `json:"word,omitempty"`
	Supply   *tool.Amount   `json:"supply,omitempty"`
	At       *tool.Amount   `json:"at,omitempty"`
	Counted  bool           `json:"counted"`
	Expected ExpectedResult `json:"expected"`
}

type decisionResult struct {
	Do          string   `json:"do"`
	Why         string   `json:"why,omitempty"`
	Test        string   `json:"test,omitempty"`
	Repair      string   `json:"repair,omitempty"`
	Probability *float64 `json:"probability,omitempty"`
	Cost        *float64 `json:"expected_cost_of_error,omitempty"`
	RestsOn     string   `json:"rests_on,omitempty"`
}

func tell(q question, f finding, a *tool.Answer) *result {
	res := &result{Overall: overall(&f), Faults: []faultChance{}, Repairs: []repairChance{}, Next: []nextTest{}, Sets: []string{},
		Readings: []readingResult{}}
	if f.stop != "" {
		f.stop.Tell(a)
		res.Stop, res.Decision.Do = string(f.stop), bench.Stopped
		return res
	}
	res.Decision, res.Surprise, res.ComesAndGoes = decisionOf(&f.Diagnosis), f.Surprise, f.ComesAndGoes
	for _, c := range f.Faults {
		res.Faults = append(res.Faults, faultChance{c.Of.String(), c.P})
	}
	for _, c := range f.Repairs {
		if c.Of != circuit.InnerHarness || q.InnerApart {
			res.Repairs = append(res.Repairs, repairChance{c.Of.String(), c.P})
		}
	}
	for _, n := range f.Next {
		res.Next = append(res.Next, nextOf(n, f.Healthy[n.Test]))
		a.Next = append(a.Next, n.Test.String())
	}
	for _, c := range f.Sets {
		res.Sets = append(res.Sets, c.String())
	}
	for i, r := range q.Readings {
		res.Readings = append(res.Readings, readingOf(r, f.Latest[r.Test] == i, f.Healthy[r.Test]))
	}
	for _, d := range f.Doubts {
		tellDoubt(d, q, &f.Diagnosis, res, a)
	}
	if !f.Warm {
		lo, hi := a.Speak.Celsius(float64(winding.Anywhere.From), 0), a.Speak.Celsius(float64(winding.Anywhere.To), 0)
		a.Warn("temperature_unknown", "winding_temperature", lo, hi)
	}
	if !a.Brief {
		steps(q, &f.Diagnosis, a)
	}
	caution(q, &f.Diagnosis, a)
	return res
}

// overall returns the one word of the verdict: the repair, or that a test is to be made or repeated, or a stop.
func overall(f *finding) string {
	switch d := f.Decision; {
	case f.stop != "":
		return bench.Stopped
	case d.Do == diagnosis.Recheck:
		return "again"
	case d.Do == diagnosis.MakeTest:
		return "test"
	default:
		return d.Repair.String()
	}
}

func decisionOf(f *diagnosis.Diagnosis) decisionResult {
	d := decisionResult{Do: string(f.Decision.Do), Why: string(f.Why)}
	if f.Decision.Do != diagnosis.MakeRepair {
		d.Test = f.Decision.Test.String()
		return d
	}
	d.Repair, d.Probability, d.Cost = f.Decision.Repair.String(), &f.RepairP, &f.Cost
	if f.Alone {
		d.RestsOn = f.On.String()
	}
	return d
}

// readingOf returns a reading as it was understood.
func readingOf(r circuit.Reading, counts bool, healthy evidence.Expected) readingResult {
	res := readingResult{Test: r.Test.String(), Value: TellReading(r), Over: r.Over, Word: r.Word.String(), Counted: counts,
		Expected: TellExpected(r.Test, healthy)}
	if r.Supply > 0 {
		res.Supply = tool.Some(tool.Plain(quantity.OfVoltage, r.Supply))
	}
	if r.At != nil {
		res.At = tool.Some(tool.Of(*r.At))
	}
	return res
}

func nextOf(n diagnosis.Next, e evidence.Expected) nextTest {
	next := nextTest{n.Test.String(), n.Bits, n.Minutes, n.Value, TellExpected(n.Test, e), []outcomeResult{}, n.Rest}
	for _, o := range n.Outcomes {
		out := outcomeResult{Over: o.Over, Word: o.Word.String(), Probability: o.P}
		out.Fault, out.FaultP = o.Fault.String(), o.FaultP
		out.Repair, out.RepairP = o.Repair.String(), o.RepairP
		number := !o.Over && o.Word == circuit.NoWord
		if number && !math.IsInf(o.From, 0) {
			out.From = amount(n.Test, o.From)
		}
		if number && !math.IsInf(o.To, 0) {
			out.To = amount(n.Test, o.To)
		}
		next.Outcomes = append(next.Outcomes, out)
	}
	return next
}

// amount returns a value of a test in the form of the contract.
func amount(t circuit.Test, v float64) *tool.Amount { return tool.Some(tool.Plain(kindOf(t), v)) }

// TellReading returns a reading in the form of the contract; nil for OL and for a word.
func TellReading(r circuit.Reading) *tool.Amount {
	if r.Over || kindOf(r.Test) == 0 {
		return nil
	}
	return amount(r.Test, r.Value)
}

// TellExpected returns what a test reads in a healthy circuit, in the form of the contract.
func TellExpected(t circuit.Test, e evidence.Expected) ExpectedResult {
	if e.Over || kindOf(t) == 0 {
		return ExpectedResult{Over: e.Over, Word: e.Word.String()}
	}
	return ExpectedResult{Min: amount(t, e.Low), Max: amount(t, e.High)}
}

// tellDoubt warns of a doubt, and sets the field of the result that names what the doubt is about.
func tellDoubt(d diagnosis.Doubt, q question, f *diagnosis.Diagnosis, res *result, a *tool.Answer) {
	s, code := a.Speak, string(d)
	switch d {
	case diagnosis.Superseded:
		a.Warn(code, "readings", strconv.Itoa(f.Earlier))
	case diagnosis.NoSingleFault:
		res.Worst = f.Worst.String()
		a.Warn(code, "readings", TestName(s, f.Worst))
		if q.hasty && f.Surprising() {
			a.WarnLater(string(diagnosis.TwoFaults), "readings")
		}
	case diagnosis.TwoFaults:
		res.Pair = []string{f.Pair[0].String(), f.Pair[1].String()}
		a.Warn(code, "readings", FaultName(s, f.Pair[0]), FaultName(s, f.Pair[1]))
	case diagnosis.SameRepair:
		a.Warn(code, "readings", FaultName(s, f.Alike[0]), FaultName(s, f.Alike[1]), RepairName(s, q.Repair(f.Alike[0])))
	case diagnosis.AgainstCode:
		tellAgainst(q, f, a)
	case diagnosis.MayComeAndGo:
		a.Warn(code, "fault_present", s.Chance(f.ComesAndGoes))
	case diagnosis.HeldOff:
		a.Warn(code, "code_kind")
	case diagnosis.RestsOnOne:
		res.RestsOn = f.On.String()
		a.Warn(code, "readings", TestName(s, f.On))
	}
}

// tellAgainst warns that the likeliest fault would not normally set the code, and says which ones it sets.
func tellAgainst(q question, f *diagnosis.Diagnosis, a *tool.Answer) {
	s, code := a.Speak, string(diagnosis.AgainstCode)
	name := func(c circuit.Code) string { return s.Say("code_kind=" + c.String()) }
	if len(f.Sets) == 0 {
		a.WarnBy("against_code.none", code, "code_kind", FaultName(s, f.Likeliest.Of), name(q.Code))
		return
	}
	list := make([]string, len(f.Sets))
	for i, c := range f.Sets {
		list[i] = name(c)
	}
	a.Warn(code, "code_kind", FaultName(s, f.Likeliest.Of), name(q.Code), a.Speak.List(list...))
}

// caution adds the cautions for what is to be done now.
func caution(q question, f *diagnosis.Diagnosis, a *tool.Answer) {
	a.Caution("plugs")
	switch d := f.Decision; {
	case d.Do == diagnosis.MakeRepair:
		switch d.Repair {
		case circuit.ControlUnit:
			a.Caution("before_unit")
		case circuit.Component:
			a.Caution("lifted")
		}
	case d.Test == circuit.OhmsWinding:
		a.Caution("lifted")
	case d.Test == circuit.Heat, d.Test == circuit.Thermometer:
		a.Caution("hot_part")
	case d.Test.Live():
		a.Caution("live_circuit")
		if d.Test == circuit.VoltsLoad {
			a.CautionOf("test_load", watts(a.Speak, q.Supply))
		}
	}
	a.Caution("maker_first")
}

// watts writes what the test load gives off on a supply.
//
//	P = U²/12 ohm
func watts(s *wording.Speaker, supply float64) string {
	const load = 12
	return s.Figures(supply*supply/load, 2)
}
