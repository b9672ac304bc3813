package evidence

import (
	"ohmwright/core/circuit"
	"ohmwright/core/portable"
)

// A Drive is what the driver does when it is told to be on: fully on, or not quite. The readings lie between those of a driver that
// stays off and one that is fully on.
type Drive struct {
	Chance   float64
	Share, U float64 // of the current, and its standard deviation; if Holds, it is the current itself, in ampere
	Holds    bool
	Load     float64 // the share on the test load; if it is negative, what is held there too
}

// fully is a driver that does as it is told.
var fully = Drive{Chance: 1, Share: 1, Load: 1}

// What drivers are like: common practice. The first three are how common each stage is where nothing is known of it.
const (
	plainShare     = 0.40
	protectedShare = 0.35
	regulatedShare = 0.25

	heldByCode = 0.06 // how often a stored code keeps a driver off
	heldAnyhow = 0.01
	// A driver protects itself from some current between these, as multiples of that of a healthy circuit.
	leastLimit, mostLimit = 1.3, 4.5
	leastTrip             = 1.4 // A: no driver protects itself below that
	latched               = 0.5 // share of those that stay off once they have tripped; the rest try again, on for a tenth of the time
	retryShare, retryU    = 0.08, 0.06
	deadVolts             = 6    // a control unit works from about this voltage on
	leastChance           = 2e-3 // of what a driver may do, to be looked at
)

// setShares are the currents that a regulating driver may hold, as shares of that of a healthy circuit, where it is not known, and
// setU is how far each stands for its neighbours: common practice.
var setShares = [...]float64{0.25, 0.40, 0.55, 0.70}

const setU = 0.06

// drives returns what the driver may do with the circuit as seen: amperes is its current, fully on, healthy that of a healthy
// circuit, and volts what the control unit is left with.
func (m *model) drives(f circuit.Fault, amperes, healthy, volts float64, into []Drive) []Drive {
	list := into[:0]
	rest := 1.0
	add := func(d Drive) {
		if d.Chance > leastChance {
			list = append(list, d)
			rest -= d.Chance
		}
	}
	switch {
	case volts < deadVolts && f.Part() == circuit.Power:
		add(Drive{Chance: 0.4})
		add(Drive{Chance: 0.4, Share: 0.5, U: 0.25, Load: 0.5})
	case f != circuit.DriverNever && f != circuit.DriverAlways:
		held := heldAnyhow
		if m.Code != circuit.NoCode {
			held = heldByCode
		}
		add(Drive{Chance: held, Load: 1})
		stage := m.stages()
		trips, loadTrips := tripped(amperes, healthy), tripped(m.LoadAmperes(), healthy)
		p := (1 - held) * stage[circuit.Protected]
		add(Drive{Chance: p * trips * latched, Load: 1})
		add(Drive{Chance: p * trips * (1 - latched), Share: retryShare, U: retryU, Load: 1})
		add(Drive{Chance: p * (1 - trips) * loadTrips * latched, Share: 1})
		add(Drive{Chance: p * (1 - trips) * loadTrips * (1 - latched), Share: 1, Load: retryShare})
		most := max(amperes, m.LoadAmperes())
		regulates := func(chance, set, u float64) {
			if set-2*u < most {
				chance *= (1 - held) * stage[circuit.Regulated]
				add(Drive{Chance: chance * (1 - loadTrips), Share: set, U: u, Holds: true, Load: -1})
				add(Drive{Chance: chance * loadTrips, Share: set, U: u, Holds: true, Load: retryShare})
			}
		}
		if m.Set > 0 {
			regulates(1, m.Set, 0.07*m.Set+0.03)
			break
		}
		for _, share := range setShares {
			regulates(1/float64(len(setShares)), share*healthy, setU*healthy)
		}
	}
	full := fully
	full.Chance = max(0, rest)
	return append(list, full)
}

// stages returns how likely each stage is.
func (m *model) stages() (stage [circuit.Stages]float64) {
	if m.Stage == circuit.AnyStage {
		return [circuit.Stages]float64{circuit.Plain: plainShare, circuit.Protected: protectedShare, circuit.Regulated: regulatedShare}
	}
	stage[m.Stage] = 1
	return stage
}

// limits is the width of what limits there are, in the logarithm.
var limits = portable.Log(mostLimit / leastLimit)

// tripped returns how likely a driver that protects itself does so at a current, beside that of a healthy circuit.
func tripped(amperes, healthy float64) float64 {
	if amperes <= leastTrip {
		return 0
	}
	return min(1, max(0, portable.Log(amperes/(leastLimit*healthy))/limits))
}

// of returns the share, and its standard deviation, for a test in which the full current is amperes.
func (d *Drive) of(t circuit.Test, amperes, load float64) (share, u float64) {
	if t == circuit.VoltsLoad {
		switch {
		case d.Load == retryShare:
			return d.Load, retryU
		case d.Load >= 0:
			return d.Load, 0
		}
		amperes = load
	}
	switch {
	case !d.Holds:
		return d.Share, d.U
	case amperes <= d.Share:
		return 1, 0
	}
	return d.Share / amperes, d.U / amperes
}

// Drives returns what the driver of a circuit may do where its current is amperes, fully on, and the control unit is left with volts.
func Drives(m *circuit.Model, f circuit.Fault, amperes, volts float64) []Drive {
	of := model{*m}
	return of.drives(f, amperes, of.expectedCurrent(), volts, nil)
}
