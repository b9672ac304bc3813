package circuit

import "math"

// A drive is what the driver does when it is told to be on: fully on, or not quite. The readings lie between those of a driver that
// stays off and one that is fully on.
type drive struct {
	chance   float64
	share, u float64 // of the current, and its standard deviation; if holds, it is the current itself, in ampere
	holds    bool
	load     float64 // the share on the test load; if it is negative, what is held there too
}

// fully is a driver that does as it is told.
var fully = drive{chance: 1, share: 1, load: 1}

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
func (m *Model) drives(f Fault, amperes, healthy, volts float64, into []drive) []drive {
	list := into[:0]
	rest := 1.0
	add := func(d drive) {
		if d.chance > leastChance {
			list = append(list, d)
			rest -= d.chance
		}
	}
	switch {
	case volts < deadVolts && faults[f].part == Power:
		add(drive{chance: 0.4})
		add(drive{chance: 0.4, share: 0.5, u: 0.25, load: 0.5})
	case f != DriverNever && f != DriverAlways:
		held := heldAnyhow
		if m.Code != NoCode {
			held = heldByCode
		}
		add(drive{chance: held, load: 1})
		stage := m.stages()
		trips, loadTrips := tripped(amperes, healthy), tripped(m.loadAmperes(), healthy)
		p := (1 - held) * stage[Protected]
		add(drive{chance: p * trips * latched, load: 1})
		add(drive{chance: p * trips * (1 - latched), share: retryShare, u: retryU, load: 1})
		add(drive{chance: p * (1 - trips) * loadTrips * latched, share: 1})
		add(drive{chance: p * (1 - trips) * loadTrips * (1 - latched), share: 1, load: retryShare})
		most := max(amperes, m.loadAmperes())
		regulates := func(chance, set, u float64) {
			if set-2*u < most {
				chance *= (1 - held) * stage[Regulated]
				add(drive{chance: chance * (1 - loadTrips), share: set, u: u, holds: true, load: -1})
				add(drive{chance: chance * loadTrips, share: set, u: u, holds: true, load: retryShare})
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
	full.chance = max(0, rest)
	return append(list, full)
}

// stages returns how likely each stage is.
func (m *Model) stages() (stage [Stages]float64) {
	if m.Stage == AnyStage {
		return [Stages]float64{Plain: plainShare, Protected: protectedShare, Regulated: regulatedShare}
	}
	stage[m.Stage] = 1
	return stage
}

// tripped returns how likely a driver that protects itself does so at a current, beside that of a healthy circuit.
func tripped(amperes, healthy float64) float64 {
	if amperes <= leastTrip {
		return 0
	}
	return min(1, max(0, math.Log(amperes/(leastLimit*healthy))/math.Log(mostLimit/leastLimit)))
}

// of returns the share, and its standard deviation, for a test in which the full current is amperes.
func (d *drive) of(t Test, amperes, load float64) (share, u float64) {
	if t == VoltsLoad {
		switch {
		case d.load == retryShare:
			return d.load, retryU
		case d.load >= 0:
			return d.load, 0
		}
		amperes = load
	}
	switch {
	case !d.holds:
		return d.share, d.u
	case amperes <= d.share:
		return 1, 0
	}
	return d.share / amperes, d.u / amperes
}

// loadAmperes returns the current through the test load, fully on.
func (m *Model) loadAmperes() float64 { return m.Supply / (loadOhms + m.Nominal.Driver) }
