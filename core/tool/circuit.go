package tool

import (
	"math"
	"strconv"

	"ohmwright/core/circuit"
	"ohmwright/core/quantity"
	"ohmwright/core/winding"
)

// Circuit declares the question which part of the circuit is at fault, and what to measure next.
var Circuit = &Tool{
	Name: "circuit",
	Example: `{
  "side": "high", "return": "case", "supply": "13.8 V",
  "spec": {"min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC"}, "winding_temperature": "88 degC",
  "code_kind": "low",
  "readings": [
    {"test": "current_on", "value": "4.62 A"},
    {"test": "resistance_component", "value": "2.7 ohm"}
  ]
}`,
	Result: circuitResult{},
	Slot:   "readings",
	Keeps:  []string{"side", "return", "spec", "minutes", "costs", "meter", "priors", "parameters", "nominal", "checks"},
	Fields: []Field{
		{Name: "side", Shape: Choice, Need: true, Choices: []string{"high", "low"}},
		{Name: "return", Shape: Choice, Default: "wire", Choices: []string{"wire", "case"}},
		{Name: "supply", Shape: Quantity, Kinds: voltageOnly, Need: true, Range: over(0, 1000), Offer: []string{"V"}},
		{Name: "spec", Shape: Group, Need: true, Fields: []Field{
			{Name: "min", Shape: Quantity, Kinds: resistanceOnly, Need: true, Range: coils, Offer: []string{"ohm"}, Sample: "5.0 ohm"},
			{Name: "max", Shape: Quantity, Kinds: resistanceOnly, Need: true, Range: coils, UnitFrom: "min", Sample: "5.6 ohm"},
			{Name: "at", Shape: Quantity, Kinds: temperatureOnly, Default: "20 degC", Range: coilTemperatures, Offer: []string{"degC", "degF"}},
		}},
		{Name: "winding_temperature", Shape: Quantity, Kinds: temperatureOnly, Range: coilTemperatures, Offer: []string{"degC", "degF"}},
		{Name: "code_kind", Shape: Choice, Default: "none", Choices: []string{"none", "low", "high", "open", "range"}, Apart: "code_kind"},
		{Name: "readings", Shape: List, Most: 1000, Apart: "readings", Pick: "test", Fields: []Field{
			{Name: "test", Shape: Choice, Need: true, Choices: names[circuit.Test](circuit.Tests), Units: testUnits()},
			{Name: "value", Shape: Reading, Need: true, Kinds: []quantity.Kind{quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent}, Range: between(-1000, mostOhms), Offer: []string{"ohm", "kohm", "Mohm", "V", "mV", "A", "mA"}},
		}},
		{Name: "minutes", Shape: Group, Fine: true, Apart: "minutes", Fields: numbers(circuit.Tests, between(0, 10000), func(t circuit.Test) (string, float64) { return testWords + t.String(), t.Minutes() })},
		{Name: "costs", Shape: Group, Fine: true, Apart: "costs", Fields: []Field{
			{Name: "hour", Shape: Number, Default: "60", Range: between(0, 1e6)},
			{Name: "wrong", Shape: Group, Same: true, Fields: numbers(circuit.Repairs, between(0, 1e9), func(r circuit.Repair) (string, float64) { return "circuit.repair." + r.String(), 300 })},
		}},
		{Name: "meter", Shape: Group, Fine: true, Apart: "meter", Fields: []Field{
			{Name: "resistance", Shape: Group, Fields: meterFields("1", "2", "", quantity.OfResistance)},
			{Name: "voltage", Shape: Group, Fields: meterFields("0.5", "2", "0.01 V", quantity.OfVoltage)},
			{Name: "current", Shape: Group, Fields: meterFields("2", "3", "0.01 A", quantity.OfCurrent)},
		}},
		{Name: "priors", Shape: Group, Fine: true, Apart: "priors", Fields: numbers(circuit.Faults, between(0, 1e6), func(f circuit.Fault) (string, float64) { return "circuit.fault." + f.String(), f.Weight() })},
		{Name: "parameters", Shape: Group, Fine: true, Apart: "parameters", Fields: parameterFields()},
		{Name: "nominal", Shape: Group, Fine: true, Apart: "nominal", Fields: []Field{
			nominal("driver"), nominal("harness"), nominal("inner_lead"), nominal("return_path"), nominal("source"), nominal("check_current"),
		}},
		{Name: "checks", Shape: Group, Fine: true, Apart: "checks", Fields: []Field{
			{Name: "off", Shape: Quantity, Kinds: voltageOnly, Range: voltages},
			{Name: "on", Shape: Quantity, Kinds: voltageOnly, Range: voltages},
			{Name: "over", Shape: Quantity, Kinds: currentOnly, Range: currents},
			{Name: "open", Shape: Quantity, Kinds: currentOnly, Range: currents, Offer: []string{"A", "mA"}},
			{Name: "range", Shape: Quantity, Kinds: ratioOnly, Range: over(0, 10), Offer: []string{"%"}},
		}},
	},
	check: checkCircuit,
	run:   runCircuit,
	lay:   layCircuit,
	draft: draftCircuit,
}

// Limits of what the network is solved for: wider than any solenoid, and narrow enough that rounding never shows.
var (
	coils            = between(0.05, 1e6)
	coilTemperatures = between(-100, 400)
	wireOhms         = between(0.001, 1e7)
)

// named is what the circuit's faults, tests and repairs are.
type named interface {
	~uint8
	String() string
}

// names lists the names of the first n.
func names[T named](n int) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = T(i).String()
	}
	return list
}

// numbers declares a number for each of the first n, with its words and default.
func numbers[T named](n int, r Range, about func(T) (words string, value float64)) []Field {
	list := make([]Field, n)
	for i := range list {
		words, value := about(T(i))
		list[i] = Field{Name: T(i).String(), Shape: Number, Default: strconv.FormatFloat(value, 'f', -1, 64), Range: r, Label: words}
	}
	return list
}

// parameterFields declares the limits of each fault's parameter.
func parameterFields() (list []Field) {
	for f := range circuit.Fault(circuit.Faults) {
		lo, hi, log, ok := f.Limits()
		if !ok {
			continue
		}
		kind, unit, r, times := quantity.OfResistance, " ohm", wireOhms, 1.0
		if !log {
			kind, unit, r, times = quantity.OfRatio, " %", between(0.001, 0.999), 100
		}
		text := func(v float64) string { return strconv.FormatFloat(v*times, 'f', -1, 64) + unit }
		of := func(name string, v float64) Field {
			return Field{Name: name, Shape: Quantity, Kinds: []quantity.Kind{kind}, Default: text(v), Range: r, Label: "circuit.parameters." + name}
		}
		list = append(list, Field{Name: f.String(), Shape: Group, Fields: []Field{of("min", lo), of("max", hi)}, Label: "circuit.fault." + f.String()})
	}
	return list
}

func nominal(name string) Field {
	return Field{Name: name, Shape: Quantity, Kinds: resistanceOnly, Range: wireOhms}
}

// testWords is what the key of a test's name begins with.
const testWords = "circuit.readings.test="

var testKinds = [circuit.Quantities]quantity.Kind{quantity.OfResistance, quantity.OfVoltage, quantity.OfCurrent}

func kindOf(t circuit.Test) quantity.Kind { return testKinds[t.Quantity()] }

// testUnits is the unit in which a test's reading is usually typed.
func testUnits() map[string]string {
	units := map[string]string{}
	for t := range circuit.Test(circuit.Tests) {
		units[t.String()] = quantity.Units(kindOf(t))[0].Symbol
	}
	return units
}

// find is the one of the first n with a name; ok is false where there is none.
func find[T named](n int, name string) (T, bool) {
	for i := range n {
		if T(i).String() == name {
			return T(i), true
		}
	}
	return 0, false
}

type circuitResult struct {
	Faults   []faultChance    `json:"faults"`
	Repairs  []repairChance   `json:"repairs"`
	Next     []nextTest       `json:"next"`
	Decision decisionResult   `json:"decision"`
	Surprise float64          `json:"surprise"`
	Worst    string           `json:"worst,omitempty"`
	Pair     []string         `json:"pair,omitempty"`
	RestsOn  string           `json:"rests_on,omitempty"`
	Readings []circuitReading `json:"readings"`
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
	Expected expectedReading `json:"expected"`
	Outcomes []outcomeResult `json:"outcomes"`
}

type outcomeResult struct {
	From        *Amount `json:"from,omitempty"`
	To          *Amount `json:"to,omitempty"`
	Over        bool    `json:"over"`
	Probability float64 `json:"probability"`
	Fault       string  `json:"fault"`
	FaultP      float64 `json:"fault_probability"`
	Repair      string  `json:"repair"`
	RepairP     float64 `json:"repair_probability"`
}

type expectedReading struct {
	Min  *Amount `json:"min,omitempty"`
	Max  *Amount `json:"max,omitempty"`
	Over bool    `json:"over"`
}

type circuitReading struct {
	Test     string          `json:"test"`
	Value    *Amount         `json:"value,omitempty"`
	Over     bool            `json:"over"`
	Counted  bool            `json:"counted"`
	Expected expectedReading `json:"expected"`
}

type decisionResult struct {
	Do          string   `json:"do"`
	Test        string   `json:"test,omitempty"`
	Repair      string   `json:"repair,omitempty"`
	Probability *float64 `json:"probability,omitempty"`
	Cost        *float64 `json:"expected_cost_of_error,omitempty"`
}

func sideOf(r *Record) (circuit.Side, circuit.Return) {
	s, ret := circuit.High, circuit.Wire
	if r.Text("side") == "low" {
		s = circuit.Low
	}
	if r.Text("return") == "case" {
		ret = circuit.Case
	}
	return s, ret
}

func checkCircuit(r *Record, f *faults) {
	checkChain(r, f)
	side, ret := sideOf(r)
	for _, row := range r.Rows("readings") {
		t, ok := find[circuit.Test](circuit.Tests, row.Text("test"))
		if !ok {
			continue
		}
		if r.OK("side", "return") {
			checkPossible(row, side, ret, f)
		}
		checkReading(row, t, f)
	}
}

// checkChain holds the circuit and what is assumed of it to what can be.
func checkChain(r *Record, f *faults) {
	side, ret := sideOf(r)
	if r.OK("side", "return") && side == circuit.Low && ret == circuit.Case {
		f.conflict("return", "case", "low_case")
		r.at("return").ok = false
	}
	spec := r.Group("spec")
	if spec.OK("min", "max") && spec.Value("min") > spec.Value("max") {
		f.conflict("spec.min", spec.Text("min"), "min_max", f.speak.Ohms(spec.Value("min"), 0), f.speak.Ohms(spec.Value("max"), 0))
	}
	if p := r.Group("priors"); r.OK("priors") {
		sum := 0.0
		for i := range p.fields {
			sum += p.slots[i].value
		}
		if sum <= 0 {
			f.conflict("priors", "0", "no_priors")
		}
	}
	for _, s := range r.Group("parameters").slots {
		if g := s.group; g.OK("min", "max") && g.Value("min") > g.Value("max") {
			kind := g.Kind("min")
			f.conflict(g.Path("min"), g.Text("min"), "min_max", f.speak.Of(kind, g.Value("min"), 0), f.speak.Of(kind, g.Value("max"), 0))
		}
	}
}

// checkPossible holds a row's test to those that there are for the side and the return.
func checkPossible(row *Record, side circuit.Side, ret circuit.Return, f *faults) {
	t, ok := find[circuit.Test](circuit.Tests, row.Text("test"))
	switch {
	case !ok || t.Possible(side, ret):
	case t == circuit.InsulationComponent:
		f.conflict(row.Path("test"), row.Text("test"), "no_insulation")
	default:
		f.conflict(row.Path("test"), row.Text("test"), "no_feed")
	}
}

// Least readings: a display below zero by a few counts is one, further below a lead is on the wrong pole.
const leastReading = -1

// checkReading holds a reading to the quantity of its test.
func checkReading(row *Record, t circuit.Test, f *faults) {
	if !row.OK("value") {
		return
	}
	want := kindOf(t)
	switch {
	case row.Over("value") && want != quantity.OfResistance:
		f.add(Fault{Field: row.Path("value"), Code: WrongUnit, Given: row.Text("value")}, "over_limit_of", f.speak.Say("kind."+strconv.Itoa(int(want))), sampleOf(want))
	case !row.Over("value") && row.Kind("value") != want:
		f.quantity(row.Path("value"), &quantity.Error{Fault: quantity.WrongUnit, Kind: want, Given: row.Text("value"), Want: wanted([]quantity.Kind{want}), Is: []quantity.Kind{row.Kind("value")}})
	case row.Value("value") < leastReading:
		f.outOf(row.Path("value"), row.Text("value"), "reversed", f.speak.Of(want, row.Value("value"), 0))
	case want != quantity.OfResistance && row.Value("value") > 1000:
		f.outOf(row.Path("value"), row.Text("value"), "above", row.Text("value"), f.speak.Of(want, 1000, 0))
	default:
		return
	}
	row.at("value").ok = false
}

// modelOf reads the circuit and all that is assumed of it.
func modelOf(r *Record) *circuit.Model {
	side, ret := sideOf(r)
	spec := r.Group("spec")
	now := func(ohms float64) float64 {
		at := quantity.Temperature(spec.Value("at"))
		to := at
		if r.Given("winding_temperature") {
			to = quantity.Temperature(r.Value("winding_temperature"))
		}
		return ohms * winding.Copper.Factor(at, to)
	}
	m := circuit.New(side, ret, r.Value("supply"), now(spec.Value("min")), now(spec.Value("max")))
	for i, g := range r.Group("meter").slots {
		m.Meters[i] = circuit.Meter{Meter: meterOf(g.group), Auto: circuit.Quantity(i) == circuit.Ohms && !g.group.Given("resolution")}
	}
	for t := range m.Minutes {
		m.Minutes[t] = r.Group("minutes").slots[t].value
	}
	costs := r.Group("costs")
	m.Hour = costs.Value("hour")
	for i := range m.Wrong {
		m.Wrong[i] = costs.Group("wrong").slots[i].value
	}
	for f := range m.Weights {
		m.Weights[f] = r.Group("priors").slots[f].value
	}
	parameters := r.Group("parameters")
	for i, d := range parameters.fields {
		f, _ := find[circuit.Fault](circuit.Faults, d.Name)
		g := parameters.slots[i].group
		m.Limits[f] = [2]float64{g.Value("min"), g.Value("max")}
	}
	given := func(group, name string, to *float64) {
		if g := r.Group(group); g.Given(name) {
			*to = g.Value(name)
		}
	}
	given("nominal", "driver", &m.Nominal.Driver)
	given("nominal", "harness", &m.Nominal.Harness)
	given("nominal", "inner_lead", &m.Nominal.Lead)
	given("nominal", "return_path", &m.Nominal.Path)
	given("nominal", "source", &m.Nominal.Source)
	given("nominal", "check_current", &m.Nominal.Pull)
	given("checks", "off", &m.Checks.Off)
	given("checks", "on", &m.Checks.On)
	given("checks", "over", &m.Checks.Over)
	given("checks", "open", &m.Checks.Open)
	given("checks", "range", &m.Checks.Range)
	return m
}

// circuitReadings reads the readings.
func circuitReadings(r *Record) []circuit.Reading {
	rows := r.Rows("readings")
	list := make([]circuit.Reading, len(rows))
	for i, row := range rows {
		t, _ := find[circuit.Test](circuit.Tests, row.Text("test"))
		list[i] = circuit.Reading{Test: t, Value: row.Value("value"), Over: row.Over("value")}
	}
	return list
}

func runCircuit(r *Record, a *Answer) {
	m, readings := modelOf(r), circuitReadings(r)
	m.Code, _ = find[circuit.Code](circuit.Codes, r.Text("code_kind"))
	found := m.Find(readings)
	res := circuitResult{Next: []nextTest{}, Surprise: found.Surprise, Readings: []circuitReading{}}
	for _, c := range found.Faults {
		res.Faults = append(res.Faults, faultChance{c.Of.String(), c.P})
	}
	for _, c := range found.Repairs {
		res.Repairs = append(res.Repairs, repairChance{c.Of.String(), c.P})
	}
	for _, n := range found.Next {
		next := nextTest{n.Test.String(), n.Bits, n.Minutes, n.Value, expectedOf(m, n.Test), []outcomeResult{}}
		for _, o := range n.Outcomes {
			next.Outcomes = append(next.Outcomes, outcomeOf(n.Test, o))
		}
		res.Next = append(res.Next, next)
	}
	if found.Test {
		res.Decision = decisionResult{Do: "test", Test: found.Next[0].Test.String()}
	} else {
		res.Decision = decisionResult{Do: "repair", Repair: found.Repair.String(), Probability: &found.RepairP, Cost: &found.Cost}
	}
	last := map[circuit.Test]int{}
	for i, k := range readings {
		last[k.Test] = i
	}
	for i, k := range readings {
		res.Readings = append(res.Readings, circuitReading{k.Test.String(), valueOf(k), k.Over, last[k.Test] == i, expectedOf(m, k.Test)})
	}
	if n := len(readings) - len(last); n > 0 {
		a.warn("superseded", "readings", strconv.Itoa(n))
	}
	a.surprised(&res, found)
	a.sameRepair(&res)
	if found.Alone && !found.Test && res.Worst == "" {
		res.RestsOn = found.On.String()
		a.warn("rests_on", "readings", a.Speak.Say(testWords+res.RestsOn))
	}
	if !r.Given("winding_temperature") {
		a.warn("temperature_assumed", "winding_temperature", a.Speak.Celsius(r.Group("spec").Value("at"), 0))
	}
	a.Result = res
	if !a.brief {
		a.circuitSteps(r, m, found)
	}
	a.circuitCautions(found, res.Worst != "")
}

// surprised says which reading sits worst where no single fault explains them all, and which two faults would.
func (a *Answer) surprised(res *circuitResult, found circuit.Finding) {
	if found.Surprise < circuit.Surprising {
		return
	}
	res.Worst = found.Worst.String()
	a.warn("surprise", "readings", a.Speak.Say(testWords+res.Worst))
	if found.Pair != [2]circuit.Fault{} {
		res.Pair = []string{found.Pair[0].String(), found.Pair[1].String()}
		a.warn("two_faults", "readings", a.Speak.Say("circuit.fault."+res.Pair[0]), a.Speak.Say("circuit.fault."+res.Pair[1]))
	}
}

// sameRepair says so where faults that cannot be told apart are mended alike.
func (a *Answer) sameRepair(res *circuitResult) {
	const clear, doubtful, sure = 0.10, 0.90, 0.90
	if res.Decision.Do != "repair" || len(res.Faults) < 2 || res.Repairs[0].Probability < sure || res.Faults[0].Probability > doubtful {
		return
	}
	one, two := res.Faults[0].Fault, ""
	repair := func(name string) circuit.Repair {
		f, _ := find[circuit.Fault](circuit.Faults, name)
		return f.Repair()
	}
	for _, c := range res.Faults[1:] {
		if two == "" && c.Probability >= clear*res.Faults[0].Probability && repair(c.Fault) == repair(one) {
			two = c.Fault
		}
	}
	if two == "" {
		return
	}
	a.warn("same_repair", "readings", a.Speak.Say("circuit.fault."+one), a.Speak.Say("circuit.fault."+two), a.Speak.Say("circuit.repair."+repair(one).String()))
}

func expectedOf(m *circuit.Model, t circuit.Test) expectedReading {
	lo, hi, over := m.Expect(t)
	if over {
		return expectedReading{Over: true}
	}
	return expectedReading{Min: bare(kindOf(t), lo), Max: bare(kindOf(t), hi)}
}

func outcomeOf(t circuit.Test, o circuit.Outcome) outcomeResult {
	out := outcomeResult{Over: o.Over, Probability: o.P, Fault: o.Fault.String(), FaultP: o.FaultP, Repair: o.Repair.String(), RepairP: o.RepairP}
	if !o.Over && !math.IsInf(o.From, 0) {
		out.From = bare(kindOf(t), o.From)
	}
	if !o.Over && !math.IsInf(o.To, 0) {
		out.To = bare(kindOf(t), o.To)
	}
	return out
}

// valueOf is what a reading shows; nil for OL.
func valueOf(k circuit.Reading) *Amount {
	if k.Over {
		return nil
	}
	return bare(kindOf(k.Test), k.Value)
}

// bare is a pointer to a quantity that carries no uncertainty.
func bare(k quantity.Kind, v float64) *Amount {
	a := plain(k, v)
	return &a
}

// circuitCautions are those of the test to make, be it once more, or of the repair.
func (a *Answer) circuitCautions(f circuit.Finding, again bool) {
	a.caution("plugs")
	test, measure := f.Worst, again
	if !again && f.Test {
		test, measure = f.Next[0].Test, true
	}
	switch {
	case !measure && f.Repair == circuit.ControlUnit:
		a.caution("before_unit")
	case !measure:
	case test == circuit.OhmsWinding:
		a.caution("lifted")
	case test.Quantity() != circuit.Ohms:
		a.caution("live_circuit")
		if test == circuit.VoltsLoad {
			a.caution("test_load")
		}
	}
	a.caution("maker_first")
}
