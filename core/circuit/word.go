package circuit

// Wordly returns how likely a test that is read in words shows what is not healthy under a fault: that the ohms jump, or that the
// row does not apply. Common practice.
func Wordly(f Fault, t Test) float64 {
	switch t {
	case Wiggle:
		switch f {
		case ComesGoesHarness, ComesGoesPath:
			return 0.8
		case HarnessOpen, HarnessHigh, PlugOpen, PlugHigh, PathOpen, PathHigh, Other:
			return 0.3
		case HarnessToGround, HarnessToBattery, HarnessToOther:
			return 0.2
		}
	case Heat:
		switch f {
		case ComesGoesComponent:
			return 0.8
		case LeadHigh, WindingHigh, Other:
			return 0.3
		case LeadOpen, WindingOpen, WindingShorted:
			return 0.1
		}
	case RowApplies:
		switch f {
		case OtherRow:
			return 0.97
		case None:
			return 0.002
		case Other:
			return 0.1
		}
	}
	return 0.02
}

// Said returns how likely a reading in words is under a fault.
func Said(f Fault, r Reading) float64 {
	p := Wordly(f, r.Test)
	if r.Word == Jumps || r.Word == No {
		return p
	}
	return 1 - p
}

// withoutCode is how likely a fault that comes and goes has left no code: what brought the vehicle in is then only a complaint.
const withoutCode = 0.5

// ShowsNow returns how likely the complaint shows, or not, while the circuit is measured. Common practice.
func (m *Model) ShowsNow(f Fault) float64 {
	yes := 0.95
	switch {
	case f.ComesAndGoes():
		yes = 0.25
	case f == None, f == OtherRow:
		yes = 0.15
	case f == Other:
		yes = 0.6
	}
	p := 1.0
	if m.Code == NoCode && f.ComesAndGoes() {
		p = withoutCode
	}
	switch m.Present {
	case Shows:
		return p * yes
	case ShowsNot:
		return p * (1 - yes)
	}
	return p
}
