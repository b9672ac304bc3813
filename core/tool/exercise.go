package tool

import (
	"ohmwright/core/circuit"
	"ohmwright/core/lesson"
	"ohmwright/core/quantity"
)

// Exercise declares the circuit question turned round: the tool hides a fault, the learner asks for readings and pays their
// minutes, and is marked beside the way that the circuit question goes.
var Exercise = &Tool{
	Name:    "exercise",
	Example: `{"seed": "bench 4", "side": "high", "return": "case", "asked": [{"test": "current_on"}, {"test": "insulation_harness"}], "answer": "harness"}`,
	Result:  exerciseResult{},
	Slot:    "asked",
	Fields: append([]Field{
		{Name: "seed", Shape: Text, Need: true, Most: 64, Fresh: []string{"asked", "answer"}, Sample: "bench 4"},
		{Name: "asked", Shape: List, Most: 100, Apart: "asked", Pick: "test", Fields: []Field{
			{Name: "test", Shape: Choice, Need: true, Choices: names[circuit.Test](circuit.Tests), Units: testUnits(), From: "circuit.readings.test"},
		}},
		{Name: "answer", Shape: Choice, Choices: names[circuit.Repair](circuit.Repairs)},
	}, exerciseSetup()...),
	check: checkExercise,
	run:   runExercise,
	lay:   layExercise,
}

// exerciseSetup are the fields of the circuit question that an exercise has too, each with a default: the invented scenario.
func exerciseSetup() (list []Field) {
	defaults := map[string]string{"side": "high", "supply": "13.8 V", "winding_temperature": "20 degC"}
	limits := map[string]string{"min": "5.0 ohm", "max": "5.6 ohm", "at": "20 degC"}
	for _, d := range Circuit.Fields {
		switch d.Name {
		case "code_kind", "readings":
			continue
		}
		d = d.from("circuit")
		d.Fine, d.Need = true, false
		if v, ok := defaults[d.Name]; ok {
			d.Default = v
		}
		if d.Name == "spec" {
			for i := range d.Fields {
				d.Fields[i].Need, d.Fields[i].Default = false, limits[d.Fields[i].Name]
			}
		}
		list = append(list, d)
	}
	return list
}

// from is a copy of a field that another tool has too, with that one's words.
func (d Field) from(above string) Field {
	if d.Label == "" {
		d.From = above + "." + d.Name
	}
	fields := d.Fields
	d.Fields = nil
	for i := range fields {
		d.Fields = append(d.Fields, fields[i].from(above+"."+d.Name))
	}
	return d
}

type exerciseResult struct {
	CodeKind string        `json:"code_kind"`
	Readings []askedResult `json:"readings"`
	Minutes  float64       `json:"minutes"`
	Found    *foundResult  `json:"found,omitempty"`
}

type askedResult struct {
	Test     string          `json:"test"`
	Value    *Amount         `json:"value,omitempty"`
	Over     bool            `json:"over"`
	Minutes  float64         `json:"minutes"`
	Expected expectedReading `json:"expected"`
}

type foundResult struct {
	Right  bool      `json:"right"`
	Fault  string    `json:"fault"`
	Repair string    `json:"repair"`
	Cost   float64   `json:"cost"`
	Best   wayResult `json:"best"`
	Score  float64   `json:"score"`
}

type wayResult struct {
	Tests   []string `json:"tests"`
	Repair  string   `json:"repair"`
	Right   bool     `json:"right"`
	Minutes float64  `json:"minutes"`
	Cost    float64  `json:"cost"`
}

func checkExercise(r *Record, f *faults) {
	checkChain(r, f)
	side, ret := sideOf(r)
	for _, row := range r.Rows("asked") {
		checkPossible(row, side, ret, f)
	}
}

// askedTests are the tests that the learner asked for, each once.
func askedTests(r *Record) (list []circuit.Test) {
	var seen [circuit.Tests]bool
	for _, row := range r.Rows("asked") {
		if t, ok := find[circuit.Test](circuit.Tests, row.Text("test")); ok && !seen[t] {
			seen[t] = true
			list = append(list, t)
		}
	}
	return list
}

func runExercise(r *Record, a *Answer) {
	m := modelOf(r)
	h := lesson.Hide(m, r.Text("seed"))
	asked := askedTests(r)
	res := exerciseResult{CodeKind: h.Code.String(), Readings: []askedResult{}}
	for _, t := range asked {
		k := h.Reading(t)
		res.Readings = append(res.Readings, askedResult{t.String(), valueOf(k), k.Over, m.Minutes[t], expectedOf(m, t)})
		res.Minutes += m.Minutes[t]
	}
	if r.Given("answer") {
		repair, _ := find[circuit.Repair](circuit.Repairs, r.Text("answer"))
		own, best := h.Mark(asked, repair), h.Best()
		res.Found = &foundResult{Right: own.Right, Fault: h.Fault.String(), Repair: h.Fault.Repair().String(), Cost: own.Cost, Score: lesson.Score(own, best),
			Best: wayResult{Tests: []string{}, Repair: best.Repair.String(), Right: best.Right, Minutes: best.Minutes, Cost: best.Cost}}
		for _, t := range best.Tests {
			res.Found.Best.Tests = append(res.Found.Best.Tests, t.String())
		}
		if !a.brief {
			s := a.Speak
			a.step("cost", "C = t × c_hour/60 + c_wrong", s.Number(res.Minutes, 0)+" × "+a.minutes(m.Hour)+"/60 + "+a.money(own.Cost-res.Minutes/60*m.Hour)+" = "+s.Number(own.Cost, 1), Amount{Value: own.Cost, Unit: "1"}, "decision")
			a.step("score", "S = C_best/C", s.Number(best.Cost, 1)+"/"+s.Number(own.Cost, 1), plain(quantity.OfRatio, res.Found.Score/100), "decision")
		}
	}
	a.brief = a.brief && res.Found != nil // before that there is no working to unfold
	a.Result = res
}
