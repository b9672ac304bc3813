package circuit

import (
	"ohmwright/core/portable"
)

// A Fault is one thing that can be wrong; None means that nothing is.
type Fault uint8

// The faults: those of the chain, in the order of the parts, then what stands outside it.
const (
	None Fault = iota
	WindingOpen
	WindingShorted
	WindingHigh
	WindingToCase
	LeadOpen
	LeadHigh
	LeadToGround
	HarnessOpen
	HarnessHigh
	HarnessToGround
	HarnessToBattery
	PathOpen
	PathHigh
	DriverNever
	DriverAlways
	DriverWeak
	FeedOpen // the control unit's own supply
	FeedHigh
	GroundOpen // the control unit's own ground
	GroundHigh
	UnitPlugOpen // a contact that is bad only while plugged
	UnitPlugHigh
	PlugOpen // the same at the component
	PlugHigh
	LeadToBattery
	HarnessToOther // another circuit's wire
	ComponentToOther
	DriverShorted
	ComesGoesHarness
	ComesGoesComponent
	ComesGoesPath
	ComesGoesUnit
	OtherRow     // sound, and another row of the specification applies
	Other        // none of these: every reading is possible
	Faults   int = iota
)

// A Part is a part of the circuit.
type Part uint8

// The parts, from the control unit to the far end. Nowhere is the part of None and of what has no place.
const (
	Nowhere Part = iota
	Driver
	Harness
	Lead
	Winding
	Path
	Power     // the control unit's feed and ground
	Parts int = iota
)

// A Repair is what is replaced or repaired.
type Repair uint8

// The repairs. Nothing means that the vehicle is handed over as it is; Unexplained, that the readings fit nothing known.
const (
	Nothing Repair = iota
	Component
	MendHarness
	MendPath
	ControlUnit
	UnitPower
	Unexplained
	InnerHarness     // only where the part's inner leads are sold apart from it
	Repairs      int = iota
)

// A Spread is the distribution of a fault's parameter: uniform between the limits, or uniform in its logarithm. A fault with
// the zero spread has no parameter.
type Spread struct {
	Min, Max float64
	Log      bool
}

// faults is the contract's tables of faults. The weights, and the parameters of the second table, are common practice.
var faults = [Faults]struct {
	name   string
	part   Part
	repair Repair
	weight float64
	spread Spread
}{
	None:             {"none", Nowhere, Nothing, 6, Spread{}},
	WindingOpen:      {"winding.open", Winding, Component, 8, Spread{}},
	WindingShorted:   {"winding.shorted_turns", Winding, Component, 12, Spread{0.10, 0.98, false}},
	WindingHigh:      {"winding.high_resistance", Winding, Component, 5, Spread{3, 1000, true}},
	WindingToCase:    {"winding.to_case", Winding, Component, 4, Spread{0.1, 10e3, true}},
	LeadOpen:         {"inner_lead.open", Lead, Component, 5, Spread{}},
	LeadHigh:         {"inner_lead.high_resistance", Lead, Component, 5, Spread{1, 1000, true}},
	LeadToGround:     {"inner_lead.to_ground", Lead, Component, 4, Spread{0.05, 1000, true}},
	HarnessOpen:      {"harness.open", Harness, MendHarness, 10, Spread{}},
	HarnessHigh:      {"harness.high_resistance", Harness, MendHarness, 10, Spread{1, 1000, true}},
	HarnessToGround:  {"harness.to_ground", Harness, MendHarness, 9, Spread{0.05, 1000, true}},
	HarnessToBattery: {"harness.to_battery", Harness, MendHarness, 4, Spread{0.05, 100, true}},
	PathOpen:         {"return_path.open", Path, MendPath, 4, Spread{}},
	PathHigh:         {"return_path.high_resistance", Path, MendPath, 6, Spread{0.5, 1000, true}},
	DriverNever:      {"driver.never_on", Driver, ControlUnit, 4, Spread{}},
	DriverAlways:     {"driver.always_on", Driver, ControlUnit, 2, Spread{}},
	DriverWeak:       {"driver.weak", Driver, ControlUnit, 2, Spread{1, 100, true}},

	FeedOpen:           {"unit_feed.open", Power, UnitPower, 2, Spread{}},
	FeedHigh:           {"unit_feed.high_resistance", Power, UnitPower, 3, Spread{0.5, 100, true}},
	GroundOpen:         {"unit_ground.open", Power, UnitPower, 1.5, Spread{}},
	GroundHigh:         {"unit_ground.high_resistance", Power, UnitPower, 2.5, Spread{0.5, 100, true}},
	UnitPlugOpen:       {"unit_connector.open", Harness, MendHarness, 3, Spread{}},
	UnitPlugHigh:       {"unit_connector.high_resistance", Harness, MendHarness, 3, Spread{1, 1000, true}},
	PlugOpen:           {"component_connector.open", Harness, MendHarness, 4, Spread{}},
	PlugHigh:           {"component_connector.high_resistance", Harness, MendHarness, 4, Spread{1, 1000, true}},
	LeadToBattery:      {"inner_lead.to_battery", Lead, Component, 1, Spread{0.05, 100, true}},
	HarnessToOther:     {"harness.to_other", Harness, MendHarness, 2, Spread{0.05, 100, true}},
	ComponentToOther:   {"component.to_other", Lead, Component, 1.5, Spread{0.05, 100, true}},
	DriverShorted:      {"driver.shorted", Driver, ControlUnit, 2, Spread{0.02, 200, true}},
	ComesGoesHarness:   {"intermittent.harness", Harness, MendHarness, 5, Spread{}},
	ComesGoesComponent: {"intermittent.component", Winding, Component, 3, Spread{}},
	ComesGoesPath:      {"intermittent.return_path", Path, MendPath, 2, Spread{}},
	ComesGoesUnit:      {"intermittent.unit", Driver, ControlUnit, 1.5, Spread{}},
	OtherRow:           {"other_row", Nowhere, Nothing, 6, Spread{0.5, 2, true}},
	Other:              {"other", Nowhere, Unexplained, 3, Spread{}},
}

// String returns the fault's name in the contract.
func (f Fault) String() string { return faults[f].name }

// Part returns the part that has the fault.
func (f Fault) Part() Part { return faults[f].part }

// Repair returns the repair that removes the fault, where the component's inner leads are not sold apart.
func (f Fault) Repair() Repair { return faults[f].repair }

// Repair returns the repair that removes the fault on this circuit.
func (m *Model) Repair(f Fault) Repair {
	if m.InnerApart && faults[f].part == Lead && f != ComponentToOther {
		return InnerHarness
	}
	return faults[f].repair
}

// ByRepair adds up what is of each fault by what would put it right.
func (m *Model) ByRepair(of *[Faults]float64) (sum [Repairs]float64) {
	for f, q := range of {
		sum[m.Repair(Fault(f))] += q
	}
	return sum
}

// Weight returns the default prior weight.
func (f Fault) Weight() float64 { return faults[f].weight }

// ComesAndGoes reports whether the circuit reads healthy most of the time in spite of the fault.
func (f Fault) ComesAndGoes() bool { return ComesGoesHarness <= f && f <= ComesGoesUnit }

// Limits returns the least and the largest parameter of a fault, and whether it is uniform in its logarithm; ok is false for
// a fault without a parameter. The parameter is in ohm, but a share for shorted turns, and the ratio to the row given for
// OtherRow.
func (f Fault) Limits() (min, max float64, log, ok bool) {
	s := faults[f].spread
	return s.Min, s.Max, s.Log, s != Spread{}
}

// IsRatio reports whether the fault's parameter is a share or ratio rather than a resistance.
func (f Fault) IsRatio() bool { return f == WindingShorted || f == OtherRow }

// Parameter returns a fault's parameter at u, 0 to 1, on the scale on which it is uniform; 0 for a fault without a parameter.
func (m *Model) Parameter(f Fault, u float64) float64 { return m.Spread(f).at(u) }

// Spread returns the distribution of a fault's parameter, with the limits of the model.
func (m *Model) Spread(f Fault) Spread {
	s := faults[f].spread
	if s != (Spread{}) {
		s.Min, s.Max = m.Limits[f][0], m.Limits[f][1]
	}
	return s
}

// at returns the parameter at u, 0 to 1, on its scale.
func (s Spread) at(u float64) float64 {
	if s.Log {
		return s.Min * portable.Pow(s.Max/s.Min, u)
	}
	return s.Min + (s.Max-s.Min)*u
}

// Ways returns the number of ways in which the fault can occur, all equally likely: what a bridged wire touches, which rail a
// shorted driver is joined to, and whether another load uses the bad return path too, or the control unit's outputs have a
// feed of their own.
func (f Fault) Ways() int {
	switch f {
	case HarnessToOther:
		return bridgeKinds - 1
	case ComponentToOther, DriverShorted, PathHigh, FeedOpen, FeedHigh:
		return 2
	}
	return 1
}

var partNames = [Parts]string{"", "driver", "harness", "inner_lead", "winding", "return_path", "unit_power"}

// String returns the part's name in the contract.
func (p Part) String() string { return partNames[p] }

var repairNames = [Repairs]string{"nothing", "component", "harness", "return_path", "control_unit", "unit_power", "unexplained",
	"inner_harness"}

// String returns the repair's name in the contract.
func (r Repair) String() string { return repairNames[r] }
