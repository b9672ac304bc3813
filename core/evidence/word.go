package evidence

import "ohmwright/core/circuit"

// Wordly returns how likely a test that is read in words shows what is not healthy under a fault: that the ohms jump, or that the
// row does not apply. Common practice.
func Wordly(f circuit.Fault, t circuit.Test) float64 {
	switch t {
	case circuit.Wiggle:
		switch f {
		case circuit.ComesGoesHarness, circuit.ComesGoesPath:
			return 0.8
		case circuit.HarnessOpen, circuit.HarnessHigh, circuit.PlugOpen, circuit.PlugHigh, circuit.PathOpen, circuit.PathHigh, circuit.Other:
			return 0.3
		case circuit.HarnessToGround, circuit.HarnessToBattery, circuit.HarnessToOther:
			return 0.2
		}
	case circuit.Heat:
		switch f {
		case circuit.ComesGoesComponent:
			return 0.8
		case circuit.LeadHigh, circuit.WindingHigh, circuit.Other:
			return 0.3
		case circuit.LeadOpen, circuit.WindingOpen, circuit.WindingShorted:
			return 0.1
		}
	case circuit.RowApplies:
		switch f {
		case circuit.OtherRow:
			return 0.97
		case circuit.None:
			return 0.002
		case circuit.Other:
			return 0.1
		}
	}
	return 0.02
}

// said returns how likely a reading in words is under a fault.
func said(f circuit.Fault, r circuit.Reading) float64 {
	p := Wordly(f, r.Test)
	if r.Word == circuit.Jumps || r.Word == circuit.No {
		return p
	}
	return 1 - p
}

// withoutCode is how likely a fault that comes and goes has left no code: what brought the vehicle in is then only a complaint.
const withoutCode = 0.5

// shows returns how likely the complaint shows, or not, while the circuit is measured. Common practice.
func (m *model) shows(f circuit.Fault) float64 {
	yes := 0.95
	switch {
	case f.ComesAndGoes():
		yes = 0.25
	case f == circuit.None, f == circuit.OtherRow:
		yes = 0.15
	case f == circuit.Other:
		yes = 0.6
	}
	p := 1.0
	if m.Code == circuit.NoCode && f.ComesAndGoes() {
		p = withoutCode
	}
	switch m.Present {
	case circuit.Shows:
		return p * yes
	case circuit.ShowsNot:
		return p * (1 - yes)
	}
	return p
}
