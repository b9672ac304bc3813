package circuit

import (
	"math"
	"strconv"

	"ohmwright/core/circuit"
	"ohmwright/core/tool"
)

type result struct {
	Faults   []faultChance   `json:"faults"`
	Repairs  []repairChance  `json:"repairs"`
	Next     []nextTest      `json:"next"`
	Decision decisionResult  `json:"decision"`
	Surprise float64         `json:"surprise"`
	Worst    string          `json:"worst,omitempty"`
	Pair     []string        `json:"pair,omitempty"`
	RestsOn  string          `json:"rests_on,omitempty"`
	Readings []readingResult `json:"readings"`
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
}

type outcomeResult struct {
	From        *tool.Amount `json:"from,omitempty"`
	To          *tool.Amount `json:"to,omitempty"`
	Over        bool         `json:"over"`
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
}

type readingResult struct {
	Test     string         `json:"test"`
	Value    *tool.Amount   `json:"value,omitempty"`
	Over     bool           `json:"over"`
	Counted  bool           `json:"counted"`
	Expected ExpectedResult `json:"expected"`
}

type decisionResult struct {
	Do          string   `json:"do"`
	Test        string   `json:"test,omitempty"`
	Repair      string   `json:"repair,omitempty"`
	Probability *float64 `json:"probability,omitempty"`
	Cost        *float64 `json:"expected_cost_of_error,omitempty"`
}

func tell(q question, f circuit.Diagnosis, a *tool.Answer) result {
	res := result{Next: []nextTest{}, Decision: decisionOf(&f), Surprise: f.Surprise, Readings: []readingResult{}}
	for _, c := range f.Faults {
		res.Faults = append(res.Faults, faultChance{c.Of.String(), c.P})
	}
	for _, c := range f.Repairs {
		res.Repairs = append(res.Repairs, repairChance{c.Of.String(), c.P})
	}
	for _, n := range f.Next {
		res.Next = append(res.Next, nextOf(n, f.Healthy[n.Test]))
	}
	for i, r := range q.Readings {
		expected := TellExpected(r.Test, f.Healthy[r.Test])
		res.Readings = append(res.Readings, readingResult{r.Test.String(), TellReading(r), r.Over, f.Latest[r.Test] == i, expected})
	}
	for _, d := range f.Doubts {
		tellDoubt(d, &f, &res, a)
	}
	if !q.nowGiven {
		a.Warn("temperature_assumed", "winding_temperature", a.Speak.Celsius(float64(q.spec.at), 0))
	}
	if !a.Brief {
		steps(q, &f, a)
	}
	caution(&f, a)
	return res
}

func decisionOf(f *circuit.Diagnosis) decisionResult {
	if f.Decision.Do == circuit.MakeRepair {
		return decisionResult{Do: string(f.Decision.Do), Repair: f.Decision.Repair.String(), Probability: &f.RepairP, Cost: &f.Cost}
	}
	return decisionResult{Do: string(f.Decision.Do), Test: f.Decision.Test.String()}
}

func nextOf(n circuit.Next, e circuit.Expected) nextTest {
	next := nextTest{n.Test.String(), n.Bits, n.Minutes, n.Value, TellExpected(n.Test, e), []outcomeResult{}}
	for _, o := range n.Outcomes {
		out := outcomeResult{Over: o.Over, Probability: o.P}
		out.Fault, out.FaultP = o.Fault.String(), o.FaultP
		out.Repair, out.RepairP = o.Repair.String(), o.RepairP
		if !o.Over && !math.IsInf(o.From, 0) {
			out.From = amount(n.Test, o.From)
		}
		if !o.Over && !math.IsInf(o.To, 0) {
			out.To = amount(n.Test, o.To)
		}
		next.Outcomes = append(next.Outcomes, out)
	}
	return next
}

// amount returns a value of a test in the form of the contract.
func amount(t circuit.Test, v float64) *tool.Amount { return tool.Some(tool.Plain(kindOf(t), v)) }

// TellReading returns a reading in the form of the contract; nil for OL.
func TellReading(r circuit.Reading) *tool.Amount {
	if r.Over {
		return nil
	}
	return amount(r.Test, r.Value)
}

// TellExpected returns what a test reads in a healthy circuit, in the form of the contract.
func TellExpected(t circuit.Test, e circuit.Expected) ExpectedResult {
	if e.Over {
		return ExpectedResult{Over: true}
	}
	return ExpectedResult{Min: amount(t, e.Low), Max: amount(t, e.High)}
}

// tellDoubt warns of a doubt, and sets the field of the result that names what the doubt is about.
func tellDoubt(d circuit.Doubt, f *circuit.Diagnosis, res *result, a *tool.Answer) {
	s, code := a.Speak, string(d)
	switch d {
	case circuit.Superseded:
		a.Warn(code, "readings", strconv.Itoa(f.Earlier))
	case circuit.NoSingleFault:
		res.Worst = f.Worst.String()
		a.Warn(code, "readings", TestName(s, f.Worst))
	case circuit.TwoFaults:
		res.Pair = []string{f.Pair[0].String(), f.Pair[1].String()}
		a.Warn(code, "readings", FaultName(s, f.Pair[0]), FaultName(s, f.Pair[1]))
	case circuit.SameRepair:
		a.Warn(code, "readings", FaultName(s, f.Alike[0]), FaultName(s, f.Alike[1]), RepairName(s, f.Alike[0].Repair()))
	case circuit.RestsOnOne:
		res.RestsOn = f.On.String()
		a.Warn(code, "readings", TestName(s, f.On))
	}
}

// caution adds the cautions for what is to be done now.
func caution(f *circuit.Diagnosis, a *tool.Answer) {
	a.Caution("plugs")
	switch d := f.Decision; {
	case d.Do == circuit.MakeRepair:
		if d.Repair == circuit.ControlUnit {
			a.Caution("before_unit")
		}
	case d.Test == circuit.OhmsWinding:
		a.Caution("lifted")
	case d.Test.Quantity() != circuit.Ohms:
		a.Caution("live_circuit")
		if d.Test == circuit.VoltsLoad {
			a.Caution("test_load")
		}
	}
	a.Caution("maker_first")
}
