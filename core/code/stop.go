package code

// A Stop says why no advice is given on a code: its system can hurt or kill. The maker's procedure and licensed practice apply, and
// nothing is measured by the procedures of this house.
type Stop string

// The stops; the zero Stop is none.
const (
	Restraint   Stop = "restraint_system" // air bags and belt tensioners: a meter's own current may set one off
	HighVoltage Stop = "high_voltage"     // hybrid and electric drive
)

// Stop returns why no advice is given on a code; "" if there is advice.
//
//	B00xx: restraint systems. P0Axx to P0Cxx: hybrid and electric drive. P1Axx: the maker's own, and hybrid or electric drive in every
//	maker's list that was seen; another maker may use it otherwise, so it is stopped until the maker's list says so.
//
// Source: contract, code; B00xx in service manuals' indexes of restraint codes (lemon-manuals.org.ua); A to C as [Code.Area]; P1Axx in
// service manuals of hybrid vehicles (charm.ecrasystems.com, P1A0C and P1A0D; zamte.com, P1A10). Checked in stop_test.go.
func (c Code) Stop() Stop {
	switch block := c.number >> 8; {
	case c.letter == 'B' && block == 0x00:
		return Restraint
	case c.letter == 'P' && (0x0A <= block && block <= 0x0C || block == 0x1A):
		return HighVoltage
	}
	return ""
}
